//! The row elevation: a row seen from the alley, from the end assembly to a break line or the far end.
//!
//! ```text
//!    x . . \|--o---o---o--|--o---o---o--|~   anchor, end post, trees, line posts, break line
//! ```

use super::overlay::{Demand, Overlay, Shown};
use super::section::wires_from_the_top;
use super::tree::{Filling, Side, Stem, draw_post, draw_trees};
use crate::board::furniture::FOOT_EMS;
use crate::board::geometry::{Direction, Point, Projection, Size, Span};
use crate::board::path::Path;
use crate::board::sheet::{Anchor, Handle, Ink, LayerName, Lettering, Sheet};
use crate::board::{Board, Frame, Pass, ScaleChoice};
use crate::measure::{Units, write};
use crate::view::View;
use planting::{EndAssembly, Ground, PostedRun, Quantity, Support};

/// Room beside the picture, in ems.
const LEFT: f64 = 1.2;
const RIGHT: f64 = 6.4;
const ABOVE: f64 = 1.2;
const BELOW: f64 = 4.6;

/// What is seen of the row, in metres along it from the first end post.
#[derive(Clone, Copy)]
struct RowShown {
    along: Span,
    up: Span,
    /// Whether the row goes on beyond the right edge.
    broken: bool,
}

/// From the lowest thing shown to the highest, the ground being at 0 `[m]`.
fn vertical(plan: &Ground) -> Span {
    let scenario = &plan.scenario;
    let wired = scenario.trellis.support.has_wires();
    let posts = if wired || scenario.trellis.support == Support::PostPerTree {
        scenario.trellis.post_height().value
    } else {
        0.0
    };
    let wire = scenario.trellis.top_wire().map_or(0.0, |wire| wire.value);
    let up = scenario.canopy.tree_height.value.max(posts).max(wire) + 0.1;
    let down = if posts > 0.0 { scenario.trellis.post_embedment.value + 0.15 } else { 0.5 };
    Span::new(-down, up)
}

fn beyond_end(run: &PostedRun) -> f64 {
    run.anchor_distance.map_or(0.4, |distance| distance.value + 1.1)
}

/// The least of a row worth showing: the end and the first bay, or a few trees.
fn least_shown(run: &PostedRun) -> f64 {
    let bay = run.line_posts.first().map_or(run.length(), |post| post - run.start);
    let trees = run.first_tree - run.start + run.spacing * 2.6;
    (bay + run.spacing * 0.6).max(trees).min(run.length())
}

fn row_shown(plan: &Ground, run: &PostedRun, scale: f64, room: f64) -> RowShown {
    let left = -beyond_end(run);
    let whole = run.length() + beyond_end(run);
    let fits = room / scale;
    let broken = whole - left > fits;
    let right = if broken {
        (fits + left).min(run.length() - run.spacing * 0.4).max(run.spacing * 0.6)
    } else {
        whole
    };
    RowShown { along: Span::new(left, right), up: vertical(plan), broken }
}

/// The least ground the elevation needs, and the paper beside it.
pub(crate) fn demand(plan: &Ground, over: &dyn Overlay) -> Demand {
    let wide = plan.trellis.runs.first().map_or(1.0, |run| {
        let (least, whole) = (beyond_end(run) + least_shown(run), run.length() + 2.0 * beyond_end(run));
        // A row hardly longer than that is shown with both its ends.
        if whole < 2.2 * least { whole } else { least }
    });
    let asks = over.asks(View::Elevation);
    Demand {
        ground: Size::new(wide, vertical(plan).length()),
        beside: Size::new(LEFT + RIGHT, (ABOVE + asks.above) + (BELOW + FOOT_EMS + asks.below)),
    }
}

