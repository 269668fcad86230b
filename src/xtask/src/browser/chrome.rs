//! What only Chromium understands: its start, its debugging protocol, its console.

use std::path::Path;
use std::process::Command;

use anyhow::{Context, Result, bail};
use serde_json::{Value, json};
use thirtyfour::common::capabilities::chromium::ChromiumLikeCapabilities;
use thirtyfour::{Capabilities, DesiredCapabilities, LoggingPrefsLogLevel};

use super::{Browser, ConsoleLine, Media, Programs};
use crate::chromium::Chromium;

/// Quiet, alone and the same everywhere: no services of its maker, one pixel to a CSS pixel, text without the host's hinting.
const FLAGS: &[&str] = &[
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--force-device-scale-factor=1",
    "--font-render-hinting=none",
];

/// What chromedriver prints before its port.
pub(super) const PORT_FOLLOWS: &str = "successfully on port ";

pub(super) fn driver(chromium: &Chromium) -> Command {
    let mut command = Command::new(&chromium.driver);
    command.arg("--port=0");
    command
}

pub(super) fn wishes(chromium: &Chromium, profile: &Path) -> Result<Capabilities> {
    let mut wishes = DesiredCapabilities::chrome();
    wishes.set_binary(&chromium.browser.to_string_lossy())?;
    for flag in FLAGS {
        wishes.add_arg(flag)?;
    }
    wishes.add_arg(&format!("--user-data-dir={}", profile.display()))?;
    wishes.set_browser_log_level(LoggingPrefsLogLevel::All)?;
    Ok(wishes.into())
}

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
