//! The sun of one date and hour: where it stands over the rows, how far shadows reach, how much ground
//! lies in shade.
//!
//! A top `h` metres up throws its shadow `h ÷ tan β` along the ground, `h · |sin(azimuth of sun − of row)|
//! ÷ tan β` of it across the row. Crowns are solid here, as shade on the ground looks; the light that
//! leaks through is the business of the season.

use super::directions::Directions;
use super::kernel::{RowPoint, at};
use super::scene::{Array, same_rows};
use super::sun::Sun;
use crate::kit::count::as_number;
use uom::si::angle::radian;
use uom::si::f64::Angle;

/// A density of leaves at which a tenth of a millimetre of crown lets next to nothing through `[1/m]`.
const SOLID: f64 = 1e5;
/// Below this the sun skims the field and all ground lies in shade, crowns or none `[sin β]`: half its
/// width, a quarter of a degree.
const ON_THE_HORIZON: f64 = 0.0044;
/// Strips of ground across a row, and points along each.
const GROUND: (usize, usize) = (128, 16);

/// The sun and its shadows at one date and hour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moment {
    /// Height of the sun above the horizon, below 0 at night `[rad]`.
    pub elevation: Angle,
    /// Its direction, clockwise from north `[rad]`.
    pub azimuth: Angle,
    /// The way to it: across the rows, along them, up; length 1.
    pub toward: [f64; 3],
    /// Its shadows, while it is up.
    pub shadow: Option<Shadow>,
}

/// Shadows, for each metre of height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shadow {
    /// Length on the ground `[m/m]`.
    pub length: f64,
    /// How far the tip lies across the row, in the sense of the rows' frame `[m/m]`.
    pub across: f64,
    /// How far the tip lies along the row `[m/m]`.
    pub along: f64,
    /// Share of the field in the shade of solid crowns `[–]`.
    pub shaded_ground: f64,
}

impl Moment {
    /// Of a latitude and a row azimuth in radians, a day of the year and an hour of solar time.
    ///
    /// ```
    /// use planting::light::{Array, Moment};
    /// let noon = |latitude: f64| Moment::at(latitude.to_radians(), 0.0, 172.0, 12.0, &Array::free_standing());
    /// assert!((noon(42.0).elevation.value.to_degrees() - 71.44).abs() < 0.01);
    /// assert!(noon(-80.0).shadow.is_none());
    /// ```
    pub fn at(latitude: f64, row_azimuth: f64, day: f64, hour: f64, array: &Array) -> Moment {
        let sun = Sun::at_solar_time(latitude, day, hour);
        let (row_azimuth, the_other_way) = same_rows(row_azimuth);
        let by_the_rows = sun.by_the_rows(row_azimuth);
        let turn = if the_other_way { -1.0 } else { 1.0 };
        let toward = [turn * by_the_rows[0], turn * by_the_rows[1], by_the_rows[2]];
        let [across, along, up] = toward;
        let shadow = (up > ON_THE_HORIZON).then(|| Shadow {
            length: across.hypot(along) / up,
            across: -across / up,
            along: -along / up,
            shaded_ground: shaded_ground(by_the_rows, array),
        });
        let radians = |value| Angle::new::<radian>(value);
        Moment { elevation: radians(sun.elevation()), azimuth: radians(sun.azimuth()), toward, shadow }
    }
}

/// Share of the field in the shade of solid crowns while the sun stands there `[–]`.
pub fn shaded_ground(toward: [f64; 3], array: &Array) -> f64 {
    let (strips, along) = GROUND;
    let ground: Vec<RowPoint> = (0..strips)
        .flat_map(|strip| {
            let middle = ((as_number(strip) + 0.5) / as_number(strips) - 0.5) * array.row_width;
            array.places_along(along, 0.5).map(move |place| [middle, place, 0.0])
        })
        .collect();
    let light = at(&ground, array, SOLID, &Directions::single(toward));
    1.0 - light.iter().sum::<f64>() / as_number(light.len())
}
