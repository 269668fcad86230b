//! A plan for other programs: its tables as CSV (RFC 4180), its stations as GeoJSON (RFC 7946).
//!
//! Figures and orders are in the reader's units, each row naming its own, rounded as on screen; stations are
//! in metres. Numbers have a point and no thousands. All text is this program's own, none of it anything a
//! person has typed, and none begins with `=`, `+`, `-` or `@`, which a spreadsheet would take for a formula.

mod csv;
mod geojson;
mod stations;

use crate::measure::{Units, editable, order_number, unit};
use crate::packet::order_list;
use planting::{Figure, Plan};

pub use geojson::{GeoPoint, geojson};
pub use stations::stations;

/// Every figure of a plan as CSV: subject, figure, value, unit, how sure, source, key. No value where the
/// plan has none.
///
/// ```
/// use drafting::{Units, export};
/// let plan = planting::plan(&planting::Scenario::default()).unwrap();
/// let table = export::figures(&plan, Units::Us);
/// assert!(table.starts_with("Subject,Figure,Value,Unit,How sure,Source,Key\r\nTrees and land,Trees per acre,1210,/acre,"));
/// ```
pub fn figures(plan: &Plan, units: Units) -> String {
    let mut out = String::new();
    csv::row(&mut out, &["Subject", "Figure", "Value", "Unit", "How sure", "Source", "Key"]);
    for figure in &plan.figures {
        let (value, unit) = value(figure, units);
        let source = plan.working(figure.key).map_or("", |working| working.source.citation);
        let cells =
            [figure.subject.label, figure.label, &value, unit, figure.certainty.label(), source, figure.key];
        csv::row(&mut out, &cells);
    }
    out
}

/// The order list of a plan as CSV: item, quantity, unit, size or how counted.
///
/// ```
/// use drafting::{Units, export};
/// let plan = planting::plan(&planting::Scenario::default()).unwrap();
/// let second = export::orders(&plan, Units::Metric).lines().nth(1).map(str::to_owned);
/// assert_eq!(second.as_deref(), Some("Trees in the block,5200,,\"G.11, no spares counted\""));
/// ```
pub fn orders(plan: &Plan, units: Units) -> String {
    let mut out = String::new();
    csv::row(&mut out, &["Item", "Quantity", "Unit", "Size or how counted"]);
    for line in order_list::lines(plan, units) {
        let quantity = line.figure.quantity;
        let amount = line.figure.value.map(|value| order_number(value, quantity, units).replace(',', ""));
        let unit = unit(quantity, units).name.trim_start();
        csv::row(&mut out, &[line.figure.label, &amount.unwrap_or_default(), unit, &line.size]);
    }
    out
}

/// A figure's value as a plain number, and its unit.
fn value(figure: &Figure, units: Units) -> (String, &'static str) {
    let value = figure.value.map(|value| editable(value, figure.quantity, units));
    (value.unwrap_or_default(), unit(figure.quantity, units).name.trim_start())
}
