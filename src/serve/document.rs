//! The document: shown, changed, saved.

use std::time::Duration;

use axum::Json;
use axum::extract::State;
use axum::http::StatusCode;

use super::contract::{self, Document, NewFields, NewText, Save, Turn};
use super::refuse::{Body, Refused};
use super::state::Shared;
use crate::app::edit::{EditError, Places, fields, to_measure};
use crate::app::{Desk, Fault, Read, SaveError, UnitSystem};
use crate::report::given_document;

type Answer = Result<Json<Document>, Refused>;

/// `GET /api/document`.
pub async fn get(State(shared): State<Shared>) -> Answer {
    let for_work = shared.clone();
    shared.aside(move || shown(&for_work.desk())).await.map(Json)
}

/// `POST /api/document`.
pub async fn replace(State(shared): State<Shared>, Body(new): Body<NewText>) -> Answer {
    changed(shared, new.revision, move |desk| {
        desk.replace(&new.text);
        Ok(())
    })
    .await
}

/// `POST /api/edit`.
pub async fn edit(State(shared): State<Shared>, Body(new): Body<NewFields>) -> Answer {
    changed(shared, new.revision, move |desk| {
        desk.edit(&new.edits).map_err(|error| {
            let code = match error {
                EditError::Syntax(_) => "syntax",
                EditError::NoPlace(_) => "no_place",
                EditError::Unfit(..) => "unfit",
            };
            let cure = "fetch the document and change what is there";
            Refused::new(StatusCode::UNPROCESSABLE_ENTITY, code, error.to_string(), cure)
        })
    })
    .await
}

/// `POST /api/undo`.
pub async fn undo(State(shared): State<Shared>, Body(turn): Body<Turn>) -> Answer {
    changed(shared, turn.revision, |desk| stepped(desk.undo(), "there is nothing to undo")).await
}

/// `POST /api/redo`.
pub async fn redo(State(shared): State<Shared>, Body(turn): Body<Turn>) -> Answer {
    changed(shared, turn.revision, |desk| stepped(desk.redo(), "there is nothing to do again"))
        .await
}

/// `POST /api/save`.
pub async fn save(State(shared): State<Shared>, Body(save): Body<Save>) -> Answer {
    let for_work = shared.clone();
    let saved = shared.aside(move || {
        let mut desk = for_work.desk();
        expect(&desk, save.revision)?;
        desk.save(save.over).map_err(|error| not_saved(&error, &desk))?;
        Ok(shown(&desk))
    });
    let document = saved.await??;
    shared.tell_of_document(document.revision);
    Ok(Json(document))
}

/// `POST /api/reload`.
pub async fn reload(State(shared): State<Shared>, Body(turn): Body<Turn>) -> Answer {
    changed(shared, turn.revision, |desk| {
        desk.reload().map_err(|error| {
            let cure = "save what is here in its place";
            Refused::new(StatusCode::CONFLICT, "unreadable", error.to_string(), cure)
        })
    })
    .await
}

/// Changes what is on the desk if `revision` is what is there, tells everyone and explores anew.
async fn changed(
    shared: Shared,
    revision: u64,
    change: impl FnOnce(&mut Desk) -> Result<(), Refused> + Send + 'static,
) -> Answer {
    let for_work = shared.clone();
    let work = move || change_now(&for_work, revision, change);
    shared.aside(work).await?.map(Json)
}

fn change_now(
    shared: &Shared,
    revision: u64,
    change: impl FnOnce(&mut Desk) -> Result<(), Refused>,
) -> Result<Document, Refused> {
    let (document, before) = {
        let mut desk = shared.desk();
        expect(&desk, revision)?;
        let before = desk.revision();
        change(&mut desk)?;
        (shown(&desk), before)
    };
    if document.revision != before {
        shared.tell_of_document(document.revision);
        shared.explore_anew();
    }
    Ok(document)
}

fn expect(desk: &Desk, revision: u64) -> Result<(), Refused> {
    if revision == desk.revision() {
        return Ok(());
    }
    let what = format!("the document is at revision {}, not {revision}", desk.revision());
    let cure = "look at what it is now and change that";
    Err(Refused::new(StatusCode::CONFLICT, "stale", what, cure).with(shown(desk)))
}

