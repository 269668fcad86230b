//! The cross-section: two rows and the alley between them, seen along the rows.
//!
//! ```text
//!          |  /\          /\   |    heights of the wires on the left; lowest branches, tree
//!          | /##\  [__]  /##\ ||    and post on the right, the lower the nearer,
//!    ------+--||---o--o---||----    canopy, alley and row width below
//! ```

use super::overlay::{Demand, Overlay, Shown};
use super::tree::{Filling, Side, Stem, TRACTOR_HEIGHT, draw_post, draw_tractor, draw_trees, slopes};
use crate::board::furniture::FOOT_EMS;
use crate::board::geometry::{Direction, Point, Projection, Size, Span};
use crate::board::path::Path;
use crate::board::sheet::{Anchor, Handle, Ink, LayerName, Lettering, Sheet, ems};
use crate::board::{Board, Frame, Pass, ScaleChoice};
use crate::measure::{Units, rounded, write, write_figure};
use crate::view::View;
use planting::order::sort_by;
use planting::{Certainty, Ground, Quantity};

fn rows(plan: &Ground) -> Vec<f64> {
    if plan.block.rows > 1 { vec![0.0, plan.scenario.block.row_width.value] } else { vec![0.0] }
}

/// What the section shows, in metres: rows stand at 0 and one row width to the right, the ground is at 0.
#[derive(Clone, Copy)]
struct Extent {
    across: Span,
    up: Span,
}

impl Extent {
    fn size(self) -> Size {
        Size::new(self.across.length(), self.up.length())
    }
}

fn extent(plan: &Ground, over: &dyn Overlay) -> Extent {
    let scenario = &plan.scenario;
    let row = scenario.block.row_width.value;
    let canopy = (row - plan.canopy.clear_alley().value).max(0.3);
    let wired = scenario.trellis.support.has_wires();
    let posts = if wired { scenario.trellis.post_height().value } else { 0.0 };
    let wire = scenario.trellis.top_wire().map_or(0.0, |wire| wire.value);
    let side = (canopy / 2.0 + 0.25).min(row * 0.5 + 0.3);
    let right = if plan.block.rows > 1 { row + side } else { row / 2.0 + 0.15 };
    let left = if plan.block.rows > 1 { -side } else { -row / 2.0 - 0.15 };
    let up = scenario.canopy.tree_height.value.max(posts).max(wire).max(TRACTOR_HEIGHT + 0.4);
    let down = match over.asks(View::Section).above_ground {
        true => 0.3,
        false if wired => scenario.trellis.post_embedment.value + 0.15,
        false => 0.5,
    };
    Extent { across: Span::new(left, right), up: Span::new(-down, up) }
}

/// Room beside the picture, in ems: left, right, above, below.
const LEFT: f64 = 5.4;
const RIGHT: f64 = 8.2;
/// The dimension lines on the right, from the picture outwards, in ems.
const RIGHT_LANES: [f64; 3] = [0.9, 3.6, 6.3];
const ABOVE: f64 = 1.2;
const BELOW: f64 = 4.6;

fn projection(plan: &Ground, frame: &Frame, over: &dyn Overlay) -> Projection {
    if let ScaleChoice::Hold(held) = frame.scale {
        return held.main;
    }
    let extent = extent(plan, over);
    let em = frame.lettering;
    let room = frame.beside(demand(plan, over).beside);
    let ground = extent.size();
    let scale = match frame.scale {
        ScaleChoice::Ratio(ratio) => 1000.0 / ratio,
        _ => room.enlarges(ground).max(0.5),
    };
    let spare =
        Size::new((room.width - ground.width * scale) / 2.0, (room.height - ground.height * scale) / 2.0);
    Projection {
        scale,
        origin: Point::new(
            LEFT * em + spare.width - extent.across.from * scale,
            (ABOVE + over.asks(View::Section).above) * em + spare.height + extent.up.to * scale,
        ),
    }
}

