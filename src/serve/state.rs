//! What all connections share: the desk, the live run, the key.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use axum::http::StatusCode;
use tokio::sync::{Semaphore, watch};

use super::contract::{Job, RunNews};
use super::jobs::Jobs;
use super::live::Live;
use super::papers::bug;
use super::refuse::Refused;
use crate::app::Desk;

/// So many things are computed at once, and so many heavy ones besides.
const ASIDE: usize = 4;
const HEAVY: usize = 2;
/// Nobody waits longer for a turn.
const PATIENCE: Duration = Duration::from_secs(60);

/// What every connection is told: only the latest of each.
#[derive(Debug, Clone)]
pub struct Bulletin {
    /// The document's revision.
    pub revision: u64,
    /// Grows whenever anything about the document changes, its being saved too.
    pub document: u64,
    /// The live run.
    pub run: RunNews,
    /// What was asked besides, by number, without the answers.
    pub jobs: BTreeMap<u64, Job>,
}

/// Shared by all connections.
#[derive(Debug, Clone)]
pub struct Shared(Arc<Inner>);

#[derive(Debug)]
struct Inner {
    desk: Mutex<Desk>,
    live: Mutex<Live>,
    jobs: Mutex<Jobs>,
    news: watch::Sender<Bulletin>,
    into: Option<PathBuf>,
    session: String,
    /// Who may compute, and who may put a set together.
    aside: Semaphore,
    heavy: Semaphore,
}

impl Shared {
    /// Around a desk; sets are written into `into`.
    pub fn new(desk: Desk, into: Option<PathBuf>, session: String) -> Self {
        let news = Bulletin {
            revision: desk.revision(),
            document: 0,
            run: RunNews::idle(),
            jobs: BTreeMap::new(),
        };
        let (news, _) = watch::channel(news);
        let live = Mutex::new(Live::new(news.clone()));
        let jobs = Mutex::new(Jobs::new(news.clone()));
        let (aside, heavy) = (Semaphore::new(ASIDE), Semaphore::new(HEAVY));
        let shared = Self(Arc::new(Inner {
            desk: Mutex::new(desk),
            live,
            jobs,
            news,
            into,
            session,
            aside,
            heavy,
        }));
        shared.explore_anew();
        shared
    }

    /// The desk, for as long as it is held.
    pub fn desk(&self) -> MutexGuard<'_, Desk> {
        locked(&self.0.desk)
    }

    /// The live run, for as long as it is held.
    pub fn live(&self) -> MutexGuard<'_, Live> {
        locked(&self.0.live)
    }

    /// What was asked besides the live run, for as long as it is held.
    pub fn jobs(&self) -> MutexGuard<'_, Jobs> {
        locked(&self.0.jobs)
    }

    /// Where sets are written, if anywhere.
    pub fn folder(&self) -> Option<&PathBuf> {
        self.0.into.as_ref()
    }

    /// What tells this run of the server from others.
    pub fn session(&self) -> &str {
        &self.0.session
    }

    /// Does something that takes a while, off the connections' threads, a few at once.
    pub async fn aside<T: Send + 'static>(
        &self,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, Refused> {
        in_turn(&self.0.aside, work).await
    }

    /// The same for what takes seconds, so that it never holds up what is quick.
    pub async fn heavy<T: Send + 'static>(
        &self,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, Refused> {
        in_turn(&self.0.heavy, work).await
    }

    /// News from now on.
    pub fn news(&self) -> watch::Receiver<Bulletin> {
        self.0.news.subscribe()
    }

    /// Tells every connection that the document is another.
    pub fn tell_of_document(&self, revision: u64) {
        self.0.news.send_modify(|news| {
            news.revision = revision;
            news.document += 1;
        });
    }

    /// Gives the run up that is going on and explores what is on the desk, if that has no fault.
    pub fn explore_anew(&self) {
        // The live run's lock is held over reading the desk, so that runs start in the order of revisions.
        let mut live = self.live();
        let (revision, read) = {
            let desk = self.desk();
            (desk.revision(), desk.read())
        };
        live.restart(revision, read.ok());
    }
}

/// Does `work` on a thread for blocking work when it is its turn.
async fn in_turn<T: Send + 'static>(
    turns: &Semaphore,
    work: impl FnOnce() -> T + Send + 'static,
) -> Result<T, Refused> {
    let turn = tokio::time::timeout(PATIENCE, turns.acquire()).await;
    let Ok(Ok(_turn)) = turn else {
        let (what, cure) = ("too much is being done already", "try again in a while");
        return Err(Refused::new(StatusCode::SERVICE_UNAVAILABLE, "busy", what, cure));
    };
    tokio::task::spawn_blocking(work).await.map_err(|_| bug("the work on it broke off"))
}

/// What a lock guards. A thread that panicked holding it left a whole value: each is changed in one step.
pub fn locked<T>(lock: &Mutex<T>) -> MutexGuard<'_, T> {
    lock.lock().unwrap_or_else(PoisonError::into_inner)
}
