//! Faults as values, and how they are shown.

use std::fmt;
use std::ops::Range;
use std::sync::Arc;

use miette::{GraphicalReportHandler, GraphicalTheme, LabeledSpan, MietteDiagnostic, NamedSource};

/// Which bytes of the file are meant.
pub type Span = Range<usize>;

/// What kind of fault it is: a stable word for programs and tests.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Code {
    /// The file is no TOML.
    Syntax,
    /// A key that means nothing here.
    UnknownKey,
    /// A key that must be there and is not.
    Missing,
    /// A value of the wrong type.
    WrongType,
    /// A text that is no such quantity.
    Unreadable,
    /// A word that is none of those allowed.
    UnknownWord,
    /// A name that nothing in the file bears.
    UnknownName,
    /// A name borne twice.
    Duplicate,
    /// A number outside what makes sense by itself.
    OutOfRange,
    /// Two statements that cannot both hold.
    Contradiction,
    /// A measurement that the others make impossible.
    Impossible,
    /// Something that no bed of this size can take.
    TooLarge,
    /// Nothing in the stock can be used for what is needed.
    NoStock,
    /// Worth knowing; nothing is refused for it.
    Notice,
}

impl Code {
    /// The word for it.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Syntax => "syntax",
            Self::UnknownKey => "unknown_key",
            Self::Missing => "missing",
            Self::WrongType => "wrong_type",
            Self::Unreadable => "unreadable",
            Self::UnknownWord => "unknown_word",
            Self::UnknownName => "unknown_name",
            Self::Duplicate => "duplicate",
            Self::OutOfRange => "out_of_range",
            Self::Contradiction => "contradiction",
            Self::Impossible => "impossible",
            Self::TooLarge => "too_large",
            Self::NoStock => "no_stock",
            Self::Notice => "notice",
        }
    }
}

/// One thing that is wrong (or, as [`Code::Notice`], worth knowing): where, what, and what would do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Its kind.
    pub code: Code,
    /// The offending text; `None` where it is the absence of something in the whole file.
    pub span: Option<Span>,
    /// What is wrong, in one sentence.
    pub message: String,
    /// A few words under the offending text.
    pub label: String,
    /// What would do instead.
    pub help: Option<String>,
    /// Other places that belong to it, each with a few words.
    pub also: Vec<(Span, String)>,
    /// The key that is missing at the place, where that is what is wrong.
    pub key: Option<&'static str>,
}

impl Fault {
    /// A fault at `span`.
    pub fn at(code: Code, span: Span, message: impl Into<String>) -> Self {
        Self {
            code,
            span: Some(span),
            message: message.into(),
            label: String::new(),
            help: None,
            also: Vec::new(),
            key: None,
        }
    }

    /// A fault of the file as a whole.
    pub fn of_file(code: Code, message: impl Into<String>) -> Self {
        Self { span: None, ..Self::at(code, 0..0, message) }
    }

    /// With a few words under the offending text.
    pub fn label(mut self, label: impl Into<String>) -> Self {
        self.label = label.into();
        self
    }

    /// With what would do instead.
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// With another place that belongs to it.
    pub fn also(mut self, span: Span, label: impl Into<String>) -> Self {
        self.also.push((span, label.into()));
        self
    }
}

/// A file's name and text, to which spans refer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// What it is called where faults are shown.
    pub name: String,
    /// All of it.
    pub text: Arc<str>,
}

impl Source {
    /// Line and column (in characters) of a byte, both from 1.
    pub fn line_and_column(&self, byte: usize) -> (usize, usize) {
        let before = self.text.get(..byte).unwrap_or(&self.text);
        let start = before.rfind('\n').map_or(0, |newline| newline + 1);
        (before.matches('\n').count() + 1, before[start..].chars().count() + 1)
    }

    /// Whether the lines that `span` touches, and their neighbours, are short enough to show.
    fn can_show(&self, span: &Span) -> bool {
        let newline_before = |end: usize| self.text[..end].rfind('\n');
        let newline_after = |start: usize| self.text[start..].find('\n').map(|n| start + n);
        let start = newline_before(span.start).and_then(newline_before).unwrap_or(0);
        let end = newline_after(span.end).and_then(|end| newline_after(end + 1));
        end.unwrap_or(self.text.len()) - start <= LONGEST_SHOWN
    }
}

