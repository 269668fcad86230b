//! Who imports whom: read from the sources, file by file.
//!
//! A path is followed to the file that defines its name, through re-exports (`pub use`) of folders and of the crate. So a
//! file that takes a name from its folder's `mod.rs` imports the file the name comes from.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

/// A module by the segments of its path; empty for the crate itself.
type Module = Vec<String>;

/// The files of a crate with what each imports from the others.
pub(crate) struct Imports(BTreeMap<Module, BTreeSet<Module>>);

struct Source {
    /// The code, without comments, texts and tests.
    code: String,
    /// Every path its `use` statements and its code name, from the crate's root.
    paths: Vec<Module>,
    /// What it hands on under a name of its own: the name, and the path it stands for.
    handed_on: BTreeMap<String, Module>,
}

impl Imports {
    /// Of a crate, given its folder of sources.
    pub(crate) fn of(folder: &Path) -> Imports {
        let mut files = BTreeMap::new();
        collect(folder, &mut Vec::new(), &mut files);
        Imports::among(files)
    }

    /// Among these files, by their texts.
    fn among(files: BTreeMap<Module, String>) -> Imports {
        let modules: BTreeSet<Module> = files.keys().cloned().collect();
        let sources: BTreeMap<Module, Source> = files
            .into_iter()
            .map(|(module, text)| (module.clone(), read(&module, &text, &modules)))
            .collect();
        let found = sources.iter().map(|(module, source)| {
            let imported = source.paths.iter().filter_map(|path| home(path, &sources, 0));
            (module.clone(), imported.filter(|other| other != module).collect())
        });
        Imports(found.collect())
    }

    /// Pairs of files, the first of which imports the second.
    pub(crate) fn pairs(&self) -> impl Iterator<Item = (String, String)> + '_ {
        self.0.iter().flat_map(|(from, to)| to.iter().map(|to| (from.join("/"), to.join("/"))))
    }

    /// Files that import each other, round about or at once: every circle as the list of its files.
    pub(crate) fn circles(&self) -> Vec<Vec<String>> {
        let reached: BTreeMap<&Module, BTreeSet<&Module>> =
            self.0.keys().map(|module| (module, self.reached_from(module))).collect();
        let mut circles: BTreeSet<Vec<String>> = BTreeSet::new();
        for (module, reaches) in &reached {
            let round: Vec<String> = reaches
                .iter()
                .filter(|other| reached.get(**other).is_some_and(|back| back.contains(*module)))
                .map(|other| other.join("/"))
                .collect();
            if !round.is_empty() {
                circles.insert(round);
            }
        }
        circles.into_iter().collect()
    }

    fn reached_from<'a>(&'a self, module: &Module) -> BTreeSet<&'a Module> {
        let (mut reached, mut next) = (BTreeSet::new(), vec![module]);
        while let Some(module) = next.pop() {
            for other in self.0.get(module).into_iter().flatten() {
                if reached.insert(other) {
                    next.push(other);
                }
            }
        }
        reached
    }
}

fn collect(folder: &Path, module: &mut Module, files: &mut BTreeMap<Module, String>) {
    for entry in fs::read_dir(folder).expect("a folder of sources").flatten() {
        let path = entry.path();
        let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        if path.is_dir() {
            module.push(name);
            collect(&path, module, files);
            module.pop();
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            let mut own = module.clone();
            if !matches!(name.as_str(), "mod" | "lib" | "main") {
                own.push(name);
            }
            files.insert(own, fs::read_to_string(&path).expect("a source"));
        }
    }
}

/// Code alone: comments, texts and the tests at the end of a file are left out.
fn code_of(text: &str) -> String {
    let text = text.split("#[cfg(test)]").next().unwrap_or_default();
    let mut code = String::new();
    for line in text.lines() {
        let line = line.split("//").next().unwrap_or_default();
        let mut inside = false;
        for letter in line.chars() {
            inside ^= letter == '"';
            if !inside {
                code.push(letter);
            }
        }
        code.push('\n');
    }
    code
}

