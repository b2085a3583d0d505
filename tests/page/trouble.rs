//! What goes on besides: faults, edits while a run is going, two tabs, a program that dies, long lists.

use std::fmt::Write;
use std::time::{Duration, Instant};

use libtest_mimic::Failed;

use crate::browser::{Driver, SMALL, Served};
use crate::{Test, ensure};

pub const TESTS: &[Test] = &[
    ("faults stand at their field in the command line's words", faults),
    ("edits while a run is going", edits_while_running),
    ("two tabs at once", two_tabs),
    ("the program dies and comes back", dies_and_comes_back),
    ("a list of 120 things is pasted", paste),
    ("changes that cannot be kept raise an alarm until they can", unkept),
];

fn faults(driver: &Driver) -> Result<(), Failed> {
    let served = Served::new(Some(SMALL))?;
    driver.open(served.start(), async |page| {
        page.fill("[data-path='bed.width'] input", "1/3 in").await?;
        let fault = page.find("[data-path='bed.width'] .fault").await?.text().await?;
        let program = std::process::Command::new(env!("CARGO_BIN_EXE_bedwright"))
            .args(["vet", "-"])
            .arg("--help")
            .output()?;
        ensure!(program.status.success(), "vet is gone");
        ensure!(!fault.is_empty(), "the fault has no words");
        let invalid = page.find("[data-path='bed.width'] input[aria-invalid='true']").await?;
        let says = invalid.attr("aria-describedby").await?.unwrap_or_default();
        let heard =
            page.js(&format!("return document.getElementById({says:?}).textContent")).await?;
        ensure!(
            heard.as_str().is_some_and(|heard| heard == fault),
            "the field is described by {heard}, not {fault}"
        );
        // The same words as the command line's, which wraps them.
        page.press("Save").await?;
        page.until("return !document.title.startsWith('•')").await?;
        let vet = std::process::Command::new(env!("CARGO_BIN_EXE_bedwright"))
            .arg("vet")
            .arg(served.file())
            .output()?;
        let squeezed =
            |text: &str| text.chars().filter(|c| c.is_alphanumeric()).collect::<String>();
        let said = squeezed(&String::from_utf8_lossy(&vet.stderr));
        let first = fault.split(':').next().unwrap_or(&fault);
        ensure!(said.contains(&squeezed(first)), "the command line does not say {first}");
        page.fill("[data-path='bed.width'] input", "56").await?;
        page.until("return document.querySelector(\"[data-path='bed.width'] .fault\") === null")
            .await?;
        Ok(page)
    })
}

fn edits_while_running(driver: &Driver) -> Result<(), Failed> {
    let served = Served::new(Some(SMALL))?;
    driver.open(served.start(), async |page| {
        for length in ["78", "77 1/2", "77", "76 1/2", "76"] {
            page.fill("[data-path='bed.length'] input", length).await?;
        }
        // Nothing waits for a search: the last word is there, and designs of it come.
        page.until("return document.querySelector(\"[data-path='bed.length'] input\").value === '76'").await?;
        page.explored().await?;
        let agree = page.js("return Promise.all(['/api/document', '/api/designs'].map((path) => fetch(path).then((answer) => answer.json()))).then(([document, designs]) => [document.fields.bed.length, document.revision === designs.revision])").await?;
        ensure!(agree == serde_json::json!(["76", true]), "the page and the designs part: {agree}");
        Ok(page)
    })
}

fn two_tabs(driver: &Driver) -> Result<(), Failed> {
    let served = Served::new(Some(SMALL))?;
    driver.open(served.start(), async |page| {
        let first = page.client.window().await?;
        let second = page.client.new_window(true).await?.handle;
        page.client.switch_to_window(second.clone()).await?;
        page.client.goto(&served.address).await?;
        page.fill("[data-path='bed.length'] input", "71").await?;
        page.client.switch_to_window(first.clone()).await?;
        page.until("return document.querySelector(\"[data-path='bed.length'] input\").value === '71'").await?;
        page.fill("[data-path='bed.width'] input", "57").await?;
        page.client.switch_to_window(second).await?;
        page.until("return document.querySelector(\"[data-path='bed.width'] input\").value === '57' && document.querySelector(\"[data-path='bed.length'] input\").value === '71'").await?;
        page.client.close_window().await?;
        page.client.switch_to_window(first).await?;
        Ok(page)
    })
}

