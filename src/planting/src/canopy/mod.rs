//! How far the crowns fill their space, year by year, and what a season adds beyond it.
//!
//! From the free-growing tree ([`growth`]) and the space it is given ([`Space`]): widths, volumes, fill,
//! ground cover, the year the row closes, and the yearly excess ([`season`]).
//!
//! Asks the block for spacing, row direction and the width of the machine. Offers crowns by year, what the trees
//! need to stand by, and the width they take across the row. Left out: crop load, light, disease, uneven trees but for
//! the twentieth by which they near a limit ([`least_of_uneven`]).
//! Sources: [`growth`] and [`stock`].

pub mod advice;
pub mod figures;
pub mod growth;
pub mod inputs;
pub mod pace;
pub mod season;
pub mod stock;
pub mod workings;

pub use inputs::{Inputs, LAST_YEAR};

use crate::kit::crown::{Crown, Shoots, Space};
use crate::kit::kept::Kept;
use crate::kit::order::{least_of_uneven, within};
use crate::kit::quantity::feet;
use crate::kit::row::Spacing;
use crate::kit::standing::Standing;
use crate::system::TrainingSystem;
use growth::{Conditions, FreeTree};
use pace::GrowthPace;
use season::Season;
use std::sync::Arc;
use uom::si::f64::{Angle, Area, Length, Volume};
use uom::si::length::meter;
use uom::si::volume::cubic_meter;

