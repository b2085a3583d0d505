//! What is stowed in a drawer or pocket: everything inside with its padding, nothing in anything else, standing as it may.

use super::case::Case;
use super::fault::{Direction, Fault, Place};
use super::parting;
use super::solids::common;
use crate::design::{Box3, Content, Item, Layout, Point, Size};
use crate::units::Length;

pub(super) fn check(case: &Case<'_>, faults: &mut Vec<Fault>) {
    for drawer in &case.design.drawers {
        let space = Space { case, place: Place::Drawer(drawer.name.clone()), plan: &drawer.plan };
        space.size(drawer.inside, faults);
        space.items(faults);
        let high = case.tiers().get(drawer.tier).map(|frame| frame.divider_height);
        space.dividers(high, faults);
        parting::check(&space, faults);
    }
}

/// A layout and where it belongs.
pub(super) struct Space<'a> {
    pub case: &'a Case<'a>,
    pub place: Place,
    pub plan: &'a Layout,
}

impl Space<'_> {
    /// The name of an item of the layout, with its copy if there are several.
    pub fn name(&self, item: &Item) -> String {
        let name = self.case.content_name(item.content);
        match item.content {
            Content::Gear(id) if self.case.scenario.gear[id].count > 1 => {
                format!("{name} ({})", u64::from(item.copy) + 1)
            }
            _ => name,
        }
    }

    /// The layout is drawn for the inside that there is.
    pub fn size(&self, inside: Size, faults: &mut Vec<Fault>) {
        let plan = self.plan;
        for (along, stated, derived) in [
            (Direction::Across, plan.width, inside.dx),
            (Direction::Along, plan.length, inside.dy),
            (Direction::Up, plan.height, inside.dz),
        ] {
            if stated != derived {
                let place = self.place.clone();
                faults.push(Fault::PlanSize { place, along, stated, derived });
            }
        }
    }

    /// Dividers stand on the floor, inside, as thick as their material, and as `high` as their tier's.
    pub fn dividers(&self, high: Option<Length>, faults: &mut Vec<Fault>) {
        let thick = self.case.thickness(self.case.design.structure.divider);
        for (divider, board) in self.plan.dividers.iter().enumerate() {
            let (at, far) = (board.at, board.far());
            let out = [
                -at.x,
                -at.y,
                at.z.abs_diff(Length::ZERO),
                far.x - self.plan.width,
                far.y - self.plan.length,
                far.z - self.plan.height,
            ];
            let by = out.into_iter().max().unwrap_or_default();
            if by.is_positive() {
                faults.push(Fault::DividerOutside { place: self.place.clone(), divider, by });
            }
            let across = board.size.dx.min(board.size.dy);
            for (stated, derived) in [(across, Some(thick)), (board.size.dz, high)] {
                if let Some(derived) = derived
                    && stated != derived
                {
                    let place = self.place.clone();
                    faults.push(Fault::DividerSize { place, divider, stated, derived });
                }
            }
        }
    }

    /// Every item by itself, against every other and against the dividers.
    pub fn items(&self, faults: &mut Vec<Fault>) {
        for (index, item) in self.plan.items.iter().enumerate() {
            self.inside(item, faults);
            self.stands(item, faults);
            for other in &self.plan.items[index + 1..] {
                if self.collide(item, other) {
                    faults.push(Fault::ItemsOverlap {
                        place: self.place.clone(),
                        one: self.name(item),
                        other: self.name(other),
                    });
                }
            }
            for (divider, space) in self.plan.dividers.iter().enumerate() {
                if common(self.padded(item), *space).is_some() {
                    let (place, item) = (self.place.clone(), self.name(item));
                    faults.push(Fault::ItemInDivider { place, item, divider });
                }
            }
        }
        self.stacks(faults);
    }

    fn padding(&self, item: &Item) -> Length {
        match item.content {
            Content::Gear(id) => self.case.scenario.gear[id].padding,
            Content::Loose(_) => Length::ZERO,
        }
    }

    /// An item with the free room around it on every side and above.
    fn padded(&self, item: &Item) -> Box3 {
        let pad = self.padding(item);
        let Box3 { at, size } = item.space;
        Box3 {
            at: Point::new(at.x - pad, at.y - pad, at.z),
            size: Size::new(size.dx + pad * 2, size.dy + pad * 2, size.dz + pad),
        }
    }

    fn inside(&self, item: &Item, faults: &mut Vec<Fault>) {
        let padded = self.padded(item);
        let (at, far) = (padded.at, padded.far());
        for (along, by) in [
            (Direction::Across, (-at.x).max(far.x - self.plan.width)),
            (Direction::Along, (-at.y).max(far.y - self.plan.length)),
            (Direction::Up, (-at.z).max(far.z - self.plan.height)),
        ] {
            if by.is_positive() {
                let (place, item) = (self.place.clone(), self.name(item));
                faults.push(Fault::ItemOutside { place, item, along, by });
            }
        }
    }

    /// Two items take the same room: each with its own padding, save that those of one kind may stand on one another
    /// without any between.
    fn collide(&self, one: &Item, other: &Item) -> bool {
        let stacked = one.content == other.content && overlap_in_plan(one.space, other.space);
        if stacked {
            common(one.space, other.space).is_some()
        } else {
            common(self.padded(one), self.padded(other)).is_some()
        }
    }

    /// Gear stands in one of its stances; loose goods have a cell as wide, long, high and large as they need.
    fn stands(&self, item: &Item, faults: &mut Vec<Fault>) {
        let Size { dx, dy, dz } = item.space.size;
        let (place, name) = (self.place.clone(), self.name(item));
        match item.content {
            Content::Gear(id) => {
                if !self.case.scenario.gear[id].stances().contains(&[dx, dy, dz]) {
                    faults.push(Fault::Stance { place, item: name });
                }
            }
            Content::Loose(id) => {
                let loose = &self.case.scenario.loose[id];
                let by = loose.least - dx.min(dy).min(self.plan.height);
                if by.is_positive() {
                    let (place, item) = (place.clone(), name.clone());
                    faults.push(Fault::LooseTooNarrow { place, item, by });
                }
                let missing = loose.volume - item.space.size.volume();
                if missing.units() > 0 {
                    faults.push(Fault::LooseTooLittle { place, item: name, missing });
                }
            }
        }
    }

    /// What does not stand on the floor stands on one of its own kind, wholly within its outline, and no stack is higher
    /// than its gear allows.
    fn stacks(&self, faults: &mut Vec<Fault>) {
        let items = &self.plan.items;
        let mut upward: Vec<usize> = (0..items.len()).collect();
        upward.sort_by_key(|index| items[*index].space.at.z);
        let mut levels = vec![0_u32; items.len()];
        for index in upward {
            let item = &items[index];
            if !item.space.at.z.is_positive() {
                levels[index] = 1;
                continue;
            }
            let below = (0..items.len()).filter(|below| self.carries(&items[*below], item));
            let level = below.map(|below| levels[below]).max().unwrap_or(0);
            let (place, name) = (self.place.clone(), self.name(item));
            if level == 0 {
                faults.push(Fault::Unsupported { place, item: name });
                continue;
            }
            levels[index] = level + 1;
            if let Content::Gear(id) = item.content {
                let most = self.case.scenario.gear[id].stack;
                if levels[index] > most {
                    let level = levels[index];
                    faults.push(Fault::StackTooHigh { place, item: name, level, most });
                }
            }
        }
    }

    /// Whether gear stands on gear of its own kind, directly or with the padding between.
    fn carries(&self, below: &Item, item: &Item) -> bool {
        let (low, high) = (below.space, item.space);
        let gap = high.at.z - low.far().z;
        matches!(item.content, Content::Gear(_))
            && below.content == item.content
            && (gap == Length::ZERO || gap == self.padding(item))
            && low.at.x <= high.at.x
            && low.at.y <= high.at.y
            && high.far().x <= low.far().x
            && high.far().y <= low.far().y
    }
}

/// Whether two boxes overlap when seen from above.
pub(super) fn overlap_in_plan(a: Box3, b: Box3) -> bool {
    a.at.x < b.far().x && b.at.x < a.far().x && a.at.y < b.far().y && b.at.y < a.far().y
}
