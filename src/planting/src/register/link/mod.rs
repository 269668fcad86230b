//! All inputs of a plan as a short text for the fragment of an address, and back.
//!
//! ```text
//! link    = edition "." plan *( "." part )
//! edition = 1*DIGIT            ; how `plan` is to be read; this program reads and writes 1
//! plan    = *( ALPHA / DIGIT / "-" / "_" )  ; base64url without padding, RFC 4648 section 5, of
//!                              ; system *field check
//! part    = *( ALPHA / DIGIT / "-" / "_" / "~" )  ; the caller's own, such as units; not read here
//!
//! system  = 2 bytes            ; the training system, as an entry of a list
//! field   = code value         ; code: 1 byte, `Parameter::code`
//! value   = number / %x0E entry / %x0F count *number
//! entry   = 2 bytes            ; CRC-16 of the key of the entry, so that no order of a list matters
//! count   = 1 byte
//! number  = %x00 8 bytes       ; the bits of the number, the highest byte first
//!         / form multiple      ; form: its lower half names a unit, its upper half the last bits
//! multiple = 1*5OCTET          ; whole, seven bits a byte, the lowest first, the sign in the lowest bit
//! check   = 2 bytes            ; CRC-16 of all before it: a link cut short or retyped is refused
//! ```
//!
//! All characters are unreserved in RFC 3986, section 2.3. The forms of numbers stand in `number`.
//!
//! Written is the training system and what differs from that system's starting plan; every number comes
//! back to the last bit. **A link must open in every later version**, as the same plan. So:
//! - codes, units and keys are never changed nor given to another thing;
//! - a value says of what kind it is, so that a field of a later version can be named and passed over;
//! - the code of an input that is taken out is passed over in silence;
//! - a starting plan that changes needs a new edition: raise `EDITION`, and let links of an earlier one take
//!   the earlier values.
//!
//! `tests/links` holds links of all editions with what they must open as.

mod letters;
mod number;

use super::entries::{Entries, Entry};
use super::parameter::{ChoiceList, Kind, Parameter};
use super::problem::{Fault, Problem};
use crate::kit::message::Message;
use number::Bytes;

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

/// The link of a plan: what of its entries is not `usual` for its training system.
pub fn write<S>(register: &[Parameter<S>], own: &Entries, usual: &Entries) -> String {
    let mut bytes = Vec::new();
    for parameter in register {
        match own.get(parameter.key) {
            Some(Entry::Text(key)) if parameter.key == SYSTEM => put_key(&mut bytes, key),
            Some(entry) if usual.get(parameter.key) != Some(entry) => {
                bytes.push(parameter.code);
                put(&mut bytes, entry);
            }
            _ => {}
        }
    }
    let check = letters::crc_16(&bytes);
    bytes.extend(check.to_be_bytes());
    format!("{EDITION}.{}", letters::write(&bytes))
}

fn put(bytes: &mut Vec<u8>, entry: &Entry) {
    match entry {
        Entry::Number(value) => number::write(bytes, *value),
        Entry::Text(key) => {
            bytes.push(CHOICE);
            put_key(bytes, key);
        }
        Entry::List(items) => {
            // A list longer than the count can say is out of range, and still is after the cut.
            let count = u8::try_from(items.len()).unwrap_or(u8::MAX);
            bytes.extend([LIST, count]);
            for item in items.iter().take(usize::from(count)) {
                put(bytes, item);
            }
        }
        Entry::Other(_) => {}
    }
}

fn put_key(bytes: &mut Vec<u8>, key: &str) {
    bytes.extend(letters::crc_16(key.as_bytes()).to_be_bytes());
}

/// What a link of this version of files holds, and what is wrong with it: fields that only a later version has.
/// Parts behind the plan are left to the caller, see [`appended`].
///
/// # Errors
/// What is said of a text that is no link, or no longer whole.
pub fn read<S>(
    register: &[Parameter<S>],
    version: u32,
    link: &str,
) -> Result<(Entries, Vec<Problem>), Message> {
    let bytes = open(link)?;
    let mut problems = Vec::new();
    let entries = entries(register, version, &bytes, &mut problems).ok_or_else(|| Message::plain(NEWER))?;
    Ok((entries, problems))
}

