//! Tables for spreadsheets: parts, shopping, gear by drawer, checks.

use crate::design::{Content, Design, Grain, HardwareLine, Need, Purchase};
use crate::paper::{Cell, Column, Table};
use crate::report::document::chosen::PurchaseKind;
use crate::report::document::purchase_kind;
use crate::report::figures::{decimal, length_unit};
use crate::report::naming::Names;
use crate::report::stowed::{holders, mass_of};
use crate::report::words;
use crate::scenario::Scenario;
use crate::units::{Length, Mass, UnitSystem};
use crate::verify::Verified;

/// Every wooden part as it leaves the saw.
///
/// Lengths in the scenario's units as a person reads them off a tape; for inches also in millimetres, exactly. The quantity
/// is that of all the sets; of several, that of one stands beside it.
pub fn parts(scenario: &Scenario, design: &Verified<Design>, sets: u32) -> Table {
    let lengths = Lengths(scenario.units);
    let mut columns = vec![Column::words("mark"), Column::words("part"), Column::words("material")];
    columns.push(Column::count("quantity"));
    if sets > 1 {
        columns.push(Column::count("for one set"));
    }
    columns.extend(lengths.columns(&["length", "width", "thickness"]));
    columns.push(Column::words("length runs"));
    let mut table = Table::new("Parts", columns);
    for part in &design.parts {
        let mut row = vec![
            Cell::text(&part.mark),
            Cell::text(words::role(part.role)),
            Cell::text(&scenario.stock.materials[part.material].name),
            Cell::number(part.quantity.saturating_mul(sets)),
        ];
        if sets > 1 {
            row.push(Cell::number(part.quantity));
        }
        row.extend(lengths.cells(&[part.length, part.width, part.thickness]));
        let grain = words::grain(part.grain);
        row.push(Cell::text(match part.grain {
            Grain::Either => "either way".to_owned(),
            _ => format!("{grain} the grain"),
        }));
        table.row(row);
    }
    table
}

/// Stock and hardware to buy or take from what is on hand.
pub fn shopping(scenario: &Scenario, purchases: &[Purchase], hardware: &[HardwareLine]) -> Table {
    let names = Names::of(scenario);
    let mut table = Table::new(
        "Shopping",
        vec![
            Column::words("kind"),
            Column::words("what"),
            Column::count("needed"),
            Column::count("on hand"),
            Column::count("buy"),
            Column::in_unit("each", &scenario.currency),
            Column::in_unit("cost", &scenario.currency),
        ],
    );
    for bought in purchases {
        let mut row = vec![Cell::text(match purchase_kind(&scenario.stock, bought.what) {
            PurchaseKind::Sheet => "sheet",
            PurchaseKind::Board => "board",
            PurchaseKind::Hardware => "hardware",
        })];
        row.extend(bought_cells(&names, bought));
        table.row(row);
    }
    for line in hardware.iter().filter(|line| line.hardware.is_none()) {
        table.row([
            Cell::text("not listed"),
            Cell::text(words::hardware_use(line.use_)),
            match line.need {
                Need::Count(needed) => Cell::number(needed),
                Need::Length(length) => Cell::text(length.show(scenario.units)),
                Need::Area(area) => Cell::text(area.show(scenario.units)),
            },
        ]);
    }
    table
}

/// What is bought: its name, how many are needed, on hand and to buy, what one costs and all.
pub(super) fn bought_cells(names: &Names, bought: &Purchase) -> [Cell; 6] {
    [
        Cell::text(names.purchase(bought.what)),
        Cell::number(bought.quantity),
        Cell::number(bought.on_hand),
        Cell::number(bought.quantity.saturating_sub(bought.on_hand)),
        Cell::number(bought.unit_price.to_units()),
        Cell::number(bought.cost.to_units()),
    ]
}

