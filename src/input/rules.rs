//! What cannot be, taken together: one small function for each rule, all of them run.
//!
//! [`check`] sees what was written, with its places, so that one faulty value does not hide the faults of others;
//! [`check_derived`] needs the bed and the allowances with their defaults.

use super::build::{Builder, LONGEST};
use super::fault::{Code, Fault, Span};
use super::outside::{Bed, Scenario};
use super::reader::At;
use crate::scenario::{self, Allowances, Measured, Shop, Turn};
use crate::units::{Area, Length, UnitSystem};

/// The most kinds of gear and loose goods.
pub(super) const MOST_KINDS: usize = 500;

/// The most copies of all gear together.
pub(super) const MOST_IN_ALL: i64 = 5000;

/// The rules on what was written.
pub(super) fn check(file: &Scenario, builder: &mut Builder) {
    let units = builder.reading.units;
    let mut found = Vec::new();
    if let Some(bed) = &file.bed {
        let bed = &bed.value;
        found.extend(wells_within_width(bed, units));
        found.extend(wells_within_length(bed, units));
        found.extend(wells_below_rail(bed, units));
        found.extend(tailgate_below_rail(bed, units));
        found.extend(opening_within_bed(bed, units));
        found.extend(gear_within_bed(file, bed, units));
        found.extend(loose_within_bed(file, bed, units));
    }
    found.extend(names_of_gear(file));
    found.extend(names_of_stock(file));
    found.extend(names_of_hardware(file));
    found.extend(not_too_many(file));
    for fault in found {
        builder.fault(fault);
    }
}

/// The rules on what the defaults have been filled into.
pub(super) fn check_derived(
    file: &Scenario,
    bed: &scenario::Bed,
    shop: &Shop,
    allowances: &Allowances,
    builder: &mut Builder,
) {
    let units = builder.reading.units;
    let mut found = Vec::new();
    found.extend(room_for_handles(file, bed, allowances, units));
    found.extend(room_for_fit(file, bed, allowances, units));
    found.extend(kerf_within_stock(file, shop, units));
    found.extend(step_of_reason(file, shop, units));
    for fault in found {
        builder.fault(fault);
    }
}

/// The rules on stock and shop alone.
pub(super) fn check_stock(file: &Scenario, shop: &Shop, builder: &mut Builder) {
    let units = builder.reading.units;
    let mut found = names_of_stock(file);
    found.extend(kerf_within_stock(file, shop, units));
    found.extend(step_of_reason(file, shop, units));
    for fault in found {
        builder.fault(fault);
    }
}

fn at<T>(given: &Option<At<T>>) -> Option<&At<T>> {
    given.as_ref()
}

/// A measurement that is sound by itself: one that is not has been reported, and what would follow from it is no news.
fn sound(given: &Option<At<Measured>>) -> Option<&At<Measured>> {
    given.as_ref().filter(|given| (Length::from_units(1)..=LONGEST).contains(&given.value.at))
}

/// Wells leave less width between them than the bed has.
fn wells_within_width(bed: &Bed, units: UnitSystem) -> Option<Fault> {
    let (between, width) = (sound(&bed.between_wells)?, sound(&bed.width)?);
    (between.value.at >= width.value.at).then(|| {
        let (inner, outer) = (between.value.at.show(units), width.value.at.show(units));
        Fault::at(
            Code::Impossible,
            between.span.clone(),
            format!("the wells cannot be {inner} apart in a bed {outer} wide"),
        )
        .label("between the wells")
        .also(width.span.clone(), "wall to wall")
        .help("measure both again; where there are no wells, leave `between_wells` and `wells` out")
    })
}

/// Wells start and end within the bed.
fn wells_within_length(bed: &Bed, units: UnitSystem) -> Option<Fault> {
    let (wells, length) = (at(&bed.wells)?, sound(&bed.length)?);
    let (from, long) = (at(&wells.value.from_tailgate)?, at(&wells.value.length)?);
    let over = from.value + long.value - length.value.at;
    over.is_positive().then(|| {
        let (end, over) = ((from.value + long.value).show(units), over.show(units));
        Fault::at(
            Code::Impossible,
            long.span.clone(),
            format!("the wells end {end} from the tailgate, {over} beyond the bed's end"),
        )
        .label("their length")
        .also(from.span.clone(), "their start")
        .also(length.span.clone(), "the bed's length")
    })
}

