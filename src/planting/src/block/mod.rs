//! The field: its outline, the rows laid across it, and every tree as a station.
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
//!
//! Asks for nothing but its own inputs and the training system. Offers spacing, runs and areas. Left out: slope and
//! curved rows. Sources: definitions of acre and hectare; usual spacings by system with their own sources.

pub mod advice;
pub mod figures;
pub mod inputs;
pub mod outline;
mod run;
pub mod workings;

pub use inputs::Inputs;

use crate::kit::count::{as_number, whole_steps};
use crate::kit::row::{Run, Spacing, Station};
use crate::system::TrainingSystem;
use outline::Outline;
use std::sync::Arc;
use uom::si::f64::{Angle, Area, Length};
use uom::si::length::meter;

/// All that the block is laid out from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Asked {
    /// What is set about the field.
    pub inputs: Inputs,
    /// The training system, whose usual spacings a plan is held against.
    pub system: TrainingSystem,
}

/// A field laid out in rows.
#[derive(Clone, Debug, PartialEq)]
pub struct Block {
    /// What it was laid out from.
    pub asked: Asked,
    /// The edge of the field.
    pub outline: Outline,
    /// Row direction, clockwise from north.
    pub azimuth: Angle,
    /// Distance between rows `[m]`.
    pub row_width: Length,
    /// The planted pieces of rows, left to right.
    pub runs: Arc<Vec<Run>>,
    /// How many row lines there are.
    pub rows: usize,
}

impl Block {
    /// Lays out a rectangular field whose inputs have been checked.
    ///
    /// ```
    /// use planting::{Block, Scenario, ground};
    /// let block = Block::lay_out(&ground::block_asked(&Scenario::default()));
    /// assert_eq!((block.rows, block.tree_count()), (26, 5200));
    /// ```
    pub fn lay_out(asked: &Asked) -> Block {
        let outline = Outline::rectangle(asked.inputs.block_width.value, asked.inputs.block_length.value);
        Block::in_outline(outline, asked)
    }

    /// Lays rows across any outline: as many as fit between the side margins, centred.
    ///
    /// ```
    /// use planting::{Block, FieldPoint, Outline, Scenario, ground};
    /// let corner = |across, along| FieldPoint { across, along };
    /// let mut field = Outline::rectangle(50.0, 200.0);
    /// field.holes.push(vec![corner(0.0, 90.0), corner(50.0, 90.0), corner(50.0, 110.0), corner(0.0, 110.0)]);
    /// let block = Block::in_outline(field, &ground::block_asked(&Scenario::default()));
    /// assert_eq!(block.runs.len(), 2 * block.rows, "the hole parts every row in two");
    /// ```
    pub fn in_outline(outline: Outline, asked: &Asked) -> Block {
        let inputs = &asked.inputs;
        let (left, right) = outline.across_range();
        let room = (right - left - 2.0 * inputs.side_margin.value).max(0.0);
        let gaps = whole_steps(room, inputs.row_width.value);
        let first = left + (right - left - inputs.row_width.value * as_number(gaps)) / 2.0;
        let rows = gaps + 1;
        let runs = (0..rows)
            .flat_map(|row| {
                let across = first + inputs.row_width.value * as_number(row);
                outline.clip(across).into_iter().map(move |piece| (row + 1, across, piece))
            })
            .filter_map(|(row, across, piece)| run::plant(row, across, piece, inputs))
            .collect();
        Block {
            asked: *asked,
            outline,
            azimuth: inputs.row_azimuth,
            row_width: inputs.row_width,
            runs: Arc::new(runs),
            rows,
        }
    }

    /// How far apart trees and rows stand.
    pub fn spacing(&self) -> Spacing {
        self.asked.inputs.spacing()
    }

    /// The area inside the outline.
    ///
    /// ```
    /// use planting::{Block, Scenario, ground, uom::si::area::acre};
    /// let block = Block::lay_out(&ground::block_asked(&Scenario::default()));
    /// assert!((block.area().get::<acre>() - 5.0).abs() < 1e-4);
    /// ```
    pub fn area(&self) -> Area {
        self.outline.area()
    }

    /// Number of trees.
    pub fn tree_count(&self) -> usize {
        self.runs.iter().map(|run| run.trees).sum()
    }

    /// Length of all runs together, end post to end post.
    ///
    /// ```
    /// use planting::{Block, Scenario, ground, uom::si::length::foot};
    /// let block = Block::lay_out(&ground::block_asked(&Scenario::default()));
    /// assert!((block.run_length().get::<foot>() - 26.0 * 600.0).abs() < 1e-6);
    /// ```
    pub fn run_length(&self) -> Length {
        Length::new::<meter>(self.runs.iter().map(Run::length).sum())
    }

    /// Every tree, row by row.
    ///
    /// ```
    /// use planting::{Block, Scenario, StationKind, ground};
    /// let block = Block::lay_out(&ground::block_asked(&Scenario::default()));
    /// let first = block.trees().next().unwrap();
    /// assert_eq!((first.kind, first.row), (StationKind::Tree, 1));
    /// assert!((first.at.along - (30.0 + 1.5) * 0.3048).abs() < 1e-9, "half a space behind the end post");
    /// ```
    pub fn trees(&self) -> impl Iterator<Item = Station> + '_ {
        self.runs.iter().flat_map(Run::tree_stations)
    }
}
