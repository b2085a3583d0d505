//! A drawer's bottom under its gear: an orthotropic plate on four edges.
//!
//! - Inputs: the plate between its runs, every thing's weight over its own footprint.
//! - Formula: Navier's series ([`crate::mechanics::plate`]), creep by NDS 3.5-1.
//! - Limit: a span over the share that is seen, creep included; F_b·S for ten minutes against the load times road shock.
//! - Sentence: the span between the runs, how much gear stands on it, how the panel's stiffness is known.

#[cfg(test)]
pub(in crate::mechanics) mod handbook;
#[cfg(test)]
mod tests;

use super::{Extending, Figure, Kind};
use crate::design::derive::figures::mass_of;
use crate::design::geometry::{Box3, Point, Size};
use crate::design::{Check, Grain, Item, Layout, Role, Structure, TierFrame};
use crate::mechanics::checks::deck::WAVES;
use crate::mechanics::checks::laid::axis_across;
use crate::mechanics::checks::sheet::Sheet;
use crate::mechanics::checks::shelf::RUN_WIDTH;
use crate::mechanics::creep;
use crate::mechanics::panel::Axis;
use crate::mechanics::plate::{Load, Plate, Response};
use crate::scenario::{Material, Runs, Scenario};
use crate::units::physics::{AreaLoad, Density, Kilograms, Metres, MomentPerWidth};

impl Extending<'_> {
    /// Sag and, where its strength is known, bending of the bottom: a plate carried by its runs (or by the sides, on slides)
    /// and by the front and back boards.
    pub(super) fn bottom(&self) -> Option<(Check, Option<Check>)> {
        let solid = self.piece(Role::DrawerBottom)?;
        let part = self.subject.part_of(solid)?;
        let floor = Floor::new(
            self.scenario,
            self.subject.structure.runs,
            self.material(part.material),
            axis_across(part.grain, part.length, solid.space),
            self.drawer.outside,
            Box3 { at: self.drawer.inside_at, size: self.drawer.inside },
            &self.drawer.plan.items,
        )?;
        let engineering = self.engineering();
        let bent = floor.bent(WAVES);
        let name = &self.drawer.name;
        let said = remark!(
            floor.plate.a,
            " between runs ",
            Metres::from(RUN_WIDTH),
            " wide (assumption), ",
            self.gear(),
            " of gear where it stands, "
        )
        .and(floor.sheet.remark.clone());
        let check = floor.sag(&bent).named(
            format!("drawer bottom sag, {name}"),
            Kind::Guide,
            format!(
                "{}; Navier's plate; NDS 3.5-1, K_cr {} (assumption); L/{} (assumption)",
                floor.sheet.source, engineering.creep, engineering.sag_share
            ),
            said.clone(),
        );
        let shock = engineering.road_shock;
        let bending = floor.bending(&bent).map(|figure| {
            let kind = figure.kind_under_shock(shock);
            figure.named(
                format!("drawer bottom bending, {name}"),
                kind,
                format!("{}; Navier's plate; NDS table 2.3.2, C_D 1.6", floor.sheet.source),
                said.and(format!("; road shock {shock} times the load (assumption)")),
            )
        });
        Some((check, bending))
    }
}

/// Waves of the series where many layouts are compared: a tenth of the work for a few per cent.
const STRAIN_WAVES: u32 = 9;

/// How near the bottom of a drawer comes to what it bears with this layout, in sag or in bending: 1 is all of it. Within a few
/// per cent what its checks say once the drawer is built; known before it is.
pub fn bottom_strain(
    scenario: &Scenario,
    structure: &Structure,
    frame: &TierFrame,
    layout: &Layout,
) -> f64 {
    let material = &scenario.stock.materials[structure.drawer_bottom];
    let side = scenario.stock.materials[structure.sides].thickness;
    let size = Size::new(layout.width + side * 2, frame.drawer_length, material.thickness);
    let outside = Box3 { at: Point::default(), size };
    let inside = Box3 {
        at: Point::new(side, frame.drawer_inside_y, material.thickness),
        size: Size::new(layout.width, layout.length, layout.height),
    };
    let axis = axis_across(Grain::Along, size.dy, outside);
    let floor =
        Floor::new(scenario, structure.runs, material, axis, outside, inside, &layout.items);
    let Some(floor) = floor else { return 0.0 };
    let bent = floor.bent(STRAIN_WAVES);
    let share = |figure: &Figure| figure.value / figure.limit;
    let bending = floor.bending(&bent).as_ref().map_or(0.0, share);
    share(&floor.sag(&bent)).max(bending)
}

/// A bottom with what stands on it.
struct Floor<'a> {
    scenario: &'a Scenario,
    material: &'a Material,
    sheet: Sheet,
    /// Which of its axes lies along x.
    axis: Axis,
    /// Between its runs, or between the sides on slides.
    plate: Plate,
    /// From the plate's corner to the drawer's inside.
    inside: [Metres; 2],
    items: &'a [Item],
}

impl<'a> Floor<'a> {
    fn new(
        scenario: &'a Scenario,
        runs: Runs,
        material: &'a Material,
        axis: Axis,
        outside: Box3,
        inside: Box3,
        items: &'a [Item],
    ) -> Option<Self> {
        let (width, length) = (Metres::from(outside.size.dx), Metres::from(outside.size.dy));
        let span = match runs {
            Runs::Strip | Runs::Waxed => width - Metres::from(RUN_WIDTH),
            Runs::Slides => Metres::from(inside.size.dx),
        };
        if span <= Metres::ZERO {
            return None;
        }
        let sheet = Sheet::of(material);
        let plate = sheet.plate(axis, span, length, material);
        let x = Metres::from(inside.at.x - outside.at.x) - (width - span) / 2.0;
        let y = Metres::from(inside.at.y - outside.at.y);
        Some(Self { scenario, material, sheet, axis, plate, inside: [x, y], items })
    }

    /// The greatest deflection and moments at the middle of the plate and under the middle of each thing (not all at one
    /// place).
    fn bent(&self, waves: u32) -> Response {
        let plate = &self.plate;
        let own = own_weight(self.material.density, self.material.thickness.into());
        let mut loads = vec![Load::Uniform(own)];
        let mut places = vec![(plate.a / 2.0, plate.b / 2.0)];
        for item in self.items {
            let space = item.space;
            let (dx, dy) = (Metres::from(space.size.dx), Metres::from(space.size.dy));
            let x = self.inside[0] + Metres::from(space.at.x) + dx / 2.0;
            let y = self.inside[1] + Metres::from(space.at.y) + dy / 2.0;
            let weight = Kilograms::from(mass_of(self.scenario, item.content)).weight();
            loads.push(Load::Patch { x, y, dx, dy, load: weight / dx / dy });
            places.push((x, y));
        }
        let field = plate.under(&loads, waves);
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

    fn sag(&self, bent: &Response) -> Figure {
        let engineering = &self.scenario.engineering;
        let lasting = creep::long_term(bent.deflection, Metres::ZERO, engineering.creep);
        let limit = self.plate.a.in_millimetres() / engineering.sag_share;
        Figure::at_most(lasting.in_millimetres(), limit, "mm")
    }

    fn bending(&self, bent: &Response) -> Option<Figure> {
        self.sheet.bending(self.axis, bent, self.scenario.engineering.road_shock)
    }
}

fn own_weight(density: f64, thickness: Metres) -> AreaLoad {
    let mass = Density::kilograms_per_cubic_metre(density) * thickness;
    AreaLoad::pascals(Kilograms::of(mass.in_kilograms_per_square_metre()).weight().in_newtons())
}
