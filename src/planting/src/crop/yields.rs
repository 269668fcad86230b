//! The crop of each year: the least of what the trunk carries, what the light fills and what the grower wants.
//!
//! ```text
//!   trunk      area × crop load × fruit weight at that load
//!   light      light taken on a tree's ground × yield for all light × ground per tree
//!   schedule   what the grower has written down for the year
//!   young      no crop before the year in which trees may first bear
//! ```
//!
//! Fruit weight follows from the crop that is left, so that a tree held below what its trunk carries bears larger fruit.
//! Left out: frost, hail, years of poor set.

use super::group::Bearing;
use crate::kit::figure::Source;
use crate::kit::row::Spacing;
use uom::si::areal_mass_density::kilogram_per_square_meter;
use uom::si::f64::{Area, ArealMassDensity, ArealNumberDensity, Mass, Ratio};

/// Yield where all light were taken `[kg/m²]`: 0.97 t/ha for each per cent.
pub const YIELD_OF_ALL_LIGHT: f64 = 9.7;
/// Where it comes from.
pub const LIGHT_SOURCE: Source = Source::assumption(
    "From two goals of Robinson et al. (Cornell), 1,500 bushels an acre and 70 to 75 % of the light: 0.95 to 1.0 t/ha for each per cent. Yield rises with light up to about 60 % taken (Wünsche & Lakso 2000, HortScience 35:1202)",
);

/// The last year in which trunk area is a guide to the crop of a tree that fills its space (Clements, UMass Extension
/// 2017: up to the fifth to seventh leaf).
pub const LAST_YOUNG_YEAR: f64 = 6.0;

/// Yield by year as a share of the full crop, from planting on (this project's assumption).
pub const USUAL_SHARES: [f64; 8] = [0.0, 0.0, 0.08, 0.25, 0.50, 0.75, 0.90, 1.0];

/// What the grower wants in a year, from the full crop.
///
/// ```
/// use planting::crop::yields::usual_schedule;
/// use planting::uom::si::{areal_mass_density::kilogram_per_square_meter, f64::ArealMassDensity};
/// let full = ArealMassDensity::new::<kilogram_per_square_meter>(5.0);
/// assert_eq!(usual_schedule(full, 3.0).value, 1.25);
/// assert_eq!(usual_schedule(full, 20.0), full);
/// ```
pub fn usual_schedule(full: ArealMassDensity, year: f64) -> ArealMassDensity {
    let mut start = 0.0;
    for (share, next) in USUAL_SHARES.iter().zip(USUAL_SHARES.iter().skip(1)) {
        if year < start + 1.0 {
            return full * (share + (next - share) * (year - start).max(0.0));
        }
        start += 1.0;
    }
    full
}

/// What is the same in all years.
#[derive(Clone, Debug, PartialEq)]
pub struct Carrying {
    /// What is usual for the cultivars.
    pub bearing: Bearing,
    /// How far apart trees and rows stand.
    pub spacing: Spacing,
    /// Yield where all light were taken.
    pub yield_of_all_light: ArealMassDensity,
    /// The year in which trees may first bear `[years]`.
    pub first_crop: f64,
}

impl Carrying {
    /// The usual: no crop in the season of planting, and the yield of light as goals print it.
    pub fn usual(bearing: Bearing, spacing: Spacing) -> Carrying {
        let yield_of_all_light = ArealMassDensity::new::<kilogram_per_square_meter>(YIELD_OF_ALL_LIGHT);
        Carrying { bearing, spacing, yield_of_all_light, first_crop: 2.0 }
    }

    /// Fruit wanted on the trunk area in a year.
    pub fn load(&self, year: f64) -> ArealNumberDensity {
        if year <= LAST_YOUNG_YEAR { self.bearing.load_young } else { self.bearing.load_grown }
    }
}

/// One year of a tree, as others have worked it out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TreeYear {
    /// Years since planting.
    pub year: f64,
    /// Trunk cross-section.
    pub trunk_area: Area,
    /// Share of the season's light that the crowns take; none where it isn't known.
    pub light_taken: Option<Ratio>,
    /// What the grower wants; none where nothing is set.
    pub wanted: Option<ArealMassDensity>,
}

/// What keeps a crop from being larger.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Limit {
    /// The tree is too young to bear.
    Age,
    /// Trunk area and crop load.
    Trunk,
    /// The light that crowns take.
    Light,
    /// What the grower wants.
    Schedule,
}

