//! The soil that holds posts and anchors.
//!
//! ```text
//!     P ->|        P  push at height h above the ground
//!         |        d  depth in the ground
//!     h   |        b  thickness of the post
//!     ____|____
//!         |        by code: a post held by nothing but the soil may move half an inch at the ground line
//!     d   |        at collapse: the soil gives way along the whole depth, the post turns over unbroken
//! ```
//!
//! Standing rows exceed the code several times over: roots and stems share the load, rows inside are sheltered, crowns bend with the
//! wind, and soil gives way at several times what a code allows. Both numbers are therefore an index to compare plans by.

use super::measures::UnitWeight;
use super::roots;
use crate::kit::choice::choice;
use crate::kit::quantity::{degrees, feet};
use crate::kit::units::psf;
use uom::si::f64::{Angle, Force, Length, Pressure};
use uom::si::force::newton;
use uom::si::length::meter;

choice! {
    /// The soil at the posts, as it is when wind and crop are at their worst.
    Soil {
        /// Shear strength 500 psf.
        SoftClay = "soft_clay", "Soft or wet clay";
        /// Shear strength 1,000 psf.
        MediumClay = "medium_clay", "Medium clay";
        /// Shear strength 2,000 psf.
        StiffClay = "stiff_clay", "Stiff, dry clay";
        /// Under water, or loose.
        WetSand = "wet_sand", "Loose or waterlogged sand";
        /// Friction 30°, 110 lb a cubic foot.
        Sand = "sand", "Sand, silty sand";
        /// Friction 35°, 115 lb a cubic foot.
        Gravel = "gravel", "Sandy gravel";
    }
}

/// What makes a soil strong.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Strength {
    /// It sticks together.
    Clay {
        /// Shear strength without drainage, Su `[Pa]`.
        shear: Pressure,
    },
    /// Its grains rub.
    Sand {
        /// Angle of friction, φ `[rad]`.
        friction: Angle,
        /// Weight in the ground, γ′ where it stands in water `[N/m³]`.
        weight: UnitWeight,
        /// Factor of a plate's pull against the soil's weight on it, Nq `[–]`.
        uplift: f64,
    },
}

impl Soil {
    /// Its strength. Shear strengths of clay and Nq are from memory; weights and friction are this project's bands.
    pub fn strength(self) -> Strength {
        let clay = |shear| Strength::Clay { shear: psf(shear) };
        let sand = |friction, pcf: f64, uplift| Strength::Sand {
            friction: degrees(friction),
            weight: psf(pcf) / feet(1.0),
            uplift,
        };
        match self {
            Soil::SoftClay => clay(500.0),
            Soil::MediumClay => clay(1000.0),
            Soil::StiffClay => clay(2000.0),
            Soil::WetSand => sand(30.0, 48.0, 20.0),
            Soil::Sand => sand(30.0, 110.0, 20.0),
            Soil::Gravel => sand(35.0, 115.0, 30.0),
        }
    }

    /// Side pressure that the International Building Code lets a foot of depth bear, table 1806.2 (100, 150 and 200 psf a foot for
    /// clay, sand and sandy gravel) `[Pa/m]`.
    pub fn lateral_bearing(self) -> UnitWeight {
        let psf_per_foot = match self {
            Soil::SoftClay | Soil::MediumClay | Soil::StiffClay => 100.0,
            Soil::WetSand | Soil::Sand => 150.0,
            Soil::Gravel => 200.0,
        };
        psf(psf_per_foot) / feet(1.0)
    }
}

/// A post in the ground and the height at which it is pushed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Embedment {
    /// The soil.
    pub soil: Soil,
    /// Thickness of the post, b `[m]`.
    pub diameter: Length,
    /// Depth in the ground, d `[m]`.
    pub depth: Length,
    /// Height of the push above the ground, h `[m]`.
    pub height: Length,
}

/// Twice the table's bearing, for posts that may move half an inch at the ground line (IBC 1806.3.4) `[–]`.
const ISOLATED: f64 = 2.0;
/// Bearing grows no further below this depth (IBC 1807.3.2.1) `[ft]`.
const DEEPEST_BEARING_FT: f64 = 12.0;
/// Numbers of the code's equation.
const CODE_FACTOR: f64 = 2.34;
/// 4.36 ÷ 4.
const CODE_ARM: f64 = 1.09;

impl Embedment {
    /// Bearing on the sides at a third of a depth, S₁ of the code `[Pa]`.
    fn code_bearing(&self, depth: Length) -> Pressure {
        let felt = if depth < feet(DEEPEST_BEARING_FT) { depth } else { feet(DEEPEST_BEARING_FT) };
        self.soil.lateral_bearing() * felt * (ISOLATED / 3.0)
    }

