//! A person on the deck, at the worst places: in the middle of the widest span, and at the front edge, which nothing
//! carries between the members.
//!
//! In the middle: Navier's plate under a patch. At the edge: Lévy's plate with a free edge, the load on the edge line and an
//! angle let into the edge beside it. With the drawers shut the edge comes down on the applied front below it once it has
//! taken up the gap over that; what it would do over an open drawer is told apart, as a note: nobody should stand there.
//! Limits: a span over the share that is felt; F_b·S for ten minutes; the angle's yield (NDS table 2.3.2; F_y from memory).

use super::WAVES;
use super::free_edge::{EdgeResponse, FreeEdge};
use crate::design::{Check, Remark, Role};
use crate::mechanics::checks::laid::Laid;
use crate::mechanics::checks::sheet::Sheet;
use crate::mechanics::checks::{Figure, Kind, Subject};
use crate::mechanics::lumber::Duration;
use crate::mechanics::panel::deflection_span;
use crate::mechanics::plate::{Load, Plate, Response};
use crate::mechanics::section;
use crate::scenario::{HardwareUse, Scenario};
use crate::units::Length;
use crate::units::physics::{BendingStiffness, Force, Metres, Stress};
use std::f64::consts::PI;

/// An angle of which the scenario gives no size (assumption): steel, 3/4 by 3/4 by 1/8 in.
const USUAL: section::Angle =
    section::Angle { leg: Metres::inches(0.75), thickness: Metres::inches(0.125) };
const STEEL: Stress = Stress::gigapascals(205.0);
/// Metal less stiff than this is taken for aluminium.
const STIFF: Stress = Stress::gigapascals(120.0);
/// Yield of A36 steel, and of 6063-T5 aluminium (16 ksi, from memory).
const STEEL_YIELD: Stress = Stress::megapascals(250.0);
const ALUMINIUM_YIELD: Stress = Stress::megapascals(110.0);

/// Where a person stands, as the checks are named, and the theory.
const DECK: (&str, &str) = ("deck", "Navier's plate");
const EDGE: (&str, &str) = ("front edge", "Lévy's plate with a free edge");

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
    checks
}

/// The sag under a person in the middle of the narrowest of some openings, if it is refused there and over every wider one.
///
/// With r(a) the sag over its limit, a the span, the check's own series is r(a) = c/a · Σ_mn f_m(a)·g_n / D_mn(a) over odd m and
/// n, f_m = sin(mπd/2a)/m, g_n = sin(nπd'/2b)/n and D_mn = D_x(mπ/a)⁴ + 2H(mπ/a)²(nπ/b)² + D_y(nπ/b)⁴ (Navier; [`Plate`]). On
/// [a, 9a/8] no D_mn is less than (8/9)⁴ times what it is at a, |D'_mn| ≤ 4·D_mn/a, |f_m| ≤ 1/m and |f'_m| ≤ πd/2a²; so r
/// falls by no more than [`Stands::steepest`] there, and from one span at which it is beyond what is refused the next to look
/// at is so near that it cannot have fallen to that between them.
pub(in crate::mechanics::checks) fn refused_over(
    scenario: &Scenario,
    subject: &Subject<'_>,
    [from, to]: [Length; 2],
) -> Option<Check> {
    let panels = Laid::of(subject, Role::Deck);
    let stands = Stands::of(scenario, subject, panels.first()?)?;
    let foot = Metres::from(scenario.engineering.foot);
    let [from, to] = [from, to].map(|clear| deflection_span(clear.into()));
    // A foot wider than the span would change with it.
    if from < foot {
        return None;
    }
    let mut over = Stands { span: from, foot, ..stands };
    let first = over.middle_sag();
    for _ in 0..MOST_LOOKED_AT {
        let sag = over.middle_sag();
        let beyond = sag.value / sag.limit - REFUSED;
        if beyond <= 0.0 {
            return None;
        }
        let span = over.span.in_metres();
        let near = (beyond / over.steepest()).min(span / 8.0);
        if span + near >= to.in_metres() {
            return Some(first);
        }
        over.span = Metres::of(span + near);
    }
    None
}

/// A guide value is refused from three times on; a part in a thousand for what is rounded.
const REFUSED: f64 = 3.0 * 1.001;
/// Spans looked at before it is left open.
const MOST_LOOKED_AT: usize = 400;

struct Stands<'a> {
    scenario: &'a Scenario,
    panel: &'a Laid,
    sheet: Sheet,
    span: Metres,
    person: Force,
    foot: Metres,
    angle: Option<Angle>,
    /// How far the front edge comes down before an applied front below carries it.
    gap: Option<Metres>,
}

