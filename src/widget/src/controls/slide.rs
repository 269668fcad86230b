//! The slider of a number: a rail with a thumb on it, and over both a range input that cannot be seen.
//!
//! The range input holds value, name and limits for keys and screen readers; it takes no pointer. What pointers do on the rail is
//! in [`super::rail`], alike in every browser.

use super::entry::Draft;
use super::rail::rail;
use crate::desk::Desk;
use crate::dial::{Dial, exact};
use crate::piece::{LiveText, Piece, classed, html};
use crate::reactive::*;
use crate::signal::Derived;
use drafting::measure::number;
use planting::digits::{decimal, fixed};
use std::rc::Rc;
use web_sys::Event;

/// The part of a track that is usual, SI; none for most.
pub(crate) type Usual = Rc<dyn Fn() -> Option<(f64, f64)>>;

/// A slider in the reader's unit; the usual part of its track is marked. What is being typed is forgotten when the hand lets go.
pub(crate) fn slide(desk: Desk, dial: Dial, label: LiveText, usual: Usual, draft: Draft) -> Piece {
    let value = Derived::new(move |_| desk.scenario.with(|scenario| dial.value(scenario)));
    let range = move || dial.slider(desk.units.get());
    let place = move |value: f64| fixed(dial.along(value), 4);
    let (has_usual, from, to) = (usual.clone(), usual.clone(), usual);
    let input = html("input")
        .set("class", "rl-slider")
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
        .on("input", move |event: Event| {
            if let Some(position) = decimal(&event_target_value(&event)) {
                desk.turn(dial, dial.of_slider(position, desk.units.get_untracked()));
            }
        })
        .on("change", move |_: Event| {
            desk.let_go(dial);
            draft.clear();
        });
    let ticks =
        move || dial.ticks(desk.units.get()).iter().map(|tick| mark(desk, dial, value, *tick)).collect();
    rail(desk, dial, draft, input)
        .is("has-usual", move || has_usual().is_some())
        .is("has-ticks", move || dial.trade().is_some())
        .styled("--trade-from", move || dial.trade().map(|[from, _]| place(from)))
        .styled("--trade-to", move || dial.trade().map(|[_, to]| place(to)))
        .styled("--at", move || value.get().map(place))
        .styled("--usual-from", move || from().map(|(from, _)| place(from)))
        .styled("--usual-to", move || to().map(|(_, to)| place(to)))
        .with(classed("div", "rl-ticks").set("aria-hidden", "true").shows(ticks))
}

/// A tick with its number, heavy where the slider stands on it.
fn mark(desk: Desk, dial: Dial, value: Derived<Option<f64>>, tick: f64) -> Piece {
    let near = dial.step(desk.units.get_untracked()) / 2.0;
    classed("span", "rl-tick")
        .is("is-now", move || value.get().is_some_and(|value| (value - tick).abs() < near))
        .styled("--at", move || Some(fixed(dial.along(tick), 4)))
        .text(&number(tick, dial.quantity, desk.units.get_untracked()))
}