/// Draws the row elevation with what a room adds to it.
pub fn draw(plan: &Ground, frame: Frame, over: &dyn Overlay) -> Sheet {
    let em = frame.lettering;
    let asks = over.asks(View::Elevation);
    let Demand { ground: least, beside } = demand(plan, over);
    let room = frame.beside(beside);
    let scale = match frame.scale {
        ScaleChoice::Hold(held) => held.main.scale,
        ScaleChoice::Ratio(ratio) => 1000.0 / ratio,
        ScaleChoice::Fit => room.enlarges(least).max(0.5),
    };
    let mut board = Board::new(frame);
    let Some(run) = plan.trellis.runs.first() else {
        let to = Projection { scale, origin: Point::new(0.0, frame.height / 2.0) };
        return board.finish(View::Elevation, "No row fits the field.".to_owned(), to, None);
    };
    let seen = row_shown(plan, run, scale, room.width);
    let spare = Size::new(
        (room.width - seen.along.length() * scale) / 2.0,
        (room.height - least.height * scale) / 2.0,
    );
    let to = match frame.scale {
        ScaleChoice::Hold(held) => held.main,
        _ => Projection {
            scale,
            origin: Point::new(
                LEFT * em + spare.width.max(0.0) - seen.along.from * scale,
                (ABOVE + asks.above) * em + spare.height.max(0.0) + seen.up.to * scale,
            ),
        },
    };
    ground(&mut board, &seen, &to);
    over.elevation(&mut board, plan, &Shown { across: seen.along, up: seen.up, to });
    trees(&mut board, plan, run, &seen, Filling::under(asks.fills), &to);
    trellis(&mut board, plan, run, &seen, &to);
    for pass in Pass::BOTH {
        board.pass = pass;
        dimensions(&mut board, plan, run, &seen, &to);
    }
    handles(&mut board, plan, run, &seen, &to);
    let title = match plan.block.rows {
        1 => "Row elevation".to_owned(),
        rows => format!("Row elevation, row 1 of {rows}"),
    };
    over.key(&mut board, plan, View::Elevation);
    board.title_and_bar(
        &title,
        to.scale,
        Span::new(em * 0.6, frame.width - em * 0.6),
        frame.height - em * 0.2,
    );
    let description = describe(plan, run, board.units());
    board.finish(View::Elevation, description, to, None)
}

