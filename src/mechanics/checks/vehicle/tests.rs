//! What the vehicle bears.

use crate::mechanics::checks::fixture::*;
use crate::mechanics::checks::weights::Weights;
use crate::mechanics::testing::close;
use crate::scenario::Runs;
use crate::scenario::fixture::{full_size, inches};
use crate::units::Mass;

#[test]
fn payload_tailgate_and_axle_are_the_vehicles() {
    let mut scenario = full_size();
    let built = chest(&scenario, &[2], Runs::Strip, &[at_front()]);
    let checks = built.checks(&scenario);
    let payload = named(&checks, "payload");
    assert!(payload.passes());
    close(payload.limit, (Mass::POUND * 1200).to_kg(), 1e-12);
    // The fixture's tailgate lies flush: bottom panel and strip clear it by 3/4 in.
    let clearance = named(&checks, "tailgate clearance");
    close(clearance.value, 0.75 * 25.4, 1e-12);
    assert!(clearance.passes() && !names(&checks).contains(&"relief of front axle"));

    scenario.bed.payload = Some(Mass::KG * 60);
    scenario.bed.wheelbase = Some(inches(145));
    scenario.bed.rear_axle_from_tailgate = Some(inches(43));
    scenario.bed.tailgate.as_mut().expect("it has one").rise = inches(1);
    let checks = built.checks(&scenario);
    assert!(!named(&checks, "payload").passes());
    assert!(!named(&checks, "tailgate clearance").passes(), "built for a flush tailgate");
    let all = Weights::of(&scenario, &built.subject()).all();
    let axle = named(&checks, "relief of front axle");
    let lifted = all.mass().in_kilograms() * (1.0922 - all.y().in_metres()) / (145.0 * 0.0254);
    assert!(lifted > 0.0, "the cases stand at the tail");
    close(axle.value, lifted, 1e-9);

    let rebuilt = chest(&scenario, &[2], Runs::Strip, &[at_front()]).checks(&scenario);
    assert!(named(&rebuilt, "tailgate clearance").passes(), "lifted for it");
}
