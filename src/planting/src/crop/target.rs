//! Fruit and flower buds to leave on a tree and on a limb.
//!
//! ```text
//!   fruit on a tree     crop of a tree ÷ weight of a fruit of the count wanted
//!   fruit on a limb     fruit on a tree ÷ limbs
//!   flower buds         fruit × insurance
//!   buds in all         flower buds ÷ share of buds that flower
//! ```
//!
//! Sources: Ontario Ministry of Agriculture, Research results: trial precision pruning; Basedow (Cornell), floral bud
//! evaluations on Honeycrisp.

use super::boxes::fruit_weight;
use uom::si::f64::{Mass, Ratio};

/// What is wanted of a tree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wanted {
    /// Fruit on a tree.
    pub fruit: f64,
    /// Limbs that carry it.
    pub limbs: f64,
    /// Flower buds for each fruit.
    pub insurance: f64,
    /// Share of all buds that flower.
    pub floral_share: Ratio,
}

/// From one number to another, both meant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// The lower end.
    pub low: f64,
    /// The upper end.
    pub high: f64,
}

impl Span {
    /// The whole numbers on either side, as a crew is told: 6.25 becomes 6 to 7.
    fn whole(value: f64) -> Span {
        Span { low: value.floor(), high: value.ceil() }
    }

    fn times(self, factor: f64) -> Span {
        Span { low: self.low * factor, high: self.high * factor }
    }
}

/// What to leave on a tree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Target {
    /// Fruit on a tree.
    pub fruit: f64,
    /// Fruit on a limb in whole numbers; none without limbs.
    pub fruit_on_limb: Option<Span>,
    /// Flower buds on a tree.
    pub flower_buds: f64,
    /// Flower buds on a limb, for the whole numbers of fruit; none without limbs.
    pub flower_buds_on_limb: Option<Span>,
    /// Buds of both kinds on a tree; none where no bud flowers.
    pub buds: Option<f64>,
}

/// Fruit of a count that make up a crop.
///
/// ```
/// use planting::crop::{grams, target::fruit_of_count};
/// // 1.5 bushels of count 100.
/// assert!((fruit_of_count(grams(1.5 * 19_050.879_54), 100) - 150.0).abs() < 1e-9);
/// ```
pub fn fruit_of_count(crop: Mass, count: u16) -> f64 {
    (crop / fruit_weight(count)).value
}

impl Target {
    /// What to leave for what is wanted. Anything below none counts as none.
    ///
    /// ```
    /// use planting::{crop::target::{Span, Target, Wanted}, share};
    /// // Ontario: 150 fruit on 24 branches, two flower buds for a fruit.
    /// let target = Target::of(&Wanted { fruit: 150.0, limbs: 24.0, insurance: 2.0, floral_share: share(1.0) });
    /// assert_eq!(target.fruit_on_limb, Some(Span { low: 6.0, high: 7.0 }));
    /// assert_eq!(target.flower_buds_on_limb, Some(Span { low: 12.0, high: 14.0 }));
    /// ```
    pub fn of(wanted: &Wanted) -> Target {
        let fruit = wanted.fruit.max(0.0);
        let insurance = wanted.insurance.max(0.0);
        let on_limb = (wanted.limbs > 0.0).then(|| Span::whole(fruit / wanted.limbs));
        let flower_buds = fruit * insurance;
        Target {
            fruit,
            fruit_on_limb: on_limb,
            flower_buds,
            flower_buds_on_limb: on_limb.map(|span| span.times(insurance)),
            buds: (wanted.floral_share.value > 0.0).then(|| flower_buds / wanted.floral_share.value),
        }
    }
}
