//! Every tree, post and anchor with its row, its number in the row and its place.
//!
//! ```text
//!   along ^         north        Across and along count from the corner of the field on the left at the
//!         |  o o o    ^          foot of the rows, east and north from the same corner, turned by the
//!         |  o o o    |          row direction. Posts of two sides of a leaning trellis share a place.
//!         +------> across
//! ```

use super::csv;
use planting::digits::fixed;
use planting::{Plan, Station, StationKind};

/// Visits every station with its number among those of its kind in its row, from 1 at the foot of the row:
/// row by row, in a row piece by piece, in a piece kind by kind.
pub(super) fn each(plan: &Plan, visit: &mut dyn FnMut(Station, usize)) {
    let (mut row, mut counts) = (0, [0; 5]);
    for run in &plan.block.runs {
        if run.row != row {
            (row, counts) = (run.row, [0; 5]);
        }
        for station in run.trees().chain(run.posts()).chain(run.anchors()) {
            if let Some(count) = counts.get_mut(kind(station.kind).0) {
                *count += 1;
                visit(station, *count);
            }
        }
    }
}

/// Its place among the kinds, from 0 to 4, and its name.
pub(super) fn kind(kind: StationKind) -> (usize, &'static str) {
    match kind {
        StationKind::Tree => (0, "tree"),
        StationKind::EndPost => (1, "end post"),
        StationKind::BracePost => (2, "brace post"),
        StationKind::LinePost => (3, "line post"),
        StationKind::Anchor => (4, "anchor"),
    }
}

/// Metres to the millimetre; never minus nought.
pub(super) fn millimetres(metres: f64) -> String {
    fixed((metres * 1e3).round() / 1e3 + 0.0, 3)
}

/// Every station of a plan as CSV: kind, row, number in the row, and its place in metres to the
/// millimetre, across and along the rows and east and north of the corner.
///
/// ```
/// use drafting::export;
/// let plan = planting::plan(&planting::Scenario::default()).unwrap();
/// let table = export::stations(&plan);
/// let mut lines = table.lines();
/// assert_eq!(lines.next(), Some("Kind,Row,Number in row,Across (m),Along (m),East (m),North (m)"));
/// assert_eq!(lines.next(), Some("tree,1,1,4.572,9.601,4.572,9.601"));
/// ```
pub fn stations(plan: &Plan) -> String {
    let mut out = String::new();
    let head = ["Kind", "Row", "Number in row", "Across (m)", "Along (m)", "East (m)", "North (m)"];
    csv::row(&mut out, &head);
    each(plan, &mut |station, number| {
        let (east, north) = station.at.to_map(plan.block.azimuth);
        let (row, number) = (station.row.to_string(), number.to_string());
        let places = [station.at.across, station.at.along, east, north].map(millimetres);
        let [across, along, east, north] = &places;
        csv::row(&mut out, &[kind(station.kind).1, &row, &number, across, along, east, north]);
    });
    out
}
