//! Every figure of the plan under its head, each with its working.

use crate::desk::Desk;
use crate::working::{certainty_chip, reading, working};
use leptos::prelude::*;
use planting::{Certainty, Subject};

/// The list of figures.
pub(crate) fn figures(desk: Desk) -> impl IntoView {
    view! {
        <section class="rl-figures" aria-label="All figures">
            <h2 class="rl-h2">"All figures"</h2>
            {Subject::ALL.into_iter().map(|subject| group(desk, subject)).collect_view()}
        </section>
    }
}

fn group(desk: Desk, subject: Subject) -> AnyView {
    let keys = Memo::new(move |_| {
        desk.plan.with(|plan| {
            plan.figures
                .iter()
                .filter(|figure| figure.subject == subject)
                .map(|figure| figure.key)
                .collect::<Vec<_>>()
        })
    });
    view! {
        <details class="rl-subject" hidden=move || keys.with(Vec::is_empty)>
            <summary class="rl-group-head">{subject.label()}</summary>
            <ul class="rl-figure-list">
                <For each=move || keys.get() key=|key| *key children=move |key| row(desk, key)/>
            </ul>
        </details>
    }
    .into_any()
}

fn row(desk: Desk, key: &'static str) -> AnyView {
    let now = reading(desk, key);
    let open = RwSignal::new(false);
    let certainty = Memo::new(move |_| now.with(|reading| reading.as_ref().map(|reading| reading.certainty)));
    view! {
        <li class="rl-figure">
            <button
                class="rl-figure-row"
                type="button"
                aria-expanded=move || open.get().to_string()
                on:click=move |_| open.update(|open| *open = !*open)
            >
                <span class="rl-figure-label">
                    {move || now.with(|reading| reading.as_ref().map(|reading| reading.label))}
                </span>
                <span
                    class="rl-number"
                    data-figure=key
                    data-value=move || now.with(|reading| reading.as_ref().and_then(|reading| reading.value)).map(|v| v.to_string())
                >
                    {move || now.get().map(|reading| reading.text)}
                </span>
                {move || certainty_chip(certainty.get().unwrap_or(Certainty::Assumption))}
            </button>
            {move || open.get().then(|| working(desk, key))}
        </li>
    }
    .into_any()
}
