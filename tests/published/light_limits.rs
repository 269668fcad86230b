//! Limiting cases with closed forms, and laws of light in rows.

use crate::fixture::assert_near;
use crate::light_rays::{arrays, cone, hedge, toward};
use planting::Crown;
use planting::light::{
    Array, Directions, Fineness, Month, RowPoint, Sampling, Scene, Season, Site, Sky, Sun, at, season,
    shaded_ground,
};
use proptest::prelude::*;

const SOLID: f64 = 1e5;

fn rows(crown: Crown, in_row_spacing: f64, row_width: f64) -> Array {
    Array { crown, in_row_spacing, row_width, lean: 0.0 }
}

/// Mean light on level ground between two places across the rows.
fn ground(array: &Array, extinction: f64, directions: &Directions, from: f64, to: f64) -> f64 {
    let (across, along) = (400, 16);
    let places: Vec<RowPoint> = (0..across * along)
        .map(|at| {
            let (strip, step) = (f64::from(at / along), f64::from(at % along));
            let share = (strip + 0.5) / f64::from(across);
            let start = (strip * 0.618).fract();
            [from + (to - from) * share, array.in_row_spacing * (step + start) / f64::from(along), 0.0]
        })
        .collect();
    at(&places, array, extinction, directions).iter().sum::<f64>() / f64::from(across * along)
}

/// Mean over one whole period.
fn field(array: &Array, extinction: f64, directions: &Directions) -> f64 {
    ground(array, extinction, directions, -array.row_width / 2.0, array.row_width / 2.0)
}

fn even_sky(sky_quarter: usize) -> Directions {
    let site = Site {
        latitude: 0.0,
        row_azimuth: 0.0,
        first_month: Month::May,
        last_month: Month::May,
        sky: Sky::Even,
        diffuse_share: 1.0,
    };
    Directions::of(&site, Fineness { sun_steps: 1, sky_quarter })
}

#[test]
fn an_unbroken_layer_is_beers_law_and_the_third_exponential_integral() {
    // One metre of leaves everywhere, G = ½: T = exp(−½ L/sin β) and, under an even sky, 2 E₃(½ L).
    let layer = rows(hedge(2.0, 2.0, 0.5, 1.5, 1.0), 1.0, 2.0);
    for (leaf_area, by_elevation, diffuse) in [
        (1.0, [0.36788, 0.49307, 0.56138], 0.44321),
        (2.0, [0.13534, 0.24312, 0.31515], 0.21938),
        (3.0, [0.04979, 0.11987, 0.17692], 0.11348),
    ] {
        let extinction = 0.5 * leaf_area;
        for (elevation, expected) in [30.0, 45.0, 60.0].into_iter().zip(by_elevation) {
            for azimuth in [0.0, 33.0, 90.0] {
                let found = field(&layer, extinction, &Directions::single(toward(elevation, azimuth)));
                assert!(
                    (found - expected).abs() < 1e-5,
                    "L {leaf_area}, {elevation}°: {found}, not {expected}"
                );
            }
        }
        let found = field(&layer, extinction, &even_sky(300));
        assert!((found - diffuse).abs() < 3e-4, "L {leaf_area}: {found}, not {diffuse}");
        // With the few directions of the shown season.
        let shown = field(&layer, extinction, &even_sky(12));
        assert!((shown - diffuse).abs() < 0.012, "L {leaf_area}: {shown}, not {diffuse}");
    }
}

