//! Sun, air and sky against the NREL algorithm, pvlib and closed forms.

use crate::fixture::assert_near;
use planting::Choice;
use planting::light::{
    Almanac, Array, Directions, Fineness, Moment, Month, Site, Sky, Sun, air_mass, clear_beam, day_length,
    half_day,
};

fn rad(degrees: f64) -> f64 {
    degrees.to_radians()
}

#[test]
fn instants_of_nrel_and_pvlib() {
    // Noon of 1 January 2025, universal time.
    const NEW_YEAR: f64 = 2_460_677.0;
    let at = |day: f64, hour: f64| NEW_YEAR + day - 1.0 + (hour - 12.0) / 24.0;
    let pvlib = "pvlib 0.16.1, SPA without refraction";
    for (instant, latitude, longitude, elevation, azimuth, source) in [
        (2_452_930.312_847, 39.742_476, -105.1786, 39.872_046, 194.340_241, "NREL/TP-560-34302, Table A5.1"),
        (at(79.0, 17.0), 42.0, -85.0, 46.7929, 162.5836, pvlib),
        (at(172.0, 17.75), 42.0, -85.0, 71.4251, 182.2256, pvlib),
        (at(355.0, 17.75), 42.0, -85.0, 24.5412, 181.6885, pvlib),
    ] {
        let sun = Sun::at_instant(instant, rad(latitude), rad(longitude));
        let (found_elevation, found_azimuth) = (sun.elevation().to_degrees(), sun.azimuth().to_degrees());
        // The low-precision form's own errors over 2025 at 42° N, by pvlib: 0.0108° and 0.0216°.
        assert!((found_elevation - elevation).abs() < 0.0108, "{source}: {found_elevation}, not {elevation}");
        assert!((found_azimuth - azimuth).abs() < 0.0216, "{source}: {found_azimuth}, not {azimuth}");
        assert_near(sun.east.hypot(sun.north).hypot(sun.up), 1.0, 1e-12, source);
    }
}

#[test]
fn declination_and_equation_of_time() {
    let nrel = Almanac::at(2_452_930.312_847 - 2_451_545.0);
    // Geocentric; the example prints the topocentric -9.316179, 0.0024° off by parallax.
    assert!((nrel.declination.to_degrees() + 9.316_179).abs() < 0.005, "NREL/TP-560-34302, Table A5.1");
    let minutes = nrel.equation_of_time.to_degrees() * 4.0;
    assert!((minutes - 14.641_51).abs() < 0.02, "NREL/TP-560-34302, Table A5.1: {minutes}");
    // Declination on Klein's mean days of 2025, computed with pvlib 0.16.1 (hour of day not recorded).
    let pvlib = [-20.58, -12.06, -1.44, 10.04, 19.05, 23.13, 21.06, 13.48, 2.73, -8.80, -18.42, -22.97];
    for (month, expected) in Month::ALL.iter().zip(pvlib) {
        let found = Almanac::of_day(month.mean_day()).declination.to_degrees();
        assert!((found - expected).abs() < 0.25, "{}: {found}, not {expected}", month.label());
    }
}

#[test]
fn days_are_as_long_as_spherical_trigonometry_has_them() {
    // N = (2/15°) acos(-tan φ tan δ)
    for (latitude, declination, hours) in [
        (35.0, 23.44, 14.3564),
        (35.0, 0.0, 12.0),
        (35.0, -23.44, 9.6436),
        (42.0, 23.44, 15.0638),
        (42.0, -23.44, 8.9362),
        (47.0, 23.44, 15.6942),
        (47.0, -23.44, 8.3058),
        // Mean days, δ by Cooper's formula: 18.79, 23.09, 2.22, -23.05 in May, June, September, December.
        (42.0, 18.79, 14.379),
        (42.0, 23.09, 15.009),
        (42.0, 2.22, 12.266),
        (42.0, -23.05, 8.996),
        (70.0, 23.0, 24.0),
        (70.0, -23.0, 0.0),
        (-90.0, 10.0, 0.0),
        (90.0, 10.0, 24.0),
    ] {
        let found = day_length(rad(latitude), rad(declination));
        assert!((found - hours).abs() < 1e-3, "{latitude}°, {declination}°: {found} h, not {hours}");
        let rises = Sun::seen(rad(latitude), rad(declination), half_day(rad(latitude), rad(declination)));
        assert!(!(0.1..23.9).contains(&hours) || rises.up.abs() < 1e-9);
    }
    for (latitude, declination, noon) in [(35.0, 23.44, 78.44), (42.0, 0.0, 48.0), (47.0, -23.44, 19.56)] {
        let found = Sun::seen(rad(latitude), rad(declination), 0.0).elevation().to_degrees();
        assert_near(found, noon, 1e-9, "noon elevation is 90° − φ + δ");
    }
}

#[test]
fn months_follow_each_other() {
    use Month::{April, December, February, January, March, May, September};
    assert_eq!(May.up_to(September).len(), 5);
    assert_eq!(December.up_to(February), [December, January, February]);
    assert_eq!(March.up_to(March), [March]);
    assert_eq!(May.up_to(April).len(), 12);
    let year: f64 = January.up_to(December).iter().map(|month| month.days()).sum();
    assert_near(year, 365.0, 1e-15, "days of a year");
}

