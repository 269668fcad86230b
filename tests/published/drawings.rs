//! Laws of the drawings, over any scenario and any frame: what a draughtsman would not sign.
//!
//! ISO 129-1: no figure is crossed by a line or by another figure. Scales: a known length on the sheet
//! is as long as the sheet's projection says.

use crate::strategy::in_order;
use drafting::sheet::{Bounds, Text};
use drafting::{Frame, Mark, Sheet, Units, View, draw};
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
        Mark::Path { ink: drafting::sheet::Ink::Dimension, d } => Some(pieces(d)),
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

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn drawings_are_clean(scenario in in_order(), frame in frames()) {
        let plan = plan(&scenario).expect("a scenario in order has a plan");
        for view in View::ALL {
            let sheet = draw(view, &plan, frame);
            no_text_is_crossed(&sheet)?;
            every_number_is_finite(&sheet)?;
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
