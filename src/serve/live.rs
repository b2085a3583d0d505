//! The live run: explores what is on the desk, off the connections' threads, and is given up at the next edit.

use std::sync::{Arc, Condvar, Mutex, PoisonError};
use std::time::{Duration, Instant};

use tokio::sync::watch;

use super::contract::{RunNews, RunState};
use super::state::{Bulletin, locked};
use crate::app::{self, Cancel, Exploration, Gathering, Progress, Read, Settings, Stage};

/// So many designs are listed at most.
pub const TOP: usize = 1000;

/// News of progress go out no oftener than this.
pub const PACE: Duration = Duration::from_millis(50);

/// Between two lists of a running search.
const LIST_PACE: Duration = Duration::from_millis(200);

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
    /// The latest list, and the one before it of another run: what is looked at may be of either.
    found: Arc<Mutex<Vec<Found>>>,
}

impl Live {
    /// Nothing running.
    pub fn new(news: watch::Sender<Bulletin>) -> Self {
        Self { run: 0, cancel: Cancel::new(), news, found: Arc::default() }
    }

    /// The lists of designs, the latest first.
    pub fn found(&self) -> Vec<Found> {
        locked(&self.found).clone()
    }

    /// Gives the run up that is going on.
    pub fn cancel(&mut self) {
        self.cancel.abandon();
    }

    /// Gives the run up that is going on and starts another, if there is something to explore.
    pub fn restart(&mut self, revision: u64, read: Option<Read>) {
        self.cancel.abandon();
        self.run += 1;
        self.cancel = Cancel::new();
        let news = RunNews { run: self.run, revision, ..RunNews::idle() };
        let Some(read) = read else {
            self.news.send_modify(|bulletin| bulletin.run = news);
            return;
        };
        let settings = Settings {
            top: TOP,
            cancel: self.cancel.clone(),
            eager: true,
            // The page shows what is offered, and asks again at every change.
            most_worth: false,
            ..Settings::default()
        };
        let running = Arc::new(Running {
            begun: Instant::now(),
            news: self.news.clone(),
            cancel: self.cancel.clone(),
            found: Arc::clone(&self.found),
            own: Mutex::new(Own {
                news: RunNews { state: RunState::Running, ..news },
                told: Instant::now(),
                grown: false,
            }),
            turn: Condvar::new(),
            gathering: Gathering::new(read.clone(), settings.clone()),
        });
        running.tell(|_| {});
        let (explorer, teller) = (Arc::clone(&running), Arc::clone(&running));
        let started = thread(format!("run {}", self.run), move || explorer.explore(read, settings))
            .and_then(|()| thread(format!("list {}", self.run), move || teller.keep_telling()));
        if let Err(error) = started {
            running.cancel.abandon();
            running.tell(|news| {
                news.state = RunState::Failed;
                news.what = Some(format!("no thread can be had: {error}"));
            });
        }
    }
}

/// Starts a thread that nobody waits for.
///
/// # Errors
/// If the system has no thread to give.
fn thread(name: String, work: impl FnOnce() + Send + 'static) -> std::io::Result<()> {
    std::thread::Builder::new().name(name).spawn(work).map(drop)
}

/// The same for one of many that compute: it stands back where connections and the live run want the processor.
///
/// # Errors
/// If the system has no thread to give.
pub fn standing_back(name: String, work: impl FnOnce() + Send + 'static) -> std::io::Result<()> {
    thread(name, move || {
        stand_back();
        work();
    })
}

/// Lowers this thread's priority, and that of the threads that it starts.
#[cfg(target_os = "linux")]
fn stand_back() {
    const BY: i32 = 5;
    // Where it may not be lowered it competes like any other.
    if let Ok(now) = rustix::process::getpriority_process(None) {
        let _ = rustix::process::setpriority_process(None, now + BY);
    }
}

/// Elsewhere a priority is the whole process's.
#[cfg(not(target_os = "linux"))]
fn stand_back() {}

/// A run going on.
struct Running {
    begun: Instant,
    news: watch::Sender<Bulletin>,
    cancel: Cancel,
    found: Arc<Mutex<Vec<Found>>>,
    own: Mutex<Own>,
    /// Woken when designs were found and when the run ends.
    turn: Condvar,
    gathering: Gathering,
}

/// What a run says of itself.
struct Own {
    news: RunNews,
    /// When that last went out.
    told: Instant,
    /// Whether designs were found since the last list.
    grown: bool,
}

