//! Single values: quantities, counts, names, words from a list.

use schemars::{Schema, SchemaGenerator, json_schema};

use super::fault::{Code, Fault};
use super::outside::BoardPrice;
use super::reader::{At, Node, Reading, Reads, short, written};
use super::words::near;
use crate::scenario::{
    BedKind, ColumnAt, DeckGrain, Demanded, End, Family, HardwareUse, Measured, Runs, Securing,
    Turn,
};
use crate::units::parse::{self, ParseError};
use crate::units::{Area, Length, Mass, Money, UnitSystem, Volume};

/// Reads a number or text as a quantity, or records what is wrong with it.
fn quantity<T>(
    node: &Node<'_>,
    key: &str,
    reading: &mut Reading,
    expects: &str,
    parse: impl FnOnce(&str, UnitSystem) -> Result<T, ParseError>,
) -> Option<T> {
    let Some(text) = written(node.get_ref()) else {
        reading.wrong_type(node, key, expects);
        return None;
    };
    match parse(&text, reading.units) {
        Ok(value) => Some(value),
        Err(wrong) => {
            let span = reading.place_in(node.span(), &text, wrong.place());
            let message = format!("`{}` is not {expects}: {wrong}", short(&text));
            let fault = Fault::at(Code::Unreadable, span, message);
            reading.fault(match wrong.cure() {
                Some(cure) => fault.help(cure),
                None => fault.help(format!("`{key}` should be {expects}")),
            });
            None
        }
    }
}

/// Implements [`Reads`] for quantities.
macro_rules! quantities {
    ($($type:ty, $expects:literal, $examples:tt, $parse:expr;)+) => {$(
        impl Reads for $type {
            const EXPECTS: &'static str = $expects;

            fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
                quantity(node, key, reading, Self::EXPECTS, $parse)
            }

            fn schema(_: &mut SchemaGenerator) -> Schema {
                json_schema!({
                    "description": Self::EXPECTS,
                    "type": ["number", "string"],
                    "examples": $examples,
                })
            }
        }
    )+};
}

/// A force in newtons.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Newtons(pub f64);

/// A modulus of elasticity in pascals.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Pascals(pub f64);

/// A load per area in pascals.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Pressure(pub f64);

/// A density in kg/m³.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Density(pub f64);

/// An angle in thousandths of a degree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Millidegrees(pub i32);

/// A number in thousandths.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Thousandths(pub i64);

/// A plain number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Number(pub f64);

quantities! {
    Length, "a length", ["75 1/4", "6 ft 3 in", "190 mm", 0.75], parse::length;
    Mass, "a weight", ["11 lb 4 oz", "4.5 kg", 11], parse::mass;
    Volume, "a volume", ["2 gal", "1.5 L", "1 cu ft"], parse::volume;
    Money, "a price", [38.5], |text, _| parse::money(text);
    Newtons, "a force", ["33 lbf", "150 N"], |text, units| parse::newtons(text, units).map(Newtons);
    Pascals, "a modulus of elasticity", ["1.4e6 psi", "8 GPa"],
        |text, units| parse::pascals(text, units).map(Pascals);
    Pressure, "a load per area", ["40 psf", "2 kPa"],
        |text, units| parse::pressure(text, units).map(Pressure);
    Density, "a density", ["36 lb/ft3", "700 kg/m3"],
        |text, units| parse::density(text, units).map(Density);
    Millidegrees, "an angle in degrees", [1.5], |text, _| parse::millidegrees(text).map(Millidegrees);
    Thousandths, "a number", [5], |text, _| parse::thousandths(text).map(Thousandths);
    Number, "a number", [3], |text, _| parse::number(text).map(Number);
}

/// `75 1/4`, `75 1/4 ± 1/8`, or `{ at = "75 1/4", tol = "1/8" }`.
impl Reads for Measured {
    const EXPECTS: &'static str = "a length";

    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
        let Some(table) = node.get_ref().as_table() else {
            let (at, tol) = quantity(node, key, reading, Self::EXPECTS, parse::with_tolerance)?;
            return Some(Self { at, tol });
        };
        reading.refuse_unknown_keys(table, &node.span(), &["at", "tol"]);
        let at = reading.field::<Length>(table, &node.span(), "at", true);
        let tol = reading.field::<Length>(table, &node.span(), "tol", false);
        let tol = tol.map_or(Length::ZERO, |tol| tol.value);
        Some(Self { at: at?.value, tol })
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let length = Length::schema(generator);
        json_schema!({
            "anyOf": [
                length,
                {
                    "type": "object",
                    "properties": { "at": length, "tol": length },
                    "required": ["at"],
                    "additionalProperties": false,
                },
            ],
        })
    }
}

