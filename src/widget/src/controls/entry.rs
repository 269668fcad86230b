//! The field a number is typed into.
//!
//! What is typed takes effect at a pause, on leaving the field or with Enter. What can't be taken
//! stays as typed with the reason under it, and the plan stays as it was.

use crate::desk::Desk;
use crate::dial::Dial;
use crate::piece::{Piece, Words, classed, html};
use crate::signal::{Memo, RwSignal, StoredValue, watch};
use drafting::wording;
use leptos::leptos_dom::helpers::{TimeoutHandle, set_timeout_with_handle};
use leptos::prelude::*;
use planting::{Fault, Problem};
use std::time::Duration;
use web_sys::{Event, KeyboardEvent};

/// A pause in typing.
const PAUSE: Duration = Duration::from_millis(450);

/// What stands in a field that has not become the scenario's value.
#[derive(Clone, Copy)]
pub(crate) struct Draft {
    desk: Desk,
    dial: Dial,
    text: RwSignal<Option<String>>,
    fault: RwSignal<Option<Fault>>,
    taken: StoredValue<Option<f64>>,
    pause: StoredValue<Option<TimeoutHandle>>,
}

impl Draft {
    pub(crate) fn new(desk: Desk, dial: Dial) -> Draft {
        let draft = Draft {
            desk,
            dial,
            text: RwSignal::new(None),
            fault: RwSignal::new(None),
            taken: StoredValue::new(None),
            pause: StoredValue::new(None),
        };
        let value = Memo::new(move |_| desk.scenario.with(|scenario| dial.value(scenario)));
        // A value that comes from elsewhere (a slider, a handle, undo) replaces what was being typed.
        let mut earlier = desk.turned.get_untracked();
        watch(
            move || {
                value.track();
                desk.turned.track();
            },
            move || {
                let from_here = draft.taken.try_update_value(Option::take).flatten();
                let turned = desk.turned.get_untracked();
                if from_here.is_none() || from_here != value.get_untracked() || turned != earlier {
                    draft.clear();
                }
                earlier = turned;
            },
        );
        on_cleanup(move || draft.stop_waiting());
        draft
    }

    /// Forgets what was typed and shows the scenario's value again.
    pub(crate) fn clear(&self) {
        self.stop_waiting();
        if self.text.try_with_untracked(Option::is_some) == Some(true) {
            self.text.set(None);
        }
        if self.fault.try_with_untracked(Option::is_some) == Some(true) {
            self.fault.set(None);
        }
    }

    /// What is wrong here: with what was typed, or with the scenario at this field.
    fn problem(&self) -> Option<Problem> {
        let own = self.fault.get().map(|fault| self.dial.problem(fault));
        own.or_else(|| {
            let field = self.dial.spot.field();
            self.desk
                .problems
                .with(|problems| problems.iter().find(|problem| problem.field == field).cloned())
        })
    }

    fn stop_waiting(&self) {
        if let Some(pause) = self.pause.try_update_value(Option::take).flatten() {
            pause.clear();
        }
    }

    fn typed(&self, text: String) {
        self.stop_waiting();
        self.text.set(Some(text));
        let draft = *self;
        self.pause.set_value(set_timeout_with_handle(move || draft.take(), PAUSE).ok());
    }

    fn take(&self) {
        self.stop_waiting();
        let Some(text) = self.text.try_get_untracked().flatten() else { return };
        match self.dial.read(&text, self.desk.units.get_untracked()) {
            Ok(value) => {
                let now = self.desk.scenario.with_untracked(|scenario| self.dial.value(scenario));
                self.fault.set(None);
                if now != Some(value) {
                    self.taken.set_value(Some(value));
                    self.desk.turn(self.dial, value);
                    self.desk.settle();
                }
            }
            Err(fault) => self.fault.set(Some(fault)),
        }
    }

    /// Only now a list is put in order: whoever pauses between two digits hasn't said where the item belongs.
    fn leave(&self) {
        self.take();
        if self.text.try_with_untracked(Option::is_some) == Some(true) {
            self.desk.let_go(self.dial);
        }
        // Taking a row away takes the focus from its field, when its signals are gone.
        if self.fault.try_with_untracked(Option::is_none) == Some(true) {
            self.text.set(None);
        }
    }
}

/// The field itself, with its unit.
pub(crate) fn entry(desk: Desk, draft: Draft, label: Words) -> Piece {
    let dial = draft.dial;
    let fault_id = desk.id(&format!("fault-{}", dial.spot.field()));
    let shown = move || {
        draft.text.get().unwrap_or_else(|| {
            let value = desk.scenario.with(|scenario| dial.value(scenario));
            value.map(|value| dial.editable(value, desk.units.get())).unwrap_or_default()
        })
    };
    let wrong = Memo::new(move |_| draft.problem().is_some());
    let keys = move |event: KeyboardEvent| match event.key().as_str() {
        "Enter" => draft.leave(),
        key @ ("ArrowUp" | "ArrowDown") => {
            event.prevent_default();
            let steps = if key == "ArrowUp" { 1.0 } else { -1.0 };
            draft.leave();
            let units = desk.units.get_untracked();
            if let Some(value) = desk.scenario.with_untracked(|scenario| dial.value(scenario)) {
                desk.turn(dial, dial.turned(value, steps, units));
                desk.let_go(dial);
            }
        }
        _ => {}
    };
    let field = html("input")
        .set("id", &desk.id(&dial.spot.field()))
        .set("class", "rl-field")
        .set("type", "text")
        .set("inputmode", "decimal")
        .set("autocomplete", "off")
        .set("spellcheck", "false")
        .set("data-key", dial.spot.key)
        .may("data-item", dial.spot.item.map(|item| item.to_string()))
        .set("data-role", "field")
        .says("aria-label", move || format!("{}, {}", label(), unit_name(dial, desk)))
        .may_say("aria-invalid", move || wrong.get().then(|| "true".to_owned()))
        .may_say("aria-describedby", move || wrong.get().then(|| fault_id.clone()))
        .holds(move || Some(shown()))
        .on("input", move |event: Event| draft.typed(event_target_value(&event)))
        .on("change", move |_: Event| draft.leave())
        .on("blur", move |_: Event| draft.leave())
        .on("keydown", keys);
    let unit = classed("span", "rl-unit")
        .set("aria-hidden", "true")
        .reads(move || dial.unit(desk.units.get()).to_owned());
    classed("span", "rl-entry").is("is-wrong", move || wrong.get()).with(field).with(unit)
}

fn unit_name(dial: Dial, desk: Desk) -> &'static str {
    match dial.unit(desk.units.get()) {
        "ft" => "feet",
        "in" => "inches",
        "m" => "metres",
        "cm" => "centimetres",
        "%" => "per cent",
        "°" => "degrees",
        other => other,
    }
}

/// What is wrong with a field, under it, for as long as it is.
pub(crate) fn fault_line(desk: Desk, draft: Draft) -> Piece {
    let field = draft.dial.spot.field();
    let sentence = move || draft.problem().map(|problem| wording::problem(&problem, desk.units.get()));
    fault_text(&field, sentence).set("id", &desk.id(&format!("fault-{field}")))
}

/// The live region of a field; it stands empty before there is anything to say, or it would not be spoken.
pub(super) fn fault_text(field: &str, sentence: impl Fn() -> Option<String> + Copy + 'static) -> Piece {
    classed("p", "rl-fault")
        .set("role", "alert")
        .set("data-error-for", field)
        .marked("hidden", move || sentence().is_none())
        .reads(move || sentence().unwrap_or_default())
}
