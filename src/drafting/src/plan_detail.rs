//! The enlarged detail of the plan: a few trees of two rows, from above.

use crate::board::{Board, ScaleChoice};
use crate::light_field::{Daylight, floor_strips};
use crate::path::Path;
use crate::plan_view::{Area, row_ink};
use crate::section_view::{between, cuts};
use crate::sheet::{Anchor, Bounds, Handle, Ink, LayerName, Lettering, Projection, ems};
use crate::tree::{convex_hull, crowns_from_above, level_outline, with_crown};
use planting::order::within;
use planting::{Plan, Run};

/// What the detail shows of the first row: places along it from one tree, in metres.
pub(crate) struct Stretch {
    /// Where that tree stands along the row.
    middle: f64,
    low: f64,
    high: f64,
    /// Trees by number, with their places.
    trees: Vec<(usize, f64)>,
}

/// `low` and `high` are where the picture ends, in metres from the tree in its middle.
fn stretch(plan: &Plan, run: &Run, (low, high): (f64, f64)) -> Stretch {
    // Around a line post well inside the row, so that neither end is in the way; a short row whole.
    let half = high.max(-low);
    let inside = run.line_posts.iter().copied().find(|post| post - run.start > half && run.end - post > half);
    let centre = inside.unwrap_or((run.start + run.end) / 2.0);
    let nearest = (0..run.trees).rev().map(|tree| run.tree(tree)).find(|along| *along <= centre);
    let middle = nearest.unwrap_or(run.first_tree);
    let crown = plan.canopy.shown.crown;
    let half_crown = (crown.width_along(crown.base) / 2.0).min(run.spacing / 2.0) - 1e-9;
    let trees = (0..run.trees)
        .map(|tree| (tree, run.tree(tree) - middle))
        // The tree in the middle and the next one stay, even while a hand pulls that out of the picture.
        .skip_while(|(_, along)| *along - half_crown < low && *along < -run.spacing * 0.5)
        .take_while(|(_, along)| *along + half_crown <= high || *along < run.spacing * 1.5)
        .take(400)
        .collect();
    Stretch { middle, low: (run.start - middle).max(low), high: (run.end - middle).min(high), trees }
}

/// The ground the detail shows, in metres: across from the first row, along from its middle tree.
#[derive(Clone, Copy)]
pub(crate) struct Seen {
    left: f64,
    right: f64,
    low: f64,
    high: f64,
}

/// The season's light on the ground, in bands along the rows.
pub(crate) fn floor(board: &mut Board, plan: &Plan, seen: Seen, to: &Projection) {
    let row = plan.scenario.row_width.value;
    let strips = floor_strips(&plan.light.season.floor, row, cuts(plan), (seen.left, seen.right));
    for (band, from, end) in strips {
        let strip = Path::new().rectangle(to.place(from, seen.low), to.place(end, seen.high));
        board.path(LayerName::Light, Ink::Light(band), strip);
    }
}

