//! What can be set about loads and strength: crop, wire, wind, wood, soil, anchors, braces, targets, wastage and prices.

use super::anchors::Anchor;
use super::ends::BraceSpans;
use super::posts::Species;
use super::soil::Soil;
use super::wind::Exposure;
use super::wire::{Gauge, Grade};
use crate::kit::choice::choice;
use crate::kit::figure::Source;
use crate::kit::group::Group;
use crate::kit::quantity::{feet, inches, share};
use crate::kit::units::{
    FAHRENHEIT, MPH, POUND_FORCE, POUND_PER_ACRE, fahrenheit, mph, pounds_force, pounds_per_acre,
};
use crate::register::parameter::{FT, IN};
use crate::register::problem::{Conflicts, Problem};
use crate::register::table::inputs;
use crate::system::TrainingSystem;
use uom::si::f64::{ArealMassDensity, Force, Length, Ratio, TemperatureInterval, Velocity};

/// Crop, wind, cold and ice.
pub const LOADS: Group = Group { key: "loads", label: "Crop, wind, cold", rank: 60, view: "elevation" };
/// Wire, wood, soil, anchors and braces.
pub const STRENGTH: Group =
    Group { key: "strength", label: "Wire, wood, soil, anchors", rank: 61, view: "elevation" };
/// What the trellis is to reach.
pub const TARGETS: Group = Group { key: "targets", label: "Targets", rank: 62, view: "elevation" };
/// Wastage and prices.
pub const PRICES: Group =
    Group { key: "trellis_prices", label: "Wastage and prices of the trellis", rank: 63, view: "elevation" };

choice! {
    /// What is spread over the rows.
    Cover {
        /// Nothing.
        None = "none", "Nothing";
        /// A net against hail or birds.
        Net = "net", "Net against hail or birds";
        /// Cloth that shades.
        ShadeCloth = "shade_cloth", "Shade cloth";
    }
}

/// What can be set about loads and strength.
#[derive(Clone, Debug, PartialEq)]
pub struct Inputs {
    /// The heaviest crop the trellis is to carry `[kg/m²]`.
    pub heaviest_crop: ArealMassDensity,
    /// Share of the crop that hangs on the wires; stakes that reach the ground carry the rest `[–]`.
    pub share_on_wires: Ratio,
    /// The strongest gust of three seconds `[m/s]`.
    pub gust: Velocity,
    /// How open the land is.
    pub exposure: Exposure,
    /// Drag of the crowns on what they would hide if they were solid `[–]`.
    pub canopy_drag: Ratio,
    /// Wind on a row inside the block against that on an outer one `[–]`.
    pub inner_rows: Ratio,
    /// How much colder it gets than when the wires were strung `[K]`.
    pub cold_drop: TemperatureInterval,
    /// How much warmer it gets than when the wires were strung `[K]`.
    pub hot_rise: TemperatureInterval,
    /// Ice all round the wires in the cold `[m]`.
    pub ice: Length,
    /// What is spread over the rows.
    pub cover: Cover,
    /// Thickness of the wire.
    pub wire_gauge: Gauge,
    /// Steel of the wire.
    pub wire_grade: Grade,
    /// Tension the wires are strung to `[N]`.
    pub pretension: Force,
    /// How far both ends of a row and its springs together yield for 1,000 lbf on one wire `[m]`.
    pub end_give: Length,
    /// Wood of the posts.
    pub post_wood: Species,
    /// The soil at its weakest.
    pub soil: Soil,
    /// The screw anchor.
    pub anchor_kind: Anchor,
    /// Depth of its lowest plate under the ground `[m]`.
    pub anchor_depth: Length,
    /// Strands of trellis wire in a guy.
    pub guy_strands: f64,
    /// Spans of an H-brace.
    pub brace_spans: BraceSpans,
    /// Height of the rail of an H-brace `[m]`.
    pub rail_height: Length,
    /// Thickness of the rail `[m]`.
    pub rail_diameter: Length,
    /// Share of its breaking load a loaded wire is to stay under `[–]`.
    pub wire_target: Ratio,
    /// Times the guy's pull that an anchor is to come out at `[–]`.
    pub anchor_target: Ratio,
    /// Wire, staples, sleeves, clips and ties ordered beyond what is needed `[–]`.
    pub wastage: Ratio,
    /// A line post `[US dollars]`.
    pub price_line_post: f64,
    /// An end or brace post `[US dollars]`.
    pub price_end_post: f64,
    /// A rail with its pins `[US dollars]`.
    pub price_rail: f64,
    /// An anchor `[US dollars]`.
    pub price_anchor: f64,
    /// A coil of 4,000 ft of wire `[US dollars]`.
    pub price_coil: f64,
    /// A tensioner `[US dollars]`.
    pub price_tensioner: f64,
    /// A pound of staples `[US dollars]`.
    pub price_staples: f64,
    /// A sleeve or a clip `[US dollars]`.
    pub price_sleeve: f64,
    /// A tree tie `[US dollars]`.
    pub price_tie: f64,
    /// A stake `[US dollars]`.
    pub price_stake: f64,
    /// An hour of work `[US dollars]`.
    pub price_hour: f64,
}

