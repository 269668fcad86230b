//! `cargo xtask plan`: a scenario file in; its figures, a drawing, a table or its link out, by the same engine the page runs.

use std::fs;
use std::path::PathBuf;
use std::str::FromStr;

use anyhow::{Context, Result, bail};
use drafting::svg::{PaperUnit, document};
use drafting::{Frame, Units, draw, export, measure, wording};
use planting::scenario::entries_of;
use planting::{Entries, Figure, Problem, Quantity, Remedy, Scenario, remedies};
use serde_json::{Value, json};

/// The units of what is printed.
const UNITS: Units = Units::Metric;

/// One of the drawings there are, those of the rooms included.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct View(pub drafting::View);

impl FromStr for View {
    type Err = anyhow::Error;

    fn from_str(word: &str) -> Result<Self> {
        match drafting::View::from_key(word) {
            Some(view) => Ok(View(view)),
            None => bail!("there is no drawing `{word}`: {}", View::keys(", ")),
        }
    }
}

impl View {
    /// The keys of all drawings, with this between them.
    ///
    /// ```
    /// assert!(xtask::plan_command::View::keys("|").starts_with("plan|section|elevation|"));
    /// ```
    pub fn keys(between: &str) -> String {
        drafting::View::EVERY.iter().map(|view| view.key()).collect::<Vec<_>>().join(between)
    }
}

/// One of the tables.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Table {
    /// Every figure.
    Figures,
    /// What to order.
    Orders,
    /// Every tree, post and anchor.
    Stations,
}

impl FromStr for Table {
    type Err = anyhow::Error;

    fn from_str(word: &str) -> Result<Self> {
        match word {
            "figures" => Ok(Table::Figures),
            "orders" => Ok(Table::Orders),
            "stations" => Ok(Table::Stations),
            _ => bail!("there is no table `{word}`: figures, orders or stations"),
        }
    }
}

/// What of a plan is printed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Shown {
    /// Figures and advice as JSON.
    #[default]
    Report,
    /// A drawing as SVG.
    Drawing(View),
    /// A table as CSV.
    Table(Table),
    /// The link that opens it.
    Link,
}

/// What the command line asks for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Order {
    /// The scenario, as the page saves it.
    pub file: PathBuf,
    /// What is printed of it.
    pub shown: Shown,
}

/// Prints what was ordered to the standard output.
///
/// # Errors
/// When the file can't be read or is no JSON object; or, once its problems have been printed, when it has any.
pub fn run(order: Order) -> Result<()> {
    let text =
        fs::read_to_string(&order.file).with_context(|| format!("{} can't be read", order.file.display()))?;
    let (answer, problems) = answer(&text, order.shown)?;
    println!("{answer}");
    if problems > 0 {
        bail!("{problems} fields to put right");
    }
    Ok(())
}

/// What is asked for of a scenario, or its problems as JSON; and how many fields are wrong.
///
/// # Errors
/// When the text is no JSON object.
pub fn answer(scenario: &str, shown: Shown) -> Result<(String, usize)> {
    let entries: Entries = serde_json::from_str(scenario).context("a scenario file is a JSON object")?;
    let mut plan = match Scenario::from_entries(&entries).and_then(|scenario| planting::plan(&scenario)) {
        Err(problems) => return Ok((pretty(&refusal(&problems)), problems.len())),
        Ok(plan) => plan,
    };
    if shown == Shown::Report {
        remedies::solve_all(&plan.ground.scenario, &mut plan.advice, UNITS.rounding());
    }
    let answer = match shown {
        Shown::Report => pretty(&report(&plan)),
        Shown::Drawing(View(view)) => {
            document(&draw(view, &plan, Frame::screen(960.0, 640.0, Units::Us)), PaperUnit::Fluid)
        }
        Shown::Table(Table::Figures) => export::figures(&plan, UNITS),
        Shown::Table(Table::Orders) => export::orders(&plan, UNITS),
        Shown::Table(Table::Stations) => export::stations(&plan),
        Shown::Link => planting::link::write(&plan.scenario),
    };
    Ok((answer, 0))
}

fn pretty(value: &Value) -> String {
    serde_json::to_string_pretty(value).unwrap_or_default()
}

fn refusal(problems: &[Problem]) -> Value {
    let problems: Vec<Value> = problems
        .iter()
        .map(|problem| json!({"field": problem.field, "message": wording::problem(problem, UNITS)}))
        .collect();
    json!({"version": planting::VERSION, "figures": {}, "advice": [], "problems": problems})
}

fn report(plan: &planting::Plan) -> Value {
    let figures: serde_json::Map<String, Value> =
        plan.figures.iter().map(|figure| (figure.key.to_owned(), shown(figure))).collect();
    let advice: Vec<Value> = plan
        .advice
        .iter()
        .map(|advice| {
            json!({
                "rule": advice.rule,
                "severity": advice.severity.label(),
                "title": advice.title,
                "message": wording::sentence(&advice.finding, UNITS),
                "remedies": advice.remedies.iter().flatten().map(told_remedy).collect::<Vec<_>>(),
                "otherwise": if advice.remedies.iter().flatten().next().is_none() { advice.otherwise } else { "" },
                "fields": advice.fields,
                "source": advice.source.citation,
            })
        })
        .collect();
    json!({"version": planting::VERSION, "figures": figures, "advice": advice, "problems": []})
}

