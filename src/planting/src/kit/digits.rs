//! Numbers as digits and back.
//!
//! The standard library does this for every number there is, with 25 KB of tables and code that compress badly. What
//! is written and typed here has few digits; the results are the same (`tests/published/digits.rs`).

/// The digits that are looked at: so many fit a `u64`.
const MOST_DIGITS: u32 = 19;
/// The largest power of ten that fits a `u64`.
const MOST_TENS: u32 = 19;
/// A power of ten beyond this makes any digits 0 or infinite.
const MOST_POWER: i32 = 1000;
/// The most decimals [`fixed`] writes.
pub const MOST_DECIMALS: usize = 9;

/// A number with so many decimals, [`MOST_DECIMALS`] at most: the nearest, of two as near the even one. What is no
/// number or beyond 10¹⁸ is written as `–`.
///
/// ```
/// use planting::kit::digits::fixed;
/// assert_eq!(fixed(2.675, 2), "2.67"); // The nearest double lies below.
/// assert_eq!(fixed(-0.5, 0), "-0");
/// ```
pub fn fixed(value: f64, decimals: usize) -> String {
    let decimals = decimals.min(MOST_DECIMALS);
    let size = value.abs();
    if size.is_nan() || size >= 1e18 {
        return "–".to_owned();
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 to 10¹⁸")]
    let mut whole = size as u64;
    let part = size.fract();
    let one = (0..decimals).fold(1, |one, _| one * 10);
    let (mut parts, rest) = times(part, one);
    // A half to the even number, as the last digit that is written.
    let is_odd = if decimals == 0 { whole % 2 == 1 } else { parts % 2 == 1 };
    parts += u64::from(rest == Rest::More || rest == Rest::Half && is_odd);
    if parts == one {
        whole += 1;
        parts = 0;
    }
    let sign = if value.is_sign_negative() { "-" } else { "" };
    if decimals == 0 {
        format!("{sign}{whole}")
    } else {
        let digits = parts.to_string();
        let noughts = "0".repeat(decimals - digits.len());
        format!("{sign}{whole}.{noughts}{digits}")
    }
}

/// A number with at most six decimals, without noughts at the end.
///
/// ```
/// assert_eq!(planting::kit::digits::plain(900.0), "900");
/// assert_eq!(planting::kit::digits::plain(-0.3048), "-0.3048");
/// ```
pub fn plain(value: f64) -> String {
    let text = fixed(value, 6);
    let kept = text.trim_end_matches('0').trim_end_matches('.');
    if kept.is_empty() || kept == "-" || kept == "-0" { "0".to_owned() } else { kept.to_owned() }
}

/// How what is left of a product beyond its whole part compares with a half.
#[derive(Clone, Copy, PartialEq)]
enum Rest {
    Less,
    Half,
    More,
}

/// The product of a number from 0 to 1 and a whole one up to 10⁹: its whole part, exactly, and how what is left compares with a half.
fn times(part: f64, one: u64) -> (u64, Rest) {
    let bits = part.to_bits();
    let power = (bits >> 52) as i32;
    // Smaller than any half of a last digit.
    if power < 1023 - 52 {
        return (0, Rest::Less);
    }
    let mantissa = bits & ((1 << 52) - 1) | 1 << 52;
    let product = u128::from(mantissa) * u128::from(one);
    // The number is its mantissa halved so many times: 53 at least, 104 at most.
    let halvings = (1023 + 52 - power).unsigned_abs();
    #[expect(clippy::cast_possible_truncation, reason = "at most 10⁹")]
    let whole = (product >> halvings) as u64;
    let left = product & ((1 << halvings) - 1);
    let half = 1 << (halvings - 1);
    let rest = match left.cmp(&half) {
        std::cmp::Ordering::Less => Rest::Less,
        std::cmp::Ordering::Equal => Rest::Half,
        std::cmp::Ordering::Greater => Rest::More,
    };
    (whole, rest)
}

/// Reads a plain number: digits with a point or without, a sign before them, a power of ten behind them. With up to 15 digits and
/// powers up to 19 the nearest double, else within a few units of its last place; digits beyond the nineteenth aren't looked at.
///
/// ```
/// use planting::kit::digits::decimal;
/// assert_eq!(decimal("-12.75"), Some(-12.75));
/// assert_eq!(decimal(".5"), Some(0.5));
/// assert_eq!(decimal("1e3"), Some(1000.0));
/// assert_eq!(decimal("3 ft"), None);
/// ```
pub fn decimal(text: &str) -> Option<f64> {
    let (figures, power) = match text.split_once(['e', 'E']) {
        Some((figures, power)) => (figures, power.parse::<i32>().ok()?.clamp(-MOST_POWER, MOST_POWER)),
        None => (text, 0),
    };
    let (sign, plain) = match figures.as_bytes() {
        [b'-', rest @ ..] => (-1.0, rest),
        [b'+', rest @ ..] => (1.0, rest),
        all => (1.0, all),
    };
    let (mut mantissa, mut taken, mut any, mut is_fraction) = (0_u64, 0, false, false);
    let mut power = power;
    for byte in plain {
        match byte {
            b'0'..=b'9' => {
                any = true;
                if taken < MOST_DIGITS {
                    mantissa = mantissa * 10 + u64::from(byte - b'0');
                    taken += u32::from(mantissa > 0);
                    power -= i32::from(is_fraction);
                } else {
                    power += i32::from(!is_fraction);
                }
            }
            b'.' if !is_fraction => is_fraction = true,
            _ => return None,
        }
    }
    #[expect(clippy::cast_precision_loss, reason = "beyond 15 digits the nearest will do")]
    let mut value = mantissa as f64;
    let mut left = power.unsigned_abs();
    while any && left > 0 && value > 0.0 && value.is_finite() {
        let step = left.min(MOST_TENS);
        let tens = 10_u64.pow(step);
        #[expect(clippy::cast_precision_loss, reason = "a power of ten up to the nineteenth is a double")]
        let tens = tens as f64;
        value = if power < 0 { value / tens } else { value * tens };
        left -= step;
    }
    any.then_some(sign * value)
}
