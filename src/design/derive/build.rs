//! From a stowage to drawers, solids, parts.

use super::Misfit;
use super::carcass::{self, layers, longest, widest};
use super::panels::strips;
use super::partlist::{Blank, PartList};
use crate::design::drawer::{Drawer, Layout, Pocket, PocketPlace, Stowage};
use crate::design::fixings::Fixings;
use crate::design::geometry::{Box3, Point, Size};
use crate::design::parts::{Grain, Part, PartId, Role, Solid};
use crate::design::structure::{Carcass, Structure, TierFrame};
use crate::design::whole::Chest;
use crate::scenario::{DeckGrain, Family, MaterialId, Scenario};
use crate::units::Length;

/// Width of a shim laid flat under a member (an assumption).
const SHIM_WIDTH: Length = Length::inches(3, 1);

/// The wooden side of a design.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Built {
    /// Frames and openings.
    pub chest: Chest,
    /// Tier by tier from the bottom, each from left to right.
    pub drawers: Vec<Drawer>,
    /// The pockets that are used.
    pub pockets: Vec<Pocket>,
    /// Every wooden part.
    pub parts: Vec<Part>,
    /// Every placed piece.
    pub solids: Vec<Solid>,
    /// How it is screwed together and held down.
    pub fixings: Fixings,
}

/// Builds chest and drawers around a stowage whose layouts fill the carcass's frames.
///
/// # Errors
/// [`Misfit::SeamOffMember`] if a panel needs a seam where no member stands; [`Misfit::WidthsDoNotAdd`] if
/// the layouts do not fill a tier.
pub fn build(
    scenario: &Scenario,
    structure: &Structure,
    carcass: Carcass,
    stowage: Stowage,
) -> Result<Built, Misfit> {
    let openings = openings(&carcass, &stowage)?;
    let mut yard = Yard {
        scenario,
        structure,
        carcass: &carcass,
        openings: &openings,
        list: PartList::default(),
    };
    yard.bottom()?;
    for tier in 0..carcass.tiers.len() {
        yard.shelf(tier)?;
        yard.members(tier);
    }
    yard.deck()?;
    yard.packing();
    yard.outriggers();
    let drawers = yard.drawers(stowage.tiers);
    let pockets = yard.pockets(stowage.pockets);
    let PartList { parts, solids } = yard.list;
    let fixings = Fixings::usual(scenario);
    Ok(Built { chest: Chest { carcass, openings }, drawers, pockets, parts, solids, fixings })
}

/// Each tier's opening widths: the layouts' inside widths and what a drawer takes beyond.
fn openings(carcass: &Carcass, stowage: &Stowage) -> Result<Vec<Vec<Length>>, Misfit> {
    let mut all = Vec::with_capacity(carcass.tiers.len());
    for (tier, frame) in carcass.tiers.iter().enumerate() {
        let layouts = stowage.tiers.get(tier).map_or(&[][..], Vec::as_slice);
        let widths: Vec<Length> =
            layouts.iter().map(|layout| layout.width + frame.width_taken).collect();
        if widths.len() != frame.columns as usize
            || widths.iter().copied().sum::<Length>() != frame.openings_width
        {
            return Err(Misfit::WidthsDoNotAdd { tier });
        }
        all.push(widths);
    }
    Ok(all)
}

/// Where the x of each member of a tier begins, given its openings.
pub fn member_xs(frame: &TierFrame, openings: &[Length]) -> Vec<Length> {
    let mut x = frame.x;
    let mut xs = vec![x];
    for opening in openings {
        x += frame.member + *opening;
        xs.push(x);
    }
    xs
}

struct Yard<'a> {
    scenario: &'a Scenario,
    structure: &'a Structure,
    carcass: &'a Carcass,
    openings: &'a [Vec<Length>],
    list: PartList,
}