fn told_remedy(remedy: &Remedy) -> Value {
    json!({
        "message": wording::sentence(&remedy.sentence, UNITS),
        "changes": entries_of(&remedy.changes),
        "brings": remedy.brings,
    })
}

/// Trees and posts in the unit their key names, everything else in SI.
fn shown(figure: &Figure) -> Value {
    let (one, unit) = match figure.quantity {
        Quantity::PerAcre | Quantity::PerHectare | Quantity::PerLand => {
            let unit = measure::unit(figure.quantity, UNITS);
            (unit.one, unit.name.replace('/', "1/"))
        }
        other => (1.0, si_name(other).to_owned()),
    };
    let mut value = json!({
        "value": figure.value.map(|value| value / one),
        "unit": unit,
        "certainty": figure.certainty.label(),
    });
    if figure.value.is_none() {
        value["note"] = json!(figure.without);
    }
    value
}

fn si_name(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Length | Quantity::SmallLength => "m",
        Quantity::Land | Quantity::TrunkArea => "m²",
        Quantity::Volume => "m³",
        Quantity::VolumePerLand => "m³/m²",
        Quantity::LengthPerLand => "m/m²",
        Quantity::PerAcre => "1/acre",
        Quantity::PerHectare | Quantity::PerLand => "1/ha",
        Quantity::Share | Quantity::Ratio | Quantity::Count => "1",
        Quantity::Years => "a",
        Quantity::Angle => "rad",
        Quantity::LeafAreaDensity => "1/m",
        Quantity::Hours | Quantity::Work => "h",
        Quantity::Force => "N",
        Quantity::Moment => "N·m",
        Quantity::Stress | Quantity::Pressure => "Pa",
        Quantity::ForcePerLength => "N/m",
        Quantity::Mass => "kg",
        Quantity::MassPerLength => "kg/m",
        Quantity::MassPerLand => "kg/m²",
        Quantity::Speed => "m/s",
        Quantity::TemperatureChange => "K",
        Quantity::Money => "USD",
        Quantity::MoneyPerLand => "USD/m²",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_of_defaults_gives_the_default_plan() {
        let (text, problems) = answer("{\"version\": 1}", Shown::Report).unwrap();
        assert_eq!(problems, 0);
        let report: Value = serde_json::from_str(&text).unwrap();
        let trees = &report["figures"]["trees_per_acre"];
        // 43,560 ÷ (3 × 12), Barney's range for tall spindle 837-1,452.
        assert!((trees["value"].as_f64().unwrap() - 1210.0).abs() < 1e-9);
        assert_eq!(trees["unit"], "1/acre");
        assert_eq!(trees["certainty"], "standard");
    }

    #[test]
    fn wrong_fields_are_named_with_their_range() {
        let (text, problems) =
            answer("{\"version\": 1, \"in_row_spacing\": 1e9, \"colour\": 3}", Shown::Report).unwrap();
        assert_eq!(problems, 2);
        assert!(text.contains("In-row spacing must be between 0.3 m and 9.14 m"), "{text}");
        assert!(text.contains("colour"), "{text}");
    }

    #[test]
    fn remedies_are_changes_that_a_file_can_hold() {
        let (text, _) = answer("{\"version\": 1, \"canopy_width\": 2.0}", Shown::Report).unwrap();
        let report: Value = serde_json::from_str(&text).unwrap();
        let alley =
            report["advice"].as_array().unwrap().iter().find(|one| one["rule"] == "clear_alley").unwrap();
        let cures = alley["remedies"].as_array().unwrap();
        assert!(cures.len() > 1, "{alley}");
        for cure in cures {
            let mut file = cure["changes"].as_object().unwrap().clone();
            file.insert("version".to_owned(), json!(1));
            file.entry("canopy_width").or_insert(json!(2.0));
            let (text, problems) = answer(&Value::from(file).to_string(), Shown::Report).unwrap();
            assert!(problems == 0 && !text.contains("\"rule\": \"clear_alley\""), "{cure}: {text}");
        }
    }

    #[test]
    fn each_drawing_is_printed() {
        for view in drafting::View::EVERY {
            let view = view.key().parse().unwrap();
            let (text, _) = answer("{\"version\": 1}", Shown::Drawing(view)).unwrap();
            assert!(text.starts_with("<svg") && text.ends_with("</svg>"));
        }
    }

    #[test]
    fn tables_and_the_link_are_printed() {
        let printed = |shown| answer("{\"version\": 1}", shown).unwrap().0;
        for (word, head) in [("figures", "Subject,"), ("orders", "Item,"), ("stations", "Kind,")] {
            assert!(printed(Shown::Table(word.parse().unwrap())).starts_with(head));
        }
        assert_eq!(planting::link::read(&printed(Shown::Link)), Ok(Scenario::default()));
    }
}
