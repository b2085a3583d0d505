//! Names of tiers and drawers.

use schemars::{Schema, SchemaGenerator, json_schema};

use crate::input::fault::{Code, Fault};
use crate::input::reader::{Node, Reading, Reads, short};
use crate::scenario::ColumnAt;

/// A tier's letter: `A` is the lowest. From 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::input) struct TierName(pub u32);

/// A drawer's name: `A1` is the leftmost of the lowest tier. Tier and column from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::input) struct DrawerName(pub u32, pub u32);

/// A drawer, a tier, the left or right column, or one of them in a tier.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::input) struct Where {
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
