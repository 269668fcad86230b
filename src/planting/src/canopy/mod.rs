//! How far the crowns fill their space, year by year, and what pruning has to take to keep them in it.
//!
//! From the free-growing tree ([`growth`]) and the space it is given ([`Space`]): widths, volumes, fill,
//! ground cover, the year the row closes, and the yearly excess. The excess treats a tree held small
//! as growing like a free tree of the same size: it pushes next season what that tree would. That is
//! this project's assumption.
//!
//! Asks the block for spacing, row direction and the width of the machine. Offers crowns by year, what the trees
//! need to stand by, and the width they take across the row. Left out: crop load, light, disease, uneven trees.
//! Sources: [`growth`] and [`stock`].

pub mod advice;
pub mod figures;
pub mod growth;
pub mod inputs;
pub mod stock;
pub mod workings;

pub use inputs::{Inputs, LAST_YEAR};

use crate::kit::crown::{Crown, Shoots, Space};
use crate::kit::kept::Kept;
use crate::kit::order::within;
use crate::kit::quantity::feet;
use crate::kit::row::Spacing;
use growth::FreeTree;
use std::sync::Arc;
use uom::si::f64::{Angle, Length, Volume};
use uom::si::length::meter;
use uom::si::volume::cubic_meter;

/// All that the canopy is computed from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Asked {
    /// What is set about the trees.
    pub inputs: Inputs,
    /// How far apart they stand.
    pub spacing: Spacing,
    /// Direction of the rows, clockwise from north.
    pub row_azimuth: Angle,
    /// Width of the widest machine that drives between the rows `[m]`.
    pub tractor_width: Length,
}

impl Asked {
    /// The space each tree is given.
    ///
    /// ```
    /// use planting::{Ground, Scenario, ground::Memory};
    /// let canopy = Ground::lay(&Scenario::default(), &mut Memory::default()).unwrap().canopy;
    /// let space = canopy.asked.space();
    /// assert!((space.along - 3.0 * 0.3048).abs() < 1e-9 && (space.height - 10.0 * 0.3048).abs() < 1e-9);
    /// ```
    pub fn space(&self) -> Space {
        let Inputs { canopy_width, crown_base, tree_height, crown_taper, .. } = self.inputs;
        let in_row = self.spacing.in_row.value;
        Space {
            // Trees leaning to alternate sides have their neighbour on the same side two spaces off.
            along: in_row * (1.0 + self.sides_apart()),
            across: canopy_width.value.min(self.spacing.row_width.value),
            base: crown_base.value,
            height: tree_height.value,
            taper: crown_taper.value,
        }
    }

    /// How far trees that lean to alternate sides stand clear of each other, from 0 for upright ones to 1 where crowns to the left
    /// and to the right no longer share space half-way up; between, it rises without a kink `[–]`.
    ///
    /// ```text
    ///     \  \   /  /      apart: 2 z tan lean against the width there, z half-way up the crown
    ///      \  \ /  /
    ///   ____\__v__/____
    /// ```
    ///
    /// ```
    /// use planting::{Scenario, TrainingSystem, degrees, ground::canopy_asked};
    /// let apart = |lean: f64| {
    ///     let scenario = Scenario::for_system(TrainingSystem::VTrellis).with(|plan| plan.canopy.lean = degrees(lean));
    ///     canopy_asked(&scenario).sides_apart()
    /// };
    /// assert_eq!((apart(0.0), apart(15.0)), (0.0, 1.0));
    /// assert!((apart(5.0) - 0.536).abs() < 0.001);
    /// ```
    pub fn sides_apart(&self) -> f64 {
        let inputs = &self.inputs;
        let half_way_up = (inputs.crown_base + inputs.tree_height).value / 2.0;
        let width = inputs.canopy_width.value * (1.0 + inputs.crown_taper.value) / 2.0;
        let apart = 2.0 * half_way_up * inputs.lean.value.max(0.0).tan();
        let share = within(apart / width.max(f64::MIN_POSITIVE), 0.0, 1.0);
        share * share * (3.0 - 2.0 * share)
    }

    /// Width of the canopy across the row at its widest, both leans together `[m]`.
    ///
    /// ```
    /// use planting::{Ground, Scenario, ground::Memory, uom::si::length::foot};
    /// let canopy = Ground::lay(&Scenario::default(), &mut Memory::default()).unwrap().canopy;
    /// assert!((canopy.asked.canopy_span().get::<foot>() - 5.0).abs() < 1e-9);
    /// ```
    pub fn canopy_span(&self) -> Length {
        let inputs = &self.inputs;
        let lean = inputs.lean.value.max(0.0).tan();
        let span_at = |height: Length, width: Length| height * lean * 2.0 + width;
        span_at(inputs.crown_base, inputs.canopy_width)
            .max(span_at(inputs.tree_height, inputs.canopy_width * inputs.crown_taper.value))
    }

