//! The lines of the contents, as close as it takes to keep them on one page.

use super::super::drawing::{Anchor, Pen, Rect, Text, at, rect};
use super::super::font::Fonts;
use super::super::measure::NOTE;
use super::Rich;
use super::slab::{LEADING, Slab, TO_BASELINE};

/// Below a line that has a rule under it, mm.
const RULE: f64 = 0.6;

/// How close the lines stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Spacing {
    /// With room between them.
    Loose,
    /// Closer.
    Close,
    /// Without rules under all but the sections'.
    Bare,
}

impl Spacing {
    /// Baseline to baseline, in capital heights.
    const fn leading(self) -> f64 {
        match self {
            Self::Loose => LEADING,
            Self::Close => 1.5,
            Self::Bare => 1.45,
        }
    }

    /// Above a line of a level, mm.
    const fn before(self, level: usize) -> f64 {
        match (self, level <= 1) {
            (Self::Loose, true) => 2.0,
            (Self::Loose, false) => 0.2,
            (Self::Close, true) => 1.2,
            (Self::Bare, true) => 0.8,
            (_, false) => 0.0,
        }
    }
}

/// The lines of these headings (level and text), without numbers: with the most room between them of what keeps to a height, or
/// with all of it where nothing does.
pub(super) fn lines(
    listed: &[(usize, String)],
    fonts: &Fonts,
    (width, height): (f64, f64),
) -> (Spacing, Vec<Slab>) {
    let all = |spacing: Spacing| -> Vec<Slab> {
        listed.iter().map(|(level, text)| entry(*level, text, fonts, width, spacing)).collect()
    };
    let fits =
        |lines: &[Slab]| lines.iter().map(|slab| slab.before + slab.height).sum::<f64>() <= height;
    let tried =
        [Spacing::Loose, Spacing::Close, Spacing::Bare].map(|spacing| (spacing, all(spacing)));
    let found = tried.into_iter().find(|(_, lines)| fits(lines));
    found.unwrap_or_else(|| (Spacing::Loose, all(Spacing::Loose)))
}

fn entry(level: usize, text: &str, fonts: &Fonts, width: f64, spacing: Spacing) -> Slab {
    let x = if level <= 1 { 0.0 } else { 6.0 };
    let rich = if level <= 1 { Rich::default().bold(text) } else { Rich::plain(text) };
    let mut slab = Slab { before: spacing.before(level), ..Slab::default() };
    let room = width - x - 14.0;
    for line in rich.lines(fonts, NOTE, room) {
        let baseline = slab.height + NOTE * TO_BASELINE;
        line.texts(fonts, x, baseline, NOTE).into_iter().for_each(|t| slab.text(t));
        slab.height += NOTE * spacing.leading();
    }
    if spacing != Spacing::Bare {
        let y = slab.height + RULE - 0.2;
        slab.line(at(x, y), at(width, y), Pen::Thin);
        slab.height += RULE;
    }
    // A level of no heading: its place is where a page's number goes.
    slab.heading = Some((9, String::new()));
    slab
}

/// The number of the page `to` for the line whose lower edge is at `bottom`, and what of the line leads there.
pub(super) fn number(bottom: f64, to: usize, spacing: Spacing, room: Rect) -> (Text, Rect) {
    let rule = if spacing == Spacing::Bare { 0.0 } else { RULE };
    let baseline = bottom - rule - NOTE * (spacing.leading() - TO_BASELINE);
    let number = Text::new(at(room.x1, baseline), (to + 1).to_string(), NOTE, Anchor::End);
    (number, rect(room.x0, bottom - NOTE * spacing.leading(), room.x1, bottom))
}
