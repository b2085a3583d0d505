//! The most valuable pieces out of several limited panels: "what can I get out of these offcuts?"
//!
//! Panels are filled one after another, quickly first, so that there is an answer at once; then each with the best layout of
//! what is left, from the largest down and from the smallest up; then panels are emptied and filled again as long as that
//! gains. A single panel is solved as such. The bound of several is the least of three: all copies, what fits by area, and the sum of what each panel
//! holds when no other takes anything. It loses where panels compete for the same pieces: the sum
//! then counts a copy once for each panel.

use super::job::Job;
use super::search::{area_bound, area_worth};
use super::{Layout, LayoutPiece, LayoutProblem, LayoutReason, Progress, WORTHIEST, best_layout};
use crate::solve::budget::{Budget, Stop};
use crate::solve::outcome::Outcome;
use crate::solve::stages::Stages;

/// Panels of one size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StockPanel {
    /// Usable width.
    pub width: i64,
    /// Usable height.
    pub height: i64,
    /// How many there are.
    pub count: u32,
}

/// Limited panels, and what may be cut from them; all else is as in [`LayoutProblem`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PanelsProblem {
    /// What the blade takes at each cut.
    pub kerf: i64,
    /// What there is to cut from.
    pub panels: Vec<StockPanel>,
    /// What may be cut; `most` is for all panels together.
    pub pieces: Vec<LayoutPiece>,
    /// A limit on the stages of cuts.
    pub stages: Stages,
    /// No cut may leave a panel that holds pieces narrower than this.
    pub least_rip: i64,
    /// A rest is worth keeping if it holds a rectangle of these sides, either way round.
    pub keep: (i64, i64),
}

/// A panel that pieces are cut from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TakenPanel {
    /// Which of [`PanelsProblem::panels`].
    pub panel: usize,
    /// How it is cut.
    pub layout: Layout,
}

/// Takes the most worth out of the panels. Panels that nothing is cut from are not listed.
///
/// The budget is shared evenly among the panels and once more for filling them again.
pub fn take_panels(
    problem: &PanelsProblem,
    budget: &mut Budget,
    progress: &mut dyn FnMut(Progress),
) -> Outcome<Vec<TakenPanel>, LayoutReason> {
    // More panels than copies of pieces are never used.
    let copies: u64 = problem.pieces.iter().map(|p| u64::from(p.most)).sum();
    let used = |panel: &StockPanel| u64::from(panel.count).min(copies);
    if problem.panels.iter().map(used).sum::<u64>() > MOST_PANELS as u64 {
        return Outcome::Infeasible(LayoutReason::TooManyPanels);
    }
    let mut all = Vec::new();
    for (n, panel) in problem.panels.iter().enumerate() {
        all.extend((0..used(panel)).map(|_| n));
    }
    let area = |n: &usize| {
        let panel = &problem.panels[*n];
        (i128::from(panel.width) * i128::from(panel.height), *n)
    };
    if let [panel] = all[..] {
        let copies: Vec<u32> = problem.pieces.iter().map(|p| p.most).collect();
        return alone(panel, best_layout(&one(problem, panel, &copies), budget, progress));
    }
    all.sort_by_key(area);
    all.reverse();
    let mut best = Filling::empty(problem, &all);
    best.fill(problem, true, budget);
    let bound = match sum_bound(problem, &all, budget) {
        Ok(bound) => bound,
        Err(reason) => return Outcome::Infeasible(reason),
    };
    progress(Progress { worth: best.worth(), bound, work: budget.spent() });
    for _ in 0..2 {
        if best.worth() >= bound || is_hurried(budget) {
            break;
        }
        let mut filling = Filling::empty(problem, &all);
        filling.fill(problem, false, budget);
        if best.worth() < filling.worth() {
            progress(Progress { worth: filling.worth(), bound, work: budget.spent() });
            best = filling;
        }
        all.reverse();
    }
    while best.worth() < bound && !is_hurried(budget) && best.fill(problem, false, budget) {
        progress(Progress { worth: best.worth(), bound, work: budget.spent() });
    }
    let objective = best.worth();
    let best = best.taken();
    if objective >= bound {
        Outcome::Optimal { best, objective }
    } else {
        Outcome::Feasible { best, objective, bound, stopped_by: budget.stopped() }
    }
}

/// Whether somebody waits for the answer.
fn is_hurried(budget: &Budget) -> bool {
    matches!(budget.stopped(), Some(Stop::Clock | Stop::Cancelled))
}

/// The outcome of one panel as that of all.
fn alone(
    panel: usize,
    outcome: Outcome<Layout, LayoutReason>,
) -> Outcome<Vec<TakenPanel>, LayoutReason> {
    let taken = |layout: Layout| {
        let used = !layout.pieces.is_empty();
        if used { vec![TakenPanel { panel, layout }] } else { Vec::new() }
    };
    match outcome {
        Outcome::Optimal { best, objective } => Outcome::Optimal { best: taken(best), objective },
        Outcome::Feasible { best, objective, bound, stopped_by } => {
            Outcome::Feasible { best: taken(best), objective, bound, stopped_by }
        }
        Outcome::Infeasible(reason) => Outcome::Infeasible(reason),
        Outcome::Unknown { stopped_by } => Outcome::Unknown { stopped_by },
    }
}

