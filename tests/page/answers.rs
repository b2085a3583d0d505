//! What the page says when asked: why a design is as it is, what two and three differ in, what cannot be and what would do; and
//! what is left when the program has ended: files.

use std::fs;

use libtest_mimic::Failed;
use serde_json::{Value, json};

use crate::audit::finds_nothing;
use crate::browser::{Driver, Page, SMALL, Served, key};
use crate::{Test, ensure};

pub const TESTS: &[Test] = &[
    ("a design is explained, compared, written out and shared", understood),
    ("a thing is dragged into another drawer, refused, and freed again", settled),
];

/// Whether every row of the comparison is marked where its texts differ, and nowhere else, and the lowest cost has the star.
const MARKS: &str = "
const own = (cell) => cell.firstChild.textContent;
const rows = [...document.querySelectorAll('.compare tbody tr')].filter((row) => !row.querySelector('img'));
const wrong = rows.filter((row) => {
  const cells = [...row.querySelectorAll('td')];
  const differ = new Set(cells.map(own)).size > 1;
  return cells.some((cell) => cell.classList.contains('differs') !== differ || cell.textContent.includes('(differs)') !== differ);
}).map((row) => row.textContent);
const cost = rows.find((row) => row.querySelector('th').textContent === 'Cost');
const cells = [...cost.querySelectorAll('td')];
const least = Math.min(...cells.map((cell) => parseFloat(own(cell))));
return [wrong, rows.length, cells.every((cell) => cell.classList.contains('best') === (parseFloat(own(cell)) === least && new Set(cells.map(own)).size > 1))];
";

fn understood(driver: &Driver) -> Result<(), Failed> {
    let mut served = Served::new(Some(SMALL))?;
    driver.open(served.start(), async |page| {
        a_thing_that_fits_nowhere(&page).await?;
        page.sheet("designs").await?;
        page.explored().await?;
        left_out_of(&page, "first", "1").await?;
        page.click("#designs li:nth-child(2) .choose").await?;
        page.find("#build .drawer[aria-label='Left out']").await?;
        page.sheet("designs").await?;
        left_out_of(&page, "chosen", "2").await?;
        page.shot("left-out").await?;
        page.click("#designs .choose").await?;
        page.until("return document.querySelector('#build .view').textContent.includes(document.querySelector('#designs .designs li').dataset.key)").await?;
        explained(&page).await?;
        page.sheet("designs").await?;
        let shared = compared(&page, &served).await?;
        page.sheet("build").await?;
        written(&page, &served).await?;
        served.kill()?;
        opened_from_disk(&page, &shared).await?;
        Ok(page)
    })
}

/// A wardrobe, with a size that is typed into one cell.
async fn a_thing_that_fits_nowhere(page: &Page) -> Result<(), Failed> {
    page.sheet("gear").await?;
    page.press("Add a thing").await?;
    page.until("return document.activeElement.value?.startsWith('Thing')").await?;
    page.type_keys(&format!("Wardrobe{}", key::TAB)).await?;
    page.fill("[data-list=gear] tbody tr:last-child td[data-name='Length'] input", "50 x 40 x 16")
        .await?;
    page.until("return document.querySelector('[data-list=gear] tbody tr:last-child td[data-name=Height] input').value === '16'").await
}

/// Beside the list stands what the first design, or the one chosen, leaves out and why: in place `row` of the list.
async fn left_out_of(page: &Page, which: &str, row: &str) -> Result<(), Failed> {
    page.until(&format!("return [...document.querySelectorAll('#designs details')].some((one) => one.firstChild.textContent === 'What the {which} design leaves out, and why' && one.textContent.includes(`Design ${{document.querySelector('#designs .designs li:nth-child({row})').dataset.key}} leaves out Wardrobe: `))")).await
}

/// Why it ranks so, and what was left out and what binds.
async fn explained(page: &Page) -> Result<(), Failed> {
    page.find("#build .drawer[aria-label='Left out']").await?;
    let left = page.js("return [document.querySelector('#build .drawer[aria-label=\"Left out\"]').textContent, document.querySelector('#build .why-list').textContent]").await?;
    for words in left.as_array().into_iter().flatten().filter_map(Value::as_str) {
        ensure!(words.contains("Wardrobe"), "what is left out is not named: {words}");
    }
    // What each aim gave comes to the points that the design has.
    let sum = page.js("const rows = [...document.querySelectorAll('#build .slim tbody tr')]; return [rows.length, rows.reduce((sum, row) => sum + Number(row.lastChild.textContent), 0), parseFloat(document.querySelector('#build .view').textContent.match(/([0-9.]+) points/)[1])]").await?;
    let number = |at: usize| sum[at].as_f64().unwrap_or_default();
    ensure!(
        number(0) == 8.0 && (number(1) - number(2)).abs() < 0.5,
        "the aims do not add up: {sum}"
    );
    page.press("What binds, what would let more in?").await?;
    page.until(
        "return /What binds it/.test(document.querySelector('#build .view .words')?.textContent)",
    )
    .await?;
    let answer =
        page.js("return document.querySelector('#build .view .words').textContent").await?;
    let answer = answer.as_str().unwrap_or_default();
    for part in ["Room left", "width of drawer", "Wardrobe"] {
        ensure!(answer.contains(part), "nothing of {part}:\n{answer}");
    }
    Ok(())
}

