//! Whatever is offered to cure a finding cures it, as it is printed: ten thousand plans at random, in either units.
//!
//! Each remedy's numbers are read off its sentence as a reader would type them, set on the plan, and the plan is judged again: the
//! finding is gone, and no finding that asks for a fix has come.

use crate::strategy::reconciled;
use drafting::{Units, measure, wording};
use planting::kit::count::as_number;
use planting::uom::si::f64::Length;
use planting::uom::si::length::meter;
use planting::{
    Advice, Change, Choice, Kind, LAST_YEAR, Memory, Quantity, REGISTRY, Remedy, Scenario, Setting, Severity,
    TrainingSystem, findings, parameter, remedies,
};
use std::collections::BTreeMap;

/// Plans drawn.
const PLANS: u32 = 10_000;
/// Threads they are shared out to.
const THREADS: u32 = 2;

/// A plain generator of even numbers in 0 to 1 (Steele et al. 2014, SplitMix64), the same on every machine.
struct Draw(u64);

impl Draw {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((mixed ^ (mixed >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn below(&mut self, count: usize) -> usize {
        (self.next() * as_number(count)) as usize
    }
}

/// A training system's usual planting with some of its fields drawn anew: most near their usual value, some anywhere in range. Fields
/// at odds with each other are moved until they agree, and the field isn't larger than a hundred acres.
fn drawn(number: u32) -> Scenario {
    let mut draw = Draw(u64::from(number).wrapping_mul(0x2545_f491_4f6c_dd1d));
    let mut scenario = Scenario::for_system(TrainingSystem::ALL[draw.below(TrainingSystem::ALL.len())]);
    for _ in 0..1 + draw.below(5) {
        let parameter = &REGISTRY[draw.below(REGISTRY.len())];
        let is_near = draw.next() < 0.75;
        let between = |low: f64, high: f64, share: f64| low + (high - low) * share;
        match parameter.kind {
            Kind::Number(number) => {
                let now = (number.get)(&scenario);
                let (low, high) = if is_near {
                    (number.min.max(now - 0.4 * now.abs()), number.max.min(now + 0.6 * now.abs()))
                } else {
                    (number.min, number.max)
                };
                (number.set)(&mut scenario, between(low, high, draw.next()));
            }
            Kind::Choice(choice) => {
                let options = (choice.options)();
                assert!((choice.set)(&mut scenario, options[draw.below(options.len())].0));
            }
            Kind::Lengths(lengths) => {
                let count = draw.below(lengths.most + 1);
                let drawn = (0..count).map(|_| between(lengths.min, lengths.max * 0.7, draw.next()));
                (lengths.set)(&mut scenario, drawn.map(Length::new::<meter>).collect());
            }
        }
    }
    let most = Length::new::<meter>(640.0);
    scenario.block.block_length = scenario.block.block_length.min(most);
    scenario.block.block_width = scenario.block.block_width.min(most);
    scenario.canopy.year = scenario.canopy.year.clamp(0.0, LAST_YEAR);
    reconciled(scenario)
}

/// The number that stands in a sentence, read as a reader would type it.
fn printed(value: f64, quantity: Quantity, units: Units) -> f64 {
    let text = measure::number(value, quantity, units).replace(',', "");
    let number: f64 = text.parse().unwrap_or_else(|_| panic!("{text} is no number"));
    number * measure::unit(quantity, units).one
}

/// A remedy's changes with the numbers that its sentence prints. Lengths of a list are set from the list itself: a sentence names the
/// top of it.
fn as_printed(remedy: &Remedy, units: Units) -> Vec<Change> {
    let said = wording::remedy(remedy, units);
    let reread = |change: &Change| {
        let to = match (&change.to, parameter(change.key).expect("an input").kind) {
            (Setting::Number(value), Kind::Number(number)) => {
                let text = measure::write(*value, number.quantity, units);
                assert!(said.contains(&text), "{said:?} doesn't say {text}");
                Setting::Number(printed(*value, number.quantity, units))
            }
            (Setting::Word(word), Kind::Choice(choice)) => {
                let (_, label) =
                    (choice.options)().into_iter().find(|(key, _)| key == word).expect("an entry");
                assert!(said.contains(label), "{said:?} doesn't say {label}");
                Setting::Word(word)
            }
            (Setting::Lengths(lengths), Kind::Lengths(_)) => {
                let reread = |length: &Length| printed(length.value, Quantity::Length, units);
                Setting::Lengths(lengths.iter().map(reread).map(Length::new::<meter>).collect())
            }
            (other, _) => panic!("{}: {other:?} is of another kind", change.key),
        };
        Change { key: change.key, to }
    };
    remedy.changes.iter().map(reread).collect()
}

/// How often a rule spoke, how often something was offered, and how many remedies were tried.
#[derive(Clone, Copy, Debug, Default)]
struct Tally {
    spoke: u32,
    offered: u32,
    tried: u32,
}

fn asks_for_a_fix(found: &[Advice], rule: &str) -> bool {
    found.iter().any(|advice| advice.rule == rule && advice.severity == Severity::Fix)
}

/// Tries every remedy of a plan in these units.
fn check(scenario: &Scenario, units: Units, tallies: &mut BTreeMap<&'static str, Tally>) {
    let mut memory = Memory::default();
    let mut found = findings(scenario, &mut memory).unwrap_or_else(|problems| panic!("{problems:?}"));
    remedies::solve_all(scenario, &mut found, units.rounding());
    for advice in &found {
        let tally = tallies.entry(advice.rule).or_default();
        let cures = advice.remedies.as_deref().expect("solved");
        tally.spoke += 1;
        tally.offered += u32::from(!cures.is_empty());
        for cure in cures {
            tally.tried += 1;
            let said = wording::remedy(cure, units);
            let cured = scenario.with_changes(&as_printed(cure, units));
            let after = match findings(&cured, &mut memory) {
                Ok(found) => found,
                Err(problems) => panic!("{}: {said}: {problems:?}", advice.rule),
            };
            assert!(
                after.iter().all(|other| other.rule != advice.rule),
                "{}: {said:?} doesn't cure, {units:?}: {scenario:?}",
                advice.rule
            );
            for other in after.iter().filter(|other| other.severity == Severity::Fix) {
                assert!(
                    asks_for_a_fix(&found, other.rule),
                    "{}: {said:?} brings {}, {units:?}: {scenario:?}",
                    advice.rule,
                    other.rule
                );
            }
        }
    }
}

#[test]
fn every_remedy_cures_as_it_is_printed() {
    let share = |thread: u32| {
        let mut tallies = BTreeMap::new();
        for number in (thread..PLANS).step_by(THREADS as usize) {
            let scenario = drawn(number);
            for units in [Units::Us, Units::Metric] {
                check(&scenario, units, &mut tallies);
            }
        }
        tallies
    };
    let mut all: BTreeMap<&str, Tally> = BTreeMap::new();
    std::thread::scope(|scope| {
        let shares: Vec<_> = (0..THREADS).map(|thread| scope.spawn(move || share(thread))).collect();
        for tallies in shares {
            for (rule, tally) in tallies.join().expect("every remedy cures") {
                let sum = all.entry(rule).or_default();
                *sum = Tally {
                    spoke: sum.spoke + tally.spoke,
                    offered: sum.offered + tally.offered,
                    tried: sum.tried + tally.tried,
                };
            }
        }
    });
    for (rule, tally) in &all {
        println!("{rule:20} spoke {:6}, offered {:6}, tried {:6}", tally.spoke, tally.offered, tally.tried);
    }
    // Every rule was met, and all but a few have something to offer mostly.
    assert!(all.len() > 18, "{:?}", all.keys());
    for (rule, tally) in &all {
        assert!(2 * tally.offered > tally.spoke, "{rule}: {tally:?}");
    }
}
