//! Which lane goes to which column, and how wide the columns become.

/// What the columns of a hall must keep to; sizes are not grown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limits {
    /// Thickness of the divider between two lanes of a column.
    pub divider: i64,
    /// Number of columns, at least one.
    pub columns: usize,
    /// Sum of the columns' widths.
    pub width: i64,
    /// A column is at least this wide.
    pub least: i64,
    /// A column is at most this wide.
    pub most: i64,
}

/// What lanes weigh, and what a column should carry at most.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Loads<'a> {
    /// Of each lane, not negative.
    pub lanes: &'a [i64],
    /// What a column should carry at most.
    pub most: i64,
}

/// How far an assignment is from what is wanted, worst first.
type Cost = (i64, i64, i64, i64, i128);

/// Assignments of all lanes that are tried out one by one.
const ENUMERATE: usize = 1 << 12;

impl Limits {
    /// Width that lanes of these widths take in one column, dividers included.
    pub fn content(&self, lanes: impl Iterator<Item = i64>) -> i64 {
        let grown: i64 = lanes.map(|width| width + self.divider).sum();
        (grown - self.divider).max(0)
    }

    fn contents(&self, widths: &[i64], columns: &[usize]) -> Vec<i64> {
        let mut contents = vec![-self.divider; self.columns];
        for (width, column) in widths.iter().zip(columns) {
            contents[*column] += width + self.divider;
        }
        contents.iter().map(|content| (*content).max(0)).collect()
    }

    /// What the column that carries most carries beyond what it should.
    fn overload(&self, loads: Option<Loads<'_>>, columns: &[usize]) -> i64 {
        let Some(Loads { lanes, most }) = loads else { return 0 };
        let mut carried = vec![0i64; self.columns];
        for (load, column) in lanes.iter().zip(columns) {
            carried[*column] = carried[*column].saturating_add(*load);
        }
        carried.iter().map(|load| load.saturating_sub(most)).fold(0, i64::max)
    }

    /// Width by which contents exceed what there is.
    fn overflow(&self, contents: &[i64]) -> i64 {
        let above: i64 = contents.iter().map(|content| (content - self.most).max(0)).sum();
        let needed: i64 = contents.iter().map(|content| (*content).max(self.least)).sum();
        above + (needed - self.width).max(0)
    }

    /// Hands the whole width out to columns with these contents, as evenly as they allow.
    ///
    /// Every column gets the larger of its content, the least width and a common level, and none
    /// more than the most width; units that do not divide go to the first columns at the level.
    pub fn hand_out(&self, contents: &[i64]) -> Vec<i64> {
        let at = |level: i64| -> Vec<i64> {
            contents.iter().map(|c| (*c).max(self.least).max(level.min(self.most))).collect()
        };
        let (mut low, mut high) = (0, self.width.max(0));
        while low < high {
            let middle = low + (high - low + 1) / 2;
            if at(middle).iter().sum::<i64>() <= self.width {
                low = middle
            } else {
                high = middle - 1
            }
        }
        let mut widths = at(low);
        let mut rest = self.width - widths.iter().sum::<i64>();
        for width in widths.iter_mut() {
            if rest > 0 && *width == low && *width < self.most {
                *width += 1;
                rest -= 1;
            }
        }
        widths
    }
}

/// Assigns lanes to columns: the index of its column for each lane, or `None` if no way was found
/// to keep the columns within their limits.
///
/// `columns` says for each lane which column it has to stand in, if it has to in one. Wanted, in this order: the least
/// load of any column beyond what it should carry, the least sum of `affinity` between lanes in different columns, the least width by
/// which columns exceed an equal share, the most even contents. Tries every assignment when there are at most 4096,
/// otherwise the longest lane first into the emptiest column, then moves and swaps while they help.
pub fn share_out(
    widths: &[i64],
    columns: &[Option<u32>],
    limits: &Limits,
    loads: Option<Loads<'_>>,
    affinity: &dyn Fn(usize, usize) -> i64,
) -> Option<Vec<usize>> {
    // Widest first, so that the answer does not hang on the order the lanes came in.
    let mut order: Vec<usize> = (0..widths.len()).collect();
    order.sort_by_key(|&lane| (std::cmp::Reverse(widths[lane]), lane));
    let sorted: Vec<i64> = order.iter().map(|&lane| widths[lane]).collect();
    let held: Vec<Option<usize>> =
        order.iter().map(|&lane| columns[lane].map(|column| column as usize)).collect();
    let heavy: Vec<i64> = match loads {
        Some(loads) => order.iter().map(|&lane| loads.lanes[lane]).collect(),
        None => Vec::new(),
    };
    let loads = loads.map(|loads| Loads { lanes: &heavy, ..loads });
    let near = |one: usize, other: usize| affinity(order[one], order[other]);
    let found = share_sorted(&sorted, &held, limits, loads, &near)?;
    let mut columns = vec![0; widths.len()];
    for (lane, column) in order.into_iter().zip(found) {
        columns[lane] = column;
    }
    Some(columns)
}

