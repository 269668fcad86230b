//! A tree, a post and a tractor as a draughtsman shows them, in metres and placed on paper.

use crate::board::Board;
use crate::light_field::Daylight;
use crate::path::Path;
use crate::sheet::{Ink, LayerName, Projection};
use planting::order::sort_by;
use planting::{Crown, Plan};

/// From which side a tree is seen.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Seen {
    /// Across the row, as in a cross-section.
    AcrossTheRow,
    /// Along the row, as in an elevation.
    AlongTheRow,
}

/// Levels at which a crown's outline is taken.
const LEVELS: [f64; 9] = [0.0, 0.02, 0.15, 0.3, 0.45, 0.6, 0.75, 0.9, 1.0];

fn width(crown: &Crown, seen: Seen, height: f64) -> f64 {
    match seen {
        Seen::AcrossTheRow => crown.width_across(height),
        Seen::AlongTheRow => crown.width_along(height),
    }
}

/// Outlines of a crown standing at `x`, leaning sideways by `slope` metres a metre.
fn crown_outline(crown: &Crown, seen: Seen, x: f64, slope: f64, to: &Projection) -> Vec<(f64, f64)> {
    let level = |share: f64| crown.base + (crown.top - crown.base) * share;
    // The lower edge is drawn in a little and the tip rounded off, as branches hang.
    let drawn_in = |share: f64| {
        if share <= 0.0 {
            0.82
        } else if share >= 1.0 {
            0.6
        } else {
            1.0
        }
    };
    let side = |sign: f64| {
        LEVELS.iter().map(move |share| {
            let height = level(*share);
            let half = width(crown, seen, height) / 2.0 * drawn_in(*share);
            to.place(x + slope * height + sign * half, height)
        })
    };
    side(-1.0).chain(side(1.0).collect::<Vec<_>>().into_iter().rev()).collect()
}

/// Corners of a crown's section across the row, in metres.
pub(crate) fn across_outline(crown: &Crown, x: f64, slope: f64) -> Vec<(f64, f64)> {
    let level = |share: f64| crown.base + (crown.top - crown.base) * share;
    let side = move |sign: f64| {
        LEVELS.iter().map(move |share| {
            let height = level(*share);
            (x + slope * height + sign * crown.width_across(height) / 2.0, height)
        })
    };
    side(-1.0).chain(side(1.0)).collect()
}

/// Several trees of the plan, seen from one side.
pub(crate) fn draw_trees(board: &mut Board, plan: &Plan, seen: Seen, stems: &[(f64, f64)], to: &Projection) {
    let crown = &plan.canopy.shown.crown;
    let (mut bodies, mut trunks, mut spaces) = (Path::new(), Path::new(), Path::new());
    let settled = plan.union_settled.value;
    for &(x, slope) in stems {
        bodies = bodies.closed(&crown_outline(crown, seen, x, slope, to));
        trunks = trunks.line(to.place(x, 0.0), to.place(x + slope * crown.top, crown.top));
        if board.frame.light != Daylight::Season {
            trunks = branches(trunks, crown, seen, x, slope, to);
        }
        let half = |share: f64| {
            let full = match seen {
                Seen::AcrossTheRow => crown.across * if share > 0.5 { crown.taper } else { 1.0 },
                Seen::AlongTheRow => crown.along,
            };
            full / 2.0
        };
        let base = plan.scenario.crown_base.value;
        let corner =
            |sign: f64, share: f64, height: f64| to.place(x + slope * height + sign * half(share), height);
        if crown.volume() < crown.space_volume() * 0.97 && seen == Seen::AcrossTheRow {
            spaces = spaces.closed(&[
                corner(-1.0, 0.0, base),
                corner(-1.0, 1.0, crown.space_top),
                corner(1.0, 1.0, crown.space_top),
                corner(1.0, 0.0, base),
            ]);
        }
    }
    let body = bodies.clone();
    if board.frame.light != Daylight::Season {
        board.path(LayerName::Crowns, Ink::Crown, bodies);
    }
    board.path(LayerName::Crowns, Ink::CrownEdge, body);
    board.path(LayerName::Crowns, Ink::Space, spaces);
    board.path(LayerName::Trees, Ink::Trunk, trunks);
    let radius = (board.em() * 0.22).min(0.12 * to.scale);
    let mut unions = Path::new();
    for &(x, slope) in stems {
        unions =
            unions.circle(to.place(x + slope * settled.max(0.0), settled), radius.max(board.em() * 0.08));
    }
    board.path(LayerName::Trees, Ink::Union, unions);
}

/// A few branches to either side, rising a little below and more above, inside the crown.
fn branches(mut path: Path, crown: &Crown, seen: Seen, x: f64, slope: f64, to: &Projection) -> Path {
    if crown.top - crown.base < 0.3 {
        return path;
    }
    for (step, share) in [0.04, 0.2, 0.36, 0.52, 0.68, 0.84].into_iter().enumerate() {
        let height = crown.base + (crown.top - crown.base) * share;
        for sign in [-1.0, 1.0] {
            let lower =
                height - if (step % 2 == 0) == (sign > 0.0) { 0.0 } else { (crown.top - crown.base) * 0.05 };
            let lower = lower.max(crown.base * 0.9);
            let half = width(crown, seen, height) / 2.0 * 0.72;
            let rise = half * 0.18;
            path = path.line(
                to.place(x + slope * lower, lower),
                to.place(x + slope * (lower + rise) + sign * half, lower + rise),
            );
        }
    }
    path
}

