//! How a slider spreads the range of a number: evenly, or so that what the trade uses gets most of the travel.

use crate::kit::order::within;

/// A range in three straight pieces: what is less than the trade uses, what the trade uses, what is more. Equal steps of the value
/// are equal steps of the hand within each piece.
///
/// ```text
///     1 2       3       4       5       6   30 ft
///     |-|-------|-------|-------|-------|---|
///      7 %              78 %             15 %      of the travel
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// The range the trade uses, SI.
    pub trade: [f64; 2],
    /// Where that range begins and ends along the slider, 0 to 1.
    pub travel: [f64; 2],
    /// Values with a tick and a number for readers of US units, SI, rising.
    pub ticks_us: &'static [f64],
    /// The same for readers of metric units.
    pub ticks_metric: &'static [f64],
}

impl Scale {
    /// Values and places of the ends of the pieces, for a number that may be from `min` to `max`.
    fn knots(&self, min: f64, max: f64) -> [(f64, f64); 4] {
        let ([from, to], [begins, ends]) = (self.trade, self.travel);
        [(min, 0.0), (from, begins), (to, ends), (max, 1.0)]
    }

    /// Where a value stands along the slider, 0 to 1.
    ///
    /// ```
    /// use planting::{feet, parameter};
    /// let (scale, ft) = (parameter("in_row_spacing").unwrap().scale.unwrap(), |value| feet(value).value);
    /// let place = |value| scale.place(ft(value), ft(1.0), ft(30.0));
    /// assert_eq!((place(1.0), place(30.0)), (0.0, 1.0));
    /// // From 3 to 4 ft is a fifth of the travel; evenly spread it would be a thirtieth.
    /// assert!((place(4.0) - place(3.0) - 0.195).abs() < 1e-12);
    /// ```
    pub fn place(&self, value: f64, min: f64, max: f64) -> f64 {
        interpolated(self.knots(min, max), value)
    }

    /// The value at a place along the slider, the inverse of [`Scale::place`].
    ///
    /// ```
    /// use planting::{feet, parameter};
    /// let scale = parameter("row_width").unwrap().scale.unwrap();
    /// let (min, max) = (feet(6.0).value, feet(40.0).value);
    /// let place = scale.place(feet(12.0).value, min, max);
    /// assert!((scale.value(place, min, max) - feet(12.0).value).abs() < 1e-12);
    /// ```
    pub fn value(&self, place: f64, min: f64, max: f64) -> f64 {
        interpolated(self.knots(min, max).map(|(value, place)| (place, value)), place)
    }
}

/// The straight line through the two knots on either side of `x`; beyond the ends, the value there.
fn interpolated(knots: [(f64, f64); 4], x: f64) -> f64 {
    let [first, second, third, last] = knots;
    let (low, high) = if x < second.0 {
        (first, second)
    } else if x < third.0 {
        (second, third)
    } else {
        (third, last)
    };
    let share = (x - low.0) / (high.0 - low.0).max(f64::MIN_POSITIVE);
    low.1 + within(share, 0.0, 1.0) * (high.1 - low.1)
}

#[cfg(test)]
mod tests {
    use crate::{Kind, REGISTRY};

    #[test]
    fn every_scale_rises_from_end_to_end_and_back() {
        let mut scales = 0;
        for parameter in REGISTRY {
            let (Some(scale), Kind::Number(number)) = (parameter.scale, parameter.kind) else { continue };
            scales += 1;
            let (min, max) = (number.min, number.max);
            let mut before = -1.0;
            for step in 0..=1000 {
                let value = min + (max - min) * f64::from(step) / 1000.0;
                let place = scale.place(value, min, max);
                assert!(place > before && (0.0..=1.0).contains(&place), "{}: {value}", parameter.key);
                assert!(
                    (scale.value(place, min, max) - value).abs() < 1e-9 * max,
                    "{}: {value}",
                    parameter.key
                );
                before = place;
            }
            for ticks in [scale.ticks_us, scale.ticks_metric] {
                let inside = |tick: &f64| *tick >= min - 1e-9 && *tick <= max + 1e-9;
                assert!(ticks.iter().all(inside) && ticks.is_sorted(), "{}", parameter.key);
            }
        }
        assert!(scales >= 3);
    }
}
