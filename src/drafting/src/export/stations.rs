//! Every tree, post and anchor with its row, its number in the row and its place.
//!
//! ```text
//!   along ^         north        Across and along count from the corner of the field on the left at the
//!         |  o o o    ^          foot of the rows, east and north from the same corner, turned by the
//!         |  o o o    |          row direction. Where trees lean to both sides, a post of either
//!                              side stands at one place, and `Side` says which way it leans.
//!         +------> across
//! ```

use super::csv;
use planting::digits::fixed;
use planting::{Leaning, Plan, Station, StationKind};

/// Visits every station with its number among those of its kind and side in its row, from 1 at the foot of
/// the row: row by row, in a row piece by piece, in a piece kind by kind.
pub(super) fn each(plan: &Plan, visit: &mut dyn FnMut(Station, usize)) {
    let (mut row, mut counts) = (0, [0; 15]);
    for run in &plan.trellis.runs {
        if run.row != row {
            (row, counts) = (run.row, [0; 15]);
        }
        for station in run.tree_stations().chain(plan.trellis.stations_of(run)) {
            if let Some(count) = counts.get_mut(kind(station.kind).0 * 3 + side(station.leaning).0) {
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

/// Its place among the sides, from 0 to 2, and its name; none for what leans to neither.
pub(super) fn side(leaning: Leaning) -> (usize, &'static str) {
    match leaning {
        Leaning::Neither => (0, ""),
        Leaning::Left => (1, "left"),
        Leaning::Right => (2, "right"),
    }
}

/// Metres to the millimetre; never minus nought.
pub(super) fn millimetres(metres: f64) -> String {
    fixed((metres * 1e3).round() / 1e3 + 0.0, 3)
}

/// Every station of a plan as CSV: kind, row, number in the row, and its place in metres to the
/// millimetre, across and along the rows and east and north of the corner, and the side it leans to.
///
/// ```
/// use drafting::export;
/// let plan = planting::plan(&planting::Scenario::default()).unwrap();
/// let table = export::stations(&plan);
/// let mut lines = table.lines();
/// assert_eq!(lines.next(), Some("Kind,Row,Number in row,Across (m),Along (m),East (m),North (m),Side"));
/// assert_eq!(lines.next(), Some("tree,1,1,4.572,9.601,4.572,9.601,"));
/// ```
pub fn stations(plan: &Plan) -> String {
    let mut out = String::new();
    let head = ["Kind", "Row", "Number in row", "Across (m)", "Along (m)", "East (m)", "North (m)", "Side"];
    csv::row(&mut out, &head);
    each(plan, &mut |station, number| {
        let (east, north) = station.at.to_map(plan.block.azimuth);
        let (row, number) = (station.row.to_string(), number.to_string());
        let places = [station.at.across, station.at.along, east, north].map(millimetres);
        let [across, along, east, north] = &places;
        csv::row(
            &mut out,
            &[kind(station.kind).1, &row, &number, across, along, east, north, side(station.leaning).1],
        );
    });
    out
}
