//! What a tree answers: limbs, their area against the trunk's, buds, fruit and its size, light low down; and what there is to
//! say of each limb.

use super::chance::AxisId;
use super::exact::sine;
use super::shade::Shade;
use super::shape::Shape;
use super::{Kind, Tree};
use crate::crop::group::Bearing;
use crate::kit::count::as_number;
use crate::kit::order::sort_by;
use uom::si::areal_number_density::per_square_meter;
use uom::si::f64::{ArealNumberDensity, Length, Mass};
use uom::si::length::meter;

/// What a tree answers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Answers {
    /// Limbs on the leader, 20 cm and longer.
    pub limbs: f64,
    /// Limb area against trunk area `[–]`.
    pub limb_to_trunk: f64,
    /// Flower buds.
    pub flower_buds: f64,
    /// Buds on spurs that won't flower.
    pub leaf_buds: f64,
    /// Fruit the flower buds make: buds ÷ the buds that are left for a fruit.
    pub fruit: f64,
    /// Fruit the trunk should carry.
    pub fruit_wanted: f64,
    /// Fruit left after thinning: no more than wanted.
    pub fruit_left: f64,
    /// Fruit left, on the trunk area.
    pub load: ArealNumberDensity,
    /// Weight of one of them; that of the first fruit where there are none.
    pub fruit_weight: Mass,
    /// Light on the leaves of the lowest third `[–]`; none where no leaf hangs there.
    pub light_low: Option<f64>,
    /// Leaf area of next summer against the tree's ground `[–]`.
    pub leaf_area_index: f64,
    /// Height.
    pub height: Length,
    /// How far it reaches across the row, to the side it reaches further.
    pub half_width: Length,
}

impl Answers {
    /// The answers of a tree. A tree without limbs or buds has none of them, and no fruit.
    ///
    /// ```
    /// use planting::crop::{group::BearingGroup, tree::{answers::Answers, grow::plant, site::Site}};
    /// let answers = Answers::of(&plant(&Site::usual(1.0), 7), &BearingGroup::Annual.bearing());
    /// assert_eq!(answers.flower_buds, 0.0, "no flowers on planting day");
    /// assert!(answers.limb_to_trunk > 0.2);
    /// ```
    pub fn of(tree: &Tree, bearing: &Bearing) -> Answers {
        let shape = Shape::of(tree);
        let shade = Shade::of(tree, &shape);
        let growing = || tree.axes.iter().filter(|axis| axis.grows());
        let spurs = || growing().flat_map(|axis| &axis.spurs);
        let flower_buds = as_number(spurs().filter(|spur| spur.flowers).count());
        let trunk_area = tree.trunk_area().max(f64::MIN_POSITIVE);
        let fruit = if bearing.insurance > 0.0 { flower_buds / bearing.insurance } else { 0.0 };
        let load = if tree.year <= YOUNG_YEARS { bearing.load_young } else { bearing.load_grown };
        let fruit_wanted = load.value * trunk_area;
        let fruit_left = fruit.min(fruit_wanted);
        let load = ArealNumberDensity::new::<per_square_meter>(fruit_left / trunk_area);
        let (low, top) = (tree.site.keeping.lowest_limb.value, shape.top());
        let ground = tree.site.keeping.in_row.value * tree.site.keeping.row_width.value;
        Answers {
            limbs: as_number(tree.axes.iter().filter(|axis| axis.is_limb()).count()),
            limb_to_trunk: tree.limb_area() / trunk_area,
            flower_buds,
            leaf_buds: as_number(spurs().count()) - flower_buds,
            fruit,
            fruit_wanted,
            fruit_left,
            load,
            fruit_weight: bearing.weight.at(load),
            light_low: shade.on_leaves(0.0, low + (top - low).max(0.0) / 3.0),
            leaf_area_index: if ground > 0.0 { shade.leaf_area() / ground } else { 0.0 },
            height: Length::new::<meter>(top),
            half_width: Length::new::<meter>(shape.half_width()),
        }
    }
}

/// Years in which crop load is that of young trees.
const YOUNG_YEARS: u32 = 6;

/// To which side a limb points.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pointing {
    /// Over the alley on the right of the row's direction.
    RightAlley,
    /// Over the alley on the left.
    LeftAlley,
    /// Along the row, either way.
    AlongRow,
}

/// What there is to say of a limb.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LimbFacts {
    /// Its name.
    pub axis: AxisId,
    /// Its number from the base up, from 1.
    pub number: usize,
    /// Height of its base.
    pub height: Length,
    /// To which side it points.
    pub pointing: Pointing,
    /// Diameter at its base.
    pub diameter: Length,
    /// That against what it grows from `[–]`.
    pub share: f64,
    /// Length along it.
    pub length: Length,
    /// Flower buds on it and its side axes.
    pub flower_buds: f64,
    /// Side axes on it.
    pub side_axes: usize,
}

/// Every limb that grows, from the base up.
///
/// ```
/// use planting::crop::tree::{answers::limbs, grow::plant, site::Site};
/// let limbs = limbs(&plant(&Site::usual(1.0), 7));
/// assert!(limbs.windows(2).all(|pair| pair[0].height <= pair[1].height));
/// assert_eq!(limbs[0].number, 1);
/// ```
pub fn limbs(tree: &Tree) -> Vec<LimbFacts> {
    let shape = Shape::of(tree);
    let metres = Length::new::<meter>;
    let own: Vec<usize> = roots(tree);
    let mut facts = Vec::new();
    for (place, (axis, path)) in tree.axes.iter().zip(&shape.paths).enumerate() {
        if axis.kind != Kind::Limb || !axis.grows() {
            continue;
        }
        let with_sides =
            || tree.axes.iter().zip(&own).filter(move |(_, root)| **root == place).map(|(axis, _)| axis);
        let aside = sine(axis.pieces.first().map_or(0.0, |piece| piece.compass));
        let buds = with_sides().flat_map(|axis| &axis.spurs).filter(|spur| spur.flowers).count();
        facts.push(LimbFacts {
            axis: axis.id,
            number: 0,
            height: metres(path.base().up),
            pointing: match aside {
                aside if aside > HALF_TURNED => Pointing::RightAlley,
                aside if aside < -HALF_TURNED => Pointing::LeftAlley,
                _ => Pointing::AlongRow,
            },
            diameter: metres(axis.diameter),
            share: axis.diameter / tree.diameter_below(axis).max(f64::MIN_POSITIVE),
            length: metres(axis.length()),
            flower_buds: as_number(buds),
            side_axes: with_sides().count() - 1,
        });
    }
    sort_by(&mut facts, |one, other| one.height.value.total_cmp(&other.height.value));
    for (place, limb) in facts.iter_mut().enumerate() {
        limb.number = place + 1;
    }
    facts
}

/// Sine of 45°: nearer to the alley than to the row.
const HALF_TURNED: f64 = std::f64::consts::FRAC_1_SQRT_2;

/// For each axis, the place of the limb it belongs to; the leader's is its own.
fn roots(tree: &Tree) -> Vec<usize> {
    let mut roots: Vec<usize> = Vec::with_capacity(tree.axes.len());
    for (place, axis) in tree.axes.iter().enumerate() {
        let parent = axis.parent.filter(|_| axis.kind == Kind::Side);
        roots.push(parent.and_then(|parent| roots.get(parent)).copied().unwrap_or(place));
    }
    roots
}
