//! Laws of the drawings, over any scenario and any frame: what a draughtsman would not sign.
//!
//! ISO 129-1: no figure is crossed by a line or by another figure. Scales: a known length on the sheet
//! is as long as the sheet's projection says.

use crate::strategy::in_order;
use drafting::sheet::{Bounds, Ink, Text};
use drafting::{Daylight, Frame, Mark, Sheet, Units, View, draw, draw_pair, draw_years};
use planting::light::Memory;
use planting::plan;
use proptest::prelude::*;

/// The straight pieces of a path made of moves and lines; curves are left out.
fn pieces(d: &str) -> Vec<[(f64, f64); 2]> {
    let mut found = Vec::new();
    let mut at = None;
    for step in d.split('M') {
        for (place, point) in step.trim_end_matches('Z').split('L').enumerate() {
            let mut numbers = point.split(' ').map(str::parse::<f64>);
            let (Some(Ok(x)), Some(Ok(y)), None) = (numbers.next(), numbers.next(), numbers.next()) else {
                at = None;
                continue;
            };
            if let (Some(from), true) = (at, place > 0) {
                found.push([from, (x, y)]);
            }
            at = Some((x, y));
        }
    }
    found
}

fn shrunk(bounds: Bounds) -> Bounds {
    // Coordinates are written to hundredths.
    const HAIR: f64 = 0.02;
    Bounds {
        left: bounds.left + HAIR,
        right: bounds.right - HAIR,
        top: bounds.top + HAIR,
        bottom: bounds.bottom - HAIR,
    }
}

fn no_text_is_crossed(sheet: &Sheet) -> Result<(), TestCaseError> {
    let texts: Vec<&Text> = sheet.texts().collect();
    let page = Bounds { left: 0.0, top: 0.0, right: sheet.width, bottom: sheet.height };
    for (place, text) in texts.iter().enumerate() {
        prop_assert!(text.bounds().inside(&page), "{:?} runs off the sheet", text.content);
        for other in &texts[place + 1..] {
            let apart = !shrunk(text.bounds()).meets(&shrunk(other.bounds()));
            prop_assert!(apart, "{:?} and {:?} overlap", text.content, other.content);
        }
    }
    let lines = sheet.layers.iter().flatten().filter_map(|mark| match mark {
        Mark::Path { ink: Ink::Dimension | Ink::Edge, d } => Some(pieces(d)),
        _ => None,
    });
    for [from, to] in lines.flatten() {
        for text in &texts {
            let crossed = shrunk(text.bounds()).share_of_line(from, to);
            prop_assert!(crossed.is_none(), "a line runs through {:?}", text.content);
        }
    }
    Ok(())
}

fn every_number_is_finite(sheet: &Sheet) -> Result<(), TestCaseError> {
    for mark in sheet.layers.iter().flatten() {
        if let Mark::Path { d, .. } | Mark::Dots { d, .. } | Mark::Bands { d, .. } = mark {
            prop_assert!(!d.contains("NaN") && !d.contains("inf"), "{d}");
        }
    }
    for handle in &sheet.handles {
        let numbers =
            [handle.at.0, handle.at.1, handle.grows.0, handle.grows.1, handle.per_unit, handle.value];
        prop_assert!(numbers.iter().all(|number| number.is_finite()), "{handle:?}");
    }
    Ok(())
}

fn frames() -> impl Strategy<Value = Frame> {
    (200.0..1400.0f64, 160.0..900.0f64, prop::bool::ANY).prop_map(|(width, height, metric)| {
        Frame::screen(width, height, if metric { Units::Metric } else { Units::Us })
    })
}

/// What is read aloud in a drawing's place: whole sentences, none of them empty.
fn its_words_are_sentences(sheet: &Sheet) -> Result<(), TestCaseError> {
    let words = &sheet.description;
    let whole = words.strip_suffix('.').is_some_and(|words| words.split(". ").all(|one| one.len() > 3));
    prop_assert!(whole && !words.contains("  ") && !words.contains("NaN"), "{:?}: {words}", sheet.view);
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 120, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn drawings_are_clean(scenario in in_order(), frame in frames()) {
        let plan = plan(&scenario).expect("a scenario in order has a plan");
        for light in [Daylight::Plain, Daylight::Season, Daylight::Hour] {
            for view in View::ALL {
                let sheet = draw(view, &plan, frame.with_light(light));
                no_text_is_crossed(&sheet)?;
                every_number_is_finite(&sheet)?;
                its_words_are_sentences(&sheet)?;
            }
        }
        let beside = Memory::default().beside(&scenario);
        for sheet in [draw_pair(&plan, &beside, frame), draw_years(&plan, &[], frame)] {
            no_text_is_crossed(&sheet)?;
            every_number_is_finite(&sheet)?;
            its_words_are_sentences(&sheet)?;
        }
    }
}

