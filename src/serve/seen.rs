//! One design from every side.

use std::collections::BTreeMap;
use std::sync::Arc;

use axum::Json;
use axum::extract::{Path, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};

use super::contract::{Column, Drawing, Line, Reason, Seen, Solid, Table};
use super::refuse::Refused;
use super::state::Shared;
use crate::app::{Exploration, Shown};
use crate::paper::{self, Cell};
use crate::report::terminal::{self, Page, Style};
use crate::report::{cautions, design_document, drawings, reasons, tables, words};

/// A design that somebody looks at, with the run that found it.
#[derive(Debug, Clone)]
pub struct Looked {
    /// The run.
    pub run: u64,
    /// The document's revision that it is of.
    pub revision: u64,
    exploration: Arc<Exploration>,
    at: usize,
}

impl Looked {
    /// The design of this id among those of the live run and of the trials; ids are whole.
    pub fn find(shared: &Shared, id: &str) -> Result<Self, Refused> {
        let live = shared.live().found();
        let lists = live.into_iter().map(|found| (found.run, found.revision, found.exploration));
        let trials = shared.jobs().explorations();
        for (run, revision, exploration) in lists.chain(trials) {
            let mut ids = exploration.designs.iter().map(|shown| shown.id().to_string());
            if let Some(at) = ids.position(|known| known == id) {
                return Ok(Self { run, revision, exploration, at });
            }
        }
        let cure = "fetch the list of designs and take one of it";
        let what = "no design that is listed now has this id";
        Err(Refused::new(StatusCode::NOT_FOUND, "unknown", what, cure))
    }

    /// What was explored.
    pub fn exploration(&self) -> &Exploration {
        &self.exploration
    }

    /// The design in its place.
    pub fn shown(&self) -> &Shown {
        &self.exploration.designs[self.at]
    }

    /// Its place, from 1.
    pub fn rank(&self) -> usize {
        self.at + 1
    }
}

/// `GET /api/designs/ID`.
pub async fn design(
    State(shared): State<Shared>,
    Path(id): Path<String>,
) -> Result<Json<Seen>, Refused> {
    let looked = Looked::find(&shared, &id)?;
    let now = shared.desk().revision();
    shared.aside(move || seen(&looked, now)).await.map(Json)
}

fn seen(looked: &Looked, now: u64) -> Seen {
    let (exploration, shown) = (looked.exploration(), looked.shown());
    let (scenario, design) = (exploration.scenario(), &shown.design);
    let candidate = shown.candidate(looked.rank());
    let lists = [
        ("parts", tables::parts(scenario, design, 1)),
        ("shopping", tables::shopping(scenario, &design.purchases, &design.hardware)),
        ("gear", tables::gear(scenario, design)),
        ("checks", tables::checks_to_read(scenario.units, design)),
    ];
    let named = drawings::drawings(design, scenario).into_iter();
    let page = terminal::showing(&exploration.findings(), Some(&candidate));
    Seen {
        run: looked.run,
        revision: looked.revision,
        current: looked.revision == now,
        design: design_document(scenario, &candidate, exploration.stopped_by),
        tables: lists.into_iter().map(|(name, list)| (name, table(&list))).collect(),
        verdicts: words::verdicts_mean(),
        cautions: cautions::cautions(scenario, design)
            .iter()
            .map(|caution| caution.words(scenario))
            .collect(),
        left_out: reasons::left_out(scenario, design).iter().map(Reason::from).collect(),
        lines: lines(&page),
        drawings: named.map(|one| Drawing { name: one.name, title: one.drawing.title }).collect(),
    }
}

/// A table as texts.
pub fn table(list: &paper::Table) -> Table {
    let number = |column: usize| {
        let mut cells = list.rows().iter().map(|row| &row[column]);
        cells.any(|cell| matches!(cell, Cell::Number(_)))
    };
    let columns = list.columns().iter().enumerate().map(|(at, column)| Column {
        heading: column.heading.clone(),
        unit: column.unit.clone(),
        number: number(at),
    });
    let row = |row: &Vec<Cell>| row.iter().map(|cell| cell.shown().to_owned()).collect();
    Table { columns: columns.collect(), rows: list.rows().iter().map(row).collect() }
}

