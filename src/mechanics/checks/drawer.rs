//! Each drawer: its bottom, its pull, how it jams, and what it does when it is drawn out.

use super::deck::{SAG_SHARE, SHOCK, WAVES, millimetres};
use super::laid::axis_across;
use super::sheet::Sheet;
use super::shelf::RUN_WIDTH;
use super::weights::{Body, Weights};
use super::{Figure, Kind, Subject, worst};
use crate::design::derive::figures::mass_of;
use crate::design::{Check, Drawer, Role, TierFrame};
use crate::mechanics::friction::{self, Friction};
use crate::mechanics::jamming::{Guided, Pull, locking_length, skew};
use crate::mechanics::lumber::{Duration, grade_named};
use crate::mechanics::plate::{Load, Plate, Response};
use crate::mechanics::screw;
use crate::mechanics::tipping::{self, Extended};
use crate::mechanics::{creep, pull};
use crate::scenario::{HardwareUse, MaterialId, Runs, Scenario, Stiffness};
use crate::units::physics::{
    AreaLoad, Density, Force, Kilograms, LineLoad, Metres, MomentPerWidth,
};

pub(super) fn checks(scenario: &Scenario, subject: &Subject<'_>, weights: &Weights) -> Vec<Check> {
    let all: Vec<Extending<'_>> = subject
        .drawers
        .iter()
        .enumerate()
        .map(|(index, drawer)| Extending::of(scenario, subject, weights, index, drawer))
        .collect();
    let (sags, bends): (Vec<_>, Vec<_>) = all.iter().filter_map(Extending::bottom).unzip();
    let mut checks: Vec<Check> = all.iter().map(Extending::pull).collect();
    checks.extend(worst(sags));
    checks.extend(worst(bends.into_iter().flatten()));
    checks.extend(worst(all.iter().filter_map(Extending::slides)));
    checks.extend(worst(all.iter().filter_map(Extending::jam)));
    checks.extend(worst(all.iter().filter_map(Extending::uplift)));
    checks.extend(worst(all.iter().map(Extending::tips)));
    checks
}

/// One drawer of a chest, with what its checks share.
struct Extending<'a> {
    scenario: &'a Scenario,
    subject: &'a Subject<'a>,
    weights: &'a Weights,
    index: usize,
    drawer: &'a Drawer,
    frame: &'a TierFrame,
    body: Body,
    friction: Friction,
}

impl<'a> Extending<'a> {
    fn of(
        scenario: &'a Scenario,
        subject: &'a Subject<'a>,
        weights: &'a Weights,
        index: usize,
        drawer: &'a Drawer,
    ) -> Self {
        let friction = match subject.structure.runs {
            Runs::Strip => friction::PLASTIC_STRIP,
            Runs::Waxed => friction::WAXED_WOOD,
            Runs::Slides => friction::BALL_BEARINGS,
        };
        let frame = &subject.chest.carcass.tiers[drawer.tier];
        let body = weights.drawers[index];
        Self { scenario, subject, weights, index, drawer, frame, body, friction }
    }

    fn on_slides(&self) -> bool {
        self.subject.structure.runs == Runs::Slides
    }

    fn length(&self) -> Metres {
        Metres::from(self.drawer.outside.size.dy)
    }

    fn width(&self) -> Metres {
        Metres::from(self.drawer.outside.size.dx)
    }

    /// What stays in the chest when it is drawn out; slides bring it out whole.
    fn engaged(&self) -> Metres {
        let least = tipping::least_engagement(self.length()).min(self.length() / 2.0);
        if self.on_slides() { Metres::ZERO } else { least }
    }

    /// The centre of mass behind its front.
    fn centre(&self) -> Metres {
        self.body.y() - Metres::from(self.drawer.outside.at.y)
    }

    /// The pull that starts it on the level, with the skew that a load to one side adds.
    fn pull(&self) -> Check {
        let name = format!("pull of drawer {}", self.drawer.name);
        let middle = Metres::from(self.drawer.outside.at.x) + self.width() / 2.0;
        let straight = pull::force(self.body.mass(), self.friction.start, 0.0);
        let guided = Guided {
            engaged: self.length(),
            side_friction: self.friction.start,
            pull_offset: Metres::ZERO,
            load_offset: if self.on_slides() { Metres::ZERO } else { self.body.x() - middle },
        };
        // A pull in the middle never locks: the load's own offset only adds to it.
        let force = match guided.pull(straight) {
            Pull::Moves { pull, .. } => pull,
            Pull::Locks => straight,
        };
        let (limit, whose, kind) = match self.scenario.aims.limits.pull_newtons {
            Some(limit) => (Force::newtons(limit), "limit as given", Kind::Duty),
            None => (pull::MOST, "limit of HSE RR228, 20 kg-force", Kind::Advice),
        };
        let uphill = pull::force(self.body.mass(), self.friction.start, 4.0);
        let remark = format!(
            "{:.0} kg, level, at the start; {:.0} N if it opens 4° uphill",
            self.body.mass().in_kilograms(),
            uphill.in_newtons()
        );
        Figure::at_most(force.in_newtons(), limit.in_newtons(), "N").named(
            name,
            kind,
            format!("μ {} ({}); {whose}", self.friction.start, self.friction.source),
            remark,
        )
    }

