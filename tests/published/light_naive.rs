//! Light by brute force: double precision, every tree in reach, no culling, nothing shared between rays.
//!
//! A ray is cut wherever it crosses any face of a crown; a piece counts when its middle lies in the crown
//! by the crown's own definition, disc and box at each level. The kernel of the model is held against it,
//! and it is itself held against marching along the ray.

use planting::Crown;
use planting::light::{Array, Directions, RowPoint};

type Vector = [f64; 3];

fn on(place: RowPoint, way: Vector, t: f64) -> Vector {
    [place[0] + t * way[0], place[1] + t * way[1], place[2] + t * way[2]]
}

/// One tree: its crown, foot, and sideways shear per metre above the ground.
#[derive(Clone, Copy)]
pub(crate) struct Tree<'a> {
    pub(crate) crown: &'a Crown,
    pub(crate) foot: [f64; 2],
    pub(crate) shear: f64,
}

impl Tree<'_> {
    /// Whether a place lies in the crown: in the disc and in the box of its level.
    pub(crate) fn holds(&self, [across, along, up]: Vector) -> bool {
        let crown = self.crown;
        if up < crown.base || up > crown.top {
            return false;
        }
        let x = across - self.foot[0] - self.shear * up;
        let y = along - self.foot[1];
        x.hypot(y) <= crown.disc(up) / 2.0
            && x.abs() <= crown.box_across(up) / 2.0
            && y.abs() <= crown.along / 2.0
    }

    /// Length of a ray inside the crown `[m]`.
    pub(crate) fn path(&self, place: RowPoint, way: Vector) -> f64 {
        let crown = self.crown;
        let cut = |level: f64| (level - place[2]) / way[2];
        let (low, high) = (cut(crown.base).max(0.0), cut(crown.top));
        if high <= low {
            return 0.0;
        }
        // Widths are straight lines in height, so two levels give each as a straight line in t.
        let per_metre =
            |width: &dyn Fn(f64) -> f64| (width(crown.top) - width(crown.base)) / (crown.top - crown.base);
        let line = |width: &dyn Fn(f64) -> f64| {
            let slope = per_metre(width);
            (width(crown.base) + slope * (place[2] - crown.base), slope * way[2])
        };
        let (radius, widening) = line(&|level| crown.disc(level) / 2.0);
        let (half, spreading) = line(&|level| crown.box_across(level) / 2.0);
        let (dx, dy) = (way[0] - self.shear * way[2], way[1]);
        let x = place[0] - self.foot[0] - self.shear * place[2];
        let y = place[1] - self.foot[1];
        let mut cuts = vec![low, high];
        cuts.extend([(half - x) / (dx - spreading), -(half + x) / (dx + spreading)]);
        cuts.extend([(crown.along / 2.0 - y) / dy, -(crown.along / 2.0 + y) / dy]);
        let (a, b) = (dx * dx + dy * dy - widening * widening, x * dx + y * dy - radius * widening);
        let c = x * x + y * y - radius * radius;
        let root = (b * b - a * c).sqrt();
        cuts.extend([(-b - root) / a, (-b + root) / a, -c / (2.0 * b)]);
        cuts.retain(|t| t.is_finite() && *t >= low && *t <= high);
        cuts.sort_by(f64::total_cmp);
        cuts.windows(2)
            .filter(|pair| self.holds(on(place, way, (pair[0] + pair[1]) / 2.0)))
            .map(|pair| pair[1] - pair[0])
            .sum()
    }

    /// The same by small steps.
    pub(crate) fn marched(&self, place: RowPoint, way: Vector, step: f64) -> f64 {
        let end = (self.crown.top - place[2]) / way[2];
        let steps = (end / step).ceil().max(0.0) as usize;
        (0..steps).filter(|at| self.holds(on(place, way, (*at as f64 + 0.5) * step))).count() as f64 * step
    }
}

/// Path through every tree that could matter `[m]`.
pub(crate) fn path(place: RowPoint, way: Vector, array: &Array) -> f64 {
    let crown = &array.crown;
    let end = ((crown.top - place[2]) / way[2]).max(0.0);
    let lean = array.lean.tan();
    let wide = crown.free_diameter.max(crown.across) / 2.0 + crown.top * lean;
    let span = |from: f64, speed: f64, reach: f64, period: f64| {
        let (one, other) = (from, from + speed * end);
        let first = ((one.min(other) - reach) / period).floor() as i64;
        let last = ((one.max(other) + reach) / period).ceil() as i64;
        first..=last
    };
    let mut sum = 0.0;
    for row in span(place[0], way[0], wide, array.row_width) {
        for tree in span(place[1], way[1], crown.free_diameter / 2.0, array.in_row_spacing) {
            let shear = if tree % 2 == 0 { lean } else { -lean };
            let foot = [row as f64 * array.row_width, tree as f64 * array.in_row_spacing];
            sum += Tree { crown, foot, shear }.path(place, way);
        }
    }
    sum
}

/// Light at places, as the model defines it.
pub(crate) fn light(
    places: &[RowPoint],
    array: &Array,
    extinction: f64,
    directions: &Directions,
) -> Vec<f64> {
    let through = |place: &RowPoint| {
        directions
            .iter()
            .map(|way| way.share * (-extinction * path(*place, [way.across, way.along, way.up], array)).exp())
            .sum()
    };
    places.iter().map(through).collect()
}
