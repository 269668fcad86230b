//! The plan that outlives a reload: scenario, units, paper and chapter in the browser's own storage.
//!
//! Storage may be blocked, full, or hold anything at all. What can't be read is moved aside, never
//! thrown away, and the reader is told what was wrong with it.

use crate::chapter::Chapter;
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
    let one_of = |key: &str| text_of(&object, key).unwrap_or_default();
    let (units, paper, chapter) = (one_of("units"), one_of("paper"), one_of("chapter"));
    let reader = Reader {
        units: Units::from_key(&units).unwrap_or_default(),
        paper: [Paper::Letter, Paper::A4].into_iter().find(|one| one.key() == paper).unwrap_or_default(),
        chapter: Chapter::ALL.into_iter().find(|one| one.key() == chapter).unwrap_or_default(),
    };
    let entries = Reflect::get(&object, &"scenario".into())
        .ok()
        .and_then(|value| serde_wasm_bindgen::from_value::<Entries>(value).ok());
    let (scenario, fault) = match entries.as_ref().map(Scenario::from_entries) {
        None => (None, Some(Broken::Unreadable)),
        Some(Ok(scenario)) => (Some(scenario), None),
        Some(Err(problems)) => (None, Some(Broken::Fields(problems))),
    };
    Found { scenario, reader, fault }
}

/// Saves a plan; a browser that forbids it is not asked twice.
pub(crate) fn store(scenario: &Scenario, reader: Reader) {
    let Some(storage) = storage() else { return };
    let as_object = serde_wasm_bindgen::Serializer::json_compatible();
    let Ok(entries) = scenario.to_entries().serialize(&as_object) else { return };
    let object = Object::new();
    let fields = [
        ("scenario", entries),
        ("units", reader.units.key().into()),
        ("paper", reader.paper.key().into()),
        ("chapter", reader.chapter.key().into()),
    ];
    for (key, value) in fields {
        if Reflect::set(&object, &key.into(), &value).is_err() {
            return;
        }
    }
    if let Some(text) = JSON::stringify(&object).ok().and_then(|text| text.as_string()) {
        let _ = storage.set_item(PLACE, &text);
    }
}
