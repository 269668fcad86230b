//! Scenarios for laws: any value of any input, made from the register.

use planting::uom::si::f64::Length;
use planting::uom::si::length::meter;
use planting::{Kind, REGISTRY, Scenario, feet, parameter};
use proptest::prelude::*;
use std::sync::LazyLock;

/// Values one scenario takes: one an input, and one for every item a list may have.
static DRAWS: LazyLock<usize> = LazyLock::new(|| {
    REGISTRY
        .iter()
        .map(|parameter| if let Kind::Lengths(lengths) = parameter.kind { lengths.most + 1 } else { 1 })
        .sum()
});

/// Anywhere from 0 to 1, the ends more often than chance would have them.
fn draw() -> impl Strategy<Value = f64> {
    prop_oneof![8 => 0.0..=1.0f64, 1 => Just(0.0), 1 => Just(1.0)]
}

fn between(min: f64, max: f64, draw: f64) -> f64 {
    (min + (max - min) * draw).clamp(min, max)
}

/// A whole number from 0 up to, not including, a count.
fn pick(count: usize, draw: f64) -> usize {
    ((count as f64 * draw) as usize).min(count.saturating_sub(1))
}

fn build(draws: &[f64]) -> Scenario {
    let mut draws = draws.iter().copied();
    let mut next = || draws.next().unwrap_or(0.0);
    let mut scenario = Scenario::default();
    for parameter in REGISTRY {
        match parameter.kind {
            Kind::Number(number) => (number.set)(&mut scenario, between(number.min, number.max, next())),
            Kind::Choice(choice) => {
                let options = (choice.options)();
                assert!((choice.set)(&mut scenario, options[pick(options.len(), next())].0));
            }
            Kind::Lengths(lengths) => {
                let count = pick(lengths.most + 1, next());
                let heights = (0..count)
                    .map(|_| Length::new::<meter>(between(lengths.min, lengths.max, next())))
                    .collect();
                (lengths.set)(&mut scenario, heights);
            }
        }
    }
    scenario
}

/// Every input anywhere in its range, fields at odds with each other included.
pub(crate) fn in_range() -> impl Strategy<Value = Scenario> {
    prop::collection::vec(draw(), *DRAWS).prop_map(|draws| build(&draws))
}

/// Every input anywhere in its range, the few that would be at odds moved until they agree.
pub(crate) fn in_order() -> impl Strategy<Value = Scenario> {
    in_range().prop_map(reconciled)
}

/// The nearest scenario whose fields agree.
pub(crate) fn reconciled(mut scenario: Scenario) -> Scenario {
    scenario.canopy.tree_height = scenario.canopy.tree_height.max(scenario.canopy.crown_base + feet(1.0));
    scenario.trellis.post_embedment =
        scenario.trellis.post_embedment.min(scenario.trellis.post_length - feet(3.0));
    scenario.canopy.graft_union_height = scenario.canopy.graft_union_height.min(scenario.canopy.crown_base);
    scenario.block.block_length =
        scenario.block.block_length.max(scenario.block.headland * 2.0 + scenario.block.in_row_spacing);
    scenario.block.block_width = scenario.block.block_width.max(scenario.block.side_margin * 2.0);
    scenario.light.light_for_size = scenario.light.light_for_size.max(scenario.light.light_for_flowers);
    scenario.light.light_for_colour = scenario.light.light_for_colour.max(scenario.light.light_for_size);
    scenario
}

const WILD: [f64; 12] = [
    f64::NAN,
    f64::INFINITY,
    f64::NEG_INFINITY,
    0.0,
    -0.0,
    -1.0,
    1e9,
    -1e9,
    f64::MAX,
    f64::MIN,
    f64::MIN_POSITIVE,
    1e-9,
];

/// In range but for one to four inputs that hold anything at all.
pub(crate) fn wild() -> impl Strategy<Value = Scenario> {
    let numbers: Vec<&'static str> = REGISTRY
        .iter()
        .filter(|parameter| !matches!(parameter.kind, Kind::Choice(_)))
        .map(|parameter| parameter.key)
        .collect();
    let changes = prop::collection::vec(
        (prop::sample::select(numbers), prop::sample::select(&WILD[..]), 0..12usize),
        1..4,
    );
    (in_range(), changes).prop_map(|(mut scenario, changes)| {
        for (key, value, items) in changes {
            match parameter(key).map(|found| found.kind) {
                Some(Kind::Number(number)) => (number.set)(&mut scenario, value),
                Some(Kind::Lengths(lengths)) => {
                    (lengths.set)(&mut scenario, vec![Length::new::<meter>(value); items]);
                }
                _ => {}
            }
        }
        scenario
    })
}
