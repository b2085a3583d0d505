//! Explore from a design on: as much of it kept as the scenario allows.

use super::comparison::{CompareError, named};
use super::exploration::{Exploration, explore};
use crate::explore::like::{Kept, like};
use crate::explore::{Progress, Settings};
use crate::input::Read;

/// Explores `read` with what the design called `id` chose kept as far as there is a design that keeps it. `of` is the
/// scenario whose designs are meant; the same if there is none.
///
/// # Errors
/// If no design of that scenario, or more than one, is called so.
pub fn explore_like(
    read: Read,
    of: Option<Read>,
    id: &str,
    settings: &Settings,
    progress: &(dyn Fn(Progress) + Sync),
) -> Result<Exploration, CompareError> {
    const ALL: usize = 1000;
    let of = of.unwrap_or_else(|| read.clone());
    let all = Settings { top: ALL, most_worth: false, prove: false, ..settings.clone() };
    let mut from = explore(of, all, progress);
    let at = named(&from.designs, id)?;
    let design = from.designs.swap_remove(at).design.into_inner();
    let was = from.scenario();
    let mut last = None;
    for kept in Kept::ALL {
        let fixed = Read { scenario: like(&read.scenario, was, &design, kept), ..read.clone() };
        let found = explore(fixed, settings.clone(), progress);
        let done = !found.designs.is_empty() || found.stopped_by.is_some();
        last = Some(Exploration { like: Some((design.id, kept)), ..found });
        if done {
            break;
        }
    }
    Ok(last.expect("something is kept, or nothing is"))
}
