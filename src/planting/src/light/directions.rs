//! A season's light as a set of directions: beams of the sun by month and hour, and the sky.

use super::scene::Site;
use super::sky::{Sky, clear_beam};
use super::sun::{Almanac, Sun, half_day, steps};
use crate::kit::count::as_number;
use crate::kit::order::within;

/// Beams lower than this carry under a thousandth of the noon light and meet a hundred rows `[sin β]`.
const LOWEST_BEAM: f64 = 0.035;

/// One way light comes, in the frame of the rows, and the share of the season's light that comes so.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Direction {
    /// Across the rows.
    pub across: f64,
    /// Along the rows.
    pub along: f64,
    /// Up, above 0.
    pub up: f64,
    /// Share of the light on open level ground `[–]`.
    pub share: f64,
}

/// How finely a season's light is cut into directions.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fineness {
    /// Steps from sunrise to sunset.
    pub sun_steps: usize,
    /// Directions in each quarter of the sky, all of the same light.
    pub sky_quarter: usize,
}

impl Fineness {
    /// For what is shown.
    pub const SHOWN: Fineness = Fineness { sun_steps: 12, sky_quarter: 12 };
    /// For searches and for series of years.
    pub const COARSE: Fineness = Fineness { sun_steps: 8, sky_quarter: 7 };
}

/// A season's light as directions whose shares sum to 1.
#[derive(Clone, Debug, PartialEq)]
pub struct Directions {
    list: Vec<Direction>,
    /// Whether as much comes from either side of the rows, so that one half of a section tells the other.
    pub(super) same_on_both_sides: bool,
    /// Share of the light that is taken as diffuse: as set, or all of it where the sun never rises `[–]`.
    pub diffuse_share: f64,
}

impl Directions {
    /// Directions of somebody's own; shares are scaled to sum to 1, those from below the horizon fall out.
    pub fn new(list: impl IntoIterator<Item = Direction>) -> Directions {
        let mut list: Vec<Direction> =
            list.into_iter().filter(|way| way.up > 0.0 && way.share > 0.0).collect();
        scale(&mut list, 1.0);
        Directions { same_on_both_sides: same_on_both_sides(&list), list, diffuse_share: 0.0 }
    }

    /// One direction that brings all the light.
    pub fn single([across, along, up]: [f64; 3]) -> Directions {
        Directions::new([Direction { across, along, up, share: 1.0 }])
    }

    /// The light of a season at a site: each month's mean day, sunrise to sunset, and the sky.
    pub fn of(site: &Site, fineness: Fineness) -> Directions {
        let mut beams = beams(site, fineness.sun_steps);
        let diffuse_share = if beams.is_empty() { 1.0 } else { within(site.diffuse_share, 0.0, 1.0) };
        scale(&mut beams, 1.0 - diffuse_share);
        let mut list = sky(site.sky, fineness);
        scale(&mut list, diffuse_share);
        list.extend(beams);
        list.retain(|way| way.share > 0.0);
        Directions { same_on_both_sides: same_on_both_sides(&list), list, diffuse_share }
    }

    /// Every direction.
    pub fn iter(&self) -> impl Iterator<Item = &Direction> {
        self.list.iter()
    }
}

/// How far two directions and their shares may differ and still be mirror images `[–]`: above the rounding of sines and cosines, below
/// any difference of light that could be shown.
const MIRRORED: f64 = 1e-9;

/// Whether every direction has its mirror image across the row.
fn same_on_both_sides(list: &[Direction]) -> bool {
    list.iter().all(|way| {
        list.iter().any(|other| {
            (way.across + other.across).abs() < MIRRORED
                && (way.along - other.along).abs() < MIRRORED
                && (way.share - other.share).abs() < MIRRORED
        })
    })
}

fn scale(list: &mut [Direction], sum: f64) {
    let found: f64 = list.iter().map(|way| way.share).sum();
    for way in list {
        way.share *= sum / found;
    }
}

/// Beams of each month's mean day, weighted by the light they bring to level ground.
fn beams(site: &Site, sun_steps: usize) -> Vec<Direction> {
    let mut list = Vec::new();
    for month in site.first_month.up_to(site.last_month) {
        let declination = Almanac::of_day(month.mean_day()).declination;
        let half_day = half_day(site.latitude, declination);
        for hour_angle in steps(half_day, sun_steps) {
            let sun = Sun::seen(site.latitude, declination, hour_angle);
            if sun.up < LOWEST_BEAM {
                continue;
            }
            let [across, along, up] = sun.by_the_rows(site.row_azimuth);
            let share = clear_beam(sun.up.min(1.0).acos()) * up * half_day * month.days();
            list.push(Direction { across, along, up, share });
        }
    }
    list
}

/// The sky as directions that each bring the same light to level ground. Each stands at a height of its
/// own and steps on round the quarter by the golden ratio, so that few directions see between the trees as
/// many would; the four quarters are alike, which keeps both sides of the row alike.
fn sky(sky: Sky, fineness: Fineness) -> Vec<Direction> {
    const GOLDEN: f64 = 0.618_033_988_75;
    let many = as_number(fineness.sky_quarter.max(1));
    let mut list = Vec::with_capacity(4 * fineness.sky_quarter);
    for place in 0..fineness.sky_quarter {
        let up = sky.sine_below((as_number(place) + 0.5) / many);
        let level = (1.0 - up * up).max(0.0).sqrt();
        let (sin, cos) = ((0.5 + as_number(place) * GOLDEN).fract() * std::f64::consts::FRAC_PI_2).sin_cos();
        for (across, along) in [(sin, cos), (sin, -cos), (-sin, cos), (-sin, -cos)] {
            list.push(Direction { across: level * across, along: level * along, up, share: 1.0 });
        }
    }
    list
}
