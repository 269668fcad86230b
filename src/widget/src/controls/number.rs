//! A number: its name, its field, its slider and what is known about it.

use super::about::{About, about, about_button};
use super::entry::{Draft, entry, fault_line};
use super::slide::{Usual, slide};
use crate::desk::Desk;
use crate::dial::{Dial, ItemKey};
use crate::piece::{LiveText, Piece, classed, html};
use crate::signal::State;
use drafting::measure::number as number_in;
use planting::{Parameter, Quantity, Scenario, feet};
use std::rc::Rc;

pub(super) fn number(desk: Desk, parameter: &'static Parameter) -> Vec<Piece> {
    let Some(dial) = Dial::of(ItemKey::of(parameter.key)) else { return Vec::new() };
    let draft = Draft::new(desk, dial);
    let label: LiveText = Rc::new(move || parameter.label.to_owned());
    let usual: Usual = Rc::new(move || desk.scenario.with(|scenario| usual(parameter.key, scenario)));
    let open = State::new(false);
    let starts_at = move || {
        let start = desk.scenario.with(|scenario| Scenario::for_system(scenario.system));
        dial.value(&start).map(|value| dial.shown(value, desk.units.get())).unwrap_or_default()
    };
    vec![
        classed("div", "rl-row-head")
            .with(classed("label", "rl-label").set("for", &desk.id(parameter.key)).text(parameter.label))
            .with(about_button(desk, parameter, open))
            .with(usual_words(desk, usual.clone()))
            .with(entry(desk, draft, label.clone())),
        slide(desk, dial, label, usual, draft),
        fault_line(desk, draft),
        about(
            desk,
            parameter,
            open,
            About {
                range: Rc::new(move || format!("Range {}", dial.range(desk.units.get()))),
                starts_at: Rc::new(starts_at),
            },
        ),
    ]
}

/// The sign that marks what is usual on the slider, and what that is, for the inputs that have it.
fn usual_words(desk: Desk, usual: Usual) -> Piece {
    let has_usual = usual.clone();
    let words = move || {
        let range = usual().map(|(from, to)| {
            let plain = |value| number_in(value, Quantity::Length, desk.units.get());
            format!("usual {} to {}", plain(from), plain(to))
        });
        range.unwrap_or_default()
    };
    classed("span", "rl-usual")
        .marked("hidden", move || has_usual().is_none())
        .with(classed("span", "rl-usual-sign").set("aria-hidden", "true"))
        .with(html("span").reads(words))
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
