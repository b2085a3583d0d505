//! The page: opened, asked, left.

use std::time::{Duration, Instant};

use fantoccini::elements::Element;
use fantoccini::{Client, Locator};
use serde_json::{Value, json};

use super::devtools::{Complaints, Devtools};
use super::served::Start;
use super::{Outcome, PATIENCE};

/// The page in a browser.
#[derive(Clone)]
pub struct Page {
    pub client: Client,
}

impl Page {
    pub(super) async fn open(client: Client, start: &Start) -> Outcome<Self> {
        let page = Self { client };
        let saving = json!({ "behavior": "allow", "downloadPath": start.saved });
        page.client.issue_cmd(Devtools("Browser.setDownloadBehavior", saving)).await?;
        page.screen(1280, 900, false).await?;
        page.client.goto(&start.address).await?;
        page.until("return document.querySelector('.block .run span')?.textContent.length > 0")
            .await?;
        Ok(page)
    }

    pub(super) async fn leave(&self) -> Outcome {
        let windows = self.client.windows().await?;
        let Some((first, others)) = windows.split_first() else { return Ok(()) };
        for window in others {
            self.client.switch_to_window(window.clone()).await?;
            self.client.close_window().await?;
        }
        self.client.switch_to_window(first.clone()).await?;
        let plain = json!({ "media": "", "features": [] });
        self.client.issue_cmd(Devtools("Emulation.setEmulatedMedia", plain)).await?;
        let touch = json!({ "enabled": false });
        self.client.issue_cmd(Devtools("Emulation.setTouchEmulationEnabled", touch)).await?;
        self.client.goto("about:blank").await?;
        Ok(())
    }

    /// Fails if a script threw something or the page's policy stopped something. What the program refuses is no fault of the page.
    pub(super) async fn has_no_faults(&self) -> Outcome {
        let said = self.client.issue_cmd(Complaints).await?;
        let all = said.as_array().cloned().unwrap_or_default();
        let own: Vec<&Value> = all.iter().filter(|one| one["source"] != "network").collect();
        crate::ensure!(own.is_empty(), "the browser complains: {own:?}");
        Ok(())
    }

    /// The value of a script.
    pub async fn js(&self, script: &str) -> Outcome<Value> {
        Ok(self.client.execute(script, Vec::new()).await?)
    }

    /// Waits until a script gives true.
    pub async fn until(&self, script: &str) -> Outcome {
        let begun = Instant::now();
        while self.js(script).await? != Value::Bool(true) {
            crate::ensure!(begun.elapsed() < PATIENCE, "waited in vain for: {script}");
            tokio::time::sleep(Duration::from_millis(25)).await;
        }
        Ok(())
    }

    /// The element that a selector finds, once it is there.
    pub async fn find(&self, selector: &str) -> Outcome<Element> {
        let wait = self.client.wait().at_most(PATIENCE);
        wait.for_element(Locator::Css(selector))
            .await
            .map_err(|error| format!("{selector}: {error}").into())
    }

    /// Goes to one of the five sheets by the way at the top.
    pub async fn sheet(&self, name: &str) -> Outcome {
        // The way to the last sheet names the design too.
        self.click(&format!(".way a[href^='#{name}']")).await?;
        self.find(&format!("#{name}:not([hidden])")).await?;
        Ok(())
    }

    /// Waits until the run of the document as it is has ended.
    pub async fn explored(&self) -> Outcome {
        self.until("return import('/static/store.js').then(({ state: { run, list, document: job } }) => run?.state === 'done' && [run.revision, list?.revision].every((revision) => revision === job?.revision) && list.is_final && !document.querySelector('[aria-busy=true]'))").await
    }
}
