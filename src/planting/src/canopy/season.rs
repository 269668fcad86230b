//! What a season adds to a tree that is kept in its space, and how much of it lies beyond that space.
//!
//! ```text
//!      beyond the top  ┌┄┐           wider:  what a free tree of this mean spread adds in the season
//!              ________│_│________   taller: what a free tree of this height adds
//!   kept top  /                   \
//!            /      kept crown     \┄┐
//!           /_______________________\┆  beyond the width: kept width before + wider − width kept
//! ```
//!
//! A tree held small grows like a free tree of its size at the usual pace, and never beyond its own free size (this
//! project's assumption): how soon a young tree fills its space doesn't tell how hard an old one pushes. Only what lies beyond the width
//! kept, toward the alley, and beyond the height kept is excess: crowns that meet along the row are left to.
//! Left out: shoots that renewal brings on, water shoots after hard cuts.

use super::growth::{Course, FreeTree};
use crate::kit::crown::{Crown, Space};
use crate::kit::order::least_of_uneven;

/// A season of one tree, from the pruning before it to its end. Metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Season {
    /// Width across the row after the pruning before.
    pub width_before: f64,
    /// Mean of the widths along and across the row after the pruning before.
    pub spread_before: f64,
    /// Height after the pruning before.
    pub top_before: f64,
    /// Part of what lacks to the spread of old age that the season adds `[–]`.
    pub wider_share: f64,
    /// Part of what lacks to the height of old age that the season adds `[–]`.
    pub taller_share: f64,
    /// What the season adds to the width.
    pub wider: f64,
    /// What it adds to the height.
    pub taller: f64,
    /// How much wider than the width kept the tree is at its end.
    pub beyond_width: f64,
    /// How much taller than the height kept it is at its end.
    pub beyond_top: f64,
    /// Width of the kept crown along the row at its top.
    pub top_along: f64,
    /// Width of the kept crown across the row at its top.
    pub top_across: f64,
}

impl Season {
    /// The season that ends with a year; the first of a tree begins with planting.
    pub(super) fn ending(year: f64, free: &FreeTree, space: &Space, kept: &Crown) -> Season {
        let before = (year - 1.0).max(0.0);
        let years = (year - before) / free.conditions.pace.factor();
        let spread = free.spread_course.at(before);
        let width_before = least_of_uneven(spread, space.across);
        let spread_before = (width_before + least_of_uneven(spread, space.along)) / 2.0;
        let top_before = least_of_uneven(free.height_course.at(before), space.height);
        let wider = free.spread_course.season(spread_before, years);
        let taller = free.height_course.season(top_before, years);
        let disc = kept.disc(kept.top);
        let grown = |size: f64, course: &Course| least_of_uneven(size, course.at(year));
        let beyond = |size: f64, limit: f64| size - least_of_uneven(size, limit);
        Season {
            width_before,
            spread_before,
            top_before,
            wider_share: 1.0 - free.spread_course.lacking.powf(years),
            taller_share: 1.0 - free.height_course.lacking.powf(years),
            wider,
            taller,
            beyond_width: beyond(grown(width_before + wider, &free.spread_course), space.across),
            beyond_top: beyond(grown(top_before + taller, &free.height_course), space.height),
            top_along: least_of_uneven(disc, kept.along),
            top_across: least_of_uneven(disc, kept.box_across(kept.top)),
        }
    }

    /// Volume beyond the space kept `[m³]`: a kept crown of this volume and width, widened; and its top, raised.
    pub(super) fn excess(&self, volume: f64, width: f64) -> f64 {
        volume * self.beyond_width / width.max(f64::MIN_POSITIVE)
            + self.top_along * self.top_across * self.beyond_top
    }
}
