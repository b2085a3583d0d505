//! A drawer drawn out: reactions, drop, tipping, what it must clear.

use super::formula::{Extended, safety};
use crate::design::derive::carcass::lowest_moving_edge;
use crate::mechanics::Standing::Derived;
use crate::mechanics::handbook::Group;
use crate::scenario::Tailgate;
use crate::units::Length;
use crate::units::physics::{Force, Kilograms, Metres};

pub(in crate::mechanics) fn cases() -> Group {
    let mut of = Group::new("open drawer");
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
    let tailgate = Tailgate {
        rise: Length::mm(25),
        slope_millideg: 2000,
        length: Length::mm(1350),
        rating: None,
    };
    let edge = lowest_moving_edge(&tailgate, Length::mm(1350), Length::ZERO).to_mm();
    of.case(63, Derived, "rise and slope over the travel", 1e-3, &[(edge, 72.1)]);
    of
}

fn mm(number: f64) -> Metres {
    Metres::millimetres(number)
}
