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
use crate::design::{Check, Role};
use crate::mechanics::checks::deck::WAVES;
use crate::mechanics::checks::laid::axis_across;
use crate::mechanics::checks::sheet::Sheet;
use crate::mechanics::checks::shelf::RUN_WIDTH;
use crate::mechanics::creep;
use crate::mechanics::plate::{Load, Plate, Response};
use crate::scenario::Runs;
use crate::units::physics::{AreaLoad, Density, Kilograms, Metres, MomentPerWidth};

impl Extending<'_> {
    /// Sag and, where its strength is known, bending of the bottom: a plate carried by its runs (or by the sides, on slides)
    /// and by the front and back boards.
    pub(super) fn bottom(&self) -> Option<(Check, Option<Check>)> {
        let solid = self.piece(Role::DrawerBottom)?;
        let part = self.subject.part_of(solid)?;
        let material = self.material(part.material);
        let axis = axis_across(part.grain, part.length, solid.space);
        let sheet = Sheet::of(material);
        let span = match self.subject.structure.runs {
            Runs::Strip | Runs::Waxed => self.width() - Metres::from(RUN_WIDTH),
            Runs::Slides => Metres::from(self.drawer.inside.dx),
        };
        if span <= Metres::ZERO {
            return None;
        }
        let engineering = self.engineering();
        let plate = sheet.plate(axis, span, self.length(), material);
        let bent = self.bend(&plate, own_weight(material.density, material.thickness.into()));
        let name = &self.drawer.name;
        let said = remark!(
            span,
            " between runs ",
            Metres::from(RUN_WIDTH),
            " wide (assumption), ",
            self.gear(),
            " of gear where it stands, "
        )
        .and(sheet.remark.clone());
        let check = Figure::at_most(
            creep::long_term(bent.deflection, Metres::ZERO, engineering.creep).in_millimetres(),
            span.in_millimetres() / engineering.sag_share,
            "mm",
        )
        .named(
            format!("drawer bottom sag, {name}"),
            Kind::Guide,
            format!(
                "{}; Navier's plate; NDS 3.5-1, K_cr {} (assumption); L/{} (assumption)",
                sheet.source, engineering.creep, engineering.sag_share
            ),
            said.clone(),
        );
        let shock = engineering.road_shock;
        let bending = sheet.bending(axis, &bent, shock).map(|figure| {
            let kind = figure.kind_under_shock(shock);
            figure.named(
                format!("drawer bottom bending, {name}"),
                kind,
                format!("{}; Navier's plate; NDS table 2.3.2, C_D 1.6", sheet.source),
                said.and(format!("; road shock {shock} times the load (assumption)")),
            )
        });
        Some((check, bending))
    }

    /// The greatest deflection and moments at the middle of the plate and under the middle of each thing (not all at one
    /// place).
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
            let mass = super::mass_of(self.scenario, item.content);
            let weight = Kilograms::from(mass).weight();
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
}

fn own_weight(density: f64, thickness: Metres) -> AreaLoad {
    let mass = Density::kilograms_per_cubic_metre(density) * thickness;
    AreaLoad::pascals(Kilograms::of(mass.in_kilograms_per_square_metre()).weight().in_newtons())
}
