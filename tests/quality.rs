//! The engines' quality on own draws of the published classes, by counted work: the same on every machine.
//!
//! A change that needs more bins, or proves fewer, than what is recorded here fails. One that needs fewer should record it.

use bedwright::solve::boards::{Bar, BarPart, BarProblem, cut_bars};
use bedwright::solve::budget::Budget;
use bedwright::solve::layouts::{LayoutPiece, LayoutProblem, best_layout};
use bedwright::solve::outcome::Outcome;
use bedwright::solve::sheets::{Sheet, SheetPart, SheetProblem, cut_sheets};
use bedwright::solve::stages::Stages;

#[path = "bench/draws/boards.rs"]
#[allow(dead_code, reason = "the benches ask for sets")]
mod boards;
#[path = "bench/draws/layouts.rs"]
mod layouts;
#[path = "bench/draws/sheets.rs"]
#[allow(dead_code, reason = "the benches draw the rest")]
mod sheets;

/// Bins, bins of the bounds, and how many are proved.
#[derive(Debug, Default, PartialEq, Eq)]
struct Sum {
    bins: i64,
    bounds: i64,
    proved: usize,
}

impl Sum {
    fn add<T, R>(&mut self, outcome: Outcome<T, R>) {
        match outcome {
            Outcome::Optimal { objective, .. } => {
                self.bins += objective;
                self.bounds += objective;
                self.proved += 1;
            }
            Outcome::Feasible { objective, bound, .. } => {
                self.bins += objective;
                self.bounds += bound;
            }
            Outcome::Infeasible(_) | Outcome::Unknown { .. } => panic!("a job without a plan"),
        }
    }

    /// As good as what is recorded, or better.
    #[track_caller]
    fn holds(&self, recorded: &Sum) {
        println!("found {self:?}, recorded {recorded:?}");
        assert!(self.bins <= recorded.bins, "{} bins, {} recorded", self.bins, recorded.bins);
        assert!(
            self.bounds >= recorded.bounds,
            "bounds {} recorded {}",
            self.bounds,
            recorded.bounds
        );
        assert!(
            self.proved >= recorded.proved,
            "{} proved, {} recorded",
            self.proved,
            recorded.proved
        );
    }
}

#[test]
fn boards_are_as_good_as_recorded() {
    let mut sum = Sum::default();
    for class in boards::classes() {
        let draw = class.draw(1);
        let bar = Bar { length: draw.capacity, price: 1, limit: None };
        let part = |&length: &i64| BarPart { length, count: 1 };
        let parts = draw.lengths.iter().map(part).collect();
        let problem = BarProblem { kerf: 0, keep: None, bars: vec![bar], parts };
        sum.add(cut_bars(&problem, &mut Budget::work(60_000_000)));
    }
    sum.holds(&Sum { bins: 7377, bounds: 7377, proved: 101 });
}

#[test]
fn sheets_are_as_good_as_recorded() {
    let mut sum = Sum::default();
    for class in 1..=10 {
        for n in [20, 60] {
            let problem = sheets::class(class, n, class % 2 == 0, 1);
            sum.add(cut_sheets(&problem, &mut Budget::work(1_000_000)));
        }
    }
    sum.holds(&Sum { bins: 204, bounds: 201, proved: 17 });
}

/// Chests' worth of parts, cut at random out of five and six sheets with 5 % lost.
#[test]
fn chests_are_as_good_as_recorded() {
    let mut sum = Sum::default();
    for seed in 4..9 {
        for (count, per) in [(5, 12), (6, 10)] {
            let mut problem = sheets::chest(count, per, 50, seed);
            problem.sheets[0].price = 1;
            sum.add(cut_sheets(&problem, &mut Budget::work(12_000_000)));
        }
    }
    sum.holds(&Sum { bins: 56, bounds: 55, proved: 9 });
}

/// Constrained guillotine knapsacks, turned and not: worth is to be more, its bound less.
#[test]
fn layouts_are_as_good_as_recorded() {
    let (mut worths, mut bounds, mut proved) = (0, 0, 0);
    for class in &layouts::CLASSES {
        for problem in (1..=4).map(|number| class.draw(number)) {
            let (worth, bound) =
                match best_layout(&problem, &mut Budget::work(40_000_000), &mut |_| {}) {
                    Outcome::Optimal { objective, .. } => (objective, objective),
                    Outcome::Feasible { objective, bound, .. } => (objective, bound),
                    other => panic!("no layout: {other:?}"),
                };
            // Each panel counts alike, in ten thousandths of its area.
            let share = |worth: i64| worth * 10_000 / (problem.panel.0 * problem.panel.1);
            worths += share(worth);
            bounds += share(bound);
            proved += usize::from(worth == bound);
        }
    }
    println!("worth {worths}, bounds {bounds}, {proved} of {} proved", 4 * layouts::CLASSES.len());
    assert!(worths >= 302_148 && bounds <= 318_927 && proved >= 18);
}
