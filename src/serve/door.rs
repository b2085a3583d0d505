//! The door: connections taken in, the slow ones dropped.

use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::service::TowerToHyperService;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{Semaphore, watch};
use tokio_io_timeout::TimeoutStream;

/// A request's head must be there by then, counted from its beginning or from the last answer.
const HEAD: Duration = Duration::from_secs(10);
/// Nothing that is sent may lie unread for longer.
const UNREAD: Duration = Duration::from_secs(20);
/// Connections at once. The next ones wait in the system's queue.
const CONNECTIONS: usize = 512;
/// What is still going on when the program ends has so long to end.
const FAREWELL: Duration = Duration::from_millis(500);
/// After a failure to take a connection in (no descriptors left, say), so long until the next try.
const PAUSE: Duration = Duration::from_millis(50);

/// Serves connections until `closing` says true.
pub async fn serve(listener: TcpListener, router: Router, mut closing: watch::Receiver<bool>) {
    let places = Arc::new(Semaphore::new(CONNECTIONS));
    loop {
        let Ok(place) = Arc::clone(&places).acquire_owned().await else { return };
        let stream = tokio::select! {
            taken = listener.accept() => taken,
            () = closed(&mut closing) => break,
        };
        let Ok((stream, _)) = stream else {
            tokio::time::sleep(PAUSE).await;
            continue;
        };
        let (router, closing) = (router.clone(), closing.clone());
        tokio::spawn(async move {
            connection(stream, router, closing).await;
            drop(place);
        });
    }
    // Whoever is served gives the place back.
    let all = u32::try_from(CONNECTIONS).unwrap_or(u32::MAX);
    let _ = tokio::time::timeout(FAREWELL, places.acquire_many(all)).await;
}

/// Waits until the server is to end.
async fn closed(closing: &mut watch::Receiver<bool>) {
    // An error says that nobody is left who could say so: then it is to end, too.
    let _ = closing.wait_for(|closing| *closing).await;
}

async fn connection(stream: TcpStream, router: Router, mut closing: watch::Receiver<bool>) {
    let _ = stream.set_nodelay(true);
    let mut stream = TimeoutStream::new(stream);
    stream.set_write_timeout(Some(UNREAD));
    let router = router.into_service::<hyper::body::Incoming>();
    let service = TowerToHyperService::new(router);
    let mut builder = http1::Builder::new();
    builder.timer(TokioTimer::new()).header_read_timeout(HEAD).max_buf_size(64 * 1024);
    let serving = builder.serve_connection(TokioIo::new(Box::pin(stream)), service);
    let mut serving = std::pin::pin!(serving);
    // How a connection ends is its client's business: nobody is told.
    tokio::select! {
        _ = serving.as_mut() => {}
        () = closed(&mut closing) => {
            serving.as_mut().graceful_shutdown();
            let _ = tokio::time::timeout(FAREWELL, serving).await;
        }
    }
}