/// An area, or the two sides of one.
impl Reads for Area {
    const EXPECTS: &'static str = "an area";

    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
        if node.get_ref().is_array() {
            let [one, other] = <[At<Length>; 2]>::read(node, key, reading)?;
            return Some(one.value.by(other.value));
        }
        quantity(node, key, reading, Self::EXPECTS, parse::area)
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let sides = <[At<Length>; 2]>::schema(generator);
        json_schema!({ "anyOf": [{ "type": ["number", "string"], "examples": ["30 sq ft"] }, sides] })
    }
}

/// A whole number.
impl Reads for i64 {
    const EXPECTS: &'static str = "a whole number";

    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
        let integer = node.get_ref().as_integer();
        let number = integer.map(|i| i64::from_str_radix(i.as_str(), i.radix()));
        match number {
            Some(Ok(number)) => Some(number),
            Some(Err(_)) => {
                let message = format!("`{key}` is beyond any count");
                reading.fault(Fault::at(Code::OutOfRange, node.span(), message));
                None
            }
            None => {
                reading.wrong_type(node, key, Self::EXPECTS);
                None
            }
        }
    }

    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "integer" })
    }
}

impl Reads for bool {
    const EXPECTS: &'static str = "true or false";

    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
        let value = node.get_ref().as_bool();
        if value.is_none() {
            reading.wrong_type(node, key, Self::EXPECTS);
        }
        value
    }

    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "boolean" })
    }
}

/// The longest name that is taken, in characters.
pub(super) const LONGEST_NAME: usize = 100;

/// A name: one line, not empty, trimmed.
impl Reads for String {
    const EXPECTS: &'static str = "text";

    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
        let Some(text) = node.get_ref().as_str() else {
            reading.wrong_type(node, key, "text in quotes");
            return None;
        };
        let text = text.trim();
        let wrong = if text.is_empty() {
            "is empty".to_owned()
        } else if text.contains(char::is_control) {
            "holds a line break or another control character".to_owned()
        } else if text.chars().count() > LONGEST_NAME {
            format!("is longer than {LONGEST_NAME} characters")
        } else {
            return Some(text.to_owned());
        };
        let message = format!("`{key}` {wrong}");
        reading.fault(Fault::at(Code::OutOfRange, node.span(), message));
        None
    }

    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "string", "minLength": 1, "maxLength": LONGEST_NAME })
    }
}

/// How often a thing is used: a word, or uses per week. In thousandths of uses per week.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Uses(pub i64);

/// The words for how often, in thousandths of uses per week.
const USES: [(&str, i64); 4] =
    [("daily", 7000), ("weekly", 1000), ("monthly", 250), ("rarely", 50)];

impl Reads for Uses {
    const EXPECTS: &'static str = "daily, weekly, monthly, rarely, or uses per week";

    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
        let Some(text) = node.get_ref().as_str() else {
            return Thousandths::read(node, key, reading).map(|uses| Self(uses.0));
        };
        let words = USES.map(|(word, uses)| (word, Self(uses)));
        word_of(&words, text).or_else(|| {
            let uses = parse::thousandths(text).ok().map(Self);
            if uses.is_none() {
                unknown_word(&words, node, text, reading);
            }
            uses
        })
    }

    fn schema(_: &mut SchemaGenerator) -> Schema {
        let words = USES.map(|(word, _)| word);
        json_schema!({ "anyOf": [{ "type": "number", "minimum": 0 }, { "enum": words }] })
    }
}

/// How many stages of cuts there may be; none for as many as wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct StageLimit(pub Option<u8>);

impl Reads for StageLimit {
    const EXPECTS: &'static str = "2, 3 or \"unlimited\"";

    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
        let limit = match (written(node.get_ref()), node.get_ref().as_str()) {
            (_, Some("unlimited")) => Some(Self(None)),
            (Some(text), _) => match text.trim() {
                "2" => Some(Self(Some(2))),
                "3" => Some(Self(Some(3))),
                _ => None,
            },
            (None, _) => None,
        };
        if limit.is_none() {
            reading.wrong_type(node, key, Self::EXPECTS);
        }
        limit
    }

    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "description": Self::EXPECTS, "enum": [2, 3, "unlimited"] })
    }
}

