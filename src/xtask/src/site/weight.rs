//! What the site costs on the line: bytes of every file as it is, with gzip -9 and with brotli 11.

use std::fmt::Write as _;
use std::io::Write as _;

use anyhow::{Context, Result};
use planting::manifest;

use super::parts;
use super::shelf::Files;

/// The files a browser has loaded when a visitor can first move a slider. All others come later or never: `rowlight-rooms.js` is the
/// script that fetches the other files of the module, each when it is asked for.
pub const FIRST_INTERACTION: &[&str] = &[
    "index.html",
    "rowlight.css",
    "preflight.js",
    "boot.js",
    "loader.js",
    "rowlight.js",
    "rowlight-rooms.js",
    "rowlight_bg.wasm",
];

/// The same where the planner is an element in another page.
pub const IN_ANOTHER_PAGE: &[&str] = &[
    "rowlight-plan.js",
    "loader.js",
    "picture.svg",
    "rowlight.css",
    "rowlight.js",
    "rowlight-rooms.js",
    "rowlight_bg.wasm",
];

/// What may be loaded before the first slider moves, with brotli `[bytes]` (a KB is 1000 bytes). It only ever goes down, or a change
/// says why not. It went up from 190,000: sliders and handles that tell a finger that scrolls from one that sets, scales with ticks, the
/// pinned drawing and its faint outline took 9,500, remedies that are looked at before they are taken 1,900, and trees grown from their
/// trunk 900.
pub const BUDGET: usize = 204_000;

/// What a reader may have to load who asks for one of the parts that come later, such as a chapter turned to: its own file and those it
/// shares with others, with brotli `[bytes]`.
pub const ROOM_BUDGET: usize = 60_000;

/// The same for a part that belongs to every chapter. The printed set and the files to take along tell of all rooms, and so bring
/// along the computing of rooms whose own files have not come. It went up from 90,000 with remedies, which are tried on the whole plan.
pub const SERVICE_BUDGET: usize = 110_000;

/// Parts of the module named when the budget is exceeded.
const NAMED: usize = 12;

/// Bytes of one file, or of several together.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Weight {
    /// As it lies on the disk.
    pub raw: usize,
    /// With gzip at level 9, as most simple hosts send it.
    pub gzip: usize,
    /// With brotli at quality 11, as a host sends files it has compressed beforehand.
    pub brotli: usize,
}

impl Weight {
    /// Weighs one file.
    ///
    /// ```
    /// let weight = xtask::site::weight::Weight::of(&[b'a'; 1000])?;
    /// assert_eq!(weight.raw, 1000);
    /// assert!(weight.gzip < 40 && weight.brotli < 40);
    /// # Ok::<(), anyhow::Error>(())
    /// ```
    ///
    /// # Errors
    /// None that a writer in memory can give.
    pub fn of(content: &[u8]) -> Result<Self> {
        let mut gzip = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::best());
        gzip.write_all(content)?;
        let mut brotli = Vec::new();
        let settings =
            brotli::enc::BrotliEncoderParams { quality: 11, size_hint: content.len(), ..Default::default() };
        brotli::BrotliCompress(&mut &content[..], &mut brotli, &settings)?;
        Ok(Self { raw: content.len(), gzip: gzip.finish()?.len(), brotli: brotli.len() })
    }

    fn plus(self, other: Self) -> Self {
        Self { raw: self.raw + other.raw, gzip: self.gzip + other.gzip, brotli: self.brotli + other.brotli }
    }
}

/// What these files weigh together, one of the two lists above.
///
/// # Errors
/// When one of them is missing.
pub fn together(files: &Files, names: &[&str]) -> Result<Weight> {
    names.iter().try_fold(Weight::default(), |sum, name| {
        let content = files.get(*name).with_context(|| format!("{name} is missing from the site"))?;
        Ok(sum.plus(Weight::of(content)?))
    })
}

