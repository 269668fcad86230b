//! Trade units of force, weight, strength and weather in SI, exact by their definitions.
//!
//! ```
//! use planting::kit::units::{mph, pounds_force};
//! assert!((pounds_force(1.0).value - 4.4482216152605).abs() < 1e-15);
//! assert!((mph(70.0).value - 31.2928).abs() < 1e-12);
//! ```

use uom::si::acceleration::meter_per_second_squared;
use uom::si::areal_mass_density::kilogram_per_square_meter;
use uom::si::f64::{
    Acceleration, ArealMassDensity, Force, LinearMassDensity, Mass, MassDensity, Pressure,
    TemperatureInterval, Velocity,
};
use uom::si::force::newton;
use uom::si::linear_mass_density::kilogram_per_meter;
use uom::si::mass::kilogram;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;
use uom::si::temperature_interval::kelvin;
use uom::si::velocity::meter_per_second;

/// One foot `[m]`.
const FOOT: f64 = 0.3048;
/// One inch `[m]`.
const INCH: f64 = 0.0254;

/// One pound `[kg]`.
pub const POUND: f64 = 0.453_592_37;
/// Standard gravity, which turns a mass into its weight `[m/s²]`.
pub const GRAVITY: f64 = 9.806_65;
/// One pound-force, the weight of a pound `[N]`.
pub const POUND_FORCE: f64 = POUND * GRAVITY;
/// One pound-force on a square inch `[Pa]`.
pub const PSI: f64 = POUND_FORCE / (INCH * INCH);
/// One pound-force on a square foot `[Pa]`.
pub const PSF: f64 = POUND_FORCE / (FOOT * FOOT);
/// One mile an hour `[m/s]`.
pub const MPH: f64 = 5280.0 * FOOT / 3600.0;
/// A difference of one degree Fahrenheit `[K]`.
pub const FAHRENHEIT: f64 = 5.0 / 9.0;
/// One pound on an acre `[kg/m²]`.
pub const POUND_PER_ACRE: f64 = POUND / super::quantity::SQUARE_METRES_PER_ACRE;

/// Standard gravity as a quantity: a mass times it is a weight.
pub fn gravity() -> Acceleration {
    Acceleration::new::<meter_per_second_squared>(GRAVITY)
}

/// A force of so many pounds.
pub fn pounds_force(value: f64) -> Force {
    Force::new::<newton>(value * POUND_FORCE)
}

/// A mass of so many pounds.
pub fn pounds(value: f64) -> Mass {
    Mass::new::<kilogram>(value * POUND)
}

/// A stress of so many pounds-force on a square inch.
pub fn psi(value: f64) -> Pressure {
    Pressure::new::<pascal>(value * PSI)
}

/// A pressure of so many pounds-force on a square foot.
pub fn psf(value: f64) -> Pressure {
    Pressure::new::<pascal>(value * PSF)
}

/// A speed of so many miles an hour.
pub fn mph(value: f64) -> Velocity {
    Velocity::new::<meter_per_second>(value * MPH)
}

/// A difference of so many degrees Fahrenheit.
pub fn fahrenheit(value: f64) -> TemperatureInterval {
    TemperatureInterval::new::<kelvin>(value * FAHRENHEIT)
}

/// So many pounds on each acre.
///
/// ```
/// use planting::kit::units::pounds_per_acre;
/// // 63,000 lb an acre are 70.6 t a hectare.
/// assert!((pounds_per_acre(63_000.0).value * 10.0 - 70.61).abs() < 0.01);
/// ```
pub fn pounds_per_acre(value: f64) -> ArealMassDensity {
    ArealMassDensity::new::<kilogram_per_square_meter>(value * POUND_PER_ACRE)
}

/// So many pounds on each foot.
pub fn pounds_per_foot(value: f64) -> LinearMassDensity {
    LinearMassDensity::new::<kilogram_per_meter>(value * POUND / FOOT)
}

/// So many pounds in each cubic foot.
pub fn pounds_per_cubic_foot(value: f64) -> MassDensity {
    MassDensity::new::<kilogram_per_cubic_meter>(value * POUND / (FOOT * FOOT * FOOT))
}
