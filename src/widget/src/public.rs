//! What an embedding page may call. All that is exported to JavaScript stands here; `www/rowlight-plan.js` wraps it in
//! an element, and `www/rowlight-plan.d.ts` says it in TypeScript.
//!
//! Values go over as plain objects and texts. Whatever comes in is checked, and what is wrong with it goes back in
//! words; the plan on the desk stays as it was.

use crate::chapter::Chapter;
use crate::controls::group_key;
use crate::desk::{Desk, Face, Hands, Refusal};
use crate::later;
use crate::notice::sentences;
use crate::page::page;
use crate::piece::stand;
use crate::saved::{self, Broken, Found, Reader, object, object_of, text_of};
use crate::signal::{StoredValue, watch};
use crate::tell_of_panics;
use drafting::export::Place;
use drafting::{Units, measure, wording};
use js_sys::{Array, Function, Reflect};
use leptos::leptos_dom::helpers::{TimeoutHandle, set_timeout_with_handle};
use leptos::prelude::*;
use planting::digits::decimal;
use planting::{Figure, Plan, REGISTRY, Scenario, degrees};
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
    told: StoredValue<Scenario>,
    _mounted: Box<dyn Any>,
}

/// Mounts a planner into an element and takes the still picture (`[data-picture]`) in it away.
///
/// `settings` are fields of an object, all optional: `alone` (true on a page of its own), `place` (the key in the
/// browser's storage to keep the plan under), `changed` (a function called when a hand has changed the plan), and the
/// texts `scenario`, `units`, `chapters`, `controls`, `year`.
///
/// # Errors
/// Where the starting plan itself can't be computed; the still picture then stays.
#[wasm_bindgen]
pub fn mount(host: HtmlElement, settings: JsValue) -> Result<Handle, JsError> {
    tell_of_panics();
    let field = |name: &str| Reflect::get(&settings, &name.into()).unwrap_or(JsValue::UNDEFINED);
    let alone = field("alone").is_truthy();
    let place = text_of(&settings, "place");
    let found = place.as_deref().map(saved::open).unwrap_or_default();
    let kept = found.scenario.is_some();
    let start = planting::plan(&found.scenario.unwrap_or_default())
        .or_else(|_| planting::plan(&Scenario::default()))
        .map_err(|_| JsError::new("the starting plan has fields at odds"))?;
    let changed = field("changed").dyn_into::<Function>().ok();
    let desk_of = Rc::new(Cell::new(None));
    let mounted = stand(&host, {
        let (host, desk_of) = (host.clone(), Rc::clone(&desk_of));
        move || {
            let told = StoredValue::new(start.scenario.clone());
            let desk = Desk::new(host, start, found.reader, alone);
            desk.refusal.set(found.fault.map(|broken| Refusal { saved: true, broken }));
            if let Some(changed) = changed {
                tell(desk, told, changed);
            }
            desk_of.set(Some((desk, told)));
            page(desk, place)
        }
    });
    let (desk, told) = desk_of.take().ok_or_else(|| JsError::new("the planner could not be mounted"))?;
    let handle = Handle { desk, told, _mounted: Box::new(mounted) };
    for name in ["chapters", "controls"] {
        if let Some(text) = text_of(&settings, name) {
            handle.set(name, &text);
        }
    }
    if let Some(text) = text_of(&settings, "scenario") {
        handle.begin_with(&text, kept);
    }
    // What a link or a file says of units counts only where the page says nothing.
    if let Some(units) = text_of(&settings, "units") {
        handle.set("units", &units);
    }
    if let Some(year) = text_of(&settings, "year").filter(|_| !kept) {
        handle.set("year", &year);
        desk.home.set(desk.scenario.get_untracked());
    }
    if let Ok(Some(picture)) = host.query_selector("[data-picture]") {
        picture.remove();
    }
    Ok(handle)
}

/// Fetches the second file where it isn't there yet, for every planner of the page; false where it couldn't be fetched, and
/// the next one who asks tries again.
#[wasm_bindgen]
pub async fn later() -> bool {
    later::come().await
}

