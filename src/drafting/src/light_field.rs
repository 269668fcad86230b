//! The light of a season as a draughtsman shows it: bands between lines of equal light, and their key.
//!
//! The model's map of one row's width is repeated along the section, as the rows are. Bands run from
//! dark to light along cividis (Nuñez, Anderton & Renslow 2018), which keeps its order in grey and for
//! colour-blind readers; the lines at the three cut points carry their figures.

use crate::board::Board;
use crate::path::Path;
use crate::plan_detail::{self, Seen, Stretch};
use crate::section_view;
use crate::sheet::{Anchor, Bounds, Ink, LayerName, Lettering, Projection};
use contour::ContourBuilder;
use planting::Plan;
use planting::light::Map;
use planting::order::within;

/// Bands of light, from dark to light.
pub(crate) const BANDS: u8 = 6;

/// What light a drawing shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Daylight {
    /// None: crowns are shown as bodies.
    #[default]
    Plain,
    /// The light of the season.
    Season,
    /// Sun and shade of the date and hour set.
    Hour,
}

/// Those who paint light into drawings. Drawings call them through their frame and never by name, so that a page may fetch
/// them after it stands.
#[derive(Debug)]
pub struct Painters {
    pub(crate) section_season: fn(&mut Board, &Plan, &Projection),
    pub(crate) section_shade: fn(&mut Board, &Plan, &Projection),
    pub(crate) section_key: fn(&mut Board, &Plan),
    pub(crate) detail_season: fn(&mut Board, &Plan, Seen, &Projection),
    pub(crate) detail_shade: fn(&mut Board, &Plan, &Stretch, Seen, &Projection),
}

static PAINTERS: Painters = Painters {
    section_season: section_view::season,
    section_shade: section_view::shade,
    section_key: section_view::key,
    detail_season: plan_detail::floor,
    detail_shade: plan_detail::shade,
};

/// The painters of this crate.
pub fn painters() -> &'static Painters {
    &PAINTERS
}

/// Limits between the bands, rising, from the three cut points.
pub(crate) fn limits(cuts: [f64; 3]) -> [f64; 5] {
    let [flowers, size, colour] = cuts;
    [flowers / 2.0, flowers, size, colour, colour + (1.0 - colour) * 2.0 / 3.0]
}

/// The band a share of light falls in.
pub(crate) fn band(light: f64, cuts: [f64; 3]) -> u8 {
    limits(cuts)
        .into_iter()
        .zip(1..)
        .filter(|(limit, _)| light >= *limit)
        .map(|(_, band)| band)
        .last()
        .unwrap_or(0)
}

/// Part of the section that a map is drawn over, in metres: stems at `0`, `row`, … .
#[derive(Clone, Copy)]
pub(crate) struct Window {
    pub(crate) left: f64,
    pub(crate) right: f64,
}

/// Draws the bands of a map, and the lines at its cut points with their figures.
pub(crate) fn draw_field(board: &mut Board, map: &Map, cuts: [f64; 3], window: Window, to: &Projection) {
    let wide = window.right - window.left;
    if map.light.is_empty() || map.width <= 0.0 || map.height <= 0.0 || wide <= 0.0 {
        return;
    }
    let columns = columns(map, wide);
    let values = resampled(map, window.left, wide, columns);
    let limits = limits(cuts);
    let builder = ContourBuilder::new(columns + 2, map.up + 2, true);
    let Ok(lines) = builder.lines(&values, &limits) else { return };
    let (end_x, end_y) = (as_number(columns), as_number(map.up));
    // One cell more on every side than is seen: rings cut the corners of the outermost cells.
    let place = |x: f64, y: f64| {
        let (x, y) = (within(x - 1.0, 0.0, end_x), within(y - 1.0, 0.0, end_y));
        to.place(window.left + wide * x / end_x, map.height * y / end_y)
    };
    let whole = Path::new().rectangle(to.place(window.left, 0.0), to.place(window.right, map.height));
    board.path(LayerName::Light, Ink::Light(0), whole);
    let on_edge = |x: f64, y: f64| x <= 1.0 || y <= 1.0 || x >= end_x + 1.0 || y >= end_y + 1.0;
    let mut isolines = Vec::new();
    for (line, band) in lines.iter().zip(1..) {
        let mut fill = Path::new();
        for ring in line.geometry() {
            let points: Vec<(f64, f64)> = ring.coords().map(|point| place(point.x, point.y)).collect();
            fill = fill.closed(&points);
            if cuts.contains(&line.threshold()) {
                let inner =
                    ring.coords().map(|point| (!on_edge(point.x, point.y)).then(|| place(point.x, point.y)));
                isolines.push((line.threshold(), inner.collect::<Vec<_>>()));
            }
        }
        board.path(LayerName::Light, Ink::Light(band), fill);
    }
    let mut drawn = Path::new();
    for (_, points) in &isolines {
        for piece in points.split(Option::is_none) {
            drawn = drawn.open(&piece.iter().copied().flatten().collect::<Vec<_>>());
        }
    }
    board.path(LayerName::Light, Ink::Isoline, drawn);
    for (light, points) in isolines {
        let figure = format!("{} %", crate::measure::rounded(light * 100.0, 0));
        let (clear, others): (Vec<_>, Vec<_>) = points
            .into_iter()
            .flatten()
            .step_by(5)
            .map(|at| board.text(at, Anchor::Middle, Lettering::Note, figure.clone()))
            .partition(|text| board.is_clear_of_handles(text));
        board.write_first(LayerName::Furniture, clear.into_iter().chain(others));
    }
}

