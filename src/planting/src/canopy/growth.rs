//! How a tree grows when nobody cuts it: height and spread by year for its vigour.
//!
//! Published: the size at the end of year 5 against trunk area, fitted over 17 legible rows of the
//! 2010 NC-140 'Honeycrisp' trial (Autio et al. 2017, J. Amer. Pomol. Soc. 71(3), Table 5),
//! height = 1.31 TCSA^0.298 m (r² 0.93) and spread = 0.52 TCSA^0.435 m (r² 0.88), TCSA in cm².
//! This project's assumptions: the share of that size reached in years 0 to 4, and how the trunk goes
//! on growing after year 5 (the curve of Richards 1959, J. Exp. Bot. 10), set so that mature free trees
//! meet the land-grant size classes (dwarfing stocks 6-12 ft high, unpruned seedlings about 30 ft high
//! and wide) and no year's growth quickens where early years meet late ones.
//! Left out: competition between neighbours, crop load, pruning, replant ground.

use crate::scenario::Scenario;
use crate::working::Source;

/// Trunk area of a moderate scion on M.9 T337 in medium ground at year 5 `[cm²]`: the trial's 9.6 cm²
/// for the weak-growing 'Honeycrisp', divided by the weak scion's factor squared.
pub const REFERENCE_TRUNK_AREA_CM2: f64 = 9.6 / (0.90 * 0.90);

/// The fit of year-5 height on trunk area: coefficient `[m]` and exponent.
pub const HEIGHT_FIT: (f64, f64) = (1.31, 0.298);
/// The fit of year-5 spread on trunk area: coefficient `[m]` and exponent.
pub const SPREAD_FIT: (f64, f64) = (0.52, 0.435);

/// Share of the year-5 height at the end of years 0 to 5 (assumption; Cornell: top wire in year 2-3).
const HEIGHT_SHARE: [f64; 6] = [0.42, 0.58, 0.77, 0.891, 0.947, 1.0];
/// Share of the year-5 spread at the end of years 0 to 5 (assumption).
const SPREAD_SHARE: [f64; 6] = [0.12, 0.27, 0.50, 0.71, 0.87, 1.0];
/// Trunk area in old age against year 5, for vigour 1, and how it rises with vigour (assumption).
const OLD_TRUNK_RATIO: (f64, f64) = (2.9, 1.5);
/// Shape of the trunk's growth curve, and years of growth in the nursery (assumption).
const TRUNK_CURVE: (f64, f64) = (3.0, 2.0);

/// Source of the year-5 fits.
pub const FIT_SOURCE: Source = Source::published(
    "Fit over 17 rows of Autio et al. 2017, J. Amer. Pomol. Soc. 71(3), Table 5 (NC-140 'Honeycrisp', year 5, 4 × 12 ft)",
);
/// Source of the growth curve.
pub const CURVE_SOURCE: Source = Source::assumption(
    "Project's own growth curve through the published year-5 size (Autio et al. 2017), with mature sizes set to the land-grant size classes",
);

/// A tree that nobody cuts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FreeTree {
    /// Trunk area at year 5 against a moderate scion on M.9 T337 in medium ground `[–]`.
    pub vigour: f64,
    /// Trunk cross-section at year 5 `[cm²]`.
    pub trunk_area_cm2: f64,
    /// Height at the end of year 5 `[m]`.
    height_at_5: f64,
    /// Spread at the end of year 5 `[m]`.
    spread_at_5: f64,
}

impl FreeTree {
    /// The tree of a scenario: rootstock × site × scion² × soil².
    pub fn of(scenario: &Scenario) -> FreeTree {
        let stock = scenario.rootstock.stock().relative_trunk_area;
        let scion = scenario.scion_vigour.spacing_factor();
        let soil = scenario.soil_vigour.spacing_factor();
        FreeTree::with_vigour(stock * scenario.vigour.value * scion * scion * soil * soil)
    }

