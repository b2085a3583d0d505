//! The booklet and what goes with it: labels, templates, shapes for machines.

use std::path::PathBuf;
use std::{fs, io, thread};

use thiserror::Error;

use super::folder::OutFile;
use super::set::SetError;
use crate::paper::flow::{Composed, compose, label_sheets};
use crate::paper::{Document, Drawing, Figure, Fonts, dxf, pdf, svg, tiles};
use crate::report::booklet::{self, Job, shapes, templates};

/// Every paper of a job, and what the reader must be warned of.
///
/// # Errors
/// [`SetError`] if a PDF cannot be put together.
pub fn papers(job: &Job<'_>, fonts: &Fonts) -> Result<(Vec<OutFile>, Vec<String>), SetError> {
    // The booklet takes about as long as all the rest.
    thread::scope(|scope| {
        let rest = scope.spawn(|| beside_the_booklet(job, fonts));
        let composed = compose(&booklet::booklet(job), fonts);
        let warnings = warnings(&composed, fonts);
        let mut files = vec![pdf_file("booklet.pdf", &composed.document, fonts)?];
        files.extend(rest.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic))?);
        Ok((files, warnings))
    })
}

/// Labels, templates, shapes and drawings.
fn beside_the_booklet(job: &Job<'_>, fonts: &Fonts) -> Result<Vec<OutFile>, SetError> {
    let mut files = Vec::new();
    let of = |title: &str, pages: Vec<Drawing>, pictures: bool| {
        let whole = |(index, page): (usize, &Drawing)| Figure {
            page: index,
            rect: page.page(),
            text: page.description.clone(),
        };
        let figures = pages.iter().enumerate().filter(|_| pictures).map(whole).collect();
        Document {
            title: format!("{title} of design {}", job.design.id),
            description: format!("{title}, to be printed at 100 %."),
            pages,
            figures,
            ..Document::default()
        }
    };
    let labels = booklet::labels(job);
    let pages = label_sheets("Part labels", &labels, job.size, fonts);
    files.push(pdf_file("labels.pdf", &of("Part labels", pages, false), fonts)?);
    let patterns = templates::templates(job);
    if !patterns.is_empty() {
        let pages = patterns.iter().flat_map(|one| tiles(&one.drawing, job.size)).collect();
        files.push(pdf_file("templates.pdf", &of("Templates", pages, true), fonts)?);
    }
    for template in &patterns {
        files.push(file(format!("template-{}.dxf", template.name), dxf(&template.drawing)));
    }
    for id in shapes::flat(job.design) {
        for (name, drawing) in shapes::part(job.scenario, job.design, job.work, id) {
            files.push(file(format!("part-{name}.dxf"), dxf(&drawing)));
        }
    }
    for index in 0..job.work.cutting.sheets.len() {
        let drawing = shapes::sheet(job.scenario, job.design, job.work, index);
        files.push(file(format!("sheet-{}.dxf", index + 1), dxf(&drawing)));
    }
    for (name, drawing) in booklet::drawings(job) {
        files.push(file(format!("{name}.svg"), svg(&drawing)));
    }
    Ok(files)
}

/// What the reader of composed pages must be warned of.
pub(super) fn warnings(composed: &Composed, fonts: &Fonts) -> Vec<String> {
    let mut warnings = Vec::new();
    let missing = composed.document.missing(fonts);
    if !missing.is_empty() {
        // By their codes: some have no shape, and some would turn the line around.
        const FEW: usize = 12;
        let mut codes: Vec<String> =
            missing.iter().take(FEW).map(|c| format!("U+{:04X}", u32::from(*c))).collect();
        if missing.len() > FEW {
            codes.push(format!("{} more", missing.len() - FEW));
        }
        warnings.push(format!(
            "no typeface at hand has {}: each is printed as its code in angle brackets; name a font \
             that has them with --font",
            codes.join(", ")
        ));
    }
    warnings.extend(composed.overfull.iter().map(|what| format!("too large for its page: {what}")));
    warnings
}

/// A font file that cannot be used.
#[derive(Debug, Error)]
pub enum FontError {
    /// It cannot be read.
    #[error("cannot read {}: {source}", path.display())]
    Io {
        /// The file.
        path: PathBuf,
        /// Why.
        source: io::Error,
    },
    /// It holds no face.
    #[error("{} is no font that can be used: TrueType or OpenType is wanted", path.display())]
    NoFont {
        /// The file.
        path: PathBuf,
    },
}

/// The bundled typefaces, then those of `files` for characters that the ones before lack.
///
/// # Errors
/// [`FontError`] for the first file that is none.
pub fn fonts(files: &[PathBuf]) -> Result<Fonts, FontError> {
    files.iter().try_fold(Fonts::bundled(), |fonts, path| {
        let bytes =
            fs::read(path).map_err(|source| FontError::Io { path: path.clone(), source })?;
        fonts.with(bytes, 0).ok_or_else(|| FontError::NoFont { path: path.clone() })
    })
}

fn file(name: String, text: String) -> OutFile {
    OutFile { name, bytes: text.into_bytes() }
}

fn pdf_file(name: &str, document: &Document, fonts: &Fonts) -> Result<OutFile, SetError> {
    let bytes = pdf(document, fonts).map_err(|e| SetError::new(name, e))?;
    Ok(OutFile { name: name.to_owned(), bytes })
}