/// The ground the section needs, and the paper beside it: dimensions, title, what an overlay asks for.
pub(crate) fn demand(plan: &Ground, over: &dyn Overlay) -> Demand {
    let asks = over.asks(View::Section);
    let beside = Size::new(LEFT + RIGHT, (ABOVE + asks.above) + (BELOW + FOOT_EMS + asks.below));
    Demand { ground: extent(plan, over).size(), beside }
}

/// Draws the cross-section with what a room adds to it.
pub fn draw(plan: &Ground, frame: Frame, over: &dyn Overlay) -> Sheet {
    let to = projection(plan, &frame, over);
    let asks = over.asks(View::Section);
    let extent = extent(plan, over);
    let posts_below = plan.scenario.trellis.support.has_wires() && !asks.above_ground;
    let mut board = Board::new(frame);
    ground(&mut board, extent, &to);
    // Before the overlay, whose figures can stand elsewhere.
    handles(&mut board, plan, posts_below, &to);
    over.section(&mut board, plan, &Shown { across: extent.across, up: extent.up, to });
    trees(&mut board, plan, Filling::under(asks.fills), &to);
    trellis(&mut board, plan, posts_below, &to);
    if plan.block.rows > 1 {
        draw_tractor(
            &mut board,
            plan.scenario.block.row_width.value / 2.0,
            plan.scenario.block.tractor_width.value,
            &to,
        );
    }
    for pass in Pass::BOTH {
        board.pass = pass;
        wire_heights(&mut board, plan, extent, asks.fills, &to);
        heights(&mut board, plan, extent, posts_below, &to);
        widths(&mut board, plan, extent, &to);
    }
    let em = board.em();
    let title = format!("Cross-section, year {}", rounded(plan.scenario.canopy.year, 1));
    over.key(&mut board, plan, View::Section);
    board.title_and_bar(
        &title,
        to.scale,
        Span::new(em * 0.6, frame.width - em * 0.6),
        frame.height - em * 0.2,
    );
    let description = describe(plan, board.units());
    board.finish(View::Section, description, to, None)
}

fn describe(plan: &Ground, units: Units) -> String {
    let length = |value: f64| write(value, Quantity::Length, units);
    let shown = &plan.canopy.shown;
    format!(
        "Cross-section across the rows in year {}: trees {} high, crowns {} wide at the base, rows {} apart, clear alley {} for a tractor {} wide, {} wires.",
        rounded(shown.year, 1),
        length(shown.crown.top),
        length(shown.width_across.value),
        length(plan.scenario.block.row_width.value),
        length(plan.canopy.clear_alley().value),
        length(plan.scenario.block.tractor_width.value),
        plan.trellis.wires,
    )
}

fn ground(board: &mut Board, extent: Extent, to: &Projection) {
    let left = to.paper(extent.across.from - 0.1, 0.0);
    let foot = to.paper(extent.across.to + 0.1, extent.up.from);
    let right = Point::new(foot.x, left.y);
    board.path(LayerName::Ground, Ink::Soil, Path::new().rectangle(left, foot));
    board.path(LayerName::Ground, Ink::Ground, Path::new().line(left, right));
}

fn stems(plan: &Ground) -> Vec<Stem> {
    let mut stems = Vec::new();
    for foot in rows(plan) {
        for slope in slopes(plan) {
            stems.push(Stem { foot, slope });
        }
    }
    stems
}

fn trees(board: &mut Board, plan: &Ground, filling: Filling, to: &Projection) {
    draw_trees(board, plan, Side::AcrossTheRow, &stems(plan), filling, to);
    if plan.block.rows == 1 {
        let half = plan.scenario.block.row_width.value / 2.0;
        let up = plan.scenario.canopy.tree_height.value;
        let edges = [-half, half]
            .into_iter()
            .fold(Path::new(), |path, x| path.line(to.paper(x, 0.0), to.paper(x, up)));
        board.path(LayerName::Ground, Ink::Space, edges);
    }
}

