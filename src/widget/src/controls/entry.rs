//! The field a number is typed into.
//!
//! What is typed takes effect at a pause, on leaving the field or with Enter. What can't be taken
//! stays as typed with the reason under it, and the plan stays as it was.

use crate::desk::Desk;
use crate::dial::Dial;
use crate::piece::{LiveText, Piece, classed, html};
use crate::reactive::*;
use crate::signal::{Derived, Owned, State, when_changed};
use drafting::wording;
use planting::{Fault, Problem};
use std::time::Duration;
use web_sys::{Event, KeyboardEvent};

/// After so long a pause in typing, what is typed takes effect.
const PAUSE: Duration = Duration::from_millis(450);

/// What stands in a field that has not become the scenario's value.
#[derive(Clone, Copy)]
pub(crate) struct Draft {
    desk: Desk,
    dial: Dial,
    text: State<Option<String>>,
    fault: State<Option<Fault>>,
    taken: Owned<Option<f64>>,
    pause: Owned<Option<TimeoutHandle>>,
}

impl Draft {
    pub(crate) fn new(desk: Desk, dial: Dial) -> Draft {
        let draft = Draft {
            desk,
            dial,
            text: State::new(None),
            fault: State::new(None),
            taken: Owned::new(None),
            pause: Owned::new(None),
        };
        let value = Derived::new(move |_| desk.scenario.with(|scenario| dial.value(scenario)));
        // A value that comes from elsewhere (a slider, a handle, undo) replaces what was being typed.
        let mut earlier = desk.turned.get_untracked();
        when_changed(
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
            let field = self.dial.item_key.field();
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
                let now = self.dial.value(&self.desk.latest());
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

    /// The reader leaves the field. Only now is a list put in order, not at every pause: between two digits an item would jump to
    /// another place.
    fn leave(&self) {
        self.take();
        if self.text.try_with_untracked(Option::is_some) == Some(true) {
            self.desk.let_go(self.dial);
        }
        // A row that is taken away loses the focus when its signals are gone already; then there is nothing to forget.
        if self.fault.try_with_untracked(Option::is_none) == Some(true) {
            self.text.set(None);
        }
    }
}

/// The field itself, with its unit.
pub(crate) fn entry(desk: Desk, draft: Draft, label: LiveText) -> Piece {
    let dial = draft.dial;
    let fault_id = desk.id(&format!("fault-{}", dial.item_key.field()));
    let shown = move || {
        draft.text.get().unwrap_or_else(|| {
            let value = desk.scenario.with(|scenario| dial.value(scenario));
            value.map(|value| dial.editable(value, desk.units.get())).unwrap_or_default()
        })
    };
    let wrong = Derived::new(move |_| draft.problem().is_some());
    let keys = move |event: KeyboardEvent| match event.key().as_str() {
        "Enter" => draft.leave(),
        key @ ("ArrowUp" | "ArrowDown") => {
            event.prevent_default();
            let steps = if key == "ArrowUp" { 1.0 } else { -1.0 };
            draft.leave();
            let units = desk.units.get_untracked();
            if let Some(value) = dial.value(&desk.latest()) {
                desk.turn(dial, dial.turned(value, steps, units));
                desk.let_go(dial);
            }
        }
        _ => {}
    };
    let field = html("input")
        .set("id", &desk.id(&dial.item_key.field()))
        .set("class", "rl-field")
        .set("type", "text")
        .set("inputmode", "decimal")
        .set("autocomplete", "off")
        .set("spellcheck", "false")
        .set("data-key", dial.item_key.key)
        .may("data-item", dial.item_key.item.map(|item| item.to_string()))
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
    let field = draft.dial.item_key.field();
    let sentence = move || draft.problem().map(|problem| wording::problem(&problem, desk.units.get()));
    fault_text(&field, sentence).set("id", &desk.id(&format!("fault-{field}")))
}

/// The line under a field that says what is wrong with it. It stands there empty from the start: a screen reader only speaks changes
/// of a line it already knows.
pub(super) fn fault_text(field: &str, sentence: impl Fn() -> Option<String> + Copy + 'static) -> Piece {
    classed("p", "rl-fault")
        .set("role", "alert")
        .set("data-error-for", field)
        .marked("hidden", move || sentence().is_none())
        .reads(move || sentence().unwrap_or_default())
}
