//! Money in whole cents, so that what must add up does.

use super::order::within;
use std::iter::Sum;
use std::ops::{Add, Sub};

/// An amount of money in whole cents.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cents(pub i64);

/// No trellis costs more `[cents]`; far inside what a double holds exactly.
const MOST: f64 = 1e15;

impl Cents {
    /// The nearest whole cents to an amount in dollars; nothing where it is no number.
    ///
    /// ```
    /// use planting::kit::money::Cents;
    /// assert_eq!(Cents::of_dollars(18.505), Cents(1851));
    /// assert_eq!(Cents::of_dollars(f64::NAN), Cents(0));
    /// ```
    #[expect(clippy::cast_possible_truncation, reason = "rounded and bounded")]
    pub fn of_dollars(dollars: f64) -> Cents {
        let cents = (dollars * 100.0).round();
        if cents.is_finite() { Cents(within(cents, -MOST, MOST) as i64) } else { Cents(0) }
    }

    /// The amount in dollars, exact for any amount a plan can reach.
    #[expect(clippy::cast_precision_loss, reason = "amounts stay far below 2^53 cents")]
    pub fn dollars(self) -> f64 {
        self.0 as f64 / 100.0
    }
}

impl Add for Cents {
    type Output = Cents;

    fn add(self, other: Cents) -> Cents {
        Cents(self.0.saturating_add(other.0))
    }
}

impl Sub for Cents {
    type Output = Cents;

    fn sub(self, other: Cents) -> Cents {
        Cents(self.0.saturating_sub(other.0))
    }
}

impl Sum for Cents {
    fn sum<I: Iterator<Item = Cents>>(amounts: I) -> Cents {
        amounts.fold(Cents(0), |sum, amount| sum + amount)
    }
}
