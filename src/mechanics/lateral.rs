//! Lateral strength of small dowel fasteners by the yield limit equations of NDS 2018, 12.3.
//!
//! A fastener crosses from a side member into a main member; wood crushes, or the steel bends at
//! one or two hinges. Each way to fail is a mode with its own load, and the least is the strength.
//! The equations are dimensional (inches, psi, lb) and keep the standard's symbols.

use crate::units::physics::{Force, Metres, Stress};

/// Dowel bearing strength of wood for fasteners under 1/4 in: 16 600·G^1.84 psi (NDS 2018, Table
/// 12.3.3; reproduces AWC's worked examples).
pub fn wood_bearing(gravity: f64) -> Stress {
    Stress::psi(16_600.0 * libm::pow(gravity, 1.84))
}

/// Dowel bearing strength of plywood that is not Structural I or marine (NDS 2018, Table 12.3.3B,
/// quoted).
pub const PLYWOOD_BEARING: Stress = Stress::psi(3350.0);

/// K_D of NDS 2018, Table 12.3.1B, for fasteners under 1/4 in, by shank diameter.
pub fn diameter_factor(shank: Metres) -> f64 {
    let d = shank.in_inches();
    if d <= 0.17 { 2.2 } else { 10.0 * d + 0.5 }
}

/// What is joined.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Joint {
    /// Diameter that bears and bends: the root for wood screws, the shank for nails.
    pub diameter: Metres,
    /// K_D, from the shank.
    pub diameter_factor: f64,
    /// Bending yield strength of the fastener, F_yb.
    pub bending_yield: Stress,
    /// Length in the main member, less half the tip, l_m.
    pub main_length: Metres,
    /// Bearing strength of the main member, F_em.
    pub main_bearing: Stress,
    /// Length in the side member (each, in double shear), l_s.
    pub side_length: Metres,
    /// Bearing strength of the side member, F_es.
    pub side_bearing: Stress,
}

/// The way a joint yields.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mode {
    /// I_m: the main member crushes.
    MainCrushes,
    /// I_s: the side member crushes.
    SideCrushes,
    /// II: the fastener turns stiffly in both.
    Rocks,
    /// III_m: one hinge, in the side member's plane; the main member crushes.
    HingeMain,
    /// III_s: one hinge in the main member; the side member crushes.
    HingeSide,
    /// IV: a hinge on either side.
    TwoHinges,
}

impl Joint {
    /// Allowable load in single shear at normal duration, and the mode that gives it.
    pub fn single_shear(&self) -> (Force, Mode) {
        self.modes()
            .into_iter()
            .min_by(|a, b| a.0.in_newtons().total_cmp(&b.0.in_newtons()))
            .expect("there are six modes")
    }

    /// Allowable load in double shear: twice I_s, III_s and IV; II and III_m cannot form.
    pub fn double_shear(&self) -> (Force, Mode) {
        let possible = self.modes().into_iter().filter_map(|(load, mode)| match mode {
            Mode::MainCrushes => Some((load, mode)),
            Mode::SideCrushes | Mode::HingeSide | Mode::TwoHinges => Some((load * 2.0, mode)),
            Mode::Rocks | Mode::HingeMain => None,
        });
        possible
            .min_by(|a, b| a.0.in_newtons().total_cmp(&b.0.in_newtons()))
            .expect("four modes remain")
    }

    /// All six modes (NDS 2018, eqs. 12.3-1 to 12.3-6; k2 from memory).
    fn modes(&self) -> [(Force, Mode); 6] {
        let d = self.diameter.in_inches();
        let (lm, ls) = (self.main_length.in_inches(), self.side_length.in_inches());
        let (fem, fes) = (self.main_bearing.in_psi(), self.side_bearing.in_psi());
        let (fyb, kd) = (self.bending_yield.in_psi(), self.diameter_factor);
        let (re, rt) = (fem / fes, lm / ls);
        let root = re + 2.0 * re * re * (1.0 + rt + rt * rt) + rt * rt * re * re * re;
        let k1 = (root.sqrt() - re * (1.0 + rt)) / (1.0 + re);
        let bend_main = 2.0 * fyb * (1.0 + 2.0 * re) * d * d / (3.0 * fem * lm * lm);
        let k2 = -1.0 + (2.0 * (1.0 + re) + bend_main).sqrt();
        let bend_side = 2.0 * fyb * (2.0 + re) * d * d / (3.0 * fem * ls * ls);
        let k3 = -1.0 + (2.0 * (1.0 + re) / re + bend_side).sqrt();
        let both = (2.0 * fem * fyb / (3.0 * (1.0 + re))).sqrt();
        let pounds = Force::pounds_force;
        [
            (pounds(d * lm * fem / kd), Mode::MainCrushes),
            (pounds(d * ls * fes / kd), Mode::SideCrushes),
            (pounds(k1 * d * ls * fes / kd), Mode::Rocks),
            (pounds(k2 * d * lm * fem / ((1.0 + 2.0 * re) * kd)), Mode::HingeMain),
            (pounds(k3 * d * ls * fem / ((2.0 + re) * kd)), Mode::HingeSide),
            (pounds(d * d / kd * both), Mode::TwoHinges),
        ]
    }
}

