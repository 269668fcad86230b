//! What an embedding page may call. All that is exported to JavaScript stands here; `www/rowlight-plan.js` wraps it in
//! an element, and `www/rowlight-plan.d.ts` says it in TypeScript.
//!
//! Values go over as plain objects and texts. Whatever comes in is checked, and what is wrong with it goes back in
//! words; the plan on the desk stays as it was.

use crate::chapter::Chapter;
use crate::desk::{Desk, Face, Hands, Refusal};
use crate::notice::sentences;
use crate::page::page;
use crate::piece::stand;
use crate::reactive::*;
use crate::rooms;
use crate::saved::{self, Broken, Reader, object_of, text_of};
use crate::signal::{Owned, when_changed};
use crate::start::{Given, Start, plan_in, start, year_in};
use crate::tell_of_panics;
use drafting::Units;
use drafting::export::GeoPoint;
use js_sys::{Array, Function, Reflect};
use planting::ground::Memory;
use planting::{Ground, REGISTRY, Scenario, control_groups, degrees};
use std::any::Any;
use std::cell::Cell;
use std::rc::Rc;
use std::time::Duration;
use wasm_bindgen::prelude::wasm_bindgen;
use wasm_bindgen::{JsCast, JsError, JsValue};
use web_sys::HtmlElement;

/// How long a plan must stand still before its page is told of it.
const TELL_AFTER: Duration = Duration::from_millis(100);

/// A mounted planner. Freeing it takes the planner away and lets go of all it held.
#[wasm_bindgen]
pub struct Handle {
    desk: Desk,
    /// The scenario its page knows of.
    told: Owned<Scenario>,
    /// On a page of its own, the plan of the last link opened.
    linked: Owned<Option<Scenario>>,
    _mounted: Box<dyn Any>,
}

/// Mounts a planner into an element and takes the still picture (`[data-picture]`) in it away.
///
/// `settings` are fields of an object, all optional: `alone` (true on a page of its own), `place` (the key in the
/// browser's storage to keep the plan under), `changed` (a function called when a hand has changed the plan), and the
/// texts `scenario`, `units`, `chapters`, `controls`, `year`, and `resumed` (the file of a planner that was taken away and is put
/// into its page again: it stands as it was, and `scenario` is what "Start again" leads to).
///
/// # Errors
/// Where the starting plan itself can't be computed; the still picture then stays.
#[wasm_bindgen]
pub fn mount(host: HtmlElement, settings: JsValue) -> Result<Handle, JsError> {
    tell_of_panics();
    let field = |name: &str| Reflect::get(&settings, &name.into()).unwrap_or(JsValue::UNDEFINED);
    let alone = field("alone").is_truthy();
    let storage_key = text_of(&settings, "place");
    let kept = storage_key.as_deref().map(saved::open).unwrap_or_default();
    let now = kept.reader;
    let read = |name: &str| text_of(&settings, name).map(|text| saved::read(&text, now));
    let (resumed, asked) = (read("resumed"), read("scenario"));
    let is_resumed = resumed.is_some();
    let Start { scenario, reader, home, before, own, is_asked, refusal } =
        start(Given { alone, kept, resumed, asked, year: text_of(&settings, "year") });
    // The only plan that mounting computes: the desk takes it over and doesn't compute it again.
    let ground = Ground::lay(&scenario, &mut Memory::default())
        .map_err(|_| JsError::new("the starting plan has fields at odds"))?;
    let changed = field("changed").dyn_into::<Function>().ok();
    let desk_of = Rc::new(Cell::new(None));
    let mounted = stand(&host, {
        let (host, desk_of, scenario) = (host.clone(), Rc::clone(&desk_of), scenario.clone());
        move || {
            let told = Owned::new(scenario.clone());
            let linked = Owned::new((alone && is_asked).then_some(scenario));
            let desk = Desk::new(host, ground, before, reader, alone);
            desk.home.set(home);
            desk.refusal.set(refusal);
            desk.storage_key.set_value(storage_key.clone());
            if let Some(changed) = changed {
                tell(desk, told, changed);
            }
            desk_of.set(Some((desk, told, linked)));
            page(desk, storage_key)
        }
    });
    let (desk, told, linked) =
        desk_of.take().ok_or_else(|| JsError::new("the planner could not be mounted"))?;
    if alone {
        desk.own.set(desk.storage_key.get_value().and_then(|storage_key| saved::waiting(&storage_key)));
    }
    if desk.own.with_untracked(|own| own.as_ref().is_some_and(|own| own.scenario == scenario)) {
        desk.let_go_of_own();
    }
    if let Some((own, reader)) = own {
        desk.keep_own(own, reader);
    }
    let handle = Handle { desk, told, linked, _mounted: Box::new(mounted) };
    for name in ["chapters", "controls"] {
        if let Some(text) = text_of(&settings, name) {
            handle.set(name, &text);
        }
    }
    // What a link or a file says of units counts only where the page says nothing; what a reader has turned to stays.
    if let Some(units) = text_of(&settings, "units").filter(|_| !is_resumed) {
        handle.set("units", &units);
    }
    if let Ok(Some(picture)) = host.query_selector("[data-picture]") {
        picture.remove();
    }
    Ok(handle)
}

