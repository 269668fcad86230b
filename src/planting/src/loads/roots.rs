//! The one positive root of the cubics that wires and posts lead to.

/// Newton's method from the right of the root of a convex curve doubles the digits it has right: so many steps are plenty.
const MOST_STEPS: usize = 60;
/// Steps smaller than this share of the root change nothing that is shown.
const SETTLED: f64 = 1e-15;

/// Walks from a point right of the largest root of a curve that is convex there down to the root.
fn walk_down(start: f64, value: impl Fn(f64) -> f64, slope: impl Fn(f64) -> f64) -> Option<f64> {
    let mut root = start;
    for _ in 0..MOST_STEPS {
        let step = value(root) / slope(root);
        if !step.is_finite() {
            return None;
        }
        root -= step;
        if step.abs() <= SETTLED * root.abs() {
            break;
        }
    }
    (root.is_finite() && root > 0.0).then_some(root)
}

/// The positive root of `x³ + a x² = b`; none where `b` isn't positive, or either is no number.
///
/// Left of its root the curve is below `b` and right of it above, so there is one only. `max(0, −a) + ∛b` lies to its right.
pub(super) fn of_square_and_cube(a: f64, b: f64) -> Option<f64> {
    if !(a.is_finite() && b.is_finite() && b > 0.0) {
        return None;
    }
    let start = (-a).max(0.0) + b.cbrt();
    walk_down(start, |x| x * x * (x + a) - b, |x| x * (3.0 * x + 2.0 * a))
}

/// The positive root of `x³ = c x + q`; none where either is negative or no number, or both are nothing.
///
/// There is one only, and `√c + ∛q` lies to its right or on it.
pub(super) fn of_line_and_cube(c: f64, q: f64) -> Option<f64> {
    if !(c.is_finite() && q.is_finite() && c >= 0.0 && q >= 0.0) {
        return None;
    }
    let start = c.sqrt() + q.cbrt();
    walk_down(start, |x| x * (x * x - c) - q, |x| 3.0 * x * x - c)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn roots_are_where_they_were_put() {
        for root in [1e-6, 0.3, 2.0, 7e4] {
            for a in [-0.999 * root, -0.5 * root, 0.0, 3.0, 1e6] {
                let found = of_square_and_cube(a, root * root * (root + a)).expect("a root");
                assert!((found - root).abs() <= 1e-9 * root, "{found} for {root}, a {a}");
            }
            for c in [0.0, 0.5 * root * root, 0.999 * root * root, root * root] {
                let found = of_line_and_cube(c, root * (root * root - c)).expect("a root");
                assert!((found - root).abs() <= 1e-9 * root, "{found} for {root}, c {c}");
            }
        }
    }

    #[test]
    fn curves_without_a_root_give_none() {
        for (a, b) in [(1.0, 0.0), (1.0, -1.0), (f64::NAN, 1.0), (1.0, f64::INFINITY), (f64::INFINITY, 1.0)] {
            assert_eq!(of_square_and_cube(a, b), None, "{a} {b}");
        }
        for (c, q) in [(0.0, 0.0), (-1.0, 1.0), (1.0, -1.0), (f64::NAN, 1.0), (1.0, f64::INFINITY)] {
            assert_eq!(of_line_and_cube(c, q), None, "{c} {q}");
        }
    }
}
