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
use crate::report::{cautions, criterion_figure, criterion_unit, drawings, tables, words};

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

/// What is ranked by, a column for each design; what differs is bold and marked.
fn overview(designs: &[Looked]) -> Markup {
    let figure = |looked: &Looked, criterion: Criterion| {
        let scenario = looked.exploration().scenario();
        let figure = looked.shown().design.criteria.figure(criterion);
        criterion_figure(criterion, figure, scenario.units)
    };
    let rows = Criterion::ALL.into_iter().map(|criterion| {
        let scenario = designs[0].exploration().scenario();
        let unit = criterion_unit(criterion, scenario.units, &scenario.currency);
        let cells: Vec<String> = designs.iter().map(|looked| figure(looked, criterion)).collect();
        (words::criterion(criterion).to_owned(), unit.to_owned(), cells)
    });
    let points = designs.iter().map(|looked| format!("{:.1}", looked.shown().score)).collect();
    let rows: Vec<(String, String, Vec<String>)> =
        std::iter::once(("points".to_owned(), String::new(), points)).chain(rows).collect();
    html! {
        div class="scroll" tabindex="0" {
            table {
                caption { "What the designs are ranked by" @if designs.len() > 1 { " (≠ where they differ)" } }
                thead {
                    tr {
                        th scope="col" { "criterion" }
                        @for looked in designs { th scope="col" { (looked.shown().id().to_string()) } }
                    }
                }
                tbody {
                    @for (name, unit, cells) in &rows {
                        @let differ = cells.iter().any(|cell| *cell != cells[0]);
                        tr {
                            th scope="row" { (name) @if !unit.is_empty() { " (" (unit) ")" } @if differ { " ≠" } }
                            @for cell in cells {
                                td class=(if differ { "number differs" } else { "number" }) { (cell) }
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
        div class="scroll" tabindex="0" {
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
