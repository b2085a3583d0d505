//! Into the vehicle: packing, fixings, drawers, gear, lids.

use super::{Said, Teller};
use crate::design::Role;
use crate::design::work::Step;
use crate::report::figures::{count, decimal};
use crate::report::words::rear_door;
use crate::scenario::BedKind;
use crate::units::Mass;

impl Teller<'_> {
    pub(super) fn vehicle(&self, step: &Step) -> Said {
        let carcass = &self.design.chest.carcass;
        let packing = self.marks(&step.pieces, Role::Packing);
        let mut does = vec![format!("Take the drawers out. {}", self.lifting())];
        does.push(if packing.is_empty() {
            "Set it on the bed floor; where it rocks, shim it with scraps under a member.".to_owned()
        } else {
            format!(
                "Lay {packing} on the bed floor where the members will stand, so that the chest is lifted by \
                 {}, and set it on them; where it rocks, add a scrap under a member.",
                self.show(carcass.lift)
            )
        });
        let closed = format!("the closed {}", rear_door(self.scenario.bed.kind));
        does.push(format!(
            "Push it to its place: the members' front ends {} from {closed}, the same room left and right.",
            self.show(carcass.front_y)
        ));
        Said {
            title: "Packing and chest into the vehicle".to_owned(),
            does,
            why: Some(
                "Without drawers and gear it can be lifted, and packing can only be laid while nothing stands \
                 on it.",
            ),
            check: format!("It stands on every member and does not rock; {closed} closes freely."),
        }
    }

    /// How the chest without its drawers gets into the bed, by the check of what people should lift.
    fn lifting(&self) -> String {
        // More than so many do not find a hold on it (an assumption).
        const MOST: f64 = 4.0;
        let check = self.design.checks.iter().find(|check| check.name.starts_with("chest without"));
        let Some(check) = check else { return "Lift the empty chest in.".to_owned() };
        // The check is of two people's halves.
        let (mass, people) = (check.value * 2.0, (check.value * 2.0 / check.limit).ceil());
        let weighs = Mass::from_kg(mass).show(self.scenario.units);
        if people <= MOST {
            let people = decimal(people.max(2.0), 0);
            format!("Without them the chest weighs {weighs}: {people} people lift it in.")
        } else {
            format!(
                "Without them the chest still weighs {weighs}, more than people should lift over a \
                 sill: use a hoist, slide it in on planks from a bench as high as the bed, or screw it \
                 together in the bed."
            )
        }
    }

    pub(super) fn hold_down(&self) -> Said {
        let places = u64::from(self.design.fixings.hold_downs);
        Said {
            title: format!("{} through the bed", count(places, "fixing", "fixings")),
            does: vec![
                "Mark the places through the holes in the bottom panel, from inside the openings.".to_owned(),
                "Look under the bed at every mark before anything is drilled: tank, fuel and brake lines, \
                 wiring, spare wheel, frame. Where something is nearer than a hand's width, choose another \
                 place beside a member and let in another insert."
                    .to_owned(),
                "Bore; paint the bare metal and seal each hole against rust.".to_owned(),
                "Drive the bolts into the inserts from under the bed, each with a large washer, all snug \
                 before any is tight."
                    .to_owned(),
            ],
            why: Some(
                "After the chest stands where it is to stay, so that the holes meet the inserts; before \
                 drawers and gear, which hide the marks.",
            ),
            check: "Pushed and pulled hard at each corner, nothing moves and nothing rattles.".to_owned(),
        }
    }

    pub(super) fn stow(&self) -> Said {
        let opened = match self.scenario.bed.kind {
            BedKind::Pickup => "Open the tailgate, pull each out over it: nothing touches.",
            BedKind::Cargo => "Open the hatch, pull each out through it: nothing touches.",
        };
        Said {
            title: "Drawers in, gear in".to_owned(),
            does: vec![
                format!(
                    "Slide {} in. {opened}",
                    match self.design.drawers.len() {
                        1 => "the drawer",
                        _ => "the drawers",
                    }
                ),
                "Stow the gear by the layouts, heavy things first, and shut and latch every drawer."
                    .to_owned(),
            ],
            why: Some(
                "Last, on a chest that is held down: full drawers drawn out would tip a loose one.",
            ),
            check: "After the first drive: every fixing tight, nothing shifted.".to_owned(),
        }
    }

    pub(super) fn pockets(&self, step: &Step) -> Said {
        let mut does = vec![format!(
            "Fix the brackets at chest and wall so that {} lie level with the deck.",
            self.marks(&step.pieces, Role::Lid)
        )];
        let dividers = self.marks(&step.pieces, Role::Divider);
        if !dividers.is_empty() {
            does.push(format!("Set {dividers} in as the layout shows."));
        }
        does.push(
            "Stow the pockets' gear and lay the lids on; they have no hinges and lift out."
                .to_owned(),
        );
        Said {
            title: "Infill lids beside the chest".to_owned(),
            does,
            why: Some(
                "They fit between chest and wall: only now is the room between them what it is.",
            ),
            check: "Lids lift out without tools and do not rattle.".to_owned(),
        }
    }
}