fn read(module: &Module, text: &str, modules: &BTreeSet<Module>) -> Source {
    let code = code_of(text);
    let (mut paths, mut handed_on) = (Vec::new(), BTreeMap::new());
    let absolute = |path: &str| from_root(module, path, modules);
    let mut rest = String::new();
    for (place, statement) in code.split(';').enumerate() {
        // A statement begins behind the last brace or attribute before it.
        let start = statement.rfind("use ").filter(|at| {
            let before = statement[..*at].trim_end();
            before.is_empty()
                || before.ends_with(['}', ']', '{'])
                || before.ends_with("pub")
                || before.ends_with(')')
        });
        let Some(start) = start.filter(|_| place < usize::MAX) else {
            rest.push_str(statement);
            rest.push(';');
            continue;
        };
        let is_public =
            statement[..start].trim_end().ends_with("pub") || statement[..start].trim_end().ends_with(')');
        for (path, name) in spread("", statement[start + 4..].trim()) {
            if let Some(path) = absolute(&path) {
                // Handing a name on is no use of it.
                if is_public {
                    handed_on.insert(name, path);
                } else {
                    paths.push(path);
                }
            }
        }
    }
    // Paths written out in code: crate::a::b, super::a, or a child module by its name.
    for word in rest.split(|letter: char| !(letter.is_alphanumeric() || letter == '_' || letter == ':')) {
        if word.contains("::")
            && let Some(path) = absolute(word)
        {
            paths.push(path);
        }
    }
    Source { code, paths, handed_on }
}

/// The paths of a `use` tree, each with the name it is known by.
fn spread(before: &str, tree: &str) -> Vec<(String, String)> {
    let tree = tree.trim();
    let Some((head, inner)) = tree.split_once('{') else {
        let (path, name) =
            tree.split_once(" as ").unwrap_or((tree, tree.rsplit("::").next().unwrap_or(tree)));
        let whole = format!("{before}{}", path.trim());
        let name = if name.trim() == "self" {
            before.trim_end_matches("::").rsplit("::").next().unwrap_or_default().to_owned()
        } else {
            name.trim().to_owned()
        };
        return vec![(whole.trim_end_matches("::self").to_owned(), name)];
    };
    let before = format!("{before}{}", head.trim());
    let inner = inner.rsplit_once('}').map_or(inner, |(inner, _)| inner);
    let (mut depth, mut part, mut parts) = (0, String::new(), Vec::new());
    for letter in inner.chars() {
        match letter {
            '{' => depth += 1,
            '}' => depth -= 1,
            ',' if depth == 0 => {
                parts.push(std::mem::take(&mut part));
                continue;
            }
            _ => {}
        }
        part.push(letter);
    }
    parts.push(part);
    parts.iter().filter(|part| !part.trim().is_empty()).flat_map(|part| spread(&before, part)).collect()
}

/// A path from the crate's root; none where it leads out of the crate.
fn from_root(module: &Module, path: &str, modules: &BTreeSet<Module>) -> Option<Module> {
    let mut segments = path.trim_start_matches('$').split("::").filter(|segment| !segment.is_empty());
    let first = segments.next()?;
    let mut whole = match first {
        "crate" => Vec::new(),
        "self" => module.clone(),
        "super" => module[..module.len().checked_sub(1)?].to_vec(),
        child => {
            let mut whole = module.clone();
            whole.push(child.to_owned());
            // Only a module of this folder; any other word is a name of the file or of another crate.
            if !modules.contains(&whole) {
                return None;
            }
            whole
        }
    };
    for segment in segments {
        match segment {
            "super" => {
                whole.pop()?;
            }
            other => whole.push(other.to_owned()),
        }
    }
    Some(whole)
}

/// The file that defines what a path names.
fn home(path: &Module, sources: &BTreeMap<Module, Source>, depth: usize) -> Option<Module> {
    let longest = (0..=path.len()).rev().find(|length| sources.contains_key(&path[..*length]))?;
    let (module, name) = (path[..longest].to_vec(), path.get(longest));
    let source = sources.get(&module)?;
    match name.and_then(|name| source.handed_on.get(name)) {
        Some(further) if depth < 8 => home(further, sources, depth + 1),
        _ => {
            // A folder that is only named, as in `use super::figures`, is imported by what is then taken from it.
            let names_it = name.is_some_and(|name| source.code.contains(name.as_str()));
            (name.is_some() && names_it).then_some(module)
        }
    }
}

#[test]
fn a_circle_is_seen_through_a_re_export_and_a_chain_is_none() {
    let among = |files: &[(&str, &str)]| {
        let module =
            |path: &str| path.split('/').filter(|part| !part.is_empty()).map(str::to_owned).collect();
        Imports::among(files.iter().map(|(path, text)| (module(path), (*text).to_owned())).collect())
    };
    let root = ("", "mod a;\npub use a::inner::Inner;\nmod b;");
    let folder = ("a", "pub mod inner;");
    let b = ("b", "use crate::Inner;\npub struct Outer(Inner);");
    let chain = among(&[root, folder, b, ("a/inner", "pub struct Inner;")]);
    assert!(chain.circles().is_empty(), "{:?}", chain.circles());
    assert!(chain.pairs().any(|pair| pair == ("b".to_owned(), "a/inner".to_owned())));
    let circle =
        among(&[root, folder, b, ("a/inner", "use crate::b::Outer;\npub struct Inner(Box<Outer>);")]);
    assert_eq!(circle.circles(), [["a/inner", "b"]]);
}
