//! A season's light in the crowns, on the ground, and as a map of the section across the row.
//!
//! Points in the crown are spread evenly in height, and at each level over its section, weighted by the
//! volume each stands for; leaning crowns are sampled on both sides. The ground is one row wide and one
//! tree long. The map lies in the plane of a stem, where a crown is deepest; where trees lean to both sides,
//! it is the mean of the planes of a left and a right one.

use super::directions::{Directions, Fineness};
use super::kernel::RowPoint;
use super::kernel::{LANES, light};
use super::quick::quick;
use super::scene::{Array, Scene};
use crate::kit::count::as_number;
use crate::kit::order::within;

/// Parts of the crown's height that light is told for, from below.
pub(super) const PARTS: usize = 3;
/// A density of leaves at which a tenth of a millimetre of crown lets next to nothing through `[1/m]`.
const SOLID: f64 = 1e5;
/// How much light differs across the bit of crown that a point stands for `[–]`; a bit at a cut point counts
/// half, and shares change smoothly while a slider moves.
const CELL: f64 = 0.04;
/// Shifts that spread points evenly in three directions at once: powers of the root of g⁴ = g + 1.
const SPREAD: [f64; 3] = [0.819_172_513_4, 0.671_043_606_7, 0.549_700_477_9];

/// How many points and directions a season is summed over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sampling {
    /// Directions of sun and sky.
    pub fineness: Fineness,
    /// Layers of the crown; a multiple of three.
    pub layers: usize,
    /// Points in a layer; a multiple of 32.
    pub points: usize,
    /// Strips of ground across a row; even.
    pub ground_across: usize,
    /// Points along each strip; a multiple of 8.
    pub ground_along: usize,
    /// Cells of the map across a row; a multiple of 4, or 0 for no map.
    pub map_across: usize,
    /// Cells of the map in height; a multiple of 4.
    pub map_up: usize,
}

impl Sampling {
    /// For what is shown: drawn anew while a slider moves.
    pub const SHOWN: Sampling = Sampling {
        fineness: Fineness::SHOWN,
        layers: 18,
        points: 64,
        ground_across: 32,
        ground_along: 8,
        map_across: 48,
        map_up: 24,
    };
    /// For searches and for series of years; no map.
    pub const COARSE: Sampling = Sampling {
        fineness: Fineness::COARSE,
        layers: 12,
        points: 32,
        ground_across: 16,
        ground_along: 8,
        map_across: 0,
        map_up: 0,
    };
}

/// Light in part of the crown's height.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Band {
    /// Share of the crown's volume that lies in it `[–]`.
    pub volume: f64,
    /// Mean light `[–]`; 1 where there is no crown.
    pub mean: f64,
    /// Share of it under each cut point `[–]`.
    pub under: [f64; 3],
}

/// The light in a section across the row, as a share of that in the open.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Map {
    /// Cells across, from half a row left of the stem to half a row right of it.
    pub across: usize,
    /// Cells up, from the ground.
    pub up: usize,
    /// Width of the map, one row `[m]`.
    pub width: f64,
    /// Height of the map, up to which the space of the crowns reaches in season `[m]`.
    pub height: f64,
    /// Light in the middle of each cell, rows of cells from the ground up, each from left to right.
    pub light: Vec<f32>,
}

impl Map {
    /// Light in a cell, counted from the left and from the ground.
    pub fn cell(&self, across: usize, up: usize) -> Option<f32> {
        if across < self.across { self.light.get(up * self.across + across).copied() } else { None }
    }
}

/// The light of a season in one planting.
#[derive(Clone, Debug, PartialEq)]
pub struct Season {
    /// Share of the light over the field that crowns take `[–]`.
    pub intercepted: f64,
    /// Share that solid crowns of the same shape would take `[–]`.
    pub largest: f64,
    /// Share intercepted by Jackson's quick model `[–]`.
    pub quick: f64,
    /// Leaf area on a square metre of ground `[m²/m²]`.
    pub leaf_area_index: f64,
    /// The whole crown.
    pub crown: Band,
    /// Thirds of the crown's height, from below.
    pub thirds: [Band; PARTS],
    /// Every layer, from below, all of the same height.
    pub layers: Vec<Band>,
    /// Light on the ground from one mid-alley to the next, the row in the middle, averaged along the row `[–]`.
    pub floor: Vec<f64>,
    /// Mean of it over the alley between the crowns; at mid-alley where crowns meet `[–]`.
    pub alley: f64,
    /// The light map.
    pub map: Map,
    /// Share of the season's light that was taken as diffuse; 1 where the sun never rises `[–]`.
    pub diffuse_share: f64,
}

