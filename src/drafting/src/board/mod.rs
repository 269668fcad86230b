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
use furniture::FOOT_EMS;
use geometry::{Bounds, Direction, Line, Point, Projection, Size, Span};
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

/// An input whose dimension is drawn large and in a colour of its own, because a hand is changing it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lit {
    /// Key of the parameter.
    pub parameter: &'static str,
    /// The item, where the parameter is a list.
    pub item: Option<usize>,
}

/// Dimensions are drawn in two passes, so that the one being changed finds room before all others.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Pass {
    /// The dimension being changed.
    Lit,
    /// All others.
    Rest,
}

impl Pass {
    pub(crate) const BOTH: [Pass; 2] = [Pass::Lit, Pass::Rest];
}

/// The foot of a drawing without title and scale bar, in heights of its lettering.
const BARE_FOOT: f64 = 0.4;

/// How much larger than others the figure of the dimension being changed is.
pub(crate) const LIT: f64 = 1.35;

/// Least distance between two handles, in heights of the lettering: 24 pixels on the smallest screen, the least that a finger or an
/// unsteady hand can tell apart (WCAG 2.2, success criterion 2.5.8).
const HANDLES_APART: f64 = 2.2;

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
    /// The input being changed, if one is.
    pub lit: Option<Lit>,
    /// Whether the drawing carries its title and a scale bar at its foot.
    pub has_foot: bool,
}

impl Frame {
    /// A frame on screen, in pixels.
    pub fn screen(width: f64, height: f64, units: Units) -> Frame {
        let lettering = if width < 480.0 { 11.0 } else { 12.0 };
        let weights = [0.75, 1.25, 2.0];
        Frame { width, height, lettering, weights, units, scale: ScaleChoice::Fit, lit: None, has_foot: true }
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
            lit: None,
            has_foot: true,
        }
    }

    /// The same frame at another scale.
    #[must_use]
    pub fn with_scale(self, scale: ScaleChoice) -> Frame {
        Frame { scale, ..self }
    }

    /// The same frame with the dimension of an input lit.
    ///
    /// ```
    /// use drafting::{Frame, Lit, Units};
    /// let lit = Lit { parameter: "row_width", item: None };
    /// assert_eq!(Frame::screen(400.0, 300.0, Units::Us).with_lit(Some(lit)).lit, Some(lit));
    /// ```
    #[must_use]
    pub fn with_lit(self, lit: Option<Lit>) -> Frame {
        Frame { lit, ..self }
    }

    /// The same frame without title and scale bar, for a page that names the drawing beside it and needs the room.
    ///
    /// ```
    /// use drafting::{Frame, Units};
    /// assert!(!Frame::screen(400.0, 300.0, Units::Us).untitled().has_foot);
    /// ```
    #[must_use]
    pub fn untitled(self) -> Frame {
        Frame { has_foot: false, ..self }
    }

    /// Height of the foot, in heights of the lettering.
    pub(crate) fn foot_ems(&self) -> f64 {
        if self.has_foot { FOOT_EMS } else { BARE_FOOT }
    }

    /// The paper there is for a picture once what stands beside it is taken off.
    pub(crate) fn beside(&self, ems: Size) -> Size {
        let ems = Size::new(ems.width, ems.height - FOOT_EMS + self.foot_ems());
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
    /// Lines that belong together, such as those of one dimension, and what they are drawn in.
    thin_lines: Vec<(Ink, Vec<Line>)>,
    handles: Vec<Handle>,
    /// Which dimensions are being drawn.
    pub(crate) pass: Pass,
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
            pass: Pass::Rest,
        }
    }

    /// Draws what measures an input, if this is the pass for it. What measures no input of its own is drawn with the rest.
    pub(crate) fn measuring(
        &mut self,
        parameter: &'static str,
        item: Option<usize>,
        draw: impl FnOnce(&mut Board),
    ) {
        let is_lit = self.frame.lit == Some(Lit { parameter, item });
        if is_lit == (self.pass == Pass::Lit) {
            draw(self);
        }
    }

    /// How a dimension is lettered in this pass.
    pub(crate) fn dimension_lettering(&self) -> Lettering {
        if self.pass == Pass::Lit { Lettering::Lit } else { Lettering::Label }
    }

    /// What arrowheads of this pass are drawn in.
    pub(crate) fn arrow_ink(&self) -> Ink {
        if self.pass == Pass::Lit { Ink::LitArrow } else { Ink::Arrow }
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
        let ink = if self.pass == Pass::Lit { Ink::LitDimension } else { Ink::Dimension };
        self.thin_lines.push((ink, lines));
    }

    /// The thin lines, with a gap at every text they would run through.
    fn broken_lines(&self) -> Vec<(Ink, Path)> {
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
        let whole = |lines: &Vec<Line>| lines.iter().fold(Path::new(), broken);
        self.thin_lines.iter().map(|(ink, lines)| (*ink, whole(lines))).collect()
    }

    /// Adds a handle. Where it would stand too near to an earlier one, it slides along the extension line of what it measures.
    pub(crate) fn handle(&mut self, handle: Handle) {
        let at = self.clear_place(&handle);
        self.handles.push(Handle { at, ..handle });
    }

    /// Where a handle stands clear of the earlier ones; its own place where there is none.
    fn clear_place(&self, handle: &Handle) -> Point {
        let apart = HANDLES_APART * self.em();
        let is_clear = |place: Point| {
            let inside = Span::new(0.0, self.frame.width).holds(place.x)
                && Span::new(0.0, self.frame.height).holds(place.y);
            inside && self.handles.iter().all(|other| other.at.distance(place) >= apart)
        };
        let Direction { right, down } = handle.grows;
        // To the left or down first, where the extension lines are.
        let ways = if right.abs() > down.abs() { [1.0, -1.0] } else { [-1.0, 1.0] };
        let steps = [1.0, 2.0, 3.0].into_iter().flat_map(|step| ways.map(|way| way * step * apart));
        let aside = Direction { right: down.abs(), down: right.abs() };
        let mut places =
            std::iter::once(0.0).chain(steps).map(|far| handle.at.moved(far * aside.right, far * aside.down));
        places.find(|place| is_clear(*place)).unwrap_or(handle.at)
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
                Lettering::Lit => LIT,
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
        for (ink, lines) in self.broken_lines() {
            self.path(LayerName::Dimensions, ink, lines);
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