/// Two, then three designs side by side, with the answer to what would turn the verdict; gives the page to share.
async fn compared(page: &Page, served: &Served) -> Result<std::path::PathBuf, Failed> {
    for (row, many) in [(1, 1), (2, 2), (3, 3)] {
        page.click(&format!(".designs li:nth-child({row}) .tick")).await?;
        if many < 2 {
            continue;
        }
        page.until(&format!(
            "return document.querySelectorAll('.compare thead .id').length === {many}"
        ))
        .await?;
        let marks = page.js(MARKS).await?;
        ensure!(marks[0] == json!([]) && marks[2] == true, "marked wrongly: {marks}");
        ensure!(marks[1].as_u64() > Some(12), "few rows: {marks}");
        page.press("What is gained and lost, and what would turn it?").await?;
        page.until(&format!("const text = document.querySelector('#beside .words')?.textContent ?? ''; return [...document.querySelectorAll('.compare thead .id')].slice(0, {many}).every(({{ textContent }}) => text.includes(textContent))")).await?;
    }
    let full = page
        .js("return document.querySelector('.designs li:nth-child(4) .tick input').disabled")
        .await?;
    ensure!(full == true, "a fourth can be ticked");
    page.press("This comparison as one page (HTML)").await?;
    served.saved(".html").await
}

/// The set in the output folder; what was changed there by hand is not written over unless asked.
async fn written(page: &Page, served: &Served) -> Result<(), Failed> {
    let folder = served.folder.path().join("set");
    let write = format!("Write the set to {}", folder.display());
    let says = |words: &str| {
        format!(
            "return document.querySelector('#build .view p[role=status]').textContent.includes({words:?})"
        )
    };
    page.press(&write).await?;
    page.until(&says("files written to")).await?;
    ensure!(fs::read(folder.join("booklet.pdf"))?.starts_with(b"%PDF-"), "no booklet");
    let parts = fs::read_to_string(folder.join("parts.csv"))?;
    fs::write(folder.join("parts.csv"), "mine")?;
    page.press(&write).await?;
    page.until(&says("Write over it")).await?;
    ensure!(fs::read_to_string(folder.join("parts.csv"))? == "mine", "it was written over");
    page.press("Write over it").await?;
    page.until(&says("files written to")).await?;
    ensure!(fs::read_to_string(folder.join("parts.csv"))? == parts, "it was not written over");
    Ok(())
}

/// The shared file with no program behind it: everything is in it, and it asks for nothing.
async fn opened_from_disk(page: &Page, file: &std::path::Path) -> Result<(), Failed> {
    page.client.goto(&format!("file://{}", file.display())).await?;
    let seen = page.js("return [document.querySelectorAll('section > h2').length, document.querySelectorAll('figure svg').length, document.querySelectorAll('td.differs').length, performance.getEntriesByType('resource').length, document.scripts.length, document.querySelectorAll('a[href], img, link, iframe').length, document.body.textContent.includes('≠')]").await?;
    let number = |at: usize| seen[at].as_u64().unwrap_or_default();
    ensure!(
        number(0) == 3 && number(1) > 12 && number(2) > 3 && seen[6] == true,
        "it lacks something: {seen}"
    );
    ensure!((3..6).all(|at| number(at) == 0), "it asks for something: {seen}");
    for (width, dark) in [(360, false), (360, true), (1280, false), (1280, true)] {
        page.screen(width, 900, dark).await?;
        let seen = page.js("const { color, backgroundColor } = getComputedStyle(document.body); const bright = (colour) => colour.match(/[0-9]+/g).slice(0, 3).reduce((sum, one) => sum + Number(one), 0); return [document.documentElement.scrollWidth, bright(backgroundColor) > bright(color), getComputedStyle(document.querySelector('figure svg')).backgroundColor]").await?;
        ensure!(seen[0].as_u64() <= Some(u64::from(width)), "{} px wide at {width} px", seen[0]);
        ensure!(seen[1] == !dark && seen[2] == "rgb(255, 255, 255)", "dark {dark}: {seen}");
        page.shot(&format!("shared-{width}-{}", if dark { "dark" } else { "light" })).await?;
    }
    let printed = page.print("shared-printed").await?;
    ensure!(printed.starts_with(b"%PDF-") && printed.len() > 20_000, "it does not print");
    // Of many alike one is audited.
    page.js("for (const more of document.querySelectorAll('section ~ section, figure ~ figure')) more.remove()").await?;
    finds_nothing(page, "shared").await
}

