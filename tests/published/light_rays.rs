//! Rays through crowns: closed forms and the kernel against marching and against brute force.

use crate::light_naive::{self, Tree};
use planting::light::{Array, Directions, Fineness, Month, RowPoint, Site, Sky, at};
use planting::{Choice, Crown, Scenario, TrainingSystem};
use proptest::prelude::*;

/// A plain cone cut at `top`, with room on all sides.
pub(crate) fn cone(apex: f64, base: f64, width: f64, top: f64) -> Crown {
    let taper = 0.0;
    Crown {
        base,
        top,
        free_diameter: width,
        free_top: apex,
        along: 50.0,
        across: 50.0,
        space_top: apex,
        taper,
    }
}

/// Rows so closed that only the section across counts: base and top width, lowest branches and top.
pub(crate) fn hedge(base_width: f64, top_width: f64, base: f64, top: f64, spacing: f64) -> Crown {
    let taper = top_width / base_width;
    Crown {
        base,
        top,
        free_diameter: 1e4,
        free_top: top + 1e5,
        along: spacing,
        across: base_width,
        space_top: top,
        taper,
    }
}

/// One tree or one row by itself.
pub(crate) fn alone(crown: Crown, in_row_spacing: f64) -> Array {
    Array { crown, in_row_spacing, row_width: 1e3, lean: 0.0 }
}

/// The way to an elevation and a compass direction in rows that run north, degrees.
pub(crate) fn toward(elevation: f64, azimuth: f64) -> [f64; 3] {
    let ((sin, cos), (east, north)) = (elevation.to_radians().sin_cos(), azimuth.to_radians().sin_cos());
    [cos * east, cos * north, sin]
}

/// The kernel's path, from the light it lets through.
fn kernel_path(place: RowPoint, way: [f64; 3], array: &Array) -> f64 {
    const EXTINCTION: f64 = 0.5;
    -at(&[place], array, EXTINCTION, &Directions::single(way))[0].ln() / EXTINCTION
}

/// Facts of this project's own study: closed form and marching to 0.1 mm agreed on these lengths.
#[test]
fn paths_through_cones_and_hedges() {
    let plain = cone(3.3, 0.5, 1.2, 3.3);
    let cut = cone(3.3, 0.5, 1.2, 2.5);
    let trapezoid = hedge(1.2, 0.5, 0.5, 3.3, 1.0);
    let triangle = hedge(1.2, 0.0, 0.5, 3.3, 1.0);
    for (crown, spacing, place, elevation, azimuth, expected) in [
        (plain, 1e3, [0.0, 0.0, 1.0], 45.0, 90.0, 0.57400),
        (plain, 1e3, [-1.5, 0.1, 0.0], 50.0, 88.0, 0.96515),
        (plain, 1e3, [0.3, -0.2, 0.8], 80.0, 200.0, 0.63666),
        (cut, 1e3, [0.3, -0.2, 0.8], 80.0, 200.0, 0.63666),
        (plain, 1e3, [-5.0, 0.05, 0.2], 15.0, 90.0, 0.77670),
        (trapezoid, 1.0, [0.0, 0.0, 1.0], 45.0, 90.0, 0.67568),
        (triangle, 1.0, [0.0, 0.0, 1.0], 45.0, 90.0, 0.57400),
        (trapezoid, 1.0, [-2.0, 0.0, 0.0], 40.0, 60.0, 1.28586),
        (triangle, 1.0, [-2.0, 0.0, 0.0], 40.0, 60.0, 0.91962),
        (trapezoid, 1.0, [0.5, 0.0, 0.6], 20.0, 270.0, 1.10693),
        (triangle, 1.0, [0.5, 0.0, 0.6], 20.0, 270.0, 1.06475),
    ] {
        let array = alone(crown, spacing);
        let way = toward(elevation, azimuth);
        let what = format!("{place:?} toward {elevation}°, {azimuth}°");
        let naive = light_naive::path(place, way, &array);
        assert!((naive - expected).abs() < 2e-5, "{what}: brute force {naive}, expected {expected}");
        let kernel = kernel_path(place, way, &array);
        assert!((kernel - expected).abs() < 3e-5, "{what}: kernel {kernel}, expected {expected}");
    }
}

