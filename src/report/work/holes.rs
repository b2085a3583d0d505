//! Drilling and screw schedules.

use std::collections::BTreeMap;
use std::iter;

use super::piece_name;
use crate::design::work::{HoleKind, Plane, Row, Side, WorkPlan};
use crate::design::{Design, PartId};
use crate::paper::{Cell, Column, Table};
use crate::report::figures::sizes;
use crate::report::tables::Lengths;
use crate::scenario::{Plate, Scenario};
use crate::units::{Length, UnitSystem};
use crate::verify::Verified;

/// Every hole of one set, one a row, in its part's own frame: along its length from the front or the left end, across from
/// the left or the lower edge.
pub fn holes(scenario: &Scenario, design: &Verified<Design>, work: &Verified<WorkPlan>) -> Table {
    let lengths = Lengths(scenario.units);
    let mut columns = vec![
        Column::words("mark"),
        Column::words("piece"),
        Column::words("for"),
        Column::words("face"),
        Column::words("into"),
        Column::count("hole"),
    ];
    columns.extend(lengths.columns(&["along", "across"]));
    columns.push(Column::words("bore or cut-out"));
    let mut table = Table::new("Holes", columns);
    for row in &work.rows {
        let piece = work.piece(row.piece);
        let own = (kind(row.kind), bore(scenario, design, row.kind), row.holes.clone());
        let screws = plate_screws(scenario, design, row)
            .map(|(what, holes)| (what, bore(scenario, design, HoleKind::Front), holes));
        for (what, bore, holes) in iter::once(own).chain(screws) {
            for (number, hole) in (1..).zip(&holes) {
                let mut cells = vec![
                    Cell::text(&design.part(piece.part).mark),
                    Cell::text(piece_name(design, work, row.piece)),
                    Cell::text(what),
                    Cell::text(face(row.side)),
                    row.into.map_or(Cell::Empty, |into| Cell::text(piece_name(design, work, into))),
                    Cell::number(number),
                ];
                cells.extend(lengths.cells(hole));
                cells.push(Cell::text(&bore));
                table.row(cells);
            }
        }
    }
    table
}

/// What is bored in one part: for each different way its copies are bored, which copies, and the rows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Schedule {
    /// The part.
    pub part: PartId,
    /// The copies that are bored alike.
    pub pieces: Vec<String>,
    /// Each row in words.
    pub rows: Vec<ScheduleRow>,
}

/// A row of holes in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ScheduleRow {
    /// What it is for.
    pub what: &'static str,
    /// Which face.
    pub face: &'static str,
    /// What is bored or cut out.
    pub bore: String,
    /// How many holes.
    pub count: usize,
    /// Places along the part's length, as they are read off a tape; the list of holes has them exactly.
    pub along: String,
    /// Places across it.
    pub across: String,
}

/// The drilling schedule, part by part; copies that are bored alike are one entry.
pub fn schedule(
    scenario: &Scenario,
    design: &Verified<Design>,
    work: &Verified<WorkPlan>,
) -> Vec<Schedule> {
    /// Rows that several pieces share, with what these are called.
    type Alike<'a> = (Vec<&'a Row>, Vec<String>);
    let mut bored: BTreeMap<PartId, Vec<Alike<'_>>> = BTreeMap::new();
    for (index, piece) in (0..).zip(&work.pieces) {
        let id = crate::design::work::PieceId(index);
        let rows: Vec<&Row> = work.rows.iter().filter(|row| row.piece == id).collect();
        if rows.is_empty() {
            continue;
        }
        let name = piece_name(design, work, id);
        let ways = bored.entry(piece.part).or_default();
        let alike = |known: &[&Row]| {
            known.len() == rows.len()
                && known
                    .iter()
                    .zip(&rows)
                    .all(|(a, b)| (a.kind, a.side, &a.holes) == (b.kind, b.side, &b.holes))
        };
        match ways.iter_mut().find(|(known, _)| alike(known)) {
            Some((_, names)) => names.push(name),
            None => ways.push((rows, vec![name])),
        }
    }
    let all = bored.into_iter().flat_map(|(part, ways)| {
        ways.into_iter().map(move |(rows, pieces)| Schedule {
            part,
            pieces,
            rows: merged(&rows).iter().flat_map(|row| worded(scenario, design, row)).collect(),
        })
    });
    all.collect()
}

/// Straight rows of one kind and face that are alike but for the line they stand on are one: two lines of screws side by
/// side, so that every place along goes with every place across.
fn merged(rows: &[&Row]) -> Vec<Row> {
    let mut all: Vec<(Option<Line>, Row)> = Vec::new();
    for row in rows {
        let line = Line::of(row);
        let alike = |known: &(Option<Line>, Row)| {
            line.is_some()
                && known.0 == line
                && (known.1.kind, known.1.side) == (row.kind, row.side)
        };
        match all.iter_mut().find(|known| alike(known)) {
            Some((_, known)) => known.holes.extend(&row.holes),
            None => all.push((line, (*row).clone())),
        }
    }
    all.into_iter().map(|(_, row)| row).collect()
}

/// The places of a straight row and which way it runs; `None` for a row that is not straight.
#[derive(PartialEq)]
struct Line {
    axis: usize,
    places: Vec<Length>,
}

impl Line {
    fn of(row: &Row) -> Option<Self> {
        let first = row.holes.first()?;
        let axis =
            (0..2).find(|axis| row.holes.iter().all(|hole| hole[1 - axis] == first[1 - axis]))?;
        Some(Self { axis, places: row.holes.iter().map(|hole| hole[axis]).collect() })
    }
}

