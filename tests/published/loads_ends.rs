//! Row ends stand still: every post cut loose, its forces add up to nothing and turn about no point.

use crate::fixture::assert_near;
use crate::loads::{carried, worked};
use planting::kit::units::{POUND_FORCE, pounds_force};
use planting::loads::{BraceSpans, EndPoint, FreeBody, Held, Origin, Pull, RowEnd};
use planting::{degrees, feet};
use proptest::prelude::*;

/// Share of the largest force or moment that sums may be off by.
const STILL: f64 = 1e-9;

/// Sums of forces and of moments about three points that don't lie in line, and the closing polygon.
fn stands_still(body: &FreeBody) -> Result<(), TestCaseError> {
    let largest = body.forces.iter().map(|force| force.size()).fold(f64::MIN_POSITIVE, f64::max);
    let (along, up) = body.resultant();
    prop_assert!(along.abs() <= STILL * largest && up.abs() <= STILL * largest, "{body:?}: {along} {up}");
    for about in [body.foot, body.top, EndPoint { along: 3.7, up: -1.9 }] {
        let arm = 20.0;
        let turning = body.turning(about);
        prop_assert!(turning.abs() <= STILL * largest * arm, "{body:?} turns {turning} about {about:?}");
    }
    let corners = body.polygon();
    prop_assert_eq!(corners.len(), body.forces.len() + 1);
    let (first, last) = (corners[0], corners[corners.len() - 1]);
    prop_assert!((first.0 - last.0).hypot(first.1 - last.1) <= STILL * largest, "{corners:?} doesn't close");
    Ok(())
}

/// What one body does to another it does back: rails and diagonals between posts.
fn passes_on(bodies: &[FreeBody]) -> Result<(), TestCaseError> {
    for origin in [Origin::Rail, Origin::BraceWire] {
        let forces = || bodies.iter().flat_map(|body| &body.forces).filter(|force| force.origin == origin);
        let along: f64 = forces().map(|force| force.along).sum();
        let up: f64 = forces().map(|force| force.up).sum();
        let largest = forces().map(|force| force.size()).fold(f64::MIN_POSITIVE, f64::max);
        prop_assert!(
            along.abs() <= STILL * largest && up.abs() <= STILL * largest,
            "{origin:?}: {along} {up}"
        );
    }
    Ok(())
}

fn pulls() -> impl Strategy<Value = Pull> {
    (prop::collection::vec(0.5..16.0f64, 1..9), 1.0..3_000.0f64).prop_map(|(mut heights, tension)| {
        heights.sort_by(f64::total_cmp);
        Pull { heights: heights.into_iter().map(feet).collect(), tension: pounds_force(tension) }
    })
}

fn row_ends() -> impl Strategy<Value = RowEnd> {
    prop_oneof![
        (0.0..30.0f64, 3.0..20.0f64, 3.0..16.0f64).prop_map(|(lean, distance, height)| RowEnd::TieBack {
            lean: degrees(lean),
            distance: feet(distance),
            height: feet(height),
        }),
        (4.0..14.0f64, 3.0..10.0f64, prop::bool::ANY).prop_map(|(span, rail, two)| RowEnd::HBrace {
            span: feet(span),
            rail: feet(rail),
            spans: if two { BraceSpans::Two } else { BraceSpans::One },
        }),
    ]
}

proptest! {
    #[test]
    fn every_free_body_stands_still(pull in pulls(), end in row_ends()) {
        let bodies = end.free_bodies(&pull);
        prop_assert!(!bodies.is_empty());
        for body in &bodies {
            stands_still(body)?;
        }
        passes_on(&bodies)?;
        // The soil holds what the wires pull, less what a guy takes.
        let soil: f64 = bodies.iter().flat_map(|body| &body.forces).filter(|force| force.origin == Origin::Soil).map(|force| force.along).sum();
        let held = match end.under(&pull).expect("held") {
            Held::TieBack(forces) => forces.soil,
            Held::HBrace(forces) => forces.soil,
        };
        prop_assert!((soil + held.value).abs() <= STILL * pull.total().value);
    }

    /// A heavier pull makes every force of a row end larger in proportion.
    #[test]
    fn row_ends_are_in_proportion(pull in pulls(), end in row_ends(), times in 1.0..5.0f64) {
        let more = Pull { tension: pull.tension * times, ..pull.clone() };
        for (one, other) in end.free_bodies(&pull).iter().zip(end.free_bodies(&more)) {
            for (one, other) in one.forces.iter().zip(&other.forces) {
                let room = STILL * pull.total().value * times * 30.0;
                prop_assert!((one.along * times - other.along).abs() <= room && (one.up * times - other.up).abs() <= room);
            }
        }
    }
}

