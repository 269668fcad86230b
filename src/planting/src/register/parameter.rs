//! What an input is: its key, its code in links, its range and steps, and how it is read from a whole and set.
//!
//! A whole is whatever holds the inputs; the register doesn't ask what they mean.

use super::entries::Entry;
use super::problem::{Fault, Problem};
use super::scale::Scale;
use crate::kit::choice::Choice;
use crate::kit::finding::Rounding;
use crate::kit::group::Group;
use crate::kit::quantity::Quantity;
use uom::si::f64::Length;
use uom::si::length::meter;

/// One foot `[m]`.
pub const FT: f64 = 0.3048;
/// One inch `[m]`.
pub const IN: f64 = 0.0254;
/// One degree `[rad]`.
pub const DEG: f64 = std::f64::consts::PI / 180.0;

/// The quantity lengths of a list are shown in.
pub const LIST_QUANTITY: Quantity = Quantity::Length;

/// One input of a whole `S`.
#[derive(Debug)]
pub struct Parameter<S: 'static> {
    /// Stable key, used in files.
    pub key: &'static str,
    /// Stable number, used in links: never changed, and never given to another input.
    pub code: u8,
    /// Name shown to a reader.
    pub label: &'static str,
    /// Where it stands on the page.
    pub group: Group,
    /// Whether its default is the training system's.
    pub follows_system: bool,
    /// Key of the drawing it changes most.
    pub view: &'static str,
    /// How its slider spreads its range, where that isn't evenly.
    pub scale: Option<&'static Scale>,
    /// What it takes.
    pub kind: Kind<S>,
}

/// What an input takes.
#[derive(Debug)]
pub enum Kind<S: 'static> {
    /// A number.
    Number(Number<S>),
    /// One of a list.
    Choice(ChoiceList<S>),
    /// A list of lengths.
    Lengths(Lengths<S>),
}

/// A number's range and steps, all in the SI unit of its quantity.
#[derive(Debug)]
pub struct Number<S: 'static> {
    /// What kind of number it is.
    pub quantity: Quantity,
    /// Smallest allowed value.
    pub min: f64,
    /// Largest allowed value.
    pub max: f64,
    /// Slider step where a reader uses US units.
    pub step_us: f64,
    /// Slider step where a reader uses metric units.
    pub step_metric: f64,
    /// Reads it.
    pub get: fn(&S) -> f64,
    /// Sets it.
    pub set: fn(&mut S, f64),
}

/// One of a list.
#[derive(Debug)]
pub struct ChoiceList<S: 'static> {
    /// Keys and labels, in the order offered.
    pub options: fn() -> Vec<(&'static str, &'static str)>,
    /// Reads the key.
    pub get: fn(&S) -> &'static str,
    /// Sets it by key; false where there is no such key.
    pub set: fn(&mut S, &str) -> bool,
}

/// A list of lengths.
#[derive(Debug)]
pub struct Lengths<S: 'static> {
    /// Smallest allowed item `[m]`.
    pub min: f64,
    /// Largest allowed item `[m]`.
    pub max: f64,
    /// Slider step in US units `[m]`.
    pub step_us: f64,
    /// Slider step in metric units `[m]`.
    pub step_metric: f64,
    /// Most items.
    pub most: usize,
    /// Reads it.
    pub get: fn(&S) -> &[Length],
    /// Sets it.
    pub set: fn(&mut S, Vec<Length>),
}

// Derived copies would ask that the whole itself can be copied, though only functions over it are held.
macro_rules! copied {
    ($($name:ident),+) => {$(
        impl<S> Copy for $name<S> {}
        impl<S> Clone for $name<S> {
            fn clone(&self) -> Self {
                *self
            }
        }
    )+};
}
copied!(Parameter, Kind, Number, ChoiceList, Lengths);

/// Keys and labels of a closed list.
pub fn options<C: Choice>() -> Vec<(&'static str, &'static str)> {
    C::ALL.iter().map(|entry| (entry.key(), entry.label())).collect()
}

/// Ranges are round in feet: this much room at their ends keeps 2.0 ft legal after a trip through metres `[–]`.
const RANGE_TOLERANCE: f64 = 1e-9;

fn number_fault(value: f64, min: f64, max: f64, quantity: Quantity) -> Option<Fault> {
    let tolerance = RANGE_TOLERANCE * max.abs().max(1.0);
    if !value.is_finite() {
        Some(Fault::NotANumber { got: "no number".to_owned(), min, max, quantity })
    } else if value < min - tolerance || value > max + tolerance {
        Some(Fault::OutOfRange { value, min, max, quantity })
    } else {
        None
    }
}