/// Wells are lower than the rail, and than what the deck must stay under.
fn wells_below_rail(bed: &Bed, units: UnitSystem) -> Option<Fault> {
    let wells = at(&bed.wells)?;
    let height = at(&wells.value.height)?;
    let limit = sound(&bed.clear_height).or(sound(&bed.depth))?;
    (height.value >= limit.value.at).then(|| {
        let (high, most) = (height.value.show(units), limit.value.at.show(units));
        Fault::at(
            Code::Impossible,
            height.span.clone(),
            format!("wells {high} high reach what the deck must stay under, {most}"),
        )
        .label("the wells' height")
        .also(limit.span.clone(), "the deck stays under this")
    })
}

/// The open tailgate stands lower than the rail.
fn tailgate_below_rail(bed: &Bed, units: UnitSystem) -> Option<Fault> {
    let rise = at(&at(&bed.tailgate)?.value.rise)?;
    let depth = sound(&bed.depth).or(sound(&bed.clear_height))?;
    (rise.value >= depth.value.at).then(|| {
        let (rise_, depth_) = (rise.value.show(units), depth.value.at.show(units));
        Fault::at(
            Code::Impossible,
            rise.span.clone(),
            format!("a tailgate cannot stand {rise_} above the floor of a bed {depth_} deep"),
        )
        .label("its rise above the floor, when open")
        .also(depth.span.clone(), "floor to rail")
        .help("`rise` is how far the open tailgate's highest point stands above the bed floor")
    })
}

/// The hatch opening is no larger than the bed behind it is wide.
fn opening_within_bed(bed: &Bed, units: UnitSystem) -> Option<Fault> {
    let opening = at(&bed.opening)?;
    let (width, bed) = (at(&opening.value.width)?, sound(&bed.width)?);
    // Doors may open a little wider than the lining behind them; twice as wide is a slip.
    (width.value > bed.value.at * 2).then(|| {
        let (wide, bed_) = (width.value.show(units), bed.value.at.show(units));
        Fault::at(
            Code::Impossible,
            width.span.clone(),
            format!("an opening {wide} wide does not belong to a bed {bed_} wide"),
        )
        .also(bed.span.clone(), "wall to wall")
    })
}

/// Every thing fits the empty bed in one of the ways it may stand.
fn gear_within_bed(file: &Scenario, bed: &Bed, units: UnitSystem) -> Vec<Fault> {
    let (Some(width), Some(length)) = (sound(&bed.width), sound(&bed.length)) else {
        return Vec::new();
    };
    let Some(height) = sound(&bed.clear_height).or(sound(&bed.depth)) else { return Vec::new() };
    let room = [width, length, height];
    let list = file.gear.iter().flat_map(|gear| &gear.value);
    list.filter_map(|gear| {
        let (name, size) = (at(&gear.value.name)?, at(&gear.value.size)?);
        let turn = gear.value.turn.as_ref().map_or(Turn::Base, |turn| turn.value);
        let (side, over) = least_excess(size, turn, room)?;
        let way = ["wide", "long", "high"][side];
        let over = over.show(units);
        let bed = ["wall to wall", "the bed's length", "the deck stays under this"][side];
        let message = format!("`{}` is larger than the bed: at best {over} too {way}", name.value);
        let fault = Fault::at(Code::TooLarge, size.span.clone(), message)
            .label("length, width, height")
            .also(room[side].span.clone(), bed);
        Some(match turn {
            Turn::Any => fault.help("leave it out, or check its size and its unit"),
            _ => fault.help("check its size and its unit, or let it be turned: `turn = \"any\"`"),
        })
    })
    .collect()
}

/// The side, and by how much, that lacks least over the ways a thing may stand; `None` if it fits in one.
fn least_excess(
    size: &At<[At<Length>; 3]>,
    turn: Turn,
    room: [&At<Measured>; 3],
) -> Option<(usize, Length)> {
    let size = [0, 1, 2].map(|side| size.value[side].value);
    let over = |way: [Length; 3]| {
        let sides = (0..3).map(|side| (way[side] - room[side].value.at, side));
        sides.max().filter(|(over, _)| over.is_positive())
    };
    let mut least: Option<(Length, usize)> = None;
    for way in scenario::stances_of(size, turn) {
        let worst = over(way)?;
        least = Some(least.map_or(worst, |least| least.min(worst)));
    }
    least.map(|(over, side)| (side, over))
}

