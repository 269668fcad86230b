//! Links and scenario files: what was written once opens in every later version as the same plan.
//!
//! `tests/links` and `tests/files` are the promise: a link on the first line and what it opens as below it; a
//! scenario file, and beside one that is refused the answer. No plan there is ever changed, and a new edition
//! adds to them. Only the sentence of a refusal may be put better.

use crate::fixture::FT;
use crate::strategy::{in_order, in_range, wild};
use drafting::{Units, wording};
use planting::{
    Choice, EndAssembly, Entries, Fault, Kind, Problem, READER, REGISTRY, Rootstock, Scenario,
    TrainingSystem, feet, link,
};
use proptest::prelude::*;
use rowlight_tests::hostile::crc_16;
use std::path::{Path, PathBuf};

/// The code of every input there ever was, and its key. A line is never changed: an input that is gone keeps it.
const CODES: &[(u8, &str)] = &[
    (1, "system"),
    (2, "rootstock"),
    (3, "vigour"),
    (4, "scion_vigour"),
    (5, "soil_vigour"),
    (6, "in_row_spacing"),
    (7, "row_width"),
    (8, "tree_height"),
    (9, "canopy_width"),
    (10, "crown_base"),
    (11, "crown_taper"),
    (12, "lean"),
    (13, "graft_union_height"),
    (14, "settling"),
    (15, "year"),
    (16, "block_length"),
    (17, "block_width"),
    (18, "row_azimuth"),
    (19, "headland"),
    (20, "side_margin"),
    (21, "tractor_width"),
    (22, "support"),
    (23, "wire_heights"),
    (24, "post_length"),
    (25, "post_embedment"),
    (26, "post_interval"),
    (27, "line_post_diameter"),
    (28, "end_post_diameter"),
    (29, "end_assembly"),
    (30, "end_post_lean"),
    (31, "anchor_distance"),
    (32, "brace_span"),
    (33, "latitude"),
    (34, "season_first"),
    (35, "season_last"),
    (36, "leaf_area_density"),
    (37, "leaf_clumping"),
    (38, "wood_and_fruit"),
    (39, "diffuse_share"),
    (40, "sky"),
    (41, "light_for_flowers"),
    (42, "light_for_size"),
    (43, "light_for_colour"),
    (44, "sun_month"),
    (45, "sun_day"),
    (46, "sun_hour"),
    (47, "large_crowns"),
    (48, "season_shoots"),
    (203, "growth_pace"),
];

pub(crate) fn folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

/// Every file of a folder of tests with this ending, by name.
pub(crate) fn corpus(name: &str, ending: &str) -> Vec<(String, String)> {
    let mut files: Vec<(String, String)> = std::fs::read_dir(folder(name))
        .expect("a folder of tests")
        .map(|entry| entry.expect("an entry of it").path())
        .filter(|path| path.extension().is_some_and(|found| found == ending))
        .map(|path| {
            let text = std::fs::read_to_string(&path).expect("a text");
            (path.file_stem().expect("a name").to_string_lossy().into_owned(), text)
        })
        .collect();
    files.sort();
    assert!(!files.is_empty(), "tests/{name} is empty");
    files
}

/// What reading gave, as the files of the corpus say it: the whole plan, or a line for each wrong field.
fn said(found: &Result<Scenario, Vec<Problem>>) -> String {
    match found {
        Ok(scenario) => serde_json::to_string_pretty(&scenario.to_entries()).expect("plain values"),
        Err(problems) => {
            let lines: Vec<String> = problems
                .iter()
                .map(|found| format!("refused: {}", wording::problem(found, Units::Metric)))
                .collect();
            lines.join("\n")
        }
    }
}

#[track_caller]
fn check(name: &str, found: &Result<Scenario, Vec<Problem>>, expected: &str) {
    let expected = expected.trim_end();
    let Ok(entries) = serde_json::from_str::<Entries>(expected) else {
        assert_eq!(said(found), expected, "{name}");
        return;
    };
    let plan = Scenario::from_entries(&entries).unwrap_or_else(|problems| panic!("{name}: {problems:?}"));
    assert_eq!(
        said(found),
        said(&Ok(plan)),
        "{name} opens as another plan: where a default has changed, `share` needs a new edition"
    );
}

fn read_file(text: &str) -> Result<Scenario, Vec<Problem>> {
    match serde_json::from_str::<Entries>(text) {
        Ok(entries) => Scenario::from_entries(&entries),
        Err(_) => {
            Err(vec![Problem::new("file", Fault::Unreadable(planting::Message::plain("is no scenario")))])
        }
    }
}

#[test]
fn every_kept_link_opens_as_it_did() {
    let links = corpus("links", "link");
    for (name, text) in &links {
        let (link, expected) = text.split_once('\n').expect("a link on the first line");
        check(name, &link::read(link), expected);
    }
    for system in TrainingSystem::ALL {
        assert!(
            links.iter().any(|(name, _)| name == system.key()),
            "tests/links lacks {}.link",
            system.key()
        );
    }
}

