//! Ctrl-C: the first asks the search to stop, the second quits at once.

use std::io::Write;
use std::sync::atomic::{AtomicBool, Ordering};

use crate::app::Cancel;

/// The exit code of a process ended by an interrupt (128 + SIGINT), as shells have it.
const INTERRUPTED: i32 = 130;

/// From now on Ctrl-C raises `cancel`, and a second one quits.
pub fn listen(cancel: &Cancel) {
    let cancel = cancel.clone();
    let asked = AtomicBool::new(false);
    let handler = move || {
        if asked.swap(true, Ordering::SeqCst) {
            std::process::exit(INTERRUPTED);
        }
        let _ = writeln!(
            std::io::stderr(),
            "\nstopping: the best so far is being finished (again to quit)"
        );
        cancel.raise();
    };
    // Without a handler Ctrl-C quits as it always does, which is no worse than before.
    let _ = ctrlc::set_handler(handler);
}
