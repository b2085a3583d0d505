//! The booklet's lists: what to measure, to buy, the parts, the checks, finishing.

use super::{Job, plain, rich};
use crate::design::{Content, Grain, Need, PurchaseOf, Verdict};
use crate::paper::Table;
use crate::paper::flow::{Block, Grid, GridCell};
use crate::report::figures::{count, decimal, length_unit_word, sizes};
use crate::report::naming::Names;
use crate::report::stowed::holders;
use crate::report::work::fits;
use crate::report::{tables, words};
use crate::scenario::{HardwareUse, Runs};
use crate::units::Money;

fn text(text: impl AsRef<str>) -> GridCell {
    GridCell::text(text.as_ref())
}

/// The cover's table.
pub fn summary(job: &Job<'_>) -> Grid {
    let (scenario, design) = (job.scenario, job.design);
    let units = scenario.units;
    let carcass = &design.chest.carcass;
    let width = carcass.tiers.iter().map(|frame| frame.width).max().unwrap_or_default();
    let things: usize = holders(design).iter().map(|holder| holder.plan.items.len()).sum();
    let tiers: Vec<String> = (0..carcass.tiers.len())
        .map(|tier| design.drawers.iter().filter(|drawer| drawer.tier == tier).count().to_string())
        .collect();
    let mut grid = Grid::new(&["", ""]);
    let mut row = |name: &str, value: String| grid.row([GridCell::bold(name), text(plain(&value))]);
    row(
        "Outside",
        format!(
            "{} wide, {} long, top {} above the floor",
            width.show(units),
            (carcass.length + scenario.allowances.deck_overhang).show(units),
            carcass.top_z.show(units)
        ),
    );
    row("Drawers", format!("{}, bottom to top {}", design.drawers.len(), tiers.join(" and ")));
    row("Slide on", words::runs(design.structure.runs).to_owned());
    row("Stowed", count(things as u64, "thing", "things"));
    row("Usable volume", design.criteria.usable_volume.show(units));
    row("To buy", format!("{} {}", design.criteria.cost, scenario.currency));
    row(
        "Weight",
        format!(
            "{} empty, {} with its gear",
            design.criteria.mass.show(units),
            design.criteria.loaded_mass.show(units)
        ),
    );
    row(
        "Wood",
        format!(
            "{} of {} kinds; {} steps of assembly",
            count(job.work.pieces.len() as u64, "piece", "pieces"),
            design.parts.len(),
            job.work.steps.len()
        ),
    );
    grid
}

/// What to measure again.
pub fn measure(job: &Job<'_>) -> Vec<Block> {
    let units = job.scenario.units;
    let mut grid =
        Grid::new(&["Measure", ">scenario says", ">plan needs", ">slack", "you find", "ok"]);
    for fit in fits(job.scenario, job.design) {
        let slack = fit.slack.map_or_else(|| "—".to_owned(), |slack| slack.figure(units));
        grid.row([
            text(plain(&fit.what)),
            text(fit.given.figure(units)),
            text(fit.takes.figure(units)),
            text(slack),
            GridCell::Blank,
            GridCell::Tick,
        ]);
    }
    vec![
        Block::section("Measure again before the first cut"),
        Block::text(&format!(
            "Lengths in this booklet are in {} unless they say otherwise. The fits with the least slack \
             come first: a measure that is off by more than its slack means that something does not go in, and \
             then the scenario is corrected and explored again before anything is cut. Thicknesses come last; \
             take them with a caliper from the sheets and boards that were bought.",
            length_unit_word(units)
        )),
        Block::Grid(grid),
    ]
}

/// What to buy.
pub fn shopping(job: &Job<'_>) -> Vec<Block> {
    let scenario = job.scenario;
    let names = Names::of(scenario);
    let currency = &scenario.currency;
    let each = format!(">each, {currency}");
    let cost = format!(">cost, {currency}");
    let mut grid = Grid::new(&["What", ">need", ">on hand", ">buy", &each, &cost, "got"]);
    let mut alternatives = Vec::new();
    for bought in &job.work.purchases {
        let name = plain(names.purchase(bought.what));
        grid.row([
            text(&name),
            text(bought.quantity.to_string()),
            text(bought.on_hand.to_string()),
            text(bought.quantity.saturating_sub(bought.on_hand).to_string()),
            text(bought.unit_price.to_string()),
            text(bought.cost.to_string()),
            GridCell::Tick,
        ]);
        let others = instead(job, &names, bought.what);
        if !others.is_empty() {
            alternatives.push(rich(&format!("*{name}*: {}", others.join("; "))));
        }
    }
    let cost: Money = job.work.purchases.iter().map(|bought| bought.cost).sum();
    let total = format!("{cost} {currency}");
    let sets = count(u64::from(job.work.sets), "set", "sets");
    let mut blocks = vec![
        Block::Break,
        Block::section("Shopping list"),
        Block::text(&format!("For {sets} *{total}* in all, what is on hand not counted.")),
        Block::Grid(grid),
    ];
    let missing: Vec<_> = job
        .work
        .hardware
        .iter()
        .filter(|line| line.hardware.is_none())
        .map(|line| {
            let need = match line.need {
                Need::Count(needed) => needed.to_string(),
                Need::Length(length) => length.show(scenario.units),
                Need::Area(area) => area.show(scenario.units),
            };
            rich(&format!("{}: {need}", words::hardware_use(line.use_)))
        })
        .collect();
    if !missing.is_empty() {
        blocks.push(Block::heading("Without a price in the scenario"));
        blocks.push(Block::List(missing));
    }
    blocks.push(Block::heading("Small fixings"));
    blocks.push(Block::List(small(job).iter().map(|line| rich(line)).collect()));
    if !alternatives.is_empty() {
        blocks.push(Block::heading("What would do instead"));
        blocks.push(Block::Small(rich(
            "Other sizes of the same material change the cutting plans: explore again with only these in \
             the scenario before buying.",
        )));
        blocks.push(Block::List(alternatives));
    }
    blocks
}

