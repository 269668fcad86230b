//! How much light gets where: from the sun and sky of a season, through endless rows of crowns, to the
//! leaves and the ground.
//!
//! | a question about | is answered in |
//! |---|---|
//! | where the sun stands, how long the day is | [`Sun`], [`Almanac`] |
//! | beam, sky, a season's light as directions | [`Directions`] |
//! | what share gets through to a point | [`at`] |
//! | share intercepted, dark parts of the crown, ground, light map | [`Season`] |
//! | Jackson's quick model | [`quick()`] |
//! | shadows of a date and hour | [`Moment`] |
//! | the grown planting: what is wrong, what cures it | [`Grown`] |
//! | not summing again what is known | [`Memory`] |
//!
//! Leaves are a turbid medium: light falls along a ray as `exp(−κ × path through crowns)`, κ = G × Ω ×
//! leaf area density × wood-and-fruit factor, with G = ½ for leaves that face all ways alike. Where two
//! crowns share space, as the feet of a V do, their densities add. A bigger crown has more leaves, not
//! thinner ones: leaf area density is what is held when sizes change.
//!
//! Light means the share of open-sky light that a small level surface would get.
//! Left out: light scattered by leaves and ground (leaves reflect some 7 %), leaves that are thicker on
//! the outside, slopes, posts. Models of leaves alone read 5 to 15 points below meters in the field.
//!
//! The frame: across the rows (a quarter turn clockwise from the row's azimuth), along them, up; metres,
//! from the foot of a tree.

pub(crate) mod figures;
mod grown;
mod kernel;
mod memory;
mod moment;
mod quick;
pub(crate) mod rules;
mod season;
mod sky;
mod sun;

pub use grown::{Apart, Brighter, DARK_SHARE, Fuller, Grown, LOW_INTERCEPTION, SHADING_SHARE};
pub use kernel::Place;
pub use memory::{Light, Memory, YearLight};
pub use moment::{Moment, Shadow, shaded_ground};
pub use quick::{JACKSON_K, quick, well_lit_leaf_area};
pub use season::{Band, Crowns, Map, Sampling, Season, in_crowns, interception, season};
pub use sky::{Direction, Directions, Fineness, Sky, air_mass, clear_beam};
pub use sun::{Almanac, Month, Sun, day_length, half_day};

use crate::canopy::crown::Crown;
use crate::scenario::Scenario;

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
    /// The planting of a scenario, with this crown on every tree.
    pub fn of(scenario: &Scenario, crown: &Crown) -> Array {
        Array {
            crown: *crown,
            in_row_spacing: scenario.in_row_spacing.value,
            row_width: scenario.row_width.value,
            lean: scenario.lean.value,
        }
    }

    /// The free-standing orchard that trellised plantings replace: round-headed cones 4.5 m high and 4 m
    /// wide from 0.7 m up, 6.1 × 4.3 m (20 × 14 ft). An example of the old kind, from memory.
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

    /// Distance between trees of one lean `[m]`.
    fn period(&self) -> f64 {
        if self.lean > 0.0 { 2.0 * self.in_row_spacing } else { self.in_row_spacing }
    }

    /// Each lean as sideways shear per metre above the ground, and where along the row its trees stand `[m]`.
    fn leans(&self) -> Vec<(f64, f64)> {
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
    /// The site of a scenario.
    pub fn of(scenario: &Scenario) -> Site {
        Site {
            latitude: scenario.latitude.value,
            row_azimuth: same_rows(scenario.row_azimuth.value).0,
            first_month: scenario.season_first,
            last_month: scenario.season_last,
            sky: scenario.sky,
            diffuse_share: scenario.diffuse_share.value,
        }
    }
}

/// Rows run both ways: the azimuth below half a turn that is the same row, and whether it points the
/// other way.
fn same_rows(row_azimuth: f64) -> (f64, bool) {
    const HALF_TURN: f64 = std::f64::consts::PI;
    if row_azimuth < HALF_TURN { (row_azimuth, false) } else { (row_azimuth - HALF_TURN, true) }
}

/// Everything the light of a season depends on, and nothing else.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inputs {
    /// The planting.
    pub array: Array,
    /// The site and the season.
    pub site: Site,
    /// Leaf area in a cubic metre of crown `[1/m]`.
    pub leaf_area_density: f64,
    /// Clumping of leaves, 1 for none `[–]`.
    pub clumping: f64,
    /// What wood and fruit add to the leaves' shade, 1 for nothing `[–]`.
    pub wood_and_fruit: f64,
    /// Cut points, rising: light for flower buds, for fruit size, for colour `[–]`.
    pub cuts: [f64; 3],
}

impl Inputs {
    /// Of a scenario, with this crown on every tree.
    pub fn of(scenario: &Scenario, crown: &Crown) -> Inputs {
        Inputs {
            array: Array::of(scenario, crown),
            site: Site::of(scenario),
            leaf_area_density: scenario.leaf_area_density.value,
            clumping: scenario.leaf_clumping.value,
            wood_and_fruit: scenario.wood_and_fruit.value,
            cuts: [
                scenario.light_for_flowers.value,
                scenario.light_for_size.value,
                scenario.light_for_colour.value,
            ],
        }
    }

    /// Extinction, κ = G Ω a × wood and fruit `[1/m]`.
    pub fn extinction(&self) -> f64 {
        (LEAF_PROJECTION * self.clumping * self.leaf_area_density * self.wood_and_fruit).max(0.0)
    }
}

/// Light at places anywhere in the rows, as a share of the light in the open.
///
/// ```
/// use planting::light::{Array, Directions, at};
/// // From straight above, between the trees and under the top of a cone: Beer's law over 3.8 m.
/// let light = at(&[[3.0, 2.1, 0.0], [0.0, 0.0, 0.7]], &Array::free_standing(), 0.5, &Directions::single([0.0, 0.0, 1.0]));
/// assert!((light[0] - 1.0).abs() < 1e-6);
/// assert!((light[1] - (-0.5f64 * 3.8).exp()).abs() < 1e-6);
/// ```
pub fn at(places: &[Place], array: &Array, extinction: f64, directions: &Directions) -> Vec<f64> {
    kernel::light(places, array, extinction, directions).into_iter().map(f64::from).collect()
}
