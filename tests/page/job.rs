//! The whole job, from an empty start to papers on disk: by mouse, and by keyboard alone.

use std::fs;

use libtest_mimic::Failed;
use serde_json::Value;

use crate::browser::{Driver, SMALL, Served, key};
use crate::{Test, ensure};

pub const TESTS: &[Test] = &[
    ("the whole job by mouse from an empty start", by_mouse),
    ("the whole job by keyboard alone", by_keyboard),
    ("rows are doubled and removed; undo and redo by buttons and by keys", undo_and_redo),
    ("a handle's cut-out and screws are typed as one writes them", hardware),
    ("the scenario's text is opened, edited and saved", as_text),
    ("designs are chosen from list and scatter, filtered and compared", explore),
    ("drawers pull out and the drawing turns by keys", cutaway),
];

fn is_pdf(path: &std::path::Path) -> Result<bool, Failed> {
    Ok(fs::read(path)?.starts_with(b"%PDF-"))
}

fn by_mouse(driver: &Driver) -> Result<(), Failed> {
    let served = Served::new(None)?;
    driver.open(served.start(), async |page| {
        page.fill("[data-path='title'] input", "A bed from nothing").await?;
        page.fill("[data-path='bed.length'] input", "6 ft 3 in").await?;
        page.until("return document.title.includes('A bed from nothing')").await?;
        // The drawing marks what has the focus.
        page.click("[data-path='bed.width'] input").await?;
        page.find(".dim-marked[data-path='bed.width']").await?;
        page.sheet("gear").await?;
        page.find("#starter option:nth-child(2)").await?;
        page.find("#starter").await?.select_by_index(1).await?;
        let before = page.js("return document.querySelectorAll('[data-list=gear] tbody tr').length").await?;
        page.press("Add the list").await?;
        page.until(&format!("return document.querySelectorAll('[data-list=gear] tbody tr').length > {before}")).await?;
        page.press("Add a thing").await?;
        page.until("return document.activeElement.value?.startsWith('Thing')").await?;
        page.type_keys("Spare wheel").await?;
        page.sheet("stock").await?;
        page.fill("[data-list='sheet'] tbody tr:first-child td[data-name='Price'] input", "61.50").await?;
        page.sheet("designs").await?;
        page.explored().await?;
        page.click("#designs .choose").await?;
        page.find("#build:not([hidden]) canvas").await?;
        let text = page.js("return fetch('/api/document').then((answer) => answer.json()).then(({ text }) => text)").await?;
        let text = text.as_str().unwrap_or_default().to_owned();
        for part in ["A bed from nothing", "6 ft 3 in", "Spare wheel", "61.50"] {
            ensure!(text.contains(part), "the scenario lacks {part}:\n{text}");
        }
        page.press("Booklet, Letter").await?;
        ensure!(is_pdf(&served.saved(".pdf").await?)?, "the booklet is no PDF");
        page.press("The whole set (zip)").await?;
        ensure!(fs::read(served.saved(".zip").await?)?.starts_with(b"PK"), "the set is no zip");
        // Nobody else was asked for anything.
        let foreign = page.js("return performance.getEntriesByType('resource').map(({ name }) => name).filter((name) => !name.startsWith(location.origin) && !name.startsWith('blob:'))").await?;
        ensure!(foreign == serde_json::json!([]), "asked elsewhere: {foreign}");
        Ok(page)
    })
}