/// Every stowed thing with where it stands: x from the left, y from the front, z from the floor of its drawer.
pub fn gear(scenario: &Scenario, design: &Verified<Design>) -> Table {
    let lengths = Lengths(scenario.units);
    let mut columns = vec![Column::words("drawer"), Column::words("gear"), Column::count("copy")];
    columns.extend(lengths.columns(&["x", "y", "z", "across", "along", "high"]));
    columns.push(Column::in_unit("mass", mass_unit(scenario.units)));
    let mut table = Table::new("Gear by drawer", columns);
    for holder in holders(design) {
        let mut items: Vec<_> = holder.plan.items.iter().collect();
        items.sort_by_key(|item| (item.space.at.y, item.space.at.x, item.space.at.z));
        for item in items {
            let mut row =
                vec![Cell::text(holder.name), Cell::text(words::content(scenario, item.content))];
            row.push(match item.content {
                Content::Gear(_) => Cell::number(item.copy + 1),
                Content::Loose(_) => Cell::Empty,
            });
            let (at, size) = (item.space.at, item.space.size);
            row.extend(lengths.cells(&[at.x, at.y, at.z, size.dx, size.dy, size.dz]));
            row.push(mass(mass_of(scenario, item.content), scenario.units));
            table.row(row);
        }
    }
    for left in &design.left_out {
        let name = words::content(scenario, left.content);
        table.row([
            Cell::text("not stowed"),
            Cell::text(name),
            Cell::text(format!("{} left", left.count)),
        ]);
    }
    table
}

/// Every check with its source and what it assumes. Values in SI units, remarks in the reader's.
pub fn checks(units: UnitSystem, design: &Verified<Design>) -> Table {
    let mut table = Table::new(
        "Checks",
        vec![
            Column::words("check"),
            Column::count("found"),
            Column::words("sense"),
            Column::count("limit"),
            Column::words("unit"),
            Column::count("margin"),
            Column::words("verdict"),
            Column::words("source"),
            Column::words("remark"),
        ],
    );
    for check in &design.checks {
        let margin = check.margin();
        table.row([
            Cell::text(&check.name),
            Cell::number(decimal(check.value, 4)),
            Cell::text(words::sense(check)),
            Cell::number(decimal(check.limit, 4)),
            Cell::text(check.unit),
            if margin.is_finite() { Cell::number(decimal(margin, 3)) } else { Cell::Empty },
            Cell::text(words::verdict(check.verdict())),
            Cell::text(words::remark(&check.source, units)),
            Cell::text(words::remark(&check.remark, units)),
        ]);
    }
    table
}

/// The same to be read: figures in the scenario's units, to as many places as one needs.
pub fn checks_to_read(units: UnitSystem, design: &Verified<Design>) -> Table {
    let mut table = Table::new(
        "Checks",
        vec![
            Column::words("check"),
            Column::words("verdict"),
            Column::words("found"),
            Column::words("limit"),
            Column::count("margin"),
            Column::words("remark"),
            Column::words("source"),
        ],
    );
    for check in &design.checks {
        let margin = check.margin();
        table.row([
            Cell::text(&check.name),
            Cell::text(words::verdict(check.verdict())),
            Cell::text(words::found(check, units)),
            Cell::text(words::limit(check, units)),
            if margin.is_finite() { Cell::number(decimal(margin, 2)) } else { Cell::Empty },
            Cell::text(words::remark(&check.remark, units)),
            Cell::text(words::remark(&check.source, units)),
        ]);
    }
    table
}

/// What a cell shows.
pub(super) fn shown(cell: &Cell) -> &str {
    cell.shown()
}

fn mass_unit(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::Inch => "lb",
        UnitSystem::Metric => "kg",
    }
}

fn mass(mass: Mass, units: UnitSystem) -> Cell {
    Cell::number(match units {
        UnitSystem::Inch => decimal(mass.to_pounds(), 2),
        UnitSystem::Metric => decimal(mass.to_kg(), 2),
    })
}

/// How lengths are written: in inches as fractions and again in millimetres, or in millimetres alone.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lengths(pub UnitSystem);

impl Lengths {
    pub fn columns(self, names: &[&str]) -> Vec<Column> {
        let own = names.iter().map(|name| Column::in_unit(*name, length_unit(self.0)));
        let exact = names.iter().filter(|_| self.0 == UnitSystem::Inch);
        own.chain(exact.map(|name| Column::in_unit(*name, "mm"))).collect()
    }

