//! What the checks cost, and the load at which a thicker deck is needed.

use std::time::Instant;

use bedwright::explore::{Settings, explore};
use bedwright::mechanics::panel::Axis;
use bedwright::mechanics::threshold::{GRADES, LimitedBy, most_load};
use bedwright::mechanics::{Subject, checks};
use bedwright::scenario::Scenario;
use bedwright::units::physics::Metres;

/// What every check of a design may cost together.
const MOST_MS: f64 = 5.0;
/// Times every check of every listed design is run.
const RUNS: u32 = 20;

/// Every check of every listed design, in milliseconds a design.
pub fn cost(name: &str, scenario: &Scenario) {
    let found = explore(scenario, &Settings::default(), &|_| {});
    let mut slowest: f64 = 0.0;
    let mut most = 0;
    for ranked in &found.ranked {
        // The least of several: what else the machine does is not the checks' cost.
        let mut cost = f64::INFINITY;
        for _ in 0..RUNS {
            let begun = Instant::now();
            most = most.max(checks(scenario, Subject::from(&ranked.design)).len());
            cost = cost.min(begun.elapsed().as_secs_f64() * 1e3);
        }
        slowest = slowest.max(cost);
    }
    let designs = found.ranked.len();
    println!(
        "{name:<18} {designs:>3} designs, up to {most} checks, {slowest:.2} ms at most for one"
    );
    // Not optimised, as with `--profile dev`, it is only told.
    assert!(
        cfg!(debug_assertions) || slowest < MOST_MS,
        "every check of every listed design is to cost under {MOST_MS} ms"
    );
}

/// The load that each grade of deck carries, lb/ft², by the members' distance and the way of the grain.
pub fn thresholds() {
    for (axis, way) in [(Axis::Across, "along"), (Axis::Along, "across")] {
        println!("\ndeck 72 in long on one span, grain {way} the members, lb/ft²");
        print!("{:<12}", "members at");
        GRADES.iter().for_each(|grade| print!("{:>14}", grade.name));
        println!();
        for inches in [12.0, 16.0, 20.0, 24.0, 30.0] {
            print!("{:<12}", format!("{inches} in"));
            for grade in &GRADES {
                let sizes = (Metres::inches(inches), Metres::inches(1.5), Metres::inches(72.0));
                let (load, by) = most_load(grade, axis, sizes, 2.0, 240.0);
                let by = if by == LimitedBy::Sag { "sag" } else { "bending" };
                print!("{:>14}", format!("{:.0} {by}", load.in_psf()));
            }
            println!();
        }
    }
}
