//! A season's growth as the leader shows it, and the light each axis had the summer before.

use super::Tree;
use super::chance::{AxisId, What};
use super::shade::Shade;
use super::shape::Shape;
use crate::kit::order::within;

/// The light each axis had in the summer before, at its middle and at its tip, and that of its spurs' place.
#[derive(Clone, Debug)]
pub(super) struct Lit {
    middle: Vec<f64>,
    tip: Vec<f64>,
}

impl Lit {
    pub(super) fn of(tree: &Tree) -> Lit {
        let shape = Shape::of(tree);
        let shade = Shade::of(tree, &shape);
        let at = |share: f64| {
            let axes = tree.axes.iter().zip(&shape.paths);
            axes.map(|(axis, path)| shade.at(path.at(axis.length() * share))).collect()
        };
        Lit { middle: at(0.5), tip: at(1.0) }
    }

    /// Open light on so many axes.
    pub(super) fn open(axes: usize) -> Lit {
        Lit { middle: vec![1.0; axes], tip: vec![1.0; axes] }
    }

    /// At the middle of an axis; open light for one that hadn't grown yet.
    pub(super) fn middle(&self, place: usize) -> f64 {
        self.middle.get(place).copied().unwrap_or(1.0)
    }

    /// At its tip.
    pub(super) fn tip(&self, place: usize) -> f64 {
        self.tip.get(place).copied().unwrap_or(1.0)
    }
}

/// The least and the most a leader grows in a season, whatever sizes ask for `[m]`.
const LEADER_GROWS_M: (f64, f64) = (0.04, 2.0);

/// A season as the leader shows it `[m]`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Season {
    /// What the tree's height by year asks for.
    pub(super) mean: f64,
    /// What it grows.
    pub(super) grown: f64,
}

impl Season {
    /// How much the leader grows this season in full strength: what the tree's height asks for, more or less as the young trees
    /// did (deviations of 30 cm on 85 and 119 cm, 19 on 31).
    pub(super) fn of(tree: &Tree) -> Season {
        let sizes = &tree.site.sizes;
        let mean =
            within(sizes.height(tree.year) - sizes.height(tree.year - 1), LEADER_GROWS_M.0, LEADER_GROWS_M.1);
        let deviation = (0.15 + 0.13 * mean).min(0.55 * mean);
        let grown = tree.chance.bell(What::Leader, (AxisId(0), tree.year, 0), mean, deviation);
        Season { mean, grown: within(grown * tree.traits.lengths, 0.40 * mean, 1.9 * mean) }
    }
}
