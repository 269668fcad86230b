//! The one register of inputs.
//!
//! Sliders, checks, file schema, documentation and the printed list of assumptions are all made from
//! it. To add an input: a field in `Scenario`, its default there, and one entry here, with the next free
//! code for links.

use super::problem::{Fault, Problem};
use super::{EndAssembly, LAST_YEAR, LIST_QUANTITY, Scenario};
use crate::choice::Choice;
use crate::light::{Month, Sky};
use crate::quantity::{Quantity, degrees};
use crate::scenario::entries::Entry;
use crate::stock::{Rootstock, ScionVigour, SoilVigour};
use crate::system::{Support, TrainingSystem};
use crate::working::Source;
use uom::si::angle::radian;
use uom::si::f64::{Angle, Length, Ratio, ReciprocalLength};
use uom::si::length::meter;
use uom::si::ratio::ratio;
use uom::si::reciprocal_length::reciprocal_meter;

/// One foot `[m]`.
const FT: f64 = 0.3048;
/// One inch `[m]`.
const IN: f64 = 0.0254;
/// One degree `[rad]`.
const DEG: f64 = std::f64::consts::PI / 180.0;

/// Where an input stands on the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Group {
    /// System, rootstock and vigour.
    Trees,
    /// Spacing and the size trees are kept at.
    Spacing,
    /// Field, rows and machines.
    Block,
    /// Wires, posts and ends.
    Trellis,
    /// Site, season, leaves, and the hour whose shadows are shown.
    Light,
    /// The year shown; stands under the drawings.
    Year,
}

impl Group {
    /// All groups, in the order they are shown.
    pub const ALL: [Group; 6] =
        [Group::Spacing, Group::Trees, Group::Trellis, Group::Block, Group::Light, Group::Year];

    /// The heading.
    pub fn label(self) -> &'static str {
        match self {
            Group::Trees => "System, rootstock, vigour",
            Group::Spacing => "Spacing and tree size",
            Group::Block => "Field and machines",
            Group::Trellis => "Wires, posts, row ends",
            Group::Light => "Light",
            Group::Year => "Year",
        }
    }
}

/// One input.
#[derive(Clone, Copy, Debug)]
pub struct Parameter {
    /// Stable key, used in files.
    pub key: &'static str,
    /// Stable number, used in links: never changed, and never given to another input.
    pub code: u8,
    /// Name shown to a reader.
    pub label: &'static str,
    /// One or two plain sentences.
    pub help: &'static str,
    /// Where it stands on the page.
    pub group: Group,
    /// Where its default comes from.
    pub source: Source,
    /// Whether its default is the training system's.
    pub follows_system: bool,
    /// What it takes.
    pub kind: Kind,
}

/// What an input takes.
#[derive(Clone, Copy, Debug)]
pub enum Kind {
    /// A number.
    Number(Number),
    /// One of a list.
    Choice(ChoiceList),
    /// A list of lengths.
    Lengths(Lengths),
}

/// A number's range and steps, all in the SI unit of its quantity.
#[derive(Clone, Copy, Debug)]
pub struct Number {
    /// What kind of number it is.
    pub quantity: Quantity,
    /// Smallest allowed value.
    pub min: f64,
    /// Largest allowed value.
    pub max: f64,
    /// Slider step where a reader uses US units.
    pub step_us: f64,
    /// Slider step where a reader uses metric units.
    pub step_metric: f64,
    /// Reads it.
    pub get: fn(&Scenario) -> f64,
    /// Sets it.
    pub set: fn(&mut Scenario, f64),
}

/// One of a list.
#[derive(Clone, Copy, Debug)]
pub struct ChoiceList {
    /// Keys and labels, in the order offered.
    pub options: fn() -> Vec<(&'static str, &'static str)>,
    /// Reads the key.
    pub get: fn(&Scenario) -> &'static str,
    /// Sets it by key; false where there is no such key.
    pub set: fn(&mut Scenario, &str) -> bool,
}