fn by_keyboard(driver: &Driver) -> Result<(), Failed> {
    let served = Served::new(None)?;
    driver.open(served.start(), async |page| {
        page.tab_to("[data-path='title'] input").await?;
        page.type_keys("Typed only").await?;
        page.tab_to("[data-path='bed.length'] input").await?;
        page.type_keys("75 1/4").await?;
        page.tab_to("#measure .onward a[href='#gear']").await?;
        page.type_keys(key::ENTER).await?;
        page.tab_to("#starter").await?;
        page.type_keys(key::DOWN).await?;
        page.type_keys(key::TAB).await?;
        page.type_keys(key::ENTER).await?;
        page.until("return document.querySelectorAll('[data-list=gear] tbody tr').length > 5").await?;
        // The first row goes down by one, and the focus with it.
        page.tab_to("[data-list='gear'] tbody tr:first-child input").await?;
        let first = page.js("return document.activeElement.value").await?;
        page.type_keys(&format!("{}{}{}", key::ALT, key::DOWN, key::NULL)).await?;
        page.until(&format!("return document.querySelector('[data-list=gear] tbody tr:nth-child(2) input').value === {first}")).await?;
        // The way at the top, for who does not want to go through everything.
        page.tab_back_to(".way a[href='#stock']").await?;
        page.type_keys(key::ENTER).await?;
        page.until("return document.activeElement?.id === 'stock-title'").await?;
        page.tab_back_to(".way a[href='#designs']").await?;
        page.type_keys(key::ENTER).await?;
        page.explored().await?;
        page.tab_to("#designs .choose").await?;
        page.type_keys(key::ENTER).await?;
        page.tab_to("#build canvas").await?;
        page.type_keys(key::RIGHT).await?;
        page.tab_to("#build a[href*='booklet.pdf']").await?;
        page.type_keys(key::ENTER).await?;
        ensure!(is_pdf(&served.saved(".pdf").await?)?, "the booklet is no PDF");
        Ok(page)
    })
}

fn undo_and_redo(driver: &Driver) -> Result<(), Failed> {
    let served = Served::new(Some(SMALL))?;
    driver.open(served.start(), async |page| {
        let is = |text: &str| format!("return document.querySelector(\"[data-path='bed.length'] input\").value === {text:?}");
        let before = page.js("return document.querySelector(\"[data-path='bed.length'] input\").value").await?;
        let before = before.as_str().unwrap_or_default().to_owned();
        page.fill("[data-path='bed.length'] input", "70").await?;
        page.until("return !document.querySelector('.deeds button').disabled").await?;
        page.press("Undo").await?;
        page.until(&is(&before)).await?;
        page.press("Redo").await?;
        page.until(&is("70")).await?;
        page.js("document.querySelector('#measure h2').focus()").await?;
        page.type_keys(&format!("{}z{}", key::CONTROL, key::NULL)).await?;
        page.until(&is(&before)).await?;
        page.type_keys(&format!("{}y{}", key::CONTROL, key::NULL)).await?;
        page.until(&is("70")).await?;
        // A row is doubled, the double is removed, and every step is taken back and done again.
        page.sheet("gear").await?;
        let name = "const names = [...document.querySelectorAll('[data-list=gear] tbody tr')].map((row) => row.querySelector('input').value);";
        let double = format!("{name} return names[1] === `${{names[0]}} (2)`");
        let single = format!("{name} return names[1] !== `${{names[0]}} (2)`");
        page.click("[data-list=gear] tbody tr:first-child [aria-label^='Duplicate']").await?;
        page.until(&double).await?;
        let focused = page.js("return document.activeElement === document.querySelectorAll('[data-list=gear] tbody tr input')[0] || document.activeElement.value.endsWith('(2)')").await?;
        ensure!(focused == Value::Bool(true), "the focus is not in the new row");
        page.click("[data-list=gear] tbody tr:nth-child(2) [aria-label^='Remove']").await?;
        page.until(&single).await?;
        for (step, is) in [("Undo", &double), ("Undo", &single), ("Redo", &double), ("Redo", &single)] {
            page.press(step).await?;
            page.until(is).await?;
        }
        Ok(page)
    })
}

