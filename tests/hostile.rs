//! What the checks and the fuzzer share: whatever comes in, the answer is a plan that is in order or a list of what is
//! wrong, each with a name.

use drafting::{Units, wording};
use planting::{Entries, Fault, Problem, Scenario, link, parameter};

/// Every problem has a name and a sentence; a plan is in order, and comes back from a link and from a file.
#[track_caller]
pub fn answered(found: Result<Scenario, Vec<Problem>>, given: &str) -> bool {
    match found {
        Ok(scenario) => {
            assert_eq!(scenario.problems(), vec![], "{given}");
            assert_eq!(link::read(&link::write(&scenario)).as_ref(), Ok(&scenario), "{given}");
            let file = serde_json::to_string(&scenario.to_entries()).expect("plain values");
            let entries: Entries = serde_json::from_str(&file).expect("just written");
            assert_eq!(Scenario::from_entries(&entries).as_ref(), Ok(&scenario), "{given}");
            true
        }
        Err(problems) => {
            assert!(!problems.is_empty(), "{given}");
            for problem in &problems {
                let named = match problem.fault {
                    Fault::Unreadable(_) => problem.field == "link",
                    Fault::Later => problem.field.starts_with("field "),
                    Fault::VersionMissing | Fault::VersionUnknown { .. } => problem.field == "version",
                    // The name is whatever stands there twice.
                    Fault::Repeated => true,
                    Fault::Unknown => parameter(&problem.field).is_none(),
                    _ => parameter(problem.parameter()).is_some(),
                };
                assert!(named, "{problem:?}: {given}");
                let sentence = wording::problem(problem, Units::Us);
                assert!(sentence.len() > 10 && sentence.len() < 1000, "{sentence}: {given}");
            }
            false
        }
    }
}

/// Meets a link made of these bytes as they stand.
///
/// # Panics
/// Where the answer is neither a plan in order nor named problems.
pub fn meet_link(given: &[u8]) {
    let text = String::from_utf8_lossy(given);
    answered(link::read(&text), &text);
}

/// Meets a link that holds these bytes with their check value, as no accident would make it.
///
/// # Panics
/// As [`meet_link`].
pub fn meet_fields(given: &[u8]) {
    let link = seal(given);
    answered(link::read(&link), &link);
}

/// Meets a file of these bytes.
///
/// # Panics
/// As [`meet_link`].
pub fn meet_file(given: &[u8]) {
    if let Ok(entries) = serde_json::from_slice::<Entries>(given) {
        answered(Scenario::from_entries(&entries), &String::from_utf8_lossy(given));
    }
}

/// Bytes of a plan as a link, written apart from the program: base64url of RFC 4648, section 5, and
/// [`crc_16`].
pub fn seal(bytes: &[u8]) -> String {
    let mut sealed = bytes.to_vec();
    sealed.extend(crc_16(bytes).to_be_bytes());
    let bits: String = sealed.iter().map(|byte| format!("{byte:08b}")).collect();
    let letters: Vec<char> = ('A'..='Z').chain('a'..='z').chain('0'..='9').chain(['-', '_']).collect();
    let sixes =
        (0..bits.len()).step_by(6).map(|from| format!("{:0<6}", &bits[from..bits.len().min(from + 6)]));
    let plan: String = sixes.map(|six| letters[usize::from_str_radix(&six, 2).expect("six bits")]).collect();
    format!("1.{plan}")
}

/// The CRC-16 of ITU-T V.41 by long division.
pub fn crc_16(bytes: &[u8]) -> u16 {
    let mut bits: Vec<u8> =
        bytes.iter().flat_map(|byte| (0..8).rev().map(move |bit| byte >> bit & 1)).chain([0; 16]).collect();
    for at in 0..bytes.len() * 8 {
        if bits[at] == 1 {
            for bit in [0, 4, 11, 16] {
                bits[at + bit] ^= 1;
            }
        }
    }
    bits[bytes.len() * 8..].iter().fold(0, |sum, bit| sum << 1 | u16::from(*bit))
}
