//! How quantities and their products are defined: types in the module that invokes these, with its `parse_with`.

macro_rules! quantity {
    (
        $(#[$doc:meta])*
        $name:ident, $label:literal;
        $( $make:ident / $read:ident = $factor:expr $(, $spelling:literal)* ; )+
    ) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);

            /// The spellings that `parse` accepts, with their factors to the SI unit.
            const SPELLINGS: &'static [(&'static str, f64)] = &[$( $( ($spelling, $factor), )* )+];

            $(
                #[doc = concat!("The quantity of which [`Self::", stringify!($read), "`] is `number`.")]
                pub const fn $make(number: f64) -> Self {
                    Self(number * $factor)
                }

                #[doc = concat!("As a number, `", stringify!($read), "`.")]
                pub const fn $read(self) -> f64 {
                    self.0 / $factor
                }
            )+

            /// Reads a number with its unit.
            ///
            /// # Errors
            /// When the number or the unit is missing or not one of this quantity.
            pub fn parse(text: &str) -> Result<Self, QuantityError> {
                parse_with(text, $label, Self::SPELLINGS).map(Self)
            }

            /// The amount without its sign.
            #[must_use]
            pub const fn abs(self) -> Self {
                Self(self.0.abs())
            }

            /// The larger of two.
            #[must_use]
            pub const fn max(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }

            /// The smaller of two.
            #[must_use]
            pub const fn min(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }
        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }
        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }
        /// The ratio of two of a kind is a bare number.
        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }
        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
                Self(parts.map(|part| part.0).sum())
            }
        }
    };
}

/// `A * B = C` in either order (`square` for a type times itself).
macro_rules! product {
    ($a:ident * $b:ident = $c:ident, square) => {
        impl Mul<$b> for $a {
            type Output = $c;
            fn mul(self, other: $b) -> $c {
                $c(self.0 * other.0)
            }
        }
    };
    ($a:ident * $b:ident = $c:ident) => {
        product!($a * $b = $c, square);
        product!($b * $a = $c, square);
    };
}

/// `C / B = A`, written out one by one because two products may share a result and a factor
/// (stress and area load both make a force of an area).
macro_rules! quotient {
    ($c:ident / $b:ident = $a:ident) => {
        impl Div<$b> for $c {
            type Output = $a;
            fn div(self, other: $b) -> $a {
                $a(self.0 / other.0)
            }
        }
    };
}
