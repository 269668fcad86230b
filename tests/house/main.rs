//! The rules of the house, held by tests: layering, policy, tidiness.

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
    assert_eq!(
        dependencies("planting"),
        ["serde", "uom"],
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
    for folder in ["src/planting", "src/drafting"] {
        for (path, text) in sources(folder) {
            for name in ["web_sys", "js_sys", "wasm_bindgen", "leptos", "SystemTime", "Instant::now"] {
                assert!(!text.contains(name), "{} names {name}", path.display());
            }
        }
    }
}

#[test]
fn event_delegation_stays_off() {
    // It breaks the `input` event inside shadow roots.
    let manifest = fs::read_to_string(root().join("Cargo.toml")).expect("a manifest");
    let line = manifest.lines().find(|line| line.starts_with("leptos")).expect("leptos is a dependency");
    assert!(line.contains("features = [\"csr\"]") && !line.contains("delegation"), "{line}");
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