/// The light of a season.
pub fn season(scene: &Scene, directions: &Directions, sampling: &Sampling) -> Season {
    let (array, extinction) = (&scene.array, scene.extinction());
    let floor = floor(array, extinction, directions, sampling);
    let largest = taken(&self::floor(array, SOLID, directions, sampling));
    let Crowns { whole, thirds, layers } = in_crowns(scene, directions, sampling);
    let leaf_area_index = array.leaf_area_index(scene.leaf_area_density);
    Season {
        intercepted: taken(&floor),
        largest,
        quick: quick(largest, leaf_area_index),
        leaf_area_index,
        crown: whole,
        thirds,
        layers,
        alley: alley(array, &floor),
        floor,
        map: map(array, extinction, directions, sampling),
        diffuse_share: directions.diffuse_share,
    }
}

/// Share of the light over the field that crowns take `[–]`.
pub fn interception(scene: &Scene, directions: &Directions, sampling: &Sampling) -> f64 {
    taken(&floor(&scene.array, scene.extinction(), directions, sampling))
}

fn taken(floor: &[f64]) -> f64 {
    (1.0 - mean(floor)).max(0.0)
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / as_number(values.len().max(1))
}

/// How far across from the row's line the middle of a strip lies, counted from mid-alley to mid-alley.
fn strip_middle(strip: usize, strips: usize, row_width: f64) -> f64 {
    ((as_number(strip) + 0.5) / as_number(strips) - 0.5) * row_width
}

/// Light on strips of ground from mid-alley to mid-alley, averaged along the row.
fn floor(array: &Array, extinction: f64, directions: &Directions, sampling: &Sampling) -> Vec<f64> {
    let (strips, along) = (sampling.ground_across / 2 * 2, sampling.ground_along.max(1));
    let left: Vec<RowPoint> = (0..strips / 2)
        .flat_map(|strip| {
            // Each strip starts elsewhere along the row, or all would meet the same stems.
            let start = (as_number(strip) * SPREAD[1]).fract();
            let middle = strip_middle(strip, strips, array.row_width);
            array.places_along(along, start).map(move |place| [middle, place, 0.0])
        })
        .collect();
    let means = |places: &[RowPoint]| -> Vec<f64> {
        light(places, array, extinction, directions)
            .chunks(along)
            .map(|strip| strip.iter().copied().map(f64::from).sum::<f64>() / as_number(along))
            .collect()
    };
    let mut floor = means(&left);
    // Places to the right mirror those to the left, so that a hair's breadth of turning the rows changes no more than the light.
    let right = if directions.same_on_both_sides {
        floor.clone()
    } else {
        means(&left.iter().map(|place| array.mirrored(*place)).collect::<Vec<_>>())
    };
    floor.extend(right.into_iter().rev());
    floor
}

/// Mean light on the ground between the crowns; at mid-alley where crowns meet.
fn alley(array: &Array, floor: &[f64]) -> f64 {
    let (strips, half_span) = (floor.len(), array.half_span());
    let wide = array.row_width / as_number(strips.max(1));
    // A strip counts by the part of it that lies clear of the crowns, so that none drops in or out at once.
    let clear = |strip: usize| {
        let outer = strip_middle(strip, strips, array.row_width).abs() + wide / 2.0;
        within((outer - half_span) / wide, 0.0, 1.0)
    };
    let (mut light, mut width) = (0.0, 0.0);
    for (strip, found) in floor.iter().enumerate() {
        light += clear(strip) * found;
        width += clear(strip);
    }
    let edges = [floor.first(), floor.last()].map(|edge| edge.copied().unwrap_or(1.0));
    if width > 0.0 { light / width } else { mean(&edges) }
}

/// Points of the crown layer by layer, neighbours together, each with the volume it stands for.
///
/// At height z the section reaches W(z) across and h(x, z) along, where box and disc both end; a point at
/// shares u, v of these stands for a volume in proportion to W × h. All lie in a tree that leans right, or upright; unless
/// both sides of the row get the same light, each has its mirror image in one that leans left.
fn crown_points(array: &Array, layers: usize, points: usize, alike: bool) -> Vec<(RowPoint, f64)> {
    let crown = &array.crown;
    let height = crown.top - crown.base;
    let shear = array.lean.max(0.0).tan();
    // Each part of the section across in blocks that are followed together.
    let parts = (points / 2 / LANES).max(1);
    let mut list = Vec::with_capacity(layers * points);
    let mut drawn = 0.0;
    for layer in 0..layers {
        for part in 0..parts {
            let block = list.len();
            for _ in 0..LANES {
                drawn += 1.0;
                let [u, v, w] = SPREAD.map(|shift| (0.5 + drawn * shift).fract());
                let level = crown.base + height * (as_number(layer) + w) / as_number(layers);
                let radius = crown.disc(level) / 2.0;
                let reach = radius.min(crown.box_across(level) / 2.0);
                let x = reach * (2.0 * (as_number(part) + u) / as_number(parts) - 1.0);
                let half = (radius * radius - x * x).max(0.0).sqrt().min(crown.along / 2.0);
                let y = half * (2.0 * v - 1.0);
                list.push(([x + shear * level, y, level], reach * half));
            }
            if !alike {
                let mirrored = list.get(block..).unwrap_or_default().iter();
                let mirrored: Vec<_> =
                    mirrored.map(|(place, volume)| (array.mirrored(*place), *volume)).collect();
                list.extend(mirrored);
            }
        }
    }
    list
}

