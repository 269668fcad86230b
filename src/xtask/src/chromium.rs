//! A Chromium or Chrome and the chromedriver that belongs to it: found, or installed where the system's package manager can.

use std::path::PathBuf;

use anyhow::{Result, bail};

use crate::packages::{self, look, major_version};

const BROWSERS: &[&str] =
    &["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"];
const BROWSER_PLACES: &[&str] = &["/Applications/Google Chrome.app/Contents/MacOS/Google Chrome"];
const DRIVERS: &[&str] = &["chromedriver", "chromium.chromedriver"];
const DRIVER_PLACES: &[&str] = &["/usr/lib/chromium/chromedriver", "/usr/lib/chromium-browser/chromedriver"];

/// The packages, by their names in Debian.
const PACKAGES: &[&str] = &["chromium", "chromium-driver"];

/// A browser and its driver, of the same major version.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chromium {
    /// The browser.
    pub browser: PathBuf,
    /// The program that steers it.
    pub driver: PathBuf,
}

/// Looks at `CHROME` and `CHROMEDRIVER` first, then on `PATH`, then where systems are known to put them.
///
/// # Errors
/// When one of the two is missing, or their versions differ; the message says which.
pub fn find() -> Result<Chromium> {
    let browser = look("CHROME", BROWSERS, BROWSER_PLACES)?;
    let driver = look("CHROMEDRIVER", DRIVERS, DRIVER_PLACES)?;
    let (browser, driver) = match (browser, driver) {
        (Some(browser), Some(driver)) => (browser, driver),
        (None, Some(_)) => bail!("there is no Chromium or Chrome"),
        (Some(_), None) => bail!("there is a browser, but no chromedriver"),
        (None, None) => bail!("there is neither a Chromium or Chrome nor a chromedriver"),
    };
    if let (Some(first), Some(second)) = (major_version(&browser), major_version(&driver))
        && first != second
    {
        bail!("the browser has version {first}, chromedriver {second}; they must be equal");
    }
    Ok(Chromium { browser, driver })
}

/// As [`find`]; what is missing is installed with apt-get, where there is one and it may.
///
/// # Errors
/// When they are missing and can't be installed; the message says what to install.
pub fn find_or_install() -> Result<Chromium> {
    packages::find_or_install(find, PACKAGES, HELP)
}

const HELP: &str = "\
Install a browser and its driver of the same version, then run this again:
  Debian:        sudo apt-get install chromium chromium-driver
  Fedora:        sudo dnf install chromium chromedriver
  Arch:          sudo pacman -S chromium
  macOS:         brew install --cask google-chrome chromedriver
or name the two programs in the environment variables CHROME and CHROMEDRIVER.";
