//! The chest: bottom and members, panels between tiers, what drawers slide on, the deck.

use super::{Said, Teller};
use crate::design::Role;
use crate::design::work::Step;
use crate::report::figures::count;
use crate::report::work::hand_hold_size;
use crate::scenario::{HardwareUse, Runs};

impl Teller<'_> {
    pub(super) fn frame(&self, step: &Step) -> Said {
        let (bottom, members) =
            (self.marks(&step.pieces, Role::Bottom), self.marks(&step.pieces, Role::Member));
        let back = self.marks(&step.pieces, Role::Back);
        let mut does = vec![
            format!(
                "See that {bottom}, cut along a guide, is square: every opening hangs on its edges. Turn it \
                 underside up, lay out the screw lines from the drilling schedule, drill, and countersink from \
                 this side: these screws go in from below."
            ),
            format!(
                "Let threaded inserts (or nuts) for the hold-downs into the upper face at {}.",
                count(u64::from(self.design.fixings.hold_downs), "their mark", "marks")
            ),
            format!(
                "Set {members} on edge on their lines, front ends flush with the panel's front edge, and \
                 stand {back} across their rear ends. Glue as well if the chest need never come apart."
            ),
            format!(
                "Screw from below along every line, then through {back} into each member's end, two screws \
                 each."
            ),
        ];
        let panels = step
            .pieces
            .iter()
            .filter(|id| self.design.part(self.work.piece(**id).part).role == Role::Bottom);
        if panels.count() > 1 {
            does.push(
                "The seam between the panels lies on the middle of a member: each panel has its own row of \
                 screws into it."
                    .to_owned(),
            );
        }
        Said {
            title: format!("Bottom, members and back of tier {}", self.letter(0)),
            does,
            why: Some(
                "The inserts come now because the closed chest leaves no way to them; their bolts come from \
                 under the bed.",
            ),
            check: format!(
                "Both diagonals equal within {}; each opening as wide in front as behind: {}.",
                self.square(),
                self.openings(0)
            ),
        }
    }

    pub(super) fn module(&self, step: &Step, tier: usize) -> Said {
        let shelf = self.marks(&step.pieces, Role::Shelf);
        let members = self.marks(&step.pieces, Role::Member);
        let does = if members.is_empty() {
            vec![format!("Lay {shelf} on the bench, mark where the tier below stands.")]
        } else {
            vec![format!(
                "With {shelf} on the bench, set up what has no member of tier {} right below it ({members}) \
                 and screw from below through countersunk holes.",
                self.letter(tier.saturating_sub(1))
            )]
        };
        Said {
            title: format!("Panel under tier {} on the bench", self.letter(tier)),
            does,
            why: Some("Once the panel lies on the tier below, its underside cannot be reached."),
            check: "Everything stands on its line; nothing rocks.".to_owned(),
        }
    }

    pub(super) fn outriggers(&self, step: &Step) -> Said {
        Said {
            title: "Outriggers".to_owned(),
            does: vec![format!(
                "Hang {} under the panel's sides with screws angled through their heads.",
                self.marks(&step.pieces, Role::Outrigger)
            )],
            why: Some(
                "After the outer members: right below these they cover the screws into them.",
            ),
            check: "They stand square to the panel and reach as far down as the plan says."
                .to_owned(),
        }
    }

    pub(super) fn shelf(&self, tier: usize) -> Said {
        let (own, below) = (self.letter(tier), self.letter(tier.saturating_sub(1)));
        Said {
            title: format!("Panel between tiers {below} and {own}"),
            does: vec![
                format!(
                    "Lay {} on tier {below}, rear edges flush with its back and sides as dimensioned.",
                    self.all(Role::Shelf)
                ),
                "Screw down through countersunk holes into every member and the back below."
                    .to_owned(),
            ],
            why: Some(
                "Before the members that stand right above others: these would cover the screws.",
            ),
            check: format!("Diagonals equal within {}; heads below the surface.", self.square()),
        }
    }

    pub(super) fn members(&self, step: &Step, tier: usize) -> Said {
        let (members, back) =
            (self.marks(&step.pieces, Role::Member), self.marks(&step.pieces, Role::Back));
        let what = [members, back].into_iter().filter(|text| !text.is_empty());
        let what = what.collect::<Vec<_>>().join(" and ");
        Said {
            title: format!("Members and back of tier {}", self.letter(tier)),
            does: vec![
                format!("Set {what} on their lines, front ends flush."),
                "Screw each to the panel with screws angled through its foot at the marked places, then \
                 through the back into the members' ends. Clamp a block against the other face so that \
                 nothing creeps while the screw draws in."
                    .to_owned(),
            ],
            why: Some(
                "They stand right above what carries the panel, so that nothing can be driven into them from \
                 below.",
            ),
            check: format!(
                "Both diagonals equal within {}; openings as dimensioned: {}.",
                self.square(),
                self.openings(tier)
            ),
        }
    }

    pub(super) fn runs(&self, tier: usize) -> Said {
        let letter = self.letter(tier);
        let frame = &self.design.chest.carcass.tiers[tier];
        let (title, does) = match self.design.structure.runs {
            Runs::Strip => (
                format!("Strips of tier {letter}"),
                vec![
                    "Rip the plastic into strips, drill it at the scheduled places and countersink with a \
                     depth stop until the heads lie below the surface: a proud head scores the drawer."
                        .to_owned(),
                    "Fix two strips in each opening, under where the drawer's sides run, and one on each \
                     member at the height of the drawer's middle, which guides it."
                        .to_owned(),
                ],
            ),
            Runs::Waxed => (
                format!("Runners of tier {letter}"),
                vec![format!(
                    "Glue and screw two hardwood runners {} high in each opening, under where the drawer's \
                     sides run; wax them. Fix a guide piece on each member.",
                    self.show(frame.run_height)
                )],
            ),
            Runs::Slides => (
                format!("Slides of tier {letter}"),
                vec![format!(
                    "Screw the outer rails of the slides to the members, level and parallel, the drawer's \
                     underside {} above the panel; mark their holes from the rails themselves.",
                    self.show(frame.run_height)
                )],
            ),
        };
        Said {
            title,
            does,
            why: Some("While the tier is open from above."),
            check: "A straight board laid across each pair does not rock, front, middle and back."
                .to_owned(),
        }
    }

    /// Where hand-holds and tie points may go.
    fn hand_holds(&self, step: &Step) -> String {
        let spaces = step.pieces.iter().filter_map(|id| self.work.piece(*id).space);
        let left = spaces.map(|space| space.at.x).min().unwrap_or_default();
        let top = self.design.chest.carcass.tiers.len().saturating_sub(1);
        let openings = self.design.drawers.iter().filter(|drawer| drawer.tier == top);
        let places = openings.map(|drawer| {
            let middle = drawer.opening.at.x + drawer.opening.size.dx / 2 - left;
            format!("{} over {}", self.show(middle.floor_to(self.scenario.shop.step)), drawer.name)
        });
        let [bore, apart] = hand_hold_size(self.scenario.units);
        format!(
            "Hand-holds, if wanted, now: slots {} wide and {} long by their template, lengthwise and between \
             two members, their middles {} from the deck's left edge, no nearer to a rear or front edge than \
             {}. Each takes its width from what carries: none where people step or loads stand. Tie points go \
             through deck and a member, never through the deck alone.",
            self.show(bore),
            self.show(bore + apart),
            places.collect::<Vec<_>>().join(", "),
            self.show(bore * 10)
        )
    }

    pub(super) fn deck(&self, step: &Step) -> Said {
        let allow = &self.scenario.allowances;
        let listed = |use_| self.scenario.stock.hardware_for(use_).next().is_some();
        let mut does = vec![format!(
            "Lay {} with {} of overhang in front and rear edges flush; screw down into every member and \
             the back, about every {}.",
            self.marks(&step.pieces, Role::Deck),
            self.show(allow.deck_overhang),
            self.show(allow.chest_screws.spacing)
        )];
        if listed(HardwareUse::Angle) {
            does.push(
                "Let the metal angle into the front edge, flush with the top, and screw it."
                    .to_owned(),
            );
        }
        does.push("Round over the edges.".to_owned());
        does.push(self.hand_holds(step));
        if listed(HardwareUse::Coating) {
            does.push(
                "Coat the deck, its edges first, with the drawers out and the openings masked."
                    .to_owned(),
            );
        }
        Said {
            title: "Deck".to_owned(),
            does,
            why: Some(
                "Last of the wood: until now everything in the upper tier was reached from above.",
            ),
            check: "No head stands proud; every drawer still runs.".to_owned(),
        }
    }
}