    /// The tree of a vigour.
    pub fn with_vigour(vigour: f64) -> FreeTree {
        let trunk_area_cm2 = REFERENCE_TRUNK_AREA_CM2 * vigour;
        FreeTree {
            vigour,
            trunk_area_cm2,
            height_at_5: HEIGHT_FIT.0 * trunk_area_cm2.powf(HEIGHT_FIT.1),
            spread_at_5: SPREAD_FIT.0 * trunk_area_cm2.powf(SPREAD_FIT.1),
        }
    }

    /// Trunk area against year 5, from year 5 on `[–]`.
    fn trunk_ratio(&self, year: f64) -> f64 {
        let old = (OLD_TRUNK_RATIO.0 * self.vigour.powf(OLD_TRUNK_RATIO.1)).max(1.1);
        let (shape, nursery) = TRUNK_CURVE;
        // A(t) = A_old · (1 − e^−kt)^p, with k such that A(5) is the published trunk area.
        let at_five = old.powf(-1.0 / shape);
        let rate = -(1.0 - at_five).ln() / (5.0 + nursery);
        let grown = 1.0 - (-rate * (year.max(5.0) + nursery)).exp();
        (grown / at_five).powf(shape)
    }

    /// Height at the end of a year `[m]`; years may be broken.
    pub fn height(&self, year: f64) -> f64 {
        self.height_at_5 * share_by_year(&HEIGHT_SHARE, year) * self.trunk_ratio(year).powf(HEIGHT_FIT.1)
    }

    /// Spread, the mean of both widths, at the end of a year `[m]`; years may be broken.
    pub fn spread(&self, year: f64) -> f64 {
        self.spread_at_5 * share_by_year(&SPREAD_SHARE, year) * self.trunk_ratio(year).powf(SPREAD_FIT.1)
    }

    /// The year in which the free spread reaches a width, if it does by `last`.
    pub fn year_of_spread(&self, width: f64, last: f64) -> Option<f64> {
        first_year(|year| self.spread(year), width, last)
    }

    /// The year in which the free height reaches a height, if it does by `last`.
    pub fn year_of_height(&self, height: f64, last: f64) -> Option<f64> {
        first_year(|year| self.height(year), height, last)
    }
}

fn share_by_year(shares: &[f64; 6], year: f64) -> f64 {
    let [mut earlier, later @ ..] = *shares;
    let mut start = 0.0;
    for share in later {
        if year < start + 1.0 {
            return earlier + (share - earlier) * (year - start).max(0.0);
        }
        earlier = share;
        start += 1.0;
    }
    earlier
}

/// The first year at which a rising curve reaches a level, by bisection.
fn first_year(curve: impl Fn(f64) -> f64, level: f64, last: f64) -> Option<f64> {
    if curve(last) < level {
        return None;
    }
    let (mut low, mut high) = (0.0, last);
    if curve(low) >= level {
        return Some(0.0);
    }
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if curve(middle) < level { low = middle } else { high = middle }
    }
    Some(high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn curves_rise_and_pass_through_year_five() {
        for vigour in [0.3, 1.0, 3.5] {
            let tree = FreeTree::with_vigour(vigour);
            let mut year = 0.0;
            while year < 25.0 {
                assert!(tree.height(year + 0.25) >= tree.height(year));
                assert!(tree.spread(year + 0.25) >= tree.spread(year));
                year += 0.25;
            }
            assert!((tree.height(5.0) - tree.height_at_5).abs() < 1e-12);
            assert!((tree.spread(5.0) - tree.spread_at_5).abs() < 1e-12);
        }
    }

    #[test]
    fn the_year_of_a_size_is_where_the_curve_has_it() {
        let tree = FreeTree::with_vigour(1.0);
        let year = tree.year_of_spread(0.9144, 25.0).unwrap();
        assert!((tree.spread(year) - 0.9144).abs() < 1e-9);
        assert_eq!(tree.year_of_spread(99.0, 25.0), None);
        assert_eq!(tree.year_of_spread(0.0, 25.0), Some(0.0));
    }
}
