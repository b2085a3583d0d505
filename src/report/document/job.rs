//! The document of a cutting job.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::chosen::{Cutting, Purchase};
use super::cutting::Cuts;
use super::given::{Material, Shop, Stock};
use super::kinds::{Stop, UnitSystem};
use super::measure::{Mm, finite};
use super::{Default, echo};
use crate::design::{self, JobPlan};
use crate::report::job::{JobFindings, Standing};
use crate::report::naming::Names;
use crate::scenario::{CuttingJob, JobPart};
use crate::units::Length;

/// What `format` says in every cutting document.
pub const FORMAT: &str = "bedwright cutting";

/// The version of the document's shape: it grows when a reader of the last one would go wrong.
pub const VERSION: u32 = 1;

/// A cutting job and its plan.
///
/// Lengths are millimetres, areas square millimetres, and amounts are in the job's currency.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[schemars(title = "Cutting")]
pub struct JobDocument {
    /// Always `bedwright cutting`.
    pub format: String,
    /// The version of this shape.
    pub version: u32,
    /// What was given, every default filled in.
    pub job: Job,
    /// How the search was run.
    pub settings: Settings,
    /// What the job's file left out.
    pub defaults_used: Vec<Default>,
    /// What is known of the answer.
    pub outcome: Outcome,
    /// How every part comes out of stock; null without a plan.
    pub cutting: Option<Cutting>,
    /// The stock used, what is on hand first.
    pub purchase: Vec<Purchase>,
    /// What becomes of the stock used; null without a plan.
    pub waste: Option<WasteByForm>,
    /// How often a fence or a stop is set; null without a plan.
    pub setups: Option<u32>,
    /// Parts that are not cut: without a plan all of them.
    pub left_out: Vec<LeftOut>,
    /// The stock that is lacking, where there is no plan.
    pub lacking: Vec<Lacking>,
}

/// What was given.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Job {
    /// One line that names it.
    pub title: String,
    /// How its author writes lengths. All lengths here are millimetres whatever this says.
    pub units: UnitSystem,
    /// The currency of every amount.
    pub currency: String,
    /// What sheets and boards are made of; names are unique. A thickness of 0 was not said.
    pub materials: Vec<Material>,
    /// Sheets, boards and offcuts that can be had; names are unique.
    pub stock: Vec<Stock>,
    /// The saw and the bench.
    pub shop: Shop,
    /// What is to be cut. Names need not be unique.
    pub parts: Vec<Part>,
}

/// Equal parts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Part {
    /// What it is called; pieces bear it as their mark.
    pub name: String,
    /// What it is made of.
    pub material: String,
    /// Along the grain, or along the board.
    pub length: Mm,
    /// Across the grain.
    pub width: Mm,
    /// How many.
    pub count: u32,
    /// Whether it may be cut across the grain.
    pub turn: bool,
    /// Which of its edges must be factory edges of its sheet.
    pub factory: FactoryNeed,
    /// Points that one is worth; null if it has to be cut.
    pub worth: Option<f64>,
}

/// Edges that must be as the factory made them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct FactoryNeed {
    /// One that runs along the part's length.
    pub along: bool,
    /// One of its ends.
    pub across: bool,
}

/// How a search was run: with these and the job anyone gets the same plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Settings {
    /// The program's version.
    pub program: String,
    /// Steps of work that were allowed.
    pub work: u64,
    /// The wall-clock limit, seconds; null for none.
    pub seconds: Option<f64>,
}

/// What is known of the answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Outcome {
    /// What is proved.
    pub status: Status,
    /// What is sought: the least cost where all parts are cut, the most worth where some are left out.
    pub of: Of,
    /// What must be bought costs, or the points that what is cut is worth; null without a plan.
    pub objective: Option<f64>,
    /// No plan costs less, or none is worth more; null without a plan.
    pub bound: Option<f64>,
    /// What ended the search before it had proved its answer; null if it ran to its end.
    pub stopped_by: Option<Stop>,
}

/// What is sought.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Of {
    /// The least cost.
    Cost,
    /// The most worth.
    Worth,
}

/// What is proved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Status {
    /// No plan costs less.
    Optimal,
    /// A plan; one that costs less may exist.
    Feasible,
    /// The stock does not yield all parts.
    Infeasible,
    /// No plan was found, and none proved impossible.
    Unknown,
}

/// What becomes of the stock used.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WasteByForm {
    /// Sheets.
    pub sheets: Waste,
    /// Boards, by their faces.
    pub boards: Waste,
}

/// Areas in square millimetres. `stock` is the sum of the others.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Waste {
    /// All stock used.
    pub stock: f64,
    /// Becomes parts.
    pub parts: f64,
    /// Becomes dust.
    pub kerf: f64,
    /// Trimmed off the edges.
    pub trim: f64,
    /// Offcuts worth keeping.
    pub kept: f64,
    /// The rest.
    pub scrap: f64,
    /// What is neither part nor kept, as a share of the stock.
    pub share: f64,
}

