//! Read a scenario, with the gaps that the fits it demands take.

use std::path::Path;

use crate::explore::fits::{Widened, demanding};
use crate::input::{self, DefaultUsed, InputError, Read};

/// Why a gap is wider than the file or practice has it.
const DEMANDED: &str = "for the fits that [tolerance] demands";

/// Reads a scenario file. Where it demands fits, its gaps come out wide enough for them, each listed among the defaults.
///
/// # Errors
/// If the file cannot be read or is at fault.
pub fn read(path: &Path) -> Result<Read, InputError> {
    Ok(widened(input::read(path)?))
}

/// What was read, with the gaps that the fits it demands take.
pub fn widened(read: Read) -> Read {
    let (scenario, gaps) = demanding(&read.scenario);
    let mut defaults_used = read.defaults_used;
    for Widened { key, to } in gaps {
        defaults_used.retain(|used| used.key != key);
        let value_shown = to.show(scenario.units);
        defaults_used.push(DefaultUsed { key: key.to_owned(), value_shown, basis: DEMANDED });
    }
    Read { scenario, defaults_used, ..read }
}
