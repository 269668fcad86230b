//! A tree, a post and a tractor as a draughtsman shows them, in metres and placed on paper.

use crate::board::Board;
use crate::board::geometry::{Point, Projection, Span, Spot, convex_hull};
use crate::board::path::Path;
use crate::board::sheet::{Ink, LayerName};
use planting::{Crown, Ground};

/// From which side a tree is seen.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Side {
    /// Across the row, as in a cross-section.
    AcrossTheRow,
    /// Along the row, as in an elevation.
    AlongTheRow,
}

/// Where a stem stands in a picture, and how it leans.
#[derive(Clone, Copy)]
pub(crate) struct Stem {
    /// Its foot, to the right of the picture's origin `[m]`.
    pub(crate) foot: f64,
    /// Metres to the right for a metre up.
    pub(crate) slope: f64,
}

impl Stem {
    /// An upright stem.
    pub(crate) fn upright(foot: f64) -> Stem {
        Stem { foot, slope: 0.0 }
    }

    /// How far right it stands at a height `[m]`.
    pub(crate) fn at(self, height: f64) -> f64 {
        self.foot + self.slope * height
    }
}

/// Slopes of the stems that stand at a row, metres to the right for a metre up: one, or of leaning trees two.
pub(crate) fn slopes(plan: &Ground) -> Vec<f64> {
    let slope = plan.scenario.canopy.lean.value.tan();
    if slope > 0.0 { vec![-slope, slope] } else { vec![0.0] }
}

/// Levels at which a crown's outline is taken.
const LEVELS: [f64; 9] = [0.0, 0.02, 0.15, 0.3, 0.45, 0.6, 0.75, 0.9, 1.0];

fn width(crown: &Crown, side: Side, height: f64) -> f64 {
    match side {
        Side::AcrossTheRow => crown.width_across(height),
        Side::AlongTheRow => crown.width_along(height),
    }
}

/// The outline of the crown of one stem.
fn crown_outline(crown: &Crown, side: Side, stem: Stem, to: &Projection) -> Vec<Point> {
    let level = |part: f64| crown.base + (crown.top - crown.base) * part;
    // The lower edge is drawn in a little and the tip rounded off, as branches hang.
    let drawn_in = |part: f64| {
        if part <= 0.0 {
            0.82
        } else if part >= 1.0 {
            0.6
        } else {
            1.0
        }
    };
    let edge = |sign: f64| {
        LEVELS.iter().map(move |part| {
            let height = level(*part);
            let half = width(crown, side, height) / 2.0 * drawn_in(*part);
            to.paper(stem.at(height) + sign * half, height)
        })
    };
    edge(-1.0).chain(edge(1.0).collect::<Vec<_>>().into_iter().rev()).collect()
}

/// Corners of a crown's section across the row, in metres.
pub(crate) fn across_outline(crown: &Crown, stem: Stem) -> Vec<Spot> {
    let level = |part: f64| crown.base + (crown.top - crown.base) * part;
    let edge = move |sign: f64| {
        LEVELS.iter().map(move |part| {
            let height = level(*part);
            Spot::new(stem.at(height) + sign * crown.width_across(height) / 2.0, height)
        })
    };
    edge(-1.0).chain(edge(1.0)).collect()
}

/// How crowns are drawn from the side.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Filling {
    /// Bodies with branches.
    Bodies,
    /// Outlines alone, over what fills the picture.
    Outlines,
}

impl Filling {
    /// Outlines where something else fills the picture.
    pub(crate) fn under(fills: bool) -> Filling {
        if fills { Filling::Outlines } else { Filling::Bodies }
    }
}

/// Part of its space from which a crown is drawn without the outline of that space: with less to go,
/// the two lines would run into one.
const FILLED: f64 = 0.97;