fn hardware(driver: &Driver) -> Result<(), Failed> {
    let served = Served::new(Some(SMALL))?;
    driver.open(served.start(), async |page| {
        let text = "return fetch('/api/document').then((answer) => answer.json()).then(({ text }) => text)";
        let before = page.js(text).await?;
        page.sheet("stock").await?;
        page.js("document.querySelector('[data-list=hardware]').closest('details').open = true").await?;
        let cell = |row: &str, column: &str| format!("[data-list=hardware] tbody tr:nth-child({row}) td[data-name^='{column}']");
        let [cut_out, screws] = ["Cut-out", "Screws apart"].map(|column| cell("4", column));
        let shows = |cell: &str, text: &str| format!("return document.querySelector(\"{cell} input\").value === '{text}'");
        page.fill(&format!("{cut_out} input"), "127 x 32 mm").await?;
        page.until(&shows(&cut_out, "127 mm × 32 mm")).await?;
        // One figure is across: two screws in a line.
        page.fill(&format!("{screws} input"), "5 3/4").await?;
        page.until(&shows(&screws, "5 3/4 × 0")).await?;
        let after = page.js(text).await?;
        let (before, after) = (before.as_str().unwrap_or_default(), after.as_str().unwrap_or_default());
        for part in ["cut_out = [\"127 mm\", \"32 mm\"]", "screws = [\"5 3/4\", 0]"] {
            ensure!(after.contains(part), "the scenario lacks {part}:\n{after}");
        }
        // Nothing else of the file is touched.
        let kept: Vec<&str> = after.lines().filter(|line| !line.starts_with("cut_out") && !line.starts_with("screws =")).collect();
        ensure!(kept == before.lines().collect::<Vec<_>>(), "the file lost something:\n{after}");
        // What cannot be read, what is half there and what has no place are told at the field.
        for (row, typed, says) in [("4", "wide x 1", "cut_out"), ("4", "5", "a list of two, and has 1"), ("1", "5 x 1", "only a handle, a lock, a bracket or a hinge has")] {
            page.fill(&format!("{} input", cell(row, "Cut-out")), typed).await?;
            page.until(&format!("return (document.querySelector(\"{} .fault\")?.textContent ?? '').includes('{says}')", cell(row, "Cut-out"))).await?;
            page.press("Undo").await?;
            page.until(&format!("return document.querySelector(\"{} .fault\") === null", cell(row, "Cut-out"))).await?;
        }
        page.until(&shows(&cut_out, "127 mm × 32 mm")).await?;
        Ok(page)
    })
}

fn as_text(driver: &Driver) -> Result<(), Failed> {
    let served = Served::new(Some("scenarios/van-birch.toml"))?;
    let comment = "# --- every day ---";
    driver.open(served.start(), async |page| {
        page.fill("[data-path='bed.length'] input", "1800").await?;
        page.press("As text").await?;
        page.until("return document.querySelector('#source-text').value.includes('1800')").await?;
        page.js("const area = document.querySelector('#source-text'); area.value = area.value.replace('Bicycle workshop', 'Bicycle hospital'); area.dispatchEvent(new Event('input'))").await?;
        page.press("Take this text").await?;
        page.until("return document.title.includes('Bicycle hospital')").await?;
        page.press("Close").await?;
        page.press("Save").await?;
        page.until("return !document.title.startsWith('•')").await?;
        let text = fs::read_to_string(served.file())?;
        ensure!(text.contains("Bicycle hospital") && text.contains(comment), "the file lost something:\n{text}");
        // Another program changes the file: saving over it is asked for, not done.
        fs::write(served.file(), text.replace("Bicycle hospital", "Bicycle shop"))?;
        page.fill("[data-path='bed.length'] input", "1805").await?;
        page.press("Save").await?;
        page.press("Save over it").await?;
        page.until("return !document.title.startsWith('•')").await?;
        let text = fs::read_to_string(served.file())?;
        ensure!(text.contains("Bicycle hospital") && text.contains("1805"), "it was not saved over:\n{text}");
        Ok(page)
    })
}

