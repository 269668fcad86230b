//! What a practice tree is grown from: what it is kept to, its size by year as plain numbers, and how it came from the nursery.

use super::exact::power;
use crate::crop::rules::Keeping;

/// A tree's size at the end of each year from planting on, the first entry at planting, as somebody else has worked it out.
/// Beyond the last entry the last holds.
#[derive(Clone, Debug, PartialEq)]
pub struct Sizes {
    /// Trunk cross-section `[cm²]`.
    pub trunk_area_cm2: Vec<f64>,
    /// Height where nobody cuts the leader `[m]`.
    pub height_m: Vec<f64>,
    /// Spread where nobody cuts the limbs `[m]`.
    pub spread_m: Vec<f64>,
}

/// How a tree came from the nursery.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Nursery {
    /// A single shank that branches in the field.
    Whip,
    /// A tree with five to eleven side shoots, its feathers.
    Feathered,
}

/// What a practice tree is grown from.
#[derive(Clone, Debug, PartialEq)]
pub struct Site {
    /// What it is kept to.
    pub keeping: Keeping,
    /// Its size by year.
    pub sizes: Sizes,
    /// How it came from the nursery.
    pub nursery: Nursery,
    /// Share of spurs that flower on a grown tree in full light `[–]`.
    pub floral_share: f64,
}

/// Years a practice tree may grow.
pub const MOST_YEARS: u32 = 30;
/// Trunk cross-section at planting `[cm²]` (assumption: 16 to 17 mm across).
const PLANTED_TRUNK_CM2: f64 = 2.2;
/// Trunk cross-section of vigour 1 at year 5 `[cm²]` (NC-140 'Honeycrisp', as the canopy reckons it).
const TRUNK_AT_5_CM2: f64 = 11.85;
/// How the trunk area goes on, as a power of the years (assumption).
const TRUNK_POWER: f64 = 1.25;
/// Leader's growth by year for vigour 1 `[m]`: the measured 85, 119 and 31 cm of young trees from whips (Reyes et al. 2025,
/// taken as vigour 1); after that falling (assumption).
const WHIP_GROWTH: [f64; 9] = [0.85, 1.19, 0.31, 0.25, 0.20, 0.17, 0.15, 0.13, 0.11];
/// The same for a tree with feathers, which stands still while its roots grow (assumption).
const FEATHERED_GROWTH: [f64; 9] = [0.50, 0.70, 0.48, 0.30, 0.20, 0.14, 0.10, 0.08, 0.08];
/// Height of the shank that a whip branches from, and of a feathered tree at planting `[m]`: 44 cm measured (Reyes et al.
/// 2025), 1.62 m assumed.
pub(super) const SHANK_M: f64 = 0.44;
pub(super) const FEATHERED_M: f64 = 1.62;
/// Spread of a free tree on its trunk area, metres and cm²: fit over 92 trees, r² 0.70 (NC-140 'Golden Delicious', Utah 2012,
/// open data of Brym & Ernest).
pub const SPREAD_ON_TRUNK: (f64, f64) = (1.22, 0.23);
/// Height of a free tree on its trunk area, metres and cm²; r² 0.83, the same trees.
pub const HEIGHT_ON_TRUNK: (f64, f64) = (1.17, 0.28);

impl Sizes {
    /// Sizes of a vigour, trunk area against M.9 T337, where nothing better is known.
    ///
    /// ```
    /// use planting::crop::tree::site::{Nursery, Sizes};
    /// let sizes = Sizes::of_vigour(1.0, Nursery::Feathered);
    /// assert!((sizes.trunk_area(5) - 11.85).abs() < 1e-9);
    /// assert!((sizes.height(3) - 3.3).abs() < 1e-9, "at the top wire in the third year");
    /// ```
    pub fn of_vigour(vigour: f64, nursery: Nursery) -> Sizes {
        let vigour = vigour.max(0.0);
        let (start, growth) = match nursery {
            Nursery::Whip => (SHANK_M, WHIP_GROWTH),
            Nursery::Feathered => (FEATHERED_M, FEATHERED_GROWTH),
        };
        let scale = vigour.sqrt();
        let mut height = start;
        let mut sizes = Sizes { trunk_area_cm2: Vec::new(), height_m: Vec::new(), spread_m: Vec::new() };
        let planted = match nursery {
            Nursery::Whip => 1.0,
            Nursery::Feathered => PLANTED_TRUNK_CM2,
        };
        for year in 0..=MOST_YEARS {
            let years = f64::from(year);
            if year > 0 {
                let grown = growth.get((year - 1) as usize).or(growth.last());
                height += scale * grown.copied().unwrap_or_default();
            }
            let area =
                planted + (TRUNK_AT_5_CM2 * vigour - planted).max(0.2) * power(years / 5.0, TRUNK_POWER);
            sizes.trunk_area_cm2.push(area);
            sizes.height_m.push(height);
            sizes.spread_m.push(SPREAD_ON_TRUNK.0 * power(area, SPREAD_ON_TRUNK.1));
        }
        sizes
    }

    /// Trunk cross-section at the end of a year `[cm²]`.
    pub fn trunk_area(&self, year: u32) -> f64 {
        at(&self.trunk_area_cm2, year).max(0.1)
    }

    /// Height at the end of a year where nobody cuts the leader `[m]`.
    pub fn height(&self, year: u32) -> f64 {
        at(&self.height_m, year).max(0.0)
    }

    /// Spread at the end of a year where nobody cuts the limbs `[m]`.
    pub fn spread(&self, year: u32) -> f64 {
        at(&self.spread_m, year).max(0.1)
    }
}

fn at(sizes: &[f64], year: u32) -> f64 {
    let size = sizes.get(year as usize).or(sizes.last()).copied().unwrap_or_default();
    if size.is_finite() { size } else { 0.0 }
}

impl Site {
    /// A tall spindle 3 × 12 ft from feathered trees of a vigour.
    ///
    /// ```
    /// let site = planting::crop::tree::site::Site::usual(1.0);
    /// assert_eq!(site.keeping.vigour, 1.0);
    /// ```
    pub fn usual(vigour: f64) -> Site {
        Site {
            keeping: Keeping { vigour, ..Keeping::usual() },
            sizes: Sizes::of_vigour(vigour, Nursery::Feathered),
            nursery: Nursery::Feathered,
            floral_share: 0.70,
        }
    }

    /// Lengths of shoots against vigour 1 `[–]`: the root of the vigour, between a third and twice.
    pub(super) fn push(&self) -> f64 {
        crate::kit::order::within(self.keeping.vigour.max(0.0).sqrt(), 0.33, 2.0)
    }
}
