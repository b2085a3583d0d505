//! Lanes shared out anew, and widths with them, where a drawer has more to bear than it should.
//!
//! Under the same load per length a bottom's sag, as a share of its span, rises with its load and the square of its span: M·w² for gear
//! of mass M in a drawer w wide (textbook, a strip on two supports). So of all ways to share lanes out those are looked into
//! in which the greatest M·w² is least, and width that no lane needs goes to the drawers that bear least. What comes of
//! each is measured ([`Care::strain`]), and the least strained is kept.

use std::fmt;

use crate::design::Layout;
use crate::solve::lanes::Limits;
use crate::units::{Length, Mass};

/// What drawers bear.
#[derive(Clone, Copy)]
pub struct Care<'a> {
    /// What a drawer of each tier should hold at most; empty for no limit. Gear is moved to other drawers of its tier, and to
    /// other tiers, as far as that keeps to it.
    pub most: &'a [Mass],
    /// How near a drawer of a tier with this layout comes to what it bears: 1 is all of it.
    pub strain: &'a (dyn Fn(usize, &Layout) -> f64 + 'a),
}

impl Care<'_> {
    /// Drawers bear anything.
    pub const NONE: Care<'static> = Care { most: &[], strain: &|_, _| 0.0 };
}

impl fmt::Debug for Care<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Care").field("most", &self.most).finish_non_exhaustive()
    }
}

/// Lanes of a tier.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shared<'a> {
    /// In the solver's steps.
    pub widths: &'a [i64],
    /// Micrograms.
    pub masses: &'a [i64],
    /// The column that each has to stand in, if it has to in one.
    pub held: &'a [Option<u32>],
    /// What a column should hold at most, micrograms.
    pub most: Option<i64>,
}

/// All ways to share lanes out are looked through if there are no more than this.
const WAYS: usize = 1 << 12;
/// Micrograms that every drawer is taken to weigh besides its gear (assumption): an empty one may be wide, but not boundless.
const OWN: i64 = 2_000_000_000;

/// The most promising ways to share lanes out, at most so many: for each lane its column. Only those that promise more than the way
/// that is known, if there is one; none where there are too many ways.
pub(super) fn sharings(
    lanes: &Shared<'_>,
    limits: &Limits,
    known: Option<&[usize]>,
    most: usize,
) -> Vec<Vec<usize>> {
    let count = lanes.widths.len();
    let free: Vec<usize> = (0..count).filter(|lane| lanes.held[*lane].is_none()).collect();
    let ways = limits.columns.checked_pow(u32::try_from(free.len()).unwrap_or(u32::MAX));
    let Some(ways) = ways.filter(|ways| *ways <= WAYS) else { return Vec::new() };
    let mut at: Vec<usize> = lanes.held.iter().map(|one| one.unwrap_or(0) as usize).collect();
    let alike = free.len() == count;
    let known = known.and_then(|known| burden(lanes, limits, known));
    let mut found: Vec<((i64, i128), Vec<usize>)> = Vec::new();
    for way in 0..ways {
        let mut digits = way;
        for lane in &free {
            at[*lane] = digits % limits.columns;
            digits /= limits.columns;
        }
        // Columns that hold nothing are alike: each way is looked at once, its columns in the order of their first lanes.
        if alike && !is_first_of_its_like(&at) {
            continue;
        }
        if let Some(cost) = burden(lanes, limits, &at)
            && known.is_none_or(|known| cost < known)
        {
            found.push((cost, at.clone()));
        }
    }
    found.sort();
    found.truncate(most);
    found.into_iter().map(|(_, at)| at).collect()
}

fn is_first_of_its_like(columns: &[usize]) -> bool {
    let mut next = 0;
    columns.iter().all(|column| {
        let known = *column <= next;
        next = next.max(column + 1);
        known
    })
}

/// What the heaviest column holds beyond what it should, and the greatest M·w²; `None` if the columns are too wide together.
fn burden(lanes: &Shared<'_>, limits: &Limits, columns: &[usize]) -> Option<(i64, i128)> {
    let mut content = [0i64; 8];
    let mut mass = [0i64; 8];
    for (lane, column) in columns.iter().enumerate() {
        *content.get_mut(*column)? += lanes.widths[lane] + limits.divider;
        mass[*column] = mass[*column].saturating_add(lanes.masses[lane]);
    }
    let content = &content[..limits.columns.min(8)];
    let wide = |content: &i64| (content - limits.divider).max(limits.least);
    let fits = content.iter().map(wide).sum::<i64>() <= limits.width
        && content.iter().all(|content| content - limits.divider <= limits.most);
    let beyond = |mass: &i64| lanes.most.map_or(0, |most| (mass - most).max(0));
    let squared = |(content, mass): (&i64, &i64)| {
        i128::from(mass + OWN) * i128::from(wide(content)) * i128::from(wide(content))
    };
    fits.then(|| {
        (
            mass.iter().map(beyond).fold(0, i64::max),
            content.iter().zip(&mass).map(squared).fold(0, i128::max),
        )
    })
}

/// Hands `width` out to drawers that need at least `floor` so that the greatest M·w² is least and none is wider than `most`, if
/// that leaves enough: in whole steps, what rounding leaves to the one that bears least. The widths add up to `width`.
pub(super) fn relieved(
    floor: &[Length],
    masses: &[Mass],
    width: Length,
    most: Length,
    step: Length,
) -> Vec<Length> {
    let root = |mass: &Mass| ((mass.micrograms() + OWN) as f64).sqrt();
    let roots: Vec<f64> = masses.iter().map(root).collect();
    let at = |level: f64, most: Length| -> Vec<Length> {
        let share = |(floor, root): (&Length, &f64)| {
            let wanted = Length::from_units((level / root) as i64).floor_to(step);
            wanted.min(most).max(*floor)
        };
        floor.iter().zip(&roots).map(share).collect()
    };
    let fits = |level: f64, most: Length| at(level, most).into_iter().sum::<Length>() <= width;
    let heaviest = roots.iter().copied().fold(1.0, f64::max);
    // Wider than `most` where all at their most would not fill it.
    let highest = width.units() as f64 * heaviest;
    let most = if fits(highest, most) { width } else { most };
    let (mut low, mut high) = (0.0, highest);
    for _ in 0..64 {
        let middle = low + (high - low) / 2.0;
        if fits(middle, most) { low = middle } else { high = middle }
    }
    let mut widths = at(low, most);
    let rest = width - widths.iter().copied().sum::<Length>();
    let bears = |index: &usize| roots[*index] * widths[*index].units() as f64;
    let least = (0..widths.len()).min_by(|a, b| bears(a).total_cmp(&bears(b)));
    if let Some(least) = least {
        widths[least] += rest;
    }
    widths
}
