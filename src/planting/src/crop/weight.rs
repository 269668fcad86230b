//! The weight of a fruit at a crop load.
//!
//! ```text
//!   W [g]                 W = a − b N,  N fruit per cm² of trunk (Webb, Purves & Beech, Long Ashton):
//!   300 |\                the more fruit on the whole tree, the smaller each; crowding on one spur or
//!       |  \__            branch hardly counts, and fruit scatters by as much at every load
//!   150 |     ‾‾‾----
//!       +-------------> N
//! ```
//!
//! Left out: heat in spring, water, the place on the tree, and seeds. Sites shift the whole curve.

use crate::kit::figure::Source;
use uom::si::f64::{Area, ArealNumberDensity, Mass};

/// How far single fruit scatter round their mean, as a standard deviation `[kg]`: 23 g was left between trees by the
/// line of 'Golden Delicious', and 15 to 27 g within classes of crop load.
pub const WEIGHT_SPREAD_KG: f64 = 0.025;

/// Fruit weight by crop load: straight from point to point, level beyond the last.
#[derive(Clone, Debug, PartialEq)]
pub struct WeightCurve {
    /// Crop load and mean weight, loads rising.
    pub points: Vec<(ArealNumberDensity, Mass)>,
    /// Who measured it.
    pub source: Source,
}

impl WeightCurve {
    /// The mean weight at a crop load; a load below none counts as none.
    ///
    /// ```
    /// use planting::crop::{group::BearingGroup, per_cm2};
    /// let weight = BearingGroup::GoldenDelicious.bearing().weight;
    /// assert!((weight.at(per_cm2(5.0)).value - 0.1896).abs() < 1e-9);
    /// ```
    pub fn at(&self, load: ArealNumberDensity) -> Mass {
        let mut before: Option<(ArealNumberDensity, Mass)> = None;
        for (point, weight) in &self.points {
            match before {
                Some((start, first)) if load < *point => {
                    return first + (*weight - first) * ((load - start) / (*point - start)).value.max(0.0);
                }
                None if load <= *point => return *weight,
                _ => before = Some((*point, *weight)),
            }
        }
        before.map_or(super::grams(0.0), |(_, weight)| weight)
    }

    /// How many fruit make a crop on a tree of this trunk area: the fewest `N` with `N × W(N ÷ A) = crop`. Where a
    /// heavier crop would ask for fruit than the curve knows, its last weight holds.
    ///
    /// ```
    /// use planting::crop::{grams, group::BearingGroup, per_cm2};
    /// use planting::uom::si::{f64::Area, area::square_centimeter};
    /// let trunk = Area::new::<square_centimeter>(20.0);
    /// let weight = BearingGroup::GoldenDelicious.bearing().weight;
    /// // 100 fruit at 5 per cm² weigh 189.6 g each.
    /// assert!((weight.fruit_for(grams(18_960.0), trunk) - 100.0).abs() < 1e-6);
    /// ```
    pub fn fruit_for(&self, crop: Mass, trunk_area: Area) -> f64 {
        let smallest = self.points.iter().map(|(_, weight)| weight.value).fold(f64::MAX, f64::min);
        if crop.value.is_nan() || crop.value <= 0.0 || trunk_area.value <= 0.0 || smallest <= 0.0 {
            return 0.0;
        }
        let (mut low, mut high) = (0.0, crop.value / smallest);
        for _ in 0..HALVINGS {
            let fruit = (low + high) / 2.0;
            let made = self.at(ArealNumberDensity::from(fruit / trunk_area)) * fruit;
            if made < crop { low = fruit } else { high = fruit }
        }
        high
    }
}

/// So many halvings bring a number of fruit to within a thousandth of a fruit and far below.
const HALVINGS: u32 = 60;
