//! Units of loads, both ways: exact definitions, and what a reader of either system sees and types.

use crate::fixture::{FT, assert_near};
use drafting::measure::{Units, number, read, unit, write_figure};
use planting::kit::units::{
    FAHRENHEIT, GRAVITY, MPH, POUND, POUND_FORCE, POUND_PER_ACRE, PSF, PSI, fahrenheit, gravity, mph, pounds,
    pounds_force, pounds_per_acre, pounds_per_cubic_foot, pounds_per_foot, psf, psi,
};
use planting::{Certainty, Quantity};

/// Four digits of each as tables of units print them; the definitions behind them are exact.
#[test]
fn trade_units_are_what_they_are() {
    for (what, found, printed) in [
        ("lbf", POUND_FORCE, 4.448),
        ("psf", PSF, 47.88),
        ("psi", PSI, 6_895.0),
        ("ft-lb", POUND_FORCE * FT, 1.356),
        ("lb/ft", pounds_per_foot(1.0).value, 1.488),
        ("lb/ft³", pounds_per_cubic_foot(1.0).value, 16.02),
        ("mph", MPH, 0.4470),
        ("lb/acre", POUND_PER_ACRE * 10_000.0, 1.121),
        ("°F", FAHRENHEIT, 0.5556),
    ] {
        assert_near(found, printed, 2e-4, what);
    }
    assert_near(POUND_FORCE, 4.448_221_615_260_5, 1e-15, "a pound's weight");
    for (found, expected) in [
        (pounds_force(2.0).value, 2.0 * POUND_FORCE),
        (pounds(2.0).value, 2.0 * POUND),
        (psi(2.0).value, 2.0 * PSI),
        (psf(288.0).value, 2.0 * PSI),
        (mph(60.0).value, 60.0 * MPH),
        (fahrenheit(9.0).value, 5.0),
        (pounds_per_acre(3.0).value, 3.0 * POUND_PER_ACRE),
        ((pounds(1.0) * gravity()).value, POUND * GRAVITY),
    ] {
        assert_near(found, expected, 1e-14, expected);
    }
}

/// What is shown reads back to the last digit shown, in either system, and one system's number is the other's.
#[test]
fn shown_numbers_read_back() {
    for quantity in [
        Quantity::Force,
        Quantity::Moment,
        Quantity::Stress,
        Quantity::Pressure,
        Quantity::ForcePerLength,
        Quantity::Mass,
        Quantity::MassPerLength,
        Quantity::MassPerLand,
        Quantity::Speed,
        Quantity::TemperatureChange,
        Quantity::Work,
        Quantity::Money,
        Quantity::MoneyPerLand,
    ] {
        for units in [Units::Us, Units::Metric] {
            let of = unit(quantity, units);
            for value in [0.0, 1.0, 12.0, 250.0, 63_000.0] {
                let shown = number(value * of.one, quantity, units);
                let back = read(&shown, quantity, units).unwrap_or(f64::NAN);
                assert_near(back + of.one, (value + 1.0) * of.one, 1e-12, (quantity, units, shown));
            }
        }
    }
}

#[test]
fn loads_are_written_as_the_trade_does() {
    for (value, quantity, us, metric) in [
        (pounds_force(643.03).value, Quantity::Force, "643 lbf", "2,860 N"),
        (pounds_force(1.0).value * FT * 5_213.5, Quantity::Moment, "5,210 ft-lb", "7,070 N·m"),
        (psi(5_098.0).value, Quantity::Stress, "5,100 psi", "35.1 MPa"),
        (psf(9.0511).value, Quantity::Pressure, "9.1 psf", "0.43 kPa"),
        (pounds_per_acre(63_000.0).value, Quantity::MassPerLand, "63,000 lb/acre", "70.6 t/ha"),
        (mph(70.0).value, Quantity::Speed, "70 mph", "31.3 m/s"),
        (fahrenheit(60.0).value, Quantity::TemperatureChange, "60 °F", "33 °C"),
        (pounds_per_foot(17.355).value, Quantity::MassPerLength, "17.4 lb/ft", "25.8 kg/m"),
    ] {
        for (units, text) in [(Units::Us, us), (Units::Metric, metric)] {
            assert_eq!(write_figure(value, quantity, Certainty::Assumption, units), text);
        }
    }
}
