//! How far the crowns fill their space, year by year, and what pruning has to take to keep them in it.
//!
//! From the free-growing tree (`growth`) and the space it is given (`crown`): widths, volumes, fill,
//! ground cover, the year the row closes, and the yearly excess. The excess treats a tree held small
//! as growing like a free tree of the same size: it pushes next season what that tree would. That is
//! this project's assumption. Left out: crop load, light, disease, uneven trees.

pub mod crown;
pub mod growth;

use crate::scenario::{LAST_YEAR, Scenario};
use crown::Crown;
use growth::FreeTree;

/// The planting's canopy at the end of one year, one tree. Metres and cubic metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CanopyYear {
    /// Years since planting.
    pub year: f64,
    /// Height if nobody cut it.
    pub free_height: f64,
    /// Spread if nobody cut it.
    pub free_spread: f64,
    /// The crown as kept.
    pub crown: Crown,
    /// Volume of the crown as kept.
    pub volume: f64,
    /// Share of the row's length that carries crown `[–]`.
    pub row_fill: f64,
    /// Crown volume against the space it is given `[–]`.
    pub canopy_fill: f64,
    /// Share of the ground under crowns `[–]`.
    pub ground_cover: f64,
    /// What a season adds beyond the space, to be cut `[m³ per tree]`.
    pub excess: f64,
    /// That excess against the crown before cutting `[–]`.
    pub excess_share: f64,
}

/// The canopy over the years.
#[derive(Clone, Debug, PartialEq)]
pub struct Canopy {
    /// The tree if nobody cut it.
    pub free: FreeTree,
    /// The end of each year from 0 to the last.
    pub years: Vec<CanopyYear>,
    /// The year shown.
    pub shown: CanopyYear,
    /// The year in which crowns meet along the row, if they do.
    pub year_filled: Option<f64>,
    /// The year in which the tree reaches the height it is kept at, if it does.
    pub year_at_height: Option<f64>,
    /// The first year in which the excess share passes [`OVERFILL_SHARE`], if one does.
    pub year_overfilled: Option<f64>,
}

/// The yearly excess, as a share of the crown before cutting, beyond which renewal pruning of a few
/// limbs a year no longer holds a tree in its space (this project's assumption; stocks of M.9 class
/// in a tall spindle stay well below it, semi-dwarf and stronger stocks at that spacing above).
pub const OVERFILL_SHARE: f64 = 0.45;

/// The yearly excess from which the plan doesn't work as it stands (this project's assumption).
pub const OVERFILL_GRAVE: f64 = 0.53;

impl Canopy {
    /// The canopy of a scenario whose fields have been checked.
    pub fn grow(scenario: &Scenario) -> Canopy {
        let free = FreeTree::of(scenario);
        let room = Room::of(scenario);
        let years: Vec<CanopyYear> =
            std::iter::successors(Some(0.0), |year| (*year < LAST_YEAR).then_some(year + 1.0))
                .map(|year| room.year(&free, year))
                .collect();
        let shown = room.year(&free, scenario.year);
        let year_overfilled =
            years.iter().find(|year| year.excess_share > OVERFILL_SHARE).map(|year| year.year);
        Canopy {
            free,
            shown,
            year_filled: free.year_of_spread(room.along, LAST_YEAR),
            year_at_height: free.year_of_height(room.height, LAST_YEAR),
            year_overfilled,
            years,
        }
    }
}

/// The crown as kept at the end of a year, for a scenario whose fields have been checked.
pub fn crown_in_year(scenario: &Scenario, year: f64) -> Crown {
    let free = FreeTree::of(scenario);
    Room::of(scenario).crown(free.height(year), free.spread(year))
}

/// The space each tree is given `[m]`.
struct Room {
    spacing: f64,
    row_width: f64,
    along: f64,
    across: f64,
    base: f64,
    height: f64,
    taper: f64,
    lean: f64,
}

impl Room {
    fn of(scenario: &Scenario) -> Room {
        let spacing = scenario.in_row_spacing.value;
        let row_width = scenario.row_width.value;
        // Trees leaning to alternate sides have their neighbour on the same side two spaces off.
        let along = if scenario.lean.value > 0.0 { 2.0 * spacing } else { spacing };
        Room {
            spacing,
            row_width,
            along,
            across: scenario.canopy_width.value.min(row_width),
            base: scenario.crown_base.value,
            height: scenario.tree_height.value,
            taper: scenario.crown_taper.value,
            lean: scenario.lean.value,
        }
    }

    fn crown(&self, free_height: f64, free_spread: f64) -> Crown {
        // A small tree has branches lower than the height they are later kept from.
        let base = self.base.min(free_height.min(self.height) / 2.0);
        Crown {
            base,
            top: free_height.min(self.height),
            free_diameter: free_spread,
            free_top: free_height,
            along: self.along,
            across: self.across,
            space_top: self.height,
            taper: self.taper,
        }
    }

    fn year(&self, free: &FreeTree, year: f64) -> CanopyYear {
        let (free_height, free_spread) = (free.height(year), free.spread(year));
        let crown = self.crown(free_height, free_spread);
        let volume = crown.volume();
        let before_cutting = self.after_a_season(free, &crown);
        let next = self.crown(free.height(year + 1.0), free.spread(year + 1.0)).volume();
        let excess = (before_cutting - next).max(0.0);
        CanopyYear {
            year,
            free_height,
            free_spread,
            crown,
            volume,
            row_fill: (free_spread / self.along).min(1.0),
            canopy_fill: volume / crown.space_volume().max(f64::MIN_POSITIVE),
            ground_cover: self.ground_cover(&crown),
            excess,
            excess_share: excess / before_cutting.max(f64::MIN_POSITIVE),
        }
    }

    /// Volume after a season's growth with nothing cut: the tree adds what a free tree of its size adds.
    fn after_a_season(&self, free: &FreeTree, kept: &Crown) -> f64 {
        let (along, across) = (kept.width_along(kept.base), kept.width_across(kept.base));
        let spread = (along + across) / 2.0;
        let season = |size: f64, year_of: Option<f64>, grow: &dyn Fn(f64) -> f64| {
            year_of.map_or(0.0, |year| (grow(year + 1.0) - size).max(0.0))
        };
        let wider = season(spread, free.year_of_spread(spread, LAST_YEAR), &|year| free.spread(year));
        let taller = season(kept.top, free.year_of_height(kept.top, LAST_YEAR), &|year| free.height(year));
        Crown {
            top: kept.top + taller,
            free_top: kept.free_top + taller,
            free_diameter: kept.free_diameter + wider,
            along: kept.along + wider,
            across: kept.across + wider,
            space_top: kept.space_top + taller,
            ..*kept
        }
        .volume()
    }

    fn ground_cover(&self, crown: &Crown) -> f64 {
        let ground = self.spacing * self.row_width;
        let upright = crown.section(crown.base);
        if self.lean <= 0.0 {
            return (upright / ground).min(1.0);
        }
        // Two trees, one to either side, cover both half spans over two spaces.
        let from_above = crown.width_along(crown.base) * crown.half_span(self.lean);
        (from_above / ground).min(1.0)
    }
}