/// Fetches the part of this key where it isn't there yet, for every planner of the page; false where it couldn't be fetched, and
/// the next one who asks tries again.
#[wasm_bindgen]
pub async fn room(key: String) -> bool {
    rooms::come(&key).await
}

/// The keys of the parts that figures and findings of all chapters need.
#[wasm_bindgen(js_name = chapterRooms)]
pub fn chapter_rooms() -> Array {
    rooms::WHOLE.into_iter().map(JsValue::from).collect()
}

/// Whom to call with the key of a part that could not be fetched; it answers by `toldWhy`.
#[wasm_bindgen(js_name = askWhy)]
pub fn ask_why(why: Function) {
    rooms::ask_why(why);
}

/// Takes down why the part of this key could not be fetched, in words for the reader.
#[wasm_bindgen(js_name = toldWhy)]
pub fn told_why(key: &str, words: String) {
    rooms::told_why(key, words);
}

/// The keys of the inputs a list of groups and fields names; none where it names something else.
fn keys_of(list: &str) -> Option<Vec<&'static str>> {
    let mut keys = Vec::new();
    for name in list.split([' ', ',']).filter(|name| !name.is_empty()) {
        let before = keys.len();
        let named = REGISTRY.iter().filter(|one| one.key == name || one.group.key == name);
        keys.extend(named.map(|one| one.key));
        if keys.len() == before {
            return None;
        }
    }
    Some(keys)
}

/// The keys of all groups of controls, as a text.
fn group_keys() -> String {
    control_groups().iter().map(|group| group.key).collect::<Vec<_>>().join(", ")
}

/// Calls `changed` when the plan has stood still for a moment and isn't the one the page knows of.
fn tell(desk: Desk, told: Owned<Scenario>, changed: Function) {
    let changed = Owned::new(changed);
    let waiting = Owned::new(None::<TimeoutHandle>);
    let stop = move || {
        if let Some(waiting) = waiting.try_update_value(Option::take).flatten() {
            waiting.clear();
        }
    };
    let call = move || {
        let now = desk.ground.with_untracked(|ground| ground.scenario.clone());
        if told.try_get_value().is_some_and(|told| told != now) {
            told.set_value(now);
            // A listener that throws says so on the console by itself.
            let _ = changed.get_value().call0(&JsValue::UNDEFINED);
        }
    };
    when_changed(
        move || desk.ground.track(),
        move || {
            stop();
            waiting.set_value(set_timeout_with_handle(call, TELL_AFTER).ok());
        },
    );
    on_cleanup(stop);
}

#[wasm_bindgen]
impl Handle {
    /// The scenario of the last plan that worked, as the object of a scenario file.
    pub fn scenario(&self) -> JsValue {
        object_of(&self.scenario_now())
    }

