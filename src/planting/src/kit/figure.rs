//! Figures that carry their working.
//!
//! Nothing is shown without saying how it came about: the formula in the trade's symbols, the
//! numbers put in, who published it and how sure it is. A room lists its figures in a table of
//! [`Line`]s; the working of one is made only when somebody opens or prints it.

use super::quantity::Quantity;

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
pub struct Subject {
    /// Stable key.
    pub key: &'static str,
    /// The heading.
    pub label: &'static str,
}

/// Trees and land; the field and the alleys left between crowns are read together.
pub const LAYOUT: Subject = Subject { key: "layout", label: "Trees and land" };

/// The heads of figures, each once, in the order of the figures.
pub fn subjects(figures: &[Figure]) -> Vec<Subject> {
    let mut subjects = Vec::new();
    for figure in figures {
        if !subjects.contains(&figure.subject) {
            subjects.push(figure.subject);
        }
    }
    subjects
}

/// How a figure of a plan reads.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reading {
    /// The value in the SI unit of its quantity.
    Value(f64),
    /// The plan has no such value; these words are shown instead.
    Without(&'static str),
    /// A figure that this plan doesn't have, such as anchors where there is no trellis.
    Absent,
}

/// One line of a room's table of figures. `S` is what the room has computed.
pub struct Line<S: 'static> {
    /// Stable key, used in files and tests.
    pub key: &'static str,
    /// Name shown to a reader.
    pub label: &'static str,
    /// What kind of number it is.
    pub quantity: Quantity,
    /// The head it is listed under.
    pub subject: Subject,
    /// How sure it is; its working's source says the same.
    pub certainty: Certainty,
    /// How its value is read.
    pub read: fn(&S) -> Reading,
}

impl<S> Line<S> {
    /// The figure of a plan; none where the plan doesn't have it.
    pub fn of(&self, state: &S) -> Option<Figure> {
        let (value, without) = match (self.read)(state) {
            Reading::Value(value) => (Some(value), ""),
            Reading::Without(words) => (None, words),
            Reading::Absent => return None,
        };
        let Line { key, label, quantity, subject, certainty, .. } = *self;
        Some(Figure { key, label, value, without, quantity, subject, certainty })
    }
}

/// The figure with this key, if the table has one and the plan has it.
pub fn find<S>(table: &[Line<S>], key: &str, state: &S) -> Option<Figure> {
    table.iter().find(|line| line.key == key)?.of(state)
}

/// Every figure of a table that the plan has, in order.
pub fn all<S>(table: &[Line<S>], state: &S) -> Vec<Figure> {
    table.iter().filter_map(|line| line.of(state)).collect()
}

/// What a figure is called and of what kind it is, whatever plan it is read from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Named {
    /// Stable key.
    pub key: &'static str,
    /// Name shown to a reader.
    pub label: &'static str,
    /// The head it is listed under.
    pub subject: Subject,
    /// What kind of number it is.
    pub quantity: Quantity,
}

/// The names of all figures of a table, those of other plans included.
pub fn names<S>(table: &[Line<S>]) -> Vec<Named> {
    let name = |line: &Line<S>| Named {
        key: line.key,
        label: line.label,
        subject: line.subject,
        quantity: line.quantity,
    };
    table.iter().map(name).collect()
}

/// A result.
#[derive(Clone, Copy, Debug, PartialEq)]
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
    /// How sure it is.
    pub certainty: Certainty,
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
