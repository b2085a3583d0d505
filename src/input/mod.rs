//! Scenario file to [`crate::scenario::Scenario`], every fault with its place.
//!
//! ```text
//! bytes -> text -> spanned TOML tree -> outside tables -> inside types
//!  file     file       toml             reader, values    build, rules
//! ```
//!
//! No step stops at the first fault. `outside` describes the format once: the reader and the JSON Schema come from it.
//!
//! A scenario needs a bed and something to build from; the rest has defaults, all of them listed:
//!
//! ```
//! let read = bedwright::input::parse(
//!     "mine.toml",
//!     r#"
//!     units = "in"                        # how bare numbers are read
//!
//!     [bed]
//!     length = "6 ft 6 in"                # closed tailgate to front wall
//!     width = 66
//!     between_wells = "50 1/2 ± 1/8"      # measured twice, an eighth apart
//!     wells = { from_tailgate = 21, length = 36, height = 9 }
//!     depth = "21 1/2"
//!     tailgate = { rise = "1/2", length = 21 }
//!
//!     [[gear]]
//!     name = "Fence pliers and staples"
//!     size = [14, 9, "5 1/2"]             # length, width, height as it stands
//!     weight = "11 lb 4 oz"
//!     must = true
//!
//!     [[sheet]]
//!     name = "3/4 plywood 4x8"
//!     material = "3/4 plywood"
//!     size = [96, 48]                     # along the grain, across it
//!     thickness = "23/32"
//!     price = 52.00                       # invented
//!
//!     [[sheet]]
//!     name = "1/2 plywood 4x8"
//!     size = [96, 48]
//!     thickness = "15/32"
//!     price = 39.00
//!     "#,
//! )?;
//! assert_eq!(read.scenario.gear.len(), 1);
//! assert!(read.defaults_used.iter().any(|used| used.key == "shop.kerf"));
//!
//! // Every fault comes at once, with its place and what would do.
//! let faults = bedwright::input::parse("bad.toml", "[bed]\nlength = \"1/3 in\"\nwidht = 60\n");
//! let shown = faults.expect_err("three faults at least").to_string();
//! assert!(shown.contains("bad.toml:2:10: `1/3 in` is not a length"));
//! assert!(shown.contains("write 21/64 in or 43/128 in"));
//! assert!(shown.contains("did you mean `width`?"));
//! # Ok::<(), bedwright::input::Faults>(())
//! ```

mod build;
mod density;
pub mod edit;
mod fault;
mod file;
mod job;
pub mod measure;
mod outside;
mod paste;
mod reader;
mod rules;
mod schema;
mod starters;
mod template;
#[cfg(test)]
mod tests;
mod values;
mod words;

pub use build::DefaultUsed;
pub use fault::{Code, Fault, Faults, Look, Source, Span, render};
pub use file::{InputError, LARGEST_FILE, Read, parse, read, text_of as read_text};
pub use job::{ReadJob, job_schema, read_job};
pub use paste::{PasteFault, Pasted, paste_gear};
pub use schema::schema;
pub use starters::{STARTERS, Starter};
pub use template::{CLASSES, Class, template};