/// Several trees of the plan, seen from one side.
pub(crate) fn draw_trees(
    board: &mut Board,
    plan: &Ground,
    side: Side,
    stems: &[Stem],
    filling: Filling,
    to: &Projection,
) {
    let crown = &plan.canopy.shown.crown;
    let (mut bodies, mut trunks, mut spaces) = (Path::new(), Path::new(), Path::new());
    let settled = plan.canopy.union_settled().value;
    for &stem in stems {
        bodies = bodies.closed(&crown_outline(crown, side, stem, to));
        trunks = trunks.line(to.paper(stem.foot, 0.0), to.paper(stem.at(crown.top), crown.top));
        if filling == Filling::Bodies {
            trunks = branches(trunks, crown, side, stem, to);
        }
        let half = |part: f64| {
            let full = match side {
                Side::AcrossTheRow => crown.across * if part > 0.5 { crown.taper } else { 1.0 },
                Side::AlongTheRow => crown.along,
            };
            full / 2.0
        };
        let base = plan.scenario.canopy.crown_base.value;
        let corner =
            |sign: f64, part: f64, height: f64| to.paper(stem.at(height) + sign * half(part), height);
        if crown.volume() < crown.space_volume() * FILLED && side == Side::AcrossTheRow {
            spaces = spaces.closed(&[
                corner(-1.0, 0.0, base),
                corner(-1.0, 1.0, crown.space_top),
                corner(1.0, 1.0, crown.space_top),
                corner(1.0, 0.0, base),
            ]);
        }
    }
    let body = bodies.clone();
    if filling == Filling::Bodies {
        board.path(LayerName::Crowns, Ink::Crown, bodies);
    }
    board.path(LayerName::Crowns, Ink::CrownEdge, body);
    board.path(LayerName::Crowns, Ink::Space, spaces);
    board.path(LayerName::Trees, Ink::Trunk, trunks);
    let radius = (board.em() * 0.22).min(0.12 * to.scale);
    let mut unions = Path::new();
    for stem in stems {
        let at = to.paper(stem.at(settled.max(0.0)), settled);
        unions = unions.circle(at, radius.max(board.em() * 0.08));
    }
    board.path(LayerName::Trees, Ink::Union, unions);
}

/// A few branches to either side, rising a little below and more above, inside the crown.
fn branches(mut path: Path, crown: &Crown, side: Side, stem: Stem, to: &Projection) -> Path {
    if crown.top - crown.base < 0.3 {
        return path;
    }
    for (step, part) in [0.04, 0.2, 0.36, 0.52, 0.68, 0.84].into_iter().enumerate() {
        let height = crown.base + (crown.top - crown.base) * part;
        for sign in [-1.0, 1.0] {
            let lower =
                height - if (step % 2 == 0) == (sign > 0.0) { 0.0 } else { (crown.top - crown.base) * 0.05 };
            let lower = lower.max(crown.base * 0.9);
            let half = width(crown, side, height) / 2.0 * 0.72;
            let rise = half * 0.18;
            path = path.line(
                to.paper(stem.at(lower), lower),
                to.paper(stem.at(lower + rise) + sign * half, lower + rise),
            );
        }
    }
    path
}

/// A crown from above, in metres around its foot, counter-clockwise: its widest level section; of a
/// leaning crown, all it covers from the lowest branches to the top. `slope` is metres sideways for a
/// metre up.
fn crown_from_above(crown: &Crown, slope: f64) -> Vec<Spot> {
    let levels: &[f64] = if slope == 0.0 { &[0.0] } else { &[0.0, 0.5, 1.0] };
    let points = levels.iter().flat_map(|part| {
        let height = crown.base + (crown.top - crown.base) * part;
        level_outline(crown, height).into_iter().map(move |spot| spot.moved(slope * height, 0.0))
    });
    if levels.len() == 1 { points.collect() } else { convex_hull(points.collect()) }
}

/// Points of a crown's outline from above.
const OUTLINE_POINTS: u32 = 36;

/// Sine or cosine below which a ray from the stem counts as running along the side of the box and never
/// meeting it: far below that of the smallest step of the outline.
const NO_WIDTH: f64 = 1e-9;

/// The outline of a crown at one height around its stem, in metres across and along the row.
pub(crate) fn level_outline(crown: &Crown, height: f64) -> Vec<Spot> {
    let disc = crown.disc(height) / 2.0;
    let (half_along, half_across) = (crown.along / 2.0, crown.box_across(height) / 2.0);
    (0..OUTLINE_POINTS)
        .map(|point| {
            let angle = std::f64::consts::TAU * f64::from(point) / f64::from(OUTLINE_POINTS);
            let (sin, cos) = angle.sin_cos();
            let radius =
                disc.min(half_across / cos.abs().max(NO_WIDTH)).min(half_along / sin.abs().max(NO_WIDTH));
            Spot::new(radius * cos, radius * sin)
        })
        .collect()
}

