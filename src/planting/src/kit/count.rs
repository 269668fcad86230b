//! Counts and whole steps.

/// A count as a number; exact for any count a field can hold.
///
/// ```
/// assert_eq!(planting::kit::count::as_number(1_452), 1_452.0);
/// ```
#[expect(clippy::cast_precision_loss, reason = "counts here stay far below 2^53")]
pub fn as_number(count: usize) -> f64 {
    count as f64
}

/// How much of a step may be missing for it to count as whole, so that 300 ft hold exactly 100 steps
/// of 3 ft whatever the rounding of metres `[steps]`.
const FORGIVEN: f64 = 1e-7;
/// More steps than any field holds.
const MOST_STEPS: f64 = 1e7;

/// How many whole steps fit into a length; none where either is not a positive number.
///
/// ```
/// use planting::kit::count::whole_steps;
/// assert_eq!(whole_steps(300.0 * 0.3048, 3.0 * 0.3048), 100);
/// assert_eq!(whole_steps(2.99, 3.0), 0);
/// ```
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "rounded down, positive and bounded"
)]
pub fn whole_steps(length: f64, step: f64) -> usize {
    let steps = length / step;
    if !steps.is_finite() || steps <= 0.0 {
        return 0;
    }
    (steps + FORGIVEN).floor().min(MOST_STEPS) as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whole_steps_forgive_rounding_only() {
        for (length, step, expected) in [
            (300.0 * 0.3048, 3.0 * 0.3048, 100),
            (10.0, 3.0, 3),
            (2.99, 3.0, 0),
            (0.0, 1.0, 0),
            (-5.0, 1.0, 0),
            (1.0, 0.0, 0),
        ] {
            assert_eq!(whole_steps(length, step), expected, "{length} / {step}");
        }
    }
}
