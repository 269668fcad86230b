//! Rules of advice about light. Those about crowns look at the grown planting, so that a plan is judged alike whatever
//! year is shown.

use super::grown::{Grown, SHADING_SHARE};
use super::scene::{Asked, Stand};
use super::sun::Almanac;
use crate::kit::choice::Choice;
use crate::kit::figure::Source;
use crate::kit::finding::{Advice, Severity};
use crate::kit::message::{Message, Slot};
use crate::kit::quantity::Quantity;
use crate::kit::standing::Standing;
use crate::kit::way::{Aim, Move, Toward, Way};

/// What the rules look at.
#[derive(Clone, Copy, Debug)]
pub struct Judged<'a> {
    /// What light is computed from.
    pub asked: &'a Asked,
    /// The grown planting.
    pub grown: &'a Grown,
}

/// Every rule about light, in the order their findings are read.
pub static RULES: &[fn(&Judged) -> Option<Advice>] = &[dark_middle, floor_light, rows_shading, winter_season];

/// The tropics `[rad]`.
const TROPIC: f64 = 23.44 / 180.0 * std::f64::consts::PI;

/// Height of trees that are picked from the ground `[m]`: 8 ft. They catch as much light as taller ones only where alleys are too
/// narrow for machines (Good Fruit Grower 1 May 2013, fruiting wall principles).
const PEDESTRIAN_HEIGHT: f64 = 8.0 * 0.3048;

fn share_slot(value: f64) -> Slot {
    Slot::Number(value, Quantity::Share)
}

const LOWER: &str = "Keep the trees at {0}.";
const NARROWER: &str = "Keep the canopy {0} wide.";
const WIDER_ROWS: &str = "Set the rows {0} apart.";

/// Lower trees with a canopy narrower in proportion.
fn smaller(stand: &Stand) -> Way {
    let times = stand.ripe.space.across / stand.ripe.space.height.max(f64::MIN_POSITIVE);
    Way::new(
        "Keep the trees at {0} with a canopy {1} wide.",
        [
            Move::Seek { key: "tree_height", toward: Toward::Less, aim: Aim::Nearest },
            Move::Follow { key: "canopy_width", times, toward: Toward::Less },
        ],
    )
}

/// Too much of the crown gets too little light for flower buds.
fn dark_middle(judged: &Judged) -> Option<Advice> {
    let (grown, inputs) = (judged.grown, &judged.asked.inputs);
    if !grown.is_dark() {
        return None;
    }
    // Wide free-standing trees are dark inside by their nature: whoever plants them pays with it.
    let severity =
        if judged.asked.stand.standing == Standing::Free { Severity::Price } else { Severity::Caution };
    Some(Advice {
        rule: "dark_middle",
        severity,
        title: "The middle of the tree is too dark",
        finding: Message::new(
            "Once grown, {0} of the crown gets less than {1} of the light in the open, too little for flower buds; the lowest third gets {2} on average.",
            [
                share_slot(grown.crown.under[0]),
                share_slot(inputs.light_for_flowers.value),
                share_slot(grown.lowest.mean),
            ],
        ),
        ways: vec![
            Way::less(LOWER, "tree_height", Aim::Nearest),
            Way::less(NARROWER, "canopy_width", Aim::Nearest),
            Way::more(WIDER_ROWS, "row_width", Aim::Nearest),
            smaller(&judged.asked.stand),
        ],
        remedies: None,
        otherwise: "Lower the trees, narrow the canopy and prune for fewer leaves together.",
        fields: &["tree_height", "canopy_width", "row_width", "leaf_area_density"],
        source: Source::assumption(
            "Light for flower buds: Ferree and Heinicke in Good Fruit Grower, Let there be light. Half the crown is this project's threshold; modelled",
        ),
    })
}