/// A list of lengths.
#[derive(Clone, Copy, Debug)]
pub struct Lengths {
    /// Smallest allowed item `[m]`.
    pub min: f64,
    /// Largest allowed item `[m]`.
    pub max: f64,
    /// Slider step in US units `[m]`.
    pub step_us: f64,
    /// Slider step in metric units `[m]`.
    pub step_metric: f64,
    /// Most items.
    pub most: usize,
    /// Reads it.
    pub get: fn(&Scenario) -> &[Length],
    /// Sets it.
    pub set: fn(&mut Scenario, Vec<Length>),
}

fn options<C: Choice>() -> Vec<(&'static str, &'static str)> {
    C::ALL.iter().map(|entry| (entry.key(), entry.label())).collect()
}

macro_rules! get_set {
    (Length $field:ident) => {
        (|s: &Scenario| s.$field.value, |s: &mut Scenario, v: f64| s.$field = Length::new::<meter>(v))
    };
    (Angle $field:ident) => {
        (|s: &Scenario| s.$field.value, |s: &mut Scenario, v: f64| s.$field = Angle::new::<radian>(v))
    };
    (Ratio $field:ident) => {
        (|s: &Scenario| s.$field.value, |s: &mut Scenario, v: f64| s.$field = Ratio::new::<ratio>(v))
    };
    (PerLength $field:ident) => {
        (
            |s: &Scenario| s.$field.value,
            |s: &mut Scenario, v: f64| s.$field = ReciprocalLength::new::<reciprocal_meter>(v),
        )
    };
    (Years $field:ident) => {
        (|s: &Scenario| s.$field, |s: &mut Scenario, v: f64| s.$field = v.round())
    };
    (Hours $field:ident) => {
        (|s: &Scenario| s.$field, |s: &mut Scenario, v: f64| s.$field = v)
    };
}

macro_rules! number {
    ($code:literal, $field:ident: $type:ident as $quantity:ident, $min:expr => $max:expr, steps $us:expr, $metric:expr; $group:ident, $follows:literal, $label:literal, $help:literal, $source:expr) => {
        Parameter {
            key: stringify!($field),
            code: $code,
            label: $label,
            help: $help,
            group: Group::$group,
            source: $source,
            follows_system: $follows,
            kind: Kind::Number(Number {
                quantity: Quantity::$quantity,
                min: $min,
                max: $max,
                step_us: $us,
                step_metric: $metric,
                get: get_set!($type $field).0,
                set: get_set!($type $field).1,
            }),
        }
    };
}

macro_rules! choice_of {
    ($code:literal, $field:ident: $type:ty; $group:ident, $follows:literal, $label:literal, $help:literal, $source:expr) => {
        Parameter {
            key: stringify!($field),
            code: $code,
            label: $label,
            help: $help,
            group: Group::$group,
            source: $source,
            follows_system: $follows,
            kind: Kind::Choice(ChoiceList {
                options: options::<$type>,
                get: |s| s.$field.key(),
                set: |s, key| <$type>::from_key(key).map(|entry| s.$field = entry).is_some(),
            }),
        }
    };
}

const SYSTEM_SPACING: Source =
    Source::published("Usual range of the training system; see the system's own sources");
const ALLEY: Source =
    Source::practice("Common practice, no source: 7-8 ft clear for a narrow tractor and sprayer");
const WIRES: Source = Source::published(
    "Ontario (OMAFRA) tall-spindle support sheet: wires at 2.5, 4.75, 7 and 9 ft for 3 × 12 ft trees",
);
const OWN: Source = Source::assumption("Project's own default");

