//! What kind of number a value is, and the few trade units the model itself speaks.
//!
//! Values are SI inside. `Quantity` tells whoever shows a value which units to offer a reader;
//! turning numbers into text is the drawing room's business, not this crate's.

use uom::si::angle::degree;
use uom::si::f64::{Angle, Length, Ratio};
use uom::si::length::{foot, inch};
use uom::si::ratio::ratio;

/// Square metres in an international acre, 43,560 square feet of 0.3048 m exactly.
pub const SQUARE_METRES_PER_ACRE: f64 = 43_560.0 * 0.3048 * 0.3048;
/// Square metres in a hectare.
pub const SQUARE_METRES_PER_HECTARE: f64 = 10_000.0;

/// The kind of a number, always held in the SI unit named in brackets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// A length at the scale of trees and rows `[m]`; feet or metres on screen.
    Length,
    /// A length at the scale of posts and trunks `[m]`; inches or centimetres on screen.
    SmallLength,
    /// Land `[m²]`; acres or hectares on screen.
    Land,
    /// Trunk cross-section `[m²]`; square centimetres in either system, as the trade writes it.
    TrunkArea,
    /// A crown `[m³]`; cubic feet or cubic metres on screen.
    Volume,
    /// Crown volume on a stretch of land `[m³/m²]`; cubic feet per acre or cubic metres per hectare.
    VolumePerLand,
    /// Trees or posts on land `[1/m²]`, said per acre whatever the reader's units.
    PerAcre,
    /// Trees or posts on land `[1/m²]`, said per hectare whatever the reader's units.
    PerHectare,
    /// Trees or posts on land `[1/m²]`, said per acre or per hectare as the reader counts land.
    PerLand,
    /// Row or wire on land `[m/m²]`; feet per acre or metres per hectare.
    LengthPerLand,
    /// A share from 0 to 1 `[–]`; a percentage on screen.
    Share,
    /// A plain ratio `[–]`.
    Ratio,
    /// A number of things `[–]`.
    Count,
    /// Years since planting `[years]`.
    Years,
    /// An angle `[rad]`; degrees on screen.
    Angle,
    /// Leaf area in crown volume `[1/m]`; square feet in a cubic foot or square metres in a cubic metre.
    LeafAreaDensity,
    /// An hour of the day `[hours]`.
    Hours,
    /// A force `[N]`; pounds-force or newtons on screen.
    Force,
    /// The moment of a force `[N·m]`; foot-pounds or newton metres on screen.
    Moment,
    /// The stress in a material `[Pa]`; pounds a square inch or megapascals on screen.
    Stress,
    /// The pressure of wind or soil `[Pa]`; pounds a square foot or kilopascals on screen.
    Pressure,
    /// A force spread along a row or a wire `[N/m]`; pounds-force a foot or newtons a metre on screen.
    ForcePerLength,
    /// A mass `[kg]`; pounds or kilograms on screen.
    Mass,
    /// A mass along a row or a wire `[kg/m]`; pounds a foot or kilograms a metre on screen.
    MassPerLength,
    /// A mass on land, such as a crop `[kg/m²]`; pounds an acre or tonnes a hectare on screen.
    MassPerLand,
    /// The speed of wind `[m/s]`; miles an hour or metres a second on screen.
    Speed,
    /// A difference of temperatures `[K]`; degrees Fahrenheit or Celsius on screen.
    TemperatureChange,
    /// Hours of work `[hours]`.
    Work,
    /// Money `[US dollars]`.
    Money,
    /// Money on land `[US dollars/m²]`, said per acre or per hectare as the reader counts land.
    MoneyPerLand,
}

/// `feet(3.0)` is 3 ft exactly, as a length.
///
/// ```
/// assert!((planting::feet(3.0).value - 0.9144).abs() < 1e-15);
/// ```
pub fn feet(value: f64) -> Length {
    Length::new::<foot>(value)
}

/// `inches(4.0)` is 4 in exactly, as a length.
///
/// ```
/// assert!((planting::inches(4.0).value - 0.1016).abs() < 1e-15);
/// ```
pub fn inches(value: f64) -> Length {
    Length::new::<inch>(value)
}

/// An angle of so many degrees.
///
/// ```
/// assert!((planting::degrees(180.0).value - std::f64::consts::PI).abs() < 1e-15);
/// ```
pub fn degrees(value: f64) -> Angle {
    Angle::new::<degree>(value)
}

/// A dimensionless ratio.
pub fn share(value: f64) -> Ratio {
    Ratio::new::<ratio>(value)
}
