//! The display list: what a drawing consists of, before anybody writes it down.
//!
//! It holds geometry: points in paper units, `x` to the right and `y` down, pixels on screen and
//! millimetres on paper. [`crate::svg`] writes it as SVG.

use super::geometry::{Bounds, Direction, Point, Projection, Span};
use super::path::Path;
use crate::view::View;

/// What a mark stands for; decides its line, fill and colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    /// The edge of the field, heavy.
    Edge,
    /// Headlands and margins, thin and dashed.
    Margin,
    /// A row's centre line, thin chain.
    Centre,
    /// The body of a crown: fill.
    Crown,
    /// The outline of a crown, medium.
    CrownEdge,
    /// The space a crown is given, thin dashed.
    Space,
    /// Trunks and branches, medium.
    Trunk,
    /// Posts: filled, heavy outline.
    Post,
    /// Stakes, medium.
    Stake,
    /// Wires, medium.
    Wire,
    /// Anchors and guys, medium.
    Anchor,
    /// The ground line, heavy.
    Ground,
    /// Ground below the surface: fill.
    Soil,
    /// What lies hidden in the ground, thin dashed.
    Hidden,
    /// Machines, medium.
    Machine,
    /// The body of a machine: fill.
    MachineBody,
    /// The graft union.
    Union,
    /// Dimension and extension lines, thin.
    Dimension,
    /// Arrowheads: fill.
    Arrow,
    /// Lines of the dimension being changed, heavy.
    LitDimension,
    /// Its arrowheads: fill.
    LitArrow,
    /// The outline of an earlier plan, dashed.
    Trace,
    /// Filled parts of the scale bar and the north arrow.
    Solid,
    /// Thin outlines of the scale bar, the north arrow, frames and break lines.
    Fine,
    /// Frame of a printed sheet, heavy.
    Frame,
    /// A band of light, 0 the darkest to 5 the brightest: fill.
    Light(u8),
    /// A line of equal light, thin.
    Isoline,
    /// Shade thrown by crowns: a veil.
    Shade,
    /// A ray of the sun, thin dashed.
    Ray,
    /// A curve of a chart: 0 heavy, 1 dashed, 2 dotted.
    Curve(u8),
    /// A filled part of a chart, 0 the darkest to 4 the lightest, with a thin outline.
    Fill(u8),
    /// The range round a curve of a chart: fill.
    Range,
}

/// Which side of its point a text stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// The text begins at the point.
    Start,
    /// The text is centred on the point.
    Middle,
    /// The text ends at the point.
    End,
}

/// How large and loud a text is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lettering {
    /// Dimensions and labels.
    Label,
    /// Notes, smaller.
    Note,
    /// Titles, larger and bold.
    Title,
    /// The dimension being changed, larger and bold.
    Lit,
}

/// A text on a drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// Where it stands: the middle of its height.
    pub at: Point,
    /// Which side of the point.
    pub anchor: Anchor,
    /// Its size and weight.
    pub lettering: Lettering,
    /// Whether it is turned to read from the right, for upright dimensions.
    pub upright: bool,
    /// What it says.
    pub content: String,
    /// Font size in paper units.
    pub size: f64,
}

/// The width a text takes, in ems. Widths of a wide common sans-serif face, so that narrower ones fit too.
pub fn ems(content: &str) -> f64 {
    content
        .chars()
        .map(|c| match c {
            ' ' | '.' | ',' | 'i' | 'l' | 'j' | '\'' | '°' | ':' | ';' | '|' => 0.36,
            'm' | 'w' | 'M' | 'W' | '%' | '×' | '÷' | '=' | '−' | '–' => 0.95,
            c if c.is_ascii_uppercase() => 0.74,
            _ => 0.64,
        })
        .sum()
}

impl Text {
    /// The room it takes on the sheet.
    pub fn bounds(&self) -> Bounds {
        let bold = if matches!(self.lettering, Lettering::Title | Lettering::Lit) { 1.08 } else { 1.0 };
        let (width, height) = (ems(&self.content) * self.size * bold, self.size * 1.1);
        let Point { x, y } = self.at;
        let before = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => width / 2.0,
            Anchor::End => width,
        };
        if self.upright {
            // Turned a quarter to the left: the text runs up the sheet.
            Bounds {
                across: Span::new(x - height / 2.0, x + height / 2.0),
                down: Span::new(y - width + before, y + before),
            }
        } else {
            Bounds {
                across: Span::new(x - before, x - before + width),
                down: Span::new(y - height / 2.0, y + height / 2.0),
            }
        }
    }
}

