//! Sentences with numbers in them, kept apart until somebody's units are known.

use super::quantity::Quantity;
use uom::si::f64::Length;

/// A sentence with numbered places, `{0}`, `{1}` …, and the values that go there.
///
/// The values stay SI and typed until a reader's units are known, so that the same advice reads
/// right in feet and in metres.
#[derive(Clone, Debug, PartialEq)]
pub struct Message {
    /// The sentence with its places.
    pub template: &'static str,
    /// What goes in them, in order.
    pub values: Vec<Slot>,
}

/// One thing put into a sentence.
#[derive(Clone, Debug, PartialEq)]
pub enum Slot {
    /// A number in the SI unit of its quantity.
    Number(f64, Quantity),
    /// An amount to order, in the SI unit of its quantity: never written as less than the need.
    Order(f64, Quantity),
    /// A word of the trade or a label.
    Word(String),
}

impl Message {
    /// A sentence without numbers.
    pub fn plain(template: &'static str) -> Self {
        Message { template, values: Vec::new() }
    }

    /// A sentence and what goes in it.
    ///
    /// ```
    /// use planting::{Message, Slot, feet};
    /// let sentence = Message::new("Rows stand {0} apart.", [feet(12.0).into()]);
    /// assert!(matches!(sentence.values[0], Slot::Number(metres, _) if (metres - 3.6576).abs() < 1e-12));
    /// ```
    pub fn new(template: &'static str, values: impl Into<Vec<Slot>>) -> Self {
        Message { template, values: values.into() }
    }
}

impl From<&str> for Slot {
    fn from(word: &str) -> Self {
        Slot::Word(word.to_owned())
    }
}

impl From<(f64, Quantity)> for Slot {
    fn from((value, quantity): (f64, Quantity)) -> Self {
        Slot::Number(value, quantity)
    }
}

impl From<Length> for Slot {
    fn from(length: Length) -> Self {
        Slot::Number(length.value, Quantity::Length)
    }
}