/// The keys of the inputs a list of groups and fields names; none where it names something else.
fn keys_of(list: &str) -> Option<Vec<&'static str>> {
    let mut keys = Vec::new();
    for name in list.split([' ', ',']).filter(|name| !name.is_empty()) {
        let before = keys.len();
        let named = REGISTRY.iter().filter(|one| one.key == name || group_key(one.group) == name);
        keys.extend(named.map(|one| one.key));
        if keys.len() == before {
            return None;
        }
    }
    Some(keys)
}

/// Calls `changed` when the plan has stood still for a moment and isn't the one the page knows of.
fn tell(desk: Desk, told: StoredValue<Scenario>, changed: Function) {
    let changed = StoredValue::new(changed);
    let waiting = StoredValue::new(None::<TimeoutHandle>);
    let stop = move || {
        if let Some(waiting) = waiting.try_update_value(Option::take).flatten() {
            waiting.clear();
        }
    };
    let call = move || {
        let now = desk.plan.with_untracked(|plan| plan.scenario.clone());
        if told.try_get_value().is_some_and(|told| told != now) {
            told.set_value(now);
            // A listener that throws says so on the console by itself.
            let _ = changed.get_value().call0(&JsValue::UNDEFINED);
        }
    };
    watch(
        move || desk.plan.track(),
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
        object_of(&self.plan_now().scenario)
    }

    /// The plan with its figures and findings.
    pub fn plan(&self) -> JsValue {
        told_plan(&self.plan_now(), self.desk.reader())
    }

    /// The link of the plan, without an address before it.
    pub fn link(&self) -> String {
        saved::link(&self.plan_now().scenario, self.desk.reader())
    }

    /// The plan as a file.
    pub fn file(&self) -> Option<String> {
        saved::file(&self.plan_now().scenario, self.desk.reader())
    }

    /// Key and title of each drawing of the chapter.
    pub fn drawings(&self) -> Array {
        let views = self.desk.chapter.get_untracked().views();
        views.iter().map(|view| Array::of2(&view.key().into(), &view.title().into())).collect()
    }

    /// A drawing as SVG, by its key. This, tables and the map come with the second file: there is nothing before
    /// `later` has said that it has come.
    pub fn drawing(&self, view: &str) -> Option<String> {
        let light = untrack(|| self.desk.light_shown());
        (later::now()?.drawing)(&self.plan_now(), self.desk.units.get_untracked(), light, view)
    }

    /// A table as CSV: `figures`, `orders` or `stations`.
    pub fn table(&self, name: &str) -> Option<String> {
        (later::now()?.table)(&self.plan_now(), self.desk.units.get_untracked(), name)
    }

    /// Every tree and post as GeoJSON, given where the field's corner lies `[°]`.
    ///
    /// # Errors
    /// What is wrong with the place, in words.
    pub fn map(&self, longitude: f64, latitude: f64) -> Result<Option<String>, JsError> {
        let Some(later) = later::now() else { return Ok(None) };
        let corner = Place { longitude: degrees(longitude), latitude: degrees(latitude) };
        let map = (later.map)(&self.plan_now(), self.desk.units.get_untracked(), corner);
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

    /// Tells the reader why the second file hasn't come.
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
        let Found { scenario, reader, fault } = saved::read(text, self.desk.reader());
        if let Some(broken) = fault {
            return Some(self.refuse(broken, shown));
        }
        let scenario = scenario?;
        if let Err(problems) = planting::plan(&scenario) {
            return Some(self.refuse(Broken::Fields(problems), shown));
        }
        if !by_hand {
            self.told.set_value(scenario.clone());
        }
        self.desk.units.set(reader.units);
        self.desk.paper.set(reader.paper);
        self.turn_to(reader.chapter);
        self.desk.replace(scenario);
        self.desk.refusal.set(None);
        None
    }

    fn plan_now(&self) -> crate::desk::Shared<Plan> {
        self.desk.flush();
        self.desk.plan.get_untracked()
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

    /// The plan the page begins with. On a page of its own it comes in place of the reader's, who can undo that.
    fn begin_with(&self, text: &str, kept: bool) {
        if self.desk.alone {
            self.open(text, true);
            return;
        }
        let Found { scenario, reader, fault } = saved::read(text, self.desk.reader());
        let scenario = scenario.filter(|_| fault.is_none());
        match scenario.map(|scenario| planting::plan(&scenario).map(|plan| plan.scenario)) {
            Some(Ok(scenario)) => {
                self.desk.home.set(scenario.clone());
                if !kept {
                    self.told.set_value(scenario.clone());
                    self.desk.units.set(reader.units);
                    self.turn_to(reader.chapter);
                    self.desk.scenario.set(scenario);
                }
            }
            Some(Err(problems)) => {
                self.refuse(Broken::Fields(problems), true);
            }
            None => {
                self.refuse(fault.unwrap_or(Broken::Unreadable), true);
            }
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
                        only("shown, locked, a list of groups (spacing, trees, trellis, block, light), a list of fields")
                    })?),
                };
                desk.face.update(|face| face.hands = hands);
            }
            "chapters" => {
                let mut chapters = Vec::new();
                for key in value.split([' ', ',']).filter(|key| !key.is_empty()) {
                    chapters.push(Chapter::of(key).ok_or_else(|| only("layout, light"))?);
                }
                if chapters.is_empty() {
                    chapters = Chapter::ALL.to_vec();
                }
                desk.face.update(|face: &mut Face| face.chapters = chapters);
                self.turn_to(desk.chapter.get_untracked());
            }
            "year" => {
                let mut scenario = self.plan_now().scenario.clone();
                scenario.year = decimal(value.trim())
                    .ok_or_else(|| Broken::Said(format!("year: \u{201c}{value}\u{201d} is no number.")))?;
                let problems = scenario.problems();
                if !problems.is_empty() {
                    return Err(Broken::Fields(problems));
                }
                self.told.set_value(scenario.clone());
                desk.turned.update(|turned| *turned += 1);
                desk.scenario.set(scenario);
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
    let plan = found.and_then(|scenario| planting::plan(&scenario).map_err(Broken::Fields));
    plan.map(|plan| told_plan(&plan, now)).map_err(|broken| match sentences(&broken, now.units).join(" ") {
        words if words.is_empty() => {
            JsError::new("This is no scenario, no link and no file of this planner.")
        }
        words => JsError::new(&words),
    })
}

