//! Programs that only npm brings: fetched once into a folder of cargo's target, and nowhere else.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use anyhow::{Context, Result, bail};

use crate::workspace;

/// What checks the TypeScript of embedders.
pub const TYPESCRIPT: &str = "typescript@5.9.3";
/// What checks pages for barriers, by the rules of WCAG.
pub const AXE: &str = "axe-core@4.14.1";

/// The folder of a package such as `binaryen@132.0.0`, installed below `folder` when it isn't there in this version.
///
/// # Errors
/// When npm is missing or can't install it; the message is a sentence for a developer.
pub fn package(folder: &Path, wanted: &str) -> Result<PathBuf> {
    let (name, version) = wanted.split_once('@').context("a package is named with its version")?;
    let package = folder.join("node_modules").join(name);
    let installed = fs::read_to_string(package.join("package.json"))
        .ok()
        .and_then(|text| serde_json::from_str::<serde_json::Value>(&text).ok())
        .is_some_and(|package| package["version"] == version);
    if installed {
        return Ok(package);
    }
    println!("Fetching {wanted} with npm …");
    fs::create_dir_all(folder).with_context(|| format!("{} can't be made", folder.display()))?;
    let npm = if cfg!(windows) { "npm.cmd" } else { "npm" };
    let status = Command::new(npm)
        .args(["install", "--no-save", "--no-audit", "--no-fund", "--loglevel=error", "--prefix"])
        .args([folder.as_os_str(), wanted.as_ref()])
        .stdout(Stdio::null())
        .status()
        .context("npm did not start; it comes with Node.js 20 or newer")?;
    if !status.success() {
        bail!("npm could not install {wanted} ({status})");
    }
    Ok(package)
}

/// The same in a folder of its own: npm takes away what it doesn't know from a folder it installs into.
///
/// # Errors
/// As [`package`].
pub fn tool(wanted: &str) -> Result<PathBuf> {
    let name = wanted.split('@').next().unwrap_or(wanted);
    package(&workspace::target()?.join("tools").join(name), wanted)
}
