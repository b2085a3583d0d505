//! Drilling and screw schedules.

use std::collections::BTreeMap;

use super::piece_name;
use crate::design::work::{HoleKind, Plane, Row, Side, WorkPlan};
use crate::design::{Design, PartId};
use crate::paper::{Cell, Column, Table};
use crate::report::tables::Lengths;
use crate::scenario::Scenario;
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
    let mut table = Table::new("Holes", columns);
    for row in &work.rows {
        let piece = work.piece(row.piece);
        for (number, hole) in (1..).zip(&row.holes) {
            let mut cells = vec![
                Cell::text(&design.part(piece.part).mark),
                Cell::text(piece_name(design, work, row.piece)),
                Cell::text(kind(row.kind)),
                Cell::text(face(row.side)),
                row.into.map_or(Cell::Empty, |into| Cell::text(piece_name(design, work, into))),
                Cell::number(number),
            ];
            cells.extend(lengths.cells(hole));
            table.row(cells);
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
    /// How many holes.
    pub count: usize,
    /// Places along the part's length.
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
    let mut bored: BTreeMap<PartId, Vec<(Vec<&Row>, Vec<String>)>> = BTreeMap::new();
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
    let units = scenario.units;
    let all = bored.into_iter().flat_map(|(part, ways)| {
        ways.into_iter().map(move |(rows, pieces)| Schedule {
            part,
            pieces,
            rows: merged(&rows).into_iter().map(|row| worded(&row, units)).collect(),
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

fn worded(row: &Row, units: UnitSystem) -> ScheduleRow {
    let places = |axis: usize| {
        let mut places: Vec<Length> = row.holes.iter().map(|hole| hole[axis]).collect();
        places.sort_unstable();
        places.dedup();
        places.iter().map(|place| place.figure(units)).collect::<Vec<_>>().join(", ")
    };
    ScheduleRow {
        what: kind(row.kind),
        face: face(row.side),
        count: row.holes.len(),
        along: places(0),
        across: places(1),
    }
}

/// What a hole is for.
pub const fn kind(kind: HoleKind) -> &'static str {
    match kind {
        HoleKind::Chest => "chest screw",
        HoleKind::Toe => "chest screw, angled",
        HoleKind::Drawer => "drawer screw",
        HoleKind::Block => "screw into corner block",
        HoleKind::Front => "screw into applied front",
        HoleKind::Divider => "screw into divider",
        HoleKind::Strip => "strip screw",
        HoleKind::Angle => "angle screw",
        HoleKind::HoldDown => "hold-down",
        HoleKind::Bracket => "bracket",
        HoleKind::Handle => "handle's centre",
        HoleKind::Lock => "lock's centre",
        HoleKind::Rod => "lock rod",
        HoleKind::RodMate => "rod's tip (expected)",
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
