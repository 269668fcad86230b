//! The light of a season as a draughtsman shows it: bands between lines of equal light, and their key.
//!
//! The model's map of one row's width is repeated along the section, as the rows are. Bands run from
//! dark to light along cividis (Nuñez, Anderton & Renslow 2018), which keeps its order in grey and for
//! colour-blind readers; the lines at the three cut points carry their figures.

use crate::board::Board;
use crate::board::geometry::{Bounds, Point, Projection, Span};
use crate::board::path::Path;
use crate::board::sheet::{Anchor, Ink, LayerName, Lettering, ems};
use crate::measure::rounded;
use contour::ContourBuilder;
use planting::Ground;
use planting::light::Map;
use planting::order::within;

/// The cut points of light: for flower buds, fruit size, colour.
pub(super) fn cuts(plan: &Ground) -> [f64; 3] {
    let inputs = &plan.scenario.light;
    [inputs.light_for_flowers, inputs.light_for_size, inputs.light_for_colour].map(|cut| cut.value)
}

/// Bands of light, from dark to light.
pub(super) const BANDS: u8 = 6;

/// Limits between the bands, rising, from the three cut points.
pub(super) fn limits(cuts: [f64; 3]) -> [f64; 5] {
    let [flowers, size, colour] = cuts;
    [flowers / 2.0, flowers, size, colour, colour + (1.0 - colour) * 2.0 / 3.0]
}

/// The band a share of light falls in.
pub(super) fn band(light: f64, cuts: [f64; 3]) -> u8 {
    limits(cuts)
        .into_iter()
        .zip(1..)
        .filter(|(limit, _)| light >= *limit)
        .map(|(_, band)| band)
        .last()
        .unwrap_or(0)
}

