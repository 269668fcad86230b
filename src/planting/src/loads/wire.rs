//! Trellis wire: how thick a gauge is, how strong a grade, what a metre weighs and how it stretches.
//!
//! Gauges are those of the steel wire (Washburn & Moen) series, not of AWG nor of the British standard. Strength of the
//! steel times its section is the load a wire breaks at; zinc adds nothing.

use super::measures::{Compliance, LinearLoad};
use crate::kit::choice::choice;
use crate::kit::quantity::inches;
use crate::kit::units::{gravity, pounds_per_cubic_foot, psi};
use uom::si::f64::{Area, Force, Length, LinearMassDensity, MassDensity, Pressure};

choice! {
    /// Thickness of the wire.
    Gauge {
        /// 0.162 in.
        No8 = "8", "8 gauge, 0.162 in";
        /// 0.1483 in.
        No9 = "9", "9 gauge, 0.148 in";
        /// 0.135 in.
        No10 = "10", "10 gauge, 0.135 in";
        /// 0.1205 in.
        No11 = "11", "11 gauge, 0.121 in";
        /// 0.1055 in.
        No12 = "12", "12 gauge, 0.106 in";
        /// 0.099 in, the usual trellis wire.
        No12Half = "12_5", "12½ gauge, 0.099 in";
        /// 0.0915 in.
        No13 = "13", "13 gauge, 0.092 in";
        /// 0.08 in.
        No14 = "14", "14 gauge, 0.080 in";
        /// 0.067 in.
        No15Half = "15_5", "15½ gauge, 0.067 in";
        /// 0.0625 in.
        No16 = "16", "16 gauge, 0.063 in";
    }
}

impl Gauge {
    /// Thickness of the wire `[m]`: Bailey 1893, *American Grape Training*, and ASTM A854 for 12½; 8, 9, 11 and
    /// those from 13 on to the fourth digit from memory.
    ///
    /// ```
    /// use planting::{inches, loads::Gauge};
    /// assert_eq!(Gauge::No12Half.diameter(), inches(0.099));
    /// ```
    pub fn diameter(self) -> Length {
        inches(match self {
            Gauge::No8 => 0.162,
            Gauge::No9 => 0.1483,
            Gauge::No10 => 0.135,
            Gauge::No11 => 0.1205,
            Gauge::No12 => 0.1055,
            Gauge::No12Half => 0.099,
            Gauge::No13 => 0.0915,
            Gauge::No14 => 0.08,
            Gauge::No15Half => 0.067,
            Gauge::No16 => 0.0625,
        })
    }
}

choice! {
    /// Strength of the steel.
    Grade {
        /// 75,000 psi.
        LowCarbon = "low_carbon", "Low-carbon, 75,000 psi";
        /// 140,000 psi.
        Ksi140 = "140", "High-tensile, 140,000 psi";
        /// 170,000 psi.
        Ksi170 = "170", "High-tensile, 170,000 psi";
        /// 180,000 psi.
        Ksi180 = "180", "High-tensile, 180,000 psi";
        /// 200,000 psi.
        Ksi200 = "200", "High-tensile, 200,000 psi";
    }
}

impl Grade {
    /// Least tensile strength `[Pa]`: ASTM A854 for 140, 180 and 200; NRCS Georgia 2006 asks for 170.
    ///
    /// ```
    /// use planting::{kit::units::psi, loads::Grade};
    /// assert_eq!(Grade::Ksi170.strength(), psi(170_000.0));
    /// ```
    pub fn strength(self) -> Pressure {
        psi(match self {
            Grade::LowCarbon => 75_000.0,
            Grade::Ksi140 => 140_000.0,
            Grade::Ksi170 => 170_000.0,
            Grade::Ksi180 => 180_000.0,
            Grade::Ksi200 => 200_000.0,
        })
    }
}

/// Young's modulus of steel, 29,000,000 psi (from memory) `[psi]`.
const MODULUS_PSI: f64 = 29e6;
/// Growth of steel by warmth, 6.5 millionths a degree Fahrenheit (from memory) `[1/K]`.
pub(super) const EXPANSION: f64 = 6.5e-6 * 9.0 / 5.0;
/// Weight of steel, 0.2836 lb a cubic inch (from memory) `[lb/ft³]`.
const STEEL_PCF: f64 = 0.2836 * 1728.0;
/// Weight of the ice that forms on wires, 57 lb a cubic foot (California GO 95, rule 43.1) `[lb/ft³]`.
const ICE_PCF: f64 = 57.0;

/// A wire of steel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wire {
    /// Its thickness.
    pub gauge: Gauge,
    /// Its steel.
    pub grade: Grade,
}

fn disc(diameter: Length) -> Area {
    diameter * diameter * (std::f64::consts::PI / 4.0)
}

