//! The plan: the whole block from above, turned so that rows run up the sheet, and an enlarged detail.
//!
//! Crowns are drawn one by one while they can be told apart; closed rows and rows too small for that
//! become bands of the same covered area. Either way a row costs two points, however many trees it has.

use crate::board::{Board, Frame, ScaleChoice};
use crate::furniture::FOOT_EMS;
use crate::measure::{Units, write};
use crate::path::Path;
use crate::plan_detail::draw_detail;
use crate::sheet::{Handle, Ink, LayerName, Mark, Projection, Sheet, View};
use crate::tree::{crowns_from_above, with_crown};
use planting::order::within;
use planting::{Plan, Point, Quantity};

/// Room around the overview, in ems.
const LEFT: f64 = 5.4;
const RIGHT: f64 = 5.4;
const ABOVE: f64 = 5.4;
const BELOW: f64 = 2.6;

/// A part of the sheet.
#[derive(Clone, Copy)]
pub(crate) struct Area {
    pub(crate) left: f64,
    pub(crate) top: f64,
    pub(crate) width: f64,
    pub(crate) height: f64,
}

/// The overview's and the detail's share of the sheet.
fn areas(plan: &Plan, frame: &Frame) -> (Area, Area) {
    let em = frame.lettering;
    let height = frame.height - FOOT_EMS * em;
    let (wide, long) = extent(plan);
    if frame.width >= 34.0 * em {
        // As wide as the block asks at full height, so that a narrow block leaves its room to the detail.
        let asked = (height - (ABOVE + BELOW) * em).max(1.0) * wide / long + (LEFT + RIGHT) * em;
        let width = within(asked, frame.width * 0.34, frame.width * 0.58);
        (
            Area { left: 0.0, top: 0.0, width, height },
            Area { left: width, top: 0.0, width: frame.width - width, height },
        )
    } else {
        let upper = height * 0.58;
        (
            Area { left: 0.0, top: 0.0, width: frame.width, height: upper },
            Area { left: 0.0, top: upper, width: frame.width, height: height - upper },
        )
    }
}

/// Width across and length along the rows of the block `[m]`.
fn extent(plan: &Plan) -> (f64, f64) {
    let outline = &plan.block.outline;
    let ((left, right), (low, high)) = (outline.across_range(), outline.along_range());
    ((right - left).max(0.1), (high - low).max(0.1))
}

/// Width and length of ground the overview needs, and the paper beside it in ems.
pub(crate) fn demand(plan: &Plan) -> ((f64, f64), (f64, f64)) {
    (extent(plan), (LEFT + RIGHT, ABOVE + BELOW + FOOT_EMS))
}

fn overview_projection(plan: &Plan, frame: &Frame, area: Area) -> Projection {
    let em = frame.lettering;
    let room = (area.width - (LEFT + RIGHT) * em, area.height - (ABOVE + BELOW) * em);
    let (wide, long) = extent(plan);
    let scale = match frame.scale {
        ScaleChoice::Hold(held, _) => return held,
        ScaleChoice::Ratio(ratio) => 1000.0 / ratio,
        ScaleChoice::Fit => (room.0 / wide).min(room.1 / long).max(1e-3),
    };
    let spare = ((room.0 - wide * scale) / 2.0, (room.1 - long * scale) / 2.0);
    Projection {
        scale,
        origin: (
            area.left + LEFT * em + spare.0.max(0.0),
            area.top + ABOVE * em + spare.1.max(0.0) + long * scale,
        ),
    }
}

/// Draws the plan.
pub fn draw(plan: &Plan, frame: Frame) -> Sheet {
    let (overview, detail) = areas(plan, &frame);
    let to = overview_projection(plan, &frame, overview);
    let mut board = Board::new(frame);
    let em = board.em();
    field(&mut board, plan, &to);
    rows(&mut board, plan, &to);
    posts(&mut board, plan, &to);
    board.north_arrow(
        (overview.left + em * 2.7, overview.top + em * 2.7),
        em * 1.2,
        plan.block.azimuth.value,
    );
    field_dimensions(&mut board, plan, &to);
    let close_up = draw_detail(&mut board, plan, detail);
    field_handles(&mut board, plan, &to);
    let area = write(plan.block.area().value, Quantity::Land, board.units());
    let title = format!("Plan, {area}");
    let foot = frame.height - em * 0.2;
    let ends = (em * 0.6, frame.width - em * 0.6);
    match close_up {
        // Side by side each picture has its own scale bar below it; one above the other the detail's
        // dimensions must do.
        Some(detail_to) if detail.left > 0.0 => {
            board.scale_bar(detail_to.scale, (detail.left + em * 2.0, ends.1), foot);
            board.title_and_bar(&title, to.scale, (ends.0, (detail.left - em * 0.6).max(em * 20.0)), foot);
        }
        _ => board.title_and_bar(&title, to.scale, ends, foot),
    }
    let description = describe(plan, board.units());
    board.finish(View::Plan, description, to, close_up)
}

