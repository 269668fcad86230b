//! The cross-section: two rows and the alley between them, seen along the rows.
//!
//! ```text
//!          |  /\          /\   |    heights of the wires on the left; lowest branches, tree
//!          | /##\  [__]  /##\ ||    and post on the right, the lower the nearer,
//!    ------+--||---o--o---||----    canopy, alley and row width below
//! ```

use crate::board::{Board, Frame, ScaleChoice};
use crate::furniture::FOOT_EMS;
use crate::light_field::{Daylight, KEY_EMS, Window, draw_field, draw_floor, draw_key};
use crate::measure::{Units, write};
use crate::path::Path;
use crate::sheet::{Anchor, Handle, Ink, LayerName, Lettering, Projection, Sheet, View};
use crate::tree::{Seen, TRACTOR_HEIGHT, draw_post, draw_tractor, draw_trees};
use planting::order::sort_by;
use planting::{Plan, Quantity};

/// What the section shows, in metres: rows at 0 and one row width to the right.
struct Extent {
    left: f64,
    right: f64,
    up: f64,
    down: f64,
}

fn rows(plan: &Plan) -> Vec<f64> {
    if plan.block.rows > 1 { vec![0.0, plan.scenario.row_width.value] } else { vec![0.0] }
}

fn extent(plan: &Plan, light: Daylight) -> Extent {
    let scenario = &plan.scenario;
    let row = scenario.row_width.value;
    let canopy = (row - plan.clear_alley.value).max(0.3);
    let wired = scenario.support.has_wires();
    let posts = if wired { scenario.post_height().value } else { 0.0 };
    let wire = scenario.top_wire().map_or(0.0, |wire| wire.value);
    let side = (canopy / 2.0 + 0.25).min(row * 0.5 + 0.3);
    let right = if plan.block.rows > 1 { row + side } else { row / 2.0 + 0.15 };
    Extent {
        left: if plan.block.rows > 1 { -side } else { -row / 2.0 - 0.15 },
        right,
        up: scenario.tree_height.value.max(posts).max(wire).max(TRACTOR_HEIGHT + 0.4),
        // Light stops at the ground: the drawing does too, and is larger for it.
        down: match light {
            Daylight::Plain if wired => scenario.post_embedment.value + 0.15,
            Daylight::Plain => 0.5,
            Daylight::Season | Daylight::Hour => 0.3,
        },
    }
}

/// Room beside the picture, in ems: left, right, above, below.
const LEFT: f64 = 5.4;
const RIGHT: f64 = 8.2;
/// The dimension lines on the right, from the picture outwards, in ems.
const RIGHT_LANES: [f64; 3] = [0.9, 3.6, 6.3];
const ABOVE: f64 = 1.2;
const BELOW: f64 = 4.6;

/// Room above the picture, in ems: the sun's note stands there.
fn above(light: Daylight) -> f64 {
    ABOVE + if light == Daylight::Hour { 1.6 } else { 0.0 }
}

/// Room below the picture, in ems: dimensions, the key of the light, title.
fn below(light: Daylight) -> f64 {
    BELOW + FOOT_EMS + if light == Daylight::Season { KEY_EMS } else { 0.0 }
}

fn projection(plan: &Plan, frame: &Frame) -> Projection {
    if let ScaleChoice::Hold(held, _) = frame.scale {
        return held;
    }
    let extent = extent(plan, frame.light);
    let em = frame.lettering;
    let room =
        (frame.width - (LEFT + RIGHT) * em, frame.height - (above(frame.light) + below(frame.light)) * em);
    let (wide, high) = (extent.right - extent.left, extent.up + extent.down);
    let scale = match frame.scale {
        ScaleChoice::Ratio(ratio) => 1000.0 / ratio,
        _ => (room.0 / wide).min(room.1 / high).max(0.5),
    };
    let spare = ((room.0 - wide * scale) / 2.0, (room.1 - high * scale) / 2.0);
    Projection {
        scale,
        origin: (
            LEFT * em + spare.0 - extent.left * scale,
            above(frame.light) * em + spare.1 + extent.up * scale,
        ),
    }
}

/// Width and height of ground the section needs, and the paper it needs beside it in ems.
pub(crate) fn demand(plan: &Plan, light: Daylight) -> ((f64, f64), (f64, f64)) {
    let extent = extent(plan, light);
    ((extent.right - extent.left, extent.up + extent.down), (LEFT + RIGHT, above(light) + below(light)))
}

