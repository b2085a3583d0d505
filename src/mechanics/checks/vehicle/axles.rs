//! Axle loads and the centre of mass.

use crate::units::physics::{Kilograms, Metres};

/// What a load adds to the axles.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxleLoads {
    /// To the front axle (negative: lifted).
    pub front: Kilograms,
    /// To the rear axle.
    pub rear: Kilograms,
}

/// A mass standing `ahead` of the rear axle (negative: behind it) of a vehicle of that wheelbase:
/// front m·d/L, rear m·(L − d)/L (statics).
pub fn added(mass: Kilograms, ahead: Metres, wheelbase: Metres) -> AxleLoads {
    let front = mass * (ahead / wheelbase);
    AxleLoads { front, rear: mass - front }
}

/// Where the common centre of masses is, Σ m·r/Σ m; nothing for no mass at all.
pub fn centre_of_mass(masses: &[(Kilograms, Metres)]) -> Option<Metres> {
    let total: Kilograms = masses.iter().map(|&(mass, _)| mass).sum();
    if total <= Kilograms::ZERO {
        return None;
    }
    Some(masses.iter().map(|&(mass, at)| at * (mass / total)).sum())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::testing::close;

    // Derived: moments about the rear axle.
    #[test]
    fn a_load_ahead_of_and_behind_the_axle() {
        let (mass, wheelbase) = (Kilograms::of(200.0), Metres::of(3.6));
        let ahead = added(mass, Metres::of(0.3), wheelbase);
        close(ahead.front.in_kilograms(), 16.67, 1e-3);
        close(ahead.rear.in_kilograms(), 183.33, 1e-3);
        let behind = added(mass, Metres::of(-0.5), wheelbase);
        close(behind.front.in_kilograms(), -27.78, 1e-3);
        close(behind.rear.in_kilograms(), 227.78, 1e-3);
    }

    // Derived: the weighted mean.
    #[test]
    fn a_chest_with_its_gear() {
        let masses = [(80.0, 0.95), (60.0, 0.9), (40.0, 0.9), (30.0, 0.4)]
            .map(|(mass, at)| (Kilograms::of(mass), Metres::of(at)));
        let centre = centre_of_mass(&masses).unwrap();
        close(centre.in_metres(), 0.8476, 1e-4);
        assert_eq!(centre_of_mass(&[]), None);
    }
}
