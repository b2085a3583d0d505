//! What all connections share: the desk, the live run, the key.

use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use tokio::sync::watch;

use super::contract::RunNews;
use super::live::Live;
use crate::app::Desk;

/// What every connection is told: only the latest of each.
#[derive(Debug, Clone)]
pub struct Bulletin {
    /// The document's revision.
    pub revision: u64,
    /// Grows whenever anything about the document changes, its being saved too.
    pub document: u64,
    /// The live run.
    pub run: RunNews,
}

/// Shared by all connections.
#[derive(Debug, Clone)]
pub struct Shared(Arc<Inner>);

#[derive(Debug)]
struct Inner {
    desk: Mutex<Desk>,
    live: Mutex<Live>,
    news: watch::Sender<Bulletin>,
}

impl Shared {
    /// Around a desk.
    pub fn new(desk: Desk) -> Self {
        let news = Bulletin { revision: desk.revision(), document: 0, run: RunNews::idle() };
        let (news, _) = watch::channel(news);
        let live = Live::new(news.clone());
        let shared = Self(Arc::new(Inner { desk: Mutex::new(desk), live: Mutex::new(live), news }));
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

/// What a lock guards. A thread that panicked holding it left a whole value: each is changed in one step.
pub fn locked<T>(lock: &Mutex<T>) -> MutexGuard<'_, T> {
    lock.lock().unwrap_or_else(PoisonError::into_inner)
}