/// Draws the cross-section.
pub fn draw(plan: &Plan, frame: Frame) -> Sheet {
    let to = projection(plan, &frame);
    let mut board = Board::new(frame);
    ground(&mut board, plan, &to);
    // Before the light, whose figures can stand elsewhere.
    handles(&mut board, plan, &to);
    match (frame.light, frame.painters) {
        (Daylight::Season, Some(painters)) => (painters.section_season)(&mut board, plan, &to),
        (Daylight::Hour, Some(painters)) => (painters.section_shade)(&mut board, plan, &to),
        _ => {}
    }
    trees(&mut board, plan, &to);
    trellis(&mut board, plan, &to);
    if plan.block.rows > 1 {
        draw_tractor(&mut board, plan.scenario.row_width.value / 2.0, plan.scenario.tractor_width.value, &to);
    }
    heights(&mut board, plan, &to);
    widths(&mut board, plan, &to);
    let em = board.em();
    let (width, height) = (board.frame.width, board.frame.height);
    let title = format!("Cross-section, year {}", crate::measure::rounded(plan.scenario.year, 1));
    if let (Daylight::Season, Some(painters)) = (frame.light, frame.painters) {
        (painters.section_key)(&mut board, plan);
    }
    board.title_and_bar(&title, to.scale, (em * 0.6, width - em * 0.6), height - em * 0.2);
    let description = describe(plan, board.units());
    board.finish(View::Section, description, to, None)
}

fn describe(plan: &Plan, units: Units) -> String {
    let length = |value: f64| write(value, Quantity::Length, units);
    let shown = &plan.canopy.shown;
    format!(
        "Cross-section across the rows in year {}: trees {} high, crowns {} wide at the base, rows {} apart, clear alley {} for a tractor {} wide, {} wires.",
        crate::measure::rounded(shown.year, 1),
        length(shown.crown.top),
        length(shown.crown.width_across(shown.crown.base)),
        length(plan.scenario.row_width.value),
        length(plan.clear_alley.value),
        length(plan.scenario.tractor_width.value),
        plan.trellis.wires,
    )
}

/// The cut points of light: for flower buds, fruit size, colour.
pub(crate) fn cuts(plan: &Plan) -> [f64; 3] {
    let scenario = &plan.scenario;
    [scenario.light_for_flowers, scenario.light_for_size, scenario.light_for_colour].map(|cut| cut.value)
}

/// The key of the season's light, below the dimensions.
pub(crate) fn key(board: &mut Board, plan: &Plan) {
    let em = board.em();
    let strip = (em * 0.6, board.frame.width - em * 1.2);
    draw_key(board, cuts(plan), strip, board.frame.height - (FOOT_EMS + KEY_EMS - 0.2) * em);
}

/// The season's light: bands through crowns and alley, and along the ground.
pub(crate) fn season(board: &mut Board, plan: &Plan, to: &Projection) {
    let extent = extent(plan, board.frame.light);
    let window = Window { left: extent.left, right: extent.right };
    let light = &plan.light.season;
    draw_field(board, &light.map, cuts(plan), window, to);
    draw_floor(board, &light.floor, plan.scenario.row_width.value, cuts(plan), window, to);
}

