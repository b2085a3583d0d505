//! One plan for many beds at the terminal.

use super::page::{Page, Style, clipped};
use crate::paper::{Cell, Column, Table};
use crate::report::family::letters::letters;
use crate::report::family::parts::parts;
use crate::report::family::{Family, name};
use crate::report::figures::{count, length_unit_word, sizes};

/// So many beds stand beside each other; more go into another table.
const ABREAST: usize = 4;

/// The idea, what each bed makes of it, and the letters that differ.
pub fn family(found: &Family<'_>) -> Page {
    let mut page = Page::new();
    page.say(
        Style::Strong,
        "",
        &format!("One plan for {}", count(found.beds.len() as u64, "bed", "beds")),
    );
    page.say(Style::Plain, "", &found.idea());
    page.heading("The beds");
    let mut beds =
        Table::new("", ["", "scenario", "floor", "design", "cost"].map(Column::words).to_vec());
    for (place, bed) in found.beds.iter().enumerate() {
        let floor = sizes(&[bed.scenario.bed.length.at, bed.scenario.bed.width.at], found.units);
        let best = bed.best.as_ref().map(|best| best.design);
        let cost = best.map(|one| format!("{} {}", one.criteria.cost, bed.scenario.currency));
        beds.row([
            Cell::text(name(place)),
            Cell::text(clipped(&bed.scenario.title, 26)),
            Cell::text(floor),
            Cell::text(best.map_or("none".to_owned(), |one| one.id.to_string())),
            Cell::text(cost.unwrap_or_default()),
        ]);
    }
    page.table(&beds);
    page.blank();
    for (place, bed) in found.beds.iter().enumerate() {
        let lead = format!("{}  ", name(place));
        if bed.best.is_none() {
            page.say(Style::Bad, &lead, &format!("has no design of this idea. {}", bed.why()));
        } else if !bed.without.is_empty() {
            let text = format!("has no {} and uses its own in its place.", bed.without.join(", "));
            page.say(Style::Caution, &lead, &text);
        } else {
            page.say(Style::Plain, &lead, "has a design of this idea that passed the verifier.");
        }
    }
    differing(&mut page, found);
    page
}

fn differing(page: &mut Page, found: &Family<'_>) {
    let built = found.built();
    if built.len() < 2 {
        return;
    }
    let letters = letters(found);
    let (shared, own) = parts(found);
    page.heading(&format!("Lengths that differ, {}", length_unit_word(found.units)));
    for (part, beds) in built.chunks(ABREAST).enumerate() {
        let mut columns = vec![Column::words(""), Column::words("")];
        columns.extend(beds.iter().map(|bed| Column::count(name(bed.place))));
        let mut table = Table::new("", columns);
        for letter in letters.iter().filter(|letter| !letter.is_shared()) {
            let values = letter.values.iter().skip(part * ABREAST).take(beds.len());
            let values = values.map(|value| {
                Cell::text(value.map_or("-".to_owned(), |length| length.figure(found.units)))
            });
            let lead = [Cell::text(&letter.letter), Cell::text(clipped(&letter.what, 40))];
            table.row(lead.into_iter().chain(values));
        }
        page.table(&table);
    }
    page.blank();
    let same = letters.iter().filter(|letter| letter.is_shared()).count();
    page.say(
        Style::Plain,
        "",
        &format!(
            "The other {} are the same in all; of {}, {} are cut alike for every bed.",
            count(same as u64, "lettered length", "lettered lengths"),
            count((shared.len() + own.len()) as u64, "kind of part", "kinds of part"),
            shared.len()
        ),
    );
}