#[test]
fn shadows_of_solid_hedges() {
    // Rows 3.7 m apart, hedge 3.3 m high, 1.2 m wide at the base. c = |sin(azimuth of sun − of row)|/tan β;
    // shaded: wall h c/s, rectangle (w + h c)/s, triangle and trapezoid max(w, w/2 + w_top/2 + h c)/s.
    let (spacing, height) = (3.7, 3.3);
    for (row_azimuth, elevation, azimuth, c, along_ground, wall, rectangle, triangle, trapezoid) in [
        (0.0, 60.0, 140.0, 0.37111, 1.9053, 0.3310, 0.6553, 0.4932, 0.5607),
        (0.0, 40.0, 100.0, 1.17365, 3.9328, 1.0, 1.0, 1.0, 1.0),
        (90.0, 60.0, 140.0, 0.44228, 1.9053, 0.3945, 0.7188, 0.5566, 0.6242),
        (90.0, 40.0, 100.0, 0.20695, 3.9328, 0.1846, 0.5089, 0.3467, 0.4143),
        (90.0, 20.0, 80.0, 0.47709, 9.0667, 0.4255, 0.7498, 0.5877, 0.6552),
    ] {
        let [east, north, up] = toward(elevation, azimuth);
        let way = Sun { east, north, up }.by_the_rows(f64::to_radians(row_azimuth));
        assert!((way[0].abs() / up - c).abs() < 1e-5, "{row_azimuth}°, {elevation}°, {azimuth}°");
        assert!((height * way[0].hypot(way[1]) / up - along_ground).abs() < 1e-4);
        for (base_width, top_width, expected) in
            [(1e-3, 1e-3, wall), (1.2, 1.2, rectangle), (1.2, 0.0, triangle), (1.2, 0.5, trapezoid)]
        {
            let array = rows(hedge(base_width, top_width, 0.0, height, 1.0), 1.0, spacing);
            let what = (row_azimuth, elevation, azimuth, base_width, top_width);
            let fine = 1.0 - field(&array, SOLID, &Directions::single(way));
            assert!((fine - expected).abs() < 0.003, "{what:?}: {fine}, not {expected}");
            let shown = shaded_ground(way, &array);
            assert!((shown - expected).abs() < 0.009, "{what:?}: {shown}, not {expected}");
        }
    }
}

#[test]
fn sky_seen_from_an_alley_between_solid_walls() {
    // r = H/W: floor √(1+r²) − r, wall ½(1 + 1/r − √(1 + 1/r²)), closure W·floor + 2 H·wall = W.
    let sky = even_sky(2000);
    for (height, alley, floor_mean, wall_mean, centre, edge) in [
        (2.0, 2.5, 0.48062, 0.32461, 0.53000, 0.39043),
        (3.3, 2.5, 0.33602, 0.25151, 0.35423, 0.30193),
        (3.3, 3.3, 0.41421, 0.29289, 0.44721, 0.35355),
    ] {
        let thin = 1e-4;
        let array = rows(hedge(thin, thin, 0.0, height, 1.0), 1.0, alley + thin);
        let floor = ground(&array, SOLID, &sky, thin / 2.0, alley + thin / 2.0);
        assert!((floor - floor_mean).abs() < 2e-3, "floor {floor}, not {floor_mean}");
        let point = |across: f64| at(&[[across, 0.0, 0.0]], &array, SOLID, &sky)[0];
        assert!((point((alley + thin) / 2.0) - centre).abs() < 0.012, "centre {}", point(alley / 2.0));
        assert!((point(thin) - edge).abs() < 0.012, "edge {}", point(thin));
        // A share of light on level ground, turned onto the wall: × across/up.
        let steps = 40;
        let mut wall = 0.0;
        for way in sky.iter().filter(|way| way.across > 0.0) {
            let single = Directions::single([way.across, way.along, way.up]);
            let places: Vec<RowPoint> = (0..steps)
                .map(|step| [thin, 0.0, height * (f64::from(step) + 0.5) / f64::from(steps)])
                .collect();
            let seen: f64 = at(&places, &array, SOLID, &single).iter().sum();
            wall += way.share * way.across / way.up * seen / f64::from(steps);
        }
        assert!((wall - wall_mean).abs() < 4e-3, "wall {wall}, not {wall_mean}");
        assert!((alley * floor + 2.0 * height * wall - alley).abs() < 0.012 * alley);
    }
    // Sloping sides, crossed strings: floor b, gap at the top T, height H.
    for (floor, gap, height, expected) in
        [(2.5, 3.2, 2.8, 0.46941), (2.5, 3.7, 2.8, 0.52550), (1.9, 3.1, 3.0, 0.44511)]
    {
        let spacing = 3.7;
        let array = rows(hedge(spacing - floor, spacing - gap, 0.0, height, 1.0), 1.0, spacing);
        let found = ground(&array, SOLID, &sky, (spacing - floor) / 2.0, (spacing + floor) / 2.0);
        assert!((found - expected).abs() < 2e-3, "{floor}, {gap}, {height}: {found}, not {expected}");
    }
}

