//! What a nursery and a supplier are asked for: trees, posts, anchors and wire, with their sizes.
//!
//! Counts are of the plan; offcuts, spares and losses are the buyer's to add unless a line says otherwise.

use crate::measure::{Units, write};
use crate::wording::value;
use planting::{Choice, Figure, Plan, Quantity};

/// The figures that are ordered by, in the order of the list.
const ORDERED: [&str; 11] = [
    "trees_in_block",
    "line_posts",
    "end_posts",
    "brace_posts",
    "brace_rails",
    "anchors",
    "guy_wire",
    "wire_ordered",
    "wire_coils",
    "tensioners",
    "stakes",
];

/// One line of the list.
#[derive(Clone, Debug, PartialEq)]
pub struct Line<'a> {
    /// What is ordered, and how many or how much of it.
    pub figure: &'a Figure,
    /// Its size, or how it was counted.
    pub size: String,
}

/// The lines a plan needs.
///
/// ```
/// use drafting::{Units, order_list};
/// let plan = planting::plan(&planting::Scenario::default()).unwrap();
/// let lines = order_list::lines(&plan, Units::Us);
/// assert_eq!(lines[0].figure.key, "trees_in_block");
/// assert_eq!(lines[1].size, "12 ft long, 5 in thick at the ground");
/// ```
pub fn lines(plan: &Plan, units: Units) -> Vec<Line<'_>> {
    ORDERED
        .iter()
        .filter_map(|key| plan.figure(key))
        .map(|figure| Line { figure, size: size(figure, plan, units) })
        .collect()
}

fn size(figure: &Figure, plan: &Plan, units: Units) -> String {
    let scenario = &plan.scenario;
    let thick = |diameter: f64| write(diameter, Quantity::SmallLength, units);
    match figure.key {
        "trees_in_block" => format!("{}, no spares counted", scenario.rootstock.label()),
        "line_posts" => format!(
            "{} long, {} thick at the ground",
            write(scenario.post_length.value, Quantity::Length, units),
            thick(scenario.line_post_diameter.value)
        ),
        "end_posts" => format!(
            "{} long or more, {} thick at the ground",
            plan.figure("end_post_length").map(|figure| value(figure, units)).unwrap_or_default(),
            thick(scenario.end_post_diameter.value)
        ),
        _ => figure.working.formula.to_owned(),
    }
}