/// A crown from above, in metres around its foot, counter-clockwise: its widest level section; of a
/// leaning crown, all it covers from the lowest branches to the top. `slope` is metres sideways for a
/// metre up.
fn crown_from_above(crown: &Crown, slope: f64) -> Vec<(f64, f64)> {
    let levels: &[f64] = if slope == 0.0 { &[0.0] } else { &[0.0, 0.5, 1.0] };
    let points = levels.iter().flat_map(|share| {
        let height = crown.base + (crown.top - crown.base) * share;
        level_outline(crown, height).into_iter().map(move |(across, along)| (across + slope * height, along))
    });
    if levels.len() == 1 { points.collect() } else { convex_hull(points.collect()) }
}

const OUTLINE_POINTS: u32 = 36;

/// The outline of a crown at one height around its stem, in metres across and along the row.
pub(crate) fn level_outline(crown: &Crown, height: f64) -> Vec<(f64, f64)> {
    let radius = crown.disc(height) / 2.0;
    let (half_along, half_across) = (crown.along / 2.0, crown.box_across(height) / 2.0);
    (0..OUTLINE_POINTS)
        .map(|point| {
            let angle = std::f64::consts::TAU * f64::from(point) / f64::from(OUTLINE_POINTS);
            let (sin, cos) = angle.sin_cos();
            let reach = radius.min(half_across / cos.abs().max(1e-9)).min(half_along / sin.abs().max(1e-9));
            (reach * cos, reach * sin)
        })
        .collect()
}

/// The smallest convex outline around points, counter-clockwise (Andrew 1979, monotone chain).
pub(crate) fn convex_hull(mut points: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    sort_by(&mut points, |a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let chain = |points: &mut dyn Iterator<Item = (f64, f64)>| {
        let mut hull: Vec<(f64, f64)> = Vec::new();
        for point in points {
            while let [.., before, last] = hull.as_slice() {
                let turn =
                    (last.0 - before.0) * (point.1 - before.1) - (last.1 - before.1) * (point.0 - before.0);
                if turn > 0.0 {
                    break;
                }
                hull.pop();
            }
            hull.push(point);
        }
        hull.pop();
        hull
    };
    let mut outline = chain(&mut points.iter().copied());
    outline.extend(chain(&mut points.iter().rev().copied()));
    outline
}

/// The crowns of a row from above: of leaning trees, one leans left and the next right.
pub(crate) fn crowns_from_above(plan: &Plan) -> [Vec<(f64, f64)>; 2] {
    let slope = plan.scenario.lean.value.tan();
    let crown = &plan.canopy.shown.crown;
    [crown_from_above(crown, -slope), crown_from_above(crown, slope)]
}

/// Adds the crown of the tree with this number in its row.
pub(crate) fn with_crown(
    path: Path,
    shapes: &[Vec<(f64, f64)>; 2],
    tree: usize,
    at: (f64, f64),
    to: &Projection,
) -> Path {
    let [odd, even] = shapes;
    let shape = if tree.is_multiple_of(2) { even } else { odd };
    path.closed(&shape.iter().map(|(x, y)| to.place(at.0 + x, at.1 + y)).collect::<Vec<_>>())
}

/// A post in the ground, its foot at `x`, leaning by `slope` metres a metre; `top` and `bottom` are levels.
pub(crate) fn draw_post(
    board: &mut Board,
    x: f64,
    slope: f64,
    (bottom, top): (f64, f64),
    diameter: f64,
    to: &Projection,
) {
    let half = (diameter / 2.0).max(board.frame.weights[0] / to.scale);
    let corner = |level: f64, sign: f64| to.place(x + slope * level + sign * half, level);
    let above = [corner(0.0, -1.0), corner(top, -1.0), corner(top, 1.0), corner(0.0, 1.0)];
    board.path(LayerName::Trellis, Ink::Post, Path::new().closed(&above));
    let below = [corner(0.0, -1.0), corner(bottom, -1.0), corner(bottom, 1.0), corner(0.0, 1.0)];
    board.path(LayerName::Trellis, Ink::Hidden, Path::new().open(&below));
}

/// Height of the tractor's roll bar `[m]`: a narrow orchard tractor (common practice, no source).
pub(crate) const TRACTOR_HEIGHT: f64 = 2.1;

/// A tractor from behind, centred at `x`, of the plan's width.
pub(crate) fn draw_tractor(board: &mut Board, x: f64, width: f64, to: &Projection) {
    let half = width / 2.0;
    let wheel = width * 0.2;
    let at = |right: f64, up: f64| to.place(x + right, up);
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
