//! An LP that answers wrongly, or not at all.

use super::brute::brute_force;
use super::*;

/// Any weights at all, honest, scaled, negated or not numbers: the bound stays below the truth.
#[test]
fn spoiled_prices_never_spoil_the_bound() {
    let mut random = Random(7);
    let (mut problems, mut tight) = (0, 0);
    while problems < 600 {
        let problem = tiny(&mut random);
        let Some(truth) = brute_force(&problem) else { continue };
        let Ok(model) = Model::new(&problem) else { continue };
        problems += 1;
        let demand = model.demand();
        let honest = {
            let mut master = crate::solve::lp::DualMaster::new(
                &demand.iter().map(|&d| f64::from(d)).collect::<Vec<_>>(),
                &vec![1e3; demand.len()],
                &model.limits(),
            );
            for (kind, k) in model.kinds.iter().enumerate() {
                for (i, p) in model.pieces.iter().enumerate().filter(|(_, p)| p.len <= k.cap) {
                    let n = u32::try_from(k.cap / p.len).expect("small").min(p.demand);
                    master.add(kind, &[(i, n)], k.price as f64);
                }
            }
            master.solve().map_or(vec![1.0; demand.len()], |prices| prices.worth)
        };
        for spoil in 0..8 {
            let worth: Vec<f64> = honest
                .iter()
                .map(|&w| match spoil {
                    0 => w,
                    1 => -w,
                    2 => w * 1e12,
                    3 => w * 1e-12,
                    4 if random.range(0, 1) == 0 => f64::NAN,
                    5 if random.range(0, 1) == 0 => f64::INFINITY,
                    6 => random.range(-5, 20) as f64,
                    7 => f64::NAN,
                    _ => w,
                })
                .collect();
            let weights = bound::weigh(&model, &demand, &worth);
            let fillings = bound::price(&model, &demand, &weights, 200_000, &mut budget());
            let held: Vec<i64> = fillings.iter().map(|f| f.bound).collect();
            let lower = bound::lower(&model, &demand, &weights, &held);
            assert!(lower <= i128::from(truth), "{lower} > {truth}: {problem:?} {worth:?}");
            tight += u32::from(lower == i128::from(truth) && truth > 0);
        }
    }
    assert!(tight > 300, "a bound of zero would pass too: {tight}");
}

/// The wrapper answers wrongly, fails or claims there is nothing: time is lost, truth is not.
#[test]
fn a_spoiled_library_costs_no_truth() {
    use crate::solve::lp::spoil::{Spoil, set};
    let mut random = Random(11);
    let (mut proved, mut asked) = (0, 0);
    for round in 0..700 {
        let problem = tiny(&mut random);
        let truth = brute_force(&problem);
        for how in Spoil::ALL {
            set(how);
            let outcome = cut_bars(&problem, &mut budget());
            set(Spoil::Nothing);
            asked += 1;
            match outcome {
                Outcome::Optimal { best, objective } => {
                    assert_eq!(check(&problem, &best), objective);
                    assert_eq!(Some(objective), truth, "{how:?} {round} {problem:?}");
                    proved += 1;
                }
                Outcome::Feasible { best, objective, bound, .. } => {
                    assert_eq!(check(&problem, &best), objective);
                    let truth = truth.expect("there is a plan");
                    assert!(bound <= truth && truth <= objective, "{how:?} {problem:?}");
                }
                Outcome::Infeasible(_) => {
                    assert_eq!(truth, None, "{how:?} {problem:?}");
                    proved += 1;
                }
                Outcome::Unknown { .. } => {}
            }
        }
    }
    // The own primal simplex goes on where the library leaves off.
    assert!(proved * 100 >= asked * 95, "{proved} of {asked}");
}
