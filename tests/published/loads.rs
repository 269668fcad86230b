//! The trellis of a worked example, from crop to guy, anchor and brace.

use crate::fixture::{FT, assert_near, ten_rows_of_300_ft};
use planting::kit::units::{MPH, POUND, POUND_FORCE, PSF, PSI, pounds_force};
use planting::loads::{
    Anchor, Asked, Basis, Carried, Exposure, Gauge, Grade, Held, Inputs, Limits, Loads, Part, Pull, Reached,
    RowEnd, Soil, Species, asks,
};
use planting::uom::si::f64::Length;
use planting::{EndAssembly, Ground, SQUARE_METRES_PER_ACRE, Scenario, degrees, feet, ground, inches, share};

/// One inch `[m]`.
pub(crate) const IN: f64 = 0.0254;
/// One pound-force on a foot `[N/m]`.
pub(crate) const LBF_FT: f64 = POUND_FORCE / FT;
/// One foot-pound `[N·m]`.
pub(crate) const FT_LB: f64 = POUND_FORCE * FT;
/// Four digits, as the example is tabulated.
const TABULATED: f64 = 1e-4;

/// What this room asks of a scenario.
#[track_caller]
pub(crate) fn asked_of(scenario: &Scenario, inputs: &Inputs) -> Asked {
    let ground = Ground::lay(scenario, &mut ground::Memory::default()).expect("a scenario in order");
    asks::asked(&ground, inputs, None)
}

/// Ten rows of 300 ft, 12 ft apart, four wires of 12½ gauge and 170 ksi at 250 lbf, bays of 30 ft, posts of 5 in set 3 ft deep, 63,000 lb
/// an acre all on the wires, a gust of 70 mph in open country on crowns from 2 to 10 ft, plumb end posts guyed at 9 ft to
/// anchors 9 ft out (own example; inputs from OMAFRA, NRCS Georgia, UF CIR851 and Cornell where they say one).
pub(crate) fn worked_scenario() -> Scenario {
    ten_rows_of_300_ft().with(|s| {
        s.canopy.crown_base = feet(2.0);
        s.canopy.graft_union_height = inches(5.0);
        s.canopy.tree_height = feet(10.0);
    })
}

/// What is set about loads in the example.
pub(crate) fn worked_inputs() -> Inputs {
    Inputs { pretension: pounds_force(250.0), ..Inputs::usual(worked_scenario().system) }
}

pub(crate) fn worked() -> Asked {
    asked_of(&worked_scenario(), &worked_inputs())
}

#[track_caller]
pub(crate) fn carried(asked: &Asked) -> Carried {
    Carried::of(asked).expect("a trellis with wires")
}

#[test]
fn the_example_starts_from_what_it_says() {
    let inputs = worked_inputs();
    assert_eq!((inputs.wire_gauge, inputs.wire_grade), (Gauge::No12Half, Grade::Ksi170));
    assert_eq!(
        (inputs.soil, inputs.post_wood, inputs.exposure),
        (Soil::MediumClay, Species::RedPine, Exposure::C)
    );
    assert_eq!((inputs.share_on_wires, inputs.canopy_drag), (share(1.0), share(0.40)));
    assert_near(inputs.gust.value / MPH, 70.0, 1e-12, "gust");
    let asked = worked();
    let frame = asked.frame.expect("wires");
    assert_near(frame.bay.value / FT, 30.0, 1e-9, "bay");
    assert_eq!((frame.sides, frame.line_posts, asked.rows.len()), (1, 90, 10));
    assert_near(asked.crowns.bottom.value / FT, 2.0, 1e-12, "crown base");
}

