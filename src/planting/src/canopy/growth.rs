//! How a tree grows when nobody cuts it: trunk, height and spread by year.
//!
//! Three courses, all of one form (the monomolecular curve of Mitscherlich 1909): every year adds the same share
//! of what is still lacking to the size of old age,
//!
//! ```text
//!     z(t) = z_old − (z_old − z₀) · rᵗ          z:  √A of the trunk, height H, spread S
//!     z_old = z₀ + (z₅ − z₀) ÷ (1 − q)          z₀: the nursery tree, z₅: the tree at year 5
//!     r = q^(pace ÷ 5)                          q:  growth of five years against that of the five before
//! ```
//!
//! so that no year adds more than the one before it, and whatever is set moves it smoothly.
//!
//! Published: the size at the end of year 5 on trunk area, fitted over 17 legible rows of the 2010 NC-140
//! 'Honeycrisp' trial (Autio et al. 2017, J. Amer. Pomol. Soc. 71(3), Table 5; 4 × 12 ft),
//! H = 1.31 A^0.298 m (r² 0.93) and S = 0.52 A^0.435 m (r² 0.88), A in cm². Fitted to open data: how strongly
//! growth goes on ([`Rootstock::late_growth`]), by trunk areas of the tenth leaf of the 2003 NC-140 'Golden Delicious'
//! trial at Kaysville, Utah (Brym & Ernest, github weecology/branch-arch, CC BY 3.0), and through them height and
//! spread, which meet the relation over its 92 trees, H = 1.17 A^0.28 (r² 0.83) and S = 1.22 A^0.23 (r² 0.70).
//! This project's own: the joins. The nursery tree, the shares by which height and spread follow the trunk's late
//! growth, and crowding, set so that M.9 has half the trunk at 5,382 trees a hectare that it has at 598 in year 13
//! (Robinson 2010, ASHS conference). Left out: crop load, pruning, replant ground.
//!
//! [`Rootstock::late_growth`]: super::stock::Rootstock::late_growth

use super::Inputs;
use super::pace::GrowthPace;
use crate::kit::figure::Source;
use crate::kit::row::Spacing;
use uom::si::area::square_centimeter;
use uom::si::f64::{Area, Length};
use uom::si::length::meter;

/// Trunk area of a moderate scion on M.9 T337 in medium ground at year 5 `[cm²]`: the trial's 9.6 cm²
/// for the weak-growing 'Honeycrisp', divided by the weak scion's factor squared.
pub const REFERENCE_TRUNK_AREA_CM2: f64 = 9.6 / (0.90 * 0.90);

/// The fit of year-5 height on trunk area: coefficient `[m]` and exponent.
pub const HEIGHT_FIT: (f64, f64) = (1.31, 0.298);
/// The fit of year-5 spread on trunk area: coefficient `[m]` and exponent.
pub const SPREAD_FIT: (f64, f64) = (0.52, 0.435);
/// Trees on the land of the trial that both were fitted over, 4 × 12 ft `[1/m²]`.
pub const TRIAL_DENSITY: f64 = 1.0 / (48.0 * 0.3048 * 0.3048);

/// Trunk area of a tree from the nursery `[cm²]`: 11 mm across (assumption). The weakest tree of the trial had 2 cm² in year 5.
pub const NURSERY_TRUNK_AREA_CM2: f64 = 1.0;
/// Height of a tree from the nursery `[m]` (assumption).
pub const NURSERY_HEIGHT: f64 = 1.15;
/// Spread of a tree from the nursery, short feathers (assumption) `[m]`.
pub const NURSERY_SPREAD: f64 = 0.28;

/// What goes on of height, against what goes on of trunk diameter: q_H = 0.6 q (this project's join).
const HEIGHT_LATE: (f64, f64) = (0.0, 0.6);
/// The same of spread: q_S = 0.3 + 0.4 q (this project's join).
const SPREAD_LATE: (f64, f64) = (0.3, 0.4);

/// Trunk area at which trees at the trial's spacing have half of the crowding they can have `[cm²]`; set so that
/// M.9 has half the trunk at 5,382 trees a hectare that it has at 598 in year 13.
pub const HALF_CROWDED_CM2: f64 = 35.237;

/// Years between the nursery tree and the fits.
const FIT_YEAR: f64 = 5.0;

