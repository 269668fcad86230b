//! The schema of scenario files: it takes what the program takes, and refuses what a schema can refuse.

use crate::share::corpus;
use planting::{Choice, Entries, Kind, READER, REGISTRY, Scenario, TrainingSystem};
use serde_json::{Value, json};
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};
use xtask::site::schema::schema;

/// What no schema can say: fields at odds, and a key given twice.
const BEYOND_A_SCHEMA: [&str; 2] = ["refused_fields_at_odds", "refused_twice"];

/// Scenario files and whether they are in order, as the program itself has it.
fn cases() -> (Vec<Value>, Vec<Value>) {
    let presets = TrainingSystem::ALL.iter().map(|system| Scenario::for_system(*system).to_entries());
    let mut right: Vec<Value> = presets.map(|entries| json!(entries)).collect();
    let mut wrong = Vec::new();
    for (name, text) in corpus("files", "json") {
        let Ok(value) = serde_json::from_str::<Value>(&text) else { continue };
        let opens =
            serde_json::from_str::<Entries>(&text).is_ok_and(|file| Scenario::from_entries(&file).is_ok());
        if opens {
            right.push(value);
        } else if !BEYOND_A_SCHEMA.contains(&name.as_str()) {
            wrong.push(value);
        }
    }
    for parameter in REGISTRY {
        let values = match parameter.kind {
            Kind::Number(number) => {
                right.extend([number.min, number.max].map(|end| json!({"version": 1, parameter.key: end})));
                vec![json!(number.min - 0.01), json!(number.max + 0.01), json!("3"), json!(null)]
            }
            Kind::Choice(_) => vec![json!("Other"), json!(0), json!([])],
            Kind::Lengths(lengths) => {
                vec![json!(1), json!(["1"]), json!([lengths.max + 0.01]), json!(vec![1; lengths.most + 1])]
            }
        };
        wrong.extend(values.into_iter().map(|value| json!({"version": 1, parameter.key: value})));
    }
    (right, wrong)
}

#[test]
fn it_says_what_the_register_says() {
    let schema = schema();
    let properties = schema["properties"].as_object().expect("an object");
    let others = properties.keys().filter(|key| planting::parameter(key).is_none());
    let allowed = [&["version"], &READER[..]].concat();
    assert!(
        others.clone().count() == allowed.len() && others.clone().all(|key| allowed.contains(&key.as_str()))
    );
    assert_eq!(
        properties.len(),
        REGISTRY.len() + allowed.len(),
        "every input, the version and the reader's settings"
    );
    for parameter in REGISTRY {
        let property = &properties[parameter.key];
        assert_eq!(property["title"], parameter.label);
        match parameter.kind {
            Kind::Number(number) => {
                assert_eq!(
                    (&property["minimum"], &property["maximum"]),
                    (&json!(number.min), &json!(number.max))
                );
            }
            Kind::Choice(choice) => {
                let listed: Vec<&str> = property["oneOf"]
                    .as_array()
                    .map(|entries| entries.iter().filter_map(|entry| entry["const"].as_str()).collect())
                    .unwrap_or_default();
                assert_eq!(listed, (choice.options)().iter().map(|(key, _)| *key).collect::<Vec<_>>());
            }
            Kind::Lengths(lengths) => assert_eq!(property["maxItems"], lengths.most),
        }
    }
    // What is absent takes the default the schema states.
    let stated: serde_json::Map<String, Value> = properties
        .iter()
        .filter(|(key, _)| !READER.contains(&key.as_str()))
        .map(|(key, property)| (key.clone(), property.get("default").unwrap_or(&property["const"]).clone()))
        .collect();
    let entries: Entries = serde_json::from_value(Value::Object(stated)).expect("plain values");
    assert_eq!(Scenario::from_entries(&entries), Ok(Scenario::default()));
}

/// Against PyPI `jsonschema`, where there is a Python that has it; its absence is said, not failed.
#[test]
fn a_validator_of_the_standard_tells_right_from_wrong() {
    let (right, wrong) = cases();
    assert!(right.len() > 80 && wrong.len() > 150, "{} and {}", right.len(), wrong.len());
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("published/schema.py");
    let mut python = Command::new("python3");
    let Ok(mut child) = python.arg(script).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn() else {
        eprintln!("not checked with jsonschema: there is no python3");
        return;
    };
    let given = json!({"schema": schema(), "right": right, "wrong": wrong}).to_string();
    // A script that ends early closes its input; what it says then is in its exit code.
    let _ = child.stdin.take().expect("piped").write_all(given.as_bytes());
    let output = child.wait_with_output().expect("python3 ends");
    match output.status.code() {
        Some(0) => {}
        Some(77) => eprintln!("not checked with jsonschema: python3 has no such package"),
        _ => panic!("{}", String::from_utf8_lossy(&output.stdout)),
    }
}
