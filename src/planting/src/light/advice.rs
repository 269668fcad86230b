//! Rules of advice about light. Those about crowns look at the grown planting, so that a plan is judged alike whatever
//! year is shown; their remedies are solved with the model, never looked up.

use super::Light;
use super::grown::{Apart, Brighter, Cures, Fuller, SHADING_SHARE};
use super::sun::Almanac;
use crate::kit::choice::Choice;
use crate::kit::figure::Source;
use crate::kit::finding::{Advice, Rule, Severity};
use crate::kit::message::{Message, Slot};
use crate::kit::quantity::Quantity;
use crate::kit::standing::Standing;
use uom::si::f64::Length;

/// Every rule about light, in the order their findings are read.
pub static RULES: &[Rule<Light>] = &[dark_middle, floor_light, rows_shading, winter_season];

/// What is said in place of a remedy that hasn't been solved.
const LATER: &str = "What cures it is worked out as soon as the plan stands still.";

/// The tropics `[rad]`.
const TROPIC: f64 = 23.44 / 180.0 * std::f64::consts::PI;

fn share_slot(value: f64) -> Slot {
    Slot::Number(value, Quantity::Share)
}

/// A sentence that offers the lengths that cure, each by itself; `all` down to `none` name the places
/// {0} to {2} as far as there are cures.
fn offer(cures: [Option<Length>; 3], sentences: [&'static str; 8]) -> Message {
    let [one, two, three] = cures.map(|cure| cure.is_some());
    let [all, first_two, outer, last_two, first, second, third, none] = sentences;
    let template = match (one, two, three) {
        (true, true, true) => all,
        (true, true, false) => first_two,
        (true, false, true) => outer,
        (false, true, true) => last_two,
        (true, false, false) => first,
        (false, true, false) => second,
        (false, false, true) => third,
        (false, false, false) => none,
    };
    let values: Vec<Slot> = cures.into_iter().flatten().map(Slot::from).collect();
    Message::new(template, values)
}

/// A sentence with the lengths that cure, or that they are still to be worked out.
fn remedy(
    light: &Light,
    of: fn(&Cures) -> Option<[Option<Length>; 3]>,
    sentences: [&'static str; 8],
) -> Message {
    match &light.cures {
        Some(cures) => offer(of(cures).unwrap_or_default(), sentences),
        None => Message::plain(LATER),
    }
}

/// Too much of the crown gets too little light for flower buds.
fn dark_middle(light: &Light) -> Option<Advice> {
    let (grown, inputs) = (&light.grown, &light.asked.inputs);
    if !grown.is_dark() {
        return None;
    }
    // Wide free-standing trees are dark inside by their nature; that is worth knowing, no fault of the plan.
    let severity =
        if light.asked.stand.standing == Standing::Free { Severity::Note } else { Severity::Caution };
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
        remedy: remedy(
            light,
            |cures| {
                cures.brighter.map(|Brighter { tree_height, canopy_width, row_width }| {
                    [tree_height, canopy_width, row_width]
                })
            },
            [
                "Any one of these brings that down to half: trees kept at {0}, a canopy kept {1} wide, or rows {2} apart.",
                "Either of these brings that down to half: trees kept at {0}, or a canopy kept {1} wide.",
                "Either of these brings that down to half: trees kept at {0}, or rows {1} apart.",
                "Either of these brings that down to half: a canopy kept {0} wide, or rows {1} apart.",
                "Trees kept at {0} bring that down to half.",
                "A canopy kept {0} wide brings that down to half.",
                "Rows {0} apart bring that down to half.",
                "No single length cures it: lower the trees, narrow the canopy and prune for fewer leaves together.",
            ],
        ),
        fields: &["tree_height", "canopy_width", "row_width", "leaf_area_density"],
        source: Source::assumption(
            "Light for flower buds: Ferree and Heinicke in Good Fruit Grower, Let there be light. Half the crown is this project's threshold; modelled",
        ),
    })
}

/// Too little light is caught.
fn floor_light(light: &Light) -> Option<Advice> {
    let grown = &light.grown;
    if !grown.is_thin() {
        return None;
    }
    Some(Advice {
        rule: "floor_light",
        severity: Severity::Note,
        title: "Light wasted on the alley floor",
        finding: Message::new(
            "Once grown, the trees catch {0} of the season's light by this model of leaves alone, which reads up to 15 points low; the rest falls on the ground. Yield rises with light caught up to about 60 %, and 65 to 75 % is aimed at.",
            [share_slot(grown.intercepted)],
        ),
        remedy: remedy(
            light,
            |cures| {
                cures.fuller.map(|Fuller { row_width, tree_height, canopy_width }| {
                    [row_width, tree_height, canopy_width]
                })
            },
            [
                "Any one of these brings it to 45 % here: rows {0} apart, trees kept at {1}, or a canopy kept {2} wide.",
                "Either of these brings it to 45 % here: rows {0} apart, or trees kept at {1}.",
                "Either of these brings it to 45 % here: rows {0} apart, or a canopy kept {1} wide.",
                "Either of these brings it to 45 % here: trees kept at {0}, or a canopy kept {1} wide.",
                "Rows {0} apart bring it to 45 % here.",
                "Trees kept at {0} bring it to 45 % here.",
                "A canopy kept {0} wide brings it to 45 % here.",
                "No single length cures it: closer rows, taller trees and a wider canopy have to go together, or trees that fill their space.",
            ],
        ),
        fields: &["row_width", "tree_height", "canopy_width", "in_row_spacing"],
        source: Source::published(
            "Wünsche & Lakso 2000, HortScience 35:1202 (yield rises up to 60 %); Robinson 2017, Acta Hort. 1177:79 (at least 70 %); modelled share, threshold 15 points below the field's",
        ),
    })
}

/// Rows stand in each other's light.
fn rows_shading(light: &Light) -> Option<Advice> {
    let (grown, inputs) = (&light.grown, &light.asked.inputs);
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
        remedy: remedy(
            light,
            |cures| cures.apart.map(|Apart { row_width, tree_height }| [row_width, tree_height, None]),
            [
                "",
                "Rows {0} apart, or trees kept at {1}, bring it back to that.",
                "",
                "",
                "Rows {0} apart bring it back to that.",
                "Trees kept at {0} bring it back to that.",
                "",
                "No single length cures it: wider rows and lower trees have to go together.",
            ],
        ),
        fields: &["row_width", "tree_height", "latitude", "row_azimuth"],
        source: Source::assumption(
            "Robinson 2017, Acta Hort. 1177:79: height up to row width at most; what that costs at 42° in this model is the threshold",
        ),
    })
}

/// The months set are the winter half of the year at this latitude.
fn winter_season(light: &Light) -> Option<Advice> {
    let inputs = &light.asked.inputs;
    let months = inputs.season_first.up_to(inputs.season_last);
    let declination: f64 = months.iter().map(|month| Almanac::of_day(month.mean_day()).declination).sum();
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
        remedy: Message::plain("Choose May to September in the north, November to March in the south."),
        fields: &["season_first", "season_last", "latitude"],
        source: Source::standard("The sun's declination in those months"),
    })
}
