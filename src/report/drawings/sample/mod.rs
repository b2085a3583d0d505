//! Designs to draw in tests: real derivations around a stowage and a cutting plan that are merely
//! filled in row by row.

mod given;
mod laid;

pub use given::scenario;
pub use laid::design;

use crate::scenario::Family;
use crate::units::{Length, UnitSystem};

fn inch(numerator: i64, denominator: i64) -> Length {
    Length::inches(numerator, denominator)
}

/// What to make.
pub struct Wish {
    pub units: UnitSystem,
    pub family: Family,
    pub columns: &'static [u32],
    /// Length and width of a floor without wells, mm; a pickup's bed otherwise.
    pub cargo: Option<(i64, i64)>,
    pub gear: Vec<(&'static str, [i64; 3], u32)>,
}

pub fn locksmith() -> Wish {
    Wish {
        units: UnitSystem::Inch,
        family: Family::BetweenWells,
        columns: &[3],
        cargo: None,
        gear: vec![
            ("Impact driver case", [14, 12, 4], 2),
            ("Fish tape reel", [13, 13, 4], 2),
            ("Hole saw kit", [12, 9, 3], 1),
            ("Spirit level, 48 in", [48, 3, 2], 1),
            ("Bolt cutter", [30, 6, 2], 1),
            ("Box of wire nuts", [5, 4, 3], 6),
            ("Multimeter", [8, 5, 3], 2),
            ("Torch", [3, 3, 3], 3),
            ("Cable shears & crimper <set>", [20, 7, 3], 1),
        ],
    }
}

pub fn two_tiers(units: UnitSystem, family: Family) -> Wish {
    Wish { units, family, columns: &[2, 3], ..locksmith() }
}

/// A floor of a van, or of something far larger.
pub fn van(length_mm: i64, width_mm: i64) -> Wish {
    Wish {
        units: UnitSystem::Metric,
        columns: &[4, 3],
        cargo: Some((length_mm, width_mm)),
        ..locksmith()
    }
}

/// Names as nobody should give them.
pub fn odd_names() -> Wish {
    let mut wish = two_tiers(UnitSystem::Inch, Family::BetweenWells);
    let odd = [
        "A name that goes on and on and on, as if its writer had been paid by the word for it",
        "Donaudampfschifffahrtselektrizitaetenhauptbetriebswerkbauunterbeamtengesellschaft",
        "</text><script>alert(\"x\")</script>",
        "\u{5de5}\u{5177}\u{7bb1}",
        "tab\there\u{7}\nand there",
        "\u{1f527} spanner",
        " ",
    ];
    for (thing, name) in wish.gear.iter_mut().zip(odd) {
        thing.0 = name;
    }
    wish
}