/// Share of the crop on the wires where every tree has a stake that reaches the ground `[–]`.
const SHARE_BESIDE_STAKES: f64 = 0.5;

impl Inputs {
    /// The usual loads and strengths; of them only the share on the wires follows the training system.
    pub fn usual(system: TrainingSystem) -> Inputs {
        // The systems whose usual planting has a stake at every tree.
        let has_stakes = system == TrainingSystem::VerticalAxis;
        Inputs {
            heaviest_crop: pounds_per_acre(63_000.0),
            share_on_wires: share(if has_stakes { SHARE_BESIDE_STAKES } else { 1.0 }),
            gust: mph(70.0),
            exposure: Exposure::C,
            canopy_drag: share(0.40),
            inner_rows: share(0.5),
            cold_drop: fahrenheit(60.0),
            hot_rise: fahrenheit(40.0),
            ice: inches(0.0),
            cover: Cover::None,
            wire_gauge: Gauge::No12Half,
            wire_grade: Grade::Ksi170,
            pretension: pounds_force(200.0),
            end_give: inches(0.0),
            post_wood: Species::RedPine,
            soil: Soil::MediumClay,
            anchor_kind: Anchor::Plate6,
            anchor_depth: feet(4.0),
            guy_strands: 2.0,
            brace_spans: BraceSpans::One,
            rail_height: feet(7.0),
            rail_diameter: inches(4.0),
            wire_target: share(0.5),
            anchor_target: share(2.0),
            wastage: share(0.05),
            price_line_post: 18.0,
            price_end_post: 32.0,
            price_rail: 14.0,
            price_anchor: 18.0,
            price_coil: 160.0,
            price_tensioner: 4.5,
            price_staples: 3.0,
            price_sleeve: 0.4,
            price_tie: 0.06,
            price_stake: 3.5,
            price_hour: 23.75,
        }
    }

    /// What is at odds among them: nothing can be.
    pub fn conflicts(&self) -> Vec<Problem> {
        Conflicts::default().found()
    }
}

const EXAMPLE: Source = Source::assumption("Example price of 2026, from no quote: put your own in its place");
const BY_HEART: Source = Source::assumption("Project's own default");

