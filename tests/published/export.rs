//! Tables and stations for other programs: against RFC 4180, RFC 7946 and geodesics on the ellipsoid.

use crate::fixture::{assert_near, planned, ten_rows_of_300_ft};
use drafting::export::{self, GeoPoint};
use drafting::measure::{read, unit};
use drafting::{Units, order_list, wording};
use planting::uom::si::angle::degree;
use planting::{Choice, EndAssembly, Plan, Scenario, TrainingSystem, degrees, feet};
use serde_json::Value;

/// A reader of CSV by the grammar of RFC 4180, section 2, that takes nothing else.
fn table(text: &str) -> Vec<Vec<String>> {
    let (mut rows, mut row, mut cell) = (Vec::new(), Vec::new(), String::new());
    let mut signs = text.chars().peekable();
    while let Some(sign) = signs.next() {
        match sign {
            '"' if cell.is_empty() => loop {
                match signs.next().expect("a quotation ends") {
                    '"' if signs.peek() == Some(&'"') => cell.extend(signs.next()),
                    '"' => {
                        assert!(matches!(signs.peek(), Some(',' | '\r')), "a cell ends with its quotation");
                        break;
                    }
                    sign => cell.push(sign),
                }
            },
            ',' => row.push(std::mem::take(&mut cell)),
            '\r' => {
                assert_eq!(signs.next(), Some('\n'), "lines end with CRLF");
                row.push(std::mem::take(&mut cell));
                rows.push(std::mem::take(&mut row));
            }
            '\n' | '"' => panic!("{sign:?} outside a quotation"),
            sign => cell.push(sign),
        }
    }
    assert!(row.is_empty() && cell.is_empty(), "the last line is ended too");
    assert!(rows.iter().all(|found| found.len() == rows[0].len()), "as many cells in each row");
    rows
}

fn plans() -> impl Iterator<Item = Plan> {
    let systems = TrainingSystem::ALL.iter().map(|system| Scenario::for_system(*system));
    let braced = ten_rows_of_300_ft().with(|s| s.trellis.end_assembly = EndAssembly::HBrace);
    let turned = ten_rows_of_300_ft().with(|s| {
        s.block.row_azimuth = degrees(30.0);
        s.canopy.year = 0.0;
    });
    systems.chain([braced, turned]).map(|scenario| planned(&scenario))
}

#[test]
fn tables_hold_every_figure_as_it_is_shown() {
    for plan in plans() {
        for units in [Units::Us, Units::Metric] {
            let rows = table(&export::figures(&plan, units));
            assert_eq!(rows.len(), plan.figures.len() + 1);
            for (row, figure) in rows[1..].iter().zip(&plan.figures) {
                assert_eq!((row[1].as_str(), row[6].as_str()), (figure.label, figure.key));
                let Some(value) = figure.value else {
                    assert_eq!(row[2], "", "{}", figure.key);
                    continue;
                };
                let unit = unit(figure.quantity, units);
                let number: f64 = row[2].parse().unwrap_or_else(|_| panic!("{}: {}", figure.key, row[2]));
                let step = 10_f64.powi(-i32::try_from(unit.decimals).expect("few"));
                assert!((number - value / unit.one).abs() <= step * 0.500_001, "{}: {number}", figure.key);
                // The page shows the same unit and the same number, rounded to what is known of it.
                let shown = wording::value(figure, units).replace(',', "").replace('−', "-");
                let shown = shown.strip_suffix(unit.name).unwrap_or_else(|| panic!("{shown}")).to_owned();
                assert_eq!(row[3], unit.name.trim_start());
                let shown: f64 = shown.parse().unwrap_or_else(|_| panic!("{}: {shown}", figure.key));
                assert!(
                    (shown - number).abs() <= number.abs() * 0.01 + step.max(0.05),
                    "{}: {shown} of {number}",
                    figure.key
                );
            }
            let orders = table(&export::orders(&plan, units));
            assert!(orders.len() >= 2 && orders[1][0] == "Trees in the block");
            // What is ordered is what the page shows, and never less than the need.
            for (row, line) in orders[1..].iter().zip(order_list::lines(&plan, units)) {
                let shown = wording::value(line.figure, units).replace([',', ' '], "");
                assert_eq!(shown, format!("{}{}", row[1], row[2]).replace(' ', ""));
                let need = line.figure.value.expect("a count") / unit(line.figure.quantity, units).one;
                assert!(
                    row[1].parse::<f64>().expect("a number") >= need * (1.0 - 1e-9),
                    "{}: {need}",
                    row[0]
                );
            }
        }
    }
}

