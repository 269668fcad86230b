//! How much crop the trees carry, how large the fruit grows, and the yearly pruning that keeps tree and crop in size.
//!
//! | a question about | is answered in |
//! |---|---|
//! | what is usual for a group of cultivars | [`group`] |
//! | the crop of each year, and what limits it | [`yields`] |
//! | the size of fruit at a crop load | [`weight`] |
//! | boxes, bins, and how sizes spread over counts | [`boxes`] |
//! | flowers next year, alternate bearing | [`bloom`] |
//! | fruit and flower buds to leave on a tree and a limb | [`target`] |
//! | what counts on a few trees say | [`sampling`] |
//! | fruit by trunk and by limb thickness | [`gauge`] |
//! | hours of pruning and thinning | [`hours`] |
//! | the rules of pruning as numbers | [`rules`] |
//! | the page for the crew | [`card`] |
//! | the year's work and its cautions | [`calendar`] |
//! | twenty years of pruning a block | [`routine`] |
//!
//! Trunk area, tree height, spread and the light caught come in as plain values. Left out: frost, hail, pollination,
//! chemical thinning, disease, and prices. Sources stand beside each number.

pub mod bloom;
pub mod boxes;
pub mod calendar;
pub mod card;
pub mod gauge;
pub mod group;
pub mod hours;
pub mod routine;
pub mod rules;
pub mod sampling;
pub mod target;
pub mod tree;
pub mod weight;
pub mod yields;

use uom::si::areal_number_density::per_square_centimeter;
use uom::si::f64::{ArealNumberDensity, Mass};
use uom::si::mass::gram;

/// Fruit on a square centimetre of trunk, the trade's unit of crop load.
///
/// ```
/// assert!((planting::crop::per_cm2(6.0).value - 60_000.0).abs() < 1e-9, "fruit on a square metre");
/// ```
pub fn per_cm2(value: f64) -> ArealNumberDensity {
    ArealNumberDensity::new::<per_square_centimeter>(value)
}

/// A mass of so many grams.
///
/// ```
/// assert!((planting::crop::grams(190.5).value - 0.1905).abs() < 1e-15);
/// ```
pub fn grams(value: f64) -> Mass {
    Mass::new::<gram>(value)
}
