//! The chest's rows: panels to members and backs, backs to members, strips, hold-downs, lids.

use super::{Driller, Placed, at_least_two, common, middle, xs, ys};
use crate::design::derive::carcass::run_height;
use crate::design::geometry::Point;
use crate::design::parts::Role;
use crate::design::work::{HoleKind, Side};
use crate::scenario::{HardwareUse, Runs, Scenario, Sold};
use crate::units::Length;

/// What a strip's screw keeps off a seam under it (common practice, no source).
const SEAM_CLEAR: Length = Length::mm(6);
/// From a member's foot to its angled screws, and from its head (common practice, no source).
const TOE: Length = Length::inches(3, 4);
/// From a lid's edges to its brackets' middles (an assumption).
const BRACKET: Length = Length::inches(2, 1);
/// From the chest's ends to its hold-downs (an assumption).
const HOLD_DOWN_END: Length = Length::inches(8, 1);
/// From a member's face to the hold-downs beside it, clear of the strip there (an assumption).
const HOLD_DOWN_BESIDE: Length = Length::inches(4, 1);
/// Width of a strip whose stock does not say (an assumption).
const STRIP_WIDTH: Length = Length::inches(1, 1);
/// From the deck's front edge to the screws of its angle (an assumption).
const ANGLE: Length = Length::inches(3, 8);

/// One tier's wood.
struct Tier {
    members: Vec<Placed>,
    backs: Vec<Placed>,
    /// The panel that it stands on, and the one on it.
    below: Vec<Placed>,
    above: Vec<Placed>,
}