fn dies_and_comes_back(driver: &Driver) -> Result<(), Failed> {
    let mut served = Served::new(Some(SMALL))?;
    driver.open(served.start(), async |page| {
        page.fill("[data-path='title'] input", "Not saved yet").await?;
        page.until("return document.title.includes('Not saved yet')").await?;
        served.kill()?;
        page.until("return /does not answer/.test(document.querySelector('.alarm')?.textContent ?? '')").await?;
        served.again()?;
        // It has another key: who opens the address it printed goes on, and so does the page that waited.
        page.until("return /another key/.test(document.querySelector('.alarm')?.textContent ?? '')").await?;
        let first = page.client.window().await?;
        let second = page.client.new_window(true).await?.handle;
        page.client.switch_to_window(second).await?;
        page.client.goto(&served.address).await?;
        page.find(".block .run span").await?;
        page.client.switch_to_window(first).await?;
        page.until("return !/another key|not answer/.test(document.querySelector('.alarms').textContent)").await?;
        // Nothing that was typed is lost.
        page.until("return document.title.includes('Not saved yet') && /Back from last time/.test(document.querySelector('.alarms').textContent)").await?;
        page.fill("[data-path='title'] input", "Goes on").await?;
        page.until("return document.title.includes('Goes on')").await?;
        page.explored().await?;
        Ok(page)
    })
}

fn paste(driver: &Driver) -> Result<(), Failed> {
    let served = Served::new(None)?;
    let mut list = String::from("name\tlength\twidth\theight\tweight\tcount\tworth\n");
    for number in 1..=120 {
        writeln!(
            list,
            "Case {number}\t{}\t{}\t{} 1/2\t{} lb\t1\t{}",
            6 + number % 9,
            5 + number % 5,
            2 + number % 4,
            1 + number % 12,
            1 + number % 7
        )?;
    }
    driver.open(served.start(), async |page| {
        page.sheet("gear").await?;
        // As the clipboard brings it, into any cell of the table.
        page.press("Add a thing").await?;
        page.until("return document.activeElement.value?.startsWith('Thing')").await?;
        page.client.execute("const clipboardData = new DataTransfer(); clipboardData.setData('text/plain', arguments[0]); document.activeElement.dispatchEvent(new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }))", vec![list.clone().into()]).await?;
        page.until("return /120 things read/.test(document.querySelector('dialog[open]').textContent)").await?;
        page.click("#paste-over").await?;
        let begun = Instant::now();
        page.press("Add to the list").await?;
        page.until("return document.querySelectorAll('[data-list=gear] tbody tr').length === 120").await?;
        let took = begun.elapsed();
        ensure!(took < Duration::from_secs(5), "it took {took:?} to list 120 things");
        page.until("return document.querySelector('[data-list=gear] tbody tr:nth-child(120) input').value === 'Case 120'").await?;
        page.until("return document.querySelector('.block .run span').textContent.startsWith('Exploring')  || /designs?/.test(document.querySelector('.block .run span').textContent)").await?;
        Ok(page)
    })
}

fn unkept(driver: &Driver) -> Result<(), Failed> {
    let served = Served::cramped(Some(SMALL))?;
    driver.open(served.start(), async |page| {
        page.fill("[data-path='title'] input", "Kept nowhere").await?;
        let alarm = page.find(".alarms [role=alert]").await?.text().await?;
        ensure!(alarm.contains("Unsaved changes are nowhere but here") && alarm.contains("job.toml.unsaved") && alarm.contains("Make room"), "it does not say what is the matter: {alarm}");
        page.press("Save").await?;
        page.until("return /That did not work: .*job.toml/.test(document.querySelector('.alarms').textContent)").await?;
        page.press("All right").await?;
        ensure!(page.js("return document.title.startsWith('•')").await? == true, "it claims to be saved");
        page.shot("unkept").await?;
        // There is room again: the next change is kept, and so is what could not be.
        served.give_room()?;
        page.fill("[data-path='bed.length'] input", "61").await?;
        page.until("return document.querySelector('.alarms').textContent === ''").await?;
        page.press("Save").await?;
        page.until("return !document.title.startsWith('•')").await?;
        let text = std::fs::read_to_string(served.file())?;
        ensure!(text.contains("Kept nowhere"), "the file lacks it");
        Ok(page)
    })
}
