//! Parts from a CSV file: a line of headings, then a line for each part.

use std::ops::Range;
use std::sync::Arc;

use toml::Spanned;
use toml::de::DeValue;

use super::HEADINGS_FIRST;
use super::outside::Part;
use super::parts::Listed;
use crate::input::build::Builder;
use crate::input::fault::{Code, Fault, Faults, Source};
use crate::input::reader::{At, Reading, Reads, short};
use crate::input::values::FactorySide;
use crate::input::words::near;
use crate::scenario::CuttingJob;
use crate::units::Length;

/// What a heading may be, and what it is then.
const HEADINGS: [(&str, Heading); 15] = [
    ("name", Heading::Name),
    ("part", Heading::Name),
    ("material", Heading::Material),
    ("stock", Heading::Material),
    ("length", Heading::Length),
    ("width", Heading::Width),
    ("count", Heading::Count),
    ("quantity", Heading::Count),
    ("qty", Heading::Count),
    ("pieces", Heading::Count),
    ("turn", Heading::Turn),
    ("may turn", Heading::Turn),
    ("turnable", Heading::Turn),
    ("worth", Heading::Worth),
    ("factory", Heading::Factory),
];

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Heading {
    Name,
    Material,
    Length,
    Width,
    Count,
    Turn,
    Worth,
    Factory,
}

impl Heading {
    /// Its first word in the list.
    fn word(self) -> &'static str {
        HEADINGS.iter().find(|(_, heading)| *heading == self).map_or("", |(word, _)| word)
    }
}

/// A field with its place.
type Field = (String, Range<usize>);

/// Reads a table of parts and adds them to the job, whose stock is `whole` if all of it could be read.
///
/// # Errors
/// With every fault of the table.
pub(super) fn read(
    name: &str,
    text: &str,
    job: &mut CuttingJob,
    whole: bool,
) -> Result<(), Faults> {
    let source = Source { name: name.to_owned(), text: Arc::from(text) };
    let mut builder = Builder::new(Reading::new(Arc::clone(&source.text), job.units));
    builder.stock_is_whole = whole;
    let mut lines = lines(text, &mut builder).into_iter();
    let mut parts = Vec::new();
    match lines.next() {
        None => builder.fault(
            Fault::of_file(Code::Missing, "there is nothing in the table").help(HEADINGS_FIRST),
        ),
        Some(first) => {
            let headings = headings(&first, &mut builder, job);
            parts.extend(lines.filter_map(|line| part(&line, &headings, &mut builder)));
            if parts.is_empty() && builder.reading.faults.is_empty() {
                builder.fault(Fault::of_file(Code::Missing, "there are headings and no parts"));
            }
        }
    }
    let first = job.parts.len();
    let Listed { parts, places } = builder.job_parts(parts.iter(), job);
    job.parts.extend(parts);
    builder.not_too_many(job, first, &places);
    let list = builder.reading.faults;
    if list.is_empty() { Ok(()) } else { Err(Faults { source, list }) }
}

/// The lines that hold anything, as fields with their places. Fields are parted by commas; by semicolons or tabs if the first
/// line has no comma.
fn lines(text: &str, builder: &mut Builder) -> Vec<Vec<Field>> {
    let body = text.strip_prefix('\u{feff}').unwrap_or(text);
    let offset = text.len() - body.len();
    let first = body.lines().find(|line| !line.trim().is_empty()).unwrap_or_default();
    let delimiter = [b',', b';', b'\t'].into_iter().find(|d| first.as_bytes().contains(d));
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .delimiter(delimiter.unwrap_or(b','))
        .from_reader(body.as_bytes());
    let mut all = Vec::new();
    let mut record = csv::StringRecord::new();
    loop {
        match reader.read_record(&mut record) {
            Ok(true) => {}
            Ok(false) => return all,
            Err(wrong) => {
                let message = format!("this cannot be read as CSV: {wrong}");
                builder.fault(Fault::of_file(Code::Syntax, message));
                return all;
            }
        }
        if record.iter().all(str::is_empty) {
            continue;
        }
        let end = usize::try_from(reader.position().byte()).unwrap_or(body.len());
        let start = record.position().map_or(0, |p| usize::try_from(p.byte()).unwrap_or(0));
        all.push(places(body, start..end.min(body.len()), &record, offset));
    }
}

/// Each field of a record where it stands; where quotes make that hard to tell, the whole line.
fn places(body: &str, line: Range<usize>, record: &csv::StringRecord, offset: usize) -> Vec<Field> {
    let text = body.get(line.clone()).unwrap_or_default();
    let shown = text.trim();
    let from = line.start + (text.len() - text.trim_start().len());
    let whole = from + offset..from + shown.len() + offset;
    let mut at = line.start;
    record
        .iter()
        .map(|field| {
            let rest = body.get(at..line.end).unwrap_or_default();
            let place = match rest.find(field).filter(|_| !field.is_empty()) {
                Some(found) => {
                    let start = at + found;
                    at = start + field.len();
                    start + offset..at + offset
                }
                None => whole.clone(),
            };
            (field.to_owned(), place)
        })
        .collect()
}

