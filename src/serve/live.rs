//! The live run: explores what is on the desk, off the connections' threads, and is given up at the next edit.

use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use tokio::sync::watch;

use super::contract::{RunNews, RunState};
use super::state::{Bulletin, locked};
use crate::app::{self, Cancel, Exploration, Progress, Read, Settings, Stage};

/// So many designs are listed at most.
pub const TOP: usize = 1000;

/// News of progress go out no oftener than this.
const PACE: Duration = Duration::from_millis(50);

impl RunNews {
    /// Before the first run.
    pub fn idle() -> Self {
        Self {
            run: 0,
            revision: 0,
            state: RunState::Idle,
            stage: None,
            done: 0,
            of: 0,
            found: 0,
            best: None,
            bound: None,
            elapsed_ms: 0,
            first_ms: None,
            designs: 0,
            what: None,
        }
    }
}

/// The designs that are shown.
#[derive(Debug, Clone)]
pub struct Found {
    /// The run that they are of.
    pub run: u64,
    /// The document's revision that they are of.
    pub revision: u64,
    /// Grows with every list.
    pub version: u64,
    /// Whether the run has ended by itself.
    pub is_final: bool,
    /// The designs.
    pub exploration: Arc<Exploration>,
}

/// The live run and what it has found.
#[derive(Debug)]
pub struct Live {
    run: u64,
    cancel: Cancel,
    news: watch::Sender<Bulletin>,
    found: Arc<Mutex<Option<Found>>>,
}

impl Live {
    /// Nothing running.
    pub fn new(news: watch::Sender<Bulletin>) -> Self {
        Self { run: 0, cancel: Cancel::new(), news, found: Arc::default() }
    }

    /// The latest list of designs.
    pub fn found(&self) -> Option<Found> {
        locked(&self.found).clone()
    }

    /// Gives the run up that is going on.
    pub fn cancel(&mut self) {
        self.cancel.raise();
    }

    /// Gives the run up that is going on and starts another, if there is something to explore.
    pub fn restart(&mut self, revision: u64, read: Option<Read>) {
        self.cancel.raise();
        self.run += 1;
        self.cancel = Cancel::new();
        let news = RunNews { run: self.run, revision, ..RunNews::idle() };
        let Some(read) = read else {
            self.news.send_modify(|bulletin| bulletin.run = news);
            return;
        };
        let running = Arc::new(Running {
            begun: Instant::now(),
            news: self.news.clone(),
            cancel: self.cancel.clone(),
            found: Arc::clone(&self.found),
            own: Mutex::new((RunNews { state: RunState::Running, ..news }, Instant::now())),
        });
        running.tell(|_| {});
        let for_thread = Arc::clone(&running);
        let started = std::thread::Builder::new()
            .name(format!("run {}", self.run))
            .spawn(move || for_thread.explore(read));
        if let Err(error) = started {
            running.tell(|news| {
                news.state = RunState::Failed;
                news.what = Some(format!("no thread can be had: {error}"));
            });
        }
    }
}

/// A run going on.
struct Running {
    begun: Instant,
    news: watch::Sender<Bulletin>,
    cancel: Cancel,
    found: Arc<Mutex<Option<Found>>>,
    /// Its news, and when they last went out.
    own: Mutex<(RunNews, Instant)>,
}

impl Running {
    /// Changes the news and sends them, unless another run has begun.
    fn tell(&self, change: impl FnOnce(&mut RunNews)) {
        let mut own = locked(&self.own);
        change(&mut own.0);
        own.0.elapsed_ms = millis(self.begun);
        own.1 = Instant::now();
        let news = own.0.clone();
        self.news.send_if_modified(|bulletin| {
            let latest = bulletin.run.run <= news.run;
            if latest {
                bulletin.run = news;
            }
            latest
        });
    }

    fn progress(&self, news: Progress) {
        if self.cancel.is_raised() {
            return;
        }
        let due = {
            let mut own = locked(&self.own);
            if let Some(found) = news.found {
                own.0.found += 1;
                own.0.best = Some(own.0.best.map_or(found.score, |best| best.max(found.score)));
                own.0.first_ms.get_or_insert(millis(self.begun));
            } else {
                own.0.stage = Some(stage(news.stage));
                (own.0.done, own.0.of) = (news.done, news.of);
            }
            own.1.elapsed() >= PACE
        };
        if due {
            self.tell(|_| {});
        }
    }

    fn explore(&self, read: Read) {
        let settings = Settings { top: TOP, cancel: self.cancel.clone(), ..Settings::default() };
        let explored = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| {
            app::explore(read, settings, &|news| self.progress(news))
        }));
        if self.cancel.is_raised() {
            self.tell(|news| news.state = RunState::Cancelled);
            return;
        }
        match explored {
            Ok(exploration) => self.done(exploration),
            Err(_) => self.tell(|news| {
                news.state = RunState::Failed;
                news.what = Some("the explorer failed: this is a fault of the program".to_owned());
            }),
        }
    }

    fn done(&self, exploration: Exploration) {
        let bound = exploration.score_bound;
        let best = exploration.designs.first().map(|shown| shown.score);
        let version = {
            let (run, revision) = {
                let own = locked(&self.own);
                (own.0.run, own.0.revision)
            };
            let mut found = locked(&self.found);
            let version = found.as_ref().map_or(1, |found| found.version + 1);
            let exploration = Arc::new(exploration);
            *found = Some(Found { run, revision, version, is_final: true, exploration });
            version
        };
        self.tell(|news| {
            news.state = RunState::Done;
            (news.best, news.bound, news.designs) = (best, bound, version);
        });
    }
}

fn millis(since: Instant) -> u64 {
    u64::try_from(since.elapsed().as_millis()).unwrap_or(u64::MAX)
}

const fn stage(stage: Stage) -> &'static str {
    match stage {
        Stage::Dimensions => "dimensions",
        Stage::Bounding => "bounding",
        Stage::Stowing => "stowing",
        Stage::Sketching => "sketching",
        Stage::Finishing => "finishing",
        Stage::Refining => "refining",
        Stage::Chasing => "chasing",
        Stage::Proving => "proving",
    }
}
