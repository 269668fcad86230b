//! A chart on a board: axes, curves, bars, and lettering that never overlaps.

use super::ticks::{Ruler, ruler};
use super::{BarPart, Chart, Plot, Ranged, Sample, finite};
use crate::board::geometry::{Bounds, Point, Projection, Size, Span};
use crate::board::path::Path;
use crate::board::sheet::{Anchor, Ink, LayerName, Lettering, Sheet, Text, ems};
use crate::board::{Board, Frame};
use crate::measure::write;
use crate::view::View;
use planting::order::within;

/// Room above the axes and below them, in ems; below stand ticks, the axis's label and the title.
const ABOVE: f64 = 2.4;
const BELOW: f64 = 5.0;
/// Room for the key of stacked bars, in ems.
const KEY: f64 = 1.6;
/// The least width of a plot that has the names of its curves beside it, in ems.
const WIDE_ENOUGH: f64 = 16.0;
/// Notes are set in this part of an em.
const NOTE: f64 = 0.9;
/// Kinds of lines there are.
const LINE_KINDS: u8 = 3;
/// Fills there are.
const FILLS: u8 = 5;
/// Part of a bar's place that the bar takes.
const BAR_WIDTH: f64 = 0.7;

/// Where values of a chart lie on the sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plotted {
    /// The axes' ends on the sheet.
    pub bounds: Bounds,
    /// From the left end of the axis at the foot to its right, SI.
    pub across: Span,
    /// From the lower end of the axis at the side to its upper, SI.
    pub up: Span,
}

impl Plotted {
    /// Where a pair of values lies; one beyond the axis at the side is held at its end.
    pub fn point(&self, across: f64, up: f64) -> Point {
        let part = |value: f64, span: Span| (value - span.from) / span.length();
        let rise = within(part(up, self.up), 0.0, 1.0);
        Point::new(
            self.bounds.across.at(part(across, self.across)),
            self.bounds.down.to - self.bounds.down.length() * rise,
        )
    }

    /// How values of the axis at the foot lie on the sheet.
    pub fn projection(&self) -> Projection {
        Projection {
            scale: self.bounds.across.length() / self.across.length(),
            origin: self.point(0.0, self.up.from),
        }
    }
}

/// A curve as it is drawn: its name and its points.
struct Curve {
    name: String,
    points: Vec<Point>,
}

impl Chart {
    /// The chart as a drawing of its own.
    pub fn sheet(&self, view: View, frame: Frame) -> Sheet {
        let mut board = Board::new(frame);
        let to = self.draw(&mut board).projection();
        board.finish(view, self.describe(frame.units), to, None)
    }

    /// Draws the chart over the whole board; tells where its values lie.
    pub(crate) fn draw(&self, board: &mut Board) -> Plotted {
        let em = board.em();
        let (foot_values, side_values) = self.plot.values();
        let units = board.units();
        let side = ruler(&side_values, self.up.span, self.up.quantity, units, 5.0);
        let names = self.names();
        let widest = |names: &[String]| names.iter().map(|name| ems(name)).fold(0.0, f64::max) * NOTE;
        let figures: Vec<String> =
            side.ticks.iter().map(|tick| write(*tick, self.up.quantity, units)).collect();
        let left = widest(&figures) + 1.2;
        let beside = if names.is_empty() { 0.0 } else { widest(&names) + 1.6 };
        let narrow = board.frame.width < (left + beside + WIDE_ENOUGH) * em;
        let right = if narrow { 1.4 } else { beside.max(1.4) };
        let below = BELOW + if self.has_key() { KEY } else { 0.0 };
        let corner = Point::new(left * em, ABOVE * em);
        let size = board.frame.beside(Size::new(left + right, ABOVE + below));
        let bounds = Bounds::between(corner, corner.moved(size.width.max(em), size.height.max(em)));
        // A tick every four ems at the most, so that their figures stand apart.
        let steps = within((bounds.across.length() / (4.0 * em)).floor(), 1.0, 6.0);
        let foot = match &self.plot {
            Plot::Bars { labels, .. } => {
                Ruler { span: Span::new(0.0, bars(labels).max(1.0)), ticks: Vec::new() }
            }
            _ => ruler(&foot_values, self.across.span, self.across.quantity, units, steps),
        };
        let to = Plotted { bounds, across: foot.span, up: side.span };
        self.axes(board, &to, &foot.ticks, &side.ticks, &figures);
        match &self.plot {
            Plot::Lines(series) => {
                let curves = series.iter().map(|one| curve(&one.name, &one.samples, &to)).collect();
                name_curves(board, curves, narrow);
            }
            Plot::Band { name, range, samples } => band(board, &to, (name, range), samples, narrow),
            Plot::Bars { labels, parts } => self.bars(board, &to, labels, parts),
            Plot::Histogram { edges, counts } => histogram(board, &to, edges, counts),
        }
        to
    }