#[test]
fn posts_are_ordered_as_they_are_counted() {
    let plan = planned(&ten_rows_of_300_ft());
    let orders = table(&export::orders(&plan, Units::Us));
    // Ten rows of ten bays: nine line posts, two ends, two anchors and four tensioners a row.
    for (item, count, size) in [
        ("Trees in the block", "1000", "G.11, no spares counted"),
        ("Line posts", "90", "12 ft long, 5 in thick at the ground"),
        ("End posts", "20", "12 ft long or more, 6 in thick at the ground"),
        ("Anchors", "20", "one at each end post"),
        ("Wire tensioners", "40", "one on each wire of each row and side"),
    ] {
        let row = orders.iter().find(|row| row[0] == item).unwrap_or_else(|| panic!("no {item}"));
        assert_eq!((row[1].as_str(), row[2].as_str(), row[3].as_str()), (count, "", size));
    }
}

/// A spreadsheet takes a text that begins so for a formula.
#[test]
fn no_text_looks_like_a_formula() {
    for plan in plans() {
        for units in [Units::Us, Units::Metric] {
            for text in [export::figures(&plan, units), export::orders(&plan, units), export::stations(&plan)]
            {
                for cell in table(&text).into_iter().flatten() {
                    assert!(
                        !cell.starts_with(['=', '+', '-', '@', '\t', '\r']) || cell.parse::<f64>().is_ok(),
                        "{cell}"
                    );
                }
            }
        }
    }
}

#[test]
fn every_station_is_listed_once_in_its_place() {
    for plan in plans() {
        let rows = table(&export::stations(&plan));
        let block = &plan.block;
        assert_eq!(
            rows.len() - 1,
            block.trees().count() + plan.trellis.posts().count() + plan.trellis.anchors().count()
        );
        let number = |row: &[String], column: usize| row[column].parse::<f64>().expect("a number");
        for pair in rows[1..].windows(2) {
            let (one, next) = (&pair[0], &pair[1]);
            if one[..2] == next[..2] && one[7] == next[7] {
                assert!((number(next, 2) - number(one, 2) - 1.0).abs() < 1e-9, "numbers count up: {next:?}");
                assert!(number(next, 4) > number(one, 4), "from the foot of the row: {next:?}");
            } else {
                assert_eq!(next[2], "1", "{next:?}");
            }
        }
        let (sin, cos) = block.azimuth.value.sin_cos();
        for row in &rows[1..] {
            let [across, along, east, north] = [3, 4, 5, 6].map(|column| number(row, column));
            // As far from the corner on the map as in the rows, turned clockwise from north.
            assert!((across.hypot(along) - east.hypot(north)).abs() < 2e-3, "{row:?}");
            assert!((east * sin + north * cos - along).abs() < 2e-3, "{row:?}");
        }
    }
    let spaced = planned(&ten_rows_of_300_ft());
    let rows = table(&export::stations(&spaced));
    let trees: Vec<_> = rows.iter().filter(|row| row[0] == "tree" && row[1] == "10").collect();
    assert_eq!(trees.len(), 100);
    // The tenth row: 12 ft in, nine rows of 12 ft on; the hundredth tree: 30 ft, 99 spaces and a half of 3 ft.
    assert_eq!(trees[99][2..5], ["100", "36.576", "100.127"]);
}

fn place(latitude: f64, longitude: f64) -> GeoPoint {
    GeoPoint { longitude: degrees(longitude), latitude: degrees(latitude) }
}

#[test]
fn places_agree_with_geodesics() {
    // PyPI geographiclib 2.1, Geodesic.WGS84.Direct(latitude, longitude, azimuth, distance) for azimuth and distance
    // of the metres east and north; 1e-9° is 0.1 mm.
    for (latitude, longitude, east, north, expected_latitude, expected_longitude) in [
        (45.0, -77.0, 1000.0, 1000.0, 45.008_997_615, -76.987_315_197),
        (42.0, -77.0, 300.0, -800.0, 41.992_797_486, -76.996_379_440),
        (-33.5, 150.25, -1200.0, 500.0, -33.495_491_303, 150.237_086_688),
        (60.0, 10.0, 2000.0, 2000.0, 60.017_946_451, 10.035_861_719),
        (0.0, 0.0, 500.0, 0.0, 0.0, 0.004_491_576),
    ] {
        let there = place(latitude, longitude).beside(east, north);
        let found = (there.latitude.get::<degree>(), there.longitude.get::<degree>());
        let room = if latitude > 50.0 { 4e-9 } else { 1.5e-9 };
        assert!((found.0 - expected_latitude).abs() < room, "{found:?}");
        assert!((found.1 - expected_longitude).abs() < room, "{found:?}");
    }
}