/// A row in words, and the one of the screws around it if it is the middle of a plate.
fn worded(scenario: &Scenario, design: &Design, row: &Row) -> Vec<ScheduleRow> {
    let units = scenario.units;
    let told = |what: &'static str, bore: String, holes: &[[Length; 2]]| {
        let places = |axis: usize| {
            let mut places: Vec<Length> = holes.iter().map(|hole| hole[axis]).collect();
            places.sort_unstable();
            places.dedup();
            places.iter().map(|place| place.on_tape(units)).collect::<Vec<_>>().join(", ")
        };
        let (along, across) = (places(0), places(1));
        ScheduleRow { what, face: face(row.side), bore, count: holes.len(), along, across }
    };
    let mut rows = vec![told(kind(row.kind), bore(scenario, design, row.kind), &row.holes)];
    if let Some((what, holes)) = plate_screws(scenario, design, row) {
        rows.push(told(what, bore(scenario, design, HoleKind::Front), &holes));
    }
    rows
}

/// Diameter of a hole of a kind; `None` where what goes in says it. A No. 8 screw's shank is 4.2 mm, its pilot 2.5 to 3 mm in
/// wood; the rods' holes are for rods of 1/4 in to 8 mm (common practice, no source).
pub fn diameter(kind: HoleKind, units: UnitSystem) -> Option<Length> {
    let inch = units == UnitSystem::Inch;
    let of = |(over, under): (i64, i64), tenths: i64| {
        Some(if inch { Length::inches(over, under) } else { Length::MM * tenths / 10 })
    };
    match kind {
        HoleKind::Chest
        | HoleKind::Toe
        | HoleKind::Drawer
        | HoleKind::Block
        | HoleKind::Front
        | HoleKind::Divider => of((3, 16), 45),
        HoleKind::Strip | HoleKind::Angle => of((7, 64), 30),
        HoleKind::Rod | HoleKind::RodMate => of((3, 8), 100),
        HoleKind::HoldDown | HoleKind::Bracket | HoleKind::Handle | HoleKind::Lock => None,
    }
}

/// Bore of a hand-hold's ends, and how far these are apart: what a gloved hand goes into (common practice, no source).
pub const fn hand_hold_size(units: UnitSystem) -> [Length; 2] {
    match units {
        UnitSystem::Inch => [Length::inches(5, 4), Length::inches(13, 4)],
        UnitSystem::Metric => [Length::mm(32), Length::mm(83)],
    }
}

/// How the handles or locks of a design are let in, or its brackets screwed on.
pub fn plate(scenario: &Scenario, design: &Design, kind: HoleKind) -> Plate {
    let line = design.hardware.iter().find(|line| Some(line.use_) == kind.takes());
    let chosen = line.and_then(|line| line.hardware).filter(|_| is_let_in(kind));
    chosen.map_or_else(Plate::default, |id| scenario.stock.hardware[id].plate)
}

const fn is_let_in(kind: HoleKind) -> bool {
    matches!(kind, HoleKind::Handle | HoleKind::Lock | HoleKind::Bracket)
}

/// What is bored or cut out there.
pub fn bore(scenario: &Scenario, design: &Design, kind: HoleKind) -> String {
    let units = scenario.units;
    match (diameter(kind, units), kind) {
        (Some(diameter), _) => diameter.figure(units),
        (None, HoleKind::HoldDown) => "the insert's".to_owned(),
        (None, HoleKind::Bracket) => "the bracket's".to_owned(),
        (None, _) => match plate(scenario, design, kind) {
            Plate { cut_out: Some(size), .. } => format!("cut out {}", sizes(&size, units)),
            Plate { screws: Some(_), .. } => "by its screws".to_owned(),
            Plate { .. } => "as its maker says".to_owned(),
        },
    }
}

/// Each place of the screws of the plates that a row of handles, locks or brackets is the middle of, with what they are.
fn plate_screws(
    scenario: &Scenario,
    design: &Design,
    row: &Row,
) -> Option<(&'static str, Vec<[Length; 2]>)> {
    let places = plate(scenario, design, row.kind).screw_places();
    let what = match row.kind {
        HoleKind::Lock => "lock's screws",
        HoleKind::Bracket => "bracket's screws",
        _ => "handle's screws",
    };
    let around = |[along, across]: [Length; 2]| {
        places.iter().map(move |place| [along + place[0], across + place[1]])
    };
    let all: Vec<[Length; 2]> = row.holes.iter().flat_map(|hole| around(*hole)).collect();
    (!all.is_empty()).then_some((what, all))
}

/// What a hole is for.
pub const fn kind(kind: HoleKind) -> &'static str {
    match kind {
        HoleKind::Chest => "chest screw",
        HoleKind::Toe => "chest screw, angled",
        HoleKind::Drawer => "drawer screw",
        HoleKind::Block => "into corner block",
        HoleKind::Front => "into applied front",
        HoleKind::Divider => "into divider",
        HoleKind::Strip => "strip screw",
        HoleKind::Angle => "angle screw",
        HoleKind::HoldDown => "hold-down",
        HoleKind::Bracket => "bracket",
        HoleKind::Handle => "handle's middle",
        HoleKind::Lock => "lock's middle",
        HoleKind::Rod => "lock rod",
        HoleKind::RodMate => "rod's tip, expected",
    }
}

/// Which face, as the chest stands.
pub const fn face(side: Side) -> &'static str {
    match side {
        Side::Left => "left",
        Side::Right => "right",
        Side::Front => "front",
        Side::Rear => "rear",
        Side::Under => "underside",
        Side::Top => "top",
    }
}

/// From where a part's places are measured.
pub const fn origin(plane: Plane) -> &'static str {
    match plane {
        Plane::Flat => "along from the front end, across from the left edge",
        Plane::Lengthwise => "along from the front end, across from the lower edge",
        Plane::Crosswise => "along from the left end, across from the lower edge",
    }
}