fn share_sorted(
    widths: &[i64],
    held: &[Option<usize>],
    limits: &Limits,
    loads: Option<Loads<'_>>,
    affinity: &dyn Fn(usize, usize) -> i64,
) -> Option<Vec<usize>> {
    let cost = |columns: &[usize]| -> Cost {
        let contents = limits.contents(widths, columns);
        let mut broken = 0;
        for one in 0..widths.len() {
            for other in 0..one {
                if columns[one] != columns[other] {
                    broken += affinity(one, other);
                }
            }
        }
        let share = limits.width / limits.columns as i64;
        let excess = contents.iter().map(|content| (content - share).max(0)).sum();
        let squares = contents.iter().map(|content| i128::from(*content).pow(2)).sum();
        (limits.overflow(&contents), limits.overload(loads, columns), broken, excess, squares)
    };
    let free: Vec<usize> = (0..widths.len()).filter(|&lane| held[lane].is_none()).collect();
    let ways = limits.columns.checked_pow(free.len() as u32);
    let first = longest_first(widths, held, limits);
    let best = if ways.is_some_and(|ways| ways <= ENUMERATE) {
        enumerate(first, &free, limits.columns, &cost)
    } else {
        improve(first, &free, limits.columns, &cost)
    };
    (cost(&best).0 == 0).then_some(best)
}

/// Whether a way was found to keep lanes of these widths within the limits.
pub(super) fn can_share_out(widths: &[i64], columns: &[Option<u32>], limits: &Limits) -> bool {
    let held: Vec<Option<usize>> =
        columns.iter().map(|column| column.map(|column| column as usize)).collect();
    let first = longest_first(widths, &held, limits);
    limits.overflow(&limits.contents(widths, &first)) == 0
        || share_out(widths, columns, limits, None, &|_, _| 0).is_some()
}

/// Those held where they are, then the longest lane first into the emptiest column.
fn longest_first(widths: &[i64], held: &[Option<usize>], limits: &Limits) -> Vec<usize> {
    let mut order: Vec<usize> = (0..widths.len()).collect();
    order.sort_by_key(|&lane| (held[lane].is_none(), std::cmp::Reverse(widths[lane]), lane));
    let mut contents = vec![0i64; limits.columns];
    let mut columns = vec![0; widths.len()];
    for lane in order {
        let emptiest = (0..limits.columns).min_by_key(|&column| (contents[column], column));
        columns[lane] = held[lane].or(emptiest).unwrap_or(0);
        contents[columns[lane]] += widths[lane] + limits.divider;
    }
    columns
}

/// The best of all ways to share the free lanes out, the others staying where they are in `current`.
fn enumerate(
    mut current: Vec<usize>,
    free: &[usize],
    columns: usize,
    cost: &dyn Fn(&[usize]) -> Cost,
) -> Vec<usize> {
    // The last lane stays in the first column if columns are alike, which they are as long as none holds a lane.
    let alike = free.len() == current.len();
    let turning = if alike { free.len().saturating_sub(1) } else { free.len() };
    free.iter().for_each(|&lane| current[lane] = 0);
    let mut best = current.clone();
    let mut least = cost(&best);
    loop {
        // Count up in base `columns`.
        let Some(digit) = (0..turning).find(|&digit| current[free[digit]] + 1 < columns) else {
            return best;
        };
        free[..digit].iter().for_each(|&lane| current[lane] = 0);
        current[free[digit]] += 1;
        let this = cost(&current);
        if this < least {
            least = this;
            best.clone_from(&current);
        }
    }
}

