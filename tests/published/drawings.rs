//! Laws of the drawings, over any scenario and any frame: what a draughtsman would not sign.
//!
//! ISO 129-1: no figure is crossed by a line or by another figure. Scales: a known length on the sheet
//! is as long as the sheet's projection says.

use crate::strategy::in_order;
use drafting::sheet::{Ink, Text};
use drafting::{
    Bounds, Daylight, Frame, Line, Mark, Path, Point, Sheet, Units, View, draw, draw_with, draw_years, light,
    over,
};
use planting::manifest::CHAPTERS;
use planting::plan;
use proptest::prelude::*;

fn shrunk(bounds: Bounds) -> Bounds {
    /// Coordinates are written to hundredths of a paper unit; two of them may fall together.
    const ROUNDING: f64 = 0.02;
    Bounds { across: bounds.across.widened(-ROUNDING), down: bounds.down.widened(-ROUNDING) }
}

fn no_text_is_crossed(sheet: &Sheet) -> Result<(), TestCaseError> {
    let texts: Vec<&Text> = sheet.texts().collect();
    let page = Bounds::between(Point::default(), Point::new(sheet.width, sheet.height));
    for (place, text) in texts.iter().enumerate() {
        prop_assert!(text.bounds().inside(&page), "{:?} runs off the sheet", text.content);
        for other in &texts[place + 1..] {
            let apart = !shrunk(text.bounds()).meets(&shrunk(other.bounds()));
            prop_assert!(apart, "{:?} and {:?} overlap", text.content, other.content);
        }
    }
    let lines = sheet.layers.iter().flatten().filter_map(|mark| match mark {
        Mark::Path { ink: Ink::Dimension | Ink::Edge, path } => Some(path.lines()),
        _ => None,
    });
    for line in lines.flatten() {
        for text in &texts {
            let crossed = shrunk(text.bounds()).cuts(line);
            prop_assert!(crossed.is_none(), "a line runs through {:?}", text.content);
        }
    }
    Ok(())
}

fn every_number_is_finite(sheet: &Sheet) -> Result<(), TestCaseError> {
    for mark in sheet.layers.iter().flatten() {
        if let Mark::Path { path, .. } | Mark::Dots { lines: path, .. } | Mark::Bands { lines: path, .. } =
            mark
        {
            prop_assert!(path.is_finite(), "{path:?}");
        }
    }
    for handle in &sheet.handles {
        let (at, grows) = (handle.at, handle.grows);
        let numbers = [at.x, at.y, grows.right, grows.down, handle.per_unit, handle.value];
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
        // The views of a planting with what each room adds to them; the rooms' own views; years that are still being summed.
        let mut sheets = vec![draw_years(&plan, &[], frame)];
        for chapter in CHAPTERS {
            let lights = [Daylight::Plain, Daylight::Season, Daylight::Hour];
            for daylight in lights.into_iter().take(if chapter.lit { 3 } else { 1 }) {
                let over = over(chapter.key, daylight, &plan);
                sheets.extend(View::ALL.map(|view| draw_with(view, &plan, frame, &*over)));
            }
        }
        let of_rooms = View::EVERY.iter().filter(|view| !View::ALL.contains(view));
        sheets.extend(of_rooms.map(|view| draw(*view, &plan, frame)));
        for sheet in &sheets {
            no_text_is_crossed(sheet)?;
            every_number_is_finite(sheet)?;
            its_words_are_sentences(sheet)?;
        }
    }
}

/// ISO 5455: the drawing is as long as its scale says. The row width's extension lines stand on the
/// stems, so they are one row width apart.
#[test]
fn a_known_length_is_as_long_as_the_scale_says() {
    for (row_ft, ratio) in [(12.0, 50.0), (20.0, 100.0), (8.0, 25.0)] {
        let scenario = planting::Scenario::default().with(|s| s.block.row_width = planting::feet(row_ft));
        let plan = plan(&scenario).expect("a plan");
        let sheet = draw(View::Section, &plan, Frame::paper(400.0, 300.0, Units::Us, ratio));
        let row = sheet.handles.iter().find(|handle| handle.parameter == "row_width").expect("a handle");
        let across = row.at.x - sheet.projection.origin.x;
        // Millimetres on paper times the ratio are millimetres on the ground; 304.8 mm to the foot.
        assert!((across * ratio / 304.8 - row_ft).abs() < 1e-9, "{row_ft} ft at 1:{ratio}: {across} mm");
    }
}

