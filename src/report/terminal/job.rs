//! A cutting job at the terminal.

use std::collections::BTreeMap;

use super::page::{Page, Style};
use super::shopping::shopping;
use crate::design::{BoardLayout, JobPlan, PartId, SheetLayout, Waste};
use crate::explore::Stop;
use crate::paper::{Cell, Column, Table};
use crate::report::figures::{count, decimal, sizes};
use crate::report::job::{JobFindings, Lacking, Standing};
use crate::report::naming::{Names, named_and_sized, stock_size};
use crate::units::{Area, Length, UnitSystem};

/// All of it: what was asked, what it costs, what to buy, how to cut it, what is lost.
pub fn job(findings: &JobFindings<'_>) -> Page {
    let job = findings.job;
    let mut page = Page::new();
    let copies: u64 = job.parts.iter().map(|part| u64::from(part.count)).sum();
    let line = format!(
        "{}: {} of {}",
        job.title,
        count(copies, "part", "parts"),
        count(job.parts.len() as u64, "kind", "kinds")
    );
    page.say(Style::Strong, "", &line);
    match findings.plan {
        Some(plan) => planned(&mut page, findings, plan),
        None => short(&mut page, findings),
    }
    if !findings.defaults.is_empty() {
        page.heading("Defaults used");
        let used: Vec<String> =
            findings.defaults.iter().map(|one| format!("{} {}", one.key, one.value)).collect();
        page.say(Style::Faint, "  ", &format!("{}.", used.join("; ")));
    }
    page
}

fn planned(page: &mut Page, findings: &JobFindings<'_>, plan: &JobPlan) {
    let job = findings.job;
    let names = Names::of_stock(&job.stock);
    page.say(Style::Plain, "", &verdict(findings, plan));
    if findings.choosy() {
        page.heading("Left out");
        let name = |part: PartId| &job.parts[part.0 as usize].name;
        let left: Vec<String> =
            plan.left_out.iter().map(|(part, n)| format!("{n} {}", name(*part))).collect();
        page.say(Style::Plain, "  ", &format!("{}.", left.join("; ")));
    }
    page.heading("What to buy");
    page.table(&shopping(&names, &job.currency, &plan.purchases));
    page.say(Style::Strong, "", &format!("{} {} in all.", plan.cost(), job.currency));
    page.heading("How it is cut");
    let sheets = plan.cutting.sheets.iter().map(|layout| sheet(findings, &names, layout));
    let boards = plan.cutting.boards.iter().map(|layout| board(findings, &names, layout));
    for (head, pieces) in sheets.chain(boards) {
        page.say(Style::Plain, "  ", &head);
        page.say(Style::Plain, "    ", &pieces);
    }
    let edged = job.parts.iter().filter(|part| part.factory.any());
    let edged: Vec<String> = edged
        .map(|part| match (part.factory.along, part.factory.across) {
            (true, true) => format!("{} (along and an end)", part.name),
            (true, false) => format!("{} (along)", part.name),
            _ => format!("{} (an end)", part.name),
        })
        .collect();
    if !edged.is_empty() {
        page.say(Style::Plain, "  ", &format!("With a factory edge: {}.", edged.join("; ")));
    }
    let text = format!(
        "{}, {} of fence or stop.",
        count(plan.patterns() as u64, "layout", "different layouts"),
        count(u64::from(plan.setups), "set-up", "set-ups")
    );
    page.say(Style::Plain, "", &text);
    page.heading(&format!("Where the stock goes ({})", area_unit(job.units)));
    page.table(&waste(plan, job.units));
}

/// What it costs and what is proved of that.
fn verdict(findings: &JobFindings<'_>, plan: &JobPlan) -> String {
    let currency = &findings.job.currency;
    let cost = plan.cost();
    if findings.choosy() {
        let points = |milli: i64| decimal(milli as f64 / 1000.0, 3);
        let (worth, bound) = (plan.worth_milli(findings.job), plan.worth_bound_milli);
        let proof = match findings.standing() {
            Standing::Proved => "proved: no choice is worth more".to_owned(),
            _ => format!("not proved: no choice is worth more than {}", points(bound)),
        };
        return format!("Worth {} points, {proof}. Cost {cost} {currency}.", points(worth));
    }
    if findings.standing() == Standing::Proved {
        return format!("Cost {cost} {currency}, proved: no plan costs less.");
    }
    let gap = findings.gap().map(|gap| format!(", a gap of {} %", decimal(gap * 100.0, 2)));
    let why = match findings.stopped_by {
        Some(Stop::Work) => "; more work (--work) may find better or prove it",
        Some(Stop::Clock) => "; the time was up",
        Some(Stop::Cancelled) => "; the search was stopped",
        None => "",
    };
    format!(
        "Cost {cost} {currency}, not proved: no plan costs less than {}{}{why}.",
        plan.cutting.bound,
        gap.unwrap_or_default()
    )
}

