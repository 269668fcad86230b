//! Light changes smoothly: fine sweeps of every number find no jump and no kink in any figure of light, and none that moves
//! the wrong way.

use crate::fixture::figure;
use planting::light::figures::FIGURES;
use planting::{
    Canopy, Kind, Memory, Number, REGISTRY, Scenario, TrainingSystem, degrees, parameter, plan_with,
};

/// Figures of the hour set, whose sun sets, and the cut points' own hour.
const OF_THE_HOUR: [&str; 3] = ["sun_elevation", "shadow_across", "shaded_ground"];
/// Numbers that are set in whole steps only.
const WHOLE: [&str; 2] = ["year", "sun_day"];
/// Steps of a sweep to either side, each a tenth of a slider's.
const STEPS: i32 = 12;
const TENTH: f64 = 0.1;

fn number(key: &str) -> Number {
    match parameter(key).map(|found| found.kind) {
        Some(Kind::Number(number)) => number,
        _ => panic!("{key} is no number"),
    }
}

/// Plantings of different kinds: upright and closed, leaning a little, leaning, wide and open, rows aslant.
fn plantings() -> Vec<(&'static str, Scenario)> {
    let system = Scenario::for_system;
    vec![
        ("tall spindle", Scenario::default()),
        (
            "leaning a little",
            system(TrainingSystem::VTrellis).with(|s| (s.canopy.lean, s.canopy.year) = (degrees(2.0), 10.0)),
        ),
        ("V trellis", system(TrainingSystem::VTrellis)),
        ("central leader", system(TrainingSystem::CentralLeader).with(|s| s.canopy.year = 12.0)),
        (
            "aslant",
            Scenario::default().with(|s| (s.block.row_azimuth, s.canopy.year) = (degrees(20.0), 12.0)),
        ),
    ]
}

/// The values a number takes around where it is, as far as they are in range.
fn sweep(scenario: &Scenario, number: Number) -> Vec<Scenario> {
    let middle = (number.get)(scenario);
    (-STEPS..=STEPS)
        .map(|step| middle + f64::from(step) * TENTH * number.step_metric)
        .filter(|value| number.fault(*value).is_none())
        .map(|value| scenario.clone().with(|s| (number.set)(s, value)))
        .filter(|changed| changed.problems().is_empty())
        .collect()
}

/// Every figure of light over a sweep, a list for each.
fn figures(sweep: &[Scenario]) -> Vec<(&'static str, Vec<f64>)> {
    let mut memory = Memory::default();
    let plans: Vec<_> =
        sweep.iter().map(|scenario| plan_with(scenario, &mut memory).expect("in order")).collect();
    let keys = FIGURES.iter().map(|line| line.key).filter(|key| !OF_THE_HOUR.contains(key));
    keys.map(|key| (key, plans.iter().map(|plan| figure(plan, key)).collect())).collect()
}

/// How much a figure's step may differ from the one before it: four tenths of a percentage point, and as much of a ratio.
const KINK: f64 = 0.004;
/// The same where crowns are taken as solid: the edges of whole shadows pass over places on the ground.
const KINK_OF_SOLID: f64 = 0.006;
const SOLID: [&str; 2] = ["light_largest", "light_self_shading"];

#[test]
fn no_number_jumps_or_kinks_a_figure() {
    let mut beyond = Vec::new();
    for (what, scenario) in plantings() {
        for parameter in REGISTRY {
            let Kind::Number(number) = parameter.kind else { continue };
            if WHOLE.contains(&parameter.key) {
                continue;
            }
            for (key, values) in figures(&sweep(&scenario, number)) {
                let kink = values
                    .windows(3)
                    .map(|three| (three[0] - 2.0 * three[1] + three[2]).abs())
                    .fold(0.0, f64::max);
                let most = if SOLID.contains(&key) { KINK_OF_SOLID } else { KINK };
                if kink > most {
                    beyond.push((kink, what, parameter.key, key));
                }
            }
        }
    }
    assert!(beyond.is_empty(), "{beyond:#?}");
}