/// Shade at the date and hour set, as seen along the rows, with a ray over each crown's top.
pub(crate) fn shade(board: &mut Board, plan: &Plan, to: &Projection) {
    let moment = &plan.light.moment;
    let em = board.em();
    let extent = extent(plan, board.frame.light);
    let units = board.units();
    let degrees = |angle: f64| write(angle, Quantity::Angle, units);
    let time = crate::measure::rounded(plan.scenario.sun_hour, 2);
    let note = match moment.shadow {
        Some(shadow) => {
            let row = plan.scenario.row_width.value;
            // Rows beyond the picture throw shade into it.
            let reach = (extent.up * shadow.across.abs() / row).ceil().min(60.0);
            let last = if plan.block.rows > 1 { 1.0 } else { 0.0 };
            let (mut veils, mut rays) = (Path::new(), Path::new());
            let mut place = if plan.block.rows > 1 { -reach } else { 0.0 };
            while place <= last + if plan.block.rows > 1 { reach } else { 0.0 } {
                for slope in leans(plan) {
                    let outline = crate::tree::across_outline(&plan.canopy.shown.crown, place * row, slope);
                    let cast = outline.iter().map(|(x, z)| (x + shadow.across * z, 0.0));
                    let hull = crate::tree::convex_hull(outline.iter().copied().chain(cast).collect());
                    let seen = between(&hull, extent.left, extent.right);
                    veils = veils.closed(&seen.into_iter().map(|(x, z)| to.place(x, z)).collect::<Vec<_>>());
                    let top = plan.canopy.shown.crown.top;
                    let x = place * row + slope * top;
                    let foot = x + shadow.across * top;
                    if [x, foot].iter().all(|end| *end >= extent.left && *end <= extent.right) {
                        rays = rays.line(to.place(x, top), to.place(foot, 0.0));
                    }
                }
                place += 1.0;
            }
            board.path(LayerName::Light, Ink::Shade, veils);
            board.path(LayerName::Light, Ink::Ray, rays);
            format!(
                "{time} h solar time: sun {} high, from {}; shade seen along the rows",
                degrees(moment.elevation),
                degrees(moment.azimuth)
            )
        }
        None => format!("{time} h solar time: the sun is not up"),
    };
    let note = board.text((em * 0.6, em * 0.8), Anchor::Start, Lettering::Note, note);
    board.write(LayerName::Furniture, note);
}

/// The part of a convex outline between two uprights (Sutherland & Hodgman 1974).
pub(crate) fn between(outline: &[(f64, f64)], left: f64, right: f64) -> Vec<(f64, f64)> {
    let cut = |points: Vec<(f64, f64)>, edge: f64, sign: f64| -> Vec<(f64, f64)> {
        let next = points.get(1..).into_iter().flatten().chain(points.first());
        let ends = points.iter().copied().zip(next.copied());
        let inside = |x: f64| (x - edge) * sign >= 0.0;
        ends.flat_map(|(from, to)| {
            let crossing = (inside(from.0) != inside(to.0)).then(|| {
                let share = (edge - from.0) / (to.0 - from.0);
                (edge, from.1 + (to.1 - from.1) * share)
            });
            crossing.into_iter().chain(inside(to.0).then_some(to))
        })
        .collect()
    };
    cut(cut(outline.to_vec(), left, 1.0), right, -1.0)
}

fn ground(board: &mut Board, plan: &Plan, to: &Projection) {
    let extent = extent(plan, board.frame.light);
    let (left, level) = to.place(extent.left - 0.1, 0.0);
    let (right, bottom) = to.place(extent.right + 0.1, -extent.down);
    board.path(LayerName::Ground, Ink::Soil, Path::new().rectangle((left, level), (right, bottom)));
    board.path(LayerName::Ground, Ink::Ground, Path::new().line((left, level), (right, level)));
}

/// Slopes of the stems that stand at a row, metres sideways for a metre up.
fn leans(plan: &Plan) -> Vec<f64> {
    let slope = plan.scenario.lean.value.tan();
    if slope > 0.0 { vec![-slope, slope] } else { vec![0.0] }
}

fn trees(board: &mut Board, plan: &Plan, to: &Projection) {
    let stems: Vec<(f64, f64)> =
        rows(plan).into_iter().flat_map(|x| leans(plan).into_iter().map(move |slope| (x, slope))).collect();
    draw_trees(board, plan, Seen::AcrossTheRow, &stems, to);
    if plan.block.rows == 1 {
        let half = plan.scenario.row_width.value / 2.0;
        let up = plan.scenario.tree_height.value;
        let edge = |x: f64| (to.place(x, 0.0), to.place(x, up));
        let (left, right) = (edge(-half), edge(half));
        board.path(LayerName::Ground, Ink::Space, Path::new().line(left.0, left.1).line(right.0, right.1));
    }
}

fn trellis(board: &mut Board, plan: &Plan, to: &Projection) {
    let scenario = &plan.scenario;
    if !scenario.support.has_wires() {
        return;
    }
    let depth = if buried(board, plan) { scenario.post_embedment.value } else { 0.0 };
    let levels = (-depth, scenario.post_height().value);
    let mut wires = Path::new();
    for x in rows(plan) {
        for slope in leans(plan) {
            draw_post(board, x, slope, levels, scenario.line_post_diameter.value, to);
            for height in &scenario.wire_heights {
                let (wire_x, wire_y) = to.place(x + slope * height.value, height.value);
                let arm = board.em() * 0.32;
                wires = wires.line((wire_x - arm, wire_y - arm), (wire_x + arm, wire_y + arm));
                wires = wires.line((wire_x - arm, wire_y + arm), (wire_x + arm, wire_y - arm));
            }
        }
    }
    board.path(LayerName::Trellis, Ink::Wire, wires);
}