#[test]
fn cones_from_straight_above() {
    // x = κ H: mean through the cone 2 (x − 1 + e^−x)/x², intercepted π r² (1 − T)/A.
    for (height, radius, leaf_density, area, through, intercepted) in [
        (2.8, 0.6, 4.0, 4.44, 0.29360, 0.17994),
        (3.8, 2.0, 2.0, 26.23, 0.39091, 0.29181),
        (2.8, 0.75, 3.0, 4.44, 0.36451, 0.25293),
    ] {
        let in_row_spacing = 2.0 * radius + 0.3;
        let array = rows(cone(height, 0.0, 2.0 * radius, height), in_row_spacing, area / in_row_spacing);
        let extinction = 0.5 * leaf_density;
        let found = 1.0 - field(&array, extinction, &Directions::single([0.0, 0.0, 1.0]));
        assert!((found - intercepted).abs() < 1e-3, "{found}, not {intercepted}");
        let x: f64 = extinction * height;
        assert!((2.0 * (x - 1.0 + (-x).exp()) / (x * x) - through).abs() < 1e-5);
    }
}

#[test]
fn a_turbid_hedge_square_to_the_sun() {
    // ramp = min(w, h c), plateau = |w − h c|, x = κ min(w/cos β, h/sin β);
    // F = [2 ramp (1 − (1 − e^−x)/x) + plateau (1 − e^−x)]/s
    for (width, height, spacing, extinction, elevation, expected) in [
        (1.2, 2.8, 3.7, 1.0, 60.0, 0.50527),
        (0.8, 2.8, 3.2, 1.5, 50.0, 0.68293),
        (1.5, 3.0, 4.5, 0.75, 45.0, 0.59843),
    ] {
        let array = rows(hedge(width, width, 0.4, 0.4 + height, 1.0), 1.0, spacing);
        let found = 1.0 - field(&array, extinction, &Directions::single(toward(elevation, 90.0)));
        assert!((found - expected).abs() < 5e-4, "{found}, not {expected}");
    }
}

const DENSE: Sampling = Sampling {
    fineness: Fineness::SHOWN,
    layers: 30,
    points: 256,
    ground_across: 256,
    ground_along: 32,
    map_across: 0,
    map_up: 0,
};

