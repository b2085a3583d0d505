//! The page's shell: the frame that the page's modules fill.

use axum::response::Html;
use maud::{DOCTYPE, html};

/// `GET /`.
pub async fn shell() -> Html<String> {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { "Bedwright" }
                link rel="icon" href="/static/icon.svg";
                link rel="stylesheet" href="/static/page.css";
                script type="module" src="/static/main.js" {}
            }
            body {
                main id="page" {
                    noscript { "The page needs JavaScript; the command line does the same job." }
                }
            }
        }
    };
    Html(page.into_string())
}

/// What is shown to who comes without the key.
pub fn locked() -> Html<String> {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head { meta charset="utf-8"; title { "Bedwright: locked" } }
            body {
                main {
                    h1 { "This page is locked" }
                    p {
                        "Open the address that " code { "bedwright serve" }
                        " printed in its terminal: it holds the key of this run."
                    }
                }
            }
        }
    };
    Html(page.into_string())
}