/// Excerpts longer than this are not shown.
const LONGEST_SHOWN: usize = 2000;

/// No more faults than this are shown one by one.
const MOST_SHOWN: usize = 50;

/// How faults are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Look {
    /// Whether in colour.
    pub colour: bool,
    /// Columns to keep within.
    pub width: usize,
}

/// Everything that is wrong with one file; never empty.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Faults {
    /// The file.
    pub source: Source,
    /// What is wrong with it, in the order of the file.
    pub list: Vec<Fault>,
}

impl Faults {
    /// Every fault with its excerpt, and how many there are.
    pub fn render(&self, look: Look) -> String {
        let mut shown = render(&self.source, &self.list, look);
        let count = self.list.len();
        let plural = if count == 1 { "fault" } else { "faults" };
        shown.push_str(&format!("{count} {plural} in {}\n", self.source.name));
        shown
    }
}

/// One line for each fault: `file:line:column: what is wrong`.
impl fmt::Display for Faults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, fault) in self.list.iter().enumerate() {
            if index > 0 {
                writeln!(f)?;
            }
            write!(f, "{}", one_line(&self.source, fault))?;
        }
        Ok(())
    }
}

impl std::error::Error for Faults {}

/// `file:line:column: what is wrong (what would do)`.
fn one_line(source: &Source, fault: &Fault) -> String {
    let place = fault.span.as_ref().map_or(String::new(), |span| {
        let (line, column) = source.line_and_column(span.start);
        format!("{line}:{column}: ")
    });
    let help = fault.help.as_ref().map_or(String::new(), |help| format!(" ({help})"));
    format!("{}:{place}{}{help}", source.name, fault.message)
}

/// Faults or notices of `source`, each with the offending text underlined where it can be shown.
pub fn render(source: &Source, faults: &[Fault], look: Look) -> String {
    let theme =
        if look.colour { GraphicalTheme::unicode() } else { GraphicalTheme::unicode_nocolor() };
    let handler = GraphicalReportHandler::new_themed(theme)
        .with_width(look.width.clamp(40, 400))
        .with_context_lines(1)
        .with_links(false);
    let mut shown = String::new();
    for fault in faults.iter().take(MOST_SHOWN) {
        let report = miette::Report::new(diagnostic(source, fault))
            .with_source_code(NamedSource::new(&source.name, Arc::clone(&source.text)));
        if handler.render_report(&mut shown, report.as_ref()).is_err() {
            shown.push_str(&one_line(source, fault));
        }
        shown.push('\n');
    }
    if faults.len() > MOST_SHOWN {
        shown.push_str(&format!("and {} more\n", faults.len() - MOST_SHOWN));
    }
    shown
}

fn diagnostic(source: &Source, fault: &Fault) -> MietteDiagnostic {
    let severity = match fault.code {
        Code::Notice => miette::Severity::Advice,
        _ => miette::Severity::Error,
    };
    let first = fault.span.iter().map(|span| (span, &fault.label, true));
    let also = fault.also.iter().map(|(span, label)| (span, label, false));
    let places: Vec<_> = first.chain(also).collect();
    let can_show = places.iter().all(|(span, ..)| source.can_show(span));
    let message = match (&fault.span, can_show) {
        (Some(span), false) => {
            let (line, column) = source.line_and_column(span.start);
            format!("line {line}, column {column}: {}", fault.message)
        }
        _ => fault.message.clone(),
    };
    let mut shown = MietteDiagnostic::new(message).with_severity(severity);
    if can_show {
        shown = shown.with_labels(places.into_iter().map(|(span, label, primary)| {
            let label = (!label.is_empty()).then(|| label.clone());
            let make = if primary {
                LabeledSpan::new_primary_with_span
            } else {
                LabeledSpan::new_with_span
            };
            make(label, span.clone())
        }));
    }
    match &fault.help {
        Some(help) => shown.with_help(help),
        None => shown,
    }
}