fn stepped(done: bool, what: &str) -> Result<(), Refused> {
    let refused = || Refused::new(StatusCode::UNPROCESSABLE_ENTITY, "nothing", what, "go on");
    done.then_some(()).ok_or_else(refused)
}

fn not_saved(error: &SaveError, desk: &Desk) -> Refused {
    let said = error.to_string();
    match error {
        SaveError::Changed(_) => {
            let cure = "take what the file holds (reload), or save over it (over)";
            Refused::new(StatusCode::CONFLICT, "changed_outside", said, cure).with(shown(desk))
        }
        SaveError::NoFile => {
            let cure = "copy the text from the page into a file";
            Refused::new(StatusCode::UNPROCESSABLE_ENTITY, "no_file", said, cure)
        }
        SaveError::Io { .. } => {
            let cure = "make room or give the rights, then save again";
            Refused::new(StatusCode::INTERNAL_SERVER_ERROR, "not_written", said, cure)
        }
    }
}

/// The document as it is on the desk.
pub fn shown(desk: &Desk) -> Document {
    let text = desk.text();
    let places = Places::of(text);
    let read = desk.read();
    let (sound, list) = match &read {
        Ok(read) => (true, &read.warnings),
        Err(faults) => (false, &faults.list),
    };
    let faults = list.iter().map(|fault| fault_of(fault, text, &places, !sound)).collect();
    Document {
        revision: desk.revision(),
        text: text.to_string(),
        file: desk.file().map(|file| file.display().to_string()),
        saved: desk.is_saved(),
        changed_outside: desk.changed_outside(),
        recovered: desk.is_recovered(),
        unkept: desk.unkept().map(str::to_owned),
        can_undo: desk.can_undo(),
        can_redo: desk.can_redo(),
        units: if units_of(text) == UnitSystem::Metric { "mm" } else { "in" },
        fields: fields(text),
        to_measure: to_measure(text),
        given: read.as_ref().ok().map(|read| given_document(&read.scenario)),
        defaults: read.as_ref().map_or_else(|_| Vec::new(), defaults),
        faults,
        sound,
    }
}

fn defaults(read: &Read) -> Vec<contract::Default> {
    let shown = read.defaults_used.iter().map(|used| contract::Default {
        key: used.key.clone(),
        value: used.value_shown.clone(),
        why: used.basis.to_owned(),
    });
    shown.collect()
}

/// Between two looks at the file.
const LOOK: Duration = Duration::from_secs(2);

/// Tells every connection when another program changes the file, or puts it back.
pub async fn watch_file(shared: Shared) {
    let mut before = false;
    loop {
        tokio::time::sleep(LOOK).await;
        let for_work = shared.clone();
        let looked = move || {
            let desk = for_work.desk();
            (desk.changed_outside(), desk.revision())
        };
        if let Ok((changed, revision)) = shared.aside(looked).await
            && changed != before
        {
            before = changed;
            shared.tell_of_document(revision);
        }
    }
}

/// How the text's bare numbers are read, whatever else is wrong with it.
pub fn units_of(text: &str) -> UnitSystem {
    match fields(text).is_some_and(|fields| fields["units"] == "mm") {
        true => UnitSystem::Metric,
        false => UnitSystem::Inch,
    }
}

/// A fault with its field and its place in the text.
pub fn fault_of(fault: &Fault, text: &str, places: &Places, refusing: bool) -> contract::Fault {
    let start = fault.span.as_ref().map_or(0, |span| span.start);
    let end = fault.span.as_ref().map_or(0, |span| span.end);
    let before = text.get(..start).unwrap_or_default();
    let inside = text.get(start..end).unwrap_or_default();
    let utf16 = |text: &str| text.encode_utf16().count();
    let line_start = before.rfind('\n').map_or(0, |newline| newline + 1);
    let (line, column) = match fault.span {
        Some(_) => (before.matches('\n').count() + 1, before[line_start..].chars().count() + 1),
        None => (0, 0),
    };
    contract::Fault {
        code: fault.code.key(),
        path: places.path_of(fault),
        line,
        column,
        from: utf16(before),
        to: utf16(before) + utf16(inside),
        what: fault.message.clone(),
        cure: fault.help.clone(),
        refusing,
    }
}
