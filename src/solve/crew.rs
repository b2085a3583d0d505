//! Workers side by side. The one place that knows of threads.

use rayon::ThreadPool;
use rayon::ThreadPoolBuilder;
use rayon::prelude::*;

/// More workers than this are of no use, and tens of thousands bring a machine down.
const MOST: usize = 256;

/// Workers that map lists in order.
#[derive(Debug)]
pub struct Crew {
    pool: Option<ThreadPool>,
}

impl Crew {
    /// `threads` workers, 0 for as many as there are cores, at most [`MOST`]. Where no threads can be had, the caller's does it all.
    pub fn new(threads: usize) -> Self {
        Self { pool: ThreadPoolBuilder::new().num_threads(threads.min(MOST)).build().ok() }
    }

    /// Applies `work` to every item. The results come in the items' order and, as no item sees another's, do not depend on
    /// the number of workers.
    pub fn map<T: Sync, R: Send>(&self, items: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
        match &self.pool {
            Some(pool) => pool.install(|| items.par_iter().map(&work).collect()),
            None => items.iter().map(work).collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_come_in_order_whatever_the_number_of_workers() {
        let items: Vec<u64> = (0..1000).collect();
        let one = Crew::new(1).map(&items, |n| n * n);
        let four = Crew::new(4).map(&items, |n| n * n);
        assert_eq!(one, four);
        assert_eq!(one[999], 998_001);
        let crew = Crew::new(65_535);
        assert!(crew.pool.as_ref().is_none_or(|pool| pool.current_num_threads() <= MOST));
        assert_eq!(crew.map(&items, |n| n * n), one);
    }
}
