//! The design and the scenario under one roof, with the few look-ups that every check needs.

use crate::design::{Content, Design, HardwareLine, Part, PartId, Role, Solid, TierFrame};
use crate::scenario::{
    Bed, Family, Hardware, HardwareUse, Material, MaterialId, Runs, Scenario, Section,
};
use crate::units::Length;

/// What is being verified. Made after [`super::sane`] found every reference to lead somewhere.
pub(super) struct Case<'a> {
    pub scenario: &'a Scenario,
    pub design: &'a Design,
}

impl<'a> Case<'a> {
    pub fn material(&self, id: MaterialId) -> &'a Material {
        &self.scenario.stock.materials[id]
    }

    pub fn thickness(&self, id: MaterialId) -> Length {
        self.material(id).thickness
    }

    pub fn part(&self, id: PartId) -> &'a Part {
        self.design.part(id)
    }

    pub fn mark(&self, id: PartId) -> String {
        self.part(id).mark.clone()
    }

    pub fn tiers(&self) -> &'a [TierFrame] {
        &self.design.chest.carcass.tiers
    }

    /// Solids of one role, with their indices.
    pub fn solids_of(&self, role: Role) -> impl Iterator<Item = (usize, &'a Solid)> {
        let parts = &self.design.parts;
        let solids = self.design.solids.iter().enumerate();
        solids.filter(move |(_, solid)| parts[solid.part.0 as usize].role == role)
    }

    /// How many there are of one role, over all its parts.
    pub fn quantity_of(&self, role: Role) -> u64 {
        let parts = self.design.parts.iter();
        parts.filter(|part| part.role == role).map(|part| u64::from(part.quantity)).sum()
    }

    /// The width of a board's material; `None` for sheets, which can be ripped to any.
    pub fn board_width(&self, id: MaterialId) -> Option<Length> {
        match self.material(id).section {
            Section::Board { width } => Some(width),
            Section::Sheet => None,
        }
    }

    /// Whether a tier stands across the wheel wells.
    pub fn is_full_width(&self, tier: usize) -> bool {
        self.design.structure.family == Family::AboveWells
            && tier + 1 == self.design.structure.tiers.len()
    }

    /// The hardware line of one use.
    pub fn line(&self, use_: HardwareUse) -> Option<&'a HardwareLine> {
        self.design.hardware.iter().find(|line| line.use_ == use_)
    }

    /// The hardware that serves a use: what the design counts for it, else the first that is listed.
    fn serving(&self, use_: HardwareUse) -> Option<&'a Hardware> {
        let stock = &self.scenario.stock;
        let counted = self.line(use_).and_then(|line| line.hardware);
        match counted {
            Some(id) => stock.hardware.get(id),
            None => stock.hardware_for(use_).next().map(|(_, hardware)| hardware),
        }
    }

    /// The thickness of the hardware that serves a use, if it has one that matters.
    pub fn hardware_thickness(&self, use_: HardwareUse) -> Option<Length> {
        self.serving(use_).map(|hardware| hardware.thickness).filter(|thick| thick.is_positive())
    }

    /// From a drawer to its opening on each side: slides bring their own clearance.
    pub fn side_gap(&self) -> Length {
        let slides = match self.design.structure.runs {
            Runs::Slides => self.hardware_thickness(HardwareUse::Slides),
            Runs::Strip | Runs::Waxed => None,
        };
        slides.unwrap_or(self.scenario.allowances.side_gap)
    }

    /// Thickness of the carpet on drawer floors; nothing if the scenario lists none.
    pub fn carpet(&self) -> Length {
        self.hardware_thickness(HardwareUse::Carpet).unwrap_or(Length::ZERO)
    }

    /// Side of the square stock that corner blocks are sawn of; nothing without them.
    pub fn corner_block(&self) -> Length {
        self.scenario.choices.corner_blocks.map_or(Length::ZERO, |id| self.thickness(id))
    }

    /// The name of gear or loose goods.
    pub fn content_name(&self, content: Content) -> String {
        match content {
            Content::Gear(id) => self.scenario.gear[id].name.clone(),
            Content::Loose(id) => self.scenario.loose[id].name.clone(),
        }
    }

    pub fn drawer_name(&self, index: usize) -> String {
        self.design.drawers.get(index).map_or_else(String::new, |drawer| drawer.name.clone())
    }
}

/// Twice the x of a wheel well's inner face, left and right: doubled, so that odd differences stay whole.
pub(super) fn well_faces_doubled(bed: &Bed) -> Option<(Length, Length)> {
    let wells = bed.wells.as_ref()?;
    Some((bed.width.at - wells.between.at, bed.width.at + wells.between.at))
}
