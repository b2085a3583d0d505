//! The local page: a server for one scenario and the browser tabs that look at it.
//!
//! # What is served
//!
//! Answers are JSON in the shapes of [`contract`], unless said otherwise; every one bears a strict content security
//! policy. Requests need the cookie that the printed address sets, this server's name as `Host`, and, to change
//! anything, its own page as `Origin`. A refusal is a [`contract::Refusal`] with a status of 400 and up.
//!
//! | request | answer |
//! | --- | --- |
//! | `GET /?key=KEY` | sets the cookie, leads to `/` |
//! | `GET /` | the page's shell (HTML) |
//! | `GET /static/NAME` | the page's modules and styles |
//! | `GET /api/document` | [`contract::Document`] |
//! | `POST /api/document` [`contract::NewText`] | the document after it; 409 `stale` with the document as it is |
//! | `POST /api/edit` [`contract::NewFields`] | the same; 422 if a change cannot be made, and then none is |
//! | `POST /api/undo`, `/api/redo` [`contract::Turn`] | the same; 422 `nothing` |
//! | `POST /api/save` [`contract::Save`] | the document; 409 `changed_outside` unless `over` |
//! | `POST /api/reload` [`contract::Turn`] | the document, from the file; a change that can be undone |
//! | `GET /api/events` | server-sent events: `document {revision}`, `run` [`contract::RunNews`], `job` [`contract::Job`] |
//! | `GET /api/status` | [`contract::Status`]: the same at once |
//! | `GET /api/designs` | [`contract::Designs`], of the live run |
//! | `GET /api/designs/ID` | [`contract::Seen`]; 404 `unknown` once it is in no list any more |
//! | `GET /api/designs/ID/drawings/NAME.svg` | the drawing |
//! | `GET /api/designs/ID/solid` | a list of [`contract::Solid`] |
//! | `GET /api/designs/ID/booklet.pdf`, `/set.zip` [`contract::SetWanted`] | the papers, to be saved |
//! | `POST /api/designs/ID/into` [`contract::SetWanted`] | [`contract::Written`]; 409 `in_the_way`, 422 `no_folder` |
//! | `GET /api/share?ids=A,B` | one HTML file of the designs that opens from disk |
//! | `POST /api/jobs` [`contract::Ask`] | 202 and a [`contract::Job`]; 429 `busy`, 422 `faulty` |
//! | `GET /api/jobs/JOB` | the [`contract::Job`], with its answer once it is done |
//! | `DELETE /api/jobs/JOB` | calls it off |
//! | `POST /api/measure` [`contract::Measure`] | a list of [`contract::MeasuredText`] |
//! | `POST /api/paste` [`contract::Paste`] | [`contract::PastedGear`]: rows to insert |
//! | `GET /api/starters` | a list of [`contract::Starter`] |
//! | `GET /api/classes` | a list of [`contract::Class`]: beds to start from |
//!
//! Lengths are millimetres; what is meant to be read is worded in the scenario's units.
//!
//! # Threads
//!
//! Connections live on a few async threads and never wait for a search: runs have threads of their own and put what they
//! find where the connections look. Each connection is told only the latest ([`events`]).

pub mod contract;
mod designs;
mod document;
mod door;
mod events;
mod files;
mod gate;
mod gear;
mod jobs;
mod live;
mod papers;
mod refuse;
mod seen;
mod share;
mod shell;
mod state;

use std::io;
use std::net::{IpAddr, Ipv4Addr, Ipv6Addr, SocketAddr};
use std::path::PathBuf;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::middleware;
use axum::routing::{get, post};
use thiserror::Error;
use tokio::net::{TcpListener, TcpSocket};
use tokio::runtime::{Builder, Runtime};
use tokio::sync::watch;

use crate::app::Desk;
use gate::Gate;
use state::Shared;

/// No request's body may be larger: 2 MB.
pub const LARGEST_BODY: usize = 2 * 1024 * 1024;

/// So many connections may wait to be taken.
const WAITING: u32 = 1024;

/// How to serve.
#[derive(Debug)]
pub struct Options {
    /// What is edited.
    pub desk: Desk,
    /// The port; 0 for any that is free.
    pub port: u16,
    /// The address to listen on; the machine's own if none is said.
    pub bind: Option<IpAddr>,
    /// Where sets are written.
    pub into: Option<PathBuf>,
}

/// Why it cannot be served.
#[derive(Debug, Error)]
pub enum ServeError {
    /// Another program listens there.
    #[error("port {0} is in use by another program")]
    InUse(u16),
    /// The address cannot be listened on.
    #[error("cannot listen on {address}: {source}")]
    Listen {
        /// The address.
        address: SocketAddr,
        /// Why.
        source: io::Error,
    },
    /// The system lacks something that every server needs.
    #[error("cannot serve: {0}")]
    System(String),
    /// It has served, and the last changes are in no file.
    #[error("changes that were not saved are lost: {0}")]
    Unkept(String),
}

/// A server that listens and is about to serve.
#[derive(Debug)]
pub struct Server {
    listener: TcpListener,
    address: SocketAddr,
    gate: Gate,
    shared: Shared,
    runtime: Runtime,
    closing: watch::Sender<bool>,
}

