//! Rank-1 cuts over the rows of pieces.
//!
//! For whole `x`, from `sum a_ip x_p >= d_i` and any weights `m_i / q >= 0` follows
//!
//! ```text
//! sum over p of ceil(sum m_i a_ip / q) x_p  >=  ceil(sum m_i d_i / q)
//! ```
//!
//! (Chvatal, Discrete Math. 4:305-337, 1973; Gomory 1958; three rows by halves are the subset-row
//! cuts of Jepsen, Petersen, Spoorendonk & Pisinger, Oper. Res. 56:497-511, 2008, there for
//! packing.) All in whole numbers: a cut is as good a row as any, for the bound's proof too.

use std::collections::{BTreeMap, BTreeSet};

/// A cut: weights in units of `1 / den`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Cut {
    pub den: u32,
    /// (piece, numerator), pieces ascending.
    pub weights: Vec<(usize, u32)>,
}

impl Cut {
    /// The right side for some demands.
    pub fn rhs(&self, demand: &[u32]) -> u32 {
        let sum: u64 = self.weights.iter().map(|&(i, m)| u64::from(m) * u64::from(demand[i])).sum();
        u32::try_from(sum.div_ceil(u64::from(self.den))).unwrap_or(u32::MAX)
    }

    /// The coefficient of a pattern.
    pub fn of(&self, counts: &[(usize, u32)]) -> u32 {
        let sum: u64 = (counts.iter())
            .filter_map(|&(i, n)| {
                let at = self.weights.binary_search_by_key(&i, |w| w.0).ok()?;
                Some(u64::from(self.weights[at].1) * u64::from(n))
            })
            .sum();
        u32::try_from(sum.div_ceil(u64::from(self.den))).unwrap_or(u32::MAX)
    }
}

/// What an LP violates by less than this is not worth a row.
const LEAST_VIOLATION: f64 = 0.01;

/// A pattern of the LP with its use.
pub(super) type Use = (Vec<(usize, u32)>, f64);

/// The most violated cuts of one and of three rows by halves, and of four and five rows by thirds
/// and halves grown from those; at most `most`.
pub(super) fn separate(
    uses: &[Use],
    demand: &[u32],
    known: &BTreeSet<Cut>,
    most: usize,
) -> Vec<Cut> {
    let mut holders: Vec<Vec<(usize, u32)>> = vec![Vec::new(); demand.len()];
    let mut neighbours: BTreeMap<usize, BTreeSet<usize>> = BTreeMap::new();
    for (p, (counts, _)) in uses.iter().enumerate() {
        for &(i, n) in counts {
            holders[i].push((p, n));
            let others = counts.iter().map(|c| c.0).filter(|&j| j != i);
            neighbours.entry(i).or_default().extend(others);
        }
    }
    let separation = Separation { uses, demand, holders: &holders, neighbours: &neighbours };
    let mut found = separation.small();
    let seeds: Vec<(f64, Cut)> = found.iter().take(40).cloned().collect();
    for (_, seed) in seeds {
        found.extend(separation.grown(&seed));
    }
    found.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
    found.dedup();
    let mut kept: Vec<Cut> = Vec::new();
    let mut used = vec![0u32; demand.len()];
    for (_, cut) in found {
        // Cuts that share most rows say much the same.
        let fresh = cut.weights.iter().any(|&(i, _)| used[i] < 4);
        if kept.len() < most && fresh && !known.contains(&cut) {
            cut.weights.iter().for_each(|&(i, _)| used[i] += 1);
            kept.push(cut);
        }
    }
    kept
}

struct Separation<'a> {
    uses: &'a [Use],
    demand: &'a [u32],
    /// (use, count) that hold each piece.
    holders: &'a [Vec<(usize, u32)>],
    /// Pieces that share a pattern.
    neighbours: &'a BTreeMap<usize, BTreeSet<usize>>,
}

