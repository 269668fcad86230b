//! The plan: the whole block from above, turned so that rows run up the sheet, and an enlarged detail.
//!
//! Crowns are drawn one by one while they can be told apart; closed rows and rows too small for that
//! become bands of the same covered area. Either way a row costs two points, however many trees it has.

use super::detail::draw_detail;
use super::overlay::{Demand, Overlay, Shown};
use super::tree::{crowns_from_above, row_ink, with_crown};
use crate::board::furniture::FOOT_EMS;
use crate::board::geometry::{Bounds, Direction, Point, Projection, Size, Span, Spot};
use crate::board::path::Path;
use crate::board::sheet::{Handle, Ink, LayerName, Mark, Sheet};
use crate::board::{Board, Frame, Pass, ScaleChoice};
use crate::measure::{Units, write};
use crate::view::View;
use planting::order::within;
use planting::{Ground, Quantity};

/// Room around the overview, in ems.
const LEFT: f64 = 5.4;
const RIGHT: f64 = 5.4;
const ABOVE: f64 = 5.4;
const BELOW: f64 = 2.6;

/// The least scale of the overview, in paper units to a metre: a pane too small for it still has a
/// drawing, if not one to read.
const LEAST_SCALE: f64 = 1e-3;

/// The parts of the sheet that overview and detail have.
fn areas(plan: &Ground, frame: &Frame) -> (Bounds, Bounds) {
    let em = frame.lettering;
    let height = frame.height - frame.foot_ems() * em;
    let ground = extent(plan);
    let between =
        |left, top, right, bottom| Bounds::between(Point::new(left, top), Point::new(right, bottom));
    if frame.width >= 34.0 * em {
        // As wide as the block asks at full height, so that a narrow block leaves its room to the detail.
        let asked =
            (height - (ABOVE + BELOW) * em).max(1.0) * ground.width / ground.height + (LEFT + RIGHT) * em;
        let width = within(asked, frame.width * 0.34, frame.width * 0.58);
        (between(0.0, 0.0, width, height), between(width, 0.0, frame.width, height))
    } else {
        let upper = height * 0.58;
        (between(0.0, 0.0, frame.width, upper), between(0.0, upper, frame.width, height))
    }
}

/// Width across and length along the rows of the block `[m]`.
fn extent(plan: &Ground) -> Size {
    let (across, along) = field_spans(plan);
    Size::new(across.length().max(0.1), along.length().max(0.1))
}

/// The field across the rows and along them `[m]`.
fn field_spans(plan: &Ground) -> (Span, Span) {
    let outline = &plan.block.outline;
    let ((left, right), (low, high)) = (outline.across_range(), outline.along_range());
    (Span::new(left, right), Span::new(low, high))
}

/// The ground the overview needs, and the paper beside it.
pub(crate) fn demand(plan: &Ground) -> Demand {
    Demand { ground: extent(plan), beside: Size::new(LEFT + RIGHT, ABOVE + BELOW + FOOT_EMS) }
}

fn overview_projection(plan: &Ground, frame: &Frame, area: Bounds) -> Projection {
    let em = frame.lettering;
    let room =
        Size::new(area.across.length() - (LEFT + RIGHT) * em, area.down.length() - (ABOVE + BELOW) * em);
    let ground = extent(plan);
    let scale = match frame.scale {
        ScaleChoice::Hold(held) => return held.main,
        ScaleChoice::Ratio(ratio) => 1000.0 / ratio,
        ScaleChoice::Fit => room.enlarges(ground).max(LEAST_SCALE),
    };
    let spare =
        Size::new((room.width - ground.width * scale) / 2.0, (room.height - ground.height * scale) / 2.0);
    Projection {
        scale,
        origin: Point::new(
            area.across.from + LEFT * em + spare.width.max(0.0),
            area.down.from + ABOVE * em + spare.height.max(0.0) + ground.height * scale,
        ),
    }
}

