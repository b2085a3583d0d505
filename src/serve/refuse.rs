//! Refusals as answers.

use std::time::Duration;

use axum::Json;
use axum::extract::rejection::JsonRejection;
use axum::extract::{FromRequest, Request};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use serde::de::DeserializeOwned;

use super::contract::{Document, Refusal};

/// A refusal with its status.
#[derive(Debug, Clone)]
pub struct Refused {
    status: StatusCode,
    said: Refusal,
}

impl Refused {
    /// A refusal: a stable word, what is wrong, what would do.
    pub fn new(
        status: StatusCode,
        code: &'static str,
        what: impl Into<String>,
        cure: impl Into<String>,
    ) -> Self {
        let said = Refusal { code, what: what.into(), cure: cure.into(), document: None };
        Self { status, said }
    }

    /// With the document as it is.
    pub fn with(mut self, document: Document) -> Self {
        self.said.document = Some(Box::new(document));
        self
    }
}

impl IntoResponse for Refused {
    fn into_response(self) -> Response {
        (self.status, Json(self.said)).into_response()
    }
}

/// A request's body must be there by then.
const BODY: Duration = Duration::from_secs(10);

/// A request's body as JSON.
#[derive(Debug)]
pub struct Body<T>(pub T);

impl<T: DeserializeOwned, S: Send + Sync> FromRequest<S> for Body<T> {
    type Rejection = Refused;

    async fn from_request(request: Request, state: &S) -> Result<Self, Refused> {
        match tokio::time::timeout(BODY, Json::from_request(request, state)).await {
            Ok(Ok(Json(body))) => Ok(Self(body)),
            Ok(Err(rejection)) => Err(not_read(&rejection)),
            Err(_) => {
                let cure = "send all of it at once";
                let status = StatusCode::REQUEST_TIMEOUT;
                Err(Refused::new(status, "slow", "the body did not come in time", cure))
            }
        }
    }
}

fn not_read(rejection: &JsonRejection) -> Refused {
    let status = rejection.status();
    let cure = match status {
        StatusCode::PAYLOAD_TOO_LARGE => "send less than 2 MB",
        StatusCode::UNSUPPORTED_MEDIA_TYPE => "send application/json",
        _ => "send the JSON that the contract describes",
    };
    Refused::new(status, "body", rejection.body_text(), cure)
}
