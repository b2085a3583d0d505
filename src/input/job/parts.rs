//! The parts of a job: read against its stock and shop.

use std::cmp::Reverse;

use super::outside::Part;
use crate::input::build::{Builder, Least, material_or_item};
use crate::input::fault::{Code, Fault, Span};
use crate::input::reader::At;
use crate::input::values::{FactorySide, Thousandths};
use crate::scenario::{CuttingJob, FactoryNeed, Form, JobPart, MaterialId, Section};
use crate::units::Length;

/// The most copies of one part.
const MOST_COPIES: u32 = 1_000_000;

/// The most copies of all sheet parts of one material together: what the search for layouts takes.
const MOST_ON_SHEETS: u64 = 20_000;

/// The most copies of all board parts of one material together.
const MOST_ON_BOARDS: u64 = 10_000_000;

/// The most that a part is worth, in thousandths of a point.
const MOST_WORTH: i64 = 1_000_000_000;

/// The most lines of a parts list.
const MOST_LINES: usize = 5_000;

/// Parts as they come out of a file, each with the place of its count, or of the whole part.
#[derive(Debug, Default)]
pub(super) struct Listed {
    pub parts: Vec<JobPart>,
    pub places: Vec<Span>,
}

impl Builder {
    /// The parts that are sound.
    pub(super) fn job_parts<'p>(
        &mut self,
        parts: impl Iterator<Item = &'p At<Part>>,
        job: &CuttingJob,
    ) -> Listed {
        let mut listed = Listed::default();
        for part in parts {
            let Some(made) = self.job_part(part, job) else { continue };
            listed.parts.push(made);
            let counted = part.value.count.as_ref().map(|count| &count.span);
            listed.places.push(counted.unwrap_or(&part.span).clone());
        }
        listed
    }

    /// Looks at all of a part, whatever is wrong with some of it.
    fn job_part(&mut self, file: &At<Part>, job: &CuttingJob) -> Option<JobPart> {
        let part = &file.value;
        let before = self.reading.faults.len();
        let count = self.count_or(part.count.as_ref(), "count", 1, MOST_COPIES, 1);
        let sides = self.sides(file);
        let material = self.part_material(file, job);
        let worth_milli = part.worth.as_ref().and_then(|worth| self.part_worth(worth));
        let factory = material.and_then(|of| self.part_factory(part.factory.as_ref(), job, of));
        let (material, (length, width)) = (material?, sides?);
        // One without a name has been told of where it was read.
        let named = part.name.as_ref().map(|name| name.value.clone());
        let name = named.clone().unwrap_or_else(|| "(without a name)".to_owned());
        let whole = match job.stock.materials[material].section {
            Section::Board { width } => Some(width),
            Section::Sheet => None,
        };
        let (Some(width), span) = (width.as_ref().map(|w| w.value).or(whole), &length.span) else {
            let message = format!("`{name}` is cut from sheets, and has no width");
            let fault = Fault::at(Code::Missing, length.span.clone(), message);
            self.fault(fault.help("write `size = [along the grain, across it]`"));
            return None;
        };
        let made = JobPart {
            name,
            material,
            length: length.value,
            width,
            count: count.unwrap_or(1),
            turn: part.turn.as_ref().is_some_and(|turn| turn.value),
            factory: factory.unwrap_or_default(),
            worth_milli,
        };
        let asked = part.factory.as_ref().map_or(span, |asked| &asked.span);
        let held = self.within_stock(&made, span, job);
        if held {
            self.has_its_edges(&made, asked, job);
        }
        (named.is_some() && self.reading.faults.len() == before).then_some(made)
    }

    /// The edges that must be the factory's; a fault where they cannot be.
    fn part_factory(
        &mut self,
        asked: Option<&At<Vec<At<FactorySide>>>>,
        job: &CuttingJob,
        material: MaterialId,
    ) -> Option<FactoryNeed> {
        let Some(asked) = asked else { return Some(FactoryNeed::default()) };
        let has = |side| asked.value.iter().any(|found| found.value == side);
        let need = FactoryNeed { along: has(FactorySide::Along), across: has(FactorySide::Across) };
        let of = &job.stock.materials[material];
        if of.is_board() && need.any() {
            let message = format!("`{}` comes in boards, whose edges are all the same", of.name);
            self.fault(
                Fault::at(Code::Contradiction, asked.span.clone(), message)
                    .help("leave `factory` out: it is for parts cut from sheets"),
            );
            return None;
        }
        Some(need)
    }

    fn part_worth(&mut self, worth: &At<Thousandths>) -> Option<i64> {
        if (1..=MOST_WORTH).contains(&worth.value.0) {
            return Some(worth.value.0);
        }
        let message =
            format!("`worth` must be more than nothing and at most {}", MOST_WORTH / 1000);
        let fault = Fault::at(Code::OutOfRange, worth.span.clone(), message);
        self.fault(fault.help("leave it out for what has to be cut"));
        None
    }

    /// Length, and width if there is one: by `size`, or each by itself.
    fn sides(&mut self, file: &At<Part>) -> Option<(At<Length>, Option<At<Length>>)> {
        let part = &file.value;
        if let Some(size) = &part.size {
            if let Some(twice) = part.length.as_ref().or(part.width.as_ref()) {
                let message = "`size` says the length and the width already";
                let fault = Fault::at(Code::Contradiction, twice.span.clone(), message);
                self.fault(fault.also(size.span.clone(), "here").help("keep one of them"));
                return None;
            }
            let [length, width] =
                [0, 1].map(|side| self.length(&size.value[side], "size", Least::Positive));
            let at = |value| At { value, span: size.span.clone() };
            return Some((at(length?), Some(at(width?))));
        }
        let width = part.width.as_ref().map(|given| self.length(given, "width", Least::Positive));
        let Some(given) = &part.length else {
            if !self.reading.is_misspelt("length") && !self.reading.is_misspelt("size") {
                let fault = Fault::at(Code::Missing, file.span.clone(), "the part has no size");
                self.fault(
                    fault.help("add `size = [along the grain, across it]`, or `length = …`"),
                );
            }
            return None;
        };
        let length = self.length(given, "length", Least::Positive)?;
        let width = match width {
            Some(width) => Some(At { value: width?, span: part.width.as_ref()?.span.clone() }),
            None => None,
        };
        Some((At { value: length, span: given.span.clone() }, width))
    }

    fn part_material(&mut self, file: &At<Part>, job: &CuttingJob) -> Option<MaterialId> {
        let stock = &job.stock;
        let Some(named) = &file.value.material else {
            let mut all = stock.materials.iter().map(|(id, _)| id);
            return match (all.next(), all.next()) {
                (Some(only), None) => Some(only),
                (Some(_), Some(_)) if !self.reading.is_misspelt("material") => {
                    let message = "`material` is missing: there is more than one to choose from";
                    let names: Vec<&str> =
                        stock.materials.values().take(12).map(|m| m.name.as_str()).collect();
                    let fault = Fault::at(Code::Missing, file.span.clone(), message);
                    self.fault(fault.help(format!("there is {}", names.join(", "))));
                    None
                }
                _ => None,
            };
        };
        let found = material_or_item(stock, &named.value);
        if found.is_none() && self.stock_is_whole {
            self.unknown_material(named, stock);
        }
        found
    }

    /// Whether some stock holds the part by itself and the saw can rip it; faults otherwise.
    fn within_stock(&mut self, part: &JobPart, span: &Span, job: &CuttingJob) -> bool {
        let (units, shop) = (job.units, &job.shop);
        let before = self.reading.faults.len();
        let material = &job.stock.materials[part.material];
        let narrow = match material.section {
            Section::Board { width } if part.width > width => {
                let (by, board) = ((part.width - width).show(units), width.show(units));
                let message = format!(
                    "`{}` is wider than its board: {by} more than the {board} of `{}`",
                    part.name, material.name
                );
                self.fault(Fault::at(Code::TooLarge, span.clone(), message));
                shop.least_rip
            }
            Section::Board { width } if part.width == width => shop.least_rip,
            Section::Board { .. } => part.width,
            Section::Sheet => part.width.min(part.length),
        };
        if narrow < shop.least_rip {
            let by = (shop.least_rip - narrow).show(units);
            let message = format!("`{}` is {by} narrower than the least rip", part.name);
            let help = "rip it off something wider, or lessen `least_rip` under [shop]";
            self.fault(Fault::at(Code::OutOfRange, span.clone(), message).help(help));
        }
        if let Some((by, nearest)) = least_excess(part, job).filter(|_| self.stock_is_whole) {
            let message = format!(
                "`{}` is larger than any stock of `{}`: at best {} too long",
                part.name,
                material.name,
                by.show(units)
            );
            let fault = Fault::at(Code::TooLarge, span.clone(), message);
            let turned = material.grain && !material.is_board() && !part.turn;
            let mut help = format!("the nearest is {nearest}");
            if shop.edge_trim.is_positive() && !material.is_board() {
                help.push_str(&format!(", {} trimmed off each edge", shop.edge_trim.show(units)));
            }
            if turned {
                help.push_str("; let it lie across the grain with `turn = true`, if it may");
            }
            self.fault(fault.help(help));
        }
        self.reading.faults.len() == before
    }

    /// A fault if no stock that holds the part has the factory edges it asks for at `asked`.
    fn has_its_edges(&mut self, part: &JobPart, asked: &Span, job: &CuttingJob) {
        if !self.stock_is_whole || !part.factory.any() || has_factory_edges(part, job) {
            return;
        }
        let message = format!(
            "no stock of `{}` has the factory edges that `{}` must have",
            job.stock.materials[part.material].name, part.name
        );
        let help = if job.shop.edge_trim.is_positive() {
            "`edge_trim` takes them off: leave it out, or set it to 0"
        } else {
            "say with `factory` under [[sheet]] which edges are the factory's"
        };
        self.fault(Fault::at(Code::Contradiction, asked.clone(), message).help(help));
    }

    /// No more copies and lines than can be searched. Of the job's parts those from `first` on stand in this file, at `places`:
    /// what is too many in all is told at the first line too many, or at the part that there is most of.
    pub(super) fn not_too_many(&mut self, job: &CuttingJob, first: usize, places: &[Span]) {
        let here = |part: usize| places.get(part.checked_sub(first)?).cloned();
        if let Some(place) = here(MOST_LINES) {
            let message = format!("{} lines of parts are too many", job.parts.len());
            let fault = Fault::at(Code::OutOfRange, place, message);
            self.fault(fault.help(format!("at most {MOST_LINES}: part the job into several")));
        }
        for (id, material) in job.stock.materials.iter() {
            let of = || job.parts.iter().enumerate().filter(|(_, part)| part.material == id);
            let copies: u64 = of().map(|(_, part)| u64::from(part.count)).sum();
            let (limit, how) = match material.section {
                Section::Board { .. } => (MOST_ON_BOARDS, "cut from boards"),
                Section::Sheet => (MOST_ON_SHEETS, "laid out on sheets"),
            };
            let most = of().max_by_key(|(i, part)| (part.count, Reverse(*i)));
            let Some(place) = most.and_then(|(i, _)| here(i)) else { continue };
            if copies > limit {
                let message = format!("{copies} parts of `{}` are too many", material.name);
                let help =
                    format!("at most {limit} of one material are {how}: part the job into several");
                self.fault(Fault::at(Code::OutOfRange, place, message).help(help));
            }
        }
    }
}