impl Yard<'_> {
    fn thickness(&self, material: MaterialId) -> Length {
        self.scenario.stock.materials[material].thickness
    }

    fn blank(&self, role: Role, material: MaterialId, length: Length, width: Length) -> Blank {
        Blank {
            role,
            material,
            length,
            width,
            thickness: self.thickness(material),
            grain: Grain::Along,
        }
    }

    /// The middles of a tier's members.
    fn seams(&self, tier: usize) -> Vec<Length> {
        let frame = &self.carcass.tiers[tier];
        member_xs(frame, &self.openings[tier]).into_iter().map(|x| x + frame.member / 2).collect()
    }

    /// A panel across the chest, split on the members of tier `on`.
    fn panel(
        &mut self,
        role: Role,
        material: MaterialId,
        space: Box3,
        on: usize,
    ) -> Result<(), Misfit> {
        let across = role == Role::Deck && self.structure.deck_grain == DeckGrain::Across;
        let most = match across {
            true => longest(self.scenario, material)?,
            false => widest(self.scenario, material)?,
        };
        let limits = [self.scenario.shop.least_rip, most];
        // To the shop's step from the panel's edge: nobody can set a guide to the middle of 23/32 in.
        let step = self.scenario.shop.step;
        let to_step = |seam: Length| space.at.x + (seam - space.at.x + step / 2).floor_to(step);
        let seams: Vec<Length> = self.seams(on).into_iter().map(to_step).collect();
        let strips = strips(space.at.x, space.size.dx, limits, &seams)
            .ok_or(Misfit::SeamOffMember { material })?;
        for (x, width) in strips {
            let blank = match across {
                true => self.blank(role, material, width, space.size.dy),
                false => self.blank(role, material, space.size.dy, width),
            };
            let strip =
                Box3 { at: Point { x, ..space.at }, size: Size { dx: width, ..space.size } };
            self.list.place(blank, strip, None);
        }
        Ok(())
    }

    fn bottom(&mut self) -> Result<(), Misfit> {
        let Some(frame) = self.carcass.tiers.first() else { return Ok(()) };
        let (material, thick) = (self.structure.bottom, self.thickness(self.structure.bottom));
        let at = Point::new(frame.x, self.carcass.front_y, self.carcass.lift);
        let size = Size::new(frame.width, self.carcass.length, thick);
        self.panel(Role::Bottom, material, Box3 { at, size }, 0)
    }

    /// The panel under an upper tier; its seams land on the members below it.
    fn shelf(&mut self, tier: usize) -> Result<(), Misfit> {
        let Some(below) = tier.checked_sub(1) else { return Ok(()) };
        let frame = &self.carcass.tiers[tier];
        let (material, thick) = (self.structure.bottom, self.thickness(self.structure.bottom));
        let at = Point::new(frame.x, self.carcass.front_y, frame.z - thick);
        let size = Size::new(frame.width, self.carcass.length, thick);
        self.panel(Role::Shelf, material, Box3 { at, size }, below)
    }

    fn deck(&mut self) -> Result<(), Misfit> {
        let Some((top, frame)) = self.carcass.tiers.iter().enumerate().next_back() else {
            return Ok(());
        };
        let (material, thick) = (self.structure.deck, self.thickness(self.structure.deck));
        let overhang = self.scenario.allowances.deck_overhang;
        let at = Point::new(frame.x, self.carcass.front_y - overhang, self.carcass.deck_z);
        let size = Size::new(frame.width, self.carcass.length + overhang, thick);
        self.panel(Role::Deck, material, Box3 { at, size }, top)
    }

    /// Members on edge, and the back piece across them.
    fn members(&mut self, tier: usize) {
        let frame = self.carcass.tiers[tier];
        let material = self.structure.tiers[tier].member;
        let y = self.carcass.front_y;
        let blank = self.blank(Role::Member, material, frame.inside_length, frame.height);
        for x in member_xs(&frame, &self.openings[tier]) {
            let size = Size::new(frame.member, frame.inside_length, frame.height);
            self.list.place(blank, Box3 { at: Point::new(x, y, frame.z), size }, None);
        }
        let blank = self.blank(Role::Back, material, frame.width, frame.height);
        let at = Point::new(frame.x, y + frame.inside_length, frame.z);
        self.list.place(
            blank,
            Box3 { at, size: Size::new(frame.width, frame.member, frame.height) },
            None,
        );
    }

    /// What lifts the chest: layers of sheet under each member, or boards on edge where it is lifted high.
    fn packing(&mut self) {
        let lift = self.carcass.lift;
        let Some(frame) = self.carcass.tiers.first() else { return };
        if !lift.is_positive() {
            return;
        }
        let each = frame.columns + 1;
        let made_of = (lift <= carcass::THICKEST_SHIM)
            .then(|| layers(self.scenario, self.structure, lift))
            .flatten();
        match made_of {
            Some(layers) => {
                for material in layers {
                    let blank =
                        self.blank(Role::Packing, material, self.carcass.length, SHIM_WIDTH);
                    self.list.count(Blank { grain: Grain::Along, ..blank }, each);
                }
            }
            None => {
                let blank =
                    self.blank(Role::Packing, self.structure.bottom, self.carcass.length, lift);
                self.list.count(blank, each);
            }
        }
    }

    /// Boards on edge at the walls that carry a full-width tier's panel before and behind the wells; none where the tier
    /// below leaves no room for their thickness (a narrow hatch holds the upper tier to little more than its width).
    fn outriggers(&mut self) {
        let (Family::AboveWells, Some(wells), Some(frame)) =
            (self.structure.family, &self.scenario.bed.wells, self.carcass.tiers.last())
        else {
            return;
        };
        let (material, thick) = (self.structure.bottom, self.thickness(self.structure.bottom));
        let height = frame.z - thick;
        let below = self.carcass.tiers.iter().rev().nth(1);
        let beside = below.map_or(thick, |below| {
            (below.x - frame.x).min(frame.x + frame.width - below.x - below.width)
        });
        if beside < thick {
            return;
        }
        let front = (self.carcass.front_y, wells.from_tailgate);
        let back = (wells.from_tailgate + wells.length, self.carcass.front_y + self.carcass.length);
        for (from, to) in [front, back] {
            let length = (to - from).floor_to(self.scenario.shop.step);
            if length < self.scenario.allowances.least_pocket {
                continue;
            }
            for x in [frame.x, frame.x + frame.width - thick] {
                let blank = self.blank(Role::Outrigger, material, length, height);
                let y = if from == front.0 { from } else { to - length };
                let space = Box3 {
                    at: Point::new(x, y, Length::ZERO),
                    size: Size::new(thick, length, height),
                };
                self.list.place(blank, space, None);
            }
        }
    }

    fn drawers(&mut self, tiers: Vec<Vec<Layout>>) -> Vec<Drawer> {
        let mut drawers = Vec::new();
        for (tier, layouts) in tiers.into_iter().enumerate() {
            let xs = member_xs(&self.carcass.tiers[tier], &self.openings[tier]);
            for (column, plan) in layouts.into_iter().enumerate() {
                let place =
                    DrawerPlace { index: drawers.len(), tier, column, member_x: xs[column] };
                drawers.push(self.drawer(place, plan));
            }
        }
        drawers
    }

    fn drawer(&mut self, place: DrawerPlace, plan: Layout) -> Drawer {
        let frame = self.carcass.tiers[place.tier];
        let bottom = self.thickness(self.structure.drawer_bottom);
        let side = self.thickness(self.structure.sides);
        let opening = Box3 {
            at: Point::new(place.member_x + frame.member, self.carcass.front_y, frame.z),
            size: Size::new(
                self.openings[place.tier][place.column],
                frame.inside_length,
                frame.height,
            ),
        };
        let outside = Box3 {
            at: Point::new(opening.at.x + frame.side_gap, opening.at.y, frame.z + frame.run_height),
            size: Size::new(
                opening.size.dx - frame.side_gap * 2,
                frame.drawer_length,
                bottom + frame.side_height,
            ),
        };
        let inside_at = Point::new(
            outside.at.x + side,
            outside.at.y + frame.drawer_inside_y,
            outside.at.z + frame.floor_height,
        );
        self.box_(&frame, &place, outside);
        self.applied_front(&frame, &place, outside.at.z);
        let divider_parts = self.dividers(Some(place.index), inside_at, &plan);
        Drawer {
            name: name(place.tier, place.column),
            tier: place.tier,
            column: place.column,
            opening,
            outside,
            inside_at,
            inside: Size::new(plan.width, plan.length, plan.height),
            plan,
            divider_parts,
        }
    }

    /// Bottom, sides on it along its whole length, front and back between the sides, guard, corner blocks.
    fn box_(&mut self, frame: &TierFrame, place: &DrawerPlace, outside: Box3) {
        let drawer = Some(place.index);
        let (sides, bottom) = (self.structure.sides, self.structure.drawer_bottom);
        let (side, thick) = (self.thickness(sides), self.thickness(bottom));
        let Box3 { at, size } = outside;
        let blank = self.blank(Role::DrawerBottom, bottom, size.dy, size.dx);
        self.list.place(blank, Box3 { at, size: Size { dz: thick, ..size } }, drawer);

        let z = at.z + thick;
        let blank = self.blank(Role::Side, sides, size.dy, frame.side_height);
        for x in [at.x, at.x + size.dx - side] {
            let size = Size::new(side, size.dy, frame.side_height);
            self.list.place(blank, Box3 { at: Point::new(x, at.y, z), size }, drawer);
        }

        let between = size.dx - side * 2;
        let mut across = vec![(Role::DrawerFront, at.y), (Role::DrawerBack, at.y + size.dy - side)];
        if self.scenario.choices.locks {
            across.push((Role::Guard, at.y + frame.drawer_inside_y - side));
        }
        for (role, y) in across {
            let blank = self.blank(role, sides, between, frame.side_height);
            let size = Size::new(between, side, frame.side_height);
            self.list.place(blank, Box3 { at: Point::new(at.x + side, y, z), size }, drawer);
        }

        if let Some(square) = self.scenario.choices.corner_blocks {
            let width = self.thickness(square);
            // Four corners; a square length sawn on the diagonal gives two blocks.
            self.list.count(self.blank(Role::CornerBlock, square, frame.side_height, width), 2);
        }
    }

    /// The applied front covers its opening and shares the members beside it with its neighbours, less the reveal; it reaches from
    /// the drawer's underside to under the overhang.
    fn applied_front(&mut self, frame: &TierFrame, place: &DrawerPlace, z: Length) {
        let material = self.structure.front;
        let thick = self.thickness(material);
        let last = place.column + 1 == frame.columns as usize;
        let shared = (frame.member - self.scenario.allowances.front_reveal).or_zero() / 2;
        let left = if place.column == 0 { frame.member } else { shared };
        let right = if last { frame.member } else { shared };
        let opening = self.openings[place.tier][place.column];
        let width = (left + opening + right).floor_to(self.scenario.shop.step);
        let blank = self.blank(Role::AppliedFront, material, width, frame.front_height);
        let x = place.member_x + frame.member - left;
        let space = Box3 {
            at: Point::new(x, self.carcass.front_y - thick, z),
            size: Size::new(width, thick, frame.front_height),
        };
        self.list.place(blank, space, Some(place.index));
    }

    /// A plan's dividers as parts; `drawer` is what they move with.
    fn dividers(&mut self, drawer: Option<usize>, inside_at: Point, plan: &Layout) -> Vec<PartId> {
        let mut parts = Vec::with_capacity(plan.dividers.len());
        for space in &plan.dividers {
            let length = space.size.dx.max(space.size.dy);
            let blank = self.blank(Role::Divider, self.structure.divider, length, space.size.dz);
            parts.push(self.list.place(blank, space.moved(inside_at), drawer));
        }
        parts
    }

    /// The pockets that are used, each under its lid.
    fn pockets(&mut self, used: Vec<(PocketPlace, Layout)>) -> Vec<Pocket> {
        let spaces = super::pockets::pockets(self.scenario, self.structure, self.carcass);
        let mut pockets = Vec::new();
        for (place, plan) in used {
            let Some((_, space)) = spaces.iter().find(|(known, _)| *known == place) else {
                continue;
            };
            let (material, thick) = (self.structure.deck, self.thickness(self.structure.deck));
            let blank = self.blank(Role::Lid, material, space.size.dy, space.size.dx);
            let lid = Box3 {
                at: Point { z: self.carcass.top_z - thick, ..space.at },
                size: Size { dz: thick, ..space.size },
            };
            self.list.place(blank, lid, None);
            let divider_parts = self.dividers(None, space.at, &plan);
            pockets.push(Pocket { place, space: *space, plan, divider_parts });
        }
        pockets
    }
}

struct DrawerPlace {
    index: usize,
    tier: usize,
    column: usize,
    /// Where the member at the drawer's left begins.
    member_x: Length,
}

/// A drawer's name: its tier's letter from the bottom, its column's number from the left.
fn name(tier: usize, column: usize) -> String {
    let letter = char::from(b'A' + u8::try_from(tier.min(25)).expect("at most 25"));
    format!("{letter}{}", column + 1)
}
