//! One style sheet from those of `www/rooms/`, in the order in which they are to count.

use anyhow::{Result, bail};
use planting::manifest::CHAPTERS;

use super::shelf::Files;

/// The style sheet in the built site.
pub const FILE: &str = "rowlight.css";
/// Where its parts lie below `www/`.
const FOLDER: &str = "rooms/";
/// What comes first: the page, its head, and what every chapter shows.
const FIRST: [&str; 7] = ["hall", "head", "strip", "controls", "figures", "board", "share"];
/// What comes after the chapters, because it tells all that again: for wide pages, for readers who force their colours.
const LAST: [&str; 2] = ["wide", "contrast"];

/// Puts the sheets of the rooms together in place of the parts. A chapter has one where it shows what no other does.
///
/// # Errors
/// When a part is missing, or there is one that nobody names.
pub fn join(files: &mut Files) -> Result<()> {
    let mut joined = Vec::new();
    let chapters = CHAPTERS.iter().map(|chapter| (chapter.key, false));
    let every =
        FIRST.map(|name| (name, true)).into_iter().chain(chapters).chain(LAST.map(|name| (name, true)));
    for (name, is_needed) in every {
        match files.remove(&format!("{FOLDER}{name}.css")) {
            Some(sheet) => {
                joined.extend(sheet);
                joined.push(b'\n');
            }
            None if is_needed => bail!("www/{FOLDER}{name}.css is missing"),
            None => {}
        }
    }
    if let Some(name) = files.keys().find(|name| name.starts_with(FOLDER)) {
        bail!("www/{name} belongs to no chapter and is named nowhere in the order of style sheets");
    }
    if files.insert(FILE.into(), joined).is_some() {
        bail!("www/{FILE} has the name of what is put together from www/{FOLDER}");
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_stand_in_their_order_and_none_is_left() -> Result<()> {
        let of = |names: &[&str]| -> Files {
            names.iter().map(|name| (format!("{FOLDER}{name}.css"), name.as_bytes().to_vec())).collect()
        };
        let parts = [&FIRST[..], &LAST].concat();
        let mut files = of(&parts);
        join(&mut files)?;
        assert_eq!(files.keys().collect::<Vec<_>>(), [FILE]);
        assert_eq!(files[FILE], [parts.join("\n").as_bytes(), b"\n"].concat());
        assert!(join(&mut of(&parts[1..])).is_err());
        assert!(join(&mut of(&[&parts[..], &["cellar"]].concat())).is_err());
        Ok(())
    }
}
