//! How far sizes may be off.

use super::{Builder, Least, PRACTICE};
use crate::input::outside;
use crate::input::reader::At;
use crate::scenario::{Demanded, Tolerance};
use crate::units::Length;

/// The basis of the sheets' default.
const PS_1: &str = "PS 1: unsanded panels up to 13/16 in";

impl Builder {
    pub(super) fn tolerance(&mut self, file: Option<&outside::Tolerance>) -> Tolerance {
        let usual = Tolerance::usual(self.reading.units);
        let demand = file.and_then(|given| given.demand.clone());
        let mut one = |key: &str, pick: fn(&outside::Tolerance) -> &Option<At<Length>>, usual| {
            let given = file.and_then(|given| pick(given).as_ref());
            self.length_or(given, &format!("tolerance.{key}"), Least::Zero, usual)
        };
        let tolerance = Tolerance {
            tape: one("tape", |given| &given.tape, usual.tape),
            saw: one("saw", |given| &given.saw, usual.saw),
            sheet: one("sheet", |given| &given.sheet, usual.sheet),
            board: one("board", |given| &given.board, usual.board),
            gear: one("gear", |given| &given.gear, usual.gear),
            demanded: Demanded::Nothing,
        };
        for used in self.defaults.iter_mut().filter(|used| used.key == "tolerance.sheet") {
            used.basis = PS_1;
        }
        let demanded =
            self.or_default(&demand, "tolerance.demand", Demanded::Nothing, "nothing", PRACTICE);
        Tolerance { demanded, ..tolerance }
    }
}
