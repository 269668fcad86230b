//! The figures of the canopy: the alley it leaves, the crowns of the year shown, and growth against space.

use super::pace::GrowthPace;
use super::{Canopy, CanopyYear};
use crate::kit::figure::{Certainty, LAYOUT, Line, Reading, Subject};
use crate::kit::quantity::Quantity;

/// The crowns in the year shown.
pub const CANOPY: Subject = Subject { key: "canopy", label: "Canopy in the year shown" };
/// Growth against the space given.
pub const VIGOUR: Subject = Subject { key: "vigour", label: "Vigour against space" };

/// What is said in place of a year that doesn't come.
const NOT_REACHED: &str = "not within 25 years";

const fn line(
    subject: Subject,
    certainty: Certainty,
    key: &'static str,
    label: &'static str,
    quantity: Quantity,
    read: fn(&Canopy) -> Reading,
) -> Line<Canopy> {
    Line { key, label, quantity, subject, certainty, read }
}

const fn shown(
    key: &'static str,
    label: &'static str,
    quantity: Quantity,
    read: fn(&Canopy) -> Reading,
) -> Line<Canopy> {
    line(CANOPY, Certainty::Assumption, key, label, quantity, read)
}

const fn growth(
    certainty: Certainty,
    key: &'static str,
    label: &'static str,
    quantity: Quantity,
    read: fn(&Canopy) -> Reading,
) -> Line<Canopy> {
    line(VIGOUR, certainty, key, label, quantity, read)
}

fn year(year: Option<f64>) -> Reading {
    year.map_or(Reading::Without(NOT_REACHED), Reading::Value)
}

/// The last year of the picture.
pub(super) fn last_year(canopy: &Canopy) -> &CanopyYear {
    canopy.years.last().unwrap_or(&canopy.shown)
}

fn per_area(canopy: &Canopy, of_a_tree: f64) -> Reading {
    Reading::Value(of_a_tree * canopy.asked.spacing.trees_per_square_metre())
}

/// Every figure of the canopy, in reading order.
pub static FIGURES: &[Line<Canopy>] = &[
    line(LAYOUT, Certainty::Standard, "clear_alley", "Clear alley", Quantity::Length, |canopy| {
        Reading::Value(canopy.clear_alley().value)
    }),
    line(
        LAYOUT,
        Certainty::Published,
        "height_to_row",
        "Tree height to row width",
        Quantity::Ratio,
        |canopy| Reading::Value(canopy.height_to_row()),
    ),
    shown("row_fill", "Row filled", Quantity::Share, |canopy| Reading::Value(canopy.shown.row_fill)),
    shown("canopy_fill", "Canopy fill", Quantity::Share, |canopy| Reading::Value(canopy.shown.canopy_fill)),
    shown("tree_height_now", "Tree height", Quantity::Length, |canopy| {
        Reading::Value(canopy.shown.crown.top)
    }),
    shown("crown_width_along", "Crown width along the row", Quantity::Length, |canopy| {
        Reading::Value(canopy.shown.width_along.value)
    }),
    shown("crown_width_across", "Crown width across the row", Quantity::Length, |canopy| {
        Reading::Value(canopy.shown.width_across.value)
    }),
    shown("ground_cover", "Ground under crowns", Quantity::Share, |canopy| {
        Reading::Value(canopy.shown.ground_cover)
    }),
    shown("crown_volume_tree", "Crown volume of a tree", Quantity::Volume, |canopy| {
        Reading::Value(canopy.shown.volume.value)
    }),
    shown("crown_volume_per_land", "Crown volume on an acre or hectare", Quantity::VolumePerLand, |canopy| {
        per_area(canopy, canopy.shown.volume.value)
    }),
    shown("trunk_area_now", "Trunk area", Quantity::TrunkArea, |canopy| {
        Reading::Value(canopy.shown.trunk_area.value)
    }),
    shown("free_height_now", "Height if nobody cut it", Quantity::Length, |canopy| {
        Reading::Value(canopy.shown.free_height.value)
    }),
    shown("free_spread_now", "Spread if nobody cut it", Quantity::Length, |canopy| {
        Reading::Value(canopy.shown.free_spread.value)
    }),
    growth(Certainty::Assumption, "relative_vigour", "Vigour of the tree", Quantity::Ratio, |canopy| {
        Reading::Value(canopy.free.conditions.vigour)
    }),
    growth(
        Certainty::Published,
        "trunk_area_year_5",
        "Trunk area at year 5",
        Quantity::TrunkArea,
        |canopy| Reading::Value(canopy.free.trunk_area_cm2 * 1e-4),
    ),
    growth(Certainty::Published, "free_height_year_5", "Free height at year 5", Quantity::Length, |canopy| {
        Reading::Value(canopy.free.fitted_height().value)
    }),
    growth(Certainty::Published, "free_spread_year_5", "Free spread at year 5", Quantity::Length, |canopy| {
        Reading::Value(canopy.free.fitted_spread().value)
    }),
    growth(Certainty::Assumption, "mature_spread", "Free spread at year 25", Quantity::Length, |canopy| {
        Reading::Value(last_year(canopy).free_spread.value)
    }),
    growth(Certainty::Assumption, "years_to_fill", "Year the row closes", Quantity::Years, |canopy| {
        year(canopy.year_filled)
    }),
    growth(
        Certainty::Assumption,
        "years_to_height",
        "Year the tree reaches its height",
        Quantity::Years,
        |canopy| year(canopy.year_at_height),
    ),
    growth(
        Certainty::Assumption,
        "years_to_height_quick",
        "Year the tree reaches its height, if quick",
        Quantity::Years,
        |canopy| year(canopy.year_at_height_with(GrowthPace::Quick)),
    ),
    growth(
        Certainty::Assumption,
        "years_to_height_slow",
        "Year the tree reaches its height, if slow",
        Quantity::Years,
        |canopy| year(canopy.year_at_height_with(GrowthPace::Slow)),
    ),
    growth(
        Certainty::Assumption,
        "yearly_excess_share",
        "Growth beyond the space, each year",
        Quantity::Share,
        |canopy| Reading::Value(canopy.shown.excess_share),
    ),
    growth(
        Certainty::Assumption,
        "yearly_excess_per_land",
        "Growth beyond the space, by land",
        Quantity::VolumePerLand,
        |canopy| per_area(canopy, canopy.shown.excess.value),
    ),
    growth(
        Certainty::Assumption,
        "yearly_excess_limbs",
        "Growth beyond the space, limbs a tree",
        Quantity::Ratio,
        |canopy| Reading::Value(canopy.shown.excess_share * canopy.limbs()),
    ),
    growth(
        Certainty::Assumption,
        "suggested_spacing",
        "In-row spacing this vigour asks for",
        Quantity::Length,
        |canopy| Reading::Value(canopy.suggested_spacing().value),
    ),
    growth(
        Certainty::Standard,
        "union_settled",
        "Graft union after settling",
        Quantity::SmallLength,
        |canopy| Reading::Value(canopy.union_settled().value),
    ),
];