/// Source of the year-5 fits.
pub const FIT_SOURCE: Source = Source::published(
    "Fit over 17 rows of Autio et al. 2017, J. Amer. Pomol. Soc. 71(3), Table 5 (NC-140 'Honeycrisp', year 5, 4 × 12 ft)",
);
/// Source of the courses over the years.
pub const CURVE_SOURCE: Source = Source::assumption(
    "Project's own join: a monomolecular curve from a nursery tree through the published year-5 size (Autio et al. 2017); growth after it fitted to the tenth leaf of NC-140 'Golden Delicious' in Utah (Brym & Ernest, open data)",
);
/// Source of the trunk's course: of its late growth and of crowding.
pub const TRUNK_SOURCE: Source = Source::assumption(
    "Project's own curve through the published year-5 trunk. Late growth of B.9, G.16, G.41, G.935, M.26 and M.9 fitted to the tenth leaf, NC-140 'Golden Delicious' 2003 at Kaysville, Utah (Brym & Ernest, open data; two trees of M.26, four of M.9 T337), the rest placed beside them by size class. Crowding set so that M.9 has half the trunk at 5,382 trees a hectare that it has at 598 in year 13 (Robinson 2010, ASHS conference)",
);
/// The course of one size over the years: each year adds the same share of what lacks to old age.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Course {
    /// Size at planting.
    pub start: f64,
    /// Size in old age.
    pub old: f64,
    /// Part of what lacks to old age that still lacks a year later `[–]`.
    pub lacking: f64,
}

impl Course {
    /// Through two sizes, at planting and at year 5; `late` is growth of five years against the five before, below 1.
    fn through(start: f64, at_5: f64, late: f64, pace: f64) -> Course {
        Course { start, old: start + (at_5 - start) / (1.0 - late), lacking: late.powf(pace / FIT_YEAR) }
    }

    /// Size at the end of a year; years may be broken.
    ///
    /// ```
    /// use planting::canopy::growth::Course;
    /// let course = Course { start: 1.0, old: 5.0, lacking: 0.5 };
    /// assert_eq!([0.0, 1.0, 2.0].map(|year| course.at(year)), [1.0, 3.0, 4.0]);
    /// ```
    pub fn at(&self, year: f64) -> f64 {
        self.old - (self.old - self.start) * self.lacking.powf(year)
    }

    /// What `years` add to a tree of a size, whatever its age.
    ///
    /// ```
    /// use planting::canopy::growth::Course;
    /// let course = Course { start: 1.0, old: 5.0, lacking: 0.5 };
    /// assert_eq!(course.season(3.0, 1.0), 1.0);
    /// ```
    pub fn season(&self, size: f64, years: f64) -> f64 {
        (self.old - size).max(0.0) * (1.0 - self.lacking.powf(years))
    }

    /// The year in which a size is reached; none for one that old age doesn't reach.
    ///
    /// ```
    /// use planting::canopy::growth::Course;
    /// let course = Course { start: 1.0, old: 5.0, lacking: 0.5 };
    /// assert_eq!((course.year_of(4.0), course.year_of(0.5), course.year_of(5.0)), (Some(2.0), Some(0.0), None));
    /// ```
    pub fn year_of(&self, size: f64) -> Option<f64> {
        if size <= self.start {
            return Some(0.0);
        }
        let lacks = (self.old - size) / (self.old - self.start);
        (lacks > 0.0).then(|| lacks.ln() / self.lacking.ln())
    }
}

/// What a tree grows under.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conditions {
    /// Trunk area at year 5 against a moderate scion on M.9 T337 in medium ground, at the trial's spacing `[–]`.
    pub vigour: f64,
    /// Growth of the trunk's diameter in five years against the five before `[–]`, above 0 and below 1.
    pub late_growth: f64,
    /// Trees on the land against the trial's 4 × 12 ft `[–]`.
    pub density: f64,
    /// How soon trees grow.
    pub pace: GrowthPace,
}