/// Draws the bands of a map over part of a section, in metres from a stem, and the lines at its cut
/// points with their figures.
pub(super) fn draw_field(board: &mut Board, map: &Map, cuts: [f64; 3], across: Span, to: &Projection) {
    let wide = across.length();
    if map.light.is_empty() || map.width <= 0.0 || map.height <= 0.0 || wide <= 0.0 {
        return;
    }
    let columns = columns(map, wide);
    let values = resampled(map, across, columns);
    let limits = limits(cuts);
    let builder = ContourBuilder::new(columns + 2, map.up + 2, true);
    let Ok(lines) = builder.lines(&values, &limits) else { return };
    let (end_x, end_y) = (as_number(columns), as_number(map.up));
    // One cell more on every side than is seen: rings cut the corners of the outermost cells.
    let on_paper = |x: f64, y: f64| {
        let (x, y) = (within(x - 1.0, 0.0, end_x), within(y - 1.0, 0.0, end_y));
        to.paper(across.from + wide * x / end_x, map.height * y / end_y)
    };
    let whole = Path::new().rectangle(to.paper(across.from, 0.0), to.paper(across.to, map.height));
    board.path(LayerName::Light, Ink::Light(0), whole);
    let on_edge = |x: f64, y: f64| x <= 1.0 || y <= 1.0 || x >= end_x + 1.0 || y >= end_y + 1.0;
    let mut isolines = Vec::new();
    for (line, band) in lines.iter().zip(1..) {
        let mut fill = Path::new();
        for ring in line.geometry() {
            let points: Vec<Point> = ring.coords().map(|point| on_paper(point.x, point.y)).collect();
            fill = fill.closed(&points);
            if cuts.contains(&line.threshold()) {
                let inner = ring
                    .coords()
                    .map(|point| (!on_edge(point.x, point.y)).then(|| on_paper(point.x, point.y)));
                isolines.push((line.threshold(), inner.collect::<Vec<_>>()));
            }
        }
        board.path(LayerName::Light, Ink::Light(band), fill);
    }
    let mut drawn = Path::new();
    for (_, points) in &isolines {
        for stretch in points.split(Option::is_none) {
            drawn = drawn.open(&stretch.iter().copied().flatten().collect::<Vec<_>>());
        }
    }
    board.path(LayerName::Light, Ink::Isoline, drawn);
    for (light, points) in isolines {
        let figure = format!("{} %", rounded(light * 100.0, 0));
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
fn resampled(map: &Map, across: Span, columns: usize) -> Vec<f64> {
    let mut values = Vec::with_capacity((columns + 2) * (map.up + 2));
    let top = map.up.saturating_sub(1);
    for row in [0].into_iter().chain(0..map.up).chain([top]) {
        for column in 0..columns + 2 {
            let x = across.from + across.length() * (as_number(column) - 0.5) / as_number(columns);
            // Cells count from half a row left of a stem; the map repeats with the rows.
            let cells = (x / map.width + 0.5).rem_euclid(1.0) * as_number(map.across) - 0.5;
            let part = cells - cells.floor();
            let cell = |offset: i64| {
                let column = wrapped(cells.floor(), offset, map.across);
                f64::from(map.cell(column, row).unwrap_or(1.0))
            };
            values.push(cell(0) * (1.0 - part) + cell(1) * part);
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

/// A strip of ground in one band of light, in metres across the rows.
pub(super) struct Strip {
    pub(super) band: u8,
    pub(super) across: Span,
}

/// Strips of ground over part of a section, neighbours in one band together; `floor` runs from half a
/// row left of a stem to half a row right of it.
pub(super) fn floor_strips(floor: &[f64], row_width: f64, cuts: [f64; 3], shown: Span) -> Vec<Strip> {
    let mut strips: Vec<Strip> = Vec::new();
    let step = row_width / as_number(floor.len()).max(1.0);
    if step <= 0.0 {
        return strips;
    }
    let mut from = ((shown.from / row_width + 0.5).floor() - 0.5) * row_width;
    for light in floor.iter().cycle() {
        if from >= shown.to {
            break;
        }
        let (start, end) = (from.max(shown.from), (from + step).min(shown.to));
        from += step;
        if end <= start {
            continue;
        }
        let band = band(*light, cuts);
        match strips.last_mut() {
            Some(last) if last.band == band => last.across.to = end,
            _ => strips.push(Strip { band, across: Span::new(start, end) }),
        }
    }
    strips
}

/// Draws a strip along the ground in the bands of the light that falls on it.
pub(super) fn draw_floor(
    board: &mut Board,
    floor: &[f64],
    row_width: f64,
    cuts: [f64; 3],
    across: Span,
    to: &Projection,
) {
    let deep = board.em() * 0.55;
    for Strip { band, across } in floor_strips(floor, row_width, cuts, across) {
        let foot = to.paper(across.to, 0.0).moved(0.0, deep);
        let strip = Path::new().rectangle(to.paper(across.from, 0.0), foot);
        board.path(LayerName::Light, Ink::Light(band), strip);
    }
}

/// Room the key takes, in ems.
pub(super) const KEY_EMS: f64 = 2.4;

/// Draws the key of the bands at the foot of a sheet, above the strip of the title.
pub(super) fn draw_key(board: &mut Board, cuts: [f64; 3]) {
    let em = board.em();
    let (left, room) = (em * 0.6, board.frame.width - em * 1.2);
    let top = board.frame.height - (board.frame.foot_ems() + KEY_EMS - 0.2) * em;
    let heading = "light, % of the open";
    let lead = ems(heading) * em * 0.9;
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
        board.path(
            LayerName::Furniture,
            Ink::Light(band),
            Path::new().rectangle(Point::new(x, top), Point::new(x + step, foot)),
        );
    }
    let bounds = Bounds::between(Point::new(start, top), Point::new(start + width, foot));
    let outline = Path::new().rectangle(Point::new(start, top), Point::new(start + width, foot));
    board.path(LayerName::Furniture, Ink::Fine, outline);
    board.keep_clear(bounds);
    if beside > 0.0 {
        let text = board.text(Point::new(left, (top + foot) / 2.0), Anchor::Start, Lettering::Note, heading);
        board.write(LayerName::Furniture, text);
    }
    let marks = [0.0].into_iter().chain(limits(cuts)).chain([1.0]);
    for (light, edge) in marks.zip(0..) {
        let at = Point::new(start + step * f64::from(edge), foot + em * 0.75);
        let figure = rounded(light * 100.0, 0);
        let text = board.text(at, Anchor::Middle, Lettering::Note, figure);
        board.write(LayerName::Furniture, text);
    }
}
