//! Stations on the map: metres east and north of a known corner as longitude and latitude.
//!
//! RFC 7946 knows WGS 84 and nothing else, and a block knows only its own corner; so the caller says where
//! that is. The metres are taken as distance and direction on the ellipsoid, by Puissant's short series
//! (Rapp 1991, Geometric Geodesy I, from memory):
//!
//! ```text
//!   δ  = n ÷ M                                       M, N: radii of curvature in the meridian and across
//!   Δφ = δ − e² tan φ ÷ (2 M N) − D δ²               it, at the latitude φ of the corner
//!   Δλ = e ÷ (N' cos φ')                             N', φ': at the latitude reached
//!   D  = 3 ε² sin φ cos φ ÷ (2 (1 − ε² sin² φ))      ε²: eccentricity of the ellipsoid, squared
//! ```
//!
//! Against geodesics on the ellipsoid (geographiclib 2.1) it is off by less than 0.2 mm over 2.8 km up to
//! latitude 45°, 1 mm at 70°, 16 mm at 85°. Coordinates are written to 8 decimals, 1.1 mm. How well the corner
//! and the row direction are known decides far more than that. Ground is taken as level, at sea level: for each
//! 100 m of height the field comes out 16 mm in a kilometre too long.

use super::stations::{each, kind, millimetres, side};
use planting::digits::fixed;
use planting::uom::si::angle::degree;
use planting::uom::si::f64::Angle;
use planting::{Message, Plan, Quantity};
use std::f64::consts::PI;
use std::fmt::Write;

/// Half the long axis of WGS 84 `[m]` (NGA.STND.0036, table 3.1).
const LONG_AXIS: f64 = 6_378_137.0;
/// Flattening of WGS 84 `[–]` (as above).
const FLATTENING: f64 = 1.0 / 298.257_223_563;
/// Square of its eccentricity `[–]`.
const ECCENTRICITY_2: f64 = FLATTENING * (2.0 - FLATTENING);
/// Nearer to a pole no field is drawn `[°]`.
const FURTHEST: f64 = 85.0;

/// A place on the earth, WGS 84.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GeoPoint {
    /// East of Greenwich above 0, -180° to 180° `[rad]`.
    pub longitude: Angle,
    /// North of the equator above 0, -85° to 85° `[rad]`.
    pub latitude: Angle,
}

impl GeoPoint {
    /// The place so many metres east and north of this one.
    ///
    /// ```
    /// use drafting::export::GeoPoint;
    /// use planting::{degrees, uom::si::angle::degree};
    /// let corner = GeoPoint { longitude: degrees(-77.0), latitude: degrees(45.0) };
    /// let there = corner.beside(1000.0, 1000.0);
    /// assert!((there.longitude.get::<degree>() + 76.987315197).abs() < 1e-9);
    /// assert!((there.latitude.get::<degree>() - 45.008997615).abs() < 1e-9);
    /// ```
    pub fn beside(self, east: f64, north: f64) -> GeoPoint {
        let latitude = self.latitude.value;
        let (sin, cos) = latitude.sin_cos();
        let (meridian, across, within) = radii(latitude);
        let first = north / meridian;
        let second = 1.5 * ECCENTRICITY_2 * sin * cos / within;
        let reached =
            latitude + first - east * east * sin / cos / (2.0 * meridian * across) - second * first * first;
        let longitude = self.longitude.value + east / (radii(reached).1 * reached.cos());
        // Beyond the date line degrees count from the other side.
        let turns = ((longitude / PI - 1.0) / 2.0).ceil();
        GeoPoint {
            longitude: Angle { value: longitude - 2.0 * PI * turns, ..self.longitude },
            latitude: Angle { value: reached, ..self.latitude },
        }
    }

    fn fault(self) -> Option<Message> {
        let says = |template, value: f64, most: f64| {
            let angle = |degrees: f64| (degrees * PI / 180.0, Quantity::Angle).into();
            let wrong = !value.is_finite() || value.abs() > most * PI / 180.0 + 1e-12;
            wrong.then(|| Message::new(template, [angle(-most), angle(most)]))
        };
        let longitude = "The longitude of the field\u{2019}s corner must be between {0} and {1}.";
        let latitude = "The latitude of the field\u{2019}s corner must be between {0} and {1}.";
        says(longitude, self.longitude.value, 180.0).or_else(|| says(latitude, self.latitude.value, FURTHEST))
    }
}

/// Radii of curvature in the meridian and across it `[m]`, and `1 − ε² sin² φ`.
fn radii(latitude: f64) -> (f64, f64, f64) {
    let within = 1.0 - ECCENTRICITY_2 * latitude.sin().powi(2);
    let across = LONG_AXIS / within.sqrt();
    (across * (1.0 - ECCENTRICITY_2) / within, across, within)
}

/// Every station of a plan as a GeoJSON FeatureCollection of points, given where the corner of the field lies:
/// the one on the left at the foot of the rows. Each says its kind, its row, its number in the row, its metres
/// across and along, and the side it leans to where there are two.
///
/// ```
/// use drafting::export::{GeoPoint, geojson};
/// let plan = planting::plan(&planting::Scenario::default()).unwrap();
/// assert!(geojson(&plan, None).is_err());
/// let corner = GeoPoint { longitude: planting::degrees(-77.0), latitude: planting::degrees(42.0) };
/// assert!(geojson(&plan, Some(corner)).unwrap().contains("\"coordinates\":[-76.99994482,42.00008644]"));
/// ```
///
/// # Errors
/// What is missing or out of range in the corner's place.
pub fn geojson(plan: &Plan, corner: Option<GeoPoint>) -> Result<String, Message> {
    let Some(corner) = corner else {
        return Err(Message::plain(
            "A map needs to know where the field lies: give the longitude and latitude of its corner.",
        ));
    };
    if let Some(fault) = corner.fault() {
        return Err(fault);
    }
    let mut out = String::from("{\"type\":\"FeatureCollection\",\"features\":[");
    let mut between = "";
    each(plan, &mut |station, number| {
        let (east, north) = station.at.to_map(plan.block.azimuth);
        let there = corner.beside(east, north);
        // Writing into a text never fails.
        let _ = write!(
            out,
            "{between}{{\"type\":\"Feature\",\"geometry\":{{\"type\":\"Point\",\"coordinates\":[{},{}]}},\"properties\":{{\"kind\":\"{}\",\"row\":{},\"number\":{number},\"across_m\":{},\"along_m\":{}{}}}}}",
            fixed(there.longitude.get::<degree>(), 8),
            fixed(there.latitude.get::<degree>(), 8),
            kind(station.kind).1,
            station.row,
            millimetres(station.at.across),
            millimetres(station.at.along),
            match side(station.leaning).1 {
                "" => String::new(),
                side => format!(",\"leans\":\"{side}\""),
            },
        );
        between = ",";
    });
    out.push_str("]}");
    Ok(out)
}