fn trellis(board: &mut Board, plan: &Ground, posts_below: bool, to: &Projection) {
    let scenario = &plan.scenario;
    if !scenario.trellis.support.has_wires() {
        return;
    }
    let depth = if posts_below { scenario.trellis.post_embedment.value } else { 0.0 };
    let levels = Span::new(-depth, scenario.trellis.post_height().value);
    let arm = board.em() * 0.32;
    let mut wires = Path::new();
    for stem in stems(plan) {
        draw_post(board, stem, levels, scenario.trellis.line_post_diameter.value, to);
        for height in &scenario.trellis.wire_heights {
            let wire = to.paper(stem.at(height.value), height.value);
            wires = wires.line(wire.moved(-arm, -arm), wire.moved(arm, arm));
            wires = wires.line(wire.moved(-arm, arm), wire.moved(arm, -arm));
        }
    }
    board.path(LayerName::Trellis, Ink::Wire, wires);
}

/// Wire heights run from the ground on one line on the left, each with its own figure.
fn wire_heights(board: &mut Board, plan: &Ground, extent: Extent, filled: bool, to: &Projection) {
    let scenario = &plan.scenario;
    if !scenario.trellis.support.has_wires() {
        return;
    }
    let em = board.em();
    let edge = to.paper(extent.across.from, 0.0);
    let first =
        Stem { foot: *rows(plan).first().unwrap_or(&0.0), slope: *slopes(plan).first().unwrap_or(&0.0) };
    let wires = wires_from_the_top(plan);
    let Some((_, top)) = wires.first() else { return };
    let foot = edge.moved(-(em * 0.9), 0.0);
    board.measuring("", None, |board| {
        board.thin_line(foot, Point::new(foot.x, to.paper(0.0, *top).y));
        board.path(LayerName::Dimensions, Ink::Dimension, Path::new().circle(foot, em * 0.16));
    });
    for (item, height) in wires {
        let y = to.paper(0.0, height).y;
        // Over a filled picture a line to the wire would only be noise.
        let end = if filled { edge.x } else { to.paper(first.at(height), height).x };
        board.measuring("wire_heights", Some(item), |board| {
            board.thin_line(Point::new(foot.x - em * 0.3, y), Point::new(end, y));
            let at = Point::new(foot.x - em * 0.55, y);
            let label = board.text(at, Anchor::End, board.dimension_lettering(), board.length(height));
            board.write(LayerName::Dimensions, label);
        });
    }
}

/// Wires with their places in the list. The top wire comes first: where figures crowd, it keeps its own.
pub(super) fn wires_from_the_top(plan: &Ground) -> Vec<(usize, f64)> {
    let mut wires: Vec<(usize, f64)> =
        plan.scenario.trellis.wire_heights.iter().map(|wire| wire.value).enumerate().collect();
    sort_by(&mut wires, |a, b| b.1.total_cmp(&a.1));
    wires
}

