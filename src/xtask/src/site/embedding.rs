//! What an embedder reads that the register of inputs and the manifest of chapters know: the types of scenarios, the tables of
//! `embedding.html`, the choices of `builder.html`.

use std::fmt::Write as _;

use drafting::View;
use drafting::svg::escape;
use planting::manifest::{CHAPTERS, Chapter};
use planting::{Group, Kind, Parameter, REGISTRY, VERSION, control_groups, figure_names, note};
use serde_json::Value;

use super::schema;

/// The name of the types in the built site.
pub const TYPES: &str = "rowlight-scenario.d.ts";
/// Where the keys of the chapters go in `embedding.html`.
pub const CHAPTERS_MARK: &str = "<!-- chapters -->";
/// Where the boxes that choose chapters go in `builder.html`.
pub const CHOICES_MARK: &str = "<!-- choices of chapters -->";
/// Where the keys of the groups of controls go in `embedding.html`.
pub const GROUPS_MARK: &str = "<!-- groups -->";
/// Where the boxes that choose groups of controls go in `builder.html`.
pub const GROUP_CHOICES_MARK: &str = "<!-- choices of groups -->";
/// Where the keys of the drawings go in `embedding.html`.
pub const DRAWINGS_MARK: &str = "<!-- drawings -->";
/// Where the table of a scenario's fields goes in `embedding.html`.
pub const FIELDS_MARK: &str = "<!-- fields -->";
/// Where the table of figures goes.
pub const FIGURES_MARK: &str = "<!-- figures -->";

/// What the pages and the types list by key.
struct Lists<'a> {
    chapters: &'a [Chapter],
    groups: &'a [Group],
}

/// TypeScript for the object of a scenario file, the chapters, the groups of controls, the drawings and the keys of figures.
///
/// ```
/// let types = xtask::site::embedding::types();
/// assert!(types.contains("  row_width?: number;\n") && types.contains("  system?: \"super_spindle\" | "));
/// ```
pub fn types() -> String {
    types_with(&Lists { chapters: CHAPTERS, groups: &control_groups() })
}

fn types_with(lists: &Lists) -> String {
    let mut out = format!(
        "// Made from the register of inputs and the manifest of chapters. SI units.\n\n/** The fields of a scenario file. */\nexport interface Entries {{\n  version: {VERSION};\n"
    );
    for parameter in REGISTRY {
        let kind = match parameter.kind {
            Kind::Number(_) => "number".to_owned(),
            Kind::Choice(list) => {
                let keys: Vec<String> =
                    (list.options)().iter().map(|(key, _)| format!("\"{key}\"")).collect();
                keys.join(" | ")
            }
            Kind::Lengths(_) => "number[]".to_owned(),
        };
        let _ = write!(
            out,
            "  /** {}. {} */\n  {}?: {kind};\n",
            parameter.label,
            note(parameter.key).map_or("", |note| note.help),
            parameter.key
        );
    }
    out.push_str("}\n");
    for (what, name, keys) in [
        ("chapters", "Chapter", lists.chapters.iter().map(|chapter| chapter.key).collect()),
        ("groups of controls", "ControlGroup", lists.groups.iter().map(|group| group.key).collect()),
        ("drawings", "Drawing", drawings()),
    ] {
        let keys: Vec<&str> = keys;
        let _ =
            write!(out, "\n/** The keys of {what}. */\nexport type {name} = \"{}\";\n", keys.join("\" | \""));
    }
    let keys: Vec<String> = figures().iter().map(|(key, ..)| format!("\"{key}\"")).collect();
    let _ =
        write!(out, "\n/** The keys of figures. */\nexport type FigureKey =\n  | {};\n", keys.join("\n  | "));
    out
}

/// The keys of all drawings.
fn drawings() -> Vec<&'static str> {
    View::EVERY.iter().map(|view| view.key()).collect()
}

/// Key, label and head of every figure.
fn figures() -> Vec<(&'static str, &'static str, &'static str)> {
    figure_names().iter().map(|figure| (figure.key, figure.label, figure.subject.label)).collect()
}

/// `embedding.html` with its tables and lists of keys.
pub fn page(text: &str) -> String {
    page_with(text, &Lists { chapters: CHAPTERS, groups: &control_groups() })
}

