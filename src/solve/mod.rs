//! Combinatorial engines on plain integers: cutting stock in one dimension, guillotine layouts in
//! two, knapsacks and linear programs.
//!
//! Nothing here has heard of a vehicle or a drawer: sizes, prices and values are `i64`, and the
//! rooms above translate both ways. Every search takes a [`budget::Budget`] counted in work, so
//! that its answer is the same on any machine and thread count, and says in an
//! [`outcome::Outcome`] what it has proved.

pub mod boards;
pub mod budget;
pub mod crew;
pub mod lanes;
pub mod layouts;
pub mod lp;
pub mod outcome;
mod saw;
pub mod sheets;
pub mod stages;
