//! Complete search over a list of patterns that holds all that a cheaper plan could use.
//!
//! The LP over the list takes its columns in as they turn out to be needed. Cuts ([`super::cuts`])
//! lift its bound, and after each round every pattern whose reduced price passes what is left up
//! to the best plan is struck off the list. What then remains open is searched: branch on the
//! piece that fewest patterns hold, "one bar of this pattern" against "no more of it" (choosing
//! the piece with fewest ways as in exact cover, Knuth 2000).

use std::collections::BTreeSet;

use super::bound::{Certificate, certify};
use super::cuts::{Cut, separate};
use super::greedy::Rest;
use super::model::{Model, Pattern, Plan};
use super::search::Search;
use super::simplex::{Row, Simplex};
use crate::solve::budget::Budget;

/// Columns that the LP takes in at a time.
const AT_ONCE: usize = 30;

/// Cuts added at a time, and in all.
const CUTS_AT_ONCE: usize = 25;
const MOST_CUTS: usize = 250;

/// Rounds of cuts that lift the bound by less than this share of what is missing, in a row, end
/// them.
const LEAST_LIFT: f64 = 0.02;

/// Deeper than this no search goes: a frame per bar.
const MOST_DEPTH: usize = 300;

/// Weights' sum over a pattern stays below this.
const FINE: f64 = (1u64 << 40) as f64;

/// Looks at every plan that the patterns of the list allow within `part`, or proves it no cheaper
/// than the best; `false` if `nodes` or the budget did not suffice.
pub(super) fn explore(
    search: &mut Search,
    part: &Model,
    patterns: Vec<Pattern>,
    nodes: u64,
    budget: &mut Budget,
) -> bool {
    let mut tree = Tree::new(search, part, patterns, nodes, budget);
    let rest = Rest::all(part);
    let mut node = Node { alive: (0..tree.list.patterns.len()).collect(), cuts: Vec::new(), rest };
    match tree.cut(&mut node) {
        Some(uses) => tree.explore(node, Some(uses), Plan::default(), 0),
        None => true,
    }
}

/// Patterns with what the cuts make of them.
struct List {
    patterns: Vec<Pattern>,
    /// (cut, coefficient) of each pattern.
    cuts: Vec<Vec<(usize, u32)>>,
}

/// What is left to do at a node.
#[derive(Debug, Clone)]
struct Node {
    rest: Rest,
    /// Right sides of the cuts.
    cuts: Vec<u32>,
    /// Patterns that may still be used.
    alive: Vec<usize>,
}

struct Tree<'a, 'w> {
    search: &'a mut Search<'w>,
    budget: &'a mut Budget,
    /// The problem; kinds' limits and leasts are those of the node at hand.
    part: Model,
    list: List,
    rows: Vec<Cut>,
    program: Simplex,
    /// The pattern of each column, and whether each pattern is one.
    columns: Vec<usize>,
    active: Vec<bool>,
    /// Row of the first kind's least, its limit, and so on; and of the first cut.
    kinds_at: usize,
    cuts_at: usize,
    scale: f64,
    penalty: f64,
    nodes: u64,
}

/// The use of each pattern that is used.
type Uses = Vec<(usize, f64)>;

impl<'a, 'w> Tree<'a, 'w> {
    fn new(
        search: &'a mut Search<'w>,
        part: &Model,
        patterns: Vec<Pattern>,
        nodes: u64,
        budget: &'a mut Budget,
    ) -> Self {
        let scale = part.kinds.iter().map(|k| k.price as f64).fold(1.0, f64::max);
        let penalty = (part.penalty as f64).min(scale * 1e4);
        let cover = Row { covers: true, rhs: 0.0, penalty };
        let mut rows = vec![cover; part.pieces.len()];
        for _ in part.kinds.iter().filter(|k| k.only.is_none()) {
            rows.extend([cover, Row { covers: false, ..cover }]);
        }
        Self {
            search,
            budget,
            part: part.clone(),
            active: vec![false; patterns.len()],
            list: List { cuts: vec![Vec::new(); patterns.len()], patterns },
            rows: Vec::new(),
            kinds_at: part.pieces.len(),
            cuts_at: rows.len(),
            program: Simplex::new(rows),
            columns: Vec::new(),
            scale,
            penalty,
            nodes,
        }
    }