#[test]
fn air_and_clear_beam() {
    // Zenith angle, air mass (pvlib 0.16.1, kastenyoung1989), beam at τ = 0.70 [W/m²].
    for (zenith, mass, beam) in
        [(20.0, 1.0637, 931.3), (40.0, 1.3042, 854.7), (60.0, 1.9943, 668.2), (75.0, 3.8129, 349.3)]
    {
        assert!((air_mass(rad(zenith)) - mass).abs() < 1e-4, "{zenith}°: {}", air_mass(rad(zenith)));
        assert!((clear_beam(rad(zenith)) - beam).abs() < 0.1, "{zenith}°: {}", clear_beam(rad(zenith)));
    }
    assert!(clear_beam(rad(90.0)) < 0.01 && clear_beam(rad(120.0)).is_finite());
}

#[test]
fn skies_are_weighted_as_their_definitions_say() {
    // Even: sin² b. CIE standard overcast, luminance ∝ (1 + 2 sin β)/3: (3 sin² b + 4 sin³ b)/7.
    for (below, even, overcast) in [
        (10.0, 0.03015, 0.01592),
        (20.0, 0.11698, 0.07300),
        (30.0, 0.25000, 0.17857),
        (45.0, 0.50000, 0.41632),
        (60.0, 0.75000, 0.69258),
        (75.0, 0.93301, 0.91485),
    ] {
        for (sky, expected) in [(Sky::Even, even), (Sky::Overcast, overcast)] {
            assert!((sky.from_below(rad(below).sin()) - expected).abs() < 1e-5, "{}", sky.label());
            let directions = Directions::of(
                &Site { diffuse_share: 1.0, sky, ..site(42.0) },
                Fineness { sun_steps: 4, sky_quarter: 400 },
            );
            let from_below: f64 =
                directions.iter().filter(|way| way.up < rad(below).sin()).map(|way| way.share).sum();
            assert!((from_below - expected).abs() < 2e-3, "{} below {below}°: {from_below}", sky.label());
        }
    }
}

fn site(latitude: f64) -> Site {
    Site {
        latitude: rad(latitude),
        row_azimuth: 0.0,
        first_month: Month::May,
        last_month: Month::September,
        sky: Sky::Even,
        diffuse_share: 0.45,
    }
}

#[test]
fn a_season_is_all_of_the_light_from_above_the_horizon() {
    for latitude in [-90.0, -60.0, -42.0, 0.0, 23.0, 42.0, 66.5, 89.0, 90.0] {
        for month in Month::ALL {
            let site = Site { first_month: *month, last_month: *month, row_azimuth: 0.7, ..site(latitude) };
            let directions = Directions::of(&site, Fineness::SHOWN);
            let sum: f64 = directions.iter().map(|way| way.share).sum();
            assert_near(sum, 1.0, 1e-12, (latitude, month.label()));
            for way in directions.iter() {
                assert!(way.up > 0.0 && way.share > 0.0);
                assert_near(way.across.hypot(way.along).hypot(way.up), 1.0, 1e-9, "length of a direction");
            }
            // Where the sun stays under the horizon only the sky is left.
            let polar_night = latitude * Almanac::of_day(month.mean_day()).declination < 0.0
                && day_length(site.latitude, Almanac::of_day(month.mean_day()).declination) < 1e-6;
            assert!(!polar_night || (directions.diffuse_share - 1.0).abs() < 1e-12, "{latitude}");
        }
    }
}

/// Across north-south rows a metre throws cos δ |sin ω| ÷ sin β, across east-west rows
/// |cos φ sin δ − sin φ cos δ cos ω| ÷ sin β; along the ground 1 ÷ tan β.
#[test]
fn shadows_of_dates_and_hours() {
    let array = Array::free_standing();
    for latitude in [-35.0, 0.0, 42.0, 60.0] {
        for (day, hour) in
            [(80.0, 9.0), (172.0, 7.5), (172.0, 12.0), (172.0, 16.0), (264.0, 14.25), (355.0, 11.0)]
        {
            let moment = |row_azimuth: f64| Moment::at(rad(latitude), rad(row_azimuth), day, hour, &array);
            let north_south = moment(0.0);
            let Some(shadow) = north_south.shadow else {
                assert!(north_south.elevation.value < rad(0.3), "{latitude}°, day {day}, {hour} h");
                continue;
            };
            let declination = Almanac::of_day(day + (hour - 12.0) / 24.0).declination;
            let ((sin_lat, cos_lat), (sin_dec, cos_dec)) = (rad(latitude).sin_cos(), declination.sin_cos());
            let turn = rad(15.0 * (hour - 12.0));
            let sine = sin_lat * sin_dec + cos_lat * cos_dec * turn.cos();
            assert_near(north_south.elevation.value.sin(), sine, 1e-12, "height of the sun");
            let close = |found: f64, expected: f64| {
                assert!((found - expected).abs() < 1e-9, "{found}, not {expected}")
            };
            close(shadow.length, (1.0 - sine * sine).sqrt() / sine);
            close(shadow.across, cos_dec * turn.sin() / sine);
            let east_west = moment(90.0).shadow.expect("as high as before");
            close(east_west.across.abs(), (cos_lat * sin_dec - sin_lat * cos_dec * turn.cos()).abs() / sine);
            close(east_west.length, shadow.length);
            // In the morning shadows fall to the west, the left hand of rows that run north.
            assert!(shadow.across.abs() < 1e-9 || (shadow.across < 0.0) == (hour < 12.0));
            let turned = moment(180.0).shadow.expect("as high as before");
            close(turned.across, -shadow.across);
            close(turned.along, -shadow.along);
            close(turned.shaded_ground, shadow.shaded_ground);
        }
    }
}
