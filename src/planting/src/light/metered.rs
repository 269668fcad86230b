//! What a meter would likely read beside the share modelled, and how much the assumed density of leaves matters.
//!
//! Readings are taken under whole trees late in summer. The model knows leaves, at a density that isn't measured, and half the
//! season's shoots. Each step of the band takes one of these differences away, by the same sums:
//!
//! | step | taken for |
//! |---|---|
//! | the least read | wood and fruit shade 15 % beyond the leaves |
//! | wood and fruit | 25 % |
//! | late summer | all of the season's shoots stand |
//! | dense leaves | 3.5 m² in a cubic metre |
//! | the most read | leaves nearer level: Jackson's K = 0.6 in place of G = ½ |
//!
//! What is set beyond a step already stays as set. None of the steps is a measurement: 15 and 25 % are this project's, the densities are
//! those that measured leaf areas come to in crowns of usual size; K is that of Jackson 1980, Acta Hort. 114. The sums are coarse
//! and take longer than a step of a slider should, so they are made when somebody asks for them.
//! Left out: the sky at the time of reading, light scattered by leaves, posts.

use super::directions::Directions;
use super::inputs::Inputs;
use super::quick::JACKSON_K;
use super::scene::{Asked, LEAF_PROJECTION, Scene, Site};
use super::season::{Sampling, in_crowns, interception};
use std::sync::{Arc, OnceLock};
use uom::si::f64::{Ratio, ReciprocalLength};
use uom::si::ratio::ratio;
use uom::si::reciprocal_length::reciprocal_meter;

/// Leaf area in a cubic metre of a small crown, from thin to dense `[1/m]`: leaf area 1.5 to 2.0 times the ground in crowns 1.5 to 1.8 m
/// wide comes to 1.9 to 3.5; thin and young trees have less.
pub const LEAF_DENSITIES: [f64; 2] = [1.5, 3.5];

/// Shade of leaves, wood and fruit against that of the leaves alone, little and much (this project's, no source) `[–]`.
pub(super) const WOOD_AND_FRUIT: [f64; 2] = [1.15, 1.25];

/// Share intercepted as the model has it and as a meter would likely read it, each step added to those before `[–]`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Metered {
    /// As modelled.
    pub modelled: f64,
    /// The least a meter would likely read: with a little wood and fruit.
    pub low: f64,
    /// With more wood and fruit.
    pub wood: f64,
    /// And with all shoots of the season.
    pub shoots: f64,
    /// And with dense leaves.
    pub dense: f64,
    /// And with leaves nearer level: the most a meter would likely read.
    pub high: f64,
}

/// Share of the crown too dark for flower buds where leaves are thin and where they are dense `[–]`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DarkRange {
    /// With leaves at the thin end of [`LEAF_DENSITIES`].
    pub low: f64,
    /// With leaves at their dense end.
    pub high: f64,
}

/// The seasons that are compared; all follow from what is set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Compared {
    modelled: Scene,
    metered: [Scene; 5],
    leaves: [Scene; 2],
}

impl Compared {
    pub(super) fn site(&self) -> Site {
        self.modelled.site
    }

    pub(super) fn of(asked: &Asked) -> Compared {
        let with = |change: &dyn Fn(&mut Inputs)| {
            let mut changed = asked.clone();
            change(&mut changed.inputs);
            changed.scene(&asked.stand.shown)
        };
        let [thin, dense] = LEAF_DENSITIES.map(ReciprocalLength::new::<reciprocal_meter>);
        let [little, much] = WOOD_AND_FRUIT.map(Ratio::new::<ratio>);
        let wood = |inputs: &mut Inputs, least| inputs.wood_and_fruit = inputs.wood_and_fruit.max(least);
        let late = |inputs: &mut Inputs| {
            wood(inputs, much);
            inputs.season_shoots = Ratio::new::<ratio>(1.0);
        };
        let denser = |inputs: &mut Inputs| inputs.leaf_area_density = inputs.leaf_area_density.max(dense);
        let dense_and_late = with(&|inputs| {
            late(inputs);
            denser(inputs);
        });
        let level = JACKSON_K / LEAF_PROJECTION;
        Compared {
            modelled: with(&|_| {}),
            metered: [
                with(&|inputs| wood(inputs, little)),
                with(&|inputs| wood(inputs, much)),
                with(&|inputs| late(inputs)),
                dense_and_late,
                Scene { wood_and_fruit: dense_and_late.wood_and_fruit * level, ..dense_and_late },
            ],
            leaves: [
                with(&|inputs| inputs.leaf_area_density = inputs.leaf_area_density.min(thin)),
                with(&|inputs| denser(inputs)),
            ],
        }
    }
}

/// What is summed when somebody asks for it.
#[derive(Clone, Debug)]
pub(super) struct Beside {
    compared: Compared,
    directions: Arc<Directions>,
    /// By how much each step raises the share intercepted.
    rises: OnceLock<[f64; 5]>,
    dark: OnceLock<[f64; 2]>,
}

/// Sums follow from the seasons, whether they have been made or not.
impl PartialEq for Beside {
    fn eq(&self, other: &Beside) -> bool {
        self.compared == other.compared
    }
}

impl Beside {
    pub(super) fn of(compared: Compared, directions: Arc<Directions>) -> Beside {
        Beside { compared, directions, rises: OnceLock::new(), dark: OnceLock::new() }
    }

    /// What a meter would likely read where the model has `modelled`.
    pub(super) fn metered(&self, modelled: f64) -> Metered {
        let rises = self.rises.get_or_init(|| {
            let taken = |scene: &Scene| interception(scene, &self.directions, &Sampling::COARSE);
            let base = taken(&self.compared.modelled);
            self.compared.metered.map(|scene| taken(&scene) - base)
        });
        let [low, wood, shoots, dense, high] = rises.map(|rise| (modelled + rise).min(1.0));
        Metered { modelled, low, wood, shoots, dense, high }
    }

    /// How much is too dark with thin and with dense leaves, around what is modelled.
    pub(super) fn dark(&self, modelled: f64) -> DarkRange {
        let [thin, dense] = self.dark.get_or_init(|| {
            self.compared
                .leaves
                .map(|scene| in_crowns(&scene, &self.directions, &Sampling::COARSE).whole.under[0])
        });
        DarkRange { low: thin.min(modelled), high: dense.max(modelled) }
    }
}