    /// The plan with its figures and findings; nothing before the parts of `chapterRooms` have come.
    pub fn plan(&self) -> Option<JsValue> {
        (rooms::files::now()?.told)(&self.scenario_now(), self.desk.reader()).ok()
    }

    /// The link of the plan, without an address before it.
    pub fn link(&self) -> String {
        saved::link(&self.scenario_now(), self.desk.reader())
    }

    /// The plan as a file.
    pub fn file(&self) -> Option<String> {
        saved::file(&self.scenario_now(), self.desk.reader())
    }

    /// Key and title of each drawing of the chapter.
    pub fn drawings(&self) -> Array {
        let views = self.desk.chapter.get_untracked().views();
        views.map(|view| Array::of2(&view.key().into(), &view.title().into())).collect()
    }

    /// A drawing as SVG, by its key, as the chapter turned to shows it. This, tables and the map come in a file of their own: there is nothing
    /// before `room("files")` has said that it has come.
    pub fn drawing(&self, view: &str) -> Option<String> {
        let chapter = self.desk.chapter.get_untracked().key();
        let look = rooms::files::Look { chapter, daylight: untrack(|| self.desk.light_shown()) };
        (rooms::files::now()?.drawing)(&self.scenario_now(), self.desk.units.get_untracked(), look, view)
    }

    /// A table as CSV: `figures`, `orders` or `stations`.
    pub fn table(&self, name: &str) -> Option<String> {
        (rooms::files::now()?.table)(&self.scenario_now(), self.desk.units.get_untracked(), name)
    }

    /// Every tree and post as GeoJSON, given where the field's corner lies `[°]`.
    ///
    /// # Errors
    /// What is wrong with the place, in words.
    pub fn map(&self, longitude: f64, latitude: f64) -> Result<Option<String>, JsError> {
        let Some(files) = rooms::files::now() else { return Ok(None) };
        let corner = GeoPoint { longitude: degrees(longitude), latitude: degrees(latitude) };
        let map = (files.map)(&self.scenario_now(), self.desk.units.get_untracked(), corner);
        map.map(Some).map_err(|words| JsError::new(&words))
    }

    /// Opens a link, a file or a scenario, as one step to undo. Where it can't be opened the plan stays, and what is wrong
    /// comes back; with `shown` the reader is told too.
    pub fn open(&self, text: &str, shown: bool) -> Option<String> {
        self.replace(text, shown, false)
    }

    /// The same with a file the reader chose: the page is told of it as of every change by hand.
    #[wasm_bindgen(js_name = openByHand)]
    pub fn open_by_hand(&self, text: &str) -> Option<String> {
        self.replace(text, true, true)
    }

    /// Tells the reader what this page asked for in vain.
    pub fn say(&self, words: String) {
        self.refuse(Broken::Said(words), true);
    }

    /// Tells the reader why a part of the page hasn't come.
    pub fn lack(&self, words: String) {
        self.refuse(Broken::Lacking(words), true);
    }

    /// Sets `units`, `chapters`, `controls` or `year` as an attribute of the element does. What can't be set stays as it
    /// was; what is wrong comes back, and the reader is told.
    pub fn set(&self, name: &str, value: &str) -> Option<String> {
        self.try_set(name, value).err().map(|broken| self.refuse(broken, true))
    }
}

impl Handle {
    fn replace(&self, text: &str, shown: bool, by_hand: bool) -> Option<String> {
        let (scenario, reader) = match plan_in(saved::read(text, self.desk.reader())) {
            Ok(found) => found,
            Err(broken) => return Some(self.refuse(broken, shown)),
        };
        if !by_hand {
            if self.desk.alone {
                self.keep_own(&scenario);
            } else {
                self.desk.home.set(scenario.clone());
            }
            self.told.set_value(scenario.clone());
        }
        self.desk.units.set(reader.units);
        self.desk.paper.set(reader.paper);
        self.turn_to(reader.chapter);
        self.desk.replace(scenario);
        self.desk.refusal.set(None);
        None
    }