fn crowns() -> impl Strategy<Value = Crown> {
    let sizes = (0.2..1.5f64, 0.5..4.0f64, 0.3..6.0f64, 0.0..3.0f64, 0.4..4.0f64, 0.4..4.0f64, 0.0..1.0f64);
    sizes.prop_map(|(base, height, free_diameter, above, along, across, taper)| {
        let top = base + height;
        Crown {
            base,
            top,
            free_diameter,
            free_top: top + above,
            along,
            across,
            space_top: top + above / 2.0,
            taper,
        }
    })
}

fn ways() -> impl Strategy<Value = [f64; 3]> {
    (3.0..90.0f64, 0.0..360.0f64).prop_map(|(elevation, azimuth)| toward(elevation, azimuth))
}

pub(crate) fn arrays() -> impl Strategy<Value = Array> {
    (crowns(), 2.0..6.0f64, prop_oneof![Just(0.0), 0.05..0.5f64]).prop_map(|(mut crown, row_width, lean)| {
        crown.across = crown.across.min(row_width);
        let in_row_spacing = if lean > 0.0 { crown.along / 2.0 } else { crown.along };
        Array { crown, in_row_spacing, row_width, lean }
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn brute_force_agrees_with_marching(
        crown in crowns(), way in ways(), across in -3.0..3.0f64, along in -3.0..3.0f64, up in 0.0..3.0f64, shear in -0.5..0.5f64,
    ) {
        let tree = Tree { crown: &crown, foot: [0.0, 0.0], shear };
        let place = [across, along, up];
        let step = ((crown.top - up) / way[2] / 4e4).max(1e-4);
        let (exact, marched) = (tree.path(place, way), tree.marched(place, way, step));
        prop_assert!((exact - marched).abs() < 3.0 * step, "{exact} by pieces, {marched} by steps");
    }

    /// The kernel's culling and single precision lose nothing that matters. One ray that grazes a cone may be
    /// half a millimetre of path off; over the directions of a season that averages out, see below.
    #[test]
    fn kernel_agrees_with_brute_force(
        array in arrays(), way in ways(), extinction in 0.1..3.0f64, middle in (-6.0..6.0f64, -3.0..3.0f64, 0.5..3.5f64),
        places in prop::collection::vec((-0.5..0.5f64, -0.5..0.5f64, -0.5..0.5f64), 37),
    ) {
        // Neighbours, as the model asks for them; places far apart lose more to single precision.
        let places: Vec<RowPoint> =
            places.into_iter().map(|(x, y, z)| [middle.0 + x, middle.1 + y, middle.2 + z]).collect();
        let directions = Directions::single(way);
        let kernel = at(&places, &array, extinction, &directions);
        for (place, (found, expected)) in places.iter().zip(kernel.iter().zip(light_naive::light(&places, &array, extinction, &directions))) {
            prop_assert!((found - expected).abs() < 5e-4, "{place:?}: kernel {found}, brute force {expected}");
        }
    }
}

/// Whole seasons of every training system, young and grown.
#[test]
fn seasons_of_every_system_agree_with_brute_force() {
    let mut worst: f64 = 0.0;
    for (turn, system) in TrainingSystem::ALL.iter().enumerate() {
        let scenario = Scenario::for_system(*system);
        let canopy = planting::Canopy::grow(&planting::ground::canopy_asked(&scenario));
        let grown = canopy.years.last().expect("years");
        for crown in [canopy.years[3].crown, grown.crown] {
            let inputs = planting::light::asks::scene(&scenario, &crown);
            let site = Site {
                latitude: 0.7,
                row_azimuth: 0.3 * turn as f64,
                first_month: Month::April,
                last_month: Month::April,
                sky: Sky::Overcast,
                diffuse_share: 0.5,
            };
            let directions = Directions::of(&site, Fineness { sun_steps: 6, sky_quarter: 3 });
            let places: Vec<RowPoint> = (0..40)
                .map(|at| {
                    let share = |step: f64| (f64::from(at) * step).fract() - 0.5;
                    [
                        share(0.618) * inputs.array.row_width,
                        share(0.755) * inputs.array.in_row_spacing,
                        (share(0.570) + 0.5) * crown.top,
                    ]
                })
                .collect();
            let expected = light_naive::light(&places, &inputs.array, inputs.extinction(), &directions);
            for (found, expected) in
                at(&places, &inputs.array, inputs.extinction(), &directions).iter().zip(expected)
            {
                worst = worst.max((found - expected).abs());
            }
        }
    }
    assert!(worst < 1e-4, "kernel and brute force differ by {worst:e}");
    println!("largest difference {worst:e}");
}
