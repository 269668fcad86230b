//! The slider of a number.

use crate::desk::Desk;
use crate::dial::Dial;
use leptos::prelude::*;

/// A range input in the reader's unit. `usual` shades the part of the track that is usual; `settled`
/// is told when the hand lets go.
pub(crate) fn slide(
    desk: Desk,
    dial: Dial,
    label: Signal<String>,
    usual: Signal<Option<(f64, f64)>>,
    settled: impl Fn() + Copy + 'static,
) -> impl IntoView {
    let value = Memo::new(move |_| desk.scenario.with(|scenario| dial.value(scenario)));
    let range = Memo::new(move |_| dial.slider(desk.units.get()));
    let shown = move || value.get().map(|value| dial.to_slider(value, desk.units.get()).to_string());
    let percent = |share: f64| format!("{:.1}%", share * 100.0);
    view! {
        <input
            class="rl-slider"
            class:has-usual=move || usual.get().is_some()
            type="range"
            data-key=dial.spot.key
            data-item=dial.spot.item.map(|item| item.to_string())
            data-role="slider"
            aria-label=move || label.get()
            aria-valuetext=move || value.get().map(|value| dial.shown(value, desk.units.get()))
            min=move || range.get().min.to_string()
            max=move || range.get().max.to_string()
            step=move || range.get().step.to_string()
            prop:value=shown
            style:--at=move || value.get().map(|value| percent(dial.along(value)))
            style:--usual-from=move || usual.get().map(|(from, _)| percent(dial.along(from)))
            style:--usual-to=move || usual.get().map(|(_, to)| percent(dial.along(to)))
            on:pointerdown=move |_| desk.part()
            on:input=move |event| {
                if let Ok(position) = event_target_value(&event).parse::<f64>() {
                    desk.turn(dial, dial.of_slider(position, desk.units.get_untracked()));
                }
            }
            on:change=move |_| {
                desk.let_go(dial);
                settled();
            }
        />
    }
}
