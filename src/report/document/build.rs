//! From a design to the document's types.

use std::collections::BTreeMap;

use super::chosen as out;
use super::cutting::{Cuts, kind};
use super::measure::{Amount, finite};
use crate::design::derive::spare::spare;
use crate::design::{self, Content, Design, Layout, LeftOut, Need, PartId, Role, Solid};
use crate::explore::Stop;
use crate::report::naming::Names;
use crate::report::subject::Candidate;
use crate::report::words;
use crate::scenario::Scenario;
use crate::units::{Length, Money};

/// What every function here needs: the design, and where to look names up.
struct Source<'a> {
    scenario: &'a Scenario,
    names: &'a Names,
    design: &'a Design,
}

pub(super) fn design(
    scenario: &Scenario,
    names: &Names,
    candidate: &Candidate<'_>,
    stopped_by: Option<Stop>,
) -> out::Design {
    let design = candidate.design;
    let from = Source { scenario, names, design };
    out::Design {
        rank: candidate.rank,
        id: design.id.to_string(),
        words: words::structure(scenario, &design.structure),
        undominated: candidate.standing.undominated,
        near_twins: candidate.standing.near_twins,
        score: candidate.standing.score,
        criteria: criteria(&design.criteria),
        contributions: contributions(candidate),
        proof: out::Proof {
            status: out::Status::Feasible,
            value_bound: candidate.standing.value_bound_milli.map(|milli| milli as f64 / 1000.0),
            stopped_by: stopped_by.map(Into::into),
        },
        structure: from.structure(),
        chest: from.chest(),
        drawers: (0..design.drawers.len()).map(|index| from.drawer(index)).collect(),
        pockets: design.pockets.iter().map(|pocket| from.pocket(pocket)).collect(),
        left_out: design.left_out.iter().map(|left| from.left_out(left)).collect(),
        parts: design.parts.iter().map(|part| from.part(part)).collect(),
        hardware: design.hardware.iter().map(|line| from.hardware(line)).collect(),
        cutting: from.cuts().cutting(&from.design.cutting),
        purchase: design.purchases.iter().map(|bought| from.cuts().purchase(bought)).collect(),
        cost: cost(scenario, design),
        checks: design.checks.iter().map(check).collect(),
        fits: super::fits::of(scenario, design),
    }
}

fn contributions(candidate: &Candidate<'_>) -> BTreeMap<String, f64> {
    candidate
        .standing
        .contributions
        .iter()
        .map(|&(criterion, points)| (criterion.key().to_owned(), points))
        .collect()
}

fn criteria(criteria: &design::Criteria) -> out::Criteria {
    out::Criteria {
        usable_volume: criteria.usable_volume.into(),
        value: criteria.value_milli as f64 / 1000.0,
        reach: criteria.reach_mm,
        waste: criteria.waste,
        sheet_waste: criteria.sheet_waste,
        board_waste: criteria.board_waste,
        cost: criteria.cost.into(),
        mass: criteria.mass.into(),
        loaded_mass: criteria.loaded_mass.into(),
        margin: criteria.margin.and_then(finite),
        simplicity: criteria.simplicity,
    }
}

