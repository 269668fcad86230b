//! The row elevation: a row seen from the alley, from the end assembly to a break line or the far end.
//!
//! ```text
//!    x . . \|--o---o---o--|--o---o---o--|~   anchor, end post, trees, line posts, break line
//! ```

use crate::board::{Board, Frame, ScaleChoice};
use crate::furniture::FOOT_EMS;
use crate::measure::{Units, write};
use crate::path::Path;
use crate::sheet::{Anchor, Handle, Ink, LayerName, Lettering, Projection, Sheet, View};
use crate::tree::{Seen, draw_post, draw_trees};
use planting::order::sort_by;
use planting::{EndAssembly, Plan, Quantity, Run, Support};

/// Room beside the picture, in ems.
const LEFT: f64 = 1.2;
const RIGHT: f64 = 6.4;
const ABOVE: f64 = 1.2;
const BELOW: f64 = 4.6;

/// What is seen of the row, in metres along it from the first end post.
struct Stretch {
    left: f64,
    right: f64,
    up: f64,
    down: f64,
    /// Whether the row goes on beyond the right edge.
    broken: bool,
}

fn vertical(plan: &Plan) -> (f64, f64) {
    let scenario = &plan.scenario;
    let wired = scenario.support.has_wires();
    let posts =
        if wired || scenario.support == Support::PostPerTree { scenario.post_height().value } else { 0.0 };
    let wire = scenario.top_wire().map_or(0.0, |wire| wire.value);
    let up = scenario.tree_height.value.max(posts).max(wire) + 0.1;
    (up, if posts > 0.0 { scenario.post_embedment.value + 0.15 } else { 0.5 })
}

fn beyond_end(run: &Run) -> f64 {
    run.anchor_distance.map_or(0.4, |distance| distance + 1.1)
}

/// The least stretch worth showing: the end and the first bay, or a few trees.
fn least_stretch(run: &Run) -> f64 {
    let bay = run.line_posts.first().map_or(run.length(), |post| post - run.start);
    let trees = run.first_tree - run.start + run.spacing * 2.6;
    (bay + run.spacing * 0.6).max(trees).min(run.length())
}

fn stretch(plan: &Plan, run: &Run, scale: f64, room: f64) -> Stretch {
    let (up, down) = vertical(plan);
    let left = -beyond_end(run);
    let whole = run.length() + beyond_end(run);
    let seen = room / scale;
    let broken = whole - left > seen;
    let right = if broken {
        (seen + left).min(run.length() - run.spacing * 0.4).max(run.spacing * 0.6)
    } else {
        whole
    };
    Stretch { left, right, up, down, broken }
}

/// Least width of ground the elevation needs, and its height, and the paper beside it in ems.
pub(crate) fn demand(plan: &Plan) -> ((f64, f64), (f64, f64)) {
    let (up, down) = vertical(plan);
    let wide = plan.block.runs.first().map_or(1.0, |run| {
        let (least, whole) = (beyond_end(run) + least_stretch(run), run.length() + 2.0 * beyond_end(run));
        // A row hardly longer than that is shown with both its ends.
        if whole < 2.2 * least { whole } else { least }
    });
    ((wide, up + down), (LEFT + RIGHT, ABOVE + BELOW + FOOT_EMS))
}

/// Draws the row elevation.
pub fn draw(plan: &Plan, frame: Frame) -> Sheet {
    let em = frame.lettering;
    let room = (frame.width - (LEFT + RIGHT) * em, frame.height - (ABOVE + BELOW + FOOT_EMS) * em);
    let ((least, high), _) = demand(plan);
    let scale = match frame.scale {
        ScaleChoice::Hold(held, _) => held.scale,
        ScaleChoice::Ratio(ratio) => 1000.0 / ratio,
        ScaleChoice::Fit => (room.0 / least).min(room.1 / high).max(0.5),
    };
    let mut board = Board::new(frame);
    let Some(run) = plan.block.runs.first() else {
        let to = Projection { scale, origin: (0.0, frame.height / 2.0) };
        return board.finish(View::Elevation, "No row fits the field.".to_owned(), to, None);
    };
    let seen = stretch(plan, run, scale, room.0);
    let spare = ((room.0 - (seen.right - seen.left) * scale) / 2.0, (room.1 - high * scale) / 2.0);
    let to = match frame.scale {
        ScaleChoice::Hold(held, _) => held,
        _ => Projection {
            scale,
            origin: (
                LEFT * em + spare.0.max(0.0) - seen.left * scale,
                ABOVE * em + spare.1.max(0.0) + seen.up * scale,
            ),
        },
    };
    ground(&mut board, &seen, &to);
    trees(&mut board, plan, run, &seen, &to);
    trellis(&mut board, plan, run, &seen, &to);
    dimensions(&mut board, plan, run, &seen, &to);
    handles(&mut board, plan, run, &seen, &to);
    let title = match plan.block.rows {
        1 => "Row elevation".to_owned(),
        rows => format!("Row elevation, row 1 of {rows}"),
    };
    board.title_and_bar(&title, to.scale, (em * 0.6, frame.width - em * 0.6), frame.height - em * 0.2);
    let description = describe(plan, run, board.units());
    board.finish(View::Elevation, description, to, None)
}

