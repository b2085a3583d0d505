//! Words for everything that the vocabulary names.

pub mod decided;
pub mod fits;
mod lever;
mod names;
mod remark;
mod structure;

pub use decided::kept;
pub use lever::lever;
pub use names::{
    content, criterion, family, grain, hardware_use, is_gear, left_out, pocket, role, roles, runs,
    stop, turn,
};
pub use remark::{found, limit, remark, sense, verdict};
pub use structure::{placing, structure, tiers};