impl Conditions {
    /// Those of a planting; vigour is rootstock × site × scion² × soil².
    pub fn of(inputs: &Inputs, spacing: Spacing) -> Conditions {
        let scion = inputs.scion_vigour.spacing_factor();
        let soil = inputs.soil_vigour.spacing_factor();
        let stock = inputs.rootstock.relative_trunk_area();
        Conditions {
            vigour: stock * inputs.vigour.value * scion * scion * soil * soil,
            late_growth: inputs.rootstock.late_growth(),
            density: spacing.trees_per_square_metre() / TRIAL_DENSITY,
            pace: inputs.growth_pace,
        }
    }
}

/// A tree that nobody cuts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FreeTree {
    /// What it grows under.
    pub conditions: Conditions,
    /// Trunk cross-section at year 5 at the trial's spacing `[cm²]`.
    pub trunk_area_cm2: f64,
    /// Square root of the trunk's cross-section at the trial's spacing `[cm]`.
    pub trunk_course: Course,
    /// Height `[m]`.
    pub height_course: Course,
    /// Spread, the mean of both widths `[m]`.
    pub spread_course: Course,
}

impl FreeTree {
    /// The tree under these conditions.
    ///
    /// ```
    /// use planting::{GrowthPace, canopy::growth::{Conditions, FreeTree}};
    /// // M.9 T337 at 4 × 12 ft.
    /// let tree = FreeTree::under(Conditions { vigour: 1.0, late_growth: 0.8, density: 1.0, pace: GrowthPace::Usual });
    /// assert!((tree.trunk_area_cm2 - 11.85).abs() < 0.01);
    /// assert!((tree.height(5.0).value - 2.737).abs() < 0.001 && (tree.spread(5.0).value - 1.524).abs() < 0.001);
    /// ```
    pub fn under(conditions: Conditions) -> FreeTree {
        let Conditions { vigour, late_growth, density, pace } = conditions;
        let trunk_area_cm2 = REFERENCE_TRUNK_AREA_CM2 * vigour;
        let course = |start, at_5, late| Course::through(start, at_5, late, pace.factor());
        let spread_at_5 = on_trunk(SPREAD_FIT, crowded(trunk_area_cm2, density));
        FreeTree {
            conditions,
            trunk_area_cm2,
            trunk_course: course(NURSERY_TRUNK_AREA_CM2.sqrt(), trunk_area_cm2.sqrt(), late_growth),
            height_course: course(
                NURSERY_HEIGHT,
                on_trunk(HEIGHT_FIT, trunk_area_cm2),
                HEIGHT_LATE.0 + HEIGHT_LATE.1 * late_growth,
            ),
            spread_course: course(NURSERY_SPREAD, spread_at_5, SPREAD_LATE.0 + SPREAD_LATE.1 * late_growth),
        }
    }

    /// Trunk cross-section at the end of a year; years may be broken.
    ///
    /// ```
    /// use planting::{GrowthPace, canopy::growth::{Conditions, FreeTree}};
    /// use planting::uom::si::area::square_centimeter;
    /// let tree = FreeTree::under(Conditions { vigour: 1.0, late_growth: 0.8, density: 1.0, pace: GrowthPace::Usual });
    /// assert!((tree.trunk_area(5.0).get::<square_centimeter>() - 11.85).abs() < 0.01);
    /// ```
    pub fn trunk_area(&self, year: f64) -> Area {
        let root = self.trunk_course.at(year);
        Area::new::<square_centimeter>(crowded(root * root, self.conditions.density))
    }

    /// Height at the end of a year `[m]`; years may be broken.
    pub fn height(&self, year: f64) -> Length {
        metres(self.height_course.at(year))
    }

    /// Spread, the mean of both widths, at the end of a year `[m]`; years may be broken.
    pub fn spread(&self, year: f64) -> Length {
        metres(self.spread_course.at(year))
    }

    /// Height at the end of year 5 by the fit alone, at the usual pace `[m]`.
    pub fn fitted_height(&self) -> Length {
        metres(on_trunk(HEIGHT_FIT, self.trunk_area_cm2))
    }

    /// Spread at the end of year 5 by the fit alone, at the trial's spacing and the usual pace `[m]`.
    pub fn fitted_spread(&self) -> Length {
        metres(on_trunk(SPREAD_FIT, self.trunk_area_cm2))
    }

    /// The year in which the free spread reaches a width, if it does by `last`.
    pub fn year_of_spread(&self, width: Length, last: f64) -> Option<f64> {
        self.spread_course.year_of(width.value).filter(|year| *year <= last)
    }

