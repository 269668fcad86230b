//! The plan that outlives a reload: scenario, units and paper in the browser's own storage.
//!
//! Storage may be blocked, full, or hold anything at all. What can't be read is moved aside, never
//! thrown away, and the reader is told what was wrong with it.

use drafting::Units;
use drafting::packet::Paper;
use js_sys::{JSON, Object, Reflect};
use planting::{Entries, Problem, Scenario};
use serde::Serialize;
use wasm_bindgen::JsValue;
use web_sys::Storage;

const PLACE: &str = "rowlight.v1";
const BROKEN: &str = "rowlight.v1.broken";

/// What was found in storage.
#[derive(Default)]
pub(crate) struct Found {
    pub(crate) scenario: Option<Scenario>,
    pub(crate) units: Option<Units>,
    pub(crate) paper: Option<Paper>,
    pub(crate) fault: Option<Broken>,
}

/// Why a saved plan could not be opened.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Broken {
    /// It isn't a file of this program.
    Unreadable,
    /// Fields are wrong.
    Fields(Vec<Problem>),
}

fn storage() -> Option<Storage> {
    web_sys::window()?.local_storage().ok().flatten()
}

fn text_of(object: &JsValue, key: &str) -> Option<String> {
    Reflect::get(object, &key.into()).ok()?.as_string()
}

/// Opens the saved plan, if there is one.
pub(crate) fn open() -> Found {
    let Some(text) = storage().and_then(|storage| storage.get_item(PLACE).ok().flatten()) else {
        return Found::default();
    };
    let found = read(&text);
    if found.fault.is_some()
        && let Some(storage) = storage()
    {
        // A full or forbidden storage can't be helped here; the notice still tells of the fault.
        let _ = storage.set_item(BROKEN, &text);
        let _ = storage.remove_item(PLACE);
    }
    found
}

fn read(text: &str) -> Found {
    let unreadable = || Found { fault: Some(Broken::Unreadable), ..Found::default() };
    let Ok(object) = JSON::parse(text) else { return unreadable() };
    if !object.is_object() {
        return unreadable();
    }
    let units = text_of(&object, "units").and_then(|key| Units::from_key(&key));
    let paper = text_of(&object, "paper")
        .and_then(|key| [Paper::Letter, Paper::A4].into_iter().find(|paper| paper.key() == key));
    let entries = Reflect::get(&object, &"scenario".into())
        .ok()
        .and_then(|value| serde_wasm_bindgen::from_value::<Entries>(value).ok());
    let (scenario, fault) = match entries.as_ref().map(Scenario::from_entries) {
        None => (None, Some(Broken::Unreadable)),
        Some(Ok(scenario)) => (Some(scenario), None),
        Some(Err(problems)) => (None, Some(Broken::Fields(problems))),
    };
    Found { scenario, units, paper, fault }
}

/// Saves a plan; a browser that forbids it is not asked twice.
pub(crate) fn store(scenario: &Scenario, units: Units, paper: Paper) {
    let Some(storage) = storage() else { return };
    let as_object = serde_wasm_bindgen::Serializer::json_compatible();
    let Ok(entries) = scenario.to_entries().serialize(&as_object) else { return };
    let object = Object::new();
    let fields = [("scenario", entries), ("units", units.key().into()), ("paper", paper.key().into())];
    for (key, value) in fields {
        if Reflect::set(&object, &key.into(), &value).is_err() {
            return;
        }
    }
    if let Some(text) = JSON::stringify(&object).ok().and_then(|text| text.as_string()) {
        let _ = storage.set_item(PLACE, &text);
    }
}
