//! What can be wrong with a scenario, said so that it can be put right.

use crate::kit::message::{Message, Slot};
use crate::kit::quantity::Quantity;
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
    /// The number is written so that it can be read in two ways.
    Ambiguous {
        /// What was given.
        got: String,
        /// The number it probably means, written so that it can be read in one way only.
        plain: String,
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
            Fault::Ambiguous { got, plain } => Message::new(
                "is written {0}, which can be read in two ways; write {1}: decimals stand behind a point, and thousands need no mark",
                [Slot::Word(got.clone()), Slot::Word(plain.clone())],
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

/// How far a length may lie beyond another and still count as equal to it `[m]`.
const EQUAL_LENGTHS: f64 = 1e-9;

/// The fields of a room that are each in range but can't be so together, as they are found.
#[derive(Clone, Debug, Default)]
pub struct Conflicts(Vec<Problem>);

impl Conflicts {
    /// A field that must be at least a length, which the sentence names at `{0}`; further lengths it names follow.
    pub fn at_least(
        &mut self,
        field: &str,
        value: Length,
        least: Length,
        sentence: &'static str,
        named: &[Length],
    ) {
        self.unless(value.value + EQUAL_LENGTHS >= least.value, field, least, sentence, named);
    }

    /// A field that must be at most a length, which the sentence names at `{0}`; further lengths it names follow.
    pub fn at_most(
        &mut self,
        field: &str,
        value: Length,
        most: Length,
        sentence: &'static str,
        named: &[Length],
    ) {
        self.unless(value.value <= most.value + EQUAL_LENGTHS, field, most, sentence, named);
    }

    /// A share that must be no less than another, which the sentence names at `{0}`.
    pub fn no_less(&mut self, field: &str, value: Ratio, least: Ratio, sentence: &'static str) {
        if value < least {
            self.push(field, Message::new(sentence, [(least.value, Quantity::Share).into()]));
        }
    }

    fn unless(&mut self, holds: bool, field: &str, limit: Length, sentence: &'static str, named: &[Length]) {
        if !holds {
            let slots: Vec<Slot> =
                std::iter::once(&limit).chain(named).map(|length| (*length).into()).collect();
            self.push(field, Message::new(sentence, slots));
        }
    }

    fn push(&mut self, field: &str, sentence: Message) {
        self.0.push(Problem::new(field, Fault::Conflict(sentence)));
    }

    /// What was found.
    pub fn found(self) -> Vec<Problem> {
        self.0
    }
}
