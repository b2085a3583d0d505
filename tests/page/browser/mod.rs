//! A browser on a page of the program: who drives it, what is served to it, and what is done there.

mod devtools;
mod driver;
mod keys;
mod page;
mod pointer;
mod screen;
mod served;

use std::time::Duration;

use libtest_mimic::Failed;

pub use driver::{Driver, end, shared};
pub use page::Page;
pub use served::Served;

/// What a test gives.
pub type Outcome<T = ()> = Result<T, Failed>;

/// Nothing on the page takes longer.
pub const PATIENCE: Duration = Duration::from_secs(90);

/// A scenario that takes little time to explore.
pub const SMALL: &str = "tests/page/small.toml";

/// Tab, Enter and their like as WebDriver types them.
pub mod key {
    pub const TAB: &str = "\u{E004}";
    pub const ENTER: &str = "\u{E007}";
    pub const DOWN: &str = "\u{E015}";
    pub const RIGHT: &str = "\u{E014}";
    pub const UP: &str = "\u{E013}";
    /// Held for the next key, let go by `NULL`.
    pub const SHIFT: &str = "\u{E008}";
    /// Likewise.
    pub const CONTROL: &str = "\u{E009}";
    /// Likewise.
    pub const ALT: &str = "\u{E00A}";
    pub const NULL: &str = "\u{E000}";
}