/// The files of the first module that a part takes, by its key: its own, and those it shares.
fn files_of<'a>(files: &'a Files, key: &str) -> impl Iterator<Item = &'a Vec<u8>> {
    let takes = move |name: &str| {
        let parts = name.strip_prefix("rowlight-").and_then(|rest| rest.strip_suffix("_bg.wasm"));
        parts.is_some_and(|parts| !parts.starts_with("plain") && parts.split('-').any(|part| part == key))
    };
    files.iter().filter(move |(name, _)| takes(name)).map(|(_, content)| content)
}

/// What a part that comes later weighs, by its key, with all it shares with others.
///
/// # Errors
/// As [`Weight::of`].
fn room(files: &Files, key: &str) -> Result<Weight> {
    files_of(files, key).try_fold(Weight::default(), |sum, content| Ok(sum.plus(Weight::of(content)?)))
}

/// What there is to say where the files are over the budget: by how much, and the largest parts of the unbound `module`.
///
/// ```
/// use xtask::site::weight::{FIRST_INTERACTION, IN_ANOTHER_PAGE, over_budget};
/// let within = FIRST_INTERACTION.iter().chain(IN_ANOTHER_PAGE).map(|name| (name.to_string(), vec![0; 1000])).collect();
/// assert_eq!(over_budget(&within, b"\0asm\x01\0\0\0")?, None);
/// # Ok::<(), anyhow::Error>(())
/// ```
///
/// # Errors
/// When `module` is none.
pub fn over_budget(files: &Files, module: &[u8]) -> Result<Option<String>> {
    let sum = together(files, FIRST_INTERACTION)?.brotli.max(together(files, IN_ANOTHER_PAGE)?.brotli);
    let mut words = String::new();
    for key in manifest::files() {
        let weight = room(files, key)?.brotli;
        let budget = if manifest::SERVICES.contains(&key) { SERVICE_BUDGET } else { ROOM_BUDGET };
        if weight > budget {
            writeln!(words, "{weight} bytes of `{key}` with brotli, over its budget of {budget}.")?;
        }
    }
    if sum <= BUDGET {
        return Ok((!words.is_empty()).then_some(words));
    }
    write!(
        words,
        "{sum} bytes to first interaction with brotli, {} over the budget of {BUDGET}.\nBytes of code in the module before it is shrunk, by crate:\n",
        sum - BUDGET
    )?;
    for (name, size) in parts::by_crate(module)?.into_iter().take(NAMED) {
        writeln!(words, "{name:<34} {size:>10}")?;
    }
    Ok(Some(words))
}

/// One line a file, and the sum that counts. An asterisk marks the files the sum is made of.
///
/// # Errors
/// As [`Weight::of`].
pub fn table(files: &Files) -> Result<String> {
    let mut table = format!("{:<44} {:>10} {:>10} {:>10}\n", "bytes in dist/", "raw", "gzip -9", "brotli 11");
    for (name, content) in files {
        let mark = if FIRST_INTERACTION.contains(&name.as_str()) { "*" } else { "" };
        line(&mut table, &format!("{name}{mark}"), Weight::of(content)?)?;
    }
    line(&mut table, "needed to first interaction (*)", together(files, FIRST_INTERACTION)?)?;
    line(&mut table, "the same in another page", together(files, IN_ANOTHER_PAGE)?)?;
    for key in manifest::files() {
        line(&mut table, &format!("{key}, with what it shares"), room(files, key)?)?;
    }
    Ok(table)
}

fn line(table: &mut String, name: &str, weight: Weight) -> Result<()> {
    let Weight { raw, gzip, brotli } = weight;
    writeln!(table, "{name:<44} {raw:>10} {gzip:>10} {brotli:>10}")?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_site_over_budget_is_told_so() -> Result<()> {
        // Bytes brotli finds no pattern in.
        let mut state = 1_u32;
        let noise = (0..=BUDGET).map(|_| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            state.to_be_bytes()[0]
        });
        let mut files: Files = FIRST_INTERACTION
            .iter()
            .chain(IN_ANOTHER_PAGE)
            .map(|name| ((*name).to_owned(), Vec::new()))
            .collect();
        files.insert("rowlight_bg.wasm".to_owned(), noise.collect());
        let words = over_budget(&files, b"\0asm\x01\0\0\0")?.unwrap_or_default();
        assert!(words.contains("over the budget of"), "{words}");
        Ok(())
    }
}
