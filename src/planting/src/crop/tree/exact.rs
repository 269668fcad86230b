//! Sines, powers and decay made of sums, products and whole exponents only.
//!
//! The standard library's own differ in the last digit from one platform to the next; a tree that crosses a threshold by
//! that digit would grow otherwise in the browser than on the host. IEEE 754 gives `+ − × ÷`, square roots and rounding to
//! whole numbers to the last bit everywhere, and Rust never contracts a product and a sum into one step. What is built from
//! these alone is the same everywhere. Nothing else that rounds is used in growing, pruning and lighting a tree.
//!
//! Each is within 10⁻¹¹ of the true value, relative to it or to 1.

use std::f64::consts::{LN_2, LOG2_E, PI, TAU};

/// The sine of an angle `[rad]`.
///
/// ```
/// use planting::crop::tree::exact::sine;
/// assert!((sine(1.0) - 0.841_470_984_807_9).abs() < 1e-11);
/// assert!((sine(-100.0) - 0.506_365_641_109_8).abs() < 1e-11);
/// ```
pub fn sine(angle: f64) -> f64 {
    let turned = angle - TAU * (angle / TAU + 0.5).floor();
    let folded = if turned > PI / 2.0 {
        PI - turned
    } else if turned < -PI / 2.0 {
        -PI - turned
    } else {
        turned
    };
    // Taylor's series to the 15th power.
    let square = folded * folded;
    let mut sum = 1.0;
    for step in [14.0, 12.0, 10.0, 8.0, 6.0, 4.0, 2.0] {
        sum = 1.0 - sum * square / (step * (step + 1.0));
    }
    folded * sum
}

/// The cosine of an angle `[rad]`.
///
/// ```
/// assert!((planting::crop::tree::exact::cosine(1.0) - 0.540_302_305_868_1).abs() < 1e-11);
/// ```
pub fn cosine(angle: f64) -> f64 {
    sine(angle + PI / 2.0)
}

/// A positive number raised to a power; 0 where the number isn't positive.
///
/// ```
/// use planting::crop::tree::exact::power;
/// assert!((power(0.4, 1.08) - 0.371_724_4).abs() < 1e-7);
/// assert_eq!(power(0.0, 2.0), 0.0);
/// ```
pub fn power(base: f64, exponent: f64) -> f64 {
    if base > 0.0 { two_to(exponent * log_two(base)) } else { 0.0 }
}

/// `e` to minus a number.
///
/// ```
/// assert!((planting::crop::tree::exact::decay(1.5) - 0.223_130_160_1).abs() < 1e-10);
/// ```
pub fn decay(depth: f64) -> f64 {
    two_to(-depth * LOG2_E)
}

/// Bits of the part after the point of an IEEE 754 double.
const MANTISSA_BITS: u32 = 52;
/// What is added to the exponent of a double.
const BIAS: i32 = 1023;

fn log_two(number: f64) -> f64 {
    let bits = number.to_bits();
    let exponent = f64::from((bits >> MANTISSA_BITS) as u16 & 0x7ff) - f64::from(BIAS);
    let mantissa = f64::from_bits(bits & ((1 << MANTISSA_BITS) - 1) | 0x3ff << MANTISSA_BITS);
    let (mantissa, exponent) = if mantissa > std::f64::consts::SQRT_2 {
        (mantissa / 2.0, exponent + 1.0)
    } else {
        (mantissa, exponent)
    };
    // ln m = 2 artanh s, s = (m − 1) ÷ (m + 1), at most 0.172 in size.
    let s = (mantissa - 1.0) / (mantissa + 1.0);
    let square = s * s;
    let mut sum = 0.0;
    for odd in [15.0, 13.0, 11.0, 9.0, 7.0, 5.0, 3.0, 1.0] {
        sum = sum * square + 1.0 / odd;
    }
    exponent + 2.0 * s * sum * LOG2_E
}

fn two_to(exponent: f64) -> f64 {
    let exponent = crate::kit::order::within(exponent, -1000.0, 1000.0);
    let whole = (exponent + 0.5).floor();
    let rest = (exponent - whole) * LN_2;
    let mut sum = 1.0;
    for step in [12.0, 11.0, 10.0, 9.0, 8.0, 7.0, 6.0, 5.0, 4.0, 3.0, 2.0, 1.0] {
        sum = 1.0 + sum * rest / step;
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 23 to 2,023")]
    let raised = (whole + f64::from(BIAS)) as u64;
    sum * f64::from_bits(raised << MANTISSA_BITS)
}
