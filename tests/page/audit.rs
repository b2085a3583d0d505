//! axe-core over every sheet, light and dark: it is to find nothing.

use std::fs;

use libtest_mimic::Failed;
use serde_json::json;

use crate::browser::{Driver, Served};
use crate::looks::{SHEETS, fill};
use crate::{Test, ensure};

pub const TESTS: &[Test] = &[("axe-core finds nothing", axe)];

const RUN: &str = "
const done = arguments[0];
axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }).then(
  ({ violations }) => done(violations.map(({ id, help, nodes }) => `${id}: ${help}: ${nodes.slice(0, 3).map(({ html }) => html.slice(0, 160)).join(' | ')} (${nodes.length})`)),
  (error) => done([String(error)]),
);
";

fn axe(driver: &Driver) -> Result<(), Failed> {
    let file =
        std::env::var("BEDWRIGHT_AXE").map_err(|_| "BEDWRIGHT_AXE names no copy of axe.min.js")?;
    let source = fs::read_to_string(&file).map_err(|error| format!("{file}: {error}"))?;
    let served = Served::new(Some("trade-fullsize.toml"))?;
    driver.open(served.start(), async |page| {
        page.explored().await?;
        page.js(&source).await?;
        let mut found = Vec::new();
        for (width, dark) in [(1280, false), (1280, true), (360, false)] {
            page.screen(width, 900, dark).await?;
            for sheet in SHEETS {
                fill(&page, sheet).await?;
                let violations = page.client.execute_async(RUN, Vec::new()).await?;
                if violations != json!([]) {
                    found.push(format!("{sheet} at {width} px, dark {dark}: {violations:#}"));
                }
            }
        }
        ensure!(found.is_empty(), "{}", found.join("\n"));
        Ok(page)
    })
}
