//! A Firefox and the geckodriver that steers it: the one found, or installed where the system's package manager can; the other
//! found, or built by cargo once into its target folder, because Debian has no package of it.

use std::path::PathBuf;

use anyhow::{Context, Result};

use crate::packages::{self, look};
use crate::workspace;

const BROWSERS: &[&str] = &["firefox-esr", "firefox"];
const BROWSER_PLACES: &[&str] = &["/Applications/Firefox.app/Contents/MacOS/firefox"];

/// The packages, by their names in Debian.
const PACKAGES: &[&str] = &["firefox-esr"];

/// The version of geckodriver that cargo builds.
const DRIVER: &str = "0.37.1";

/// A browser and its driver.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Firefox {
    /// The browser.
    pub browser: PathBuf,
    /// The program that steers it.
    pub driver: PathBuf,
}

/// Looks at `FIREFOX` and `GECKODRIVER` first, then on `PATH`; what is missing is installed, the browser with apt-get, the driver
/// with cargo.
///
/// # Errors
/// When one is missing and can't be installed; the message says what to install.
pub fn find_or_install() -> Result<Firefox> {
    let browser = packages::find_or_install(find_browser, PACKAGES, HELP)?;
    let driver = match look("GECKODRIVER", &["geckodriver"], &[])? {
        Some(driver) => driver,
        None => built_driver()?,
    };
    Ok(Firefox { browser, driver })
}

fn find_browser() -> Result<PathBuf> {
    look("FIREFOX", BROWSERS, BROWSER_PLACES)?.context("there is no Firefox")
}

/// The driver in cargo's target folder, built when it isn't there in this version. Without optimisation: it passes words on, and
/// building it takes a third of the time.
fn built_driver() -> Result<PathBuf> {
    let target = workspace::target()?;
    let root = target.join("tools").join(format!("geckodriver-{DRIVER}"));
    let driver = root.join("bin").join(format!("geckodriver{}", std::env::consts::EXE_SUFFIX));
    if driver.is_file() {
        return Ok(driver);
    }
    println!("Building geckodriver {DRIVER} with cargo …");
    let install = |more: &[&str]| {
        let mut command = workspace::cargo();
        command.args(["install", "geckodriver", "--version", DRIVER, "--debug", "--quiet"]).args(more);
        command.arg("--root").arg(&root).arg("--target-dir").arg(target.join("geckodriver"));
        workspace::run(&mut command)
    };
    install(&["--locked"])
        .or_else(|_| install(&[]))
        .with_context(|| format!("geckodriver can't be built.\n{HELP}"))?;
    // What it was built from is of no more use, and large.
    drop(std::fs::remove_dir_all(target.join("geckodriver")));
    Ok(driver)
}

const HELP: &str = "\
Install a Firefox, then run this again:
  Debian:        sudo apt-get install firefox-esr
  Fedora, Arch:  the package firefox
  macOS:         brew install --cask firefox
or name it in the environment variable FIREFOX. geckodriver is built by cargo unless it is on PATH or named in GECKODRIVER.";
