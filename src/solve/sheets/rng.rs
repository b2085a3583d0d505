//! A small generator of numbers that look random and are the same everywhere.

/// SplitMix64 (Steele, Lea & Flood, "Fast splittable pseudorandom number generators", 2014; the
/// constants are from memory): 64 bits of state, one pass over the period.
#[derive(Debug, Clone)]
pub(super) struct Rng(u64);

impl Rng {
    /// A stream of its own for each `seed`.
    pub(super) fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// The next 64 bits.
    pub(super) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number below `n`; 0 if `n` is 0. The bias of the multiplication is below `n / 2^32`.
    pub(super) fn below(&mut self, n: usize) -> usize {
        ((u128::from(self.next()) * n as u128) >> 64) as usize
    }

    /// True `per_mille` times in a thousand.
    pub(super) fn chance(&mut self, per_mille: usize) -> bool {
        self.below(1000) < per_mille
    }
}
