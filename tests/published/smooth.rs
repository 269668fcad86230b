//! No figure of the trees jumps, bends at a corner or moves the wrong way as a number is moved.
//!
//! A function bends smoothly at a place if its second difference falls with the square of the step; at a corner it
//! falls with the step, at a jump not at all. Where it may end without a second derivative, as where the disc of a crown
//! comes to touch its space, it falls with the step's power of one and a half.

use crate::strategy::in_order;
use planting::canopy::figures::FIGURES;
use planting::ground::canopy_asked;
use planting::kit::figure::find;
use planting::{Canopy, Choice, GrowthPace, Kind, Rootstock, Scenario, TrainingSystem, parameter, share};
use proptest::prelude::*;

/// Numbers that move the trees. Leaning isn't among them, nor are leaning trees: upright ones have
/// their neighbour one space off, leaning ones two, and the width of a V is that of its base or of its top.
const MOVERS: [&str; 7] =
    ["vigour", "in_row_spacing", "row_width", "tree_height", "canopy_width", "crown_base", "crown_taper"];

/// Steps of a sweep over a number's whole range, and how many times finer the second look is.
const STEPS: u32 = 240;
const FINER: f64 = 16.0;

/// Second differences that fall less than this, when steps are sixteen times finer, belong to a corner: there they fall
/// sixteen times, at a smooth place 64 (power of one and a half) to 256 times.
const SMOOTH: f64 = 30.0;

/// Second differences this small against a figure's size are rounding or the sum over slices of a crown `[–]`.
const ROUNDING: f64 = 2e-6;

fn set(scenario: &Scenario, key: &str, value: f64) -> Scenario {
    let mut moved = scenario.clone();
    match parameter(key).expect("an input").kind {
        Kind::Number(number) => (number.set)(&mut moved, value),
        _ => panic!("{key} is no number"),
    }
    moved
}

fn range(key: &str) -> (f64, f64) {
    match parameter(key).expect("an input").kind {
        Kind::Number(number) => (number.min, number.max),
        _ => panic!("{key} is no number"),
    }
}

/// Every figure of the canopy in the order of the table; none where the plan has no such value.
fn read(scenario: &Scenario) -> Vec<Option<f64>> {
    let canopy = Canopy::grow(&canopy_asked(scenario));
    FIGURES.iter().map(|line| find(FIGURES, line.key, &canopy).and_then(|figure| figure.value)).collect()
}

/// The largest second difference of each figure around the places of a sweep, and where it is.
fn bends(scenario: &Scenario, key: &str, from: f64, step: f64, count: u32) -> Vec<(f64, f64)> {
    let at = |place: u32| read(&set(scenario, key, from + step * f64::from(place)));
    let rows: Vec<Vec<Option<f64>>> = (0..=count).map(at).collect();
    (0..FIGURES.len())
        .map(|figure| {
            let bend = |place: usize| {
                let [a, b, c] = [0, 1, 2].map(|next| rows[place + next][figure]);
                match (a, b, c) {
                    (Some(a), Some(b), Some(c)) => (a - 2.0 * b + c).abs() / b.abs().max(0.01),
                    _ => 0.0,
                }
            };
            let places = 0..rows.len() - 2;
            places.map(|place| (bend(place), from + step * (place as f64 + 1.0))).fold(
                (0.0, from),
                |most, here| {
                    if here.0 > most.0 { here } else { most }
                },
            )
        })
        .collect()
}

/// Sweeps one number over its range and looks again, finer, where a figure bends most.
fn is_smooth(scenario: &Scenario, key: &str) -> Result<(), String> {
    let (min, max) = range(key);
    let step = (max - min) / f64::from(STEPS);
    let coarse = bends(scenario, key, min, step, STEPS);
    for (figure, (bend, place)) in coarse.iter().enumerate() {
        if *bend < ROUNDING {
            continue;
        }
        let fine_step = step / FINER;
        let from = (place - step).max(min);
        let finer = bends(scenario, key, from, fine_step, 2 * FINER as u32)[figure].0;
        if finer > (bend / SMOOTH).max(ROUNDING) {
            return Err(format!(
                "{} over {key}: {bend:e} at {place}, {finer:e} in finer steps",
                FIGURES[figure].key
            ));
        }
    }
    Ok(())
}