/// Light in the crowns.
#[derive(Clone, Debug, PartialEq)]
pub struct Crowns {
    /// The whole crown.
    pub whole: Band,
    /// Thirds of its height, from below.
    pub thirds: [Band; PARTS],
    /// Every layer, from below, all of the same height.
    pub layers: Vec<Band>,
}

/// Light in the crowns alone, without ground and map.
pub fn in_crowns(scene: &Scene, directions: &Directions, sampling: &Sampling) -> Crowns {
    let layers = crown_layers(scene, directions, sampling);
    let part = sampling.layers.div_ceil(PARTS).max(1);
    let mut thirds = [Band { mean: 1.0, ..Band::default() }; PARTS];
    for (third, layers) in thirds.iter_mut().zip(layers.chunks(part)) {
        *third = together(layers);
    }
    Crowns { whole: together(&layers), thirds, layers }
}

fn crown_layers(scene: &Scene, directions: &Directions, sampling: &Sampling) -> Vec<Band> {
    let array = &scene.array;
    if array.crown.top <= array.crown.base {
        return vec![Band { mean: 1.0, ..Band::default() }; sampling.layers];
    }
    let points = crown_points(array, sampling.layers, sampling.points, directions.same_on_both_sides);
    let whole: f64 = points.iter().map(|(_, volume)| volume).sum();
    let places: Vec<RowPoint> = points.iter().map(|(place, _)| *place).collect();
    let found = light(&places, array, scene.extinction(), directions);
    let in_layer = (points.len() / sampling.layers.max(1)).max(1);
    points
        .chunks(in_layer)
        .zip(found.chunks(in_layer))
        .map(|(points, lights)| {
            let volume: f64 = points.iter().map(|(_, volume)| volume).sum();
            if volume <= 0.0 {
                return Band { mean: 1.0, ..Band::default() };
            }
            let share_of = |value: &dyn Fn(f64) -> f64| {
                let sum: f64 = points
                    .iter()
                    .zip(lights)
                    .map(|((_, volume), light)| volume * value(f64::from(*light)))
                    .sum();
                sum / volume
            };
            Band {
                volume: volume / whole,
                mean: share_of(&|light| light),
                under: scene.cuts.map(|cut| share_of(&|light| within((cut - light) / CELL + 0.5, 0.0, 1.0))),
            }
        })
        .collect()
}

/// Several bands as one.
fn together(bands: &[Band]) -> Band {
    let volume: f64 = bands.iter().map(|band| band.volume).sum();
    if volume <= 0.0 {
        return Band { mean: 1.0, ..Band::default() };
    }
    let over = |value: &dyn Fn(&Band) -> f64| {
        bands.iter().map(|band| band.volume * value(band)).sum::<f64>() / volume
    };
    Band {
        volume,
        mean: over(&|band| band.mean),
        under: [over(&|band| band.under[0]), over(&|band| band.under[1]), over(&|band| band.under[2])],
    }
}

/// Cells of the map that are followed together, across and up.
const TILE: usize = 4;

fn map(array: &Array, extinction: f64, directions: &Directions, sampling: &Sampling) -> Map {
    let (across, up) = (sampling.map_across / TILE * TILE, sampling.map_up / TILE * TILE);
    let (width, height) = (array.row_width, array.crown.space_top);
    let alike = directions.same_on_both_sides && across.is_multiple_of(2 * TILE);
    let summed = if alike { across / 2 } else { across };
    let cells: Vec<(usize, usize)> = (0..up / TILE)
        .flat_map(|tile_up| (0..summed / TILE).map(move |tile_across| (tile_across * TILE, tile_up * TILE)))
        .flat_map(|(left, low)| (0..LANES).map(move |cell| (left + cell % TILE, low + cell / TILE)))
        .collect();
    let mut map = Map { across, up, width, height, light: vec![0.0; across * up] };
    let stems = array.leans();
    for (_, stem) in &stems {
        let places: Vec<RowPoint> = cells
            .iter()
            .map(|(cell, level)| {
                let above = (as_number(*level) + 0.5) / as_number(up) * height;
                [strip_middle(*cell, across, width), *stem, above]
            })
            .collect();
        let found = light(&places, array, extinction, directions);
        let part = if stems.len() == 1 { 1.0 } else { 0.5 };
        for ((cell, level), light) in cells.iter().zip(found) {
            let mirrored = alike.then(|| across - 1 - cell);
            for cell in std::iter::once(*cell).chain(mirrored) {
                if let Some(place) = map.light.get_mut(level * across + cell) {
                    *place += part * light;
                }
            }
        }
    }
    map
}
