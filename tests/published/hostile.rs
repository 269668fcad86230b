//! Links and files that somebody broke: kept ones changed at random, the same way in every run.
//!
//! Whatever comes in, the answer is a plan that is in order or a list of what is wrong, each with a name.

use crate::share::{corpus, folder};
use planting::{Entries, Scenario, link};
use proptest::prelude::Rng;
use proptest::test_runner::{RngAlgorithm, TestRng};
use rowlight_tests::hostile::{answered, meet_fields, meet_file, meet_link, seal};

const RUNS: usize = 40_000;

/// A generator whose numbers are the same in every run and on every machine.
struct Dice(TestRng);

impl Dice {
    fn new(seed: u8) -> Dice {
        Dice(TestRng::from_seed(RngAlgorithm::ChaCha, &[seed; 32]))
    }

    /// A whole number below a count; 0 where there is none below it.
    fn below(&mut self, count: usize) -> usize {
        self.0.next_u64() as usize % count.max(1)
    }

    fn one<'a, T: ?Sized>(&mut self, of: &[&'a T]) -> &'a T {
        of[self.below(of.len())]
    }

    /// One to four changes: a piece left out, said twice, swapped, cut off, replaced, or taken from another.
    fn change<T: Clone>(
        &mut self,
        kept: &[T],
        other: &[T],
        mut piece: impl FnMut(&mut Dice) -> Vec<T>,
    ) -> Vec<T> {
        let mut changed = kept.to_vec();
        for _ in 0..=self.below(4) {
            let from = self.below(changed.len() + 1);
            let to = (from + self.below(6)).min(changed.len());
            match self.below(7) {
                0 => drop(changed.drain(from..to)),
                1 => changed.truncate(from),
                2 => changed.splice(from..to, piece(self)).for_each(drop),
                3 => changed.splice(from..from, piece(self)).for_each(drop),
                4 => changed.extend_from_within(from..to),
                5 if !changed.is_empty() => {
                    let (one, two) = (self.below(changed.len()), self.below(changed.len()));
                    changed.swap(one, two);
                }
                _ => {
                    let start = self.below(other.len());
                    let end = (start + self.below(24)).min(other.len());
                    changed.splice(from..to, other[start..end].iter().cloned()).for_each(drop);
                }
            }
        }
        changed
    }
}

/// The plan of a link as bytes, without their check.
fn bytes_of(link: &str) -> Option<Vec<u8>> {
    let plan = link.split('.').nth(1)?;
    let letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
    let sixes: Option<String> =
        plan.chars().map(|letter| letters.find(letter).map(|six| format!("{six:06b}"))).collect();
    let bits = sixes?;
    let whole = bits.len() / 8;
    (whole >= 2).then(|| {
        let byte = |place: usize| u8::from_str_radix(&bits[place * 8..place * 8 + 8], 2).expect("eight bits");
        (0..whole - 2).map(byte).collect()
    })
}

fn links() -> Vec<String> {
    let first = |(_, text): (String, String)| text.lines().next().unwrap_or_default().to_owned();
    corpus("links", "link").into_iter().map(first).filter(|link| link.len() < 1000).collect()
}

/// What the fuzzer (`tests/fuzz`) has found worth keeping.
#[test]
fn kept_finds_are_answered() {
    type Meet = fn(&[u8]);
    let meetings: [(&str, Meet); 3] = [("link", meet_link), ("fields", meet_fields), ("file", meet_file)];
    for (target, meet) in meetings {
        let finds = std::fs::read_dir(folder("fuzz").join("corpus").join(target)).expect("a corpus");
        let mut met = 0;
        for find in finds {
            meet(&std::fs::read(find.expect("an entry of it").path()).expect("a find"));
            met += 1;
        }
        assert!(met > 50, "{met} finds of {target}");
    }
}