/// Heights of lowest branches, tree and post on the right, the post's depth, and the graft union.
fn heights(board: &mut Board, plan: &Ground, extent: Extent, posts_below: bool, to: &Projection) {
    let scenario = &plan.scenario;
    let em = board.em();
    let ground_y = to.paper(0.0, 0.0).y;
    let right = to.paper(extent.across.to, 0.0).x;
    let last = *rows(plan).last().unwrap_or(&0.0);
    let stem = Stem { foot: last, slope: slopes(plan).last().copied().unwrap_or(0.0) };
    let crown = &plan.canopy.shown.crown;
    let base = crown.base;
    // Each height with how far right it is reached, and the input that sets it.
    let mut levels = vec![
        (base, stem.at(base) + crown.width_across(base) / 2.0, "crown_base"),
        (crown.top, stem.at(crown.top), "tree_height"),
    ];
    if scenario.trellis.support.has_wires() {
        let post = scenario.trellis.post_height().value;
        levels.push((post, stem.at(post), "post_length"));
    }
    // The lower a thing, the nearer its line: no extension line then runs through another's figure.
    sort_by(&mut levels, |a, b| a.0.total_cmp(&b.0));
    for ((height, x, parameter), lane) in levels.into_iter().zip(RIGHT_LANES) {
        let at = to.paper(x, height);
        // The height of a tree that still grows is modelled; all others are as they were chosen.
        let is_modelled = height >= crown.top && crown.top < scenario.canopy.tree_height.value;
        let text = if is_modelled {
            write_figure(height, Quantity::Length, Certainty::Published, board.units())
        } else {
            board.length(height)
        };
        board.measuring(parameter, None, |board| {
            board.upright(Span::new(at.y, ground_y), right + em * lane, Span::new(at.x, right), &text);
        });
    }
    if posts_below {
        let foot = to.paper(last, -scenario.trellis.post_embedment.value);
        let below = board.length(scenario.trellis.post_embedment.value);
        let x = right + em * RIGHT_LANES[2];
        board.measuring("post_embedment", None, |board| {
            board.upright(Span::new(ground_y, foot.y), x, Span::new(right, foot.x), &below);
        });
    }
    board.measuring("", None, |board| union(board, plan, extent, to));
}

/// The height of the graft union once the tree has settled.
fn union(board: &mut Board, plan: &Ground, extent: Extent, to: &Projection) {
    let scenario = &plan.scenario;
    let em = board.em();
    let ground_y = to.paper(0.0, 0.0).y;
    let last = *rows(plan).last().unwrap_or(&0.0);
    let crown = &plan.canopy.shown.crown;
    let base = crown.base;
    let union = to.paper(last, plan.canopy.union_settled().value);
    let settled = write(plan.canopy.union_settled().value, Quantity::SmallLength, board.units());
    let alley_side = to.paper(last - crown.width_across(base) / 2.0, 0.0).x;
    let machine_edge =
        to.paper(scenario.block.row_width.value / 2.0 + scenario.block.tractor_width.value / 2.0, 0.0).x;
    let below_ground = Point::new(alley_side - em * 0.2, ground_y + em * 1.1);
    let note = board.text(below_ground, Anchor::End, Lettering::Note, format!("graft union {settled}"));
    if note.bounds().across.from > machine_edge - em * 40.0
        && to.paper(0.0, extent.up.from).y > ground_y + em * 1.8
    {
        board.note_with_leader(union, note);
    }
}

fn widths(board: &mut Board, plan: &Ground, extent: Extent, to: &Projection) {
    let scenario = &plan.scenario;
    let em = board.em();
    let lane = board.lane();
    let bottom = to.paper(0.0, extent.up.from).y;
    let ground_y = to.paper(0.0, 0.0).y;
    let canopy = scenario.block.row_width.value - plan.canopy.clear_alley().value;
    let x = |metres: f64| to.paper(metres, 0.0).x;
    let row = scenario.block.row_width.value;
    let (first, second) = (bottom + lane, bottom + 2.0 * lane);
    let width = board.length(canopy);
    board.measuring("canopy_width", None, |board| {
        board.across(Span::new(x(-canopy / 2.0), x(canopy / 2.0)), first, ground_y, &width);
    });
    let row_text = board.length(row);
    if plan.block.rows == 1 {
        board.measuring("row_width", None, |board| {
            board.across(Span::new(x(-row / 2.0), x(row / 2.0)), second, ground_y, &row_text);
        });
        return;
    }
    let alley = plan.canopy.clear_alley().value;
    if alley > 0.0 {
        let tight = board.length(alley);
        let wordy = format!("alley {tight}");
        let room = alley * to.scale - em;
        let content = if ems(&wordy) * em < room { wordy } else { tight };
        board.measuring("", None, |board| {
            board.across(Span::new(x(canopy / 2.0), x(row - canopy / 2.0)), first, ground_y, &content);
        });
    }
    let wordy = format!("row width {row_text}");
    board.measuring("row_width", None, |board| {
        let uprights = Span::new(x(0.0), x(row));
        let is_written = board.across(uprights, second, ground_y, &wordy);
        // Where a small drawing has no room for words, the figure does.
        if !is_written {
            board.across(uprights, second, ground_y, &row_text);
        }
    });
    let tractor = scenario.block.tractor_width.value;
    let roof = to.paper(0.0, TRACTOR_HEIGHT).y - em * 0.6;
    let name = board.length(tractor);
    let shoulder = to.paper(0.0, 1.1).y;
    let sides = Span::new(x(row / 2.0 - tractor / 2.0), x(row / 2.0 + tractor / 2.0));
    board.measuring("tractor_width", None, |board| {
        board.across(sides, roof, shoulder, &name);
    });
}

