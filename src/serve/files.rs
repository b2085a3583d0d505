//! The page's modules and styles, embedded in the program: no name from outside reaches the file system.

use axum::extract::Path;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};

const JS: &str = "text/javascript; charset=utf-8";
const CSS: &str = "text/css; charset=utf-8";
const SVG: &str = "image/svg+xml";

/// Every file: its name under `/static/`, its type, what it holds.
const FILES: [(&str, &str, &str); 26] = [
    ("ask.js", JS, include_str!("page/ask.js")),
    ("bed.js", JS, include_str!("page/bed.js")),
    ("build.js", JS, include_str!("page/build.js")),
    ("compare.js", JS, include_str!("page/compare.js")),
    ("cutaway.js", JS, include_str!("page/cutaway.js")),
    ("designs.js", JS, include_str!("page/designs.js")),
    ("dom.js", JS, include_str!("page/dom.js")),
    ("field.js", JS, include_str!("page/field.js")),
    ("gear.js", JS, include_str!("page/gear.js")),
    ("icon.svg", SVG, include_str!("page/icon.svg")),
    ("main.js", JS, include_str!("page/main.js")),
    ("measure.js", JS, include_str!("page/measure.js")),
    ("mending.js", JS, include_str!("page/mending.js")),
    ("page.css", CSS, include_str!("page/page.css")),
    ("pins.js", JS, include_str!("page/pins.js")),
    ("rank.js", JS, include_str!("page/rank.js")),
    ("room.js", JS, include_str!("page/room.js")),
    ("scatter.js", JS, include_str!("page/scatter.js")),
    ("solid.js", JS, include_str!("page/solid.js")),
    ("source.js", JS, include_str!("page/source.js")),
    ("stock.js", JS, include_str!("page/stock.js")),
    ("store.js", JS, include_str!("page/store.js")),
    ("stowage.js", JS, include_str!("page/stowage.js")),
    ("table.js", JS, include_str!("page/table.js")),
    ("ticks.js", JS, include_str!("page/ticks.js")),
    ("units.js", JS, include_str!("page/units.js")),
];

/// `GET /static/NAME`.
pub async fn file(Path(name): Path<String>) -> Response {
    match FILES.iter().find(|(known, ..)| *known == name) {
        Some((_, kind, text)) => ([(header::CONTENT_TYPE, *kind)], *text).into_response(),
        None => (StatusCode::NOT_FOUND, "no such file").into_response(),
    }
}
