//! Numbers for random scenarios.

/// Numbers from a seed (xorshift, Marsaglia 2003), the same everywhere.
pub struct Random(u64);

impl Random {
    /// The numbers of a seed.
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    /// One of `least` to `most`, both among them.
    pub fn within(&mut self, least: u64, most: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        least + self.0 % (most - least + 1)
    }

    /// True once in so many times.
    pub fn one_in(&mut self, chances: u64) -> bool {
        self.within(1, chances) == 1
    }
}
