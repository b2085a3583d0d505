//! Texts to numbers and units.

use std::ops::Range;

use super::LONGEST_TEXT;
use super::error::ParseError;
use super::ratio::Ratio;

/// What a number may hold, for people.
pub(super) const DIGITS: &str = "18 digits before and after the point";

/// A number and the unit that follows it, if one does.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Term {
    pub figure: Ratio,
    /// Where the number stands.
    pub at: Range<usize>,
    pub unit: Option<(String, Range<usize>)>,
    /// Whether it was written with a point rather than as a fraction.
    pub decimal: bool,
}

#[derive(Debug, Clone, PartialEq)]
enum Token {
    /// Digits, with or without a point.
    Number {
        figure: Ratio,
        decimal: bool,
    },
    /// A fraction that is one character: ½.
    Fraction(Ratio),
    Slash,
    Minus,
    Plus,
    /// Letters and what belongs to units.
    Word(String),
}

/// The terms of `text`, the first carrying its sign. At least one.
pub(super) fn terms(text: &str) -> Result<Vec<Term>, ParseError> {
    if text.len() > LONGEST_TEXT {
        return Err(ParseError::TooLong { bytes: text.len(), limit: LONGEST_TEXT });
    }
    let tokens = tokens(text)?;
    if tokens.is_empty() {
        return Err(ParseError::Empty);
    }
    Walk { tokens, next: 0, end: text.len() }.terms()
}

fn tokens(text: &str) -> Result<Vec<(Token, Range<usize>)>, ParseError> {
    let mut found = Vec::new();
    let mut rest = text.char_indices().peekable();
    while let Some((start, c)) = rest.next() {
        let one = start..start + c.len_utf8();
        match c {
            _ if c.is_whitespace() => {}
            '0'..='9' | '.' => {
                let end = number_end(text, start);
                found.push((number(text, start..end)?, start..end));
                while rest.next_if(|(place, _)| *place < end).is_some() {}
            }
            '/' | '⁄' | '∕' => found.push((Token::Slash, one)),
            '-' | '−' | '–' => found.push((Token::Minus, one)),
            '+' => found.push((Token::Plus, one)),
            ',' => return Err(ParseError::Comma { at: one }),
            '"' | '″' | '”' | '“' => found.push((Token::Word("\"".into()), one)),
            '\'' | '′' | '’' | '‘' => {
                // Two single primes make a double one.
                match rest.next_if(|(_, next)| *next == c) {
                    Some((second, next)) => {
                        found.push((Token::Word("\"".into()), start..second + next.len_utf8()))
                    }
                    None => found.push((Token::Word("'".into()), one)),
                }
            }
            _ if c.is_alphabetic() || c == '°' => {
                let end = word_end(text, start);
                found.push((Token::Word(text[start..end].to_owned()), start..end));
                // `in.` is as good as `in`.
                let stopped = text[end..].starts_with('.')
                    && !text[end + 1..].starts_with(|next: char| next.is_ascii_digit());
                let end = end + usize::from(stopped);
                while rest.next_if(|(place, _)| *place < end).is_some() {}
            }
            _ => match one_character_fraction(c) {
                Some(fraction) => found.push((Token::Fraction(fraction), one)),
                None => return Err(ParseError::Unexpected { at: one, found: c.to_string() }),
            },
        }
    }
    Ok(found)
}

/// The value of a fraction that is one character.
fn one_character_fraction(c: char) -> Option<Ratio> {
    let (over, under) = match c {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    };
    Some(Ratio { over, under })
}

/// Where the number that starts at `start` ends: digits, a point, and an exponent if digits follow it.
fn number_end(text: &str, start: usize) -> usize {
    let bytes = text.as_bytes();
    let digits = |mut place: usize| {
        while bytes.get(place).is_some_and(|b| b.is_ascii_digit() || *b == b'.') {
            place += 1;
        }
        place
    };
    let end = digits(start);
    if bytes.get(end).is_some_and(|b| b.eq_ignore_ascii_case(&b'e')) {
        let signed = usize::from(bytes.get(end + 1).is_some_and(|b| b"+-".contains(b)));
        if bytes.get(end + 1 + signed).is_some_and(u8::is_ascii_digit) {
            return digits(end + 1 + signed);
        }
    }
    end
}

/// Where the word that starts at `start` ends: letters, then what units carry (`m²`, `kg/m3`).
fn word_end(text: &str, start: usize) -> usize {
    let mut end = start;
    let mut rest = text[start..].char_indices().peekable();
    while let Some((place, c)) = rest.next() {
        let per = c == '/' && rest.peek().is_some_and(|(_, next)| next.is_alphabetic());
        let power = matches!(c, '2' | '3')
            && place > 0
            && !rest.peek().is_some_and(|(_, next)| {
                next.is_alphanumeric() || matches!(next, '.' | '/' | '"' | '″' | '\'')
            });
        // Fractions of one character (½) are numeric, not alphabetic; so are ² and ³.
        if !(c.is_alphabetic() || matches!(c, '²' | '³' | '°') || per || power) {
            break;
        }
        end = start + place + c.len_utf8();
    }
    end
}

