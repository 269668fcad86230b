//! The WebAssembly module and its JavaScript glue: compile, bind, shrink.
//!
//! The glue is made in this process by the library behind wasm-bindgen's own tool, pinned to the version of the crate. No second
//! program has to be installed, and the two versions, which must be equal, can't drift apart.
//!
//! Each module comes in two files. What only `widget/src/later.rs` reaches isn't needed before the first slider moves: it is cut
//! out before the glue is made and fetched when the page stands, by a small script of its own (`Make::link`).
//!
//! For publishing there are two modules: one that sums light on sixteen lanes at once (WebAssembly SIMD, in every browser since
//! 2023), and a plain one for those that can't. The loader picks.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, anyhow, bail};
use wasm_bindgen_cli_support::Bindgen;

use super::{Files, Finish, offline, segments, shelf};
use crate::{npm, workspace};

/// The platform of the module.
pub const TARGET: &str = "wasm32-unknown-unknown";
const PROFILE: &str = "site";

/// A module: what its files are called, and whether it uses SIMD.
#[derive(Clone, Copy)]
struct Make {
    name: &'static str,
    simd: bool,
}

impl Make {
    /// The module, as the glue asks for it.
    fn module(self) -> String {
        format!("{}_bg.wasm", self.name)
    }

    /// What comes later.
    fn later(self) -> String {
        format!("{}-later_bg.wasm", self.name)
    }

    /// The script that fetches it.
    fn link(self) -> String {
        format!("{}-later.js", self.name)
    }
}

/// The one nearly every browser loads.
const SIMD: Make = Make { name: "rowlight", simd: true };
/// The one for browsers without SIMD.
const PLAIN: Make = Make { name: "rowlight-plain", simd: false };

/// The npm package that brings `wasm-opt`; its crates.io sister is two years behind.
const OPTIMISER: &str = "binaryen@132.0.0";

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

/// What the part that comes later is called by the tool that cuts it out, after `wasm_split` in `widget/src/later.rs`.
const CUT: &str = "split_later.wasm";

/// A name by which the two files and the script between them know each other, as the cutting tool has it in every build.
const SHARED: &str = "__wasm_split_shared0";

/// So that the module can be cut: the linker says what points where, and leaves texts apart, for those of the later part to move there.
const LINKING: &[&str] = &["-Clink-arg=--emit-relocs", "-Clink-arg=--no-merge-data-segments"];

/// Compiles `widget` and returns `rowlight.js`, `rowlight_bg.wasm`, what comes later, the TypeScript types and what JavaScript the crates bring along;
/// for publishing the plain module and its glue too.
///
/// # Errors
/// When the target is missing and can't be added, or a step fails. A missing npm is no error: the module stays larger, and a line says so.
pub fn build(finish: Finish) -> Result<Files> {
    ensure_target()?;
    let target = workspace::target()?;
    let mut files = module(SIMD, finish, &target)?;
    if finish == Finish::Small {
        let plain = module(PLAIN, finish, &target)?;
        files.extend(plain.into_iter().filter(|(name, _)| !name.ends_with(".d.ts")));
    }
    Ok(files)
}

fn module(make: Make, finish: Finish, target: &Path) -> Result<Files> {
    // A folder of its own: other flags in the same one would compile everything anew each time.
    let place = if make.simd { target.to_path_buf() } else { target.join("plain") };
    let compiled = compile(make, &place)?;
    let glue = place.join("glue");
    let parts = place.join("parts");
    cut(make, &compiled, &parts)?;
    bind(make, &parts.join("main.wasm"), &glue)?;
    fs::rename(parts.join(CUT), glue.join(make.later()))?;
    let link = fs::read_to_string(parts.join(make.link()))?;
    if !link.contains(CUT) {
        bail!("{} doesn't name {CUT}", make.link());
    }
    fs::write(glue.join(make.link()), link.replace(CUT, &make.later()))?;
    if finish == Finish::Small {
        optimise(&glue, &[make.module(), make.later()], &target.join("tools"))?;
    }
    let mut files = shelf::read(&glue)?;
    // Types of the module's raw exports: the glue is the only one that calls those.
    files.remove(&format!("{}.d.ts", make.module()));
    Ok(files)
}

