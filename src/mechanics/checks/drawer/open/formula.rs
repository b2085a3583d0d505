//! An extended drawer, and the chest under it.
//!
//! Derivation. A drawer of length L and weight W, its centre of mass a behind its front, stands
//! open by s on the lip at the tail end of the chest. While s ≤ a the lip carries W(L−a)/(L−s) and
//! the back end W(a−s)/(L−s). Beyond, the back end presses *up* on what is above it with
//! U = W(s−a)/(L−s) and the lip carries W + U.

use crate::units::physics::{Force, Kilograms, Metres};

/// A drawer with its load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extended {
    /// Length, L.
    pub length: Metres,
    /// Weight, W.
    pub weight: Force,
    /// Centre of mass behind the front, a.
    pub centre: Metres,
    /// How far it stands open, s, less than its length.
    pub travel: Metres,
}

/// What carries it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reactions {
    /// Up, at the lip.
    pub lip: Force,
    /// At the back end: up on the drawer while positive, down on it (and up on what is above)
    /// when negative.
    pub rear: Force,
}

impl Extended {
    /// Reactions of a stiff drawer.
    pub fn reactions(&self) -> Reactions {
        let inside = self.length - self.travel;
        let lip = self.weight * ((self.length - self.centre) / inside);
        Reactions { lip, rear: self.weight - lip }
    }

    /// How far the front drops when the back end rises through a top clearance, t·s/(L−s), and
    /// the angle in degrees, atan(t/(L−s)).
    pub fn droop(&self, top_clearance: Metres) -> (Metres, f64) {
        let slope = top_clearance / (self.length - self.travel);
        (self.travel * slope, libm::atan(slope).to_degrees())
    }
}

/// A mass and where its centre stands, from the lip into the chest.
pub type Standing = (Kilograms, Metres);

/// Stabilising over overturning moment about the lip, fastenings not counted: masses inside (their
/// centres forward of the lip), against drawers whose centres stand outside by a distance. Nothing
/// outside is infinitely safe.
pub fn safety(inside: &[Standing], outside: &[Standing]) -> f64 {
    let moment = |masses: &[Standing]| -> f64 {
        masses.iter().map(|(mass, arm)| mass.in_kilograms() * arm.in_metres()).sum()
    };
    let overturning = moment(outside);
    if overturning > 0.0 { moment(inside) / overturning } else { f64::INFINITY }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::testing::close;

    fn drawer(travel: f64) -> Extended {
        Extended {
            length: Metres::of(1.8),
            weight: Force::newtons(600.0),
            centre: Metres::of(0.9),
            travel: Metres::of(travel),
        }
    }

    // Derived: equilibrium of a lever.
    #[test]
    fn a_drawer_pulled_out_presses_up_behind() {
        close(drawer(0.6).reactions().rear.in_newtons(), 150.0, 1e-9);
        let out = drawer(1.35).reactions();
        close(out.rear.in_newtons(), -600.0, 1e-9);
        close(out.lip.in_newtons(), 1200.0, 1e-9);
    }

    // Derived: similar triangles.
    #[test]
    fn its_front_drops() {
        let (drop, degrees) = drawer(1.35).droop(Metres::millimetres(6.0));
        close(drop.in_millimetres(), 18.0, 1e-3);
        close(degrees, 0.764, 1e-3);
    }

    // Derived: moments about the lip.
    #[test]
    fn the_chest_holds_it_down() {
        let at = Metres::of;
        let inside = [(Kilograms::of(80.0), at(0.9)), (Kilograms::of(60.0), at(0.9))];
        let outside = [(Kilograms::of(60.0), at(1.35 - 0.9))];
        close(safety(&inside, &outside), 4.667, 1e-3);
        assert_eq!(safety(&inside, &[]), f64::INFINITY);
    }
}
