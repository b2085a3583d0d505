//! The parts that all beds share, and those that differ.

use std::collections::BTreeMap;

use super::Family;
use crate::design::{Grain, Part, Role};
use crate::scenario::{Material, Section};
use crate::units::Length;

/// A kind of part as it comes off the saw, whatever its mark and whatever its stock is called: role, the board's width if it
/// is of one, length, width, thickness, grain.
type Cut = (Role, Option<Length>, [Length; 3], Grain);

/// A kind of part with how many of it each bed has.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shared {
    /// What it is.
    pub role: Role,
    /// What it is made of, as the first bed that has it calls it.
    pub material: String,
    /// Length, width, thickness.
    pub size: [Length; 3],
    /// In the order of [`Family::built`]: how many, and their marks there.
    pub beds: Vec<(u32, Vec<String>)>,
}

/// The parts that some bed has, those that every bed has first, each list in the order of the first bed that has it.
pub fn parts(family: &Family<'_>) -> (Vec<Shared>, Vec<Shared>) {
    let built = family.built();
    let mut found: BTreeMap<Cut, (usize, Shared)> = BTreeMap::new();
    for (column, bed) in built.iter().enumerate() {
        for part in bed.design.parts.iter().filter(|part| part.quantity > 0) {
            let next = found.len();
            let material = &bed.scenario.stock.materials[part.material];
            let (_, shared) = found.entry(cut(part, material)).or_insert_with(|| {
                let (role, material) = (part.role, material.name.clone());
                let size = [part.length, part.width, part.thickness];
                let beds = vec![(0, Vec::new()); built.len()];
                (next, Shared { role, material, size, beds })
            });
            shared.beds[column].0 += part.quantity;
            shared.beds[column].1.push(part.mark.clone());
        }
    }
    let mut all: Vec<(usize, Shared)> = found.into_values().collect();
    all.sort_by_key(|(order, shared)| (shared.role, *order));
    let (shared, own) =
        all.into_iter().map(|(_, one)| one).partition(|one| one.beds.iter().all(|bed| bed.0 > 0));
    (shared, own)
}

fn cut(part: &Part, material: &Material) -> Cut {
    let board = match material.section {
        Section::Board { width } => Some(width),
        Section::Sheet => None,
    };
    (part.role, board, [part.length, part.width, part.thickness], part.grain)
}