inputs! { Inputs;
    number 96 heaviest_crop (MassPerLand as MassPerLand, 0.0 => 150_000.0 * POUND_PER_ACRE, steps 1_000.0 * POUND_PER_ACRE, 0.25) LOADS own "Heaviest crop"
        "Fruit that the trellis is to carry. Where the plan expects more, that is taken."
        Source::published("Hoying and Miranda Sazo, Cornell: a full crop of about 63,000 lb an acre; Hoying: support for more than 70,000");
    number 97 share_on_wires (Ratio as Share, 0.0 => 1.0, steps 0.05, 0.05) LOADS follows "Crop on the wires"
        "Share of the crop that hangs on the wires; trunks and stakes that reach the ground carry the rest. 100 % is the upper bound."
        Source::assumption("Project's own: all without stakes, half where every tree has one; no published split was found");
    number 98 gust (Velocity as Speed, 20.0 * MPH => 150.0 * MPH, steps MPH, 0.5) LOADS own "Gust"
        "Strongest gust of three seconds, 33 ft above open ground, that comes with leaves on the trees."
        Source::assumption("Project's own: 70 mph, at which Hoying (Cornell) counts the wind on a tall spindle");
    choice 99 exposure (Exposure) LOADS own "Exposure"
        "How open the land is to the wind."
        Source::standard("Exposure categories of ASCE 7; open country is this project's default");
    number 100 canopy_drag (Ratio as Ratio, 0.15 => 0.70, steps 0.05, 0.05) LOADS own "Drag of the canopy"
        "Wind force against that on a solid wall's pressure. Sources lie from 0.15, crowns that bend with the wind, to 0.70, a stiff screen."
        Source::assumption("Project's own within 0.16 (read back from Hoying, Cornell) and 0.68 (half-open screen by ASCE 7-16)");
    number 101 inner_rows (Ratio as Share, 0.3 => 1.0, steps 0.05, 0.05) LOADS own "Wind on inner rows"
        "Wind on a row inside the block against that on an outer one."
        Source::assumption("Project's own: half; no measurement in orchards was found");
    number 102 cold_drop (Warming as TemperatureChange, 0.0 => 120.0 * FAHRENHEIT, steps 5.0 * FAHRENHEIT, 1.0) LOADS own "Colder than when strung"
        "How much colder the coldest day is than the day the wires were strung."
        Source::assumption("Project's own: 60 °F");
    number 103 hot_rise (Warming as TemperatureChange, 0.0 => 80.0 * FAHRENHEIT, steps 5.0 * FAHRENHEIT, 1.0) LOADS own "Warmer than when strung"
        "How much warmer the hottest day is than the day the wires were strung."
        Source::assumption("Project's own: 40 °F");
    number 104 ice (Length as SmallLength, 0.0 => 2.0 * IN, steps 0.125 * IN, 0.0025) LOADS own "Ice on the wires"
        "Ice all round the bare wire on the coldest day. Ice and snow on the crowns weigh more, and no number for it was found."
        Source::assumption("Project's own: none; half an inch is California's heavy loading (GO 95, rule 43.1)");
    choice 105 cover (Cover) LOADS own "Net or cloth"
        "What is spread over the rows. Its loads are not worked out here." BY_HEART;
    choice 106 wire_gauge (Gauge) STRENGTH own "Wire"
        "Thickness of the trellis wire."
        Source::published("ASTM A854: high-tensile fence and trellis wire, 12½ gauge");
    choice 107 wire_grade (Grade) STRENGTH own "Steel of the wire"
        "Least tensile strength of the steel."
        Source::published("NRCS Georgia, code 382, 2006: at least 170,000 psi; ASTM A854 has 140, 180 and 200");
    number 108 pretension (Force as Force, 50.0 * POUND_FORCE => 500.0 * POUND_FORCE, steps 10.0 * POUND_FORCE, 50.0) STRENGTH own "Tension when strung"
        "Tension of each wire when it is strung, before any crop."
        Source::practice("Common practice: 150 to 250 lbf; UF CIR851 and UGA give 250");
    number 109 end_give (Length as SmallLength, 0.0 => 12.0 * IN, steps 0.25 * IN, 0.005) STRENGTH own "Give of the row ends"
        "How far both ends of a row, their springs included, yield for 1,000 lbf on one wire. Ends that yield lower tension and deepen sag."
        Source::assumption("Project's own: none, the upper bound of tension");
    choice 110 post_wood (Species) STRENGTH own "Wood of the posts"
        "Species of the posts, whose mean strength they are compared with."
        Source::assumption("Project's own: the middle of the classes of ANSI O5.1");
    choice 111 soil (Soil) STRENGTH own "Soil"
        "The soil at posts and anchors when it is weakest."
        Source::assumption("Project's own; shear strengths of clay from memory");
    choice 112 anchor_kind (Anchor) STRENGTH own "Screw anchor"
        "Plates of the screw anchor."
        Source::published("OMAFRA tall-spindle support sheet: plates of at least 6 in on rods 4 to 5 ft long");
    number 113 anchor_depth (Length as Length, 2.0 * FT => 8.0 * FT, steps 0.25 * FT, 0.1) STRENGTH own "Anchor depth"
        "Depth of the lowest plate, straight down from the ground."
        Source::published("OMAFRA tall-spindle support sheet: anchors 4 to 5 ft long");
    number 114 guy_strands (Years as Count, 1.0 => 6.0, steps 1.0, 1.0) STRENGTH own "Strands of a guy"
        "Strands of trellis wire between post and anchor."
        Source::practice("Common practice, no source: the wire doubled");
    choice 115 brace_spans (BraceSpans) STRENGTH own "Spans of an H-brace"
        "One rail and brace post in line, or two."
        Source::practice("Common practice, no source");
    number 116 rail_height (Length as Length, 3.0 * FT => 10.0 * FT, steps 0.25 * FT, 0.1) STRENGTH own "Height of the rail"
        "Height of an H-brace's rail above the ground."
        Source::assumption("Project's own: 7 ft");
    number 117 rail_diameter (Length as SmallLength, 2.0 * IN => 8.0 * IN, steps 0.25 * IN, 0.005) STRENGTH own "Thickness of the rail"
        "Thickness of an H-brace's rail."
        Source::practice("Common practice, no source: 4 in");
    number 118 wire_target (Ratio as Share, 0.2 => 1.0, steps 0.05, 0.05) TARGETS own "Wire, of its breaking load"
        "Share of its breaking load that a loaded wire is to stay under."
        Source::assumption("Project's own: half");
    number 119 anchor_target (Ratio as Ratio, 1.0 => 3.0, steps 0.1, 0.1) TARGETS own "Anchor, times the pull"
        "How many times the loaded pull of its guy an anchor is to come out at."
        Source::published("Helical-anchor papers: twice; ASAE EP486: 2.5 to 3 for soil");
    number 120 wastage (Ratio as Share, 0.0 => 0.3, steps 0.01, 0.01) PRICES own "Wastage"
        "Wire and small parts ordered beyond what is needed."
        Source::practice("Common practice, no source: 5 %");
    number 121 price_line_post (Plain as Money, 0.0 => 500.0, steps 0.5, 0.5) PRICES own "Line post" "Price of one line post." EXAMPLE;
    number 122 price_end_post (Plain as Money, 0.0 => 500.0, steps 0.5, 0.5) PRICES own "End or brace post" "Price of one." EXAMPLE;
    number 123 price_rail (Plain as Money, 0.0 => 500.0, steps 0.5, 0.5) PRICES own "Rail" "Price of a brace's rail with its pins." EXAMPLE;
    number 124 price_anchor (Plain as Money, 0.0 => 500.0, steps 0.5, 0.5) PRICES own "Anchor" "Price of one screw anchor." EXAMPLE;
    number 125 price_coil (Plain as Money, 0.0 => 2_000.0, steps 1.0, 1.0) PRICES own "Coil of wire" "Price of a coil of 4,000 ft." EXAMPLE;
    number 126 price_tensioner (Plain as Money, 0.0 => 100.0, steps 0.1, 0.1) PRICES own "Tensioner" "Price of one." EXAMPLE;
    number 127 price_staples (Plain as Money, 0.0 => 50.0, steps 0.1, 0.1) PRICES own "Staples" "Price of a pound, about sixty." EXAMPLE;
    number 224 price_sleeve (Plain as Money, 0.0 => 20.0, steps 0.05, 0.05) PRICES own "Sleeve or clip" "Price of one crimp sleeve or stake clip." EXAMPLE;
    number 225 price_tie (Plain as Money, 0.0 => 5.0, steps 0.01, 0.01) PRICES own "Tree tie" "Price of one." EXAMPLE;
    number 226 price_stake (Plain as Money, 0.0 => 100.0, steps 0.1, 0.1) PRICES own "Stake" "Price of a stake or post at a single tree." EXAMPLE;
    number 227 price_hour (Plain as Money, 0.0 => 200.0, steps 0.25, 0.25) PRICES own "Hour of work" "What an hour of hired work costs."
        Source::published("WSU in Good Fruit Grower 2024: 19.25 wage and 4.50 fixed cost of a guest worker");
}
