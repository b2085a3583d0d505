//! axe-core over every sheet and every state of it, light and dark: it is to find nothing.

use std::fs;

use libtest_mimic::Failed;
use serde_json::{Value, json};

use crate::browser::{Driver, Page, SMALL, Served};
use crate::looks::{SHEETS, fill};
use crate::{Test, ensure};

pub const TESTS: &[Test] = &[("axe-core finds nothing", axe)];

/// Every rule of the standard and of good practice; `what` narrows them.
const RUN: &str = "
const [what, done] = arguments;
axe.run(document, { runOnly: what }).then(
  ({ violations }) => done(violations.map(({ id, help, nodes }) => `${id}: ${help}: ${nodes.slice(0, 3).map(({ html }) => html.slice(0, 160)).join(' | ')} (${nodes.length})`)),
  (error) => done([String(error)]),
);
";

/// What has been found, each with where.
struct Audit {
    page: Page,
    found: Vec<String>,
}

impl Audit {
    /// Everything in the light, and in the dark what may differ there: contrast.
    async fn look(&mut self, state: &str) -> Result<(), Failed> {
        let all = json!(["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]);
        self.run(state, all).await?;
        self.page.media(&[("prefers-color-scheme", "dark")]).await?;
        let contrast = json!({ "type": "rule", "values": ["color-contrast"] });
        self.run(&format!("{state}, dark"), contrast).await?;
        self.page.media(&[("prefers-color-scheme", "light")]).await
    }

    async fn run(&mut self, state: &str, what: Value) -> Result<(), Failed> {
        let violations = self.page.client.execute_async(RUN, vec![what]).await?;
        if violations != json!([]) {
            self.found.push(format!("{state}: {violations:#}"));
        }
        Ok(())
    }
}

/// The same of a page that is no sheet. Where there is no axe-core its own test says so.
pub async fn finds_nothing(page: &Page, state: &str) -> Result<(), Failed> {
    let Ok(file) = std::env::var("BEDWRIGHT_AXE") else { return Ok(()) };
    page.js(&fs::read_to_string(&file).map_err(|error| format!("{file}: {error}"))?).await?;
    let mut audit = Audit { page: page.clone(), found: Vec::new() };
    audit.look(state).await?;
    ensure!(audit.found.is_empty(), "{}", audit.found.join("\n"));
    Ok(())
}

fn axe(driver: &Driver) -> Result<(), Failed> {
    let file =
        std::env::var("BEDWRIGHT_AXE").map_err(|_| "BEDWRIGHT_AXE names no copy of axe.min.js")?;
    let source = fs::read_to_string(&file).map_err(|error| format!("{file}: {error}"))?;
    let served = Served::new(Some(SMALL))?;
    driver.open(served.start(), async |page| {
        page.explored().await?;
        page.js(&source).await?;
        let mut audit = Audit { page: page.clone(), found: Vec::new() };
        for sheet in SHEETS {
            fill(&page, sheet).await?;
            audit.look(sheet).await?;
        }
        page.screen(360, 900, false).await?;
        for sheet in SHEETS {
            fill(&page, sheet).await?;
            audit.look(&format!("{sheet}, 360 px")).await?;
        }
        page.screen(1280, 900, false).await?;
        compared(&page).await?;
        audit.look("three side by side").await?;
        page.press("As text").await?;
        audit.look("the text").await?;
        page.press("Close").await?;
        pasted(&page).await?;
        audit.look("a list being pasted").await?;
        page.press("Leave it").await?;
        refused(&page).await?;
        audit.look("what cannot be").await?;
        faulty(&page).await?;
        audit.look("faults").await?;
        let Audit { found, .. } = audit;
        ensure!(found.is_empty(), "{}", found.join("\n"));
        Ok(page)
    })
}

async fn compared(page: &Page) -> Result<(), Failed> {
    fill(page, "designs").await?;
    for row in 1..=3 {
        page.click(&format!(".designs li:nth-child({row}) .tick")).await?;
    }
    page.find(".compare th:nth-child(4)").await?;
    page.press("What is gained and lost, and what would turn it?").await?;
    page.find("#beside .words").await.map(drop)
}

async fn pasted(page: &Page) -> Result<(), Failed> {
    fill(page, "gear").await?;
    page.press("Paste a list…").await?;
    page.js("const area = document.querySelector('#paste-text'); area.value = 'name\\tlength\\twidth\\theight\\nBox\\t1\\t2\\t3\\nNone\\tlong\\t2\\t3'; area.dispatchEvent(new Event('input'))").await?;
    page.find("dialog[open] .fault").await.map(drop)
}

/// A thing is pinned where it cannot be: what would do is said.
async fn refused(page: &Page) -> Result<(), Failed> {
    fill(page, "build").await?;
    page.js("return import('/static/store.js').then(({ edit }) => edit([{ at: ['gear', 3, 'in'], set: 'A1' }, { at: ['drawer'], insert: { name: 'A1', height: 4 } }])).then(() => true)").await?;
    // What would do is looked for meanwhile; an answer has been audited already.
    page.find("#build .mending:not([hidden])").await.map(drop)
}

async fn faulty(page: &Page) -> Result<(), Failed> {
    fill(page, "measure").await?;
    page.fill("[data-path='bed.width'] input", "1/3 in").await?;
    page.find("[data-path='bed.width'] .fault").await?;
    fill(page, "gear").await?;
    page.fill("[data-list=gear] tbody tr:first-child td[data-name='Weight'] input", "heavy")
        .await?;
    page.find("[data-list=gear] tr.bad .fault").await.map(drop)
}
