//! Answers held against independent programs: general solvers, a structural library, a drawing reader.
//!
//! Each oracle is a Python script beside this file that reads JSON on standard input and answers JSON on standard
//! output. Where Python or a package of `requirements.txt` is missing, a test says that it was skipped; with
//! `BEDWRIGHT_ORACLES=must` in the environment, as in `.ci/run`, that is a failure.

#[path = "../common/oracle.rs"]
mod oracle;

mod cutting;
mod dxf;
mod pdf;
mod plates;
mod stowing;
mod structures;

use oracle::ask;
