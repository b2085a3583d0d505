//! Panels wider than a sheet: where their seams are.

use super::Misfit;
use super::carcass::{deck_most, widest};
use crate::design::structure::{Carcass, Structure};
use crate::scenario::Scenario;
use crate::units::Length;

/// Whether each panel has as many members under it as it needs seams, wherever those stand.
///
/// # Errors
/// [`Misfit::SeamOffMember`] if one has not: no widths of columns can mend that.
pub fn seams_have_members(
    scenario: &Scenario,
    structure: &Structure,
    carcass: &Carcass,
) -> Result<(), Misfit> {
    let top = carcass.tiers.len().saturating_sub(1);
    let bottom = widest(scenario, structure.bottom)?;
    let deck = deck_most(scenario, structure)?[0];
    let shelves = (1..carcass.tiers.len()).map(|tier| (structure.bottom, bottom, tier, tier - 1));
    let panels = [(structure.bottom, bottom, 0, 0), (structure.deck, deck, top, top)];
    for (material, most, of, on) in panels.into_iter().chain(shelves) {
        let (Some(panel), Some(below)) = (carcass.tiers.get(of), carcass.tiers.get(on)) else {
            continue;
        };
        // The outer members of a narrower tier stand inside the panel's ends too; those under its ends spare it half of their
        // thickness each.
        let inside = below.columns + 1 - if panel.width > below.width { 0 } else { 2 };
        if most * (i64::from(inside) + 1) + below.member < panel.width {
            return Err(Misfit::SeamOffMember { material });
        }
    }
    Ok(())
}

/// Splits a panel that reaches from `x` over `width` into strips no wider than the second of `limits` and no narrower than the
/// first, every seam at one of `seams`
/// (the middles of members, ascending). Returns each strip's x and width: the fewest strips, and of those the ones whose
/// widest is narrowest.
///
/// `None` if the seams do not allow it. O(seams²).
pub fn strips(
    x: Length,
    width: Length,
    limits: [Length; 2],
    seams: &[Length],
) -> Option<Vec<(Length, Length)>> {
    let [least, most] = limits;
    let end = x + width;
    let mut marks = vec![x];
    marks.extend(seams.iter().copied().filter(|seam| *seam > x && *seam < end));
    marks.push(end);
    // best[i]: fewest strips from x to marks[i], the widest of them, and the mark before.
    let mut best: Vec<Option<(usize, Length, usize)>> = vec![None; marks.len()];
    best[0] = Some((0, Length::ZERO, 0));
    for to in 1..marks.len() {
        best[to] = (0..to)
            .filter(|from| (least..=most).contains(&(marks[to] - marks[*from])))
            .filter_map(|from| {
                let (count, widest, _) = best[from]?;
                Some((count + 1, widest.max(marks[to] - marks[from]), from))
            })
            .min();
    }
    let mut to = marks.len() - 1;
    let mut strips = Vec::new();
    while to > 0 {
        let (_, _, from) = best[to]?;
        strips.push((marks[from], marks[to] - marks[from]));
        to = from;
    }
    strips.reverse();
    Some(strips)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inch(n: i64) -> Length {
        Length::inches(n, 4)
    }

    #[test]
    fn a_panel_as_wide_as_the_sheet_has_no_seam() {
        assert_eq!(
            strips(inch(0), inch(192), [inch(4), inch(192)], &[inch(96)]),
            Some(vec![(inch(0), inch(192))])
        );
    }

    #[test]
    fn a_wider_panel_is_split_on_the_member_that_halves_it_best() {
        let seams = [inch(3), inch(70), inch(130), inch(199)];
        assert_eq!(
            strips(inch(0), inch(202), [inch(4), inch(192)], &seams),
            Some(vec![(inch(0), inch(130)), (inch(130), inch(72))])
        );
    }

    #[test]
    fn without_a_member_to_land_on_there_is_no_seam() {
        assert_eq!(strips(inch(0), inch(202), [inch(4), inch(192)], &[inch(4), inch(198)]), None);
    }
}
