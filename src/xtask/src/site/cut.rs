//! A module cut into several files, so that a browser fetches what a reader turns to.
//!
//! The cutting tool puts what only one door of `widget/src/rooms` reaches into a file of that door's, and what several doors reach into
//! files that these share. It names the latter by numbers that change with every change of the code; here each gets a name that stays: the
//! keys of those who share it. A file that belongs to no door of the manifest, a door without a file, and a file that the tool's script
//! doesn't fetch all end the build.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow, bail, ensure};
use planting::manifest;

use super::{offline, segments};

/// How the script begins that fetches the files of a module, after the module's name.
pub const LINK: &str = "-rooms.js";

/// How every name begins by which the files of one build and the script between them know each other, as the cutting tool has it in every
/// build. It is also what each file calls the module it takes memory and functions from, so it stands in all of them.
const SHARED: &str = "__wasm_split";

/// What a cut leads to.
pub(super) struct Cut {
    /// The file that comes first, before its glue is made.
    pub(super) first: PathBuf,
    /// The others with their script, by their names in the site.
    pub(super) others: BTreeMap<String, PathBuf>,
}

/// Cuts the module whose files bear this name, as the compiler made it, into the folder `parts`.
///
/// # Errors
/// When the tool fails, or what it gives isn't what the manifest asks for.
pub(super) fn cut(name: &str, compiled: &Path, parts: &Path) -> Result<Cut> {
    if parts.exists() {
        fs::remove_dir_all(parts)?;
    }
    let module = fs::read(compiled)?;
    let (first, link) = (parts.join("main.wasm"), format!("{}{LINK}", name));
    let (glue, link_path) = (format!("./{}.js", name), format!("./{link}"));
    let mut options = wasm_split_cli_support::Options::new(&module);
    options.output_dir = parts;
    options.main_out_path = &first;
    options.main_module = &glue;
    options.link_name = &link_path;
    let made = wasm_split_cli_support::transform(options)
        .map_err(|reason| anyhow!("the module can't be cut: {reason:#}"))?;
    fs::write(&first, segments::joined(&fs::read(&first)?)?)?;

    let doors: BTreeSet<&str> = manifest::files().collect();
    let names = names(name, &made.prefetch_map, &doors)?;
    let stem = |file: &PathBuf| file.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let written: BTreeSet<String> = made.split_modules.iter().map(stem).collect();
    let mut others = BTreeMap::from([(link.clone(), parts.join(&link))]);
    for stem in &written {
        let file = parts.join(format!("{stem}.wasm"));
        match names.get(stem) {
            Some(name) => {
                others.insert(name.clone(), file);
            }
            // The tool writes a file for what holds nothing too, and fetches none.
            None => {
                ensure!(!holds_code(&fs::read(&file)?)?, "the cut makes a file nobody fetches: {stem}.wasm")
            }
        }
    }
    if let Some(stem) = names.keys().find(|stem| !written.contains(*stem)) {
        bail!("the cut makes no {stem}.wasm, which its script fetches");
    }
    let text = fs::read_to_string(parts.join(&link))?;
    fs::write(parts.join(&link), linked(&text, &names, &made.prefetch_map)?)?;
    pair(others.values().chain([&first]))?;
    Ok(Cut { first, others })
}

/// The name in the site of every file the tool's script fetches, by the tool's own names. `users` says which files each door takes.
fn names(
    module: &str,
    users: &std::collections::HashMap<String, Vec<String>>,
    doors: &BTreeSet<&str>,
) -> Result<BTreeMap<String, String>> {
    let mut shared: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for (door, stems) in users {
        ensure!(doors.contains(door.as_str()), "the manifest knows no door `{door}`");
        for stem in stems {
            shared.entry(stem).or_default().insert(door);
        }
    }
    if let Some(door) = doors.iter().find(|door| !shared.contains_key(format!("split_{door}").as_str())) {
        bail!("nothing comes in the file of `{door}`");
    }
    let name = |(stem, users): (&str, BTreeSet<&str>)| {
        let keys = users.into_iter().collect::<Vec<_>>().join("-");
        let name = if stem == format!("split_{keys}") { keys } else { format!("shared-{keys}") };
        (stem.to_owned(), format!("{module}-{name}_bg.wasm"))
    };
    Ok(shared.into_iter().map(name).collect())
}

