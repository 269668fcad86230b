//! What only Chromium understands: its debugging protocol, its console.

use anyhow::{Context, Result, bail};
use serde_json::{Value, json};

use super::eye::Media;
use super::session::{Browser, ConsoleLine, Programs};

impl Browser {
    /// Sends a command of Chromium's debugging protocol.
    ///
    /// # Errors
    /// When the browser refuses it, or is another.
    pub fn command(&self, name: &str, parameters: Value) -> Result<Value> {
        if !matches!(self.programs, Programs::Chromium(_)) {
            bail!("only Chromium can be told {name}");
        }
        self.runtime
            .block_on(self.session()?.cdp().send_raw(name, parameters))
            .with_context(|| format!("the browser's command {name}"))
    }

    pub(super) fn chrome_console(&self) -> Result<Vec<ConsoleLine>> {
        let lines = self.runtime.block_on(self.session()?.browser_log())?;
        Ok(lines.into_iter().map(|line| ConsoleLine { level: line.level, text: line.message }).collect())
    }

    pub(super) fn chrome_refresh(&self, origin: &str) -> Result<()> {
        self.command("Storage.clearDataForOrigin", json!({ "origin": origin, "storageTypes": "all" }))?;
        self.command("Emulation.setTouchEmulationEnabled", json!({ "enabled": false }))?;
        self.command("Emulation.setScriptExecutionDisabled", json!({ "value": false }))?;
        self.media(Media::default())
    }
}
