//! Parts onto sheets and boards.

pub mod sheets;