    /// Names that stand beside the curves.
    fn names(&self) -> Vec<String> {
        match &self.plot {
            Plot::Lines(series) => series.iter().map(|one| one.name.clone()).collect(),
            Plot::Band { name, range, .. } => vec![name.clone(), range.clone()],
            Plot::Bars { .. } | Plot::Histogram { .. } => Vec::new(),
        }
    }

    /// Whether what is drawn can't carry its names itself.
    fn has_key(&self) -> bool {
        matches!(&self.plot, Plot::Bars { parts, .. } if parts.len() > 1)
    }

    fn axes(&self, board: &mut Board, to: &Plotted, foot: &[f64], side: &[f64], figures: &[String]) {
        let em = board.em();
        let units = board.units();
        let put = |board: &mut Board, at: Point, anchor: Anchor, words: String| {
            let text = board.text(at, anchor, Lettering::Note, words);
            board.write(LayerName::Furniture, text);
        };
        let mut grid = Path::new();
        for (tick, figure) in side.iter().zip(figures) {
            let left = to.point(to.across.from, *tick);
            grid = grid.line(left, to.point(to.across.to, *tick));
            put(board, left.moved(-em * 0.5, 0.0), Anchor::End, figure.clone());
        }
        let ground = to.bounds.down.to;
        for tick in foot {
            let at = Point::new(to.point(*tick, to.up.from).x, ground);
            grid = grid.line(at, at.moved(0.0, em * 0.3));
            put(board, at.moved(0.0, em), Anchor::Middle, write(*tick, self.across.quantity, units));
        }
        board.path(LayerName::Ground, Ink::Margin, grid);
        let middle = Point::new(to.bounds.across.middle(), ground + em * 2.1);
        put(board, middle, Anchor::Middle, self.across.label.clone());
        put(board, Point::new(em * 0.6, em * 0.8), Anchor::Start, self.up.label.clone());
        if let Some(mark) = self.mark {
            let line = Path::new().line(to.point(mark, to.up.from), to.point(mark, to.up.to));
            board.path(LayerName::Ground, Ink::Hidden, line);
        }
        let at = Point::new(em * 0.6, board.frame.height - em * 1.4);
        let title = board.text(at, Anchor::Start, Lettering::Title, self.title.clone());
        board.write(LayerName::Furniture, title);
    }

    /// Bars, their parts stacked from 0 upwards, or downwards where they are below it, and the sum of
    /// each beside its end.
    fn bars(&self, board: &mut Board, to: &Plotted, labels: &[String], parts: &[BarPart]) {
        let em = board.em();
        let width = BAR_WIDTH * to.bounds.across.length() / bars(labels).max(1.0);
        let mut middle = 0.5;
        for (bar, label) in labels.iter().enumerate() {
            let (mut above, mut below) = (0.0, 0.0);
            let x = to.point(middle, to.up.from).x;
            for (index, part) in (0u8..).zip(parts) {
                let value = finite(part.values.get(bar).copied());
                let end = if value < 0.0 { &mut below } else { &mut above };
                let from = Point::new(x - width / 2.0, to.point(middle, *end).y);
                *end += value;
                let outline =
                    Path::new().rectangle(from, Point::new(x + width / 2.0, to.point(middle, *end).y));
                board.path(LayerName::Crowns, Ink::Fill(fill(parts, index)), outline);
            }
            let figure = write(above + below, self.up.quantity, board.units());
            let end = if above > 0.0 {
                to.point(middle, above).moved(0.0, -em * 0.7)
            } else {
                to.point(middle, below).moved(0.0, em * 0.7)
            };
            let sum = board.text(end, Anchor::Middle, Lettering::Note, figure);
            board.write(LayerName::Furniture, sum);
            let foot = Point::new(x, to.bounds.down.to + em);
            let name = board.text(foot, Anchor::Middle, Lettering::Note, label.clone());
            board.write(LayerName::Furniture, name);
            middle += 1.0;
        }
        let zero = Path::new().line(to.point(to.across.from, 0.0), to.point(to.across.to, 0.0));
        board.path(LayerName::Furniture, Ink::Fine, zero);
        if self.has_key() {
            key(board, parts);
        }
    }
}

