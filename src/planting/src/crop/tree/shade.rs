//! The light in a tree among others like it, from its own leaves: boxes of air with leaf area, and rays of an even sky.
//!
//! ```text
//!     \  |  /     18 rays, three rings of six: each stands for as much light on level ground
//!    +--+--+--+   boxes of a quarter metre; a ray that leaves at a side comes in at the other, as the
//!    |##|  |# |   next tree of the row and the next row are taken to be this tree again
//!    +--+--+--+
//! ```
//!
//! Light falls off as `e^(−½ × leaf area density × path)`, leaves facing all ways alike. Leaves are those of the summer that
//! the winter tree's buds and spurs make. Left out: the sun's own path, wood and fruit, and scattered light.

use super::exact::{cosine, decay, sine};
use super::shape::{Shape, TreePoint};
use super::{Axis, Tree};
use crate::kit::count::{as_number, whole_steps};

/// Leaf area of a spur with its rosette `[m²]`: 7.5 leaves (measured on young trees) of some 24 cm² (assumption).
const LEAF_ON_SPUR_M2: f64 = 0.018;
/// Leaf area of this season's shoots, on a metre `[1/m]` (assumption: a leaf of 24 cm² every 27 mm).
const LEAF_ON_SHOOT_M: f64 = 0.09;
/// Side of a box `[m]`.
const BOX_M: f64 = 0.25;
/// The most boxes along any side.
const MOST_BOXES: usize = 60;
/// Rings of rays, each with as much of an even sky's light on level ground: sin² of the elevation 1/6, 3/6, 5/6.
const RINGS: [f64; 3] = [1.0 / 6.0, 3.0 / 6.0, 5.0 / 6.0];
const RAYS_IN_RING: u32 = 6;

/// Light and leaves of a tree in boxes.
#[derive(Clone, Debug, PartialEq)]
pub struct Shade {
    across: usize,
    along: usize,
    layers: usize,
    /// Size of a box across and along `[m]`.
    size: (f64, f64),
    leaves: Vec<f64>,
    light: Vec<f64>,
}

impl Shade {
    /// The light in a tree.
    ///
    /// ```
    /// use planting::crop::tree::{grow::plant, shade::Shade, shape::{Shape, TreePoint}, site::Site};
    /// let tree = plant(&Site::usual(1.0), 1);
    /// let shade = Shade::of(&tree, &Shape::of(&tree));
    /// let high = shade.at(TreePoint { across: 0.0, along: 0.0, up: 9.0 });
    /// assert_eq!(high, 1.0, "open sky above the tree");
    /// ```
    pub fn of(tree: &Tree, shape: &Shape) -> Shade {
        let keeping = &tree.site.keeping;
        let boxes = |length: f64| whole_steps(length, BOX_M).clamp(3, MOST_BOXES);
        let (row, gap) = (keeping.row_width.value.max(0.5), keeping.in_row.value.max(0.3));
        let (across, along) = (boxes(row), boxes(gap));
        let layers = boxes(shape.top() + 2.0 * BOX_M);
        let mut shade = Shade {
            across,
            along,
            layers,
            size: (row / as_number(across), gap / as_number(along)),
            leaves: vec![0.0; across * along * layers],
            light: vec![0.0; across * along * layers],
        };
        for (axis, path) in tree.axes.iter().zip(&shape.paths) {
            shade.hang_leaves(tree, axis, path);
        }
        shade.shine();
        shade
    }

    fn hang_leaves(&mut self, tree: &Tree, axis: &Axis, path: &super::shape::Path) {
        if !axis.grows() {
            return;
        }
        for spur in &axis.spurs {
            self.add(path.at(spur.at), LEAF_ON_SPUR_M2);
        }
        // Next summer's shoot grows from the tip, about as long as last summer's.
        let last =
            axis.pieces.last().filter(|piece| piece.year == tree.year).map_or(0.0, |piece| piece.length);
        let length = axis.length();
        for part in [0.25, 0.75] {
            self.add(path.at(length - last * part), LEAF_ON_SHOOT_M * last / 2.0);
        }
    }

    fn add(&mut self, point: TreePoint, area: f64) {
        if let Some(leaves) = self.place(point).and_then(|place| self.leaves.get_mut(place)) {
            *leaves += area;
        }
    }

    /// The box of a point, none above the highest.
    fn place(&self, point: TreePoint) -> Option<usize> {
        let layer = whole_steps(point.up, BOX_M);
        let column = wrapped(point.across / self.size.0, self.across);
        let row = wrapped(point.along / self.size.1, self.along);
        (layer < self.layers).then_some((layer * self.along + row) * self.across + column)
    }

