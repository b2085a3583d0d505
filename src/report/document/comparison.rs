//! The comparison document.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{ExplanationOf, build, chosen, echo, given, kinds};
use crate::explore::flip::Turning;
use crate::report::comparison::{self, Comparison, Side};
use crate::report::naming::Names;
use crate::scenario::Criterion;

/// What `format` says in every comparison.
pub const FORMAT: &str = "bedwright comparison";

/// Choices side by side, each with its best design. Units are those of the result document.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[schemars(title = "Comparison")]
pub struct ComparisonDocument {
    /// Always `bedwright comparison`.
    pub format: String,
    /// The version of this shape.
    pub version: u32,
    /// What was given, every default filled in.
    pub scenario: given::Scenario,
    /// What was varied: `columns`, `tiers`, `board`, `sheet`, `runs`, or `designs` where designs were named.
    pub by: String,
    /// What is decided and so the same in every choice, in words: `tier A with 2 columns`.
    pub held: Vec<String>,
    /// The choices in their order.
    pub choices: Vec<Choice>,
    /// The place among `choices` of the one with most points, from 0; null if none has a design.
    pub winner: Option<usize>,
    /// Where another choice would win.
    pub flips: Vec<Flip>,
    /// What ended a search early; null if all ran to their end.
    pub stopped_by: Option<kinds::Stop>,
}

/// One choice.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Choice {
    /// What it is called.
    pub label: String,
    /// Its best design; null if it has none.
    pub design: Option<chosen::Design>,
    /// Each criterion's figure less the winner's.
    pub differences: BTreeMap<String, f64>,
    /// What it stows and the winner doesn't.
    pub stowed_more: Vec<String>,
    /// What the winner stows and it doesn't.
    pub stowed_less: Vec<String>,
    /// Why it has no design; null if it has one.
    pub why_none: Option<ExplanationOf>,
}

/// A weight or a price at which another choice becomes as good as the winner.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Flip {
    /// The place among `choices` of the one that would win.
    pub choice: usize,
    /// `weight` or `price`.
    pub turned: String,
    /// The criterion, or the material whose price it is.
    pub of: String,
    /// Where it stands: the weight, or 1 for today's price.
    pub now: f64,
    /// Where both are as good: the weight, or the multiple of today's price.
    pub at: f64,
    /// Whether exploring both choices there brought nothing that moves it.
    pub settled: bool,
    /// The whole of it as a sentence.
    pub sentence: String,
}

/// The document of one comparison.
pub fn document(found: &Comparison<'_>) -> ComparisonDocument {
    let names = Names::of(found.scenario);
    ComparisonDocument {
        format: FORMAT.to_owned(),
        version: super::VERSION,
        scenario: echo::scenario(found.scenario, &names),
        by: comparison::varied(found.by).to_owned(),
        held: comparison::held(found),
        choices: found.sides.iter().map(|side| choice(found, &names, side)).collect(),
        winner: found.winner,
        flips: found.flips.iter().map(|each| flip(found, each)).collect(),
        stopped_by: found.stopped_by.map(Into::into),
    }
}

fn choice(found: &Comparison<'_>, names: &Names, side: &Side<'_>) -> Choice {
    let winner = found.winner.and_then(|at| found.sides[at].best.as_ref());
    let both = winner.zip(side.best.as_ref());
    let told = both.map(|(winner, own)| comparison::differences(found.scenario, winner, own));
    let told = told.unwrap_or_default();
    let difference = |each: Criterion| {
        let (winner, own) = both?;
        let figure = own.design.criteria.figure(each) - winner.design.criteria.figure(each);
        Some((each.key().to_owned(), super::measure::finite(figure)?))
    };
    let design = |best| build::design(found.scenario, names, best, found.stopped_by);
    Choice {
        label: side.label.clone(),
        design: side.best.as_ref().map(design),
        differences: Criterion::ALL.into_iter().filter_map(difference).collect(),
        stowed_more: told.stowed_more,
        stowed_less: told.stowed_less,
        why_none: side.why_none.as_ref().map(ExplanationOf::from),
    }
}

fn flip(found: &Comparison<'_>, each: &crate::explore::flip::Flip) -> Flip {
    let (turned, of) = match each.turning {
        Turning::Weight(criterion) => ("weight", criterion.key().to_owned()),
        Turning::Price(stock) => ("price", found.scenario.stock.materials[stock].name.clone()),
    };
    Flip {
        choice: each.challenger,
        turned: turned.to_owned(),
        of,
        now: each.now,
        at: each.at,
        settled: each.settled,
        sentence: comparison::flip(found, each),
    }
}

/// The JSON Schema (draft 2020-12) of comparisons.
pub fn schema() -> serde_json::Value {
    schemars::schema_for!(ComparisonDocument).to_value()
}