impl Wire {
    /// Section of the steel, `A = π d² ÷ 4` `[m²]`.
    pub fn section(self) -> Area {
        disc(self.gauge.diameter())
    }

    /// The load it breaks at, `σ × A` `[N]`.
    ///
    /// ```
    /// use planting::{kit::units::POUND_FORCE, loads::{Gauge, Grade, Wire}};
    /// let wire = Wire { gauge: Gauge::No12Half, grade: Grade::Ksi170 };
    /// assert_eq!((wire.breaking_load().value / POUND_FORCE).round(), 1309.0);
    /// ```
    pub fn breaking_load(self) -> Force {
        self.grade.strength() * self.section()
    }

    /// Force that would stretch it to twice its length if it stayed elastic, `E × A` `[N]`.
    ///
    /// ```
    /// use planting::{kit::units::POUND_FORCE, loads::{Gauge, Grade, Wire}};
    /// let wire = Wire { gauge: Gauge::No12Half, grade: Grade::Ksi170 };
    /// assert_eq!((wire.stiffness().value / POUND_FORCE).round(), 223_233.0);
    /// ```
    pub fn stiffness(self) -> Force {
        psi(MODULUS_PSI) * self.section()
    }

    /// Mass of a metre of bare wire `[kg/m]`.
    pub fn mass(self) -> LinearMassDensity {
        steel() * self.section()
    }

    /// Weight of a metre of it, with ice of a thickness all round `[N/m]`.
    ///
    /// `w = ρ A + 57 lb/ft³ × π ((d + 2t)² − d²) ÷ 4`
    ///
    /// ```
    /// use planting::{inches, kit::units::POUND_FORCE, loads::{Gauge, Grade, Wire}};
    /// let wire = Wire { gauge: Gauge::No12Half, grade: Grade::Ksi170 };
    /// let pounds_a_foot = wire.weight(inches(0.5)).value / POUND_FORCE * 0.3048;
    /// assert!((pounds_a_foot - 0.3986).abs() < 1e-4);
    /// ```
    pub fn weight(self, ice: Length) -> LinearLoad {
        let bare = self.gauge.diameter();
        let iced = bare + ice * 2.0;
        let mass = self.mass() + pounds_per_cubic_foot(ICE_PCF) * (disc(iced) - disc(bare));
        mass * gravity()
    }

    /// What a pull adds to a length of it, `T L ÷ E A` `[m]`.
    ///
    /// ```
    /// use planting::{feet, kit::units::pounds_force, loads::{Gauge, Grade, Wire}};
    /// let wire = Wire { gauge: Gauge::No12Half, grade: Grade::Ksi170 };
    /// let stretch = wire.stretch(pounds_force(250.0), feet(200.0)).value / 0.0254;
    /// assert!((stretch - 2.69).abs() < 0.005);
    /// ```
    pub fn stretch(self, pull: Force, length: Length) -> Length {
        length * (pull / self.stiffness())
    }

    /// Stiffness of a wire whose ends yield: `1 ÷ (1/EA + c/L)`, c how far both ends together move for each newton, L the
    /// length of the row. With ends that don't yield it is the wire's own `[N]`.
    pub fn stiffness_between(self, ends: Compliance, row: Length) -> Force {
        let own = self.stiffness();
        let given = own * ends / row;
        if given.value.is_finite() && given.value > 0.0 { own / (given.value + 1.0) } else { own }
    }
}

fn steel() -> MassDensity {
    pounds_per_cubic_foot(STEEL_PCF)
}

/// The tension that a board shows: two nails hold the wire, and a scale draws it off line midway between them,
/// `T = F s ÷ 4 δ`, s from nail to nail, δ off line (Iowa vineyard newsletter 2014: 40 in and ½ in, twenty times the scale) `[N]`.
///
/// ```
/// use planting::{inches, kit::units::pounds_force, loads::tension_of_gauge};
/// let tension = tension_of_gauge(pounds_force(10.0), inches(40.0), inches(0.5));
/// assert!(((tension / pounds_force(200.0)).value - 1.0).abs() < 1e-12);
/// ```
pub fn tension_of_gauge(scale: Force, between: Length, offset: Length) -> Force {
    scale * between / (offset * 4.0)
}

/// What the scale of such a board must show for a tension `[N]`.
///
/// ```
/// use planting::{inches, kit::units::pounds_force, loads::gauge_reading};
/// let scale = gauge_reading(pounds_force(250.0), inches(40.0), inches(0.5));
/// assert!(((scale / pounds_force(12.5)).value - 1.0).abs() < 1e-12);
/// ```
pub fn gauge_reading(tension: Force, between: Length, offset: Length) -> Force {
    tension * (offset * 4.0 / between)
}
