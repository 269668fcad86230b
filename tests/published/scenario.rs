//! Reading scenario files: wrong fields are named with what is allowed, right ones come back exactly.

use planting::{
    Choice, Entries, Entry, Fault, Kind, Problem, REGISTRY, Scenario, Slot, TrainingSystem, VERSION, feet,
};

fn read(json: &str) -> Result<Scenario, Vec<Problem>> {
    let entries: Entries = serde_json::from_str(json).unwrap_or_else(|error| panic!("{json}: {error}"));
    Scenario::from_entries(&entries)
}

/// The only problem of a file.
#[track_caller]
fn only_problem(found: Result<Scenario, Vec<Problem>>, what: &str) -> Problem {
    match found {
        Err(problems) if problems.len() == 1 => problems[0].clone(),
        other => panic!("{what}: one problem expected, {other:?}"),
    }
}

fn with(key: &str, entry: Entry) -> Entries {
    Entries(vec![("version".to_owned(), Entry::Number(1.0)), (key.to_owned(), entry)])
}

#[test]
fn every_number_refuses_what_is_out_of_range_and_says_the_range() {
    for parameter in REGISTRY {
        let Kind::Number(number) = parameter.kind else { continue };
        let wild = [-1.0, 1e9, -1e9, number.max * 1.001 + 1e-6, number.min - 1e-5, f64::NAN, f64::INFINITY];
        let zero = (number.min > 0.0).then_some(0.0);
        for value in wild.into_iter().chain(zero) {
            // Years and days are whole: a hair beyond the end is the end. Latitudes go below 0.
            let whole = matches!(parameter.key, "year" | "sun_day");
            let taken = if whole { value.round() } else { value };
            if value.is_finite() && number.fault(taken).is_none() {
                continue;
            }
            let what = format!("{} = {value}", parameter.key);
            let problem =
                only_problem(Scenario::from_entries(&with(parameter.key, Entry::Number(value))), &what);
            assert_eq!(problem.field, parameter.key);
            match problem.fault {
                Fault::OutOfRange { min, max, quantity, value: given } if value.is_finite() => {
                    assert_eq!((min, max, quantity), (number.min, number.max, number.quantity), "{what}");
                    assert!((given - value).abs() <= 0.5, "{what}: {given}");
                }
                Fault::NotANumber { min, max, quantity, .. } if !value.is_finite() => {
                    assert_eq!((min, max, quantity), (number.min, number.max, number.quantity), "{what}");
                }
                ref other => panic!("{what}: {other:?}"),
            }
            says_range(&problem, number.min, number.max);
        }
    }
}

fn says_range(problem: &Problem, min: f64, max: f64) {
    let said: Vec<f64> = problem
        .message()
        .values
        .iter()
        .filter_map(|slot| if let Slot::Number(value, _) = slot { Some(*value) } else { None })
        .collect();
    assert!(said.contains(&min) && said.contains(&max), "{problem:?}");
}

#[test]
fn every_input_refuses_what_is_of_another_kind() {
    for parameter in REGISTRY {
        for (json, is_text, is_list, is_number) in [
            ("\"wide\"", true, false, false),
            ("null", false, false, false),
            ("true", false, false, false),
            ("{\"feet\": 3}", false, false, false),
            ("{\"a\": {\"b\": [1, {}]}}", false, false, false),
            ("[]", false, true, false),
            ("[[1]]", false, false, false),
            ("2", false, false, true),
        ] {
            let what = format!("{{\"version\": 1, \"{}\": {json}}}", parameter.key);
            match parameter.kind {
                Kind::Number(_) if is_number => continue,
                Kind::Lengths(_) if is_list => continue,
                _ => {}
            }
            let problem = only_problem(read(&what), &what);
            assert_eq!(problem.field, parameter.key, "{what}");
            match (&problem.fault, parameter.kind) {
                (Fault::NotANumber { min, max, .. }, Kind::Number(number)) => {
                    assert_eq!((*min, *max), (number.min, number.max), "{what}");
                    says_range(&problem, number.min, number.max);
                }
                (Fault::NotANumber { min, max, .. }, Kind::Lengths(lengths)) => {
                    assert_eq!((*min, *max), (lengths.min, lengths.max), "{what}");
                    says_range(&problem, lengths.min, lengths.max);
                }
                (Fault::NotAList { got }, Kind::Lengths(_)) => {
                    assert_eq!(got == "\"wide\"", is_text, "{what}")
                }
                (Fault::NotAChoice { allowed, .. }, Kind::Choice(choice)) => {
                    for (key, _) in (choice.options)() {
                        assert!(allowed.split(", ").any(|one| one == key), "{what}: {key} not offered");
                    }
                }
                (other, _) => panic!("{what}: {other:?}"),
            }
        }
    }
}

