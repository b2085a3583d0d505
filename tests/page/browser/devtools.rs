//! Commands of Chromium and its driver that no standard has.

use fantoccini::wd::WebDriverCompatibleCommand;
use hyper::Method;
use serde_json::{Value, json};

/// A command of Chromium's own: what no standard command sets.
#[derive(Debug)]
pub struct Devtools(pub &'static str, pub Value);

impl WebDriverCompatibleCommand for Devtools {
    fn endpoint(
        &self,
        base: &url::Url,
        session: Option<&str>,
    ) -> Result<url::Url, url::ParseError> {
        base.join(&format!("session/{}/goog/cdp/execute", session.unwrap_or_default()))
    }

    fn method_and_body(&self, _: &url::Url) -> (Method, Option<String>) {
        (Method::POST, Some(json!({ "cmd": self.0, "params": self.1 }).to_string()))
    }
}

/// What the page's scripts and its policy complained of since it was last asked.
#[derive(Debug)]
pub struct Complaints;

impl WebDriverCompatibleCommand for Complaints {
    fn endpoint(
        &self,
        base: &url::Url,
        session: Option<&str>,
    ) -> Result<url::Url, url::ParseError> {
        base.join(&format!("session/{}/se/log", session.unwrap_or_default()))
    }

    fn method_and_body(&self, _: &url::Url) -> (Method, Option<String>) {
        (Method::POST, Some(json!({ "type": "browser" }).to_string()))
    }
}