    /// A link is about to take the place of the plan on the desk: the reader's own is kept.
    fn keep_own(&self, given: &Scenario) {
        let own = self.scenario_now();
        let linked = self.linked.try_update_value(|linked| linked.replace(given.clone())).flatten();
        if own != *given && own != Scenario::default() && linked.is_none_or(|linked| linked != own) {
            self.desk.keep_own(own, self.desk.reader());
        }
    }

    fn scenario_now(&self) -> Scenario {
        self.desk.flush();
        self.desk.ground.with_untracked(|ground| ground.scenario.clone())
    }

    fn refuse(&self, broken: Broken, shown: bool) -> String {
        let words = sentences(&broken, self.desk.units.get_untracked());
        if shown {
            self.desk.refusal.set(Some(Refusal { saved: false, broken }));
        }
        if words.is_empty() {
            "This is no scenario, no link and no file of this planner.".to_owned()
        } else {
            words.join(" ")
        }
    }

    fn try_set(&self, name: &str, value: &str) -> Result<(), Broken> {
        let desk = self.desk;
        let only = |names: &str| Broken::Said(format!("{name}: \u{201c}{value}\u{201d} is none of {names}."));
        match name {
            "units" => desk.units.set(Units::from_key(value).ok_or_else(|| only("us, metric"))?),
            "controls" => {
                let hands = match value {
                    "" | "shown" => Hands::On,
                    "locked" => Hands::Off,
                    list => Hands::At(keys_of(list).ok_or_else(|| {
                        only(&format!("shown, locked, a list of groups ({}), a list of fields", group_keys()))
                    })?),
                };
                desk.face.update(|face| face.hands = hands);
            }
            "chapters" => {
                let mut chapters = Vec::new();
                for key in value.split([' ', ',']).filter(|key| !key.is_empty()) {
                    chapters.push(Chapter::of(key).ok_or_else(|| only(&Chapter::keys()))?);
                }
                if chapters.is_empty() {
                    chapters = Chapter::all().collect();
                }
                desk.face.update(|face: &mut Face| face.chapters = chapters);
                self.turn_to(desk.chapter.get_untracked());
            }
            "year" => {
                let year = year_in(value)?;
                // A gesture that the reader has begun is ended first, as a step of its own that the page is told of.
                desk.settle();
                desk.part();
                let _ = self.told.try_update_value(|told| told.canopy.year = year);
                desk.show_year(year);
                desk.settle();
                desk.part();
            }
            _ => return Err(Broken::Said(format!("There is no setting \u{201c}{name}\u{201d}."))),
        }
        Ok(())
    }

    /// Turns to a chapter, or to the first that is shown.
    fn turn_to(&self, chapter: Chapter) {
        let first = self.desk.face.with_untracked(|face| {
            if face.chapters.contains(&chapter) { Some(chapter) } else { face.chapters.first().copied() }
        });
        if let Some(first) = first {
            self.desk.chapter.set(first);
        }
    }
}

/// Figures and findings of a scenario, for pages that want numbers and no planner.
///
/// # Errors
/// What is wrong with the scenario, in words that name the fields.
#[wasm_bindgen(js_name = plan)]
pub fn plan_of(scenario: JsValue, units: Option<String>) -> Result<JsValue, JsError> {
    tell_of_panics();
    let units = units.unwrap_or_default();
    let now = Reader { units: Units::from_key(&units).unwrap_or_default(), ..Reader::default() };
    let found = match scenario.as_string() {
        Some(text) => {
            let found = saved::read(&text, now);
            found.scenario.ok_or(found.fault.unwrap_or(Broken::Unreadable))
        }
        None => saved::scenario_of(scenario),
    };
    let files =
        rooms::files::now().ok_or_else(|| JsError::new("the parts of chapterRooms have not come yet"))?;
    let told = found.and_then(|scenario| (files.told)(&scenario, now).map_err(Broken::Fields));
    told.map_err(|broken| match sentences(&broken, now.units).join(" ") {
        words if words.is_empty() => {
            JsError::new("This is no scenario, no link and no file of this planner.")
        }
        words => JsError::new(&words),
    })
}
