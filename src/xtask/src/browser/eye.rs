//! What the browser sees and how: viewport, emulated media, screenshots, PDF.

use std::fs;
use std::path::PathBuf;

use anyhow::{Context, Result};
use base64::Engine as _;
use serde_json::{Value, json};

use super::session::{Browser, Programs};
use crate::workspace;

/// A reader's choice of light or dark.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Scheme {
    /// Dark on light.
    #[default]
    Light,
    /// Light on dark.
    Dark,
}

/// What a page can ask about its reader and its medium.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Media {
    /// `prefers-color-scheme`.
    pub scheme: Scheme,
    /// `prefers-reduced-motion: reduce`.
    pub reduced_motion: bool,
    /// `forced-colors: active`.
    pub forced_colors: bool,
    /// The page as paper sees it, still on the screen.
    pub print: bool,
}

impl Browser {
    /// Gives the page a viewport of exactly this many CSS pixels.
    ///
    /// # Errors
    /// When the browser has ended.
    pub fn viewport(&self, width: u32, height: u32) -> Result<()> {
        match self.programs {
            Programs::Chromium(_) => self.magnified(width, height, 1.0),
            Programs::Firefox(_) => self.gecko_viewport(width, height),
        }
    }

    /// The same, each CSS pixel so many pixels of the screen wide: 640 and 2 are a window of 1280 at a zoom of 200 %.
    ///
    /// # Errors
    /// When the browser has ended, or isn't Chromium.
    pub fn magnified(&self, width: u32, height: u32, zoom: f64) -> Result<()> {
        let size = json!({ "width": width, "height": height, "deviceScaleFactor": zoom, "mobile": false });
        self.command("Emulation.setDeviceMetricsOverride", size)?;
        Ok(())
    }

    /// Emulates a reader's settings and the medium.
    ///
    /// # Errors
    /// When the browser has ended.
    pub fn media(&self, media: Media) -> Result<()> {
        let feature = |name: &str, value: &str| json!({ "name": name, "value": value });
        let scheme = match media.scheme {
            Scheme::Light => "light",
            Scheme::Dark => "dark",
        };
        let features = [
            feature("prefers-color-scheme", scheme),
            feature("prefers-reduced-motion", if media.reduced_motion { "reduce" } else { "no-preference" }),
            feature("forced-colors", if media.forced_colors { "active" } else { "none" }),
        ];
        let medium = if media.print { "print" } else { "" };
        self.command("Emulation.setEmulatedMedia", json!({ "media": medium, "features": features }))?;
        Ok(())
    }

    /// Photographs the viewport to `shots/NAME.png` in cargo's target folder.
    ///
    /// # Errors
    /// When the file can't be written.
    pub fn screenshot(&self, name: &str) -> Result<PathBuf> {
        let folder = workspace::target()?.join("shots");
        fs::create_dir_all(&folder)?;
        let file = folder.join(format!("{name}.png"));
        let picture = match self.programs {
            Programs::Chromium(_) => {
                decoded(&self.command("Page.captureScreenshot", json!({ "format": "png" }))?)?
            }
            Programs::Firefox(_) => self.gecko_screenshot()?,
        };
        fs::write(&file, picture)?;
        Ok(file)
    }

    /// Prints the page as its own `@page` rules say; without any, on A4.
    ///
    /// # Errors
    /// When the browser can't print it.
    pub fn pdf(&self) -> Result<Vec<u8>> {
        let wishes = json!({
            "preferCSSPageSize": true,
            "printBackground": true,
            "displayHeaderFooter": false,
            "paperWidth": 210.0 / 25.4,
            "paperHeight": 297.0 / 25.4,
        });
        decoded(&self.command("Page.printToPDF", wishes)?)
    }
}

fn decoded(answer: &Value) -> Result<Vec<u8>> {
    let data = answer["data"].as_str().context("the browser sent no data")?;
    Ok(base64::engine::general_purpose::STANDARD.decode(data)?)
}
