//! What is known about an input: what it means, its range, what it starts at and who says so.

use crate::desk::Desk;
use crate::terms::with_terms;
use crate::working::certainty_chip;
use leptos::prelude::*;
use planting::Parameter;

/// The changing parts of what is known.
pub(super) struct About {
    pub(super) range: Signal<String>,
    pub(super) starts_at: Signal<String>,
}

pub(super) fn about_button(desk: Desk, parameter: &'static Parameter, open: RwSignal<bool>) -> impl IntoView {
    view! {
        <button
            class="rl-about-button"
            type="button"
            aria-label=format!("About {}", parameter.label)
            aria-expanded=move || open.get().to_string()
            aria-controls=desk.id(&format!("about-{}", parameter.key))
            on:click=move |_| open.update(|open| *open = !*open)
        >
            <span aria-hidden="true">"?"</span>
        </button>
    }
}

pub(super) fn about(
    desk: Desk,
    parameter: &'static Parameter,
    open: RwSignal<bool>,
    about: About,
) -> impl IntoView {
    let follows = if parameter.follows_system { ", from the training system" } else { "" };
    view! {
        <div id=desk.id(&format!("about-{}", parameter.key)) class="rl-about" hidden=move || !open.get()>
            {move || open.get().then(|| view! {
                <p>{with_terms(desk, parameter.help)}</p>
                <p class="rl-quiet">
                    {move || about.range.get()}". Starts at "{move || about.starts_at.get()}{follows}"."
                </p>
                <p class="rl-quiet">
                    {with_terms(desk, parameter.source.citation)}" "{certainty_chip(parameter.source.certainty)}
                </p>
            })}
        </div>
    }
}
