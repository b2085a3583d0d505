//! The job in the search's terms, and what is counted of a state.

use super::job::{Job, JobSheet};
use super::layout;
use super::tree::{Bin, Depth};
use crate::solve::saw::kept;

/// Scaled sides stay below this, so that scaled areas fit easily.
pub(super) const SCALE: i64 = 1 << 20;

/// Rests are worth a share of the sheet in these; a further piece costs [`PIECE`] of them.
pub(super) const SHEET: i64 = 32768;

/// Of sheets of one price the area counts, in so many parts of the largest.
const TIES: i128 = 1 << 12;

/// See [`SHEET`]: a fifth of a per cent of a sheet.
const PIECE: i64 = 64;

/// What the search needs to know of a kind.
pub(super) struct Shape {
    /// Sides as they may lie.
    pub ways: Vec<[i64; 2]>,
    /// For each way, how many ends along each axis must be edges of the sheet as they came.
    pub touch: Vec<[u8; 2]>,
    /// Scaled area.
    pub area: i64,
    pub count: u32,
}

/// The job in the search's terms.
pub(super) struct Space<'a> {
    pub job: &'a Job,
    pub shapes: Vec<Shape>,
    /// Scaled areas of the sheets.
    pub areas: Vec<i64>,
    /// Price, with the area as a tie-breaker.
    pub costs: Vec<i128>,
    pub shift: u32,
    /// The shortest side of any part.
    least: i64,
    /// Whether parts ask for edges of their sheets.
    edged: bool,
}

/// Sheets in use and kinds left out.
#[derive(Clone)]
pub(super) struct State {
    pub bins: Vec<Bin>,
    pub out: Vec<u32>,
    /// What the sheets cost.
    pub cost: i128,
}

impl<'a> Space<'a> {
    pub(super) fn new(job: &'a Job) -> Self {
        let longest = job.sheets.iter().flat_map(|s| s.size).max().unwrap_or(1);
        let mut shift = 0;
        while longest >> shift >= SCALE {
            shift += 1;
        }
        let area = |size: [i64; 2]| ((size[0] >> shift) * (size[1] >> shift)).max(1);
        let shape = |k: &super::job::Kind| {
            let (mut ways, mut touch) = (vec![k.size], vec![k.touch]);
            if k.turn {
                ways.push([k.size[1], k.size[0]]);
                touch.push([k.touch[1], k.touch[0]]);
            }
            Shape { ways, touch, area: area(k.size), count: k.count }
        };
        let shapes = job.kinds.iter().map(shape).collect();
        let areas: Vec<i64> = job.sheets.iter().map(|s| area(s.size)).collect();
        let side = |side: i64| i128::from(side) * i128::from(job.unit) - i128::from(job.kerf);
        let whole = |sheet: &JobSheet| side(sheet.size[0]) * side(sheet.size[1]);
        let largest = job.sheets.iter().map(whole).max().unwrap_or(1).max(1);
        let ties = |sheet: &JobSheet| (whole(sheet) * TIES / largest).max(1);
        let per = job.items as i128 * TIES + 1;
        let cost = |sheet: &JobSheet| i128::from(sheet.price) * per + ties(sheet);
        let costs = job.sheets.iter().map(cost).collect();
        let least = job.kinds.iter().flat_map(|k| k.size).min().unwrap_or(1);
        let edged = job.is_edged();
        Self { job, shapes, areas, costs, shift, least, edged }
    }

    /// Gives empty sheets back.
    pub(super) fn tidy(&self, state: &mut State) {
        state.bins.retain(|bin| !bin.nodes.is_empty());
        state.cost = self.cost(state);
    }

    /// The price of the sheets in use.
    pub(super) fn price(&self, state: &State) -> i64 {
        state.bins.iter().map(|b| self.job.sheets[b.sheet].price).sum()
    }

    /// A sheet without parts.
    pub(super) fn empty(&self, sheet: usize) -> Bin {
        let of = &self.job.sheets[sheet];
        let depth = Depth::new(self.job.stages, of.flipped);
        let bin = Bin::new(sheet, of.size, self.areas[sheet], self.least, depth);
        if self.edged { bin.with_edges(of.ends()) } else { bin }
    }

    /// What the sheets in use cost.
    pub(super) fn cost(&self, state: &State) -> i128 {
        state.bins.iter().map(|b| self.costs[b.sheet]).sum()
    }

    /// Scaled area of a list of kinds.
    pub(super) fn area_of(&self, kinds: &[u32]) -> i64 {
        kinds.iter().map(|k| self.shapes[*k as usize].area).sum()
    }

    /// Scaled area of a rectangle.
    pub(super) fn scaled(&self, size: [i64; 2]) -> i64 {
        (size[0] >> self.shift) * (size[1] >> self.shift)
    }

    /// A scaled area as a share of the largest sheet, in [`SHEET`]s.
    pub(super) fn share(&self, area: i64) -> i64 {
        area * SHEET / self.areas.iter().max().copied().unwrap_or(1)
    }

    /// Area and number of a sheet's rests worth keeping.
    pub(super) fn kept(&self, bin: &Bin) -> (i128, usize) {
        kept(self.job.keep, &layout::cut_sheet(self.job, bin).rests)
    }

    /// What rests of an area in so many pieces are worth to the search, in [`SHEET`]s.
    pub(super) fn worth_of(&self, (area, pieces): (i128, usize)) -> i64 {
        let unit = i128::from(self.job.unit);
        let largest = self.job.sheets.iter().map(|s| i128::from(s.size[0]) * i128::from(s.size[1]));
        let largest = largest.max().unwrap_or(1) * unit * unit;
        let share = i64::try_from(area * i128::from(SHEET) / largest).unwrap_or(SHEET);
        share - PIECE * pieces as i64
    }
}
