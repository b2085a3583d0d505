//! The live run's designs: the list, and each of them seen from every side.

use std::collections::BTreeMap;

use axum::Json;
use axum::extract::State;

use super::contract::{Aim, CriterionWords, Designs, Listed, Reason};
use super::live::Found;
use super::refuse::Refused;
use super::state::Shared;
use crate::app::{Criterion, Exploration, Shown, Stop};
use crate::report::{reasons, words};

/// `GET /api/designs`.
pub async fn list(State(shared): State<Shared>) -> Result<Json<Designs>, Refused> {
    let found = shared.live().found();
    shared.aside(move || found.first().map_or_else(none, listed)).await.map(Json)
}

fn none() -> Designs {
    Designs {
        run: 0,
        revision: 0,
        version: 0,
        is_final: false,
        stopped_by: None,
        weights: BTreeMap::new(),
        criteria: Vec::new(),
        aims: Vec::new(),
        score_bound: None,
        designs: Vec::new(),
        considered: Vec::new(),
        reasons: Vec::new(),
    }
}

/// A list of designs.
pub fn listed(found: &Found) -> Designs {
    let exploration = &*found.exploration;
    let scenario = exploration.scenario();
    let findings = exploration.findings();
    let weight = |criterion: Criterion| (criterion.key(), scenario.aims.weight(criterion));
    Designs {
        run: found.run,
        revision: found.revision,
        version: found.version,
        is_final: found.is_final,
        stopped_by: exploration.stopped_by.map(|stop| match stop {
            Stop::Work => "work",
            Stop::Clock => "clock",
            Stop::Cancelled => "cancelled",
        }),
        weights: Criterion::ALL.into_iter().map(weight).collect(),
        criteria: Criterion::ALL
            .into_iter()
            .map(|each| criterion_words(exploration, each))
            .collect(),
        aims: exploration
            .aims
            .iter()
            .map(|aim| Aim {
                criterion: aim.criterion.key(),
                best: aim.best.map(|(best, _)| best),
                design: aim.best.map(|(_, id)| id.to_string()),
                offered: aim.offered.map(|(best, _)| best),
                bound: Some(aim.bound).filter(|bound| bound.is_finite()),
                proved: aim.proved,
            })
            .collect(),
        score_bound: exploration.score_bound,
        designs: (1..)
            .zip(&exploration.designs)
            .map(|(rank, shown)| one(exploration, rank, shown))
            .collect(),
        considered: (findings.considered.pruned.iter())
            .map(|one| (one.reason.clone(), one.structures))
            .collect(),
        reasons: reasons::told(&findings).iter().map(Reason::from).collect(),
    }
}

fn criterion_words(exploration: &Exploration, criterion: Criterion) -> CriterionWords {
    let scenario = exploration.scenario();
    CriterionWords {
        key: criterion.key(),
        name: words::criterion(criterion),
        unit: crate::report::criterion_unit(criterion, scenario.units, &scenario.currency)
            .to_owned(),
        more_is_better: criterion.more_is_better(),
    }
}

fn one(exploration: &Exploration, rank: usize, shown: &Shown) -> Listed {
    let scenario = exploration.scenario();
    let design = &shown.design;
    let structure = &design.structure;
    let name = |material| scenario.stock.materials[material].name.clone();
    let figure = |each: Criterion| {
        (each.key(), Some(design.criteria.figure(each)).filter(|figure| figure.is_finite()))
    };
    let shares = exploration.shares(shown);
    Listed {
        id: shown.id().to_string(),
        rank,
        score: shown.score,
        beyond: design.beyond(),
        undominated: shown.undominated,
        columns: structure.tiers.iter().map(|tier| tier.columns).collect(),
        heights: structure.tiers.iter().map(|tier| tier.height.to_mm()).collect(),
        family: words::family(structure.family).to_owned(),
        boards: structure.tiers.iter().map(|tier| name(tier.member)).collect(),
        deck: name(structure.deck),
        runs: words::runs(structure.runs).to_owned(),
        figures: Criterion::ALL.into_iter().map(figure).collect(),
        shares: Criterion::ALL.into_iter().map(Criterion::key).zip(shares).collect(),
        twins: shown.twins,
        left_out: design.left_out.iter().map(|left| left.count).sum(),
        words: words::structure(scenario, structure),
    }
}
