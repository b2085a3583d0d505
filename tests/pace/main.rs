//! How fast the page's server and the cutting engines are: measured, so one test at a time and none of another target's beside it.

// Shared with the tests of what the server does, which use more of it.
#[allow(dead_code)]
#[path = "../serve/client.rs"]
mod client;
mod cutting;
mod live;
mod load;

use std::sync::{Mutex, MutexGuard, PoisonError};

/// Held by the test that measures.
fn alone() -> MutexGuard<'static, ()> {
    static ALONE: Mutex<()> = Mutex::new(());
    ALONE.lock().unwrap_or_else(PoisonError::into_inner)
}