impl Limit {
    /// The word shown for it.
    pub fn label(self) -> &'static str {
        match self {
            Limit::Age => "too young to bear",
            Limit::Trunk => "what the trunk carries",
            Limit::Light => "what the light fills",
            Limit::Schedule => "what is wanted",
        }
    }
}

/// The crop of one year.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct YearCrop {
    /// Years since planting.
    pub year: f64,
    /// The most by trunk area, on a tree.
    pub by_trunk: Mass,
    /// The most by light, on a tree; none where the light isn't known.
    pub by_light: Option<Mass>,
    /// What is wanted, on a tree.
    pub by_schedule: Option<Mass>,
    /// Which of them is the least.
    pub limit: Limit,
    /// The crop of a tree.
    pub on_tree: Mass,
    /// The crop of the land.
    pub on_land: ArealMassDensity,
    /// Fruit on a tree.
    pub fruit: f64,
    /// The mean weight of a fruit; that of the first fruit where there are none.
    pub fruit_weight: Mass,
    /// Fruit on the trunk area.
    pub load: ArealNumberDensity,
}

impl YearCrop {
    /// The crop of a year.
    ///
    /// ```
    /// use planting::crop::{group::BearingGroup, yields::{Carrying, Limit, TreeYear, YearCrop}};
    /// use planting::uom::si::{area::square_centimeter, f64::Area};
    /// use planting::{feet, kit::row::Spacing};
    /// let spacing = Spacing { in_row: feet(3.0), row_width: feet(12.0) };
    /// let carrying = Carrying::usual(BearingGroup::Annual.bearing(), spacing);
    /// let trunk_area = Area::new::<square_centimeter>(10.0);
    /// let year = TreeYear { year: 4.0, trunk_area, light_taken: None, wanted: None };
    /// let crop = YearCrop::of(&carrying, &year);
    /// assert_eq!(crop.limit, Limit::Trunk);
    /// assert!((crop.fruit - 60.0).abs() < 1e-6, "6 fruit per cm² of trunk");
    /// ```
    pub fn of(carrying: &Carrying, year: &TreeYear) -> YearCrop {
        let ground = carrying.spacing.ground_per_tree();
        let load = carrying.load(year.year);
        let most_fruit = (load * year.trunk_area).value.max(0.0);
        let by_trunk = carrying.bearing.weight.at(load) * most_fruit;
        let by_light = year.light_taken.map(|taken| carrying.yield_of_all_light * ground * taken);
        let by_schedule = year.wanted.map(|wanted| wanted * ground);
        let limits = [
            (Limit::Age, (year.year < carrying.first_crop).then(|| super::grams(0.0))),
            (Limit::Trunk, Some(by_trunk)),
            (Limit::Light, by_light),
            (Limit::Schedule, by_schedule),
        ];
        let mut least = (Limit::Trunk, by_trunk);
        for (limit, most) in limits {
            if let Some(most) = most.filter(|most| *most < least.1 || limit == Limit::Age) {
                least = (limit, most.max(super::grams(0.0)));
            }
        }
        let (limit, on_tree) = least;
        let fruit = match limit {
            Limit::Trunk => most_fruit,
            _ => carrying.bearing.weight.fruit_for(on_tree, year.trunk_area).min(most_fruit),
        };
        let load = if year.trunk_area.value > 0.0 {
            ArealNumberDensity::from(fruit / year.trunk_area)
        } else {
            super::per_cm2(0.0)
        };
        YearCrop {
            year: year.year,
            by_trunk,
            by_light,
            by_schedule,
            limit,
            on_tree,
            on_land: on_tree / ground,
            fruit,
            fruit_weight: carrying.bearing.weight.at(load),
            load,
        }
    }
}

/// Crop on the trunk area, as trials print the efficiency of a tree `[kg/m²]`; none without a trunk.
///
/// ```
/// use planting::crop::{grams, yields::efficiency};
/// use planting::uom::si::{area::square_centimeter, f64::Area};
/// // B.9 in the NC-140 'Honeycrisp' trial: 14.6 kg in all on 6.5 cm².
/// let found = efficiency(grams(14_600.0), Area::new::<square_centimeter>(6.5)).unwrap();
/// assert!((found.value / 1e4 - 2.25).abs() < 0.01, "kg/cm²");
/// ```
pub fn efficiency(crop: Mass, trunk_area: Area) -> Option<ArealMassDensity> {
    (trunk_area.value > 0.0).then(|| crop / trunk_area)
}
