//! How much room a text may need, without a font at hand.

use unicode_width::UnicodeWidthChar;

use super::drawing::{Anchor, Rect, Text, Turn, rect};

/// Capital heights in use, mm, from the series of ISO 3098 (1.8, 2.5, 3.5, 5, 7 ...): from memory.
pub const HEIGHTS: [f64; 4] = [1.8, NOTE, TITLE, 5.0];
/// The smallest text.
pub const SMALL: f64 = 1.8;
/// Ordinary text: labels and dimensions.
pub const NOTE: f64 = 2.5;
/// Headings.
pub const TITLE: f64 = 3.5;

/// Distance of baselines, in capital heights.
pub const BASELINES: f64 = 1.5;
/// What reaches below the baseline, in capital heights (DejaVu Sans: 236 of 729).
pub const DESCENT: f64 = 0.33;
/// What reaches above it: a capital, or a little more for strokes.
const ASCENT: f64 = 1.06;
/// Font size in capital heights; DejaVu Sans has capitals of 729 thousandths of its size.
pub(super) const EM: f64 = 1.0 / 0.729;
/// Bold letters are at most this much wider (DejaVu Sans Bold against DejaVu Sans, printable
/// ASCII: 1.262).
const BOLD: f64 = 1.27;

/// Advance widths of printable ASCII in thousandths of the font size, rounded up, as measured in
/// DejaVu Sans 2.37: of the fonts that "sans-serif" commonly stands for, the widest. Where the bundled Noto Sans is
/// wider still (`*` and a few more), its.
#[rustfmt::skip]
const ASCII: [u16; 95] = [
    318, 401, 460, 838, 637, 951, 780, 275, 391, 391, 551, 838, 318, 361, 318, 373,
    637, 637, 637, 637, 637, 637, 637, 637, 637, 637, 337, 337, 838, 838, 838, 531,
    1000, 685, 687, 699, 771, 632, 576, 775, 752, 339, 295, 656, 558, 908, 760, 788,
    605, 788, 695, 635, 611, 732, 685, 989, 686, 611, 686, 391, 373, 391, 838, 500,
    581, 613, 635, 550, 635, 616, 353, 635, 634, 278, 278, 580, 278, 975, 634, 612,
    635, 635, 414, 521, 393, 634, 592, 818, 592, 592, 525, 637, 551, 637, 838,
];

/// Widest advance of Latin letters with accents and signs (U+00A0 to U+017F), thousandths.
const LATIN: u16 = 1070;
/// Widest advance of anything else in that font, thousandths.
const OTHER: u16 = 1740;

fn advance(c: char) -> u16 {
    match c {
        '\u{a0}' => ASCII[0],
        ' '..='~' => ASCII[usize::from(c as u8 - b' ')],
        '\u{a1}'..='\u{17f}' => LATIN,
        _ if UnicodeWidthChar::width(c) == Some(0) => 0,
        _ => OTHER,
    }
}

/// The most room a text of capital height `height` takes along its line, mm. Rather too much than
/// too little: ordinary sans-serif fonts need about a tenth less.
pub fn text_width(text: &str, height: f64, bold: bool) -> f64 {
    let thousandths: u64 = text.chars().map(|c| u64::from(advance(c))).sum();
    let width = thousandths as f64 / 1000.0 * height * EM;
    if bold { width * BOLD } else { width }
}

/// The rectangle a text may need on the page.
pub fn text_box(text: &Text) -> Rect {
    let width = text_width(&text.text, text.height, text.bold);
    let before = match text.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => width / 2.0,
        Anchor::End => width,
    };
    let (up, down) = (ASCENT * text.height, DESCENT * text.height);
    let (x, y) = (text.at.x, text.at.y);
    match text.turn {
        Turn::Level => rect(x - before, y - up, x - before + width, y + down),
        Turn::Upward => rect(x - up, y + before - width, x + down, y + before),
    }
}

/// Breaks a text at its line feeds, and at blanks into lines no wider than `width` mm; `None` if a
/// single word is wider than that. No-break spaces hold words together, and nothing parts a
/// whole number from its fraction.
pub fn wrap(text: &str, height: f64, width: f64) -> Option<Vec<String>> {
    let mut lines: Vec<String> = Vec::new();
    for paragraph in text.lines() {
        let begun = lines.len();
        for word in words(paragraph) {
            if text_width(&word, height, false) > width {
                return None;
            }
            if let Some(line) = lines[begun..].last_mut() {
                let longer = format!("{line} {word}");
                if text_width(&longer, height, false) <= width {
                    *line = longer;
                    continue;
                }
            }
            lines.push(word);
        }
    }
    Some(lines)
}

/// What no line is broken within: words, and whole numbers with their fractions.
fn words(paragraph: &str) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for word in paragraph.split([' ', '\t']).filter(|word| !word.is_empty()) {
        let rest = word.trim_start_matches(|c: char| c.is_ascii_digit());
        let fraction = rest.len() < word.len() && rest.starts_with('/');
        match all.last_mut() {
            Some(whole) if fraction && whole.ends_with(|c: char| c.is_ascii_digit()) => {
                whole.push(' ');
                whole.push_str(word);
            }
            _ => all.push(word.to_owned()),
        }
    }
    all
}

/// The text, or as much of it as fits in `width` mm with an ellipsis.
pub fn shorten(text: &str, height: f64, bold: bool, width: f64) -> String {
    if text_width(text, height, bold) <= width {
        return text.to_owned();
    }
    let mut kept = String::new();
    for c in text.chars() {
        let longer = format!("{kept}{c}...");
        if text_width(&longer, height, bold) > width {
            break;
        }
        kept.push(c);
    }
    let mut kept = kept.trim_end().to_owned();
    kept.push_str("...");
    kept
}