fn page_with(text: &str, lists: &Lists) -> String {
    text.replace(CHAPTERS_MARK, &coded(lists.chapters.iter().map(|chapter| chapter.key)))
        .replace(GROUPS_MARK, &coded(lists.groups.iter().map(|group| group.key)))
        .replace(DRAWINGS_MARK, &drawings().join(", "))
        .replace(FIELDS_MARK, &fields_table())
        .replace(FIGURES_MARK, &figures_table())
}

/// Keys in the lettering of code, with commas between.
fn coded<'a>(keys: impl Iterator<Item = &'a str>) -> String {
    keys.map(|key| format!("<code>{key}</code>")).collect::<Vec<_>>().join(", ")
}

/// `builder.html` with a box for each chapter and each group of controls.
pub fn builder(text: &str) -> String {
    builder_with(text, &Lists { chapters: CHAPTERS, groups: &control_groups() })
}

/// All chapters are chosen at first. Groups can't be chosen before their choice is, and then the first is.
fn builder_with(text: &str, lists: &Lists) -> String {
    let chapters = lists.chapters.iter().map(|one| choice("chapters", one.key, one.label, " checked"));
    let groups = lists.groups.iter().enumerate().map(|(place, one)| {
        choice("group", one.key, one.label, if place == 0 { " checked disabled" } else { " disabled" })
    });
    text.replace(CHOICES_MARK, &chapters.collect::<Vec<_>>().join("\n          "))
        .replace(GROUP_CHOICES_MARK, &groups.collect::<Vec<_>>().join("\n            "))
}

fn choice(name: &str, key: &str, label: &str, state: &str) -> String {
    let label = escape(label);
    format!("<label><input type=\"checkbox\" name=\"{name}\" value=\"{key}\"{state}> {label}</label>")
}

fn fields_table() -> String {
    let schema = schema::schema();
    let mut out = String::from(
        "<table><caption>Fields of a scenario</caption><thead><tr><th scope=\"col\">Field</th><th scope=\"col\">What it is</th><th scope=\"col\">Takes</th><th scope=\"col\">Default</th></tr></thead><tbody>",
    );
    for parameter in REGISTRY {
        let property = &schema["properties"][parameter.key];
        let _ = write!(
            out,
            "<tr><th scope=\"row\"><code>{}</code></th><td>{}: {}</td><td>{}</td><td>{}</td></tr>",
            parameter.key,
            escape(parameter.label),
            escape(property["description"].as_str().unwrap_or_default()),
            takes(parameter, property),
            shown(&property["default"]),
        );
    }
    out.push_str("</tbody></table>");
    out
}

fn takes(parameter: &Parameter, property: &Value) -> String {
    let range = |of: &Value| format!("{} to {}", shown(&of["minimum"]), shown(&of["maximum"]));
    match parameter.kind {
        Kind::Number(_) => range(property),
        Kind::Choice(list) => {
            let keys: Vec<String> =
                (list.options)().iter().map(|(key, _)| format!("<code>{key}</code>")).collect();
            keys.join(", ")
        }
        Kind::Lengths(_) => format!("a list, each {}", range(&property["items"])),
    }
}

/// A value of the schema, numbers to the ten-thousandth.
fn shown(value: &Value) -> String {
    match value {
        Value::Number(number) => {
            number.as_f64().map(|number| ((number * 1e4).round() / 1e4).to_string()).unwrap_or_default()
        }
        Value::Array(items) => items.iter().map(shown).collect::<Vec<_>>().join(", "),
        other => format!("<code>{}</code>", other.as_str().unwrap_or_default()),
    }
}

