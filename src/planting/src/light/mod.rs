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
//! | how dense the leaves of a crown are | [`LargeCrowns`] |
//! | what a meter would likely read | [`Metered`] |
//! | shadows of a date and hour | [`Moment`] |
//! | the grown planting and what cures it | [`Grown`], [`Cures`] |
//! | not summing again what is known | [`Memory`] |
//!
//! Leaves are a turbid medium: light falls along a ray as `exp(−κ × path through crowns)`, κ = G × Ω ×
//! leaf area density × wood-and-fruit factor, with G = ½ for leaves that face all ways alike. Where two
//! crowns share space, as the feet of a V do, their densities add. A bigger crown has more leaves, and
//! carries them more thinly (`leaves.rs`). Crowns are those of the season: as kept, with part of their shoots.
//!
//! Light means the share of open-sky light that a small level surface would get.
//! Left out: light scattered by leaves and ground (leaves reflect some 7 %), leaves that are thicker on
//! the outside, slopes, posts. Models of leaves alone read 5 to 15 points below meters in the field.
//!
//! Asks the block for spacing, direction and machine, the canopy for its crowns, the trellis for what the trees stand by.
//! Sources stand beside each figure and rule.
//!
//! The frame: across the rows (a quarter turn clockwise from the row's azimuth), along them, up; metres,
//! from the foot of a tree.

pub mod advice;
pub mod asks;
mod directions;
pub mod figures;
mod grown;
pub mod inputs;
mod kernel;
mod leaves;
mod memory;
mod metered;
mod moment;
mod quick;
mod scene;
mod season;
mod sky;
mod sun;
pub mod workings;

pub use directions::{Direction, Directions, Fineness};
pub use grown::{DARK_SHARE, Grown, LOW_INTERCEPTION, SHADING_SHARE};
pub use inputs::Inputs;
pub use kernel::{RowPoint, at};
pub use leaves::{HALF_AS_DENSE, LargeCrowns};
pub use memory::{Light, Memory, YearLight};
pub use metered::{DarkRange, LEAF_DENSITIES, Metered};
pub use moment::{Moment, Shadow, shaded_ground};
pub use quick::{JACKSON_K, quick, well_lit_leaf_area};
pub use scene::{Array, Asked, LEAF_PROJECTION, Ripe, Scene, Site, Stand, YearCrown};
pub use season::{Band, Crowns, Map, Sampling, Season, in_crowns, interception, season};
pub use sky::{Sky, air_mass, clear_beam};
pub use sun::{Almanac, Month, Sun, day_length, half_day};

use crate::kit::offers::Offer;

/// What this room has computed.
pub type State = Light;

/// What its results leave out, for a reader.
pub const CAVEAT: &str = "Modelled for leaves alone: light scattered by leaves and ground, uneven leaves within the crown, sloping ground and posts are left out, so shares read below light meters in the field; what a meter would likely read stands among the figures. Compare plans with each other.";

/// What it offers to rooms that are put after it.
pub const OFFERS: &[Offer] = &[Offer::LightTaken];
/// What it asks of rooms that are put before it.
pub const ASKS: &[Offer] = &[];
