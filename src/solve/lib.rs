//! The room `solve` as a crate of its own: it uses no other room, and is compiled optimised even where the rest, which
//! changes more often, is not.

#[path = "mod.rs"]
pub mod solve;