fn word_of<T: Copy>(words: &[(&'static str, T)], text: &str) -> Option<T> {
    let text = text.trim();
    words.iter().find(|(word, _)| *word == text).map(|(_, value)| *value)
}

fn unknown_word<T>(
    words: &[(&'static str, T)],
    node: &Node<'_>,
    text: &str,
    reading: &mut Reading,
) {
    let all = words.iter().map(|(word, _)| *word);
    let quoted: Vec<String> = all.clone().map(|word| format!("\"{word}\"")).collect();
    let help = match near(text, all) {
        Some(word) => format!("did you mean \"{word}\"? All that is known: {}", quoted.join(", ")),
        None => format!("use one of {}", quoted.join(", ")),
    };
    let message = format!("`{}` is not known here", short(text));
    reading.fault(Fault::at(Code::UnknownWord, node.span(), message).help(help));
}

/// Implements [`Reads`] for values that are words of a list.
macro_rules! words {
    ($($type:ty, $expects:literal: $($word:literal => $value:expr),+;)+) => {$(
        impl Reads for $type {
            const EXPECTS: &'static str = $expects;

            fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
                let words: &[(&'static str, Self)] = &[$(($word, $value)),+];
                let Some(text) = node.get_ref().as_str() else {
                    reading.wrong_type(node, key, Self::EXPECTS);
                    return None;
                };
                let value = word_of(words, text);
                if value.is_none() {
                    unknown_word(words, node, text, reading);
                }
                value
            }

            fn schema(_: &mut SchemaGenerator) -> Schema {
                json_schema!({ "enum": [$($word),+] })
            }
        }
    )+};
}

/// An edge of a part that must be the factory's.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum FactorySide {
    Along,
    Across,
}

/// An edge of a sheet that is as the factory made it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum FactoryEdge {
    /// One end of its grain.
    End,
    /// Both.
    Ends,
    /// One edge along its grain.
    Side,
    /// Both.
    Sides,
}

words! {
    FactorySide, "\"along\" or \"across\"":
        "along" => Self::Along, "across" => Self::Across;
    FactoryEdge, "\"end\", \"ends\", \"side\" or \"sides\"":
        "end" => Self::End, "ends" => Self::Ends, "side" => Self::Side, "sides" => Self::Sides;
    UnitSystem, "\"in\" or \"mm\"": "in" => Self::Inch, "mm" => Self::Metric;
    BedKind, "\"pickup\" or \"cargo\"": "pickup" => Self::Pickup, "cargo" => Self::Cargo;
    Turn, "\"fixed\", \"base\" or \"any\"":
        "fixed" => Self::Fixed, "base" => Self::Base, "any" => Self::Any;
    Demanded, "\"nothing\", \"average\" or \"worst-case\"":
        "nothing" => Self::Nothing, "average" => Self::Average, "worst-case" => Self::WorstCase;
    End, "\"tailgate\" or \"cab\"":
        "tailgate" => Self::Tailgate, "cab" => Self::Cab;
    Family, "\"between wells\" or \"above wells\"":
        "between wells" => Self::BetweenWells, "above wells" => Self::AboveWells;
    Securing, "\"49 CFR 393.102\" or \"EN 12195-1\"":
        "49 CFR 393.102" => Self::Cfr, "EN 12195-1" => Self::En;
    DeckGrain, "\"along\" or \"across\"":
        "along" => Self::Along, "across" => Self::Across;
    Runs, "\"strip\", \"waxed\" or \"slides\"":
        "strip" => Self::Strip, "waxed" => Self::Waxed, "slides" => Self::Slides;
    HardwareUse, "what it is for":
        "chest screws" => Self::ChestScrew, "drawer screws" => Self::DrawerScrew,
        "strip" => Self::Strip, "slides" => Self::Slides, "wax" => Self::Wax,
        "handle" => Self::Handle, "lock" => Self::Lock, "lock rod" => Self::LockRod,
        "carpet" => Self::Carpet, "coating" => Self::Coating, "angle" => Self::Angle,
        "hold-down" => Self::HoldDown, "bracket" => Self::Bracket, "other" => Self::Other;
}

/// A tier's letter: `A` is the lowest. From 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct TierName(pub u32);

/// A drawer's name: `A1` is the leftmost of the lowest tier. Tier and column from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct DrawerName(pub u32, pub u32);

/// A drawer, a tier, the left or right column, or one of them in a tier.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Where {
    /// From 0 at the bottom.
    pub tier: Option<u32>,
    /// Which column.
    pub column: Option<ColumnAt>,
}

/// The tier of a letter: there are three at most.
fn tier_of(letter: char) -> Option<u32> {
    "ABC".chars().position(|known| known == letter).and_then(|at| u32::try_from(at).ok())
}

impl TierName {
    fn parse(text: &str) -> Option<Self> {
        let mut letters = text.trim().chars();
        let tier = tier_of(letters.next()?)?;
        letters.next().is_none().then_some(Self(tier))
    }
}

impl DrawerName {
    fn parse(text: &str) -> Option<Self> {
        let mut letters = text.trim().chars();
        let tier = tier_of(letters.next()?)?;
        let column = letters.next()?.to_digit(10).filter(|column| (1..=4).contains(column))?;
        letters.next().is_none().then_some(Self(tier, column - 1))
    }
}

impl Where {
    fn parse(text: &str) -> Option<Self> {
        let column = |word: &str| match word {
            "left" => Some(ColumnAt::FromLeft(0)),
            "right" => Some(ColumnAt::Right),
            _ => None,
        };
        if let Some(DrawerName(tier, column)) = DrawerName::parse(text) {
            return Some(Self { tier: Some(tier), column: Some(ColumnAt::FromLeft(column)) });
        }
        let words: Vec<&str> = text.split_whitespace().collect();
        match words.as_slice() {
            [one] => match (TierName::parse(one), column(one)) {
                (Some(TierName(tier)), _) => Some(Self { tier: Some(tier), column: None }),
                (None, Some(column)) => Some(Self { tier: None, column: Some(column) }),
                (None, None) => None,
            },
            [tier, side] => {
                let TierName(tier) = TierName::parse(tier)?;
                Some(Self { tier: Some(tier), column: Some(column(side)?) })
            }
            _ => None,
        }
    }
}

/// Implements [`Reads`] for names of tiers and drawers.
macro_rules! names {
    ($($type:ty, $expects:literal, $pattern:literal;)+) => {$(
        impl Reads for $type {
            const EXPECTS: &'static str = $expects;

            fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
                let Some(text) = node.get_ref().as_str() else {
                    reading.wrong_type(node, key, Self::EXPECTS);
                    return None;
                };
                let found = Self::parse(text);
                if found.is_none() {
                    let message = format!("`{}` is not {}", short(text), Self::EXPECTS);
                    let help = "tiers are letters from the bottom, A to C; drawers are numbered from the left, 1 to 4";
                    reading.fault(Fault::at(Code::UnknownWord, node.span(), message).help(help));
                }
                found
            }

            fn schema(_: &mut SchemaGenerator) -> Schema {
                json_schema!({ "type": "string", "pattern": $pattern, "description": Self::EXPECTS })
            }
        }
    )+};
}

names! {
    TierName, "a tier, such as A", "^[ABC]$";
    DrawerName, "a drawer, such as A1", "^[ABC][1-4]$";
    Where, "a drawer (A1), a tier (A), left, right, or a tier's left or right (A left)",
        "^([ABC][1-4]|[ABC]( (left|right))?|left|right)$";
}

/// A board's price, or its price with how many are at hand and how many can be had.
#[derive(Debug, Clone)]
pub(super) struct PriceOf(pub BoardPrice);

impl Reads for PriceOf {
    const EXPECTS: &'static str = "a price";

    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
        if node.get_ref().is_table() {
            return BoardPrice::read(node, key, reading).map(Self);
        }
        let value = Money::read(node, key, reading)?;
        let price = Some(At { value, span: node.span() });
        Some(Self(BoardPrice { price, on_hand: None, most: None }))
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let (price, table) = (Money::schema(generator), BoardPrice::schema(generator));
        json_schema!({ "anyOf": [price, table] })
    }
}

