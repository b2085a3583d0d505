//! The shopping list at the terminal.

use crate::design::Purchase;
use crate::paper::{Cell, Column, Table};
use crate::report::naming::Names;

/// How many to buy of what, and what it costs.
pub(super) fn shopping(names: &Names, currency: &str, purchases: &[Purchase]) -> Table {
    let mut table = Table::new(
        "",
        vec![
            Column::count("buy"),
            Column::words("what"),
            Column::count("on hand"),
            Column::in_unit("each", currency),
            Column::in_unit("cost", currency),
        ],
    );
    for bought in purchases {
        let on_hand = match bought.on_hand {
            0 => Cell::Empty,
            some => Cell::number(some),
        };
        table.row([
            Cell::number(bought.quantity - bought.on_hand.min(bought.quantity)),
            Cell::text(names.purchase(bought.what)),
            on_hand,
            Cell::number(bought.unit_price),
            Cell::number(bought.cost),
        ]);
    }
    table
}