/// A season of one direction, leaves of a given extinction.
fn one_way(array: Array, extinction: f64, way: [f64; 3]) -> Season {
    let site = Site {
        latitude: 0.0,
        row_azimuth: 0.0,
        first_month: Month::May,
        last_month: Month::May,
        sky: Sky::Even,
        diffuse_share: 0.0,
    };
    let inputs = Scene {
        array,
        site,
        leaf_area_density: 2.0 * extinction,
        clumping: 1.0,
        wood_and_fruit: 1.0,
        cuts: [0.3, 0.5, 0.7],
    };
    season(&inputs, &Directions::single(way), &DENSE)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    /// What the crowns take is what the ground lacks: κ V T(crown) = A sin β (1 − T(ground)). It ties the
    /// points in the crowns to those on the ground, which share nothing but the rays.
    #[test]
    fn crowns_take_what_the_ground_lacks(
        array in arrays(), elevation in 12.0..90.0f64, azimuth in 0.0..360.0f64, extinction in 0.05..2.0f64,
    ) {
        let way = toward(elevation, azimuth);
        let season = one_way(array, extinction, way);
        let taken = extinction * array.crown.volume() * season.crown.mean;
        let lacking = array.in_row_spacing * array.row_width * way[2] * season.intercepted;
        prop_assert!((taken - lacking).abs() < 0.015 * lacking + 1e-4, "{taken} m² taken, {lacking} m² lacking");
    }

    #[test]
    fn rows_repeat_mirror_and_scale(
        array in arrays(), elevation in 5.0..90.0f64, azimuth in 0.0..360.0f64, extinction in 0.05..2.0f64, scale in 0.5..2.0f64,
        (across, along, up) in (-4.0..4.0f64, -3.0..3.0f64, 0.0..4.0f64),
    ) {
        let [dx, dy, dz] = toward(elevation, azimuth);
        let light = |place: RowPoint, array: &Array, extinction: f64, way: [f64; 3]| {
            at(&[place], array, extinction, &Directions::single(way))[0]
        };
        let here = light([across, along, up], &array, extinction, [dx, dy, dz]);
        let period = if array.lean > 0.0 { 2.0 } else { 1.0 } * array.in_row_spacing;
        let next = light([across + array.row_width, along - period, up], &array, extinction, [dx, dy, dz]);
        prop_assert!((here - next).abs() < 1e-4, "a row and a tree on: {here}, {next}");
        // Left and right trees of a V stand one spacing apart.
        let shift = if array.lean > 0.0 { array.in_row_spacing } else { 0.0 };
        let mirrored = light([-across, along + shift, up], &array, extinction, [-dx, dy, dz]);
        prop_assert!((here - mirrored).abs() < 1e-4, "mirrored: {here}, {mirrored}");
        let crown = array.crown;
        let larger = Array {
            crown: Crown {
                base: crown.base * scale,
                top: crown.top * scale,
                free_diameter: crown.free_diameter * scale,
                free_top: crown.free_top * scale,
                along: crown.along * scale,
                across: crown.across * scale,
                space_top: crown.space_top * scale,
                taper: crown.taper,
            },
            in_row_spacing: array.in_row_spacing * scale,
            row_width: array.row_width * scale,
            lean: array.lean,
        };
        let scaled = light([across * scale, along * scale, up * scale], &larger, extinction / scale, [dx, dy, dz]);
        prop_assert!((here - scaled).abs() < 1e-4, "scaled: {here}, {scaled}");
        let thin = light([across, along, up], &array, 1e-9, [dx, dy, dz]);
        prop_assert!((thin - 1.0).abs() < 1e-6, "no leaves, no shade: {thin}");
        let denser = light([across, along, up], &array, extinction * 1.3, [dx, dy, dz]);
        prop_assert!((0.0..=1.0).contains(&here) && denser <= here + 1e-6, "denser: {denser} after {here}");
    }
}

/// A crown that is as good as nothing, and lattices that are none.
#[test]
fn nothing_in_the_way_is_open_light() {
    let sound = rows(cone(3.0, 0.5, 1.2, 3.0), 1.2, 3.7);
    let with = |change: fn(&mut Array)| {
        let mut array = sound;
        change(&mut array);
        array
    };
    for (what, array, extinction) in [
        ("no leaves", sound, 0.0),
        ("no diameter", with(|array| array.crown.free_diameter = 0.0), 1.0),
        ("no width", with(|array| array.crown.across = 0.0), 1.0),
        ("no height", with(|array| array.crown.top = array.crown.base), 1.0),
        ("no rows", with(|array| array.row_width = 0.0), 1.0),
        ("no number", with(|array| array.crown.along = f64::NAN), 1.0),
    ] {
        for way in [[0.0, 0.0, 1.0], toward(30.0, 77.0)] {
            let found = at(&[[0.0, 0.0, 0.6], [0.5, 0.3, 0.0]], &array, extinction, &Directions::single(way));
            assert!(found.iter().all(|light| (light - 1.0).abs() < 1e-12), "{what}: {found:?}");
        }
    }
    assert_near(at(&[], &sound, 1.0, &Directions::new([])).len() as f64 + 1.0, 1.0, 0.0, "no places");
}