/// What a caller has put behind the plan, without the dot between; empty where there is nothing.
///
/// ```
/// use planting::register::link::appended;
/// assert_eq!(appended("1.KsAwYQ.us.water"), "us.water");
/// assert_eq!(appended("1.KsAwYQ"), "");
/// ```
pub fn appended(link: &str) -> &str {
    pieces(link).2
}

/// Edition, plan, and what is behind the plan.
fn pieces(link: &str) -> (&str, &str, &str) {
    let (edition, rest) = link.split_once('.').unwrap_or((link, ""));
    let (plan, appended) = rest.split_once('.').unwrap_or((rest, ""));
    (edition, plan, appended)
}

/// The bytes of the plan, without their check.
fn open(link: &str) -> Result<Vec<u8>, Message> {
    if link.len() > LONGEST {
        return Err(Message::plain("is longer than the 4,096 characters that are read"));
    }
    let (edition, plan, _) = pieces(link);
    if edition != EDITION {
        return Err(match edition.parse::<u32>() {
            Ok(_) => Message::new(
                "is of edition {0}, which this program doesn't read; another version wrote it",
                [edition.into()],
            ),
            Err(_) => Message::plain("is not a link to a plan; one begins with a number and a dot"),
        });
    }
    let mut bytes = letters::read(plan).unwrap_or_default();
    let check = bytes.split_off(bytes.len().saturating_sub(2));
    if check != letters::crc_16(&bytes).to_be_bytes() {
        return Err(Message::plain("was cut short or changed on its way; copy it again as a whole"));
    }
    Ok(bytes)
}

/// The fields as entries of a scenario file. `None` where the bytes end within a field or hold a form
/// that no edition up to this one has.
fn entries<S>(
    register: &[Parameter<S>],
    version: u32,
    bytes: &[u8],
    problems: &mut Vec<Problem>,
) -> Option<Entries> {
    let mut bytes = bytes.iter();
    let mut entries = vec![
        ("version".to_owned(), Entry::Number(f64::from(version))),
        (SYSTEM.to_owned(), key(register.iter().find(|parameter| parameter.key == SYSTEM), &mut bytes)?),
    ];
    while let Some(&code) = bytes.next() {
        let parameter = register.iter().find(|parameter| parameter.code == code);
        let entry = entry(parameter, &mut bytes)?;
        match parameter {
            Some(parameter) => entries.push((parameter.key.to_owned(), entry)),
            None => problems.push(Problem::new(&format!("field {code}"), Fault::Later)),
        }
        if entries.len() + problems.len() > MOST_FIELDS {
            return None;
        }
    }
    Some(Entries(entries))
}

fn entry<S>(parameter: Option<&Parameter<S>>, bytes: &mut Bytes) -> Option<Entry> {
    match *bytes.next()? {
        CHOICE => key(parameter, bytes),
        LIST => {
            let mut items = Vec::new();
            for _ in 0..*bytes.next()? {
                let form = *bytes.next()?;
                items.push(Entry::Number(number::read(form, bytes)?));
            }
            Some(Entry::List(items))
        }
        form => number::read(form, bytes).map(Entry::Number),
    }
}

/// The entry of a list whose key has the check value that comes next.
fn key<S>(parameter: Option<&Parameter<S>>, bytes: &mut Bytes) -> Option<Entry> {
    let check = u16::from_be_bytes([*bytes.next()?, *bytes.next()?]);
    let options = match parameter.map(|parameter| parameter.kind) {
        Some(Kind::Choice(ChoiceList { options, .. })) => options(),
        _ => Vec::new(),
    };
    let found = options.iter().find(|(key, _)| letters::crc_16(key.as_bytes()) == check);
    Some(Entry::Text(found.map_or_else(|| format!("entry {check}"), |(key, _)| (*key).to_owned())))
}