/// Trees that begin to lean: from 0° to 1° and on, what the canopy and the light say follows without a jump.
#[test]
fn trees_begin_to_lean_smoothly() {
    let at = |lean: f64| {
        Scenario::for_system(TrainingSystem::VTrellis)
            .with(|s| (s.canopy.lean, s.canopy.year) = (degrees(lean), 10.0))
    };
    let mut scenarios = vec![at(0.0), at(1e-6)];
    scenarios.extend((1..=150).map(|step| at(f64::from(step) * 0.1)));
    let mut all = figures(&scenarios);
    let canopies: Vec<Canopy> =
        scenarios.iter().map(|scenario| Canopy::grow(&planting::ground::canopy_asked(scenario))).collect();
    all.push(("canopy fill", canopies.iter().map(|canopy| canopy.shown.canopy_fill).collect()));
    all.push(("ground cover", canopies.iter().map(|canopy| canopy.shown.ground_cover).collect()));
    all.push(("row fill", canopies.iter().map(|canopy| canopy.shown.row_fill).collect()));
    all.push(("space along", canopies.iter().map(|canopy| canopy.shown.crown.along).collect()));
    for (key, values) in all {
        assert!(
            (values[0] - values[1]).abs() < 1e-4,
            "{key}: {} upright, {} a hair off",
            values[0],
            values[1]
        );
        // A tenth of a degree moves none by more than a point and a half; 1° did by up to 33.
        for (step, pair) in values.windows(2).enumerate() {
            assert!((pair[0] - pair[1]).abs() < 0.015, "{key}, step {step}: {pair:?}");
        }
        if matches!(key, "ground cover" | "space along") {
            assert!(values.is_sorted_by(|less, more| *less <= more + 1e-12), "{key}: {values:?}");
        }
    }
}

/// Rows at 0° are summed on one side and mirrored; a hair off, both sides are summed at the same places.
#[test]
fn rows_a_hair_off_north_are_like_rows_due_north() {
    for (what, scenario) in plantings() {
        let at = |azimuth: f64| scenario.clone().with(|s| s.block.row_azimuth = degrees(azimuth));
        for (key, values) in figures(&[at(0.0), at(1e-6), at(180.0 - 1e-6)]) {
            let [north, off, back] = values[..] else { panic!("three") };
            assert!((north - off).abs() < 1e-4, "{what}, {key}: {values:?}");
            // Seen from the other end, rays meet the crowns at other places: the difference is that of sampling.
            assert!((north - back).abs() < 0.03, "{what}, {key}: {values:?}");
        }
    }
}

/// The light on the alley floor doesn't saw while the canopy widens: over two feet in steps of a twentieth it went up and down by half
/// a point to a point and a half, as strips of ground dropped out of the mean.
#[test]
fn light_on_the_floor_does_not_saw() {
    let width = number("canopy_width");
    let at = |step: i32| {
        Scenario::default().with(|s| {
            s.canopy.year = 12.0;
            (width.set)(s, 0.3048 * (3.5 + 0.05 * f64::from(step)));
        })
    };
    let scenarios: Vec<Scenario> = (0..70).map(at).collect();
    for (key, values) in figures(&scenarios) {
        if key == "light_floor" {
            for pair in values.windows(2) {
                assert!(pair[1] - pair[0] < 0.0015, "{pair:?} rises");
                assert!(pair[0] - pair[1] < 0.006, "{pair:?} falls");
            }
        }
    }
}

/// Which way figures move with a number; sampling may hide a thousandth of it.
#[test]
fn figures_move_the_right_way() {
    const HIDDEN: f64 = 0.001;
    for (input, key, rises) in [
        ("leaf_area_density", "light_intercepted", true),
        ("leaf_area_density", "light_metered_low", true),
        ("leaf_area_density", "crown_under_flowering_light", true),
        ("leaf_area_density", "light_lowest_third", false),
        ("leaf_area_density", "light_floor", false),
        ("season_shoots", "light_intercepted", true),
        ("season_shoots", "leaf_area_index", true),
        ("season_shoots", "leaf_area_density_now", false),
        ("tree_height", "light_intercepted", true),
        ("tree_height", "leaf_area_index", true),
        ("canopy_width", "light_intercepted", true),
        ("canopy_width", "leaf_area_index", true),
        ("row_width", "light_intercepted", false),
        ("row_width", "light_metered_high", false),
        ("row_width", "light_lowest_third", true),
        ("row_width", "light_floor", true),
        ("wood_and_fruit", "light_intercepted", true),
        ("leaf_clumping", "light_intercepted", true),
        ("light_for_flowers", "crown_under_flowering_light", true),
        ("light_for_flowers", "crown_under_flowering_light_high", true),
    ] {
        for (what, scenario) in plantings() {
            let found = figures(&sweep(&scenario, number(input)));
            let values = found.into_iter().find(|(found, _)| *found == key).map(|(_, values)| values);
            for pair in values.expect("a figure of light").windows(2) {
                let rise = if rises { pair[1] - pair[0] } else { pair[0] - pair[1] };
                assert!(rise > -HIDDEN, "{what}: {key} over {input}: {pair:?}");
            }
        }
    }
}