/// ISO 5455: the drawing is as long as its scale says. The row width's extension lines stand on the
/// stems, so they are one row width apart.
#[test]
fn a_known_length_is_as_long_as_the_scale_says() {
    for (row_ft, ratio) in [(12.0, 50.0), (20.0, 100.0), (8.0, 25.0)] {
        let scenario =
            planting::Scenario { row_width: planting::feet(row_ft), ..planting::Scenario::default() };
        let plan = plan(&scenario).expect("a plan");
        let sheet = draw(View::Section, &plan, Frame::paper(400.0, 300.0, Units::Us, ratio));
        let row = sheet.handles.iter().find(|handle| handle.parameter == "row_width").expect("a handle");
        let across = row.at.0 - sheet.projection.origin.0;
        // Millimetres on paper times the ratio are millimetres on the ground; 304.8 mm to the foot.
        assert!((across * ratio / 304.8 - row_ft).abs() < 1e-9, "{row_ft} ft at 1:{ratio}: {across} mm");
    }
}

/// Whether a path of closed rings covers a point, by its winding number.
fn covers(d: &str, (x, y): (f64, f64)) -> bool {
    let mut winding = 0;
    for ring in d.split('Z').filter(|ring| !ring.is_empty()) {
        let mut lines = pieces(ring);
        if let (Some(first), Some(last)) = (lines.first().copied(), lines.last().copied()) {
            lines.push([last[1], first[0]]);
        }
        for [from, to] in lines {
            let side = (to.0 - from.0) * (y - from.1) - (x - from.0) * (to.1 - from.1);
            if from.1 <= y && to.1 > y && side > 0.0 {
                winding += 1;
            } else if from.1 > y && to.1 <= y && side < 0.0 {
                winding -= 1;
            }
        }
    }
    winding != 0
}

/// The bands drawn are those of the model's map: at the middle of every cell lies the colour of its light.
#[test]
fn bands_of_light_lie_where_the_map_has_them() {
    for (row_ft, azimuth_deg, year) in [(12.0, 0.0, 6.0), (9.0, 90.0, 15.0), (20.0, 30.0, 2.0)] {
        let scenario = planting::Scenario {
            row_width: planting::feet(row_ft),
            row_azimuth: planting::degrees(azimuth_deg),
            year,
            ..planting::Scenario::default()
        };
        let plan = plan(&scenario).expect("a plan");
        let frame = Frame::screen(1200.0, 700.0, Units::Us).with_light(Daylight::Season);
        let sheet = draw(View::Section, &plan, frame);
        let bands: Vec<(u8, &str)> = sheet
            .layers
            .iter()
            .flatten()
            .filter_map(|mark| match mark {
                Mark::Path { ink: drafting::sheet::Ink::Light(band), d } => Some((*band, d.as_str())),
                _ => None,
            })
            .collect();
        let map = &plan.light.season.map;
        // Facts of the light chapter: cut points 30, 50 and 70 %, half the first below, two thirds up above.
        let limits = [0.15, 0.30, 0.50, 0.70, 0.90];
        let (mut tried, mut met) = (0, std::collections::BTreeSet::new());
        for up in 1..map.up - 1 {
            for across in map.across / 2..map.across - 1 {
                let light = f64::from(map.cell(across, up).expect("a cell"));
                // Between cells the drawing goes straight; near a limit it may fall on either side.
                if limits.iter().any(|limit| (light - limit).abs() < 0.03) {
                    continue;
                }
                let expected = limits.iter().filter(|limit| light >= **limit).count();
                let at = |cell: usize, cells: usize| (cell as f64 + 0.5) / cells as f64;
                let place = sheet
                    .projection
                    .place((at(across, map.across) - 0.5) * map.width, at(up, map.up) * map.height);
                let drawn =
                    bands.iter().rev().find(|(_, d)| covers(d, place)).map(|(band, _)| usize::from(*band));
                assert_eq!(drawn, Some(expected), "{light} in cell {across}, {up} of rows {row_ft} ft apart");
                met.insert(expected);
                tried += 1;
            }
        }
        assert!(tried > 100 && met.len() >= 3, "{tried} cells, bands {met:?}");
    }
}

/// The ray over a crown's top meets the ground where the sun throws the top: h · c across the row, with
/// c = |sin(azimuth of sun − of row)| / tan β (plain trigonometry; the sun's place is checked elsewhere).
#[test]
fn rays_meet_the_ground_where_the_sun_throws_the_top() {
    for hour in [9.0, 11.0, 14.0] {
        let scenario = planting::Scenario { sun_hour: hour, ..planting::Scenario::default() };
        let plan = plan(&scenario).expect("a plan");
        let frame = Frame::screen(1200.0, 700.0, Units::Us).with_light(Daylight::Hour);
        let sheet = draw(View::Section, &plan, frame);
        let ray = sheet.layers.iter().flatten().find_map(|mark| match mark {
            Mark::Path { ink: drafting::sheet::Ink::Ray, d } => pieces(d).first().copied(),
            _ => None,
        });
        let [top, foot] = ray.expect("a ray");
        let sun = plan.light.moment;
        let across = plan.canopy.shown.crown.top * sun.azimuth.sin().abs() / sun.elevation.tan();
        let drawn = (foot.0 - top.0).abs() / sheet.projection.scale;
        assert!((drawn - across).abs() < 0.01, "at {hour} h: {drawn} m drawn, {across} m");
        // Before noon the sun stands in the east and shade falls to the west, left of the rows.
        assert_eq!(foot.0 < top.0, hour < 12.0);
    }
}
