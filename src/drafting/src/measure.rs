//! Numbers as a reader writes and reads them, in US customary or metric units.
//!
//! Values are SI inside; switching the units only changes the text, so 4 ft is 4 ft again after
//! switching twice. Rounding is for reading: a length shows to the hundredth of a foot or metre.

use planting::digits::{decimal, fixed};
use planting::{Quantity, SQUARE_METRES_PER_ACRE, SQUARE_METRES_PER_HECTARE};

/// The units a reader uses.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Units {
    /// Feet, inches, acres.
    #[default]
    Us,
    /// Metres, centimetres, hectares.
    Metric,
}

impl Units {
    /// Stable key.
    pub fn key(self) -> &'static str {
        match self {
            Units::Us => "us",
            Units::Metric => "metric",
        }
    }

    /// The units with this key.
    pub fn from_key(key: &str) -> Option<Units> {
        [Units::Us, Units::Metric].into_iter().find(|units| units.key() == key)
    }
}

const FOOT: f64 = 0.3048;
const INCH: f64 = 0.0254;

/// How a quantity is written: the SI value of one unit, its name, and the decimals shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unit {
    /// SI value of one of it.
    pub one: f64,
    /// What stands behind the number, with the space before it where there is one.
    pub name: &'static str,
    /// Most decimals shown.
    pub decimals: usize,
}

/// The unit a quantity is written in.
pub fn unit(quantity: Quantity, units: Units) -> Unit {
    let make = |one, name, decimals| Unit { one, name, decimals };
    match (quantity, units) {
        (Quantity::Length, Units::Us) => make(FOOT, " ft", 2),
        (Quantity::Length, Units::Metric) => make(1.0, " m", 2),
        (Quantity::SmallLength, Units::Us) => make(INCH, " in", 2),
        (Quantity::SmallLength, Units::Metric) => make(0.01, " cm", 1),
        (Quantity::Land, Units::Us) => make(SQUARE_METRES_PER_ACRE, " acres", 2),
        (Quantity::Land, Units::Metric) => make(SQUARE_METRES_PER_HECTARE, " ha", 2),
        (Quantity::Ground, Units::Us) => make(FOOT * FOOT, " sq ft", 1),
        (Quantity::Ground, Units::Metric) => make(1.0, " m²", 2),
        (Quantity::TrunkArea, _) => make(1e-4, " cm²", 1),
        (Quantity::Volume, Units::Us) => make(FOOT * FOOT * FOOT, " cu ft", 1),
        (Quantity::Volume, Units::Metric) => make(1.0, " m³", 2),
        (Quantity::VolumePerLand, Units::Us) => {
            make(FOOT * FOOT * FOOT / SQUARE_METRES_PER_ACRE, " cu ft/acre", 0)
        }
        (Quantity::VolumePerLand, Units::Metric) => make(1.0 / SQUARE_METRES_PER_HECTARE, " m³/ha", 0),
        (Quantity::PerAcre, _) => make(1.0 / SQUARE_METRES_PER_ACRE, "/acre", 0),
        (Quantity::PerHectare, _) => make(1.0 / SQUARE_METRES_PER_HECTARE, "/ha", 0),
        (Quantity::LengthPerLand, Units::Us) => make(FOOT / SQUARE_METRES_PER_ACRE, " ft/acre", 0),
        (Quantity::LengthPerLand, Units::Metric) => make(1.0 / SQUARE_METRES_PER_HECTARE, " m/ha", 0),
        (Quantity::Share, _) => make(0.01, " %", 0),
        (Quantity::Ratio, _) => make(1.0, "", 2),
        (Quantity::Count, _) => make(1.0, "", 0),
        (Quantity::Years, _) => make(1.0, "", 1),
        // Leaf area density is given in metres everywhere.
        (Quantity::LeafAreaDensity, _) => make(1.0, " m²/m³", 2),
        (Quantity::Hours, _) => make(1.0, " h", 2),
        (Quantity::Angle, _) => make(std::f64::consts::PI / 180.0, "°", 0),
    }
}

/// A value with its unit: `12.5 ft`.
///
/// ```
/// use drafting::measure::{Units, write};
/// use planting::{Quantity, feet};
/// assert_eq!(write(feet(12.5).value, Quantity::Length, Units::Us), "12.5 ft");
/// assert_eq!(write(feet(12.5).value, Quantity::Length, Units::Metric), "3.81 m");
/// ```
pub fn write(value: f64, quantity: Quantity, units: Units) -> String {
    format!("{}{}", number(value, quantity, units), unit(quantity, units).name)
}

/// A value without its unit: `12.5`; thousands are set off from ten thousand on in figures and from
/// one thousand on in counts.
pub fn number(value: f64, quantity: Quantity, units: Units) -> String {
    let unit = unit(quantity, units);
    rounded(value / unit.one, unit.decimals)
}

/// A number with at most so many decimals, trailing noughts dropped, thousands set off.
pub fn rounded(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return "–".to_owned();
    }
    let text = fixed(value, decimals);
    let (whole, fraction) = text.split_once('.').unwrap_or((&text, ""));
    let (sign, digits) = whole.strip_prefix('-').map_or(("", whole), |digits| ("−", digits));
    let mut grouped = String::new();
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    let fraction = fraction.trim_end_matches('0');
    let nought = grouped == "0" && fraction.is_empty();
    let sign = if nought { "" } else { sign };
    if fraction.is_empty() { format!("{sign}{grouped}") } else { format!("{sign}{grouped}.{fraction}") }
}

/// What a field shows for editing: a plain number without separators.
pub fn editable(value: f64, quantity: Quantity, units: Units) -> String {
    number(value, quantity, units).replace(',', "").replace('−', "-")
}

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

fn parse_number(text: &str) -> Option<f64> {
    // A comma before exactly three digits sets off thousands; any other comma is a decimal comma.
    let plain = match text.rsplit_once(',') {
        Some((_, tail)) if tail.len() == 3 && !tail.contains('.') || text.contains('.') => {
            text.replace(',', "")
        }
        Some(_) => text.replace(',', "."),
        None => text.to_owned(),
    };
    decimal(&plain).filter(|value| value.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_read_well() {
        for (value, decimals, expected) in [
            (1210.0, 0, "1,210"),
            (0.0, 2, "0"),
            (-0.001, 2, "0"),
            (-2.5, 2, "−2.5"),
            (12.50, 2, "12.5"),
            (1_234_567.891, 1, "1,234,567.9"),
            (f64::NAN, 1, "–"),
        ] {
            assert_eq!(rounded(value, decimals), expected);
        }
    }

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
        assert_eq!(read("1,000", Quantity::Length, Units::Metric), Some(1000.0));
        assert_eq!(read("3,5", Quantity::Length, Units::Metric), Some(3.5));
    }
}