fn describe(plan: &Plan, run: &Run, units: Units) -> String {
    let length = |value: f64| write(value, Quantity::Length, units);
    let heights: Vec<String> = if run.wired {
        plan.scenario.wire_heights.iter().map(|wire| length(wire.value)).collect()
    } else {
        Vec::new()
    };
    let trellis = if run.wired {
        format!(
            "wires at {}; posts up to {} apart, {} deep in the ground; row ends: {}",
            heights.join(", "),
            length(run.longest_bay()),
            length(plan.scenario.post_embedment.value),
            match plan.scenario.end_assembly {
                EndAssembly::TieBack => "tie-back to an anchor",
                EndAssembly::HBrace => "H-brace",
            },
        )
    } else {
        "no wires".to_owned()
    };
    format!(
        "Elevation of a row {} long with {} trees every {}; {trellis}.",
        length(run.length()),
        run.trees,
        length(run.spacing)
    )
}

fn ground(board: &mut Board, seen: &Stretch, to: &Projection) {
    let (left, level) = to.place(seen.left, 0.0);
    let (right, bottom) = to.place(seen.right, -seen.down);
    board.path(LayerName::Ground, Ink::Soil, Path::new().rectangle((left, level), (right, bottom)));
    board.path(LayerName::Ground, Ink::Ground, Path::new().line((left, level), (right, level)));
    if seen.broken {
        let top = to.place(0.0, seen.up).1;
        board.break_line(right, top, bottom);
    }
}

/// Places along the row, from the first end post, that lie in what is seen.
fn in_view<'a>(
    places: impl Iterator<Item = f64> + 'a,
    run: &'a Run,
    seen: &'a Stretch,
) -> impl Iterator<Item = f64> + 'a {
    places.map(|along| along - run.start).filter(|x| *x <= seen.right + 1e-6)
}

fn trees(board: &mut Board, plan: &Plan, run: &Run, seen: &Stretch, to: &Projection) {
    // Narrower than a few pixels a tree is no longer a tree; a hundred stems are plenty for one picture.
    let most = 240;
    let half = plan.canopy.shown.crown.width_along(plan.canopy.shown.crown.base) / 2.0;
    let stems: Vec<(f64, f64)> = in_view((0..run.trees.min(most)).map(|tree| run.tree(tree)), run, seen)
        .filter(|x| !seen.broken || x + half.min(run.spacing * 0.35) <= seen.right)
        .map(|x| (x, 0.0))
        .collect();
    if matches!(plan.scenario.support, Support::WiresAndStakes | Support::PostPerTree) {
        stakes(board, plan, &stems, to);
    }
    draw_trees(board, plan, Seen::AlongTheRow, &stems, to);
    let kept = plan.scenario.tree_height.value;
    if plan.canopy.shown.crown.top < kept {
        let right = seen.right.min(run.length());
        let line = Path::new().line(to.place(0.0, kept), to.place(right, kept));
        board.path(LayerName::Crowns, Ink::Space, line);
    }
}

fn stakes(board: &mut Board, plan: &Plan, stems: &[(f64, f64)], to: &Projection) {
    let scenario = &plan.scenario;
    if scenario.support == Support::PostPerTree {
        for (x, _) in stems {
            let levels = (-scenario.post_embedment.value, scenario.post_height().value);
            draw_post(board, x + 0.12, 0.0, levels, scenario.line_post_diameter.value * 0.6, to);
        }
        return;
    }
    let top = scenario.top_wire().map_or(scenario.tree_height.value, |wire| wire.value);
    let mut path = Path::new();
    for (x, _) in stems {
        path = path.line(to.place(x + 0.06, -0.3), to.place(x + 0.06, top));
    }
    board.path(LayerName::Trees, Ink::Stake, path);
}

fn end_slope(plan: &Plan) -> f64 {
    match plan.scenario.end_assembly {
        EndAssembly::TieBack => plan.scenario.end_post_lean.value.tan(),
        EndAssembly::HBrace => 0.0,
    }
}