#[test]
fn a_degree_is_as_long_as_published() {
    // One degree of latitude on WGS 84, 111,132.954 − 559.822 cos 2φ + 1.175 cos 4φ metres, and of longitude,
    // 111,412.84 cos φ − 93.5 cos 3φ + 0.118 cos 5φ (series after the American Practical Navigator, from memory).
    for latitude in [0.0_f64, 30.0, 42.0, 45.0, 60.0] {
        let angle = latitude.to_radians();
        let north = 111_132.954 - 559.822 * (2.0 * angle).cos() + 1.175 * (4.0 * angle).cos();
        let east = 111_412.84 * angle.cos() - 93.5 * (3.0 * angle).cos() + 0.118 * (5.0 * angle).cos();
        let here = place(latitude, 0.0);
        let up = here.beside(0.0, 1.0).latitude.get::<degree>() - latitude;
        let over = here.beside(1.0, 0.0).longitude.get::<degree>();
        assert_near(1.0 / up, north, 2e-6, latitude);
        assert_near(1.0 / over, east, 2e-6, latitude);
    }
}

#[test]
fn stations_are_points_of_a_feature_collection() {
    let scenario = Scenario::for_system(TrainingSystem::VTrellis).with(|s| {
        s.block.row_azimuth = degrees(30.0);
        (s.block.block_length, s.block.block_width) = (feet(360.0), feet(160.0));
    });
    let plan = planned(&scenario);
    let text = export::geojson(&plan, Some(place(45.0, -77.0))).expect("a place");
    let map: Value = serde_json::from_str(&text).expect("JSON");
    // RFC 7946, sections 3.3, 3.1.2 and 4: features of points, longitude before latitude, no `crs`.
    assert_eq!(map["type"], "FeatureCollection");
    assert!(map.get("crs").is_none());
    let features = map["features"].as_array().expect("features");
    let rows = table(&export::stations(&plan));
    assert_eq!(features.len(), rows.len() - 1);
    for (feature, row) in features.iter().zip(&rows[1..]) {
        assert_eq!((&feature["type"], &feature["geometry"]["type"]), (&"Feature".into(), &"Point".into()));
        assert_eq!(feature["properties"]["kind"], row[0].as_str());
        assert_eq!(feature["properties"]["row"].to_string(), row[1]);
        assert_eq!(feature["properties"]["number"].to_string(), row[2]);
        assert_eq!(feature["properties"]["leans"].as_str().unwrap_or_default(), row[7]);
        let [longitude, latitude] =
            [0, 1].map(|at| feature["geometry"]["coordinates"][at].as_f64().expect("a number"));
        // East and north again by the length of a degree at the corner; over this field that is good to 5 mm.
        let east = (longitude + 77.0) * 78_846.835;
        let north = (latitude - 45.0) * 111_131.777;
        assert!((east - row[5].parse::<f64>().expect("metres")).abs() < 5e-3, "{row:?}: {east}");
        assert!((north - row[6].parse::<f64>().expect("metres")).abs() < 5e-3, "{row:?}: {north}");
    }
}

#[test]
fn a_map_needs_a_place_on_the_earth() {
    let plan = planned(&ten_rows_of_300_ft());
    let said = |place| wording::sentence(&export::geojson(&plan, place).expect_err("no place"), Units::Us);
    assert!(said(None).contains("longitude and latitude"));
    for (latitude, longitude, expected) in [
        (85.1, 0.0, "The latitude of the field’s corner must be between −85° and 85°."),
        (-90.0, 0.0, "The latitude of the field’s corner must be between −85° and 85°."),
        (f64::NAN, 0.0, "The latitude of the field’s corner must be between −85° and 85°."),
        (0.0, 180.1, "The longitude of the field’s corner must be between −180° and 180°."),
        (0.0, f64::INFINITY, "The longitude of the field’s corner must be between −180° and 180°."),
    ] {
        assert_eq!(said(Some(place(latitude, longitude))), expected);
    }
    // Over the date line longitude goes on from -180°: RFC 7946 has no 181°.
    for (start, east, expected) in [(179.9995, 100.0, -179.999_602), (-179.9995, -100.0, 179.999_602)] {
        let found = place(0.0, start).beside(east, 0.0).longitude.get::<degree>();
        assert!((found - expected).abs() < 1e-6, "{found}");
    }
    assert!((place(0.0, 180.0).beside(0.0, 0.0).longitude.get::<degree>() - 180.0).abs() < 1e-9);
}

/// What a table shows can be typed back: 12.5 and not 12,5.
#[test]
fn lengths_of_tables_can_be_typed() {
    let plan = planned(&Scenario::default().with(|s| s.block.row_width = feet(12.5)));
    let rows = table(&export::figures(&plan, Units::Us));
    let alley = rows.iter().find(|row| row[6] == "clear_alley").expect("an alley");
    let typed = read(&format!("{} {}", alley[2], alley[3]), planting::Quantity::Length, Units::Us);
    assert_near(typed.expect("a length"), feet(7.5).value, 1e-12, "clear alley");
}