fn describe(plan: &Ground, run: &PostedRun, units: Units) -> String {
    let length = |value: f64| write(value, Quantity::Length, units);
    let heights: Vec<String> = if run.wired {
        plan.scenario.trellis.wire_heights.iter().map(|wire| length(wire.value)).collect()
    } else {
        Vec::new()
    };
    let trellis = if run.wired {
        format!(
            "wires at {}; posts up to {} apart, {} deep in the ground; row ends: {}",
            heights.join(", "),
            length(run.longest_bay()),
            length(plan.scenario.trellis.post_embedment.value),
            match plan.scenario.trellis.end_assembly {
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

fn ground(board: &mut Board, seen: &RowShown, to: &Projection) {
    let left = to.paper(seen.along.from, 0.0);
    let foot = to.paper(seen.along.to, seen.up.from);
    let right = Point::new(foot.x, left.y);
    board.path(LayerName::Ground, Ink::Soil, Path::new().rectangle(left, foot));
    board.path(LayerName::Ground, Ink::Ground, Path::new().line(left, right));
    if seen.broken {
        let top = to.paper(0.0, seen.up.to).y;
        board.break_line(foot.x, Span::new(top, foot.y));
    }
}

/// What stands less than this beyond the edge of the picture counts as inside it `[m]`: rounding of
/// places along a row.
const AT_THE_EDGE: f64 = 1e-6;

/// Places along the row, from the first end post, that lie in what is seen.
fn in_view<'a>(
    places: impl Iterator<Item = f64> + 'a,
    run: &'a PostedRun,
    seen: &'a RowShown,
) -> impl Iterator<Item = f64> + 'a {
    places.map(|along| along - run.start).filter(|x| *x <= seen.along.to + AT_THE_EDGE)
}

fn trees(
    board: &mut Board,
    plan: &Ground,
    run: &PostedRun,
    seen: &RowShown,
    filling: Filling,
    to: &Projection,
) {
    // Narrower than a few pixels a tree is no longer a tree; a hundred stems are plenty for one picture.
    let most = 240;
    let half = plan.canopy.shown.crown.width_along(plan.canopy.shown.crown.base) / 2.0;
    let stems: Vec<Stem> = in_view((0..run.trees.min(most)).map(|tree| run.tree(tree)), run, seen)
        .filter(|x| !seen.broken || x + half.min(run.spacing * 0.35) <= seen.along.to)
        .map(Stem::upright)
        .collect();
    if matches!(plan.scenario.trellis.support, Support::WiresAndStakes | Support::PostPerTree) {
        stakes(board, plan, &stems, to);
    }
    draw_trees(board, plan, Side::AlongTheRow, &stems, filling, to);
    let kept = plan.scenario.canopy.tree_height.value;
    if plan.canopy.shown.crown.top < kept {
        let right = seen.along.to.min(run.length());
        let line = Path::new().line(to.paper(0.0, kept), to.paper(right, kept));
        board.path(LayerName::Crowns, Ink::Space, line);
    }
}

fn stakes(board: &mut Board, plan: &Ground, stems: &[Stem], to: &Projection) {
    let scenario = &plan.scenario;
    if scenario.trellis.support == Support::PostPerTree {
        for stem in stems {
            let levels =
                Span::new(-scenario.trellis.post_embedment.value, scenario.trellis.post_height().value);
            let beside = Stem::upright(stem.foot + 0.12);
            draw_post(board, beside, levels, scenario.trellis.line_post_diameter.value * 0.6, to);
        }
        return;
    }
    let top = scenario.trellis.top_wire().map_or(scenario.canopy.tree_height.value, |wire| wire.value);
    let mut path = Path::new();
    for stem in stems {
        let x = stem.foot + 0.06;
        path = path.line(to.paper(x, -0.3), to.paper(x, top));
    }
    board.path(LayerName::Trees, Ink::Stake, path);
}

fn end_slope(plan: &Ground) -> f64 {
    match plan.scenario.trellis.end_assembly {
        EndAssembly::TieBack => plan.scenario.trellis.end_post_lean.value.tan(),
        EndAssembly::HBrace => 0.0,
    }
}

fn trellis(board: &mut Board, plan: &Ground, run: &PostedRun, seen: &RowShown, to: &Projection) {
    if !run.wired {
        return;
    }
    let scenario = &plan.scenario;
    let (top, depth) = (scenario.trellis.post_height().value, scenario.trellis.post_embedment.value);
    let slope = end_slope(plan);
    let far = run.length();
    let mut wires = Path::new();
    for height in &scenario.trellis.wire_heights {
        let z = height.value;
        let right = if seen.broken { seen.along.to } else { far + slope * z };
        wires = wires.line(to.paper(-slope * z, z), to.paper(right, z));
    }
    for x in in_view(run.line_posts.iter().copied(), run, seen) {
        let levels = Span::new(-depth, top);
        draw_post(board, Stem::upright(x), levels, scenario.trellis.line_post_diameter.value, to);
    }
    end(board, plan, run, 0.0, -1.0, to);
    if !seen.broken {
        end(board, plan, run, far, 1.0, to);
    }
    board.path(LayerName::Trellis, Ink::Wire, wires);
}

/// One row end at `x`; `out` is −1 on the left and 1 on the right.
fn end(board: &mut Board, plan: &Ground, run: &PostedRun, x: f64, out: f64, to: &Projection) {
    let scenario = &plan.scenario;
    let (top, depth) = (scenario.trellis.post_height().value, scenario.trellis.post_embedment.value);
    let (levels, diameter) = (Span::new(-depth, top), scenario.trellis.end_post_diameter.value);
    draw_post(board, Stem { foot: x, slope: out * end_slope(plan) }, levels, diameter, to);
    if let Some(distance) = run.anchor_distance.map(|distance| distance.value) {
        let attached = planting::trellis::guy_attachment(&scenario.trellis);
        let (toward, height) = (attached.toward.value, attached.height.value);
        let anchor = to.paper(x + out * distance, 0.0);
        let attachment = to.paper(x + out * toward, height);
        // The rod goes on in the line of the guy, with a plate at its end.
        let (run_x, run_y) = (distance - toward, height);
        let length = run_x.hypot(run_y).max(SHORTEST_GUY);
        let foot = to.paper(x + out * (distance + ROD * run_x / length), -ROD * run_y / length);
        let plate = board.em() * 0.35;
        let (right, down) = (out * (run_y / length * plate), out * (out * run_x / length * plate));
        board.path(LayerName::Trellis, Ink::Anchor, Path::new().line(attachment, anchor));
        let buried = Path::new().line(anchor, foot).line(foot.moved(-right, down), foot.moved(right, -down));
        board.path(LayerName::Trellis, Ink::Hidden, buried);
    }
    if let Some(span) = run.brace_span.map(|span| span.value) {
        let inner = x - out * span;
        draw_post(board, Stem::upright(inner), levels, diameter, to);
        let rail = top * RAIL_HEIGHT;
        let rails = Path::new().line(to.paper(x, rail), to.paper(inner, rail));
        board.path(LayerName::Trellis, Ink::Anchor, rails);
        board.path(LayerName::Trellis, Ink::Wire, Path::new().line(to.paper(inner, rail), to.paper(x, 0.1)));
    }
}

/// Length of an anchor's rod in the ground `[m]`: four feet (common practice, no source).
const ROD: f64 = 1.2;

/// A guy is taken to be at least so long `[m]`: nobody ties one to its own anchor, but a field may say so
/// while it is typed.
const SHORTEST_GUY: f64 = 1e-6;

/// Height of a brace rail as a part of the post's (published example: a rail at 7 ft on a post 9 ft high).
const RAIL_HEIGHT: f64 = 7.0 / 9.0;

fn dimensions(board: &mut Board, plan: &Ground, run: &PostedRun, seen: &RowShown, to: &Projection) {
    let lane = board.lane();
    let ground_y = to.paper(0.0, 0.0).y;
    let bottom = to.paper(0.0, seen.up.from).y;
    let (first, second) = (bottom + lane, bottom + 2.0 * lane);
    let x = |metres: f64| to.paper(metres, 0.0).x;
    if let Some(distance) = run.anchor_distance.map(|distance| distance.value) {
        let text = board.length(distance);
        board.measuring("anchor_distance", None, |board| {
            board.across(Span::new(x(-distance), x(0.0)), second, ground_y, &text);
        });
    }
    let mut last = 0.0;
    let ends = if seen.broken { None } else { Some(run.length()) };
    for post in in_view(run.line_posts.iter().copied(), run, seen).chain(ends).take(8) {
        if run.wired || ends.is_none() {
            let text = board.length(post - last);
            board.measuring("post_interval", None, |board| {
                board.across(Span::new(x(last), x(post)), second, ground_y, &text);
            });
        }
        last = post;
    }
    if run.trees > 1 {
        // Not at the very end, where the first dimension belongs to the end bay.
        let tree = if run.trees > 3 && run.tree(3) - run.start <= seen.along.to { 2 } else { 0 };
        let (from, to_tree) = (run.tree(tree) - run.start, run.tree(tree + 1) - run.start);
        if to_tree <= seen.along.to {
            let text = board.length(run.spacing);
            board.measuring("in_row_spacing", None, |board| {
                board.across(Span::new(x(from), x(to_tree)), first, ground_y, &text);
            });
        }
    }
    wire_heights(board, plan, run, seen, to);
    if run.anchor_distance.is_some() {
        board.measuring("end_post_lean", None, |board| lean(board, plan, to));
    }
}

/// Heights of the wires, on one line on the right.
fn wire_heights(board: &mut Board, plan: &Ground, run: &PostedRun, seen: &RowShown, to: &Projection) {
    if !run.wired {
        return;
    }
    let em = board.em();
    let ground_y = to.paper(0.0, 0.0).y;
    let right = to.paper(seen.along.to, 0.0).x;
    let wires = wires_from_the_top(plan);
    let Some((_, top)) = wires.first() else { return };
    let line_x = right + em * 0.9;
    let foot = Point::new(line_x, ground_y);
    board.measuring("", None, |board| {
        board.thin_line(foot, Point::new(line_x, to.paper(0.0, *top).y));
        board.thin_line(Point::new(right + em * 0.2, ground_y), foot);
        board.path(LayerName::Dimensions, Ink::Dimension, Path::new().circle(foot, em * 0.16));
    });
    for (item, height) in wires {
        let y = to.paper(0.0, height).y;
        board.measuring("wire_heights", Some(item), |board| {
            board.thin_line(Point::new(right + em * 0.2, y), Point::new(line_x + em * 0.3, y));
            let at = Point::new(line_x + em * 0.55, y);
            let label = board.text(at, Anchor::Start, board.dimension_lettering(), board.length(height));
            board.write(LayerName::Dimensions, label);
        });
    }
}

/// How far the end post leans, beside its top.
fn lean(board: &mut Board, plan: &Ground, to: &Projection) {
    let em = board.em();
    let trellis = &plan.scenario.trellis;
    let lean = write(trellis.end_post_lean.value, Quantity::Angle, board.units());
    let height = trellis.post_height().value;
    let top = to.paper(-end_slope(plan) * height, height);
    let lettering = if board.pass == Pass::Lit { Lettering::Lit } else { Lettering::Note };
    // Clear of the hand that may hold the post's top.
    let note = |right: f64, down: f64, anchor| {
        board.text(top.moved(right * em, down * em), anchor, lettering, format!("lean {lean}"))
    };
    let places = [note(0.0, -1.7, Anchor::Middle), note(-2.2, 0.0, Anchor::End)];
    board.write_first(LayerName::Dimensions, places);
}

fn handles(board: &mut Board, plan: &Ground, run: &PostedRun, seen: &RowShown, to: &Projection) {
    let scenario = &plan.scenario;
    let (left, right, up) = (Direction::LEFT, Direction::RIGHT, Direction::UP);
    let one = 1.0 / to.scale;
    let mut add = |parameter: &'static str, item, label: String, at, grows, per_unit, value| {
        board.handle(Handle { parameter, item, label, at, grows, per_unit, value });
    };
    let plain = str::to_owned;
    if run.trees > 1 {
        let second = run.tree(1) - run.start;
        if second <= seen.along.to {
            add(
                "in_row_spacing",
                None,
                plain("In-row spacing"),
                to.paper(second, 0.0),
                right,
                one,
                run.spacing,
            );
        }
    }
    let leader =
        (0..run.trees).rev().map(|tree| run.tree(tree) - run.start).find(|x| *x <= seen.along.to * 0.55);
    let leader = leader.unwrap_or(run.first_tree - run.start);
    let height = scenario.canopy.tree_height.value;
    add("tree_height", None, plain("Tree height kept"), to.paper(leader, height), up, one, height);
    if !run.wired {
        return;
    }
    let post = run.line_posts.first().map(|post| post - run.start).filter(|x| *x <= seen.along.to);
    let last_tree = run.tree(run.trees.saturating_sub(1)) - run.start;
    let wire_x =
        post.unwrap_or(if seen.broken { seen.along.to * 0.8 } else { (last_tree + run.length()) / 2.0 });
    for (item, wire) in scenario.trellis.wire_heights.iter().enumerate() {
        let at = to.paper(wire_x, wire.value);
        add("wire_heights", Some(item), format!("Height of wire {}", item + 1), at, up, one, wire.value);
    }
    if let Some(post) = post {
        let depth = scenario.trellis.post_embedment.value;
        add(
            "post_interval",
            None,
            plain("Longest post interval"),
            to.paper(post, -depth * 0.5),
            right,
            one,
            scenario.trellis.post_interval.value,
        );
    }
    if let Some(distance) = run.anchor_distance.map(|distance| distance.value) {
        add("anchor_distance", None, plain("Anchor distance"), to.paper(-distance, 0.0), left, one, distance);
        let top = scenario.trellis.post_height().value;
        let at = to.paper(-end_slope(plan) * top, top);
        add(
            "end_post_lean",
            None,
            plain("End post lean"),
            at,
            left,
            one / top.max(0.5),
            scenario.trellis.end_post_lean.value,
        );
    }
    if let Some(span) = run.brace_span.map(|span| span.value) {
        add(
            "brace_span",
            None,
            plain("H-brace span"),
            to.paper(span, 0.0),
            right,
            one,
            scenario.trellis.brace_span.value,
        );
    }
}
