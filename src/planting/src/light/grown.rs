//! The planting once it is grown: what its light leaves to be wished for, and what would cure it.
//!
//! Cures are found by trying: one length is changed, the crowns are made again, their light is summed
//! again, and the smallest change that is enough is closed in on. A cure that would take a
//! length out of its range is no cure.

use super::directions::Directions;
use super::inputs::Inputs;
use super::scene::{Array, Asked, Leafing, Ripe, Scene, Site};
use super::season::{Band, Sampling, in_crowns, interception};
use super::sun::Month;
use crate::kit::order::within;
use crate::kit::quantity::feet;
use crate::kit::row::Spacing;
use uom::si::f64::{Angle, Length};
use uom::si::length::meter;

/// Share of the crown's volume too dark for flower buds beyond which its middle is called dark. Nobody's
/// threshold but this project's: half the crown, about twice what model and literature give trellised trees.
pub const DARK_SHARE: f64 = 0.50;

/// Share intercepted below which light is called wasted, in this model of leaves alone: the 60 % up to
/// which yield rises (Wünsche & Lakso 2000), less the 15 points by which such models read low at most.
pub const LOW_INTERCEPTION: f64 = 0.45;

/// Share of the light of the lowest third of the crown that neighbouring rows may take: about what they
/// take where tall spindles stand as high as their rows are wide, the published limit, at 42° in this model.
pub const SHADING_SHARE: f64 = 0.20;

/// How many times wider apart rows are set to see one as if it stood alone: at this distance no shade of a neighbour reaches it `[–]`.
const ALONE: f64 = 1e3;
/// Trials of a search at most.
const MOST_TRIALS: u32 = 10;
/// How far on the good side of a threshold a search aims, so that few trials end there `[–]`.
const INSIDE: f64 = 0.001;

/// What lets light into the middle; each by itself, where it can.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Brighter {
    /// Tree height `[m]`.
    pub tree_height: Option<Length>,
    /// Canopy width `[m]`.
    pub canopy_width: Option<Length>,
    /// Row width `[m]`.
    pub row_width: Option<Length>,
}

/// What catches more light; each by itself, where it can.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fuller {
    /// Row width `[m]`.
    pub row_width: Option<Length>,
    /// Tree height `[m]`.
    pub tree_height: Option<Length>,
    /// Canopy width `[m]`.
    pub canopy_width: Option<Length>,
}

/// What keeps rows out of each other's shade; each by itself, where it can.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Apart {
    /// Row width `[m]`.
    pub row_width: Option<Length>,
    /// Tree height `[m]`.
    pub tree_height: Option<Length>,
}

/// What the grown planting depends on, and nothing else.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Growing {
    spacing: Spacing,
    row_azimuth: Angle,
    lean: Angle,
    ripe: Ripe,
    light: Inputs,
}

impl Growing {
    pub(super) fn of(asked: &Asked) -> Growing {
        let stand = &asked.stand;
        Growing {
            spacing: stand.spacing,
            row_azimuth: stand.row_azimuth,
            lean: stand.lean,
            ripe: stand.ripe,
            // The hour whose shadows are shown has no part in the season.
            light: Inputs { sun_month: Month::January, sun_day: 0.0, sun_hour: 0.0, ..asked.inputs },
        }
    }

    pub(super) fn site(&self) -> Site {
        Site::of(&self.light, self.row_azimuth)
    }

    /// The season of the grown trees.
    fn scene(&self) -> Scene {
        let kept = self.ripe.space.crown(self.ripe.free_height.value, self.ripe.free_spread.value);
        let crown = Leafing { kept, shoots: self.ripe.shoots }.in_season(&self.light, self.spacing);
        Scene::of(&self.light, self.row_azimuth, Array::of(self.spacing, self.lean, &crown))
    }

    /// The same trees with one length changed.
    fn with(&self, lever: Lever, length: Length) -> Growing {
        let mut changed = *self;
        match lever {
            Lever::TreeHeight => changed.ripe.space.height = length.value,
            Lever::CanopyWidth => changed.ripe.canopy_width = length,
            Lever::RowWidth => changed.spacing.row_width = length,
        }
        changed.ripe.space.across = changed.ripe.canopy_width.min(changed.spacing.row_width).value;
        changed
    }

    fn now(&self, lever: Lever) -> Length {
        match lever {
            Lever::TreeHeight => Length::new::<meter>(self.ripe.space.height),
            Lever::CanopyWidth => self.ripe.canopy_width,
            Lever::RowWidth => self.spacing.row_width,
        }
    }

    fn range(&self, lever: Lever) -> (Length, Length) {
        match lever {
            Lever::TreeHeight => self.ripe.tree_heights,
            Lever::CanopyWidth => self.ripe.canopy_widths,
            Lever::RowWidth => self.ripe.row_widths,
        }
    }
}

/// A length that may be changed to cure a fault.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Lever {
    TreeHeight,
    CanopyWidth,
    RowWidth,
}

/// The light of the grown planting.
#[derive(Clone, Debug, PartialEq)]
pub struct Grown {
    /// Share intercepted `[–]`.
    pub intercepted: f64,
    /// The whole crown.
    pub crown: Band,
    /// The lowest third of its height.
    pub lowest: Band,
    /// Share of the lowest third's light that neighbouring rows take `[–]`.
    pub shaded_by_rows: f64,
}

impl Grown {
    pub(super) fn of(growing: &Growing, directions: &Directions) -> Grown {
        let look = Look { directions };
        let scene = growing.scene();
        let crowns = in_crowns(&scene, directions, &Sampling::COARSE);
        Grown {
            intercepted: look.intercepted(growing),
            shaded_by_rows: look.taken_by_neighbours(&scene, crowns.thirds[0].mean),
            crown: crowns.whole,
            lowest: crowns.thirds[0],
        }
    }