fn trellis(board: &mut Board, plan: &Plan, run: &Run, seen: &Stretch, to: &Projection) {
    if !run.wired {
        return;
    }
    let scenario = &plan.scenario;
    let (top, depth) = (scenario.post_height().value, scenario.post_embedment.value);
    let slope = end_slope(plan);
    let far = run.length();
    let mut wires = Path::new();
    for height in &scenario.wire_heights {
        let z = height.value;
        let right = if seen.broken { seen.right } else { far + slope * z };
        wires = wires.line(to.place(-slope * z, z), to.place(right, z));
    }
    for x in in_view(run.line_posts.iter().copied(), run, seen) {
        draw_post(board, x, 0.0, (-depth, top), scenario.line_post_diameter.value, to);
    }
    end(board, plan, run, 0.0, -1.0, to);
    if !seen.broken {
        end(board, plan, run, far, 1.0, to);
    }
    board.path(LayerName::Trellis, Ink::Wire, wires);
}

/// One row end at `x`; `out` is −1 on the left and 1 on the right.
fn end(board: &mut Board, plan: &Plan, run: &Run, x: f64, out: f64, to: &Projection) {
    let scenario = &plan.scenario;
    let (top, depth) = (scenario.post_height().value, scenario.post_embedment.value);
    let diameter = scenario.end_post_diameter.value;
    draw_post(board, x, out * end_slope(plan), (-depth, top), diameter, to);
    if let Some(distance) = run.anchor_distance {
        let (toward, height) = planting::trellis::guy_attachment(scenario);
        let (anchor_x, anchor_y) = to.place(x + out * distance, 0.0);
        let attachment = to.place(x + out * toward, height);
        // The rod goes on in the line of the guy, four feet into the ground, with a plate at its end.
        let (run_x, run_y) = (distance - toward, height);
        let length = run_x.hypot(run_y).max(1e-6);
        let rod = 1.2;
        let foot = to.place(x + out * (distance + rod * run_x / length), -rod * run_y / length);
        let plate = board.em() * 0.35;
        let across = (run_y / length * plate, out * run_x / length * plate);
        board.path(LayerName::Trellis, Ink::Anchor, Path::new().line(attachment, (anchor_x, anchor_y)));
        board.path(
            LayerName::Trellis,
            Ink::Hidden,
            Path::new().line((anchor_x, anchor_y), foot).line(
                (foot.0 - out * across.0, foot.1 + out * across.1),
                (foot.0 + out * across.0, foot.1 - out * across.1),
            ),
        );
    }
    if let Some(span) = run.brace_span {
        let inner = x - out * span;
        draw_post(board, inner, 0.0, (-depth, top), diameter, to);
        let rail = top * RAIL_SHARE;
        board.path(
            LayerName::Trellis,
            Ink::Anchor,
            Path::new().line(to.place(x, rail), to.place(inner, rail)),
        );
        board.path(LayerName::Trellis, Ink::Wire, Path::new().line(to.place(inner, rail), to.place(x, 0.1)));
    }
}

/// Height of a brace rail against the post (published example: a rail at 7 ft on a post 9 ft high).
const RAIL_SHARE: f64 = 7.0 / 9.0;

