//! What light is computed from: rows of crowns, site and season, leaves.

use super::inputs::Inputs;
use super::kernel::RowPoint;
use super::sky::Sky;
use super::sun::Month;
use crate::kit::count::as_number;
use crate::kit::crown::{Crown, Shoots, Space};
use crate::kit::row::Spacing;
use crate::kit::standing::Standing;
use std::sync::Arc;
use uom::si::f64::{Angle, Length};

/// All that light is computed from.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// What is set about light.
    pub inputs: Inputs,
    /// The rows of crowns it falls on.
    pub stand: Stand,
}

/// Rows of crowns as other rooms offer them.
#[derive(Clone, Debug, PartialEq)]
pub struct Stand {
    /// How far apart trees and rows stand.
    pub spacing: Spacing,
    /// Direction of the rows, clockwise from north.
    pub row_azimuth: Angle,
    /// Lean of alternate trees to either side, from the ground up.
    pub lean: Angle,
    /// What the trees stand by.
    pub standing: Standing,
    /// The crown in the year shown.
    pub shown: Leafing,
    /// The crown at the end of each year.
    pub years: Arc<Vec<YearCrown>>,
    /// How the grown tree comes by its crown.
    pub ripe: Ripe,
}

/// A crown at the end of a year.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct YearCrown {
    /// Years since planting.
    pub year: f64,
    /// The crown.
    pub leafing: Leafing,
}

/// A crown and what its next season adds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leafing {
    /// The crown as kept, after pruning.
    pub kept: Crown,
    /// What a season's shoots add to it.
    pub shoots: Shoots,
}

/// The grown tree as nobody cuts it, and the space it is kept in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ripe {
    /// Height it would grow to `[m]`.
    pub free_height: Length,
    /// Spread it would grow to `[m]`.
    pub free_spread: Length,
    /// What a season's shoots add to it as it is kept.
    pub shoots: Shoots,
    /// The space it is kept in.
    pub space: Space,
}

/// Projection of leaves that face all ways alike, on any plane, per leaf area `[–]`.
pub const LEAF_PROJECTION: f64 = 0.5;

/// Endless rows of like crowns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Array {
    /// One crown, upright.
    pub crown: Crown,
    /// Tree to tree along the row `[m]`.
    pub in_row_spacing: f64,
    /// Row to row `[m]`.
    pub row_width: f64,
    /// Lean of alternate trees to either side, from the ground up `[rad]`.
    pub lean: f64,
}

impl Array {
    /// Rows with this crown on every tree.
    pub fn of(spacing: Spacing, lean: Angle, crown: &Crown) -> Array {
        Array {
            crown: *crown,
            in_row_spacing: spacing.in_row.value,
            row_width: spacing.row_width.value,
            lean: lean.value,
        }
    }

    /// The free-standing orchard that trellised plantings replace: round-headed cones 4.5 m high and 4 m
    /// wide from 0.7 m up, 6.1 × 4.3 m (20 × 14 ft). An example of the old kind, from memory.
    ///
    /// ```
    /// let array = planting::light::Array::free_standing();
    /// assert_eq!((array.row_width, array.in_row_spacing, array.half_span()), (6.1, 4.3, 2.0));
    /// ```
    pub fn free_standing() -> Array {
        Array {
            crown: Crown {
                base: 0.7,
                top: 4.5,
                free_diameter: 4.0,
                free_top: 4.5,
                along: 4.3,
                across: 6.1,
                space_top: 4.5,
                taper: 0.0,
            },
            in_row_spacing: 4.3,
            row_width: 6.1,
            lean: 0.0,
        }
    }

    /// Places along the row, spread alike over two spaces from tree to tree and, for upright trees, over each one too `[m]`;
    /// `start` shifts them all, 0 to 1. Two spaces are what trees that lean to alternate sides repeat over, so that places
    /// don't jump where trees begin to lean.
    pub(super) fn places_along(&self, count: usize, start: f64) -> impl Iterator<Item = f64> {
        let two_spaces = 2.0 * self.in_row_spacing;
        (0..count).map(move |step| {
            let start = if step < count / 2 { start } else { (start + 0.5).fract() };
            (as_number(step) + start) / as_number(count) * two_spaces
        })
    }

    /// The same place seen in a mirror along the row: left and right of it change, and so do trees that lean to either side.
    pub(super) fn mirrored(&self, [across, along, up]: RowPoint) -> RowPoint {
        [-across, along + if self.lean > 0.0 { self.in_row_spacing } else { 0.0 }, up]
    }

    /// Distance between trees of one lean `[m]`.
    pub(super) fn period(&self) -> f64 {
        if self.lean > 0.0 { 2.0 * self.in_row_spacing } else { self.in_row_spacing }
    }

