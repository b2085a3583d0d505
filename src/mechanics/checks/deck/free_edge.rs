//! A panel over two supports with a free edge, loaded at that edge, an edge beam along it or none.
//!
//! Lévy's single series (Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, §§ 38 and 84; the closed form for the
//! loaded edge is derived): the strip from support to support is simply supported at both and reaches far back from the
//! edge. With λ = mπ/a and w = Σ f(y)·sin λx, f decays from the edge by two roots of D_y·k⁴ − 2Hλ²k² + D_xλ⁴ = 0. No moment
//! across the edge and the load's own wave q_m as its shear give
//!
//! f(0) = q_m / (λ³·√(D_x/D_y)·(√(D_x·D_y) + 2H)/σ + E·I·λ⁴),  σ = √(2H/D_y + 2√(D_x/D_y))
//!
//! with the edge beam's E·I beside the plate's own stiffness. The effect of one way's moments on the other (D₁) is left out.

use crate::units::physics::{
    BendingStiffness, Force, Metres, Moment, MomentPerWidth, PlateStiffness,
};
use std::f64::consts::PI;

/// A panel with a free edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FreeEdge {
    /// From support to support.
    pub span: Metres,
    /// Stiffness of strips from support to support, D_x.
    pub along: PlateStiffness,
    /// Stiffness of strips back from the edge, D_y. More than nothing.
    pub across: PlateStiffness,
    /// H.
    pub twist: PlateStiffness,
    /// Stiffness of a beam along the edge.
    pub beam: BendingStiffness,
}

/// What a load at the edge does there, midway between the supports.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgeResponse {
    /// Downward.
    pub deflection: Metres,
    /// Of the panel's outermost fibre line.
    pub moment: MomentPerWidth,
    /// Of the edge beam.
    pub beam: Moment,
}

/// Terms of the series: the moment under a foot converges like 1/m².
const WAVES: u32 = 199;

impl FreeEdge {
    /// A force midway between the supports, spread over `foot` along the edge line. Nearer to the edge it cannot come: the
    /// depth of a foot, over which it spreads in truth, is left out on the safe side.
    pub fn under(&self, force: Force, foot: Metres) -> EdgeResponse {
        let a = self.span.in_metres();
        let (dx, dy) = (self.along.in_newton_metres(), self.across.in_newton_metres());
        let (h, ei) = (self.twist.in_newton_metres(), self.beam.in_newton_square_metres());
        let ratio = (dx / dy).sqrt();
        let sigma = (2.0 * h / dy + 2.0 * ratio).sqrt();
        let plate = ratio * (dy * ratio + 2.0 * h) / sigma;
        let (mut deflection, mut curvature) = (0.0, 0.0);
        for m in (1..=WAVES).step_by(2) {
            let lambda = f64::from(m) * PI / a;
            let half = lambda * foot.in_metres() / 2.0;
            let spread = if half > 0.0 { libm::sin(half) / half } else { 1.0 };
            // sin²(mπ/2) = 1 at the middle, where load and response are.
            let wave = 2.0 * force.in_newtons() / a * spread;
            let amplitude = wave / (plate * lambda * lambda * lambda + ei * lambda.powi(4));
            deflection += amplitude;
            curvature += amplitude * lambda * lambda;
        }
        EdgeResponse {
            deflection: Metres::of(deflection),
            moment: MomentPerWidth::newtons(dx * curvature),
            beam: Moment::newton_metres(ei * curvature),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::testing::close;

    fn edge(along: f64, across: f64, twist: f64, beam: f64) -> FreeEdge {
        let d = PlateStiffness::newton_metres;
        FreeEdge {
            span: Metres::of(0.5),
            along: d(along),
            across: d(across),
            twist: d(twist),
            beam: BendingStiffness::newton_square_metres(beam),
        }
    }

    const FORCE: Force = Force::newtons(1100.0);

    // Derived: a beam so stiff that the panel is nothing beside it carries it all, P·a³/48EI and P·a/4.
    #[test]
    fn beside_a_stiff_beam_the_panel_does_nothing() {
        let foot = Metres::millimetres(1.0);
        let found = edge(10.0, 10.0, 10.0, 1e7).under(FORCE, foot);
        close(found.deflection.in_metres(), 1100.0 * 0.125 / 48.0 / 1e7, 2e-3);
        close(found.beam.in_newton_metres(), 1100.0 * 0.5 / 4.0, 1e-2);
    }

    // Timoshenko & Woinowsky-Krieger, § 84 (from memory, recomputed): isotropic with ν = 0, H = D, the edge's stiffness for a
    // wave is D·λ³·(1 + 2)/2, so w = Σ q_m·2/(3Dλ³).
    #[test]
    fn an_isotropic_edge_has_three_halves_of_the_stiffness_of_a_wave() {
        let found = edge(400.0, 400.0, 400.0, 0.0).under(FORCE, Metres::of(0.1));
        let wave = |m: f64| {
            let (l, half): (f64, f64) = (m * PI / 0.5, m * PI / 0.5 * 0.05);
            2.0 * 1100.0 / 0.5 * libm::sin(half) / half * 2.0 / (3.0 * 400.0 * l.powi(3))
        };
        let sum: f64 = (0..100).map(|i| wave(f64::from(2 * i + 1))).sum();
        close(found.deflection.in_metres(), sum, 1e-9);
    }

    // Relations: stiffer any way never sags more; a beam takes moment off the panel.
    #[test]
    fn stiffer_is_never_worse() {
        let foot = Metres::millimetres(50.0);
        let sag = |edge: FreeEdge| edge.under(FORCE, foot).deflection;
        let base = edge(170.0, 1180.0, 115.0, 0.0);
        assert!(sag(edge(340.0, 1180.0, 115.0, 0.0)) < sag(base));
        assert!(sag(edge(170.0, 2360.0, 115.0, 0.0)) < sag(base));
        assert!(sag(edge(170.0, 1180.0, 230.0, 0.0)) < sag(base));
        let with = edge(170.0, 1180.0, 115.0, 600.0).under(FORCE, foot);
        assert!(with.deflection < sag(base) && with.moment < base.under(FORCE, foot).moment);
    }
}