    /// The year in which the free height reaches a height at a pace, if it does by `last`.
    ///
    /// ```
    /// use planting::{GrowthPace, feet, canopy::growth::{Conditions, FreeTree}};
    /// let tree = FreeTree::under(Conditions { vigour: 1.0, late_growth: 0.8, density: 1.0, pace: GrowthPace::Usual });
    /// let year_of = |pace| tree.year_of_height(feet(10.0), pace, 25.0).unwrap();
    /// assert!((year_of(GrowthPace::Quick) - 2.95).abs() < 0.01 && (year_of(GrowthPace::Usual) - 6.63).abs() < 0.01);
    /// assert_eq!(tree.year_of_height(feet(30.0), GrowthPace::Quick, 25.0), None);
    /// ```
    pub fn year_of_height(&self, height: Length, pace: GrowthPace, last: f64) -> Option<f64> {
        let slower = self.conditions.pace.factor() / pace.factor();
        self.height_course.year_of(height.value).map(|year| year * slower).filter(|year| *year <= last)
    }
}

fn metres(value: f64) -> Length {
    Length::new::<meter>(value)
}

/// A size on trunk area: coefficient × area^exponent.
fn on_trunk((coefficient, exponent): (f64, f64), trunk_area_cm2: f64) -> f64 {
    coefficient * trunk_area_cm2.powf(exponent)
}

/// Trunk area of a tree among so many others, where at the trial's spacing it would have this one `[cm²]`.
///
/// `A · (1 + c) ÷ (1 + c · n)`, n trees for each of the trial's, c = A ÷ (A + 35 cm²): the reciprocal law of the effect
/// of density (Shinozaki & Kira 1956, from memory), with a crowding that grows with the trees.
///
/// ```
/// use planting::canopy::growth::crowded;
/// assert_eq!(crowded(20.0, 1.0), 20.0);
/// assert!(crowded(20.0, 3.0) < 20.0 && crowded(20.0, 0.3) > 20.0);
/// ```
pub fn crowded(area_cm2: f64, density: f64) -> f64 {
    let crowding = area_cm2 / (area_cm2 + HALF_CROWDED_CM2);
    area_cm2 * (1.0 + crowding) / (1.0 + crowding * density)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tree(vigour: f64, late_growth: f64, density: f64, pace: GrowthPace) -> FreeTree {
        FreeTree::under(Conditions { vigour, late_growth, density, pace })
    }

    #[test]
    fn courses_rise_and_no_year_adds_more_than_the_one_before() {
        for vigour in [0.13, 0.3, 1.0, 3.5, 13.0] {
            for late_growth in [0.15, 0.5, 0.97] {
                for density in [0.1, 1.0, 8.0] {
                    for pace in [GrowthPace::Slow, GrowthPace::Usual, GrowthPace::Quick] {
                        let tree = tree(vigour, late_growth, density, pace);
                        for size in [|t: &FreeTree, y| t.height(y).value, |t: &FreeTree, y| t.spread(y).value]
                        {
                            let mut before = f64::INFINITY;
                            for year in 1..=25 {
                                let year = f64::from(year);
                                let added = size(&tree, year) - size(&tree, year - 1.0);
                                assert!(added >= 0.0 && added <= before, "{tree:?} in year {year}");
                                before = added;
                            }
                        }
                    }
                }
            }
        }
    }

    #[test]
    fn the_year_of_a_size_is_where_the_course_has_it() {
        let tree = tree(1.0, 0.8, 1.0, GrowthPace::Usual);
        let year = tree.year_of_spread(metres(0.9144), 25.0).unwrap();
        assert!((tree.spread(year).value - 0.9144).abs() < 1e-12);
        assert_eq!(tree.year_of_spread(metres(99.0), 25.0), None);
        assert_eq!(tree.year_of_spread(metres(0.0), 25.0), Some(0.0));
        let quick = tree.year_of_height(metres(3.0), GrowthPace::Quick, 25.0).unwrap();
        let drawn = super::tests::tree(1.0, 0.8, 1.0, GrowthPace::Quick);
        assert!((drawn.height(quick).value - 3.0).abs() < 1e-12, "a course asked for is the one drawn");
    }
}