/// Every input, in the order of the page.
pub static REGISTRY: &[Parameter] = &[
    choice_of!(1, system: TrainingSystem; Trees, false, "Training system",
        "Sets spacing, tree size, rootstock and trellis to a usual planting of that system.",
        Source::published("Robinson (Cornell); Good Fruit Grower 2015: tall spindle as today's usual planting")),
    choice_of!(2, rootstock: Rootstock; Trees, true, "Rootstock",
        "The root the tree grows on; it sets how large the tree wants to grow.",
        Source::published("Robinson (Cornell): M.9-class stocks for tall spindle")),
    number!(3, vigour: Ratio as Ratio, 0.4 => 2.5, steps 0.05, 0.05; Trees, false, "Rootstock vigour on this site",
        "1 is the published figure for the rootstock. The same stock differs by 40 % and more between sites.",
        Source::published("NC-140 2015 organic trial: trunk area on one stock spans a factor of 3 to 4 over ten sites")),
    choice_of!(4, scion_vigour: ScionVigour; Trees, false, "Scion vigour",
        "How strongly the cultivar grows.",
        Source::published("Michigan State University Extension (Honeycrisp weak, Jonagold strong); the rest from memory")),
    choice_of!(5, soil_vigour: SoilVigour; Trees, false, "Soil vigour",
        "How strongly the ground, with its water, makes trees grow.", OWN),
    number!(6, in_row_spacing: Length as Length, FT => 30.0 * FT, steps 0.25 * FT, 0.05; Spacing, true, "In-row spacing",
        "Distance from tree to tree along the row.", SYSTEM_SPACING),
    number!(7, row_width: Length as Length, 6.0 * FT => 40.0 * FT, steps 0.5 * FT, 0.1; Spacing, true, "Row width",
        "Distance from the centre line of one row to the next.", SYSTEM_SPACING),
    number!(8, tree_height: Length as Length, 4.0 * FT => 30.0 * FT, steps 0.25 * FT, 0.05; Spacing, true, "Tree height kept",
        "Height the leader is cut back to.",
        Source::published("Robinson (Cornell), Fruit Growers News 2007: tall spindle kept at about 10 ft")),
    number!(9, canopy_width: Length as Length, FT => 24.0 * FT, steps 0.25 * FT, 0.05; Spacing, true, "Canopy width kept",
        "Width of the canopy at its base, across the row, that pruning holds.",
        Source::published("Good Fruit Grower 1 May 2013, fruiting wall principles: 4-6 ft across")),
    number!(10, crown_base: Length as Length, 0.5 * FT => 8.0 * FT, steps 0.25 * FT, 0.05; Spacing, true, "Lowest branches",
        "Height of the lowest fruiting branches above the ground.",
        Source::published("UMass Extension 2017: lowest fruiting branches about 24 in above the ground")),
    number!(11, crown_taper: Ratio as Share, 0.0 => 1.0, steps 0.05, 0.05; Spacing, true, "Canopy top against base",
        "Width of the canopy at the top as a share of its base: small is a Christmas tree, 100 % is a wall.", OWN),
    number!(12, lean: Angle as Angle, 0.0 => 35.0 * DEG, steps DEG, DEG; Spacing, true, "Lean of the canopy",
        "Angle from the vertical at which trees lean, one to the left, the next to the right; 0 stands upright.",
        Source::practice("Common practice, no source")),
    number!(13, graft_union_height: Length as SmallLength, 0.0 => 18.0 * IN, steps 0.5 * IN, 0.01; Trees, false, "Graft union at planting",
        "Height of the graft union above the ground on planting day.",
        Source::published("Crassweller (Penn State), eXtension: union 3-6 in above the soil; planted an inch high by common practice")),
    number!(14, settling: Length as SmallLength, 0.0 => 6.0 * IN, steps 0.5 * IN, 0.01; Trees, false, "Settling after planting",
        "How far the tree sinks as the soil settles.",
        Source::practice("Common practice, no source: about an inch")),
    number!(15, year: Years as Years, 0.0 => LAST_YEAR, steps 1.0, 1.0; Year, false, "Year shown",
        "Years since planting; 0 is planting day.", OWN),
    number!(16, block_length: Length as Length, 10.0 * FT => 6600.0 * FT, steps 10.0 * FT, 5.0; Block, false, "Block length, along the rows",
        "Length of the field along the rows, headlands included.", OWN),
    number!(17, block_width: Length as Length, 10.0 * FT => 6600.0 * FT, steps 10.0 * FT, 5.0; Block, false, "Block width, across the rows",
        "Width of the field across the rows.", OWN),
    number!(18, row_azimuth: Angle as Angle, 0.0 => 180.0 * DEG, steps 5.0 * DEG, 5.0 * DEG; Block, false, "Row direction",
        "Clockwise from north: 0° runs north-south, 90° east-west.",
        Source::published("Ferree (Ohio State), Good Fruit Grower: north-south rows for even light")),
    number!(19, headland: Length as Length, 0.0 => 100.0 * FT, steps FT, 0.5; Block, false, "Headland at row ends",
        "Free strip from the edge of the field to the end posts, for turning and for anchors.",
        Source::published("Barney, Storey's Guide: buffer strips of about 30 ft serve as headlands")),
    number!(20, side_margin: Length as Length, 0.0 => 100.0 * FT, steps FT, 0.5; Block, false, "Side margin",
        "Least distance from the edge of the field to the outer rows.",
        Source::practice("Common practice, no source: one alley")),
    number!(21, tractor_width: Length as Length, 3.0 * FT => 10.0 * FT, steps 0.25 * FT, 0.05; Block, false, "Tractor width",
        "Overall width of the widest machine that drives the alleys.", ALLEY),
    choice_of!(22, support: Support; Trellis, true, "Support",
        "What holds the trees up.",
        Source::published("Fraser & Oakes 1999, Compact Fruit Tree 32")),
    Parameter {
        key: "wire_heights",
        code: 23,
        label: "Wire heights",
        help: "Height of each wire above the ground.",
        group: Group::Trellis,
        source: WIRES,
        follows_system: true,
        kind: Kind::Lengths(Lengths {
            min: 0.5 * FT,
            max: 16.0 * FT,
            step_us: 0.25 * FT,
            step_metric: 0.05,
            most: 8,
            get: |s| &s.wire_heights,
            set: |s, heights| s.wire_heights = heights,
        }),
    },
    number!(24, post_length: Length as Length, 6.0 * FT => 20.0 * FT, steps 0.5 * FT, 0.1; Trellis, true, "Line post length",
        "Whole length of a line post.",
        Source::practice("Common practice; Kuhn in Good Fruit Grower: 12 ft, newer plantings 14 ft")),
    number!(25, post_embedment: Length as Length, FT => 6.0 * FT, steps 0.25 * FT, 0.05; Trellis, true, "Post depth in the ground",
        "Part of the post that is in the ground.",
        Source::published("Kuhn in Good Fruit Grower: 3 ft set; Fraser: at least a quarter of the post")),
    number!(26, post_interval: Length as Length, 10.0 * FT => 60.0 * FT, steps FT, 0.5; Trellis, false, "Longest post interval",
        "Posts stand midway between trees, never further apart than this.",
        Source::published("Kuhn in Good Fruit Grower: 32-35 ft best, 40 average; Ferri: 20 ft for super spindle")),
    number!(27, line_post_diameter: Length as SmallLength, 2.0 * IN => 10.0 * IN, steps 0.25 * IN, 0.005; Trellis, false, "Line post diameter",
        "At the ground line.",
        Source::assumption("Published practice is 3-4 in; 5 in is this project's default")),
    number!(28, end_post_diameter: Length as SmallLength, 3.0 * IN => 12.0 * IN, steps 0.25 * IN, 0.005; Trellis, false, "End post diameter",
        "At the ground line.",
        Source::published("Kuhn in Good Fruit Grower: 5-6 in")),
    choice_of!(29, end_assembly: EndAssembly; Trellis, false, "Row ends",
        "What holds the wires at the row ends.",
        Source::published("Ontario (OMAFRA) tall-spindle support sheet; UW Extension for H-braces")),
    number!(30, end_post_lean: Angle as Angle, 0.0 => 30.0 * DEG, steps DEG, DEG; Trellis, false, "End post lean",
        "Lean of a tied-back end post toward its anchor.",
        Source::published("Good Fruit Grower, Constructing a trellis: 15-18°")),
    number!(31, anchor_distance: Length as Length, 3.0 * FT => 20.0 * FT, steps 0.5 * FT, 0.1; Trellis, false, "Anchor distance",
        "From the foot of the end post to the anchor.",
        Source::published("Good Fruit Grower, Constructing a trellis: as far as the post stands above the ground")),
    number!(32, brace_span: Length as Length, 4.0 * FT => 14.0 * FT, steps 0.5 * FT, 0.1; Trellis, false, "H-brace span",
        "Distance between the two posts of an H-brace.",
        Source::published("UW Extension; NRCS Mississippi: 8-10 ft")),
    number!(33, latitude: Angle as Angle, -90.0 * DEG => 90.0 * DEG, steps DEG, DEG; Light, false, "Latitude",
        "North of the equator above 0, south of it below.",
        Source::assumption("Project's own default: 42° N, no particular place")),
    choice_of!(34, season_first: Month; Light, false, "Season from",
        "First month that light is summed over. In the south, choose months from November on.",
        Source::assumption("Project's own default: May to September, the months with full leaf in the north")),
    choice_of!(35, season_last: Month; Light, false, "Season to",
        "Last month that light is summed over; a month before the first is next year's.",
        Source::assumption("Project's own default: May to September, the months with full leaf in the north")),
    number!(36, leaf_area_density: PerLength as LeafAreaDensity, 0.0 => 10.0, steps 0.1, 0.1; Light, false, "Leaf area density",
        "Leaf area in each unit of crown volume. It stays when crowns change size: a bigger crown has more leaves, not thinner ones.",
        Source::assumption("Derived, not measured: leaf area 1.5-2.0 times the ground in crowns 1.5-1.8 m wide gives 1.9-3.5 m²/m³")),
    number!(37, leaf_clumping: Ratio as Ratio, 0.3 => 1.0, steps 0.05, 0.05; Light, false, "Clumping of leaves",
        "1 is leaves spread at random; bunched leaves shade less.",
        Source::assumption("Leaves at random in an even crown, as Green et al. 2003, Agron. J. 95:1380; no value for apple found")),
    number!(38, wood_and_fruit: Ratio as Ratio, 1.0 => 1.5, steps 0.05, 0.05; Light, false, "Wood and fruit",
        "Shade of leaves, wood and fruit together against that of the leaves alone.",
        Source::assumption("Leaves alone; 1.15-1.25 would be a guess without a source")),
    number!(39, diffuse_share: Ratio as Share, 0.0 => 1.0, steps 0.05, 0.05; Light, false, "Diffuse light",
        "Share of the season's light that comes from the sky and not straight from the sun. About 20 % is a clear season, 100 % is always overcast.",
        Source::assumption("Humid temperate seasons 0.4-0.5, from memory")),
    choice_of!(40, sky: Sky; Light, false, "Sky",
        "How the diffuse light is spread over the sky.",
        Source::standard("CIE standard overcast sky; the even sky is the usual simplification")),
    number!(41, light_for_flowers: Ratio as Share, 0.05 => 0.90, steps 0.05, 0.05; Light, false, "Light for flower buds",
        "Below this share of open light, no flower buds form.",
        Source::published("Ferree and Heinicke in Good Fruit Grower, Let there be light: at least 30 % of full sun")),
    number!(42, light_for_size: Ratio as Share, 0.10 => 0.95, steps 0.05, 0.05; Light, false, "Light for fruit size",
        "Below this share of open light, fruit stays small.",
        Source::published("Barritt et al. 1997, Acta Hort. 451:569: size, colour and solids rise up to about 50 % of full sun")),
    number!(43, light_for_colour: Ratio as Share, 0.15 => 1.0, steps 0.05, 0.05; Light, false, "Light for full colour",
        "Below this share of open light, red cultivars colour poorly; cultivars differ much.",
        Source::published("Growers' press, 50-70 % for full colour by cultivar; sources disagree, from 9 % for high-colouring strains")),
    choice_of!(44, sun_month: Month; Light, false, "Shadows: month",
        "Month of the day whose shadows are shown.", OWN),
    number!(45, sun_day: Years as Count, 1.0 => 31.0, steps 1.0, 1.0; Light, false, "Shadows: day",
        "Day of that month whose shadows are shown.", OWN),
    number!(46, sun_hour: Hours as Hours, 0.0 => 24.0, steps 0.25, 0.25; Light, false, "Shadows: hour",
        "Local solar time, 12 with the sun at its highest. Clock time differs by place and by summer time.", OWN),
];

