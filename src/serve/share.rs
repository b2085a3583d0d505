//! `GET /api/share?ids=A,B`: designs as one HTML file that opens from disk with no server: drawings inline, no script,
//! nothing fetched.

use std::collections::BTreeSet;

use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use serde::Deserialize;
use sha2::{Digest, Sha256};

use super::papers::attached;
use super::refuse::Refused;
use super::seen::{Looked, table};
use super::state::Shared;
use crate::app::Criterion;
use crate::paper;
use crate::report::{cautions, criterion_figure, criterion_unit, drawings, reasons, tables, words};

/// So many designs go side by side at most.
const MOST: usize = 6;

/// Its only style, named by its digest in the file's own policy.
const STYLE: &str = include_str!("share.css");

/// Which designs to share.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Wanted {
    /// Their ids, parted by commas.
    ids: String,
}

/// Answers with the file.
pub async fn share(
    State(shared): State<Shared>,
    Query(wanted): Query<Wanted>,
) -> Result<Response, Refused> {
    let ids: BTreeSet<&str> = wanted.ids.split(',').filter(|id| !id.is_empty()).collect();
    if ids.is_empty() || ids.len() > MOST {
        let what = format!("{} designs", ids.len());
        let cure = format!("name 1 to {MOST} by their ids, parted by commas");
        return Err(Refused::new(StatusCode::UNPROCESSABLE_ENTITY, "ids", what, cure));
    }
    // In the order in which they were named.
    let mut named: Vec<&str> = wanted.ids.split(',').filter(|id| !id.is_empty()).collect();
    let mut seen = BTreeSet::new();
    named.retain(|id| seen.insert(*id));
    let designs: Vec<Looked> =
        named.iter().map(|id| Looked::find(&shared, id)).collect::<Result<_, _>>()?;
    let name = format!("bedwright-{}.html", named.join("-"));
    let page = shared.aside(move || file(&designs).into_string()).await?;
    Ok(attached("text/html; charset=utf-8", &name, page.into_bytes()))
}

fn file(designs: &[Looked]) -> Markup {
    let digest = STANDARD.encode(Sha256::digest(STYLE.as_bytes()));
    let policy = format!("default-src 'none'; style-src 'sha256-{digest}'");
    let title = title(designs);
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta http-equiv="Content-Security-Policy" content=(policy);
                meta name="referrer" content="no-referrer";
                title { (title) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                header { h1 { (title) } }
                main {
                    (overview(designs))
                    @for looked in designs { (one(looked)) }
                }
            }
        }
    }
}

fn title(designs: &[Looked]) -> String {
    let of = designs.first().map_or("", |looked| &looked.exploration().scenario().title);
    let ids: Vec<String> = designs.iter().map(|looked| looked.shown().id().to_string()).collect();
    match ids.as_slice() {
        [one] => format!("{of}: design {one}"),
        several => format!("{of}: designs {} side by side", several.join(", ")),
    }
}

/// A row of the comparison: what, in which unit, and a text for each design.
struct Row {
    what: &'static str,
    unit: String,
    cells: Vec<String>,
    number: bool,
}

impl Row {
    /// A row of words.
    fn of(designs: &[Looked], what: &'static str, text: impl Fn(&Looked) -> String) -> Self {
        let cells = designs.iter().map(text).collect();
        Self { what, unit: String::new(), cells, number: false }
    }
}

/// What is ranked by, then how each is built.
fn rows(designs: &[Looked]) -> Vec<Row> {
    let points = Row::of(designs, "points", |looked| format!("{:.1}", looked.shown().score));
    let ranked = Criterion::ALL.into_iter().map(|criterion| {
        let scenario = designs[0].exploration().scenario();
        let unit = criterion_unit(criterion, scenario.units, &scenario.currency).to_owned();
        let figure = |looked: &Looked| {
            let figure = looked.shown().design.criteria.figure(criterion);
            criterion_figure(criterion, figure, looked.exploration().scenario().units)
        };
        Row { unit, ..Row::of(designs, words::criterion(criterion), figure) }
    });
    let figures = std::iter::once(points).chain(ranked).map(|row| Row { number: true, ..row });
    figures.chain(built(designs)).collect()
}