    pub fn cells(self, lengths: &[Length]) -> Vec<Cell> {
        let exact = |length: &Length| Cell::number(length.to_mm());
        match self.0 {
            UnitSystem::Metric => lengths.iter().map(exact).collect(),
            UnitSystem::Inch => {
                let own = lengths.iter().map(|length| Cell::number(length.figure(self.0)));
                own.chain(lengths.iter().map(exact)).collect()
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::csv;
    use crate::report::fixture;

    fn written(table: &Table) -> Vec<String> {
        let bytes = csv(table).expect("writing to memory");
        String::from_utf8(bytes).expect("UTF-8").lines().map(str::to_owned).collect()
    }

    #[test]
    fn parts_are_listed_in_fractions_and_in_exact_millimetres() {
        let scenario = fixture::locksmith();
        let design = fixture::verified(&scenario);
        let lines = written(&parts(&scenario, &design, 1));
        assert_eq!(
            lines[0],
            "mark,part,material,quantity,length (in),width (in),thickness (in),length (mm),\
             width (mm),thickness (mm),length runs"
        );
        assert_eq!(lines.len(), design.parts.len() + 1);
        let member = "M1,member,2x8,3,73 3/4,7 1/4,1 1/2,1873.25,184.15,38.1,along the grain";
        assert!(lines.iter().any(|line| line == member), "{lines:#?}");
    }

    #[test]
    fn parts_of_several_sets_are_told_for_all_and_for_one() {
        let scenario = fixture::locksmith();
        let design = fixture::verified(&scenario);
        let lines = written(&parts(&scenario, &design, 3));
        let member = "M1,member,2x8,9,3,73 3/4,7 1/4,1 1/2,1873.25,184.15,38.1,along the grain";
        assert!(lines.iter().any(|line| line == member), "{lines:#?}");
    }

    #[test]
    fn metric_parts_are_listed_once() {
        let mut scenario = fixture::locksmith();
        scenario.units = UnitSystem::Metric;
        let design = fixture::verified(&scenario);
        let lines = written(&parts(&scenario, &design, 1));
        assert_eq!(
            lines[0],
            "mark,part,material,quantity,length (mm),width (mm),thickness (mm),length runs"
        );
    }

    #[test]
    fn the_shopping_list_adds_up_and_names_what_has_no_price() {
        let scenario = fixture::locksmith();
        let design = fixture::verified(&scenario);
        let table = shopping(&scenario, &design.purchases, &design.hardware);
        let sum: f64 =
            table.rows().iter().filter_map(|row| row[6].shown().parse::<f64>().ok()).sum();
        assert!((sum - design.criteria.cost.to_units()).abs() < 1e-9, "{sum}");
        let lines = written(&table);
        assert!(lines.contains(&"board,2x2 10 ft,1,1,0,4.1,0".to_owned()), "{lines:#?}");
        assert!(
            lines.iter().any(|line| line.starts_with("not listed,hold-downs,4,")),
            "{lines:#?}"
        );
    }

    #[test]
    fn checks_keep_their_sources() {
        let scenario = fixture::locksmith();
        let lines = written(&checks(scenario.units, &fixture::verified(&scenario)));
        let sag = "\"deck sag, loaded\",2.1,at most,3.4,mm,1.619,holds,\"A handbook of this fixture, table 3\",";
        assert!(lines[1].starts_with(sag), "{}", lines[1]);
    }

    #[test]
    fn every_stowed_thing_has_a_row_from_front_to_back() {
        let scenario = fixture::locksmith();
        let design = fixture::verified(&scenario);
        let table = gear(&scenario, &design);
        let (stowed, _) = crate::report::stowed::tally(&scenario, &design);
        assert_eq!(table.rows().len() as u64, stowed + design.left_out.len() as u64);
        let first: Vec<&str> = table.rows()[0].iter().map(Cell::shown).collect();
        assert_eq!(first[..6], ["A1", "Impact driver case", "1", "0", "0", "0"]);
        assert_eq!(first[first.len() - 1], "11");
        let lines = written(&table);
        assert!(lines.iter().any(|line| line.starts_with("not stowed,Generator,1 left")));
    }
}
