//! Linear programs, the only file that names the crates that solve them.
//!
//! An LP is a guest here: its answer is floating point and is taken as advice. Callers round what
//! it says to integers and prove their bound from those alone, so that a wrong,
//! late or missing answer costs time and never truth. Every function returns `None` when the
//! library fails or answers with something that is not a number.
//!
//! Three models, two of them *duals*, because neither library reports dual values:
//!
//! - [`DualMaster`]: prices of parts under "no pattern is worth more than its bar", the master of
//!   column generation (Gilmore & Gomory, Oper. Res. 9:849-859, 1961). A pattern found later is one
//!   more row, and the dual simplex goes on from the old basis.
//! - [`length_rates`]: the price of a unit of length by the shortest bar that a part needs, a few
//!   rows that give a first bound and first prices before any pattern is known.
//! - [`cover`]: how often to take each pattern, from which whole plans are rounded. No bound comes out of it.

use good_lp::{
    Expression, ProblemVariables, Solution as _, SolverModel as _, constraint, variable,
};
use microlp::{ComparisonOp, OptimizationDirection, Problem, Solution, Variable};

/// The master of column generation in its dual form, held by microlp.
///
/// With `y` the worth of one part of each kind and `z` the worth of one more bar of a limited
/// kind, over the patterns `p` (of bar `j(p)`, price `c`) added so far:
///
/// ```text
/// max  sum d_i y_i - sum L_j z_j
/// s.t. sum a_ip y_i - z_j(p) <= c_j(p)   for every pattern p
///      0 <= y_i <= ceiling_i,  0 <= z_j
/// ```
///
/// Its optimum is that of the LP over the patterns added, hence an upper bound of the LP over all.
#[derive(Debug, Clone)]
pub struct DualMaster {
    model: Problem,
    worth: Vec<Variable>,
    scarcity: Vec<Option<Variable>>,
    solved: Option<Solution>,
}

/// Prices that solve a [`DualMaster`]; all are finite and at least zero.
#[derive(Debug, Clone, PartialEq)]
pub struct DualPrices {
    /// Worth of one part of each kind.
    pub worth: Vec<f64>,
    /// Worth of one more bar of each kind; zero where there is no limit.
    pub scarcity: Vec<f64>,
    /// The objective.
    pub objective: f64,
}

impl DualMaster {
    /// A master without patterns. `demand[i]` parts of kind `i` are worth at most `ceiling[i]`
    /// each; bar `j` is limited to `limit[j]` pieces.
    pub fn new(demand: &[f64], ceiling: &[f64], limit: &[Option<u32>]) -> Self {
        let mut model = Problem::new(OptimizationDirection::Maximize);
        let worth = demand
            .iter()
            .zip(ceiling)
            .map(|(&d, &most)| model.add_var(d, (0.0, most.max(0.0))))
            .collect();
        let scarcity = limit
            .iter()
            .map(|l| l.map(|l| model.add_var(-f64::from(l), (0.0, f64::INFINITY))))
            .collect();
        Self { model, worth, scarcity, solved: None }
    }

    /// Adds a pattern of bar `bar` with price `price`: `counts` are (part, how many), each part
    /// named once. `false` if the library gave up; the next [`Self::solve`] then starts afresh.
    pub fn add(&mut self, bar: usize, counts: &[(usize, u32)], price: f64) -> bool {
        let mut row: Vec<(Variable, f64)> =
            counts.iter().map(|&(part, n)| (self.worth[part], f64::from(n))).collect();
        row.extend(self.scarcity[bar].map(|z| (z, -1.0)));
        self.add_row(&row, price)
    }

    /// Adds that worths, each so many times, sum to no more than `most`; each is named once. Like [`Self::add`].
    pub fn limit(&mut self, times: &[(usize, f64)], most: f64) -> bool {
        let row: Vec<(Variable, f64)> =
            times.iter().map(|&(part, n)| (self.worth[part], n)).collect();
        self.add_row(&row, most)
    }

    fn add_row(&mut self, row: &[(Variable, f64)], most: f64) -> bool {
        self.model.add_constraint(row, ComparisonOp::Le, most);
        let Some(solved) = self.solved.take() else { return true };
        self.solved = solved
            .add_constraint(row, ComparisonOp::Le, most)
            .ok()
            .and_then(|outcome| outcome.into_solution().ok());
        self.solved.is_some()
    }