/// The fill of one part of the bars; bars of one part take the fill of a histogram.
fn fill(parts: &[BarPart], index: u8) -> u8 {
    if parts.len() == 1 { 1 } else { index % FILLS }
}

/// How many bars there are.
#[expect(clippy::cast_precision_loss, reason = "a count of bars")]
fn bars(labels: &[String]) -> f64 {
    labels.len() as f64
}

/// The key of the parts of bars, in one line above the title; what finds no room is left to the table.
fn key(board: &mut Board, parts: &[BarPart]) {
    let em = board.em();
    let mut at = Point::new(em * 0.6, board.frame.height - em * 3.0);
    for (index, part) in (0u8..).zip(parts) {
        let text = board.text(at.moved(em * 1.4, 0.0), Anchor::Start, Lettering::Note, part.name.clone());
        let end = text.bounds().across.to;
        if !board.write(LayerName::Furniture, text) {
            break;
        }
        let swatch = Path::new().rectangle(at.moved(0.0, -em * 0.4), at.moved(em, em * 0.4));
        board.path(LayerName::Furniture, Ink::Fill(fill(parts, index)), swatch);
        at = Point::new(end + em, at.y);
    }
}

fn curve(name: &str, samples: &[Sample], to: &Plotted) -> Curve {
    let finite = samples.iter().filter(|it| it.across.is_finite() && it.up.is_finite());
    Curve { name: name.to_owned(), points: finite.map(|it| to.point(it.across, it.up)).collect() }
}

/// Draws curves, each of a kind of line of its own, with its name at its end, or over it where there is
/// no room beside it. A curve of one point is a dot.
fn name_curves(board: &mut Board, curves: Vec<Curve>, narrow: bool) {
    let em = board.em();
    for (Curve { name, points }, kind) in curves.into_iter().zip((0..LINE_KINDS).cycle()) {
        let Some(end) = points.last().copied() else { continue };
        let path =
            if points.len() == 1 { Path::new().circle(end, em * 0.2) } else { Path::new().open(&points) };
        board.path(LayerName::Trees, Ink::Curve(kind), path);
        let label = |at: Point, anchor| board.text(at, anchor, Lettering::Note, name.clone());
        let texts: Vec<Text> = if narrow {
            points.iter().rev().step_by(3).map(|at| label(at.moved(0.0, -em * 0.8), Anchor::End)).collect()
        } else {
            [0.0, -1.1, 1.1, -2.2, 2.2]
                .iter()
                .map(|off| label(end.moved(em * 0.5, off * em), Anchor::Start))
                .collect()
        };
        board.write_first(LayerName::Furniture, texts);
    }
}

fn band(board: &mut Board, to: &Plotted, names: (&str, &str), samples: &[Ranged], narrow: bool) {
    let whole =
        |it: &&Ranged| [it.across, it.up, it.range.from, it.range.to].iter().all(|value| value.is_finite());
    let samples: Vec<Ranged> = samples.iter().filter(whole).copied().collect();
    let edge = |value: fn(&Ranged) -> f64| samples.iter().map(move |it| to.point(it.across, value(it)));
    let upper: Vec<Point> = edge(|it| it.range.to).collect();
    let lower: Vec<Point> = edge(|it| it.range.from).collect();
    let outline: Vec<Point> = upper.iter().chain(lower.iter().rev()).copied().collect();
    board.path(LayerName::Light, Ink::Range, Path::new().closed(&outline));
    let middle = samples.iter().map(|it| Sample { across: it.across, up: it.up }).collect::<Vec<_>>();
    name_curves(board, vec![curve(names.0, &middle, to)], narrow);
    if let Some(end) = upper.last() {
        let em = board.em();
        let at = if narrow { end.moved(0.0, -em * 0.8) } else { end.moved(em * 0.5, 0.0) };
        let anchor = if narrow { Anchor::End } else { Anchor::Start };
        let label = |off: f64| board.text(at.moved(0.0, off * em), anchor, Lettering::Note, names.1);
        let texts = [0.0, -1.1, 1.1].map(label);
        board.write_first(LayerName::Furniture, texts);
    }
}

fn histogram(board: &mut Board, to: &Plotted, edges: &[f64], counts: &[f64]) {
    let mut boxes = Path::new();
    for ((from, end), count) in edges.iter().zip(edges.iter().skip(1)).zip(counts) {
        if from.is_finite() && end.is_finite() {
            boxes = boxes.rectangle(to.point(*from, 0.0), to.point(*end, finite(Some(*count))));
        }
    }
    board.path(LayerName::Crowns, Ink::Fill(1), boxes);
}