/// What each column is; faults for headings that mean nothing, that come twice, and that are not there.
fn headings(first: &[Field], builder: &mut Builder, job: &CuttingJob) -> Vec<Option<Heading>> {
    let known = |text: &str| {
        let text = text.to_lowercase();
        HEADINGS.iter().find(|(word, _)| *word == text).map(|(_, heading)| *heading)
    };
    let found: Vec<Option<Heading>> = first.iter().map(|(text, _)| known(text)).collect();
    let mut meant = Vec::new();
    for (column, (text, place)) in first.iter().enumerate() {
        let Some(heading) = found[column] else {
            let free = HEADINGS.iter().filter(|(_, heading)| !found.contains(&Some(*heading)));
            let like = near(text, free.map(|(word, _)| *word));
            meant.extend(like.and_then(known));
            let message = format!("`{}` is not a known column", short(text));
            let fault = Fault::at(Code::UnknownKey, place.clone(), message);
            builder.fault(
                fault.help(match like {
                    Some(word) => format!("did you mean `{word}`?"),
                    None => {
                        "known are name, material, length, width, count, turn, worth and factory"
                            .to_owned()
                    }
                }),
            );
            continue;
        };
        if found[..column].contains(&Some(heading)) {
            let message = format!("the column `{}` comes twice", heading.word());
            builder.fault(Fault::at(Code::Duplicate, place.clone(), message));
        }
    }
    let mut must = vec![Heading::Name, Heading::Length];
    if job.stock.materials.len() > 1 {
        must.push(Heading::Material);
    }
    let end = first.last().map_or(0..0, |(_, place)| first[0].1.start..place.end);
    for heading in must {
        if !found.contains(&Some(heading)) && !meant.contains(&heading) {
            let message = format!("the column `{}` is missing", heading.word());
            let fault = Fault::at(Code::Missing, end.clone(), message);
            builder.fault(
                fault.help("the first line names the columns: name,material,length,width,count"),
            );
        }
    }
    found
}

/// A line as a part's table.
fn part(line: &[Field], headings: &[Option<Heading>], builder: &mut Builder) -> Option<At<Part>> {
    let span = line.first()?.1.start..line.last()?.1.end;
    if let Some((text, place)) = line.get(headings.len()).filter(|(text, _)| !text.is_empty()) {
        let message = format!("`{}` stands under no heading", short(text));
        builder.fault(Fault::at(Code::WrongType, place.clone(), message));
    }
    let field = |heading: Heading| {
        let column = headings.iter().position(|found| *found == Some(heading))?;
        line.get(column).filter(|(text, _)| !text.is_empty())
    };
    let reading = &mut builder.reading;
    let before = reading.faults.len();
    let length = field(Heading::Length).and_then(|f| read_as::<Length>(f, "length", reading));
    let width = field(Heading::Width).and_then(|f| read_as(f, "width", reading));
    let material = field(Heading::Material).and_then(|f| read_as(f, "material", reading));
    // Without these nothing more can be said of it, whatever else can be read.
    let sound = reading.faults.len() == before && length.is_some();
    let part = Part {
        name: field(Heading::Name).and_then(|f| read_as::<String>(f, "name", reading)),
        material,
        size: None,
        length,
        width,
        count: field(Heading::Count).and_then(|f| count(f, reading)),
        turn: field(Heading::Turn).map(|f| yes_or_no(f, reading)),
        worth: field(Heading::Worth).and_then(|f| read_as(f, "worth", reading)),
        factory: field(Heading::Factory).and_then(|f| factory(f, reading)),
    };
    for heading in [Heading::Name, Heading::Length] {
        if headings.contains(&Some(heading)) && field(heading).is_none() {
            let message = format!("this line has no {}", heading.word());
            reading.fault(Fault::at(Code::Missing, span.clone(), message));
        }
    }
    sound.then_some(At { value: part, span })
}

/// A field as a value of the job file.
fn read_as<T: Reads>((text, place): &Field, key: &str, reading: &mut Reading) -> Option<At<T>> {
    let node = Spanned::new(place.clone(), DeValue::String(text.as_str().into()));
    let value = T::read(&node, key, reading)?;
    Some(At { value, span: place.clone() })
}

/// One word or several, parted by spaces or `+`.
fn factory((text, place): &Field, reading: &mut Reading) -> Option<At<Vec<At<FactorySide>>>> {
    let words = text.split([' ', '+']).filter(|word| !word.is_empty());
    let read = words.map(|word| read_as(&(word.to_lowercase(), place.clone()), "factory", reading));
    let value = read.collect::<Option<Vec<_>>>()?;
    Some(At { value, span: place.clone() })
}

fn count((text, place): &Field, reading: &mut Reading) -> Option<At<i64>> {
    match text.parse() {
        Ok(value) => Some(At { value, span: place.clone() }),
        Err(_) => {
            let message = format!("`{}` is not a whole number", short(text));
            reading.fault(Fault::at(Code::WrongType, place.clone(), message));
            None
        }
    }
}

/// What means neither is a fault, and taken for a yes, so that no more follows from it.
fn yes_or_no((text, place): &Field, reading: &mut Reading) -> At<bool> {
    let value = match text.to_lowercase().as_str() {
        "yes" | "y" | "true" | "1" | "x" => true,
        "no" | "n" | "false" | "0" => false,
        _ => {
            let message = format!("`{}` is neither yes nor no", short(text));
            reading.fault(Fault::at(Code::UnknownWord, place.clone(), message));
            true
        }
    };
    At { value, span: place.clone() }
}