/// One row carries the wires, the other the tree's height, its lowest branches and the row width, so that no two stand too near.
fn handles(board: &mut Board, plan: &Ground, posts_below: bool, to: &Projection) {
    let scenario = &plan.scenario;
    let last = *rows(plan).last().unwrap_or(&0.0);
    let shown = &plan.canopy.shown.crown;
    let (up, right, down) = (Direction::UP, Direction::RIGHT, Direction::DOWN);
    let one = 1.0 / to.scale;
    let mut add = |parameter: &'static str, item, label: String, at, grows, per_unit, value| {
        board.handle(Handle { parameter, item, label, at, grows, per_unit, value });
    };
    let plain = str::to_owned;
    if plan.block.rows > 1 {
        let row = scenario.block.row_width.value;
        add("row_width", None, plain("Row width"), to.paper(row, 0.0), right, one, row);
    } else {
        let half = scenario.block.row_width.value / 2.0;
        add(
            "row_width",
            None,
            plain("Row width"),
            to.paper(half, 0.0),
            right,
            2.0 * one,
            scenario.block.row_width.value,
        );
    }
    let height = scenario.canopy.tree_height.value;
    let slope = slopes(plan).last().copied().unwrap_or(0.0);
    add(
        "tree_height",
        None,
        plain("Tree height kept"),
        to.paper(last + slope * height, height),
        up,
        one,
        height,
    );
    let canopy = scenario.canopy.canopy_width.value;
    let base = shown.base.max(scenario.canopy.crown_base.value);
    let edge = to.paper(slope * base + canopy / 2.0, base);
    add("canopy_width", None, plain("Canopy width kept"), edge, right, 2.0 * one, canopy);
    let low = scenario.canopy.crown_base.value;
    let low_edge =
        if plan.block.rows > 1 { last + slope * low + canopy / 2.0 } else { -slope * low - canopy / 2.0 };
    let low_edge = to.paper(low_edge, low);
    add("crown_base", None, plain("Lowest branches"), low_edge, up, one, low);
    if scenario.trellis.support.has_wires() {
        for (item, wire) in scenario.trellis.wire_heights.iter().enumerate() {
            let at = to.paper(-slope * wire.value, wire.value);
            add("wire_heights", Some(item), format!("Height of wire {}", item + 1), at, up, one, wire.value);
        }
    }
    if posts_below {
        let depth = scenario.trellis.post_embedment.value;
        add(
            "post_embedment",
            None,
            plain("Post depth in the ground"),
            to.paper(last, -depth),
            down,
            one,
            depth,
        );
    }
    if plan.block.rows > 1 {
        let tractor = scenario.block.tractor_width.value;
        let at = to.paper(scenario.block.row_width.value / 2.0 + tractor / 2.0, 0.55);
        add("tractor_width", None, plain("Tractor width"), at, right, 2.0 * one, tractor);
    }
}
