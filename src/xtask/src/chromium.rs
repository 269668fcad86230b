//! A Chromium or Chrome and the chromedriver that belongs to it: found, or installed where the system's package manager can.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use anyhow::{Result, bail};

use crate::workspace;

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
    let Err(reason) = find() else { return find() };
    println!("For the browser tests {reason}.");
    match administrator() {
        Some(before) if workspace::on_path("apt-get").is_some() => {
            let names = PACKAGES.join(" ");
            println!("Installing {names} with apt-get …");
            if let Err(reason) = install(&before) {
                bail!("{reason:#}\nInstall {names} by hand, or see below.\n{HELP}");
            }
            find().map_err(|reason| anyhow::anyhow!("{names} are installed, and yet {reason}\n{HELP}"))
        }
        _ => bail!("{reason}.\n{HELP}"),
    }
}

const HELP: &str = "\
Install a browser and its driver of the same version, then run this again:
  Debian:        sudo apt-get install chromium chromium-driver
  Fedora:        sudo dnf install chromium chromedriver
  Arch:          sudo pacman -S chromium
  macOS:         brew install --cask google-chrome chromedriver
or name the two programs in the environment variables CHROME and CHROMEDRIVER.";

fn look(variable: &str, names: &[&str], places: &[&str]) -> Result<Option<PathBuf>> {
    if let Some(named) = std::env::var_os(variable).filter(|named| !named.is_empty()) {
        let file = PathBuf::from(named);
        if !file.is_file() {
            bail!("{variable} names {}, where no program is", file.display());
        }
        return Ok(Some(file));
    }
    let on_path = names.iter().find_map(|name| workspace::on_path(name));
    Ok(on_path.or_else(|| places.iter().map(PathBuf::from).find(|file| file.is_file())))
}

/// The first number in what `--version` prints; `None` where a program prints nothing, as Chrome does on Windows.
fn major_version(program: &Path) -> Option<u32> {
    let output = Command::new(program).arg("--version").stderr(Stdio::null()).output().ok()?;
    first_number(&String::from_utf8_lossy(&output.stdout))
}

fn first_number(text: &str) -> Option<u32> {
    let start = text.find(|letter: char| letter.is_ascii_digit())?;
    let digits = text[start..].split(|letter: char| !letter.is_ascii_digit()).next()?;
    digits.parse().ok()
}

/// The words to put before an administrator's command: none for root, `sudo -n` where that asks no password, `None` for others.
fn administrator() -> Option<Vec<&'static str>> {
    let id = Command::new("id").arg("-u").output().ok()?;
    if String::from_utf8_lossy(&id.stdout).trim() == "0" {
        return Some(Vec::new());
    }
    let sudo = Command::new("sudo").args(["-n", "true"]).stderr(Stdio::null()).status().ok()?;
    sudo.success().then(|| vec!["sudo", "-n"])
}

fn install(before: &[&str]) -> Result<()> {
    let apt_get = |words: &[&str]| {
        let all: Vec<&str> = before
            .iter()
            .chain(&["env", "DEBIAN_FRONTEND=noninteractive", "apt-get"])
            .chain(words)
            .copied()
            .collect();
        let mut command = Command::new(all.first().copied().unwrap_or_default());
        command.args(all.iter().skip(1)).stdout(Stdio::null());
        workspace::run(&mut command)
    };
    apt_get(&["update"])?;
    apt_get(&[&["install", "--yes", "--no-install-recommends"], PACKAGES].concat())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn versions_are_read_from_what_the_programs_print() {
        let cases = [
            ("Chromium 156.0.7800.12 built on Debian 13", Some(156)),
            ("ChromeDriver 156.0.7800.12 (abc-refs/branch)", Some(156)),
            ("Google Chrome 99.1", Some(99)),
            ("", None),
        ];
        for (printed, expected) in cases {
            assert_eq!(first_number(printed), expected, "{printed}");
        }
    }
}