    /// Light from above, layer by layer: what comes into a box from the layer above where the ray passed it.
    fn shine(&mut self) {
        let rays = as_number(RINGS.len()) * f64::from(RAYS_IN_RING);
        let floor = self.across * self.along;
        let volume = self.size.0 * self.size.1 * BOX_M;
        for (ring, squared_sine) in RINGS.into_iter().enumerate() {
            let rise = squared_sine.sqrt();
            let flat = BOX_M * (1.0 - squared_sine).sqrt() / rise;
            // What half the way through a box lets pass.
            let halves: Vec<f64> =
                self.leaves.iter().map(|leaves| decay(0.25 * leaves / volume * BOX_M / rise)).collect();
            for ray in 0..RAYS_IN_RING {
                let compass = std::f64::consts::TAU * (f64::from(ray) + as_number(ring) / 3.0)
                    / f64::from(RAYS_IN_RING);
                let shift = Shift::of(
                    flat * sine(compass) / self.size.0,
                    flat * cosine(compass) / self.size.1,
                    self.across,
                    self.along,
                );
                let (mut coming, mut leaving) = (vec![1.0; floor], vec![1.0; floor]);
                for (light, half) in self.light.chunks_mut(floor).zip(halves.chunks(floor)).rev() {
                    shift.move_on(&leaving, &mut coming);
                    for (((coming, leaving), half), light) in
                        coming.iter().zip(&mut leaving).zip(half).zip(light)
                    {
                        let middle = coming * half;
                        *light += middle / rays;
                        *leaving = middle * half;
                    }
                }
            }
        }
    }

    /// Share of the open sky's light at a point `[–]`.
    pub fn at(&self, point: TreePoint) -> f64 {
        self.place(point).and_then(|place| self.light.get(place)).copied().unwrap_or(1.0).min(1.0)
    }

    /// Mean light on the leaves between two heights `[–]`; none where no leaf hangs there.
    pub fn on_leaves(&self, low: f64, high: f64) -> Option<f64> {
        let floor = self.across * self.along;
        let (mut leaves, mut lit) = (0.0, 0.0);
        for (layer, (own, light)) in self.leaves.chunks(floor).zip(self.light.chunks(floor)).enumerate() {
            let middle = (as_number(layer) + 0.5) * BOX_M;
            if middle >= low && middle < high {
                for (own, light) in own.iter().zip(light) {
                    leaves += own;
                    lit += own * light;
                }
            }
        }
        (leaves > 0.0).then(|| lit / leaves)
    }

    /// Leaf area of the tree `[m²]`.
    pub fn leaf_area(&self) -> f64 {
        self.leaves.iter().sum()
    }
}

/// A place along a side that repeats; the tree stands in the middle of its own.
fn wrapped(steps: f64, boxes: usize) -> usize {
    let count = as_number(boxes);
    let steps = steps + count / 2.0;
    whole_steps(steps - count * (steps / count).floor(), 1.0).min(boxes.saturating_sub(1))
}

/// How far a ray moves from one layer to the next, in a plane that repeats: for each box, the four boxes above that its light
/// comes through, and their shares.
struct Shift {
    from: Vec<[usize; 4]>,
    shares: [f64; 4],
}

impl Shift {
    fn of(across: f64, along: f64, columns: usize, rows: usize) -> Shift {
        let part = |moved: f64, boxes: usize| {
            let count = as_number(boxes);
            let moved = moved - count * (moved / count).floor();
            let whole = whole_steps(moved, 1.0).min(boxes.saturating_sub(1));
            (whole, crate::kit::order::within(moved - as_number(whole), 0.0, 1.0))
        };
        let ((column, right), (row, on)) = (part(across, columns), part(along, rows));
        let place = |x: usize, y: usize| y % rows * columns + x % columns;
        let mut from = Vec::with_capacity(columns * rows);
        for y in row..row + rows {
            for x in column..column + columns {
                from.push([place(x, y), place(x + 1, y), place(x, y + 1), place(x + 1, y + 1)]);
            }
        }
        let (left, back) = (1.0 - right, 1.0 - on);
        Shift { from, shares: [left * back, right * back, left * on, right * on] }
    }

    /// The light as it comes into the layer below.
    fn move_on(&self, light: &[f64], below: &mut [f64]) {
        for (below, from) in below.iter_mut().zip(&self.from) {
            let parts = from.iter().zip(self.shares);
            *below = parts.map(|(place, share)| share * light.get(*place).copied().unwrap_or(1.0)).sum();
        }
    }
}