/// Draws the plan with what a room adds to it.
pub fn draw(plan: &Ground, frame: Frame, over: &dyn Overlay) -> Sheet {
    let (overview, detail) = areas(plan, &frame);
    let to = overview_projection(plan, &frame, overview);
    let mut board = Board::new(frame);
    let em = board.em();
    field(&mut board, plan, &to);
    let (across, up) = field_spans(plan);
    over.plan(&mut board, plan, &Shown { across, up, to });
    rows(&mut board, plan, &to);
    posts(&mut board, plan, &to);
    board.north_arrow(
        Point::new(overview.across.from + em * 2.7, overview.down.from + em * 2.7),
        em * 1.2,
        plan.block.azimuth.value,
    );
    for pass in Pass::BOTH {
        board.pass = pass;
        field_dimensions(&mut board, plan, &to);
    }
    let close_up = draw_detail(&mut board, plan, detail, over);
    field_handles(&mut board, plan, &to);
    let area = write(plan.block.area().value, Quantity::Land, board.units());
    let title = format!("Plan, {area}");
    let foot = frame.height - em * 0.2;
    let strip = Span::new(em * 0.6, frame.width - em * 0.6);
    let left = detail.across.from;
    match close_up {
        // Side by side each picture has its own scale bar below it; one above the other the detail's
        // dimensions must do.
        Some(detail_to) if left > 0.0 => {
            board.scale_bar(detail_to.scale, Span::new(left + em * 2.0, strip.to), foot);
            let below = Span::new(strip.from, (left - em * 0.6).max(em * 20.0));
            board.title_and_bar(&title, to.scale, below, foot);
        }
        _ => board.title_and_bar(&title, to.scale, strip, foot),
    }
    let description = describe(plan, board.units());
    board.finish(View::Plan, description, to, close_up)
}

fn describe(plan: &Ground, units: Units) -> String {
    let length = |value: f64| write(value, Quantity::Length, units);
    let scenario = &plan.scenario;
    format!(
        "Plan of a block {} long and {} wide, rows running {} from north: {} rows {} apart, trees every {}, {} trees, headlands of {}.",
        length(scenario.block.block_length.value),
        length(scenario.block.block_width.value),
        write(scenario.block.row_azimuth.value, Quantity::Angle, units),
        plan.block.rows,
        length(scenario.block.row_width.value),
        length(scenario.block.in_row_spacing.value),
        plan.block.tree_count(),
        length(scenario.block.headland.value),
    )
}

fn on_paper(to: &Projection, point: planting::FieldPoint) -> Point {
    to.paper(point.across, point.along)
}

fn field(board: &mut Board, plan: &Ground, to: &Projection) {
    let outline = &plan.block.outline;
    let ring =
        |points: &[planting::FieldPoint]| points.iter().map(|point| on_paper(to, *point)).collect::<Vec<_>>();
    let mut edge = Path::new();
    for points in std::iter::once(&outline.exterior).chain(&outline.holes) {
        let corners = ring(points);
        board.keep_off(&corners);
        edge = edge.closed(&corners);
    }
    board.path(LayerName::Ground, Ink::Edge, edge);
    let (Span { from: left, to: right }, Span { from: low, to: high }) = field_spans(plan);
    let (headland, margin) = (plan.scenario.block.headland.value, plan.scenario.block.side_margin.value);
    let mut margins = Path::new();
    if headland > 0.0 {
        for along in [low + headland, high - headland] {
            margins = margins.line(to.paper(left, along), to.paper(right, along));
        }
    }
    if margin > 0.0 {
        for across in [left + margin, right - margin] {
            margins = margins.line(to.paper(across, low), to.paper(across, high));
        }
    }
    board.path(LayerName::Ground, Ink::Margin, margins);
}

/// Most crowns of the overview drawn with their outlines.
const MOST_OUTLINES: usize = 300;

/// A small block: every crown with its outline.
fn outlined_rows(board: &mut Board, plan: &Ground, to: &Projection) {
    let shapes = crowns_from_above(plan);
    let (mut bodies, mut centres) = (Path::new(), Path::new());
    for run in &plan.trellis.runs {
        for tree in 0..run.trees {
            bodies = with_crown(bodies, &shapes, tree, Spot::new(run.across, run.tree(tree)), to);
        }
        centres = centres.line(to.paper(run.across, run.start), to.paper(run.across, run.end));
    }
    board.path(LayerName::Crowns, Ink::Crown, bodies.clone());
    board.path(LayerName::Crowns, Ink::CrownEdge, bodies);
    board.path(LayerName::Trellis, row_ink(plan), centres);
}