/// Loose goods take less than the whole bed.
fn loose_within_bed(file: &Scenario, bed: &Bed, units: UnitSystem) -> Vec<Fault> {
    let (Some(width), Some(length)) = (sound(&bed.width), sound(&bed.length)) else {
        return Vec::new();
    };
    let Some(height) = sound(&bed.clear_height).or(sound(&bed.depth)) else { return Vec::new() };
    let floor: Area = width.value.at.by(length.value.at);
    let room = floor.by(height.value.at);
    let list = file.loose.iter().flat_map(|loose| &loose.value);
    list.filter_map(|loose| {
        let (name, volume) = (at(&loose.value.name)?, at(&loose.value.volume)?);
        (volume.value > room).then(|| {
            let (takes, room) = (volume.value.show(units), room.show(units));
            let message = format!("`{}` takes {takes}, the whole bed holds {room}", name.value);
            Fault::at(Code::TooLarge, volume.span.clone(), message)
        })
    })
    .collect()
}

/// Gear and loose goods have names of their own.
fn names_of_gear(file: &Scenario) -> Vec<Fault> {
    let gear = file.gear.iter().flat_map(|gear| &gear.value).map(|gear| &gear.value.name);
    let loose = file.loose.iter().flat_map(|loose| &loose.value).map(|loose| &loose.value.name);
    twice(
        gear.chain(loose).flatten(),
        "two things to stow are called",
        "use `count` for more of one, or another name",
    )
}

/// Sheets and boards have names of their own; a board is not called as a sheet's material is.
fn names_of_stock(file: &Scenario) -> Vec<Fault> {
    let sheets = || file.sheet.iter().flat_map(|sheets| &sheets.value);
    let boards = || file.board.iter().flat_map(|boards| &boards.value);
    let names = sheets().map(|sheet| &sheet.value.name);
    let names = names.chain(boards().map(|board| &board.value.name)).flatten();
    let mut found = twice(names, "two things in the stock are called", "give each its own name");
    let materials: Vec<&At<String>> = sheets().filter_map(|s| at(&s.value.material)).collect();
    for name in boards().filter_map(|board| at(&board.value.name)) {
        if let Some(material) = materials.iter().find(|material| material.value == name.value) {
            let message = format!("`{}` is a board and the material of a sheet", name.value);
            let fault = Fault::at(Code::Duplicate, name.span.clone(), message);
            found.push(fault.also(material.span.clone(), "the sheet's material"));
        }
    }
    found
}

fn names_of_hardware(file: &Scenario) -> Vec<Fault> {
    let names = file.hardware.iter().flat_map(|list| &list.value).map(|one| &one.value.name);
    twice(names.flatten(), "two kinds of hardware are called", "give each its own name")
}

/// A fault for every name that another had before it.
fn twice<'a>(names: impl Iterator<Item = &'a At<String>>, what: &str, help: &str) -> Vec<Fault> {
    let mut seen: std::collections::BTreeMap<&str, &Span> = std::collections::BTreeMap::new();
    let mut found = Vec::new();
    for name in names {
        match seen.get(name.value.as_str()) {
            Some(first) => {
                let message = format!("{what} `{}`", name.value);
                let fault = Fault::at(Code::Duplicate, name.span.clone(), message);
                let fault = fault.label("again here").also((*first).clone(), "first here");
                found.push(fault.help(help));
            }
            None => {
                seen.insert(&name.value, &name.span);
            }
        }
    }
    found
}

/// No more kinds and copies than can be searched in sensible time.
fn not_too_many(file: &Scenario) -> Vec<Fault> {
    let gear = file.gear.iter().flat_map(|gear| &gear.value);
    let loose = file.loose.iter().flat_map(|loose| &loose.value);
    let spans: Vec<&Span> =
        gear.clone().map(|one| &one.span).chain(loose.map(|one| &one.span)).collect();
    let mut found = Vec::new();
    if let Some(span) = spans.get(MOST_KINDS) {
        let message = format!("{} kinds of gear are too many (at most {MOST_KINDS})", spans.len());
        let help = "pack what belongs together into cases and list the cases";
        found.push(Fault::at(Code::OutOfRange, (*span).clone(), message).help(help));
    }
    let mut copies = 0_i64;
    for gear in gear {
        // Counts out of range by themselves are reported where they stand.
        let count = gear.value.count.as_ref().map_or(1, |count| count.value);
        copies += count.clamp(0, 1000);
        if copies > MOST_IN_ALL {
            let message = format!("more than {MOST_IN_ALL} things to stow in all");
            let help = "pack small things into cases, or list them as [[loose]]";
            found.push(Fault::at(Code::OutOfRange, gear.span.clone(), message).help(help));
            break;
        }
    }
    found
}

