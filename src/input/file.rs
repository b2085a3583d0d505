//! From a file's bytes to what is read.

use std::fs::File;
use std::io::{self, Read as _};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use thiserror::Error;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::build::{Builder, DefaultUsed};
use super::fault::{Code, Fault, Faults, Source, Span};
use super::outside;
use super::reader::{Node, Reading, Reads};
use crate::scenario::Scenario;
use crate::units::UnitSystem;

/// No larger file is read: 16 MiB is thousands of times what a scenario takes.
pub const LARGEST_FILE: u64 = 16 * 1024 * 1024;

/// A scenario file that has been read without fault.
#[derive(Debug, Clone, PartialEq)]
pub struct Read {
    /// What it says, with every default filled in.
    pub scenario: Scenario,
    /// What it left open, and what was taken instead.
    pub defaults_used: Vec<DefaultUsed>,
    /// What is worth knowing; see [`super::render`].
    pub warnings: Vec<Fault>,
    /// The text that the warnings' spans refer to.
    pub source: Source,
}

/// Why a file could not be read.
#[derive(Debug, Error)]
pub enum InputError {
    /// The system would not give it.
    #[error("{path} cannot be read: {source}")]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
    /// It is larger than [`LARGEST_FILE`].
    #[error("{path} is too large: {size} bytes, and {LARGEST_FILE} (16 MiB) is the limit")]
    TooLarge {
        /// The file.
        path: PathBuf,
        /// Its size, or how much of it had been read when that was too much.
        size: u64,
    },
    /// There is nothing in it.
    #[error("{path} is empty; {begin}")]
    Empty {
        /// The file.
        path: PathBuf,
        /// How one begins.
        begin: &'static str,
    },
    /// It is no UTF-8 text.
    #[error("{path} is not UTF-8 text: byte {byte}, on line {line}, is 0x{value:02x}")]
    NotUtf8 {
        /// The file.
        path: PathBuf,
        /// The first offending byte, counted from 0.
        byte: usize,
        /// The line it is on, from 1.
        line: usize,
        /// The byte.
        value: u8,
    },
    /// It is text, and what it says is at fault.
    #[error(transparent)]
    Faulty(#[from] Faults),
}

impl InputError {
    /// An empty file that should hold something else than a scenario: says how that begins.
    pub(super) fn begin_with(self, begin: &'static str) -> Self {
        match self {
            Self::Empty { path, .. } => Self::Empty { path, begin },
            other => other,
        }
    }
}

/// Reads a scenario file.
///
/// # Errors
/// If it cannot be read or is no text; otherwise with *every* fault of what it says.
pub fn read(path: &Path) -> Result<Read, InputError> {
    let text = text_of(path)?;
    Ok(parse(&path.display().to_string(), &text)?)
}

/// The text of a file.
///
/// # Errors
/// If it cannot be read, is too large, empty or no text.
pub fn text_of(path: &Path) -> Result<String, InputError> {
    let unreadable = |source| InputError::Unreadable { path: path.to_owned(), source };
    let file = File::open(path).map_err(unreadable)?;
    let size = file.metadata().map_err(unreadable)?.len();
    if size > LARGEST_FILE {
        return Err(InputError::TooLarge { path: path.to_owned(), size });
    }
    // The size of a pipe is not known before it has been read.
    let mut bytes = Vec::new();
    file.take(LARGEST_FILE + 1).read_to_end(&mut bytes).map_err(unreadable)?;
    if bytes.len() as u64 > LARGEST_FILE {
        return Err(InputError::TooLarge { path: path.to_owned(), size: bytes.len() as u64 });
    }
    if bytes.iter().all(u8::is_ascii_whitespace) {
        let begin = "`bedwright new --from CLASS` writes a scenario to start from";
        return Err(InputError::Empty { path: path.to_owned(), begin });
    }
    String::from_utf8(bytes).map_err(|wrong| {
        let byte = wrong.utf8_error().valid_up_to();
        let bytes = wrong.as_bytes();
        let line = bytes[..byte].iter().filter(|b| **b == b'\n').count() + 1;
        InputError::NotUtf8 { path: path.to_owned(), byte, line, value: bytes[byte] }
    })
}

/// Reads the text of a scenario file called `name`.
///
/// # Errors
/// With every fault found, in the order of the text.
pub fn parse(name: &str, text: &str) -> Result<Read, Faults> {
    let mut opened = Opened::new(name, text);
    let file = outside::Scenario::read(&opened.root, "scenario", &mut opened.builder.reading);
    let title = opened.title("scenario");
    let scenario = file.and_then(|file| opened.builder.scenario(&file, &title));
    let Closed { made, defaults, warnings, source } = opened.close(scenario)?;
    Ok(Read { scenario: made, defaults_used: defaults, warnings, source })
}

/// A file's text, parted into its tree and what is wrong with its syntax.
pub(super) struct Opened<'t> {
    source: Source,
    text: &'t str,
    syntax: Vec<Fault>,
    /// All of it, as a table.
    pub root: Node<'t>,
    /// What is read and found so far.
    pub builder: Builder,
}

