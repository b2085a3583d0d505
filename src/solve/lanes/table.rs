//! The problem in grown sizes, cleaned of what can never be used.

use super::{Form, Hall, LaneProblem, Spot};

/// A shape with a footprint, in grown sizes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Fixed {
    pub length: i64,
    pub width: i64,
    pub class: usize,
    pub copies: u32,
    pub shape: usize,
    pub spot: Spot,
    /// Its place among the hall's footprints.
    pub row: usize,
}

/// A shape with an area only; `area` and `least` are the cell's own, not grown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Loose {
    pub area: i64,
    pub least: i64,
    pub class: usize,
    pub copies: u32,
    pub shape: usize,
    pub spot: Spot,
}

/// A hall in grown sizes.
#[derive(Debug)]
pub(super) struct HallTable {
    pub divider: i64,
    pub length: i64,
    /// All columns together, each grown.
    pub width: i64,
    pub columns: usize,
    /// Grown least width of a column.
    pub least: i64,
    /// Grown most width of a column.
    pub most: i64,
    /// By length, then width.
    pub fixed: Vec<Fixed>,
    pub loose: Vec<Loose>,
    /// Of each class the places of its footprints.
    of_class: Vec<Vec<usize>>,
    /// Of each class the column that its shapes are for: all of them are for one.
    columns_of: Vec<Option<u32>>,
    /// For each footprint and area: how wide (grown) the area's cell is in a bay as long as the footprint, [`NEVER`] if it
    /// can't be. Divisions are slow, and the search asks for these all the time.
    beside: Vec<i64>,
    /// Distinct widths of the footprints, ascending.
    pub widths: Vec<i64>,
    /// The narrowest lane that can hold anything.
    pub narrowest: i64,
}

/// A class with what the search wants to know of it.
#[derive(Debug, Clone, Copy)]
pub(super) struct ClassRow {
    pub count: u32,
    pub value: i64,
    pub must: bool,
    /// Least grown area of one copy over all halls; `None` if no shape fits anywhere.
    pub area: Option<i64>,
}

/// The whole problem in grown sizes.
#[derive(Debug)]
pub(super) struct Table {
    pub classes: Vec<ClassRow>,
    pub halls: Vec<HallTable>,
}

impl Table {
    pub fn new(problem: &LaneProblem) -> Self {
        let halls: Vec<HallTable> =
            problem.halls.iter().map(|hall| HallTable::new(hall, problem)).collect();
        let classes = problem
            .classes
            .iter()
            .enumerate()
            .map(|(index, class)| ClassRow {
                count: class.count,
                value: class.value.max(0),
                must: class.must,
                area: halls.iter().filter_map(|hall| hall.least_area(index, class.count)).min(),
            })
            .collect();
        Self { classes, halls }
    }

    /// Sum of the values of all copies that fit somewhere.
    pub fn all_values(&self) -> i64 {
        let worth = |class: &ClassRow| class.value.saturating_mul(i64::from(class.count));
        let useful = self.classes.iter().filter(|class| class.area.is_some());
        useful.map(worth).fold(0, i64::saturating_add)
    }
}

/// The widest a column of this hall, and so a lane, may be (inside width, not grown).
pub(super) fn widest_lane(hall: &Hall) -> i64 {
    let others = i64::from(hall.columns.max(1) - 1).saturating_mul(hall.least_column.max(0));
    let room = hall.width.saturating_sub(others);
    hall.most_column.map_or(room, |most| room.min(most))
}

/// Wider than any bay.
const NEVER: i64 = i64::MAX;

/// Rounds a quotient of positive numbers up.
pub(super) fn div_up(a: i64, b: i64) -> i64 {
    a / b + i64::from(a % b != 0)
}

