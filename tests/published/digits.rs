//! Numbers as digits and back, against the standard library's conversions, which are exact (Rust's documentation of `f64`'s
//! `FromStr`: the nearest number; of `{:.N}`: rounded from the exact value, halves to the even digit).

use planting::digits::{MOST_DECIMALS, decimal, fixed, plain};
use planting::order::{sort_by, within};
use proptest::prelude::*;

#[test]
fn halves_and_edges_are_written_as_the_library_does() {
    let values = [
        0.0,
        -0.0,
        0.5,
        1.5,
        2.5,
        -2.5,
        0.125,
        0.375,
        0.0625,
        1e-9,
        5e-10,
        4.9e-10,
        1e-300,
        0.999_999_999_9,
        9.995,
        1e15,
        123_456_789.987_654_32,
        9.007_199_254_740_993e15,
        9.999_999e17,
    ];
    for value in values {
        for decimals in 0..=MOST_DECIMALS {
            assert_eq!(fixed(value, decimals), format!("{value:.decimals$}"), "{value:e} with {decimals}");
        }
    }
    for wild in [f64::NAN, f64::INFINITY, 1e18, -1e300] {
        assert_eq!(fixed(wild, 2), "–");
    }
}

#[test]
fn what_is_no_number_is_not_read() {
    for text in ["", "-", ".", "1.2.3", "1e", "e3", "1e3.5", "inf", "nan", "--1", "1-", " 1", "1,5", "٣"] {
        assert_eq!(decimal(text), None, "{text:?}");
    }
    assert_eq!(decimal("+007.50"), Some(7.5));
    assert_eq!(decimal("5."), Some(5.0));
    assert_eq!(decimal("1e999").map(f64::is_finite), Some(false));
    assert_eq!(decimal("1e-999999"), Some(0.0));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 20_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn numbers_are_written_as_the_library_does(
        mantissa in -1e9..1e9_f64, power in -12..9_i32, decimals in 0..=MOST_DECIMALS
    ) {
        let value = mantissa * 10_f64.powi(power);
        prop_assert_eq!(fixed(value, decimals), format!("{value:.decimals$}"));
    }

    #[test]
    fn halves_go_to_the_even_digit(whole in -100_000..100_000_i32, eighths in 0..8, decimals in 0..3_usize) {
        let value = f64::from(whole) + f64::from(eighths) / 8.0;
        prop_assert_eq!(fixed(value, decimals), format!("{value:.decimals$}"));
    }

    #[test]
    fn numbers_of_fifteen_digits_are_read_exactly(digits in "-?[0-9]{1,8}(\\.[0-9]{0,7})?(e-?[0-9])?") {
        prop_assert_eq!(decimal(&digits), digits.parse().ok());
    }

    #[test]
    fn longer_ones_are_read_closely(digits in "[0-9]{0,30}\\.[0-9]{1,30}") {
        let exact: f64 = digits.parse().expect("digits");
        let read = decimal(&digits).expect("digits");
        prop_assert!((read - exact).abs() <= 4.0 * f64::EPSILON * exact, "{read} for {exact}");
    }

    #[test]
    fn what_is_written_plainly_reads_back(value in -1e6..1e6_f64) {
        let read = decimal(&plain(value)).expect("a number");
        prop_assert!((read - value).abs() <= 5.001e-7);
    }

    #[test]
    fn lists_are_sorted_as_the_library_sorts_them(mut list in prop::collection::vec((0..20_u8, any::<u16>()), 0..80)) {
        let mut expected = list.clone();
        expected.sort_by_key(|(key, _)| *key);
        sort_by(&mut list, |one, other| one.0.cmp(&other.0));
        prop_assert_eq!(list, expected);
    }

    #[test]
    fn limits_hold_as_the_librarys_do(value in -10.0..10.0_f64, one in -9.0..9.0_f64, other in -9.0..9.0_f64) {
        let (least, most) = (one.min(other), one.max(other));
        prop_assert_eq!(within(value, least, most), value.clamp(least, most));
    }
}
