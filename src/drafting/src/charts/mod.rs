//! Charts for any room: lines, a band with its middle line, bars, stacked bars, histograms.
//!
//! ```text
//!   up.label
//!    60 % -+- - - - - - - - - -        ticks are round numbers in the reader's units
//!    40 % -+- - - - - - - ,-''  name   a curve carries its name at its end, or over itself where
//!    20 % -+- - - - ,--''              there is no room beside it
//!     0 % -+----+----+----+--
//!          0    5    10   15           bars of several parts have a key below
//!            across.label
//!   Title
//! ```
//!
//! Values are planting's, in SI, and are written by [`crate::measure`]. Curves differ in kind, fills in
//! lightness, so that a photocopy still tells them apart. Every chart has its data as a table and says
//! in words what it shows. Values that are no finite numbers are left out.
//!
//! ```
//! use drafting::charts::{Axis, Chart, Plot, Sample, Series};
//! use drafting::{Span, Units};
//! use planting::Quantity;
//! let chart = Chart {
//!     title: "Height".to_owned(),
//!     across: Axis { label: "years".to_owned(), quantity: Quantity::Years, span: None },
//!     up: Axis { label: "height".to_owned(), quantity: Quantity::Length, span: Some(Span::new(0.0, 4.0)) },
//!     plot: Plot::Lines(vec![Series {
//!         name: "tree".to_owned(),
//!         samples: vec![Sample { across: 0.0, up: 1.0 }, Sample { across: 2.0, up: 3.5 }],
//!     }]),
//!     mark: None,
//! };
//! assert_eq!(chart.table(Units::Metric).rows, [["0", "1 m"], ["2", "3.5 m"]]);
//! assert_eq!(
//!     chart.describe(Units::Metric),
//!     "Height: height over years, 0 to 2. Tree: 1 m at 0, 3.5 m at 2, least 1 m, most 3.5 m."
//! );
//! ```

mod layout;
mod ticks;
mod words;

use crate::board::geometry::Span;
use planting::Quantity;

pub use layout::Plotted;
pub use ticks::ticks;
pub use words::DataTable;

/// A chart: its two axes and what is plotted between them.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    /// The title, without a full stop.
    pub title: String,
    /// The axis at the foot.
    pub across: Axis,
    /// The axis at the side.
    pub up: Axis,
    /// What is plotted.
    pub plot: Plot,
    /// A value of the axis at the foot that is marked by an upright line, such as the year shown.
    pub mark: Option<f64>,
}

/// An axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Axis {
    /// What it counts, in small letters.
    pub label: String,
    /// The quantity its values are written as.
    pub quantity: Quantity,
    /// From where to where it goes, SI; as far as the data and the next round number where none is given.
    pub span: Option<Span>,
}

/// What is plotted.
#[derive(Clone, Debug, PartialEq)]
pub enum Plot {
    /// Curves.
    Lines(Vec<Series>),
    /// A curve with a range round it.
    Band {
        /// What the curve is called.
        name: String,
        /// What the range is called.
        range: String,
        /// Curve and range, in rising order across.
        samples: Vec<Ranged>,
    },
    /// Bars, one a label; of several parts, they are stacked.
    Bars {
        /// What each bar stands for, in words.
        labels: Vec<String>,
        /// The parts, from the foot of the bars upwards; those below 0 hang down from it.
        parts: Vec<BarPart>,
    },
    /// How many there are between one edge and the next; one count fewer than edges.
    Histogram {
        /// Edges of the classes, rising, in the quantity of the axis at the foot.
        edges: Vec<f64>,
        /// How many, in the quantity of the axis at the side.
        counts: Vec<f64>,
    },
}

/// A curve of a chart.
#[derive(Clone, Debug, PartialEq)]
pub struct Series {
    /// What it is called, in small letters.
    pub name: String,
    /// Its values, in rising order across.
    pub samples: Vec<Sample>,
}

/// A point of a curve, SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    /// Its value on the axis at the foot.
    pub across: f64,
    /// Its value on the axis at the side.
    pub up: f64,
}

/// A point of a curve with a range round it, SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ranged {
    /// Its value on the axis at the foot.
    pub across: f64,
    /// Its value on the axis at the side.
    pub up: f64,
    /// From the lower end of the range to the upper.
    pub range: Span,
}

/// One part of every bar.
#[derive(Clone, Debug, PartialEq)]
pub struct BarPart {
    /// What it is called, in small letters.
    pub name: String,
    /// Its value in each bar, SI.
    pub values: Vec<f64>,
}

impl Plot {
    /// The values on the axis at the foot, and those on the axis at the side; a bar counts from 0 and
    /// up to the sum of its parts.
    fn values(&self) -> (Vec<f64>, Vec<f64>) {
        match self {
            Plot::Lines(series) => {
                let samples = || series.iter().flat_map(|one| &one.samples);
                (samples().map(|it| it.across).collect(), samples().map(|it| it.up).collect())
            }
            Plot::Band { samples, .. } => (
                samples.iter().map(|it| it.across).collect(),
                samples.iter().flat_map(|it| [it.up, it.range.from, it.range.to]).collect(),
            ),
            Plot::Bars { labels, parts } => {
                let heights = (0..labels.len()).flat_map(|bar| {
                    let value = |part: &BarPart| finite(part.values.get(bar).copied());
                    let sum = |sign: f64| parts.iter().map(value).filter(|it| it * sign > 0.0).sum::<f64>();
                    [sum(1.0), sum(-1.0), 0.0]
                });
                (Vec::new(), heights.collect())
            }
            Plot::Histogram { edges, counts } => {
                (edges.clone(), counts.iter().copied().chain([0.0]).collect())
            }
        }
    }
}

/// A value, or 0 where there is none or none that is a finite number.
fn finite(value: Option<f64>) -> f64 {
    value.filter(|value| value.is_finite()).unwrap_or(0.0)
}
