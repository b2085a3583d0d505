//! Strips out of sheets and boards.

use super::Group;
use crate::design::derive::hardware::ripped_strips;
use crate::mechanics::Standing::Derived;
use crate::units::Length;

pub(crate) fn cases() -> Group {
    let mut of = Group::new("sawing");
    let cut = "n·w + (n − 1)·k ≤ L";
    let (kerf, sheet) = (Length::inches(1, 8), Length::inches(48, 1));
    let four = |from: Length| (from - kerf * 3) / 4;
    of.holds(60, Derived, cut, four(sheet) == Length::inches(11 * 32 + 29, 32));
    // The quarter inch that comes off first is trim and kerf together.
    let trimmed = sheet - Length::inches(1, 4);
    of.holds(60, Derived, cut, four(trimmed) == Length::inches(11 * 32 + 27, 32));
    let inch = ripped_strips(Length::inches(96, 1), Length::inches(127, 8), kerf);
    let metric = ripped_strips(Length::mm(1220), Length::mm(300), Length::mm(32) / 10);
    of.holds(61, Derived, cut, inch == 6 && metric == 4);
    of
}
