//! What concerns the whole plan: undo and redo, and behind one button where the room is small: reset, units, print, links and files.

use crate::desk::Desk;
use crate::piece::{Piece, button, classed, html, svg};
use crate::print::open_print;
use crate::reactive::*;
use crate::signal::{Derived, State};
use drafting::Units;
use drafting::packet::Paper;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Element, Event, KeyboardEvent};

/// The toolbar.
pub(crate) fn toolbar(desk: Desk) -> Piece {
    let is_start =
        Derived::new(move |_| desk.home.with(|home| desk.scenario.with(|scenario| scenario == home)));
    let steps = classed("div", "rl-tools rl-tools-edit")
        .with(tool(
            "undo",
            "Undo",
            "M7 4 3 8l4 4M3 8h7a4.5 4.5 0 0 1 0 9H7",
            move || desk.undo(),
            move || !desk.steps.get().back,
        ))
        .with(tool(
            "redo",
            "Redo",
            "M13 4l4 4-4 4M17 8h-7a4.5 4.5 0 0 0 0 9h3",
            move || desk.redo(),
            move || !desk.steps.get().forward,
        ));
    let reset = tool(
        "reset",
        "Start again",
        "M4 10a6 6 0 1 0 2-4.5M6 2v4h4",
        move || desk.replace(desk.home.get_untracked()),
        move || is_start.get(),
    );
    let is_open = State::new(false);
    let units = classed("div", "rl-switch")
        .set("role", "group")
        .set("aria-label", "Units")
        .with(unit_button(desk, Units::Us, "US", "US units: feet, inches, acres"))
        .with(unit_button(desk, Units::Metric, "Metric", "Metric units: metres, centimetres, hectares"));
    let papers = PAPERS.into_iter().map(|paper| {
        html("option")
            .set("value", paper.key())
            .turns("selected", move || desk.paper.get() == paper)
            .text(paper_name(paper))
    });
    let paper = classed("select", "rl-select rl-paper")
        .set("aria-label", "Paper")
        .set("data-key", "paper")
        .on("change", move |event: Event| {
            let key = event_target_value(&event);
            if let Some(paper) = PAPERS.into_iter().find(|paper| paper.key() == key) {
                desk.paper.set(paper);
            }
        })
        .with_all(papers.collect());
    let print =
        tool("print", "Print", "M6 7V2h8v5M6 14H3V7h14v7h-3M6 11h8v7H6z", move || open_print(desk), || false);
    classed("div", "rl-toolbar")
        .set("role", "toolbar")
        .set("aria-label", "Plan")
        .with(steps)
        .with(more_button(desk, is_open))
        .with(
            classed("div", "rl-more")
                .set("id", &desk.id("more"))
                .is("is-open", move || is_open.get())
                .with(classed("div", "rl-tools rl-tools-edit").with(reset))
                .with(units)
                .with(classed("div", "rl-tools").with(paper).with(print))
                // Filled by `share.js`, which comes when the planner stands.
                .with(classed("div", "rl-share")),
        )
}

/// The button that opens the rest of the toolbar where the head has no room for it. A tap or click elsewhere closes it again, and so
/// does Escape.
fn more_button(desk: Desk, is_open: State<bool>) -> Piece {
    let close = move |event: Event| {
        let is_inside = |node: JsValue| {
            node.dyn_ref::<Element>().is_some_and(|element| element.class_list().contains("rl-toolbar"))
        };
        let closes = match event.dyn_ref::<KeyboardEvent>() {
            Some(key) => key.key() == "Escape",
            None => !event.composed_path().iter().any(is_inside),
        };
        if closes && is_open.try_get_untracked() == Some(true) {
            is_open.set(false);
        }
    };
    let heard = ["click", "keydown"].map(|event| window_event_listener_untyped(event, close));
    on_cleanup(move || heard.into_iter().for_each(|heard| heard.remove()));
    let dots = svg("path").set("fill", "currentColor").set(
        "d",
        "M5 8.2a1.8 1.8 0 1 0 0 3.6 1.8 1.8 0 0 0 0-3.6m5 0a1.8 1.8 0 1 0 0 3.6 1.8 1.8 0 0 0 0-3.6m5 0a1.8 1.8 0 1 0 0 3.6 1.8 1.8 0 0 0 0-3.6",
    );
    button("rl-tool rl-more-button")
        .set("data-action", "more")
        .set("aria-label", "More")
        .says("aria-expanded", move || is_open.get().to_string())
        .set("aria-controls", &desk.id("more"))
        .on("click", move |_: Event| is_open.update(|open| *open = !*open))
        .with(sign(dots))
}

fn sign(path: Piece) -> Piece {
    svg("svg")
        .set("viewBox", "0 0 20 20")
        .set("width", "18")
        .set("height", "18")
        .set("aria-hidden", "true")
        .with(path)
}

const PAPERS: [Paper; 2] = [Paper::Letter, Paper::A4];

fn paper_name(paper: Paper) -> &'static str {
    paper.label().split('(').next().unwrap_or_default().trim_end()
}

fn tool(
    action: &'static str,
    name: &'static str,
    d: &'static str,
    act: impl Fn() + 'static,
    is_off: impl Fn() -> bool + 'static,
) -> Piece {
    let drawn = svg("path")
        .set("d", d)
        .set("fill", "none")
        .set("stroke", "currentColor")
        .set("stroke-width", "1.6")
        .set("stroke-linecap", "round")
        .set("stroke-linejoin", "round");
    button("rl-tool")
        .set("data-action", action)
        .set("aria-label", name)
        .marked("disabled", is_off)
        .on("click", move |_: Event| act())
        .with(sign(drawn))
        .with(classed("span", "rl-tool-name").text(name))
}

fn unit_button(desk: Desk, units: Units, name: &str, spoken: &str) -> Piece {
    button("rl-switch-side")
        .set("data-action", &format!("units-{}", units.key()))
        .set("aria-label", spoken)
        .says("aria-pressed", move || (desk.units.get() == units).to_string())
        .on("click", move |_: Event| desk.units.set(units))
        .text(name)
}
