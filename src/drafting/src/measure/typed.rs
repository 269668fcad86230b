//! Reading numbers as somebody types them, in one way only.

use super::{FOOT, INCH, Units, unit};
use planting::Quantity;
use planting::digits::{decimal, plain as written};

/// Reads what somebody typed: a number in the reader's own unit, or one that names its unit
/// (`3' 6"`, `3 ft 6 in`, `1.07 m`, `107 cm`, `45 °`, `60 %`). Gives the SI value.
///
/// ```
/// use drafting::measure::{Units, read};
/// use planting::{Quantity, feet};
/// let typed = |text| read(text, Quantity::Length, Units::Us).map(|value| (value / 0.3048 * 1e6).round() / 1e6);
/// assert_eq!(typed("3.5"), Some(3.5));
/// assert_eq!(typed("3' 6\""), Some(3.5));
/// assert_eq!(typed("2 m"), Some(6.56168));
/// assert_eq!(typed("three"), None);
/// ```
pub fn read(text: &str, quantity: Quantity, units: Units) -> Option<f64> {
    let text = text.trim().replace(['−', '–'], "-").replace('\u{a0}', " ");
    let own = unit(quantity, units).one;
    let is_length = matches!(quantity, Quantity::Length | Quantity::SmallLength);
    let mut sum = 0.0;
    let mut rest = text.as_str();
    let mut parts = 0;
    while !rest.is_empty() {
        let digits =
            rest.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+' | 'e' | 'E')));
        // An e counts as an exponent only between digits, so that "1e3" is read and "ft" never is.
        let (figure, after) = rest.split_at(digits.unwrap_or(rest.len()));
        let value = parse_number(figure)?;
        let after = after.trim_start();
        let name_end =
            after.find(|c: char| c.is_ascii_digit() || c == '-' || c == '+').unwrap_or(after.len());
        let (name, tail) = after.split_at(name_end);
        let one = match name.trim().to_ascii_lowercase().as_str() {
            "" if parts == 0 => own,
            "ft" | "'" | "′" | "foot" | "feet" if is_length => FOOT,
            "in" | "\"" | "″" | "inch" | "inches" if is_length => INCH,
            "m" | "metre" | "metres" | "meter" | "meters" if is_length => 1.0,
            "cm" if is_length => 0.01,
            "mm" if is_length => 0.001,
            "°" | "deg" if quantity == Quantity::Angle => own,
            "%" if quantity == Quantity::Share => own,
            _ => return None,
        };
        sum += value * one;
        parts += 1;
        rest = tail.trim_start();
    }
    (parts > 0 && parts <= 2 && f64::is_finite(sum)).then_some(sum)
}

/// A number whose marks can be taken in one way only: a point is before decimals, commas set off groups of three digits, and the
/// first group begins with no nought. `0,900`, `1,23` and `1.234,5` are other people's decimals, or a slip.
fn parse_number(text: &str) -> Option<f64> {
    let mut plain = String::new();
    // Digits since the last comma or the start; whether a comma was met, and the end of the whole number.
    let (mut run, mut has_comma, mut is_past, mut starts_with_nought) = (0, false, false, false);
    let fits =
        |run, has_comma, nought: bool| if has_comma { run == 3 } else { (1..=3).contains(&run) && !nought };
    for c in text.chars() {
        if c == ',' {
            if is_past || !fits(run, has_comma, starts_with_nought) {
                return None;
            }
            (run, has_comma) = (0, true);
            continue;
        }
        if c.is_ascii_digit() && !is_past {
            starts_with_nought |= run == 0 && !has_comma && c == '0';
            run += 1;
        } else if c != '-' && c != '+' {
            if has_comma && run != 3 {
                return None;
            }
            is_past = true;
        }
        plain.push(c);
    }
    if has_comma && run != 3 {
        return None;
    }
    decimal(&plain).filter(|value| value.is_finite())
}

/// How a number whose commas or points can be taken in two ways is probably meant, written so that it can't: for what [`read`]
/// doesn't take.
///
/// ```
/// use drafting::measure::one_way;
/// assert_eq!(one_way("0,900"), Some("0.9".to_owned()));
/// assert_eq!(one_way("1.234,5 m"), Some("1234.5".to_owned()));
/// assert_eq!(one_way("twelve"), None);
/// ```
pub fn one_way(text: &str) -> Option<String> {
    let mut number = String::new();
    for c in text.chars().chain([' ']) {
        if c.is_ascii_digit() || c == ',' || c == '.' {
            number.push(c);
            continue;
        }
        if let Some(plain) = probable(&number).filter(|_| parse_number(&number).is_none()) {
            return Some(plain);
        }
        number.clear();
    }
    None
}

