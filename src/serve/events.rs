//! `GET /api/events` and `/api/status`: what changed, as server-sent events. Only the latest of each kind: a slow reader misses the steps
//! between and never holds anything up.

use std::collections::BTreeMap;
use std::convert::Infallible;
use std::time::Duration;

use axum::Json;
use axum::extract::State;
use axum::response::sse::{Event, KeepAlive, Sse};
use futures_util::Stream;
use futures_util::stream;
use serde_json::json;

use super::contract::{RunNews, RunState, Status};
use super::state::{Bulletin, Shared};

/// A sign of life goes out at least so often, so that who is gone is noticed.
const HEARTBEAT: Duration = Duration::from_secs(10);

/// What a connection was told last.
#[derive(Debug, Default)]
struct Told {
    document: Option<u64>,
    run: Option<RunNews>,
    jobs: BTreeMap<u64, (RunState, Option<&'static str>, u64)>,
}

/// Events for one connection.
pub async fn events(
    State(shared): State<Shared>,
) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    let mut news = shared.news();
    news.mark_changed();
    let seen = Told::default();
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
fn unseen(seen: &mut Told, latest: &Bulletin) -> Vec<Event> {
    let mut due = Vec::new();
    for (number, job) in &latest.jobs {
        let how = (job.state, job.stage, job.done);
        if seen.jobs.insert(*number, how) != Some(how) {
            due.extend(Event::default().event("job").json_data(job));
        }
    }
    seen.jobs.retain(|number, _| latest.jobs.contains_key(number));
    if seen.run.as_ref() != Some(&latest.run) {
        due.extend(Event::default().event("run").json_data(&latest.run));
        seen.run = Some(latest.run.clone());
    }
    if seen.document != Some(latest.document) {
        let document = json!({ "revision": latest.revision });
        due.extend(Event::default().event("document").json_data(document));
        seen.document = Some(latest.document);
    }
    due
}

/// `GET /api/status`.
pub async fn status(State(shared): State<Shared>) -> Json<Status> {
    let news = shared.news();
    let Bulletin { revision, run, jobs, .. } = news.borrow().clone();
    Json(Status {
        session: shared.session().to_owned(),
        revision,
        run,
        jobs: jobs.into_values().collect(),
        into: shared.folder().map(|folder| folder.display().to_string()),
    })
}
