//! Fruit by the thickness of a trunk or a limb: two tables a crew carries into the row.
//!
//! Trunks are measured just below the lowest fruiting branches, some 24 in above the ground, up to the fifth to seventh
//! leaf (Clements, UMass Extension 2017, Crop load guide for young apple trees). Limbs take about five flower buds on each
//! square centimetre of their own area (from memory; 6 for small-fruited annual cultivars, 4 to 5 for such as Fuji).

use super::per_cm2;
use uom::si::f64::{Area, ArealNumberDensity, Length};

/// Flower buds left on the area of a limb, usually `[1/cm²]` (from memory).
pub const BUDS_ON_LIMB_CM2: f64 = 5.0;

/// The area of a round section.
///
/// ```
/// use planting::{crop::gauge::section, inches};
/// // 1 in across: 5.1 cm².
/// assert!((section(inches(1.0)).value * 1e4 - 5.067).abs() < 0.001);
/// ```
pub fn section(diameter: Length) -> Area {
    std::f64::consts::FRAC_PI_4 * diameter * diameter
}

/// One line of a gauge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GaugeLine {
    /// Diameter.
    pub diameter: Length,
    /// The tape's reading round it.
    pub circumference: Length,
    /// Section.
    pub area: Area,
    /// Fruit, or flower buds, to leave: whole.
    pub leave: f64,
}

/// What to leave at each thickness.
///
/// ```
/// use planting::crop::{gauge::gauge, per_cm2};
/// use planting::inches;
/// // The printed row of a trunk 2 in across: 6.3 in round, 20.3 cm², 122 fruit of an annual cultivar.
/// let line = gauge(&[inches(2.0)], per_cm2(6.0))[0];
/// assert_eq!(line.leave, 122.0);
/// ```
pub fn gauge(diameters: &[Length], load: ArealNumberDensity) -> Vec<GaugeLine> {
    let line = |diameter: &Length| {
        let area = section(*diameter);
        GaugeLine {
            diameter: *diameter,
            circumference: std::f64::consts::PI * *diameter,
            area,
            leave: (area * load).value.round(),
        }
    };
    diameters.iter().map(line).collect()
}

/// Flower buds left on the area of a limb, usually.
pub fn usual_limb_load() -> ArealNumberDensity {
    per_cm2(BUDS_ON_LIMB_CM2)
}