    /// Each lean as sideways shear per metre above the ground, and where along the row its trees stand `[m]`.
    pub(super) fn leans(&self) -> Vec<(f64, f64)> {
        if self.lean > 0.0 {
            vec![(self.lean.tan(), 0.0), (-self.lean.tan(), self.in_row_spacing)]
        } else {
            vec![(0.0, 0.0)]
        }
    }

    /// Half the width that crowns cover across the row, leaning ones included `[m]`.
    pub fn half_span(&self) -> f64 {
        self.crown.half_span(self.lean)
    }

    /// Leaf area on a square metre of ground `[m²/m²]`, from leaf area density `[1/m]`.
    ///
    /// ```
    /// // A cone of 15.9 m³ on 6.1 m × 4.3 m, one square metre of leaves in a cubic metre of it.
    /// let index = planting::light::Array::free_standing().leaf_area_index(1.0);
    /// assert!((index - 0.607).abs() < 0.001);
    /// ```
    pub fn leaf_area_index(&self, leaf_area_density: f64) -> f64 {
        let ground = self.in_row_spacing * self.row_width;
        if ground > 0.0 { leaf_area_density * self.crown.volume() / ground } else { 0.0 }
    }
}

/// Where the rows lie, and what light the season brings there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Site {
    /// Latitude, north above 0 `[rad]`.
    pub latitude: f64,
    /// Direction of the rows, clockwise from north, below half a turn `[rad]`.
    pub row_azimuth: f64,
    /// First month of the season.
    pub first_month: Month,
    /// Last month of the season; before the first, it is next year's.
    pub last_month: Month,
    /// How diffuse light is spread over the sky.
    pub sky: Sky,
    /// Share of the light that is diffuse `[–]`.
    pub diffuse_share: f64,
}

impl Site {
    /// The site of what is set, with rows in this direction.
    pub fn of(inputs: &Inputs, row_azimuth: Angle) -> Site {
        Site {
            latitude: inputs.latitude.value,
            row_azimuth: same_rows(row_azimuth.value).0,
            first_month: inputs.season_first,
            last_month: inputs.season_last,
            sky: inputs.sky,
            diffuse_share: inputs.diffuse_share.value,
        }
    }
}

/// A row has no head: its azimuth and the opposite one are the same row. Gives the one below half a turn, and whether that points the
/// other way.
pub(super) fn same_rows(row_azimuth: f64) -> (f64, bool) {
    const HALF_TURN: f64 = std::f64::consts::PI;
    if row_azimuth < HALF_TURN { (row_azimuth, false) } else { (row_azimuth - HALF_TURN, true) }
}

/// Everything the light of a season depends on, and nothing else.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scene {
    /// The planting.
    pub array: Array,
    /// The site and the season.
    pub site: Site,
    /// Leaf area in a cubic metre of these crowns `[1/m]`.
    pub leaf_area_density: f64,
    /// Clumping of leaves, 1 for none `[–]`.
    pub clumping: f64,
    /// What wood and fruit add to the leaves' shade, 1 for nothing `[–]`.
    pub wood_and_fruit: f64,
    /// Cut points, rising: light for flower buds, for fruit size, for colour `[–]`.
    pub cuts: [f64; 3],
}

impl Scene {
    /// Of what is set, for these rows.
    pub fn of(inputs: &Inputs, row_azimuth: Angle, array: Array) -> Scene {
        Scene {
            array,
            site: Site::of(inputs, row_azimuth),
            leaf_area_density: inputs
                .large_crowns
                .density(inputs.leaf_area_density.value, array.crown.volume()),
            clumping: inputs.leaf_clumping.value,
            wood_and_fruit: inputs.wood_and_fruit.value,
            cuts: [inputs.light_for_flowers, inputs.light_for_size, inputs.light_for_colour]
                .map(|share| share.value),
        }
    }

    /// Extinction, κ = G Ω a × wood and fruit `[1/m]`.
    pub fn extinction(&self) -> f64 {
        (LEAF_PROJECTION * self.clumping * self.leaf_area_density * self.wood_and_fruit).max(0.0)
    }
}

impl Asked {
    /// The season with this crown on every tree, and on it the part set of the season's shoots.
    pub fn scene(&self, leafing: &Leafing) -> Scene {
        let Stand { spacing, lean, row_azimuth, .. } = self.stand;
        let crown = leafing.in_season(&self.inputs, spacing);
        Scene::of(&self.inputs, row_azimuth, Array::of(spacing, lean, &crown))
    }
}

impl Leafing {
    /// The crown as it stands on average over the season.
    pub fn in_season(&self, inputs: &Inputs, spacing: Spacing) -> Crown {
        self.kept.with_shoots(self.shoots, inputs.season_shoots.value, spacing.row_width.value)
    }
}
