//! Ratios of whole numbers, checked.

/// A ratio of two whole numbers, the lower positive. Not reduced: texts are short.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Ratio {
    pub over: i128,
    pub under: i128,
}

impl Ratio {
    pub const fn whole(over: i128) -> Self {
        Self { over, under: 1 }
    }

    /// `None` if the sum cannot be held.
    pub fn plus(self, other: Self) -> Option<Self> {
        if self.under == other.under {
            return Some(Self { over: self.over.checked_add(other.over)?, under: self.under });
        }
        let left = self.over.checked_mul(other.under)?;
        let right = other.over.checked_mul(self.under)?;
        Some(Self { over: left.checked_add(right)?, under: self.under.checked_mul(other.under)? })
    }

    /// `None` if the product cannot be held.
    pub fn times(self, other: Self) -> Option<Self> {
        Some(Self {
            over: self.over.checked_mul(other.over)?,
            under: self.under.checked_mul(other.under)?,
        })
    }

    pub const fn negated(self) -> Self {
        Self { over: -self.over, under: self.under }
    }

    /// The whole number that it is, or the whole numbers below and above it.
    pub fn to_whole(self) -> Result<i128, (i128, i128)> {
        let below = self.over.div_euclid(self.under);
        if self.over.rem_euclid(self.under) == 0 { Ok(below) } else { Err((below, below + 1)) }
    }

    /// The nearest whole number, halves up.
    pub fn rounded(self) -> i128 {
        let below = self.over.div_euclid(self.under);
        let rest = self.over.rem_euclid(self.under);
        if rest >= self.under - rest { below + 1 } else { below }
    }

    /// The nearest float, near enough: for quantities that are floats inside.
    pub fn to_f64(self) -> f64 {
        self.over as f64 / self.under as f64
    }
}
