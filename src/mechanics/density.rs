//! What wood and panels weigh.

use crate::units::physics::{AreaDensity, Density, Metres};

/// Softwood plywood: 3.0 lb/ft² per inch of thickness (a working rule of the trade, repeated by
/// makers; 577 kg/m³).
pub fn softwood_plywood(thickness: Metres) -> AreaDensity {
    AreaDensity::pounds_per_square_foot(3.0 * thickness.in_inches())
}

/// Lumber from its specific gravity on ovendry mass *and* ovendry volume (the G of the NDS), at a
/// moisture content in percent: ρ = 62.4·G/(1 + 0.009·G·MC)·(1 + MC/100) lb/ft³
/// (NDS Supplement 2018, 3.1.3, from memory).
pub fn lumber_from_ovendry_gravity(gravity: f64, moisture_percent: f64) -> Density {
    let swollen = 1.0 + 0.009 * gravity * moisture_percent;
    let wet = 1.0 + moisture_percent / 100.0;
    Density::pounds_per_cubic_foot(62.4 * gravity / swollen * wet)
}

/// Lumber from its specific gravity on ovendry mass and volume at 12 % moisture (the G of Wood
/// Handbook Table 5-3), weighed at 12 %: 1000·G·1.12 kg/m³, from that definition. The same
/// species' two G differ by 3 to 8 %: never mix them.
pub fn lumber_from_gravity_at_12_percent(gravity: f64) -> Density {
    Density::kilograms_per_cubic_metre(1000.0 * gravity * 1.12)
}

/// Birch plywood, a maker's working value (± 50).
pub const BIRCH_PLYWOOD: Density = Density::kilograms_per_cubic_metre(700.0);
/// Aluminium 6061 (value from memory, textbook).
pub const ALUMINIUM: Density = Density::kilograms_per_cubic_metre(2700.0);
/// Low-carbon steel, 0.284 lb/in³ (supplier's data).
pub const STEEL: Density = Density::kilograms_per_cubic_metre(7870.0);
/// Ultra-high-molecular-weight polyethylene (value from memory; 930 to 940).
pub const UHMW_PE: Density = Density::kilograms_per_cubic_metre(935.0);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::testing::close;

    // The trade's rule of 3 lb/ft² per inch.
    #[test]
    fn a_sheet_of_softwood_plywood() {
        let sheet = Metres::inches(48.0) * Metres::inches(96.0);
        let mass = sheet * softwood_plywood(Metres::inches(23.0 / 32.0));
        close(mass.in_pounds(), 69.02, 1e-3);
        close(mass.in_kilograms(), 31.31, 1e-3);
    }

    // NDS Supplement 2018, 3.1.3 (formula from memory), spruce-pine-fir, Douglas fir-larch and
    // southern pine at 12 %.
    #[test]
    fn lumber_at_12_percent() {
        let spf = lumber_from_ovendry_gravity(0.42, 12.0);
        close(spf.in_pounds_per_cubic_foot(), 28.08, 1e-3);
        close(spf.in_kilograms_per_cubic_metre(), 449.8, 1e-3);
        let weights = [(0.50, 531.0), (0.55, 581.0)];
        for (gravity, expected) in weights {
            let density = lumber_from_ovendry_gravity(gravity, 12.0);
            close(density.in_kilograms_per_cubic_metre(), expected, 1e-3);
        }
    }

    // The definition behind Wood Handbook Table 5-3: coast Douglas-fir, G 0.48 at 12 %.
    #[test]
    fn lumber_from_the_wood_handbooks_gravity() {
        let density = lumber_from_gravity_at_12_percent(0.48);
        close(density.in_kilograms_per_cubic_metre(), 537.6, 1e-9);
    }
}
