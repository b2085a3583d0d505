//! A number with its unit, read from a text.

/// Why a text is not a quantity.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum QuantityError {
    /// There is no number at the start.
    #[error("`{text}` does not start with a number; write it like `{example}`")]
    NoNumber {
        /// What was written.
        text: String,
        /// Something that would do.
        example: String,
    },
    /// The number has no unit behind it.
    #[error("`{text}` has no unit; write it like `{example}` (units: {units})")]
    NoUnit {
        /// What was written.
        text: String,
        /// Something that would do.
        example: String,
        /// The units that would do.
        units: String,
    },
    /// The unit is not one of this quantity.
    #[error("`{unit}` is not a unit of {quantity}; use one of {units}")]
    WrongUnit {
        /// The unit that was written.
        unit: String,
        /// The quantity wanted.
        quantity: &'static str,
        /// The units that would do.
        units: String,
    },
    /// The number is beyond what a float holds.
    #[error("`{text}` is too large")]
    TooLarge {
        /// What was written.
        text: String,
    },
}

/// Reads `number unit`; the number may have thousands commas, a fraction and an exponent.
pub(super) fn parse_with(
    text: &str,
    quantity: &'static str,
    spellings: &[(&str, f64)],
) -> Result<f64, QuantityError> {
    let units = || spellings.iter().map(|(s, _)| *s).collect::<Vec<_>>().join(", ");
    let example = || format!("150 {}", spellings.first().map_or("", |(s, _)| s));
    let trimmed = text.trim();
    let (digits, unit) = trimmed.split_at(number_length(trimmed));
    let Ok(number) = digits.replace(',', "").parse::<f64>() else {
        return Err(QuantityError::NoNumber { text: trimmed.into(), example: example() });
    };
    let unit = unit.trim();
    if unit.is_empty() {
        let (text, example, units) = (trimmed.into(), example(), units());
        return Err(QuantityError::NoUnit { text, example, units });
    }
    let exact = spellings.iter().find(|(s, _)| *s == unit);
    // Capitals are forgiven only where that leaves no doubt: `mpa` and `Mpa` mean MPa, `LBF` lbf.
    let alike = || spellings.iter().find(|(s, _)| s.eq_ignore_ascii_case(unit));
    let Some((_, factor)) = exact.or_else(alike) else {
        return Err(QuantityError::WrongUnit { unit: unit.into(), quantity, units: units() });
    };
    let value = number * factor;
    if value.is_finite() {
        Ok(value)
    } else {
        Err(QuantityError::TooLarge { text: trimmed.into() })
    }
}

/// How many bytes at the start of `text` belong to its number. An `e` counts only with a digit
/// (or a signed digit) behind it, so that no unit beginning with e is swallowed.
fn number_length(text: &str) -> usize {
    let bytes = text.as_bytes();
    let digit = |i: usize| bytes.get(i).is_some_and(u8::is_ascii_digit);
    let sign = |i: usize| matches!(bytes.get(i), Some(b'+' | b'-'));
    let mut end = usize::from(sign(0));
    while digit(end) || matches!(bytes.get(end), Some(b'.' | b',')) {
        end += 1;
    }
    if matches!(bytes.get(end), Some(b'e' | b'E')) {
        let exponent = end + 1 + usize::from(sign(end + 1));
        if digit(exponent) {
            end = exponent;
            while digit(end) {
                end += 1;
            }
        }
    }
    end
}
