//! The least price of whole sheets that hold enough, whichever way that is measured.
//!
//! A measure values each part, and each sheet at no less than any parts on it are worth together. So sheets that yield all
//! parts are worth at least what these are, by every measure at once:
//!
//! ```text
//! min  Σ p_s n_s    s.t.  Σ_s c_ks n_s ≥ V_k  for each measure k,   0 ≤ n_s ≤ L_s,  n_s whole
//! ```
//!
//! Rates of price per worth bound this from below with fractions of sheets; where sheets of several sizes are to be had, whole
//! ones often cost a step more. It is searched depth first, size by size, the cheapest for their area first.

use super::job::Job;

/// What sheets and parts are worth in one way.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Measure {
    /// What one of each of the job's sheets is worth; 0 or more.
    pub sheets: Vec<i64>,
    /// What all parts are worth together.
    pub parts: i64,
}

/// Nodes of a search, at most.
const NODES: usize = 100_000;

/// The least price, a multiple of `step`, of sheets that are worth enough by all measures; `None` if that is not found
/// out, or if there are no such sheets.
pub(super) fn least(job: &Job, measures: &[Measure], step: i64) -> Option<i64> {
    let worth = |s: usize, m: &Measure| i128::from(m.sheets[s]);
    // What costs nothing is taken.
    let (free, sold): (Vec<usize>, Vec<usize>) =
        (0..job.sheets.len()).partition(|s| job.sheets[*s].price == 0);
    let lacking = |m: &Measure| {
        let there = free.iter().map(|s| worth(*s, m) * i128::from(job.sheets[*s].limit));
        i128::from(m.parts) - there.sum::<i128>()
    };
    let area = |s: usize| job.sheets[s].size.map(i128::from).iter().product::<i128>();
    let unit = (0..job.sheets.len()).map(area).max().unwrap_or(0) / (1 << 60) + 1;
    let mut order = sold;
    order.sort_by(|a, b| {
        let rate = |x: usize, y: usize| i128::from(job.sheets[x].price) * (area(y) / unit);
        rate(*a, *b).cmp(&rate(*b, *a)).then(a.cmp(b))
    });
    let sizes = order.iter().map(|s| Size {
        price: i128::from(job.sheets[*s].price),
        most: i128::from(job.sheets[*s].limit),
        worth: measures.iter().map(|m| worth(*s, m)).collect(),
    });
    let mut search = Search::new(sizes.collect(), measures.len(), i128::from(step.max(1)));
    search.go(0, 0, measures.iter().map(lacking).collect());
    (search.left > 0).then_some(search.best).flatten().and_then(|best| i64::try_from(best).ok())
}

/// A size of sheet that costs something.
struct Size {
    price: i128,
    most: i128,
    /// By measure.
    worth: Vec<i128>,
}

struct Search {
    sizes: Vec<Size>,
    /// For each place in the list and each measure, price and worth of the size from there on that is the cheapest by it.
    rates: Vec<Vec<Option<(i128, i128)>>>,
    /// All prices are multiples of this.
    step: i128,
    best: Option<i128>,
    /// Nodes that may still be looked at.
    left: usize,
}

impl Search {
    fn new(sizes: Vec<Size>, measures: usize, step: i128) -> Self {
        let cheapest = |from: usize, k: usize| {
            let some = sizes[from..].iter().filter(|s| s.worth[k] > 0);
            some.map(|s| (s.price, s.worth[k])).min_by(|a, b| (a.0 * b.1).cmp(&(b.0 * a.1)))
        };
        let rates = (0..=sizes.len())
            .map(|from| (0..measures).map(|k| cheapest(from, k)).collect())
            .collect();
        Self { sizes, rates, step, best: None, left: NODES }
    }

    /// Sizes from `at` on for what is still lacking, after so much was paid.
    fn go(&mut self, at: usize, paid: i128, lacking: Vec<i128>) {
        self.left = self.left.saturating_sub(1);
        if self.left == 0 {
            return;
        }
        let mut least = paid;
        for (lacks, rate) in lacking.iter().zip(&self.rates[at]).filter(|(lacks, _)| **lacks > 0) {
            let Some((price, worth)) = rate else { return };
            least = least.max(paid + (lacks * price + worth - 1) / worth);
        }
        let least = (least + self.step - 1) / self.step * self.step;
        if self.best.is_some_and(|best| least >= best) {
            return;
        }
        if lacking.iter().all(|lacks| *lacks <= 0) {
            self.best = Some(paid);
            return;
        }
        let Some(size) = self.sizes.get(at) else { return };
        let needed =
            lacking.iter().zip(&size.worth).filter(|(lacks, worth)| **lacks > 0 && **worth > 0);
        let needed = needed.map(|(lacks, worth)| (lacks + worth - 1) / worth).max().unwrap_or(0);
        for n in (0..=needed.min(size.most)).rev() {
            let size = &self.sizes[at];
            let rest =
                lacking.iter().zip(&size.worth).map(|(lacks, worth)| lacks - n * worth).collect();
            self.go(at + 1, paid + n * size.price, rest);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::rng::Rng;
    use super::super::{Edges, Sheet, SheetPart, SheetProblem, Stages};
    use super::*;

    /// A job with sheets of given price and limit, all of a size.
    fn job(sheets: &[(i64, u32)]) -> Job {
        let problem = SheetProblem {
            kerf: 0,
            sheets: vec![Sheet { width: 9, height: 9, price: 1, limit: None }],
            parts: vec![SheetPart { width: 5, height: 5, count: 20, turn: true }],
            keep: (1, 1),
            stages: Stages::ANY,
        };
        let mut job = Job::new(&problem, &Edges::default()).expect("it is one");
        let one = job.sheets[0].clone();
        let with = |&(price, limit): &(i64, u32)| super::super::job::JobSheet {
            price,
            limit,
            ..one.clone()
        };
        job.sheets = sheets.iter().map(with).collect();
        job
    }

    #[test]
    fn the_cheapest_sheets_are_those_that_trying_all_numbers_finds() {
        let mut rng = Rng::new(4);
        let mut between = |lo: i64, hi: i64| lo + rng.below((hi - lo + 1) as usize) as i64;
        let (mut none, mut several) = (0, 0);
        for _ in 0..2000 {
            let stock: Vec<(i64, u32)> =
                (0..between(1, 4)).map(|_| (between(0, 9), between(1, 4) as u32)).collect();
            let measures: Vec<Measure> = (0..between(1, 3))
                .map(|_| Measure {
                    sheets: stock.iter().map(|_| between(0, 9)).collect(),
                    parts: between(0, 30),
                })
                .collect();
            let mut numbers = vec![vec![]];
            for (_, limit) in &stock {
                let longer = numbers.iter().flat_map(|n: &Vec<i64>| {
                    (0..=i64::from(*limit)).map(|more| [n.as_slice(), &[more]].concat())
                });
                numbers = longer.collect();
            }
            let enough = |n: &&Vec<i64>| {
                measures.iter().all(|m| {
                    m.sheets.iter().zip(n.iter()).map(|(c, n)| c * n).sum::<i64>() >= m.parts
                })
            };
            let price =
                |n: &Vec<i64>| stock.iter().zip(n).map(|((price, _), n)| price * n).sum::<i64>();
            let truth = numbers.iter().filter(enough).map(price).min();
            assert_eq!(least(&job(&stock), &measures, 1), truth, "{stock:?} {measures:?}");
            none += usize::from(truth.is_none());
            several += usize::from(truth.is_some_and(|price| price > 9));
        }
        assert!(none > 100 && several > 300, "{none} {several}");
    }
}
