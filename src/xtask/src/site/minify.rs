//! Scripts and style sheets without what only people read. `www/` stays readable; a host sends less.

use std::fs;
use std::process::Command;

use anyhow::{Context, Result, bail};

use super::shelf::Files;
use crate::{npm, workspace};

/// The program, by its name on npm.
pub const TOOL: &str = "esbuild@0.25.12";

/// The script that must run in browsers of any age, and stays in the language they know.
const OLDEST: &str = "preflight.js";

/// Whether a file is made smaller. Not the service worker, whose marks the build has yet to find.
fn is_shortened(name: &str) -> bool {
    (name.ends_with(".js") || name.ends_with(".css")) && name != "sw.js"
}

/// Makes scripts and style sheets smaller, and nothing else about them different.
///
/// # Errors
/// When a file can't be read as what its name says. A missing npm is no error: the files stay as they are, and a line says so.
pub fn shorten(files: &mut Files) -> Result<()> {
    let package = match npm::tool(TOOL) {
        Ok(package) => package,
        Err(reason) => {
            println!("Scripts and styles are left as they are written: {reason:#}.");
            return Ok(());
        }
    };
    let folder = workspace::target()?.join("shorten");
    let (given, made) = (folder.join("given"), folder.join("made"));
    if folder.exists() {
        fs::remove_dir_all(&folder)?;
    }
    fs::create_dir_all(&given)?;
    let names: Vec<String> = files.keys().filter(|name| is_shortened(name)).cloned().collect();
    for name in &names {
        fs::write(given.join(name), &files[name])?;
    }
    let (old, new): (Vec<&String>, Vec<&String>) = names.iter().partition(|name| *name == OLDEST);
    for (names, language) in [(new, "esnext"), (old, "es5")] {
        let status = Command::new(package.join("bin").join("esbuild"))
            .args(["--minify", "--charset=utf8", "--log-level=warning"])
            .arg(format!("--target={language}"))
            .arg(format!("--outdir={}", made.display()))
            .args(names.iter().map(|name| given.join(name)))
            .status()
            .context("esbuild did not start")?;
        if !status.success() {
            bail!("esbuild could not read a script or a style sheet ({status})");
        }
    }
    for name in names {
        let short = fs::read(made.join(&name))?;
        files.insert(name, short);
    }
    Ok(())
}