/// The most panels that are accepted, after those that could never be used.
pub const MOST_PANELS: usize = 10_000;

/// The problem of one panel.
fn one(problem: &PanelsProblem, panel: usize, left: &[u32]) -> LayoutProblem {
    let size = &problem.panels[panel];
    let pieces = problem.pieces.iter().zip(left).map(|(p, left)| LayoutPiece { most: *left, ..*p });
    LayoutProblem {
        kerf: problem.kerf,
        panel: (size.width, size.height),
        pieces: pieces.collect(),
        stages: problem.stages,
        least_rip: problem.least_rip,
        keep: problem.keep,
    }
}

/// No cutting is worth more; or why the problem is none.
fn sum_bound(
    problem: &PanelsProblem,
    all: &[usize],
    budget: &mut Budget,
) -> Result<i64, LayoutReason> {
    let copies: Vec<u32> = problem.pieces.iter().map(|p| p.most).collect();
    let mut sizes = all.to_vec();
    sizes.dedup();
    let shares = sizes.len().max(1) as u64 * 3;
    let (mut sum, mut room) = (0i128, 0i128);
    for panel in sizes {
        let count = all.iter().filter(|n| **n == panel).count() as i128;
        let alone = one(problem, panel, &copies);
        let bound = if !budget.look() && is_hurried(budget) {
            // Whoever waits gets the bound by area.
            let job = Job::new(&alone)?;
            area_bound(&job) * job.coin
        } else {
            let mut share = budget.share(budget.left() / shares);
            let outcome = best_layout(&alone, &mut share, &mut |_| ());
            budget.spend(share.spent());
            match outcome {
                Outcome::Optimal { objective, .. } => objective,
                Outcome::Feasible { bound, .. } => bound,
                Outcome::Infeasible(reason) => return Err(reason),
                Outcome::Unknown { .. } => unreachable!("a layout is always found"),
            }
        };
        sum += count * i128::from(bound);
        let grown = |side: i64| i128::from(side) + i128::from(problem.kerf);
        room += count * grown(alone.panel.0) * grown(alone.panel.1);
    }
    let kerf = i128::from(problem.kerf);
    let pieces = problem.pieces.iter().filter(|p| p.most > 0 && p.worth > 0).map(|p| {
        let area = (i128::from(p.width) + kerf) * (i128::from(p.height) + kerf);
        (p.worth, area, p.most)
    });
    let bound = sum.min(area_worth(pieces.collect(), room));
    let bound = i64::try_from(bound).ok().filter(|bound| *bound <= WORTHIEST);
    bound.ok_or(LayoutReason::TooMuchWorth)
}

/// Panels and what is cut from each.
struct Filling {
    panels: Vec<usize>,
    layouts: Vec<Layout>,
    /// Copies not cut yet.
    left: Vec<u32>,
}

impl Filling {
    fn worth(&self) -> i64 {
        self.layouts.iter().map(|l| l.worth).sum()
    }

    /// Panels that nothing is cut from yet.
    fn empty(problem: &PanelsProblem, panels: &[usize]) -> Self {
        let left = problem.pieces.iter().map(|p| p.most).collect();
        Self { panels: panels.to_vec(), layouts: vec![Layout::default(); panels.len()], left }
    }

    /// Empties and fills each panel in turn, without any search if it is to be `quick`, until somebody waits for the
    /// answer; whether anything was gained.
    fn fill(&mut self, problem: &PanelsProblem, quick: bool, budget: &mut Budget) -> bool {
        let before = self.worth();
        for n in 0..self.panels.len() {
            if n > 0 && !budget.look() && is_hurried(budget) {
                break;
            }
            let mut left = self.left.clone();
            self.layouts[n].pieces.iter().for_each(|piece| left[piece.part] += 1);
            let share = budget.left() / (2 * (self.panels.len() - n) as u64 + 1);
            let mut share = budget.share(if quick { 0 } else { share });
            let outcome =
                best_layout(&one(problem, self.panels[n], &left), &mut share, &mut |_| ());
            budget.spend(share.spent());
            let layout = outcome.into_best().unwrap_or_default();
            if layout.worth > self.layouts[n].worth {
                layout.pieces.iter().for_each(|piece| left[piece.part] -= 1);
                self.left = left;
                self.layouts[n] = layout;
            }
        }
        self.worth() > before
    }

    fn taken(self) -> Vec<TakenPanel> {
        let taken = self.panels.into_iter().zip(self.layouts);
        let mut taken: Vec<TakenPanel> = taken
            .filter(|(_, layout)| !layout.pieces.is_empty())
            .map(|(panel, layout)| TakenPanel { panel, layout })
            .collect();
        taken.sort_by(|a, b| (a.panel, &a.layout.pieces).cmp(&(b.panel, &b.layout.pieces)));
        taken
    }
}
