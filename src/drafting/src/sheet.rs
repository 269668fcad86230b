//! The display list: what a drawing consists of, before anybody turns it into SVG.
//!
//! Positions are in paper units, x to the right and y down: pixels on screen, millimetres on paper.

/// The three views of a plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum View {
    /// The whole block from above, with an enlarged detail.
    Plan,
    /// Across the rows.
    Section,
    /// Along a row.
    Elevation,
    /// A crown of this planting beside one of the wide trees it replaces, in the light of the season.
    Pair,
    /// Light in the crowns year by year.
    Years,
}

impl View {
    /// The views to scale of a whole planting, in the order of the sheet set.
    pub const ALL: [View; 3] = [View::Plan, View::Section, View::Elevation];

    /// Stable key.
    pub fn key(self) -> &'static str {
        match self {
            View::Plan => "plan",
            View::Section => "section",
            View::Elevation => "elevation",
            View::Pair => "pair",
            View::Years => "years",
        }
    }

    /// The drawing's title.
    pub fn title(self) -> &'static str {
        match self {
            View::Plan => "Plan",
            View::Section => "Cross-section",
            View::Elevation => "Row elevation",
            View::Pair => "Two crowns",
            View::Years => "Light by year",
        }
    }
}

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
}

/// A text on a drawing. `at` is the middle of its height.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// Where it stands.
    pub at: (f64, f64),
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

/// A rectangle in paper units: left, top, right, bottom.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Left edge.
    pub left: f64,
    /// Upper edge.
    pub top: f64,
    /// Right edge.
    pub right: f64,
    /// Lower edge.
    pub bottom: f64,
}

impl Bounds {
    /// Whether two rectangles share ground.
    pub fn meets(&self, other: &Bounds) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    /// The part of a straight line that lies within, as shares of its length.
    ///
    /// ```
    /// use drafting::sheet::Bounds;
    /// let text = Bounds { left: 4.0, top: 0.0, right: 6.0, bottom: 2.0 };
    /// assert_eq!(text.share_of_line((0.0, 1.0), (10.0, 1.0)), Some((0.4, 0.6)));
    /// assert_eq!(text.share_of_line((0.0, 3.0), (10.0, 3.0)), None);
    /// ```
    pub fn share_of_line(&self, from: (f64, f64), to: (f64, f64)) -> Option<(f64, f64)> {
        let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
        for (start, end, low, high) in
            [(from.0, to.0, self.left, self.right), (from.1, to.1, self.top, self.bottom)]
        {
            let way = end - start;
            if way.abs() < 1e-9 {
                if start <= low || start >= high {
                    return None;
                }
            } else {
                let (a, b) = ((low - start) / way, (high - start) / way);
                enters = enters.max(a.min(b));
                leaves = leaves.min(a.max(b));
            }
        }
        (enters < leaves).then_some((enters, leaves))
    }

    /// Whether this rectangle lies inside another.
    pub fn inside(&self, other: &Bounds) -> bool {
        self.left >= other.left
            && self.right <= other.right
            && self.top >= other.top
            && self.bottom <= other.bottom
    }
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
        let bold = if self.lettering == Lettering::Title { 1.08 } else { 1.0 };
        let (width, height) = (ems(&self.content) * self.size * bold, self.size * 1.1);
        let (x, y) = self.at;
        let before = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => width / 2.0,
            Anchor::End => width,
        };
        if self.upright {
            // Turned a quarter to the left: the text runs up the sheet.
            Bounds {
                left: x - height / 2.0,
                right: x + height / 2.0,
                top: y - width + before,
                bottom: y + before,
            }
        } else {
            Bounds {
                left: x - before,
                right: x - before + width,
                top: y - height / 2.0,
                bottom: y + height / 2.0,
            }
        }
    }
}

/// One thing on a drawing.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A path, in SVG path syntax.
    Path {
        /// What it stands for.
        ink: Ink,
        /// The path.
        d: String,
    },
    /// Many round or square dots along straight lines, drawn as one dashed path: a row of crowns costs
    /// the same however many trees it has.
    Dots {
        /// What each dot stands for.
        ink: Ink,
        /// The lines, from the first dot to the last.
        d: String,
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
        d: String,
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
    pub at: (f64, f64),
    /// The direction in which the value grows, as a unit vector on paper.
    pub grows: (f64, f64),
    /// How much the value grows for one paper unit in that direction, SI.
    pub per_unit: f64,
    /// Its value now, SI.
    pub value: f64,
}

/// How metres lie on paper: `x = origin.0 + scale · metres`, `y = origin.1 − scale · metres`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Projection {
    /// Paper units to a metre.
    pub scale: f64,
    /// Where the model's origin lies on paper.
    pub origin: (f64, f64),
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
    /// Every text of the drawing.
    pub fn texts(&self) -> impl Iterator<Item = &Text> {
        self.layers.iter().flatten().filter_map(|mark| match mark {
            Mark::Text(text) => Some(text),
            _ => None,
        })
    }
}