fn heights(board: &mut Board, plan: &Plan, to: &Projection) {
    let scenario = &plan.scenario;
    let em = board.em();
    let extent = extent(plan, board.frame.light);
    let edge = to.place(extent.left, 0.0);
    let first = *rows(plan).first().unwrap_or(&0.0);
    let wire_x =
        |height: f64| to.place(first + leans(plan).first().copied().unwrap_or(0.0) * height, height).0;
    let ground_y = edge.1;
    // Wire heights run from the ground on one line, each with its own figure.
    let mut heights: Vec<f64> = if scenario.support.has_wires() {
        scenario.wire_heights.iter().map(|wire| wire.value).collect()
    } else {
        vec![]
    };
    // The top wire first: where figures crowd, it keeps its own.
    sort_by(&mut heights, |a, b| b.total_cmp(a));
    if let Some(top) = heights.first() {
        let line_x = edge.0 - em * 0.9;
        board.thin_line((line_x, ground_y), (line_x, to.place(0.0, *top).1));
        board.path(LayerName::Dimensions, Ink::Dimension, Path::new().circle((line_x, ground_y), em * 0.16));
        for height in &heights {
            let y = to.place(0.0, *height).1;
            // Over the bands of light a line to the wire would only be noise.
            let end = if board.frame.light == Daylight::Season { edge.0 } else { wire_x(*height) };
            board.thin_line((line_x - em * 0.3, y), (end, y));
            let label =
                board.text((line_x - em * 0.55, y), Anchor::End, Lettering::Label, board.length(*height));
            board.write(LayerName::Dimensions, label);
        }
    }
    let right = to.place(extent.right, 0.0).0;
    let last = *rows(plan).last().unwrap_or(&0.0);
    let slope = leans(plan).last().copied().unwrap_or(0.0);
    let crown = &plan.canopy.shown.crown;
    let base = crown.base;
    let mut levels = vec![
        (base, last + slope * base + crown.width_across(base) / 2.0),
        (crown.top, last + slope * crown.top),
    ];
    if scenario.support.has_wires() {
        let post = scenario.post_height().value;
        levels.push((post, last + slope * post));
    }
    // The lower a thing, the nearer its line: no extension line then runs through another's figure.
    sort_by(&mut levels, |a, b| a.0.total_cmp(&b.0));
    for ((height, x), lane) in levels.into_iter().zip(RIGHT_LANES) {
        let (x, y) = to.place(x, height);
        let text = board.length(height);
        board.upright(y, ground_y, right + em * lane, (x, right), &text);
    }
    if buried(board, plan) {
        let foot = to.place(last, -scenario.post_embedment.value);
        let below = board.length(scenario.post_embedment.value);
        board.upright(ground_y, foot.1, right + em * RIGHT_LANES[2], (right, foot.0), &below);
    }
    let union = to.place(last, plan.union_settled.value);
    let settled = write(plan.union_settled.value, Quantity::SmallLength, board.units());
    let alley_side = to.place(last - plan.canopy.shown.crown.width_across(base) / 2.0, 0.0).0;
    let machine_edge = to.place(scenario.row_width.value / 2.0 + scenario.tractor_width.value / 2.0, 0.0).0;
    let below_ground = (alley_side - em * 0.2, ground_y + em * 1.1);
    let note = |at: (f64, f64), board: &Board| {
        board.text(at, Anchor::End, Lettering::Note, format!("graft union {settled}"))
    };
    let low_note = note(below_ground, board);
    if low_note.bounds().left > machine_edge - em * 40.0
        && to.place(0.0, -extent.down).1 > ground_y + em * 1.8
    {
        board.note_with_leader(union, low_note);
    }
}

