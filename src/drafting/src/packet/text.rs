//! The pages of text that follow the drawings of the printed set, as plain values: headings, tables,
//! paragraphs. Whoever prints turns them into whatever it prints from.

use super::order_list;
use crate::measure::{Units, write};
use crate::wording::{advice, terms, value};
use planting::kit::figure::subjects;
use planting::{
    Certainty, Choice, Group, Kind, Parameter, Plan, Quantity, REGISTRY, Scenario, Subject, groups, note,
    remedies,
};

/// What every plan is handed over with, first of all.
pub const PLANNING_ESTIMATE: &str = "Planning estimate, not a design. Follow local codes, makers\u{2019} ratings and soil tests; have a licensed engineer check posts, anchors and any net.";

/// Where a drawing stands between sketch and order, as a title block says it.
pub const STATUS: &str = "For planning, not for construction";

/// What every plan is handed over with: what a caution is about, and the caution.
pub const CAUTIONS: [(&str, &str); 6] = [
    ("What this is", PLANNING_ESTIMATE),
    (
        "Before you dig",
        "Call the utility-marking service (811 in the United States) before driving posts or setting anchors. Mind drain tile and irrigation lines, and keep well clear of overhead lines with posts, augers and drivers.",
    ),
    (
        "Treated wood",
        "Use posts treated for ground contact. Wear gloves, and a dust mask when cutting; never burn offcuts. Keep freshly treated posts that still bleed away from roots.",
    ),
    (
        "Wire under tension",
        "High-tensile wire recoils when it is cut, breaks or slips. Use a dispenser, protect eyes and hands, secure loose ends, never stand astride or in line with a wire being tensioned, and set anchors before loading them.",
    ),
    (
        "Machines",
        "Post drivers and augers: one trained operator, shields on, everybody else well away. Lift posts and coils with a machine or in a team.",
    ),
    (
        "Labels and permits",
        "Sprays follow their labels; water, wells and building follow the permits of the place. This plan checks none of them.",
    ),
];

/// One part of the pages of text, under a heading of its own unless it says otherwise.
#[derive(Clone, Debug, PartialEq)]
pub enum Part {
    /// A table.
    Table(Table),
    /// Paragraphs, each with a head.
    Items {
        /// The heading.
        heading: &'static str,
        /// The paragraphs.
        items: Vec<Item>,
        /// What is said where there is none.
        without: &'static str,
    },
    /// Lines to sign on, by who signs; without a heading.
    Signatures([&'static str; 3]),
    /// How figures came about.
    Workings {
        /// The heading.
        heading: &'static str,
        /// One for each figure.
        workings: Vec<Worked>,
    },
}

/// A table of the pages of text.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Stable key, for whoever lays the columns out.
    pub key: &'static str,
    /// The heading.
    pub heading: &'static str,
    /// Heads of the columns.
    pub columns: &'static [&'static str],
    /// The rows, in groups.
    pub groups: Vec<Rows>,
    /// What is said below it; empty where there is nothing to say.
    pub note: &'static str,
}

/// Rows of a table that belong together.
#[derive(Clone, Debug, PartialEq)]
pub struct Rows {
    /// What they are about; none where the table has no groups.
    pub label: Option<&'static str>,
    /// The rows, a text for each column.
    pub rows: Vec<Vec<String>>,
}

/// A paragraph with a head, and what stands in small print behind it.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// What it is about.
    pub head: String,
    /// What it says.
    pub words: String,
    /// In small print, such as a source; empty where there is none.
    pub small: String,
}

/// How a figure came about.
#[derive(Clone, Debug, PartialEq)]
pub struct Worked {
    /// The figure and its value.
    pub head: String,
    /// Its formula.
    pub formula: &'static str,
    /// The numbers put in.
    pub terms: String,
    /// Where the formula comes from, how sure it is and what it leaves out.
    pub source: String,
}

/// The planting in one line, for title blocks and page feet.
///
/// ```
/// use drafting::{Units, packet};
/// let plan = planting::plan(&planting::Scenario::default()).unwrap();
/// assert_eq!(packet::title(&plan, Units::Us), "Tall spindle on G.11, 3 ft × 12 ft, year 6");
/// ```
pub fn title(plan: &Plan, units: Units) -> String {
    let scenario = &plan.scenario;
    let length = |length: f64| write(length, Quantity::Length, units);
    format!(
        "{} on {}, {} × {}, year {}",
        scenario.system.label(),
        scenario.canopy.rootstock.label(),
        length(scenario.block.in_row_spacing.value),
        length(scenario.block.row_width.value),
        write(scenario.canopy.year, Quantity::Years, units),
    )
}