fn describe(plan: &Plan, units: Units) -> String {
    let length = |value: f64| write(value, Quantity::Length, units);
    let scenario = &plan.scenario;
    format!(
        "Plan of a block {} long and {} wide, rows running {} from north: {} rows {} apart, trees every {}, {} trees, headlands of {}.",
        length(scenario.block_length.value),
        length(scenario.block_width.value),
        write(scenario.row_azimuth.value, Quantity::Angle, units),
        plan.block.rows,
        length(scenario.row_width.value),
        length(scenario.in_row_spacing.value),
        plan.block.tree_count(),
        length(scenario.headland.value),
    )
}

fn place(to: &Projection, point: Point) -> (f64, f64) {
    to.place(point.across, point.along)
}

fn field(board: &mut Board, plan: &Plan, to: &Projection) {
    let outline = &plan.block.outline;
    let ring = |points: &[Point]| points.iter().map(|point| place(to, *point)).collect::<Vec<_>>();
    let mut edge = Path::new();
    for points in std::iter::once(&outline.exterior).chain(&outline.holes) {
        let corners = ring(points);
        board.keep_off(&corners);
        edge = edge.closed(&corners);
    }
    board.path(LayerName::Ground, Ink::Edge, edge);
    let ((left, right), (low, high)) = (outline.across_range(), outline.along_range());
    let (headland, margin) = (plan.scenario.headland.value, plan.scenario.side_margin.value);
    let mut margins = Path::new();
    if headland > 0.0 {
        for along in [low + headland, high - headland] {
            margins = margins.line(to.place(left, along), to.place(right, along));
        }
    }
    if margin > 0.0 {
        for across in [left + margin, right - margin] {
            margins = margins.line(to.place(across, low), to.place(across, high));
        }
    }
    board.path(LayerName::Ground, Ink::Margin, margins);
}

/// Most crowns of the overview drawn with their outlines.
const MOST_OUTLINES: usize = 300;

/// A small block: every crown with its outline.
fn outlined_rows(board: &mut Board, plan: &Plan, to: &Projection) {
    let shapes = crowns_from_above(plan);
    let (mut bodies, mut centres) = (Path::new(), Path::new());
    for run in &plan.block.runs {
        for tree in 0..run.trees {
            bodies = with_crown(bodies, &shapes, tree, (run.across, run.tree(tree)), to);
        }
        centres = centres.line(to.place(run.across, run.start), to.place(run.across, run.end));
    }
    board.path(LayerName::Crowns, Ink::Crown, bodies.clone());
    board.path(LayerName::Crowns, Ink::CrownEdge, bodies);
    board.path(LayerName::Trellis, row_ink(plan), centres);
}

/// The line of a row: its wires, or its centre line.
pub(crate) fn row_ink(plan: &Plan) -> Ink {
    if plan.scenario.support.has_wires() { Ink::Wire } else { Ink::Centre }
}

