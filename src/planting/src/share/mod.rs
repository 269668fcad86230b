//! A whole scenario as a short text for the fragment of an address, and back.
//!
//! ```text
//! link    = edition "." plan *( "." part )
//! edition = 1*DIGIT            ; how `plan` is to be read; this program reads and writes 1
//! plan    = *( ALPHA / DIGIT / "-" / "_" )  ; base64url without padding, RFC 4648 section 5, of
//!                              ;   system *field check
//! part    = *( ALPHA / DIGIT / "-" / "_" / "~" )  ; the caller's own, such as units; not read here
//!
//! system  = 2 bytes            ; the training system, as an entry of a list
//! field   = code value         ; code: 1 byte, `Parameter::code`
//! value   = number / %x0E entry / %x0F count *number
//! entry   = 2 bytes            ; CRC-16 of the key of the entry, so that no order of a list matters
//! count   = 1 byte
//! number  = %x00 8 bytes       ; the bits of the number, the highest byte first
//!         / form multiple      ; form: its lower half names a unit, its upper half the last bits
//! check   = 2 bytes            ; CRC-16 of all before it: a link cut short or retyped is refused
//! ```
//!
//! All characters are unreserved in RFC 3986, section 2.3. The forms of numbers stand in `number`.
//!
//! Written is the training system and what differs from that system's starting plan; every number comes
//! back to the last bit. **A link must open in every later version**, as the same plan. So codes, units and keys
//! are never changed nor given to another thing; a value says of what kind it is, so that a field of a
//! later version can be named and passed over; and a starting plan that changes needs a new edition:
//! raise `EDITION`, and let links of an earlier one take the earlier values. `tests/links` holds links of all
//! editions with what they must open as.

mod letters;
mod number;

use crate::message::{Message, Slot};
use crate::scenario::entries::{Entries, Entry};
use crate::scenario::problem::{Fault, Problem};
use crate::scenario::registry::{ChoiceList, Kind, Parameter, REGISTRY, parameter};
use crate::scenario::{Scenario, VERSION};

/// How plans are written today.
const EDITION: &str = "1";
/// The longest text that is looked at `[characters]`.
pub const LONGEST: usize = 4096;
/// The most fields of a link.
const MOST_FIELDS: usize = 255;
/// The field that every link begins with, without its code.
const SYSTEM: &str = "system";
/// The first byte of a choice.
const CHOICE: u8 = 14;
/// The first byte of a list.
const LIST: u8 = 15;

/// What is said where all letters have arrived and still can't be read.
const NEWER: &str = "holds what this program can't read; a later version wrote it";

type Bytes<'a> = std::slice::Iter<'a, u8>;

/// The link of a scenario.
///
/// ```
/// use planting::{Scenario, feet, share};
/// assert_eq!(share::write(&Scenario::default()), "1.KsAwYQ");
/// let wider = Scenario { row_width: feet(14.0), ..Scenario::default() };
/// assert_eq!(share::read(&share::write(&wider)), Ok(wider));
/// ```
pub fn write(scenario: &Scenario) -> String {
    let usual = Scenario::for_system(scenario.system);
    let mut bytes = Vec::new();
    for parameter in REGISTRY {
        match parameter.kind {
            Kind::Choice(choice) if parameter.key == SYSTEM => put_entry(&mut bytes, (choice.get)(scenario)),
            _ if parameter.same(scenario, &usual) => {}
            kind => {
                bytes.push(parameter.code);
                put_value(&mut bytes, kind, scenario);
            }
        }
    }
    let check = letters::crc_16(&bytes);
    bytes.extend(check.to_be_bytes());
    format!("{EDITION}.{}", letters::write(&bytes))
}

fn put_value(bytes: &mut Vec<u8>, kind: Kind, scenario: &Scenario) {
    match kind {
        Kind::Number(field) => number::write(bytes, (field.get)(scenario)),
        Kind::Choice(choice) => {
            bytes.push(CHOICE);
            put_entry(bytes, (choice.get)(scenario));
        }
        Kind::Lengths(lengths) => {
            let items = (lengths.get)(scenario);
            // A list longer than the count can say is out of range, and still is after the cut.
            let count = u8::try_from(items.len()).unwrap_or(u8::MAX);
            bytes.extend([LIST, count]);
            for item in items.iter().take(usize::from(count)) {
                number::write(bytes, item.value);
            }
        }
    }
}

fn put_entry(bytes: &mut Vec<u8>, key: &str) {
    bytes.extend(letters::crc_16(key.as_bytes()).to_be_bytes());
}