/// A table of lengths and their prices.
#[derive(Debug, Clone)]
pub(super) struct PricedLengths(pub Vec<(At<Length>, At<PriceOf>)>);

impl Reads for PricedLengths {
    const EXPECTS: &'static str = "a table of lengths and prices, { \"8 ft\" = 9.80 }";

    fn read(node: &Node<'_>, key: &str, reading: &mut Reading) -> Option<Self> {
        let Some(table) = node.get_ref().as_table() else {
            reading.wrong_type(node, key, Self::EXPECTS);
            return None;
        };
        let mut all = Vec::with_capacity(table.len());
        for (key, node) in table.iter() {
            let price = PriceOf::read(node, key.get_ref(), reading);
            let price = price.map(|value| At { value, span: node.span() });
            match parse::length(key.get_ref(), reading.units) {
                Ok(value) => all.extend(price.map(|p| (At { value, span: key.span() }, p))),
                Err(wrong) => {
                    let message = format!("`{}` is not a length: {wrong}", short(key.get_ref()));
                    let help = wrong.cure().unwrap_or_else(|| "keys are lengths here".into());
                    reading.fault(Fault::at(Code::Unreadable, key.span(), message).help(help));
                }
            }
        }
        // What was there has been reported: an empty table is another fault.
        if all.is_empty() && !table.is_empty() {
            return None;
        }
        // The tree is in the order of the keys' letters; people expect short before long.
        all.sort_by_key(|(length, _)| (length.value, length.span.start));
        Some(Self(all))
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let price = PriceOf::schema(generator);
        json_schema!({
            "type": "object",
            "additionalProperties": price,
            "minProperties": 1,
            "examples": [{ "8 ft": 9.8, "10 ft": { "price": 12.6, "on_hand": 2 } }],
        })
    }
}
