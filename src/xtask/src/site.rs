//! From the crate `widget` to `dist/`: plain files with relative addresses, at home in any folder of any static host.
//!
//! 1. [`wasm`] compiles `widget` and makes the JavaScript glue; for publishing the module is cut into several files (`cut`, `segments`)
//!    and shrunk.
//! 2. The files of `www/` are taken as they are but for the style sheets of the rooms, which become one ([`styles`]);
//!    `index.html` gets the default plan's drawings ([`picture`]),
//!    the [`schema`] of scenario files is laid beside it, and [`embedding`] adds what embedders read.
//!    [`minify`] shortens scripts and styles; [`offline`] tells the service worker what files there are.
//! 3. [`shelf`] puts the lot into `dist/` and clears what no longer belongs there.
//! 4. `weight` says what each file costs on the line and holds the sums to their budgets; `parts` says where the code comes from.
//!
//! What only publishing takes stands behind the feature `publish`: it takes longer to compile than all the rest of this program.

use std::path::Path;

use anyhow::{Context, Result, bail};

use crate::workspace;

#[cfg(feature = "publish")]
pub mod cut;
pub mod embedding;
#[cfg(feature = "publish")]
pub mod minify;
pub mod offline;
#[cfg(feature = "publish")]
pub mod parts;
pub mod picture;
pub mod schema;
#[cfg(feature = "publish")]
pub mod segments;
pub mod shelf;
pub mod styles;
pub mod wasm;
#[cfg(feature = "publish")]
pub mod weight;

pub use shelf::Files;
pub use wasm::Finish;

/// Where the default plan's drawings go in `index.html`.
pub const PICTURE_MARK: &str = "<!-- picture -->";

/// The line of `index.html` that asks early for the script which fetches the parts of the module.
const PRELOADED: &str = "    <link rel=\"modulepreload\" href=\"rowlight-rooms.js\">\n";

/// Builds the site into `dist/` and returns what lies there.
///
/// # Errors
/// When a step fails; `dist/` is then as it was before.
pub fn build(finish: Finish) -> Result<Files> {
    let mut files = wasm::build(finish)?;
    let mut assets = shelf::read(&workspace::root().join("www"))?;
    styles::join(&mut assets)?;
    for (name, content) in assets {
        if files.insert(name.clone(), content).is_some() {
            bail!("www/{name} has the name of a generated file");
        }
    }
    files.insert("index.html".into(), index(finish)?.into_bytes());
    files.insert("picture.svg".into(), picture::alone().into_bytes());
    let page = files.get("embedding.html").context("www/embedding.html is missing")?;
    let page = embedding::page(&String::from_utf8_lossy(page));
    files.insert("embedding.html".into(), page.into_bytes());
    let builder = files.get("builder.html").context("www/builder.html is missing")?;
    let builder = embedding::builder(&String::from_utf8_lossy(builder));
    files.insert("builder.html".into(), builder.into_bytes());
    files.insert(embedding::TYPES.into(), embedding::types().into_bytes());
    files.insert(schema::FILE.into(), schema::text().into_bytes());
    #[cfg(feature = "publish")]
    if finish == Finish::Small {
        minify::shorten(&mut files)?;
    }
    let worker = offline::worker(&files)?;
    files.insert(offline::FILE.into(), worker.into_bytes());
    shelf::put(&files, &workspace::dist())?;
    Ok(files)
}

#[cfg(feature = "publish")]
/// `cargo xtask build`: the site for publishing, and its weight.
///
/// # Errors
/// As [`build`].
pub fn run() -> Result<()> {
    let files = build(Finish::Small)?;
    print!("{}", weight::table(&files)?);
    Ok(())
}

fn index(finish: Finish) -> Result<String> {
    let file = workspace::root().join("index.html");
    let page = read_text(&file)?;
    if !page.contains(PICTURE_MARK) {
        bail!("index.html has lost its mark {PICTURE_MARK}");
    }
    // What isn't cut needs no script that fetches the parts.
    let page = if finish == Finish::Quick { page.replace(PRELOADED, "") } else { page };
    Ok(page.replace(PICTURE_MARK, &picture::picture()))
}

fn read_text(file: &Path) -> Result<String> {
    std::fs::read_to_string(file).with_context(|| format!("{} can't be read", file.display()))
}