/// The bed is longer than what handles and the front wall take from it.
fn room_for_handles(
    file: &Scenario,
    bed: &scenario::Bed,
    allowances: &Allowances,
    units: UnitSystem,
) -> Option<Fault> {
    let taken = allowances.handle_room + allowances.front;
    let left = bed.length.at - taken;
    (left <= allowances.stop).then(|| {
        let (long, taken) = (bed.length.at.show(units), taken.show(units));
        let message = format!(
            "a bed {long} long is too short for its handles: handle room and front allowance take {taken}"
        );
        let span = file.bed.as_ref().and_then(|b| at(&b.value.length)).map(|l| l.span.clone());
        let fault = Fault { span, ..Fault::of_file(Code::Impossible, message) };
        fault.help("check the length and its unit, or lessen `handle_room` under [chest]")
    })
}

/// The floor is wider than the allowance taken off it.
fn room_for_fit(
    file: &Scenario,
    bed: &scenario::Bed,
    allowances: &Allowances,
    units: UnitSystem,
) -> Option<Fault> {
    (bed.floor_width() <= allowances.fit).then(|| {
        let (wide, fit) = (bed.floor_width().show(units), allowances.fit.show(units));
        let message = format!("a floor {wide} wide leaves nothing beside a fit allowance of {fit}");
        let span = file.bed.as_ref().and_then(|b| at(&b.value.width)).map(|w| w.span.clone());
        Fault { span, ..Fault::of_file(Code::Impossible, message) }
    })
}

/// The saw, and the trimming of edges, leave something of every sheet and board.
fn kerf_within_stock(file: &Scenario, shop: &Shop, units: UnitSystem) -> Vec<Fault> {
    let given = file.shop.as_ref().map(|shop| &shop.value);
    let kerf = given.and_then(|shop| at(&shop.kerf)).map(|kerf| kerf.span.clone());
    let trim = given.and_then(|shop| at(&shop.edge_trim)).map(|trim| trim.span.clone());
    let sheets = file.sheet.iter().flat_map(|sheets| &sheets.value);
    let sheets = sheets.filter_map(|sheet| {
        let (name, size) = (at(&sheet.value.name)?, at(&sheet.value.size)?);
        // What no more can be bought of is an offcut, and has sawn edges.
        let offcut = at(&sheet.value.most).is_some_and(|most| most.value == 0);
        let edge = if offcut { Length::ZERO } else { shop.edge_trim };
        Some((name, size, size.value[0].value.min(size.value[1].value), edge))
    });
    // A board's section counts its width, which is what a rip takes from. Its edges are not trimmed.
    let boards = file.board.iter().flat_map(|boards| &boards.value);
    let boards = boards.filter_map(|board| {
        let (name, size) = (at(&board.value.name)?, at(&board.value.section)?);
        Some((name, size, size.value[1].value, Length::ZERO))
    });
    let fault = |(name, size, side, edge): (&At<String>, &At<[At<Length>; 2]>, Length, Length)| {
        let (saw, off, name) = (shop.kerf.show(units), edge.show(units), &name.value);
        let (span, message) = if !side.is_positive() {
            return None;
        } else if shop.kerf >= side {
            (&kerf, format!("a kerf of {saw} is wider than `{name}`"))
        } else if edge * 2 >= side {
            (&trim, format!("an edge trim of {off} leaves nothing of `{name}`"))
        } else if edge * 2 + shop.kerf >= side {
            let message = format!("an edge trim of {off} leaves less of `{name}` than the kerf");
            (&trim, message)
        } else {
            return None;
        };
        let span = span.clone().unwrap_or_else(|| size.span.clone());
        Some(Fault::at(Code::Impossible, span, message).also(size.span.clone(), "its size"))
    };
    sheets.chain(boards).filter_map(fault).collect()
}

/// The shop's step is one that a rule can show.
fn step_of_reason(file: &Scenario, shop: &Shop, units: UnitSystem) -> Option<Fault> {
    let step = file.shop.as_ref().and_then(|shop| at(&shop.value.step))?;
    let (least, most) = (Length::from_units(Length::MM.units() / 10), Length::INCH);
    (!(least..=most).contains(&shop.step)).then(|| {
        let message = format!("sizes cannot go down to steps of {}", shop.step.show(units));
        let fault = Fault::at(Code::OutOfRange, step.span.clone(), message);
        fault.help("1/16 in or 1 mm is usual; from 0.1 mm to 1 in will do")
    })
}