/// Crop, wire, wind, post and soil, each as the example tabulates it.
#[test]
fn the_worked_example_comes_out_to_four_digits() {
    let asked = worked();
    let found = carried(&asked);
    let limits = Limits::of(&asked, &found);
    let index = |part, basis| limits.get(part, basis).expect("a limit").index.value;
    let soil_at = |soil| planting::loads::Embedment { soil, ..found.embedment };
    let lbf = |force: f64| force / POUND_FORCE;
    for (what, value, expected) in [
        ("crop, lb/ft", found.crop_on_row.value / (POUND / FT), 17.355),
        ("crop, kg/m", found.crop_on_row.value, 25.83),
        ("on each wire, lbf/ft", found.on_wire.value / LBF_FT, 4.3650),
        ("EA, lbf", lbf(found.wire.stiffness().value), 223_233.0),
        ("empty sag, in", found.empty.sag.value / IN, 0.1415),
        ("loaded H, lbf", lbf(found.loaded.horizontal.value), 639.69),
        ("loaded sag, in", found.loaded.sag.value / IN, 9.212),
        ("loaded T, lbf", lbf(found.loaded.tension.value), 643.03),
        ("T of breaking load", index(Part::Wire, Basis::Collapse), 0.491),
        ("sag if held, in", found.held.sag.value / IN, 23.571),
        ("cold, lbf", lbf(found.cold.horizontal.value), 337.0),
        ("hot, lbf", lbf(found.hot.horizontal.value), 192.0),
        ("Kz", Exposure::C.at(feet(10.0)), 0.84888),
        ("q, psf", found.wind.pressure.value / PSF, 9.0511),
        ("row, lbf/ft", found.wind.on_row.value / LBF_FT, 28.964),
        ("post, lbf", lbf(found.wind.on_post.value), 868.91),
        ("arm, ft", found.wind.arm.value / FT, 6.0),
        ("moment, ft-lb", found.wind.moment.value / FT_LB, 5_213.5),
        ("stress, psi", found.post_stress.value / PSI, 5_098.0),
        ("stress of 2,100", index(Part::Post, Basis::Rule), 2.43),
        ("stress of 6,600", index(Part::Post, Basis::Collapse), 0.772),
        ("code load, clay", lbf(soil_at(Soil::MediumClay).code_load().value), 33.6),
        ("code load, sand", lbf(soil_at(Soil::Sand).code_load().value), 50.4),
        ("code load, gravel", lbf(soil_at(Soil::Gravel).code_load().value), 67.2),
        ("collapse, sand", lbf(soil_at(Soil::Sand).collapse_load().value), 206.0),
        ("collapse, clay 1000", lbf(soil_at(Soil::MediumClay).collapse_load().value), 673.0),
        ("collapse, clay 2000", lbf(soil_at(Soil::StiffClay).collapse_load().value), 1_346.0),
        ("end moment, ft-lb", found.pull_strung.moment().value / FT_LB, 5_812.5),
        ("end moment, loaded", found.pull.moment().value / FT_LB, 14_950.5),
    ] {
        // What is printed with three digits holds to three.
        assert_near(value, expected, TABULATED.max(half_a_digit(expected)), what);
    }
    for (soil, depth) in [(Soil::MediumClay, 10.83), (Soil::Sand, 9.15), (Soil::Gravel, 8.13)] {
        let found = soil_at(soil).code_depth(found.wind.on_post).expect("a depth");
        assert_near(found.value / FT, depth, half_a_digit(depth), soil);
    }
}

/// Half of the last digit of a number as the example prints it, as a share of it.
fn half_a_digit(printed: f64) -> f64 {
    let mut last = 1.0;
    while ((printed / last).round() * last - printed).abs() > 1e-9 * printed.abs() {
        last /= 10.0;
    }
    0.5000001 * last / printed.abs()
}

/// Gusts at which post and soil are reached.
#[test]
fn gusts_of_the_example() {
    for (soil, gust) in [(Soil::Sand, 34.0), (Soil::MediumClay, 62.0), (Soil::StiffClay, 87.0)] {
        assert_eq!(
            gust_of(&Inputs { soil, ..worked_inputs() }, Part::Soil, Basis::Collapse).round(),
            gust,
            "{soil:?}"
        );
    }
    assert_near(gust_of(&worked_inputs(), Part::Post, Basis::Rule), 44.9, 1e-3, "2,100 psi");
    assert_near(gust_of(&worked_inputs(), Part::Post, Basis::Collapse), 79.6, 1e-3, "6,600 psi");
}

fn gust_of(inputs: &Inputs, part: Part, basis: Basis) -> f64 {
    let asked = asked_of(&worked_scenario(), inputs);
    match Limits::of(&asked, &carried(&asked)).get(part, basis).expect("a limit").reached {
        Reached::Gust(gust) => gust.value / MPH,
        other => panic!("{other:?}"),
    }
}

/// Crops at which the wire, its target, the guy and the anchor are reached, as the drawing of the example gives them (own arithmetic).
#[test]
fn crops_of_the_example() {
    let asked = worked();
    let limits = Limits::of(&asked, &carried(&asked));
    for (part, basis, expected) in [
        (Part::Wire, Basis::Collapse, 209_000.0),
        (Part::Wire, Basis::Rule, 65_000.0),
        (Part::Guy, Basis::Collapse, 76_500.0),
        (Part::Anchor, Basis::Collapse, 36_500.0),
    ] {
        let Reached::Crop(crop) = limits.get(part, basis).expect("a limit").reached else {
            panic!("{part:?}")
        };
        assert_near(crop.value * SQUARE_METRES_PER_ACRE / POUND, expected, 5e-3, (part, basis));
    }
}