#[test]
fn links_with_changed_letters_are_answered() {
    let links: Vec<Vec<char>> = links().iter().map(|link| link.chars().collect()).collect();
    let mut dice = Dice::new(1);
    for _ in 0..RUNS {
        let (kept, other) = (&links[dice.below(links.len())], &links[dice.below(links.len())]);
        let strange =
            ["A", "_", "-", ".", "1", "%", "#", "é", "\0", "..", "99999999999", "🌳", " ", "=", "~"];
        let changed: String =
            dice.change(kept, other, |dice| dice.one(&strange).chars().collect()).iter().collect();
        answered(link::read(&changed), &changed);
    }
}

/// The check value made right again, as no accident would: the fields themselves are met.
#[test]
fn links_with_changed_fields_are_answered() {
    let plans: Vec<Vec<u8>> = links().iter().filter_map(|link| bytes_of(link)).collect();
    assert!(plans.len() > 20);
    let mut dice = Dice::new(2);
    let mut opened = 0;
    for _ in 0..RUNS {
        let (kept, other) = (&plans[dice.below(plans.len())], &plans[dice.below(plans.len())]);
        let changed = dice.change(kept, other, |dice| {
            let strange: [&[u8]; 8] = [
                &[0],
                &[255],
                &[14],
                &[15, 255],
                &[0, 0x7F, 0xF8, 0, 0, 0, 0, 0, 0],
                &[0x81, 255, 255, 255, 255, 255],
                &[0x05, 0],
                &[0x85, 24],
            ];
            let mut piece = dice.one(&strange).to_vec();
            if dice.below(2) == 0 {
                piece = vec![dice.below(256) as u8];
            }
            piece
        });
        let link = seal(&changed);
        opened += usize::from(answered(link::read(&link), &link));
    }
    assert!(opened > RUNS / 100, "{opened} of {RUNS} still open: the changes are too wild to reach far");
}

#[test]
fn changed_files_are_answered() {
    let files: Vec<Vec<char>> =
        corpus("files", "json").iter().map(|(_, text)| text.chars().collect()).collect();
    let mut dice = Dice::new(3);
    let mut parsed = 0;
    for _ in 0..RUNS {
        let (kept, other) = (&files[dice.below(files.len())], &files[dice.below(files.len())]);
        let strange = [
            "null",
            "true",
            "[]",
            "{}",
            "\"\"",
            "1e308",
            "-0",
            "1e-400",
            "[[1]]",
            "9",
            ".",
            "-",
            "e",
            ",",
            ":",
            "\"",
            "\\u0000",
            "version",
            "1",
            "{\"a\":{}}",
            "🌳",
            "\"wire_heights\": [1, 2]",
        ];
        let changed: String =
            dice.change(kept, other, |dice| dice.one(&strange).chars().collect()).iter().collect();
        if let Ok(entries) = serde_json::from_str::<Entries>(&changed) {
            answered(Scenario::from_entries(&entries), &changed);
            parsed += 1;
        }
    }
    assert!(parsed > RUNS / 20, "{parsed} of {RUNS} are still JSON: the changes are too wild to reach far");
}

#[test]
fn depth_and_length_are_answered() {
    for text in
        ["[".repeat(100_000), format!("{{\"version\": {}1", "[".repeat(100_000)), "{\"a\":".repeat(50_000)]
    {
        assert!(serde_json::from_str::<Entries>(&text).is_err());
    }
    let long = format!("{{\"version\": 1, \"wire_heights\": [{}1]}}", "1,".repeat(200_000));
    let entries: Entries = serde_json::from_str(&long).expect("JSON");
    assert!(!answered(Scenario::from_entries(&entries), "200,001 wires"));
    let many: Vec<String> = (0..100_000).map(|number| format!("\"field_{number}\": 1")).collect();
    let entries: Entries = serde_json::from_str(&format!("{{{}}}", many.join(","))).expect("JSON");
    assert!(!answered(Scenario::from_entries(&entries), "100,000 fields"));
    for letter in ["A", ".", "1", "🌳"] {
        let long = letter.repeat(1_000_000);
        assert!(!answered(link::read(&long), letter));
    }
}
