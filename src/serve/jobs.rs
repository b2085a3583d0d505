//! What is asked of the program besides the live run: explanations, comparisons, trials. Each has a thread of its own and
//! can be called off.

use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::{Arc, Mutex};
use std::time::Instant;

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use serde::Serialize;
use serde_json::Value;
use tokio::sync::watch;

use super::contract::{Ask, Job, RunState, Vary, Worded};
use super::designs::listed;
use super::live::{Found, TOP, millis, stage, standing_back};
use super::refuse::{Body, Refused};
use super::seen::lines;
use super::state::{Bulletin, Shared, locked};
use crate::app::{self, By, Cancel, Exploration, Progress, Question, Read, Settings, edit};
use crate::report::terminal;

/// So many run at once, the live run besides.
pub const MOST_RUNNING: usize = 20;
/// So many that have ended are kept with their answers.
const KEPT: usize = 12;

/// Everything that was asked.
#[derive(Debug)]
pub struct Jobs {
    latest: u64,
    all: BTreeMap<u64, Arc<Running>>,
    news: watch::Sender<Bulletin>,
}

/// One that was asked.
#[derive(Debug)]
struct Running {
    begun: Instant,
    cancel: Cancel,
    news: watch::Sender<Bulletin>,
    own: Mutex<(Job, Instant)>,
    /// What a trial found.
    found: Mutex<Option<Arc<Exploration>>>,
}

impl Jobs {
    /// Nothing asked yet.
    pub fn new(news: watch::Sender<Bulletin>) -> Self {
        Self { latest: 0, all: BTreeMap::new(), news }
    }

    /// What the trials found, the latest first, with the revisions that they are of.
    pub fn explorations(&self) -> Vec<(u64, u64, Arc<Exploration>)> {
        let of = |job: &Arc<Running>| {
            let found = locked(&job.found).clone()?;
            Some((0, locked(&job.own).0.revision, found))
        };
        self.all.values().rev().filter_map(of).collect()
    }

    /// Calls everything off.
    pub fn cancel_all(&self) {
        self.all.values().for_each(|job| job.cancel.abandon());
    }

    fn running(&self) -> usize {
        let running = |job: &&Arc<Running>| locked(&job.own).0.state == RunState::Running;
        self.all.values().filter(running).count()
    }

    fn get(&self, job: u64) -> Result<Arc<Running>, Refused> {
        self.all.get(&job).cloned().ok_or_else(|| {
            let cure = "ask again: only the latest are kept";
            Refused::new(StatusCode::NOT_FOUND, "unknown", "there is no such job", cure)
        })
    }

    /// Takes a new one in, and drops the oldest that have ended.
    fn add(&mut self, kind: &'static str, revision: u64) -> Result<Arc<Running>, Refused> {
        if self.running() >= MOST_RUNNING {
            let what = format!("{MOST_RUNNING} searches are going on already");
            let cure = "call one off or wait for one to end";
            return Err(Refused::new(StatusCode::TOO_MANY_REQUESTS, "busy", what, cure));
        }
        self.latest += 1;
        let job = Job {
            job: self.latest,
            kind,
            revision,
            state: RunState::Running,
            stage: None,
            done: 0,
            of: 0,
            elapsed_ms: 0,
            what: None,
            answer: None,
        };
        let running = Arc::new(Running {
            begun: Instant::now(),
            cancel: Cancel::new(),
            news: self.news.clone(),
            own: Mutex::new((job, Instant::now())),
            found: Mutex::default(),
        });
        self.all.insert(self.latest, Arc::clone(&running));
        let ended = |job: &Arc<Running>| locked(&job.own).0.state != RunState::Running;
        let over: Vec<u64> =
            self.all.iter().rev().filter(|(_, job)| ended(job)).map(|(at, _)| *at).collect();
        for job in over.into_iter().skip(KEPT) {
            self.all.remove(&job);
            self.news.send_modify(|bulletin| _ = bulletin.jobs.remove(&job));
        }
        Ok(running)
    }
}

impl Running {
    fn tell(&self, change: impl FnOnce(&mut Job)) {
        let mut own = locked(&self.own);
        change(&mut own.0);
        own.0.elapsed_ms = millis(self.begun);
        own.1 = Instant::now();
        let told = Job { answer: None, ..own.0.clone() };
        self.news.send_modify(|bulletin| _ = bulletin.jobs.insert(told.job, told));
    }

    fn progress(&self, news: &Progress<'_>) {
        if news.of == 0 || self.cancel.is_raised() {
            return;
        }
        let due = locked(&self.own).1.elapsed() >= super::live::PACE;
        if due {
            self.tell(|job| {
                job.stage = Some(stage(news.stage));
                (job.done, job.of) = (news.done, news.of);
            });
        }
    }

    /// Runs to the end.
    fn run(&self, asked: Asked) {
        let answer = catch_unwind(AssertUnwindSafe(|| self.answer(asked)));
        self.tell(|job| match answer {
            _ if self.cancel.is_raised() => job.state = RunState::Cancelled,
            Ok(Ok(answer)) => {
                job.state = RunState::Done;
                job.answer = Some(answer);
            }
            Ok(Err(what)) => {
                job.state = RunState::Failed;
                job.what = Some(what);
            }
            Err(_) => {
                job.state = RunState::Failed;
                job.what = Some("this is a fault of the program".to_owned());
            }
        });
    }

