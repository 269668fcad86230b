//! A number: its name, its field, its slider and what is known about it.

use super::about::{About, about, about_button};
use super::entry::{Draft, entry, fault_line};
use super::slide::slide;
use crate::desk::Desk;
use crate::dial::{Dial, Spot};
use leptos::prelude::*;
use planting::{Parameter, Scenario, feet};

pub(super) fn number(desk: Desk, parameter: &'static Parameter) -> AnyView {
    let Some(dial) = Dial::of(Spot::of(parameter.key)) else { return ().into_any() };
    let draft = Draft::new(desk, dial);
    let label = Signal::derive(move || parameter.label.to_owned());
    let usual = Signal::derive(move || desk.scenario.with(|scenario| usual(parameter.key, scenario)));
    let open = RwSignal::new(false);
    let starts_at = move || {
        let start = desk.scenario.with(|scenario| Scenario::for_system(scenario.system));
        dial.value(&start).map(|value| dial.shown(value, desk.units.get())).unwrap_or_default()
    };
    view! {
        <div class="rl-row-head">
            <label class="rl-label" for=desk.id(parameter.key)>{parameter.label}</label>
            {about_button(desk, parameter, open)}
            {entry(desk, draft, label)}
        </div>
        {slide(desk, dial, label, usual, move || draft.clear())}
        {fault_line(desk, draft)}
        {about(desk, parameter, open, About {
            range: Signal::derive(move || format!("Range {}", dial.range(desk.units.get()))),
            starts_at: Signal::derive(starts_at),
        })}
    }
    .into_any()
}

/// The usual range of the training system `[m]`, for the inputs that have one.
fn usual(key: &str, scenario: &Scenario) -> Option<(f64, f64)> {
    let usual = scenario.system.usual();
    let (from, to) = match key {
        "in_row_spacing" => usual.in_row_ft,
        "row_width" => usual.row_ft,
        "tree_height" => usual.height_ft,
        _ => return None,
    };
    Some((feet(from).value, feet(to).value))
}