fn sheet(findings: &JobFindings<'_>, names: &Names, layout: &SheetLayout) -> (String, String) {
    let units = findings.job.units;
    let pieces = layout.pieces.iter().map(|piece| (piece.part, vec![piece.at.dx, piece.at.dy]));
    let mut text = tally(findings, pieces);
    for rest in &layout.offcuts {
        text.push(format!("kept {}", sizes(&[rest.dx, rest.dy], units)));
    }
    (head(findings, names, layout.stock, layout.repeat), format!("{}.", text.join("; ")))
}

fn board(findings: &JobFindings<'_>, names: &Names, layout: &BoardLayout) -> (String, String) {
    let units = findings.job.units;
    let width = |part: PartId| findings.job.parts[part.0 as usize].width;
    let whole = stock_size(&findings.job.stock, layout.stock)[1];
    let pieces = layout.pieces.iter().map(|piece| {
        let ripped = width(piece.part);
        let sides = if ripped < whole { vec![piece.length, ripped] } else { vec![piece.length] };
        (piece.part, sides)
    });
    let mut text = tally(findings, pieces);
    if layout.offcut.is_positive() {
        let kept = layout.offcut >= findings.job.shop.keep_offcut[0];
        let what = if kept { "kept" } else { "rest" };
        text.push(format!("{what} {}", layout.offcut.figure(units)));
    }
    (head(findings, names, layout.stock, layout.repeat), format!("{}.", text.join("; ")))
}

/// `2 of birch 18, 2440 x 1220 mm:`.
fn head(
    findings: &JobFindings<'_>,
    names: &Names,
    stock: crate::scenario::StockId,
    repeat: u32,
) -> String {
    let units = findings.job.units;
    let [length, width] = stock_size(&findings.job.stock, stock);
    let name = names.stock(stock);
    let material = findings.job.stock.items[stock].material;
    let size = if findings.job.stock.materials[material].is_board() {
        length.show(units)
    } else {
        format!("{} x {}", length.figure(units), width.show(units))
    };
    let what = named_and_sized(name, &size);
    match repeat {
        1 => what,
        n => format!("{n} alike of {what}"),
    }
}

/// Equal pieces together, in the order of the parts list: `3 Shelf 640 x 300`.
fn tally(
    findings: &JobFindings<'_>,
    pieces: impl Iterator<Item = (PartId, Vec<Length>)>,
) -> Vec<String> {
    let mut found: BTreeMap<(PartId, Vec<Length>), u32> = BTreeMap::new();
    for piece in pieces {
        *found.entry(piece).or_default() += 1;
    }
    found
        .into_iter()
        .map(|((part, sides), n)| {
            let name = &findings.job.parts[part.0 as usize].name;
            format!("{n} {name} {}", sizes(&sides, findings.job.units))
        })
        .collect()
}

fn waste(plan: &JobPlan, units: UnitSystem) -> Table {
    let mut table = Table::new(
        "",
        vec![
            Column::words(""),
            Column::count("used"),
            Column::count("parts"),
            Column::count("kept"),
            Column::count("kerf"),
            Column::count("trim"),
            Column::count("scrap"),
            Column::in_unit("waste", "%"),
        ],
    );
    let mut row = |name: &str, waste: Waste| {
        if waste.stock == Area::ZERO {
            return;
        }
        let figure = |area: Area| Cell::number(format!("{:.3}", in_unit(area, units)));
        table.row([
            Cell::text(name),
            figure(waste.stock),
            figure(waste.parts),
            figure(waste.kept),
            figure(waste.kerf),
            figure(waste.trim),
            figure(waste.scrap),
            Cell::number(format!("{:.1}", waste.share() * 100.0)),
        ]);
    };
    row("sheets", plan.sheets);
    row("boards", plan.boards);
    table
}

const fn area_unit(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::Inch => "sq ft",
        UnitSystem::Metric => "m²",
    }
}

fn in_unit(area: Area, units: UnitSystem) -> f64 {
    match units {
        UnitSystem::Metric => area.to_square_metres(),
        UnitSystem::Inch => {
            let foot = (Length::INCH * 12).by(Length::INCH * 12);
            area.units() as f64 / foot.units() as f64
        }
    }
}

/// What is lacking.
fn short(page: &mut Page, findings: &JobFindings<'_>) {
    page.heading(match findings.standing() {
        Standing::Impossible => "The stock does not yield all parts",
        _ => "No plan was found that makes do with the stock",
    });
    let names = Names::of_stock(&findings.job.stock);
    for lack in &findings.lacking {
        page.say(Style::Bad, "  ", &lacking(findings, &names, lack));
    }
}

fn lacking(findings: &JobFindings<'_>, names: &Names, lack: &Lacking) -> String {
    let material = names.material(lack.material);
    if lack.more.is_empty() {
        return format!("{material}: nothing was found, however much of it there were.");
    }
    let more: Vec<String> = (lack.more.iter())
        .map(|&(id, n)| format!("{n} more of {}", head(findings, names, id, 1)))
        .collect();
    let more = more.join(" and ");
    if lack.proved {
        format!("{material}: {more} would do, and no fewer (proved).")
    } else {
        format!("{material}: {more} would do; it is not proved that fewer would not.")
    }
}
