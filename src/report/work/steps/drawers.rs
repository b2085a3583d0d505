//! The drawers: boxes, corner blocks, fitting, fronts, locks, dividers.

use super::{Said, Teller};
use crate::design::work::{HoleKind, Step};
use crate::design::{PartId, Role};
use crate::explore::{handles, stays_in};
use crate::report::work::plate;
use crate::scenario::{HardwareUse, Runs};
use crate::units::Length;
use crate::units::physics::Metres;

impl Teller<'_> {
    pub(super) fn boxes(&self, drawers: &[usize]) -> Said {
        let Some(first) = drawers.first().map(|index| &self.design.drawers[*index]) else {
            return self.fit();
        };
        let own = |role: Role| self.marks_of(drawers, role);
        let (bottom, side, front, back) = match drawers {
            [_] => (
                own(Role::DrawerBottom),
                format!("the two {}", own(Role::Side)),
                own(Role::DrawerFront),
                own(Role::DrawerBack),
            ),
            _ => (
                "each bottom".into(),
                "its two sides".into(),
                "the front".into(),
                "the back".into(),
            ),
        };
        let gap = self.design.chest.carcass.tiers[first.tier].side_gap;
        let mut does = Vec::new();
        if drawers.len() > 1 {
            does.push(format!("Sort the parts: {}.", self.sorted(drawers)));
        }
        does.push(format!(
            "Lay {bottom} in its open frame, good face down, and see that it has {} on each side; mark and \
             drill it from below.",
            self.show(gap)
        ));
        if self.scenario.stock.hardware_for(HardwareUse::Carpet).next().is_some() {
            does.push(
                "Lay the lining on it, held back from the edges by the boards' thickness so that these \
                 stand on wood, now while every corner can be reached; trim it when the box is closed."
                    .to_owned(),
            );
        }
        does.push(format!(
            "Stand {side} on it, flush with its long edges, and screw from below. Measure between them before \
             {front} and {back} are cut: they go to the measured inside. Screw them from below, then through \
             the sides into their ends."
        ));
        Said {
            title: match drawers {
                [_] => format!("Box of drawer {}", self.names(drawers)),
                _ => format!("Boxes of drawers {}", self.names(drawers)),
            },
            does,
            why: Some(
                "Bottom first, because the frame says how wide it may be; sides before front and back, which \
                 are then cut to what is really left between them.",
            ),
            check: format!(
                "Diagonals equal within {}; outside {} wide and {} long.",
                self.square(),
                self.widths(drawers),
                self.show(first.outside.size.dy)
            ),
        }
    }

    /// The parts of one role that these drawers are made of.
    fn marks_of(&self, drawers: &[usize], role: Role) -> String {
        let solids = self.design.solids.iter();
        let own = solids.filter(|solid| solid.drawer.is_some_and(|index| drawers.contains(&index)));
        let mut ids: Vec<PartId> = own.map(|solid| solid.part).collect();
        ids.sort();
        ids.dedup();
        self.list(ids.into_iter().filter(|id| self.design.part(*id).role == role))
    }

    /// Which parts make which box; boxes of the same parts are told together.
    fn sorted(&self, drawers: &[usize]) -> String {
        let mut told: Vec<(String, Vec<usize>)> = Vec::new();
        for index in drawers {
            let roles = [Role::DrawerBottom, Role::Side, Role::DrawerFront, Role::DrawerBack];
            let marks = roles.map(|role| self.marks_of(&[*index], role));
            let [bottom, side, front, back] = marks;
            let parts = format!("{bottom}, two {side}, {front}, {back}");
            match told.iter_mut().find(|(known, _)| *known == parts) {
                Some((_, same)) => same.push(*index),
                None => told.push((parts, vec![*index])),
            }
        }
        let told = told.into_iter().map(|(parts, same)| match same[..] {
            [_] => format!("{} is {parts}", self.names(&same)),
            _ => format!("{} are each {parts}", self.names(&same)),
        });
        told.collect::<Vec<_>>().join("; ")
    }

    /// How wide these drawers are, each named where there are several.
    fn widths(&self, drawers: &[usize]) -> String {
        let width = |index: &usize| self.show(self.design.drawers[*index].outside.size.dx);
        match drawers {
            [only] => width(only),
            _ => {
                let named = |index: &usize| {
                    format!("{} {}", self.design.drawers[*index].name, width(index))
                };
                drawers.iter().map(named).collect::<Vec<_>>().join(", ")
            }
        }
    }

    pub(super) fn blocks(&self, step: &Step, drawers: &[usize]) -> Said {
        let block = self.marks(&step.pieces, Role::CornerBlock);
        Said {
            title: format!("Corner blocks of {}", self.names(drawers)),
            does: vec![format!(
                "Saw each length of {block} on the diagonal into two blocks. Glue one into each corner and \
                 screw it through the side and through the front or back board."
            )],
            why: Some(if self.scenario.choices.locks {
                "Before the applied fronts, which cover the screws through the front boards; the blocks in \
                 front also stiffen the box where the lock pulls."
            } else {
                "Before the applied fronts, which cover the screws through the front boards."
            }),
            check:
                "The box does not rack when pushed at a corner; nothing stands proud of the sides."
                    .to_owned(),
        }
    }

    pub(super) fn fit(&self) -> Said {
        let frame = self.design.chest.carcass.tiers.first();
        let stop = self.scenario.allowances.stop;
        let blocks = self.all(Role::StopBlock);
        let blocks =
            if blocks.is_empty() { "two stop blocks from waste".to_owned() } else { blocks };
        let run = frame.map_or(Length::ZERO, |frame| frame.run_height);
        let mut does = vec![
            "Round over every edge that a hand or gear meets; wax the underside and the lower edges of \
             each box."
                .to_owned(),
            format!(
                "Slide each box in. Fix {blocks} at the back of each opening so that the front board stands \
                 flush with the members: the box is {} shorter than the room for it.",
                self.show(stop)
            ),
        ];
        if self.design.structure.runs != Runs::Slides {
            does.push(
                "Screw a guide piece to each rear corner of the drawer, so that it stays square in its \
                 opening when pulled far out."
                    .to_owned(),
            );
            does.push(format!(
                "Draw each out until so much of it is left in the chest: {}. There fix a block from waste on either \
                 member, against the front of these guide pieces, with one screw, so that it comes out no \
                 farther; undone, they let it out.",
                self.left_in()
            ));
        }
        Said {
            title: "Drawers into their openings".to_owned(),
            does,
            why: Some("With the deck still off, so that rubbing places are seen from above."),
            check: format!(
                "Each drawer runs its whole way with one hand and stands {} above its panel.",
                self.show(run)
            ),
        }
    }

    /// A computed length, to the shop's step.
    fn about(&self, length: Metres) -> String {
        let units = (length.in_millimetres() * Length::MM.units() as f64).round() as i64;
        self.show(Length::from_units(units).ceil_to(self.scenario.shop.step))
    }

    /// Where the handles of drawers whose weight lies to one side would pull them straighter, if there are any.
    fn handles(&self) -> Option<String> {
        let places = handles(self.scenario, self.design).into_iter().zip(&self.design.drawers);
        let each: Vec<String> = places
            .filter_map(|(offset, drawer)| {
                let offset = offset?;
                let side = if offset > Metres::ZERO { "right" } else { "left" };
                Some(format!("{} {} {side}", drawer.name, self.about(offset.abs())))
            })
            .collect();
        (!each.is_empty()).then(|| {
            format!(
                "Loaded as planned, these pull straighter by a handle beside the middle: {}. Move it there if \
                 its plate has room.",
                each.join(", ")
            )
        })
    }

    /// What each drawer's stop leaves of it in the chest, the drawers of a like figure together.
    fn left_in(&self) -> String {
        let mut figures: Vec<(String, Vec<&str>)> = Vec::new();
        for drawer in &self.design.drawers {
            let stays = stays_in(self.scenario, &self.design.structure, drawer);
            let shown = self.about(stays);
            match figures.iter_mut().find(|(figure, _)| *figure == shown) {
                Some((_, names)) => names.push(&drawer.name),
                None => figures.push((shown, vec![&drawer.name])),
            }
        }
        match figures.as_slice() {
            [(figure, _)] => figure.clone(),
            _ => {
                let each = figures
                    .iter()
                    .map(|(figure, names)| format!("{figure} of {}", names.join(", ")));
                each.collect::<Vec<_>>().join("; ")
            }
        }
    }

    pub(super) fn fronts(&self) -> Said {
        let allow = &self.scenario.allowances;
        let mut said = Said {
            title: "Applied fronts and handles".to_owned(),
            does: vec![
                format!(
                    "Push every drawer shut. Clamp {} in place with spacers: {} below the panel above, {} \
                     between neighbours, lower edge flush with the drawer's underside.",
                    self.all(Role::AppliedFront),
                    self.show(allow.front_gap),
                    self.show(allow.front_reveal)
                ),
                "Drill through the front board from inside, pull the drawer out with its clamps on, and \
                 drive the four screws from inside."
                    .to_owned(),
                format!("{} Bolt it on.", self.let_in(HoleKind::Handle, "the handle")),
            ],
            why: Some(if self.scenario.choices.locks {
                "Fitted last and in place, a front hides what the openings are out of square; and before the \
                 boards that guard the locks, which stand in the way of its screws."
            } else {
                "Fitted last and in place, a front hides what the openings are out of square."
            }),
            check: "Gaps even all round; no front touches panel, deck or neighbour when a drawer is shaken."
                .to_owned(),
        };
        said.does.extend(self.handles());
        said
    }

    /// How the opening of a handle or a lock is made.
    fn let_in(&self, kind: HoleKind, what: &str) -> String {
        match plate(self.scenario, self.design, kind).cut_out {
            Some([wide, high]) => format!(
                "Lay {what} on its template before anything is cut; then saw out {} wide and {} high around \
                 the scheduled middle, through both boards.",
                self.show(wide),
                self.show(high)
            ),
            None => format!(
                "Mark the holes of {what} from its own plate around the scheduled middle; bore through both \
                 boards."
            ),
        }
    }

    pub(super) fn locks(&self) -> Said {
        Said {
            title: "Locks and rods".to_owned(),
            does: vec![
                format!("{} Screw its plate on behind.", self.let_in(HoleKind::Lock, "the lock")),
                "Bore the rods' holes through side and corner block; open them out on the inside, because \
                 the rod swings as the plate turns."
                    .to_owned(),
                "With the drawer shut, turn the lock and mark the rod's tip on the member; bore there. The \
                 schedule says where to expect it. Cut the rod so that it is flush with the side when open."
                    .to_owned(),
            ],
            why: Some("From the tip itself, so that it meets its hole whatever the box has come out to."),
            check: "Locks turn freely; shut and locked, no drawer moves.".to_owned(),
        }
    }

    pub(super) fn guards(&self, step: &Step) -> Said {
        Said {
            title: "Lock guards".to_owned(),
            does: vec![format!(
                "Set {} across each box behind the lock and screw through the sides into their ends.",
                self.marks(&step.pieces, Role::Guard)
            )],
            why: Some(
                "After the front's screws and the lock: behind the guard neither can be reached.",
            ),
            check: "Rods clear the guard over their whole swing.".to_owned(),
        }
    }

    pub(super) fn dividers(&self) -> Said {
        Said {
            title: "Dividers".to_owned(),
            does: vec![
                "Lay the gear in as the drawer layouts show, set each divider against it, and screw from \
                 below, two screws each."
                    .to_owned(),
            ],
            why: Some("With the gear at hand: a divider that pinches is moved now."),
            check: "Every thing lifts out with one hand.".to_owned(),
        }
    }
}