impl Running {
    /// Changes the news and sends them, unless another run has begun.
    fn tell(&self, change: impl FnOnce(&mut RunNews)) {
        let mut own = locked(&self.own);
        change(&mut own.news);
        own.news.elapsed_ms = millis(self.begun);
        own.told = Instant::now();
        let news = own.news.clone();
        self.news.send_if_modified(|bulletin| {
            let latest = bulletin.run.run <= news.run;
            if latest {
                bulletin.run = news;
            }
            latest
        });
        drop(own);
        self.turn.notify_all();
    }

    fn progress(&self, news: &Progress<'_>) {
        if self.cancel.is_raised() {
            return;
        }
        let is_design = self.gathering.take(news);
        let due = {
            let mut own = locked(&self.own);
            if news.found.is_some() {
                own.news.found += 1;
                own.grown = true;
            } else if news.score_bound.is_some() {
                own.news.bound = news.score_bound;
            } else {
                own.news.stage = Some(stage(news.stage));
                (own.news.done, own.news.of) = (news.done, news.of);
            }
            own.told.elapsed() >= PACE
        };
        if due {
            self.tell(|_| {});
        } else if is_design {
            self.turn.notify_all();
        }
    }

    /// Explores to the end.
    fn explore(&self, read: Read, settings: Settings) {
        let explored = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| {
            app::explore(read, settings, &|news: Progress<'_>| self.progress(&news))
        }));
        if self.cancel.is_raised() {
            self.tell(|news| news.state = RunState::Cancelled);
            return;
        }
        match explored {
            Ok(exploration) => {
                let bound = exploration.score_bound;
                self.show(exploration, true);
                self.tell(|news| {
                    news.state = RunState::Done;
                    news.bound = bound;
                });
            }
            Err(_) => self.tell(|news| {
                news.state = RunState::Failed;
                news.what = Some("the explorer failed: this is a fault of the program".to_owned());
            }),
        }
    }

    /// Shows what was found so far, at once and then every now and then, until the run ends.
    fn keep_telling(&self) {
        loop {
            {
                let idle = |own: &mut Own| !own.grown && own.news.state == RunState::Running;
                let own = self.turn.wait_while(locked(&self.own), idle);
                let mut own = own.unwrap_or_else(PoisonError::into_inner);
                if own.news.state != RunState::Running {
                    return;
                }
                own.grown = false;
            }
            let so_far = self.gathering.so_far();
            if !so_far.designs.is_empty() {
                self.show(so_far, false);
            }
            std::thread::sleep(LIST_PACE);
        }
    }

    /// Puts a list where the connections look, unless the run is over or a later one has found something.
    fn show(&self, exploration: Exploration, is_final: bool) {
        let best = exploration.designs.first().map(|shown| shown.score);
        let (run, revision) = {
            let own = locked(&self.own);
            (own.news.run, own.news.revision)
        };
        let version = {
            let mut found = locked(&self.found);
            let latest = found.first();
            let late = latest
                .is_some_and(|latest| latest.run > run || (latest.run == run && latest.is_final));
            if late || self.cancel.is_raised() {
                return;
            }
            let version = latest.map_or(1, |latest| latest.version + 1);
            found.retain(|older| older.run != run);
            found.insert(
                0,
                Found { run, revision, version, is_final, exploration: Arc::new(exploration) },
            );
            found.truncate(2);
            version
        };
        let first = millis(self.begun);
        self.tell(|news| {
            if version > news.designs {
                (news.designs, news.best) = (version, best);
            }
            if best.is_some() {
                news.first_ms.get_or_insert(first);
            }
        });
    }
}

/// Milliseconds since then.
pub fn millis(since: Instant) -> u64 {
    u64::try_from(since.elapsed().as_millis()).unwrap_or(u64::MAX)
}

/// The word for a stage.
pub const fn stage(stage: Stage) -> &'static str {
    match stage {
        Stage::First => "first",
        Stage::Dimensions => "dimensions",
        Stage::Bounding => "bounding",
        Stage::Stowing => "stowing",
        Stage::Sketching => "sketching",
        Stage::Finishing => "finishing",
        Stage::Refining => "refining",
        Stage::Chasing => "chasing",
        Stage::MostWorth => "most worth",
        Stage::Proving => "proving",
    }
}
