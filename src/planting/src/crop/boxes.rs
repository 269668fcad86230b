//! Bushels, boxes and bins, and how fruit of one mean weight spreads over box counts.
//!
//! A box and a bushel hold 42 lb (19.05 kg), so a fruit of count `c` weighs `19.05 kg ÷ c` (Washington apple sizes table;
//! Marini et al. 2019, HortScience 54(11):1947). Fruit weights are taken as normal round their mean. A fruit goes into the
//! count whose weight lies nearest, which is this project's reading: packers sort by diameter too.

use super::grams;
use uom::si::f64::Mass;

/// What a box or a bushel holds `[kg]`: 42 lb.
pub const BOX_KG: f64 = 42.0 * 0.453_592_37;
/// Boxes in a bin (Ontario Ministry of Agriculture, How to estimate bin requirements: 2,000 apples of count 100).
pub const BOXES_IN_BIN: f64 = 20.0;
/// The counts boxes are packed in, largest fruit first (Washington apple sizes table).
pub const COUNTS: [u16; 15] = [48, 56, 64, 72, 80, 88, 100, 113, 125, 138, 150, 163, 175, 198, 216];

/// The weight of one fruit of a count.
///
/// ```
/// use planting::crop::boxes::fruit_weight;
/// // 6.7 oz at count 100.
/// assert!((fruit_weight(100).value / 0.028_349_523 - 6.72).abs() < 0.001);
/// ```
pub fn fruit_weight(count: u16) -> Mass {
    grams(1000.0 * BOX_KG / f64::from(count.max(1)))
}

/// The count whose weight lies nearest to a fruit's.
///
/// ```
/// assert_eq!(planting::crop::boxes::nearest_count(planting::crop::grams(175.0)), 113);
/// ```
pub fn nearest_count(weight: Mass) -> u16 {
    let heavier = COUNTS.iter().zip(bounds());
    let found = heavier.into_iter().find(|(_, bound)| weight.value >= *bound);
    found.map_or(SMALLEST, |(count, _)| *count)
}

const SMALLEST: u16 = 216;

/// The lightest fruit of each count but the last: midway between its weight and that of the next `[kg]`.
fn bounds() -> impl Iterator<Item = f64> {
    COUNTS
        .iter()
        .zip(COUNTS.iter().skip(1))
        .map(|(count, next)| (fruit_weight(*count).value + fruit_weight(*next).value) / 2.0)
}

/// The share of a crop that falls into one count.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CountShare {
    /// Fruit to the box.
    pub count: u16,
    /// Share of all fruit `[–]`.
    pub of_fruit: f64,
    /// Share of the crop's weight `[–]`.
    pub of_weight: f64,
}

/// How fruit of this mean and spread falls into counts, largest first; 48 holds all that is larger, 216 all that is
/// smaller. Shares of fruit and shares of weight each add to one; without a spread all fruit has one count.
///
/// ```
/// use planting::crop::{boxes::spread_over_counts, grams};
/// let shares = spread_over_counts(grams(190.5), grams(25.0));
/// assert!((shares.iter().map(|share| share.of_fruit).sum::<f64>() - 1.0).abs() < 1e-12);
/// assert_eq!(shares.iter().max_by(|a, b| a.of_fruit.total_cmp(&b.of_fruit)).unwrap().count, 100);
/// ```
pub fn spread_over_counts(mean: Mass, spread: Mass) -> Vec<CountShare> {
    let lower = bounds().chain(std::iter::once(f64::NEG_INFINITY));
    let mut shares = Vec::with_capacity(COUNTS.len());
    let mut above = (0.0, 0.0);
    for (count, bound) in COUNTS.iter().zip(lower) {
        // Share of fruit heavier than the bound, and what they weigh: ∫ w φ = m Q(z) + s φ(z).
        let heavier = share_above(bound, mean.value, spread.value);
        let of_fruit = (heavier.0 - above.0).max(0.0);
        let of_weight = (heavier.1 - above.1).max(0.0);
        shares.push(CountShare { count: *count, of_fruit, of_weight });
        above = heavier;
    }
    shares
}

/// The share of fruit lighter than a weight `[–]`.
///
/// ```
/// use planting::crop::{boxes::share_under, grams};
/// assert!((share_under(grams(150.0), grams(150.0), grams(25.0)) - 0.5).abs() < 1e-9);
/// ```
pub fn share_under(weight: Mass, mean: Mass, spread: Mass) -> f64 {
    1.0 - share_above(weight.value, mean.value, spread.value).0
}

/// Share of fruit above a weight, and the share of all weight that they are `[–]`.
fn share_above(bound: f64, mean: f64, spread: f64) -> (f64, f64) {
    if bound == f64::NEG_INFINITY || mean <= 0.0 {
        return (1.0, 1.0);
    }
    if spread.is_nan() || spread <= 0.0 {
        let share = if mean >= bound { 1.0 } else { 0.0 };
        return (share, share);
    }
    let deviations = (bound - mean) / spread;
    let density = (-deviations * deviations / 2.0).exp() / (2.0 * std::f64::consts::PI).sqrt();
    let above = normal_above(deviations);
    (above, (above + spread / mean * density).min(1.0))
}

/// The part of a normal distribution above so many standard deviations; Abramowitz & Stegun 26.2.17, within 7.5 × 10⁻⁸.
fn normal_above(deviations: f64) -> f64 {
    const TERMS: [f64; 5] = [0.319_381_530, -0.356_563_782, 1.781_477_937, -1.821_255_978, 1.330_274_429];
    let size = deviations.abs();
    let step = 1.0 / (1.0 + 0.231_641_9 * size);
    let sum = TERMS.iter().rev().fold(0.0, |sum, term| (sum + term) * step);
    let tail = (-size * size / 2.0).exp() / (2.0 * std::f64::consts::PI).sqrt() * sum;
    if deviations < 0.0 { 1.0 - tail } else { tail }
}

/// A crop in the trade's units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Packed {
    /// Boxes, or bushels: both hold 42 lb.
    pub boxes: f64,
    /// Bins, at so many boxes each.
    pub bins: f64,
}

/// A number of fruit of one count, in boxes and bins.
///
/// ```
/// use planting::crop::boxes::packed;
/// // Ontario: 1,000 trees with 30 fruit of count 100 fill 15 bins.
/// assert_eq!(packed(30_000.0, 100).bins, 15.0);
/// ```
pub fn packed(fruit: f64, count: u16) -> Packed {
    let boxes = fruit / f64::from(count.max(1));
    Packed { boxes, bins: boxes / BOXES_IN_BIN }
}

/// Bins that a crop fills, at what the grower's bins hold; none where a bin holds nothing.
///
/// ```
/// use planting::crop::{boxes::bins, grams};
/// assert_eq!(bins(grams(1_000_000.0), grams(400_000.0)), Some(2.5));
/// ```
pub fn bins(crop: Mass, bin_holds: Mass) -> Option<f64> {
    (bin_holds.value > 0.0).then(|| (crop / bin_holds).value)
}

/// The mean count of a crop by number, as packers quote it: fruit to the box over the whole crop.
///
/// ```
/// use planting::crop::{boxes::mean_count, grams};
/// assert!((mean_count(grams(190.508_795_4)).unwrap() - 100.0).abs() < 1e-6);
/// ```
pub fn mean_count(mean: Mass) -> Option<f64> {
    (mean.value > 0.0).then(|| BOX_KG / mean.value)
}