/// What the command line prints.
pub fn lines(page: &Page) -> Vec<Line> {
    let style = |style| match style {
        Style::Plain => "plain",
        Style::Heading => "heading",
        Style::Strong => "strong",
        Style::Bad => "bad",
        Style::Caution => "caution",
        Style::Faint => "faint",
    };
    let line = |line: &terminal::Line| Line { style: style(line.style), text: line.text.clone() };
    page.lines().iter().map(line).collect()
}

impl From<&crate::report::Explanation> for Reason {
    fn from(why: &crate::report::Explanation) -> Self {
        Self {
            about: why.about.clone(),
            sentence: why.sentence.clone(),
            change: why.change.clone(),
            proved: why.proved,
        }
    }
}

/// `GET /api/designs/ID/drawings/NAME.svg`.
pub async fn drawing(
    State(shared): State<Shared>,
    Path((id, file)): Path<(String, String)>,
) -> Result<Response, Refused> {
    let looked = Looked::find(&shared, &id)?;
    let drawn = shared.aside(move || {
        let all = drawings::drawings(&looked.shown().design, looked.exploration().scenario());
        let named = all.iter().find(|one| file.strip_suffix(".svg") == Some(&one.name));
        named.map(|named| paper::svg(&named.drawing))
    });
    let svg = drawn.await?.ok_or_else(|| {
        let cure = "the design's list of drawings names them all";
        Refused::new(StatusCode::NOT_FOUND, "unknown", "no such drawing", cure)
    })?;
    let kind = [(header::CONTENT_TYPE, "image/svg+xml")];
    Ok((kind, svg).into_response())
}

/// `GET /api/designs/ID/solid`.
pub async fn solid(
    State(shared): State<Shared>,
    Path(id): Path<String>,
) -> Result<Json<Vec<Solid>>, Refused> {
    let looked = Looked::find(&shared, &id)?;
    shared.aside(move || solids(&looked)).await.map(Json)
}

fn solids(looked: &Looked) -> Vec<Solid> {
    let scenario = looked.exploration().scenario();
    let design = &looked.shown().design;
    let candidate = looked.shown().candidate(looked.rank());
    let document = design_document(scenario, &candidate, None);
    let roles: BTreeMap<&str, (&str, String)> = document
        .parts
        .iter()
        .map(|part| {
            // A role of the document is a word.
            let role = serde_json::to_value(part.role).unwrap_or_default();
            (part.mark.as_str(), (part.name.as_str(), role.as_str().unwrap_or_default().to_owned()))
        })
        .collect();
    let mut all: Vec<Solid> = design
        .solids
        .iter()
        .map(|solid| {
            let mark = &design.part(solid.part).mark;
            let (name, kind) = roles.get(mark.as_str()).cloned().unwrap_or_default();
            let far = solid.space.far();
            Solid {
                mark: mark.clone(),
                kind,
                name: name.to_owned(),
                drawer: solid.drawer.map(|at| design.drawers[at].name.clone()),
                space: [solid.space.at.x, solid.space.at.y, solid.space.at.z, far.x, far.y, far.z]
                    .map(|length| length.to_mm()),
            }
        })
        .collect();
    for drawer in &design.drawers {
        let items = drawer.plan.items.iter().map(|item| item.space.moved(drawer.inside_at));
        let contents = drawer.plan.items.iter().map(|item| item.content);
        for (content, space) in contents.zip(items) {
            let far = space.far();
            let place = [space.at.x, space.at.y, space.at.z, far.x, far.y, far.z];
            all.push(Solid {
                drawer: Some(drawer.name.clone()),
                ..stowed(
                    words::content(scenario, content),
                    words::is_gear(content),
                    place.map(|length| length.to_mm()),
                )
            });
        }
    }
    for pocket in &design.pockets {
        for item in &pocket.plan.items {
            let space = item.space.moved(pocket.space.at);
            let far = space.far();
            let place = [space.at.x, space.at.y, space.at.z, far.x, far.y, far.z];
            let name = words::content(scenario, item.content);
            all.push(stowed(
                name,
                words::is_gear(item.content),
                place.map(|length| length.to_mm()),
            ));
        }
    }
    all
}

fn stowed(name: &str, gear: bool, space: [f64; 6]) -> Solid {
    let kind = if gear { "gear" } else { "loose" };
    Solid {
        mark: name.to_owned(),
        kind: kind.to_owned(),
        name: name.to_owned(),
        drawer: None,
        space,
    }
}
