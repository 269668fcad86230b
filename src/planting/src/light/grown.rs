//! The planting once it is grown: what its light leaves to be wished for.
//!
//! It is seen coarsely, because remedies are found by trying many plantings. Where the coarse sum of what is dark lies so near its
//! threshold that it may be wrong about it, the sum that is shown decides, so that no rule says other than the page does.

use super::directions::Directions;
use super::inputs::Inputs;
use super::scene::{Array, Asked, Leafing, Ripe, Scene, Site};
use super::season::{Band, Sampling, in_crowns, interception};
use super::sun::Month;
use crate::kit::finding::Sought;
use crate::kit::row::Spacing;
use std::sync::Arc;
use uom::si::f64::Angle;

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

/// How far the coarse sum of what is dark may lie from the one shown `[–]`: a little more than the largest difference met over 1,500 random plans.
const COARSE_ERROR: f64 = 0.03;

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
}

/// What of the grown planting is summed; the rest is as if nothing were to be wished for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Parts {
    crown: bool,
    intercepted: bool,
    neighbours: bool,
}

impl Parts {
    pub(super) const ALL: Parts = Parts { crown: true, intercepted: true, neighbours: true };

    /// The parts that rules look at.
    pub(super) fn for_rules(sought: Sought) -> Parts {
        let neighbours = sought.is_for("rows_shading");
        Parts {
            crown: neighbours || sought.is_for("dark_middle"),
            intercepted: sought.is_for("floor_light"),
            neighbours,
        }
    }
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
    /// From the directions of a coarse sum, and those of the sum shown where they are needed.
    pub(super) fn of(
        growing: &Growing,
        parts: Parts,
        directions: &Directions,
        shown: impl FnOnce() -> Arc<Directions>,
    ) -> Grown {
        let scene = growing.scene();
        let intercepted =
            if parts.intercepted { interception(&scene, directions, &Sampling::COARSE) } else { 1.0 };
        if !parts.crown {
            let unseen = Band { volume: 0.0, mean: 1.0, under: [0.0; 3] };
            return Grown { intercepted, crown: unseen, lowest: unseen, shaded_by_rows: 0.0 };
        }
        let crowns = in_crowns(&scene, directions, &Sampling::COARSE);
        let is_near = (crowns.whole.under[0] - DARK_SHARE).abs() < COARSE_ERROR;
        let crown = if is_near { in_crowns(&scene, &shown(), &Sampling::SHOWN).whole } else { crowns.whole };
        Grown {
            intercepted,
            shaded_by_rows: if parts.neighbours {
                taken_by_neighbours(&scene, directions, crowns.thirds[0].mean)
            } else {
                0.0
            },
            crown,
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

/// Of the light the lowest third would get in a row by itself, what neighbours take, from what it gets among them.
fn taken_by_neighbours(scene: &Scene, directions: &Directions, among: f64) -> f64 {
    let mut alone = *scene;
    alone.array.row_width *= ALONE;
    let alone = in_crowns(&alone, directions, &Sampling::COARSE).thirds[0].mean;
    (1.0 - among / alone.max(f64::MIN_POSITIVE)).max(0.0)
}
