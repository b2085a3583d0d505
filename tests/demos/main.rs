//! The demo scenarios, explored once each and looked at from all sides: every design verified and made, every drawing
//! measured, every cut of the best design's set replayed, its shapes opened by an independent reader.

#[expect(dead_code, reason = "other tests use the rest of it")]
#[path = "../common/mod.rs"]
mod common;
mod drawn;
mod opened;
#[path = "../common/oracle.rs"]
mod oracle;
mod shop;
mod verified;

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use bedwright::app::{self, Exploration, Settings};
use bedwright::design::Design;
use bedwright::scenario::Scenario;
use bedwright::verify::Verified;

/// A demo's file.
fn file(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios").join(name).with_extension("toml")
}

/// A demo and all that was found for it. One search serves every test, as it takes far longer than they do.
struct Demo {
    name: &'static str,
    explored: OnceLock<Exploration>,
}

impl Demo {
    const fn new(name: &'static str) -> Self {
        Self { name, explored: OnceLock::new() }
    }

    fn explored(&self) -> &Exploration {
        self.explored.get_or_init(|| {
            let text = fs::read_to_string(file(self.name)).expect("a demo");
            let parsed = app::parse(self.name, &text).unwrap_or_else(|faults| panic!("{faults}"));
            app::explore(app::widened(parsed), Settings::default(), &|_| {})
        })
    }

    fn scenario(&self) -> &Scenario {
        self.explored().scenario()
    }

    fn best(&self) -> &Verified<Design> {
        &self.explored().designs.first().expect("a demo has a design").design
    }
}

static TRADE: Demo = Demo::new("trade-fullsize");
static CAMPING: Demo = Demo::new("camping-midsize");
static VAN: Demo = Demo::new("van-birch");
