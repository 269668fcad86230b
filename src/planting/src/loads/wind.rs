//! Wind across the rows: pressure of a gust, drag of the crowns, load on a post.
//!
//! ```text
//!     top    ____     q   pressure of the gust, 0.00256 Kz Kzt Kd V² psf, V in mph
//!           |    |    Cd  drag of the crowns, on what they would hide if they were solid
//!     wind  |    |    f   q Cd (top − bottom), on a metre of row
//!     --->  |____|    P   f × bay, on one post
//!     bottom  ||      h   (top + bottom) ÷ 2, where P acts
//!     ________||____  M   P h, about the ground line
//! ```
//!
//! Equation and exposure constants are those of ASCE 7-05 to 7-16 (eq. 28.3-1 of 7-10), as seen in open-source codes. Drag is the loosest number here:
//! tall-spindle rows read back from "70 mph adds about 2 lb/ft²" (Hoying, Cornell) give 0.16, crowns of broadleaved trees at 20 m/s 0.15 to
//! 0.22 (Vollsinger et al. 2005, Can. J. For. Res. 35), of conifers to 0.47 (Rudnicki et al. 2004, ibid. 34), a stiff screen of half its area 0.68.

use super::measures::{LinearLoad, Moment};
use crate::kit::choice::choice;
use crate::kit::units::{MPH, PSF};
use uom::si::f64::{Force, Length, Pressure, Ratio, Velocity};
use uom::si::length::foot;
use uom::si::pressure::pascal;

choice! {
    /// How open the land is to the wind.
    Exposure {
        /// Towns, woods, broken ground.
        B = "b", "Sheltered: woods, buildings (B)";
        /// Open country with scattered obstacles.
        C = "c", "Open country (C)";
        /// Flat shores and plains without obstacles.
        D = "d", "Flat shore or plain (D)";
    }
}

impl Exposure {
    /// The power α and the gradient height zg `[ft]`.
    fn constants(self) -> (f64, f64) {
        match self {
            Exposure::B => (7.0, 1200.0),
            Exposure::C => (9.5, 900.0),
            Exposure::D => (11.5, 700.0),
        }
    }

    /// How much of a gust's pressure is felt at a height, `Kz = 2.01 (z ÷ zg)^(2/α)`, z no less than 15 ft `[–]`.
    ///
    /// ```
    /// use planting::{feet, loads::Exposure};
    /// assert!((Exposure::C.at(feet(30.0)) - 0.98).abs() < 0.005);
    /// ```
    pub fn at(self, height: Length) -> f64 {
        let (alpha, gradient) = self.constants();
        2.01 * (height.get::<foot>().max(LOWEST_FT).min(gradient) / gradient).powf(2.0 / alpha)
    }
}

/// Below this height the pressure is that at it `[ft]`.
const LOWEST_FT: f64 = 15.0;
/// Chance that the gust comes just across the rows when it is strongest, Kd (ASCE 7) `[–]`.
pub const DIRECTIONALITY: f64 = 0.85;
/// Pressure of a gust of one mile an hour `[psf]`.
const PSF_OF_MPH: f64 = 0.00256;

/// Pressure of a gust at a height on flat ground, `q = 0.00256 Kz Kzt Kd V²` with Kzt = 1 `[Pa]`.
///
/// ```
/// use planting::{feet, kit::units::{PSF, mph}, loads::{Exposure, gust_pressure}};
/// assert!((gust_pressure(mph(70.0), Exposure::C, feet(10.0)).value / PSF - 9.0511).abs() < 1e-4);
/// ```
pub fn gust_pressure(gust: Velocity, exposure: Exposure, height: Length) -> Pressure {
    let v = gust.value / MPH;
    Pressure::new::<pascal>(PSF_OF_MPH * exposure.at(height) * DIRECTIONALITY * v * v * PSF)
}

/// The part of the height of a row that wind meets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Silhouette {
    /// Lowest leaves above the ground `[m]`.
    pub bottom: Length,
    /// Highest leaves above the ground `[m]`.
    pub top: Length,
}

/// Wind on a row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wind {
    /// Pressure of the gust `[Pa]`.
    pub pressure: Pressure,
    /// On a metre of row `[N/m]`.
    pub on_row: LinearLoad,
    /// On one post `[N]`.
    pub on_post: Force,
    /// How high above the ground it acts `[m]`.
    pub arm: Length,
    /// Its moment about the ground line `[N·m]`.
    pub moment: Moment,
}

impl Wind {
    /// A gust on a row of crowns, and on posts that stand a bay apart and share it with those of as many sides.
    ///
    /// ```
    /// use planting::kit::units::{POUND_FORCE, mph};
    /// use planting::{feet, loads::{Exposure, Silhouette, Wind, gust_pressure}, share};
    /// let pressure = gust_pressure(mph(70.0), Exposure::C, feet(10.0));
    /// let crowns = Silhouette { bottom: feet(2.0), top: feet(10.0) };
    /// let wind = Wind::on(pressure, share(0.40), crowns, feet(30.0), 1.0);
    /// assert!((wind.on_post.value / POUND_FORCE - 868.91).abs() < 0.01);
    /// ```
    pub fn on(pressure: Pressure, drag: Ratio, crowns: Silhouette, bay: Length, sides: f64) -> Wind {
        let height = (crowns.top - crowns.bottom).max(Length::default());
        let on_row = pressure * drag * height;
        let on_post = on_row * bay / sides.max(1.0);
        let arm = (crowns.top + crowns.bottom) / 2.0;
        Wind { pressure, on_row, on_post, arm, moment: on_post * arm }
    }
}