fn figures_table() -> String {
    let mut out = String::from(
        "<table><caption>Figures of a plan</caption><thead><tr><th scope=\"col\">Key</th><th scope=\"col\">Figure</th><th scope=\"col\">Head</th></tr></thead><tbody>",
    );
    for (key, label, subject) in figures() {
        let _ = write!(
            out,
            "<tr><th scope=\"row\"><code>{key}</code></th><td>{}</td><td>{}</td></tr>",
            escape(label),
            escape(subject)
        );
    }
    out.push_str("</tbody></table>");
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workspace;

    /// A chapter more in the manifest is a chapter more wherever chapters are listed, and a group more in the register likewise.
    #[test]
    fn whatever_lists_chapters_is_made_from_the_manifest() {
        let more = Chapter { key: "cellar", label: "Cellar & store", ..CHAPTERS[0] };
        let chapters = [CHAPTERS, &[more]].concat();
        let store = Group { key: "store", label: "Shelves & bins", rank: 60, view: "plan" };
        let groups = [control_groups(), vec![store]].concat();
        let lists = Lists { chapters: &chapters, groups: &groups };
        let read = |name: &str| {
            std::fs::read_to_string(workspace::root().join("www").join(name)).expect("a page of www/")
        };
        let keys: Vec<&str> = chapters.iter().map(|chapter| chapter.key).collect();
        let types = types_with(&lists);
        assert!(types.contains(&format!("export type Chapter = \"{}\";", keys.join("\" | \""))));
        assert!(
            types.contains("export type ControlGroup = \"spacing\" | ") && types.contains(" | \"store\";")
        );
        let schema = schema::schema_with(&chapters);
        assert_eq!(schema["properties"]["chapter"]["enum"], serde_json::json!(keys));
        let listed = |keys: Vec<&str>| {
            keys.iter().map(|key| format!("<code>{key}</code>")).collect::<Vec<_>>().join(", ")
        };
        let page = page_with(&read("embedding.html"), &lists);
        assert!(page.contains(&format!("<td>{}, or several with a space between</td>", listed(keys))));
        let keys = groups.iter().map(|group| group.key).collect();
        assert!(page.contains(&format!("with spaces between: groups ({})", listed(keys))));
        let views: Vec<&str> = View::EVERY.iter().map(|view| view.key()).collect();
        assert!(page.contains(&format!("getDrawing(\"section\");  // {}</code>", views.join(", "))));
        let builder = builder_with(&read("builder.html"), &lists);
        assert!(builder.contains("value=\"cellar\" checked> Cellar &amp; store</label>"));
        assert_eq!(builder.matches("name=\"chapters\"").count(), chapters.len());
        assert!(builder.contains("value=\"spacing\" checked disabled> Spacing and tree size</label>"));
        assert!(builder.contains("value=\"store\" disabled> Shelves &amp; bins</label>"));
        assert_eq!(builder.matches("name=\"group\"").count(), groups.len());
    }

    /// A list of chapters anywhere else would hold the keys of two of them.
    #[test]
    fn nothing_else_lists_chapters() {
        let lists = |text: &str| CHAPTERS.iter().filter(|chapter| names(text, chapter.key)).count() > 1;
        assert!(lists("[\"layout\", 'light']") && !lists("Subject { key: \"layout\" }"));
        let mut sources = Vec::new();
        for folder in ["src/widget/src", "src/drafting/src", "src/planting/src", "src/xtask/src/site", "www"]
        {
            files(&workspace::root().join(folder), &mut sources);
        }
        assert!(sources.len() > 50);
        for file in sources {
            // The manifest itself, and these tests.
            if file.ends_with("manifest.rs") || file.ends_with("embedding.rs") {
                continue;
            }
            let text = std::fs::read_to_string(&file).unwrap_or_default();
            assert!(!lists(&text), "{} lists chapters", file.display());
        }
    }

    #[test]
    fn no_page_lists_groups() {
        let groups = control_groups();
        let mut pages = Vec::new();
        files(&workspace::root().join("www"), &mut pages);
        for page in pages {
            let text = std::fs::read_to_string(&page).unwrap_or_default();
            let named = groups.iter().filter(|group| names(&text, group.key)).count();
            assert!(named < 3, "{} lists groups of controls", page.display());
        }
    }

    /// Whether a text names this key by itself.
    fn names(text: &str, key: &str) -> bool {
        [format!("\"{key}\""), format!("'{key}'"), format!("<code>{key}<")]
            .iter()
            .any(|written| text.contains(written))
    }

    fn files(folder: &std::path::Path, found: &mut Vec<std::path::PathBuf>) {
        for entry in std::fs::read_dir(folder).expect("a folder of the workspace").flatten() {
            let path = entry.path();
            if path.is_dir() { files(&path, found) } else { found.push(path) }
        }
    }
}
