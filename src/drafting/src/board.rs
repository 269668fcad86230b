//! The board a drawing is made on: its frame, its layers, and the room already taken by lettering.
//!
//! No two texts ever share ground: a text is only written where it is free and inside the frame, and
//! whoever draws offers other places for it or does without. Dimension and extension lines are broken
//! where they would run through a text.

use crate::light_field::{Daylight, Painters, painters};
use crate::measure::{Units, write};
use crate::path::Path;
use crate::sheet::{Anchor, Bounds, Handle, Ink, LayerName, Lettering, Mark, Projection, Sheet, Text, View};
use planting::Quantity;
use planting::order::sort_by;

/// How the scale of a drawing is found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ScaleChoice {
    /// As large as fits.
    Fit,
    /// A true scale on paper, one to so many.
    Ratio(f64),
    /// The scale and place of an earlier drawing, so that nothing slips under a hand that drags; the
    /// second is the detail's.
    Hold(Projection, Option<Projection>),
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
    /// What light it shows.
    pub light: Daylight,
    /// Who paints that light; nobody where it shows none.
    pub(crate) painters: Option<&'static Painters>,
}

impl Frame {
    /// A frame on screen, in pixels.
    pub fn screen(width: f64, height: f64, units: Units) -> Frame {
        let lettering = if width < 480.0 { 11.0 } else { 12.0 };
        Frame {
            width,
            height,
            lettering,
            weights: [0.75, 1.25, 2.0],
            units,
            scale: ScaleChoice::Fit,
            light: Daylight::Plain,
            painters: None,
        }
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
            light: Daylight::Plain,
            painters: None,
        }
    }

    /// The same frame at another scale.
    #[must_use]
    pub fn with_scale(self, scale: ScaleChoice) -> Frame {
        Frame { scale, ..self }
    }

    /// The same frame in another light.
    #[must_use]
    pub fn with_light(self, light: Daylight) -> Frame {
        self.lit(light, Some(painters()))
    }

    /// The same frame in a light painted by these; plain as long as there are none. For a page that fetches its painters
    /// after it stands: a program that calls this and not [`Frame::with_light`] has none of them in it.
    ///
    /// ```
    /// use drafting::{Daylight, Frame, Units, painters};
    /// let frame = Frame::screen(720.0, 420.0, Units::Us);
    /// assert_eq!(frame.lit(Daylight::Season, None).light, Daylight::Plain);
    /// assert_eq!(frame.lit(Daylight::Season, Some(painters())).light, Daylight::Season);
    /// ```
    #[must_use]
    pub fn lit(self, light: Daylight, painters: Option<&'static Painters>) -> Frame {
        let light = if painters.is_some() { light } else { Daylight::Plain };
        Frame { light, painters, ..self }
    }
}

/// A straight line between two points of the sheet.
pub(crate) type Line = [(f64, f64); 2];

/// The board.
pub(crate) struct Board {
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
        let place = LayerName::ALL.iter().position(|name| *name == layer).unwrap_or(0);
        if let Some(marks) = self.layers.get_mut(place) {
            marks.push(mark);
        }
    }

    pub(crate) fn path(&mut self, layer: LayerName, ink: Ink, path: Path) {
        if !path.is_empty() {
            self.add(layer, Mark::Path { ink, d: path.text() });
        }
    }

    /// A dimension, extension or leader line; drawn when the sheet is finished, broken at every text.
    pub(crate) fn thin_line(&mut self, from: (f64, f64), to: (f64, f64)) {
        self.thin_lines(vec![[from, to]]);
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
        let broken = |mut path: Path, [from, to]: &Line| {
            let at = |share: f64| (from.0 + (to.0 - from.0) * share, from.1 + (to.1 - from.1) * share);
            let mut gaps: Vec<(f64, f64)> =
                texts.iter().filter_map(|text| text.share_of_line(*from, *to)).collect();
            sort_by(&mut gaps, |a, b| a.0.total_cmp(&b.0));
            let mut drawn = 0.0;
            for (start, end) in gaps {
                if start > drawn {
                    path = path.line(at(drawn), at(start));
                }
                drawn = end.max(drawn);
            }
            if drawn < 1.0 { path.line(at(drawn), *to) } else { path }
        };
        self.thin_lines.iter().map(|lines| lines.iter().fold(Path::new(), broken)).collect()
    }

    pub(crate) fn handle(&mut self, handle: Handle) {
        self.handles.push(handle);
    }

    /// Keeps lettering off a piece of the sheet.
    pub(crate) fn keep_clear(&mut self, bounds: Bounds) {
        self.taken.push(bounds);
    }

    /// Keeps lettering off the edge of an area.
    pub(crate) fn keep_off(&mut self, corners: &[(f64, f64)]) {
        let before = corners.last().into_iter().chain(corners);
        self.edges.extend(before.zip(corners).map(|(from, to)| [*from, *to]));
    }

    /// A text, not yet written.
    pub(crate) fn text(
        &self,
        at: (f64, f64),
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
        let sheet = Bounds { left: 0.0, top: 0.0, right: self.frame.width, bottom: self.frame.height };
        bounds.inside(&sheet)
            && !self.taken.iter().any(|taken| taken.meets(&bounds))
            && !self.edges.iter().any(|[from, to]| bounds.share_of_line(*from, *to).is_some())
    }

    /// Whether a text stands clear of what a hand grabs.
    pub(crate) fn is_clear_of_handles(&self, text: &Text) -> bool {
        let (bounds, knob) = (text.bounds(), self.em() * 0.9);
        let around =
            |(x, y): (f64, f64)| Bounds { left: x - knob, right: x + knob, top: y - knob, bottom: y + knob };
        !self.handles.iter().any(|handle| around(handle.at).meets(&bounds))
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

impl Projection {
    /// Where a point lies on paper: metres to the right of and above the model's origin.
    pub fn place(&self, right: f64, up: f64) -> (f64, f64) {
        (self.origin.0 + right * self.scale, self.origin.1 - up * self.scale)
    }
}
