//! The WebAssembly module and its JavaScript glue: compile, bind, shrink.
//!
//! The glue is made in this process by the library behind wasm-bindgen's own tool, pinned to the version of the crate. No second
//! program has to be installed, and the two versions, which must be equal, can't drift apart.
//!
//! For publishing, each module comes in several files ([`cut`](super::cut)), and there are two modules: one that sums light on sixteen
//! lanes at once (WebAssembly SIMD, in every browser since 2023), and a plain one for those that can't. The loader picks. For looking
//! at, there is one module in one file, as the compiler made it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail};
use wasm_bindgen_cli_support::Bindgen;

use super::shelf::{self, Files};
#[cfg(feature = "publish")]
use crate::npm;
use crate::workspace;

/// The platform of the module.
pub const TARGET: &str = "wasm32-unknown-unknown";

/// How much time a build may spend on a smaller module.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Finish {
    /// For looking at: one module in one file, as it comes from a compiler in a hurry; scripts and styles as they are written.
    Quick,
    /// For publishing: two modules, each cut into several files that go through `wasm-opt`; scripts and styles shortened.
    Small,
}

/// A module: what its files are called, and whether it uses SIMD.
#[derive(Clone, Copy)]
struct Make {
    name: &'static str,
    simd: bool,
}

impl Make {
    /// The first file, as the glue asks for it.
    fn module(self) -> String {
        format!("{}_bg.wasm", self.name)
    }
}

/// The one nearly every browser loads.
const SIMD: Make = Make { name: "rowlight", simd: true };
/// The one for browsers without SIMD.
#[cfg(feature = "publish")]
const PLAIN: Make = Make { name: "rowlight-plain", simd: false };

#[cfg(feature = "publish")]
/// The npm package that brings `wasm-opt`; its crates.io sister is two years behind.
const OPTIMISER: &str = "binaryen@132.0.0";

#[cfg(feature = "publish")]
/// What the module may use, named one by one: `--all-features` makes binaryen write proposals that no browser accepts yet.
const WASM_OPT: &[&str] = &[
    "-Oz",
    // Until nothing gets smaller any more.
    "--converge",
    "--enable-bulk-memory",
    "--enable-bulk-memory-opt",
    "--enable-reference-types",
    "--enable-multivalue",
    "--enable-mutable-globals",
    "--enable-nontrapping-float-to-int",
    "--enable-sign-ext",
    "--enable-simd",
];

/// So that the module can be cut: the linker says what points where, and leaves texts apart, for those of the later part to move there.
const LINKING: &[&str] = &["-Clink-arg=--emit-relocs", "-Clink-arg=--no-merge-data-segments"];

/// The profiles of the workspace's `Cargo.toml`: for publishing, and for looking at.
const PROFILES: [&str; 2] = ["site", "look"];

/// Compiles `widget` and returns `rowlight.js`, `rowlight_bg.wasm`, the TypeScript types and what JavaScript the crates bring along; for
/// publishing also the files that come later and the plain module with all of its own.
///
/// # Errors
/// When the target is missing and can't be added, or a step fails. A missing npm is no error: the module stays larger, and a line says so.
pub fn build(finish: Finish) -> Result<Files> {
    ensure_target()?;
    let target = workspace::target()?;
    match finish {
        Finish::Quick => {
            let glue = target.join("glue");
            bind(SIMD, &compile(SIMD, finish, &target)?, &glue)?;
            gathered(SIMD, &glue)
        }
        #[cfg(feature = "publish")]
        Finish::Small => {
            let mut files = module(SIMD, &target)?;
            let plain = module(PLAIN, &target)?;
            files.extend(plain.into_iter().filter(|(name, _)| !name.ends_with(".d.ts")));
            Ok(files)
        }
        #[cfg(not(feature = "publish"))]
        Finish::Small => bail!("this program was built without what publishing takes"),
    }
}

#[cfg(feature = "publish")]
fn module(make: Make, target: &Path) -> Result<Files> {
    // A folder of its own: other flags in the same one would compile everything anew each time.
    let place = if make.simd { target.to_path_buf() } else { target.join("plain") };
    let compiled = compile(make, Finish::Small, &place)?;
    let (parts, glue) = (place.join("parts"), place.join("glue"));
    let cut = super::cut::cut(make.name, &compiled, &parts)?;
    bind(make, &cut.first, &glue)?;
    let mut modules = vec![make.module()];
    for (name, file) in &cut.others {
        fs::rename(file, glue.join(name))?;
        modules.extend(name.ends_with(".wasm").then(|| name.clone()));
    }
    optimise(&glue, &modules, &target.join("tools"))?;
    gathered(make, &glue)
}

fn gathered(make: Make, glue: &Path) -> Result<Files> {
    let mut files = shelf::read(glue)?;
    // Types of the module's raw exports: the glue is the only one that calls those.
    files.remove(&format!("{}.d.ts", make.module()));
    Ok(files)
}