/// Where in the window the middle of something is.
async fn middle(page: &Page, script: &str) -> Result<(i64, i64), Failed> {
    let at = page.js(&format!("const {{ x, y, width, height }} = ({script}).getBoundingClientRect(); return [Math.round(x + width / 2), Math.round(y + height / 2)]")).await?;
    let way = |way: usize| at[way].as_i64().unwrap_or_default();
    Ok((way(0), way(1)))
}

/// A thing by its name, and a drawer's head by its name.
const HEAD: &str = "const grip = (name) => [...document.querySelectorAll('#build .grip')].find(({ textContent }) => textContent.startsWith(name)); const head = (name) => document.querySelector(`#build .drawer[data-drawer=${name}] h4`); ";

async fn drop_into(page: &Page, thing: &str, drawer: &str) -> Result<(), Failed> {
    page.js(&format!("{HEAD} head('{drawer}').scrollIntoView({{ block: 'center' }})")).await?;
    let from = middle(page, &format!("(() => {{ {HEAD} return grip('{thing}'); }})()")).await?;
    let to = middle(page, &format!("(() => {{ {HEAD} return head('{drawer}'); }})()")).await?;
    page.drag(from, to).await
}

const TEXT: &str =
    "return fetch('/api/document').then((answer) => answer.json()).then(({ text }) => text)";

/// So little is to be explored: two tiers of two drawers, with a low B1.
const FEWER: &[(&str, &str)] = &[
    ("tiers = [1, 2]", "tiers = 2"),
    ("columns = [1, 2]", "columns = 2"),
    ("members = [\"3/4 plywood\", \"2x8\"]", "members = \"3/4 plywood\""),
];

fn settled(driver: &Driver) -> Result<(), Failed> {
    let served = Served::altered(Some(SMALL), FEWER)?;
    driver.open(served.start(), async |page| {
        page.sheet("designs").await?;
        page.explored().await?;
        let before = page.js(TEXT).await?;
        page.click("#designs .choose").await?;
        page.find("#build .drawer[data-drawer=B1]").await?;
        drop_into(&page, "Tool bag", "A2").await?;
        page.find(".settled li").await?;
        let pinned = page.js(TEXT).await?;
        ensure!(pinned.as_str().is_some_and(|text| text.contains("in = \"A2\"")), "the scenario does not say so");
        // The explorer completes the rest around it.
        page.explored().await?;
        page.find("#build .drawer[data-drawer=A2] .thing.pinned").await?;
        // The keyboard's equal: the list beside the thing. Up goes to the drawer before.
        page.js("document.querySelector(\"#build .thing.pinned select\").focus()").await?;
        page.type_keys(key::UP).await?;
        page.until("return /in A1/.test(document.querySelector('.settled li')?.textContent)").await?;
        page.press("Free it").await?;
        page.until("return document.querySelector('.settled li') === null").await?;
        ensure!(page.js(TEXT).await? == before, "freeing it leaves something behind");
        // A low drawer that is kept low cannot take the bag: the page says so by itself, and what would do.
        page.explored().await?;
        page.click("#build .drawer[data-drawer=B1] > button").await?;
        page.until("return /drawer B1/.test(document.querySelector('.settled li')?.textContent)").await?;
        page.explored().await?;
        drop_into(&page, "Tool bag", "B1").await?;
        page.until("return /Tool bag wherever it fits/.test(document.querySelector('#build .mending .words')?.textContent)").await?;
        let said = page.js("return document.querySelector('#build').textContent").await?;
        for part in ["No design satisfies the job as it is settled now", "Tool bag must stand in B1", "Tool bag left at home"] {
            ensure!(said.as_str().is_some_and(|said| said.contains(part)), "it does not say {part}");
        }
        // What was put there is named first.
        let first = page.js("return document.querySelector('#build .mending .words strong').nextElementSibling.textContent").await?;
        ensure!(first.as_str().is_some_and(|first| first.trim().starts_with("Tool bag must stand in B1")), "it begins with {first}");
        page.shot("refused").await?;
        // What it said would do does.
        page.click(".settled button[aria-label^='Free it: drawer B1']").await?;
        page.explored().await?;
        page.until("return document.querySelector('#build .mending').hidden && document.querySelector('#build .drawer[data-drawer=B1] .thing.pinned') !== null").await?;
        Ok(page)
    })
}