impl Source<'_> {
    fn cuts(&self) -> Cuts<'_> {
        let marks = self.design.parts.iter().map(|part| part.mark.as_str()).collect();
        Cuts { stock: &self.scenario.stock, names: self.names, marks }
    }

    fn mark(&self, part: PartId) -> String {
        self.design.part(part).mark.clone()
    }

    fn structure(&self) -> out::Structure {
        let structure = &self.design.structure;
        let name = |id| self.names.material(id).to_owned();
        out::Structure {
            family: structure.family.into(),
            seamless: structure.seamless,
            tiers: structure
                .tiers
                .iter()
                .map(|tier| out::TierChoice {
                    columns: tier.columns,
                    member: name(tier.member),
                    height: tier.height.into(),
                })
                .collect(),
            bottom: name(structure.bottom),
            deck: name(structure.deck),
            deck_grain: structure.deck_grain.into(),
            sides: name(structure.sides),
            drawer_bottom: name(structure.drawer_bottom),
            front: name(structure.front),
            divider: name(structure.divider),
            runs: structure.runs.into(),
        }
    }

    fn chest(&self) -> out::Chest {
        let chest = &self.design.chest;
        let carcass = &chest.carcass;
        let width = carcass.tiers.iter().map(|tier| tier.width).max().unwrap_or(Length::ZERO);
        let is_panel = |role| matches!(role, Role::Bottom | Role::Shelf | Role::Deck);
        out::Chest {
            length: carcass.length.into(),
            width: width.into(),
            height: carcass.top_z.into(),
            shim: carcass.lift.into(),
            shim_for_tailgate: carcass.lift_for_tailgate.into(),
            front_y: carcass.front_y.into(),
            tiers: carcass
                .tiers
                .iter()
                .zip(&chest.openings)
                .map(|(frame, openings)| tier(frame, openings))
                .collect(),
            members: self.boards(|solid, role| solid.drawer.is_none() && role == Role::Member),
            panels: self.boards(|solid, role| solid.drawer.is_none() && is_panel(role)),
            others: self.boards(|solid, role| {
                solid.drawer.is_none() && role != Role::Member && !is_panel(role)
            }),
        }
    }

    /// The solids that `wanted` picks.
    fn boards(&self, wanted: impl Fn(&Solid, Role) -> bool) -> Vec<out::Board> {
        self.design
            .solids
            .iter()
            .map(|solid| (solid, self.design.part(solid.part)))
            .filter(|(solid, part)| wanted(solid, part.role))
            .map(|(solid, part)| out::Board {
                mark: part.mark.clone(),
                role: part.role.into(),
                space: solid.space.into(),
            })
            .collect()
    }

    fn drawer(&self, index: usize) -> out::Drawer {
        let drawer = &self.design.drawers[index];
        let (at, outside) = (drawer.outside.at, drawer.outside.size);
        let dividers = drawer.plan.dividers.iter().zip(&drawer.divider_parts);
        out::Drawer {
            name: drawer.name.clone(),
            tier: drawer.tier,
            column: drawer.column,
            x: at.x.into(),
            y: at.y.into(),
            z: at.z.into(),
            outside: [outside.dx.into(), outside.dy.into(), outside.dz.into()],
            inside: [drawer.inside.dx.into(), drawer.inside.dy.into(), drawer.inside.dz.into()],
            left_over: spare(self.scenario, &self.design.chest.carcass.tiers[drawer.tier], drawer)
                .map(Into::into),
            inside_at: drawer.inside_at.into(),
            opening: [drawer.opening.size.dx.into(), drawer.opening.size.dz.into()],
            opening_space: drawer.opening.into(),
            boards: self.boards(|solid, _| solid.drawer == Some(index)),
            dividers: dividers
                .map(|(&space, &part)| out::Divider { mark: self.mark(part), space: space.into() })
                .collect(),
            gear: self.gear(&drawer.plan),
            loose: self.loose(&drawer.plan),
        }
    }

    fn pocket(&self, pocket: &design::Pocket) -> out::Pocket {
        out::Pocket {
            place: pocket.place.into(),
            space: pocket.space.into(),
            dividers: pocket
                .plan
                .dividers
                .iter()
                .zip(&pocket.divider_parts)
                .map(|(&space, &part)| out::Divider { mark: self.mark(part), space: space.into() })
                .collect(),
            gear: self.gear(&pocket.plan),
            loose: self.loose(&pocket.plan),
        }
    }

    fn gear(&self, plan: &Layout) -> Vec<out::GearAt> {
        let gear = |item: &design::Item| match item.content {
            Content::Gear(id) => Some(out::GearAt {
                name: self.scenario.gear[id].name.clone(),
                copy: item.copy,
                space: item.space.into(),
            }),
            Content::Loose(_) => None,
        };
        plan.items.iter().filter_map(gear).collect()
    }

    fn loose(&self, plan: &Layout) -> Vec<out::LooseAt> {
        let loose = |item: &design::Item| match item.content {
            Content::Loose(id) => Some(out::LooseAt {
                name: self.scenario.loose[id].name.clone(),
                volume: self.scenario.loose[id].volume.into(),
                space: item.space.into(),
            }),
            Content::Gear(_) => None,
        };
        plan.items.iter().filter_map(loose).collect()
    }

    fn left_out(&self, left: &design::Unstowed) -> out::LeftOut {
        let (why, by) = match left.why {
            LeftOut::TooHigh { by } => (out::Why::TooHigh, Some(by)),
            LeftOut::TooLarge { by } => (out::Why::TooLarge, Some(by)),
            LeftOut::NoRoom => (out::Why::NoRoom, None),
        };
        out::LeftOut {
            name: words::content(self.scenario, left.content).to_owned(),
            count: left.count,
            why,
            by: by.map(Into::into),
        }
    }

    fn part(&self, part: &design::Part) -> out::Part {
        out::Part {
            mark: part.mark.clone(),
            name: words::role(part.role).to_owned(),
            role: part.role.into(),
            material: self.names.material(part.material).to_owned(),
            length: part.length.into(),
            width: part.width.into(),
            thickness: part.thickness.into(),
            quantity: part.quantity,
            grain: part.grain.into(),
        }
    }

    fn hardware(&self, line: &design::HardwareLine) -> out::HardwareLine {
        out::HardwareLine {
            use_: line.use_.into(),
            name: line.hardware.map(|id| self.names.hardware(id).to_owned()),
            need: match line.need {
                Need::Count(count) => out::Need::Count(count),
                Need::Length(length) => out::Need::Length(length.into()),
                Need::Area(area) => out::Need::Area(area.into()),
            },
            packages: line.packages,
            cost: line.cost.into(),
        }
    }
}

fn tier(frame: &design::TierFrame, openings: &[Length]) -> out::Tier {
    out::Tier {
        x: frame.x.into(),
        z: frame.z.into(),
        width: frame.width.into(),
        height: frame.height.into(),
        member: frame.member.into(),
        inside_length: frame.inside_length.into(),
        openings: openings.iter().map(|&width| width.into()).collect(),
    }
}

fn cost(scenario: &Scenario, design: &Design) -> out::Cost {
    let of = |wanted: Option<out::PurchaseKind>| -> Amount {
        design
            .purchases
            .iter()
            .filter(|bought| {
                wanted.is_none_or(|wanted| kind(&scenario.stock, bought.what) == wanted)
            })
            .map(|bought| bought.cost)
            .sum::<Money>()
            .into()
    };
    out::Cost {
        total: of(None),
        sheets: of(Some(out::PurchaseKind::Sheet)),
        boards: of(Some(out::PurchaseKind::Board)),
        hardware: of(Some(out::PurchaseKind::Hardware)),
    }
}

fn check(check: &design::Check) -> out::Check {
    out::Check {
        name: check.name.clone(),
        value: finite(check.value),
        limit: finite(check.limit),
        sense: check.sense.into(),
        unit: check.unit.to_owned(),
        pass: check.passes(),
        verdict: check.verdict().into(),
        advisory: check.advisory,
        note: check.note,
        margin: finite(check.margin()),
        strength: check.strength,
        source: words::remark(&check.source, crate::units::UnitSystem::Metric),
        remark: words::remark(&check.remark, crate::units::UnitSystem::Metric),
    }
}
