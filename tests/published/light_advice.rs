//! Advice about light: where it speaks, where it is quiet, and that its remedies cure.

use crate::fixture::{FT, planned};
use planting::light::{DARK_SHARE, LOW_INTERCEPTION, LargeCrowns, SHADING_SHARE};
use planting::uom::si::f64::{Length, ReciprocalLength};
use planting::uom::si::reciprocal_length::reciprocal_meter;
use planting::{
    Advice, Choice, Plan, Quantity, Scenario, Severity, Slot, TrainingSystem, degrees, feet, inches, share,
};

const RULES: [&str; 3] = ["dark_middle", "floor_light", "rows_shading"];

fn finding<'a>(plan: &'a Plan, rule: &str) -> Option<&'a Advice> {
    plan.advice.iter().find(|advice| advice.rule == rule)
}

/// What each starting plan is told about its light. Trellised systems are neither dark nor in each other's
/// shade; low ones catch little. Wide free-standing trees have as few leaves as were measured, and most of these are lit.
#[test]
fn starting_plans() {
    use TrainingSystem::{LowTrellis, SlenderSpindle};
    for system in TrainingSystem::ALL {
        let plan = planned(&Scenario::for_system(*system));
        let told: Vec<&str> = RULES.into_iter().filter(|rule| finding(&plan, rule).is_some()).collect();
        let expected: &[&str] = match system {
            SlenderSpindle | LowTrellis => &["floor_light"],
            _ => &[],
        };
        assert_eq!(told, expected, "{}", system.label());
        for rule in told {
            assert_eq!(finding(&plan, rule).map(|advice| advice.severity), Some(Severity::Note));
        }
    }
}

/// Each rule speaks exactly where its figure passes the stated threshold.
#[test]
fn rules_speak_where_their_figures_say() {
    let leaves = |value: f64| ReciprocalLength::new::<reciprocal_meter>(value);
    let mut met = [[0; 2]; 3];
    for step in 0..40 {
        let step = f64::from(step);
        for scenario in [
            Scenario::default().with(|s| s.light.leaf_area_density = leaves(0.5 + 0.1 * step)),
            Scenario::default().with(|s| {
                s.block.row_width = feet(7.0 + 0.3 * step);
                s.canopy.canopy_width = feet(4.0);
            }),
            Scenario::default().with(|s| {
                s.light.latitude = degrees(30.0 + step);
                s.canopy.tree_height = feet(11.5);
            }),
        ] {
            let plan = planned(&scenario);
            let grown = &plan.light.grown;
            for (place, (rule, expected)) in RULES
                .into_iter()
                .zip([
                    grown.crown.under[0] > DARK_SHARE,
                    grown.intercepted < LOW_INTERCEPTION,
                    grown.shaded_by_rows > SHADING_SHARE,
                ])
                .enumerate()
            {
                assert_eq!(finding(&plan, rule).is_some(), expected, "{rule}: {grown:?}");
                met[place][usize::from(expected)] += 1;
            }
        }
    }
    assert!(met.iter().flatten().all(|times| *times > 0), "every rule was met speaking and quiet: {met:?}");
}

/// Robinson 2017, Acta Hort. 1177:79: trees as high as rows are wide are the limit, 0.9 of it is good; at
/// 42° in north-south rows the shading rule goes by that.
#[test]
fn rows_shade_each_other_beyond_the_published_ratio() {
    let tall = |ratio: f64, latitude: f64| {
        let row_width = feet(12.0);
        let scenario = Scenario::default().with(|s| {
            s.block.row_width = row_width;
            s.canopy.tree_height = row_width * ratio;
            s.canopy.vigour = share(1.5);
            s.light.latitude = degrees(latitude);
        });
        finding(&planned(&scenario), "rows_shading").is_some()
    };
    assert!(!tall(0.9, 42.0) && !tall(0.9, 30.0));
    assert!(tall(1.15, 42.0) && tall(0.9, 65.0), "farther from the equator rows must stand wider");
}

/// A plan whose light is that of winter: remedies are solved with the shoots of the present size, and those of another differ a little.
fn pruned(scenario: Scenario) -> Scenario {
    scenario.with(|s| s.light.season_shoots = share(0.0))
}

