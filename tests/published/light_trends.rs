//! Whole seasons against Jackson's quick model, published trends, and a trial model made for this project
//! (cones by another kernel, hedges by another program), whose figures are rounded to three places.

use crate::light_rays::{cone, hedge};
use planting::Crown;
use planting::light::{
    Array, Directions, Fineness, JACKSON_K, Month, Sampling, Scene, Season, Site, Sky, quick, season,
    well_lit_leaf_area,
};

const NORTH_SOUTH: f64 = 0.0;
const EAST_WEST: f64 = 90.0;

fn site(latitude: f64, row_azimuth: f64, months: (Month, Month), diffuse_share: f64) -> Site {
    Site {
        latitude: latitude.to_radians(),
        row_azimuth: row_azimuth.to_radians(),
        first_month: months.0,
        last_month: months.1,
        sky: Sky::Even,
        diffuse_share,
    }
}

fn grown(array: Array, site: Site, leaf_area_density: f64) -> Season {
    let inputs =
        Scene { array, site, leaf_area_density, clumping: 1.0, wood_and_fruit: 1.0, cuts: [0.3, 0.5, 0.7] };
    season(&inputs, &Directions::of(&site, Fineness::SHOWN), &Sampling::SHOWN)
}

/// The same with enough points and directions that sampling is no matter.
fn dense(array: Array, site: Site, leaf_area_density: f64) -> Season {
    let sampling = Sampling {
        fineness: Fineness { sun_steps: 24, sky_quarter: 60 },
        layers: 60,
        points: 256,
        ground_across: 64,
        ground_along: 16,
        map_across: 0,
        map_up: 0,
    };
    let inputs =
        Scene { array, site, leaf_area_density, clumping: 1.0, wood_and_fruit: 1.0, cuts: [0.3, 0.5, 0.7] };
    season(&inputs, &Directions::of(&site, sampling.fineness), &sampling)
}

fn summer(row_azimuth: f64, diffuse_share: f64) -> Site {
    site(42.0, row_azimuth, (Month::May, Month::September), diffuse_share)
}

fn array(crown: Crown, row_width: f64, in_row_spacing: f64) -> Array {
    Array { crown, in_row_spacing, row_width, lean: 0.0 }
}

#[track_caller]
fn near(found: f64, expected: f64, room: f64, what: &str) {
    assert!((found - expected).abs() <= room, "{what}: {found:.4}, expected {expected} within {room}");
}

/// Jackson 1980, Acta Hort. 114, worked with K = 0.6.
#[test]
#[expect(clippy::approx_constant, reason = "a table's 0.6931 is its own")]
fn jacksons_quick_model() {
    near(JACKSON_K, 0.6, 0.0, "K for apple");
    for (largest, shares, above_30, above_50) in [
        (0.50, [0.2256, 0.3494, 0.4174, 0.4546, 0.4751, 0.4863], 1.0033, 0.5776),
        (0.60, [0.2361, 0.3793, 0.4661, 0.5188, 0.5507, 0.5701], 1.2040, 0.6931),
        (0.65, [0.2403, 0.3918, 0.4872, 0.5474, 0.5853, 0.6092], 1.3043, 0.7509),
        (0.70, [0.2440, 0.4029, 0.5065, 0.5739, 0.6179, 0.6465], 1.4046, 0.8087),
        (0.80, [0.2502, 0.4221, 0.5403, 0.6215, 0.6773, 0.7157], 1.6053, 0.9242),
        (0.90, [0.2551, 0.4379, 0.5689, 0.6628, 0.7300, 0.7782], 1.8060, 1.0397),
    ] {
        for (leaf_area, expected) in [0.5, 1.0, 1.5, 2.0, 2.5, 3.0].into_iter().zip(shares) {
            near(quick(largest, leaf_area), expected, 5e-5, "intercepted");
        }
        near(well_lit_leaf_area(largest, 3.0, 0.30), above_30, 1e-4, "leaves above 30 %");
        near(well_lit_leaf_area(largest, 3.0, 0.50), above_50, 1e-4, "leaves above 50 %");
        near(well_lit_leaf_area(largest, 0.1, 0.50), 0.1, 0.0, "no more than there are");
    }
}

