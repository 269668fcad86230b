//! What an embedder reads that the register of inputs knows: the types of scenarios and the tables of `embedding.html`.

use std::fmt::Write as _;

use planting::scenario::registry::Kind;
use planting::{Parameter, REGISTRY, Scenario, VERSION, plan};
use serde_json::Value;

use super::schema;

/// The name of the types in the built site.
pub const TYPES: &str = "rowlight-scenario.d.ts";
/// Where the table of a scenario's fields goes in `embedding.html`.
pub const FIELDS_MARK: &str = "<!-- fields -->";
/// Where the table of figures goes.
pub const FIGURES_MARK: &str = "<!-- figures -->";

/// TypeScript for the object of a scenario file and the keys of figures.
///
/// ```
/// let types = xtask::site::embedding::types();
/// assert!(types.contains("  row_width?: number;\n") && types.contains("  system?: \"super_spindle\" | "));
/// ```
pub fn types() -> String {
    let mut out = format!(
        "// Made from the register of inputs. SI units.\n\n/** The fields of a scenario file. */\nexport interface Entries {{\n  version: {VERSION};\n"
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
        let _ =
            write!(out, "  /** {}. {} */\n  {}?: {kind};\n", parameter.label, parameter.help, parameter.key);
    }
    let keys: Vec<String> = figures().iter().map(|(key, ..)| format!("\"{key}\"")).collect();
    let _ = write!(
        out,
        "}}\n\n/** The keys of figures. */\nexport type FigureKey =\n  | {};\n",
        keys.join("\n  | ")
    );
    out
}

/// Key, label and head of every figure.
fn figures() -> Vec<(&'static str, &'static str, &'static str)> {
    let figures = plan(&Scenario::default()).map(|plan| plan.figures).unwrap_or_default();
    figures.iter().map(|figure| (figure.key, figure.label, figure.subject.label())).collect()
}

/// The page with its tables.
pub fn page(text: &str) -> String {
    text.replace(FIELDS_MARK, &fields_table()).replace(FIGURES_MARK, &figures_table())
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

fn escape(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}
