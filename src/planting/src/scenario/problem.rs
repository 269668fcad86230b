//! What can be wrong with a scenario, said so that it can be put right.

use super::Scenario;
use crate::message::{Message, Slot};
use crate::quantity::{Quantity, feet};
use uom::si::f64::{Length, Ratio};

/// A field that is wrong and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// The key of the field; a list's item as `key[2]`, counted from 0.
    pub field: String,
    /// What is wrong with it.
    pub fault: Fault,
}

/// What is wrong with a field.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// No parameter has this key.
    Unknown,
    /// The key stands in the file or link twice.
    Repeated,
    /// The file doesn't say its version.
    VersionMissing,
    /// The file says a version that can't be read.
    VersionUnknown {
        /// What it says.
        got: String,
    },
    /// A number was wanted.
    NotANumber {
        /// What was given.
        got: String,
        /// Smallest allowed value, SI.
        min: f64,
        /// Largest allowed value, SI.
        max: f64,
        /// What kind of number it is.
        quantity: Quantity,
    },
    /// The number is outside its range.
    OutOfRange {
        /// What was given, SI.
        value: f64,
        /// Smallest allowed value, SI.
        min: f64,
        /// Largest allowed value, SI.
        max: f64,
        /// What kind of number it is.
        quantity: Quantity,
    },
    /// The text is not an entry of the list.
    NotAChoice {
        /// What was given.
        got: String,
        /// The keys allowed, with commas between.
        allowed: String,
    },
    /// A list was wanted.
    NotAList {
        /// What was given.
        got: String,
    },
    /// The list is too short or too long.
    ListLength {
        /// How many items were given.
        items: usize,
        /// How many are allowed at most.
        most: usize,
    },
    /// Two fields can't both be so.
    Conflict(Message),
    /// A link has a field that only a later version knows.
    Later,
    /// What should hold the fields can't be read.
    Unreadable(Message),
}

impl Problem {
    /// A fault of a field.
    pub fn new(field: &str, fault: Fault) -> Self {
        Problem { field: field.to_owned(), fault }
    }

    /// The key of the parameter, without the place in a list.
    pub fn parameter(&self) -> &str {
        self.field.split('[').next().unwrap_or(&self.field)
    }

    /// The sentence that names what is wrong and what is allowed.
    pub fn message(&self) -> Message {
        let count = |number: usize| Slot::Word(number.to_string());
        match &self.fault {
            Fault::Unknown => Message::plain("is not a parameter of a plan"),
            Fault::Repeated => Message::plain("is given more than once"),
            Fault::VersionMissing => Message::plain("is missing; this program reads version 1"),
            Fault::VersionUnknown { got } => {
                Message::new("is {0}; this program reads version 1", [Slot::Word(got.clone())])
            }
            Fault::NotANumber { got, min, max, quantity } => Message::new(
                "must be a number between {0} and {1}; {2} was given",
                [(*min, *quantity).into(), (*max, *quantity).into(), Slot::Word(got.clone())],
            ),
            Fault::OutOfRange { value, min, max, quantity } => Message::new(
                "must be between {0} and {1}; {2} was given",
                [(*min, *quantity).into(), (*max, *quantity).into(), (*value, *quantity).into()],
            ),
            Fault::NotAChoice { got, allowed } => Message::new(
                "is {0}; it must be one of {1}",
                [Slot::Word(got.clone()), Slot::Word(allowed.clone())],
            ),
            Fault::NotAList { got } => {
                Message::new("must be a list of numbers; {0} was given", [Slot::Word(got.clone())])
            }
            Fault::ListLength { items, most } => {
                Message::new("may have at most {1} items; {0} were given", [count(*items), count(*most)])
            }
            Fault::Later => Message::plain("isn't known here; a later version of the program wrote it"),
            Fault::Conflict(message) | Fault::Unreadable(message) => message.clone(),
        }
    }
}

/// Fields that are each in range but can't be so together.
pub(crate) fn conflicts(scenario: &Scenario) -> Vec<Problem> {
    let mut problems = Vec::new();
    let mut unless = |holds: bool, field: &str, template: &'static str, least: Length| {
        if !holds {
            let message = Message::new(template, [(least.value, Quantity::Length).into()]);
            problems.push(Problem::new(field, Fault::Conflict(message)));
        }
    };
    let hair = feet(1e-9);
    let least_length = scenario.headland * 2.0 + scenario.in_row_spacing;
    unless(
        scenario.block_length + hair >= least_length,
        "block_length",
        "must be at least {0}: two headlands and room for one tree",
        least_length,
    );
    let least_width = scenario.side_margin * 2.0;
    unless(
        scenario.block_width + hair >= least_width,
        "block_width",
        "must be at least {0}: a side margin on either side of one row",
        least_width,
    );
    let least_height = scenario.crown_base + feet(1.0);
    unless(
        scenario.tree_height + hair >= least_height,
        "tree_height",
        "must be at least {0}: a foot above the lowest branches",
        least_height,
    );
    let longest_embedment = scenario.post_length - feet(3.0);
    unless(
        scenario.post_embedment <= longest_embedment + hair,
        "post_embedment",
        "must be at most {0}: three feet of the post must stand above the ground",
        longest_embedment,
    );
    let largest_union = scenario.crown_base;
    unless(
        scenario.graft_union_height <= largest_union + hair,
        "graft_union_height",
        "must be at most {0}: the union lies below the lowest branches",
        largest_union,
    );
    let mut unless_above = |field: &str, value: Ratio, template: &'static str, below: Ratio| {
        if value < below {
            let message = Message::new(template, [(below.value, Quantity::Share).into()]);
            problems.push(Problem::new(field, Fault::Conflict(message)));
        }
    };
    unless_above(
        "light_for_size",
        scenario.light_for_size,
        "must be at least {0}: fruit that grows to size asks for no less light than flower buds do",
        scenario.light_for_flowers,
    );
    unless_above(
        "light_for_colour",
        scenario.light_for_colour,
        "must be at least {0}: full colour asks for no less light than fruit size does",
        scenario.light_for_size,
    );
    problems
}