    /// The push the building code allows, International Building Code eq. 18-1 solved for the load `[N]`:
    /// `d = ½ A (1 + √(1 + 4.36 h ÷ A))`, `A = 2.34 P ÷ (S₁ b)`, hence `P = d² ÷ (d + 1.09 h) × S₁ b ÷ 2.34`.
    ///
    /// ```
    /// use planting::{feet, inches, kit::units::POUND_FORCE, loads::{Embedment, Soil}};
    /// let post = Embedment { soil: Soil::Sand, diameter: inches(5.0), depth: feet(3.0), height: feet(6.0) };
    /// assert!((post.code_load().value / POUND_FORCE - 50.4).abs() < 0.05);
    /// ```
    pub fn code_load(&self) -> Force {
        if self.depth.value <= 0.0 {
            return Force::new::<newton>(0.0);
        }
        let area_length = self.depth * self.depth / (self.depth + self.height * CODE_ARM);
        self.code_bearing(self.depth) * self.diameter * area_length / CODE_FACTOR
    }

    /// The depth the building code asks for under a push: eq. 18-1 solved for the depth. None where nothing would hold it, or nothing
    /// pushes `[m]`.
    ///
    /// Down to 12 ft, where bearing grows with depth, it is the root of `d³ = c (d + 1.09 h)`, `c = 3 × 2.34 P ÷ (k S b)`; below, of
    /// `d² = A (d + 1.09 h)`.
    ///
    /// ```
    /// use planting::kit::units::pounds_force;
    /// use planting::{feet, inches, loads::{Embedment, Soil}};
    /// let post = Embedment { soil: Soil::Sand, diameter: inches(5.0), depth: feet(3.0), height: feet(6.0) };
    /// assert!((post.code_depth(pounds_force(868.91)).unwrap().value / 0.3048 - 9.15).abs() < 0.005);
    /// ```
    pub fn code_depth(&self, push: Force) -> Option<Length> {
        let (arm, wide) = (self.height.value * CODE_ARM, self.diameter.value);
        let deepest = feet(DEEPEST_BEARING_FT);
        let each_metre = self.soil.lateral_bearing().value * (ISOLATED / 3.0) * wide / CODE_FACTOR;
        let c = push.value / each_metre;
        let shallow = roots::of_line_and_cube(c, c * arm)?;
        if shallow <= deepest.value {
            return Some(Length::new::<meter>(shallow));
        }
        let a = push.value / (self.code_bearing(deepest).value * wide / CODE_FACTOR);
        Some(Length::new::<meter>(0.5 * a * (1.0 + (1.0 + 4.0 * arm / a).sqrt())))
    }

    /// The push at which the soil gives way (Broms 1964, short post with a free head) `[N]`.
    ///
    /// Clay presses back with `9 Su b` on each metre below 1.5 b: `f = P ÷ (9 Su b)`, `P (h + 1.5 b + ½ f) = 2.25 b Su g²`, `g = d − 1.5 b − f`.
    /// Sand: `P = ½ γ b d³ Kp ÷ (h + d)`, `Kp = tan²(45° + φ ÷ 2)`. The balance for clay and the form for sand are from memory.
    ///
    /// ```
    /// use planting::{feet, inches, kit::units::POUND_FORCE, loads::{Embedment, Soil}};
    /// let post = Embedment { soil: Soil::MediumClay, diameter: inches(5.0), depth: feet(3.0), height: feet(6.0) };
    /// assert!((post.collapse_load().value / POUND_FORCE - 673.0).abs() < 0.5);
    /// ```
    pub fn collapse_load(&self) -> Force {
        let (d, h, b) = (self.depth.value, self.height.value, self.diameter.value);
        let push = match self.soil.strength() {
            Strength::Clay { shear } => collapse_in_clay(shear.value, d, h, b),
            Strength::Sand { friction, weight, .. } => {
                let passive = (std::f64::consts::FRAC_PI_4 + friction.value / 2.0).tan().powi(2);
                if d > 0.0 { 0.5 * weight.value * b * d * d * d * passive / (h + d) } else { 0.0 }
            }
        };
        Force::new::<newton>(push)
    }
}

/// `9 Su b f`, f the positive root of `¼ f² + (e + ½ g₀) f = ¼ g₀²`, with `e = h + 1.5 b` and `g₀ = d − 1.5 b`.
fn collapse_in_clay(shear: f64, depth: f64, height: f64, diameter: f64) -> f64 {
    let (arm, below) = (height + 1.5 * diameter, depth - 1.5 * diameter);
    if below <= 0.0 {
        return 0.0;
    }
    let middle = arm + below / 2.0;
    let f = 2.0 * ((middle * middle + below * below / 4.0).sqrt() - middle);
    9.0 * shear * diameter * f
}