    /// Cuts at the root until nothing cheaper is left (`None`) or they lift no more.
    fn cut(&mut self, node: &mut Node) -> Option<Uses> {
        let mut known: BTreeSet<Cut> = BTreeSet::new();
        let mut patience = 3;
        loop {
            let (uses, objective) = self.bound(node, 0)?;
            let target = self.search.price()? as f64 - self.part.price_step() as f64;
            if self.budget.stopped().is_some() || known.len() >= MOST_CUTS || patience == 0 {
                return Some(uses);
            }
            let before: Vec<(Vec<(usize, u32)>, f64)> =
                uses.iter().map(|&(p, x)| (self.list.patterns[p].counts.clone(), x)).collect();
            self.budget.spend(2_000 * before.len() as u64);
            let new = separate(&before, &node.rest.demand, &known, CUTS_AT_ONCE);
            if new.is_empty() {
                return Some(uses);
            }
            known.extend(new.iter().cloned());
            self.add_cuts(node, new);
            self.solve(node);
            let lift = self.program.objective() - objective;
            let missing = (target - objective).max(0.02 * self.scale);
            patience = if lift < LEAST_LIFT * missing { patience - 1 } else { 3 };
        }
    }

    fn add_cuts(&mut self, node: &mut Node, new: Vec<Cut>) {
        let first = self.rows.len();
        for &p in &node.alive {
            let counts = &self.list.patterns[p].counts;
            let entries = new.iter().enumerate().map(|(k, cut)| (first + k, cut.of(counts)));
            self.list.cuts[p].extend(entries.filter(|e| e.1 > 0));
        }
        self.budget.spend((node.alive.len() * new.len()) as u64);
        node.cuts.extend(new.iter().map(|cut| cut.rhs(&node.rest.demand)));
        let row = Row { covers: true, rhs: 0.0, penalty: self.penalty };
        let (columns, list) = (&self.columns, &self.list);
        self.program.extend(&vec![row; new.len()], |k, column| {
            f64::from(new[k].of(&list.patterns[columns[column]].counts))
        });
        self.rows.extend(new);
    }

    /// Whether every plan within `node` has been looked at or proved no cheaper.
    fn explore(&mut self, mut node: Node, known: Option<Uses>, plan: Plan, depth: usize) -> bool {
        let mut known = known;
        loop {
            if node.rest.done() {
                self.search.offer(&plan);
                return true;
            }
            if self.nodes == 0 || depth > MOST_DEPTH || self.budget.stopped().is_some() {
                return false;
            }
            self.nodes -= 1;
            let spent = self.part.cost(&plan).price;
            let uses = match known.take() {
                Some(uses) => uses,
                None => match self.bound(&mut node, spent) {
                    Some((uses, _)) => uses,
                    None => return true,
                },
            };
            self.round(&node.rest, &uses, &plan);
            if self.search.proved() {
                return true;
            }
            let Some(chosen) = self.branch_on(&node, &uses) else { return true };
            let (less, more) = self.taken(&node, chosen, &plan);
            if !self.explore(less, None, more, depth + 1) {
                return false;
            }
            // Whatever holds no more of what is wanted than the chosen one can stand back too.
            let trimmed = node.rest.trimmed(&self.list.patterns[chosen]);
            let (list, rest) = (&self.list.patterns, &node.rest);
            node.alive.retain(|&p| p != chosen && !within(&list[p], &trimmed, rest));
        }
    }

    /// The node after one bar of a pattern.
    fn taken(&self, node: &Node, chosen: usize, plan: &Plan) -> (Node, Plan) {
        let mut less = node.clone();
        let mut more = plan.clone();
        less.rest.cut(less.rest.trimmed(&self.list.patterns[chosen]), 1, &mut more);
        for &(k, n) in &self.list.cuts[chosen] {
            less.cuts[k] = less.cuts[k].saturating_sub(n);
        }
        let (rest, list) = (&less.rest, &self.list.patterns);
        less.alive.retain(|&p| {
            rest.limits[list[p].kind] != Some(0)
                && list[p].counts.iter().any(|&(i, _)| rest.demand[i] > 0)
        });
        (less, more)
    }

