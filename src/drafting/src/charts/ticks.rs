//! Round ticks of an axis.

use crate::board::geometry::Span;
use crate::measure::{Units, unit};
use planting::Quantity;

/// A step counts as a round one when it falls short of it by no more than this part: rounding of a
/// quotient of two lengths.
const ROUNDING: f64 = 1e-9;

/// Most ticks of an axis, whatever its span: a guard against spans of nonsense.
const MOST_TICKS: usize = 60;

/// Ticks at multiples of 1, 2 or 5 times a power of ten, no finer than `finest`, that cover a span in
/// no more than about `steps` steps (after Heckbert 1990, Nice numbers for graph labels).
///
/// ```
/// use drafting::{Span, charts::ticks};
/// assert_eq!(ticks(Span::new(105.0, 543.0), 5.0, 1.0), [100.0, 200.0, 300.0, 400.0, 500.0, 600.0]);
/// assert_eq!(ticks(Span::new(0.0, 0.9), 5.0, 0.01), [0.0, 0.2, 0.4, 0.6000000000000001, 0.8, 1.0]);
/// ```
pub fn ticks(span: Span, steps: f64, finest: f64) -> Vec<f64> {
    let step = round_step(span.length() / steps.max(1.0)).max(finest);
    let mut number = (span.from / step + ROUNDING).floor();
    let last = (span.to / step - ROUNDING).ceil();
    let mut out = vec![number * step];
    while number < last && out.len() < MOST_TICKS {
        number += 1.0;
        out.push(number * step);
    }
    out
}

/// The next of 1, 2 or 5 times a power of ten, at or above a step.
fn round_step(step: f64) -> f64 {
    let step = if step.is_finite() && step > 0.0 { step } else { 1.0 };
    let power = 10f64.powf(step.log10().floor());
    let steps = [1.0, 2.0, 5.0].map(|times| times * power);
    steps.into_iter().find(|round| *round >= step * (1.0 - ROUNDING)).unwrap_or(10.0 * power)
}

/// An axis laid out: its ends and its ticks, SI.
pub(super) struct Ruler {
    pub(super) span: Span,
    pub(super) ticks: Vec<f64>,
}

/// Lays an axis out over its values, or between the ends it is given.
pub(super) fn ruler(
    values: &[f64],
    given: Option<Span>,
    quantity: Quantity,
    units: Units,
    steps: f64,
) -> Ruler {
    let unit = unit(quantity, units);
    let finite = || values.iter().copied().filter(|value| value.is_finite());
    let (low, high) = (finite().fold(f64::INFINITY, f64::min), finite().fold(f64::NEG_INFINITY, f64::max));
    // No value at all: from 0 to one unit. One value alone: a unit to either side.
    let found = if low > high { Span::new(0.0, unit.one) } else { Span::new(low, high) };
    let found = if found.length() > 0.0 { found } else { found.widened(unit.one) };
    let span = given.unwrap_or(found);
    // No tick is finer than what is written of it.
    let finest = std::iter::repeat_n(0.1, unit.decimals).product::<f64>();
    let shown = Span::new(span.from / unit.one, span.to / unit.one);
    let ticks: Vec<f64> = ticks(shown, steps, finest).into_iter().map(|tick| tick * unit.one).collect();
    let slack = span.length() * ROUNDING;
    match given {
        Some(span) => {
            Ruler { span, ticks: ticks.into_iter().filter(|tick| span.widened(slack).holds(*tick)).collect() }
        }
        None => {
            let ends = ticks.first().copied().zip(ticks.last().copied());
            Ruler { span: ends.map_or(span, |(first, last)| Span::new(first, last)), ticks }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_nice_numbers() {
        for (from, to, steps, expected) in [
            // Heckbert 1990, Graphics Gems, p. 61: 105 to 543 is labelled from 100 to 600.
            (105.0, 543.0, 5.0, (100.0, 600.0, 6)),
            // By hand: steps of 5, 20, 0.2 and 0.05.
            (0.0, 25.0, 5.0, (0.0, 25.0, 6)),
            (0.0, 100.0, 5.0, (0.0, 100.0, 6)),
            (-0.31, 0.42, 5.0, (-0.4, 0.6, 6)),
            (2.02, 2.21, 4.0, (2.0, 2.25, 6)),
            (0.0, 1.0, 1.0, (0.0, 1.0, 2)),
        ] {
            let found = ticks(Span::new(from, to), steps, 0.01);
            let ends = (found[0], found[found.len() - 1], found.len());
            let near = (ends.0 - expected.0).abs() < 1e-9 && (ends.1 - expected.1).abs() < 1e-9;
            assert!(near && ends.2 == expected.2, "{from} to {to}: {found:?}");
        }
    }

    #[test]
    fn a_span_of_nonsense_has_ticks_too() {
        for (from, to) in [(0.0, 0.0), (1e300, -1e300), (f64::NAN, 1.0), (0.0, f64::INFINITY)] {
            let found = ruler(&[from, to], None, Quantity::Length, Units::Us, 5.0);
            assert!(found.ticks.len() <= MOST_TICKS && found.ticks.iter().all(|tick| tick.is_finite()));
            assert!(found.span.length() > 0.0, "{from} to {to}: {:?}", found.span);
        }
    }
}
