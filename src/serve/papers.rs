//! A design's set: as a booklet, as an archive, into the named folder.

use std::io::{Cursor, Write};

use axum::Json;
use axum::extract::{Path, Query, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use zip::write::SimpleFileOptions;

use super::contract::{Paper, SawKind, SetWanted, Written};
use super::refuse::Refused;
use super::seen::Looked;
use super::state::Shared;
use crate::app::{self, BuildSettings, BuiltSet, PageSize, Saw, UnitSystem, folder};

/// No more sets are built at once.
const MOST_SETS: u32 = 50;

/// `GET /api/designs/ID/booklet.pdf`.
pub async fn booklet(
    State(shared): State<Shared>,
    Path(id): Path<String>,
    Query(wanted): Query<SetWanted>,
) -> Result<Response, Refused> {
    let looked = Looked::find(&shared, &id)?;
    let built = built(&shared, looked, wanted).await?;
    let booklet = built.files.into_iter().find(|file| file.name == "booklet.pdf");
    let bytes = booklet.map(|file| file.bytes).ok_or_else(|| bug("the set has no booklet"))?;
    Ok(attached("application/pdf", &format!("booklet-{id}.pdf"), bytes))
}

/// `GET /api/designs/ID/set.zip`.
pub async fn archive(
    State(shared): State<Shared>,
    Path(id): Path<String>,
    Query(wanted): Query<SetWanted>,
) -> Result<Response, Refused> {
    let looked = Looked::find(&shared, &id)?;
    let built = built(&shared, looked, wanted).await?;
    let bytes = zipped(&built).map_err(|error| bug(error.to_string()))?;
    Ok(attached("application/zip", &format!("set-{id}.zip"), bytes))
}

/// `POST /api/designs/ID/into`.
pub async fn into(
    State(shared): State<Shared>,
    Path(id): Path<String>,
    Query(wanted): Query<SetWanted>,
) -> Result<Json<Written>, Refused> {
    let folder = shared.folder().cloned().ok_or_else(|| {
        let cure = "start with one: bedwright serve FILE --into DIR; or download the archive";
        let what = "no folder was named";
        Refused::new(StatusCode::UNPROCESSABLE_ENTITY, "no_folder", what, cure)
    })?;
    let looked = Looked::find(&shared, &id)?;
    let over = wanted.over;
    let built = built(&shared, looked, wanted).await?;
    let BuiltSet { files, warnings, .. } = built;
    let written = shared.heavy(move || {
        let done = folder::write(&folder, &files, over);
        done.map(|()| Written {
            folder: folder.display().to_string(),
            files: files.into_iter().map(|file| file.name).collect(),
            warnings,
        })
    });
    written.await?.map(Json).map_err(|error| match error {
        folder::FolderError::InTheWay { .. } => {
            let cure = "write over them (over=true), or start again with another folder";
            Refused::new(StatusCode::CONFLICT, "in_the_way", error.to_string(), cure)
        }
        folder::FolderError::IsFolder { .. } => {
            let cure = "move that folder away, or start again with another one to write into";
            Refused::new(StatusCode::CONFLICT, "in_the_way", error.to_string(), cure)
        }
        folder::FolderError::Io { .. }
        | folder::FolderError::Stuck { .. }
        | folder::FolderError::Stopped => {
            let cure = "make room or give the rights, then write again";
            Refused::new(StatusCode::INTERNAL_SERVER_ERROR, "not_written", error.to_string(), cure)
        }
    })
}

/// Puts a set together, off the connections' threads.
async fn built(shared: &Shared, looked: Looked, wanted: SetWanted) -> Result<BuiltSet, Refused> {
    let sets = wanted.sets.unwrap_or(1);
    if !(1..=MOST_SETS).contains(&sets) {
        let (what, cure) = (format!("{sets} sets at once"), format!("ask for 1 to {MOST_SETS}"));
        return Err(Refused::new(StatusCode::UNPROCESSABLE_ENTITY, "sets", what, cure));
    }
    let paper = match (wanted.paper, looked.exploration().scenario().units) {
        (Some(Paper::Letter), _) | (None, UnitSystem::Inch) => PageSize::Letter,
        (Some(Paper::A4), _) | (None, UnitSystem::Metric) => PageSize::A4,
    };
    let saw = match wanted.saw {
        Some(SawKind::Table) => Saw::Table,
        Some(SawKind::Guide) | None => Saw::Guide,
    };
    let settings = BuildSettings { saw, sets, paper };
    let built = shared.heavy(move || app::build(looked.exploration(), looked.shown(), settings));
    built.await?.map_err(|error| {
        if error.is_bug() {
            return bug(error.to_string());
        }
        let cure = "build fewer at once or list more stock";
        Refused::new(StatusCode::UNPROCESSABLE_ENTITY, "stock", error.to_string(), cure)
    })
}

/// The files of a set as one archive, in a folder of the design's name.
fn zipped(built: &BuiltSet) -> Result<Vec<u8>, zip::result::ZipError> {
    let mut archive = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for file in &built.files {
        archive.start_file(format!("set/{}", file.name), SimpleFileOptions::default())?;
        archive.write_all(&file.bytes)?;
    }
    Ok(archive.finish()?.into_inner())
}

/// Something to be saved by the browser.
pub fn attached(kind: &'static str, name: &str, bytes: Vec<u8>) -> Response {
    let how = format!("attachment; filename=\"{name}\"");
    let headers = [(header::CONTENT_TYPE, kind.to_owned()), (header::CONTENT_DISPOSITION, how)];
    (headers, bytes).into_response()
}

/// A refusal for which the program is at fault.
pub fn bug(what: impl Into<String>) -> Refused {
    let cure = "this is a fault of the program: please report it";
    Refused::new(StatusCode::INTERNAL_SERVER_ERROR, "bug", what, cure)
}
