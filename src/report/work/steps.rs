//! The assembly in words: what each step uses, what is done, why there, and what to check before going on.

use std::collections::BTreeMap;

use crate::design::work::{HoleKind, PieceId, Step, StepKind, WorkPlan};
use crate::design::{Design, Drawer, PartId, Role};
use crate::report::figures::count;
use crate::report::words;
use crate::scenario::{HardwareUse, Runs, Scenario};
use crate::units::{Length, UnitSystem};
use crate::verify::Verified;

/// One step as it is printed. Parts' marks stand between asterisks, which print bold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepText {
    /// What is done.
    pub title: String,
    /// New parts: `*M1* x 3`.
    pub parts: Vec<String>,
    /// Screws and other hardware, with their numbers.
    pub hardware: Vec<String>,
    /// What to do, a sentence or two each.
    pub does: Vec<String>,
    /// Why here and not earlier or later, where that matters.
    pub why: Option<String>,
    /// What must hold before going on.
    pub check: String,
}

/// Every step of the assembly.
pub fn steps(
    scenario: &Scenario,
    design: &Verified<Design>,
    work: &Verified<WorkPlan>,
) -> Vec<StepText> {
    let teller = Teller { scenario, design, work };
    work.steps.iter().map(|step| teller.step(step)).collect()
}

struct Teller<'a> {
    scenario: &'a Scenario,
    design: &'a Design,
    work: &'a WorkPlan,
}

/// What is said of a step beside its lists.
struct Said {
    title: String,
    does: Vec<String>,
    why: Option<&'static str>,
    check: String,
}