/// The scenario of a link. Parts behind the plan are left to the caller, see [`parts`].
///
/// ```
/// use planting::{Scenario, share};
/// assert_eq!(share::read("1.KsAwYQ.us"), Ok(Scenario::default()));
/// let problems = share::read("1.KsAwYQQ").unwrap_err();
/// assert_eq!(problems[0].field, "link");
/// ```
///
/// # Errors
/// Every wrong field by name, one that only a later version has by its number; a text that is no link,
/// or no longer whole, as a problem of the field `link`.
pub fn read(link: &str) -> Result<Scenario, Vec<Problem>> {
    let unreadable = |message| vec![Problem::new("link", Fault::Unreadable(message))];
    let bytes = open(link).map_err(unreadable)?;
    let mut problems = Vec::new();
    let entries = fields(&bytes, &mut problems).ok_or_else(|| unreadable(Message::plain(NEWER)))?;
    match Scenario::from_entries(&entries) {
        Ok(scenario) if problems.is_empty() => Ok(scenario),
        Ok(_) => Err(problems),
        Err(wrong) => {
            problems.extend(wrong);
            Err(problems)
        }
    }
}

/// What a caller has put behind the plan, part by part.
///
/// ```
/// use planting::share::parts;
/// assert_eq!(parts("1.KsAwYQ.us.water").collect::<Vec<_>>(), ["us", "water"]);
/// assert_eq!(parts("1.KsAwYQ").count(), 0);
/// ```
pub fn parts(link: &str) -> impl Iterator<Item = &str> {
    link.split('.').skip(2)
}

fn damaged() -> Message {
    Message::plain("was cut short or changed on its way; copy it again as a whole")
}

/// The bytes of the plan, without their check.
fn open(link: &str) -> Result<Vec<u8>, Message> {
    let count = link.len();
    if count > LONGEST {
        let slots = [Slot::Word(count.to_string()), Slot::Word(LONGEST.to_string())];
        return Err(Message::new("is {0} characters long; at most {1} are read", slots));
    }
    let mut pieces = link.split('.');
    match (pieces.next().unwrap_or_default(), pieces.next()) {
        (EDITION, Some(plan)) => {
            let mut bytes = letters::read(plan).ok_or_else(damaged)?;
            let check = bytes.split_off(bytes.len().saturating_sub(2));
            if check != letters::crc_16(&bytes).to_be_bytes() {
                return Err(damaged());
            }
            Ok(bytes)
        }
        (edition, Some(_)) if edition.parse::<u32>().is_ok_and(|edition| edition > 1) => Err(Message::new(
            "is of edition {0}; this program reads edition {1}, a later version wrote it",
            [edition.into(), EDITION.into()],
        )),
        _ => Err(Message::plain("is not a link to a plan; one begins with a number and a dot")),
    }
}

/// The fields as entries of a scenario file. `None` where the bytes end within a field or hold a form
/// that no edition up to this one has.
fn fields(bytes: &[u8], problems: &mut Vec<Problem>) -> Option<Entries> {
    let mut bytes = bytes.iter();
    let version = ("version".to_owned(), Entry::Number(f64::from(VERSION)));
    let system = (SYSTEM.to_owned(), value_of(parameter(SYSTEM), Value::Choice(two(&mut bytes)?)));
    let mut entries = vec![version, system];
    while let Some(&code) = bytes.next() {
        if entries.len() > MOST_FIELDS {
            return None;
        }
        let value = value(&mut bytes)?;
        match REGISTRY.iter().find(|parameter| parameter.code == code) {
            Some(parameter) => entries.push((parameter.key.to_owned(), value_of(Some(parameter), value))),
            None => problems.push(Problem::new(&format!("field {code}"), Fault::Later)),
        }
    }
    Some(Entries(entries))
}

enum Value {
    Entry(Entry),
    Choice(u16),
}

fn value(bytes: &mut Bytes) -> Option<Value> {
    let number = |bytes: &mut Bytes| {
        let form = *bytes.next()?;
        number::read(form, bytes).map(Entry::Number)
    };
    Some(match *bytes.next()? {
        CHOICE => Value::Choice(two(bytes)?),
        LIST => {
            let count = *bytes.next()?;
            Value::Entry(Entry::List((0..count).map(|_| number(bytes)).collect::<Option<_>>()?))
        }
        form => Value::Entry(Entry::Number(number::read(form, bytes)?)),
    })
}

/// A value as a file would have it: a choice by the key whose check value it is.
fn value_of(parameter: Option<&Parameter>, value: Value) -> Entry {
    let options = match parameter.map(|parameter| parameter.kind) {
        Some(Kind::Choice(ChoiceList { options, .. })) => options(),
        _ => Vec::new(),
    };
    match value {
        Value::Entry(entry) => entry,
        Value::Choice(code) => {
            let found = options.iter().find(|(key, _)| letters::crc_16(key.as_bytes()) == code);
            Entry::Text(found.map_or_else(|| format!("entry {code}"), |(key, _)| (*key).to_owned()))
        }
    }
}

fn two(bytes: &mut Bytes) -> Option<u16> {
    Some(u16::from_be_bytes([*bytes.next()?, *bytes.next()?]))
}
