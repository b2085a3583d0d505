//! One design idea over several scenarios.

use std::path::PathBuf;

use super::build::{BuildError, BuildSettings, build_in};
use super::exploration::{Exploration, Shown, verified};
use super::folder::OutFile;
use super::set::SetError;
use crate::explore::family::Idea;
use crate::explore::{Progress, Settings, Stop};
use crate::input::Read;
use crate::paper::flow::compose;
use crate::paper::{self, Fonts, PageSize, pdf};
use crate::report::family::{Bed, Family, booklet, drawing, letters, tables};
use crate::report::{self, Explanation, terminal};
use crate::units::UnitSystem;

/// A scenario with the file that it was read from.
#[derive(Debug)]
pub struct Named {
    /// The file.
    pub file: PathBuf,
    /// What it says.
    pub read: Read,
}

/// A bed that is not the first.
#[derive(Debug)]
pub struct Other {
    /// The file of its scenario.
    pub file: PathBuf,
    /// Held to the idea and explored.
    pub found: Exploration,
    /// Why it was not even explored.
    pub lacks: Option<Explanation>,
    /// Materials of the idea in whose place it uses its own.
    pub without: Vec<String>,
}

/// A design idea taken through several beds.
#[derive(Debug)]
pub struct FamilyRun<'a> {
    file: PathBuf,
    first: &'a Exploration,
    lead: &'a Shown,
    /// The other beds in their order.
    pub others: Vec<Other>,
    units: UnitSystem,
}

/// Takes the idea of one design of an explored scenario through other beds. Every design has passed the verifier against
/// its own bed's scenario.
pub fn family<'a>(
    (file, first, lead): (PathBuf, &'a Exploration, &'a Shown),
    others: Vec<Named>,
    units: UnitSystem,
    settings: &Settings,
    progress: &(dyn Fn(Progress<'_>) + Sync),
) -> FamilyRun<'a> {
    let idea = Idea::of(first.scenario(), lead.design.get());
    let others = others.into_iter().map(|named| other(&idea, named, settings, progress)).collect();
    FamilyRun { file, first, lead, others, units }
}

fn other(
    idea: &Idea,
    named: Named,
    settings: &Settings,
    progress: &(dyn Fn(Progress<'_>) + Sync),
) -> Other {
    let Named { file, mut read } = named;
    match idea.held(&read.scenario) {
        Ok(held) => {
            let explored = held.explore(settings, progress);
            let without = held.without.clone();
            read.scenario = held.scenario;
            let found = verified(read, settings.clone(), explored);
            Other { file, found, lacks: None, without }
        }
        Err(wood) => {
            let lacks = Some(report::reasons::no_such_member(&read.scenario, wood));
            let found = verified(read, settings.clone(), Default::default());
            Other { file, found, lacks, without: Vec::new() }
        }
    }
}

impl FamilyRun<'_> {
    /// What the report is made from.
    pub fn findings(&self) -> Family<'_> {
        let first = Bed {
            file: self.file.display().to_string(),
            scenario: self.first.scenario(),
            best: Some(self.lead.candidate(1)),
            why_none: None,
            without: Vec::new(),
        };
        let others = self.others.iter().map(|other| {
            let found = &other.found;
            let best = found.designs.first().map(|shown| shown.candidate(1));
            let why_none = match (&best, found.stopped_by) {
                (None, None) => Some(other.lacks.clone().unwrap_or_else(|| {
                    report::reasons::why_none(found.scenario(), &found.considered)
                })),
                _ => None,
            };
            Bed {
                file: other.file.display().to_string(),
                scenario: found.scenario(),
                best,
                why_none,
                without: other.without.clone(),
            }
        });
        Family { beds: [first].into_iter().chain(others).collect(), units: self.units }
    }

    /// Whether every bed has a design.
    pub fn is_complete(&self) -> bool {
        self.others.iter().all(|other| !other.found.designs.is_empty())
    }

    /// What ended a search before it was done.
    pub fn stopped_by(&self) -> Option<Stop> {
        self.others.iter().find_map(|other| other.found.stopped_by)
    }

    /// The document as text.
    ///
    /// # Errors
    /// [`SetError`] if a number in it is not finite.
    pub fn document(&self) -> Result<String, SetError> {
        let document = report::family_document(&self.findings(), self.stopped_by());
        super::set::text("family.json", &document)
    }

    /// What is shown at the terminal.
    pub fn page(&self) -> terminal::Page {
        terminal::family(&self.findings())
    }

    /// Each bed's whole set, as [`build_in`] makes it, in a folder of its own, and what the reader must be warned of.
    ///
    /// # Errors
    /// [`BuildError`].
    pub fn sets(
        &self,
        settings: BuildSettings,
        fonts: &Fonts,
    ) -> Result<(Vec<OutFile>, Vec<String>), BuildError> {
        let others = self.others.iter().map(|other| (&other.found, other.found.designs.first()));
        let beds = [(self.first, Some(self.lead))].into_iter().chain(others);
        let (mut files, mut warnings) = (Vec::new(), Vec::new());
        for (place, (found, shown)) in beds.enumerate() {
            let Some(shown) = shown else { continue };
            let built = build_in(found, shown, settings, fonts)?;
            let folder = report::family::name(place).replace(' ', "-");
            files.extend(
                built
                    .files
                    .into_iter()
                    .map(|file| OutFile { name: format!("{folder}/{}", file.name), ..file }),
            );
            warnings.extend(built.warnings.iter().map(|told| format!("{folder}: {told}")));
        }
        Ok((files, warnings))
    }

    /// The booklet, the common drawings, the lists and the document, and what the reader must be warned of.
    ///
    /// # Errors
    /// [`SetError`] if a file cannot be put together.
    pub fn files(
        &self,
        size: PageSize,
        fonts: &Fonts,
    ) -> Result<(Vec<OutFile>, Vec<String>), SetError> {
        let found = self.findings();
        let composed = compose(&booklet::booklet(&found, size), fonts);
        let warnings = super::papers::warnings(&composed, fonts);
        let bytes = pdf(&composed.document, fonts).map_err(|e| SetError::new("family.pdf", e))?;
        let mut files = vec![OutFile { name: "family.pdf".to_owned(), bytes }];
        let room = paper::flow::page_room(size);
        for named in drawing::drawings(&found, &letters::letters(&found), room) {
            let bytes = paper::svg(&named.drawing).into_bytes();
            files.push(OutFile { name: format!("{}.svg", named.name), bytes });
        }
        let lists = [
            ("letters.csv", tables::letter_table(&found)),
            ("family-parts.csv", tables::part_table(&found)),
            ("family-shopping.csv", tables::shopping_table(&found)),
        ];
        for (name, table) in lists {
            let bytes = paper::csv(&table).map_err(|e| SetError::new(name, e))?;
            files.push(OutFile { name: name.to_owned(), bytes });
        }
        let bytes = self.document()?.into_bytes();
        files.push(OutFile { name: "family.json".to_owned(), bytes });
        Ok((files, warnings))
    }
}
