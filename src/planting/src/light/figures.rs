//! The figures of light.

use super::Light;
use crate::kit::figure::{Certainty, Line, Reading, Subject};
use crate::kit::quantity::Quantity;

/// Light in the crowns and on the ground, sun and shadows.
pub const LIGHT: Subject = Subject { key: "light", label: "Light" };

/// What is said of shadows while there are none.
const NIGHT: &str = "the sun is down";

const fn line(
    certainty: Certainty,
    key: &'static str,
    label: &'static str,
    quantity: Quantity,
    read: fn(&Light) -> Reading,
) -> Line<Light> {
    Line { key, label, quantity, subject: LIGHT, certainty, read }
}

const fn share_line(key: &'static str, label: &'static str, read: fn(&Light) -> Reading) -> Line<Light> {
    line(Certainty::Assumption, key, label, Quantity::Share, read)
}

/// Every figure of light, in reading order.
pub static FIGURES: &[Line<Light>] = &[
    line(
        Certainty::Assumption,
        "leaf_area_density_now",
        "Leaf area density of these crowns",
        Quantity::LeafAreaDensity,
        |light| Reading::Value(light.scene().leaf_area_density),
    ),
    line(
        Certainty::Assumption,
        "leaf_area_index",
        "Leaf area on the ground's area",
        Quantity::Ratio,
        |light| Reading::Value(light.season.leaf_area_index),
    ),
    share_line("light_intercepted", "Light intercepted over the season", |light| {
        Reading::Value(light.season.intercepted)
    }),
    share_line("light_metered_low", "What a meter would likely read of it, at least", |light| {
        Reading::Value(light.metered().low)
    }),
    share_line("light_metered_high", "What a meter would likely read of it, at most", |light| {
        Reading::Value(light.metered().high)
    }),
    share_line("light_largest", "Largest share crowns of this shape could take", |light| {
        Reading::Value(light.season.largest)
    }),
    line(
        Certainty::Published,
        "light_self_shading",
        "Taken of what crowns of this shape could take",
        Quantity::Share,
        |light| {
            if light.season.largest > 0.0 {
                Reading::Value(light.season.intercepted / light.season.largest)
            } else {
                Reading::Without("no crown yet")
            }
        },
    ),
    line(
        Certainty::Published,
        "light_quick_model",
        "Light intercepted, Jackson's quick model",
        Quantity::Share,
        |light| Reading::Value(light.season.quick),
    ),
    share_line("crown_under_flowering_light", "Crown too dark for flower buds", |light| {
        Reading::Value(light.season.crown.under[0])
    }),
    share_line("crown_under_flowering_light_low", "The same, if leaves are thin", |light| {
        Reading::Value(light.dark_range().low)
    }),
    share_line("crown_under_flowering_light_high", "The same, if leaves are dense", |light| {
        Reading::Value(light.dark_range().high)
    }),
    share_line("crown_under_size_light", "Crown too dark for fruit size", |light| {
        Reading::Value(light.season.crown.under[1])
    }),
    share_line("crown_under_colour_light", "Crown too dark for full colour", |light| {
        Reading::Value(light.season.crown.under[2])
    }),
    share_line("light_lowest_third", "Light in the lowest third of the crown", |light| {
        Reading::Value(light.season.thirds[0].mean)
    }),
    share_line("light_taken_by_rows", "Light the neighbouring rows take from it, once grown", |light| {
        Reading::Value(light.grown.shaded_by_rows)
    }),
    share_line("light_floor", "Light on the alley floor", |light| Reading::Value(light.season.alley)),
    line(
        Certainty::Standard,
        "sun_elevation",
        "Height of the sun at the hour set",
        Quantity::Angle,
        |light| Reading::Value(light.moment.elevation.value),
    ),
    line(
        Certainty::Standard,
        "shadow_across",
        "Shadow of the tree across the row",
        Quantity::Length,
        |light| {
            let top = light.asked.stand.shown.kept.top;
            let shadow = light.moment.shadow.map(|shadow| top * shadow.across.abs());
            shadow.map_or(Reading::Without(NIGHT), Reading::Value)
        },
    ),
    share_line("shaded_ground", "Ground in shade at the hour set", |light| {
        let shaded = light.moment.shadow.map(|shadow| shadow.shaded_ground);
        shaded.map_or(Reading::Without(NIGHT), Reading::Value)
    }),
];