fn dimensions(board: &mut Board, plan: &Plan, run: &Run, seen: &Stretch, to: &Projection) {
    let em = board.em();
    let lane = board.lane();
    let ground_y = to.place(0.0, 0.0).1;
    let bottom = to.place(0.0, -seen.down).1;
    let (first, second) = (bottom + lane, bottom + 2.0 * lane);
    let x = |metres: f64| to.place(metres, 0.0).0;
    if let Some(distance) = run.anchor_distance {
        let text = board.length(distance);
        board.across(x(-distance), x(0.0), second, (ground_y, ground_y), &text);
    }
    let mut last = 0.0;
    let ends = if seen.broken { None } else { Some(run.length()) };
    for post in in_view(run.line_posts.iter().copied(), run, seen).chain(ends).take(8) {
        if run.wired || ends.is_none() {
            let text = board.length(post - last);
            board.across(x(last), x(post), second, (ground_y, ground_y), &text);
        }
        last = post;
    }
    if run.trees > 1 {
        // Not at the very end, where the first dimension belongs to the end bay.
        let tree = if run.trees > 3 && run.tree(3) - run.start <= seen.right { 2 } else { 0 };
        let (from, to_tree) = (run.tree(tree) - run.start, run.tree(tree + 1) - run.start);
        if to_tree <= seen.right {
            let text = board.length(run.spacing);
            board.across(x(from), x(to_tree), first, (ground_y, ground_y), &text);
        }
    }
    let right = x(seen.right);
    if run.wired {
        let mut heights: Vec<f64> = plan.scenario.wire_heights.iter().map(|wire| wire.value).collect();
        // The top wire first: where figures crowd, it keeps its own.
        sort_by(&mut heights, |a, b| b.total_cmp(a));
        if let Some(top) = heights.first() {
            let line_x = right + em * 0.9;
            board.thin_line((line_x, ground_y), (line_x, to.place(0.0, *top).1));
            board.thin_line((right + em * 0.2, ground_y), (line_x, ground_y));
            board.path(
                LayerName::Dimensions,
                Ink::Dimension,
                Path::new().circle((line_x, ground_y), em * 0.16),
            );
            for height in &heights {
                let y = to.place(0.0, *height).1;
                board.thin_line((right + em * 0.2, y), (line_x + em * 0.3, y));
                let label = board.text(
                    (line_x + em * 0.55, y),
                    Anchor::Start,
                    Lettering::Label,
                    board.length(*height),
                );
                board.write(LayerName::Dimensions, label);
            }
        }
        if run.anchor_distance.is_some() {
            let lean = write(plan.scenario.end_post_lean.value, Quantity::Angle, board.units());
            let top = to.place(
                -end_slope(plan) * plan.scenario.post_height().value,
                plan.scenario.post_height().value,
            );
            // Clear of the hand that may hold the post's top.
            let note = |right: f64, down: f64, anchor| {
                let at = (top.0 + right * em, top.1 + down * em);
                board.text(at, anchor, Lettering::Note, format!("lean {lean}"))
            };
            let places = [note(0.0, -1.7, Anchor::Middle), note(-2.2, 0.0, Anchor::End)];
            board.write_first(LayerName::Dimensions, places);
        }
    }
}

fn handles(board: &mut Board, plan: &Plan, run: &Run, seen: &Stretch, to: &Projection) {
    let scenario = &plan.scenario;
    let (left, right, up) = ((-1.0, 0.0), (1.0, 0.0), (0.0, -1.0));
    let one = 1.0 / to.scale;
    let mut add = |parameter: &'static str, item, label: String, at, grows, per_unit, value| {
        board.handle(Handle { parameter, item, label, at, grows, per_unit, value });
    };
    let plain = str::to_owned;
    if run.trees > 1 {
        let second = run.tree(1) - run.start;
        if second <= seen.right {
            add(
                "in_row_spacing",
                None,
                plain("In-row spacing"),
                to.place(second, 0.0),
                right,
                one,
                run.spacing,
            );
        }
    }
    let leader =
        (0..run.trees).rev().map(|tree| run.tree(tree) - run.start).find(|x| *x <= seen.right * 0.55);
    let leader = leader.unwrap_or(run.first_tree - run.start);
    let height = scenario.tree_height.value;
    add("tree_height", None, plain("Tree height kept"), to.place(leader, height), up, one, height);
    if !run.wired {
        return;
    }
    let post = run.line_posts.first().map(|post| post - run.start).filter(|x| *x <= seen.right);
    let last_tree = run.tree(run.trees.saturating_sub(1)) - run.start;
    let wire_x =
        post.unwrap_or(if seen.broken { seen.right * 0.8 } else { (last_tree + run.length()) / 2.0 });
    for (item, wire) in scenario.wire_heights.iter().enumerate() {
        let at = to.place(wire_x, wire.value);
        add("wire_heights", Some(item), format!("Height of wire {}", item + 1), at, up, one, wire.value);
    }
    if let Some(post) = post {
        let depth = scenario.post_embedment.value;
        add(
            "post_interval",
            None,
            plain("Longest post interval"),
            to.place(post, -depth * 0.5),
            right,
            one,
            scenario.post_interval.value,
        );
    }
    if let Some(distance) = run.anchor_distance {
        add("anchor_distance", None, plain("Anchor distance"), to.place(-distance, 0.0), left, one, distance);
        let top = scenario.post_height().value;
        let at = to.place(-end_slope(plan) * top, top);
        add(
            "end_post_lean",
            None,
            plain("End post lean"),
            at,
            left,
            one / top.max(0.5),
            scenario.end_post_lean.value,
        );
    }
    if let Some(span) = run.brace_span {
        add(
            "brace_span",
            None,
            plain("H-brace span"),
            to.place(span, 0.0),
            right,
            one,
            scenario.brace_span.value,
        );
    }
}
