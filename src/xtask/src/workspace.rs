//! Where things lie, and how a command is run: the root of the workspace, cargo's target folder, the finished site.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use anyhow::{Context, Result, bail};

/// The root of the workspace.
///
/// ```
/// assert!(xtask::workspace::root().join("rust-toolchain.toml").is_file());
/// ```
pub fn root() -> PathBuf {
    // Asked for when run, not when compiled: a target folder shared by two checkouts keeps one program.
    let started_for = std::env::var_os("CARGO_MANIFEST_DIR").map(PathBuf::from);
    let compiled_in = Path::new(env!("CARGO_MANIFEST_DIR"));
    let here = started_for.as_deref().unwrap_or(compiled_in);
    let is_root = |folder: &&Path| folder.join("rust-toolchain.toml").is_file();
    here.ancestors().find(is_root).unwrap_or(here).to_path_buf()
}

/// The folder with the finished site.
///
/// ```
/// assert!(xtask::workspace::dist().ends_with("dist"));
/// ```
pub fn dist() -> PathBuf {
    root().join("dist")
}

/// Cargo's target folder, wherever the developer has put it.
///
/// # Errors
/// When `cargo metadata` fails.
pub fn target() -> Result<PathBuf> {
    let output = cargo()
        .args(["metadata", "--no-deps", "--format-version", "1"])
        .stderr(Stdio::inherit())
        .output()
        .context("cargo did not start")?;
    if !output.status.success() {
        bail!("`cargo metadata` failed");
    }
    let metadata: serde_json::Value = serde_json::from_slice(&output.stdout)?;
    let folder = metadata["target_directory"].as_str().context("`cargo metadata` names no target folder")?;
    Ok(PathBuf::from(folder))
}

/// The cargo that started this program, set to work in the root.
pub fn cargo() -> Command {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.current_dir(root());
    command
}

/// Runs a command to its end and shows what it prints.
///
/// # Errors
/// When it can't be started, or ends with another code than 0.
pub fn run(command: &mut Command) -> Result<()> {
    let program = command.get_program().to_string_lossy().into_owned();
    let status = command.status().with_context(|| format!("{program} did not start"))?;
    if !status.success() {
        bail!("{} failed ({status})", said(command));
    }
    Ok(())
}

/// The first file of this name on `PATH`.
pub fn on_path(name: &str) -> Option<PathBuf> {
    let file_name = format!("{name}{}", std::env::consts::EXE_SUFFIX);
    std::env::split_paths(&std::env::var_os("PATH")?)
        .map(|folder| folder.join(&file_name))
        .find(|file| file.is_file())
}

/// The command as a person would type it, without the folder its program lies in.
fn said(command: &Command) -> String {
    let program = Path::new(command.get_program());
    let mut words = vec![program.file_stem().unwrap_or_default().to_string_lossy()];
    words.extend(command.get_args().map(|word| word.to_string_lossy()));
    format!("`{}`", words.join(" "))
}