fn widths(board: &mut Board, plan: &Plan, to: &Projection) {
    let scenario = &plan.scenario;
    let em = board.em();
    let lane = board.lane();
    let extent = extent(plan, board.frame.light);
    let bottom = to.place(0.0, -extent.down).1;
    let ground_y = to.place(0.0, 0.0).1;
    let canopy = scenario.row_width.value - plan.clear_alley.value;
    let x = |metres: f64| to.place(metres, 0.0).0;
    let row = scenario.row_width.value;
    let (first, second) = (bottom + lane, bottom + 2.0 * lane);
    let width = board.length(canopy);
    board.across(x(-canopy / 2.0), x(canopy / 2.0), first, (ground_y, ground_y), &width);
    let row_text = board.length(row);
    if plan.block.rows == 1 {
        board.across(x(-row / 2.0), x(row / 2.0), second, (ground_y, ground_y), &row_text);
        return;
    }
    let alley = plan.clear_alley.value;
    if alley > 0.0 {
        let tight = board.length(alley);
        let wordy = format!("alley {tight}");
        let room = alley * to.scale - em;
        let content = if crate::sheet::ems(&wordy) * em < room { wordy } else { tight };
        board.across(x(canopy / 2.0), x(row - canopy / 2.0), first, (ground_y, ground_y), &content);
    }
    let wordy = format!("row width {row_text}");
    board.across(x(0.0), x(row), second, (ground_y, ground_y), &wordy);
    let tractor = scenario.tractor_width.value;
    let roof = to.place(0.0, TRACTOR_HEIGHT).1 - em * 0.6;
    let name = board.length(tractor);
    let shoulder = to.place(0.0, 1.1).1;
    let (left, right) = (x(row / 2.0 - tractor / 2.0), x(row / 2.0 + tractor / 2.0));
    board.across(left, right, roof, (shoulder, shoulder), &name);
}

/// Whether the buried part of posts is shown.
fn buried(board: &Board, plan: &Plan) -> bool {
    board.frame.light == Daylight::Plain && plan.scenario.support.has_wires()
}

fn handles(board: &mut Board, plan: &Plan, to: &Projection) {
    let scenario = &plan.scenario;
    let buried = buried(board, plan);
    let shown = &plan.canopy.shown.crown;
    let (up, right, down) = ((0.0, -1.0), (1.0, 0.0), (0.0, 1.0));
    let one = 1.0 / to.scale;
    let mut add = |parameter: &'static str, item, label: String, at, grows, per_unit, value| {
        board.handle(Handle { parameter, item, label, at, grows, per_unit, value });
    };
    let plain = str::to_owned;
    if plan.block.rows > 1 {
        let row = scenario.row_width.value;
        add("row_width", None, plain("Row width"), to.place(row, 0.0), right, one, row);
    } else {
        let half = scenario.row_width.value / 2.0;
        add(
            "row_width",
            None,
            plain("Row width"),
            to.place(half, 0.0),
            right,
            2.0 * one,
            scenario.row_width.value,
        );
    }
    let height = scenario.tree_height.value;
    let slope = leans(plan).last().copied().unwrap_or(0.0);
    add("tree_height", None, plain("Tree height kept"), to.place(slope * height, height), up, one, height);
    let canopy = scenario.canopy_width.value;
    let base = shown.base.max(scenario.crown_base.value);
    let edge = to.place(slope * base + canopy / 2.0, base);
    add("canopy_width", None, plain("Canopy width kept"), edge, right, 2.0 * one, canopy);
    let low = scenario.crown_base.value;
    let low_edge = to.place(-slope * low - canopy / 2.0, low);
    add("crown_base", None, plain("Lowest branches"), low_edge, up, one, low);
    if scenario.support.has_wires() {
        for (item, wire) in scenario.wire_heights.iter().enumerate() {
            let at = to.place(-slope * wire.value, wire.value);
            add("wire_heights", Some(item), format!("Height of wire {}", item + 1), at, up, one, wire.value);
        }
    }
    if buried {
        let last = *rows(plan).last().unwrap_or(&0.0);
        let depth = scenario.post_embedment.value;
        add(
            "post_embedment",
            None,
            plain("Post depth in the ground"),
            to.place(last, -depth),
            down,
            one,
            depth,
        );
    }
    if plan.block.rows > 1 {
        let tractor = scenario.tractor_width.value;
        let at = to.place(scenario.row_width.value / 2.0 + tractor / 2.0, 0.55);
        add("tractor_width", None, plain("Tractor width"), at, right, 2.0 * one, tractor);
    }
}
