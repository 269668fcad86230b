//! The board a drawing is made on: its frame, its layers, and the room already taken by lettering.
//!
//! No two texts ever share ground: a text is only written where it is free and inside the frame, and
//! whoever draws offers other places for it or does without. Dimension and extension lines are broken
//! where they would run through a text.

mod dimension;
pub(crate) mod furniture;
pub(crate) mod geometry;
pub(crate) mod path;
pub mod scale;
pub mod sheet;

use crate::measure::{Units, write};
use crate::view::View;
use geometry::{Bounds, Line, Point, Projection, Size, Span};
use path::Path;
use planting::Quantity;
use planting::order::sort_by;
use sheet::{Anchor, Handle, Held, Ink, LayerName, Lettering, Mark, Sheet, Text};

/// How the scale of a drawing is found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ScaleChoice {
    /// As large as fits.
    Fit,
    /// A true scale on paper, one to so many.
    Ratio(f64),
    /// The scale and place of an earlier drawing, so that nothing slips under a hand that drags.
    Hold(Held),
}

/// Thin, medium and heavy lines on paper `[mm]`, of the line widths of ISO 128-2.
pub(crate) const PAPER_WEIGHTS: [f64; 3] = [0.18, 0.35, 0.5];

/// The room a drawing has and how it is lettered.
#[derive(Clone, Copy, Debug)]
pub struct Frame {
    /// Width in paper units.
    pub width: f64,
    /// Height in paper units.
    pub height: f64,
    /// Height of dimension lettering in paper units.
    pub lettering: f64,
    /// Widths of thin, medium and heavy lines, in the steps of ISO 128.
    pub weights: [f64; 3],
    /// The reader's units.
    pub units: Units,
    /// How the scale is found.
    pub scale: ScaleChoice,
}

impl Frame {
    /// A frame on screen, in pixels.
    pub fn screen(width: f64, height: f64, units: Units) -> Frame {
        let lettering = if width < 480.0 { 11.0 } else { 12.0 };
        Frame { width, height, lettering, weights: [0.75, 1.25, 2.0], units, scale: ScaleChoice::Fit }
    }

    /// A frame on paper, in millimetres. Its notes, the smallest lettering, are 7 point high.
    pub fn paper(width: f64, height: f64, units: Units, ratio: f64) -> Frame {
        Frame {
            width,
            height,
            lettering: 2.8,
            weights: PAPER_WEIGHTS,
            units,
            scale: ScaleChoice::Ratio(ratio),
        }
    }

    /// The same frame at another scale.
    #[must_use]
    pub fn with_scale(self, scale: ScaleChoice) -> Frame {
        Frame { scale, ..self }
    }

    /// The paper there is for a picture once what stands beside it is taken off.
    pub(crate) fn beside(&self, ems: Size) -> Size {
        Size::new(self.width - ems.width * self.lettering, self.height - ems.height * self.lettering)
    }
}

/// The board: what is drawn so far, and where there is still room. Only this crate draws on it.
#[derive(Debug)]
pub struct Board {
    pub(crate) frame: Frame,
    layers: Vec<Vec<Mark>>,
    taken: Vec<Bounds>,
    /// Lines no lettering may stand on.
    edges: Vec<Line>,
    /// Lines that belong together, such as those of one dimension.
    thin_lines: Vec<Vec<Line>>,
    handles: Vec<Handle>,
}

impl Board {
    pub(crate) fn new(frame: Frame) -> Board {
        Board {
            frame,
            layers: LayerName::ALL.iter().map(|_| Vec::new()).collect(),
            taken: Vec::new(),
            edges: Vec::new(),
            thin_lines: Vec::new(),
            handles: Vec::new(),
        }
    }

    /// Height of dimension lettering: the measure everything beside the picture is set out in.
    pub(crate) fn em(&self) -> f64 {
        self.frame.lettering
    }

    pub(crate) fn units(&self) -> Units {
        self.frame.units
    }

    /// A length as a dimension writes it.
    pub(crate) fn length(&self, metres: f64) -> String {
        write(metres, Quantity::Length, self.frame.units)
    }

    pub(crate) fn add(&mut self, layer: LayerName, mark: Mark) {
        let index = LayerName::ALL.iter().position(|name| *name == layer).unwrap_or(0);
        if let Some(marks) = self.layers.get_mut(index) {
            marks.push(mark);
        }
    }

