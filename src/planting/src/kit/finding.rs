//! Findings: what a rule has found on a plan, why it matters, and what to change.

use super::figure::Source;
use super::message::Message;
use super::way::Way;
use uom::si::f64::Length;
use uom::si::length::meter;

/// How much a finding matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The plan doesn't work as it stands.
    Fix,
    /// It works, with a weakness that costs.
    Caution,
    /// What this way of planting costs whoever chooses it: a price paid, no fault of the plan.
    Price,
    /// Worth knowing.
    Note,
}

impl Severity {
    /// The word shown for it.
    pub fn label(self) -> &'static str {
        match self {
            Severity::Fix => "Fix",
            Severity::Caution => "Caution",
            Severity::Price => "Price",
            Severity::Note => "Note",
        }
    }
}

/// One finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Advice {
    /// Stable key of the rule.
    pub rule: &'static str,
    /// How much it matters.
    pub severity: Severity,
    /// What is wrong, in a few words.
    pub title: &'static str,
    /// What was found and why it matters, with the numbers.
    pub finding: Message,
    /// Ways that might cure it, as the rule sees them from its own room; nobody is told of them untried.
    pub ways: Vec<Way>,
    /// What cures it, the least change first: ways that have been tried on the whole plan. None before they have been worked out;
    /// an empty list where no way within range cures.
    pub remedies: Option<Vec<Remedy>>,
    /// What is said where no single way within range cures; empty where there is nothing more to say.
    pub otherwise: &'static str,
    /// Keys of the parameters that cure it.
    pub fields: &'static [&'static str],
    /// Who says so.
    pub source: Source,
}

/// Changes that cure a finding and bring no new one that asks for a fix.
#[derive(Clone, Debug, PartialEq)]
pub struct Remedy {
    /// What to do, with the numbers.
    pub sentence: Message,
    /// The same as changes of the scenario.
    pub changes: Vec<Change>,
    /// Titles of the cautions that come with it; empty for most.
    pub brings: Vec<&'static str>,
}

/// One field of a scenario and what it is set to.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// Key of the input.
    pub key: &'static str,
    /// What it is set to.
    pub to: Setting,
}

/// What a field is set to.
#[derive(Clone, Debug, PartialEq)]
pub enum Setting {
    /// A number in the SI unit of the input.
    Number(f64),
    /// The key of an entry of a list.
    Word(&'static str),
    /// Lengths `[m]`.
    Lengths(Vec<Length>),
}

/// Whose round numbers remedies are given in: values lie on the steps that a reader of these units sets.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Rounding {
    /// Quarters and halves of feet and inches.
    #[default]
    Us,
    /// Centimetres and decimetres.
    Metric,
}

/// Which findings are asked for. A room may leave out what only the rules of others need.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sought<'a> {
    /// Those of every rule.
    All,
    /// That of this rule, if it finds something.
    Of(&'a str),
}

impl Sought<'_> {
    /// Whether a rule is asked.
    ///
    /// ```
    /// use planting::kit::finding::Sought;
    /// assert!(Sought::All.is_for("anchor") && Sought::Of("anchor").is_for("anchor"));
    /// assert!(!Sought::Of("anchor").is_for("headland"));
    /// ```
    pub fn is_for(self, rule: &str) -> bool {
        match self {
            Sought::All => true,
            Sought::Of(sought) => sought == rule,
        }
    }
}

/// A rule of a room. `S` is what the room has computed.
pub type Rule<S> = fn(&S) -> Option<Advice>;

/// Lengths that differ by less stand for the same: a twentieth of an inch or so, well below what anybody sets `[m]`.
pub const LENGTH_TOLERANCE: f64 = 0.0025;
/// The same as a length.
///
/// ```
/// use planting::kit::finding::{LENGTH_TOLERANCE, tolerance};
/// assert_eq!(tolerance().value, LENGTH_TOLERANCE);
/// ```
pub fn tolerance() -> Length {
    Length::new::<meter>(LENGTH_TOLERANCE)
}
/// Ratios that differ by less stand for the same `[–]`.
pub const RATIO_TOLERANCE: f64 = 1e-9;