/// The input with this key.
pub fn parameter(key: &str) -> Option<&'static Parameter> {
    REGISTRY.iter().find(|parameter| parameter.key == key)
}

fn number_fault(value: f64, min: f64, max: f64, quantity: Quantity) -> Option<Fault> {
    // Ranges are round in feet; a hair of room keeps 2.0 ft legal after a trip through metres.
    let hair = 1e-9 * max.abs().max(1.0);
    if !value.is_finite() {
        Some(Fault::NotANumber { got: "no number".to_owned(), min, max, quantity })
    } else if value < min - hair || value > max + hair {
        Some(Fault::OutOfRange { value, min, max, quantity })
    } else {
        None
    }
}

impl Number {
    /// Why a value can't be taken, if it can't.
    pub fn fault(&self, value: f64) -> Option<Fault> {
        number_fault(value, self.min, self.max, self.quantity)
    }
}

impl Lengths {
    /// Why an item can't be taken, if it can't.
    pub fn fault(&self, value: f64) -> Option<Fault> {
        number_fault(value, self.min, self.max, LIST_QUANTITY)
    }
}

impl Parameter {
    /// What is wrong with this field of a scenario.
    pub fn faults(&self, scenario: &Scenario) -> Vec<Problem> {
        match self.kind {
            Kind::Number(number) => number
                .fault((number.get)(scenario))
                .map(|fault| Problem::new(self.key, fault))
                .into_iter()
                .collect(),
            Kind::Choice(_) => Vec::new(),
            Kind::Lengths(lengths) => {
                let items = (lengths.get)(scenario);
                let too_many = (items.len() > lengths.most).then(|| {
                    Problem::new(self.key, Fault::ListLength { items: items.len(), most: lengths.most })
                });
                let wrong = items.iter().enumerate().filter_map(|(place, item)| {
                    lengths
                        .fault(item.value)
                        .map(|fault| Problem::new(&format!("{}[{place}]", self.key), fault))
                });
                too_many.into_iter().chain(wrong).collect()
            }
        }
    }

