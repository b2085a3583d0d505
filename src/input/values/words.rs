//! Words from a list.

use schemars::{Schema, SchemaGenerator, json_schema};

use crate::input::fault::{Code, Fault};
use crate::input::reader::{Node, Reading, Reads, short};
use crate::input::words::near;
use crate::scenario::{
    BedKind, DeckGrain, Demanded, End, Family, HardwareUse, Runs, Securing, Turn,
};
use crate::units::UnitSystem;

pub(super) fn word_of<T: Copy>(words: &[(&'static str, T)], text: &str) -> Option<T> {
    let text = text.trim();
    words.iter().find(|(word, _)| *word == text).map(|(_, value)| *value)
}

pub(super) fn unknown_word<T>(
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
pub(in crate::input) enum FactorySide {
    Along,
    Across,
}

/// An edge of a sheet that is as the factory made it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::input) enum FactoryEdge {
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
        "hold-down" => Self::HoldDown, "bracket" => Self::Bracket, "hinge" => Self::Hinge,
        "other" => Self::Other;
}