/// The crowns of a row from above: of leaning trees, one leans left and the next right.
pub(crate) fn crowns_from_above(plan: &Ground) -> [Vec<Spot>; 2] {
    let slope = plan.scenario.canopy.lean.value.tan();
    let crown = &plan.canopy.shown.crown;
    [crown_from_above(crown, -slope), crown_from_above(crown, slope)]
}

/// The crown from above of the tree with this number in its row.
pub(crate) fn crown_shape(shapes: &[Vec<Spot>; 2], number: usize) -> &[Spot] {
    let [odd, even] = shapes;
    if number.is_multiple_of(2) { even } else { odd }
}

/// An outline around a foot, where the foot stands.
pub(crate) fn standing_at(outline: &[Spot], foot: Spot) -> Vec<Spot> {
    outline.iter().map(|spot| foot.moved(spot.right, spot.up)).collect()
}

/// Adds the crown of the tree with this number in its row.
pub(crate) fn with_crown(
    path: Path,
    shapes: &[Vec<Spot>; 2],
    tree: usize,
    foot: Spot,
    to: &Projection,
) -> Path {
    path.closed(&to.outline(&standing_at(crown_shape(shapes, tree), foot)))
}

/// A post in the ground: where it stands at the ground line and how it leans, from the level of its foot
/// to that of its top, and how thick it is `[m]`.
pub(crate) fn draw_post(board: &mut Board, stem: Stem, levels: Span, diameter: f64, to: &Projection) {
    let half = (diameter / 2.0).max(board.frame.weights[0] / to.scale);
    let corner = |level: f64, sign: f64| to.paper(stem.at(level) + sign * half, level);
    let above = [corner(0.0, -1.0), corner(levels.to, -1.0), corner(levels.to, 1.0), corner(0.0, 1.0)];
    board.path(LayerName::Trellis, Ink::Post, Path::new().closed(&above));
    let below = [corner(0.0, -1.0), corner(levels.from, -1.0), corner(levels.from, 1.0), corner(0.0, 1.0)];
    board.path(LayerName::Trellis, Ink::Hidden, Path::new().open(&below));
}

/// Height of the tractor's roll bar `[m]`: a narrow orchard tractor (common practice, no source).
pub(crate) const TRACTOR_HEIGHT: f64 = 2.1;

/// A tractor from behind, centred at `x`, of the plan's width.
pub(crate) fn draw_tractor(board: &mut Board, x: f64, width: f64, to: &Projection) {
    let half = width / 2.0;
    let wheel = width * 0.2;
    let at = |right: f64, up: f64| to.paper(x + right, up);
    let mut wheels = Path::new();
    for sign in [-1.0, 1.0] {
        let (outer, inner) = (sign * half, sign * (half - wheel));
        let (outer_in, inner_in) = (sign * (half - wheel * 0.12), sign * (half - wheel * 0.88));
        wheels = wheels.closed(&[
            at(outer_in, 0.0),
            at(outer, 0.12),
            at(outer, 0.98),
            at(outer_in, 1.1),
            at(inner_in, 1.1),
            at(inner, 0.98),
            at(inner, 0.12),
            at(inner_in, 0.0),
        ]);
    }
    let body_half = half - wheel * 1.12;
    let hood = body_half * 0.72;
    let body = Path::new().closed(&[
        at(-body_half, 0.42),
        at(-body_half, 0.85),
        at(-hood, 1.3),
        at(hood, 1.3),
        at(body_half, 0.85),
        at(body_half, 0.42),
    ]);
    let seat = body_half * 0.5;
    let bar = Path::new()
        .open(&[
            at(-body_half * 0.85, 0.85),
            at(-body_half * 0.85, TRACTOR_HEIGHT),
            at(body_half * 0.85, TRACTOR_HEIGHT),
            at(body_half * 0.85, 0.85),
        ])
        .open(&[at(-seat, 1.3), at(-seat, 1.62), at(seat, 1.62), at(seat, 1.3)]);
    for (ink_body, ink_line, path) in
        [(Ink::MachineBody, Ink::Machine, wheels), (Ink::MachineBody, Ink::Machine, body)]
    {
        board.path(LayerName::Machines, ink_body, path.clone());
        board.path(LayerName::Machines, ink_line, path);
    }
    board.path(LayerName::Machines, Ink::Machine, bar);
}

/// The line of a row: its wires, or its centre line.
pub(crate) fn row_ink(plan: &Ground) -> Ink {
    if plan.scenario.trellis.support.has_wires() { Ink::Wire } else { Ink::Centre }
}