impl Separation<'_> {
    /// By how much the LP falls short of a cut.
    fn violation(&self, cut: &Cut) -> f64 {
        let mut sums: BTreeMap<usize, u32> = BTreeMap::new();
        for &(i, m) in &cut.weights {
            for &(p, n) in &self.holders[i] {
                *sums.entry(p).or_insert(0) += m * n;
            }
        }
        let left: f64 =
            sums.iter().map(|(&p, &s)| f64::from(s.div_ceil(cut.den)) * self.uses[p].1).sum();
        f64::from(cut.rhs(self.demand)) - left
    }

    /// Cuts of one and three rows by halves.
    fn small(&self) -> Vec<(f64, Cut)> {
        let mut tried: BTreeSet<Vec<usize>> = BTreeSet::new();
        for (&i, near) in self.neighbours {
            tried.insert(vec![i]);
            let near: Vec<usize> = near.iter().copied().collect();
            for (at, &j) in near.iter().enumerate() {
                for &k in &near[at + 1..] {
                    let mut rows = vec![i, j, k];
                    rows.sort_unstable();
                    tried.insert(rows);
                }
            }
        }
        let odd = |rows: &Vec<usize>| rows.iter().map(|&i| self.demand[i]).sum::<u32>() % 2 == 1;
        let halves =
            |rows: Vec<usize>| Cut { den: 2, weights: rows.into_iter().map(|i| (i, 1)).collect() };
        let mut found: Vec<(f64, Cut)> = (tried.into_iter())
            .filter(odd)
            .map(halves)
            .map(|cut| (self.violation(&cut), cut))
            .filter(|f| f.0 > LEAST_VIOLATION)
            .collect();
        found.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
        found
    }

    /// A cut of three rows grown by one and by two more, weights (2 1 1 1)/3 and halves.
    fn grown(&self, seed: &Cut) -> Vec<(f64, Cut)> {
        let rows: Vec<usize> = seed.weights.iter().map(|w| w.0).collect();
        let near: BTreeSet<usize> =
            rows.iter().filter_map(|i| self.neighbours.get(i)).flatten().copied().collect();
        let mut found = Vec::new();
        let mut best: Option<(f64, usize)> = None;
        for &more in near.iter().filter(|i| !rows.contains(i)) {
            let mut four = rows.clone();
            four.push(more);
            four.sort_unstable();
            for &heavy in &four {
                let weights = four.iter().map(|&i| (i, 1 + u32::from(i == heavy))).collect();
                let cut = Cut { den: 3, weights };
                let violation = self.violation(&cut);
                if violation > LEAST_VIOLATION {
                    found.push((violation, cut));
                }
                if best.is_none_or(|b| violation > b.0) {
                    best = Some((violation, more));
                }
            }
        }
        let Some((_, fourth)) = best else { return found };
        for &fifth in near.iter().filter(|i| !rows.contains(i) && **i != fourth) {
            let mut five = rows.clone();
            five.extend([fourth, fifth]);
            five.sort_unstable();
            for den in [2, 3] {
                let cut = Cut { den, weights: five.iter().map(|&i| (i, 1)).collect() };
                let violation = self.violation(&cut);
                if violation > LEAST_VIOLATION {
                    found.push((violation, cut));
                }
            }
        }
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_halves_are_cut_off() {
        let pair = |i, j| (vec![(i, 1), (j, 1)], 0.5);
        let uses = [pair(0, 1), pair(1, 2), pair(0, 2), (vec![(3, 1)], 1.0)];
        let cuts = separate(&uses, &[1; 4], &BTreeSet::new(), 10);
        let triangle = Cut { den: 2, weights: vec![(0, 1), (1, 1), (2, 1)] };
        assert_eq!(cuts.first(), Some(&triangle));
        assert_eq!(
            (triangle.rhs(&[1; 4]), triangle.of(&uses[0].0), triangle.of(&uses[3].0)),
            (2, 1, 0)
        );
    }

    /// No cut excludes a whole covering: random ones are tried.
    #[test]
    fn whole_plans_satisfy_every_cut() {
        let mut state = 3u64;
        let mut next = |most: u64| {
            state = state.wrapping_mul(0x5851_f42d_4c95_7f2d).wrapping_add(1);
            (state >> 33) % most
        };
        for _ in 0..3000 {
            let patterns: Vec<(Vec<(usize, u32)>, u32)> = (0..1 + next(5))
                .map(|_| {
                    let counts = (0..4).map(|i| (i, next(3) as u32)).filter(|c| c.1 > 0).collect();
                    (counts, next(3) as u32)
                })
                .collect();
            let mut demand = [0u32; 4];
            for (counts, times) in &patterns {
                counts.iter().for_each(|&(i, n)| demand[i] += n * times);
            }
            demand.iter_mut().for_each(|d| *d = d.saturating_sub(next(2) as u32));
            let den = 2 + next(4) as u32;
            let weights = (0..4).map(|i| (i, next(u64::from(den)) as u32)).collect();
            let cut = Cut { den, weights };
            let left: u32 = patterns.iter().map(|(counts, times)| cut.of(counts) * times).sum();
            assert!(left >= cut.rhs(&demand), "{cut:?} {patterns:?} {demand:?}");
        }
    }
}
