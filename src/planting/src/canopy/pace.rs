//! How soon trees grow: a slow, a usual and a quick course of the same tree.
//!
//! Sources differ on years more than on sizes: the top wire in year 2 to 4 as growers say, or in year 7 as trials measured.
//! A pace counts the years of [`growth`](super::growth) faster or slower; the tree that is planted and the tree of old age
//! are the same.

use crate::kit::choice::choice;
use crate::kit::figure::Source;

choice! {
    /// How soon trees grow. Sources differ: in year 4 one unpruned tree in ten is a fifth shorter than the mean,
    /// one in ten a quarter taller.
    GrowthPace {
        /// As the slow tenth.
        Slow = "slow", "Slow";
        /// As the mean of the trials.
        Usual = "usual", "Usual";
        /// As the quick tenth, and as growers say who have feathered trees and water.
        Quick = "quick", "Quick";
    }
}

impl GrowthPace {
    /// Years of usual growth that a year brings `[–]`.
    ///
    /// Set so that G.202 in year 4 has the heights of the measured tenths: 2.25 m and 3.51 m.
    ///
    /// ```
    /// assert_eq!(planting::GrowthPace::Usual.factor(), 1.0);
    /// ```
    pub fn factor(self) -> f64 {
        match self {
            GrowthPace::Slow => 0.66,
            GrowthPace::Usual => 1.0,
            GrowthPace::Quick => 2.25,
        }
    }
}

/// Source of the slow and the quick course.
pub const PACE_SOURCE: Source = Source::assumption(
    "Slow and quick as the lowest and the highest tenth of unpruned trees in their fourth leaf (Reyes et al. 2025, AoB Plants plaf029, open data); growers at the quick end: top wire in year 2 to 3 (Cornell, Growing Magazine May 2013), in year 3 on Geneva stocks (Good Fruit Grower)",
);
