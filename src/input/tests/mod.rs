//! The whole room: from text to scenario or faults.

mod demos;

use super::{Fault, Read, parse};

/// Reads what must be without fault.
#[allow(dead_code)]
fn good(text: &str) -> Read {
    parse("test.toml", text).unwrap_or_else(|faults| panic!("{faults}"))
}

/// The faults of what must have some.
#[allow(dead_code)]
fn faults(text: &str) -> Vec<Fault> {
    parse("test.toml", text).expect_err("must be at fault").list
}