fn improve(
    mut best: Vec<usize>,
    free: &[usize],
    columns: usize,
    cost: &dyn Fn(&[usize]) -> Cost,
) -> Vec<usize> {
    let mut least = cost(&best);
    loop {
        let mut better = None;
        let mut consider = |columns: Vec<usize>, least: &mut Cost| {
            let this = cost(&columns);
            if this < *least {
                *least = this;
                better = Some(columns);
            }
        };
        for (at, &one) in free.iter().enumerate() {
            for column in 0..columns {
                let mut moved = best.clone();
                moved[one] = column;
                consider(moved, &mut least);
            }
            for &other in &free[..at] {
                let mut swapped = best.clone();
                swapped.swap(one, other);
                consider(swapped, &mut least);
            }
        }
        match better {
            Some(columns) => best = columns,
            None => return best,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn limits(columns: usize, width: i64, least: i64, most: i64) -> Limits {
        Limits { divider: 2, columns, width, least, most }
    }

    #[test]
    fn lanes_are_shared_out_evenly() {
        let limits = limits(2, 100, 10, 100);
        let columns =
            share_out(&[30, 20, 20, 8], &[None; 4], &limits, None, &|_, _| 0).expect("fits");
        let contents = limits.contents(&[30, 20, 20, 8], &columns);
        assert_eq!(contents, [40, 42], "30 + 2 + 8 with the narrowest, 20 + 2 + 20");
        assert_eq!(limits.hand_out(&contents), [50, 50]);
    }

    #[test]
    fn affinity_outweighs_evenness() {
        let together = |one: usize, other: usize| i64::from(one + other == 1);
        let columns =
            share_out(&[30, 30, 10], &[None; 3], &limits(2, 100, 10, 100), None, &together)
                .expect("fits");
        assert_eq!(columns[0], columns[1]);
        assert_ne!(columns[0], columns[2]);
    }

    #[test]
    fn what_a_column_should_carry_outweighs_affinity() {
        let together = |one: usize, other: usize| i64::from(one + other == 1);
        let limits = limits(2, 100, 10, 100);
        let shared = |most: i64| {
            let loads = Loads { lanes: &[60, 50, 10], most };
            share_out(&[30, 30, 10], &[None; 3], &limits, Some(loads), &together).expect("fits")
        };
        let (light, heavy) = (shared(200), shared(70));
        assert_eq!(light[0], light[1], "one column carries all of them");
        assert_ne!(heavy[0], heavy[1], "60 and 10 in one, 50 in the other");
        // Where no assignment keeps to it, the least beyond it, and never a column too wide for it.
        assert_ne!(shared(1)[0], shared(1)[1]);
    }

    #[test]
    fn a_column_is_never_too_wide() {
        // 30 + 2 + 30 in one column would be 62.
        let shared = |widths: &[i64], limits: Limits| {
            share_out(widths, &vec![None; widths.len()], &limits, None, &|_, _| 0)
        };
        assert!(shared(&[30, 30, 30], limits(2, 120, 10, 60)).is_none());
        assert!(shared(&[30, 30, 30], limits(2, 120, 10, 62)).is_some());
        // An empty column still takes its least width.
        assert!(shared(&[95], limits(2, 100, 10, 100)).is_none());
        assert_eq!(limits(2, 100, 10, 100).hand_out(&[90, 0]), [90, 10]);
        assert_eq!(limits(3, 100, 10, 100).hand_out(&[50, 0, 7]), [50, 25, 25]);
        assert_eq!(limits(3, 100, 10, 40).hand_out(&[0, 0, 0]), [34, 33, 33]);
    }

    #[test]
    fn a_lane_stands_in_the_column_that_it_is_for() {
        let limits = limits(3, 120, 10, 120);
        for held in 0..3 {
            let columns = [None, Some(held), None, Some(2)];
            let found =
                share_out(&[30, 20, 20, 8], &columns, &limits, None, &|_, _| 0).expect("fits");
            assert_eq!((found[1], found[3]), (held as usize, 2));
        }
        // All four in the first column take 84 and leave 36 for two of 10.
        let found = share_out(&[30, 20, 20, 8], &[Some(0); 4], &limits, None, &|_, _| 0);
        assert_eq!(found, Some(vec![0; 4]));
        assert!(!can_share_out(&[60, 60], &[Some(1); 2], &limits));
        assert!(can_share_out(&[49, 49], &[Some(1); 2], &limits));
    }
}
