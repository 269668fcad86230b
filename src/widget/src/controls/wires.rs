//! The list of wire heights: a field and a slider for each wire, one more, one less.

use super::about::{About, about, about_button};
use super::entry::{Draft, entry, fault_line, fault_text};
use super::slide::slide;
use crate::browser::focus;
use crate::desk::Desk;
use crate::dial::{Dial, ItemKey};
use crate::piece::{LiveText, Piece, button, classed, svg};
use crate::signal::{Derived, State};
use drafting::wording;
use planting::Lengths;
use planting::order::sort_by;
use planting::uom::si::f64::Length;
use planting::{Parameter, Scenario, feet};
use std::rc::Rc;
use web_sys::Event;

pub(super) fn wires(desk: Desk, parameter: &'static Parameter, lengths: Lengths) -> Vec<Piece> {
    let key = parameter.key;
    let count = Derived::new(move |_| desk.scenario.with(|scenario| (lengths.get)(scenario).len()));
    let open = State::new(false);
    let add = move || {
        desk.edit_now(ItemKey::of(key), |scenario| {
            let mut heights = (lengths.get)(scenario).to_vec();
            heights.push(next_wire(scenario, lengths));
            (lengths.set)(scenario, heights);
            if let Some(dial) = Dial::of(ItemKey::item(key, 0)) {
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
    let list_fault = move || {
        let found =
            desk.problems.with(|problems| problems.iter().find(|problem| problem.field == key).cloned());
        found.map(|problem| wording::problem(&problem, desk.units.get()))
    };
    let range = move || {
        Dial::of(ItemKey::item(key, 0))
            .map(|dial| format!("Range {}", dial.range(desk.units.get())))
            .unwrap_or_default()
    };
    vec![
        classed("div", "rl-row-head")
            .with(classed("span", "rl-label").set("id", &desk.id("wires-label")).text(parameter.label))
            .with(about_button(desk, parameter, open))
            .with(
                button("rl-button rl-wire-add")
                    .set("data-action", "wire-add")
                    .marked("disabled", move || count.get() >= lengths.most)
                    .on("click", move |_: Event| add())
                    .text("Add a wire"),
            ),
        about(desk, parameter, open, About { range: Rc::new(range), starts_at: Rc::new(starts_at) }),
        // Uppermost first, as they hang.
        classed("div", "rl-wires").set("role", "group").set("aria-labelledby", &desk.id("wires-label")).each(
            move || (0..count.get()).rev().map(|item| ItemKey::item(key, item)).collect(),
            move |item_key| wire(desk, parameter, lengths, item_key),
        ),
        fault_text(key, list_fault),
    ]
}

/// A wire, and under it what is wrong with it.
fn wire(desk: Desk, parameter: &'static Parameter, lengths: Lengths, item_key: ItemKey) -> Vec<Piece> {
    let (Some(dial), Some(item)) = (Dial::of(item_key), item_key.item) else { return Vec::new() };
    let draft = Draft::new(desk, dial);
    let label: LiveText = Rc::new(move || format!("Wire {}", item + 1));
    let remove = move |_: Event| {
        desk.edit_now(ItemKey::of(parameter.key), |scenario| {
            let mut heights = (lengths.get)(scenario).to_vec();
            if item < heights.len() {
                heights.remove(item);
            }
            (lengths.set)(scenario, heights);
        });
        // The uppermost row goes, perhaps with the focus in it: now the wire in this place, or the one below it, is at hand.
        let left = desk.scenario.with_untracked(|scenario| (lengths.get)(scenario).len());
        let next = match left.checked_sub(1) {
            Some(top) => format!("[data-action=wire-remove][data-item=\"{}\"]", item.min(top)),
            None => "[data-action=wire-add]".to_owned(),
        };
        focus(&desk.host(), &next);
    };
    let name = classed("label", "rl-wire-name")
        .set("for", &desk.id(&item_key.field()))
        .text(&(item + 1).to_string());
    let cross = svg("path")
        .set("d", "M4 4l8 8M12 4l-8 8")
        .set("fill", "none")
        .set("stroke", "currentColor")
        .set("stroke-width", "1.5")
        .set("stroke-linecap", "round");
    let cross = svg("svg")
        .set("viewBox", "0 0 16 16")
        .set("width", "16")
        .set("height", "16")
        .set("aria-hidden", "true")
        .with(cross);
    let away = button("rl-icon-button")
        .set("data-action", "wire-remove")
        .set("data-item", &item.to_string())
        .set("aria-label", &format!("Remove wire {}", item + 1))
        .on("click", remove)
        .with(cross);
    vec![
        classed("div", "rl-wire")
            .with(name)
            .with(slide(desk, dial, label.clone(), Rc::new(|| None), draft))
            .with(entry(desk, draft, label))
            .with(away),
        fault_line(desk, draft),
    ]
}

/// Where one more wire goes: two feet above the top one where the posts reach, else into the widest gap.
fn next_wire(scenario: &Scenario, lengths: Lengths) -> Length {
    let heights = (lengths.get)(scenario);
    let Some(top) = heights.iter().copied().reduce(|a, b| if b > a { b } else { a }) else {
        return feet(2.5);
    };
    let above = top + feet(2.0);
    if above <= scenario.trellis.post_height() && above.value <= lengths.max {
        return above;
    }
    let mut ends = vec![feet(0.0)];
    ends.extend_from_slice(heights);
    sort_by(&mut ends, |a, b| a.value.total_cmp(&b.value));
    let widest = ends
        .windows(2)
        .filter_map(|pair| match *pair {
            [below, above] => Some((above - below, (below + above) / 2.0)),
            _ => None,
        })
        .reduce(|a, b| if b.0 > a.0 { b } else { a });
    let middle = widest.map_or(feet(2.5), |(_, middle)| middle).value;
    Length { value: (middle / lengths.step_us).round() * lengths.step_us, ..feet(0.0) }
}
