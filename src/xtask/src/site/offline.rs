//! The service worker's list of files, and the name of their version.

use std::fmt::Write as _;

use anyhow::{Context, Result};

use super::shelf::Files;

/// The service worker in the built site.
pub const FILE: &str = "sw.js";
/// What the build replaces in it.
const MARKS: [&str; 2] = ["const VERSION = \"none\";", "const FILES = {};"];

/// Whether a file is for a reader of the planner, not for a developer.
fn is_needed(name: &str) -> bool {
    name != FILE && !name.ends_with(".d.ts")
}

pub(super) fn crc_32(content: &[u8]) -> u32 {
    let mut sum = flate2::Crc::new();
    sum.update(content);
    sum.sum()
}

/// The service worker with the version of these files: another name wherever a byte of any differs.
///
/// # Errors
/// When `www/sw.js` is missing or has lost its marks.
pub fn worker(files: &Files) -> Result<String> {
    let text = files.get(FILE).context("www/sw.js is missing")?;
    let text = String::from_utf8_lossy(text);
    let mut list = String::from("const FILES = {\n");
    for (name, content) in files.iter().filter(|(name, _)| is_needed(name)) {
        let _ = writeln!(list, "  \"{name}\": {},", crc_32(content));
    }
    list.push_str("};");
    let version = format!("const VERSION = \"{:08x}\";", crc_32(format!("{list}{text}").as_bytes()));
    let [version_mark, list_mark] = MARKS;
    if !(text.contains(version_mark) && text.contains(list_mark)) {
        anyhow::bail!("www/sw.js has lost its marks");
    }
    Ok(text.replace(version_mark, &version).replace(list_mark, &list))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_change_is_another_version() -> Result<()> {
        let worker_with = |content: &str, marks: [&str; 2]| {
            worker(&Files::from([
                (FILE.to_owned(), marks.join("\n").into_bytes()),
                ("index.html".to_owned(), content.as_bytes().to_vec()),
                ("types.d.ts".to_owned(), Vec::new()),
            ]))
        };
        let one = worker_with("123456789", MARKS)?;
        // The check value of CRC-32, as its catalogues give it: 0xCBF43926.
        assert!(one.contains("\"index.html\": 3421780262,") && !one.contains("types.d.ts"), "{one}");
        assert_eq!(one, worker_with("123456789", MARKS)?);
        assert_ne!(one.lines().next(), worker_with("123456780", MARKS)?.lines().next());
        assert!(worker_with("1", ["", ""]).is_err());
        Ok(())
    }
}
