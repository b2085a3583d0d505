//! Fractions set as fractions.
//!
//! ISO 129-1 and ASME Y14.5 (from memory) set the parts of a common fraction smaller than whole numbers.
//! A drawing's text stays `75 1/4`, which can be searched for; writers set it by the pieces found here: a
//! raised numerator, a fraction slash, a denominator on the baseline. The faces at hand have no
//! feature that would do so.

/// A piece of a text with how it is set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Piece<'a> {
    pub text: &'a str,
    /// Size as a share of the text's.
    pub size: f64,
    /// How far its baseline is raised, in capital heights of the text.
    pub rise: f64,
}

/// Size of the figures of a fraction.
const SMALL: f64 = 0.68;
/// Rise of a numerator, so that its top is level with a capital's.
const RISE: f64 = 0.36;
/// Size of the blank between a whole number and its fraction.
const GAP: f64 = 0.4;

/// Splits a text at its fractions: a number over a larger power of two, up to 128, which stands alone or
/// after a whole number.
pub(super) fn set(text: &str) -> Vec<Piece<'_>> {
    let bytes = text.as_bytes();
    let mut pieces = Vec::new();
    let mut from = 0;
    let mut at = 0;
    while let Some(slash) = bytes[at..].iter().position(|b| *b == b'/').map(|i| at + i) {
        at = slash + 1;
        let first = digits_before(bytes, slash, from);
        let end = slash + 1 + bytes[slash + 1..].iter().take_while(|b| b.is_ascii_digit()).count();
        if !is_fraction(text, first, slash, end, from) {
            continue;
        }
        // A blank before it, if a digit stands before that.
        let blank = blank_before(text, first, from);
        plain(&mut pieces, &text[from..blank]);
        if blank < first {
            pieces.push(Piece { text: &text[blank..first], size: GAP, rise: 0.0 });
        }
        pieces.push(Piece { text: &text[first..slash], size: SMALL, rise: RISE });
        pieces.push(Piece { text: "\u{2044}", size: SMALL, rise: RISE / 2.0 });
        pieces.push(Piece { text: &text[slash + 1..end], size: SMALL, rise: 0.0 });
        from = end;
        at = end;
    }
    plain(&mut pieces, &text[from..]);
    pieces
}

fn plain<'a>(pieces: &mut Vec<Piece<'a>>, text: &'a str) {
    if !text.is_empty() {
        pieces.push(Piece { text, size: 1.0, rise: 0.0 });
    }
}

fn digits_before(bytes: &[u8], slash: usize, from: usize) -> usize {
    let count = bytes[from..slash].iter().rev().take_while(|b| b.is_ascii_digit()).count();
    slash - count
}

fn is_fraction(text: &str, first: usize, slash: usize, end: usize, from: usize) -> bool {
    let (Ok(top), Ok(bottom)) =
        (text[first..slash].parse::<u32>(), text[slash + 1..end].parse::<u32>())
    else {
        return false;
    };
    let part_of_more =
        |c: Option<char>| c.is_some_and(|c| c.is_alphanumeric() || "/.,".contains(c));
    let follows = text[end..].chars().next().filter(|c| !".,".contains(*c));
    let before = text[from..first].chars().next_back();
    top < bottom
        && bottom.is_power_of_two()
        && bottom <= 128
        && !part_of_more(before)
        && !part_of_more(follows)
}

/// Where the blank between a whole number and the fraction at `first` begins; `first` if there is none.
fn blank_before(text: &str, first: usize, from: usize) -> usize {
    let mut before = text[from..first].char_indices().rev();
    match (before.next(), before.next()) {
        (Some((at, ' ' | '\u{a0}')), Some((_, digit))) if digit.is_ascii_digit() => from + at,
        _ => first,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(text: &str) -> Vec<(&str, bool)> {
        set(text).into_iter().map(|p| (p.text, p.size < 1.0)).collect()
    }

    #[test]
    fn fractions_are_found_and_nothing_is_lost() {
        assert_eq!(
            shown("75 1/4 × 15/32"),
            [
                ("75", false),
                (" ", true),
                ("1", true),
                ("\u{2044}", true),
                ("4", true),
                (" × ", false),
                ("15", true),
                ("\u{2044}", true),
                ("32", true)
            ]
        );
        assert_eq!(
            shown("6' 3-1/2\""),
            [("6' 3-", false), ("1", true), ("\u{2044}", true), ("2", true), ("\"", false)]
        );
        for whole in
            ["1:10", "4/1", "1/3", "1/2/2026", "x1/2", "a/b", "3/", "/4", "1/256", "1/4x", ""]
        {
            assert_eq!(shown(whole), if whole.is_empty() { vec![] } else { vec![(whole, false)] });
        }
    }
}
