//! The field: its outline, the rows laid across it, and every tree, post and anchor as a station.
//!
//! ```text
//!        along (row direction, turned `azimuth` clockwise from north)
//!          ^
//!          |  <- headland ->
//!     +----|-----------------+
//!     |    |                 |      a row is clipped to the outline, then set back
//!     |  o-+--o--o--o--o--o  |      by the headland at both ends; the pieces are runs
//!     |  o----o--o--o--o--o  |
//!     +----------------------+--> across
//! ```
//!
//! Coordinates are metres in the row frame: `across` to the right of the rows, `along` up them. The
//! outline is any polygon with holes, clipped by crossings; today's scenario makes it a rectangle.
//! Ground is taken as level and rows as straight.

pub mod outline;
pub mod run;

use crate::scenario::Scenario;
use outline::Outline;
use run::Run;
use uom::si::f64::{Angle, Area, Length};
use uom::si::length::meter;

/// A point of the row frame `[m]`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// To the right of the row direction.
    pub across: f64,
    /// In the row direction.
    pub along: f64,
}

impl Point {
    /// The same point as distances east and north of the frame's origin `[m]`.
    ///
    /// ```
    /// use planting::{Point, degrees};
    /// let (east, north) = Point { across: 0.0, along: 10.0 }.to_map(degrees(90.0));
    /// assert!((east - 10.0).abs() < 1e-12 && north.abs() < 1e-12);
    /// ```
    pub fn to_map(self, azimuth: Angle) -> (f64, f64) {
        let (sin, cos) = azimuth.value.sin_cos();
        (self.along * sin + self.across * cos, self.along * cos - self.across * sin)
    }
}

/// What stands at a station.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StationKind {
    /// A tree.
    Tree,
    /// A line post.
    LinePost,
    /// An end post.
    EndPost,
    /// The inner post of an H-brace.
    BracePost,
    /// An anchor in the headland.
    Anchor,
}

/// One thing with a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Station {
    /// What stands there.
    pub kind: StationKind,
    /// Row number, from 1 on the left.
    pub row: usize,
    /// Where it stands.
    pub at: Point,
}

/// A field laid out in rows.
#[derive(Clone, Debug, PartialEq)]
pub struct Block {
    /// The edge of the field.
    pub outline: Outline,
    /// Row direction, clockwise from north.
    pub azimuth: Angle,
    /// Distance between rows `[m]`.
    pub row_width: Length,
    /// The planted pieces of rows, left to right.
    pub runs: Vec<Run>,
    /// How many row lines there are.
    pub rows: usize,
}

impl Block {
    /// Lays out the field of a scenario whose fields have been checked.
    pub fn lay_out(scenario: &Scenario) -> Block {
        let outline = Outline::rectangle(scenario.block_width.value, scenario.block_length.value);
        Block::in_outline(outline, scenario)
    }

    /// Lays rows across any outline: as many as fit between the side margins, centred.
    pub fn in_outline(outline: Outline, scenario: &Scenario) -> Block {
        let (left, right) = outline.across_range();
        let room = (right - left - 2.0 * scenario.side_margin.value).max(0.0);
        let gaps = whole_steps(room, scenario.row_width.value);
        let first = left + (right - left - scenario.row_width.value * as_number(gaps)) / 2.0;
        let rows = gaps + 1;
        let runs = (0..rows)
            .flat_map(|row| {
                let across = first + scenario.row_width.value * as_number(row);
                outline.clip(across).into_iter().map(move |piece| (row + 1, across, piece))
            })
            .filter_map(|(row, across, piece)| Run::plant(row, across, piece, scenario))
            .collect();
        Block { outline, azimuth: scenario.row_azimuth, row_width: scenario.row_width, runs, rows }
    }

    /// The area inside the outline.
    pub fn area(&self) -> Area {
        self.outline.area()
    }

    /// Number of trees.
    pub fn tree_count(&self) -> usize {
        self.runs.iter().map(|run| run.trees).sum()
    }

    /// Length of all runs together, end post to end post.
    pub fn run_length(&self) -> Length {
        Length::new::<meter>(self.runs.iter().map(Run::length).sum())
    }

    /// Every tree, row by row.
    pub fn trees(&self) -> impl Iterator<Item = Station> + '_ {
        self.runs.iter().flat_map(Run::trees)
    }

    /// Every line, end and brace post, row by row.
    pub fn posts(&self) -> impl Iterator<Item = Station> + '_ {
        self.runs.iter().flat_map(Run::posts)
    }

    /// Every anchor, row by row.
    pub fn anchors(&self) -> impl Iterator<Item = Station> + '_ {
        self.runs.iter().flat_map(Run::anchors)
    }
}

/// A count as a number; exact for any count a field can hold.
#[expect(clippy::cast_precision_loss, reason = "counts here stay far below 2^53")]
pub(crate) fn as_number(count: usize) -> f64 {
    count as f64
}

/// How many whole steps fit into a length. A hair is forgiven, so that 300 ft hold exactly 100 steps
/// of 3 ft whatever the rounding of metres.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "rounded down, positive and bounded"
)]
pub(crate) fn whole_steps(length: f64, step: f64) -> usize {
    let steps = length / step;
    if !steps.is_finite() || steps <= 0.0 {
        return 0;
    }
    (steps + 1e-7).floor().min(1e7) as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whole_steps_forgive_rounding_only() {
        for (length, step, expected) in [
            (300.0 * 0.3048, 3.0 * 0.3048, 100),
            (10.0, 3.0, 3),
            (2.99, 3.0, 0),
            (0.0, 1.0, 0),
            (-5.0, 1.0, 0),
            (1.0, 0.0, 0),
        ] {
            assert_eq!(whole_steps(length, step), expected, "{length} / {step}");
        }
    }
}