/// Of digits and marks the number probably meant: one mark alone, or the last of two kinds, stands before decimals, and any other
/// between thousands.
fn probable(number: &str) -> Option<String> {
    let is_mark = |byte: &u8| *byte == b',' || *byte == b'.';
    let last = number.bytes().enumerate().rfind(|(_, byte)| is_mark(byte));
    let before_decimals = last.filter(|(place, mark)| number.bytes().take(*place).all(|byte| byte != *mark));
    let mut plain = String::new();
    for (place, c) in number.chars().enumerate() {
        if c.is_ascii_digit() {
            plain.push(c);
        } else if before_decimals.is_some_and(|(point, _)| point == place) {
            plain.push('.');
        }
    }
    last.and_then(|_| decimal(&plain)).map(written)
}

#[cfg(test)]
mod tests {
    use super::super::editable;
    use super::*;

    #[test]
    fn what_is_shown_reads_back() {
        for units in [Units::Us, Units::Metric] {
            for quantity in
                [Quantity::Length, Quantity::SmallLength, Quantity::Share, Quantity::Angle, Quantity::Ratio]
            {
                let one = unit(quantity, units).one;
                for value in [0.0, 0.25, 3.0, 12.75, 660.0, 2000.0] {
                    let shown = editable(value * one, quantity, units);
                    let back = read(&shown, quantity, units).unwrap();
                    let step = 10f64.powi(-i32::try_from(unit(quantity, units).decimals).unwrap());
                    assert!((back / one - value).abs() <= step / 2.0 + 1e-12, "{shown}");
                }
            }
        }
    }

    #[test]
    fn nonsense_is_no_number() {
        for text in
            ["", " ", "abc", "NaN", "inf", "1e999", "3 acres", "3 ft 6", "--3", "1 2 3", "3 ft 2 in 1 in"]
        {
            assert_eq!(read(text, Quantity::Length, Units::Us), None, "{text}");
        }
        assert_eq!(read("1e9", Quantity::Length, Units::Metric), Some(1e9));
    }

    #[test]
    fn numbers_are_read_in_one_way_only() {
        let (us, metric) = (Units::Us, Units::Metric);
        for (text, units, metres) in [
            ("1,200", us, 1200.0 * FOOT),
            ("1,200", metric, 1200.0),
            ("12,345,678.5", metric, 12_345_678.5),
            ("-1,200", metric, -1200.0),
            ("1,234.5", metric, 1234.5),
            ("1.234", metric, 1.234),
            (".5", metric, 0.5),
            ("5.", metric, 5.0),
            ("007", metric, 7.0),
            ("3' 6\"", us, 3.5 * FOOT),
            ("3′ 6″", metric, 3.5 * FOOT),
            ("3 ft 6 in", metric, 3.5 * FOOT),
            ("3ft 6.5in", us, 3.0 * FOOT + 6.5 * INCH),
            ("1,320 ft", metric, 1320.0 * FOOT),
            ("1,320' 6\"", us, 1320.0 * FOOT + 6.0 * INCH),
            ("1.1 m", us, 1.1),
            ("110 cm", us, 1.1),
        ] {
            let value = read(text, Quantity::Length, units).unwrap_or(f64::NAN);
            assert!((value - metres).abs() <= 1e-12 * metres.abs(), "{text}, {units:?}: {value}");
            assert_eq!(one_way(text), None, "{text}");
        }
        for (text, meant) in [
            ("0,900", "0.9"),
            ("00,900", "0.9"),
            ("1,2", "1.2"),
            ("1,23", "1.23"),
            ("1,2345", "1.2345"),
            ("1.234,5", "1234.5"),
            ("1.234.567", "1234567"),
            ("12,34,567", "1234567"),
            ("1234,567", "1234.567"),
            ("1,234,5", "12345"),
            (",5", "0.5"),
            ("3' 6,5\"", "6.5"),
            ("1,1 m", "1.1"),
            ("1.200,50 ft", "1200.5"),
        ] {
            for units in [us, metric] {
                assert_eq!(read(text, Quantity::Length, units), None, "{text}, {units:?}");
            }
            assert_eq!(one_way(text).as_deref(), Some(meant), "{text}");
        }
        for text in ["", "three", "3 acres", "1 2 3", ".", ",", "--3"] {
            assert_eq!(one_way(text), None, "{text}");
        }
    }

    #[test]
    fn a_field_shows_what_was_given() {
        for (text, quantity, units) in [
            ("13.375", Quantity::Length, Units::Us),
            ("3.333", Quantity::Length, Units::Metric),
            ("1320.25", Quantity::Length, Units::Us),
            ("4.125", Quantity::SmallLength, Units::Us),
            ("10.75", Quantity::SmallLength, Units::Metric),
            ("62.5", Quantity::Share, Units::Us),
            ("7.5", Quantity::Angle, Units::Metric),
            ("1.125", Quantity::Ratio, Units::Us),
            ("-2.5", Quantity::Angle, Units::Us),
        ] {
            let value = read(text, quantity, units).unwrap();
            assert_eq!(editable(value, quantity, units), text);
        }
        // Given in the other units.
        for (feet, metres) in [(4.0, "1.22"), (2.5, "0.762"), (660.0, "201.17"), (12.0, "3.66")] {
            assert_eq!(editable(feet * FOOT, Quantity::Length, Units::Metric), metres);
        }
    }
}
