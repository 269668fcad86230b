//! Where every point of a tree stands: each axis as a bent line in space.
//!
//! Points stand every 8 cm or so along a piece. A piece bends by its curl from start to end; a limb starts steeper by its
//! collar, which fades within 6 cm; and every axis sways a little, so that none is a straight stick.

use super::chance::What;
use super::exact::{cosine, sine};
use super::{Axis, Kind, Tree, degrees};
use crate::kit::count::{as_number, whole_steps};
use crate::kit::order::within;

/// A point of a tree `[m]`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TreePoint {
    /// Across the row.
    pub across: f64,
    /// Along the row.
    pub along: f64,
    /// Above the ground.
    pub up: f64,
}

impl TreePoint {
    fn towards(self, other: TreePoint, share: f64) -> TreePoint {
        TreePoint {
            across: self.across + (other.across - self.across) * share,
            along: self.along + (other.along - self.along) * share,
            up: self.up + (other.up - self.up) * share,
        }
    }
}

/// One axis as a bent line: points, and their distance from its base along it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Path {
    /// Points from base to tip.
    pub points: Vec<TreePoint>,
    /// Distance of each point from the base `[m]`.
    pub distances: Vec<f64>,
}

impl Path {
    /// The point at a distance from the base; beyond an end, the end.
    pub fn at(&self, distance: f64) -> TreePoint {
        let after = self.distances.partition_point(|known| *known < distance);
        let before = after.saturating_sub(1);
        let point = |place: usize| self.points.get(place).or(self.points.last()).copied().unwrap_or_default();
        let known =
            |place: usize| self.distances.get(place).or(self.distances.last()).copied().unwrap_or(0.0);
        let step = known(after) - known(before);
        if after == before || step <= 0.0 {
            return point(before);
        }
        point(before).towards(point(after), within((distance - known(before)) / step, 0.0, 1.0))
    }

    /// The base.
    pub fn base(&self) -> TreePoint {
        self.points.first().copied().unwrap_or_default()
    }

    /// The tip.
    pub fn tip(&self) -> TreePoint {
        self.points.last().copied().unwrap_or_default()
    }

    /// Cosine of the angle between the line from base to tip and the vertical; 1 is straight up.
    pub fn uprightness(&self) -> f64 {
        let (base, tip) = (self.base(), self.tip());
        let (across, along, up) = (tip.across - base.across, tip.along - base.along, tip.up - base.up);
        let length = (across * across + along * along + up * up).sqrt();
        if length > 0.0 { up / length } else { 1.0 }
    }
}

/// Every axis of a tree as a bent line, in the order of the tree's list.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shape {
    /// A line for each axis.
    pub paths: Vec<Path>,
}

/// From point to point along an axis, at most `[m]`.
const STEP_M: f64 = 0.08;
/// How much steeper a limb starts, and over which length that fades `[rad]` and `[m]` (assumption).
const COLLAR: f64 = 22.0;
const COLLAR_M: f64 = 0.06;
/// How far an axis sways in angle and in compass `[°]` (assumption).
const SWAY: (f64, f64) = (3.0, 4.0);
/// How much of what the leader stands off the row's line is drawn back at each step (assumption: it is tied to wires).
const DRAWN_BACK: f64 = 0.15;

impl Shape {
    /// The shape of a tree.
    ///
    /// ```
    /// use planting::crop::tree::{grow::plant, shape::Shape, site::Site};
    /// let tree = plant(&Site::usual(1.0), 1);
    /// let shape = Shape::of(&tree);
    /// assert_eq!(shape.paths.len(), tree.axes.len());
    /// assert!(shape.top() > 1.3 && shape.top() < 1.9, "a feathered tree at planting");
    /// ```
    pub fn of(tree: &Tree) -> Shape {
        let mut shape = Shape { paths: Vec::with_capacity(tree.axes.len()) };
        for axis in &tree.axes {
            let base = axis
                .parent
                .and_then(|parent| shape.paths.get(parent))
                .map_or_else(TreePoint::default, |path| path.at(axis.at));
            shape.paths.push(path_of(tree, axis, base));
        }
        shape
    }

    /// The line of an axis, by its place.
    pub fn path(&self, place: usize) -> Option<&Path> {
        self.paths.get(place)
    }

    /// Height of the tree `[m]`.
    pub fn top(&self) -> f64 {
        self.paths.iter().flat_map(|path| &path.points).map(|point| point.up).fold(0.0, f64::max)
    }

    /// How far the tree reaches across the row, to the side it reaches further `[m]`.
    pub fn half_width(&self) -> f64 {
        self.paths.iter().flat_map(|path| &path.points).map(|point| point.across.abs()).fold(0.0, f64::max)
    }
}

fn path_of(tree: &Tree, axis: &Axis, base: TreePoint) -> Path {
    let phase = tree.chance.even(What::Sway, (axis.id, 0, 0)) * std::f64::consts::TAU;
    let collar = if axis.kind == Kind::Leader { 0.0 } else { degrees(COLLAR) };
    let mut path = Path { points: vec![base], distances: vec![0.0] };
    let (mut point, mut distance) = (base, 0.0);
    for piece in &axis.pieces {
        let steps = whole_steps(piece.length, STEP_M).max(1) + 1;
        let step = piece.length / as_number(steps);
        for index in 0..steps {
            let share = (as_number(index) + 0.5) / as_number(steps);
            let middle = distance + step / 2.0;
            let sway = sine(phase + middle * 9.0);
            let angle = piece.angle + piece.curl * (share - 0.5)
                - collar * (1.0 - middle / COLLAR_M).max(0.0)
                + degrees(SWAY.0) * sway;
            let compass = piece.compass + degrees(SWAY.1) * sine(phase * 2.0 + middle * 7.0);
            let flat = step * sine(angle);
            point.across += flat * sine(compass);
            point.along += flat * cosine(compass);
            point.up = (point.up + step * cosine(angle)).max(0.0);
            if axis.kind == Kind::Leader {
                point.across -= point.across * DRAWN_BACK;
                point.along -= point.along * DRAWN_BACK;
            }
            distance += step;
            path.points.push(point);
            path.distances.push(distance);
        }
    }
    path
}