    /// Whether too much of the crown is too dark for flower buds.
    pub fn is_dark(&self) -> bool {
        self.crown.under[0] > DARK_SHARE
    }

    /// Whether too little light is caught.
    pub fn is_thin(&self) -> bool {
        self.intercepted < LOW_INTERCEPTION
    }

    /// Whether rows stand in each other's light.
    pub fn is_shaded_by_rows(&self) -> bool {
        self.shaded_by_rows > SHADING_SHARE
    }
}

/// What cures the faults of the grown planting, each by itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Cures {
    /// Where more than [`DARK_SHARE`] is dark: a lower tree, a narrower canopy, wider rows.
    pub brighter: Option<Brighter>,
    /// Where too little is intercepted: closer rows, a taller tree, a wider canopy.
    pub fuller: Option<Fuller>,
    /// Where rows shade each other: rows farther apart, or a lower tree.
    pub apart: Option<Apart>,
}

impl Cures {
    pub(super) fn of(growing: &Growing, directions: &Directions) -> Cures {
        let look = Look { directions };
        let grown = Grown::of(growing, directions);
        let alley = growing.ripe.tractor_width + feet(2.0);
        let lowest_tree = Length::new::<meter>(growing.ripe.space.base) + feet(1.0);
        let any = Length::new::<meter>(f64::MAX);
        Cures {
            brighter: grown.is_dark().then(|| {
                let excess = |tried: &Growing| look.dark_share(tried) - DARK_SHARE;
                Brighter {
                    tree_height: nearest(growing, Lever::TreeHeight, lowest_tree, excess),
                    canopy_width: nearest(growing, Lever::CanopyWidth, feet(0.0), excess),
                    row_width: nearest(growing, Lever::RowWidth, any, excess),
                }
            }),
            fuller: grown.is_thin().then(|| {
                let excess = |tried: &Growing| LOW_INTERCEPTION - look.intercepted(tried);
                // Never closer than machines can pass, never taller than rows are wide.
                let span = Length::new::<meter>(2.0 * growing.scene().array.half_span());
                let row_width = growing.spacing.row_width;
                Fuller {
                    row_width: nearest(growing, Lever::RowWidth, span + alley, excess),
                    tree_height: nearest(growing, Lever::TreeHeight, row_width, excess),
                    canopy_width: nearest(
                        growing,
                        Lever::CanopyWidth,
                        (row_width - alley).min(feet(8.0)),
                        excess,
                    ),
                }
            }),
            apart: grown.is_shaded_by_rows().then(|| {
                let excess = |tried: &Growing| look.shaded_by_rows(tried) - SHADING_SHARE;
                Apart {
                    row_width: nearest(growing, Lever::RowWidth, any, excess),
                    tree_height: nearest(growing, Lever::TreeHeight, lowest_tree, excess),
                }
            }),
        }
    }
}

/// Any grown planting at one site, seen coarsely.
struct Look<'a> {
    directions: &'a Directions,
}

impl Look<'_> {
    fn dark_share(&self, growing: &Growing) -> f64 {
        in_crowns(&growing.scene(), self.directions, &Sampling::COARSE).whole.under[0]
    }

    fn intercepted(&self, growing: &Growing) -> f64 {
        interception(&growing.scene(), self.directions, &Sampling::COARSE)
    }

    fn shaded_by_rows(&self, growing: &Growing) -> f64 {
        let scene = growing.scene();
        let among = in_crowns(&scene, self.directions, &Sampling::COARSE).thirds[0].mean;
        self.taken_by_neighbours(&scene, among)
    }

    /// Of the light the lowest third would get in a row by itself, from what it gets among others.
    fn taken_by_neighbours(&self, scene: &Scene, among: f64) -> f64 {
        let mut alone = *scene;
        alone.array.row_width *= ALONE;
        let alone = in_crowns(&alone, self.directions, &Sampling::COARSE).thirds[0].mean;
        (1.0 - among / alone.max(f64::MIN_POSITIVE)).max(0.0)
    }
}

/// The value of a length nearest to the present one that is good, on the way to a limit and in range;
/// none where even the limit isn't good, or lies the other way. Good is where nothing is in excess.
///
/// False position, with the Illinois rule against creeping up from one side (Dowell & Jarratt 1971), and
/// aimed a little inside what is good, so that few trials are enough.
fn nearest(
    growing: &Growing,
    lever: Lever,
    limit: Length,
    excess: impl Fn(&Growing) -> f64,
) -> Option<Length> {
    let now = growing.now(lever).value;
    let (least, most) = growing.range(lever);
    let limit = within(limit.value, least.value, most.value);
    let tried = |value: f64| excess(&growing.with(lever, Length::new::<meter>(value)));
    let mut enough = (limit, tried(limit));
    if enough.1 > 0.0 {
        return None;
    }
    let (mut bad, mut found_at) = ((now, tried(now)), limit);
    let mut last_was_good = None;
    for _ in 0..MOST_TRIALS {
        let (high, low) = (bad.1 + INSIDE, enough.1 + INSIDE);
        let share = if high > low { within(high / (high - low), 0.02, 0.98) } else { 0.5 };
        let value = bad.0 + (enough.0 - bad.0) * share;
        let found = tried(value);
        let good = found <= 0.0;
        if good {
            (enough, found_at) = ((value, found), value);
        } else {
            bad = (value, found);
        }
        if good && found > -2.0 * INSIDE {
            break;
        }
        // An end that stays put twice counts half.
        match (last_was_good, good) {
            (Some(true), true) => bad.1 /= 2.0,
            (Some(false), false) => enough.1 /= 2.0,
            _ => {}
        }
        last_was_good = Some(good);
    }
    Some(Length::new::<meter>(found_at))
}