fn rows(board: &mut Board, plan: &Ground, to: &Projection) {
    let crown = &plan.canopy.shown.crown;
    let spacing = plan.scenario.block.in_row_spacing.value;
    let leaning = plan.scenario.canopy.lean.value > 0.0;
    // Leaning trees cover more ground than their base; their cover is what is drawn.
    let covered = plan.canopy.shown.ground_cover * spacing * plan.scenario.block.row_width.value;
    let apart =
        !leaning && crown.free_diameter < spacing && spacing * to.scale >= 2.5 * board.frame.weights[1];
    if plan.block.tree_count() <= MOST_OUTLINES && spacing * to.scale >= 6.0 * board.frame.weights[1] {
        return outlined_rows(board, plan, to);
    }
    let mut lines = Path::new();
    let mut centres = Path::new();
    for run in &plan.trellis.runs {
        let (first, last) = (run.first_tree, run.tree(run.trees.saturating_sub(1)));
        if apart {
            // The line ends a quarter of a spacing after the last dot: one that ended on it would lose the dot to
            // rounding.
            lines = lines.line(to.paper(run.across, first), to.paper(run.across, last + spacing * 0.25));
        } else {
            let half = spacing / 2.0;
            lines = lines.line(to.paper(run.across, first - half), to.paper(run.across, last + half));
        }
        centres = centres.line(to.paper(run.across, run.start), to.paper(run.across, run.end));
    }
    if lines.is_empty() {
        return;
    }
    let mark = if apart {
        let diameter = (covered / std::f64::consts::PI).sqrt() * 2.0;
        Mark::Dots { ink: Ink::Crown, lines, size: diameter * to.scale, pitch: spacing * to.scale }
    } else {
        Mark::Bands { ink: Ink::Crown, lines, size: covered / spacing * to.scale }
    };
    board.add(LayerName::Crowns, mark);
    if plan.scenario.block.row_width.value * to.scale >= 6.0 * board.frame.weights[0] {
        let (ink, size) = (row_ink(plan), board.frame.weights[0]);
        board.add(LayerName::Trellis, Mark::Bands { ink, lines: centres, size });
    }
}

/// Most posts drawn one by one; beyond that they are left to the row elevation.
const MOST_POSTS: usize = 3_000;

fn posts(board: &mut Board, plan: &Ground, to: &Projection) {
    let thin = board.frame.weights[0];
    let bay = plan.trellis.longest_bay.value * to.scale;
    if plan.trellis.line_posts + plan.trellis.end_posts > MOST_POSTS || bay < 8.0 * thin {
        return;
    }
    let size = within(bay / 6.0, 2.0 * thin, 4.0 * thin);
    let dot = |stations: &mut dyn Iterator<Item = planting::Station>| {
        stations.fold(Path::new(), |path, station| {
            let at = on_paper(to, station.at);
            path.line(at, at.moved(0.0, -0.02 * size))
        })
    };
    for (path, size) in
        [(dot(&mut plan.trellis.posts()), size), (dot(&mut plan.trellis.anchors()), size * 0.7)]
    {
        if !path.is_empty() {
            board.add(LayerName::Trellis, Mark::Dots { ink: Ink::Solid, lines: path, size, pitch: 1e5 });
        }
    }
}

fn field_dimensions(board: &mut Board, plan: &Ground, to: &Projection) {
    let em = board.em();
    let (across, along) = field_spans(plan);
    let (foot, head) = (to.paper(across.from, along.from), to.paper(across.to, along.to));
    let (wide, long) = (board.length(across.length()), board.length(along.length()));
    board.measuring("block_width", None, |board| {
        board.across(Span::new(foot.x, head.x), head.y - em * 2.0, head.y, &wide);
    });
    board.measuring("block_length", None, |board| {
        board.upright(Span::new(head.y, foot.y), foot.x - em * 2.0, Span::point(foot.x), &long);
    });
    let headland = plan.scenario.block.headland.value;
    if headland > 0.0 {
        let inner = to.paper(across.to, along.to - headland).y;
        let text = board.length(headland);
        board.measuring("headland", None, |board| {
            board.upright(Span::new(head.y, inner), head.x + em * 1.6, Span::point(head.x), &text);
        });
    }
    if let Some(run) = plan.trellis.runs.first() {
        let margin = run.across - across.from;
        if margin > 0.0 {
            let text = board.length(margin);
            let row = to.paper(run.across, along.from).x;
            board.measuring("side_margin", None, |board| {
                board.across(Span::new(foot.x, row), foot.y + em * 1.6, foot.y, &text);
            });
        }
    }
}

fn field_handles(board: &mut Board, plan: &Ground, to: &Projection) {
    let (Span { from: left, to: right }, Span { from: low, to: high }) = field_spans(plan);
    let scenario = &plan.scenario;
    let one = 1.0 / to.scale;
    let mut add = |parameter: &'static str, label: &str, at, grows, per_unit, value| {
        board.handle(Handle { parameter, item: None, label: label.to_owned(), at, grows, per_unit, value });
    };
    let middle = (left + right) / 2.0;
    add(
        "block_length",
        "Block length, along the rows",
        to.paper(middle, high),
        Direction::UP,
        one,
        scenario.block.block_length.value,
    );
    add(
        "block_width",
        "Block width, across the rows",
        to.paper(right, (low + high) / 2.0),
        Direction::RIGHT,
        one,
        scenario.block.block_width.value,
    );
    let headland = scenario.block.headland.value;
    let at = to.paper(left + (right - left) * 0.25, high - headland);
    add("headland", "Headland at row ends", at, Direction::DOWN, one, headland);
}