fn told_plan(plan: &Plan, reader: Reader) -> JsValue {
    let units = reader.units;
    let figures = plan.figures.iter().map(|figure| told_figure(figure, units)).collect::<Array>();
    let findings = plan.advice.iter().map(|advice| {
        object([
            ("rule", advice.rule.into()),
            ("severity", advice.severity.label().into()),
            ("title", advice.title.into()),
            ("text", wording::advice(advice, units).into()),
            ("source", advice.source.citation.into()),
        ])
    });
    object([
        ("scenario", object_of(&plan.scenario)),
        ("link", saved::link(&plan.scenario, reader).into()),
        ("units", units.key().into()),
        ("figures", figures.into()),
        ("findings", findings.collect::<Array>().into()),
    ])
}

fn told_figure(figure: &Figure, units: Units) -> JsValue {
    let unit = measure::unit(figure.quantity, units);
    let number = |value: Option<f64>| value.map_or(JsValue::NULL, JsValue::from);
    object([
        ("key", figure.key.into()),
        ("label", figure.label.into()),
        ("subject", figure.subject.label().into()),
        ("value", number(figure.value)),
        ("number", number(figure.value.map(|value| value / unit.one))),
        ("unit", unit.name.trim_start().into()),
        ("text", wording::value(figure, units).into()),
        ("certainty", figure.working.source.certainty.label().into()),
        ("source", figure.working.source.citation.into()),
    ])
}
