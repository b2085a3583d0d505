//! The outcome of a cutting job.

use super::cutting::{Blank, CuttingPlan, Purchase};
use super::parts::{Grain, PartId};
use crate::scenario::CuttingJob;
use crate::units::{Area, Money};

/// How a job's parts come out of stock. `PartId(i)` is the job's `parts[i]`.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct JobPlan {
    /// Layouts on sheets and boards. Equal sheets and boards stand together, and all in a total order.
    pub cutting: CuttingPlan,
    /// The stock used, in the order of the job's stock.
    pub purchases: Vec<Purchase>,
    /// What becomes of the sheets used.
    pub sheets: Waste,
    /// What becomes of the boards used.
    pub boards: Waste,
    /// How often a fence or a stop is set: at each cut that takes another width or length off than the cut before it, be that
    /// on the sheet or board before. Equal sheets and boards are cut together, and the fence rips boards after the sheets.
    /// Trims of edges are not counted.
    pub setups: u32,
    /// What is worth something and is not cut.
    pub left_out: Vec<(PartId, u32)>,
    /// No choice of parts is worth more, in thousandths of a point; nothing where all have to be cut.
    pub worth_bound_milli: i64,
}

impl JobPlan {
    /// What must be bought costs.
    pub fn cost(&self) -> Money {
        self.purchases.iter().map(|bought| bought.cost).sum()
    }

    /// The worth of what is cut, in thousandths of a point.
    pub fn worth_milli(&self, job: &CuttingJob) -> i64 {
        let all =
            job.parts.iter().filter_map(|part| Some(part.worth_milli? * i64::from(part.count)));
        let left = self.left_out.iter().map(|(part, count)| {
            job.parts[part.0 as usize].worth_milli.unwrap_or(0) * i64::from(*count)
        });
        all.sum::<i64>() - left.sum::<i64>()
    }

    /// Different layouts.
    pub fn patterns(&self) -> usize {
        self.cutting.sheets.len() + self.cutting.boards.len()
    }
}

/// What becomes of the stock used, by its face. The stock is the exact sum of all the others.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Waste {
    /// All stock used.
    pub stock: Area,
    /// Becomes parts.
    pub parts: Area,
    /// Becomes dust.
    pub kerf: Area,
    /// Trimmed off the edges, the blade's share included.
    pub trim: Area,
    /// Offcuts worth keeping.
    pub kept: Area,
    /// The rest.
    pub scrap: Area,
}

impl Waste {
    /// What is neither part nor kept offcut, as a share of the stock; nothing of nothing.
    pub fn share(&self) -> f64 {
        if self.stock == Area::ZERO {
            return 0.0;
        }
        let lost = self.kerf + self.trim + self.scrap;
        lost.units() as f64 / self.stock.units() as f64
    }
}

impl Waste {
    /// So many times as much of everything.
    pub fn times(self, repeat: u32) -> Self {
        let times = |area: Area| area * i64::from(repeat);
        Self {
            stock: times(self.stock),
            parts: times(self.parts),
            kerf: times(self.kerf),
            trim: times(self.trim),
            kept: times(self.kept),
            scrap: times(self.scrap),
        }
    }
}

impl std::ops::Add for Waste {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            stock: self.stock + other.stock,
            parts: self.parts + other.parts,
            kerf: self.kerf + other.kerf,
            trim: self.trim + other.trim,
            kept: self.kept + other.kept,
            scrap: self.scrap + other.scrap,
        }
    }
}

/// A job's parts as the saw sees them, in their order.
pub fn blanks(job: &CuttingJob) -> Vec<Blank> {
    let blank = |part: &crate::scenario::JobPart| Blank {
        mark: part.name.clone(),
        material: part.material,
        length: part.length,
        width: part.width,
        quantity: part.count,
        grain: if part.turn { Grain::Either } else { Grain::Along },
        factory: part.factory,
    };
    job.parts.iter().map(blank).collect()
}
