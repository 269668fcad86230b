//! Light among rows of crowns: what the scene says, put in the terms of the sums of the crate `rays`.

use super::directions::{Direction, Directions};
use super::scene::Array;
use rays::{Beam, Lattice, Lean};

pub(super) use rays::LANES;
pub use rays::RowPoint;

#[expect(clippy::cast_possible_truncation, reason = "single precision is what the sums are done in")]
fn single(value: f64) -> f32 {
    value as f32
}

/// How near to the distance of two trees a crown's space along the row must come to go on without a gap `[–]`.
const ABREAST: f64 = 1e-9;

/// The crowns of a planting as the sums want them. None where there is no crown, or no lattice to put it on.
fn lattice(array: &Array) -> Option<Lattice> {
    let crown = &array.crown;
    let height = crown.top - crown.base;
    let numbers =
        [crown.free_diameter, crown.across, crown.along, height, array.row_width, array.in_row_spacing];
    if numbers.iter().any(|number| !number.is_finite() || *number <= 0.0) {
        return None;
    }
    let loss = |size: f64, over: f64| if over > 0.0 { size * (1.0 - crown.taper) / over } else { 0.0 };
    let (radius, half_across) = (crown.free_diameter / 2.0, crown.across / 2.0);
    let period = array.period();
    let corners_covered = [crown.base, crown.top].iter().all(|level| {
        // The cone narrows evenly and the corner's distance is convex in height: both ends decide.
        crown.disc(*level) >= crown.along.hypot(crown.box_across(*level))
    });
    let abreast = (crown.along - period).abs() < ABREAST * period;
    let lean = |(shear, along): (f64, f64)| Lean { shear: single(shear), along: single(along) };
    Some(Lattice {
        base: single(crown.base),
        top: single(crown.top),
        radius: single(radius),
        narrowing: single(loss(radius, crown.free_top - crown.base)),
        half_across: single(half_across),
        slope: single(loss(half_across, crown.space_top - crown.base)),
        half_along: single(crown.along / 2.0),
        row_width: single(array.row_width),
        period: single(period),
        closed: abreast && corners_covered,
        leans: array.leans().into_iter().map(lean).collect(),
    })
}

/// Light at each place as a share of that in the open, crowns of this extinction `[1/m]` in the way.
pub(super) fn light(
    places: &[RowPoint],
    array: &Array,
    extinction: f64,
    directions: &Directions,
) -> Vec<f32> {
    let Some(lattice) = lattice(array).filter(|_| extinction > 0.0) else {
        return vec![1.0; places.len()];
    };
    let beam = |way: &Direction| Beam {
        direction: [single(way.across), single(way.along), single(way.up)],
        share: single(way.share),
    };
    let beams: Vec<Beam> = directions.iter().map(beam).collect();
    rays::light(places, &lattice, single(extinction), &beams)
}

/// Light at places anywhere in the rows, as a share of the light in the open.
///
/// ```
/// use planting::light::{Array, Directions, at};
/// // From straight above, between the trees and under the top of a cone: Beer's law over 3.8 m.
/// let light = at(&[[3.0, 2.1, 0.0], [0.0, 0.0, 0.7]], &Array::free_standing(), 0.5, &Directions::single([0.0, 0.0, 1.0]));
/// assert!((light[0] - 1.0).abs() < 1e-6);
/// assert!((light[1] - (-0.5f64 * 3.8).exp()).abs() < 1e-6);
/// ```
pub fn at(places: &[RowPoint], array: &Array, extinction: f64, directions: &Directions) -> Vec<f64> {
    light(places, array, extinction, directions).into_iter().map(f64::from).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::crown::Crown;

    #[test]
    fn a_row_counts_as_closed_once_discs_cover_its_corners() {
        let crown = Crown {
            base: 0.5,
            top: 3.0,
            free_diameter: 5.0,
            free_top: 9.0,
            along: 3.0,
            across: 4.0,
            space_top: 3.0,
            taper: 0.5,
        };
        let array = |free_diameter: f64, in_row_spacing: f64| Array {
            crown: Crown { free_diameter, ..crown },
            in_row_spacing,
            row_width: 6.0,
            lean: 0.0,
        };
        let closed = |array: Array| lattice(&array).is_some_and(|lattice| lattice.closed);
        // Corners of 3 × 4 m are 5 m apart.
        assert!(closed(array(5.0, 3.0)) && !closed(array(4.99, 3.0)));
        assert!(!closed(array(5.0, 3.1)), "gaps between the trees");
    }
}
