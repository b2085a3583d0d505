//! The extents that matter along one side of the panel.

/// The extents that panels and blocks are measured by along one side, 0 among them, ascending.
///
/// Three sorts, all safe:
///
/// - *raster points* (Scheithauer & Terno, Oper. Res. Lett. 20, 1996): with `S` the sums of piece
///   sides and `⟨x⟩` the largest of them not above `x`, the points `⟨L − s⟩` for `s` in `S`.
///   A block of extent `x` may be taken for the next raster point above: what stands beside it is a sum
///   `r ≤ L − x`, so `r ≤ ⟨L − x⟩`, and the next point is at most `⟨L − ⟨L − x⟩⟩ ≤ L − r`.
/// - *normal patterns* (Herz, IBM J. Res. Dev. 16, 1972): all of `S`; needed when the panel's own
///   extent is not fixed, as in a table over widths.
/// - an *even* grid where either would be too many points. Blocks keep their true extents and are
///   looked up at the grid's `⌊x / step⌋`; as `Σ ⌊x / step⌋ ≤ ⌊L / step⌋` whenever `Σ x ≤ L`, tables
///   over the grid stay upper bounds.
#[derive(Debug, Clone)]
pub(super) struct Line {
    points: Vec<i64>,
    /// The step of an even grid.
    step: Option<i64>,
    /// `rest[i * n + j]`: the point of what is left of point `i` beside point `j ≤ i`.
    rest: Vec<u16>,
    /// `meet[i * n + j]`: the least point at which a block of point `i` beside one of point `j`
    /// may be looked up; `NONE` if that is beyond the last.
    meet: Vec<u16>,
}

/// No point.
const NONE: u16 = u16::MAX;

/// Sums are listed in a table of this many entries at most, or else by merging.
const DENSE: i64 = 1 << 18;

/// More sums than this are not listed.
const MOST_SUMS: usize = 20_000;

impl Line {
    /// Raster points of `length` for pieces with these sides, or an even grid if they are more
    /// than `most`.
    pub fn raster(sides: &[i64], length: i64, most: usize) -> Self {
        let Some(sums) = sums(sides, length) else {
            return Self::even(length, most);
        };
        let below = |x: i64| sums[sums.partition_point(|s| *s <= x) - 1];
        let mut points: Vec<i64> = sums.iter().map(|s| below(length - s)).collect();
        points.sort_unstable();
        points.dedup();
        Self::of(points, length, most)
    }

    /// Normal patterns of `length`, or an even grid if they are more than `most`.
    pub fn normal(sides: &[i64], length: i64, most: usize) -> Self {
        match sums(sides, length) {
            Some(points) => Self::of(points, length, most),
            None => Self::even(length, most),
        }
    }

    fn of(points: Vec<i64>, length: i64, most: usize) -> Self {
        if points.len() > most.max(2) {
            return Self::even(length, most);
        }
        Self::with(points, None)
    }

    fn even(length: i64, most: usize) -> Self {
        let most = i64::try_from(most.clamp(2, 4000)).expect("at most 4000");
        let step = length / most + 1;
        Self::with((0..=length / step).map(|i| i * step).collect(), Some(step))
    }

    fn with(points: Vec<i64>, step: Option<i64>) -> Self {
        let n = points.len();
        let mut rest = vec![0; n * n];
        for i in 0..n {
            let mut at = i;
            for j in 0..=i {
                while points[at] > points[i] - points[j] {
                    at -= 1;
                }
                rest[i * n + j] =
                    u16::try_from(at).expect("a line has at most some thousand points");
            }
        }
        let mut meet = vec![NONE; n * n];
        for i in 0..n {
            let mut at = i;
            for j in 0..n {
                while at < n && points[at] < points[i] + points[j] {
                    at += 1;
                }
                if at < n {
                    meet[i * n + j] = u16::try_from(at).expect("as above");
                }
            }
        }
        Self { points, step, rest, meet }
    }

    /// How many points there are.
    pub fn len(&self) -> usize {
        self.points.len()
    }

    /// The extent at a point.
    pub fn at(&self, point: usize) -> i64 {
        self.points[point]
    }

    /// Whether blocks are only looked up here, not brought to these extents.
    pub fn is_even(&self) -> bool {
        self.step.is_some()
    }

    /// The extent that a block may be taken for; `None` if it is longer than the last point.
    pub fn snap(&self, extent: i64) -> Option<i64> {
        if self.is_even() {
            return Some(extent);
        }
        self.points.get(self.points.partition_point(|p| *p < extent)).copied()
    }

    /// Where a block of an extent that [`Line::snap`] gave is looked up.
    pub fn index(&self, extent: i64) -> usize {
        match self.step {
            Some(step) => usize::try_from(extent / step).unwrap_or(0).min(self.len() - 1),
            None => self.points.partition_point(|p| *p <= extent).saturating_sub(1),
        }
    }

    /// The first point that is not short of `extent`; the number of points if there is none.
    pub fn cover(&self, extent: i64) -> usize {
        self.points.partition_point(|p| *p < extent)
    }

    /// The least point at which blocks of points `i` and `j` beside each other may be looked up.
    pub fn meet(&self, i: usize, j: usize) -> Option<usize> {
        let at = self.meet[i * self.len() + j];
        (at != NONE).then_some(usize::from(at))
    }

    /// The point of what is left of point `whole` beside point `part`, which is not beyond it.
    pub fn rest(&self, whole: usize, part: usize) -> usize {
        usize::from(self.rest[whole * self.len() + part])
    }
}

/// Every sum of sides up to `length`, ascending; `None` if there are too many.
fn sums(sides: &[i64], length: i64) -> Option<Vec<i64>> {
    if length <= DENSE {
        let size = usize::try_from(length).unwrap_or(0) + 1;
        let mut hit = vec![false; size];
        hit[0] = true;
        for side in sides.iter().filter_map(|s| usize::try_from(*s).ok()) {
            for x in side..size {
                hit[x] |= hit[x - side];
            }
        }
        return Some((0..).zip(hit).filter(|(_, hit)| *hit).map(|(x, _)| x).collect());
    }
    let mut sums = vec![0];
    for side in sides {
        // Every sum so far, then each of the new ones, plus one more of this side.
        let mut merged = sums.clone();
        let mut fresh = sums;
        while !fresh.is_empty() {
            fresh = fresh.iter().map(|x| x + side).filter(|x| *x <= length).collect();
            merged.extend(&fresh);
            if merged.len() > 4 * MOST_SUMS {
                merged.sort_unstable();
                merged.dedup();
                if merged.len() > MOST_SUMS {
                    return None;
                }
            }
        }
        merged.sort_unstable();
        merged.dedup();
        sums = merged;
    }
    (sums.len() <= MOST_SUMS).then_some(sums)
}
