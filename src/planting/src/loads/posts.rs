//! Round wooden posts bent at the ground line.
//!
//! Stress is the moment over the section modulus, `σ = M ÷ S`, `S = π d³ ÷ 32`. It is set beside two strengths: the mean at which
//! poles of the species break, and what a code would allow in wind.

use super::measures::{Moment, StressVolume};
use crate::kit::choice::choice;
use crate::kit::units::psi;
use uom::si::f64::{Length, Pressure};

choice! {
    /// The wood of the posts.
    Species {
        /// Southern pine, coast Douglas-fir.
        SouthernPine = "southern_pine", "Southern pine or Douglas-fir";
        /// Lodgepole, jack or red pine.
        RedPine = "red_pine", "Lodgepole, jack or red pine";
        /// Western redcedar.
        WesternCedar = "western_cedar", "Western redcedar";
        /// Northern or eastern cedar.
        NorthernCedar = "northern_cedar", "Northern or eastern cedar";
    }
}

impl Species {
    /// Mean stress at the ground line at which poles of it break (ANSI O5.1 classes, whose meaning FPL-GTR-158 gives; numbers
    /// second-hand from a data file of utility poles; single poles vary by 20 %) `[Pa]`.
    ///
    /// ```
    /// use planting::{kit::units::psi, loads::Species};
    /// assert_eq!(Species::RedPine.mean_strength(), psi(6_600.0));
    /// ```
    pub fn mean_strength(self) -> Pressure {
        psi(match self {
            Species::SouthernPine => 8_000.0,
            Species::RedPine => 6_600.0,
            Species::WesternCedar => 6_000.0,
            Species::NorthernCedar => 4_000.0,
        })
    }
}

/// Stress a code would allow in wind, 1.6 times the 1,339 psi that the table of the American Wood Council (2001, Table 5.10) for western
/// redcedar stands on; taken for every species, because no others could be read `[psi]`.
const ALLOWED_PSI: f64 = 2_100.0;

/// Stress a code would allow in wind, whatever the species `[Pa]`.
///
/// ```
/// assert_eq!(planting::loads::allowed_stress(), planting::kit::units::psi(2_100.0));
/// ```
pub fn allowed_stress() -> Pressure {
    psi(ALLOWED_PSI)
}

/// Section modulus of a round post, `S = π d³ ÷ 32` `[m³]`.
///
/// ```
/// use planting::{inches, loads::section_modulus};
/// let cubic_inch = 0.0254_f64.powi(3);
/// assert!((section_modulus(inches(5.0)).value / cubic_inch - 12.272).abs() < 0.001);
/// ```
pub fn section_modulus(diameter: Length) -> StressVolume {
    diameter * diameter * diameter * (std::f64::consts::PI / 32.0)
}

/// Stress of a round post under a moment; none where it has no thickness `[Pa]`.
///
/// ```
/// use planting::kit::units::{PSI, pounds_force};
/// use planting::{feet, inches, loads::bending_stress};
/// let stress = bending_stress(pounds_force(868.91) * feet(6.0), inches(5.0)).unwrap();
/// assert_eq!((stress.value / PSI).round(), 5098.0);
/// ```
pub fn bending_stress(moment: Moment, diameter: Length) -> Option<Pressure> {
    (diameter.value > 0.0).then(|| moment / section_modulus(diameter))
}

/// The moment at which a round post is stressed so much `[N·m]`.
///
/// ```
/// use planting::kit::units::{POUND_FORCE, psi};
/// use planting::{inches, loads::moment_at};
/// assert_eq!((moment_at(psi(2_100.0), inches(5.0)).value / POUND_FORCE / 0.3048).round(), 2148.0);
/// ```
pub fn moment_at(stress: Pressure, diameter: Length) -> Moment {
    stress * section_modulus(diameter)
}