impl Driller<'_> {
    /// Every row that belongs to no drawer and no pocket.
    pub(super) fn chest(&mut self) {
        let tiers: Vec<Tier> =
            (0..self.woods.chest.carcass.tiers.len()).map(|t| self.tier(t)).collect();
        for (index, tier) in tiers.iter().enumerate() {
            let under = index.checked_sub(1).map(|below| &tiers[below]);
            self.feet(tier, under);
            self.heads(tier);
            self.ends(tier);
        }
        self.outriggers(&tiers);
        self.strips(&tiers);
        self.hold_downs();
        self.angle();
    }

    /// What stands on the top of a tier's panel, and the panels themselves.
    fn tier(&self, index: usize) -> Tier {
        let frame = &self.woods.chest.carcass.tiers[index];
        let at = |role: Role, z: Length| -> Vec<Placed> {
            let all = self.placed(role, None).into_iter();
            let mut found: Vec<Placed> = all.filter(|placed| placed.space.at.z == z).collect();
            found.sort_by_key(|placed| (placed.space.at.x, placed.id));
            found
        };
        let head = frame.z + frame.height;
        let panels = |role: Role, top: bool, z: Length| -> Vec<Placed> {
            let all = self.placed(role, None).into_iter();
            let level = |p: &Placed| if top { p.space.far().z } else { p.space.at.z };
            let mut found: Vec<Placed> = all.filter(|placed| level(placed) == z).collect();
            found.sort_by_key(|placed| (placed.space.at.x, placed.id));
            found
        };
        let below = if index == 0 { Role::Bottom } else { Role::Shelf };
        let last = index + 1 == self.woods.chest.carcass.tiers.len();
        let above = if last { Role::Deck } else { Role::Shelf };
        Tier {
            members: at(Role::Member, frame.z),
            backs: at(Role::Back, frame.z),
            below: panels(below, true, frame.z),
            above: panels(above, false, head),
        }
    }

    /// Members and backs to the panel they stand on: through it from below, or through their feet where something right
    /// below is in the way.
    fn feet(&mut self, tier: &Tier, under: Option<&Tier>) {
        let fastening = self.woods.fixings.chest.fastening;
        for upright in tier.members.iter().chain(&tier.backs) {
            for panel in &tier.below {
                let Some((line, seam)) = seam(*upright, *panel) else { continue };
                let places = super::along(seam.1 - seam.0, fastening, self.step());
                let lengthwise = upright.role == Role::Member;
                let blocked = under.is_some_and(|under| {
                    let below = under.members.iter().chain(&under.backs);
                    below.into_iter().any(|b| above(*upright, *b))
                });
                let at = |p: &Length, z: Length| {
                    let along = seam.0 + *p;
                    if lengthwise { Point::new(line, along, z) } else { Point::new(along, line, z) }
                };
                if blocked {
                    let z = upright.space.at.z + TOE.min(upright.space.size.dz / 4);
                    let side = if lengthwise { inner(*upright, tier) } else { Side::Rear };
                    let places = places.iter().map(|p| at(p, z));
                    self.row(*upright, Some(panel.id), HoleKind::Toe, side, places);
                } else {
                    let places = places.iter().map(|p| at(p, panel.space.at.z));
                    self.row(*panel, Some(upright.id), HoleKind::Chest, Side::Under, places);
                }
            }
        }
    }

    /// The panel on a tier to its members and back, from above.
    fn heads(&mut self, tier: &Tier) {
        let fastening = self.woods.fixings.chest.fastening;
        for upright in tier.members.iter().chain(&tier.backs) {
            for panel in &tier.above {
                let Some((line, seam)) = seam(*upright, *panel) else { continue };
                let places = super::along(seam.1 - seam.0, fastening, self.step());
                let z = panel.space.far().z;
                let places = places.iter().map(|p| match upright.role {
                    Role::Member => Point::new(line, seam.0 + *p, z),
                    _ => Point::new(seam.0 + *p, line, z),
                });
                self.row(*panel, Some(upright.id), HoleKind::Chest, Side::Top, places);
            }
        }
    }

    /// Two screws through the back into each member's end.
    fn ends(&mut self, tier: &Tier) {
        let fastening = self.woods.fixings.chest.fastening;
        for member in &tier.members {
            for back in &tier.backs {
                let Some(shared) = common(xs(member.space), xs(back.space)) else { continue };
                let x = middle(shared);
                let height = member.space.size.dz;
                let places = at_least_two(height, fastening, self.step());
                let ends = [places[0], places[places.len() - 1]];
                let places = ends.map(|p| Point::new(x, back.space.at.y, member.space.at.z + p));
                self.row(*back, Some(member.id), HoleKind::Chest, Side::Rear, places);
            }
        }
    }

    /// Outriggers through their heads into the panel that they carry.
    fn outriggers(&mut self, tiers: &[Tier]) {
        let Some(top) = tiers.last() else { return };
        let fastening = self.woods.fixings.chest.fastening;
        let centre = self.woods.chest.carcass.tiers.last().map(|frame| frame.x + frame.width / 2);
        for outrigger in self.placed(Role::Outrigger, None) {
            for panel in &top.below {
                let (space, y) = (outrigger.space, common(ys(outrigger.space), ys(panel.space)));
                let (Some(_), Some((from, to))) = (common(xs(space), xs(panel.space)), y) else {
                    continue;
                };
                let z = space.far().z - TOE.min(space.size.dz / 4);
                let left = centre.is_some_and(|centre| space.at.x < centre);
                let side = if left { Side::Right } else { Side::Left };
                let places = super::along(to - from, fastening, self.step());
                let places = places.into_iter().map(|p| Point::new(space.at.x, from + p, z));
                self.row(outrigger, Some(panel.id), HoleKind::Toe, side, places);
            }
        }
    }

    /// Two strips under each drawer, below its sides, and one at each side on the members.
    fn strips(&mut self, tiers: &[Tier]) {
        if self.woods.structure.runs != Runs::Strip {
            return;
        }
        let wide = strip_width(self.scenario);
        let mut fastening = self.woods.fixings.drawer.fastening;
        // A strip is held flat by half as many screws as a seam.
        fastening.spacing = fastening.spacing * 2;
        for drawer in self.woods.drawers {
            let tier = &tiers[drawer.tier];
            let (opening, outside) = (drawer.opening, drawer.outside);
            let along = super::along(opening.size.dy, fastening, self.step());
            let inset = (wide / 2).max(self.side_thickness() / 2);
            for x in [outside.at.x + inset, outside.far().x - inset] {
                let panel = tier.below.iter().find(|p| p.space.at.x <= x && x < p.space.far().x);
                let Some(panel) = panel.copied() else { continue };
                // Beside a seam the screws keep off the panel's edge.
                let x = x.max(panel.space.at.x + SEAM_CLEAR).min(panel.space.far().x - SEAM_CLEAR);
                let places = along.iter().map(|p| Point::new(x, opening.at.y + *p, opening.at.z));
                self.row(panel, None, HoleKind::Strip, Side::Top, places);
            }
            let z = outside.at.z + outside.size.dz / 2;
            for (x, side) in [(opening.at.x, Side::Right), (opening.far().x, Side::Left)] {
                let member = tier.members.iter().find(|member| match side {
                    Side::Right => member.space.far().x == x,
                    _ => member.space.at.x == x,
                });
                let Some(member) = member.copied() else { continue };
                let places = along.iter().map(|p| Point::new(x, opening.at.y + *p, z));
                self.row(member, None, HoleKind::Strip, side, places);
            }
        }
    }

    fn side_thickness(&self) -> Length {
        self.scenario.stock.materials[self.woods.structure.sides].thickness
    }

    /// As many as the design asks for through the bottom, half of them beside each outer member, so that what is under these
    /// carries the pull; evenly from end to end.
    fn hold_downs(&mut self) {
        let Some(frame) = self.woods.chest.carcass.tiers.first() else { return };
        let front = self.woods.chest.carcass.front_y;
        let end = HOLD_DOWN_END.min(frame.inside_length / 4);
        let openings = self.woods.drawers.iter().filter(|drawer| drawer.tier == 0);
        let openings: Vec<_> = openings.map(|drawer| drawer.opening).collect();
        let (Some(first), Some(last)) = (openings.first(), openings.last()) else { return };
        let beside = |width: Length| HOLD_DOWN_BESIDE.min(width / 3);
        let xs_ = [first.at.x + beside(first.size.dx), last.far().x - beside(last.size.dx)];
        let all = self.woods.fixings.hold_downs;
        for (x, count) in xs_.into_iter().zip([all.div_ceil(2), all / 2]) {
            let bottoms = self.placed(Role::Bottom, None);
            let under = bottoms.into_iter().find(|p| p.space.at.x <= x && x < p.space.far().x);
            let Some(panel) = under else { continue };
            let between = frame.inside_length - end * 2;
            let spaces = i64::from(count.max(2)) - 1;
            let z = panel.space.far().z;
            let places = (0..i64::from(count)).map(|index| {
                let along = (between * index / spaces).floor_to(self.step());
                let along = if index == spaces { between } else { along };
                Point::new(x, front + end + along, z)
            });
            let places: Vec<Point> = places.collect();
            self.row(panel, None, HoleKind::HoldDown, Side::Top, places);
        }
    }

    /// The angle at the deck's front edge, if there is one.
    fn angle(&mut self) {
        if self.scenario.stock.hardware_for(HardwareUse::Angle).next().is_none() {
            return;
        }
        let fastening = self.woods.fixings.chest.fastening;
        for deck in self.placed(Role::Deck, None) {
            let space = deck.space;
            let places = super::along(space.size.dx, fastening, self.step());
            let places = places
                .into_iter()
                .map(|p| Point::new(space.at.x + p, space.at.y + ANGLE, space.at.z));
            self.row(deck, None, HoleKind::Angle, Side::Top, places);
        }
    }

    /// Four brackets under each lid, near its corners.
    pub(super) fn pockets(&mut self) {
        for lid in self.placed(Role::Lid, None) {
            let space = lid.space;
            let far = space.far();
            let [x, y] = [space.size.dx, space.size.dy].map(|extent| BRACKET.min(extent / 4));
            let places = [(space.at.x + x, space.at.y + y), (far.x - x, space.at.y + y)];
            let places =
                places.into_iter().chain([(space.at.x + x, far.y - y), (far.x - x, far.y - y)]);
            let places: Vec<Point> = places.map(|(x, y)| Point::new(x, y, space.at.z)).collect();
            self.row(lid, None, HoleKind::Bracket, Side::Under, places);
        }
    }
}