/// All that a file says stands in the plan; only what it leaves out follows the defaults of the day.
#[test]
fn every_kept_file_opens_as_it_says() {
    for (name, text) in corpus("files", "json") {
        let found = read_file(&text);
        if let Ok(expected) = std::fs::read_to_string(folder("files").join(format!("{name}.answer"))) {
            check(&name, &found, &expected);
            continue;
        }
        let plan = found.unwrap_or_else(|problems| panic!("{name}: {problems:?}")).to_entries();
        let entries = serde_json::from_str::<Entries>(&text).expect("it has been read").0;
        for (key, entry) in entries.iter().filter(|(key, _)| !READER.contains(&key.as_str())) {
            assert_eq!(plan.get(key), Some(entry), "{name}: {key}");
        }
    }
}

#[test]
fn codes_of_links_never_change() {
    for parameter in REGISTRY {
        let keys: Vec<&str> =
            CODES.iter().filter(|(code, _)| *code == parameter.code).map(|(_, key)| *key).collect();
        assert_eq!(keys, [parameter.key], "code {}", parameter.code);
        // Entries of a list are told apart by the check value of their keys.
        if let Kind::Choice(choice) = parameter.kind {
            let mut checks: Vec<u16> =
                (choice.options)().iter().map(|(key, _)| crc_16(key.as_bytes())).collect();
            checks.sort_unstable();
            let count = checks.len();
            checks.dedup();
            assert_eq!(checks.len(), count, "two entries of {} look alike in a link", parameter.key);
        }
    }
}

#[test]
fn links_are_short() {
    let typical = Scenario::default().with(|s| {
        s.canopy.rootstock = Rootstock::G41;
        s.block.in_row_spacing = feet(3.5);
        s.block.row_width = feet(13.0);
        s.block.block_length = feet(1320.0);
        s.light.latitude = planting::degrees(43.1);
        s.canopy.year = 9.0;
    });
    let metric = |value: f64| feet(value / FT);
    let orchard = Scenario::for_system(TrainingSystem::VerticalTrellis).with(|s| {
        s.block.in_row_spacing = metric(0.9);
        s.block.row_width = metric(3.6);
        s.canopy.tree_height = metric(3.2);
        s.block.block_length = metric(245.0);
        s.block.block_width = metric(118.5);
        s.block.headland = metric(8.5);
        s.trellis.wire_heights = [0.7, 1.25, 1.8, 2.35, 2.9].map(metric).to_vec();
        s.trellis.end_assembly = EndAssembly::HBrace;
        s.trellis.post_interval = metric(9.0);
    });
    for (scenario, most) in [(Scenario::default(), 8), (typical, 36), (orchard, 66)] {
        let link = link::write(&scenario);
        assert!(link.len() <= most, "{} characters: {link}", link.len());
        assert_eq!(link::read(&link), Ok(scenario));
    }
}

fn bits(scenario: &Scenario) -> String {
    format!("{:?}", scenario.to_entries())
}

proptest! {
    #[test]
    fn any_plan_comes_back_to_the_last_bit(scenario in in_order()) {
        let link = link::write(&scenario);
        // RFC 3986, section 2.3, and no more than fits in any address.
        prop_assert!(link.bytes().all(|byte| byte.is_ascii_alphanumeric() || b"-._~".contains(&byte)), "{}", link);
        prop_assert!(link.len() < 700, "{}", link.len());
        let back = link::read(&link).expect("a plan in order");
        prop_assert_eq!(bits(&back), bits(&scenario));
        prop_assert_eq!(link::write(&back), link);
    }

    /// A plan that is refused is refused by the same fields from its link.
    #[test]
    fn a_wrong_plan_stays_as_wrong(scenario in prop_oneof![in_range(), wild()]) {
        let found = link::read(&link::write(&scenario)).err().unwrap_or_default();
        let mut fields: Vec<String> = found.into_iter().map(|problem| problem.field).collect();
        let mut expected: Vec<String> = scenario.problems().into_iter().map(|problem| problem.field).collect();
        fields.sort();
        expected.sort();
        prop_assert_eq!(fields, expected);
    }

    /// One letter of a link wrong, or its end missing: it is refused as a whole.
    #[test]
    fn a_link_changed_on_its_way_is_refused(scenario in in_order(), at in 2..40_usize, other in 0..62_u8) {
        let link = link::write(&scenario);
        let at = at.min(link.len() - 1);
        prop_assert!(link::read(&link[..at]).is_err());
        let letter = match other { 0..10 => b'0' + other, 10..36 => b'a' + other - 10, _ => b'A' + other - 36 };
        let mut changed = link.clone().into_bytes();
        changed[at] = letter;
        let changed = String::from_utf8(changed).expect("letters");
        if changed != link {
            let problems = link::read(&changed).expect_err("one letter differs");
            prop_assert_eq!(&problems[0].field, "link");
        }
    }
}
