//! A panel of the chest and what it lies on.

use super::Subject;
use crate::design::{Box3, Grain, Role};
use crate::mechanics::panel::{Axis, deflection_span};
use crate::mechanics::strip::Patch;
use crate::scenario::MaterialId;
use crate::units::Length;
use crate::units::physics::{LineLoad, Metres};

/// A panel across members: a strip of it along x is a continuous beam, which a seam (always on a
/// member) ends.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Laid {
    pub(super) space: Box3,
    pub(super) material: MaterialId,
    /// Which of its axes lies along x.
    pub(super) axis: Axis,
    /// Where its supports begin and end along x, ascending.
    supports: Vec<(Length, Length)>,
}

/// A panel's edge that nothing carries.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Overhang {
    pub(super) from: Length,
    pub(super) to: Length,
    /// Middle of the support it hangs from.
    pub(super) support: Length,
    /// The span behind that support.
    pub(super) span: Metres,
}

impl Laid {
    /// The panels of a role that lie on two supports at least.
    pub(super) fn of(subject: &Subject<'_>, role: Role) -> Vec<Self> {
        let panels = subject.solids.iter().filter_map(|solid| {
            let part = subject.part_of(solid).filter(|part| part.role == role)?;
            let space = solid.space;
            let axis = axis_across(part.grain, part.length, space);
            let supports = supports(subject, space);
            Some(Self { space, material: part.material, axis, supports })
        });
        panels.filter(|panel| panel.supports.len() > 1).collect()
    }

    /// Spans between the supports' middles (or the panel's edge, where it ends on one): for bending.
    pub(super) fn spans(&self) -> Vec<Metres> {
        let middles: Vec<Length> =
            self.supports.iter().map(|support| self.middle(*support)).collect();
        middles.windows(2).map(|pair| Metres::from(pair[1] - pair[0])).collect()
    }

    /// Clear spans and what APA adds to them: for deflection.
    pub(super) fn sag_spans(&self) -> Vec<Metres> {
        let gaps = self.supports.windows(2).map(|pair| Metres::from(pair[1].0 - pair[0].1));
        gaps.map(|clear| deflection_span(clear.max(Metres::ZERO))).collect()
    }

    /// A load between two places along x, cut up over [`Laid::spans`]; what lies beyond the outer
    /// supports rests on them.
    pub(super) fn patches(&self, from: Length, to: Length, load: LineLoad) -> Vec<Patch> {
        let ends = self.supports.windows(2).enumerate();
        let cut = ends.filter_map(|(span, pair)| {
            let (start, end) = (self.middle(pair[0]), self.middle(pair[1]));
            let (from, to) = (from.max(start), to.min(end));
            let place = |x: Length| Metres::from(x - start);
            (from < to).then(|| Patch { span, from: place(from), to: place(to), load })
        });
        cut.collect()
    }

    /// Where the panel hangs over beyond its outer supports: the free stretch, and the support's
    /// middle that carries it.
    pub(super) fn overhangs(&self) -> Vec<Overhang> {
        let (Some(first), Some(last)) = (self.supports.first(), self.supports.last()) else {
            return Vec::new();
        };
        let spans = self.spans();
        let neighbours = [spans.first(), spans.last()];
        let sides = [
            (self.space.at.x, first.0, self.middle(*first)),
            (last.1, self.space.far().x, self.middle(*last)),
        ];
        let free = sides.into_iter().zip(neighbours).filter(|((from, to, _), _)| from < to);
        free.filter_map(|((from, to, support), span)| {
            Some(Overhang { from, to, support, span: *span? })
        })
        .collect()
    }

    fn middle(&self, support: (Length, Length)) -> Length {
        let middle = support.0 + (support.1 - support.0) / 2;
        middle.max(self.space.at.x).min(self.space.far().x)
    }
}

/// The axis of a placed panel that runs along x: its grain runs along its length if it says so;
/// otherwise the weaker is assumed.
pub(super) fn axis_across(grain: Grain, length: Length, space: Box3) -> Axis {
    let length_along_x = length == space.size.dx && length != space.size.dy;
    match (grain, length_along_x) {
        (Grain::Along, true) | (Grain::Across, false) => Axis::Along,
        (Grain::Along, false) | (Grain::Across, true) | (Grain::Either, _) => Axis::Across,
    }
}

/// Members and outriggers whose tops carry the panel's underside, each place along x once.
fn supports(subject: &Subject<'_>, panel: Box3) -> Vec<(Length, Length)> {
    let carries = |space: Box3| {
        space.far().z == panel.at.z && space.at.x < panel.far().x && space.far().x > panel.at.x
    };
    let mut supports: Vec<(Length, Length)> = subject
        .solids
        .iter()
        .filter(|solid| solid.drawer.is_none() && carries(solid.space))
        .filter(|solid| {
            let role = subject.part_of(solid).map(|part| part.role);
            matches!(role, Some(Role::Member | Role::Outrigger))
        })
        .map(|solid| (solid.space.at.x, solid.space.far().x))
        .collect();
    supports.sort_unstable();
    supports.dedup();
    supports
}
