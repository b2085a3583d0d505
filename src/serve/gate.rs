//! Who may come in: the host and origin that were meant, with this run's key; and the headers that every answer bears.

use std::net::SocketAddr;

use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};

use super::refuse::Refused;
use super::shell;

/// What every answer bears.
const HEADERS: [(HeaderName, &str); 7] = [
    (
        header::CONTENT_SECURITY_POLICY,
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; \
         font-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; \
         frame-ancestors 'none'",
    ),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::REFERRER_POLICY, "no-referrer"),
    (header::X_FRAME_OPTIONS, "DENY"),
    (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
    (header::CACHE_CONTROL, "no-store"),
];

/// What is asked of who comes in.
#[derive(Debug, Clone)]
pub struct Gate {
    /// The names and addresses, with the port, under which the page is opened.
    hosts: Vec<String>,
    /// The port, where it listens on every address that the machine has: then any of them will do, and still no name, as only
    /// a name can be made to lead elsewhere.
    any_address: Option<u16>,
    /// The key of this run.
    key: String,
    /// The cookie that holds it: browsers share cookies between ports.
    cookie: String,
}

impl Gate {
    /// The gate of a server that listens on `address`, with a key of 128 random bits.
    ///
    /// # Errors
    /// If the system has no randomness to give.
    pub fn new(address: SocketAddr) -> Result<Self, getrandom::Error> {
        let key = random()?;
        let port = address.port();
        let own = ["127.0.0.1".to_owned(), "localhost".to_owned(), "[::1]".to_owned()];
        let bound = match address {
            SocketAddr::V4(v4) => v4.ip().to_string(),
            SocketAddr::V6(v6) => format!("[{}]", v6.ip()),
        };
        let hosts = own.iter().chain([&bound]).map(|name| format!("{name}:{port}")).collect();
        let any_address = address.ip().is_unspecified().then_some(port);
        Ok(Self { hosts, any_address, key, cookie: format!("bedwright-{port}") })
    }

    /// The key of this run.
    pub fn key(&self) -> &str {
        &self.key
    }

    /// Whether the request was meant for this server, by name and port: a foreign name that was made to lead here was not.
    fn is_meant(&self, headers: &HeaderMap) -> bool {
        let mut hosts = headers.get_all(header::HOST).iter();
        match (hosts.next().and_then(|host| host.to_str().ok()), hosts.next()) {
            (Some(host), None) => self.is_ours(host),
            _ => false,
        }
    }

    /// Whether a host with its port is one under which the page is opened.
    fn is_ours(&self, host: &str) -> bool {
        let literal = || {
            self.any_address.is_some() && {
                host.parse::<SocketAddr>().is_ok_and(|at| Some(at.port()) == self.any_address)
            }
        };
        self.hosts.iter().any(|known| known.eq_ignore_ascii_case(host)) || literal()
    }

    /// Whether the request comes from our own page, or from no page at all. What changes something must come from our page.
    fn is_from_here(&self, method: &Method, headers: &HeaderMap) -> bool {
        let text = |name| headers.get(name).map(HeaderValue::to_str);
        match text(header::ORIGIN) {
            Some(Ok(origin)) => {
                let host = origin.strip_prefix("http://");
                host.is_some_and(|host| self.is_ours(host))
            }
            Some(Err(_)) => false,
            None => *method == Method::GET || *method == Method::HEAD,
        }
    }

    fn has_key(&self, headers: &HeaderMap) -> bool {
        let cookies = headers.get_all(header::COOKIE).iter().filter_map(|one| one.to_str().ok());
        cookies
            .flat_map(|line| line.split(';'))
            .filter_map(|pair| pair.trim().split_once('='))
            .any(|(name, value)| name == self.cookie && alike(value, &self.key))
    }

    /// Where `GET /?key=KEY` leads, with the cookie.
    fn admit(&self) -> Response {
        let cookie = format!("{}={}; HttpOnly; SameSite=Strict; Path=/", self.cookie, self.key);
        ([(header::SET_COOKIE, cookie)], Redirect::to("/")).into_response()
    }

    fn answer(&self, request: &Request) -> Option<Response> {
        let refuse =
            |status, code, what, cure| Some(Refused::new(status, code, what, cure).into_response());
        let headers = request.headers();
        if !self.is_meant(headers) {
            let cure = "open the address that bedwright serve printed";
            return refuse(StatusCode::MISDIRECTED_REQUEST, "host", "not this server's name", cure);
        }
        if !self.is_from_here(request.method(), headers) {
            let cure = "only this server's own page may do that";
            return refuse(StatusCode::FORBIDDEN, "origin", "sent from another page", cure);
        }
        let length =
            headers.get(header::CONTENT_LENGTH).and_then(|text| text.to_str().ok()?.parse().ok());
        if length.is_some_and(|length: u64| length > super::LARGEST_BODY as u64) {
            let what = "the body is too large";
            return refuse(StatusCode::PAYLOAD_TOO_LARGE, "body", what, "send less than 2 MB");
        }
        if request.uri().path() == "/" {
            let mut pairs = request.uri().query().unwrap_or_default().split('&');
            let key = pairs.find_map(|pair| pair.strip_prefix("key="));
            if key.is_some_and(|key| alike(key, &self.key)) {
                return Some(self.admit());
            }
        }
        if !self.has_key(headers) {
            if request.uri().path() == "/" {
                return Some((StatusCode::UNAUTHORIZED, shell::locked()).into_response());
            }
            let cure = "open the address that bedwright serve printed";
            return refuse(StatusCode::UNAUTHORIZED, "key", "the key of this run is missing", cure);
        }
        None
    }
}

/// Lets in who may, and gives every answer its headers.
pub async fn guard(State(gate): State<Gate>, request: Request, next: Next) -> Response {
    let mut response = match gate.answer(&request) {
        Some(answer) => answer,
        None => next.run(request).await,
    };
    for (name, value) in HEADERS {
        response.headers_mut().entry(name).or_insert(HeaderValue::from_static(value));
    }
    response
}

/// 128 random bits as text.
///
/// # Errors
/// If the system has no randomness to give.
pub fn random() -> Result<String, getrandom::Error> {
    let mut bits = [0_u8; 16];
    getrandom::fill(&mut bits)?;
    Ok(bits.iter().map(|byte| format!("{byte:02x}")).collect())
}

/// Whether two texts are the same, in a time that does not tell where they differ.
fn alike(one: &str, other: &str) -> bool {
    let differ = one.bytes().zip(other.bytes()).fold(0, |differ, (a, b)| differ | (a ^ b));
    one.len() == other.len() && differ == 0
}
