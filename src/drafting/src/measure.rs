//! Numbers as a reader writes and reads them, in US customary or metric units.
//!
//! Values are SI inside; switching the units only changes the text, so 4 ft is 4 ft again after
//! switching twice. A number claims no more than is known of it:
//!
//! | a number | is written by | as |
//! |---|---|---|
//! | in a field | [`editable`] | it was given, below a hundred to the thousandth, so that it reads back the same |
//! | in a drawing or a sentence | [`write`] | the decimals of its unit allow: hundredths of a foot or metre |
//! | of a figure | [`write_figure`] | its certainty allows: five figures worked out from inputs, three modelled |
//! | of an order | [`write_order`] | rounded up to three figures, whole feet or tenths of a metre |

mod typed;

pub use typed::{one_way, read};

use planting::digits::fixed;
use planting::kit::units::{FAHRENHEIT, MPH, POUND, POUND_FORCE, PSF, PSI};
use planting::{Certainty, Quantity, Rounding, SQUARE_METRES_PER_ACRE, SQUARE_METRES_PER_HECTARE};

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

    /// Whose steps round numbers in these units lie on.
    pub fn rounding(self) -> Rounding {
        match self {
            Units::Us => Rounding::Us,
            Units::Metric => Rounding::Metric,
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
        (Quantity::TrunkArea, _) => make(1e-4, " cm²", 1),
        (Quantity::Volume, Units::Us) => make(FOOT * FOOT * FOOT, " cu ft", 1),
        (Quantity::Volume, Units::Metric) => make(1.0, " m³", 2),
        (Quantity::VolumePerLand, Units::Us) => {
            make(FOOT * FOOT * FOOT / SQUARE_METRES_PER_ACRE, " cu ft/acre", 0)
        }
        (Quantity::VolumePerLand, Units::Metric) => make(1.0 / SQUARE_METRES_PER_HECTARE, " m³/ha", 0),
        (Quantity::PerAcre, _) => make(1.0 / SQUARE_METRES_PER_ACRE, "/acre", 0),
        (Quantity::PerLand, Units::Us) => unit(Quantity::PerAcre, units),
        (Quantity::PerLand, Units::Metric) => unit(Quantity::PerHectare, units),
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
        (Quantity::Force, Units::Us) => make(POUND_FORCE, " lbf", 0),
        (Quantity::Force, Units::Metric) => make(1.0, " N", 0),
        (Quantity::Moment, Units::Us) => make(POUND_FORCE * FOOT, " ft-lb", 0),
        (Quantity::Moment, Units::Metric) => make(1.0, " N·m", 0),
        (Quantity::Stress, Units::Us) => make(PSI, " psi", 0),
        (Quantity::Stress, Units::Metric) => make(1e6, " MPa", 1),
        (Quantity::Pressure, Units::Us) => make(PSF, " psf", 1),
        (Quantity::Pressure, Units::Metric) => make(1e3, " kPa", 2),
        (Quantity::ForcePerLength, Units::Us) => make(POUND_FORCE / FOOT, " lbf/ft", 1),
        (Quantity::ForcePerLength, Units::Metric) => make(1.0, " N/m", 0),
        (Quantity::Mass, Units::Us) => make(POUND, " lb", 1),
        (Quantity::Mass, Units::Metric) => make(1.0, " kg", 1),
        (Quantity::MassPerLength, Units::Us) => make(POUND / FOOT, " lb/ft", 2),
        (Quantity::MassPerLength, Units::Metric) => make(1.0, " kg/m", 2),
        (Quantity::MassPerLand, Units::Us) => make(POUND / SQUARE_METRES_PER_ACRE, " lb/acre", 0),
        (Quantity::MassPerLand, Units::Metric) => make(1e3 / SQUARE_METRES_PER_HECTARE, " t/ha", 1),
        (Quantity::Speed, Units::Us) => make(MPH, " mph", 1),
        (Quantity::Speed, Units::Metric) => make(1.0, " m/s", 1),
        (Quantity::TemperatureChange, Units::Us) => make(FAHRENHEIT, " °F", 0),
        (Quantity::TemperatureChange, Units::Metric) => make(1.0, " °C", 0),
        (Quantity::Work, _) => make(1.0, " h", 1),
        (Quantity::Money, _) => make(1.0, " USD", 2),
        (Quantity::MoneyPerLand, Units::Us) => make(1.0 / SQUARE_METRES_PER_ACRE, " USD/acre", 0),
        (Quantity::MoneyPerLand, Units::Metric) => make(1.0 / SQUARE_METRES_PER_HECTARE, " USD/ha", 0),
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

/// The decimals a field may show: a thousandth of a foot, inch or metre is finer than anybody plants.
const GIVEN_DECIMALS: usize = 3;
/// From here on a field has no room for them, and nobody means them.
const GIVEN_BELOW: f64 = 100.0;
/// How far from so few decimals a number may lie and still be meant by them, as a share of its size: far above the error of a
/// change of units, far below what anybody types.
const GIVEN_WITHIN: f64 = 1e-10;

/// What a field shows for editing: a plain number without separators. One below a hundred that was given with up to three decimals
/// in this unit is written with all of them, so that it reads back the same; any other is rounded for reading.
///
/// ```
/// use drafting::measure::{Units, editable};
/// use planting::{Quantity, feet};
/// assert_eq!(editable(feet(13.375).value, Quantity::Length, Units::Us), "13.375");
/// assert_eq!(editable(feet(4.0).value, Quantity::Length, Units::Metric), "1.22");
/// ```
pub fn editable(value: f64, quantity: Quantity, units: Units) -> String {
    let unit = unit(quantity, units);
    let shown = value / unit.one;
    let is_given = shown.abs() < GIVEN_BELOW
        && (shown * 1000.0 - (shown * 1000.0).round()).abs() <= GIVEN_WITHIN * (shown * 1000.0).abs();
    let decimals = if is_given { GIVEN_DECIMALS } else { unit.decimals };
    rounded(shown, decimals).replace(',', "").replace('−', "-")
}

/// Figures written of what is worked out from inputs alone: a taped field is known to no more.
const MEASURED: i32 = 5;
/// Figures written of what a model, a fit or a trade rule gives, and of an order.
const MODELLED: i32 = 3;

/// The value of a figure with its unit, claiming no more than is known: a count is whole; what follows from the inputs alone has
/// five figures, what a model or a trade rule gives has three. A modelled length goes no finer than a tenth of a foot.
///
/// ```
/// use drafting::measure::{Units, write_figure};
/// use planting::{Certainty, Quantity, feet};
/// let length = |value, certainty| write_figure(feet(value).value, Quantity::Length, certainty, Units::Us);
/// assert_eq!(length(9.52, Certainty::Published), "9.5 ft");
/// assert_eq!(length(9.52, Certainty::Standard), "9.52 ft");
/// ```
pub fn write_figure(value: f64, quantity: Quantity, certainty: Certainty, units: Units) -> String {
    let Unit { name, .. } = unit(quantity, units);
    format!("{}{name}", figure_number(value, quantity, certainty, units))
}

/// The same without its unit.
pub fn figure_number(value: f64, quantity: Quantity, certainty: Certainty, units: Units) -> String {
    let Unit { one, decimals, .. } = unit(quantity, units);
    let shown = value / one;
    let is_modelled = certainty != Certainty::Standard;
    let finest = match (quantity, units) {
        (Quantity::Length, Units::Us) if is_modelled => 1,
        _ => decimals,
    };
    match quantity {
        Quantity::Count | Quantity::PerAcre | Quantity::PerHectare => rounded(shown, decimals),
        _ => rounded_to(shown, if is_modelled { MODELLED } else { MEASURED }, finest, f64::round),
    }
}

/// An amount to order with its unit, never less than is needed: a length is rounded up to three figures, and no finer than whole
/// feet or tenths of a metre; a count is whole.
///
/// ```
/// use drafting::measure::{Units, write_order};
/// use planting::{Quantity, feet};
/// let length = |value, units| write_order(feet(value).value, Quantity::Length, units);
/// assert_eq!(length(99_590.4, Units::Us), "99,600 ft");
/// assert_eq!(length(12.43, Units::Us), "13 ft");
/// assert_eq!(length(12.43, Units::Metric), "3.8 m");
/// ```
pub fn write_order(value: f64, quantity: Quantity, units: Units) -> String {
    format!("{}{}", order_number(value, quantity, units), unit(quantity, units).name)
}

/// The same without its unit.
pub fn order_number(value: f64, quantity: Quantity, units: Units) -> String {
    let Unit { one, decimals, .. } = unit(quantity, units);
    let shown = value / one;
    match (quantity, units) {
        (Quantity::Length, Units::Us) => rounded_to(shown, MODELLED, 0, up),
        (Quantity::Length, Units::Metric) => rounded_to(shown, MODELLED, 1, up),
        _ => rounded(shown, decimals),
    }
}

/// The whole number above, but for what a change of units adds in the last binary digits.
fn up(value: f64) -> f64 {
    (value - GIVEN_WITHIN * value.abs()).ceil()
}

/// A number with at most so many figures and so many decimals, noughts in place of the figures left out.
fn rounded_to(value: f64, figures: i32, decimals: usize, whole: fn(f64) -> f64) -> String {
    // The power of ten of the last figure kept.
    let mut last = -i32::try_from(decimals).unwrap_or_default();
    while value.is_finite() && value.abs() >= 10_f64.powi(figures + last) {
        last += 1;
    }
    // Noughts are multiplied in and decimals divided out, so that either is exact.
    let ten = 10_f64.powi(last.abs());
    let kept = if last > 0 { whole(value / ten) * ten } else { whole(value * ten) / ten };
    rounded(kept, decimals)
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
    fn figures_claim_no_more_than_is_known() {
        use Certainty::{Assumption, CommonPractice, Published, Standard};
        let (us, metric) = (Units::Us, Units::Metric);
        for (value, quantity, certainty, units, text) in [
            (9.52 * FOOT, Quantity::Length, Published, us, "9.5 ft"),
            (9.52 * FOOT, Quantity::Length, Assumption, metric, "2.9 m"),
            (3.25 * FOOT, Quantity::Length, Assumption, us, "3.3 ft"),
            (123.4 * FOOT, Quantity::Length, Published, us, "123 ft"),
            (7.25 * FOOT, Quantity::Length, Standard, us, "7.25 ft"),
            (79_360.4 * FOOT, Quantity::Length, Standard, us, "79,360 ft"),
            (123_456.0 * FOOT, Quantity::Length, Standard, us, "123,460 ft"),
            (24_188.93, Quantity::Length, Standard, metric, "24,189 m"),
            (99_590.4 * FOOT, Quantity::Length, CommonPractice, us, "99,600 ft"),
            (5200.0, Quantity::Count, Standard, us, "5,200"),
            (49_613.0, Quantity::Count, Published, us, "49,613"),
            (123_456.0, Quantity::Count, Assumption, us, "123,456"),
            (0.0, Quantity::Length, Published, us, "0 ft"),
            (f64::NAN, Quantity::Length, Published, us, "– ft"),
            (f64::INFINITY, Quantity::Length, Published, us, "– ft"),
            (0.876, Quantity::Share, Assumption, us, "88 %"),
            (1234.0 * FOOT * FOOT * FOOT, Quantity::Volume, Assumption, us, "1,230 cu ft"),
            (999.7, Quantity::Length, Published, metric, "1,000 m"),
        ] {
            assert_eq!(write_figure(value, quantity, certainty, units), text);
        }
    }

    #[test]
    fn an_order_is_never_less_than_the_need() {
        let (us, metric) = (Units::Us, Units::Metric);
        for (feet, units, text) in [
            (99_590.4, us, "99,600 ft"),
            (99_600.0, us, "99,600 ft"),
            (100_001.0, us, "101,000 ft"),
            (845.3, us, "846 ft"),
            (12.0, us, "12 ft"),
            (12.01, us, "13 ft"),
            (0.0, us, "0 ft"),
            (12.0, metric, "3.7 m"),
            (99_590.4, metric, "30,400 m"),
        ] {
            assert_eq!(write_order(feet * FOOT, Quantity::Length, units), text, "{feet} ft");
        }
        assert_eq!(write_order(5201.0, Quantity::Count, us), "5,201");
        for tenths in 1..30_000 {
            let need = f64::from(tenths) * 0.37;
            for units in [us, metric] {
                let text = order_number(need, Quantity::Length, units).replace(',', "");
                let ordered = read(&text, Quantity::Length, units).unwrap();
                assert!(ordered >= need * (1.0 - 1e-9), "{ordered} of {need}");
                let step = unit(Quantity::Length, units).one * if units == us { 1.0 } else { 0.1 };
                assert!(ordered <= (need * 1.01).max(need + step) + 1e-9, "{ordered} for {need}");
            }
        }
    }
}
