//! Pull, jamming, drawn-out drawers, locks.

use super::Group;
use crate::mechanics::Standing::{Assumption, Derived, Published};
use crate::mechanics::jamming::{Guided, Pull, locking_friction, locking_length, skew};
use crate::mechanics::lock_rod::{
    MILD_STEEL_YIELD, RodThroughHole, SlidingRod, area, bending_yield, shear_yield, slot_height,
};
use crate::mechanics::pull::{HARD, force, heaviest};
use crate::mechanics::tailgate::highest;
use crate::mechanics::tipping::{Extended, safety};
use crate::units::physics::{Force, Kilograms, Metres};

fn mm(number: f64) -> Metres {
    Metres::millimetres(number)
}

pub(super) fn cases() -> Group {
    let mut of = Group::new("drawers");
    jams(&mut of);
    pulls(&mut of);
    open(&mut of);
    locks(&mut of);
    of
}

fn jams(of: &mut Group) {
    let equilibrium = "equilibrium of a drawer in its guides; a linear solve agrees";
    let moves = |pull: f64, load: f64| {
        let guided = Guided {
            engaged: Metres::of(0.5),
            side_friction: 0.3,
            pull_offset: Metres::of(pull),
            load_offset: Metres::of(load),
        };
        match guided.pull(Force::newtons(100.0)) {
            Pull::Moves { pull, corner } => (pull.in_newtons(), corner.in_newtons()),
            Pull::Locks => (f64::MAX, f64::MAX),
        }
    };
    let (pull, corner) = moves(0.3, 0.0);
    of.case(37, Derived, equilibrium, 1e-9, &[(pull, 156.25), (corner, 93.75)]);
    let (less, same) = (moves(0.3, 0.1).0, moves(0.3, 0.3).0);
    of.case(38, Derived, equilibrium, 1e-9, &[(less, 137.5), (same, 100.0)]);
    let length = locking_length(0.3, Metres::of(0.3)).in_metres();
    let friction = locking_friction(Metres::of(0.4), Metres::of(0.3));
    of.case(39, Derived, equilibrium, 1e-9, &[(length, 0.18), (friction, 2.0 / 3.0)]);
    let (angle, lead) = skew(mm(3.0), mm(900.0), mm(600.0));
    of.case(62, Derived, "small angles", 1e-3, &[(angle, 0.191), (lead.in_millimetres(), 2.0)]);
}

fn pulls(of: &mut Group) {
    let at = |slope| force(Kilograms::of(60.0), 0.15, slope).in_newtons();
    of.case(
        40,
        Derived,
        "m·g·(μ·cos θ + sin θ)",
        1e-3,
        &[(at(0.0), 88.26), (at(4.0), 129.09), (at(-4.0), 47.00)],
    );
    let most = heaviest(HARD, 0.20).in_kilograms();
    of.case(41, Assumption, "HSE RR228's 15 kg-force over μ 0.20", 1e-3, &[(most, 75.0)]);
}

fn open(of: &mut Group) {
    let drawer = |travel| Extended {
        length: Metres::of(1.8),
        weight: Force::newtons(600.0),
        centre: Metres::of(0.9),
        travel: Metres::of(travel),
    };
    let (near, far) = (drawer(0.6).reactions(), drawer(1.35).reactions());
    of.case(
        42,
        Derived,
        "equilibrium of a lever",
        1e-9,
        &[
            (near.rear.in_newtons(), 150.0),
            (far.rear.in_newtons(), -600.0),
            (far.lip.in_newtons(), 1200.0),
        ],
    );
    let (drop, degrees) = drawer(1.35).droop(mm(6.0));
    of.case(
        43,
        Derived,
        "similar triangles",
        1e-3,
        &[(drop.in_millimetres(), 18.0), (degrees, 0.764)],
    );
    let (chest, shut) = (Kilograms::of(80.0), Kilograms::of(60.0));
    let inside = [(chest, Metres::of(0.9)), (shut, Metres::of(0.9))];
    let found = safety(&inside, &[(shut, Metres::of(0.45))]);
    of.case(44, Derived, "moments about the lip", 1e-3, &[(found, 4.667)]);
    let edge = highest(mm(25.0), 2.0, mm(1350.0), mm(1350.0)).in_millimetres();
    of.case(63, Derived, "rise and slope over the travel", 1e-3, &[(edge, 72.1)]);
}

fn locks(of: &mut Group) {
    let plane = "plane geometry";
    let rod = SlidingRod { radius: mm(38.1), length: mm(300.0), offset: mm(0.0) };
    let beside = SlidingRod { offset: mm(10.0), ..rod };
    of.case(
        55,
        Derived,
        plane,
        1e-4,
        &[
            (rod.throw(90.0, 0.0).in_millimetres(), 40.529),
            (rod.throw(60.0, 0.0).in_millimetres(), 20.870),
            (beside.throw(90.0, 0.0).in_millimetres(), 39.252),
        ],
    );
    let rod = RodThroughHole { radius: mm(38.1), hole: mm(300.0), length: mm(320.0) };
    for (turn, out, tilt) in [(0.0, 58.10, 0.0), (45.0, 45.615, 5.635), (90.0, 17.590, 7.238)] {
        let found = rod.projection(turn).in_millimetres();
        of.case(56, Derived, plane, 1e-3, &[(found, out), (rod.tilt(turn), tilt)]);
    }
    let (tilt, turn) = rod.greatest_tilt();
    of.case(57, Derived, plane, 1e-4, &[(tilt, 7.2963), (turn, 82.704)]);
    let slot = slot_height(mm(6.35), mm(19.05), 7.2963).in_millimetres();
    of.case(58, Derived, plane, 1e-3, &[(slot, 8.841)]);
    let rod = mm(6.35);
    of.case(
        59,
        Published,
        "textbook strength of materials, A36's 36 ksi (quoted)",
        1e-3,
        &[
            (area(rod).in_square_millimetres(), 31.669),
            (shear_yield(rod, MILD_STEEL_YIELD).in_newtons(), 4571.0),
            (bending_yield(rod, MILD_STEEL_YIELD, mm(10.0)).in_newtons(), 628.4),
        ],
    );
}
