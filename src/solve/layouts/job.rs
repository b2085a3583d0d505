//! The problem in canonical form: grown by the kerf, divided by the common divisor, equal pieces
//! merged, useless ones left out.

use super::{LayoutPiece, LayoutProblem, LayoutReason, WORTHIEST};
use crate::solve::sheets::{Axis, LARGEST};
use crate::solve::stages::Stages;

/// Pieces of one size and worth.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Kind {
    /// The ways it may lie: grown sides in job units, at least one way.
    pub ways: Vec<[i64; 2]>,
    /// What one is worth; positive.
    pub worth: i64,
    /// How many at most; positive.
    pub copies: u32,
    /// Which pieces of the problem it stands for, with their numbers.
    pub sources: Vec<(usize, u32)>,
}

/// The canonical problem.
#[derive(Debug, Clone)]
pub(super) struct Job {
    /// Grown sides of the panel in job units.
    pub size: [i64; 2],
    pub kinds: Vec<Kind>,
    /// One job unit in problem units.
    pub unit: i64,
    /// One job worth in problem worths.
    pub coin: i64,
    pub kerf: i64,
    pub stages: Stages,
    pub keep: [i64; 2],
    /// The problem's pieces' widths.
    pub widths: Vec<i64>,
}

impl Job {
    /// Reads a problem; the reason if it is not one.
    pub fn new(problem: &LayoutProblem) -> Result<Self, LayoutReason> {
        Self::read(problem, false)
    }

    /// Reads a problem whose panel may have any width up to its own, by ripping it.
    pub fn for_widths(problem: &LayoutProblem) -> Result<Self, LayoutReason> {
        Self::read(problem, true)
    }

    fn read(problem: &LayoutProblem, widths: bool) -> Result<Self, LayoutReason> {
        check(problem)?;
        let size = [problem.panel.0, problem.panel.1].map(|s| s + problem.kerf);
        let mut kinds: Vec<Kind> = Vec::new();
        for (source, piece) in problem.pieces.iter().enumerate() {
            let ways = ways(problem, piece, widths);
            if ways.is_empty() || piece.worth <= 0 || piece.most == 0 {
                continue;
            }
            let sources = vec![(source, piece.most)];
            kinds.push(Kind { ways, worth: piece.worth, copies: piece.most, sources });
        }
        kinds.sort();
        kinds.dedup_by(|b, a| {
            let same = a.ways == b.ways && a.worth == b.worth;
            if same {
                a.copies = a.copies.saturating_add(b.copies);
                a.sources.append(&mut b.sources);
            }
            same
        });
        let (a, b) = problem.keep;
        let mut job = Self {
            size,
            kinds,
            unit: 1,
            coin: 1,
            kerf: problem.kerf,
            stages: problem.stages,
            keep: [a.min(b).max(1), a.max(b).max(1)],
            widths: problem.pieces.iter().map(|p| p.width).collect(),
        };
        job.limit_copies();
        job.scale();
        let worths = job.kinds.iter().map(|k| i128::from(k.worth) * i128::from(k.copies));
        if worths.sum::<i128>() > i128::from(WORTHIEST) {
            return Err(LayoutReason::TooMuchWorth);
        }
        Ok(job)
    }

    /// The sides that pieces may have along an axis, ascending.
    pub fn sides(&self, axis: usize) -> Vec<i64> {
        let ways = self.kinds.iter().flat_map(|k| &k.ways);
        let mut sides: Vec<i64> = ways.map(|w| w[axis]).collect();
        sides.sort_unstable();
        sides.dedup();
        sides
    }

    /// No more copies than the panel's area holds.
    fn limit_copies(&mut self) {
        let area = i128::from(self.size[0]) * i128::from(self.size[1]);
        for kind in &mut self.kinds {
            let one = i128::from(kind.ways[0][0]) * i128::from(kind.ways[0][1]);
            let most = u32::try_from(area / one).unwrap_or(u32::MAX);
            kind.copies = kind.copies.min(most);
        }
    }

    fn scale(&mut self) {
        let sides = self.kinds.iter().flat_map(|k| k.ways.iter().flatten());
        let unit = sides.fold(0, |unit, side| gcd(unit, *side)).max(1);
        self.unit = unit;
        // What the panel has over a multiple of the unit holds nothing.
        self.size = self.size.map(|s| s / unit);
        for side in self.kinds.iter_mut().flat_map(|k| k.ways.iter_mut().flatten()) {
            *side /= unit;
        }
        self.coin = self.kinds.iter().fold(0, |coin, k| gcd(coin, k.worth)).max(1);
        for kind in &mut self.kinds {
            kind.worth /= self.coin;
        }
    }
}

/// The ways in which a piece may lie on the panel, grown; on one of any width up to the panel's if
/// `widths` says so.
fn ways(problem: &LayoutProblem, piece: &LayoutPiece, widths: bool) -> Vec<[i64; 2]> {
    let panel = [problem.panel.0, problem.panel.1];
    let whole = |axis: usize, side: i64| side == panel[axis] && !(widths && axis == 0);
    let fits = |way: &[i64; 2]| {
        (0..2).all(|a| whole(a, way[a]) || (way[a] <= panel[a] && way[a] >= problem.least_rip))
    };
    let mut ways = vec![[piece.width, piece.height]];
    if piece.turn && piece.width != piece.height {
        ways.push([piece.height, piece.width]);
    }
    ways.retain(fits);
    if let Some(axis) = single_exact_stage(&problem.stages) {
        ways.retain(|w| whole(1 - axis, w[1 - axis]) || (widths && axis == 1));
    }
    ways.sort_unstable();
    ways.iter().map(|w| w.map(|s| s + problem.kerf)).collect()
}

/// The axis of the cuts if there is one stage only and nothing may be trimmed after it.
fn single_exact_stage(stages: &Stages) -> Option<usize> {
    match (stages.most, stages.trim, stages.first) {
        (Some(1), false, Some(first)) => Some(usize::from(first == Axis::Y)),
        _ => None,
    }
}

fn check(problem: &LayoutProblem) -> Result<(), LayoutReason> {
    let side = |s: i64| (1..=LARGEST).contains(&s);
    if !side(problem.panel.0) || !side(problem.panel.1) {
        return Err(LayoutReason::BadPanel);
    }
    if !(0..=LARGEST).contains(&problem.kerf) {
        return Err(LayoutReason::BadKerf);
    }
    if problem.stages.most == Some(0) {
        return Err(LayoutReason::NoStages);
    }
    for (piece, p) in problem.pieces.iter().enumerate().filter(|(_, p)| p.most > 0) {
        if !side(p.width) || !side(p.height) {
            return Err(LayoutReason::BadPiece { piece });
        }
    }
    Ok(())
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
