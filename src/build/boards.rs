//! Boards: to length, then to width, then on the diagonal.

use crate::design::work::{BoardCut, BoardWork, Diagonal, Rip};
use crate::design::{CuttingPlan, Part, PartId, Role};
use crate::scenario::{Form, Scenario, Section};
use crate::units::Length;

/// The cuts to length of every board: longest first, so that like stops follow each other and what is left is at the end.
pub fn boards(scenario: &Scenario, cutting: &CuttingPlan) -> Vec<BoardWork> {
    let mut stop = None;
    let mut all = Vec::with_capacity(cutting.boards.len());
    for layout in &cutting.boards {
        let length = match scenario.stock.items[layout.stock].form {
            Form::Board { length } => length,
            Form::Sheet { along, .. } => along,
        };
        let mut pieces: Vec<(Length, PartId)> =
            layout.pieces.iter().map(|piece| (piece.length, piece.part)).collect();
        pieces.sort_by_key(|(length, part)| (std::cmp::Reverse(*length), *part));
        let mut left = length;
        let mut setups = 0;
        let mut cuts = Vec::with_capacity(pieces.len());
        for (setting, part) in pieces {
            let sawn = left > setting;
            if sawn && stop != Some(setting) {
                setups += 1;
                stop = Some(setting);
            }
            left = (left - setting - cutting.kerf).or_zero();
            cuts.push(BoardCut { part, setting, sawn });
        }
        let keep = left.is_positive() && left >= scenario.shop.keep_offcut[0];
        all.push(BoardWork { cuts, rest: left, keep, setups });
    }
    all
}

/// Parts that are narrower than their boards, like settings together, widest first.
pub fn rips(scenario: &Scenario, parts: &[Part], kerf: Length, sets: u32) -> Vec<Rip> {
    let mut rips = Vec::new();
    for (index, part) in parts.iter().enumerate() {
        let Section::Board { width } = scenario.stock.materials[part.material].section else {
            continue;
        };
        if part.width < width && part.quantity > 0 {
            rips.push(Rip {
                part: id(index),
                pieces: part.quantity * sets,
                setting: part.width,
                rest: (width - part.width - kerf).or_zero(),
            });
        }
    }
    rips.sort_by_key(|rip| (std::cmp::Reverse(rip.setting), rip.part));
    rips
}

/// The square lengths that become corner blocks.
pub fn diagonals(parts: &[Part], sets: u32) -> Vec<Diagonal> {
    let blocks = parts.iter().enumerate().filter(|(_, part)| part.role == Role::CornerBlock);
    blocks.map(|(index, part)| Diagonal { part: id(index), pieces: part.quantity * sets }).collect()
}

fn id(index: usize) -> PartId {
    PartId(u32::try_from(index).expect("a chest has fewer than 2^32 kinds of part"))
}
