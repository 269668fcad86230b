//! Flowers that come back after a crop, and how unevenly trees bear. A tendency, not a forecast.
//!
//! Return bloom falls with the crop: `R = 1 ÷ (1 + e^(k (N − N₀)))`, N fruit per cm² of trunk. Only its shape has a ground
//! ('Honeycrisp' on Pajam 1, HortScience 41(4):1010B: good bloom on 70, 9, 2.5 and 0 % of trees after rising crops); k and
//! N₀ are this project's assumption.

use super::group::Bearing;
use crate::kit::count::as_number;
use uom::si::areal_number_density::per_square_centimeter;
use uom::si::f64::ArealNumberDensity;

/// How steeply bloom falls, for each fruit per cm² (assumption).
const STEEPNESS: f64 = 0.9;

/// Share of a full bloom that comes back after a crop `[–]`.
///
/// ```
/// use planting::crop::{bloom::return_bloom, group::BearingGroup, per_cm2};
/// let honeycrisp = BearingGroup::Biennial.bearing();
/// assert_eq!(return_bloom(&honeycrisp, per_cm2(5.0)), 0.5);
/// assert!(return_bloom(&honeycrisp, per_cm2(10.0)) < 0.02);
/// ```
pub fn return_bloom(bearing: &Bearing, load: ArealNumberDensity) -> f64 {
    let beyond = (load - bearing.load_of_half_bloom).get::<per_square_centimeter>();
    1.0 / (1.0 + (STEEPNESS * beyond).exp())
}

/// The index of biennial bearing: the mean of `|y₂ − y₁| ÷ (y₁ + y₂)` over successive years; 0 is steady, 1 every other
/// year nothing. Two years without any crop are left out; none where nothing is left. Formula from memory.
///
/// ```
/// use planting::crop::bloom::biennial_index;
/// assert_eq!(biennial_index(&[10.0, 0.0, 10.0]), Some(1.0));
/// assert_eq!(biennial_index(&[10.0, 30.0]), Some(0.5));
/// assert_eq!(biennial_index(&[10.0]), None);
/// ```
pub fn biennial_index(crops: &[f64]) -> Option<f64> {
    let swings: Vec<f64> = crops
        .iter()
        .zip(crops.iter().skip(1))
        .filter(|(one, other)| *one + *other > 0.0)
        .map(|(one, other)| (other - one).abs() / (one + other))
        .collect();
    (!swings.is_empty()).then(|| swings.iter().sum::<f64>() / as_number(swings.len()))
}

/// The same with the large years counting more: `Σ |Δ| ÷ Σ (y₁ + y₂)`.
///
/// ```
/// assert_eq!(planting::crop::bloom::weighted_biennial_index(&[10.0, 30.0, 10.0]), Some(0.5));
/// ```
pub fn weighted_biennial_index(crops: &[f64]) -> Option<f64> {
    let pairs = || crops.iter().zip(crops.iter().skip(1));
    let sum: f64 = pairs().map(|(one, other)| one + other).sum();
    (sum > 0.0).then(|| pairs().map(|(one, other)| (other - one).abs()).sum::<f64>() / sum)
}

/// Crop loads of successive years where every flower bud may set: next year's crop is what comes back of the most the tree
/// would set, thinned to a load where one is given.
///
/// ```
/// use planting::crop::{bloom::{biennial_index, loads_by_year}, group::BearingGroup, per_cm2};
/// let honeycrisp = BearingGroup::Biennial.bearing();
/// let swing = |thinned| {
///     let loads: Vec<f64> =
///         loads_by_year(&honeycrisp, per_cm2(12.0), thinned, 12).iter().map(|load| load.value).collect();
///     biennial_index(&loads).unwrap()
/// };
/// assert!(swing(None) > 0.5 && swing(Some(per_cm2(4.0))) < 0.1);
/// ```
pub fn loads_by_year(
    bearing: &Bearing,
    most: ArealNumberDensity,
    thinned_to: Option<ArealNumberDensity>,
    years: usize,
) -> Vec<ArealNumberDensity> {
    let thin = |load: ArealNumberDensity| thinned_to.map_or(load, |wanted| load.min(wanted));
    let first = thin(most);
    std::iter::successors(Some(first), |load| Some(thin(most * return_bloom(bearing, *load))))
        .take(years)
        .collect()
}
