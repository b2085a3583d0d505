//! The list of cuts as a table.

use super::{edge, kept, panel, runs, tool};
use crate::design::work::{Edge, SawCut, SheetWork, Tool, WorkPlan, Yield};
use crate::design::{Axis, Design};
use crate::paper::{Cell, Column, Table};
use crate::report::naming::{Names, stock_size};
use crate::report::tables::Lengths;
use crate::scenario::Scenario;
use crate::units::Length;
use crate::verify::Verified;

/// Every cut in its order: sheets, boards to length, boards to width, square lengths on the diagonal.
///
/// `set-up` counts settings: rows with the same number need no new one.
pub fn cuts(scenario: &Scenario, design: &Verified<Design>, work: &Verified<WorkPlan>) -> Table {
    let lengths = Lengths(scenario.units);
    let mut columns = vec![
        Column::words("stock"),
        Column::words("pattern"),
        Column::count("times"),
        Column::count("cut"),
        Column::count("set-up"),
        Column::words("with"),
        Column::words("piece"),
        Column::words("cut runs"),
        Column::words("measured from"),
    ];
    columns.extend(lengths.columns(&["setting"]));
    columns.extend([Column::words("gives"), Column::words("beyond the kerf")]);
    let mut list = List {
        names: Names::of(scenario),
        lengths,
        design,
        table: Table::new("Cuts", columns),
        setup: 0,
        set: None,
    };
    for (sheet, (layout, cuts)) in work.cutting.sheets.iter().zip(&work.sawing.sheets).enumerate() {
        let stock = list.names.stock(layout.stock).to_owned();
        let raw = stock_size(&scenario.stock, layout.stock);
        let bought = !scenario.stock.items[layout.stock].is_offcut();
        for (number, cut) in (1..).zip(&cuts.cuts) {
            list.sheet_cut(
                (&stock, bought.then_some(raw)),
                sheet,
                layout.repeat,
                number,
                cut,
                cuts,
            );
        }
    }
    list.boards(work);
    list.table
}

struct List<'a> {
    names: Names,
    lengths: Lengths,
    design: &'a Design,
    table: Table,
    setup: u32,
    set: Option<(Option<Tool>, &'static str, Length)>,
}

