//! Plastic strips grow with the temperature.

use crate::units::physics::Metres;

/// Thermal expansion of UHMW polyethylene, per kelvin, the high end (value from memory; 1.1e-4 to
/// 2e-4).
pub const UHMW_PE: f64 = 2e-4;

/// Growth of a length, α·L·ΔT.
pub fn growth(length: Metres, expansion: f64, kelvin: f64) -> Metres {
    length * (expansion * kelvin)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::testing::close;

    // The definition of the coefficient; its value is from memory.
    #[test]
    fn a_strip_in_summer_and_winter() {
        let grown = growth(Metres::millimetres(1830.0), UHMW_PE, 40.0);
        close(grown.in_millimetres(), 14.64, 1e-6);
    }
}
