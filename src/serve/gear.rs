//! What helps to enter: lengths read, tables pasted, lists and beds to start from.

use axum::Json;
use axum::extract::State;
use axum::http::StatusCode;

use super::contract::{Class, Measure, MeasuredText, Paste, PasteFault, PastedGear, Starter};
use super::document::units_of;
use super::refuse::{Body, Refused};
use super::state::Shared;
use crate::app::{CLASSES, STARTERS, measure, paste_gear, template};

/// No more texts are read at once.
const MOST: usize = 1000;

/// `POST /api/measure`.
pub async fn measure(
    State(shared): State<Shared>,
    Body(asked): Body<Measure>,
) -> Result<Json<Vec<MeasuredText>>, Refused> {
    if asked.texts.len() > MOST {
        let what = format!("{} texts at once", asked.texts.len());
        let cure = format!("ask for {MOST} at most");
        return Err(Refused::new(StatusCode::UNPROCESSABLE_ENTITY, "too_many", what, cure));
    }
    let units = units_of(shared.desk().text());
    let read = |text: &String| match measure::length(text, units) {
        Ok(length) => MeasuredText::Length {
            mm: length.at.to_mm(),
            tolerance_mm: length.tolerance.to_mm(),
            words: length.at.show(units),
        },
        Err(wrong) => MeasuredText::Unreadable { what: wrong.what, cure: wrong.cure },
    };
    Ok(Json(asked.texts.iter().map(read).collect()))
}

/// `POST /api/paste`.
pub async fn paste(State(shared): State<Shared>, Body(asked): Body<Paste>) -> Json<PastedGear> {
    let units = units_of(shared.desk().text());
    let pasted = paste_gear(&asked.text, units);
    let fault = |fault: crate::app::PasteFault| PasteFault {
        line: fault.line,
        column: fault.column,
        what: fault.what,
        cure: fault.cure,
    };
    Json(PastedGear { rows: pasted.rows, faults: pasted.faults.into_iter().map(fault).collect() })
}

/// `GET /api/starters`.
pub async fn starters(State(shared): State<Shared>) -> Json<Vec<Starter>> {
    let units = units_of(shared.desk().text());
    let all = STARTERS.iter().map(|starter| Starter {
        name: starter.name,
        what: starter.what,
        rows: starter.rows(units),
    });
    Json(all.collect())
}

/// `GET /api/classes`.
pub async fn classes() -> Json<Vec<Class>> {
    let all = CLASSES.iter().filter_map(|class| {
        Some(Class { name: class.name, what: class.what, text: template(class.name)? })
    });
    Json(all.collect())
}