    /// Best prices under the patterns added so far.
    pub fn solve(&mut self) -> Option<DualPrices> {
        #[cfg(test)]
        if spoil::fails() {
            return None;
        }
        if self.solved.is_none() {
            self.solved = self.model.solve().ok()?.into_solution().ok();
        }
        let solved = self.solved.as_ref()?;
        let read = |v: Variable| solved.var_value(v);
        #[cfg(test)]
        let read = |v: Variable| spoil::bent(read(v));
        let prices = DualPrices {
            worth: self.worth.iter().map(|&v| read(v).max(0.0)).collect(),
            scarcity: self.scarcity.iter().map(|z| z.map_or(0.0, read).max(0.0)).collect(),
            objective: solved.objective(),
        };
        let finite = |v: &[f64]| v.iter().all(|x| x.is_finite());
        (finite(&prices.worth) && finite(&prices.scarcity) && prices.objective.is_finite())
            .then_some(prices)
    }
}

/// How often to take each pattern so that all parts are made at the least price, in fractions:
///
/// ```text
/// min  sum c_p x_p    s.t.  sum a_ip x_p >= d_i   for every part i,   0 <= x_p
/// ```
///
/// Each pattern is its price and its (part, how many), each part named once.
pub fn cover(demand: &[f64], patterns: &[(f64, Vec<(usize, u32)>)]) -> Option<Vec<f64>> {
    let mut model = Problem::new(OptimizationDirection::Minimize);
    let mut rows: Vec<Vec<(Variable, f64)>> = vec![Vec::new(); demand.len()];
    let mut taken = Vec::with_capacity(patterns.len());
    for (price, counts) in patterns {
        let x = model.add_var(*price, (0.0, f64::INFINITY));
        taken.push(x);
        for &(part, n) in counts {
            rows[part].push((x, f64::from(n)));
        }
    }
    for (row, d) in rows.iter().zip(demand).filter(|(_, d)| **d > 0.0) {
        if row.is_empty() {
            return None;
        }
        model.add_constraint(row.as_slice(), ComparisonOp::Ge, *d);
    }
    let solved = model.solve().ok()?.into_solution().ok()?;
    #[cfg(test)]
    if spoil::fails() {
        return None;
    }
    let x: Vec<f64> = taken.iter().map(|&x| solved.var_value(x).max(0.0)).collect();
    #[cfg(test)]
    let x: Vec<f64> = x.into_iter().map(spoil::bent).collect();
    x.iter().all(|x| x.is_finite()).then_some(x)
}

/// A kind of bar as [`length_rates`] sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Supply {
    /// Length of one bar.
    pub length: f64,
    /// Price of one bar.
    pub price: f64,
    /// How many there are; `None` for any number.
    pub limit: Option<u32>,
}

/// The price of a unit of length, by the shortest bar that is long enough.
///
/// `supply` is sorted by length; `needed[t]` is the total length of the parts that fit bar `t` but
/// none before it. With `r_t` the rate of those parts and `z_j` the worth of one more bar `j`:
///
/// ```text
/// max  sum needed_t r_t - sum L_j z_j
/// s.t. length_j r_t <= price_j + z_j   for t <= j
///      0 <= r_t <= most,  0 <= z_j
/// ```
///
/// A bar's parts are no longer together than the bar, so the rates never pay more for a bar than
/// it costs: the objective bounds the price of all parts from below. `most` keeps the rates finite
/// where limits leave too little stock.
pub fn length_rates(supply: &[Supply], needed: &[f64], most: f64) -> Option<Vec<f64>> {
    let mut vars = ProblemVariables::new();
    let rates: Vec<_> = needed.iter().map(|_| vars.add(variable().min(0).max(most))).collect();
    let scarcity: Vec<_> =
        supply.iter().map(|s| s.limit.map(|_| vars.add(variable().min(0)))).collect();
    let earned: Expression = rates.iter().zip(needed).map(|(&r, &need)| need * r).sum();
    let rent: Expression =
        (scarcity.iter().zip(supply)).filter_map(|(z, s)| Some(f64::from(s.limit?) * (*z)?)).sum();
    let mut model = vars.maximise(earned - rent).using(good_lp::solvers::microlp::microlp);
    for (j, s) in supply.iter().enumerate() {
        for &rate in rates.iter().take(j + 1) {
            let z = scarcity[j].map_or(Expression::from(0.0), Expression::from);
            model.add_constraint(constraint!(s.length * rate <= s.price + z));
        }
    }
    let solved = model.solve().ok()?;
    #[cfg(test)]
    if spoil::fails() {
        return None;
    }
    let rates: Vec<f64> = rates.iter().map(|&r| solved.value(r).max(0.0)).collect();
    #[cfg(test)]
    let rates: Vec<f64> = rates.into_iter().map(spoil::bent).collect();
    rates.iter().all(|r| r.is_finite()).then_some(rates)
}