fn number(text: &str, at: Range<usize>) -> Result<Token, ParseError> {
    let written = &text[at.clone()];
    let (figures, exponent) = match written.find(['e', 'E']) {
        Some(place) => (&written[..place], &written[place + 1..]),
        None => (written, "0"),
    };
    let (whole, parts) = figures.split_once('.').unwrap_or((figures, ""));
    let wrong = || ParseError::Unexpected { at: at.clone(), found: written.to_owned() };
    if parts.contains('.') || (whole.is_empty() && parts.is_empty()) {
        return Err(wrong());
    }
    let too_large = || ParseError::TooLarge { limit: DIGITS };
    let parts = parts.trim_end_matches('0');
    if whole.trim_start_matches('0').len() > 18 || parts.len() > 18 {
        return Err(too_large());
    }
    let over = format!("0{whole}{parts}").parse().map_err(|_| too_large())?;
    let mut figure = Ratio { over, under: 10_i128.pow(parts.len() as u32) };
    let exponent: i32 = exponent.parse().map_err(|_| wrong())?;
    let power = |e: i32| 10_i128.checked_pow(e.unsigned_abs()).filter(|_| e.abs() <= 18);
    let power = power(exponent).ok_or_else(too_large)?;
    let factor = if exponent < 0 { Ratio { over: 1, under: power } } else { Ratio::whole(power) };
    if exponent != 0 {
        figure = figure.times(factor).ok_or_else(too_large)?;
    }
    Ok(Token::Number { figure, decimal: figures.contains('.') })
}

struct Walk {
    tokens: Vec<(Token, Range<usize>)>,
    next: usize,
    end: usize,
}

impl Walk {
    fn terms(mut self) -> Result<Vec<Term>, ParseError> {
        let negative = self.peek(0) == Some(&Token::Minus);
        self.next += usize::from(negative || self.peek(0) == Some(&Token::Plus));
        let mut terms = Vec::new();
        while self.next < self.tokens.len() || terms.is_empty() {
            let mut term = self.term()?;
            if negative {
                term.figure = term.figure.negated();
            }
            // A hyphen between feet and inches: 6'-3".
            let hyphen = term.unit.is_some() && self.peek(0) == Some(&Token::Minus);
            if hyphen && self.next + 1 < self.tokens.len() {
                self.next += 1;
            }
            terms.push(term);
        }
        Ok(terms)
    }

    fn peek(&self, ahead: usize) -> Option<&Token> {
        self.tokens.get(self.next + ahead).map(|(token, _)| token)
    }

    fn place(&self) -> Range<usize> {
        self.tokens.get(self.next).map_or(self.end..self.end, |(_, at)| at.clone())
    }

    fn term(&mut self) -> Result<Term, ParseError> {
        let start = self.place();
        let (figure, decimal) = self.figure()?;
        let last = self.tokens[self.next - 1].1.end;
        Ok(Term { figure, at: start.start..last, unit: self.unit(), decimal })
    }

    /// `75`, `1/4`, `75 1/4`, `75-1/4`, `75¼`, `¼`.
    fn figure(&mut self) -> Result<(Ratio, bool), ParseError> {
        let whole = match self.peek(0) {
            Some(Token::Fraction(fraction)) => {
                let fraction = *fraction;
                self.next += 1;
                return Ok((fraction, false));
            }
            Some(Token::Number { .. }) if self.peek(1) == Some(&Token::Slash) => {
                return Ok((self.fraction()?, false));
            }
            Some(Token::Number { figure, decimal }) => (*figure, *decimal),
            Some(Token::Word(_)) | None => return Err(ParseError::NoNumber { at: self.place() }),
            Some(Token::Slash | Token::Minus | Token::Plus) => {
                let at = self.place();
                return Err(ParseError::Unexpected { found: self.sign(), at });
            }
        };
        self.next += 1;
        let hyphen = usize::from(self.peek(0) == Some(&Token::Minus));
        let part = match (self.peek(hyphen), self.peek(hyphen + 1)) {
            (Some(Token::Fraction(fraction)), _) => {
                let fraction = *fraction;
                self.next += hyphen + 1;
                fraction
            }
            (Some(Token::Number { .. }), Some(Token::Slash)) => {
                self.next += hyphen;
                self.fraction()?
            }
            _ => return Ok(whole),
        };
        let sum = whole.0.plus(part).ok_or(ParseError::TooLarge { limit: DIGITS })?;
        Ok((sum, whole.1))
    }

    /// `3/4`, both whole numbers.
    fn fraction(&mut self) -> Result<Ratio, ParseError> {
        let over = self.integer()?;
        self.next += 1;
        let place = self.place();
        let under = self.integer()?;
        if under == 0 {
            return Err(ParseError::OverZero { at: place });
        }
        Ok(Ratio { over, under })
    }

    fn integer(&mut self) -> Result<i128, ParseError> {
        match self.peek(0) {
            Some(Token::Number { figure, decimal: false }) if figure.under == 1 => {
                let over = figure.over;
                self.next += 1;
                Ok(over)
            }
            Some(Token::Number { figure, .. }) => Err(ParseError::Unexpected {
                found: format!("{}", figure.to_f64()),
                at: self.place(),
            }),
            _ => Err(ParseError::NoNumber { at: self.place() }),
        }
    }

    /// The unit that follows, `cu` and `sq` taken together with the next word.
    fn unit(&mut self) -> Option<(String, Range<usize>)> {
        let Some((Token::Word(word), at)) = self.tokens.get(self.next).cloned() else {
            return None;
        };
        self.next += 1;
        let lower = word.to_ascii_lowercase();
        let prefix = ["cu", "sq", "cubic", "square", "fl", "lb/cu"].contains(&lower.as_str());
        match self.tokens.get(self.next).cloned() {
            Some((Token::Word(second), end)) if prefix => {
                self.next += 1;
                Some((format!("{word} {second}"), at.start..end.end))
            }
            _ => Some((word, at)),
        }
    }

    fn sign(&self) -> String {
        match self.peek(0) {
            Some(Token::Slash) => "/",
            Some(Token::Minus) => "-",
            _ => "+",
        }
        .to_owned()
    }
}
