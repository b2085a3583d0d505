//! How long a search may go on: counted work first, then a wall clock or a cancel flag from outside.

use std::sync::Arc;
use std::sync::atomic::{AtomicU8, Ordering};
use std::time::Instant;

/// What ended a search before it had proved its answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stop {
    /// The work allowance was spent; the answer is the same on every machine.
    Work,
    /// The wall clock ran out; the answer depends on the machine.
    Clock,
    /// Somebody asked it to stop.
    Cancelled,
}

/// A flag that another thread may raise; clones share it.
#[derive(Debug, Clone, Default)]
pub struct Cancel(Arc<AtomicU8>);

/// What a flag says: stop and tell the best so far.
const STOP: u8 = 1;
/// What a flag says: nobody wants to know any more.
const ABANDON: u8 = 2;

impl Cancel {
    /// A flag that is down.
    pub fn new() -> Self {
        Self::default()
    }

    /// Raises the flag; every search that holds a clone stops soon.
    pub fn raise(&self) {
        self.0.fetch_max(STOP, Ordering::Relaxed);
    }

    /// Raises the flag and says that not even the best so far is wanted: whoever sees it drops everything.
    pub fn abandon(&self) {
        self.0.fetch_max(ABANDON, Ordering::Relaxed);
    }

    /// Whether the flag is up.
    pub fn is_raised(&self) -> bool {
        self.0.load(Ordering::Relaxed) >= STOP
    }

    /// Whether nothing is wanted any more.
    pub fn is_abandoned(&self) -> bool {
        self.0.load(Ordering::Relaxed) >= ABANDON
    }
}

/// The work a search may do, with the outside reasons to stop earlier.
///
/// Work is a count of elementary steps (nodes, dynamic-programming cells, pivots): what one step
/// is, each search says. A search calls [`Budget::spend`] in every loop and returns its best
/// so far when that says stop. Budgets are split between parallel tasks before they start
/// ([`Budget::share`]), never shared while they run, so that thread timing decides nothing.
#[derive(Debug, Clone)]
pub struct Budget {
    left: u64,
    spent: u64,
    deadline: Option<Instant>,
    cancel: Cancel,
    stopped: Option<Stop>,
    until_poll: u32,
}

/// Steps between two looks at the clock and the flag.
const POLL_EVERY: u32 = 1 << 12;

impl Budget {
    /// A budget of `work` steps with no clock and nobody to cancel it.
    pub fn work(work: u64) -> Self {
        Self {
            left: work,
            spent: 0,
            deadline: None,
            cancel: Cancel::new(),
            stopped: None,
            until_poll: 0,
        }
    }

    /// The same budget that also stops at `deadline`.
    pub fn until(mut self, deadline: Option<Instant>) -> Self {
        self.deadline = deadline;
        self
    }

    /// The same budget that also stops when `cancel` is raised.
    pub fn cancelled_by(mut self, cancel: &Cancel) -> Self {
        self.cancel = cancel.clone();
        self
    }

    /// A new budget of `work` steps under the same clock and flag.
    pub fn share(&self, work: u64) -> Self {
        Self { left: work, spent: 0, stopped: None, until_poll: 0, ..self.clone() }
    }

    /// Takes `steps` off; `true` means go on. Once it has said stop it always does.
    pub fn spend(&mut self, steps: u64) -> bool {
        if self.stopped.is_some() {
            return false;
        }
        self.spent = self.spent.saturating_add(steps);
        match self.left.checked_sub(steps) {
            Some(left) => self.left = left,
            None => {
                self.left = 0;
                self.stopped = Some(Stop::Work);
                return false;
            }
        }
        let steps = u32::try_from(steps).unwrap_or(u32::MAX);
        if self.until_poll > steps {
            self.until_poll -= steps;
            return true;
        }
        self.until_poll = POLL_EVERY;
        self.poll()
    }

    /// Looks at the clock and the flag at once, before something that takes long and counts no steps; `true` means go on.
    pub fn look(&mut self) -> bool {
        self.until_poll = 0;
        self.spend(0)
    }

    fn poll(&mut self) -> bool {
        if self.cancel.is_raised() {
            self.stopped = Some(Stop::Cancelled);
        } else if self.deadline.is_some_and(|end| Instant::now() >= end) {
            self.stopped = Some(Stop::Clock);
        }
        self.stopped.is_none()
    }

    /// What said stop, if anything has.
    pub fn stopped(&self) -> Option<Stop> {
        self.stopped
    }

    /// Steps spent so far.
    pub fn spent(&self) -> u64 {
        self.spent
    }

    /// Steps left.
    pub fn left(&self) -> u64 {
        self.left
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn work_runs_out_at_the_same_step_every_time() {
        let mut budget = Budget::work(10);
        assert!(budget.spend(6));
        assert!(!budget.spend(6));
        assert_eq!(budget.stopped(), Some(Stop::Work));
        assert!(!budget.spend(0), "once stopped, always stopped");
    }

    #[test]
    fn a_raised_flag_stops_every_share() {
        let cancel = Cancel::new();
        let budget = Budget::work(u64::MAX).cancelled_by(&cancel);
        let mut share = budget.share(1 << 40);
        assert!(share.spend(1));
        cancel.raise();
        while share.spend(1) {}
        assert_eq!(share.stopped(), Some(Stop::Cancelled));
        assert!(share.spent() <= 2 * u64::from(POLL_EVERY), "polled within a few thousand steps");
    }
}
