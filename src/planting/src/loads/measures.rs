//! Quantities of this room that have no name of their own in the library of units.

use std::ops::{Div, Mul};
use uom::si::f64::{Force, Length, Pressure, Volume};

/// A force on a metre `[N/m]`.
pub type LinearLoad = <Force as Div<Length>>::Output;
/// A force times the arm it turns on `[N·m]`.
pub type Moment = <Force as Mul<Length>>::Output;
/// How far something moves for a force `[m/N]`.
pub type Compliance = <Length as Div<Force>>::Output;
/// A weight in a space, or a pressure that grows with depth `[N/m³]`.
pub type UnitWeight = <Pressure as Div<Length>>::Output;
/// A section modulus `[m³]`.
pub type StressVolume = Volume;
