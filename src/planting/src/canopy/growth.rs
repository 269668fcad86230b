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

use super::Inputs;
use crate::kit::figure::Source;
use uom::si::f64::Length;
use uom::si::length::meter;

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
    /// How fast the trunk comes near its size in old age `[1/years]`.
    trunk_rate: f64,
    /// Share of that curve reached at year 5, before it is raised to the power of its shape `[–]`.
    trunk_at_5: f64,
}

impl FreeTree {
    /// The tree of a planting: rootstock × site × scion² × soil².
    pub fn of(inputs: &Inputs) -> FreeTree {
        let stock = inputs.rootstock.relative_trunk_area();
        let scion = inputs.scion_vigour.spacing_factor();
        let soil = inputs.soil_vigour.spacing_factor();
        FreeTree::with_vigour(stock * inputs.vigour.value * scion * scion * soil * soil)
    }

    /// The tree of a vigour.
    ///
    /// ```
    /// let tree = planting::canopy::growth::FreeTree::with_vigour(1.0);
    /// assert!((tree.trunk_area_cm2 - 11.85).abs() < 0.01);
    /// assert!((tree.height(5.0).value - 2.737).abs() < 0.001 && (tree.spread(5.0).value - 1.524).abs() < 0.001);
    /// ```
    pub fn with_vigour(vigour: f64) -> FreeTree {
        let trunk_area_cm2 = REFERENCE_TRUNK_AREA_CM2 * vigour;
        // A(t) = A_old · (1 − e^−kt)^p, with k such that A(5) is the published trunk area.
        let old = (OLD_TRUNK_RATIO.0 * vigour.powf(OLD_TRUNK_RATIO.1)).max(1.1);
        let (shape, nursery) = TRUNK_CURVE;
        let trunk_at_5 = old.powf(-1.0 / shape);
        FreeTree {
            vigour,
            trunk_area_cm2,
            trunk_rate: -(1.0 - trunk_at_5).ln() / (5.0 + nursery),
            trunk_at_5,
            height_at_5: HEIGHT_FIT.0 * trunk_area_cm2.powf(HEIGHT_FIT.1),
            spread_at_5: SPREAD_FIT.0 * trunk_area_cm2.powf(SPREAD_FIT.1),
        }
    }

    /// Trunk area against year 5, from year 5 on `[–]`.
    fn trunk_ratio(&self, year: f64) -> f64 {
        let (shape, nursery) = TRUNK_CURVE;
        if year <= 5.0 {
            return 1.0;
        }
        let grown = 1.0 - (-self.trunk_rate * (year + nursery)).exp();
        (grown / self.trunk_at_5).powf(shape)
    }

    /// Height at the end of a year `[m]`; years may be broken.
    pub fn height(&self, year: f64) -> Length {
        Length::new::<meter>(self.height_m(year))
    }

    /// Spread, the mean of both widths, at the end of a year `[m]`; years may be broken.
    pub fn spread(&self, year: f64) -> Length {
        Length::new::<meter>(self.spread_m(year))
    }

    fn height_m(&self, year: f64) -> f64 {
        self.height_at_5 * share_by_year(&HEIGHT_SHARE, year) * self.trunk_ratio(year).powf(HEIGHT_FIT.1)
    }

    fn spread_m(&self, year: f64) -> f64 {
        self.spread_at_5 * share_by_year(&SPREAD_SHARE, year) * self.trunk_ratio(year).powf(SPREAD_FIT.1)
    }

    /// The year in which the free spread reaches a width, if it does by `last`.
    pub fn year_of_spread(&self, width: Length, last: f64) -> Option<f64> {
        first_year(|year| self.spread_m(year), width.value, last)
    }

    /// The year in which the free height reaches a height, if it does by `last`.
    ///
    /// ```
    /// use planting::{canopy::growth::FreeTree, uom::si::{f64::Length, length::meter}};
    /// let tree = FreeTree::with_vigour(1.0);
    /// let year_of = |metres: f64| tree.year_of_height(Length::new::<meter>(metres), 25.0);
    /// assert!((year_of(3.0).unwrap() - 6.70).abs() < 0.01);
    /// assert_eq!(year_of(9.0), None);
    /// ```
    pub fn year_of_height(&self, height: Length, last: f64) -> Option<f64> {
        first_year(|year| self.height_m(year), height.value, last)
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

/// How near to a level a curve must come, as a share of it.
const NEAR_ENOUGH: f64 = 1e-12;
/// More trials than false position takes within one year.
const MOST_TRIALS: u32 = 60;

/// The first year at which a rising curve reaches a level: the whole year before it by halving, and the rest by false
/// position with the Illinois rule (Dowell & Jarratt 1971). Within a year the curves have no kink, so that few trials are enough.
fn first_year(curve: impl Fn(f64) -> f64, level: f64, last: f64) -> Option<f64> {
    let beyond = |year: f64| curve(year) - level;
    let (mut low, mut high) = ((0.0, beyond(0.0)), (last, beyond(last)));
    if high.1 < 0.0 {
        return None;
    }
    if low.1 >= 0.0 {
        return Some(0.0);
    }
    while high.0 - low.0 > 1.0 {
        let middle = ((low.0 + high.0) / 2.0).floor();
        let found = (middle, beyond(middle));
        if found.1 < 0.0 { low = found } else { high = found }
    }
    let mut was_low = None;
    for _ in 0..MOST_TRIALS {
        if high.1 <= level.abs() * NEAR_ENOUGH {
            break;
        }
        let year = low.0 + (high.0 - low.0) * (-low.1) / (high.1 - low.1);
        let found = (year, beyond(year));
        let is_low = found.1 < -level.abs() * NEAR_ENOUGH;
        // An end that stays put twice counts half.
        match (was_low, is_low) {
            (Some(true), true) => high.1 /= 2.0,
            (Some(false), false) => low.1 /= 2.0,
            _ => {}
        }
        if is_low {
            low = found
        } else {
            high = found
        }
        was_low = Some(is_low);
    }
    Some(high.0)
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
            assert!((tree.height_m(5.0) - tree.height_at_5).abs() < 1e-12);
            assert!((tree.spread_m(5.0) - tree.spread_at_5).abs() < 1e-12);
        }
    }

    #[test]
    fn the_year_of_a_size_is_where_the_curve_has_it() {
        let tree = FreeTree::with_vigour(1.0);
        let metres = |value| Length::new::<meter>(value);
        let year = tree.year_of_spread(metres(0.9144), 25.0).unwrap();
        assert!((tree.spread_m(year) - 0.9144).abs() < 1e-9);
        assert_eq!(tree.year_of_spread(metres(99.0), 25.0), None);
        assert_eq!(tree.year_of_spread(metres(0.0), 25.0), Some(0.0));
    }
}
