//! What is typed, and where the keys lead.

use serde_json::Value;

use super::{Outcome, Page, key};

impl Page {
    /// Puts a text into a field and leaves it.
    pub async fn fill(&self, selector: &str, text: &str) -> Outcome {
        let field = self.find(selector).await?;
        self.click_on(&field).await?;
        // As by a triple click: what is typed takes the place of all.
        let argument = serde_json::to_value(&field).expect("it is its id, a text");
        self.client.execute("arguments[0].focus(); arguments[0].select()", vec![argument]).await?;
        field.send_keys(text).await?;
        field.send_keys(key::TAB).await?;
        Ok(())
    }

    /// Types at where the focus is.
    pub async fn type_keys(&self, keys: &str) -> Outcome {
        Ok(self.client.active_element().await?.send_keys(keys).await?)
    }

    /// Presses Tab until the focus is on what a selector finds: fails if it cannot be reached so.
    pub async fn tab_to(&self, selector: &str) -> Outcome {
        self.walk_to(selector, key::TAB).await
    }

    /// The same backwards, with Shift.
    pub async fn tab_back_to(&self, selector: &str) -> Outcome {
        self.walk_to(selector, &format!("{}{}{}", key::SHIFT, key::TAB, key::NULL)).await
    }

    async fn walk_to(&self, selector: &str, step: &str) -> Outcome {
        self.find(selector).await?;
        let there = format!("return document.activeElement?.matches({selector:?}) ?? false");
        for _ in 0..400 {
            if self.js(&there).await? == Value::Bool(true) {
                return Ok(());
            }
            self.type_keys(step).await?;
        }
        Err(format!("Tab does not lead to {selector}").into())
    }
}