    pub(crate) fn path(&mut self, layer: LayerName, ink: Ink, path: Path) {
        if !path.is_empty() {
            self.add(layer, Mark::Path { ink, path });
        }
    }

    /// A dimension, extension or leader line; drawn when the sheet is finished, broken at every text.
    pub(crate) fn thin_line(&mut self, from: Point, to: Point) {
        self.thin_lines(vec![Line::new(from, to)]);
    }

    /// Thin lines that belong together.
    pub(crate) fn thin_lines(&mut self, lines: Vec<Line>) {
        self.thin_lines.push(lines);
    }

    /// The thin lines, with a gap at every text they would run through.
    fn broken_lines(&self) -> Vec<Path> {
        let texts: Vec<Bounds> = self
            .layers
            .iter()
            .flatten()
            .filter_map(|mark| match mark {
                Mark::Text(text) => Some(text.bounds()),
                _ => None,
            })
            .collect();
        let broken = |mut path: Path, line: &Line| {
            let mut gaps: Vec<Span> = texts.iter().filter_map(|text| text.cuts(*line)).collect();
            sort_by(&mut gaps, |a, b| a.from.total_cmp(&b.from));
            let mut drawn = 0.0;
            for gap in gaps {
                if gap.from > drawn {
                    path = path.line(line.at(drawn), line.at(gap.from));
                }
                drawn = gap.to.max(drawn);
            }
            if drawn < 1.0 { path.line(line.at(drawn), line.to) } else { path }
        };
        self.thin_lines.iter().map(|lines| lines.iter().fold(Path::new(), broken)).collect()
    }

    pub(crate) fn handle(&mut self, handle: Handle) {
        self.handles.push(handle);
    }

    /// Keeps lettering off a part of the sheet.
    pub(crate) fn keep_clear(&mut self, bounds: Bounds) {
        self.taken.push(bounds);
    }

    /// Keeps lettering off the edge of an area.
    pub(crate) fn keep_off(&mut self, corners: &[Point]) {
        let before = corners.last().into_iter().chain(corners);
        self.edges.extend(before.zip(corners).map(|(from, to)| Line::new(*from, *to)));
    }

    /// A text, not yet written.
    pub(crate) fn text(
        &self,
        at: Point,
        anchor: Anchor,
        lettering: Lettering,
        content: impl Into<String>,
    ) -> Text {
        let size = self.em()
            * match lettering {
                Lettering::Label => 1.0,
                Lettering::Note => 0.9,
                Lettering::Title => 1.2,
            };
        Text { at, anchor, lettering, upright: false, content: content.into(), size }
    }

    /// Whether a text could be written.
    pub(crate) fn is_free(&self, text: &Text) -> bool {
        let bounds = text.bounds();
        let sheet = Bounds::between(Point::default(), Point::new(self.frame.width, self.frame.height));
        bounds.inside(&sheet)
            && !self.taken.iter().any(|taken| taken.meets(&bounds))
            && !self.edges.iter().any(|line| bounds.cuts(*line).is_some())
    }

    /// Whether a text stands clear of what a hand grabs.
    pub(crate) fn is_clear_of_handles(&self, text: &Text) -> bool {
        let (bounds, knob) = (text.bounds(), self.em() * 0.9);
        !self.handles.iter().any(|handle| Bounds::around(handle.at, knob).meets(&bounds))
    }

    /// Writes a text if its place is free; tells whether it did.
    pub(crate) fn write(&mut self, layer: LayerName, text: Text) -> bool {
        if !self.is_free(&text) {
            return false;
        }
        self.taken.push(text.bounds());
        self.add(layer, Mark::Text(text));
        true
    }

    /// Writes the first of several texts whose place is free.
    pub(crate) fn write_first(&mut self, layer: LayerName, texts: impl IntoIterator<Item = Text>) -> bool {
        texts.into_iter().any(|text| self.write(layer, text))
    }

    pub(crate) fn finish(
        mut self,
        view: View,
        description: String,
        projection: Projection,
        detail: Option<Projection>,
    ) -> Sheet {
        for lines in self.broken_lines() {
            self.path(LayerName::Dimensions, Ink::Dimension, lines);
        }
        Sheet {
            view,
            description,
            width: self.frame.width,
            height: self.frame.height,
            projection,
            detail,
            layers: self.layers,
            handles: self.handles,
            weights: self.frame.weights,
        }
    }
}
