//! From the crate `widget` to `dist/`: plain files with relative addresses, at home in any folder of any static host.
//!
//! 1. [`wasm`] compiles `widget`, cuts the module in two ([`segments`]), makes the JavaScript glue and shrinks both halves.
//! 2. The files of `www/` are taken as they are, `index.html` gets the default plan's drawings ([`picture`]),
//!    the [`schema`] of scenario files is laid beside it, and [`embedding`] adds what embedders read.
//!    [`minify`] shortens scripts and styles; [`offline`] tells the service worker what files there are.
//! 3. [`shelf`] puts the lot into `dist/` and clears what no longer belongs there.
//! 4. [`weight`] says what each file costs on the line and holds the sum to its budget; [`parts`] says where the code comes from.

use std::collections::BTreeMap;
use std::path::Path;

use anyhow::{Context, Result, bail};

use crate::workspace;

pub mod embedding;
pub mod minify;
pub mod offline;
pub mod parts;
pub mod picture;
pub mod schema;
pub mod segments;
pub mod shelf;
pub mod wasm;
pub mod weight;

/// Where the default plan's drawings go in `index.html`.
pub const PICTURE_MARK: &str = "<!-- picture -->";

/// How much time a build may spend on a smaller module.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Finish {
    /// For looking at: the module as it comes from the compiler.
    Quick,
    /// For publishing: the module goes through `wasm-opt`.
    Small,
}

/// Relative path, with `/` between folders, and content.
pub type Files = BTreeMap<String, Vec<u8>>;

/// Builds the site into `dist/` and returns what lies there.
///
/// # Errors
/// When a step fails; `dist/` is then as it was before.
pub fn build(finish: Finish) -> Result<Files> {
    let mut files = wasm::build(finish)?;
    let assets = shelf::read(&workspace::root().join("www"))?;
    for (name, content) in assets {
        if files.insert(name.clone(), content).is_some() {
            bail!("www/{name} has the name of a generated file");
        }
    }
    files.insert("index.html".into(), index()?.into_bytes());
    files.insert("picture.svg".into(), picture::alone().into_bytes());
    let page = files.get("embedding.html").context("www/embedding.html is missing")?;
    let page = embedding::page(&String::from_utf8_lossy(page));
    files.insert("embedding.html".into(), page.into_bytes());
    files.insert(embedding::TYPES.into(), embedding::types().into_bytes());
    files.insert(schema::FILE.into(), schema::text().into_bytes());
    if finish == Finish::Small {
        minify::shorten(&mut files)?;
    }
    let worker = offline::worker(&files)?;
    files.insert(offline::FILE.into(), worker.into_bytes());
    shelf::put(&files, &workspace::dist())?;
    Ok(files)
}

/// `cargo xtask build`: the site for publishing, and its weight.
///
/// # Errors
/// As [`build`].
pub fn run() -> Result<()> {
    let files = build(Finish::Small)?;
    print!("{}", weight::table(&files)?);
    Ok(())
}

fn index() -> Result<String> {
    let file = workspace::root().join("index.html");
    let page = read_text(&file)?;
    if !page.contains(PICTURE_MARK) {
        bail!("index.html has lost its mark {PICTURE_MARK}");
    }
    Ok(page.replace(PICTURE_MARK, &picture::picture()))
}

fn read_text(file: &Path) -> Result<String> {
    std::fs::read_to_string(file).with_context(|| format!("{} can't be read", file.display()))
}