fn explore(driver: &Driver) -> Result<(), Failed> {
    let served = Served::new(Some(SMALL))?;
    driver.open(served.start(), async |page| {
        page.sheet("designs").await?;
        page.explored().await?;
        let dots = page.js("return document.querySelectorAll('.scatter .dot').length").await?;
        ensure!(dots.as_u64().is_some_and(|dots| dots >= 3), "{dots} designs in the scatter");
        // Pointing at a design in the list rings it in the scatter, and the other way round.
        page.js("document.querySelector('.designs li:nth-child(2) .choose').focus()").await?;
        page.until("return document.querySelector('.dot.near')?.dataset.id === document.querySelector('.designs li:nth-child(2)').dataset.key").await?;
        page.js("document.querySelector('.scatter .dot[tabindex=\"0\"]').focus()").await?;
        page.type_keys(key::RIGHT).await?;
        page.until("return document.querySelector('.designs .near')?.dataset.key === document.activeElement.dataset.id || document.querySelector('.dot.near')?.dataset.id === document.activeElement.dataset.id").await?;
        // On any two aims: each design stands where its figures are.
        for axis in ["Mass", "Waste"] {
            page.js(&format!("const [select] = document.querySelectorAll('#designs .pair select'); select.value = [...select.options].find(({{ textContent }}) => textContent === '{axis}').value; select.dispatchEvent(new Event('change'))")).await?;
            page.until(&format!("return [...document.querySelectorAll('.scatter text')].some(({{ textContent }}) => textContent.startsWith('{axis}, '))")).await?;
        }
        let [tiers, boards] = ["tiers", "board"].map(|facet| format!("[data-facet^='{facet}']"));
        page.find(&boards).await?;
        let before = page.js("return document.querySelectorAll('.designs li').length").await?;
        page.click(&tiers).await?;
        page.until(&format!("return document.querySelectorAll('.designs li').length < {before}")).await?;
        page.click(&tiers).await?;
        // Ticking a value out hides designs without asking the program.
        let before = page.js("return document.querySelectorAll('.scatter .dot').length").await?;
        page.click("[data-facet^='columns']").await?;
        page.until(&format!("return document.querySelectorAll('.scatter .dot').length < {before}")).await?;
        page.click("[data-facet^='columns']").await?;
        for row in [1, 2] {
            page.click(&format!(".designs li:nth-child({row}) .tick")).await?;
        }
        page.find(".compare td.differs").await?;
        // Shape, not only colour, tells the undominated.
        let shapes = page.js("return [...document.querySelectorAll('.dot')].every((dot) => (dot.querySelector('.shape').tagName === 'path') === dot.classList.contains('undominated'))").await?;
        ensure!(shapes == Value::Bool(true), "an undominated design is no diamond");
        Ok(page)
    })
}

fn cutaway(driver: &Driver) -> Result<(), Failed> {
    let served = Served::new(Some(SMALL))?;
    driver.open(served.start(), async |page| {
        page.sheet("designs").await?;
        page.explored().await?;
        page.click("#designs .choose").await?;
        page.find("#build canvas").await?;
        // The design that was chosen is there again when the page is opened anew, named in its address.
        let id = page.js("return document.querySelector('.designs li').dataset.key").await?;
        page.js("location.reload()").await?;
        page.find("#build:not([hidden]) canvas").await?;
        let again = page.js("return [location.hash, document.querySelector('#build .view').textContent.match(/Design (\\S+),/)[1], document.querySelector('.way [aria-current]').hash]").await?;
        let address = format!("#build/{}", id.as_str().unwrap_or_default());
        ensure!(again == serde_json::json!([address, id, address]), "{again} in place of {id}");
        let state = "return document.querySelector('.cutaway').state()";
        let before = page.js(state).await?;
        page.js("document.querySelector('#build canvas').focus()").await?;
        page.type_keys(&format!("{}1", key::RIGHT)).await?;
        page.until("return Object.values(document.querySelector('.cutaway').state().out).some((out) => out === 1)").await?;
        let after = page.js(state).await?;
        ensure!(before["turn"] != after["turn"], "the arrow key did not turn the drawing");
        page.find(".cutaway [aria-pressed='true']").await?;
        // Who wants no motion sees the drawer out at once.
        page.media(&[("prefers-reduced-motion", "reduce")]).await?;
        // The drawing can be turned with drawers out, and the key that pulled one out shuts it.
        let out = page.js("const canvas = document.querySelector('#build canvas'); const press = (key) => canvas.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true })); const out = () => Object.values(document.querySelector('.cutaway').state().out).slice(0, 2); press('2'); const [first, turn] = [out(), document.querySelector('.cutaway').state().turn]; press('ArrowLeft'); press('1'); return [first, out(), turn !== document.querySelector('.cutaway').state().turn]").await?;
        ensure!(out == serde_json::json!([[1, 1], [0, 1], true]), "a drawer is on its way, or does not move: {out}");
        let painted = page.js("const canvas = document.querySelector('#build canvas'); const { data } = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height); return data.filter((value, i) => i % 4 === 3 && value > 0).length / (canvas.width * canvas.height)").await?;
        ensure!(painted.as_f64().is_some_and(|share| share > 0.1), "little is drawn: {painted}");
        Ok(page)
    })
}
