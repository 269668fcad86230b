//! How Chromium is started.

use std::path::Path;
use std::process::Command;

use anyhow::Result;
use thirtyfour::common::capabilities::chromium::ChromiumLikeCapabilities;
use thirtyfour::{Capabilities, DesiredCapabilities, LoggingPrefsLogLevel};

use crate::chromium::Chromium;

/// Quiet, alone and the same everywhere: no services of its maker, one pixel to a CSS pixel, text without the host's hinting, and a mouse,
/// which hovers and points finely (2 and 4 in the engine's lists): a machine in a data centre has none.
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
    "--blink-settings=primaryHoverType=2,availableHoverTypes=2,primaryPointerType=4,availablePointerTypes=4",
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