impl HallTable {
    fn new(hall: &Hall, problem: &LaneProblem) -> Self {
        let divider = hall.divider.max(0);
        let columns = hall.columns.max(1);
        let widest = widest_lane(hall);
        let mut fixed = Vec::new();
        let mut loose = Vec::new();
        for (index, shape) in hall.shapes.iter().enumerate() {
            let wanted = problem.classes.get(shape.class).is_some_and(|class| class.count > 0);
            if !wanted || shape.copies == 0 {
                continue;
            }
            let (class, copies, spot) = (shape.class, shape.copies, shape.spot);
            if spot.column.is_some_and(|column| column >= columns) {
                continue;
            }
            match shape.form {
                Form::Fixed { width, length } => {
                    if width > 0 && length > 0 && width <= widest && length <= hall.length {
                        let (length, width) = (length + divider, width + divider);
                        let shape = index;
                        fixed.push(Fixed { length, width, class, copies, shape, spot, row: 0 });
                    }
                }
                Form::Area { area, least } => {
                    let (area, least) = (area.max(1), least.max(1));
                    let row = Loose { area, least, class, copies, shape: index, spot };
                    if row.length_at(widest).is_some_and(|length| length <= hall.length) {
                        loose.push(row);
                    }
                }
            }
        }
        fixed.sort_unstable();
        loose.sort_unstable();
        drop_dominated(&mut fixed);
        for (row, shape) in fixed.iter_mut().enumerate() {
            shape.row = row;
        }
        let mut of_class = vec![Vec::new(); problem.classes.len()];
        fixed.iter().for_each(|shape| of_class[shape.class].push(shape.row));
        let mut columns_of = vec![None; problem.classes.len()];
        let spots = fixed.iter().map(|shape| (shape.class, shape.spot));
        for (class, spot) in spots.chain(loose.iter().map(|shape| (shape.class, shape.spot))) {
            columns_of[class] = spot.column;
        }
        let beside = |shape: &Fixed, area: &Loose| {
            area.length_at(shape.length - divider).map_or(NEVER, |width| width + divider)
        };
        let pairs = fixed.iter().flat_map(|shape| loose.iter().map(move |area| (shape, area)));
        let beside = pairs.map(|(shape, area)| beside(shape, area)).collect();
        let mut widths: Vec<i64> = fixed.iter().map(|row| row.width).collect();
        widths.sort_unstable();
        widths.dedup();
        let least_loose = loose.iter().map(|row| row.least + divider).min();
        let narrowest = widths.first().copied().into_iter().chain(least_loose).min();
        Self {
            divider,
            length: hall.length.saturating_add(divider),
            width: hall.width.saturating_add(i64::from(columns).saturating_mul(divider)),
            columns: columns as usize,
            least: hall.least_column.max(0).saturating_add(divider),
            most: widest.saturating_add(divider),
            fixed,
            loose,
            of_class,
            columns_of,
            beside,
            widths,
            narrowest: narrowest.unwrap_or(i64::MAX),
        }
    }

    /// The footprints of a class, by length.
    pub fn fixed_of(&self, class: usize) -> impl Iterator<Item = &Fixed> {
        self.of_class[class].iter().map(|&row| &self.fixed[row])
    }

    /// The column that all shapes of a class are for, if they are for one.
    pub fn column_of(&self, class: usize) -> Option<u32> {
        self.columns_of[class]
    }

    /// The areas with how wide (grown) the cell of each is in a bay as long as a footprint.
    pub fn areas_beside(&self, shape: &Fixed) -> impl Iterator<Item = (&Loose, i64)> {
        let count = self.loose.len();
        let widths = &self.beside[shape.row * count..(shape.row + 1) * count];
        self.loose.iter().zip(widths).map(|(area, &width)| (area, width))
    }

    /// Grown area of the hall.
    pub fn area(&self) -> i128 {
        i128::from(self.length.max(0)) * i128::from(self.width.max(0))
    }

    /// Least grown area that one copy of a class with `count` copies takes here, rounded down.
    pub fn least_area(&self, class: usize, count: u32) -> Option<i64> {
        let shared = |copies: u32| i64::from(copies.min(count).max(1));
        let fixed = self.fixed.iter().filter(|row| row.class == class);
        let fixed = fixed.map(|row| row.width.saturating_mul(row.length) / shared(row.copies));
        let loose = self.loose.iter().filter(|row| row.class == class);
        let loose = loose.map(|row| row.grown_area(self.divider) / shared(row.copies));
        fixed.chain(loose).min()
    }
}

impl Loose {
    /// Length of its cell when the cell is `width` wide; `None` if that is too narrow.
    pub fn length_at(&self, width: i64) -> Option<i64> {
        (width >= self.least).then(|| div_up(self.area, width).max(self.least))
    }

    /// Lower bound on the grown area of its cell: `(w + d)(l + d) = wl + d(w + l) + d²`, and
    /// `w + l ≥ 2 √(wl)`.
    pub fn grown_area(&self, divider: i64) -> i64 {
        let area = self.area.max(self.least.saturating_mul(self.least));
        let sides = area.saturating_mul(4).isqrt();
        area.saturating_add(divider.saturating_mul(sides)).saturating_add(divider * divider)
    }
}

/// Drops footprints beside which another of the same class holds as many copies in no more room.
fn drop_dominated(fixed: &mut Vec<Fixed>) {
    let mut kept: Vec<Fixed> = Vec::with_capacity(fixed.len());
    for row in fixed.iter() {
        let beats = |other: &&Fixed| {
            other.class == row.class && other.copies >= row.copies && other.width <= row.width
        };
        // Sorted by length: whatever was kept is no longer than this row. Of equal length, a
        // narrower one comes first, and a fuller one of the same size is caught below.
        let fuller = |other: &&Fixed| {
            other.class == row.class
                && (other.length, other.width) == (row.length, row.width)
                && other.copies > row.copies
        };
        if kept.iter().find(beats).is_none() && fixed.iter().find(fuller).is_none() {
            kept.push(*row);
        }
    }
    *fixed = kept;
}