/// Listens, with room for as many connections at once as there may be: one that finds none waits a whole second before it
/// knocks again. To be called inside a runtime.
fn listen(address: SocketAddr) -> io::Result<TcpListener> {
    let socket = if address.is_ipv4() { TcpSocket::new_v4()? } else { TcpSocket::new_v6()? };
    // A port is free again at once when its last server has ended; elsewhere than on Unix this would share it.
    #[cfg(unix)]
    socket.set_reuseaddr(true)?;
    socket.bind(address)?;
    socket.listen(WAITING)
}

/// Ends a server from outside.
#[derive(Debug, Clone)]
pub struct Closer(watch::Sender<bool>);

impl Closer {
    /// Ends it, soon.
    pub fn close(&self) {
        self.0.send_replace(true);
    }
}

impl Server {
    /// Listens.
    ///
    /// # Errors
    /// [`ServeError`].
    pub fn bind(options: Options) -> Result<Self, ServeError> {
        let ip = options.bind.unwrap_or(IpAddr::V4(Ipv4Addr::LOCALHOST));
        let asked = SocketAddr::new(ip, options.port);
        let system = |error: &dyn std::fmt::Display| ServeError::System(error.to_string());
        let runtime = Builder::new_multi_thread().worker_threads(2).enable_all().build();
        let runtime = runtime.map_err(|e| system(&e))?;
        let inside = runtime.enter();
        let listener = listen(asked).map_err(|source| match source.kind() {
            io::ErrorKind::AddrInUse => ServeError::InUse(options.port),
            _ => ServeError::Listen { address: asked, source },
        })?;
        drop(inside);
        let address = listener.local_addr().map_err(|e| system(&e))?;
        let gate = Gate::new(address).map_err(|e| system(&e))?;
        let session = gate::random().map_err(|e| system(&e))?;
        let shared = Shared::new(options.desk, options.into, session);
        let (closing, _) = watch::channel(false);
        Ok(Self { listener, address, gate, shared, runtime, closing })
    }

    /// Whether others than this machine can reach it.
    pub fn is_open_to_others(&self) -> bool {
        !self.address.ip().is_loopback()
    }

    /// The address to open on this machine: it holds the key.
    pub fn address(&self) -> String {
        let mut address = self.address;
        if address.ip().is_unspecified() {
            // This machine is one of those that it listens for.
            address.set_ip(match address {
                SocketAddr::V4(_) => IpAddr::V4(Ipv4Addr::LOCALHOST),
                SocketAddr::V6(_) => IpAddr::V6(Ipv6Addr::LOCALHOST),
            });
        }
        format!("http://{address}/?key={}", self.gate.key())
    }

    /// What ends it.
    pub fn closer(&self) -> Closer {
        Closer(self.closing.clone())
    }

    /// Serves until it is closed. Says where unsaved changes are kept, if there are any.
    ///
    /// # Errors
    /// If the listener is of no use, or unsaved changes can be kept nowhere.
    pub fn run(self) -> Result<Option<PathBuf>, ServeError> {
        let Self { listener, gate, shared, runtime, closing, .. } = self;
        let router = router(shared.clone(), gate);
        runtime.block_on(async {
            let watching = tokio::spawn(document::watch_file(shared.clone()));
            door::serve(listener, router, closing.subscribe()).await;
            watching.abort();
        });
        shared.live().cancel();
        shared.jobs().cancel_all();
        runtime.shutdown_background();
        shared.desk().leave().map_err(ServeError::Unkept)
    }
}

fn router(shared: Shared, gate: Gate) -> Router {
    Router::new()
        .route("/", get(shell::shell))
        .route("/static/{name}", get(files::file))
        .route("/api/document", get(document::get).post(document::replace))
        .route("/api/edit", post(document::edit))
        .route("/api/undo", post(document::undo))
        .route("/api/redo", post(document::redo))
        .route("/api/save", post(document::save))
        .route("/api/reload", post(document::reload))
        .route("/api/events", get(events::events))
        .route("/api/status", get(events::status))
        .route("/api/designs", get(designs::list))
        .route("/api/designs/{id}", get(seen::design))
        .route("/api/designs/{id}/drawings/{name}", get(seen::drawing))
        .route("/api/designs/{id}/solid", get(seen::solid))
        .route("/api/designs/{id}/booklet.pdf", get(papers::booklet))
        .route("/api/designs/{id}/set.zip", get(papers::archive))
        .route("/api/designs/{id}/into", post(papers::into))
        .route("/api/share", get(share::share))
        .route("/api/jobs", post(jobs::ask))
        .route("/api/jobs/{job}", get(jobs::job).delete(jobs::call_off))
        .route("/api/measure", post(gear::measure))
        .route("/api/paste", post(gear::paste))
        .route("/api/starters", get(gear::starters))
        .route("/api/classes", get(gear::classes))
        .layer(DefaultBodyLimit::max(LARGEST_BODY))
        .layer(middleware::from_fn_with_state(gate, gate::guard))
        .with_state(shared)
}
