//! The light of a clear beam by air mass, and how diffuse light is spread over the sky.
//!
//! The beam is that of a clear sky, `I = I₀ τ^m` (Liu & Jordan's form, from memory), with the air mass
//! of Kasten & Young 1989; only its course over the day and the season matters here, because the share
//! of light that is diffuse is set outright. The diffuse sky is even (isotropic) or the standard
//! overcast sky of the International Commission on Illumination, brightness ∝ (1 + 2 sin β) ÷ 3.
//! Left out: clouds that favour a time of day, haze round the sun, hills.

use crate::kit::choice::choice;

choice! {
    /// How the diffuse light is spread over the sky.
    Sky {
        /// As bright everywhere.
        Even = "even", "Evenly bright";
        /// Three times as bright overhead as at the horizon.
        Overcast = "overcast", "Standard overcast";
    }
}

/// Light outside the air `[W/m²]`; as a common factor it falls out.
const SOLAR_CONSTANT: f64 = 1361.0;
/// Share of the beam that one air mass lets through under a clear sky (Campbell & Norman 1998, from memory).
const CLEAR_TRANSMITTANCE: f64 = 0.70;

/// Air the beam goes through, 1 overhead `[–]`; Kasten & Young 1989, zenith angle in degrees:
/// `m = 1 ÷ (cos z + 0.50572 (96.07995 − z)^−1.6364)`.
pub fn air_mass(zenith: f64) -> f64 {
    let degrees = zenith.to_degrees().min(90.0);
    1.0 / (zenith.cos().max(0.0) + 0.505_72 * (96.079_95 - degrees).powf(-1.6364))
}

/// Clear-sky beam on a surface facing the sun `[W/m²]`.
pub fn clear_beam(zenith: f64) -> f64 {
    SOLAR_CONSTANT * CLEAR_TRANSMITTANCE.powf(air_mass(zenith))
}

impl Sky {
    /// Share of the sky's light on level ground that comes from below an elevation, by its sine:
    /// `sin² b` evenly bright, `(3 sin² b + 4 sin³ b) ÷ 7` standard overcast.
    pub fn from_below(self, sine: f64) -> f64 {
        match self {
            Sky::Even => sine * sine,
            Sky::Overcast => sine * sine * (3.0 + 4.0 * sine) / 7.0,
        }
    }

    /// The sine of the elevation below which that share comes in.
    pub(super) fn sine_below(self, share: f64) -> f64 {
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..48 {
            let middle = (low + high) / 2.0;
            if self.from_below(middle) < share { low = middle } else { high = middle }
        }
        high
    }
}