/// Columns to draw a width with: as fine as the map, and no finer than the eye needs.
fn columns(map: &Map, wide: f64) -> usize {
    let mut columns = 4;
    while columns < 160 && as_number(columns) * map.width < wide * as_number(map.across) {
        columns += 1;
    }
    columns
}

/// The map over a window and one cell beyond on every side, column by column in between its cells, rows
/// of cells from the ground up.
fn resampled(map: &Map, left: f64, wide: f64, columns: usize) -> Vec<f64> {
    let mut values = Vec::with_capacity((columns + 2) * (map.up + 2));
    let top = map.up.saturating_sub(1);
    for row in [0].into_iter().chain(0..map.up).chain([top]) {
        for column in 0..columns + 2 {
            let x = left + wide * (as_number(column) - 0.5) / as_number(columns);
            // Cells count from half a row left of a stem; the map repeats with the rows.
            let cells = (x / map.width + 0.5).rem_euclid(1.0) * as_number(map.across) - 0.5;
            let share = cells - cells.floor();
            let cell = |offset: i64| {
                let across = wrapped(cells.floor(), offset, map.across);
                f64::from(map.cell(across, row).unwrap_or(1.0))
            };
            values.push(cell(0) * (1.0 - share) + cell(1) * share);
        }
    }
    values
}

/// A cell some steps on, around the end of the map.
#[expect(clippy::cast_possible_truncation, reason = "a whole number between 0 and the count")]
#[expect(clippy::cast_sign_loss, reason = "not negative after rem_euclid")]
fn wrapped(cell: f64, offset: i64, count: usize) -> usize {
    let count = as_number(count).max(1.0);
    (cell + if offset > 0 { 1.0 } else { 0.0 }).rem_euclid(count) as usize
}

#[expect(clippy::cast_precision_loss, reason = "counts of cells")]
fn as_number(count: usize) -> f64 {
    count as f64
}

/// Strips of ground between two places across the rows, neighbours in one band together: band, from, to;
/// `floor` runs from half a row left of a stem to half a row right of it.
pub(crate) fn floor_strips(
    floor: &[f64],
    row_width: f64,
    cuts: [f64; 3],
    (left, right): (f64, f64),
) -> Vec<(u8, f64, f64)> {
    let mut strips: Vec<(u8, f64, f64)> = Vec::new();
    let step = row_width / as_number(floor.len()).max(1.0);
    if step <= 0.0 {
        return strips;
    }
    let mut from = ((left / row_width + 0.5).floor() - 0.5) * row_width;
    for light in floor.iter().cycle() {
        if from >= right {
            break;
        }
        let (start, end) = (from.max(left), (from + step).min(right));
        from += step;
        if end <= start {
            continue;
        }
        let band = band(*light, cuts);
        match strips.last_mut() {
            Some(last) if last.0 == band => last.2 = end,
            _ => strips.push((band, start, end)),
        }
    }
    strips
}

/// Draws a strip along the ground in the bands of the light that falls on it.
pub(crate) fn draw_floor(
    board: &mut Board,
    floor: &[f64],
    row_width: f64,
    cuts: [f64; 3],
    window: Window,
    to: &Projection,
) {
    let (level, foot) = (to.place(0.0, 0.0).1, to.place(0.0, 0.0).1 + board.em() * 0.55);
    for (band, from, end) in floor_strips(floor, row_width, cuts, (window.left, window.right)) {
        let strip = Path::new().rectangle((to.place(from, 0.0).0, level), (to.place(end, 0.0).0, foot));
        board.path(LayerName::Light, Ink::Light(band), strip);
    }
}

/// Room the key takes, in ems.
pub(crate) const KEY_EMS: f64 = 2.4;

/// Draws the key of the bands, its left end at `left`, at most `room` wide, its upper edge at `top`.
pub(crate) fn draw_key(board: &mut Board, cuts: [f64; 3], (left, room): (f64, f64), top: f64) {
    let em = board.em();
    let heading = "light, % of the open";
    let lead = crate::sheet::ems(heading) * em * 0.9;
    let (beside, width) = if room > lead + em * 16.0 {
        (lead + em, (room - lead - em * 2.0).min(em * 24.0))
    } else {
        (0.0, room - em)
    };
    let foot = top + em * 0.75;
    let step = width / f64::from(BANDS);
    let start = left + beside + em * 0.5;
    for band in 0..BANDS {
        let x = start + step * f64::from(band);
        board.path(LayerName::Furniture, Ink::Light(band), Path::new().rectangle((x, top), (x + step, foot)));
    }
    let outline = Path::new().rectangle((start, top), (start + width, foot));
    board.path(LayerName::Furniture, Ink::Fine, outline);
    board.keep_clear(Bounds { left: start, right: start + width, top, bottom: foot });
    if beside > 0.0 {
        let text = board.text((left, (top + foot) / 2.0), Anchor::Start, Lettering::Note, heading);
        board.write(LayerName::Furniture, text);
    }
    let marks = [0.0].into_iter().chain(limits(cuts)).chain([1.0]);
    for (light, place) in marks.zip(0..) {
        let at = (start + step * f64::from(place), foot + em * 0.75);
        let figure = crate::measure::rounded(light * 100.0, 0);
        let text = board.text(at, Anchor::Middle, Lettering::Note, figure);
        board.write(LayerName::Furniture, text);
    }
}