/// Other sizes of the same material, other hardware for the same use, with their prices.
fn instead(job: &Job<'_>, names: &Names, what: PurchaseOf) -> Vec<String> {
    let (stock, currency) = (&job.scenario.stock, &job.scenario.currency);
    match what {
        PurchaseOf::Stock(id) => {
            let others = stock
                .of(stock.items[id].material)
                .filter(|(other, item)| *other != id && !item.is_offcut());
            others
                .map(|(other, item)| {
                    format!("{}, {} {currency} each", plain(names.stock(other)), item.price)
                })
                .collect()
        }
        PurchaseOf::Hardware(id) => {
            let others =
                stock.hardware_for(stock.hardware[id].use_).filter(|(other, _)| *other != id);
            others
                .map(|(other, item)| {
                    format!("{}, {} {currency} each", plain(names.hardware(other)), item.price)
                })
                .collect()
        }
    }
}

/// What comes with its hardware or lies in any drawer of a shop.
fn small(job: &Job<'_>) -> Vec<String> {
    use crate::design::work::HoleKind;
    let holes = |kind: HoleKind| -> usize {
        let rows = job.work.rows.iter().filter(|row| row.kind == kind);
        rows.map(|row| row.holes.len()).sum::<usize>() * job.work.sets as usize
    };
    let mut lines = Vec::new();
    for (kind, what) in [
        (
            HoleKind::Strip,
            "short countersunk screws for the strips: shorter than strip and panel together",
        ),
        (HoleKind::Angle, "short countersunk screws for the deck's angle"),
    ] {
        if holes(kind) > 0 {
            lines.push(format!("{} {what}", holes(kind)));
        }
    }
    if holes(HoleKind::HoldDown) > 0 {
        lines.push(format!(
            "{} threaded inserts for the hold-downs' bolts, large washers, sealant",
            holes(HoleKind::HoldDown)
        ));
    }
    let what = if job.scenario.choices.locks { "handles, locks" } else { "handles" };
    lines.push(format!("screws and bolts of {what} and brackets, as they come with them"));
    lines.push("wood glue, sandpaper, pencil, wax for the drawers' undersides".to_owned());
    lines
}

/// The parts.
pub fn parts(job: &Job<'_>) -> Vec<Block> {
    let (scenario, design) = (job.scenario, job.design);
    let units = scenario.units;
    let mut grid =
        Grid::new(&["Mark", "part", "of", ">number", ">length", ">width", ">thick", "grain"]);
    for part in &design.parts {
        grid.row([
            GridCell::bold(&part.mark),
            text(words::role(part.role)),
            text(plain(&scenario.stock.materials[part.material].name)),
            text(part.quantity.to_string()),
            text(part.length.figure(units)),
            text(part.width.figure(units)),
            text(part.thickness.figure(units)),
            text(match part.grain {
                Grain::Either => "either way",
                Grain::Along => "along the length",
                Grain::Across => "across the length",
            }),
        ]);
    }
    vec![
        Block::Lead(vec![
            Block::section("Parts list"),
            Block::text(&format!(
                "Finished sizes in {}, for one set. Each mark is the same on every page, drawing, label and \
                 list; pencil it on the face that will not show.",
                length_unit_word(units)
            )),
        ]),
        Block::Grid(grid),
    ]
}

/// Where every thing lies.
pub fn gear(job: &Job<'_>) -> Grid {
    let units = job.scenario.units;
    let mut grid =
        Grid::new(&["Drawer", "thing", ">from left", ">from front", ">across x along x high"]);
    for holder in holders(job.design) {
        let mut items: Vec<_> = holder.plan.items.iter().collect();
        items.sort_by_key(|item| (item.space.at.y, item.space.at.x, item.space.at.z));
        for item in items {
            let (at, mut size) = (item.space.at, item.space.size);
            if matches!(item.content, Content::Loose(_)) {
                // How high loose goods lie is no size to be held to.
                size.dz = size.dz.ceil_to(job.scenario.shop.step);
            }
            grid.row([
                text(holder.name),
                text(plain(words::content(job.scenario, item.content))),
                text(at.x.on_tape(units)),
                text(at.y.on_tape(units)),
                text(sizes(&[size.dx, size.dy, size.dz], units)),
            ]);
        }
    }
    grid
}

