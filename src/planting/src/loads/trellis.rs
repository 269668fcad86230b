//! The trellis as this room sees it: heights, lengths and counts, handed over by the ground.

use super::ends::RowEnd;
use super::inputs::Inputs;
use super::measures::Compliance;
use super::wind::Silhouette;
use super::wire::Wire;
use crate::kit::count::{as_number, whole_steps};
use crate::kit::row::Spacing;
use crate::kit::units::pounds_force;
use std::sync::Arc;
use uom::si::f64::{Area, ArealMassDensity, Length};

/// One run of row, end post to end post.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// Its length `[m]`.
    pub length: Length,
    /// Its trees.
    pub trees: usize,
}

/// Wires on posts.
#[derive(Clone, Debug, PartialEq)]
pub struct Frame {
    /// Heights of the wires, from below `[m]`.
    pub heights: Vec<Length>,
    /// Sides that carry wires and posts: two where the canopy leans to both sides.
    pub sides: usize,
    /// The longest bay between posts `[m]`.
    pub bay: Length,
    /// Line posts in the block.
    pub line_posts: usize,
    /// Thickness of a line post at the ground line `[m]`.
    pub line_post: Length,
    /// Whole length of a line post `[m]`.
    pub post_length: Length,
    /// Depth of a line post in the ground `[m]`.
    pub depth: Length,
    /// What holds the wires at the row ends.
    pub end: RowEnd,
}

/// All that this room computes from.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// What is set about loads and strength.
    pub inputs: Inputs,
    /// Wires on posts; none where the trees stand by stakes or by themselves.
    pub frame: Option<Frame>,
    /// The runs of row of the block.
    pub rows: Arc<Vec<Row>>,
    /// Stakes or posts that stand at single trees.
    pub stakes: usize,
    /// How far apart trees and rows stand.
    pub spacing: Spacing,
    /// The height of a row that wind meets, once it is grown.
    pub crowns: Silhouette,
    /// The heaviest crop another room expects; none where nobody has said.
    pub crop: Option<ArealMassDensity>,
}

impl Frame {
    /// Row ends: two of each run and side.
    pub fn ends(&self, rows: usize) -> usize {
        2 * rows * self.sides
    }

    /// The upper wire.
    pub fn top_wire(&self) -> Option<Length> {
        self.heights.last().copied()
    }
}

impl Asked {
    /// The wire that is set.
    pub fn wire(&self) -> Wire {
        Wire { gauge: self.inputs.wire_gauge, grade: self.inputs.wire_grade }
    }

    /// How far both ends of a row together move for each newton on a wire `[m/N]`.
    pub fn compliance(&self) -> Compliance {
        self.inputs.end_give / pounds_force(1000.0)
    }

    /// The crop the trellis is to carry: what is set, or what another room expects where that is more `[kg/m²]`.
    pub fn crop(&self) -> ArealMassDensity {
        let set = self.inputs.heaviest_crop;
        self.crop.map_or(set, |expected| if expected > set { expected } else { set })
    }

    /// The longest run of row `[m]`.
    pub fn longest_row(&self) -> Length {
        self.rows.iter().map(|row| row.length).fold(
            Length::default(),
            |one, other| {
                if other > one { other } else { one }
            },
        )
    }

    /// All runs of row together `[m]`.
    pub fn row_length(&self) -> Length {
        self.rows.iter().map(|row| row.length).sum()
    }

    /// The trees of the block.
    pub fn trees(&self) -> usize {
        self.rows.iter().map(|row| row.trees).sum()
    }

    /// The ground its trees stand on `[m²]`.
    pub fn land(&self) -> Area {
        self.spacing.ground_per_tree() * as_number(self.trees())
    }

    /// The same trellis with line posts an interval apart: `⌈row ÷ interval⌉ − 1` in each row and on each side.
    ///
    /// ```
    /// use planting::{Ground, Scenario, feet, ground::Memory};
    /// use planting::loads::{Inputs, asks};
    /// let scenario = Scenario::default();
    /// let ground = Ground::lay(&scenario, &mut Memory::default()).unwrap();
    /// let asked = asks::asked(&ground, &Inputs::usual(scenario.system), None);
    /// // 26 rows of 600 ft in bays of 20 ft.
    /// assert_eq!(asked.with_interval(feet(20.0)).frame.unwrap().line_posts, 26 * 29);
    /// ```
    pub fn with_interval(&self, interval: Length) -> Asked {
        let mut asked = self.clone();
        let inner = |row: &Row| {
            let whole = whole_steps(row.length.value, interval.value);
            let rest = row.length - interval * as_number(whole);
            if rest > interval * REST_OF_A_BAY { whole } else { whole.saturating_sub(1) }
        };
        let posts: usize = self.rows.iter().map(inner).sum();
        if let Some(frame) = &mut asked.frame {
            frame.line_posts = posts * frame.sides;
            frame.bay = interval;
        }
        asked
    }
}

/// Less than this share of a bay left over at the end of a row makes no bay of its own: it is the rounding of feet in metres.
const REST_OF_A_BAY: f64 = 1e-6;