    fn answer(&self, Asked { ask, read, revision }: Asked) -> Result<Value, String> {
        // One thread each: the live run has the rest.
        let settings = Settings {
            threads: 1,
            top: TOP,
            cancel: self.cancel.clone(),
            most_worth: false,
            ..Settings::default()
        };
        let news = |news: Progress<'_>| self.progress(&news);
        match ask {
            Ask::Why { design, item } => {
                let question = Question { design, item };
                let explained = app::explain(read, &question, &settings, &news)
                    .map_err(|error| error.to_string())?;
                let why = explained.explanation();
                worded(&crate::report::explanation_document(&why), &terminal::explanation(&why))
            }
            Ask::CompareBy { by } => {
                let compared = app::compare_choices(read, varied(by), &settings, &news)
                    .map_err(|error| error.to_string())?;
                let found = compared.comparison();
                worded(&crate::report::comparison_document(&found), &terminal::comparison(&found))
            }
            Ask::Compare { designs } => {
                let compared = app::compare_named(read, &designs, &settings, &news)
                    .map_err(|error| error.to_string())?;
                let found = compared.comparison();
                worded(&crate::report::comparison_document(&found), &terminal::comparison(&found))
            }
            Ask::Trial { .. } => {
                let exploration = Arc::new(app::explore(read, settings, &news));
                let found = Found {
                    run: 0,
                    revision,
                    version: 0,
                    is_final: true,
                    exploration: Arc::clone(&exploration),
                };
                let answer = serde_json::to_value(listed(&found)).map_err(|e| e.to_string())?;
                if !self.cancel.is_raised() {
                    *locked(&self.found) = Some(exploration);
                }
                Ok(answer)
            }
        }
    }
}

/// What a thread is given to do.
struct Asked {
    ask: Ask,
    read: Read,
    revision: u64,
}

fn worded(document: &impl Serialize, page: &terminal::Page) -> Result<Value, String> {
    let document = serde_json::to_value(document).map_err(|error| error.to_string())?;
    serde_json::to_value(Worded { document, lines: lines(page) }).map_err(|error| error.to_string())
}

const fn varied(by: Vary) -> By {
    match by {
        Vary::Columns => By::Columns,
        Vary::Tiers => By::Tiers,
        Vary::Board => By::Board,
        Vary::Sheet => By::Sheet,
        Vary::Runs => By::Runs,
    }
}

/// `POST /api/jobs`.
pub async fn ask(
    State(shared): State<Shared>,
    Body(ask): Body<Ask>,
) -> Result<(StatusCode, Json<Job>), Refused> {
    let (kind, edits) = match &ask {
        Ask::Why { .. } => ("why", None),
        Ask::CompareBy { .. } => ("compare", None),
        Ask::Compare { designs } if designs.len() < 2 => {
            let (what, cure) = ("two designs at least are compared", "name two or more");
            return Err(Refused::new(StatusCode::UNPROCESSABLE_ENTITY, "too_few", what, cure));
        }
        Ask::Compare { .. } => ("compare", None),
        Ask::Trial { edits } => ("trial", Some(edits)),
    };
    let edits = edits.cloned();
    let for_work = shared.clone();
    let (revision, read) = shared.aside(move || asked_of(&for_work, edits)).await??;
    let running = shared.jobs().add(kind, revision)?;
    running.tell(|_| {});
    let job = locked(&running.own).0.clone();
    let for_thread = Arc::clone(&running);
    let asked = Asked { ask, read, revision };
    if let Err(error) = standing_back(format!("job {}", job.job), move || for_thread.run(asked)) {
        running.tell(|job| {
            job.state = RunState::Failed;
            job.what = Some(format!("no thread can be had: {error}"));
        });
    }
    Ok((StatusCode::ACCEPTED, Json(job)))
}

/// The scenario on the desk, changed if that is asked, with the revision that it is of.
fn asked_of(shared: &Shared, edits: Option<Vec<edit::Edit>>) -> Result<(u64, Read), Refused> {
    let unfit =
        |code, what: String, cure| Refused::new(StatusCode::UNPROCESSABLE_ENTITY, code, what, cure);
    let (revision, name, text) = {
        let desk = shared.desk();
        (desk.revision(), desk.name(), desk.text().clone())
    };
    let text = match edits {
        None => text.to_string(),
        Some(edits) => edit::apply(&text, &edits).map_err(|error| {
            unfit("no_place", error.to_string(), "fetch the document and change what is there")
        })?,
    };
    let read = app::parse(&name, &text).map_err(|faults| {
        let what = faults.list.first().map_or_else(String::new, |fault| fault.message.clone());
        unfit("faulty", what, "mend the faults first")
    })?;
    Ok((revision, app::widened(read)))
}

/// `GET /api/jobs/JOB`.
pub async fn job(State(shared): State<Shared>, Path(job): Path<u64>) -> Result<Json<Job>, Refused> {
    let running = shared.jobs().get(job)?;
    let job = locked(&running.own).0.clone();
    Ok(Json(job))
}

/// `DELETE /api/jobs/JOB`.
pub async fn call_off(
    State(shared): State<Shared>,
    Path(job): Path<u64>,
) -> Result<Json<Job>, Refused> {
    let running = shared.jobs().get(job)?;
    running.cancel.abandon();
    let job = locked(&running.own).0.clone();
    Ok(Json(job))
}