/// Jackson & Palmer 1972, J. Appl. Ecol. (abstract): solid hedges that cover half the ground, as high as
/// the alley is wide. More than 80 % can be taken; less by sloping sides, less at lower latitudes, most so
/// with rows east-west. The numbers are the trial model's for April to September, direct light only and
/// with 45 % diffuse.
#[test]
fn solid_hedges_of_jackson_and_palmer() {
    let shapes = [1.5, 0.75, 0.0];
    let mut best: f64 = 0.0;
    let mut last = [[2.0; 3]; 2];
    for (latitude, north_south, east_west) in [
        (
            51.3,
            [(0.813, 0.804), (0.736, 0.726), (0.674, 0.666)],
            [(0.798, 0.796), (0.686, 0.698), (0.583, 0.616)],
        ),
        (
            45.0,
            [(0.800, 0.797), (0.720, 0.717), (0.658, 0.657)],
            [(0.742, 0.765), (0.625, 0.665), (0.543, 0.594)],
        ),
        (
            34.0,
            [(0.783, 0.788), (0.700, 0.706), (0.639, 0.647)],
            [(0.649, 0.714), (0.548, 0.623), (0.511, 0.576)],
        ),
    ] {
        let mut here = [[0.0; 3]; 2];
        for (row, (row_azimuth, expected)) in
            [(NORTH_SOUTH, north_south), (EAST_WEST, east_west)].into_iter().enumerate()
        {
            for (shape, (top_width, (direct, mixed))) in shapes.into_iter().zip(expected).enumerate() {
                let hedge = array(hedge(1.5, top_width, 0.0, 1.5, 1.0), 3.0, 1.0);
                let largest = |diffuse_share| {
                    let site = site(latitude, row_azimuth, (Month::April, Month::September), diffuse_share);
                    grown(hedge, site, 2.0).largest
                };
                let what = format!("{latitude}°, rows at {row_azimuth}°, top {top_width} m");
                near(largest(0.0), direct, 0.012, &what);
                near(largest(0.45), mixed, 0.012, &what);
                best = best.max(largest(0.0));
                here[row][shape] = largest(0.0);
            }
            assert!(here[row].is_sorted_by(|steep, sloping| steep > sloping), "sloping sides take less");
            for (north, south) in last[row].iter().zip(here[row]) {
                assert!(*north > south, "lower latitudes take less");
            }
        }
        last = here;
    }
    assert!(best > 0.80, "{best}");
    // From 51.3° to 34° rows east-west lose most.
    let loss = |row: usize, from: f64| from - last[row][0];
    assert!(loss(1, 0.798) > 3.0 * loss(0, 0.813));
}

const CLEAR: f64 = 0.182;

/// A narrow cone at trellis spacing and the wide free-standing tree, by leaf area density: F, Fmax, mean
/// light in the crown, share under 30, 50 and 70 %. Trial model, north-south rows at 42°, May to September.
#[test]
fn two_crowns_side_by_side() {
    let slender = array(cone(3.3, 0.5, 1.2, 3.3), 3.7, 1.2);
    let wide = Array::free_standing();
    for (name, array, density, expected) in [
        ("slender", slender, 2.0, [0.230, 0.465, 0.637, 0.000, 0.135, 0.698]),
        ("slender", slender, 3.0, [0.287, 0.465, 0.530, 0.023, 0.464, 0.856]),
        ("slender", slender, 4.0, [0.326, 0.465, 0.450, 0.194, 0.649, 0.923]),
        ("slender", slender, 6.0, [0.373, 0.465, 0.341, 0.475, 0.811, 0.968]),
        ("wide", wide, 1.0, [0.282, 0.570, 0.622, 0.000, 0.232, 0.697]),
        ("wide", wide, 2.0, [0.392, 0.570, 0.435, 0.289, 0.643, 0.897]),
        ("wide", wide, 3.0, [0.445, 0.570, 0.328, 0.513, 0.793, 0.957]),
        ("wide", wide, 4.0, [0.474, 0.570, 0.260, 0.639, 0.858, 0.981]),
    ] {
        let found = dense(array, summer(NORTH_SOUTH, CLEAR), density);
        let [flowers, size, colour] = found.crown.under;
        let found = [found.intercepted, found.largest, found.crown.mean, flowers, size, colour];
        for ((found, expected), what) in
            found.into_iter().zip(expected).zip(["F", "Fmax", "mean", "30 %", "50 %", "70 %"])
        {
            // The trial's points stood in the middle of rings, which favours the dark inside by up to two points.
            near(found, expected, 0.025, &format!("{name}, {density} m²/m³, {what}"));
        }
    }
    // At the same leaf density the narrow crown is the brighter one; that is the trellis' case.
    let dark = |array, density| grown(array, summer(NORTH_SOUTH, 0.45), density).crown.under[0];
    for density in [2.0, 3.0, 4.0] {
        assert!(dark(slender, density) < dark(wide, density) - 0.2, "{density}");
    }
    // Rows east-west: F, Fmax and the share under 30 % for the narrow crown.
    let east_west = grown(slender, summer(EAST_WEST, CLEAR), 4.0);
    for (found, expected) in
        [(east_west.intercepted, 0.286), (east_west.largest, 0.393), (east_west.crown.under[0], 0.352)]
    {
        near(found, expected, 0.02, "slender, east-west");
    }
    // By height, from below: mean light and share under 30 %, 45 % diffuse.
    for (array, density, means, darks) in [
        (slender, 4.0, [0.398, 0.559, 0.749], [0.279, 0.0, 0.0]),
        (wide, 2.0, [0.390, 0.531, 0.726], [0.392, 0.046, 0.0]),
    ] {
        let thirds = dense(array, summer(NORTH_SOUTH, 0.45), density).thirds;
        for ((third, mean), dark) in thirds.iter().zip(means).zip(darks) {
            near(third.mean, mean, 0.02, "mean light by thirds");
            near(third.under[0], dark, 0.03, "share under 30 % by thirds");
        }
    }
}