/// Guys of four row ends, as strung and loaded, with thrust and soil of the first; and the H-brace.
#[test]
fn row_ends_of_the_example() {
    let found = carried(&worked());
    let heights = found.pull.heights.clone();
    let (strung, loaded) = (&found.pull_strung, &found.pull);
    let tie_back = |lean, distance| RowEnd::TieBack { lean: degrees(lean), distance, height: feet(9.0) };
    let equilateral = tie_back(30.0, feet(2.0 * 9.0 / 3f64.sqrt()));
    for (what, end, guys) in [
        ("plumb, 45°", tie_back(0.0, feet(9.0)), [913.3, 2_349.3]),
        ("plumb, 60°", tie_back(0.0, feet(5.196)), [1_291.7, 3_322.4]),
        ("leaned 16.5°", tie_back(16.5, feet(9.0)), [789.7, 2_031.3]),
        ("equilateral", equilateral, [645.8, 1_661.2]),
    ] {
        for (pull, expected) in [strung, loaded].into_iter().zip(guys) {
            let Some(Held::TieBack(held)) = end.under(pull) else { panic!("{what}") };
            assert_near(held.guy.value / POUND_FORCE, expected, TABULATED, what);
        }
    }
    let (Some(Held::TieBack(strung_end)), Some(Held::TieBack(end))) = (found.held_strung, found.held_loaded)
    else {
        panic!("a tie-back")
    };
    for (what, force, expected) in [
        ("thrust", strung_end.thrust, 645.8),
        ("soil", strung_end.soil, 354.2),
        ("thrust, loaded", end.thrust, 1_661.2),
        ("soil, loaded", end.soil, 911.0),
    ] {
        assert_near(force.value / POUND_FORCE, expected, TABULATED.max(half_a_digit(expected)), what);
    }
    let brace = RowEnd::HBrace { span: feet(8.0), rail: feet(7.0), spans: planting::loads::BraceSpans::One };
    for (tension, expected) in [
        (pounds_force(250.0), [830.4, 1_103.4, 726.6, 1_000.0]),
        (found.loaded.tension, [2_135.8, 2_838.0, 1_868.8, 2_572.1]),
    ] {
        let Some(Held::HBrace(held)) = brace.under(&Pull { heights: heights.clone(), tension }) else {
            panic!("a brace")
        };
        for (force, expected) in [held.rail, held.wire, held.uplift, held.soil].into_iter().zip(expected) {
            assert_near(force.value / POUND_FORCE, expected, TABULATED, "H-brace");
        }
    }
    let comes = Anchor::Plate6.pull_out(Soil::MediumClay, feet(4.0));
    assert_near((comes / strung_end.guy).value, 1.93, 5e-3, "anchor, as strung");
    assert_near((comes / end.guy).value, 0.75, 5e-3, "anchor, loaded");
}

/// A braced row end comes out of the ground's own setting.
#[test]
fn braced_ends_are_taken_from_the_ground() {
    let braced = worked_scenario().with(|s| s.trellis.end_assembly = EndAssembly::HBrace);
    let loads = Loads::of(&asked_of(&braced, &worked_inputs()));
    assert!(loads.limits.get(Part::Anchor, Basis::Collapse).is_none());
    let wire = loads.limits.get(Part::BraceWire, Basis::Collapse).expect("a brace wire").index.value;
    // Four strands of 12½ gauge at 170 ksi: 5,234 lbf (own arithmetic).
    assert_near(wire, 2_838.0 / 5_234.0, 2e-4, "brace wire");
    let rail = loads.limits.get(Part::Rail, Basis::Collapse).expect("a rail").index.value;
    assert_near(rail, 2_135.8 / 13_458.0, 2e-4, "rail");
}

/// Ice of half an inch at 60 °F below: 348 lbf, 1.55 in of sag (own arithmetic).
#[test]
fn iced_wires_of_the_example() {
    let found = carried(&asked_of(&worked_scenario(), &Inputs { ice: inches(0.5), ..worked_inputs() }));
    assert_near(found.cold.horizontal.value / POUND_FORCE, 348.0, half_a_digit(348.0), "iced");
    assert_near(found.cold.sag.value / IN, 1.55, half_a_digit(1.55), "iced sag");
}

/// The end post's length above the ground, leaned 60° from it, reaches 7.79 ft: too low for a wire at 9 ft.
#[test]
fn a_leaning_post_is_lower_than_it_is_long() {
    let reach: Length = feet(9.0) * 60f64.to_radians().sin();
    assert_near(reach.value / FT, 7.79, 1e-3, "9 sin 60°");
}
