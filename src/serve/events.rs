//! `GET /api/events`: what changed, as server-sent events. Only the latest of each kind: a slow reader misses the steps
//! between and never holds anything up.

use std::convert::Infallible;
use std::time::Duration;

use axum::extract::State;
use axum::response::sse::{Event, KeepAlive, Sse};
use futures_util::Stream;
use futures_util::stream;
use serde_json::json;

use super::contract::RunNews;
use super::state::{Bulletin, Shared};

/// A sign of life goes out at least so often, so that who is gone is noticed.
const HEARTBEAT: Duration = Duration::from_secs(10);

/// Events for one connection.
pub async fn events(
    State(shared): State<Shared>,
) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    let mut news = shared.news();
    news.mark_changed();
    let seen: (Option<u64>, Option<RunNews>) = (None, None);
    let events =
        stream::unfold((news, seen, Vec::new()), |(mut news, mut seen, mut due)| async move {
            loop {
                if let Some(event) = due.pop() {
                    return Some((Ok(event), (news, seen, due)));
                }
                news.changed().await.ok()?;
                let latest = news.borrow_and_update().clone();
                due = unseen(&mut seen, &latest);
            }
        });
    Sse::new(events).keep_alive(KeepAlive::new().interval(HEARTBEAT))
}

/// The events for what has changed, the last to be sent first.
fn unseen(seen: &mut (Option<u64>, Option<RunNews>), latest: &Bulletin) -> Vec<Event> {
    let mut due = Vec::new();
    if seen.1.as_ref() != Some(&latest.run) {
        due.extend(Event::default().event("run").json_data(&latest.run));
        seen.1 = Some(latest.run.clone());
    }
    if seen.0 != Some(latest.document) {
        let document = json!({ "revision": latest.revision });
        due.extend(Event::default().event("document").json_data(document));
        seen.0 = Some(latest.document);
    }
    due
}
