//! Off-centre pulls and the length of guide.

use super::formula::{Guided, Pull, locking_friction, locking_length, skew};
use crate::mechanics::Standing::{Derived, Published};
use crate::mechanics::handbook::Group;
use crate::units::physics::{Force, Metres};

pub(in crate::mechanics) fn cases() -> Group {
    let mut of = Group::new("jamming");
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

    // Beer and Johnston, Statics, sample problem 4.13: a bracket whose two contacts are 6 in apart along a pipe, μ 0.25, locks
    // once its load stands 12 in from the pipe's axis. A drawer in its guides is the same bracket lying down.
    let bracket = "Beer and Johnston, Statics, sample problem 4.13 (bracket on a pipe)";
    let friction = locking_friction(Metres::inches(6.0), Metres::inches(12.0));
    of.case(65, Published, bracket, 1e-12, &[(friction, 0.25)]);
    of
}

fn mm(number: f64) -> Metres {
    Metres::millimetres(number)
}
