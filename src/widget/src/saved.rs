//! The plan that outlives a reload: scenario, units, paper and chapter in the browser's own storage,
//! and every other form in which a plan comes in: a file, a link, a bare scenario.
//!
//! Storage may be blocked, full, or hold anything at all. What can't be read is moved aside, never
//! thrown away, and the reader is told what was wrong with it.

use crate::chapter::Chapter;
use drafting::Units;
use drafting::packet::Paper;
use js_sys::{Array, JSON, Object, Reflect};
use planting::register::entries::MOST;
use planting::{Entries, Entry, Problem, READER, Scenario, link};
use serde::Serialize;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::Storage;

/// What is added to the storage key of a plan that can't be read.
const ASIDE: &str = ".broken";

/// What is added to the storage key of a plan for the reader's own plan, while a link's stands in its place.
const OWN: &str = ".own";

/// A reader's own plan, while a link's stands in its place.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Own {
    pub(crate) scenario: Scenario,
    pub(crate) reader: Reader,
    /// Whether it is kept beside the link's. Where the storage has no room for both, it stays in its place and the link's isn't kept.
    pub(crate) beside: bool,
}

/// What was found in a text that should hold a plan.
#[derive(Default)]
pub(crate) struct Found {
    pub(crate) scenario: Option<Scenario>,
    pub(crate) reader: Reader,
    pub(crate) fault: Option<Broken>,
}

/// How a reader looks at a plan.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Reader {
    pub(crate) units: Units,
    pub(crate) paper: Paper,
    pub(crate) chapter: Chapter,
}

/// Why a plan could not be opened.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Broken {
    /// It isn't a file of this program.
    Unreadable,
    /// Fields are wrong.
    Fields(Vec<Problem>),
    /// What was set isn't possible, in words.
    Said(String),
    /// A part of the page that comes in a file of its own hasn't come; why, in words.
    Lacking(String),
}

fn storage() -> Option<Storage> {
    web_sys::window()?.local_storage().ok().flatten()
}

pub(crate) fn text_of(object: &JsValue, key: &str) -> Option<String> {
    Reflect::get(object, &key.into()).ok()?.as_string()
}

/// Opens the plan saved under `key`, if there is one.
pub(crate) fn open(key: &str) -> Found {
    let Some(text) = storage().and_then(|storage| storage.get_item(key).ok().flatten()) else {
        return Found::default();
    };
    let found = read(&text, Reader::default());
    if found.fault.is_some()
        && let Some(storage) = storage()
    {
        // A full or forbidden storage can't be helped here; the notice still tells of the fault.
        let _ = storage.set_item(&format!("{key}{ASIDE}"), &text);
        let _ = storage.remove_item(key);
    }
    found
}

/// Keeps a reader's own plan beside the one that is to take its place.
pub(crate) fn keep_own(key: Option<&str>, scenario: Scenario, reader: Reader) -> Own {
    let beside = || {
        let text = file(&scenario, reader)?;
        storage()?.set_item(&format!("{}{OWN}", key?), &text).ok()
    };
    Own { beside: beside().is_some(), scenario, reader }
}

/// The reader's own plan that waits beside the one at `key`, if there is one.
pub(crate) fn waiting(key: &str) -> Option<Own> {
    let Found { scenario, reader, .. } = open(&format!("{key}{OWN}"));
    Some(Own { scenario: scenario?, reader, beside: true })
}

/// Lets go of the plan that waits beside the one at `key`.
pub(crate) fn let_go_of_own(key: &str) {
    if let Some(storage) = storage() {
        // A forbidden storage holds none.
        let _ = storage.remove_item(&format!("{key}{OWN}"));
    }
}

/// Reads a saved file, a bare scenario or a link; what it doesn't say of the reader stays as it is.
pub(crate) fn read(text: &str, now: Reader) -> Found {
    let text = text.trim();
    if !text.starts_with(['{', '[', '"']) && text.contains('.') {
        return read_link(text.trim_start_matches('#'), now);
    }
    let unreadable = || Found { fault: Some(Broken::Unreadable), reader: now, ..Found::default() };
    let Ok(object) = JSON::parse(text) else { return unreadable() };
    if !object.is_object() {
        return unreadable();
    }
    let one_of = |key: &str| text_of(&object, key).unwrap_or_default();
    let (units, paper, chapter) = (one_of("units"), one_of("paper"), one_of("chapter"));
    let reader = Reader {
        units: Units::from_key(&units).unwrap_or(now.units),
        paper: [Paper::Letter, Paper::A4].into_iter().find(|one| one.key() == paper).unwrap_or(now.paper),
        chapter: Chapter::of(&chapter).unwrap_or(now.chapter),
    };
    let inner = Reflect::get(&object, &"scenario".into()).unwrap_or(JsValue::UNDEFINED);
    let bare = inner.is_undefined() && Reflect::has(&object, &"version".into()).unwrap_or(false);
    let (scenario, fault) = match scenario_of(if bare { object } else { inner }) {
        Ok(scenario) => (Some(scenario), None),
        Err(fault) => (None, Some(fault)),
    };
    Found { scenario, reader, fault }
}