    /// Takes a file's value into a scenario. Ranges are checked afterwards, all fields together.
    ///
    /// # Errors
    /// The fault, where the value is of the wrong kind.
    pub fn read(&self, entry: &Entry, scenario: &mut Scenario) -> Result<(), Fault> {
        match (self.kind, entry) {
            (Kind::Number(number), Entry::Number(value)) => {
                (number.set)(scenario, *value);
                Ok(())
            }
            (Kind::Number(number), other) => Err(Fault::NotANumber {
                got: other.shown(),
                min: number.min,
                max: number.max,
                quantity: number.quantity,
            }),
            (Kind::Choice(choice), Entry::Text(key)) if (choice.set)(scenario, key) => Ok(()),
            (Kind::Choice(choice), other) => {
                let keys: Vec<&str> = (choice.options)().into_iter().map(|(key, _)| key).collect();
                Err(Fault::NotAChoice { got: other.shown(), allowed: keys.join(", ") })
            }
            (Kind::Lengths(lengths), Entry::List(items)) => {
                let mut heights = Vec::new();
                for item in items {
                    let Entry::Number(value) = item else {
                        return Err(Fault::NotANumber {
                            got: item.shown(),
                            min: lengths.min,
                            max: lengths.max,
                            quantity: LIST_QUANTITY,
                        });
                    };
                    heights.push(Length::new::<meter>(*value));
                }
                (lengths.set)(scenario, heights);
                Ok(())
            }
            (Kind::Lengths(_), other) => Err(Fault::NotAList { got: other.shown() }),
        }
    }

    /// Copies this field from one scenario to another.
    pub fn copy(&self, from: &Scenario, to: &mut Scenario) {
        match self.kind {
            Kind::Number(number) => (number.set)(to, (number.get)(from)),
            Kind::Choice(choice) => {
                (choice.set)(to, (choice.get)(from));
            }
            Kind::Lengths(lengths) => (lengths.set)(to, (lengths.get)(from).to_vec()),
        }
    }

    /// Whether two scenarios agree in this field.
    #[expect(
        clippy::float_cmp,
        reason = "asks whether anybody changed the field, not whether values are near"
    )]
    pub fn same(&self, one: &Scenario, other: &Scenario) -> bool {
        match self.kind {
            Kind::Number(number) => (number.get)(one) == (number.get)(other),
            Kind::Choice(choice) => (choice.get)(one) == (choice.get)(other),
            Kind::Lengths(lengths) => (lengths.get)(one) == (lengths.get)(other),
        }
    }
}

/// Whether an azimuth is nearer to east-west than to north-south.
pub fn is_nearer_east_west(azimuth: Angle) -> bool {
    (azimuth - degrees(90.0)).abs() < degrees(45.0)
}