/// Width of the strip under and beside drawers.
pub fn strip_width(scenario: &Scenario) -> Length {
    let strip = scenario.stock.hardware_for(HardwareUse::Strip).next();
    match strip.map(|(_, strip)| strip.sold) {
        Some(Sold::Ripped { width, .. }) => width,
        _ => STRIP_WIDTH.max(run_height(scenario, Runs::Strip)),
    }
}

/// Where a panel meets an upright: the line of its screws across the upright, and the stretch along it.
fn seam(upright: Placed, panel: Placed) -> Option<(Length, (Length, Length))> {
    let (x, y) =
        (common(xs(upright.space), xs(panel.space))?, common(ys(upright.space), ys(panel.space))?);
    Some(match upright.role {
        Role::Member => (middle(x), y),
        _ => (middle(y), x),
    })
}

/// Whether one upright stands above another, be it in part: neither can then be screwed to the panel between them once the
/// other is there.
fn above(upright: Placed, below: Placed) -> bool {
    common(xs(upright.space), xs(below.space)).is_some()
        && common(ys(upright.space), ys(below.space)).is_some()
}

/// The face of a member that looks into an opening of its tier.
fn inner(member: Placed, tier: &Tier) -> Side {
    let last = tier.members.last().is_some_and(|last| last.id == member.id);
    if last { Side::Left } else { Side::Right }
}