impl List<'_> {
    fn setup(&mut self, set: (Option<Tool>, &'static str, Length)) -> u32 {
        if self.set != Some(set) {
            self.setup += 1;
            self.set = Some(set);
        }
        self.setup
    }

    fn sheet_cut(
        &mut self,
        (stock, raw): (&str, Option<[Length; 2]>),
        sheet: usize,
        repeat: u32,
        number: u32,
        cut: &SawCut,
        work: &SheetWork,
    ) {
        let setup = self.setup((Some(cut.tool), "", cut.setting));
        let units = self.lengths.0;
        let comes = |what: Yield| match what {
            Yield::Part(id) => self.design.part(id).mark.clone(),
            Yield::Panel(id) => format!("panel {}", panel(sheet, id)),
            Yield::Kept(index) => {
                let rest = work.kept.get(index as usize).copied().unwrap_or_default();
                let size = format!("{} x {}", rest.dx.figure(units), rest.dy.figure(units));
                format!("keep {} ({size})", kept(sheet, index))
            }
            Yield::Waste => "waste".to_owned(),
        };
        // An offcut's edges are sawn already.
        let is_raw = raw.is_some_and(|raw| match (cut.axis, cut.from) {
            (Axis::X, Edge::Low) => cut.rect.x == Length::ZERO,
            (Axis::Y, Edge::Low) => cut.rect.y == Length::ZERO,
            (Axis::X, Edge::High) => cut.rect.x + cut.rect.dx == raw[0],
            (Axis::Y, Edge::High) => cut.rect.y + cut.rect.dy == raw[1],
        });
        let factory = if is_raw { ", factory" } else { "" };
        let mut row = vec![
            Cell::text(stock),
            Cell::text(format!("sheet {}", sheet + 1)),
            Cell::number(repeat),
            Cell::number(number),
            Cell::number(setup),
            Cell::text(tool(cut.tool)),
            Cell::text(panel(sheet, cut.panel)),
            Cell::text(runs(cut.axis)),
            Cell::text(format!("{} edge{}", edge(cut.axis, cut.from), factory)),
        ];
        row.extend(self.lengths.cells(&[cut.setting]));
        row.push(Cell::text(comes(cut.near)));
        row.push(cut.far.map_or(Cell::Empty, |far| Cell::text(comes(far))));
        self.table.row(row);
    }

    fn boards(&mut self, work: &WorkPlan) {
        let units = self.lengths.0;
        for (index, (layout, cuts)) in
            work.cutting.boards.iter().zip(&work.sawing.boards).enumerate()
        {
            let stock = self.names.stock(layout.stock).to_owned();
            let last = cuts.cuts.len();
            for (number, cut) in (1..).zip(&cuts.cuts) {
                let setup = if cut.sawn {
                    Cell::number(self.setup((None, "to length", cut.setting)))
                } else {
                    Cell::Empty
                };
                let rest = match (number == last, cuts.keep) {
                    (false, _) => "the board".to_owned(),
                    (true, true) => format!("keep {}", cuts.rest.figure(units)),
                    (true, false) => "waste".to_owned(),
                };
                let with = if cut.sawn { "crosscut stop" } else { "no cut: the end as it is" };
                let mut row = vec![
                    Cell::text(&stock),
                    Cell::text(format!("board {}", index + 1)),
                    Cell::number(layout.repeat),
                    Cell::number(number),
                    setup,
                    Cell::text(with),
                    Cell::text("board"),
                    Cell::text("across the grain"),
                    Cell::text("squared end"),
                ];
                row.extend(self.lengths.cells(&[cut.setting]));
                row.push(Cell::text(&self.design.part(cut.part).mark));
                row.push(if cuts.rest.is_positive() || number < last {
                    Cell::text(rest)
                } else {
                    Cell::Empty
                });
                self.table.row(row);
            }
        }
        self.rips(work);
    }

    fn rips(&mut self, work: &WorkPlan) {
        let materials = |part| self.names.material(self.design.part(part).material).to_owned();
        let rips: Vec<_> = work.sawing.rips.iter().map(|rip| (rip, materials(rip.part))).collect();
        let blocks: Vec<_> =
            work.sawing.diagonals.iter().map(|cut| (cut, materials(cut.part))).collect();
        for (number, (rip, stock)) in (1..).zip(rips) {
            let setup = self.setup((None, "to width", rip.setting));
            let mark = self.design.part(rip.part).mark.clone();
            let mut row = vec![
                Cell::text(stock),
                Cell::text("to width"),
                Cell::number(rip.pieces),
                Cell::number(number),
                Cell::number(setup),
                Cell::text("fence"),
                Cell::text(&mark),
                Cell::text("along the grain"),
                Cell::text("better edge"),
            ];
            row.extend(self.lengths.cells(&[rip.setting]));
            row.push(Cell::text(mark));
            row.push(if rip.rest.is_positive() { Cell::text("waste") } else { Cell::Empty });
            self.table.row(row);
        }
        for (number, (cut, stock)) in (1..).zip(blocks) {
            let setup = self.setup((None, "diagonal", Length::ZERO));
            let mark = self.design.part(cut.part).mark.clone();
            let mut row = vec![
                Cell::text(stock),
                Cell::text("diagonal"),
                Cell::number(cut.pieces),
                Cell::number(number),
                Cell::number(setup),
                Cell::text("blade tilted to 45°"),
                Cell::text(&mark),
                Cell::text("corner to corner"),
                Cell::text("edge"),
            ];
            row.extend(self.lengths.cells(&[]));
            while row.len() < self.table.columns().len() - 2 {
                row.push(Cell::Empty);
            }
            row.push(Cell::text(format!("two blocks of {mark}")));
            self.table.row(row);
        }
    }
}