/// Cuts what comes later out of a module as the compiler made it.
fn cut(make: Make, compiled: &Path, parts: &Path) -> Result<()> {
    if parts.exists() {
        fs::remove_dir_all(parts)?;
    }
    let module = fs::read(compiled)?;
    let (main, glue, link) =
        (parts.join("main.wasm"), format!("./{}.js", make.name), format!("./{}", make.link()));
    let mut options = wasm_split_cli_support::Options::new(&module);
    options.output_dir = parts;
    options.main_out_path = &main;
    options.main_module = &glue;
    options.link_name = &link;
    wasm_split_cli_support::transform(options)
        .map_err(|reason| anyhow!("the module can't be cut in two: {reason:#}"))?;
    fs::write(&main, segments::joined(&fs::read(&main)?)?)?;
    pair([main, parts.join(CUT), parts.join(make.link())])
}

/// Gives files that belong together a name in common that no others have, so that a browser refuses those of two versions: to each
/// other they would look alike, and the second would read the first at the wrong places.
fn pair(files: [PathBuf; 3]) -> Result<()> {
    let contents = files.each_ref().map(fs::read);
    let contents = contents.into_iter().collect::<std::io::Result<Vec<_>>>()?;
    let mark = offline::crc_32(&contents.concat());
    // As long as the one it stands for: lengths of names and sections stay what they are.
    let own = format!("__wasm_split_{:07x}", mark & 0xfff_ffff);
    for (file, content) in files.iter().zip(contents) {
        let named = with_name(&content, SHARED.as_bytes(), own.as_bytes());
        if named == content {
            bail!("{} doesn't name {SHARED}", file.display());
        }
        fs::write(file, named)?;
    }
    Ok(())
}

/// The content with one name in place of another of the same length.
fn with_name(content: &[u8], name: &[u8], own: &[u8]) -> Vec<u8> {
    let mut out = content.to_vec();
    let mut at = 0;
    while let Some(place) =
        out.get(at..).and_then(|rest| rest.windows(name.len()).position(|part| part == name))
    {
        at += place;
        out[at..at + name.len()].copy_from_slice(own);
    }
    out
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

fn compile(make: Make, target: &Path) -> Result<PathBuf> {
    let mut cargo = workspace::cargo();
    cargo.args(["build", "--package", "widget", "--lib", "--target", TARGET, "--profile", PROFILE]);
    let mut flags = remapped_paths();
    flags.extend(LINKING.iter().map(|&flag| flag.to_owned()));
    if make.simd {
        flags.push("-Ctarget-feature=+simd128".to_owned());
    }
    cargo.args(["--config", &format!("target.{TARGET}.rustflags={}", serde_json::to_string(&flags)?)]);
    cargo.arg("--target-dir").arg(target);
    workspace::run(&mut cargo)?;
    let compiled = unbound(target);
    if !compiled.is_file() {
        bail!("{} is missing: `widget` must be a cdylib", compiled.display());
    }
    Ok(compiled)
}

/// The module as it comes from the compiler, names and all, in a target folder.
pub fn unbound(target: &Path) -> PathBuf {
    target.join(TARGET).join(PROFILE).join("widget.wasm")
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
        // The later part takes hold of the module through these.
        .keep_lld_exports(true)
        .remove_name_section(true)
        .remove_producers_section(true)
        .generate(glue)
        .context("the JavaScript glue can't be made")
}

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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_change_and_lengths_stay() {
        let given = b"\x03one\x03two\x03one\x02on";
        assert_eq!(with_name(given, b"one", b"six"), b"\x03six\x03two\x03six\x02on");
        assert_eq!(with_name(given, b"ten", b"six"), given);
    }
}