    /// The same, whatever year is shown.
    fn whatever_year(&self) -> Asked {
        Asked { inputs: Inputs { year: 0.0, ..self.inputs }, ..*self }
    }
}

/// The planting's canopy at the end of one year, one tree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CanopyYear {
    /// Years since planting.
    pub year: f64,
    /// Height if nobody cut it.
    pub free_height: Length,
    /// Spread if nobody cut it.
    pub free_spread: Length,
    /// The crown as kept.
    pub crown: Crown,
    /// Volume of the crown as kept.
    pub volume: Volume,
    /// Share of the row's length that carries crown `[–]`.
    pub row_fill: f64,
    /// Crown volume against the space it is given `[–]`.
    pub canopy_fill: f64,
    /// Share of the ground under crowns `[–]`.
    pub ground_cover: f64,
    /// What a season adds beyond the space, to be cut `[m³ per tree]`.
    pub excess: Volume,
    /// That excess against the crown before cutting `[–]`.
    pub excess_share: f64,
    /// What the next season's shoots add to the crown as kept.
    pub shoots: Shoots,
}

/// The canopy over the years.
#[derive(Clone, Debug, PartialEq)]
pub struct Canopy {
    /// What it was computed from.
    pub asked: Asked,
    /// The tree if nobody cut it.
    pub free: FreeTree,
    /// The end of each year from 0 to the last.
    pub years: Arc<Vec<CanopyYear>>,
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

/// What is the same whatever year is shown.
#[derive(Clone, Debug, PartialEq)]
struct Course {
    free: FreeTree,
    years: Arc<Vec<CanopyYear>>,
    year_filled: Option<f64>,
    year_at_height: Option<f64>,
}

impl Course {
    fn of(asked: &Asked) -> Course {
        let free = FreeTree::of(&asked.inputs);
        let stand = Stand::of(asked);
        let years = std::iter::successors(Some(0.0), |year| (*year < LAST_YEAR).then_some(year + 1.0));
        Course {
            free,
            years: Arc::new(years.map(|year| stand.year(&free, year)).collect()),
            year_filled: free.year_of_spread(metres(stand.space.along), LAST_YEAR),
            year_at_height: free.year_of_height(metres(stand.space.height), LAST_YEAR),
        }
    }
}

/// Growth that has been computed already.
#[derive(Clone, Debug, Default)]
pub struct Memory(Kept<Asked, Course>);

impl Canopy {
    /// The canopy of inputs that have been checked.
    ///
    /// ```
    /// use planting::{Canopy, Scenario, ground};
    /// let canopy = Canopy::grow(&ground::canopy_asked(&Scenario::default()));
    /// assert_eq!(canopy.years.len(), 26);
    /// assert!((canopy.year_filled.unwrap() - 2.475).abs() < 0.001, "crowns meet along the row in the third season");
    /// ```
    pub fn grow(asked: &Asked) -> Canopy {
        Canopy::grow_with(&mut Memory::default(), asked)
    }

    /// The same, from growth that is remembered: another year shown grows no tree again.
    pub fn grow_with(memory: &mut Memory, asked: &Asked) -> Canopy {
        let course = memory.0.get(asked.whatever_year(), Course::of);
        let Course { free, years, year_filled, year_at_height } = (*course).clone();
        let overfilled = years.iter().find(|year| year.excess_share > OVERFILL_SHARE);
        Canopy {
            asked: *asked,
            free,
            shown: Stand::of(asked).year(&free, asked.inputs.year),
            year_filled,
            year_at_height,
            year_overfilled: overfilled.map(|year| year.year),
            years,
        }
    }

    /// Row width less the width of the canopy; negative where canopies meet across the alley `[m]`.
    ///
    /// ```
    /// use planting::{Ground, Scenario, ground::Memory, uom::si::length::foot};
    /// let canopy = Ground::lay(&Scenario::default(), &mut Memory::default()).unwrap().canopy;
    /// // Rows 12 ft apart, a canopy 5 ft wide.
    /// assert!((canopy.clear_alley().get::<foot>() - 7.0).abs() < 1e-9);
    /// ```
    pub fn clear_alley(&self) -> Length {
        self.asked.spacing.row_width - self.asked.canopy_span()
    }

    /// Tree height kept against row width `[–]`.
    ///
    /// ```
    /// use planting::{Ground, Scenario, ground::Memory};
    /// let canopy = Ground::lay(&Scenario::default(), &mut Memory::default()).unwrap().canopy;
    /// // Trees 10 ft high, rows 12 ft apart.
    /// assert!((canopy.height_to_row() - 10.0 / 12.0).abs() < 1e-9);
    /// ```
    pub fn height_to_row(&self) -> f64 {
        (self.asked.inputs.tree_height / self.asked.spacing.row_width).value
    }

