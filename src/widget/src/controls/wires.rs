//! The list of wire heights: a field and a slider for each wire, one more, one less.

use super::about::{About, about, about_button};
use super::entry::{Draft, entry, fault_line};
use super::slide::slide;
use crate::desk::Desk;
use crate::dial::{Dial, Spot};
use drafting::wording;
use leptos::prelude::*;
use planting::scenario::registry::Lengths;
use planting::uom::si::f64::Length;
use planting::{Parameter, Scenario, feet};

pub(super) fn wires(desk: Desk, parameter: &'static Parameter, lengths: Lengths) -> AnyView {
    let key = parameter.key;
    let count = Memo::new(move |_| desk.scenario.with(|scenario| (lengths.get)(scenario).len()));
    let is_full = Memo::new(move |_| count.get() >= lengths.most);
    let open = RwSignal::new(false);
    let add = move || {
        desk.edit_now(Spot::of(key), |scenario| {
            let mut heights = (lengths.get)(scenario).to_vec();
            heights.push(next_wire(scenario, lengths));
            (lengths.set)(scenario, heights);
            if let Some(dial) = Dial::of(Spot::item(key, 0)) {
                dial.order(scenario);
            }
        });
    };
    let starts_at = move || {
        let start = desk.scenario.with(|scenario| Scenario::for_system(scenario.system));
        let heights: Vec<String> = (lengths.get)(&start)
            .iter()
            .map(|height| {
                drafting::measure::write(height.value, planting::Quantity::Length, desk.units.get())
            })
            .collect();
        if heights.is_empty() { "no wires".to_owned() } else { heights.join(", ") }
    };
    let list_fault = Memo::new(move |_| {
        let found =
            desk.problems.with(|problems| problems.iter().find(|problem| problem.field == key).cloned());
        found.map(|problem| wording::problem(&problem, desk.units.get()))
    });
    let range = move || {
        Dial::of(Spot::item(key, 0))
            .map(|dial| format!("Range {}", dial.range(desk.units.get())))
            .unwrap_or_default()
    };
    view! {
        <div class="rl-row-head">
            <span class="rl-label" id=desk.id("wires-label")>{parameter.label}</span>
            {about_button(desk, parameter, open)}
        </div>
        {about(desk, parameter, open, About {
            range: Signal::derive(range),
            starts_at: Signal::derive(starts_at),
        })}
        <div class="rl-wires" role="group" aria-labelledby=desk.id("wires-label")>
            // Uppermost first, as they hang.
            <For
                each=move || (0..count.get()).rev()
                key=|item| *item
                children=move |item| wire(desk, parameter, lengths, item)
            />
        </div>
        <p class="rl-fault" role="alert" data-error-for=key hidden=move || list_fault.with(Option::is_none)>
            {move || list_fault.get()}
        </p>
        <button
            class="rl-button rl-wide"
            type="button"
            data-action="wire-add"
            disabled=move || is_full.get()
            on:click=move |_| add()
        >
            "Add a wire"
        </button>
    }
    .into_any()
}

fn wire(desk: Desk, parameter: &'static Parameter, lengths: Lengths, item: usize) -> AnyView {
    let Some(dial) = Dial::of(Spot::item(parameter.key, item)) else { return ().into_any() };
    let draft = Draft::new(desk, dial);
    let label = Signal::derive(move || format!("Wire {}", item + 1));
    let no_usual = Signal::derive(|| None);
    let remove = move |_| {
        desk.edit_now(Spot::of(parameter.key), |scenario| {
            let mut heights = (lengths.get)(scenario).to_vec();
            if item < heights.len() {
                heights.remove(item);
            }
            (lengths.set)(scenario, heights);
        });
    };
    view! {
        <div class="rl-wire">
            <label class="rl-wire-name" for=desk.id(&dial.spot.field())>{item + 1}</label>
            {slide(desk, dial, label, no_usual, move || draft.clear())}
            {entry(desk, draft, label)}
            <button
                class="rl-icon-button"
                type="button"
                data-action="wire-remove"
                data-item=item.to_string()
                aria-label=format!("Remove wire {}", item + 1)
                on:click=remove
            >
                <svg viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
                    <path d="M4 4l8 8M12 4l-8 8" fill="none" stroke="currentColor" stroke-width="1.5" stroke-linecap="round"/>
                </svg>
            </button>
        </div>
        {fault_line(desk, draft)}
    }
    .into_any()
}

/// Where one more wire goes: two feet above the top one where the posts reach, else into the widest gap.
fn next_wire(scenario: &Scenario, lengths: Lengths) -> Length {
    let heights = (lengths.get)(scenario);
    let Some(top) = heights.iter().copied().reduce(|a, b| if b > a { b } else { a }) else {
        return feet(2.5);
    };
    let above = top + feet(2.0);
    if above <= scenario.post_height() && above.value <= lengths.max {
        return above;
    }
    let mut ends = vec![feet(0.0)];
    ends.extend_from_slice(heights);
    ends.sort_by(|a, b| a.value.total_cmp(&b.value));
    let widest = ends
        .windows(2)
        .map(|pair| (pair[1] - pair[0], (pair[0] + pair[1]) / 2.0))
        .reduce(|a, b| if b.0 > a.0 { b } else { a });
    let middle = widest.map_or(feet(2.5), |(_, middle)| middle).value;
    Length { value: (middle / lengths.step_us).round() * lengths.step_us, ..feet(0.0) }
}