/// The script with the files under their names in the site, and a list of them for whoever asks why a door stays shut.
fn linked(
    script: &str,
    names: &BTreeMap<String, String>,
    users: &std::collections::HashMap<String, Vec<String>>,
) -> Result<String> {
    let mut out = script.to_owned();
    for (stem, name) in names {
        let given = format!("\"./{stem}.wasm\"");
        ensure!(out.contains(&given), "the script of the cut doesn't fetch {stem}.wasm");
        out = out.replace(&given, &format!("\"./{name}\""));
    }
    let lists: BTreeMap<&str, Vec<&str>> = users
        .iter()
        .map(|(door, stems)| (door.as_str(), stems.iter().map(|stem| names[stem].as_str()).collect()))
        .collect();
    out.push_str(&format!("export const FILES = {};\n", serde_json::to_string(&lists)?));
    Ok(out)
}

/// Whether a module holds code or data.
fn holds_code(module: &[u8]) -> Result<bool> {
    for payload in wasmparser::Parser::new(0).parse_all(module) {
        match payload.context("no WebAssembly module")? {
            wasmparser::Payload::CodeSectionStart { count, .. } if count > 0 => return Ok(true),
            wasmparser::Payload::DataSection(data) if data.count() > 0 => return Ok(true),
            _ => {}
        }
    }
    Ok(false)
}

/// Gives files that belong together names in common that no others have, so that a browser refuses those of two versions: to each
/// other they would look alike, and one would read the other at the wrong places.
fn pair<'a>(files: impl Iterator<Item = &'a PathBuf>) -> Result<()> {
    let contents =
        files.map(|file| Ok((file, fs::read(file)?))).collect::<Result<Vec<(&PathBuf, Vec<u8>)>>>()?;
    let mut all: Vec<&[u8]> = contents.iter().map(|(_, content)| content.as_slice()).collect();
    all.sort_unstable();
    let mark = offline::crc_32(&all.concat());
    // As long as the one it stands for: lengths of names and sections stay what they are.
    let own = format!("__w{mark:09x}");
    for (file, content) in contents {
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

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashMap;

    #[test]
    fn names_change_and_lengths_stay() {
        let given = b"\x03one\x03two\x03one\x02on";
        assert_eq!(with_name(given, b"one", b"six"), b"\x03six\x03two\x03six\x02on");
        assert_eq!(with_name(given, b"ten", b"six"), given);
    }

    #[test]
    fn files_are_named_by_who_takes_them() -> Result<()> {
        let list = |stems: &[&str]| stems.iter().map(|stem| (*stem).to_owned()).collect::<Vec<_>>();
        let users = HashMap::from([
            ("light".to_owned(), list(&["chunk_3", "split_light"])),
            ("files".to_owned(), list(&["chunk_3", "split_files"])),
        ]);
        let doors = BTreeSet::from(["files", "light"]);
        let names = names("rowlight", &users, &doors)?;
        assert_eq!(names["chunk_3"], "rowlight-shared-files-light_bg.wasm");
        assert_eq!(names["split_light"], "rowlight-light_bg.wasm");
        let script = "a(\"./chunk_3.wasm\") b(\"./split_light.wasm\") c(\"./split_files.wasm\")\n";
        let linked = linked(script, &names, &users)?;
        assert!(
            linked
                .starts_with("a(\"./rowlight-shared-files-light_bg.wasm\") b(\"./rowlight-light_bg.wasm\")")
        );
        assert!(
            linked.ends_with(
                "\"light\":[\"rowlight-shared-files-light_bg.wasm\",\"rowlight-light_bg.wasm\"]};\n"
            )
        );
        // A door the manifest doesn't know, and one that has no file.
        assert!(super::names("rowlight", &users, &BTreeSet::from(["light"])).is_err());
        assert!(super::names("rowlight", &users, &BTreeSet::from(["files", "light", "water"])).is_err());
        Ok(())
    }
}
