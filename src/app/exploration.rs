//! Explore a scenario, verify what was found, and gather what the report needs.

use crate::design::{Design, DesignId};
use crate::explore::like::Kept;
use crate::explore::rank::Scale;
use crate::explore::{self, AimBound, Considered, Progress, RankedDesign, Settings};
use crate::input::Read;
use crate::report;
use crate::scenario::{Criterion, Scenario};
use crate::solve::budget::Stop;
use crate::verify::{Rejected, Verified, verify};

/// A scenario explored: the verified designs in their ranks and all that is known of the others.
#[derive(Debug)]
pub struct Exploration {
    /// What was given.
    pub read: Read,
    /// How the search was run.
    pub settings: Settings,
    /// Best first. Every one has passed the verifier.
    pub designs: Vec<Shown>,
    /// Designs that the verifier refused: each is a fault of the program.
    pub rejected: Vec<Rejected>,
    /// What became of the structures.
    pub considered: Considered,
    /// What ended the search early from outside, if anything did.
    pub stopped_by: Option<Stop>,
    /// What is known of the best of each criterion.
    pub aims: Vec<AimBound>,
    /// No design that the scenario allows scores more than this.
    pub score_bound: Option<f64>,
    /// The design that it started from, and what of it was kept.
    pub like: Option<(DesignId, Kept)>,
}

/// A verified design in its place.
#[derive(Debug)]
pub struct Shown {
    /// The design.
    pub design: Verified<Design>,
    /// 0 to 100.
    pub score: f64,
    /// What each criterion gave of the score, in the order of [`Criterion::ALL`].
    pub contributions: [f64; 8],
    /// Whether no other finished design is at least as good by every criterion and better by one.
    pub undominated: bool,
    /// How many more finished designs are of the same kind.
    pub twins: u32,
    /// No design with these tiers can stow more worth than this (thousandths of a point).
    pub value_bound: i64,
}

impl Shown {
    /// A ranked design that passes `check`.
    ///
    /// # Errors
    /// What `check` says against it.
    pub(super) fn checked(
        ranked: RankedDesign,
        check: impl FnOnce(Design) -> Result<Verified<Design>, Box<Rejected>>,
    ) -> Result<Self, Box<Rejected>> {
        let RankedDesign { design, score, contributions, undominated, twins, value_bound } = ranked;
        let design = check(design)?;
        Ok(Self { design, score, contributions, undominated, twins, value_bound })
    }
}

/// Explores, verifies and ranks. `progress` is called from several threads.
pub fn explore(
    read: Read,
    settings: Settings,
    progress: &(dyn Fn(Progress<'_>) + Sync),
) -> Exploration {
    let found = explore::explore(&read.scenario, &settings, progress);
    verified(read, settings, found)
}

/// Verifies what a search of the scenario has found.
pub(super) fn verified(read: Read, settings: Settings, found: explore::Explored) -> Exploration {
    let explore::Explored { ranked, considered, stopped_by, aims, score_bound } = found;
    let mut designs = Vec::new();
    let mut rejected = Vec::new();
    for ranked in ranked {
        match Shown::checked(ranked, |design| verify(&read.scenario, design)) {
            Ok(shown) => designs.push(shown),
            Err(refused) => rejected.push(*refused),
        }
    }
    let like = None;
    Exploration {
        read,
        settings,
        designs,
        rejected,
        considered,
        stopped_by,
        aims,
        score_bound,
        like,
    }
}

impl Exploration {
    /// The scenario that was explored.
    pub fn scenario(&self) -> &Scenario {
        &self.read.scenario
    }

    /// How good a design is by each criterion, 0 to 1, in the order of [`Criterion::ALL`]: what the weights are
    /// multiplied with.
    pub fn shares(&self, shown: &Shown) -> [f64; 8] {
        let scale = Scale::of(self.scenario());
        Criterion::ALL.map(|criterion| scale.share(&shown.design.criteria, criterion))
    }

    /// Lists the designs by one criterion, the best by it first; equals stay in the order of their points.
    pub fn sort_by(&mut self, criterion: Criterion) {
        self.designs.sort_by(|a, b| {
            let figure = |shown: &Shown| shown.design.criteria.figure(criterion);
            let (a, b) = (figure(a), figure(b));
            if criterion.more_is_better() { b.total_cmp(&a) } else { a.total_cmp(&b) }
        });
    }

    /// The designs whose id begins with `text`, best first.
    pub fn named<'a>(&'a self, text: &'a str) -> impl Iterator<Item = (usize, &'a Shown)> {
        self.designs
            .iter()
            .enumerate()
            .filter(move |(_, shown)| shown.id().to_string().starts_with(text))
    }

    /// The listed ids nearest to a text that is none of them, nearest first.
    pub fn near(&self, text: &str) -> Vec<String> {
        let wanted = text.to_lowercase();
        let mut ids: Vec<(usize, usize, String)> = self
            .designs
            .iter()
            .enumerate()
            .map(|(rank, shown)| {
                let id = shown.id().to_string();
                (strsim::damerau_levenshtein(&wanted, &id), rank, id)
            })
            .collect();
        ids.sort();
        ids.into_iter().take(3).map(|(_, _, id)| id).collect()
    }

    /// What the report is made from.
    pub fn findings(&self) -> report::Findings<'_> {
        report::Findings {
            scenario: self.scenario(),
            settings: report::Settings {
                program: env!("CARGO_PKG_VERSION").to_owned(),
                keep: self.settings.top,
                effort: self.settings.effort,
                seconds: self.settings.time.map(|time| time.as_secs_f64()),
            },
            defaults: self.read.defaults_used.iter().map(default_used).collect(),
            candidates: (1..)
                .zip(&self.designs)
                .map(|(rank, shown)| shown.candidate(rank))
                .collect(),
            considered: report::reasons::considered(self.scenario(), &self.considered),
            aims: self.aims.clone(),
            score_bound: self.score_bound,
            stopped_by: self.stopped_by,
            like: self.like.map(|(id, kept)| (id.to_string(), kept)),
            explanations: match self.designs.first() {
                // A search stopped before it met a reason has none to give.
                None if self.stopped_by.is_some() && self.considered.discarded.total() == 0 => {
                    Vec::new()
                }
                None => vec![report::reasons::why_none(self.scenario(), &self.considered)],
                Some(_) => Vec::new(),
            },
        }
    }
}

fn default_used(used: &crate::input::DefaultUsed) -> report::DefaultUsed {
    report::DefaultUsed {
        key: used.key.clone(),
        value: used.value_shown.clone(),
        remark: used.basis.to_owned(),
    }
}

impl Shown {
    /// As the report takes it, in its place from 1.
    pub fn candidate(&self, rank: usize) -> report::Candidate<'_> {
        let standing = report::Standing {
            score: self.score,
            contributions: Criterion::ALL.into_iter().zip(self.contributions).collect(),
            undominated: self.undominated,
            near_twins: self.twins as usize,
            value_bound_milli: Some(self.value_bound),
        };
        report::Candidate::new(&self.design, rank, standing)
    }

    /// The design's id.
    pub fn id(&self) -> DesignId {
        self.design.id
    }
}