#[test]
fn figures_of_the_trees_are_smooth_in_every_number() {
    for system in [
        TrainingSystem::TallSpindle,
        TrainingSystem::SuperSpindle,
        TrainingSystem::VerticalAxis,
        TrainingSystem::CentralLeader,
        TrainingSystem::LowTrellis,
        TrainingSystem::Standard,
    ] {
        for year in [1.0, 3.0, 6.0, 20.0] {
            let scenario = Scenario::for_system(system).with(|s| s.canopy.year = year);
            for key in MOVERS {
                if let Err(what) = is_smooth(&scenario, key) {
                    panic!("{} in year {year}: {what}", system.label());
                }
            }
        }
    }
}

/// A corner and a jump are seen, a bend isn't.
#[test]
fn the_look_tells_corners_from_bends() {
    let falls = |curve: fn(f64) -> f64| {
        let bend =
            |step: f64| (curve(-step / 3.0) - 2.0 * curve(step * 2.0 / 3.0) + curve(step * 5.0 / 3.0)).abs();
        bend(0.01) / bend(0.01 / FINER)
    };
    assert!(falls(f64::abs) < SMOOTH, "a corner");
    assert!(falls(|x| if x > 0.0 { 1.0 } else { 0.0 }) < SMOOTH, "a jump");
    assert!(falls(|x| x.max(0.0).powf(1.5)) > SMOOTH, "an end without a second derivative");
    assert!(falls(|x| (x + 1.0).powi(3)) > SMOOTH, "a bend");
}

/// Room for rounding in a comparison of like quantities.
const HAIR: f64 = 1e-9;

/// What a figure may do when a number grows.
#[derive(Clone, Copy, Debug)]
enum Way {
    Up,
    Down,
}

/// How figures move with a number, others held.
const WAYS: &[(&str, &str, Way)] = &[
    ("vigour", "trunk_area_now", Way::Up),
    ("vigour", "free_height_now", Way::Up),
    ("vigour", "free_spread_now", Way::Up),
    ("vigour", "tree_height_now", Way::Up),
    ("vigour", "row_fill", Way::Up),
    ("vigour", "crown_width_across", Way::Up),
    ("vigour", "suggested_spacing", Way::Up),
    ("vigour", "years_to_fill", Way::Down),
    ("vigour", "years_to_height", Way::Down),
    ("vigour", "years_to_height_quick", Way::Down),
    ("vigour", "years_to_height_slow", Way::Down),
    ("in_row_spacing", "trunk_area_now", Way::Up),
    ("in_row_spacing", "free_spread_now", Way::Up),
    ("in_row_spacing", "row_fill", Way::Down),
    ("in_row_spacing", "years_to_fill", Way::Up),
    ("row_width", "trunk_area_now", Way::Up),
    ("row_width", "clear_alley", Way::Up),
    ("row_width", "ground_cover", Way::Down),
    ("tree_height", "tree_height_now", Way::Up),
    ("tree_height", "years_to_height", Way::Up),
    ("canopy_width", "crown_width_across", Way::Up),
    ("year", "trunk_area_now", Way::Up),
    ("year", "free_height_now", Way::Up),
    ("year", "free_spread_now", Way::Up),
    ("year", "tree_height_now", Way::Up),
    ("year", "row_fill", Way::Up),
];

