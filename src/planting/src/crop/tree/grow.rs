//! Planting a tree, and growing it a year on.
//!
//! A year goes in this order: the leader grows; buds on its last year's wood become limbs and spurs; spurs and stubs push
//! new shoots; limbs set laterals, send up uprights and grow on; spurs flower or are lost; wood bends and thickens; what
//! stands in deep shade dies.

use super::chance::{AxisId, Chance, What};
use super::shade::Shade;
use super::shape::Shape;
use super::site::{FEATHERED_M, MOST_YEARS, Nursery, SHANK_M, Site};
use super::{Axis, Kind, Life, Piece, Traits, Tree, degrees, shoots, wood};
use crate::kit::order::within;

/// A young tree on the day it is planted.
///
/// ```
/// use planting::crop::tree::{grow::plant, site::Site};
/// let tree = plant(&Site::usual(1.0), 7);
/// assert!(tree.axes.iter().filter(|axis| axis.is_limb()).count() >= 4);
/// assert_eq!(tree, plant(&Site::usual(1.0), 7), "the same seed, the same tree");
/// ```
pub fn plant(site: &Site, seed: u32) -> Tree {
    let chance = Chance { seed };
    let id = AxisId(0);
    let length = match site.nursery {
        Nursery::Whip => SHANK_M,
        Nursery::Feathered => within(chance.bell(What::Nursery, (id, 0, 0), FEATHERED_M, 0.10), 1.40, 1.85),
    };
    let leader = Axis {
        id,
        parent: None,
        kind: Kind::Leader,
        at: 0.0,
        born: 0,
        pieces: vec![leader_piece(chance, 0, length)],
        diameter: 0.0,
        spurs: Vec::new(),
        life: Life::Growing,
        shortened: None,
        first_length: length,
    };
    let mut tree = Tree {
        site: site.clone(),
        seed,
        year: 0,
        axes: vec![leader],
        top: 0,
        trunk_diameter: 0.0,
        pruned: None,
        traits: Traits::of(chance),
        chance,
    };
    if site.nursery == Nursery::Feathered {
        feathers(&mut tree);
    }
    let lit = Lit::open(tree.axes.len());
    wood::thicken(&mut tree, &lit);
    tree
}

/// Feathers: 5 to 11 between 0.58 and 1.20 m, turned by the golden angle, tied a little below the horizontal, longer below
/// (assumption; tied down as Robinson, Fruit Growers News 2007).
fn feathers(tree: &mut Tree) {
    let chance = tree.chance;
    let id = AxisId(0);
    let number = within(chance.bell(What::Nursery, (id, 0, 1), 8.0, 1.6), 5.0, 11.0).floor();
    let mut index = 0;
    while f64::from(index) < number {
        let key = (id, 0, index);
        let rank = f64::from(index) / (number - 1.0);
        let length = chance.bell(What::Feather, key, 0.42 - 0.12 * rank, 0.10) * tree.traits.lengths;
        let angle = within(chance.bell(What::Nursery, (id, 1, index), 98.0, 9.0), 75.0, 118.0);
        shoots::add(
            tree,
            &shoots::Shoot {
                parent: 0,
                at: 0.58 + 0.62 * rank + 0.03 * (chance.even(What::Feather, (id, 2, index)) - 0.5),
                place: index,
                length: within(length, 0.15, 0.65),
                angle: degrees(angle),
                compass: shoots::turned(chance, key, f64::from(index)),
            },
        );
        index += 1;
    }
}

/// A piece of the leader, all but upright.
fn leader_piece(chance: Chance, year: u32, length: f64) -> Piece {
    let lean = chance.bell(What::Leader, (AxisId(0), year, 1), 0.0, 2.0).abs();
    let compass = chance.even(What::Leader, (AxisId(0), year, 2)) * std::f64::consts::TAU;
    Piece { year, length, angle: degrees(lean), compass, curl: 0.0 }
}

/// The light each axis had in the summer before, at its middle and at its tip, and that of its spurs' place.
#[derive(Clone, Debug)]
pub(super) struct Lit {
    middle: Vec<f64>,
    tip: Vec<f64>,
}

impl Lit {
    fn of(tree: &Tree) -> Lit {
        let shape = Shape::of(tree);
        let shade = Shade::of(tree, &shape);
        let at = |share: f64| {
            let axes = tree.axes.iter().zip(&shape.paths);
            axes.map(|(axis, path)| shade.at(path.at(axis.length() * share))).collect()
        };
        Lit { middle: at(0.5), tip: at(1.0) }
    }

    /// Open light on so many axes.
    fn open(axes: usize) -> Lit {
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

/// The tree a year on. After [`MOST_YEARS`] it stands still.
///
/// ```
/// use planting::crop::tree::{grow::{a_year_on, plant}, site::Site};
/// let planted = plant(&Site::usual(1.0), 7);
/// let grown = a_year_on(&planted);
/// assert_eq!(grown.year, 1);
/// assert!(grown.trunk_diameter > planted.trunk_diameter);
/// ```
pub fn a_year_on(tree: &Tree) -> Tree {
    let mut tree = tree.clone();
    if tree.year >= MOST_YEARS {
        return tree;
    }
    let lit = Lit::of(&tree);
    tree.year += 1;
    let season = season_of(&tree);
    grow_leader(&mut tree, season);
    shoots::from_leader(&mut tree, season);
    shoots::from_old_leader(&mut tree, &lit);
    shoots::from_stubs(&mut tree, &lit);
    shoots::from_limbs(&mut tree, &lit);
    shoots::from_backs(&mut tree, &lit);
    wood::extend(&mut tree, &lit);
    wood::age_spurs(&mut tree, &lit);
    wood::bend(&mut tree);
    wood::thicken(&mut tree, &lit);
    wood::die(&mut tree, &lit);
    wood::heal(&mut tree);
    tree
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

/// How much the leader grows this season in full strength: what the tree's height asks for, more or less as the young trees
/// did (deviations of 30 cm on 85 and 119 cm, 19 on 31).
fn season_of(tree: &Tree) -> Season {
    let sizes = &tree.site.sizes;
    let mean =
        within(sizes.height(tree.year) - sizes.height(tree.year - 1), LEADER_GROWS_M.0, LEADER_GROWS_M.1);
    let deviation = (0.15 + 0.13 * mean).min(0.55 * mean);
    let grown = tree.chance.bell(What::Leader, (AxisId(0), tree.year, 0), mean, deviation);
    Season { mean, grown: within(grown * tree.traits.lengths, 0.40 * mean, 1.9 * mean) }
}

fn grow_leader(tree: &mut Tree, season: Season) {
    let (year, chance, push) = (tree.year, tree.chance, tree.site.push());
    if tree.top == 0 {
        let piece = leader_piece(chance, year, season.grown);
        if let Some(leader) = tree.axes.first_mut() {
            leader.pieces.push(piece);
        }
        return;
    }
    // A side limb that has become the top stands up and grows upright (assumption: 26 ± 8 cm at vigour 1).
    if let Some(top) = tree.axes.get_mut(tree.top) {
        let grown = within(chance.bell(What::Leader, (top.id, year, 3), 0.26, 0.08), 0.06, 0.50) * push;
        let angle = within(chance.bell(What::Leader, (top.id, year, 4), 14.0, 6.0), 3.0, 35.0);
        let compass = top.pieces.last().map_or(0.0, |piece| piece.compass);
        for piece in &mut top.pieces {
            piece.angle -= (piece.angle - degrees(25.0)).max(0.0) / 3.0;
        }
        top.pieces.push(Piece { year, length: grown, angle: degrees(angle), compass, curl: 0.0 });
    }
}