/// The pages of text of a plan, in the order they are printed: figures, orders, advice, cautions,
/// signatures, assumptions, workings.
///
/// ```
/// use drafting::Units;
/// use drafting::packet::{Part, text};
/// let plan = planting::plan(&planting::Scenario::default()).unwrap();
/// let parts = text(&plan, Units::Us);
/// let Part::Table(figures) = &parts[0] else { panic!() };
/// assert_eq!(figures.heading, "Key figures");
/// assert_eq!(figures.groups[0].rows[0][..2], ["Trees per acre", "1,210/acre"]);
/// ```
pub fn text(plan: &Plan, units: Units) -> Vec<Part> {
    vec![
        Part::Table(key_figures(plan, units)),
        Part::Table(orders(plan, units)),
        findings(plan, units),
        cautions(plan),
        Part::Signatures(["Prepared by", "Grower", "Lender or supplier"]),
        Part::Table(assumptions(plan, units)),
        workings(plan, units),
    ]
}

fn how_sure(certainty: Certainty) -> &'static str {
    match certainty {
        Certainty::Assumption => "assumption, modelled",
        other => other.label(),
    }
}

fn key_figures(plan: &Plan, units: Units) -> Table {
    let about = |subject: Subject| Rows {
        label: Some(subject.label),
        rows: plan
            .figures
            .iter()
            .filter(|figure| figure.subject == subject)
            .map(|figure| {
                vec![figure.label.to_owned(), value(figure, units), how_sure(figure.certainty).to_owned()]
            })
            .collect(),
    };
    Table {
        key: "figures",
        heading: "Key figures",
        columns: &["Figure", "Value", "How sure"],
        groups: subjects(&plan.figures).into_iter().map(about).collect(),
        note: "",
    }
}

fn orders(plan: &Plan, units: Units) -> Table {
    let row = |line: order_list::Ordered| {
        let (label, quantity) = (line.figure.label.to_owned(), value(line.figure, units));
        vec![label, quantity, line.size, String::new(), String::new()]
    };
    Table {
        key: "orders",
        heading: "Trees and materials to order",
        columns: &["Item", "Quantity", "Size, or how counted", "Price each", "Amount"],
        groups: vec![Rows {
            label: None,
            rows: order_list::lines(plan, units).into_iter().map(row).collect(),
        }],
        note: "Counts are of this drawing; offcuts, spares and losses are the buyer\u{2019}s to add unless a line says otherwise.",
    }
}

fn findings(plan: &Plan, units: Units) -> Part {
    let mut solved = plan.advice.clone();
    remedies::solve_all(&plan.scenario, &mut solved, units.rounding());
    let items = solved.iter().map(|found| Item {
        head: format!("{}: {}", found.severity.label(), found.title),
        words: advice(found, units),
        small: format!("{}; {}.", found.source.citation, how_sure(found.source.certainty)),
    });
    Part::Items { heading: "Advice", items: items.collect(), without: "Nothing to fix in this plan." }
}

fn cautions(plan: &Plan) -> Part {
    let item = |head: &str, words: &str| Item {
        head: head.to_owned(),
        words: words.to_owned(),
        small: String::new(),
    };
    let mut items: Vec<Item> = CAUTIONS.iter().map(|(head, words)| item(head, words)).collect();
    let rootstock = plan.scenario.canopy.rootstock;
    let caution = rootstock.stock().caution;
    if !caution.is_empty() {
        items.push(item(&format!("Rootstock {}", rootstock.label()), caution));
    }
    Part::Items { heading: "Cautions", items, without: "" }
}

/// Where a parameter's setting comes from: the default, or the reader's change of it.
fn origin(parameter: &Parameter, plan: &Plan, usual: &Scenario, units: Units) -> String {
    let (set, default) = (setting(parameter, &plan.scenario, units), setting(parameter, usual, units));
    if set == default { "default".to_owned() } else { format!("changed from {default}") }
}