    /// Sag and, where its strength is known, bending of the bottom: a plate carried by its runs (or
    /// by the sides, on slides) and by the front and back boards, each thing's weight spread over
    /// its own footprint.
    fn bottom(&self) -> Option<(Check, Option<Check>)> {
        let solid = self.subject.solids.iter().find(|solid| {
            solid.drawer == Some(self.index)
                && self.subject.part_of(solid).is_some_and(|part| part.role == Role::DrawerBottom)
        })?;
        let part = self.subject.part_of(solid)?;
        let material = &self.scenario.stock.materials[part.material];
        let axis = axis_across(part.grain, part.length, solid.space);
        let sheet = Sheet::of(material);
        let span = match self.subject.structure.runs {
            Runs::Strip | Runs::Waxed => self.width() - Metres::from(RUN_WIDTH),
            Runs::Slides => Metres::from(self.drawer.inside.dx),
        };
        if span <= Metres::ZERO {
            return None;
        }
        let plate = sheet.plate(axis, span, self.length(), material);
        let bent = self.bend(&plate, own_weight(material.density, material.thickness.into()));
        let name = &self.drawer.name;
        let remark = format!(
            "{} between runs, {:.0} kg of gear where it stands, {}",
            millimetres(span),
            self.gear().in_kilograms(),
            sheet.remark
        );
        let check = Figure::at_most(
            creep::long_term(bent.deflection, Metres::ZERO, creep::BED).in_millimetres(),
            span.in_millimetres() / SAG_SHARE,
            "mm",
        )
        .named(
            format!("drawer bottom sag, {name}"),
            Kind::Guide,
            format!("{}; Navier's plate; NDS 3.5-1, K_cr 2; L/240 (assumption)", sheet.source),
            remark.clone(),
        );
        let bending = sheet.bending(axis, &bent, SHOCK).map(|figure| {
            let kind = figure.kind_under_shock(SHOCK);
            figure.named(
                format!("drawer bottom bending, {name}"),
                kind,
                format!("{}; Navier's plate; NDS table 2.3.2, C_D 1.6", sheet.source),
                format!("{remark}; road shock 2 times the load (assumption)"),
            )
        });
        Some((check, bending))
    }

    /// The greatest deflection and moments at the middle of the plate and under the middle of each
    /// thing (not all at one place).
    fn bend(&self, plate: &Plate, own: AreaLoad) -> Response {
        let inside = self.drawer.inside_at;
        let left = Metres::from(self.drawer.outside.at.x) + (self.width() - plate.a) / 2.0;
        let front = Metres::from(self.drawer.outside.at.y);
        let mut loads = vec![Load::Uniform(own)];
        let mut places = vec![(plate.a / 2.0, plate.b / 2.0)];
        for item in &self.drawer.plan.items {
            let space = item.space.moved(inside);
            let (dx, dy) = (Metres::from(space.size.dx), Metres::from(space.size.dy));
            let x = Metres::from(space.at.x) + dx / 2.0 - left;
            let y = Metres::from(space.at.y) + dy / 2.0 - front;
            let weight = Kilograms::from(mass_of(self.scenario, item.content)).weight();
            loads.push(Load::Patch { x, y, dx, dy, load: weight / dx / dy });
            places.push((x, y));
        }
        let field = plate.under(&loads, WAVES);
        let responses = places.into_iter().map(|(x, y)| field.at(x, y));
        let none = Response {
            deflection: Metres::ZERO,
            moment_x: MomentPerWidth::ZERO,
            moment_y: MomentPerWidth::ZERO,
        };
        responses.fold(none, |most, here| Response {
            deflection: most.deflection.max(here.deflection),
            moment_x: most.moment_x.max(here.moment_x),
            moment_y: most.moment_y.max(here.moment_y),
        })
    }

    fn gear(&self) -> Kilograms {
        let items = self.drawer.plan.items.iter();
        items.map(|item| Kilograms::from(mass_of(self.scenario, item.content))).sum()
    }

    /// What slides are rated for.
    fn slides(&self) -> Option<Check> {
        if !self.on_slides() {
            return None;
        }
        let line = self.subject.hardware.iter().find(|line| line.use_ == HardwareUse::Slides)?;
        let slides = &self.scenario.stock.hardware[line.hardware?];
        let rating = Kilograms::from(slides.rating?);
        let figure = Figure::at_most(self.body.mass().in_kilograms(), rating.in_kilograms(), "kg");
        let (name, source) = (&self.drawer.name, format!("rating of {}", slides.name));
        Some(figure.named(
            format!("load on slides of {name}"),
            Kind::Strength,
            source,
            "drawer with its gear, a pair".into(),
        ))
    }

