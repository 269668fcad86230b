//! What concerns the whole plan: units, undo, redo, reset, print.

use crate::desk::Desk;
use crate::piece::{Piece, button, classed, html, svg};
use crate::print::open_print;
use crate::reactive::*;
use crate::signal::Derived;
use drafting::Units;
use drafting::packet::Paper;
use web_sys::Event;

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
        ))
        .with(tool(
            "reset",
            "Start again",
            "M4 10a6 6 0 1 0 2-4.5M6 2v4h4",
            move || desk.replace(desk.home.get_untracked()),
            move || is_start.get(),
        ));
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
        .with(units)
        .with(classed("div", "rl-tools").with(paper).with(print))
        // Filled by `share.js`, which comes when the planner stands.
        .with(classed("div", "rl-share"))
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
    let sign = svg("path")
        .set("d", d)
        .set("fill", "none")
        .set("stroke", "currentColor")
        .set("stroke-width", "1.6")
        .set("stroke-linecap", "round")
        .set("stroke-linejoin", "round");
    let sign = svg("svg")
        .set("viewBox", "0 0 20 20")
        .set("width", "18")
        .set("height", "18")
        .set("aria-hidden", "true")
        .with(sign);
    button("rl-tool")
        .set("data-action", action)
        .set("aria-label", name)
        .marked("disabled", is_off)
        .on("click", move |_: Event| act())
        .with(sign)
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
