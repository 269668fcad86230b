//! The field a number is typed into.
//!
//! What is typed takes effect at a pause, on leaving the field or with Enter. What can't be taken
//! stays as typed with the reason under it, and the plan stays as it was.

use crate::desk::Desk;
use crate::dial::Dial;
use drafting::wording;
use leptos::leptos_dom::helpers::{TimeoutHandle, set_timeout_with_handle};
use leptos::prelude::*;
use planting::{Fault, Problem};
use std::time::Duration;

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
        Effect::watch(
            move || (value.get(), desk.turned.get()),
            move |(value, turned), before, _| {
                let from_here = draft.taken.try_update_value(Option::take).flatten();
                let turned_since = before.is_some_and(|(_, earlier): &(_, u32)| earlier != turned);
                if from_here.is_none() || from_here != *value || turned_since {
                    draft.clear();
                }
            },
            false,
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
                    self.desk.let_go(self.dial);
                }
            }
            Err(fault) => self.fault.set(Some(fault)),
        }
    }

    fn leave(&self) {
        self.take();
        if self.fault.with_untracked(Option::is_none) {
            self.text.set(None);
        }
    }
}

/// The field itself, with its unit.
pub(crate) fn entry(desk: Desk, draft: Draft, label: Signal<String>) -> impl IntoView {
    let dial = draft.dial;
    let id = desk.id(&dial.spot.field());
    let fault_id = desk.id(&format!("fault-{}", dial.spot.field()));
    let shown = move || {
        draft.text.get().unwrap_or_else(|| {
            let value = desk.scenario.with(|scenario| dial.value(scenario));
            value.map(|value| dial.editable(value, desk.units.get())).unwrap_or_default()
        })
    };
    let wrong = Memo::new(move |_| draft.problem().is_some());
    view! {
        <span class="rl-entry" class:is-wrong=move || wrong.get()>
            <input
                id=id
                class="rl-field"
                type="text"
                inputmode="decimal"
                autocomplete="off"
                spellcheck="false"
                data-key=dial.spot.key
                data-item=dial.spot.item.map(|item| item.to_string())
                data-role="field"
                aria-label=move || format!("{}, {}", label.get(), unit_name(dial, desk))
                aria-invalid=move || wrong.get().then_some("true")
                aria-describedby=move || wrong.get().then(|| fault_id.clone())
                prop:value=shown
                on:input=move |event| draft.typed(event_target_value(&event))
                on:change=move |_| draft.leave()
                on:blur=move |_| draft.leave()
                on:keydown=move |event| match event.key().as_str() {
                    "Enter" => draft.leave(),
                    "ArrowUp" | "ArrowDown" => {
                        event.prevent_default();
                        let steps = if event.key() == "ArrowUp" { 1.0 } else { -1.0 };
                        draft.leave();
                        let units = desk.units.get_untracked();
                        if let Some(value) = desk.scenario.with_untracked(|scenario| dial.value(scenario)) {
                            desk.turn(dial, dial.turned(value, steps, units));
                            desk.let_go(dial);
                        }
                    }
                    _ => {}
                }
            />
            <span class="rl-unit" aria-hidden="true">{move || dial.unit(desk.units.get())}</span>
        </span>
    }
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
pub(crate) fn fault_line(desk: Desk, draft: Draft) -> impl IntoView {
    let field = draft.dial.spot.field();
    let id = desk.id(&format!("fault-{field}"));
    let sentence =
        Memo::new(move |_| draft.problem().map(|problem| wording::problem(&problem, desk.units.get())));
    // The live region stands empty before there is anything to say, or it would not be spoken.
    view! {
        <p id=id class="rl-fault" role="alert" data-error-for=field hidden=move || sentence.with(Option::is_none)>
            {move || sentence.get()}
        </p>
    }
}