/// The angle at the front edge.
#[derive(Debug, Clone, Copy)]
struct Angle {
    section: section::Angle,
    modulus: Stress,
    /// Whether its size is from the scenario.
    given: bool,
}

impl Angle {
    fn of(scenario: &Scenario, subject: &Subject<'_>) -> Option<Self> {
        let line = subject.hardware.iter().find(|line| line.use_ == HardwareUse::Angle)?;
        let hardware = line.hardware.map(|id| &scenario.stock.hardware[id]);
        let size = hardware.and_then(|angle| Some((angle.leg?, angle.thickness)));
        let modulus = hardware.and_then(|angle| angle.modulus).map_or(STEEL, Stress::pascals);
        let given = size.filter(|(_, thickness)| *thickness > Length::ZERO);
        let section = given.map_or(USUAL, |(leg, thickness)| section::Angle {
            leg: leg.into(),
            thickness: thickness.into(),
        });
        Some(Self { section, modulus, given: given.is_some() })
    }

    fn stiffness(self) -> BendingStiffness {
        self.modulus * self.section.second_moment()
    }

    fn yields_at(self) -> Stress {
        if self.modulus < STIFF { ALUMINIUM_YIELD } else { STEEL_YIELD }
    }
}

impl<'a> Stands<'a> {
    fn of(scenario: &'a Scenario, subject: &Subject<'_>, panel: &'a Laid) -> Option<Self> {
        let sheet = Sheet::of(&scenario.stock.materials[panel.material]);
        let span = widest(panel).filter(|span| *span > Metres::ZERO)?;
        let person = Force::newtons(scenario.engineering.person_newtons);
        let foot = Metres::from(scenario.engineering.foot).min(span);
        let angle = Angle::of(scenario, subject);
        // The overhang lies over the applied fronts if it reaches beyond their middle.
        let front = scenario.stock.materials[subject.structure.front].thickness;
        let over = scenario.allowances.deck_overhang * 2 >= front && !subject.drawers.is_empty();
        let gap = over.then(|| Metres::from(scenario.allowances.front_gap));
        Some(Self { scenario, panel, sheet, span, person, foot, angle, gap })
    }

    fn in_the_middle(&self) -> Vec<Check> {
        let bends = self.sheet.bending(self.panel.axis, &self.middle(), 1.0);
        let bends = bends.map(|figure| self.bends(figure, DECK, self.words("in the middle")));
        [Some(self.middle_sag()), bends].into_iter().flatten().collect()
    }

    fn plate(&self) -> Plate {
        let material = &self.scenario.stock.materials[self.panel.material];
        let length = Metres::from(self.panel.space.size.dy);
        self.sheet.plate(self.panel.axis, self.span, length, material)
    }

    /// What the sag in the middle over its limit falls by per metre of span at most, from this span to one an eighth longer.
    fn steepest(&self) -> f64 {
        let plate = self.plate();
        let (a, b) = (plate.a.in_metres(), plate.b.in_metres());
        let (dx, dy) = (self.foot.in_metres().min(a), self.foot.in_metres().min(b));
        let (along, across) =
            (plate.stiffness_x.in_newton_metres(), plate.stiffness_y.in_newton_metres());
        let twist = plate.twist.in_newton_metres();
        let load = 16.0 * self.person.in_newtons() / (dx * dy * PI * PI);
        let odd = || (1..=WAVES).step_by(2).map(f64::from);
        let (mut sags, mut falls) = (0.0, 0.0);
        for n in odd() {
            let (waves, g) = (n * PI / b, libm::sin(n * PI * dy / (2.0 * b)).abs() / n);
            for m in odd() {
                let (p, q) = ((m * PI / a) * (m * PI / a), waves * waves);
                let term = load * g / (along * p * p + 2.0 * twist * p * q + across * q * q);
                sags += term / m;
                falls += term * (PI * dx / (2.0 * a * a) + 4.0 / (a * m));
            }
        }
        let least: f64 = (9.0_f64 / 8.0).powi(4);
        let share = self.scenario.engineering.felt_share;
        share * least * (falls / a + sags / (a * a))
    }

    /// How the panel bends under a person in the middle of the span.
    fn middle(&self) -> Response {
        let plate = self.plate();
        let (dx, dy) = (self.foot.min(plate.a), self.foot.min(plate.b));
        let load = self.person / dx / dy;
        let (x, y) = (plate.a / 2.0, plate.b / 2.0);
        plate.under(&[Load::Patch { x, y, dx, dy, load }], WAVES).at(x, y)
    }

    fn middle_sag(&self) -> Check {
        self.sag(self.middle().deflection, DECK, self.words("in the middle"))
    }

