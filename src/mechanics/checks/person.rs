//! A person on the deck, at the worst places: in the middle of the widest span, and at the front edge, which nothing
//! carries between the members.
//!
//! In the middle: Navier's plate under a patch. At the edge: a strip as wide as [`free_edge_width`] says, which
//! Lévy's series for a plate with a free edge does not undercut for any plywood (derived; compared for D_y/D_x from 0.1 to 7,
//! feet from a twentieth to a fifth of the span). An angle let into the front edge carries it as a beam instead.

use super::deck::WAVES;
use super::laid::Laid;
use super::sheet::Sheet;
use super::{Figure, Kind, Subject, worst};
use crate::design::{Check, Remark, Role};
use crate::mechanics::beam;
use crate::mechanics::plate::{Load, free_edge_width};
use crate::scenario::{HardwareUse, Scenario};
use crate::units::physics::{Force, Metres, MomentPerWidth, PlateStiffness, SecondMoment, Stress};

/// A steel angle of 3/4 by 3/4 by 1/8 in (common practice, no source): its second moment about either leg, from its two
/// rectangles.
const ANGLE: SecondMoment = SecondMoment::inches_to_fourth(0.0087);
const STEEL: Stress = Stress::gigapascals(205.0);

const SAG: &str = "deck sag, one person";
const BEND: &str = "deck bending, one person";

pub(super) fn checks(scenario: &Scenario, subject: &Subject<'_>) -> Vec<Check> {
    let panels = Laid::of(subject, Role::Deck);
    // All of one material and length, so that the widest span is the worst.
    let by_span = |panel: &&Laid| widest(panel).map_or(0.0, Metres::in_metres);
    let worst_panel = panels.iter().max_by(|a, b| by_span(a).total_cmp(&by_span(b)));
    let Some(stands) = worst_panel.and_then(|panel| Stands::of(scenario, subject, panel)) else {
        return Vec::new();
    };
    let mut checks = stands.in_the_middle();
    checks.extend(stands.at_the_edge());
    let of = |name: &str| worst(checks.iter().filter(|check| check.name == name).cloned());
    [of(SAG), of(BEND)].into_iter().flatten().collect()
}

struct Stands<'a> {
    scenario: &'a Scenario,
    panel: &'a Laid,
    sheet: Sheet,
    span: Metres,
    person: Force,
    foot: Metres,
    angle: bool,
}

impl<'a> Stands<'a> {
    fn of(scenario: &'a Scenario, subject: &Subject<'_>, panel: &'a Laid) -> Option<Self> {
        let sheet = Sheet::of(&scenario.stock.materials[panel.material]);
        let span = widest(panel).filter(|span| *span > Metres::ZERO)?;
        let person = Force::newtons(scenario.engineering.person_newtons);
        let foot = Metres::from(scenario.engineering.foot).min(span);
        let angle = subject.hardware.iter().any(|line| line.use_ == HardwareUse::Angle);
        Some(Self { scenario, panel, sheet, span, person, foot, angle })
    }

    fn in_the_middle(&self) -> Vec<Check> {
        let material = &self.scenario.stock.materials[self.panel.material];
        let length = Metres::from(self.panel.space.size.dy);
        let plate = self.sheet.plate(self.panel.axis, self.span, length, material);
        let (dx, dy) = (self.foot.min(plate.a), self.foot.min(plate.b));
        let load = self.person / dx / dy;
        let (x, y) = (plate.a / 2.0, plate.b / 2.0);
        let response = plate.under(&[Load::Patch { x, y, dx, dy, load }], WAVES).at(x, y);
        let sag = self.sag(response.deflection, "in the middle", "Navier's plate");
        let bends = self.sheet.bending(self.panel.axis, &response, 1.0);
        let bends = bends.map(|figure| self.named(figure, "in the middle", "Navier's plate"));
        [Some(sag), bends].into_iter().flatten().collect()
    }

    fn at_the_edge(&self) -> Vec<Check> {
        const WHERE: &str = "at the front edge";
        let (x, y) = (self.sheet.capacity(self.panel.axis), self.sheet.across(self.panel.axis));
        let (sags, bends) = free_edge_width(self.span, x.stiffness, y.stiffness, self.foot);
        let angle = if self.angle { STEEL * ANGLE } else { PlateStiffness::ZERO * self.span };
        let panel = x.stiffness * sags;
        let both = panel + angle;
        let source = "Lévy's plate with a free edge (derived)";
        let deflection = beam::midspan_load_deflection(self.person, self.span, both);
        // The panel bends as much as the angle and takes its share.
        let moment = beam::midspan_load_moment(self.person, self.span) * (panel / both);
        let bending = x.bending.map(|strength| {
            let per_width: MomentPerWidth =
                MomentPerWidth::newtons(moment.in_newton_metres() / bends.in_metres());
            let limit = strength * crate::mechanics::lumber::Duration::TenMinutes.factor();
            let figure = Figure::at_most(per_width.in_newtons(), limit.in_newtons(), "N·m/m");
            self.named(figure, WHERE, source)
        });
        [Some(self.sag(deflection, WHERE, source)), bending].into_iter().flatten().collect()
    }

    fn sag(&self, deflection: Metres, place: &str, formula: &str) -> Check {
        let share = self.scenario.engineering.felt_share;
        Figure::at_most(deflection.in_millimetres(), self.span.in_millimetres() / share, "mm")
            .named(
                SAG.into(),
                Kind::Note,
                format!(
                    "{}; {formula}; L/{share}, it springs back (assumption)",
                    self.sheet.source
                ),
                self.words(place),
            )
    }

    fn named(&self, figure: Figure, place: &str, formula: &str) -> Check {
        figure.named(
            BEND.into(),
            Kind::Note,
            format!("{}; {formula}; NDS table 2.3.2, C_D 1.6", self.sheet.source),
            self.words(place),
        )
    }

    fn words(&self, place: &str) -> Remark {
        let angle = if self.angle { ", an angle let into the front edge" } else { "" };
        remark!(
            self.person,
            " on ",
            self.foot,
            format!(" square {place} between members "),
            self.span,
            format!(" apart (assumption){angle}, "),
        )
        .and(self.sheet.remark.clone())
    }
}

/// The widest span of a panel.
fn widest(panel: &Laid) -> Option<Metres> {
    panel.sag_spans().into_iter().reduce(Metres::max)
}
