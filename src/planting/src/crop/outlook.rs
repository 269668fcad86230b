//! A block's crop and pruning in the numbers a plan is read by.
//!
//! | figure | field | unit |
//! |---|---|---|
//! | `yield_shown_year` | `shown.on_land` | kg/m² |
//! | `yield_mature` | `mature.on_land` | kg/m² |
//! | `crop_load` | `shown.load` | 1/m², fruit on trunk area |
//! | `fruit_per_tree` | `shown.fruit` | – |
//! | `flower_buds_to_leave` | `target.flower_buds` | – |
//! | `fruit_mass` | `shown.fruit_weight` | kg |
//! | `limb_to_trunk_ratio` | `limb_to_trunk` | – |
//! | `pruning_hours` | `pruning_on_land` | s/m² |

use super::hours::{Footing, pruning};
use super::target::{Target, Wanted};
use super::tree::answers::Answers;
use super::tree::opinion::pruned;
use super::tree::practice::before_pruning;
use super::tree::site::Site;
use super::yields::{Carrying, TreeYear, YearCrop};
use crate::kit::count::as_number;
use uom::si::f64::Ratio;

/// All that a block's crop is computed from.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// What trees carry.
    pub carrying: Carrying,
    /// The trees of each year, from planting on.
    pub years: Vec<TreeYear>,
    /// The year shown.
    pub shown: u32,
    /// Limbs that carry the fruit of a tree.
    pub limbs: f64,
    /// Share of all buds that flower.
    pub floral_share: Ratio,
    /// What the practice tree is grown from.
    pub site: Site,
    /// Its seed.
    pub seed: u32,
    /// From where the crew works.
    pub footing: Footing,
}

/// A block's crop and pruning.
#[derive(Clone, Debug, PartialEq)]
pub struct Outlook {
    /// The crop of each year.
    pub years: Vec<YearCrop>,
    /// The crop of the year shown.
    pub shown: YearCrop,
    /// The largest crop of any year.
    pub mature: YearCrop,
    /// Fruit and buds to leave for the year shown.
    pub target: Target,
    /// Limb area against trunk area of the practice tree, pruned by the rules `[–]`.
    pub limb_to_trunk: f64,
    /// Time to prune the land `[s/m²]`.
    pub pruning_on_land: f64,
}

impl Outlook {
    /// The outlook of a block; none where no year is given.
    ///
    /// ```
    /// use planting::crop::group::BearingGroup;
    /// use planting::crop::hours::Footing;
    /// use planting::crop::outlook::{Asked, Outlook};
    /// use planting::crop::tree::site::Site;
    /// use planting::crop::yields::{Carrying, TreeYear};
    /// use planting::uom::si::{area::square_centimeter, f64::Area};
    /// use planting::{feet, kit::row::Spacing, share};
    ///
    /// let site = Site::usual(1.0);
    /// let spacing = Spacing { in_row: feet(3.0), row_width: feet(12.0) };
    /// let trunk = |year: u32| Area::new::<square_centimeter>(site.sizes.trunk_area(year));
    /// let year = |year: u32| TreeYear { year: f64::from(year), trunk_area: trunk(year), light_taken: None, wanted: None };
    /// let outlook = Outlook::of(&Asked {
    ///     carrying: Carrying::usual(BearingGroup::Annual.bearing(), spacing),
    ///     years: (0..=10).map(year).collect(),
    ///     shown: 5,
    ///     limbs: 24.0,
    ///     floral_share: share(0.7),
    ///     seed: 4135,
    ///     footing: Footing::Ladders,
    ///     site,
    /// })
    /// .unwrap();
    /// // 11.85 cm² of trunk at 6 fruit each.
    /// assert!((outlook.shown.fruit - 71.1).abs() < 1e-6);
    /// assert!((outlook.target.flower_buds - 1.8 * 71.1).abs() < 1e-6);
    /// assert!(outlook.mature.on_land > outlook.shown.on_land);
    /// ```
    pub fn of(asked: &Asked) -> Option<Outlook> {
        let years: Vec<YearCrop> =
            asked.years.iter().map(|year| YearCrop::of(&asked.carrying, year)).collect();
        let shown = *years.get(asked.shown as usize).or(years.last())?;
        let mature =
            years.iter().fold(shown, |best, year| if year.on_land > best.on_land { *year } else { best });
        let bearing = &asked.carrying.bearing;
        let target = Target::of(&Wanted {
            fruit: shown.fruit,
            limbs: asked.limbs,
            insurance: bearing.insurance,
            floral_share: asked.floral_share,
        });
        let tree = before_pruning(&asked.site, asked.seed, asked.shown);
        let (after, verdicts) = pruned(&tree);
        let large = as_number(verdicts.iter().filter(|verdict| verdict.is_large()).count());
        let time = pruning(large, as_number(verdicts.len()) - large, asked.footing);
        Some(Outlook {
            shown,
            mature,
            target,
            limb_to_trunk: Answers::of(&after, bearing).limb_to_trunk,
            pruning_on_land: time.usual.value * asked.carrying.spacing.trees_per_square_metre(),
            years,
        })
    }
}