/// Which canopy takes how much: F, Fmax and Jackson's line, 45 % diffuse, rows 3.7 or 3.2 m apart.
#[test]
fn hedges_that_fill_their_rows() {
    for (widths, heights, spacing, density, f, largest, jackson) in [
        ((1.2, 0.5), (0.5, 3.3), 3.7, 3.11, 0.556, 0.686, 0.567),
        ((1.8, 0.6), (0.5, 3.3), 3.7, 2.20, 0.600, 0.759, 0.603),
        ((1.8, 0.9), (0.5, 3.3), 3.7, 1.96, 0.613, 0.781, 0.613),
        ((2.4, 1.0), (0.4, 3.5), 3.7, 1.76, 0.708, 0.866, 0.713),
        ((2.4, 1.2), (0.4, 3.7), 3.7, 1.87, 0.754, 0.882, 0.767),
        ((1.8, 0.9), (0.4, 3.6), 3.2, 2.22, 0.741, 0.860, 0.754),
    ] {
        let crown = hedge(widths.0, widths.1, heights.0, heights.1, 1.0);
        let found = grown(array(crown, spacing, 1.0), summer(NORTH_SOUTH, 0.45), density);
        let what = format!("{widths:?} m wide, {heights:?} m, rows {spacing} m");
        near(found.intercepted, f, 0.012, &what);
        near(found.largest, largest, 0.012, &what);
        near(found.quick, jackson, 0.012, &what);
        // Two models that share only Fmax.
        near(found.quick, found.intercepted, 0.02, &what);
    }
    for (widths, density, f, largest) in [((1.2, 0.5), 3.11, 0.494, 0.607), ((1.8, 0.6), 2.20, 0.547, 0.695)]
    {
        let crown = hedge(widths.0, widths.1, 0.5, 3.3, 1.0);
        let found = grown(array(crown, 3.7, 1.0), summer(EAST_WEST, 0.45), density);
        near(found.intercepted, f, 0.012, "east-west");
        near(found.largest, largest, 0.012, "east-west");
    }
}

/// Overlapping cones, cut off where they are 0.6 m wide or pointed; densities add where crowns share space.
#[test]
fn cones_that_overlap_along_the_row() {
    for (width, top_width, density, f, largest, jackson) in [
        (1.2, 0.0, 8.4, 0.415, 0.479, 0.440),
        (1.5, 0.6, 3.45, 0.546, 0.667, 0.557),
        (1.8, 0.6, 2.59, 0.573, 0.716, 0.582),
    ] {
        let crown = Crown { taper: top_width / width, ..cone(3.3, 0.5, width, 3.3) };
        let found = grown(array(crown, 3.7, 1.2), summer(NORTH_SOUTH, 0.45), density);
        near(found.leaf_area_index, 2.0, 0.01, "leaf area index");
        near(found.intercepted, f, 0.01, "F");
        near(found.largest, largest, 0.01, "Fmax");
        near(found.quick, jackson, 0.01, "Jackson");
    }
}

/// Wagenmakers 1995 and growers' practice: wider spacing takes less light and leaves crowns brighter.
#[test]
fn wider_spacing_takes_less() {
    let cut = Crown { taper: 0.4, ..cone(3.3, 0.5, 1.5, 3.3) };
    let mut last = (1.0, 0.0);
    for (row_width, in_row) in [(3.0, 0.9), (3.4, 0.9), (3.7, 0.9), (3.7, 1.2), (4.3, 1.2), (4.9, 1.8)] {
        let found = grown(array(cut, row_width, in_row), summer(NORTH_SOUTH, 0.45), 2.5);
        let next = (found.intercepted, found.crown.mean);
        assert!(next.0 < last.0 && next.1 > last.1, "{row_width} × {in_row} m: {next:?} after {last:?}");
        last = next;
    }
}

/// DeJong & Doyle 1985, Acta Hort. 173 (peach hedgerows): east-west, the north side gets less than half the
/// light of the south side; north-south, both sides get alike. Sides are taken half-way up, at the outside.
#[test]
fn sides_of_a_hedge() {
    let hedge = array(hedge(1.2, 0.8, 0.5, 3.3, 1.0), 4.0, 1.0);
    let sides = |row_azimuth: f64| {
        let found = grown(hedge, summer(row_azimuth, CLEAR), 4.0);
        let map = found.map;
        let at = |across: f64| {
            let cell = ((across / map.width + 0.5) * map.across as f64) as usize;
            (6..12).filter_map(|up| map.cell(cell, up)).map(f64::from).sum::<f64>()
        };
        // Rows to the east have the south on their right hand.
        (at(-0.45), at(0.45))
    };
    let (west, east) = sides(NORTH_SOUTH);
    near(west / east, 1.0, 1e-6, "west against east");
    let (north, south) = sides(EAST_WEST);
    assert!(north < south / 2.0, "{north} north, {south} south");
}