#[test]
fn remedies_let_the_light_in() {
    type Cure = fn(&mut Scenario, Length);
    let height: Cure = |s, to| s.canopy.tree_height = to;
    let width: Cure = |s, to| s.canopy.canopy_width = to;
    let rows: Cure = |s, to| s.block.row_width = to;
    let start = |change: fn(&mut Scenario)| {
        let mut scenario = Scenario::default();
        change(&mut scenario);
        scenario
    };
    let dense = |s: &mut Scenario| s.light.leaf_area_density *= 1.6;
    let mut cured = 0;
    for (rule, scenario, levers) in [
        ("dark_middle", start(dense), [height, width, rows]),
        (
            "dark_middle",
            start(|s| (s.canopy.canopy_width, s.block.row_width) = (feet(9.0), feet(14.0))),
            [height, width, rows],
        ),
        (
            "dark_middle",
            Scenario::for_system(TrainingSystem::Standard)
                .with(|s| s.light.large_crowns = LargeCrowns::AsDense),
            [height, width, rows],
        ),
        ("floor_light", start(|s| s.block.row_width = feet(17.0)), [rows, height, width]),
        ("floor_light", Scenario::for_system(TrainingSystem::SlenderSpindle), [rows, height, width]),
        ("floor_light", Scenario::for_system(TrainingSystem::LowTrellis), [rows, height, width]),
        (
            "rows_shading",
            start(|s| (s.light.latitude, s.canopy.tree_height) = (degrees(65.0), feet(12.0))),
            [rows, height, height],
        ),
    ] {
        let scenario = pruned(scenario);
        let plan = planned(&scenario);
        let advice = finding(&plan, rule).unwrap_or_else(|| panic!("{rule}"));
        let lengths: Vec<Length> = advice
            .remedy
            .values
            .iter()
            .filter_map(|slot| match slot {
                Slot::Number(value, Quantity::Length) => Some(feet(value / FT)),
                _ => None,
            })
            .collect();
        assert!(!lengths.is_empty(), "{rule}: {:?}", advice.remedy);
        for to in lengths {
            // Whichever length the sentence means, it must be one of the levers, and it must be the least change.
            let cures: Vec<&Cure> = levers
                .iter()
                .filter(|cure| {
                    let mut changed = scenario.clone();
                    cure(&mut changed, to);
                    planting::plan(&changed).is_ok_and(|plan| finding(&plan, rule).is_none())
                })
                .collect();
            assert!(!cures.is_empty(), "{rule}: {to:?} cures nothing");
            cured += 1;
        }
    }
    assert!(cured >= 10, "{cured}");
}

/// The change offered is the least that is enough, to a thousandth of the way.
#[test]
fn remedies_ask_for_no_more_than_needed() {
    let scenario = pruned(Scenario::default().with(|s| s.light.leaf_area_density *= 1.6));
    let plan = planned(&scenario);
    let cure = plan.light.cures.as_ref().and_then(|cures| cures.brighter).expect("dark");
    let width = cure.canopy_width.expect("narrower cures");
    let dark = |width: Length| {
        let tried = scenario.clone().with(|s| s.canopy.canopy_width = width);
        finding(&planned(&tried), "dark_middle").is_some()
    };
    assert!(!dark(width) && dark(width + inches(0.5)));
    assert!(width < scenario.canopy.canopy_width);
}

#[test]
fn seasons_belong_to_their_half_of_the_world() {
    use planting::light::Month::{April, August, March, May, November, September};
    for (latitude, first, last, speaks) in [
        (42.0, May, September, false),
        (-42.0, May, September, true),
        (-42.0, November, March, false),
        (42.0, November, March, true),
        (42.0, April, August, false),
        (-10.0, May, September, false),
    ] {
        let scenario = Scenario::default().with(|s| {
            s.light.latitude = degrees(latitude);
            s.light.season_first = first;
            s.light.season_last = last;
        });
        assert_eq!(finding(&planned(&scenario), "winter_season").is_some(), speaks, "{latitude}°");
    }
}

/// The south in its summer is the north in its own, half a year on, but for the shape of the orbit.
#[test]
fn south_and_north_are_alike() {
    use planting::light::Month::{March, November};
    let north = planned(&Scenario::default()).light.season;
    let south = planned(&Scenario::default().with(|s| {
        s.light.latitude = degrees(-42.0);
        s.light.season_first = November;
        s.light.season_last = March;
    }));
    assert!((north.intercepted - south.light.season.intercepted).abs() < 0.005);
    assert!((north.crown.mean - south.light.season.crown.mean).abs() < 0.005);
}