/// Shade on the ground at the date and hour set; crowns throw it whole.
pub(crate) fn shade(board: &mut Board, plan: &Plan, shown: &Stretch, seen: Seen, to: &Projection) {
    let Some(shadow) = plan.light.moment.shadow else {
        let all = Path::new().rectangle(to.place(seen.left, seen.low), to.place(seen.right, seen.high));
        return board.path(LayerName::Light, Ink::Shade, all);
    };
    let (row, spacing) = (plan.scenario.row_width.value, plan.scenario.in_row_spacing.value);
    let crown = &plan.canopy.shown.crown;
    let slope = plan.scenario.lean.value.tan();
    // From the lowest branches to the top, each level's outline lies where the sun throws it.
    let cast = [-slope, slope].map(|slope| {
        let levels = [0.0, 0.5, 1.0].map(|share| crown.base + (crown.top - crown.base) * share);
        let points = levels.iter().flat_map(|level| {
            let (x, y) = ((slope + shadow.across) * level, shadow.along * level);
            level_outline(crown, *level).into_iter().map(move |(across, along)| (across + x, along + y))
        });
        convex_hull(points.collect())
    });
    let reach = |per_metre: f64, pitch: f64| within((per_metre.abs() * crown.top / pitch).ceil(), 1.0, 12.0);
    let (rows_off, trees_off) = (reach(shadow.across, row), reach(shadow.along, spacing));
    let twin = plan.block.rows > 1;
    let mut veils = Path::new();
    let mut across = if twin { -rows_off } else { 0.0 };
    while across <= if twin { rows_off + 1.0 } else { 0.0 } {
        for (tree, along) in in_and_beside(shown, spacing, trees_off) {
            let [odd, even] = &cast;
            let shape = if tree.is_multiple_of(2) { even } else { odd };
            let thrown: Vec<(f64, f64)> = shape.iter().map(|(x, y)| (x + across * row, y + along)).collect();
            let upright: Vec<(f64, f64)> =
                between(&thrown, seen.left, seen.right).into_iter().map(|(x, y)| (y, x)).collect();
            let cut = between(&upright, seen.low, seen.high);
            veils = veils.closed(&cut.into_iter().map(|(y, x)| to.place(x, y)).collect::<Vec<_>>());
        }
        across += 1.0;
    }
    board.path(LayerName::Light, Ink::Shade, veils);
}

/// The trees shown, and so many beyond either end that throw shade on them.
fn in_and_beside(shown: &Stretch, spacing: f64, beyond: f64) -> Vec<(usize, f64)> {
    let (Some(first), Some(last)) = (shown.trees.first(), shown.trees.last()) else { return Vec::new() };
    let mut list = shown.trees.clone();
    let mut step = 1.0;
    let mut parity = 1;
    while step <= beyond {
        // Their parity counts, not their number.
        list.push((first.0 + parity, first.1 - step * spacing));
        list.push((last.0 + parity, last.1 + step * spacing));
        step += 1.0;
        parity += 1;
    }
    list
}

