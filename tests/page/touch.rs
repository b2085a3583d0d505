//! The job with a finger on a telephone's screen.

use std::fs;

use libtest_mimic::Failed;

use crate::browser::{Driver, Page, SMALL, Served, key};
use crate::{Test, ensure};

pub const TESTS: &[Test] = &[("the job by touch on a small screen", by_touch)];

/// Where in the window a drawer's front is to be seen in the drawing: looked for by what the page itself finds under a point.
async fn front(page: &Page) -> Result<(i64, i64), Failed> {
    let at = page.js("const { x, y, width, height } = document.querySelector('#build canvas').getBoundingClientRect(); const points = [0.3, 0.4, 0.5, 0.6, 0.7].flatMap((up) => [0.3, 0.4, 0.5, 0.6, 0.7].map((across) => [across * width, up * height])); const found = points.find((point) => document.querySelector('.cutaway').under(...point)); return found && [Math.round(x + found[0]), Math.round(y + found[1])]").await?;
    let one = |way: usize| at[way].as_i64().ok_or("no drawer is to be seen");
    Ok((one(0)?, one(1)?))
}

fn by_touch(driver: &Driver) -> Result<(), Failed> {
    let served = Served::new(Some(SMALL))?;
    driver.open(served.start(), async |page| {
        page.telephone(390, 844).await?;
        page.tap("[data-path='bed.length'] input").await?;
        page.js("document.activeElement.select()").await?;
        page.type_keys(&format!("61 1/2{}", key::TAB)).await?;
        page.tap(".way a[href='#gear']").await?;
        page.tap("[data-list=gear] > .row button").await?;
        page.until("return document.activeElement.value?.startsWith('Thing')").await?;
        page.type_keys(&format!("Pocket lamp{}", key::TAB)).await?;
        page.until("return document.querySelector('[data-list=gear] tbody tr:last-child input').value === 'Pocket lamp'").await?;
        page.tap(".way a[href='#designs']").await?;
        page.explored().await?;
        page.tap("#designs .scatter .dot:last-child").await?;
        page.find("#build:not([hidden]) canvas").await?;
        // Turned by a finger across it, a drawer pulled out by a press on its front, and one by its button.
        let state = "return document.querySelector('.cutaway').state()";
        let before = page.js(state).await?;
        page.js("document.querySelector('#build canvas').scrollIntoView({ block: 'center' })").await?;
        let at = page.js("const { x, y, width, height } = document.querySelector('#build canvas').getBoundingClientRect(); return [x, y, width, height].map(Math.round)").await?;
        let [x, y, wide, high] = [0, 1, 2, 3].map(|one| at[one].as_i64().unwrap_or_default());
        page.swipe((x + wide / 4, y + high / 2), (x + wide * 3 / 4, y + high / 2)).await?;
        let after = page.js(state).await?;
        ensure!(before["turn"] != after["turn"], "a finger does not turn it: {after}");
        page.tap("#build .cutaway [aria-label='As at first']").await?;
        page.js("document.querySelector('#build canvas').scrollIntoView({ block: 'center' })").await?;
        page.touch(front(&page).await?).await?;
        page.until("return Object.values(document.querySelector('.cutaway').state().out).includes(1)").await?;
        page.tap("#build [aria-label='Pull drawers out'] button[aria-pressed='false']").await?;
        page.until("return Object.values(document.querySelector('.cutaway').state().out).filter((out) => out === 1).length === 2").await?;
        // A thing goes into another drawer under the finger; the page does not scroll away meanwhile.
        page.js("document.querySelectorAll('#build .drawer[data-drawer]')[1].querySelector('h4').scrollIntoView({ block: 'center' })").await?;
        let places = page.js("const middle = (one) => { const { x, y, width, height } = one.getBoundingClientRect(); return [Math.round(x + width / 3), Math.round(y + height / 2)]; }; const [one, other] = document.querySelectorAll('#build .drawer[data-drawer]'); return [middle([...one.querySelectorAll('.grip')].at(-1)), middle(other.querySelector('h4'))]").await?;
        let place = |one: usize| (places[one][0].as_i64().unwrap_or_default(), places[one][1].as_i64().unwrap_or_default());
        page.swipe(place(0), place(1)).await?;
        page.find(".settled li").await?;
        page.explored().await?;
        page.tap("#build a[href$='set.zip']").await?;
        ensure!(fs::read(served.saved(".zip").await?)?.starts_with(b"PK"), "the set is no zip");
        page.shot("touched").await?;
        Ok(page)
    })
}