    /// Height of the graft union after settling `[m]`.
    ///
    /// ```
    /// use planting::{Ground, Scenario, ground::Memory, uom::si::length::foot};
    /// let canopy = Ground::lay(&Scenario::default(), &mut Memory::default()).unwrap().canopy;
    /// assert!((canopy.union_settled().get::<foot>() - 4.0 / 12.0).abs() < 1e-9);
    /// ```
    pub fn union_settled(&self) -> Length {
        self.asked.inputs.graft_union_height - self.asked.inputs.settling
    }

    /// In-row spacing this vigour asks for, as a starting point `[m]`: `3.25 ft × v^½` between 2 and 8 ft, beyond
    /// that, where free-standing trees go by their spread, `3.25 ft × v`. This project's own.
    ///
    /// ```
    /// use planting::{Ground, Scenario, ground::Memory, uom::si::length::foot};
    /// let canopy = Ground::lay(&Scenario::default(), &mut Memory::default()).unwrap().canopy;
    /// // M.9 T337 with a moderate scion in medium ground has vigour 1.
    /// assert!((canopy.suggested_spacing().get::<foot>() - 3.25).abs() < 1e-9);
    /// ```
    pub fn suggested_spacing(&self) -> Length {
        let vigour = self.free.vigour;
        let spacing = SPACING_AT_VIGOUR_1_FT * vigour.sqrt();
        feet(if spacing < 2.0 {
            2.0
        } else if spacing > 8.0 {
            (SPACING_AT_VIGOUR_1_FT * vigour).max(8.0)
        } else {
            spacing
        })
    }
}

/// In-row spacing a tree of vigour 1 asks for `[ft]` (this project's starting point, no source).
pub const SPACING_AT_VIGOUR_1_FT: f64 = 3.25;

fn metres(value: f64) -> Length {
    Length::new::<meter>(value)
}

/// Trees in their space.
struct Stand {
    spacing: Spacing,
    space: Space,
    lean: f64,
    sides_apart: f64,
}

impl Stand {
    fn of(asked: &Asked) -> Stand {
        Stand {
            spacing: asked.spacing,
            space: asked.space(),
            lean: asked.inputs.lean.value,
            sides_apart: asked.sides_apart(),
        }
    }

    fn year(&self, free: &FreeTree, year: f64) -> CanopyYear {
        let (free_height, free_spread) = (free.height(year), free.spread(year));
        let crown = self.space.crown(free_height.value, free_spread.value);
        let volume = crown.volume();
        let shoots = Stand::shoots(free, &crown);
        let before_cutting = Stand::after_a_season(shoots, &crown);
        let next = self.space.crown(free.height(year + 1.0).value, free.spread(year + 1.0).value).volume();
        let excess = (before_cutting - next).max(0.0);
        CanopyYear {
            year,
            free_height,
            free_spread,
            crown,
            volume: Volume::new::<cubic_meter>(volume),
            row_fill: (free_spread.value / self.space.along).min(1.0),
            canopy_fill: volume / crown.space_volume().max(f64::MIN_POSITIVE),
            ground_cover: self.ground_cover(&crown),
            excess: Volume::new::<cubic_meter>(excess),
            excess_share: excess / before_cutting.max(f64::MIN_POSITIVE),
            shoots,
        }
    }

    /// A season's growth with nothing cut: the tree adds what a free tree of its size adds.
    fn shoots(free: &FreeTree, kept: &Crown) -> Shoots {
        let (along, across) = (kept.width_along(kept.base), kept.width_across(kept.base));
        let spread = (along + across) / 2.0;
        let season = |size: f64, year_of: Option<f64>, grow: &dyn Fn(f64) -> f64| {
            year_of.map_or(0.0, |year| (grow(year + 1.0) - size).max(0.0))
        };
        let wider =
            season(spread, free.year_of_spread(metres(spread), LAST_YEAR), &|year| free.spread(year).value);
        let taller = season(kept.top, free.year_of_height(metres(kept.top), LAST_YEAR), &|year| {
            free.height(year).value
        });
        Shoots { wider, taller }
    }

    /// Volume after a season's growth with nothing cut.
    fn after_a_season(shoots: Shoots, kept: &Crown) -> f64 {
        let grown = kept.with_shoots(shoots, 1.0, f64::MAX);
        Crown { along: kept.along + shoots.wider, ..grown }.volume()
    }

    fn ground_cover(&self, crown: &Crown) -> f64 {
        let in_row = self.spacing.in_row.value;
        let upright = Crown { along: in_row, ..*crown }.section(crown.base);
        // Two trees, one to either side, cover both half spans over two spaces.
        let apart = crown.disc(crown.base).min(2.0 * in_row) * crown.half_span(self.lean);
        let from_above = upright + (apart - upright) * self.sides_apart;
        (from_above / self.spacing.ground_per_tree().value).min(1.0)
    }
}
