//! The plan that outlives a reload: scenario, units, paper and chapter in the browser's own storage,
//! and every other form in which a plan comes in: a file, a link, a bare scenario.
//!
//! Storage may be blocked, full, or hold anything at all. What can't be read is moved aside, never
//! thrown away, and the reader is told what was wrong with it.

use crate::chapter::Chapter;
use drafting::Units;
use drafting::packet::Paper;
use js_sys::{JSON, Object, Reflect};
use planting::{Entries, Problem, Scenario, share};
use serde::Serialize;
use wasm_bindgen::JsValue;
use web_sys::Storage;

/// What is added to the place of a plan that can't be read.
const ASIDE: &str = ".broken";

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
}

fn storage() -> Option<Storage> {
    web_sys::window()?.local_storage().ok().flatten()
}

pub(crate) fn text_of(object: &JsValue, key: &str) -> Option<String> {
    Reflect::get(object, &key.into()).ok()?.as_string()
}

/// Opens the plan saved under `place`, if there is one.
pub(crate) fn open(place: &str) -> Found {
    let Some(text) = storage().and_then(|storage| storage.get_item(place).ok().flatten()) else {
        return Found::default();
    };
    let found = read(&text, Reader::default());
    if found.fault.is_some()
        && let Some(storage) = storage()
    {
        // A full or forbidden storage can't be helped here; the notice still tells of the fault.
        let _ = storage.set_item(&format!("{place}{ASIDE}"), &text);
        let _ = storage.remove_item(place);
    }
    found
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
    let entries = serde_wasm_bindgen::from_value::<Entries>(object).map_err(|_| Broken::Unreadable)?;
    Scenario::from_entries(&entries).map_err(Broken::Fields)
}

fn read_link(link: &str, now: Reader) -> Found {
    let mut reader = now;
    for part in share::appended(link).split('.') {
        if let Some(units) = Units::from_key(part) {
            reader.units = units;
        } else if let Some(chapter) = Chapter::of(part) {
            reader.chapter = chapter;
        }
    }
    match share::read(link) {
        Ok(scenario) => Found { scenario: Some(scenario), reader, fault: None },
        Err(problems) => Found { scenario: None, reader: now, fault: Some(Broken::Fields(problems)) },
    }
}

/// The link of a plan, with the reader's units and chapter behind it.
pub(crate) fn link(scenario: &Scenario, reader: Reader) -> String {
    format!("{}.{}.{}", share::write(scenario), reader.units.key(), reader.chapter.key())
}

/// A scenario as an object of the browser's.
pub(crate) fn object_of(scenario: &Scenario) -> JsValue {
    let as_object = serde_wasm_bindgen::Serializer::json_compatible();
    scenario.to_entries().serialize(&as_object).unwrap_or(JsValue::UNDEFINED)
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
    let file = object([
        ("scenario", object_of(scenario)),
        ("units", reader.units.key().into()),
        ("paper", reader.paper.key().into()),
        ("chapter", reader.chapter.key().into()),
    ]);
    JSON::stringify(&file).ok()?.as_string()
}

/// Saves a plan under `place`; a browser that forbids it is not asked twice.
pub(crate) fn store(place: &str, scenario: &Scenario, reader: Reader) {
    if let Some((storage, text)) = storage().zip(file(scenario, reader)) {
        let _ = storage.set_item(place, &text);
    }
}