fn assumptions(plan: &Plan, units: Units) -> Table {
    let usual = Scenario::for_system(plan.scenario.system);
    let row = |parameter: &Parameter| {
        let source = note(parameter.key).map(|note| note.source);
        vec![
            parameter.label.to_owned(),
            setting(parameter, &plan.scenario, units),
            origin(parameter, plan, &usual, units),
            source
                .map(|source| format!("{}; {}", source.citation, how_sure(source.certainty)))
                .unwrap_or_default(),
        ]
    };
    let group = |group: Group| Rows {
        label: Some(group.label),
        rows: REGISTRY.iter().filter(|parameter| parameter.group == group).map(row).collect(),
    };
    Table {
        key: "inputs",
        heading: "Assumptions: everything that was put in",
        columns: &["Input", "Value", "Changed", "Where the default comes from"],
        groups: groups().into_iter().map(group).collect(),
        note: "",
    }
}

/// What a parameter is set to, in words; a number and its unit are kept on one line.
pub fn setting(parameter: &Parameter, scenario: &Scenario, units: Units) -> String {
    let write = |value, quantity| write(value, quantity, units).replace(' ', "\u{a0}");
    match parameter.kind {
        Kind::Number(number) => write((number.get)(scenario), number.quantity),
        Kind::Choice(list) => {
            let key = (list.get)(scenario);
            let label = (list.options)().into_iter().find(|(option, _)| *option == key);
            label.map_or(key, |(_, label)| label).to_owned()
        }
        Kind::Lengths(lengths) => {
            let heights = (lengths.get)(scenario);
            let words: Vec<String> =
                heights.iter().map(|height| write(height.value, Quantity::Length)).collect();
            if words.is_empty() { "none".to_owned() } else { words.join(", ") }
        }
    }
}

fn workings(plan: &Plan, units: Units) -> Part {
    let worked = plan.figures.iter().filter_map(|figure| {
        let working = plan.working(figure.key)?;
        let mut source = format!("{}; {}.", working.source.citation, how_sure(working.source.certainty));
        if !working.leaves_out.is_empty() {
            source.push_str(" Leaves out: ");
            source.push_str(working.leaves_out);
        }
        Some(Worked {
            head: format!("{}: {}", figure.label, value(figure, units)),
            formula: working.formula,
            terms: terms(&working, units).join("; "),
            source,
        })
    });
    Part::Workings { heading: "How the figures came about", workings: worked.collect() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use planting::plan;

    fn words(parts: &[Part]) -> String {
        format!("{parts:?}")
    }

    #[test]
    fn every_input_and_figure_is_printed() {
        for units in [Units::Us, Units::Metric] {
            let plan = plan(&Scenario::default()).unwrap();
            let parts = text(&plan, units);
            let rows = |key: &str| -> Vec<Vec<String>> {
                let groups = parts.iter().find_map(|part| match part {
                    Part::Table(table) if table.key == key => Some(&table.groups),
                    _ => None,
                });
                groups.unwrap().iter().flat_map(|group| group.rows.clone()).collect()
            };
            let figures = rows("figures");
            assert_eq!(figures.len(), plan.figures.len());
            for figure in &plan.figures {
                assert!(figures.iter().any(|row| row[..2] == [figure.label, &*value(figure, units)]));
            }
            let inputs = rows("inputs");
            assert_eq!(inputs.len(), REGISTRY.len());
            for parameter in REGISTRY {
                let set = setting(parameter, &plan.scenario, units);
                assert!(inputs.iter().any(|row| row[..2] == [parameter.label, &*set]), "{}", parameter.key);
            }
        }
    }

    #[test]
    fn a_changed_input_says_what_it_was() {
        let scenario = Scenario::default().with(|s| s.block.row_width = planting::feet(14.0));
        let parts = text(&plan(&scenario).unwrap(), Units::Us);
        let Some(Part::Table(inputs)) = parts.get(5) else { panic!("{}", words(&parts)) };
        let changed: Vec<_> = inputs
            .groups
            .iter()
            .flat_map(|group| &group.rows)
            .filter(|row| row[2].starts_with("changed"))
            .collect();
        assert_eq!(changed.len(), 1);
        assert_eq!(changed[0][1..3], ["14\u{a0}ft", "changed from 12\u{a0}ft"]);
    }
}