fn rows(board: &mut Board, plan: &Plan, to: &Projection) {
    let crown = &plan.canopy.shown.crown;
    let spacing = plan.scenario.in_row_spacing.value;
    let leaning = plan.scenario.lean.value > 0.0;
    // Leaning trees cover more ground than their base; their cover is what is drawn.
    let covered = plan.canopy.shown.ground_cover * spacing * plan.scenario.row_width.value;
    let apart =
        !leaning && crown.free_diameter < spacing && spacing * to.scale >= 2.5 * board.frame.weights[1];
    if plan.block.tree_count() <= MOST_OUTLINES && spacing * to.scale >= 6.0 * board.frame.weights[1] {
        return outlined_rows(board, plan, to);
    }
    let mut lines = Path::new();
    let mut centres = Path::new();
    for run in &plan.block.runs {
        let (first, last) = (run.first_tree, run.tree(run.trees.saturating_sub(1)));
        if apart {
            // A hair longer than the last dot needs, or rounding may drop it.
            lines = lines.line(to.place(run.across, first), to.place(run.across, last + spacing * 0.25));
        } else {
            let half = spacing / 2.0;
            lines = lines.line(to.place(run.across, first - half), to.place(run.across, last + half));
        }
        centres = centres.line(to.place(run.across, run.start), to.place(run.across, run.end));
    }
    if lines.is_empty() {
        return;
    }
    let mark = if apart {
        let diameter = (covered / std::f64::consts::PI).sqrt() * 2.0;
        Mark::Dots { ink: Ink::Crown, d: lines.text(), size: diameter * to.scale, pitch: spacing * to.scale }
    } else {
        Mark::Bands { ink: Ink::Crown, d: lines.text(), size: covered / spacing * to.scale }
    };
    board.add(LayerName::Crowns, mark);
    if plan.scenario.row_width.value * to.scale >= 6.0 * board.frame.weights[0] {
        let (ink, size) = (row_ink(plan), board.frame.weights[0]);
        board.add(LayerName::Trellis, Mark::Bands { ink, d: centres.text(), size });
    }
}

/// Most posts drawn one by one; beyond that they are left to the row elevation.
const MOST_POSTS: usize = 3_000;

fn posts(board: &mut Board, plan: &Plan, to: &Projection) {
    let thin = board.frame.weights[0];
    let bay = plan.trellis.longest_bay * to.scale;
    if plan.trellis.line_posts + plan.trellis.end_posts > MOST_POSTS || bay < 8.0 * thin {
        return;
    }
    let size = within(bay / 6.0, 2.0 * thin, 4.0 * thin);
    let dot = |stations: &mut dyn Iterator<Item = planting::Station>| {
        stations.fold(Path::new(), |path, station| {
            let (x, y) = place(to, station.at);
            path.line((x, y), (x, y - 0.02 * size))
        })
    };
    for (path, size) in [(dot(&mut plan.block.posts()), size), (dot(&mut plan.block.anchors()), size * 0.7)] {
        if !path.is_empty() {
            board.add(LayerName::Trellis, Mark::Dots { ink: Ink::Solid, d: path.text(), size, pitch: 1e5 });
        }
    }
}

fn field_dimensions(board: &mut Board, plan: &Plan, to: &Projection) {
    let em = board.em();
    let outline = &plan.block.outline;
    let ((left, right), (low, high)) = (outline.across_range(), outline.along_range());
    let (x1, y1) = to.place(left, low);
    let (x2, y2) = to.place(right, high);
    let (wide, long) = (board.length(right - left), board.length(high - low));
    board.across(x1, x2, y2 - em * 2.0, (y2, y2), &wide);
    board.upright(y2, y1, x1 - em * 2.0, (x1, x1), &long);
    let headland = plan.scenario.headland.value;
    if headland > 0.0 {
        let inner = to.place(right, high - headland).1;
        let text = board.length(headland);
        board.upright(y2, inner, x2 + em * 1.6, (x2, x2), &text);
    }
    if let Some(run) = plan.block.runs.first() {
        let margin = run.across - left;
        if margin > 0.0 {
            let text = board.length(margin);
            board.across(x1, to.place(run.across, low).0, y1 + em * 1.6, (y1, y1), &text);
        }
    }
}

fn field_handles(board: &mut Board, plan: &Plan, to: &Projection) {
    let outline = &plan.block.outline;
    let ((left, right), (low, high)) = (outline.across_range(), outline.along_range());
    let scenario = &plan.scenario;
    let one = 1.0 / to.scale;
    let mut add = |parameter: &'static str, label: &str, at, grows, per_unit, value| {
        board.handle(Handle { parameter, item: None, label: label.to_owned(), at, grows, per_unit, value });
    };
    let middle = (left + right) / 2.0;
    add(
        "block_length",
        "Block length, along the rows",
        to.place(middle, high),
        (0.0, -1.0),
        one,
        scenario.block_length.value,
    );
    add(
        "block_width",
        "Block width, across the rows",
        to.place(right, (low + high) / 2.0),
        (1.0, 0.0),
        one,
        scenario.block_width.value,
    );
    let headland = scenario.headland.value;
    let at = to.place(left + (right - left) * 0.25, high - headland);
    add("headland", "Headland at row ends", at, (0.0, 1.0), one, headland);
}
