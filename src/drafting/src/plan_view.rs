//! The plan: the whole block from above, turned so that rows run up the sheet, and an enlarged detail.
//!
//! Crowns are drawn one by one while they can be told apart; closed rows and rows too small for that
//! become bands of the same covered area. Either way a row costs two points, however many trees it has.

use crate::board::{Board, Frame, ScaleChoice};
use crate::furniture::FOOT_EMS;
use crate::measure::{Units, write};
use crate::path::Path;
use crate::sheet::{Bounds, Handle, Ink, LayerName, Mark, Projection, Sheet, View};
use planting::{Crown, Plan, Point, Quantity};

/// Room around the overview, in ems.
const LEFT: f64 = 5.4;
const RIGHT: f64 = 4.6;
const ABOVE: f64 = 5.4;
const BELOW: f64 = 2.6;

/// A part of the sheet.
#[derive(Clone, Copy)]
struct Area {
    left: f64,
    top: f64,
    width: f64,
    height: f64,
}

/// The overview's and the detail's share of the sheet.
fn areas(plan: &Plan, frame: &Frame) -> (Area, Area) {
    let em = frame.lettering;
    let height = frame.height - FOOT_EMS * em;
    let (wide, long) = extent(plan);
    if frame.width >= 34.0 * em {
        // As wide as the block asks at full height, so that a narrow block leaves its room to the detail.
        let asked = (height - (ABOVE + BELOW) * em).max(1.0) * wide / long + (LEFT + RIGHT) * em;
        let width = asked.clamp(frame.width * 0.34, frame.width * 0.58);
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
pub(crate) fn draw(plan: &Plan, frame: Frame) -> Sheet {
    let (overview, detail) = areas(plan, &frame);
    let to = overview_projection(plan, &frame, overview);
    let mut board = Board::new(frame);
    let em = board.em();
    field(&mut board, plan, &to);
    rows(&mut board, plan, &to);
    posts(&mut board, plan, &to);
    board.north_arrow(
        (overview.left + em * 2.3, overview.top + em * 2.5),
        em * 1.2,
        plan.block.azimuth.value,
    );
    field_dimensions(&mut board, plan, &to);
    let close_up = detail_view(&mut board, plan, detail);
    field_handles(&mut board, plan, &to);
    let area = write(plan.block.area().value, Quantity::Land, board.units());
    let title = format!("Plan, {area}");
    board.title_and_bar(
        &title,
        to.scale,
        (em * 0.6, overview.width.max(em * 20.0) - em * 0.6),
        frame.height - em * 0.2,
    );
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
    let edge = outline
        .holes
        .iter()
        .fold(Path::new().closed(&ring(&outline.exterior)), |path, hole| path.closed(&ring(hole)));
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

fn rows(board: &mut Board, plan: &Plan, to: &Projection) {
    let crown = &plan.canopy.shown.crown;
    let spacing = plan.scenario.in_row_spacing.value;
    let leaning = plan.scenario.lean.value > 0.0;
    // Leaning trees cover more ground than their base; their cover is what is drawn.
    let covered = plan.canopy.shown.ground_cover * spacing * plan.scenario.row_width.value;
    let apart =
        !leaning && crown.free_diameter < spacing && spacing * to.scale >= 2.5 * board.frame.weights[1];
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
        let ink = if plan.scenario.support.has_wires() { Ink::Wire } else { Ink::Centre };
        let size = board.frame.weights[0];
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
    let size = (bay / 6.0).clamp(2.0 * thin, 4.0 * thin);
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
        board.upright(y2, inner, x2 + em * 0.9, (x2, x2), &text);
    }
    if let Some(run) = plan.block.runs.first() {
        let margin = run.across - left;
        if margin > 0.0 {
            let text = board.length(margin);
            board.across(x1, to.place(run.across, low).0, y1 + em * 1.2, (y1, y1), &text);
        }
    }
}

/// A level section of a crown from above, as points around `at`.
fn crown_from_above(crown: &Crown, at: (f64, f64), to: &Projection) -> Vec<(f64, f64)> {
    const POINTS: usize = 36;
    let height = crown.base;
    let radius = crown.disc(height) / 2.0;
    let (half_along, half_across) = (crown.along / 2.0, crown.box_across(height) / 2.0);
    std::iter::successors(Some(0usize), |point| (*point + 1 < POINTS).then_some(point + 1))
        .map(|point| {
            let angle = std::f64::consts::TAU * f64::from(u32::try_from(point).unwrap_or(0)) / 36.0;
            let (sin, cos) = angle.sin_cos();
            let reach = radius.min(half_across / cos.abs().max(1e-9)).min(half_along / sin.abs().max(1e-9));
            to.place(at.0 + reach * cos, at.1 + reach * sin)
        })
        .collect()
}

/// The enlarged detail: a few trees of two rows. Returns how metres lie in it.
fn detail_view(board: &mut Board, plan: &Plan, area: Area) -> Option<Projection> {
    let em = board.em();
    let scenario = &plan.scenario;
    let run = plan.block.runs.first()?;
    let (spacing, row) = (scenario.in_row_spacing.value, scenario.row_width.value);
    let crown = &plan.canopy.shown.crown;
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
    let along_least = spacing * 1.5;
    let scale = held.map_or((room.0 / across).min(room.1 / along_least), |held| held.scale);
    let seen_along = room.1 / scale;
    // The picture's middle: the first line post, or midway between the first trees.
    let middle = run.line_posts.first().copied().unwrap_or(run.first_tree + spacing / 2.0);
    let first_row = if twin { -row / 2.0 } else { 0.0 };
    let centre = (area.left + em * 4.6 + room.0 / 2.0, area.top + em * 2.6 + room.1 / 2.0);
    let to = held.unwrap_or(Projection { scale, origin: (centre.0 + first_row * scale, centre.1) });
    let stations: Vec<f64> = (0..run.trees)
        .map(|tree| run.tree(tree) - middle)
        .skip_while(|along| *along < -seen_along / 2.0 + spacing * 0.2)
        .take_while(|along| *along <= seen_along / 2.0 - spacing * 0.2)
        .take(400)
        .collect();
    let rows: &[f64] = if twin { &[0.0, row] } else { &[0.0] };
    let (mut bodies, mut trunks, mut lines) = (Path::new(), Path::new(), Path::new());
    let trunk = (0.06 * scale).max(board.frame.weights[2]);
    for x in rows {
        for along in &stations {
            bodies = bodies.closed(&crown_from_above(crown, (*x, *along), &to));
            trunks = trunks.circle(to.place(*x, *along), trunk);
        }
        lines = lines.line(to.place(*x, -seen_along / 2.0), to.place(*x, seen_along / 2.0));
        if scenario.support.has_wires() {
            for post in
                run.line_posts.iter().map(|post| post - middle).filter(|post| post.abs() < seen_along / 2.0)
            {
                let half =
                    (scenario.line_post_diameter.value / 2.0).max(2.0 * board.frame.weights[0] / scale);
                board.path(
                    LayerName::Trellis,
                    Ink::Post,
                    Path::new().circle(to.place(*x, post), half * scale),
                );
            }
        }
    }
    let ink = if scenario.support.has_wires() { Ink::Wire } else { Ink::Centre };
    board.path(LayerName::Crowns, Ink::Crown, bodies.clone());
    board.path(LayerName::Crowns, Ink::CrownEdge, bodies);
    board.path(LayerName::Crowns, ink, lines);
    board.path(LayerName::Trees, Ink::Trunk, trunks);
    let top = to.place(0.0, seen_along / 2.0).1;
    let foot = to.place(0.0, -seen_along / 2.0).1;
    let heading = board.text(
        ((to.place(*rows.first()?, 0.0).0 + to.place(*rows.last()?, 0.0).0) / 2.0, top - em * 1.1),
        crate::sheet::Anchor::Middle,
        crate::sheet::Lettering::Note,
        "Detail, enlarged",
    );
    board.write(LayerName::Furniture, heading);
    let edge = to.place(-canopy / 2.0, 0.0).0;
    let pair = stations.windows(2).min_by(|a, b| {
        let far = |pair: &[f64]| pair.first().copied().unwrap_or(0.0).abs();
        far(a).total_cmp(&far(b))
    });
    if let Some([low, high]) = pair {
        let (y_low, y_high) = (to.place(0.0, *low).1, to.place(0.0, *high).1);
        let text = board.length(spacing);
        let line_x = edge.min(to.place(0.0, 0.0).0) - em * 1.0;
        let centre_x = to.place(0.0, 0.0).0;
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
        let alley = plan.clear_alley.value;
        if alley > 0.0 {
            let text = board.length(alley);
            board.across(x(canopy / 2.0), x(row - canopy / 2.0), foot + lane, (foot, foot), &text);
        }
        let text = board.length(row);
        board.across(x(0.0), x(row), foot + 2.0 * lane, (foot, foot), &text);
        board.handle(Handle {
            parameter: "row_width",
            item: None,
            label: "Row width".to_owned(),
            at: to.place(row, stations.first().copied().unwrap_or(0.0)),
            grows: (1.0, 0.0),
            per_unit: 1.0 / scale,
            value: row,
        });
    }
    board.keep_clear(Bounds { left: area.left, top, right: area.left, bottom: foot });
    Some(to)
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
