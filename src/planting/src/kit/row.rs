//! Rows as every trade needs them: how far apart trees and rows stand, and each planted piece of a row.
//!
//! ```text
//!     start   first tree         spacing          end
//!       |-------o-------o-------o--- … ---o--------|       a run: one planted piece of a row
//! ```

use super::count::as_number;
use uom::si::f64::{Angle, Area, Length};

/// How far apart trees and rows stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spacing {
    /// Distance from tree to tree along the row `[m]`.
    pub in_row: Length,
    /// Distance from the centre line of one row to the next `[m]`.
    pub row_width: Length,
}

impl Spacing {
    /// The ground one tree stands on `[m²]`.
    ///
    /// ```
    /// use planting::{feet, kit::row::Spacing};
    /// let spacing = Spacing { in_row: feet(3.0), row_width: feet(11.0) };
    /// assert!((spacing.ground_per_tree().value - 33.0 * 0.3048 * 0.3048).abs() < 1e-12);
    /// ```
    pub fn ground_per_tree(self) -> Area {
        self.in_row * self.row_width
    }

    /// Trees on a square metre of planted ground `[1/m²]`.
    ///
    /// ```
    /// use planting::Scenario;
    /// let trees = Scenario::default().block.spacing().trees_per_square_metre();
    /// assert!((trees * planting::SQUARE_METRES_PER_ACRE - 1210.0).abs() < 1e-9);
    /// ```
    pub fn trees_per_square_metre(self) -> f64 {
        1.0 / self.ground_per_tree().value
    }
}

/// Whether a row direction is nearer to east-west than to north-south.
///
/// ```
/// use planting::{degrees, kit::row::is_nearer_east_west};
/// assert!(is_nearer_east_west(degrees(80.0)) && !is_nearer_east_west(degrees(170.0)));
/// ```
pub fn is_nearer_east_west(azimuth: Angle) -> bool {
    let degree = std::f64::consts::PI / 180.0;
    (azimuth.value - 90.0 * degree).abs() < 45.0 * degree
}

/// One planted piece of a row, end post to end post. Metres in the row frame of the block: `across` to the
/// right of the rows, all others along them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Run {
    /// Row number, from 1 on the left.
    pub row: usize,
    /// Where the row line lies `[m]`.
    pub across: f64,
    /// The foot of the first end post `[m]`.
    pub start: f64,
    /// The foot of the second end post `[m]`.
    pub end: f64,
    /// The first tree `[m]`.
    pub first_tree: f64,
    /// Distance from tree to tree `[m]`.
    pub spacing: f64,
    /// Number of trees.
    pub trees: usize,
}

impl Run {
    /// End post to end post `[m]`.
    ///
    /// ```
    /// use planting::Run;
    /// let run = Run { row: 1, across: 0.0, start: 10.0, end: 40.0, first_tree: 11.5, spacing: 3.0, trees: 10 };
    /// assert_eq!(run.length(), 30.0);
    /// ```
    pub fn length(&self) -> f64 {
        self.end - self.start
    }

    /// Where tree number `index`, from 0, stands along the row `[m]`.
    ///
    /// ```
    /// use planting::Run;
    /// let run = Run { row: 1, across: 0.0, start: 10.0, end: 40.0, first_tree: 11.5, spacing: 3.0, trees: 10 };
    /// assert_eq!((run.tree(0), run.tree(9)), (11.5, 38.5));
    /// ```
    pub fn tree(&self, index: usize) -> f64 {
        self.first_tree + self.spacing * as_number(index)
    }

    /// Every tree.
    pub fn tree_stations(&self) -> impl Iterator<Item = Station> + '_ {
        (0..self.trees).map(|index| Station {
            kind: StationKind::Tree,
            row: self.row,
            at: FieldPoint { across: self.across, along: self.tree(index) },
            leaning: Leaning::Neither,
        })
    }

    /// Midway between the tree of this number and the one before it `[m]`; 0 lies half a space before the first tree.
    ///
    /// ```
    /// use planting::Run;
    /// let run = Run { row: 1, across: 0.0, start: 10.0, end: 40.0, first_tree: 11.5, spacing: 3.0, trees: 10 };
    /// assert_eq!((run.gap(0), run.gap(1)), (10.0, 13.0));
    /// ```
    pub fn gap(&self, index: usize) -> f64 {
        self.first_tree + self.spacing * (as_number(index) - 0.5)
    }
}

/// A point of the row frame `[m]`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FieldPoint {
    /// To the right of the row direction.
    pub across: f64,
    /// In the row direction.
    pub along: f64,
}

impl FieldPoint {
    /// The same point as distances east and north of the frame's origin `[m]`.
    ///
    /// ```
    /// use planting::{FieldPoint, degrees};
    /// let (east, north) = FieldPoint { across: 0.0, along: 10.0 }.to_map(degrees(90.0));
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

/// Which way a thing leans where trees lean to both sides of the row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leaning {
    /// It stands upright, or leans along the row only.
    Neither,
    /// To the left of the row direction.
    Left,
    /// To the right of it.
    Right,
}

/// One thing with a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Station {
    /// What stands there.
    pub kind: StationKind,
    /// Row number, from 1 on the left.
    pub row: usize,
    /// Where its foot stands.
    pub at: FieldPoint,
    /// To which side of the row it leans.
    pub leaning: Leaning,
}
