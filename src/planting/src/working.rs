//! Figures that carry their working.
//!
//! Nothing is shown without saying how it came about: the formula in the trade's symbols, the
//! numbers put in, who published it and how sure it is.

use crate::quantity::Quantity;

/// How sure a figure is, from the firmest to the loosest ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Certainty {
    /// A definition, an identity or a standard: right by construction.
    Standard,
    /// A published measurement or fit, named in the source.
    Published,
    /// What the trade does, without a source that could be read.
    CommonPractice,
    /// This project's own assumption, stated so that it can be argued with.
    Assumption,
}

impl Certainty {
    /// The word shown and printed for it.
    pub fn label(self) -> &'static str {
        match self {
            Certainty::Standard => "standard",
            Certainty::Published => "published",
            Certainty::CommonPractice => "common practice",
            Certainty::Assumption => "assumption",
        }
    }
}

/// Where a number comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Source {
    /// Author, year and place, or the plain statement that there is none.
    pub citation: &'static str,
    /// How sure it is.
    pub certainty: Certainty,
}

impl Source {
    /// A definition or a standard.
    pub const fn standard(citation: &'static str) -> Self {
        Source { citation, certainty: Certainty::Standard }
    }
    /// A published measurement or recommendation.
    pub const fn published(citation: &'static str) -> Self {
        Source { citation, certainty: Certainty::Published }
    }
    /// A trade rule without a readable source.
    pub const fn practice(citation: &'static str) -> Self {
        Source { citation, certainty: Certainty::CommonPractice }
    }
    /// An assumption of this project.
    pub const fn assumption(citation: &'static str) -> Self {
        Source { citation, certainty: Certainty::Assumption }
    }
}

/// One number put into a formula.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Term {
    /// The symbol as the formula writes it.
    pub symbol: &'static str,
    /// What the symbol stands for, in plain words.
    pub meaning: &'static str,
    /// Its value, in the SI unit of `quantity`.
    pub value: f64,
    /// What kind of number it is.
    pub quantity: Quantity,
}

/// A term of a formula.
pub const fn term(symbol: &'static str, meaning: &'static str, value: f64, quantity: Quantity) -> Term {
    Term { symbol, meaning, value, quantity }
}

/// How a figure came about.
#[derive(Clone, Debug, PartialEq)]
pub struct Working {
    /// The formula in trade symbols.
    pub formula: &'static str,
    /// The numbers put in.
    pub terms: Vec<Term>,
    /// Who says so, and how sure it is.
    pub source: Source,
    /// What the figure leaves out; empty where nothing needs saying.
    pub leaves_out: &'static str,
}

/// The part of the work a figure belongs to; figures are listed under these heads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Subject {
    /// Trees and land.
    Layout,
    /// The crowns in the year shown.
    Canopy,
    /// Growth against the space given.
    Vigour,
    /// Light in the crowns and on the ground, sun and shadows.
    Light,
    /// Posts, wires and ends.
    Trellis,
}

impl Subject {
    /// All subjects, in the order they are read.
    pub const ALL: [Subject; 5] =
        [Subject::Layout, Subject::Canopy, Subject::Vigour, Subject::Light, Subject::Trellis];

    /// The heading.
    pub fn label(self) -> &'static str {
        match self {
            Subject::Layout => "Trees and land",
            Subject::Canopy => "Canopy in the year shown",
            Subject::Vigour => "Vigour against space",
            Subject::Light => "Light",
            Subject::Trellis => "Trellis geometry and counts",
        }
    }
}

/// A result together with its working.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// Stable key, used in files and tests.
    pub key: &'static str,
    /// Name shown to a reader.
    pub label: &'static str,
    /// The value in the SI unit of `quantity`; `None` where the plan has no such value.
    pub value: Option<f64>,
    /// What is said in place of a value that does not exist.
    pub without: &'static str,
    /// What kind of number it is.
    pub quantity: Quantity,
    /// The head it is listed under.
    pub subject: Subject,
    /// How it came about.
    pub working: Working,
}

/// Makes a figure that always has a value.
pub(crate) fn figure(
    subject: Subject,
    key: &'static str,
    label: &'static str,
    value: f64,
    quantity: Quantity,
    working: Working,
) -> Figure {
    Figure { key, label, value: Some(value), without: "", quantity, subject, working }
}

/// Makes a working that leaves nothing out.
pub(crate) fn working(formula: &'static str, terms: Vec<Term>, source: Source) -> Working {
    Working { formula, terms, source, leaves_out: "" }
}

impl Working {
    /// The same working with a statement of what it leaves out.
    pub(crate) fn leaving_out(mut self, what: &'static str) -> Self {
        self.leaves_out = what;
        self
    }
}
