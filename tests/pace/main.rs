//! How fast the page's server and the cutting engines are: measured, so one test at a time and none of another target's beside it.

// Shared with the tests of what the server does, which use more of it.
#[allow(dead_code)]
#[path = "../serve/client.rs"]
mod client;
mod cutting;
mod live;
mod load;

use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Duration;

/// Held by the test that measures.
fn alone() -> MutexGuard<'static, ()> {
    static ALONE: Mutex<()> = Mutex::new(());
    ALONE.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Whether it is an optimised build that is measured: the program of these tests, or another that `BEDWRIGHT_BINARY` names.
fn optimised() -> bool {
    !cfg!(debug_assertions) || std::env::var_os("BEDWRIGHT_BINARY").is_some()
}

/// What is asked of an optimised build, else what a debug build keeps: it is several times slower than what people run.
fn within(optimised_ms: u64, debug_ms: u64) -> Duration {
    Duration::from_millis(if optimised() { optimised_ms } else { debug_ms })
}
