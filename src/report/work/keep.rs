//! What is left over as stock of the next job.

use super::kept;
use crate::design::Design;
use crate::design::work::WorkPlan;
use crate::scenario::Scenario;
use crate::units::Length;
use crate::verify::Verified;

/// The rests worth keeping as `[[offcut]]` tables, to be pasted into another scenario that lists the same stock.
///
/// Sizes are in millimetres with their unit, so that they read alike in any scenario; what a factory edge still needs
/// trimmed is taken off already. Rests of boards are listed as offcuts of their length.
pub fn offcuts(
    scenario: &Scenario,
    design: &Verified<Design>,
    work: &Verified<WorkPlan>,
) -> String {
    let mut text = format!(
        "# What is left of {} (design {}) and worth keeping.\n\
         # Paste these tables into a scenario that lists the same materials.\n",
        scenario.title.replace(['\n', '\r'], " "),
        design.id
    );
    let stock = &scenario.stock;
    for (sheet, (layout, cuts)) in work.cutting.sheets.iter().zip(&work.sawing.sheets).enumerate() {
        let item = &stock.items[layout.stock];
        let trim = if item.is_offcut() { Length::ZERO } else { scenario.shop.edge_trim };
        let [longer, shorter] = scenario.shop.keep_offcut;
        let (along, across) = super::super::naming::stock_size(stock, layout.stock).into();
        for (index, rest) in (0..).zip(&cuts.kept) {
            let clean = |from: Length, extent: Length, whole: Length| {
                let low = if from < trim { trim - from } else { Length::ZERO };
                let high = (from + extent - (whole - trim)).or_zero();
                extent - low - high
            };
            let (dx, dy) = (clean(rest.x, rest.dx, along), clean(rest.y, rest.dy, across));
            if dx.max(dy) < longer || dx.min(dy) < shorter {
                continue;
            }
            for _ in 0..layout.repeat {
                text.push_str(&table(
                    &stock.materials[item.material].name,
                    &[dx, dy],
                    &kept(sheet, index),
                ));
            }
        }
    }
    for (board, (layout, cuts)) in work.cutting.boards.iter().zip(&work.sawing.boards).enumerate() {
        let material = &stock.materials[stock.items[layout.stock].material];
        if cuts.keep {
            for _ in 0..layout.repeat {
                text.push_str(&table(&material.name, &[cuts.rest], &format!("B{}", board + 1)));
            }
        }
    }
    text
}

fn table(of: &str, sizes: &[Length], label: &str) -> String {
    let name = toml::Value::String(of.to_owned());
    let mm = |length: &Length| format!("\"{} mm\"", length.to_mm());
    let size = match sizes {
        [length] => format!("length = {}", mm(length)),
        sizes => format!("size = [{}]", sizes.iter().map(mm).collect::<Vec<_>>().join(", ")),
    };
    format!("\n[[offcut]]                       # {label}\nof = {name}\n{size}\n")
}