/// Parts that are not cut.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct LeftOut {
    /// The part's name.
    pub name: String,
    /// How many.
    pub count: u32,
}

/// Stock of a material that is lacking.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Lacking {
    /// The material.
    pub material: String,
    /// With so many more of these a plan was found.
    pub more: Vec<More>,
    /// Whether it is proved that what there is does not do, nor fewer more.
    pub proved: bool,
}

/// So many more of something.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct More {
    /// Name of the stock.
    pub stock: String,
    /// How many.
    pub quantity: u32,
}

/// The document of one job.
pub fn job_document(findings: &JobFindings<'_>) -> JobDocument {
    let job = findings.job;
    let names = Names::of_stock(&job.stock);
    let marks = job.parts.iter().map(|part| part.name.as_str()).collect();
    let cuts = Cuts { stock: &job.stock, names: &names, marks };
    let plan: Option<&JobPlan> = findings.plan.map(|plan| plan.get());
    let purchases = plan.iter().flat_map(|plan| &plan.purchases);
    JobDocument {
        format: FORMAT.to_owned(),
        version: VERSION,
        job: given(job, &names),
        settings: Settings {
            program: findings.settings.program.clone(),
            work: findings.settings.work,
            seconds: findings.settings.seconds.and_then(finite),
        },
        defaults_used: findings.defaults.iter().map(Default::from).collect(),
        outcome: Outcome {
            status: match findings.standing() {
                Standing::Proved => Status::Optimal,
                Standing::Found => Status::Feasible,
                Standing::Impossible => Status::Infeasible,
                Standing::Unknown => Status::Unknown,
            },
            of: if findings.choosy() { Of::Worth } else { Of::Cost },
            objective: plan.map(|plan| match findings.choosy() {
                true => plan.worth_milli(job) as f64 / 1000.0,
                false => plan.cost().to_units(),
            }),
            bound: plan.map(|plan| match findings.choosy() {
                true => plan.worth_bound_milli as f64 / 1000.0,
                false => plan.cutting.bound.to_units(),
            }),
            stopped_by: findings.stopped_by.map(Into::into),
        },
        cutting: plan.map(|plan| cuts.cutting(&plan.cutting)),
        purchase: purchases.map(|bought| cuts.purchase(bought)).collect(),
        waste: plan
            .map(|plan| WasteByForm { sheets: plan.sheets.into(), boards: plan.boards.into() }),
        setups: plan.map(|plan| plan.setups),
        left_out: left_out(findings),
        lacking: lacking(findings, &names),
    }
}

fn given(job: &CuttingJob, names: &Names) -> Job {
    let part = |part: &JobPart| Part {
        name: part.name.clone(),
        material: job.stock.materials[part.material].name.clone(),
        length: part.length.into(),
        width: part.width.into(),
        count: part.count,
        turn: part.turn,
        factory: FactoryNeed { along: part.factory.along, across: part.factory.across },
        worth: part.worth_milli.map(|milli| milli as f64 / 1000.0),
    };
    let items = job.stock.items.iter();
    Job {
        title: job.title.clone(),
        units: job.units.into(),
        currency: job.currency.clone(),
        materials: job.stock.materials.values().map(echo::material).collect(),
        stock: items.map(|(id, item)| echo::stock(&job.stock, names, id, item)).collect(),
        shop: echo::shop(&job.shop),
        parts: job.parts.iter().map(part).collect(),
    }
}

fn left_out(findings: &JobFindings<'_>) -> Vec<LeftOut> {
    if let Some(plan) = findings.plan {
        let name = |part: design::PartId| findings.job.parts[part.0 as usize].name.clone();
        let left = plan.left_out.iter();
        return left.map(|&(part, count)| LeftOut { name: name(part), count }).collect();
    }
    let all = findings.job.parts.iter();
    all.map(|part| LeftOut { name: part.name.clone(), count: part.count }).collect()
}

fn lacking(findings: &JobFindings<'_>, names: &Names) -> Vec<Lacking> {
    let all = findings.lacking.iter();
    all.map(|lack| Lacking {
        material: names.material(lack.material).to_owned(),
        more: (lack.more.iter())
            .map(|&(id, quantity)| More { stock: names.stock(id).to_owned(), quantity })
            .collect(),
        proved: lack.proved,
    })
    .collect()
}

impl From<design::Waste> for Waste {
    fn from(waste: design::Waste) -> Self {
        let mm = Length::MM.by(Length::MM).units() as f64;
        let area = |area: crate::units::Area| area.units() as f64 / mm;
        Self {
            stock: area(waste.stock),
            parts: area(waste.parts),
            kerf: area(waste.kerf),
            trim: area(waste.trim),
            kept: area(waste.kept),
            scrap: area(waste.scrap),
            share: waste.share(),
        }
    }
}

/// The JSON Schema (draft 2020-12) of cutting documents.
pub fn job_schema() -> serde_json::Value {
    schemars::schema_for!(JobDocument).to_value()
}