    /// What is still guided when it stands open, against the length at which a pull at a corner
    /// locks it.
    fn jam(&self) -> Option<Check> {
        if self.on_slides() {
            return None;
        }
        let offset = self.width() / 2.0;
        let locks = locking_length(self.friction.start, offset);
        let clearance = Metres::from(self.frame.side_gap) * 2.0;
        let (_, lead) = skew(clearance, self.length(), self.width());
        let figure =
            Figure::at_least(self.engaged().in_millimetres(), locks.in_millimetres(), "mm");
        Some(figure.named(
            format!("guided length of {}, open", self.drawer.name),
            Kind::Advice,
            format!("locks at 2·μ·e (derived); μ {} at the sides", self.friction.start),
            format!(
                "pulled at a corner, e = {}; shut, one corner may lead the other by {:.0} mm if \
                 the side gaps are not taken up by guides",
                millimetres(offset),
                lead.in_millimetres()
            ),
        ))
    }

    /// The drawn-out drawer's back end presses up on the panel over it, which screws hold down.
    fn uplift(&self) -> Option<Check> {
        if self.on_slides() {
            return None;
        }
        let extended = Extended {
            length: self.length(),
            weight: self.body.mass().weight(),
            centre: self.centre(),
            travel: self.length() - self.engaged(),
        };
        let up = -extended.reactions().rear;
        if up <= Force::ZERO {
            return None;
        }
        let choice = &self.subject.structure.tiers[self.drawer.tier];
        let hold = self.screws(choice.member);
        let clear = Metres::from(self.scenario.allowances.top_clearance);
        let (drop, degrees) = extended.droop(clear);
        let figure = Figure::at_most(up.in_newtons(), hold.force.in_newtons(), "N");
        Some(figure.named(
            format!("uplift by drawer {}, open", self.drawer.name),
            Kind::Strength,
            "lever (derived); NDS 12.2.2 withdrawal, C_D 1.6".into(),
            format!(
                "{} left in the chest (assumption), {}; the front drops {:.0} mm ({degrees:.1}°)",
                millimetres(self.engaged()),
                hold.remark,
                drop.in_millimetres()
            ),
        ))
    }

    /// Withdrawal of the screws that hold the panel above down to the members on either side, over
    /// the length that the drawer still presses against.
    fn screws(&self, member: MaterialId) -> Hold {
        let material = &self.scenario.stock.materials[member];
        let grade = match &material.stiffness {
            Stiffness::Grade(name) => grade_named(name),
            _ => None,
        };
        // Without a grade, G from the density at 12 % (Wood Handbook's definition).
        let gravity = grade.map_or(material.density / 1120.0, |grade| grade.gravity);
        let edge = if material.is_board() { 1.0 } else { screw::PLYWOOD_EDGE_SHARE };
        let fastening = self.scenario.allowances.chest_screws;
        let engaged = (self.engaged().in_metres() / crate::units::Length::MM.to_metres()) as i64;
        let (ends, spacing) = (fastening.ends.to_mm() as i64, fastening.spacing.to_mm() as i64);
        // From the front: the first at `ends`, then one per spacing.
        let reached = (engaged - ends).div_euclid(spacing.max(1)) + 1;
        let count = 2 * reached.max(1);
        let per_length: LineLoad = screw::screw_withdrawal(gravity, SCREW_SHANK);
        let force =
            per_length * SCREW_THREAD * (count as f64 * edge) * Duration::TenMinutes.factor();
        Hold { force, remark: format!("{count} No. 8 screws with 25 mm of thread (assumption)") }
    }

    /// Overturning over stabilising moment about the chest's front with this drawer alone open.
    fn tips(&self) -> Check {
        let lip = Metres::from(self.subject.chest.carcass.front_y);
        let travel = self.length() - self.engaged();
        let (mut inside, mut outside) = (vec![], vec![]);
        let fixed = self.weights.fixed;
        inside.push((fixed.mass(), fixed.y() - lip));
        for (index, body) in self.weights.drawers.iter().enumerate() {
            let open = if index == self.index { travel } else { Metres::ZERO };
            let arm = body.y() - open - lip;
            let side = if arm > Metres::ZERO { &mut inside } else { &mut outside };
            side.push((body.mass(), arm.abs()));
        }
        // Finite even for a chest that weighs nothing.
        let share = (1.0 / tipping::safety(&inside, &outside)).min(1e6);
        let figure = Figure::at_most(share, 1.0 / tipping::LEAST_SAFETY, "ratio");
        figure.named(
            format!("tipping, drawer {} open", self.drawer.name),
            Kind::Advice,
            "moments about the chest's front (derived); safety 1.5 (assumption)".into(),
            "overturning over stabilising moment, one drawer open, fastenings not counted".into(),
        )
    }
}

/// A No. 8 screw's shank.
const SCREW_SHANK: Metres = Metres::inches(0.164);
/// Thread in the member (assumption).
const SCREW_THREAD: Metres = Metres::of(0.025);

struct Hold {
    force: Force,
    remark: String,
}

fn own_weight(density: f64, thickness: Metres) -> AreaLoad {
    let mass = Density::kilograms_per_cubic_metre(density) * thickness;
    AreaLoad::pascals(Kilograms::of(mass.in_kilograms_per_square_metre()).weight().in_newtons())
}
