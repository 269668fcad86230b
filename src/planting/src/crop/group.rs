//! Groups of cultivars by how they bear, and what is usual for each.

use super::weight::WeightCurve;
use super::{grams, per_cm2};
use crate::kit::choice::choice;
use crate::kit::figure::Source;
use uom::si::f64::ArealNumberDensity;

choice! {
    /// How a cultivar bears.
    BearingGroup {
        /// Bears every year.
        Annual = "annual", "Annual (such as Gala, Empire, McIntosh, Delicious)";
        /// Tends to bear every other year.
        Biennial = "biennial", "Biennial (such as Honeycrisp, Fuji)";
        /// Golden Delicious, for which fruit weights were measured.
        GoldenDelicious = "golden_delicious", "Golden Delicious";
    }
}

/// What is usual for a group of cultivars.
#[derive(Clone, Debug, PartialEq)]
pub struct Bearing {
    /// Fruit wanted on the trunk area of a tree that still fills its space.
    pub load_young: ArealNumberDensity,
    /// Fruit wanted on the trunk area of a grown tree.
    pub load_grown: ArealNumberDensity,
    /// Crop load at which half the bloom comes back next year.
    pub load_of_half_bloom: ArealNumberDensity,
    /// Flower buds left for each fruit wanted `[–]`.
    pub insurance: f64,
    /// Fruit weight by crop load.
    pub weight: WeightCurve,
    /// Who says so of the crop loads.
    pub source: Source,
}

/// The weights of 'Golden Delicious' in Utah, for the group they were measured on.
const MEASURED: Source = Source::published(
    "Fit over 90 trees, r² 0.51: NC-140 'Golden Delicious' on 18 stocks, Kaysville, Utah, 2012 (open data of Brym & Ernest)",
);
/// The same weights, lent to another group.
const LENT: Source = Source::assumption(
    "'Golden Delicious' in Utah (NC-140, open data of Brym & Ernest), lent to other annual bearers: no line was found for them",
);
const HONEYCRISP: Source = Source::assumption(
    "Robinson (Cornell), Honeycrisp crop load: about 300 g at almost none, 175 g at 7 fruit per cm², 150 g from 10; between these, drawn by this project",
);

/// The straight line of 'Golden Delicious': 269.1 − 15.9 × fruit per cm², not below the smallest box.
fn golden_line(source: Source) -> WeightCurve {
    WeightCurve {
        points: vec![(per_cm2(0.0), grams(269.1)), (per_cm2(11.0), grams(269.1 - 15.9 * 11.0))],
        source,
    }
}

impl BearingGroup {
    /// What is usual for the group.
    ///
    /// ```
    /// use planting::crop::{group::BearingGroup, per_cm2};
    /// let honeycrisp = BearingGroup::Biennial.bearing();
    /// assert_eq!(honeycrisp.load_young, per_cm2(4.0));
    /// ```
    pub fn bearing(self) -> Bearing {
        let table = Source::published(
            "Clements (UMass Extension) 2017, Crop load guide for young apple trees; grown trees from memory",
        );
        let bearing = |young, grown, half_bloom, insurance, weight| Bearing {
            load_young: per_cm2(young),
            load_grown: per_cm2(grown),
            load_of_half_bloom: per_cm2(half_bloom),
            insurance,
            weight,
            source: table,
        };
        match self {
            BearingGroup::Annual => bearing(6.0, 6.0, 8.0, 1.8, golden_line(LENT)),
            BearingGroup::GoldenDelicious => bearing(6.0, 6.0, 8.0, 1.8, golden_line(MEASURED)),
            BearingGroup::Biennial => {
                let points = [(0.0, 300.0), (1.0, 290.0), (4.0, 220.0), (7.0, 175.0), (10.0, 150.0)];
                let points = points.map(|(load, weight)| (per_cm2(load), grams(weight))).to_vec();
                bearing(4.0, 5.0, 5.0, 2.5, WeightCurve { points, source: HONEYCRISP })
            }
        }
    }
}