fn canopy_figure(scenario: &Scenario, key: &str) -> f64 {
    let canopy = Canopy::grow(&canopy_asked(scenario));
    // A year that doesn't come is later than any that does.
    find(FIGURES, key, &canopy).expect("a figure").value.unwrap_or(f64::INFINITY)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 120, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_figure_moves_the_wrong_way(scenario in in_order(), one in 0.0..=1.0f64, other in 0.0..=1.0f64) {
        for (mover, key, way) in WAYS {
            let (min, max) = range(mover);
            let at = |share: f64| canopy_figure(&set(&scenario, mover, min + (max - min) * share), key);
            let (less, more) = (at(one.min(other)), at(one.max(other)));
            let (less, more) = match way { Way::Up => (less, more), Way::Down => (more, less) };
            prop_assert!(more >= less - HAIR, "{key} with more {mover}: {less} and {more}, {way:?}");
        }
    }

    /// Slow trees are never ahead of quick ones.
    #[test]
    fn paces_keep_their_order(scenario in in_order()) {
        let at = |pace: GrowthPace, key| canopy_figure(&scenario.clone().with(|s| s.canopy.growth_pace = pace), key);
        for key in ["trunk_area_now", "free_height_now", "free_spread_now", "row_fill"] {
            let sizes = [GrowthPace::Slow, GrowthPace::Usual, GrowthPace::Quick].map(|pace| at(pace, key));
            prop_assert!(sizes.is_sorted(), "{key}: {sizes:?}");
        }
    }
}

/// Of what fills its space, a stronger tree grows more beyond it, and a wider or taller space leaves less beyond it.
#[test]
fn the_excess_goes_with_vigour_and_against_room() {
    for system in TrainingSystem::ALL {
        for rootstock in [Rootstock::B9, Rootstock::G11, Rootstock::MM106] {
            let grown = Scenario::for_system(*system).with(|s| {
                (s.canopy.rootstock, s.canopy.year) = (rootstock, 20.0);
            });
            let excess = |scenario: &Scenario| canopy_figure(scenario, "yearly_excess_share");
            let (tall, wide) = (range("tree_height").1, range("canopy_width").1);
            for (mover, way, other) in [
                ("vigour", Way::Up, None),
                // Each by itself: with room above for the one, with room across for the other.
                ("canopy_width", Way::Down, Some(("tree_height", tall))),
                ("tree_height", Way::Down, Some(("canopy_width", wide))),
            ] {
                let (min, max) = range(mover);
                let grown = other.map_or_else(|| grown.clone(), |(key, value)| set(&grown, key, value));
                let shares: Vec<f64> = (0..=60)
                    .map(|step| excess(&set(&grown, mover, min + (max - min) * f64::from(step) / 60.0)))
                    .collect();
                let in_order = shares.windows(2).all(|pair| match way {
                    Way::Up => pair[1] >= pair[0] - HAIR,
                    Way::Down => pair[1] <= pair[0] + HAIR,
                });
                assert!(in_order, "{} on {} over {mover}: {shares:?}", system.label(), rootstock.label());
            }
        }
    }
}

/// Crowns that meet along the row and nowhere else are never cut: of trees whose free size has room across and above
/// there is no excess.
#[test]
fn crowns_that_meet_along_the_row_are_not_pruning() {
    for rootstock in Rootstock::ALL {
        let scenario = Scenario::default().with(|s| {
            s.canopy.rootstock = *rootstock;
            s.canopy.vigour = share(1.0);
            s.block.row_width = planting::feet(40.0);
            s.canopy.canopy_width = planting::feet(24.0);
            s.canopy.tree_height = planting::feet(30.0);
        });
        let canopy = Canopy::grow(&canopy_asked(&scenario));
        assert!(canopy.year_filled.is_some(), "{}", rootstock.label());
        let last = canopy.years.last().expect("a last year");
        if last.free_spread > planting::feet(22.0) || last.free_height > planting::feet(28.0) {
            continue;
        }
        let excess = canopy.years.iter().map(|year| year.excess_share).fold(0.0, f64::max);
        assert!(excess < 1e-9, "{}: {excess}", rootstock.label());
    }
}