impl<S> Number<S> {
    /// The step a reader of these units sets.
    pub fn step(&self, rounding: Rounding) -> f64 {
        match rounding {
            Rounding::Us => self.step_us,
            Rounding::Metric => self.step_metric,
        }
    }

    /// Why a value can't be taken, if it can't.
    pub fn fault(&self, value: f64) -> Option<Fault> {
        number_fault(value, self.min, self.max, self.quantity)
    }
}

impl<S> Lengths<S> {
    /// The step a reader of these units sets `[m]`.
    pub fn step(&self, rounding: Rounding) -> f64 {
        match rounding {
            Rounding::Us => self.step_us,
            Rounding::Metric => self.step_metric,
        }
    }

    /// Why an item can't be taken, if it can't.
    pub fn fault(&self, value: f64) -> Option<Fault> {
        number_fault(value, self.min, self.max, LIST_QUANTITY)
    }
}

impl<S> Parameter<S> {
    /// What is wrong with this field.
    pub fn faults(&self, whole: &S) -> Vec<Problem> {
        match self.kind {
            Kind::Number(number) => number
                .fault((number.get)(whole))
                .map(|fault| Problem::new(self.key, fault))
                .into_iter()
                .collect(),
            Kind::Choice(_) => Vec::new(),
            Kind::Lengths(lengths) => {
                let items = (lengths.get)(whole);
                let too_many = (items.len() > lengths.most).then(|| {
                    Problem::new(self.key, Fault::ListLength { items: items.len(), most: lengths.most })
                });
                let wrong = items.iter().enumerate().filter_map(|(place, item)| {
                    lengths
                        .fault(item.value)
                        .map(|fault| Problem::new(&format!("{}[{place}]", self.key), fault))
                });
                too_many.into_iter().chain(wrong).collect()
            }
        }
    }

    /// Takes a file's value. Ranges are checked afterwards, all fields together.
    ///
    /// # Errors
    /// The fault, where the value is of the wrong kind.
    pub fn read(&self, entry: &Entry, whole: &mut S) -> Result<(), Fault> {
        match (self.kind, entry) {
            (Kind::Number(number), Entry::Number(value)) => {
                (number.set)(whole, *value);
                Ok(())
            }
            (Kind::Number(number), other) => Err(Fault::NotANumber {
                got: other.shown(),
                min: number.min,
                max: number.max,
                quantity: number.quantity,
            }),
            (Kind::Choice(choice), Entry::Text(key)) if (choice.set)(whole, key) => Ok(()),
            (Kind::Choice(choice), other) => {
                let keys: Vec<&str> = (choice.options)().into_iter().map(|(key, _)| key).collect();
                Err(Fault::NotAChoice { got: other.shown(), allowed: keys.join(", ") })
            }
            (Kind::Lengths(lengths), Entry::List(items)) => {
                let mut heights = Vec::new();
                for item in items {
                    let Entry::Number(value) = item else {
                        return Err(Fault::NotANumber {
                            got: item.shown(),
                            min: lengths.min,
                            max: lengths.max,
                            quantity: LIST_QUANTITY,
                        });
                    };
                    heights.push(Length::new::<meter>(*value));
                }
                (lengths.set)(whole, heights);
                Ok(())
            }
            (Kind::Lengths(_), other) => Err(Fault::NotAList { got: other.shown() }),
        }
    }

    /// Copies this field from one whole to another.
    pub fn copy(&self, from: &S, to: &mut S) {
        match self.kind {
            Kind::Number(number) => (number.set)(to, (number.get)(from)),
            Kind::Choice(choice) => {
                (choice.set)(to, (choice.get)(from));
            }
            Kind::Lengths(lengths) => (lengths.set)(to, (lengths.get)(from).to_vec()),
        }
    }

    /// Whether two wholes agree in this field.
    #[expect(
        clippy::float_cmp,
        reason = "asks whether anybody changed the field, not whether values are near"
    )]
    pub fn same(&self, one: &S, other: &S) -> bool {
        match self.kind {
            Kind::Number(number) => (number.get)(one) == (number.get)(other),
            Kind::Choice(choice) => (choice.get)(one) == (choice.get)(other),
            Kind::Lengths(lengths) => (lengths.get)(one) == (lengths.get)(other),
        }
    }
}