/// Answers that a test bends on their way out, in its own thread.
#[cfg(test)]
pub(crate) mod spoil {
    use std::cell::Cell;

    /// What becomes of an answer.
    #[derive(Debug, Clone, Copy, PartialEq, Eq)]
    pub enum Spoil {
        /// It is passed on.
        Nothing,
        /// There is none.
        Fail,
        /// Every third call fails.
        FailAtTimes,
        /// Values are multiplied by something between -1 and 3.
        Bend,
        /// All values are zero.
        Zero,
        /// Values are far too large.
        Huge,
        /// Some values are not numbers.
        NotANumber,
        /// Some values are infinite.
        Infinite,
    }

    impl Spoil {
        /// Every one.
        pub const ALL: [Self; 8] = [
            Self::Nothing,
            Self::Fail,
            Self::FailAtTimes,
            Self::Bend,
            Self::Zero,
            Self::Huge,
            Self::NotANumber,
            Self::Infinite,
        ];
    }

    thread_local! {
        static HOW: Cell<(Spoil, u64)> = const { Cell::new((Spoil::Nothing, 1)) };
    }

    /// Spoils what this thread asks from now on.
    pub fn set(how: Spoil) {
        HOW.set((how, 1));
    }

    fn next() -> (Spoil, u64) {
        let (how, state) = HOW.get();
        let state = state.wrapping_mul(0x5851_f42d_4c95_7f2d).wrapping_add(1);
        HOW.set((how, state));
        (how, state >> 33)
    }

    /// Whether the library gives up.
    pub fn fails() -> bool {
        let (how, draw) = next();
        how == Spoil::Fail || how == Spoil::FailAtTimes && draw.is_multiple_of(3)
    }

    /// A value as the library hands it over.
    pub fn bent(value: f64) -> f64 {
        let (how, draw) = next();
        match how {
            Spoil::Nothing | Spoil::Fail | Spoil::FailAtTimes => value,
            Spoil::Bend => value * ((draw % 4001) as f64 / 1000.0 - 1.0),
            Spoil::Zero => 0.0,
            Spoil::Huge => (value + 1.0) * 1e15,
            Spoil::NotANumber if draw.is_multiple_of(2) => f64::NAN,
            Spoil::Infinite if draw.is_multiple_of(2) => f64::INFINITY,
            Spoil::NotANumber | Spoil::Infinite => value,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_dual_master_prices_two_parts() {
        // One bar of price 1. Patterns: two of part 0; one of each. Three of part 0, one of 1:
        // x = 1 of each pattern, so the optimum is 2 with y = (1/2, 1/2).
        let mut master = DualMaster::new(&[3.0, 1.0], &[1.0, 1.0], &[None]);
        assert!(master.add(0, &[(0, 2)], 1.0));
        let first = master.solve().expect("a bounded program");
        assert!((first.objective - 2.5).abs() < 1e-9, "{first:?}");
        assert!(master.add(0, &[(0, 1), (1, 1)], 1.0));
        let second = master.solve().expect("a bounded program");
        assert!((second.objective - 2.0).abs() < 1e-9, "{second:?}");
        assert!((second.worth[0] - 0.5).abs() < 1e-9 && (second.worth[1] - 0.5).abs() < 1e-9);
    }

    #[test]
    fn a_limited_bar_has_a_scarcity_price() {
        // Four parts, one a bar; two free bars, the rest at 10 each by the ceiling.
        let mut master = DualMaster::new(&[4.0], &[10.0], &[Some(2)]);
        assert!(master.add(0, &[(0, 1)], 0.0));
        let prices = master.solve().expect("a bounded program");
        assert!((prices.objective - 20.0).abs() < 1e-9);
        assert!((prices.scarcity[0] - 10.0).abs() < 1e-9);
    }

    #[test]
    fn long_parts_pay_the_rate_of_long_bars() {
        // 8 units at 1.0 a unit or 10 units at 1.5 a unit; 30 units of parts need the long one.
        let supply = [
            Supply { length: 8.0, price: 8.0, limit: None },
            Supply { length: 10.0, price: 15.0, limit: None },
        ];
        let rates = length_rates(&supply, &[16.0, 30.0], 1e3).expect("a bounded program");
        assert!((rates[0] - 1.0).abs() < 1e-9 && (rates[1] - 1.5).abs() < 1e-9, "{rates:?}");
    }
}
