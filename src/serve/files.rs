//! The page's modules and styles, embedded in the program: no name from outside reaches the file system.

use axum::extract::Path;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};

const JS: &str = "text/javascript; charset=utf-8";
const CSS: &str = "text/css; charset=utf-8";

/// Every file: its name under `/static/`, its type, what it holds.
const FILES: [(&str, &str, &str); 2] = [
    ("main.js", JS, include_str!("page/main.js")),
    ("page.css", CSS, include_str!("page/page.css")),
];

/// `GET /static/NAME`.
pub async fn file(Path(name): Path<String>) -> Response {
    match FILES.iter().find(|(known, ..)| *known == name) {
        Some((_, kind, text)) => ([(header::CONTENT_TYPE, *kind)], *text).into_response(),
        None => (StatusCode::NOT_FOUND, "no such file").into_response(),
    }
}
