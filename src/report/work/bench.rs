//! The assembly and the hardware as tables.

use super::steps;
use crate::design::work::WorkPlan;
use crate::design::{Design, Need};
use crate::paper::{Cell, Column, Table};
use crate::report::figures::decimal;
use crate::report::naming::Names;
use crate::report::words;
use crate::scenario::Scenario;
use crate::verify::Verified;

/// Every step of the assembly, one a row.
pub fn step_list(
    scenario: &Scenario,
    design: &Verified<Design>,
    work: &Verified<WorkPlan>,
) -> Table {
    let columns = ["stage", "step", "what", "parts", "hardware", "how", "why now", "check"];
    let mut table = Table::new("Assembly", columns.map(Column::words).to_vec());
    for (number, step) in (1..).zip(steps(scenario, design, work)) {
        let plain = |text: &str| Cell::text(text.replace('*', ""));
        table.row([
            Cell::text(step.stage.name()),
            Cell::number(number),
            plain(&step.title),
            plain(&step.parts.join("; ")),
            plain(&step.hardware.join("; ")),
            plain(&step.does.join(" ")),
            step.why.as_deref().map_or(Cell::Empty, plain),
            plain(&step.check),
        ]);
    }
    table
}

/// Hardware of all the sets by what it is for: how much is needed, in which packages, at what price.
pub fn hardware(scenario: &Scenario, work: &Verified<WorkPlan>) -> Table {
    let names = Names::of(scenario);
    let mut table = Table::new(
        "Hardware",
        vec![
            Column::words("for"),
            Column::words("hardware"),
            Column::count("needed"),
            Column::words("unit"),
            Column::count("packages"),
            Column::in_unit("cost", &scenario.currency),
        ],
    );
    for line in &work.hardware {
        let (needed, unit) = match line.need {
            Need::Count(count) => (count.to_string(), "pieces"),
            Need::Length(length) => (decimal(length.to_mm(), 1), "mm"),
            Need::Area(area) => (decimal(area.to_square_metres(), 3), "m²"),
        };
        table.row([
            Cell::text(words::hardware_use(line.use_)),
            line.hardware.map_or_else(
                || Cell::text("not in the scenario"),
                |id| Cell::text(names.hardware(id)),
            ),
            Cell::number(needed),
            Cell::text(unit),
            Cell::number(line.packages),
            Cell::number(line.cost.to_units()),
        ]);
    }
    table
}