/// What stays behind, by the reason why.
pub fn left_out(job: &Job<'_>) -> Vec<Block> {
    let mut told: Vec<(String, Vec<String>)> = Vec::new();
    for left in &job.design.left_out {
        let why = words::left_out(left.why, job.scenario.units);
        let name = plain(words::content(job.scenario, left.content));
        let name = if left.count > 1 { format!("{name} x {}", left.count) } else { name };
        match told.iter_mut().find(|(known, _)| *known == why) {
            Some((_, names)) => names.push(name),
            None => told.push((why, vec![name])),
        }
    }
    let told = told.iter().map(|(why, names)| rich(&format!("*{why}:* {}", names.join(", "))));
    let told: Vec<_> = told.collect();
    if told.is_empty() {
        return Vec::new();
    }
    vec![Block::Lead(vec![Block::heading("Not stowed")]), Block::List(told)]
}

/// What is done when the wood is together.
pub fn finishing(job: &Job<'_>) -> Vec<Block> {
    let listed = |use_| job.scenario.stock.hardware_for(use_).next().is_some();
    let mut said = vec![
        rich(
            "Round over every edge that a hand, a knee or a strap meets before the coating: a sharp edge \
             holds neither paint nor skin.",
        ),
        rich(
            "Seal the end grain and all edges of the panels first and twice: water gets in there. The \
             bottom's underside and the packing get the same as the deck.",
        ),
    ];
    if listed(HardwareUse::Coating) {
        said.push(rich(
            "Coat the deck as the tin says, openings masked, drawers out; let it harden before anything \
             stands on it.",
        ));
    }
    if job.design.structure.runs != Runs::Slides {
        said.push(rich(
            "No coating on what slides: wax the drawers' undersides and lower edges, and again each year.",
        ));
    }
    if listed(HardwareUse::Carpet) {
        said.push(rich(
            "Trim the lining in the drawers flush with the boards; glue it at the front.",
        ));
    }
    vec![Block::Together(vec![Block::section("Finishing"), Block::List(said)])]
}

/// Checks and margins.
pub fn checks(job: &Job<'_>) -> Vec<Block> {
    let units = job.scenario.units;
    let mut grid =
        Grid::new(&["Check", ">found", ">limit", ">margin", "", "source and what it takes"]);
    for check in &job.design.checks {
        let margin = check.margin();
        grid.row([
            text(plain(&check.name)),
            text(words::found(check, units)),
            text(words::limit(check, units)),
            if margin.is_finite() { text(decimal(margin, 2)) } else { GridCell::Empty },
            text(match check.verdict() {
                verdict @ (Verdict::BeyondGuide | Verdict::Fails) => {
                    format!("*{}*", words::verdict(verdict))
                }
                verdict => words::verdict(verdict).to_owned(),
            }),
            text(plain(&format!(
                "{}: {}",
                words::remark(&check.source, units),
                words::remark(&check.remark, units)
            ))),
        ]);
    }
    vec![
        Block::Lead(vec![
            Block::section("Checks and margins"),
            Block::text(&format!(
                "{} Each value is computed by the formula of the source named beside it from the scenario's own figures.",
                words::verdicts_mean()
            )),
        ]),
        Block::Grid(grid),
    ]
}

/// A cell as a person reads it: exact millimetres to the hundredth, as elsewhere in the booklet.
fn read(shown: &str) -> String {
    let exact = shown.split_once('.').is_some_and(|(_, decimals)| decimals.len() > 2);
    match shown.parse() {
        Ok(number) if exact => decimal(number, 2),
        _ => shown.to_owned(),
    }
}

/// A table as the booklet prints it: the columns of these headings only.
pub fn columns(table: &Table, wanted: &[(&str, &str)], keep: impl Fn(&[&str]) -> bool) -> Grid {
    let heads: Vec<&str> = wanted.iter().map(|(_, head)| *head).collect();
    let mut grid = Grid::new(&heads);
    let at = |name: &str| table.columns().iter().position(|column| column.head() == name);
    let places: Vec<Option<usize>> = wanted.iter().map(|(name, _)| at(name)).collect();
    for row in table.rows() {
        let shown: Vec<&str> = row.iter().map(tables::shown).collect();
        if keep(&shown) {
            grid.row(places.iter().map(|place| match place {
                Some(index) => GridCell::text(&plain(&read(shown[*index]))),
                None => GridCell::Empty,
            }));
        }
    }
    grid
}