/// The bands drawn are those of the model's map: at the middle of every cell lies the colour of its light.
/// A modelled height claims tenths of a foot; a height that was chosen is written as it was chosen.
#[test]
fn a_growing_tree_claims_no_hundredths() {
    let heights = |change: fn(&mut planting::Scenario)| {
        let mut scenario = planting::Scenario::default();
        change(&mut scenario);
        let plan = plan(&scenario).expect("a plan");
        let top = plan.ground.canopy.shown.crown.top;
        let sheet = draw(View::Section, &plan, Frame::screen(720.0, 420.0, Units::Us));
        (planting::feet(1.0).value, top, sheet.texts().map(|text| text.content.clone()).collect::<Vec<_>>())
    };
    let (foot, top, texts) = heights(|_| ());
    assert!((top / foot * 10.0).fract().abs() > 0.05, "{top} m is told by tenths of a foot already");
    assert!(texts.contains(&format!("{:.1} ft", top / foot)), "{texts:?}");
    assert!(!texts.contains(&format!("{:.2} ft", top / foot)), "{texts:?}");
    let (_, _, texts) = heights(|scenario| {
        (scenario.canopy.tree_height, scenario.canopy.year) = (planting::feet(8.25), 20.0)
    });
    assert!(texts.contains(&"8.25 ft".to_owned()), "{texts:?}");
}

#[test]
fn bands_of_light_lie_where_the_map_has_them() {
    for (row_ft, azimuth_deg, year) in [(12.0, 0.0, 6.0), (9.0, 90.0, 15.0), (20.0, 30.0, 2.0)] {
        let scenario = planting::Scenario::default().with(|s| {
            s.block.row_width = planting::feet(row_ft);
            s.block.row_azimuth = planting::degrees(azimuth_deg);
            s.canopy.year = year;
        });
        let plan = plan(&scenario).expect("a plan");
        let frame = Frame::screen(1200.0, 700.0, Units::Us);
        let sheet = draw_with(View::Section, &plan, frame, &*light::over(Daylight::Season, &plan.light));
        let bands: Vec<(u8, &Path)> = sheet
            .layers
            .iter()
            .flatten()
            .filter_map(|mark| match mark {
                Mark::Path { ink: Ink::Light(band), path } => Some((*band, path)),
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
                let point = sheet
                    .projection
                    .paper((at(across, map.across) - 0.5) * map.width, at(up, map.up) * map.height);
                let drawn = bands
                    .iter()
                    .rev()
                    .find(|(_, path)| path.covers(point))
                    .map(|(band, _)| usize::from(*band));
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
        let scenario = planting::Scenario::default().with(|s| s.light.sun_hour = hour);
        let plan = plan(&scenario).expect("a plan");
        let frame = Frame::screen(1200.0, 700.0, Units::Us);
        let sheet = draw_with(View::Section, &plan, frame, &*light::over(Daylight::Hour, &plan.light));
        let ray = sheet.layers.iter().flatten().find_map(|mark| match mark {
            Mark::Path { ink: Ink::Ray, path } => path.lines().first().copied(),
            _ => None,
        });
        let Line { from: top, to: foot } = ray.expect("a ray");
        let sun = plan.light.moment;
        let across = plan.canopy.shown.crown.top * sun.azimuth.value.sin().abs() / sun.elevation.value.tan();
        let drawn = (foot.x - top.x).abs() / sheet.projection.scale;
        assert!((drawn - across).abs() < 0.01, "at {hour} h: {drawn} m drawn, {across} m");
        // Before noon the sun stands in the east and shade falls to the west, left of the rows.
        assert_eq!(foot.x < top.x, hour < 12.0);
    }
}
