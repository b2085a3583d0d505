//! How it looks: at three widths, light and dark, at 200 %, printed. The pictures are written to be looked at.

use libtest_mimic::Failed;
use serde_json::Value;

use crate::browser::{Driver, Page, SMALL, Served};
use crate::{Test, ensure};

pub const TESTS: &[Test] = &[
    ("nothing is cut off from 360 to 1920 px, light and dark", widths),
    ("dialogs and answers are not cut off either", dialogs),
    ("everything to press is large enough", targets),
    ("it prints what is to be read", print),
];

/// Shows a sheet, filled; the last with the best design.
pub async fn fill(page: &Page, sheet: &str) -> Result<(), Failed> {
    if sheet == "build"
        && page.js("return document.querySelector('#build canvas') === null").await? == true
    {
        page.sheet("designs").await?;
        page.click("#designs .choose").await?;
    }
    page.js(&format!("location.hash = '{sheet}'")).await?;
    page.until(&format!("return !document.getElementById('{sheet}').hidden")).await?;
    if sheet == "build" {
        page.until("return document.querySelector('#build canvas') !== null && document.querySelectorAll('#build img').length > 2").await?;
    }
    Ok(())
}

pub const SHEETS: [&str; 5] = ["measure", "gear", "stock", "designs", "build"];

fn widths(driver: &Driver) -> Result<(), Failed> {
    let served = Served::new(Some(SMALL))?;
    driver.open(served.start(), async |page| {
        page.explored().await?;
        // 640 px is what is left of 1280 px at 200 %.
        for width in [360, 640, 1024, 1920] {
            for dark in [false, true].into_iter().filter(|dark| width != 640 || !dark) {
                page.screen(width, if width < 700 { 800 } else { 1000 }, dark).await?;
                for sheet in SHEETS {
                    fill(&page, sheet).await?;
                    let wide = page.js("return document.documentElement.scrollWidth").await?;
                    ensure!(
                        wide.as_u64() <= Some(u64::from(width)),
                        "{sheet} is {wide} px wide at {width} px"
                    );
                    if width != 640 {
                        page.shot(&format!(
                            "{sheet}-{width}-{}",
                            if dark { "dark" } else { "light" }
                        ))
                        .await?;
                    }
                }
            }
        }
        Ok(page)
    })
}

/// The designs' sheet with the first three ticked.
async fn three_ticked(page: &Page) -> Result<(), Failed> {
    page.explored().await?;
    fill(page, "designs").await?;
    for row in 1..=3 {
        page.click(&format!(".designs li:nth-child({row}) .tick")).await?;
    }
    Ok(())
}

/// The text, a list being pasted, designs side by side, an explanation: at the narrowest and the widest, light and dark.
fn dialogs(driver: &Driver) -> Result<(), Failed> {
    let served = Served::new(Some(SMALL))?;
    driver.open(served.start(), async |page| {
        three_ticked(&page).await?;
        page.press("What is gained and lost, and what would turn it?").await?;
        page.find("#beside .words").await?;
        fill(&page, "build").await?;
        page.press("What binds, what would let more in?").await?;
        page.find("#build .view .words").await?;
        for width in [360, 1024, 1920] {
            for dark in [false, true] {
                page.screen(width, if width < 700 { 800 } else { 1000 }, dark).await?;
                let name = |what: &str| format!("{what}-{width}-{}", if dark { "dark" } else { "light" });
                page.press("As text").await?;
                seen(&page, "dialog[open]", width, &name("text")).await?;
                page.press("Close").await?;
                fill(&page, "gear").await?;
                page.press("Paste a list…").await?;
                page.js("const area = document.querySelector('#paste-text'); area.value = 'name\\tlength\\twidth\\theight\\nBox\\t1\\t2\\t3\\nNone\\tlong\\t2\\t3'; area.dispatchEvent(new Event('input'))").await?;
                page.find("dialog[open] .fault").await?;
                seen(&page, "dialog[open]", width, &name("paste")).await?;
                page.press("Leave it").await?;
                fill(&page, "designs").await?;
                seen(&page, "#beside", width, &name("compare")).await?;
                fill(&page, "build").await?;
                seen(&page, "#build .view .words", width, &name("explain")).await?;
                seen(&page, "#build .drawers", width, &name("stowage")).await?;
            }
        }
        Ok(page)
    })
}

/// Scrolls to something, sees that neither it nor the page is wider than the window, and takes a picture.
async fn seen(page: &Page, what: &str, width: u32, name: &str) -> Result<(), Failed> {
    let wide = page.js(&format!("const one = document.querySelector({what:?}); one.scrollIntoView({{ block: 'start' }}); const {{ left, right }} = one.getBoundingClientRect(); return Math.max(document.documentElement.scrollWidth, Math.ceil(right), Math.ceil(right - left))")).await?;
    ensure!(wide.as_u64() <= Some(u64::from(width)), "{name} is {wide} px wide");
    page.shot(name).await
}

/// Every target is 24 px each way, or a word in running text, or has room of 24 px around it.
fn targets(driver: &Driver) -> Result<(), Failed> {
    let served = Served::new(Some(SMALL))?;
    driver.open(served.start(), async |page| {
        page.explored().await?;
        for width in [360, 1280] {
            page.screen(width, 900, false).await?;
            for sheet in SHEETS {
                fill(&page, sheet).await?;
                let small = page.js("return [...document.querySelectorAll('a, button, input, select, textarea, summary, [role=button], .grip')].filter((one) => !one.closest('.skip, .scatter') && one.checkVisibility()).map((one) => [one, (one.closest('label.tick') ?? one).getBoundingClientRect()]).filter(([, { width, height }]) => width > 0 && (width < 24 || height < 24)).map(([one, { width, height }]) => `${one.outerHTML.slice(0, 90)} ${width}x${height}`)").await?;
                ensure!(small == serde_json::json!([]), "too small on {sheet} at {width} px: {small}");
            }
        }
        Ok(page)
    })
}

fn print(driver: &Driver) -> Result<(), Failed> {
    let served = Served::new(Some(SMALL))?;
    driver.open(served.start(), async |page| {
        three_ticked(&page).await?;
        // Black on white whatever the screen is.
        page.screen(1280, 900, true).await?;
        for sheet in SHEETS {
            fill(&page, sheet).await?;
            let file = page.print(&format!("{sheet}-printed")).await?;
            let pages = String::from_utf8_lossy(&file).matches("/Type /Page\n").count();
            println!("{sheet} prints on {pages} pages");
            let most = if sheet == "build" { 12 } else { 4 };
            ensure!((1..=most).contains(&pages), "{sheet} prints on {pages} pages");
        }
        page.printed().await?;
        let shown = page.js("return [...document.querySelectorAll('button, .top, .no-print')].filter((one) => one.checkVisibility()).length").await?;
        ensure!(shown == 0, "{shown} things to press are printed");
        for what in ["#build table", "#build img", "#build canvas", ".block"] {
            let read = page.js(&format!("return document.querySelector({what:?}).checkVisibility()")).await?;
            ensure!(read == Value::Bool(true), "{what} is not printed");
        }
        page.js("location.hash = 'designs'").await?;
        page.until("return !document.getElementById('designs').hidden").await?;
        let dots = page.js("return [...document.querySelectorAll('.scatter .dot .shape')].every((dot) => dot.checkVisibility())").await?;
        ensure!(dots == Value::Bool(true), "designs are missing in the printed scatter");
        Ok(page)
    })
}