impl Teller<'_> {
    fn step(&self, step: &Step) -> StepText {
        let Said { title, does, why, check } = match &step.kind {
            StepKind::Frame => self.frame(step),
            StepKind::Module(tier) => self.module(step, *tier),
            StepKind::Outriggers => self.outriggers(step),
            StepKind::Shelf(tier) => self.shelf(*tier),
            StepKind::Members(tier) => self.members(step, *tier),
            StepKind::Runs(tier) => self.runs(*tier),
            StepKind::Boxes(drawers) => self.boxes(drawers),
            StepKind::Blocks(drawers) => self.blocks(step, drawers),
            StepKind::Fit => self.fit(),
            StepKind::Fronts => self.fronts(),
            StepKind::Locks => self.locks(),
            StepKind::Guards => self.guards(step),
            StepKind::Dividers => self.dividers(),
            StepKind::Deck => self.deck(step),
            StepKind::Vehicle => self.vehicle(step),
            StepKind::Pockets => self.pockets(step),
            StepKind::Stow => self.stow(),
        };
        StepText {
            title,
            parts: self.parts(step),
            hardware: self.hardware(step),
            does,
            why: why.map(str::to_owned),
            check,
        }
    }

    /// New parts in the order of their marks' list.
    fn parts(&self, step: &Step) -> Vec<String> {
        let mut counts: BTreeMap<PartId, u32> = BTreeMap::new();
        for id in &step.pieces {
            *counts.entry(self.work.piece(*id).part).or_default() += 1;
        }
        let shown = counts.into_iter().map(|(id, times)| {
            let part = self.design.part(id);
            format!("*{}* {} x {times}", part.mark, words::role(part.role))
        });
        shown.collect()
    }

    /// Screws driven, by what they are.
    fn hardware(&self, step: &Step) -> Vec<String> {
        let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
        for row in step.rows.iter().map(|row| &self.work.rows[*row]) {
            let what = match (row.kind.takes(), row.kind) {
                (Some(use_), _) => words::hardware_use(use_),
                (None, HoleKind::Strip) => "strip screws",
                (None, HoleKind::Angle) => "angle screws",
                (None, _) => continue,
            };
            *counts.entry(what).or_default() += row.holes.len();
        }
        counts.into_iter().map(|(what, times)| format!("{times} {what}")).collect()
    }

    fn show(&self, length: Length) -> String {
        length.show(self.scenario.units)
    }

    /// The letter of a tier, as in its drawers' names.
    fn letter(&self, tier: usize) -> String {
        let drawer = self.design.drawers.iter().find(|drawer| drawer.tier == tier);
        drawer.map_or_else(
            || (tier + 1).to_string(),
            |drawer| drawer.name.chars().take_while(|c| c.is_alphabetic()).collect(),
        )
    }

    /// The marks of a step's new parts of one role: `*N1*, *N2*`.
    fn marks(&self, pieces: &[PieceId], role: Role) -> String {
        let mut ids: Vec<PartId> = pieces.iter().map(|id| self.work.piece(*id).part).collect();
        ids.sort();
        ids.dedup();
        self.list(ids.into_iter().filter(|id| self.design.part(*id).role == role))
    }

    fn list(&self, ids: impl Iterator<Item = PartId>) -> String {
        let marks: Vec<String> = ids.map(|id| format!("*{}*", self.design.part(id).mark)).collect();
        match marks.split_last() {
            Some((last, [])) => last.clone(),
            Some((last, others)) => format!("{} and {last}", others.join(", ")),
            None => String::new(),
        }
    }

    /// All marks of a role.
    fn all(&self, role: Role) -> String {
        let parts = (0..).map(PartId).zip(&self.design.parts);
        self.list(parts.filter(|(_, part)| part.role == role).map(|(id, _)| id))
    }

    fn names(&self, drawers: &[usize]) -> String {
        let names: Vec<&str> =
            drawers.iter().map(|index| self.design.drawers[*index].name.as_str()).collect();
        match names.split_last() {
            Some((last, [])) => (*last).to_owned(),
            Some((last, others)) => format!("{} and {last}", others.join(", ")),
            None => String::new(),
        }
    }

    /// How far diagonals may differ (common practice, no source).
    fn square(&self) -> &'static str {
        match self.scenario.units {
            UnitSystem::Inch => "1/8 in",
            UnitSystem::Metric => "3 mm",
        }
    }

    /// The openings of a tier, as their drawers are called.
    fn openings(&self, tier: usize) -> String {
        let drawers = self.design.drawers.iter().filter(|drawer| drawer.tier == tier);
        let all = drawers.map(|d: &Drawer| format!("{} {}", d.name, self.show(d.opening.size.dx)));
        all.collect::<Vec<_>>().join(", ")
    }

    fn frame(&self, step: &Step) -> Said {
        let (bottom, members) =
            (self.marks(&step.pieces, Role::Bottom), self.marks(&step.pieces, Role::Member));
        let back = self.marks(&step.pieces, Role::Back);
        let mut does = vec![
            format!(
                "Turn {bottom} underside up. Lay out the screw lines from the drilling schedule, drill, and \
                 countersink from this side: these screws go in from below."
            ),
            "Let threaded inserts (or nuts) for the hold-downs into the upper face at their four marks."
                .to_owned(),
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

    fn module(&self, step: &Step, tier: usize) -> Said {
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

    fn outriggers(&self, step: &Step) -> Said {
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

    fn shelf(&self, tier: usize) -> Said {
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

    fn members(&self, step: &Step, tier: usize) -> Said {
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

    fn runs(&self, tier: usize) -> Said {
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

    fn boxes(&self, drawers: &[usize]) -> Said {
        let Some(first) = drawers.first().map(|index| &self.design.drawers[*index]) else {
            return self.fit();
        };
        let own = |role: Role| {
            let index = drawers[0];
            let solids = self.design.solids.iter().filter(|solid| solid.drawer == Some(index));
            let mut ids: Vec<PartId> = solids.map(|solid| solid.part).collect();
            ids.sort();
            ids.dedup();
            self.list(ids.into_iter().filter(|id| self.design.part(*id).role == role))
        };
        let (bottom, side) = (own(Role::DrawerBottom), own(Role::Side));
        let (front, back) = (own(Role::DrawerFront), own(Role::DrawerBack));
        let gap = self.design.chest.carcass.tiers[first.tier].side_gap;
        let mut does = vec![format!(
            "Lay {bottom} in the open frame, good face down, and see that it has {} on each side; mark \
             and drill it from below.",
            self.show(gap)
        )];
        if self.scenario.stock.hardware_for(HardwareUse::Carpet).next().is_some() {
            does.push(
                "Lay the lining on it, held back from the edges by the boards' thickness so that these \
                 stand on wood, now while every corner can be reached; trim it when the box is closed."
                    .to_owned(),
            );
        }
        does.push(format!(
            "Stand the two {side} on it, flush with its long edges, and screw from below. Measure between \
             them before {front} and {back} are cut: they go to the measured inside. Screw them from \
             below, then through the sides into their ends."
        ));
        Said {
            title: match drawers {
                [_] => format!("Box of drawer {}", self.names(drawers)),
                _ => format!("Boxes of drawers {} (alike)", self.names(drawers)),
            },
            does,
            why: None,
            check: format!(
                "Diagonals equal within {}; outside {} wide and {} long.",
                self.square(),
                self.show(first.outside.size.dx),
                self.show(first.outside.size.dy)
            ),
        }
    }

    fn blocks(&self, step: &Step, drawers: &[usize]) -> Said {
        let block = self.marks(&step.pieces, Role::CornerBlock);
        Said {
            title: format!("Corner blocks of {}", self.names(drawers)),
            does: vec![format!(
                "Saw each length of {block} on the diagonal into two blocks. Glue one into each corner and \
                 screw it through the side and through the front or back board."
            )],
            why: Some(
                "Before the applied fronts, which cover the screws through the front boards; the blocks in \
                 front also stiffen the box where the lock pulls.",
            ),
            check:
                "The box does not rack when pushed at a corner; nothing stands proud of the sides."
                    .to_owned(),
        }
    }

    fn fit(&self) -> Said {
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

    fn fronts(&self) -> Said {
        let allow = &self.scenario.allowances;
        Said {
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
                "Mark the handle's holes from its own plate at the scheduled centre; bore through both \
                 boards; bolt it on."
                    .to_owned(),
            ],
            why: Some(
                "Fitted last and in place, a front hides what the openings are out of square; and before the \
                 boards that guard the locks, which stand in the way of its screws.",
            ),
            check: "Gaps even all round; no front touches panel, deck or neighbour when a drawer is shaken."
                .to_owned(),
        }
    }

    fn locks(&self) -> Said {
        Said {
            title: "Locks and rods".to_owned(),
            does: vec![
                "Cut the lock's hole at the scheduled centre from its own template, through both boards; \
                 screw its plate on behind."
                    .to_owned(),
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

    fn guards(&self, step: &Step) -> Said {
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

    fn dividers(&self) -> Said {
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

    fn deck(&self, step: &Step) -> Said {
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
        does.push(
            "Round over the edges; cut hand-holds or fix tie points now, if wanted.".to_owned(),
        );
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

    fn vehicle(&self, step: &Step) -> Said {
        let carcass = &self.design.chest.carcass;
        let packing = self.marks(&step.pieces, Role::Packing);
        let mut does = Vec::new();
        if !packing.is_empty() {
            does.push(format!(
                "Take the drawers out. Lay {packing} under each member: together they lift the chest by {}.",
                self.show(carcass.lift)
            ));
        } else {
            does.push("Take the drawers out and set the chest on the bed floor.".to_owned());
        }
        does.push(format!(
            "Its front ends stand {} from the closed tailgate; the same room left and right.",
            self.show(carcass.front_y)
        ));
        does.push(
            "Look under the bed before drilling: tank, lines, wiring, frame. Bore for the four fixings from \
             below through the inserts' places, seal the holes, and drive the bolts from under the bed with \
             large washers."
                .to_owned(),
        );
        Said {
            title: "Into the vehicle".to_owned(),
            does,
            why: Some("Without drawers and gear it can be lifted; the rest goes in afterwards."),
            check: "Close the tailgate; open it and pull a drawer over it: nothing touches."
                .to_owned(),
        }
    }

    fn pockets(&self, step: &Step) -> Said {
        Said {
            title: "Pockets beside the wheel wells".to_owned(),
            does: vec![format!(
                "Fix the brackets at chest and wall so that {} lie level with the deck; set the dividers in.",
                self.marks(&step.pieces, Role::Lid)
            )],
            why: None,
            check: "Lids lift out without tools and do not rattle.".to_owned(),
        }
    }

    fn stow(&self) -> Said {
        let drawers = self.design.drawers.len() as u64;
        Said {
            title: "Drawers in, gear in".to_owned(),
            does: vec![format!(
                "Slide {} in and stow the gear by the layouts, heavy things first.",
                count(drawers, "the drawer", "the drawers").replacen(&format!("{drawers} "), "", 1)
            )],
            why: None,
            check: "After the first drive: every fixing tight, nothing shifted.".to_owned(),
        }
    }
}