/// Whether a sheet that holds the part has as many factory edges as it needs.
fn has_factory_edges(part: &JobPart, job: &CuttingJob) -> bool {
    let turns = part.turn || !job.stock.materials[part.material].grain;
    let to_be_had = |item: &crate::scenario::StockItem| item.on_hand > 0 || item.most != Some(0);
    job.stock.of(part.material).filter(|(_, item)| to_be_had(item)).any(|(id, item)| {
        let Form::Sheet { along, across } = item.form else { return false };
        let raw = job.factory_edges(id);
        let (ends, long) = (raw.left || raw.right, raw.upper || raw.lower);
        let lies = |x: Length, y: Length, at_end: bool, at_long: bool| {
            x <= along && y <= across && (!at_end || ends) && (!at_long || long)
        };
        let need = part.factory;
        lies(part.length, part.width, need.across, need.along)
            || (turns && lies(part.width, part.length, need.along, need.across))
    })
}

/// What a part lacks at least to come out of some stock, and which that is; `None` if it does come out, or if there is no
/// stock of its material at all.
fn least_excess(part: &JobPart, job: &CuttingJob) -> Option<(Length, String)> {
    let material = &job.stock.materials[part.material];
    let mut least: Option<(Length, String)> = None;
    let to_be_had = |item: &&crate::scenario::StockItem| item.on_hand > 0 || item.most != Some(0);
    for item in job.stock.of(part.material).map(|(_, item)| item).filter(to_be_had) {
        let by = match item.form {
            Form::Board { length } => part.length - length,
            Form::Sheet { along, across } => {
                let trim = if item.is_offcut() { Length::ZERO } else { job.shop.edge_trim };
                let (along, across) = (along - trim * 2, across - trim * 2);
                let lying = |x: Length, y: Length| (x - along).max(y - across);
                let as_is = lying(part.length, part.width);
                let turned = lying(part.width, part.length);
                if part.turn || !material.grain { as_is.min(turned) } else { as_is }
            }
        };
        if !by.is_positive() {
            return None;
        }
        let size = match item.form {
            Form::Board { length } => length.show(job.units),
            Form::Sheet { along, across } => {
                format!("{} x {}", along.figure(job.units), across.show(job.units))
            }
        };
        if least.as_ref().is_none_or(|(before, _)| by < *before) {
            least = Some((by, format!("`{}`, {size}", item.name)));
        }
    }
    least
}
