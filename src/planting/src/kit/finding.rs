//! Findings: what a rule has found on a plan, why it matters, and what to change.

use super::figure::Source;
use super::message::Message;

/// How much a finding matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The plan doesn't work as it stands.
    Fix,
    /// It works, with a weakness that costs.
    Caution,
    /// Worth knowing.
    Note,
}

impl Severity {
    /// The word shown for it.
    pub fn label(self) -> &'static str {
        match self {
            Severity::Fix => "Fix",
            Severity::Caution => "Caution",
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
    /// What to change, with the numbers.
    pub remedy: Message,
    /// Keys of the parameters that cure it.
    pub fields: &'static [&'static str],
    /// Who says so.
    pub source: Source,
}

/// Whether remedies are solved: they take many times as long as all else, so a page waits until the hand rests.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Remedies {
    /// Solved.
    Now,
    /// Left for later; findings say so.
    Later,
}

/// A rule of a room. `S` is what the room has computed.
pub type Rule<S> = fn(&S) -> Option<Advice>;

/// Lengths that differ by less stand for the same: a twentieth of an inch or so, well below what anybody sets `[m]`.
pub const LENGTH_TOLERANCE: f64 = 0.0025;
/// Ratios that differ by less stand for the same `[–]`.
pub const RATIO_TOLERANCE: f64 = 1e-9;