/// The drawing of the example: guy 2,349, soil 911, ground 1,661 lbf, in a polygon that comes back to its start.
#[test]
fn the_polygon_of_the_example_closes() {
    let asked = worked();
    let frame = asked.frame.clone().expect("wires");
    let bodies = frame.end.free_bodies(&carried(&asked).pull);
    assert_eq!(bodies.len(), 1);
    let sizes: Vec<(Origin, f64)> =
        bodies[0].forces.iter().map(|force| (force.origin, (force.size() / POUND_FORCE).round())).collect();
    assert_eq!(
        sizes,
        [
            (Origin::Wire(1), 643.0),
            (Origin::Wire(2), 643.0),
            (Origin::Wire(3), 643.0),
            (Origin::Wire(4), 643.0),
            (Origin::Guy, 2_349.0),
            (Origin::Soil, 911.0),
            (Origin::Ground, 1_661.0),
        ]
    );
    // 14,951 ft·lb one way and back.
    let foot = bodies[0].foot;
    let wires: f64 = bodies[0].forces[..4].iter().map(|force| force.turning(foot)).sum();
    assert_near(wires, -bodies[0].forces[4].turning(foot), 1e-12, "moments");
}

/// One wire of 100 lbf at the top: an equilateral end pulls its guy with 100, a plumb one at 45° with 141.4 and at 60° with 200 (own arithmetic; Fraser
/// and Oakes 1999 call the equilateral triangle the strongest form).
#[test]
fn the_equilateral_end_is_the_lightest_of_three() {
    let height = feet(9.0);
    let pull = Pull { heights: vec![height], tension: pounds_force(100.0) };
    let at_60 = height / 3f64.sqrt();
    for (lean, distance, expected) in
        [(30.0, at_60 * 2.0, 100.0), (0.0, height, 141.421_356), (0.0, at_60, 200.0)]
    {
        let end = RowEnd::TieBack { lean: degrees(lean), distance, height };
        let Some(Held::TieBack(forces)) = end.under(&pull) else { panic!("held") };
        assert_near(forces.guy.value / POUND_FORCE, expected, 1e-8, lean);
        assert_near(
            forces.slope.value,
            if expected > 141.0 && expected < 142.0 { 45f64 } else { 60.0 }.to_radians(),
            1e-9,
            lean,
        );
    }
}

/// Four wires at 250 lbf pull 1,000 lbf, the low end of the 1,000 to 1,500 a brace of several wires bears (BC Min. Agric. 307.220-1, 2015).
#[test]
fn braces_bear_the_wires_together() {
    let heights = [2.5, 4.75, 7.0, 9.0].map(feet).to_vec();
    let total = Pull { heights, tension: pounds_force(250.0) }.total();
    assert_near(total.value / POUND_FORCE, 1_000.0, 1e-12, "four wires");
}

/// Two spans halve diagonal and lift and leave the rail's push as it is; rail height doesn't matter to the lift.
#[test]
fn second_spans_halve_the_lift() {
    let pull = carried(&worked()).pull;
    let held =
        |rail: f64, spans| match (RowEnd::HBrace { span: feet(8.0), rail: feet(rail), spans }).under(&pull) {
            Some(Held::HBrace(forces)) => forces,
            other => panic!("{other:?}"),
        };
    let (one, two) = (held(7.0, BraceSpans::One), held(7.0, BraceSpans::Two));
    assert_near(two.wire.value, one.wire.value / 2.0, 1e-12, "diagonal");
    assert_near(two.uplift.value, one.uplift.value / 2.0, 1e-12, "lift");
    assert_eq!((two.rail, two.soil), (one.rail, one.soil));
    assert_near(held(4.0, BraceSpans::One).uplift.value, one.uplift.value, 1e-12, "lift by rail height");
}

/// A guy fastened at the ground, an anchor under the post and posts in one place hold nothing.
#[test]
fn ends_that_hold_nothing_say_so() {
    let pull = Pull { heights: vec![feet(9.0)], tension: pounds_force(100.0) };
    for end in [
        RowEnd::TieBack { lean: degrees(0.0), distance: feet(9.0), height: feet(0.0) },
        RowEnd::TieBack { lean: degrees(0.0), distance: feet(0.0), height: feet(9.0) },
        RowEnd::HBrace { span: feet(0.0), rail: feet(7.0), spans: BraceSpans::One },
        RowEnd::HBrace { span: feet(8.0), rail: feet(0.0), spans: BraceSpans::Two },
    ] {
        assert_eq!(end.under(&pull), None, "{end:?}");
        assert!(end.free_bodies(&pull).is_empty(), "{end:?}");
    }
}