/// The scenario an object of a host or a file stands for.
pub(crate) fn scenario_of(object: JsValue) -> Result<Scenario, Broken> {
    let entries = entries_of(&object).ok_or(Broken::Unreadable)?;
    Scenario::from_entries(&entries).map_err(Broken::Fields)
}

/// Keys and values of an object. By hand: serde's way in brings the writing of floats and the classes of all letters along.
fn entries_of(object: &JsValue) -> Option<Entries> {
    let object = object.dyn_ref::<Object>().filter(|object| !Array::is_array(object))?;
    let pairs = Object::entries(object);
    let entry = |pair: JsValue| {
        let pair: Array = pair.unchecked_into();
        Some((pair.get(0).as_string()?, entry_of(&pair.get(1), true)))
    };
    pairs.iter().take(MOST).map(entry).collect::<Option<Vec<_>>>().map(Entries)
}

/// The entry for a value. A list within a list isn't read, because no scenario has one.
fn entry_of(value: &JsValue, lists: bool) -> Entry {
    if let Some(number) = value.as_f64() {
        Entry::Number(number)
    } else if let Some(text) = value.as_string() {
        Entry::Text(text)
    } else if Array::is_array(value) {
        if !lists {
            return Entry::Other("a list");
        }
        let items = value.unchecked_ref::<Array>().iter().take(MOST);
        Entry::List(items.map(|item| entry_of(&item, false)).collect())
    } else if value.as_bool().is_some() {
        Entry::Other("true or false")
    } else if value.is_null() || value.is_undefined() {
        Entry::Other("nothing")
    } else {
        Entry::Other("an object")
    }
}

fn read_link(link: &str, now: Reader) -> Found {
    let mut reader = now;
    for part in link::appended(link).split('.') {
        if let Some(units) = Units::from_key(part) {
            reader.units = units;
        } else if let Some(chapter) = Chapter::of(part) {
            reader.chapter = chapter;
        }
    }
    match link::read(link) {
        Ok(scenario) => Found { scenario: Some(scenario), reader, fault: None },
        Err(problems) => Found { scenario: None, reader: now, fault: Some(Broken::Fields(problems)) },
    }
}

/// The link of a plan, with the reader's units and chapter behind it.
pub(crate) fn link(scenario: &Scenario, reader: Reader) -> String {
    format!("{}.{}.{}", link::write(scenario), reader.units.key(), reader.chapter.key())
}

/// A scenario as an object of the browser's.
pub(crate) fn object_of(scenario: &Scenario) -> JsValue {
    entries_as_object(&scenario.to_entries())
}

/// Entries of a file as an object of scripts.
pub(crate) fn entries_as_object(entries: &Entries) -> JsValue {
    let as_object = serde_wasm_bindgen::Serializer::json_compatible();
    entries.serialize(&as_object).unwrap_or(JsValue::UNDEFINED)
}

/// An object of the browser's with these fields.
pub(crate) fn object(fields: impl IntoIterator<Item = (&'static str, JsValue)>) -> JsValue {
    let object = Object::new();
    for (key, value) in fields {
        // Setting a field of a new object can't fail.
        let _ = Reflect::set(&object, &key.into(), &value);
    }
    object.into()
}

/// A plan as a file.
pub(crate) fn file(scenario: &Scenario, reader: Reader) -> Option<String> {
    let file = object_of(scenario);
    let [units, paper, chapter] = READER;
    for (key, word) in
        [(units, reader.units.key()), (paper, reader.paper.key()), (chapter, reader.chapter.key())]
    {
        // Setting a field of a new object can't fail.
        let _ = Reflect::set(&file, &key.into(), &word.into());
    }
    JSON::stringify(&file).ok()?.as_string()
}

/// Saves a plan's file under `key`; where the browser forbids it, nothing is saved.
pub(crate) fn store(key: &str, file: Option<&str>) {
    if let Some((storage, text)) = storage().zip(file) {
        let _ = storage.set_item(key, text);
    }
}
