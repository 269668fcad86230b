//! The rules of the house, held by tests: layering, policy, tidiness.

#![allow(clippy::disallowed_methods, reason = "what runs on the host needn't be small")]

mod imports;

use imports::Imports;
use std::fs;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("tests/ lies in the workspace").to_path_buf()
}

fn files(folder: &Path, found: &mut Vec<(PathBuf, String)>) {
    for entry in fs::read_dir(folder).expect("a folder of the workspace").flatten() {
        let path = entry.path();
        if path.is_dir() {
            files(&path, found);
        } else if let Ok(text) = fs::read_to_string(&path) {
            found.push((path, text));
        }
    }
}

fn sources(folder: &str) -> Vec<(PathBuf, String)> {
    let mut found = Vec::new();
    files(&root().join(folder), &mut found);
    found
}

/// Normal dependencies named in a manifest.
fn dependencies(package: &str) -> Vec<String> {
    let manifest =
        fs::read_to_string(root().join("src").join(package).join("Cargo.toml")).expect("a manifest");
    let (_, listed) = manifest.split_once("\n[dependencies]\n").expect("a list of dependencies");
    listed
        .lines()
        .take_while(|line| !line.starts_with('[') || line.starts_with("[dependencies."))
        .filter_map(|line| {
            let line = line.strip_prefix("[dependencies.").unwrap_or(line);
            let name = line.split(['.', '=', ' ', ']']).next()?;
            (!name.is_empty() && line.len() > name.len()).then(|| name.to_owned())
        })
        .collect()
}

#[test]
fn dependencies_point_one_way() {
    assert!(dependencies("rays").is_empty(), "the sums know numbers only");
    assert_eq!(
        dependencies("planting"),
        ["rays", "serde", "uom"],
        "the model knows no web, clock, language or randomness"
    );
    assert_eq!(
        dependencies("drafting"),
        ["contour", "planting"],
        "drawings know the model and lines of equal value, nothing else"
    );
}

#[test]
fn only_the_widget_names_the_browser() {
    for folder in ["src/rays", "src/planting", "src/drafting"] {
        for (path, text) in sources(folder) {
            for name in ["web_sys", "js_sys", "wasm_bindgen", "leptos", "SystemTime", "Instant::now"] {
                assert!(!text.contains(name), "{} names {name}", path.display());
            }
        }
    }
}

#[test]
fn floats_are_read_and_written_by_our_own_digits() {
    // The standard library's ways bring 23 KB into the download, with brotli.
    for folder in ["src/rays/src", "src/planting/src", "src/drafting/src", "src/widget/src"] {
        for (path, text) in sources(folder) {
            let program = text.split("#[cfg(test)]").next().unwrap_or_default();
            for way in ["parse::<f64>", "parse::<f32>", ":.1}", ":.2}", ":.3}"] {
                let used =
                    program.lines().any(|line| line.contains(way) && !line.trim_start().starts_with("//"));
                assert!(!used, "{} uses {way}", path.display());
            }
        }
    }
}

#[test]
fn event_delegation_stays_off() {
    // It breaks the `input` event inside shadow roots.
    for manifest in ["Cargo.toml", "src/widget/Cargo.toml"] {
        let text = fs::read_to_string(root().join(manifest)).expect(manifest);
        assert!(!text.contains("delegation"), "{manifest}");
    }
    let lock = fs::read_to_string(root().join("Cargo.lock")).expect("a lock file");
    for name in ["leptos_dom", "reactive_graph"] {
        assert!(lock.contains(&format!("name = \"{name}\"")), "{name} is a dependency");
    }
    assert!(
        !lock.contains("name = \"leptos\""),
        "leptos brings exported classes for servers that no linker drops"
    );
}

#[test]
fn nothing_is_styled_inline() {
    // The page's policy drops style attributes and style elements.
    let page = fs::read_to_string(root().join("index.html")).expect("index.html");
    let views = sources("src/widget/src").into_iter().chain([(root().join("index.html"), page)]);
    for (path, text) in views {
        for (number, line) in text.lines().enumerate() {
            let code = !line.trim_start().starts_with("//");
            let inline =
                line.contains("<style") || line.contains(" style=\"") || line.contains(" style=move");
            assert!(!(code && inline), "{}:{}: {line}", path.display(), number + 1);
        }
    }
}

#[test]
fn unsafe_code_is_forbidden() {
    let manifest = fs::read_to_string(root().join("Cargo.toml")).expect("a manifest");
    assert!(manifest.contains("unsafe_code = \"forbid\""));
    for package in ["planting", "drafting", "widget", "xtask"] {
        let own =
            fs::read_to_string(root().join("src").join(package).join("Cargo.toml")).expect("a manifest");
        assert!(own.contains("[lints]\nworkspace = true"), "{package} keeps to the workspace's lints");
    }
}

fn imports(package: &str) -> Imports {
    Imports::of(&root().join("src").join(package).join("src"))
}

/// Folders of the model that are rooms: those with inputs of their own.
fn rooms_of_the_model() -> Vec<String> {
    let sources = root().join("src/planting/src");
    let folders = fs::read_dir(&sources).expect("the model's sources").flatten();
    let rooms = folders.filter(|folder| folder.path().join("inputs.rs").is_file());
    rooms.map(|folder| folder.file_name().to_string_lossy().into_owned()).collect()
}

#[test]
fn rooms_of_the_model_never_name_each_other() {
    let rooms = rooms_of_the_model();
    assert!(rooms.len() >= 4 && rooms.iter().any(|room| room == "light"), "{rooms:?}");
    let first = |path: &str| path.split('/').next().unwrap_or_default().to_owned();
    for (from, to) in imports("planting").pairs() {
        let (one, other) = (first(&from), first(&to));
        if rooms.contains(&one) {
            // One file of a room, `asks`, takes from the ground what the room asks for.
            let is_asking =
                from == format!("{one}/asks") && ["ground", "scenario", "trade"].contains(&other.as_str());
            let may = ["kit", "register", "system"].contains(&other.as_str()) || one == other || is_asking;
            assert!(
                may,
                "{from} names {to}: a room takes plain values of the kit, handed over by ground, plan or its own `asks`"
            );
        }
        match one.as_str() {
            "kit" => assert_eq!(other, "kit", "{from} names {to}: the kit belongs to no trade"),
            "register" => assert!(["kit", "register"].contains(&other.as_str()), "{from} names {to}"),
            "system" => assert_eq!(other, "kit", "{from} names {to}"),
            _ => {}
        }
    }
}

#[test]
fn no_files_import_each_other_in_a_circle() {
    let packages = ["planting", "drafting", "widget", "xtask"];
    let found: Vec<_> = packages.iter().flat_map(|package| imports(package).circles()).collect();
    assert!(found.is_empty(), "{found:#?}");
}

/// What every room uses knows none of them: else a room couldn't come in a file of its own.
#[test]
fn board_views_and_charts_name_no_room() {
    let rooms = rooms_of_the_model();
    for (from, to) in imports("drafting").pairs() {
        let first = |path: &str| path.split('/').next().unwrap_or_default().to_owned();
        if ["board", "views", "charts", "svg", "measure", "wording", "view"].contains(&first(&from).as_str())
        {
            assert!(!rooms.contains(&first(&to)) && first(&to) != "dispatch", "{from} names {to}");
        }
    }
}
