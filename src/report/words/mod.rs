//! Words for everything that the vocabulary names.

pub mod decided;
pub mod fits;
mod lever;
mod names;
mod remark;
mod spare;
mod structure;
mod verdict;

pub use decided::kept;
pub use lever::lever;
pub use names::{
    content, criterion, family, grain, hardware_use, is_gear, left_out, pocket, rear_door, role,
    roles, runs, stop, turn,
};
pub use remark::{found, limit, remark, sense};
pub use spare::left_over;
pub use structure::{placing, structure, tiers};
pub use verdict::{verdict, verdict_means, verdicts, verdicts_mean};
