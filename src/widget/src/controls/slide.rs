//! The slider of a number.

use super::entry::Draft;
use crate::desk::Desk;
use crate::dial::{Dial, exact};
use crate::piece::{LiveText, Piece, html};
use crate::reactive::*;
use crate::signal::Derived;
use planting::digits::{decimal, fixed};
use std::rc::Rc;
use web_sys::Event;

/// The part of a track that is usual, SI; none for most.
pub(crate) type Usual = Rc<dyn Fn() -> Option<(f64, f64)>>;

/// A range input in the reader's unit; the usual part of its track is shaded. What is being typed is forgotten when the hand lets go.
pub(crate) fn slide(desk: Desk, dial: Dial, label: LiveText, usual: Usual, draft: Draft) -> Piece {
    let value = Derived::new(move |_| desk.scenario.with(|scenario| dial.value(scenario)));
    let range = move || dial.slider(desk.units.get());
    let percent = move |value: f64| format!("{}%", fixed(dial.along(value) * 100.0, 1));
    let (has_usual, from, to) = (usual.clone(), usual.clone(), usual);
    html("input")
        .set("class", "rl-slider")
        .is("has-usual", move || has_usual().is_some())
        .set("type", "range")
        .set("data-key", dial.item_key.key)
        .may("data-item", dial.item_key.item.map(|item| item.to_string()))
        .set("data-role", "slider")
        .says("aria-label", move || label())
        .may_say("aria-valuetext", move || value.get().map(|value| dial.shown(value, desk.units.get())))
        .says("min", move || exact(range().min))
        .says("max", move || exact(range().max))
        .says("step", move || exact(range().step))
        .holds(move || value.get().map(|value| exact(dial.to_slider(value, desk.units.get()))))
        .styled("--at", move || value.get().map(percent))
        .styled("--usual-from", move || from().map(|(from, _)| percent(from)))
        .styled("--usual-to", move || to().map(|(_, to)| percent(to)))
        .on("pointerdown", move |_: Event| desk.part())
        .on("input", move |event: Event| {
            if let Some(position) = decimal(&event_target_value(&event)) {
                desk.turn(dial, dial.of_slider(position, desk.units.get_untracked()));
            }
        })
        .on("change", move |_: Event| {
            desk.let_go(dial);
            draft.clear();
        })
}
