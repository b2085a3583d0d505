//! Ctrl-C: the first asks the search to stop, the second quits at once; but not while files are on their way.

use std::io::Write;
use std::path::Path;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use super::out::{Failure, in_the_way};
use crate::app::Cancel;
use crate::app::folder::{self, OutFile};

/// The exit code of a process ended by an interrupt (128 + SIGINT), as shells have it.
const INTERRUPTED: i32 = 130;

/// How often it was asked to end, and what must not be torn.
#[derive(Debug, Default)]
struct State {
    asked: u32,
    writing: bool,
}

/// Hears interrupts.
#[derive(Debug, Clone)]
pub struct Interrupts {
    state: Arc<Mutex<State>>,
    /// How many of them end it while files are written.
    patience: u32,
}

/// What is said after the first interrupt, and how many end the writing of files.
#[derive(Debug, Clone, Copy)]
pub enum First {
    /// The search ends and what it has found is shown and written; the second quits.
    Finishes,
    /// Whatever goes on, nothing is written.
    Abandons,
}

/// From now on Ctrl-C raises `cancel`, and a second one quits.
pub fn listen(cancel: &Cancel, first: First) -> Interrupts {
    let (patience, said) = match first {
        First::Finishes => (2, "stopping: the best so far is being finished (again to quit)"),
        First::Abandons => (1, "stopping: nothing will be written (again to quit)"),
    };
    let interrupts = Interrupts { state: Arc::default(), patience };
    let (heard, cancel) = (interrupts.clone(), cancel.clone());
    let handler = move || {
        let mut state = heard.state();
        state.asked += 1;
        if state.asked > 1 && !state.writing {
            // With the state held: no file can be begun meanwhile.
            std::process::exit(INTERRUPTED);
        }
        drop(state);
        let _ = writeln!(std::io::stderr(), "\n{said}");
        cancel.raise();
    };
    // Without a handler Ctrl-C quits as it always does, which is no worse than before.
    let _ = ctrlc::set_handler(handler);
    interrupts
}

impl Interrupts {
    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Whether it is to end now and leave nothing behind.
    pub fn end(&self) -> bool {
        self.state().asked >= self.patience
    }

    /// Writes a set of files into a folder, whole or, if it is asked to end, not at all.
    pub fn write(&self, into: &Path, files: &[OutFile], force: bool) -> Result<(), Failure> {
        self.state().writing = true;
        let written = folder::write_unless(into, files, force, &|| self.end());
        let mut state = self.state();
        state.writing = false;
        if state.asked > 1 {
            // It would have quit before, had no file been on its way.
            std::process::exit(INTERRUPTED);
        }
        drop(state);
        written.map_err(|error| in_the_way(&error))
    }
}