/// What was made of a file without fault.
pub(super) struct Closed<T> {
    pub made: T,
    pub defaults: Vec<DefaultUsed>,
    pub warnings: Vec<Fault>,
    pub source: Source,
}

impl<'t> Opened<'t> {
    pub fn new(name: &str, text: &'t str) -> Self {
        let source = Source { name: name.to_owned(), text: Arc::from(text) };
        let (tree, wrong) = DeTable::parse_recoverable(text);
        let syntax: Vec<Fault> = wrong.iter().map(|wrong| syntax_fault(wrong, text)).collect();
        let units = unit_system(tree.get_ref());
        let builder = Builder::new(Reading::new(Arc::clone(&source.text), units));
        // No place for the whole: a key that the file lacks is not somewhere in it.
        let root = Spanned::new(0..0, DeValue::Table(tree.into_inner()));
        Self { source, text, syntax, root, builder }
    }

    /// What it is called where it does not say: the file's name without its ending.
    pub fn title(&self, otherwise: &str) -> String {
        let stem = Path::new(&self.source.name).file_stem();
        stem.map_or_else(|| otherwise.to_owned(), |stem| stem.to_string_lossy().into_owned())
    }

    /// What was made of it, if there was no fault at all.
    pub fn close<T>(mut self, made: Option<T>) -> Result<Closed<T>, Faults> {
        let faults = std::mem::take(&mut self.builder.reading.faults);
        let mut list = together(self.syntax, faults, self.text);
        list.sort_by_key(|fault| fault.span.as_ref().map_or((usize::MAX, 0), |s| (s.start, s.end)));
        let Self { source, builder, .. } = self;
        match made {
            Some(made) if list.is_empty() => {
                Ok(Closed { made, defaults: builder.defaults, warnings: builder.notices, source })
            }
            _ => Err(Faults { source, list }),
        }
    }
}

/// The scenario's units, which must be known before any quantity is read.
fn unit_system(root: &DeTable<'_>) -> UnitSystem {
    match root.get("units").and_then(|node| node.get_ref().as_str()) {
        Some("mm") => UnitSystem::Metric,
        _ => UnitSystem::Inch,
    }
}

fn syntax_fault(wrong: &toml::de::Error, text: &str) -> Fault {
    let message = wrong.message().trim().replace('\n', ", ");
    match wrong.span() {
        Some(span) => Fault::at(Code::Syntax, within(span, text), message),
        None => Fault::of_file(Code::Syntax, message),
    }
}

/// `span` where it can be shown: within the text, on whole characters.
fn within(span: Span, text: &str) -> Span {
    let floor = |mut place: usize| {
        place = place.min(text.len());
        while !text.is_char_boundary(place) {
            place -= 1;
        }
        place
    };
    let start = floor(span.start);
    let end = floor(span.end).max(start);
    if start < end {
        return start..end;
    }
    // Nothing to underline: take the next character, or what stands before on the line.
    match text[start..].chars().next() {
        Some(next) if !next.is_whitespace() => start..start + next.len_utf8(),
        _ => {
            let line = text[..start].rfind('\n').map_or(0, |newline| newline + 1);
            let written = text[line..start].trim_end();
            let indent = written.len() - written.trim_start().len();
            line + indent..line + written.len()
        }
    }
}

/// The syntax faults, and of the others those that are not likely to follow from them: what stands on another line and
/// is wrong by itself.
fn together(syntax: Vec<Fault>, others: Vec<Fault>, text: &str) -> Vec<Fault> {
    if syntax.is_empty() {
        return others;
    }
    let line = |fault: &Fault| {
        let start = fault.span.as_ref().map(|span| span.start)?;
        Some(text[..start].matches('\n').count())
    };
    let spoilt: Vec<Option<usize>> = syntax.iter().take(20).map(line).collect();
    let by_itself = |fault: &Fault| {
        matches!(
            fault.code,
            Code::UnknownKey | Code::Unreadable | Code::UnknownWord | Code::OutOfRange
        ) && fault.span.is_some()
    };
    let others = others.into_iter().filter(|fault| by_itself(fault)).take(50);
    let mut list: Vec<Fault> = others.filter(|fault| !spoilt.contains(&line(fault))).collect();
    list.splice(0..0, syntax);
    list
}