/// One thing on a drawing.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A path.
    Path {
        /// What it stands for.
        ink: Ink,
        /// The path.
        path: Path,
    },
    /// Many round or square dots along straight lines, drawn as one dashed path: a row of crowns costs
    /// the same however many trees it has.
    Dots {
        /// What each dot stands for.
        ink: Ink,
        /// The lines, from the first dot to the last.
        lines: Path,
        /// Size of a dot.
        size: f64,
        /// From dot to dot.
        pitch: f64,
    },
    /// Wide bands along lines: rows of crowns that have closed, or are too small to tell apart.
    Bands {
        /// What a band stands for.
        ink: Ink,
        /// The lines.
        lines: Path,
        /// Width of a band.
        size: f64,
    },
    /// A text.
    Text(Text),
}

/// The layers of a drawing, bottom to top. Each is redrawn only when it changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LayerName {
    /// Soil and the field's edge.
    Ground,
    /// Bands of light, shade.
    Light,
    /// Crowns.
    Crowns,
    /// Trunks, unions, stakes.
    Trees,
    /// Posts, wires, ends.
    Trellis,
    /// Machines.
    Machines,
    /// Dimensions.
    Dimensions,
    /// Title, scale bar, north arrow, frames.
    Furniture,
}

impl LayerName {
    /// All layers, bottom to top.
    pub const ALL: [LayerName; 8] = [
        LayerName::Ground,
        LayerName::Light,
        LayerName::Crowns,
        LayerName::Trees,
        LayerName::Trellis,
        LayerName::Machines,
        LayerName::Dimensions,
        LayerName::Furniture,
    ];

    /// Stable key.
    pub fn key(self) -> &'static str {
        match self {
            LayerName::Ground => "ground",
            LayerName::Light => "light",
            LayerName::Crowns => "crowns",
            LayerName::Trees => "trees",
            LayerName::Trellis => "trellis",
            LayerName::Machines => "machines",
            LayerName::Dimensions => "dimensions",
            LayerName::Furniture => "furniture",
        }
    }
}

/// Something in a drawing that can be grabbed to set a parameter.
#[derive(Clone, Debug, PartialEq)]
pub struct Handle {
    /// Key of the parameter.
    pub parameter: &'static str,
    /// The item, where the parameter is a list.
    pub item: Option<usize>,
    /// What it is called when spoken.
    pub label: String,
    /// Where it stands.
    pub at: Point,
    /// The way in which the value grows on paper.
    pub grows: Direction,
    /// How much the value grows for one paper unit in that direction, SI.
    pub per_unit: f64,
    /// Its value now, SI.
    pub value: f64,
}

/// Scale and place of a drawing: of its main picture and, where it has one, of its enlarged detail.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// How metres lie in the main picture.
    pub main: Projection,
    /// How they lie in the detail.
    pub detail: Option<Projection>,
}

/// A finished drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// Which view it is.
    pub view: View,
    /// What it shows, for readers who can't see it.
    pub description: String,
    /// Width in paper units.
    pub width: f64,
    /// Height in paper units.
    pub height: f64,
    /// How metres lie on it; the main picture's, where there is a detail too.
    pub projection: Projection,
    /// How metres lie in the enlarged detail of a plan.
    pub detail: Option<Projection>,
    /// Layers, bottom to top, in the order of [`LayerName::ALL`].
    pub layers: Vec<Vec<Mark>>,
    /// What can be grabbed.
    pub handles: Vec<Handle>,
    /// Widths of thin, medium and heavy lines in paper units.
    pub weights: [f64; 3],
}

impl Sheet {
    /// Scale and place of this drawing, for a later one that must not slip.
    pub fn held(&self) -> Held {
        Held { main: self.projection, detail: self.detail }
    }

    /// Every text of the drawing.
    pub fn texts(&self) -> impl Iterator<Item = &Text> {
        self.layers.iter().flatten().filter_map(|mark| match mark {
            Mark::Text(text) => Some(text),
            _ => None,
        })
    }
}