#[test]
fn keys_and_versions() {
    for (json, field, expected) in [
        (r#"{"version": 1, "rowwidth": 3}"#, "rowwidth", Fault::Unknown),
        (r#"{"version": 1, "": 3}"#, "", Fault::Unknown),
        (r#"{"version": 1, "wire_heights[0]": 3}"#, "wire_heights[0]", Fault::Unknown),
        (r#"{"version": 1, "year": 3, "year": 3}"#, "year", Fault::Repeated),
        (r#"{"version": 1, "version": 1}"#, "version", Fault::Repeated),
        ("{}", "version", Fault::VersionMissing),
        (r#"{"year": 3}"#, "version", Fault::VersionMissing),
        (r#"{"version": 2}"#, "version", Fault::VersionUnknown { got: "2".to_owned() }),
        (r#"{"version": 0}"#, "version", Fault::VersionUnknown { got: "0".to_owned() }),
        (r#"{"version": 1.5}"#, "version", Fault::VersionUnknown { got: "1.5".to_owned() }),
        (r#"{"version": "1"}"#, "version", Fault::VersionUnknown { got: "\"1\"".to_owned() }),
        (r#"{"version": null}"#, "version", Fault::VersionUnknown { got: "nothing".to_owned() }),
    ] {
        let problem = only_problem(read(json), json);
        assert_eq!((problem.field.as_str(), &problem.fault), (field, &expected), "{json}");
        assert!(!problem.message().template.is_empty());
    }
    assert_eq!(read(r#"{"version": 1}"#), Ok(Scenario::default()));
}

#[test]
fn text_that_is_no_scenario_is_refused_by_the_reader() {
    for json in
        ["", "[]", "3", "null", "\"x\"", "{", r#"{"version": NaN}"#, r#"{"year": 1e999}"#, r#"{"year": 3,}"#]
    {
        assert!(serde_json::from_str::<Entries>(json).is_err(), "{json}");
    }
}

#[test]
fn wires_are_counted_and_named_by_place() {
    let wires = |count: usize| Entry::List(vec![Entry::Number(2.0); count]);
    let most = 8;
    let problem = only_problem(Scenario::from_entries(&with("wire_heights", wires(most + 1))), "nine wires");
    assert_eq!(
        (problem.field.as_str(), &problem.fault),
        ("wire_heights", &Fault::ListLength { items: 9, most })
    );
    let problem = only_problem(Scenario::from_entries(&with("wire_heights", wires(5000))), "5,000 wires");
    assert!(matches!(problem.fault, Fault::ListLength { .. }));
    for count in 0..=most {
        let scenario = Scenario::from_entries(&with("wire_heights", wires(count))).expect("within the range");
        assert_eq!(scenario.trellis.wire_heights.len(), count);
    }
    for (json, field) in [
        (r#"{"version": 1, "wire_heights": [1, 2, 99]}"#, "wire_heights[2]"),
        (r#"{"version": 1, "wire_heights": [0, 2, 3]}"#, "wire_heights[0]"),
        (r#"{"version": 1, "wire_heights": [1, -1]}"#, "wire_heights[1]"),
    ] {
        let problem = only_problem(read(json), json);
        assert_eq!((problem.field.as_str(), problem.parameter()), (field, "wire_heights"), "{json}");
        says_range(&problem, 0.5 * 0.3048, 16.0 * 0.3048);
    }
}

#[test]
fn all_wrong_fields_are_named_at_once() {
    let json = r#"{"year": "soon", "rows": 3, "row_width": 1e9, "lean": 1, "lean": 0, "support": "hope"}"#;
    let problems = read(json).expect_err("five fields are wrong and the version is missing");
    let mut fields: Vec<&str> = problems.iter().map(|problem| problem.field.as_str()).collect();
    fields.sort_unstable();
    fields.dedup();
    assert_eq!(fields, ["lean", "row_width", "rows", "support", "version", "year"]);
}

#[test]
fn fields_at_odds_are_named_and_their_limits_kept() {
    let default = Scenario::default();
    type Change = fn(&mut Scenario, f64);
    // The last value that fits in feet, and the change of fields that leads there.
    let cases: [(&str, f64, f64, Change); 5] = [
        ("block_length", 63.0, -0.001, |s, ft| s.block.block_length = feet(ft)),
        ("block_width", 24.0, -0.001, |s, ft| s.block.block_width = feet(ft)),
        ("tree_height", 9.0, -0.001, |s, ft| {
            (s.canopy.crown_base, s.canopy.tree_height) = (feet(8.0), feet(ft))
        }),
        ("post_embedment", 3.0, 0.001, |s, ft| {
            (s.trellis.post_length, s.trellis.post_embedment) = (feet(6.0), feet(ft))
        }),
        ("graft_union_height", 0.5, 0.001, |s, ft| {
            (s.canopy.crown_base, s.canopy.graft_union_height) = (feet(0.5), feet(ft))
        }),
    ];
    for (field, fits, beyond, change) in cases {
        let mut scenario = default.clone();
        change(&mut scenario, fits);
        assert_eq!(scenario.problems(), vec![], "{field} at {fits} ft");
        change(&mut scenario, fits + beyond);
        let problem = only_problem(planting::plan(&scenario).map(|plan| plan.ground.scenario), field);
        assert_eq!(problem.field, field);
        let Some(Slot::Number(limit, _)) = problem.message().values.first().cloned() else {
            panic!("{problem:?}")
        };
        assert!((limit / 0.3048 - fits).abs() < 1e-6, "{field}: limit {limit}");
    }
}

#[test]
fn what_is_absent_is_the_systems_own() {
    for system in TrainingSystem::ALL {
        let json = format!(r#"{{"version": {VERSION}, "system": "{}"}}"#, system.key());
        assert_eq!(read(&json), Ok(Scenario::for_system(*system)), "{json}");
        // Named fields stand, wherever the system is named.
        let json = format!(r#"{{"row_width": 4.5, "system": "{}", "version": {VERSION}}}"#, system.key());
        let expected = Scenario::for_system(*system).with(|s| s.block.row_width = feet(4.5 / 0.3048));
        let found = read(&json).unwrap_or_else(|problems| panic!("{json}: {problems:?}"));
        assert!((found.block.row_width.value - 4.5).abs() < 1e-15);
        assert_eq!(found.with(|s| s.block.row_width = expected.block.row_width), expected, "{json}");
    }
}

#[test]
fn starting_plans_come_back_from_a_file_exactly() {
    for system in TrainingSystem::ALL {
        let scenario = Scenario::for_system(*system);
        let json = serde_json::to_string(&scenario.to_entries()).expect("entries are plain values");
        assert_eq!(read(&json), Ok(scenario), "{json}");
        let keys = serde_json::from_str::<Entries>(&json).expect("just written");
        assert_eq!(keys.0.len(), REGISTRY.len() + 1, "every input and the version");
    }
}

/// One register: keys once each, ranges in order, defaults inside them.
#[test]
fn the_register_is_in_order() {
    for (place, parameter) in REGISTRY.iter().enumerate() {
        assert!(
            REGISTRY[..place].iter().all(|earlier| earlier.key != parameter.key),
            "{} twice",
            parameter.key
        );
        assert!(planting::parameter(parameter.key).is_some_and(|found| found.key == parameter.key));
        let note = planting::note(parameter.key).expect("every input is explained");
        assert!(!parameter.label.is_empty() && !note.help.is_empty() && !note.source.citation.is_empty());
        if let Kind::Number(number) = parameter.kind {
            assert!(
                number.min < number.max && number.step_us > 0.0 && number.step_metric > 0.0,
                "{}",
                parameter.key
            );
        }
        for system in TrainingSystem::ALL {
            assert_eq!(parameter.faults(&Scenario::for_system(*system)), vec![], "{}", parameter.key);
        }
    }
}
