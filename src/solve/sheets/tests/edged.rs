//! Parts that must have an edge of their sheet as it came.

use std::collections::BTreeMap;

use super::*;
use crate::solve::sheets::edged::keeps;

/// A panel's sides, whether its edges are the sheet's as they came, and the parts asked of it.
type State = ([i64; 2], [[bool; 2]; 2], usize);

/// Whether one sheet yields all parts of a set with the edges they ask for, by trying every cut of every panel.
struct Brute<'a> {
    problem: &'a SheetProblem,
    edges: &'a Edges,
    memo: BTreeMap<State, bool>,
}

impl Brute<'_> {
    fn yields(&mut self, size: [i64; 2], raw: [[bool; 2]; 2], set: usize) -> bool {
        if set == 0 {
            return true;
        }
        if size[0] <= 0 || size[1] <= 0 {
            return false;
        }
        if let Some(known) = self.memo.get(&(size, raw, set)) {
            return *known;
        }
        let mut found = set.count_ones() == 1 && self.is(size, raw, set.trailing_zeros() as usize);
        for axis in 0..2 {
            for at in 1..size[axis] {
                let (mut one, mut other) = (size, size);
                (one[axis], other[axis]) = (at, size[axis] - at - self.problem.kerf);
                let (mut near, mut far) = (raw, raw);
                near[axis][1] = false;
                far[axis][0] = false;
                let mut a = set;
                loop {
                    found =
                        found || (self.yields(one, near, a) && self.yields(other, far, set ^ a));
                    if a == 0 || found {
                        break;
                    }
                    a = (a - 1) & set;
                }
            }
        }
        self.memo.insert((size, raw, set), found);
        found
    }

    fn is(&self, size: [i64; 2], raw: [[bool; 2]; 2], part: usize) -> bool {
        let (p, asked) = (&self.problem.parts[part], self.edges.parts[part]);
        let lies = |a: usize, b: usize| {
            let sides = [p.width, p.height];
            [sides[a], sides[b]] == size
                && [a, b].iter().zip(raw).all(|(own, ends)| !asked[*own] || ends[0] || ends[1])
        };
        lies(0, 1) || (p.turn && lies(1, 0))
    }
}

#[test]
fn parts_get_the_edges_they_ask_for_where_brute_force_finds_a_way() {
    let mut rng = Rng::new(77);
    let (mut one, mut more) = (0, 0);
    for _ in 0..600 {
        let mut between = |lo: i64, hi: i64| lo + rng.below((hi - lo + 1) as usize) as i64;
        let parts: Vec<_> = (0..between(2, 4))
            .map(|_| SheetPart {
                width: between(2, 6),
                height: between(2, 6),
                count: 1,
                turn: between(0, 1) == 1,
            })
            .collect();
        let mut flag = |of: i64| between(0, of) > 0;
        let mut ends = || {
            let (first, second) = (flag(3), flag(2));
            [first, first && second]
        };
        let raw = [ends(), ends()];
        let edges = Edges {
            sheets: vec![raw],
            parts: parts.iter().map(|_| [!flag(1), !flag(2)]).collect(),
        };
        let problem = SheetProblem {
            kerf: between(0, 1),
            sheets: vec![Sheet { width: 9, height: 8, price: 1, limit: None }],
            parts,
            keep: (2, 2),
            stages: Stages::ANY,
        };
        let memo = BTreeMap::new();
        let mut brute = Brute { problem: &problem, edges: &edges, memo };
        let all = (1 << problem.parts.len()) - 1;
        let fits = brute.yields([9, 8], raw, all);
        let each = (0..problem.parts.len()).all(|p| brute.yields([9, 8], raw, 1 << p));
        match cut_sheets_with(&problem, &edges, 1, &mut Budget::work(200_000)) {
            Outcome::Infeasible(SheetReason::PartTooLarge { by: 0, .. }) => assert!(!each),
            outcome => {
                assert!(each, "{problem:?} {edges:?}");
                let plan = outcome.best().unwrap_or_else(|| panic!("{problem:?} {edges:?}"));
                assert_eq!(replay(&problem, plan), Ok(()), "{problem:?} {edges:?}");
                assert!(keeps(&problem, &edges, plan), "{problem:?} {edges:?} {plan:?}");
                let sheets = plan.sheets.len();
                assert!(sheets > 1 || fits, "{problem:?} {edges:?}");
                // A sliver thinner than the blade is the only way that is passed over.
                assert!(sheets == 1 || !fits || problem.kerf > 0, "{problem:?} {edges:?} {plan:?}");
                one += i32::from(fits && sheets == 1);
                more += i32::from(fits && sheets > 1);
            }
        }
    }
    assert!(one > 150 && more * 50 < one, "{one} on one sheet, {more} on more than need be");
}

#[test]
fn a_sheet_has_four_edges_and_two_ends_a_side() {
    // Strips across the whole width that must each have a long edge of the sheet: two a sheet, whatever their area.
    let problem = SheetProblem {
        kerf: 3,
        sheets: vec![Sheet { width: 2440, height: 1220, price: 5, limit: None }],
        parts: vec![SheetPart { width: 2440, height: 200, count: 5, turn: false }],
        keep: (300, 300),
        stages: Stages::ANY,
    };
    let ask = |raw| Edges { sheets: vec![raw], parts: vec![[false, true]] };
    for (raw, sheets) in [([[true; 2]; 2], 3), ([[true; 2], [false, true]], 5)] {
        let edges = ask(raw);
        let outcome = cut_sheets_with(&problem, &edges, 1, &mut Budget::work(300_000));
        let plan = outcome.best().expect("as many sheets as wanted");
        assert_eq!(replay(&problem, plan), Ok(()));
        assert!(keeps(&problem, &edges, plan));
        assert_eq!(plan.sheets.len(), sheets);
    }
    let none = cut_sheets_with(&problem, &ask([[true; 2], [false; 2]]), 1, &mut Budget::work(9));
    assert_eq!(none, Outcome::Infeasible(SheetReason::PartTooLarge { part: 0, by: 0 }));
}
