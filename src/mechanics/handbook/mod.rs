//! The handbook: every published or derived case that the formulas are held to, each with its source and how well that is
//! known. The cases stand in the folder of the check that needs them (`handbook.rs`); here they are counted and run. Each
//! formula's own tests say more about it.

mod sawing;

use super::Standing;
use super::checks::{
    deck, drawer, fastening, gear, handling, hold_down, lock, members, movement, shelf, vehicle,
};
use std::collections::BTreeSet;

/// A number that a formula must give.
pub(super) struct Case {
    /// Number of the case; one case may have several figures. Beyond 64: worked examples from elsewhere.
    id: u32,
    group: &'static str,
    source: &'static str,
    standing: Standing,
    found: f64,
    expected: f64,
    /// Allowed difference, absolute.
    within: f64,
}

/// Cases of one group.
pub(super) struct Group(&'static str, Vec<Case>);

impl Group {
    pub(super) fn new(name: &'static str) -> Self {
        Self(name, Vec::new())
    }

    /// A case with figures `(found, expected)` within a share of what is expected.
    pub(super) fn case(
        &mut self,
        id: u32,
        standing: Standing,
        source: &'static str,
        share: f64,
        figures: &[(f64, f64)],
    ) {
        for (found, expected) in figures {
            self.one(id, standing, source, share * expected.abs(), (*found, *expected));
        }
    }

    /// A case with one figure within an absolute difference.
    pub(super) fn one(
        &mut self,
        id: u32,
        standing: Standing,
        source: &'static str,
        within: f64,
        (found, expected): (f64, f64),
    ) {
        self.1.push(Case { id, group: self.0, source, standing, found, expected, within });
    }

    /// A case that holds or does not.
    pub(super) fn holds(&mut self, id: u32, standing: Standing, source: &'static str, holds: bool) {
        self.one(id, standing, source, 0.0, (f64::from(u8::from(holds)), 1.0));
    }
}

fn all() -> Vec<Case> {
    [
        deck::handbook::cases(),
        shelf::handbook::cases(),
        members::handbook::cases(),
        drawer::bottom::handbook::cases(),
        drawer::sides::handbook::cases(),
        drawer::pull::handbook::cases(),
        drawer::jamming::handbook::cases(),
        drawer::open::handbook::cases(),
        fastening::handbook::cases(),
        hold_down::handbook::cases(),
        gear::handbook::cases(),
        vehicle::handbook::cases(),
        movement::handbook::cases(),
        lock::handbook::cases(),
        handling::handbook::cases(),
        sawing::cases(),
    ]
    .into_iter()
    .flat_map(|group| group.1)
    .collect()
}

#[test]
fn every_case_of_the_handbook_holds() {
    let mut wrong = Vec::new();
    for case in all() {
        if (case.found - case.expected).abs() > case.within {
            let Case { id, group, found, expected, within, .. } = case;
            wrong.push(format!("{group} {id}: {found} is not {expected} within {within}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn all_sixty_four_cases_are_there_and_seven_more() {
    let cases = all();
    let ids: BTreeSet<u32> = cases.iter().map(|case| case.id).collect();
    let missing: Vec<u32> = (1..=64).filter(|id| !ids.contains(id)).collect();
    assert!(missing.is_empty(), "{missing:?}");
    assert_eq!(ids.iter().filter(|id| **id > 64).count(), 7);
    for case in &cases {
        assert!(case.source.len() > 5 && case.found.is_finite(), "{}", case.id);
    }
    // What rests on memory or on a choice is marked as such, and there is some of it.
    let marked = |standing| cases.iter().filter(|case| case.standing == standing).count();
    for standing in
        [Standing::Published, Standing::FromMemory, Standing::Derived, Standing::Assumption]
    {
        assert!(marked(standing) > 0, "{standing:?}");
    }
}
