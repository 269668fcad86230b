//! Every scenario gives a plan with finite numbers, or the fields that are wrong.

use crate::advice::well_formed;
use crate::fixture::planned;
use crate::strategy::{in_order, in_range, wild};
use planting::kit::figure::subjects;
use planting::{Entries, Plan, Problem, Quantity, Scenario, Subject, parameter, plan};
use proptest::prelude::*;

fn finite(plan: &Plan) -> Result<(), TestCaseError> {
    for figure in &plan.figures {
        let bounded = |value: f64, quantity: Quantity| {
            value.is_finite() && (quantity != Quantity::Share || value >= 0.0)
        };
        if let Some(value) = figure.value {
            prop_assert!(bounded(value, figure.quantity), "{} = {value}", figure.key);
        } else {
            prop_assert!(!figure.without.is_empty(), "{} has no value and says nothing", figure.key);
        }
        let working = plan.working(figure.key);
        prop_assert!(working.is_some(), "{} has no working", figure.key);
        let working = working.expect("just asked");
        prop_assert_eq!(figure.certainty, working.source.certainty, "{}", figure.key);
        for term in &working.terms {
            prop_assert!(
                bounded(term.value, term.quantity),
                "{} in {}: {}",
                term.symbol,
                figure.key,
                term.value
            );
        }
        prop_assert!(!working.formula.is_empty() && !working.source.citation.is_empty());
    }
    for station in plan.trellis.posts().chain(plan.trellis.anchors()).chain(plan.block.trees().take(500)) {
        prop_assert!(station.at.across.is_finite() && station.at.along.is_finite());
    }
    Ok(())
}

fn named(problems: &[Problem]) -> Result<(), TestCaseError> {
    prop_assert!(!problems.is_empty());
    for problem in problems {
        let key = problem.parameter();
        prop_assert!(key == "version" || parameter(key).is_some(), "{key} is no input");
        let message = problem.message();
        prop_assert_eq!(message.template.matches('{').count(), message.values.len());
    }
    Ok(())
}

fn answered(scenario: &Scenario) -> Result<(), TestCaseError> {
    match plan(scenario) {
        Ok(plan) => {
            finite(&plan)?;
            well_formed(&plan);
            Ok(())
        }
        Err(problems) => named(&problems),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 160, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_scenario_in_range_is_answered(scenario in in_range()) {
        answered(&scenario)?;
    }

    #[test]
    fn any_scenario_at_all_is_answered(scenario in wild()) {
        answered(&scenario)?;
    }

    /// In range and at odds with nothing: always a plan.
    #[test]
    fn scenarios_in_order_have_plans(scenario in in_order()) {
        prop_assert!(plan(&scenario).is_ok(), "{:?}", plan(&scenario).err());
    }

    #[test]
    fn any_scenario_comes_back_from_a_file_exactly(scenario in in_order()) {
        let json = serde_json::to_string(&scenario.to_entries()).expect("entries are plain values");
        let entries: Entries = serde_json::from_str(&json).expect("just written");
        let read = Scenario::from_entries(&entries);
        prop_assert_eq!(read.as_ref(), Ok(&scenario));
    }

    /// A list of figures is a page: keys once each, heads together and in their order.
    #[test]
    fn figures_are_listed_once_and_under_their_heads(scenario in in_order()) {
        let plan = planned(&scenario);
        let heads = subjects(&plan.figures);
        let place = |subject: Subject| heads.iter().position(|one| *one == subject);
        prop_assert!(plan.figures.is_sorted_by_key(|figure| place(figure.subject)));
        for (index, figure) in plan.figures.iter().enumerate() {
            prop_assert!(plan.figures[..index].iter().all(|earlier| earlier.key != figure.key), "{}", figure.key);
        }
    }
}
