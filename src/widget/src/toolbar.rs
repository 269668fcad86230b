//! What concerns the whole plan: units, undo, redo, reset, print.

use crate::desk::Desk;
use crate::print::open_print;
use drafting::Units;
use drafting::packet::Paper;
use leptos::prelude::*;

/// The toolbar.
pub(crate) fn toolbar(desk: Desk) -> impl IntoView {
    let is_start = Memo::new(move |_| desk.home.with(|home| desk.scenario.with(|scenario| scenario == home)));
    view! {
        <div class="rl-toolbar" role="toolbar" aria-label="Plan">
            <div class="rl-tools rl-tools-edit">
                {tool("undo", "Undo", "M7 4 3 8l4 4M3 8h7a4.5 4.5 0 0 1 0 9H7", move || desk.undo(), move || !desk.reach.get().0)}
                {tool("redo", "Redo", "M13 4l4 4-4 4M17 8h-7a4.5 4.5 0 0 0 0 9h3", move || desk.redo(), move || !desk.reach.get().1)}
                {tool(
                    "reset",
                    "Start again",
                    "M4 10a6 6 0 1 0 2-4.5M6 2v4h4",
                    move || desk.replace(desk.home.get_untracked()),
                    move || is_start.get(),
                )}
            </div>
            <div class="rl-switch" role="group" aria-label="Units">
                {unit_button(desk, Units::Us, "US", "US units: feet, inches, acres")}
                {unit_button(desk, Units::Metric, "Metric", "Metric units: metres, centimetres, hectares")}
            </div>
            <div class="rl-tools">
                <select
                    class="rl-select rl-paper"
                    aria-label="Paper"
                    data-key="paper"
                    on:change=move |event| {
                        let key = event_target_value(&event);
                        if let Some(paper) = PAPERS.into_iter().find(|paper| paper.key() == key) {
                            desk.paper.set(paper);
                        }
                    }
                >
                    {PAPERS.into_iter().map(|paper| view! {
                        <option value=paper.key() prop:selected=move || desk.paper.get() == paper>{paper_name(paper)}</option>
                    }).collect_view()}
                </select>
                {tool(
                    "print",
                    "Print",
                    "M6 7V2h8v5M6 14H3V7h14v7h-3M6 11h8v7H6z",
                    move || open_print(desk),
                    || false,
                )}
            </div>
            // Filled by `share.js`, which comes when the planner stands.
            <div class="rl-share"></div>
        </div>
    }
}

const PAPERS: [Paper; 2] = [Paper::Letter, Paper::A4];

fn paper_name(paper: Paper) -> &'static str {
    paper.label().split(" (").next().unwrap_or_else(|| paper.label())
}

fn tool(
    action: &'static str,
    name: &'static str,
    d: &'static str,
    act: impl Fn() + 'static,
    is_off: impl Fn() -> bool + Send + Sync + 'static,
) -> impl IntoView {
    view! {
        <button class="rl-tool" type="button" data-action=action disabled=is_off on:click=move |_| act()>
            <svg viewBox="0 0 20 20" width="18" height="18" aria-hidden="true">
                <path d=d fill="none" stroke="currentColor" stroke-width="1.6" stroke-linecap="round" stroke-linejoin="round"/>
            </svg>
            <span class="rl-tool-name">{name}</span>
        </button>
    }
}

fn unit_button(desk: Desk, units: Units, name: &'static str, spoken: &'static str) -> impl IntoView {
    view! {
        <button
            class="rl-switch-side"
            type="button"
            data-action=format!("units-{}", units.key())
            aria-label=spoken
            aria-pressed=move || (desk.units.get() == units).to_string()
            on:click=move |_| desk.units.set(units)
        >
            {name}
        </button>
    }
}
