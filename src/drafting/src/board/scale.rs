//! Scales a drawing may be printed at, and round lengths for a scale bar.

use crate::measure::{Units, rounded};

const FOOT: f64 = 0.3048;

/// A picture counts as fitting a scale when it is too long for it by no more than this part: rounding
/// of metres into millimetres.
const ROUNDING: f64 = 1e-9;

/// The least length a scale is found for `[m]` or `[mm]`: nothing to draw, or no paper to draw it on,
/// still has a scale.
const LEAST_LENGTH: f64 = 1e-6;

/// Engineer's scales, feet to an inch: tens, and the architect's halves and quarters for details.
const FEET_PER_INCH: [f64; 22] = [
    1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 16.0, 20.0, 30.0, 40.0, 50.0, 60.0, 80.0, 100.0, 200.0, 300.0,
    400.0, 500.0, 600.0, 1000.0,
];

/// Reduction scales of ISO 5455 (1, 2 and 5 times powers of ten), with the surveyor's 25, 250 and 1250.
const RATIOS: [f64; 16] = [
    10.0, 20.0, 25.0, 50.0, 100.0, 200.0, 250.0, 500.0, 1000.0, 1250.0, 2000.0, 2500.0, 5000.0, 10_000.0,
    20_000.0, 50_000.0,
];

/// A true drawing scale.
#[derive(Clone, Debug, PartialEq)]
pub struct TrueScale {
    /// How many units of ground one unit of paper stands for.
    pub ratio: f64,
    /// How it is written on the sheet.
    pub label: String,
}

/// The largest standard scale at which so many metres fit on so many millimetres.
///
/// ```
/// use drafting::{measure::Units, scale::fitting};
/// // 100 m on 180 mm: 1:555 exactly, so 1:1000 is the next in the metric row.
/// assert_eq!(fitting(100.0, 180.0, Units::Metric).ratio, 1000.0);
/// // 330 ft on 7 in: 47 ft to the inch, so 50.
/// assert_eq!(fitting(330.0 * 0.3048, 7.0 * 25.4, Units::Us).label, "1 in = 50 ft (1:600)");
/// ```
pub fn fitting(metres: f64, millimetres: f64, units: Units) -> TrueScale {
    let least = metres * 1000.0 / millimetres.max(LEAST_LENGTH) * (1.0 - ROUNDING);
    match units {
        Units::Us => {
            let feet = FEET_PER_INCH
                .into_iter()
                .find(|feet| feet * 12.0 >= least)
                .unwrap_or_else(|| round_up(least / 12.0));
            let ratio = feet * 12.0;
            TrueScale {
                ratio,
                label: format!("1 in = {} ft (1:{})", rounded(feet, 0), rounded(ratio, 0).replace(',', " ")),
            }
        }
        Units::Metric => {
            let ratio = RATIOS.into_iter().find(|ratio| *ratio >= least).unwrap_or_else(|| round_up(least));
            TrueScale { ratio, label: format!("1:{}", rounded(ratio, 0).replace(',', " ")) }
        }
    }
}

/// The next of 1, 2 or 5 times a power of ten, at or above a value.
fn round_up(value: f64) -> f64 {
    let power = 10f64.powf(value.max(LEAST_LENGTH).log10().floor());
    [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|step| step * power)
        .find(|step| *step >= value)
        .unwrap_or(10.0 * power)
}

/// The longest round length that is no longer than so many metres, in a reader's units `[m]`.
pub fn round_length(metres: f64, units: Units) -> f64 {
    let one = match units {
        Units::Us => FOOT,
        Units::Metric => 1.0,
    };
    let value = (metres / one).max(LEAST_LENGTH);
    let power = 10f64.powf(value.log10().floor());
    let step =
        [5.0, 2.0, 1.0].into_iter().map(|step| step * power).find(|step| *step <= value).unwrap_or(power);
    step * one
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn round_lengths_are_one_two_or_five() {
        for (metres, expected) in [(0.9, 0.5), (1.0, 1.0), (19.9, 10.0), (50.0, 50.0), (499.0, 200.0)] {
            assert!((round_length(metres, Units::Metric) - expected).abs() < 1e-9, "{metres}");
        }
    }

    #[test]
    fn beyond_the_row_of_scales_there_is_still_one() {
        let scale = fitting(1e7, 100.0, Units::Metric);
        assert!(scale.ratio >= 1e8);
    }
}