/// Length in the main member that counts: what reaches it less half the tip, which is two
/// diameters long (NDS 2018, 12.3.5).
pub fn main_length(fastener: Metres, side: Metres, shank: Metres) -> Metres {
    fastener - side - shank
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::screw::gauge;
    use crate::mechanics::testing::close;

    // NDS 2018, 12.3 (derived), against the rule of the editions before 1991, 2520·D² lb in spruce.
    #[test]
    fn a_screw_through_plywood_into_a_member() {
        let screw = gauge(8).unwrap();
        let side = Metres::inches(23.0 / 32.0);
        let joint = Joint {
            diameter: screw.root,
            diameter_factor: diameter_factor(screw.shank),
            bending_yield: screw.bending_yield,
            main_length: main_length(Metres::inches(2.0), side, screw.shank),
            main_bearing: wood_bearing(0.42),
            side_length: side,
            side_bearing: PLYWOOD_BEARING,
        };
        close(joint.main_length.in_inches(), 1.117, 1e-3);
        let (load, mode) = joint.single_shear();
        assert_eq!(mode, Mode::HingeSide);
        close(load.in_pounds_force(), 67.2, 2e-3);
        close(load.in_newtons(), 299.0, 2e-3);
        let older = 2520.0 * screw.shank.in_inches() * screw.shank.in_inches();
        close(older, 67.8, 1e-3);
        close(load.in_pounds_force(), older, 0.02);
    }

    // AWC's worked example of a nail in Douglas fir-larch (reproduced).
    #[test]
    fn a_nail_in_single_shear() {
        let joint = Joint {
            diameter: Metres::inches(0.148),
            diameter_factor: 2.2,
            bending_yield: Stress::psi(90e3),
            main_length: Metres::inches(2.25),
            main_bearing: wood_bearing(0.50),
            side_length: Metres::inches(0.75),
            side_bearing: wood_bearing(0.50),
        };
        let (load, mode) = joint.single_shear();
        assert_eq!(mode, Mode::HingeSide);
        close(load.in_pounds_force(), 105.10, 1e-4);
        close(load.in_newtons(), 467.49, 1e-4);
    }

    // AWC's worked example of a No. 10 screw in double shear (reproduced).
    #[test]
    fn a_screw_in_double_shear() {
        let screw = gauge(10).unwrap();
        let joint = Joint {
            diameter: screw.root,
            diameter_factor: diameter_factor(screw.shank),
            bending_yield: screw.bending_yield,
            main_length: Metres::inches(3.0),
            main_bearing: wood_bearing(0.55),
            side_length: Metres::inches(1.31),
            side_bearing: wood_bearing(0.55),
        };
        close(joint.diameter_factor, 2.4, 1e-12);
        let (load, mode) = joint.double_shear();
        assert_eq!(mode, Mode::TwoHinges);
        close(load.in_pounds_force(), 233.71, 1e-4);
        close(load.in_newtons(), 1039.6, 1e-4);
    }

    // Derived: with very thick members only the steel is left to yield; thin ones crush.
    #[test]
    fn thickness_decides_the_mode() {
        let thick = Joint {
            diameter: Metres::inches(0.131),
            diameter_factor: 2.2,
            bending_yield: Stress::psi(90e3),
            main_length: Metres::inches(8.0),
            main_bearing: wood_bearing(0.42),
            side_length: Metres::inches(8.0),
            side_bearing: wood_bearing(0.42),
        };
        assert_eq!(thick.single_shear().1, Mode::TwoHinges);
        let thin = Joint { side_length: Metres::inches(0.02), ..thick };
        assert_eq!(thin.single_shear().1, Mode::SideCrushes);
    }
}