/// Too little light is caught.
fn floor_light(judged: &Judged) -> Option<Advice> {
    let grown = judged.grown;
    if !grown.is_thin() {
        return None;
    }
    // Trees picked from the ground, and trees that stand by themselves, are chosen for their ease; the light is what that costs.
    let stand = &judged.asked.stand;
    let is_chosen = stand.standing != Standing::Wires || stand.ripe.space.height <= PEDESTRIAN_HEIGHT;
    Some(Advice {
        rule: "floor_light",
        severity: if is_chosen { Severity::Price } else { Severity::Note },
        title: "Light wasted on the alley floor",
        finding: Message::new(
            "Once grown, the trees catch {0} of the season's light by this model of leaves alone, which reads up to 15 points low; the rest falls on the ground. Yield rises with light caught up to about 60 %, and 65 to 75 % is aimed at.",
            [share_slot(grown.intercepted)],
        ),
        ways: vec![
            Way::less(WIDER_ROWS, "row_width", Aim::Nearest),
            Way::more(LOWER, "tree_height", Aim::Nearest),
            Way::more(NARROWER, "canopy_width", Aim::Nearest),
            Way::less("Plant {0} apart in the row.", "in_row_spacing", Aim::Nearest),
        ],
        remedies: None,
        otherwise: "Closer rows, taller trees and a wider canopy have to go together, or trees that fill their space.",
        fields: &["row_width", "tree_height", "canopy_width", "in_row_spacing"],
        source: Source::published(
            "Wünsche & Lakso 2000, HortScience 35:1202 (yield rises up to 60 %); Robinson 2017, Acta Hort. 1177:79 (at least 70 %); modelled share, threshold 15 points below the field's",
        ),
    })
}

/// Rows stand in each other's light.
fn rows_shading(judged: &Judged) -> Option<Advice> {
    let (grown, inputs) = (judged.grown, &judged.asked.inputs);
    if !grown.is_shaded_by_rows() {
        return None;
    }
    Some(Advice {
        rule: "rows_shading",
        severity: Severity::Caution,
        title: "Rows shade each other",
        finding: Message::new(
            "At latitude {0}, neighbouring rows take {1} of the light that the lowest third of the crowns would get in a row by itself; at 42° and with rows as far apart as they are tall they take about {2}.",
            [
                (inputs.latitude.value, Quantity::Angle).into(),
                share_slot(grown.shaded_by_rows),
                share_slot(SHADING_SHARE),
            ],
        ),
        ways: vec![
            Way::more(WIDER_ROWS, "row_width", Aim::Nearest),
            Way::less(LOWER, "tree_height", Aim::Nearest),
        ],
        remedies: None,
        otherwise: "Wider rows and lower trees have to go together.",
        fields: &["row_width", "tree_height", "latitude", "row_azimuth"],
        source: Source::assumption(
            "Robinson 2017, Acta Hort. 1177:79: height up to row width at most; what that costs at 42° in this model is the threshold",
        ),
    })
}

/// The months set are the winter half of the year at this latitude.
fn winter_season(judged: &Judged) -> Option<Advice> {
    let inputs = &judged.asked.inputs;
    let months = inputs.season_first.up_to(inputs.season_last);
    let declination: f64 = months.iter().map(|month| Almanac::of_day(month.mean_day()).declination).sum();
    let (first, last) =
        if inputs.latitude.value < 0.0 { ("november", "march") } else { ("may", "september") };
    // Near the equator there is no winter to speak of.
    let away_from_the_sun = declination * inputs.latitude.value < 0.0;
    (away_from_the_sun && inputs.latitude.value.abs() > TROPIC).then(|| Advice {
        rule: "winter_season",
        severity: Severity::Note,
        title: "Season in the winter half of the year",
        finding: Message::new(
            "At latitude {0}, {1} to {2} is mostly the winter half of the year; the light shown is that of trees without leaves.",
            [
                (inputs.latitude.value, Quantity::Angle).into(),
                inputs.season_first.label().into(),
                inputs.season_last.label().into(),
            ],
        ),
        ways: vec![Way::new(
            "Sum the light from {0} to {1}.",
            [Move::Word { key: "season_first", word: first }, Move::Word { key: "season_last", word: last }],
        )],
        remedies: None,
        otherwise: "",
        fields: &["season_first", "season_last", "latitude"],
        source: Source::standard("The sun's declination in those months"),
    })
}