    /// The LP at a node, patterns that occur in nothing cheaper struck off; `None` if it proves that
    /// nothing cheaper is here.
    fn bound(&mut self, node: &mut Node, spent: i128) -> Option<(Uses, f64)> {
        self.solve(node);
        let price = self.search.price()?;
        let target = price - i128::from(self.part.price_step()) - spent;
        let (weights, value) = self.weigh(node);
        self.budget.spend(node.alive.len() as u64);
        let mut held = vec![0; self.part.kinds.len()];
        for (&p, &value) in node.alive.iter().zip(&value) {
            let kind = self.list.patterns[p].kind;
            held[kind] = value.max(held[kind]);
        }
        let demand: Vec<u32> = node.rest.demand.iter().chain(&node.cuts).copied().collect();
        let certificate: Certificate = certify(&self.part, &demand, weights, held);
        if certificate.bound > target {
            return None;
        }
        let kinds = 0..self.part.kinds.len();
        let needed: Vec<i64> = kinds.map(|j| certificate.needed(&self.part, j, target)).collect();
        let mut value = value.iter();
        let list = &self.list.patterns;
        node.alive.retain(|&p| value.next().is_some_and(|&v| v >= needed[list[p].kind]));
        let uses = (self.program.values().into_iter())
            .map(|(column, x)| (self.columns[column], x))
            .filter(|(p, _)| node.alive.binary_search(p).is_ok())
            .collect();
        Some((uses, self.program.objective()))
    }

    /// Solves the LP over what is alive at a node.
    fn solve(&mut self, node: &Node) {
        for (kind, (&limit, &least)) in
            self.part.kinds.iter_mut().zip(node.rest.limits.iter().zip(&node.rest.leasts))
        {
            (kind.limit, kind.least) = (limit, least);
        }
        let total: f64 = node.rest.demand.iter().map(|&d| f64::from(d)).sum();
        let kinds = self.part.kinds.iter().filter(|k| k.only.is_none()).flat_map(|k| {
            let least = f64::from(k.least);
            [least, k.limit.map_or(total + least, f64::from)]
        });
        let pieces = node.rest.demand.iter().map(|&d| f64::from(d));
        self.program.set(pieces.chain(kinds).chain(node.cuts.iter().map(|&d| f64::from(d))));
        let mut alive = vec![false; self.list.patterns.len()];
        node.alive.iter().for_each(|&p| alive[p] = true);
        let (columns, list, kinds) = (&self.columns, &self.list.patterns, &self.part.kinds);
        let penalty = self.penalty;
        self.program.reprice(|column| {
            let pattern = &list[columns[column]];
            let pieces: u32 = pattern.counts.iter().map(|c| c.1).sum();
            let barred = if alive[columns[column]] { 0.0 } else { penalty };
            kinds[pattern.kind].price as f64 + barred * f64::from(pieces + 1)
        });
        loop {
            let go_on =
                self.program.optimise(self.budget) && self.budget.spend(node.alive.len() as u64);
            let mut better: Vec<(f64, usize)> = (node.alive.iter())
                .filter(|&&p| !self.active[p])
                .map(|&p| (self.reduced(p), p))
                .filter(|&(reduced, _)| reduced < -1e-9 * self.scale)
                .collect();
            if better.is_empty() || !go_on {
                return;
            }
            better.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            for &(_, p) in better.iter().take(AT_ONCE) {
                self.push(p);
            }
        }
    }