/// All that the canopy is computed from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Asked {
    /// What is set about the trees.
    pub inputs: Inputs,
    /// Training system.
    pub system: TrainingSystem,
    /// How far apart they stand.
    pub spacing: Spacing,
    /// Direction of the rows, clockwise from north.
    pub row_azimuth: Angle,
    /// Width of the widest machine that drives between the rows `[m]`.
    pub tractor_width: Length,
    /// What the trees stand by.
    pub standing: Standing,
    /// Height of the topmost wire, where there are wires `[m]`.
    pub top_wire: Option<Length>,
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
        let Inputs { crown_base, tree_height, crown_taper, .. } = self.inputs;
        let in_row = self.spacing.in_row.value;
        Space {
            // Trees leaning to alternate sides have their neighbour on the same side two spaces off.
            along: in_row * (1.0 + self.sides_apart()),
            across: self.space_across(),
            base: crown_base.value,
            height: tree_height.value,
            taper: crown_taper.value,
        }
    }

    /// Space across the row at the lowest branches: the width kept, or the row where that is less `[m]`.
    fn space_across(&self) -> f64 {
        least_of_uneven(self.inputs.canopy_width.value, self.spacing.row_width.value)
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
    /// assert!((apart(5.0) - 0.537).abs() < 0.001);
    /// ```
    pub fn sides_apart(&self) -> f64 {
        let inputs = &self.inputs;
        let half_way_up = (inputs.crown_base + inputs.tree_height).value / 2.0;
        let width = self.space_across() * (1.0 + inputs.crown_taper.value) / 2.0;
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

    /// The same, whatever year is shown and whatever the trees stand by: they grow alike.
    fn whatever_year(&self) -> Asked {
        let inputs = Inputs { year: 0.0, ..self.inputs };
        Asked { inputs, standing: Standing::Free, top_wire: None, ..*self }
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
    /// Trunk cross-section.
    pub trunk_area: Area,
    /// The crown as kept.
    pub crown: Crown,
    /// Volume of the crown as kept.
    pub volume: Volume,
    /// Width of the crown along the row at its base.
    pub width_along: Length,
    /// Width of the crown across the row at its base.
    pub width_across: Length,
    /// Share of the row's length that carries crown `[–]`.
    pub row_fill: f64,
    /// Crown volume against the space it is given `[–]`.
    pub canopy_fill: f64,
    /// Share of the ground under crowns `[–]`.
    pub ground_cover: f64,
    /// The season that ends with this year.
    pub season: Season,
    /// What it adds beyond the width and the height kept, to be cut `[m³ per tree]`.
    pub excess: Volume,
    /// That excess against the crown before cutting `[–]`.
    pub excess_share: f64,
    /// What the next season's shoots add to the crown as kept.
    pub shoots: Shoots,
}

impl CanopyYear {
    /// Thickness of the layer that a season adds beyond the space kept, as if all of it lay to the sides `[m]`: the
    /// excess as a share of the crown, times its width. It tells strong trees from narrow walls, which lose a larger share.
    ///
    /// ```
    /// use planting::{Ground, Scenario, ground::Memory, uom::si::length::foot};
    /// let ground = Ground::lay(&Scenario::default(), &mut Memory::default()).unwrap();
    /// assert!((0.6..0.8).contains(&ground.last_year().overgrowth().get::<foot>()));
    /// ```
    pub fn overgrowth(&self) -> Length {
        self.width_across * self.excess_share
    }
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
    /// The first year in which a season adds a layer beyond [`OVERFILL_LAYER`], if one does.
    pub year_overfilled: Option<f64>,
}

/// The layer that a season adds beyond the space kept ([`CanopyYear::overgrowth`]) from which renewal pruning of a few
/// limbs a year no longer holds a tree `[m]`. This project's assumption: trees that go with their system stay below
/// 0.31 m, where two to four limbs a year hold them; stocks from semi-dwarf up in a tall spindle lie above.
pub const OVERFILL_LAYER: f64 = 0.33;

/// The layer from which the plan doesn't work as it stands `[m]` (this project's assumption).
pub const OVERFILL_GRAVE: f64 = 0.40;

/// Fruiting limbs on a metre of leader `[1/m]`: the upper end of the 6 to 8 of Wilton (AgFirst, apal.org.au); 24 on a
/// tall spindle (Ontario) stand closer.
pub const LIMBS_PER_METRE: f64 = 8.0;

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
        let free = FreeTree::under(Conditions::of(&asked.inputs, asked.spacing));
        let stand = Stand::of(asked);
        let years = std::iter::successors(Some(0.0), |year| (*year < LAST_YEAR).then_some(year + 1.0));
        Course {
            free,
            years: Arc::new(years.map(|year| stand.year(&free, year)).collect()),
            year_filled: free.year_of_spread(metres(stand.space.along), LAST_YEAR),
            year_at_height: free.year_of_height(
                asked.inputs.tree_height,
                asked.inputs.growth_pace,
                LAST_YEAR,
            ),
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
    /// assert!((canopy.year_filled.unwrap() - 2.300).abs() < 0.001, "crowns meet along the row in the third season");
    /// ```
    pub fn grow(asked: &Asked) -> Canopy {
        Canopy::grow_with(&mut Memory::default(), asked)
    }

    /// The same, from growth that is remembered: another year shown grows no tree again.
    pub fn grow_with(memory: &mut Memory, asked: &Asked) -> Canopy {
        let course = memory.0.get(asked.whatever_year(), Course::of);
        let Course { free, years, year_filled, year_at_height } = (*course).clone();
        let overfilled = years.iter().find(|year| year.overgrowth().value > OVERFILL_LAYER);
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

    /// The year in which the tree reaches the height it is kept at if it grows at this pace, if it does.
    ///
    /// ```
    /// use planting::{GrowthPace, Ground, Scenario, ground::Memory};
    /// let canopy = Ground::lay(&Scenario::default(), &mut Memory::default()).unwrap().canopy;
    /// let years = [GrowthPace::Quick, GrowthPace::Usual].map(|pace| canopy.year_at_height_with(pace).unwrap());
    /// assert!((2.0..4.0).contains(&years[0]) && years[1] > 5.0);
    /// ```
    pub fn year_at_height_with(&self, pace: GrowthPace) -> Option<f64> {
        self.free.year_of_height(self.asked.inputs.tree_height, pace, LAST_YEAR)
    }

    /// In-row spacing this vigour asks for, as a starting point `[m]`: what the stock asks for on a trellis or
    /// free-standing ([`Rootstock::spacing_ft`](stock::Rootstock::spacing_ft)), times the factors of scion and soil and
    /// the square root of the site's.
    ///
    /// ```
    /// use planting::{Ground, Scenario, ground::Memory, uom::si::length::foot};
    /// let canopy = Ground::lay(&Scenario::default(), &mut Memory::default()).unwrap().canopy;
    /// // A stock like M.9 T337 with a moderate scion in medium ground.
    /// assert!((canopy.suggested_spacing().get::<foot>() - 3.25).abs() < 1e-9);
    /// ```
    pub fn suggested_spacing(&self) -> Length {
        let Inputs { rootstock, vigour, scion_vigour, soil_vigour, .. } = self.asked.inputs;
        feet(rootstock.spacing_ft() * scion_vigour.spacing_factor() * soil_vigour.spacing_factor())
            * vigour.value.sqrt()
    }

    /// Limbs on the tree in the year shown, about `[–]`: its leader at [`LIMBS_PER_METRE`].
    ///
    /// ```
    /// use planting::{Ground, Scenario, ground::Memory};
    /// let canopy = Ground::lay(&Scenario::default(), &mut Memory::default()).unwrap().canopy;
    /// assert!((15.0..20.0).contains(&canopy.limbs()));
    /// ```
    pub fn limbs(&self) -> f64 {
        let crown = &self.shown.crown;
        (crown.top - crown.base).max(0.0) * LIMBS_PER_METRE
    }
}

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
        let width = |limit: f64| least_of_uneven(free_spread.value, limit);
        let (along, across) = (width(self.space.along), width(self.space.across));
        let season = Season::ending(year, free, &self.space, &crown);
        let excess = season.excess(volume, across);
        let next = Season::ending(year + 1.0, free, &self.space, &crown);
        CanopyYear {
            year,
            free_height,
            free_spread,
            trunk_area: free.trunk_area(year),
            crown,
            volume: Volume::new::<cubic_meter>(volume),
            width_along: metres(along),
            width_across: metres(across),
            row_fill: along / self.space.along,
            canopy_fill: volume / crown.space_volume().max(f64::MIN_POSITIVE),
            ground_cover: self.ground_cover(&crown),
            season,
            excess: Volume::new::<cubic_meter>(excess),
            excess_share: excess / (volume + excess).max(f64::MIN_POSITIVE),
            shoots: Shoots { wider: next.wider, taller: next.taller },
        }
    }

    fn ground_cover(&self, crown: &Crown) -> f64 {
        let in_row = self.spacing.in_row.value;
        let upright = Crown { along: in_row, ..*crown }.section(crown.base);
        // Two trees, one to either side, cover both half spans over two spaces, and never less than they do upright.
        let apart = crown.disc(crown.base).min(2.0 * in_row) * crown.half_span(self.lean);
        let from_above = upright + (apart - upright).max(0.0) * self.sides_apart;
        (from_above / self.spacing.ground_per_tree().value).min(1.0)
    }
}
