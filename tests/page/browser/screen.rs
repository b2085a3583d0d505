//! What the screen is like, and pictures of what is on it.

use std::fs;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use serde_json::{Value, json};

use super::devtools::Devtools;
use super::driver::shots;
use super::{Outcome, Page};

impl Page {
    /// As if the screen were so wide and high, in CSS pixels, light or dark.
    pub async fn screen(&self, width: u32, height: u32, dark: bool) -> Outcome {
        let metrics =
            json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false });
        self.client.issue_cmd(Devtools("Emulation.setDeviceMetricsOverride", metrics)).await?;
        self.media(&[("prefers-color-scheme", if dark { "dark" } else { "light" })]).await
    }

    /// As on a telephone with a screen of so many CSS pixels that is touched.
    pub async fn telephone(&self, width: u32, height: u32) -> Outcome {
        let metrics =
            json!({ "width": width, "height": height, "deviceScaleFactor": 2, "mobile": true });
        self.client.issue_cmd(Devtools("Emulation.setDeviceMetricsOverride", metrics)).await?;
        let touch = json!({ "enabled": true, "maxTouchPoints": 5 });
        self.client.issue_cmd(Devtools("Emulation.setTouchEmulationEnabled", touch)).await?;
        Ok(())
    }

    /// What the system would tell the page to prefer.
    pub async fn media(&self, features: &[(&str, &str)]) -> Outcome {
        let features: Vec<Value> =
            features.iter().map(|(name, value)| json!({ "name": name, "value": value })).collect();
        self.client
            .issue_cmd(Devtools("Emulation.setEmulatedMedia", json!({ "features": features })))
            .await?;
        Ok(())
    }

    /// As it would be printed.
    pub async fn printed(&self) -> Outcome {
        self.client
            .issue_cmd(Devtools("Emulation.setEmulatedMedia", json!({ "media": "print" })))
            .await?;
        Ok(())
    }

    /// Prints into a file beside the screenshots, on the paper that the page's own style asks for; gives it.
    pub async fn print(&self, name: &str) -> Outcome<Vec<u8>> {
        let how = json!({ "preferCSSPageSize": true, "printBackground": true });
        let printed = self.client.issue_cmd(Devtools("Page.printToPDF", how)).await?;
        let data = printed["data"].as_str().ok_or("nothing was printed")?;
        let data = STANDARD.decode(data).map_err(|error| error.to_string())?;
        fs::write(shots().join(format!("{name}.pdf")), &data)?;
        Ok(data)
    }

    /// Writes what is seen to a file.
    pub async fn shot(&self, name: &str) -> Outcome {
        let image = self.client.screenshot().await?;
        crate::ensure!(image.len() > 5000, "the screenshot {name} is empty");
        fs::write(shots().join(format!("{name}.png")), image)?;
        Ok(())
    }
}