    fn entries(&self, p: usize) -> impl Iterator<Item = (usize, f64)> + '_ {
        let pattern = &self.list.patterns[p];
        // Kinds that are no bars come last and have no rows.
        let row = self.kinds_at + 2 * pattern.kind;
        let counted = self.part.kinds[pattern.kind].only.is_none();
        let kinds = [(row, 1.0), (row + 1, 1.0)].into_iter().filter(move |_| counted);
        let pieces = pattern.counts.iter().map(|&(i, n)| (i, f64::from(n)));
        let cuts = self.list.cuts[p].iter().map(|&(k, n)| (self.cuts_at + k, f64::from(n)));
        pieces.chain(kinds).chain(cuts)
    }

    fn reduced(&self, p: usize) -> f64 {
        let duals = self.program.duals();
        let worth: f64 = self.entries(p).map(|(r, a)| duals[r] * a).sum();
        self.part.kinds[self.list.patterns[p].kind].price as f64 - worth
    }

    fn push(&mut self, p: usize) {
        self.active[p] = true;
        self.columns.push(p);
        let entries: Vec<(usize, f64)> = self.entries(p).collect();
        self.program.add(self.part.kinds[self.list.patterns[p].kind].price as f64, entries);
    }

    /// Whole weights of pieces and cuts from the LP's prices, and what each pattern alive holds of
    /// them: no more of a row than is wanted.
    fn weigh(&self, node: &Node) -> (Vec<i64>, Vec<i64>) {
        let duals = self.program.duals();
        let rows = duals[..self.kinds_at].iter().chain(&duals[self.cuts_at..]);
        let worth: Vec<f64> =
            rows.map(|&d| if d.is_finite() { d.clamp(0.0, 1e200) } else { 0.0 }).collect();
        let total = |p: usize, of: &mut dyn FnMut(usize, u32)| {
            for &(i, n) in &self.list.patterns[p].counts {
                of(i, n.min(node.rest.demand[i]));
            }
            for &(k, n) in &self.list.cuts[p] {
                of(self.kinds_at + k, n.min(node.cuts[k]));
            }
        };
        let mut most = worth.iter().copied().fold(0.0, f64::max);
        for &p in &node.alive {
            let mut sum = 0.0;
            total(p, &mut |r, n| sum += worth[r] * f64::from(n));
            most = f64::max(sum, most);
        }
        let scale = if most > 0.0 && most.is_finite() { FINE / most } else { 0.0 };
        let weights: Vec<i64> = worth.iter().map(|&w| (w * scale).floor() as i64).collect();
        let value = (node.alive.iter())
            .map(|&p| {
                let mut sum = 0i64;
                total(p, &mut |r, n| {
                    sum = sum.saturating_add(weights[r].saturating_mul(i64::from(n)));
                });
                sum
            })
            .collect();
        (weights, value)
    }

    /// Offers the LP rounded, if that cuts everything.
    fn round(&mut self, rest: &Rest, uses: &Uses, plan: &Plan) {
        let mut rest = rest.clone();
        let mut plan = plan.clone();
        for &(p, x) in uses {
            for _ in 0..(x + 0.5).floor() as u32 {
                let pattern = rest.trimmed(&self.list.patterns[p]);
                if pattern.counts.is_empty() || rest.room(&pattern) == 0 {
                    break;
                }
                rest.cut(pattern, 1, &mut plan);
            }
        }
        if rest.done() {
            self.search.offer(&plan);
        }
    }

    /// The pattern to branch on: of the piece that fewest patterns hold (the longest of those), the
    /// pattern that the LP uses most. `None` if a piece is held by none.
    fn branch_on(&self, node: &Node, uses: &Uses) -> Option<usize> {
        let mut ways = vec![0usize; self.kinds_at];
        for &p in &node.alive {
            for &(i, _) in &self.list.patterns[p].counts {
                ways[i] += 1;
            }
        }
        let piece = (0..self.kinds_at)
            .filter(|&i| node.rest.demand[i] > 0)
            .min_by_key(|&i| (ways[i], i))?;
        let mut x = vec![0.0; self.list.patterns.len()];
        uses.iter().for_each(|&(p, use_)| x[p] = use_);
        (node.alive.iter().copied())
            .filter(|&p| self.list.patterns[p].counts.iter().any(|&(i, _)| i == piece))
            .max_by(|&a, &b| x[a].total_cmp(&x[b]).then(b.cmp(&a)))
    }
}

/// Whether a pattern holds no more of what is wanted than another.
fn within(pattern: &Pattern, other: &Pattern, rest: &Rest) -> bool {
    pattern.kind == other.kind
        && pattern.counts.iter().all(|&(i, n)| {
            let n = n.min(rest.demand[i]);
            n == 0
                || other
                    .counts
                    .binary_search_by_key(&i, |c| c.0)
                    .is_ok_and(|at| other.counts[at].1 >= n)
        })
}
