//! Scenarios to start from: a bed of each class, with gear and stock to be replaced by one's own.

use std::fmt::Write as _;

/// A class of bed: its name on the command line, and what it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Class {
    /// Its name on the command line.
    pub name: &'static str,
    /// What it is, in a few words.
    pub what: &'static str,
    bed: Bed,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Bed {
    /// Inches.
    Pickup {
        length: &'static str,
        width: &'static str,
        between: &'static str,
        depth: &'static str,
        wells: [&'static str; 3],
    },
    /// Inches or millimetres, wells or none.
    Floor {
        mm: bool,
        length: &'static str,
        width: &'static str,
        height: &'static str,
        opening: [&'static str; 2],
        wells: Option<[&'static str; 4]>,
    },
}

/// Every class. Figures are rounded from what people publish of such beds; wells, tailgates and cargo floors are
/// assumptions. All are marked in the file as to be measured.
pub const CLASSES: [Class; 7] = [
    Class {
        name: "full-size-short",
        what: "pickup, full-size, short bed",
        bed: Bed::Pickup {
            length: "67",
            width: "66",
            between: "50 1/2",
            depth: "21 1/2",
            wells: ["14", "36", "9"],
        },
    },
    Class {
        name: "full-size-standard",
        what: "pickup, full-size, standard bed",
        bed: Bed::Pickup {
            length: "78",
            width: "66",
            between: "50 1/2",
            depth: "21 1/2",
            wells: ["21", "36", "9"],
        },
    },
    Class {
        name: "full-size-long",
        what: "pickup, full-size, long bed",
        bed: Bed::Pickup {
            length: "97",
            width: "66",
            between: "50 1/2",
            depth: "21 1/2",
            wells: ["25", "38", "9"],
        },
    },
    Class {
        name: "mid-size-short",
        what: "pickup, mid-size, short bed",
        bed: Bed::Pickup {
            length: "60",
            width: "56",
            between: "43",
            depth: "18 1/2",
            wells: ["12", "32", "8 1/2"],
        },
    },
    Class {
        name: "mid-size-long",
        what: "pickup, mid-size, long bed",
        bed: Bed::Pickup {
            length: "73",
            width: "56",
            between: "43",
            depth: "18 1/2",
            wells: ["18", "32", "8 1/2"],
        },
    },
    Class {
        name: "van-floor",
        what: "cargo floor of a medium van, millimetres",
        bed: Bed::Floor {
            mm: true,
            length: "2450",
            width: "1680",
            height: "480",
            opening: ["1450", "1600"],
            wells: Some(["1260", "560", "850", "240"]),
        },
    },
    Class {
        name: "suv-floor",
        what: "cargo floor of an SUV, rear seats folded",
        bed: Bed::Floor {
            mm: false,
            length: "70",
            width: "42",
            height: "15",
            opening: ["40", "30"],
            wells: None,
        },
    },
];

/// The mark of every measurement that was not taken.
pub(super) const MARK: &str = "# typical, measure yours";

/// A commented scenario for a bed of `class`, one of [`CLASSES`]; `None` for another name.
pub fn template(class: &str) -> Option<String> {
    let class = CLASSES.iter().find(|known| known.name == class)?;
    let mm = matches!(class.bed, Bed::Floor { mm: true, .. });
    let (units, currency, words) = if mm {
        ("mm", "EUR", "millimetres, kilograms and litres")
    } else {
        ("in", "USD", "inches, pounds and US gallons")
    };
    let example = if mm { "`190 cm` or `1.9 m`" } else { "`6 ft 3 in` or `190 mm`" };
    let (gear, stock) = if mm {
        (include_str!("gear-mm.toml"), include_str!("stock-mm.toml"))
    } else {
        (include_str!("gear-inch.toml"), include_str!("stock-inch.toml"))
    };
    let mut text = format!(
        "# A scenario to start from: {what}.\n\
         #\n\
         # Bare numbers are {words}; a text may name its own unit, as {example}.\n\
         # Whatever is marked \"typical\" is nobody's vehicle, case or board: put your own figures there.\n\
         # Prices are invented. `bedwright vet FILE` says what is wrong and which defaults are used.\n\n\
         title = \"My {name} chest\"\n\
         units = \"{units}\"\n\
         currency = \"{currency}\"\n\n",
        what = class.what,
        name = class.name,
    );
    bed(&mut text, class.bed);
    text.push_str(gear);
    text.push_str(stock);
    Some(text)
}

/// Writes the bed's table, a line for each measurement.
fn bed(text: &mut String, bed: Bed) {
    let mut line = |key: &str, value: &str, what: &str| {
        let line = format!("{key} = \"{value}\"");
        // Writing to a string cannot fail.
        let _ = writeln!(text, "{line:<42} {MARK}: {what}");
    };
    match bed {
        Bed::Pickup { length, width, between, depth, wells: [from, long, high] } => {
            line(
                "[bed]\nkind = \"pickup\"\nlength",
                length,
                "floor, closed tailgate to front wall",
            );
            line("width", width, "wall to wall");
            line("between_wells", between, "clear width between the wheel wells");
            line("wells.from_tailgate", from, "closed tailgate to where they start");
            line("wells.length", long, "along the bed");
            line("wells.height", high, "above the floor");
            line("depth", depth, "floor to rail");
            line("clear_height", depth, "what the finished deck must stay under");
            line("tailgate.rise", "1/2", "open, its highest point above the floor");
            line("tailgate.length", "21", "open, away from the bed");
            line("payload", "1000 lb", "door placard, less who and what else rides");
            line("wheelbase", "140", "axle to axle");
            line("rear_axle_from_tailgate", "42", "closed tailgate to rear axle");
        }
        Bed::Floor { mm, length, width, height, opening: [wide, high], wells } => {
            line(
                "[bed]\nkind = \"cargo\"\nlength",
                length,
                "floor, closed doors to seats or bulkhead",
            );
            line("width", width, "wall to wall");
            if let Some([between, from, long, high]) = wells {
                line("between_wells", between, "clear width between the wheel arches");
                line("wells.from_tailgate", from, "closed doors to where they start");
                line("wells.length", long, "along the floor");
                line("wells.height", high, "above the floor");
            }
            line("clear_height", height, "what the finished deck must stay under");
            line("opening.width", wide, "least clear width of the doors or hatch");
            line("opening.height", high, "least clear height of the doors or hatch");
            let payload = if mm { "600 kg" } else { "500 lb" };
            line("payload", payload, "door placard, less who and what else rides");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::parse;
    use crate::scenario::BedKind;

    #[test]
    fn every_class_reads_without_fault_or_notice() {
        for class in CLASSES {
            let text = template(class.name).expect("a known class");
            let read = parse(class.name, &text).unwrap_or_else(|faults| panic!("{faults}"));
            assert_eq!(read.warnings, [], "{}", class.name);
            let cargo = read.scenario.bed.kind == BedKind::Cargo;
            assert_eq!(cargo, class.name.ends_with("-floor"), "{}", class.name);
            assert!(read.scenario.gear.len() >= 8 && !read.scenario.loose.is_empty());
        }
        assert_eq!(template("hovercraft"), None);
    }

    #[test]
    fn every_measurement_is_marked() {
        let keys = ["size = [1", "weight", "length", "width", "between", "wells", "depth", "clear"];
        for class in CLASSES {
            let text = template(class.name).expect("a known class");
            let gear = text.find("--- what can be bought").expect("the stock follows the gear");
            for line in text[..gear].lines() {
                if keys.iter().any(|key| line.starts_with(key)) {
                    assert!(line.contains(MARK), "{}: {line}", class.name);
                }
            }
            let thicknesses = text.lines().filter(|line| line.starts_with("thickness"));
            assert!(thicknesses.clone().count() >= 3);
            assert!(thicknesses.into_iter().all(|line| line.contains(MARK)));
        }
    }

    #[test]
    fn lines_are_short_enough_for_a_terminal() {
        for class in CLASSES {
            let text = template(class.name).expect("a known class");
            let long = text.lines().find(|line| line.chars().count() > 112);
            assert_eq!(long, None, "{}", class.name);
        }
    }
}
