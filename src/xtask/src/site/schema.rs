//! The JSON Schema (draft 2020-12) of a scenario file, made from the register of inputs.
//!
//! It says what each field takes. What fields must be so together (room for one tree, a post that stands
//! above the ground) and keys given twice no schema can say: the program checks those when it reads a file.

use drafting::Units;
use drafting::packet::Paper;
use planting::manifest::{CHAPTERS, Chapter};
use planting::{Kind, Parameter, Quantity, READER, REGISTRY, Scenario, VERSION, note};
use serde_json::{Map, Value, json};

/// Its name in the built site.
pub const FILE: &str = "scenario.schema.json";

/// The schema.
///
/// ```
/// let schema = xtask::site::schema::schema();
/// assert_eq!(schema["properties"]["row_width"]["default"], 12.0 * 0.3048);
/// assert_eq!(schema["properties"]["rootstock"]["oneOf"][2]["title"], "B.9");
/// ```
pub fn schema() -> Value {
    schema_with(CHAPTERS)
}

/// The schema of a planner with these chapters.
pub(super) fn schema_with(chapters: &[Chapter]) -> Value {
    let usual = Scenario::default();
    let mut properties = Map::new();
    properties.insert("version".into(), json!({"title": "Version of the file", "const": VERSION}));
    for parameter in REGISTRY {
        properties.insert(parameter.key.into(), property(parameter, &usual));
    }
    // How the reader looks at the plan, as the page saves it.
    for key in READER {
        let (title, words) = match key {
            "units" => ("Units", [Units::Us, Units::Metric].map(Units::key).to_vec()),
            "paper" => ("Paper", [Paper::Letter, Paper::A4].map(Paper::key).to_vec()),
            _ => ("Chapter", chapters.iter().map(|chapter| chapter.key).collect()),
        };
        let description = "How the reader looks at the plan; the plan is the same.";
        properties.insert(key.into(), json!({"title": title, "description": description, "enum": words}));
    }
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Rowlight scenario",
        "description": "A planting of trellised apples: what a person has set, in SI units. What is absent takes its default.",
        "type": "object",
        "required": ["version"],
        "additionalProperties": false,
        "properties": properties,
        "examples": [{"version": VERSION, "system": "tall_spindle", "row_width": 3.6}],
    })
}

/// The schema as a text.
pub fn text() -> String {
    format!("{:#}\n", schema())
}

fn property(parameter: &Parameter, usual: &Scenario) -> Value {
    let mut property = match parameter.kind {
        Kind::Number(number) => json!({
            "type": "number",
            "minimum": number.min,
            "maximum": number.max,
            "default": (number.get)(usual),
        }),
        Kind::Choice(choice) => {
            let options = (choice.options)();
            let entries = options.iter().map(|(key, label)| json!({"const": key, "title": label}));
            json!({
                "type": "string",
                "oneOf": entries.collect::<Vec<_>>(),
                "default": (choice.get)(usual),
            })
        }
        Kind::Lengths(lengths) => {
            let heights = (lengths.get)(usual).iter().map(|height| json!(height.value));
            json!({
                "type": "array",
                "items": {"type": "number", "minimum": lengths.min, "maximum": lengths.max},
                "maxItems": lengths.most,
                "default": heights.collect::<Vec<_>>(),
            })
        }
    };
    property["title"] = json!(parameter.label);
    property["description"] = json!(description(parameter));
    property
}

fn description(parameter: &Parameter) -> String {
    let unit = match parameter.kind {
        Kind::Number(number) => unit(number.quantity),
        Kind::Choice(_) => "",
        Kind::Lengths(_) => unit(Quantity::Length),
    };
    let system = if parameter.follows_system { " The default follows the training system." } else { "" };
    let (help, source) = note(parameter.key).map_or(("", ""), |note| (note.help, note.source.citation));
    format!("{help}{unit}{system} Source of the default: {source}.")
}

fn unit(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Length | Quantity::SmallLength => " In metres.",
        Quantity::Angle => " In radians.",
        Quantity::LeafAreaDensity => " In square metres of leaf in a cubic metre of crown.",
        Quantity::Share => " As a share of 1.",
        Quantity::Hours | Quantity::Work => " In hours.",
        Quantity::Force => " In newtons.",
        Quantity::Moment => " In newton metres.",
        Quantity::Stress | Quantity::Pressure => " In pascals.",
        Quantity::ForcePerLength => " In newtons a metre.",
        Quantity::Mass => " In kilograms.",
        Quantity::MassPerLength => " In kilograms a metre.",
        Quantity::MassPerLand => " In kilograms on a square metre.",
        Quantity::Speed => " In metres a second.",
        Quantity::TemperatureChange => " In kelvins.",
        Quantity::Money => " In US dollars.",
        Quantity::MoneyPerLand => " In US dollars on a square metre.",
        Quantity::Years => " In years; rounded to whole ones.",
        Quantity::Count => " A whole number; rounded.",
        Quantity::Land | Quantity::TrunkArea => " In square metres.",
        Quantity::Volume => " In cubic metres.",
        Quantity::VolumePerLand => " In cubic metres on a square metre.",
        Quantity::LengthPerLand => " In metres on a square metre.",
        Quantity::PerAcre | Quantity::PerHectare | Quantity::PerLand => " On a square metre.",
        Quantity::Ratio => " A plain number.",
    }
}