    /// The front edge with the drawers shut, and what it would do over an open one.
    fn at_the_edge(&self) -> Vec<Check> {
        let open = self.edge();
        let share = match self.gap {
            Some(gap) if gap < open.deflection => gap / open.deflection,
            _ => 1.0,
        };
        let mut checks = vec![self.sag(open.deflection * share, EDGE, self.at_the_front(share))];
        checks.extend(self.panel_bends(&open, share));
        checks.extend(self.angle_bends(&open, share));
        if share < 1.0 {
            // The bending where it is known; else the sag tells how far from holding it is.
            let over = match self.panel_bends(&open, 1.0) {
                Some(bends) => bends,
                None => self.sag(open.deflection, EDGE, Remark::default()),
            };
            let (name, remark) = (
                "front edge over an open drawer".to_owned(),
                remark!(
                    self.person,
                    " would bend it by ",
                    open.deflection,
                    " by straight-line theory, which nothing carries below; stand there only while the drawer is shut (assumption)",
                ),
            );
            checks.push(Check {
                name,
                remark,
                strength: false,
                advisory: true,
                note: true,
                ..over
            });
        }
        checks
    }

    /// What a person does to the front edge that nothing carries.
    fn edge(&self) -> EdgeResponse {
        let material = &self.scenario.stock.materials[self.panel.material];
        let plate = self.sheet.plate(self.panel.axis, self.span, self.span, material);
        let beam = self.angle.map_or(BendingStiffness::ZERO, Angle::stiffness);
        let edge = FreeEdge {
            span: self.span,
            along: plate.stiffness_x,
            across: plate.stiffness_y,
            twist: plate.twist,
            beam,
        };
        edge.under(self.person, self.foot)
    }

    fn panel_bends(&self, edge: &EdgeResponse, share: f64) -> Option<Check> {
        let strength = self.sheet.capacity(self.panel.axis).bending?;
        let limit = strength * Duration::TenMinutes.factor();
        let figure =
            Figure::at_most((edge.moment * share).in_newtons(), limit.in_newtons(), "N·m/m");
        Some(self.bends(figure, EDGE, self.at_the_front(share)))
    }

    fn angle_bends(&self, edge: &EdgeResponse, share: f64) -> Option<Check> {
        let angle = self.angle?;
        let holds = angle.yields_at() * angle.section.section_modulus();
        let figure = Figure::at_most(
            (edge.beam * share).in_newton_metres(),
            holds.in_newton_metres(),
            "N·m",
        );
        let (leg, thickness) = (angle.section.leg, angle.section.thickness);
        let size = if angle.given { "" } else { " (assumption: its size is not given)" };
        Some(figure.named(
            "front angle, one person".into(),
            Kind::Guide,
            format!("{}; yield, from memory", EDGE.1),
            self.at_the_front(share).and(remark!(
                "; legs of ",
                leg,
                ", ",
                thickness,
                format!(" thick{size}, yield at "),
                angle.yields_at()
            )),
        ))
    }

    fn sag(&self, deflection: Metres, (place, theory): (&str, &str), words: Remark) -> Check {
        let share = self.scenario.engineering.felt_share;
        let source =
            format!("{}; {theory}; L/{share}, it springs back (assumption)", self.sheet.source);
        let limit = self.span.in_millimetres() / share;
        let figure = Figure::at_most(deflection.in_millimetres(), limit, "mm");
        figure.named(format!("{place} sag, one person"), Kind::Guide, source, words)
    }

    fn bends(&self, figure: Figure, (place, theory): (&str, &str), words: Remark) -> Check {
        let source = format!("{}; {theory}; NDS table 2.3.2, C_D 1.6", self.sheet.source);
        figure.named(format!("{place} bending, one person"), Kind::Guide, source, words)
    }

    /// Where it rests on the fronts, that is said.
    fn at_the_front(&self, share: f64) -> Remark {
        let words = self.words("at the front edge");
        let angle = if self.angle.is_some() { "; an angle let into it" } else { "" };
        match self.gap {
            Some(gap) if share < 1.0 => words.and(remark!(
                format!("{angle}; it comes down by "),
                gap,
                " and rests on the shut drawer's front"
            )),
            _ => words.and(angle),
        }
    }

    fn words(&self, place: &str) -> Remark {
        remark!(
            self.person,
            " on ",
            self.foot,
            format!(" square {place} between members "),
            self.span,
            " apart (assumption), ",
        )
        .and(self.sheet.remark.clone())
    }
}

/// The widest span of a panel.
fn widest(panel: &Laid) -> Option<Metres> {
    panel.sag_spans().into_iter().reduce(Metres::max)
}
