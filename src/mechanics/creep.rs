//! Long-term sag.

use crate::units::physics::Metres;

/// K_cr for seasoned lumber used dry (NDS 2018, 3.5.2, as AWC's answers quote it).
pub const SEASONED_LUMBER_DRY: f64 = 1.5;
/// K_cr for unseasoned or wet lumber (same source), and for panels used dry (from memory). A bed
/// under a cover is as good as outdoors, so this is used for everything (assumption).
pub const BED: f64 = 2.0;

/// Deflection in the long run: K_cr·δ(sustained) + δ(short) (NDS 2018, eq. 3.5-1).
pub fn long_term(sustained: Metres, short: Metres, creep_factor: f64) -> Metres {
    sustained * creep_factor + short
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::testing::close;

    // NDS 2018, eq. 3.5-1 by hand.
    #[test]
    fn sustained_sag_grows() {
        let (sustained, short) = (Metres::millimetres(1.2), Metres::millimetres(2.0));
        let dry = long_term(sustained, short, SEASONED_LUMBER_DRY);
        close(dry.in_millimetres(), 3.8, 1e-9);
        close(long_term(sustained, short, BED).in_millimetres(), 4.4, 1e-9);
    }
}
