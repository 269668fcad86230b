//! What the reader has to be told: a saved plan that couldn't be opened, a scenario that isn't a plan.

use crate::browser::show_field;
use crate::desk::Desk;
use crate::saved::Broken;
use drafting::wording;
use leptos::prelude::*;

/// A saved plan that couldn't be opened; can be put away.
pub(crate) fn broken_notice(desk: Desk, broken: Option<Broken>) -> impl IntoView {
    let shown = RwSignal::new(broken);
    move || {
        shown.get().map(|broken| {
            let reasons = match broken {
                Broken::Unreadable => Vec::new(),
                Broken::Fields(problems) => problems,
            };
            let sentences =
                move || reasons.iter().map(|problem| view! { <li>{wording::problem(problem, desk.units.get())}</li> }).collect_view();
            view! {
                <div class="rl-notice" role="alert" data-notice="saved">
                    <div>
                        <p>
                            "The plan saved in this browser could not be opened, so this is the starting plan. "
                            "What was saved is kept under \u{201c}rowlight.v1.broken\u{201d} in the browser's storage."
                        </p>
                        <ul>{sentences}</ul>
                    </div>
                    <button class="rl-button" type="button" data-action="notice-close" on:click=move |_| shown.set(None)>
                        "Put away"
                    </button>
                </div>
            }
        })
    }
}

/// Fields at odds: the drawings stay on the last plan that worked.
pub(crate) fn conflict_notice(desk: Desk) -> impl IntoView {
    move || {
        desk.problems.with(|problems| problems.first().cloned()).map(|problem| {
            let key = problem.parameter().to_owned();
            view! {
                <div class="rl-notice" data-notice="conflict">
                    <p>"The drawings keep the last plan that works. "{wording::problem(&problem, desk.units.get())}</p>
                    <button
                        class="rl-button"
                        type="button"
                        data-action="show-problem"
                        on:click=move |_| {
                            show_field(&desk.host(), &key);
                        }
                    >
                        "Show me"
                    </button>
                </div>
            }
        })
    }
}