/// Adds the target with rustup when this Rust hasn't got it.
///
/// # Errors
/// When there is no rustup, or it fails.
pub fn ensure_target() -> Result<()> {
    let rustc = std::env::var_os("RUSTC").unwrap_or_else(|| "rustc".into());
    let output = Command::new(rustc)
        .args(["--print", "target-libdir", "--target", TARGET])
        .current_dir(workspace::root())
        .output()
        .context("rustc did not start")?;
    if Path::new(String::from_utf8_lossy(&output.stdout).trim()).is_dir() {
        return Ok(());
    }
    if workspace::on_path("rustup").is_none() {
        bail!(
            "This Rust has no {TARGET} target and there is no rustup to add it with.\n\
             Install Rust with rustup, or your system's package with Rust's standard library for {TARGET}."
        );
    }
    println!("Adding the {TARGET} target …");
    workspace::run(Command::new("rustup").args(["target", "add", TARGET]).current_dir(workspace::root()))
}

fn compile(make: Make, finish: Finish, target: &Path) -> Result<PathBuf> {
    let mut cargo = workspace::cargo();
    cargo.args(["build", "--package", "widget", "--lib", "--target", TARGET, "--profile", profile(finish)]);
    let mut flags = remapped_paths();
    match finish {
        Finish::Quick => {
            cargo.arg("--no-default-features");
        }
        Finish::Small => flags.extend(LINKING.iter().map(|&flag| flag.to_owned())),
    }
    if make.simd {
        flags.push("-Ctarget-feature=+simd128".to_owned());
    }
    cargo.args(["--config", &format!("target.{TARGET}.rustflags={}", serde_json::to_string(&flags)?)]);
    cargo.arg("--target-dir").arg(target);
    workspace::run(&mut cargo)?;
    let compiled = target.join(TARGET).join(profile(finish)).join("widget.wasm");
    if !compiled.is_file() {
        bail!("{} is missing: `widget` must be a cdylib", compiled.display());
    }
    Ok(compiled)
}

fn profile(finish: Finish) -> &'static str {
    let [small, quick] = PROFILES;
    match finish {
        Finish::Quick => quick,
        Finish::Small => small,
    }
}

/// The module for publishing as it comes from the compiler, names and all, in a target folder.
pub fn unbound(target: &Path) -> PathBuf {
    target.join(TARGET).join(profile(Finish::Small)).join("widget.wasm")
}

/// Panic messages carry the paths of source files. Shortened, two machines make the same module, and it doesn't tell whose they were.
fn remapped_paths() -> Vec<String> {
    let home = std::env::var_os("CARGO_HOME")
        .map(PathBuf::from)
        .or_else(|| Some(std::env::home_dir()?.join(".cargo")));
    let mut flags = Vec::new();
    if let Some(sources) = home.map(|home| home.join("registry").join("src")) {
        for registry in fs::read_dir(sources).into_iter().flatten().flatten() {
            flags.push(format!("--remap-path-prefix={}=crates", registry.path().display()));
        }
    }
    flags.push(format!("--remap-path-prefix={}=.", workspace::root().display()));
    flags
}

fn bind(make: Make, compiled: &Path, glue: &Path) -> Result<()> {
    if glue.exists() {
        fs::remove_dir_all(glue)?;
    }
    Bindgen::new()
        .input_path(compiled)
        .out_name(make.name)
        .web(true)?
        .typescript(true)
        .omit_default_module_path(false)
        // The files that come later take hold of the module through these.
        .keep_lld_exports(true)
        .remove_name_section(true)
        .remove_producers_section(true)
        .generate(glue)
        .context("the JavaScript glue can't be made")
}

#[cfg(feature = "publish")]
fn optimise(folder: &Path, modules: &[String], tools: &Path) -> Result<()> {
    let Some(program) = optimiser(tools) else {
        println!(
            "The module is left as the compiler made it, about 40 % larger than it need be: no wasm-opt."
        );
        return Ok(());
    };
    for module in modules.iter().map(|name| folder.join(name)) {
        let smaller = module.with_extension("smaller");
        workspace::run(
            Command::new("node").arg(&program).args(WASM_OPT).arg(&module).arg("-o").arg(&smaller),
        )?;
        fs::rename(smaller, module)?;
    }
    Ok(())
}

/// Whether there is a `wasm-opt`: without one, the module is larger than what is published.
pub fn has_optimiser(target: &Path) -> bool {
    target.join("tools").join("node_modules").join("binaryen").join("bin").join("wasm-opt").is_file()
}

#[cfg(feature = "publish")]
/// The script `wasm-opt`, installed into `tools` and nowhere else; `None`, with a line that says why, when that can't be done.
fn optimiser(tools: &Path) -> Option<PathBuf> {
    if workspace::on_path("node").is_none() {
        println!("There is no node to run wasm-opt with.");
        return None;
    }
    match npm::package(tools, OPTIMISER) {
        Ok(package) => Some(package.join("bin").join("wasm-opt")).filter(|program| program.is_file()),
        Err(reason) => {
            println!("{reason:#}.");
            None
        }
    }
}
