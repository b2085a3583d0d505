//! What to measure again before the first cut, the fits with the least slack first.

use crate::design::{Content, Design};
use crate::report::words::rear_door;
use crate::scenario::{Family, Scenario};
use crate::units::Length;
use crate::verify::Verified;

/// One thing to measure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fit {
    /// What to measure.
    pub what: String,
    /// What the scenario says.
    pub given: Length,
    /// What the design takes of it.
    pub takes: Length,
    /// How much the measure may be off before something does not fit; `None` where that depends on several.
    pub slack: Option<Length>,
}

/// How many things of the gear are listed.
const GEAR: usize = 8;

/// Every fit, least slack first; thicknesses of stock, on which many fits depend, last.
pub fn fits(scenario: &Scenario, design: &Verified<Design>) -> Vec<Fit> {
    let mut fits = vehicle(scenario, design);
    fits.extend(gear(scenario, design));
    fits.sort_by(|a, b| (a.slack, &a.what).cmp(&(b.slack, &b.what)));
    let mut used: Vec<_> = design.parts.iter().map(|part| part.material).collect();
    used.sort();
    used.dedup();
    fits.extend(used.into_iter().map(|id| {
        let material = &scenario.stock.materials[id];
        Fit {
            what: format!("thickness of {}", material.name),
            given: material.thickness,
            takes: material.thickness,
            slack: None,
        }
    }));
    fits
}

fn fit(what: impl Into<String>, given: Length, takes: Length) -> Fit {
    Fit { what: what.into(), given, takes, slack: Some(given - takes) }
}

fn vehicle(scenario: &Scenario, design: &Design) -> Vec<Fit> {
    let (bed, carcass) = (&scenario.bed, &design.chest.carcass);
    let long = carcass.front_y + carcass.length;
    let mut fits = vec![
        fit(format!("floor, closed {} to front wall", rear_door(bed.kind)), bed.length.at, long),
        fit("height under rail, cover or roof", bed.clear_height.at, carcass.top_z),
    ];
    let widest = |upper: bool| {
        let tiers = carcass.tiers.iter().enumerate().filter(|(index, _)| {
            let full =
                design.structure.family == Family::AboveWells && index + 1 == carcass.tiers.len();
            full == upper
        });
        tiers.map(|(_, frame)| frame.width).max()
    };
    if let Some(width) = widest(false) {
        let what = if bed.wells.is_some() {
            "width between the wheel wells"
        } else {
            "width, wall to wall"
        };
        fits.push(fit(what, bed.floor_width(), width));
    }
    if let Some(width) = widest(true) {
        fits.push(fit("width, wall to wall", bed.width.at, width));
        if let (Some(wells), Some(frame)) = (&bed.wells, carcass.tiers.last()) {
            let under = frame.z - scenario.stock.materials[design.structure.bottom].thickness;
            fits.push(Fit {
                what: "height of the wheel wells".to_owned(),
                given: wells.height,
                takes: under,
                slack: Some(under - wells.height),
            });
        }
    }
    if let Some(opening) = &bed.opening {
        let width = carcass.tiers.iter().map(|frame| frame.width).max().unwrap_or_default();
        fits.push(fit("width of the hatch opening", opening.width, width));
        fits.push(fit("height of the hatch opening", opening.height, carcass.top_z));
    }
    if let (Some(tailgate), Some(frame)) = (&bed.tailgate, carcass.tiers.first()) {
        let edge = frame.z + frame.run_height;
        fits.push(Fit {
            what: "how far the open tailgate stands above the floor".to_owned(),
            given: tailgate.rise,
            takes: edge,
            slack: Some(edge - tailgate.rise),
        });
    }
    for pocket in &design.pockets {
        let what = format!("length of the {}", crate::report::words::pocket(pocket.place));
        let gap = scenario.allowances.pocket;
        fits.push(fit(what, pocket.space.size.dy + gap * 2, pocket.space.size.dy));
    }
    fits
}

/// The gear that comes nearest to what is above it.
fn gear(scenario: &Scenario, design: &Design) -> Vec<Fit> {
    let mut tightest: Vec<Fit> = Vec::new();
    for drawer in &design.drawers {
        for item in &drawer.plan.items {
            let Content::Gear(id) = item.content else { continue };
            let top = item.space.far().z;
            let under = drawer.inside.dz - item.space.at.z;
            let what =
                format!("{}, as high as it lies (drawer {})", scenario.gear[id].name, drawer.name);
            let found = Fit {
                what,
                given: item.space.size.dz,
                takes: under,
                slack: Some(drawer.inside.dz - top),
            };
            match tightest.iter_mut().find(|known| known.what == found.what) {
                Some(known) if found.slack < known.slack => *known = found,
                Some(_) => {}
                None => tightest.push(found),
            }
        }
    }
    tightest.sort_by(|a, b| (a.slack, &a.what).cmp(&(b.slack, &b.what)));
    tightest.truncate(GEAR);
    tightest
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::fixture;

    #[test]
    fn the_least_slack_comes_first_and_stock_last() {
        let scenario = fixture::locksmith();
        let design = fixture::verified(&scenario);
        let fits = fits(&scenario, &design);
        let slacks: Vec<Length> = fits.iter().map_while(|fit| fit.slack).collect();
        assert!(slacks.is_sorted() && slacks.len() > 4, "{fits:#?}");
        assert!(slacks.iter().all(|slack| *slack >= Length::ZERO), "{fits:#?}");
        assert!(fits[slacks.len()..].iter().all(|fit| fit.what.starts_with("thickness of ")));
        assert!(fits.iter().any(|fit| fit.what.contains("Impact driver case")), "{fits:#?}");
    }
}
