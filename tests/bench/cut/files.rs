//! Instances in the plain text formats that are in use for packing in one and two dimensions.

use std::path::Path;

use super::sets::lines;
use super::{Instance, Problem, bars};
use bedwright::solve::sheets::{Sheet, SheetPart, SheetProblem};
use bedwright::solve::stages::Stages;

/// The numbers that each line begins with.
pub type Lines = Vec<Vec<i64>>;

/// The instances of a file; none if it is in no known format.
pub fn read(path: &Path, turn: bool) -> Vec<Instance> {
    let Ok(text) = std::fs::read_to_string(path) else { return Vec::new() };
    let name = path.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into());
    let lines = lines(&text);
    one_dimension(&name, &lines).or_else(|| classes(&name, &lines, turn)).unwrap_or_default()
}

/// The number of parts, the capacity, and a length a line; a second number on a length's line is how many there are.
fn one_dimension(name: &str, lines: &Lines) -> Option<Vec<Instance>> {
    let (first, rest) = lines.split_first()?;
    let [n] = first[..] else { return None };
    let (second, parts) = rest.split_first()?;
    let [capacity] = second[..] else { return None };
    let fits = parts.len() == usize::try_from(n).ok()? && parts.iter().all(|part| part.len() <= 2);
    let lengths = parts.iter().flat_map(|part| {
        let count = part.get(1).copied().unwrap_or(1);
        vec![part[0]; usize::try_from(count).unwrap_or(0)]
    });
    let lengths: Vec<i64> = lengths.collect();
    (fits && lengths.iter().all(|length| (1..=capacity).contains(length)))
        .then(|| vec![Instance { name: name.to_owned(), problem: bars(capacity, &lengths) }])
}

/// Instances one after the other: class, number of parts, the instance's two numbers, the sheet's two sides, then two
/// sides a part.
fn classes(name: &str, lines: &Lines, turn: bool) -> Option<Vec<Instance>> {
    let mut found = Vec::new();
    let mut left = &lines[..];
    while let [class, parts, numbers, sheet, rest @ ..] = left {
        let ([_], [n], [_, _]) = (&class[..], &parts[..], &numbers[..]) else { return None };
        let [height, width] = sheet[..] else { return None };
        let n = usize::try_from(*n).ok()?;
        let (own, after) = rest.split_at_checked(n)?;
        let parts = own.iter().map(|sides| match sides[..] {
            [height, width] => Some(SheetPart { width, height, count: 1, turn }),
            _ => None,
        });
        let sheets = vec![Sheet { width, height, price: 1, limit: None }];
        let problem = SheetProblem {
            parts: parts.collect::<Option<Vec<_>>>()?,
            sheets,
            ..square(1, Vec::new())
        };
        found.push(Instance {
            name: format!("{name} {}", found.len() + 1),
            problem: Problem::Sheets(problem),
        });
        left = after;
    }
    (left.is_empty() && !found.is_empty()).then_some(found)
}

/// Parts from any number of square sheets.
pub fn square(side: i64, parts: Vec<SheetPart>) -> SheetProblem {
    let sheets = vec![Sheet { width: side, height: side, price: 1, limit: None }];
    SheetProblem { kerf: 0, sheets, parts, keep: (1, 1), stages: Stages::ANY }
}