/// How each is built.
fn built(designs: &[Looked]) -> [Row; 6] {
    let joined = |texts: Vec<String>| texts.join(" + ");
    let material = |one: &Looked, id| one.exploration().scenario().stock.materials[id].name.clone();
    [
        Row::of(designs, "drawers, from below", |one| {
            let tiers = one.shown().design.structure.tiers.iter();
            joined(tiers.map(|tier| tier.columns.to_string()).collect())
        }),
        Row::of(designs, "heights", |one| {
            let units = one.exploration().scenario().units;
            let tiers = one.shown().design.structure.tiers.iter();
            joined(tiers.map(|tier| tier.height.show(units)).collect())
        }),
        Row::of(designs, "stands", |one| {
            words::family(one.shown().design.structure.family).to_owned()
        }),
        Row::of(designs, "members", |one| {
            let tiers = one.shown().design.structure.tiers.iter();
            joined(tiers.map(|tier| material(one, tier.member)).collect())
        }),
        Row::of(designs, "deck", |one| material(one, one.shown().design.structure.deck)),
        Row::of(designs, "drawers run on", |one| {
            words::runs(one.shown().design.structure.runs).to_owned()
        }),
    ]
}

/// A column for each design; what differs is bold and marked.
fn overview(designs: &[Looked]) -> Markup {
    html! {
        div class="scroll" tabindex="0" role="region" aria-label="The designs in figures" {
            table {
                caption { "What the designs are ranked by, and how they are built" @if designs.len() > 1 { " (≠ where they differ)" } }
                thead {
                    tr {
                        th scope="col" { "design" }
                        @for looked in designs { th scope="col" { (looked.shown().id().to_string()) } }
                    }
                }
                tbody {
                    @for Row { what, unit, cells, number } in rows(designs) {
                        @let differ = cells.iter().any(|cell| *cell != cells[0]);
                        @let class = [(number, "number"), (differ, "differs")];
                        tr {
                            th scope="row" { (what) @if !unit.is_empty() { " (" (unit) ")" } @if differ { " ≠" } }
                            @for cell in &cells {
                                td class=(class.iter().filter(|(is, _)| *is).map(|(_, name)| *name).collect::<Vec<_>>().join(" ")) { (cell) }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn one(looked: &Looked) -> Markup {
    let (scenario, design) = (looked.exploration().scenario(), &looked.shown().design);
    let id = looked.shown().id().to_string();
    let lists = [
        tables::gear(scenario, design),
        tables::shopping(scenario, &design.purchases, &design.hardware),
        tables::parts(scenario, design, 1),
        tables::checks_to_read(scenario.units, design),
    ];
    html! {
        section {
            h2 { "Design " (id) }
            p { (words::structure(scenario, &design.structure)) }
            @if !design.left_out.is_empty() {
                h3 { "Left out" }
                ul { @for left in reasons::left_out(scenario, design) { li { (left.sentence) } } }
            }
            h3 { "Cautions" }
            @for caution in cautions::cautions(scenario, design) {
                p class="caution" { (caution.words(scenario)) }
            }
            @for named in drawings::drawings(design, scenario) {
                figure {
                    (PreEscaped(without_prolog(&paper::svg(&named.drawing))))
                    figcaption { (named.drawing.title) }
                }
            }
            @for list in &lists { (shown(list)) }
            p { (words::verdicts_mean()) }
        }
    }
}

fn shown(list: &paper::Table) -> Markup {
    let texts = table(list);
    let class = |number: bool| if number { "number" } else { "" };
    html! {
        div class="scroll" tabindex="0" role="region" aria-label=(list.title) {
            table {
                caption { (list.title) }
                thead {
                    tr {
                        @for column in &texts.columns {
                            th scope="col" class=(class(column.number)) {
                                (column.heading)
                                @if let Some(unit) = &column.unit { " (" (unit) ")" }
                            }
                        }
                    }
                }
                tbody {
                    @for row in &texts.rows {
                        tr {
                            @for (cell, column) in row.iter().zip(&texts.columns) {
                                td class=(class(column.number)) { (cell) }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// The drawing without the line that only a file of its own has.
fn without_prolog(svg: &str) -> &str {
    svg.find("<svg").map_or(svg, |start| &svg[start..])
}