/// The enlarged detail: a few trees of two rows. Returns how metres lie in it.
pub(crate) fn draw_detail(board: &mut Board, plan: &Plan, area: Area) -> Option<Projection> {
    let em = board.em();
    let scenario = &plan.scenario;
    let run = plan.block.runs.first()?;
    let (spacing, row) = (scenario.in_row_spacing.value, scenario.row_width.value);
    let twin = plan.block.rows > 1;
    let canopy = (row - plan.clear_alley.value).max(0.4);
    let across = if twin { row } else { 0.0 } + canopy.min(row) + 0.4;
    let room = (area.width - em * 6.6, area.height - em * 7.4);
    if room.0 < em * 6.0 || room.1 < em * 5.0 {
        return None;
    }
    let held = match board.frame.scale {
        ScaleChoice::Hold(_, held) => held,
        _ => None,
    };
    // Two trees at least, and the middle of the picture between them.
    let crown = plan.canopy.shown.crown;
    let along_least = spacing + crown.width_along(crown.base).min(spacing);
    let scale = held.map_or((room.0 / across).min(room.1 / along_least), |held| held.scale);
    let first_row = if twin { -row / 2.0 } else { 0.0 };
    let centre = (area.left + em * 4.6 + room.0 / 2.0, area.top + em * 2.6 + room.1 / 2.0);
    let between = if run.trees > 1 { spacing / 2.0 * scale } else { 0.0 };
    let origin = (centre.0 + first_row * scale, centre.1 + between);
    let to = held.unwrap_or(Projection { scale, origin });
    let (top, foot) = (centre.1 - room.1 / 2.0, centre.1 + room.1 / 2.0);
    let shown = stretch(plan, run, ((to.origin.1 - foot) / scale, (to.origin.1 - top) / scale));
    let rows: &[f64] = if twin { &[0.0, row] } else { &[0.0] };
    let shapes = crowns_from_above(plan);
    let (mut bodies, mut trunks, mut lines, mut posts) = (Path::new(), Path::new(), Path::new(), Path::new());
    let trunk = (0.06 * scale).max(board.frame.weights[2]);
    let wired = scenario.support.has_wires();
    let post_radius = (scenario.line_post_diameter.value / 2.0 * scale).max(2.0 * board.frame.weights[0]);
    for x in rows {
        for (tree, along) in &shown.trees {
            bodies = with_crown(bodies, &shapes, *tree, (*x, *along), &to);
            trunks = trunks.circle(to.place(*x, *along), trunk);
        }
        lines = lines.line(to.place(*x, shown.low), to.place(*x, shown.high));
        if wired {
            let ends = [run.start, run.end];
            for post in run.line_posts.iter().chain(&ends).map(|post| post - shown.middle) {
                if post >= shown.low && post <= shown.high {
                    posts = posts.circle(to.place(*x, post), post_radius);
                }
            }
        }
    }
    let seen = Seen {
        left: -canopy / 2.0 - 0.2,
        right: if twin { row } else { 0.0 } + canopy / 2.0 + 0.2,
        low: shown.low,
        high: shown.high,
    };
    match (board.frame.light, board.frame.painters) {
        (Daylight::Season, Some(painters)) => (painters.detail_season)(board, plan, seen, &to),
        (Daylight::Hour, Some(painters)) => (painters.detail_shade)(board, plan, &shown, seen, &to),
        _ => {}
    }
    board.path(LayerName::Crowns, Ink::Crown, bodies.clone());
    board.path(LayerName::Crowns, Ink::CrownEdge, bodies);
    board.path(LayerName::Crowns, row_ink(plan), lines);
    board.path(LayerName::Trees, Ink::Trunk, trunks);
    board.path(LayerName::Trellis, Ink::Post, posts);
    let half_shape =
        (run.spacing / 2.0).min(plan.canopy.shown.crown.width_along(plan.canopy.shown.crown.base));
    let top = to.place(0.0, shown.high.max(shown.trees.last().map_or(0.0, |tree| tree.1 + half_shape))).1;
    let foot = to.place(0.0, shown.low.min(shown.trees.first().map_or(0.0, |tree| tree.1 - half_shape))).1;
    let heading = board.text(
        (
            (to.place(*rows.first()?, 0.0).0 + to.place(*rows.last()?, 0.0).0) / 2.0,
            top - em * 1.1 - post_radius,
        ),
        Anchor::Middle,
        Lettering::Note,
        "Detail, enlarged",
    );
    board.write(LayerName::Furniture, heading);
    if let Some([low, high]) = shown.trees.windows(2).find(|pair| pair.iter().all(|tree| tree.1 > -1e-9)) {
        let (y_low, y_high) = (to.place(0.0, low.1).1, to.place(0.0, high.1).1);
        let text = board.length(spacing);
        let centre_x = to.place(0.0, 0.0).0;
        let line_x = to.place(-canopy / 2.0, 0.0).0.min(centre_x) - em * 1.0;
        board.upright(y_high, y_low, line_x, (centre_x, centre_x), &text);
        board.handle(Handle {
            parameter: "in_row_spacing",
            item: None,
            label: "In-row spacing".to_owned(),
            at: (centre_x, y_high),
            grows: (0.0, -1.0),
            per_unit: 1.0 / scale,
            value: spacing,
        });
    }
    if twin {
        let x = |metres: f64| to.place(metres, 0.0).0;
        let lane = board.lane();
        let alley = board.length(plan.clear_alley.value);
        // Where the alley is too narrow for its figure, the cross-section gives it.
        if plan.clear_alley.value * scale > (ems(&alley) + 0.5) * em {
            board.across(x(canopy / 2.0), x(row - canopy / 2.0), foot + lane, (foot, foot), &alley);
        }
        let text = board.length(row);
        board.across(x(0.0), x(row), foot + 2.0 * lane, (foot, foot), &text);
        board.handle(Handle {
            parameter: "row_width",
            item: None,
            label: "Row width".to_owned(),
            at: to.place(row, shown.trees.first().map_or(0.0, |tree| tree.1)),
            grows: (1.0, 0.0),
            per_unit: 1.0 / scale,
            value: row,
        });
    }
    board.keep_clear(Bounds { left: area.left, top, right: area.left, bottom: foot });
    Some(to)
}
