//! What the reader has to be told: a plan that couldn't be opened, a scenario that isn't a plan.

use crate::browser::show_field;
use crate::desk::{Desk, Refusal};
use crate::saved::Broken;
use drafting::{Units, wording};
use leptos::prelude::*;

/// What is wrong with a plan, a sentence for each fault; none for what is no plan at all.
pub(crate) fn sentences(broken: &Broken, units: Units) -> Vec<String> {
    match broken {
        Broken::Unreadable => Vec::new(),
        Broken::Fields(problems) => problems.iter().map(|problem| wording::problem(problem, units)).collect(),
        Broken::Said(words) => vec![words.clone()],
    }
}

/// A plan that couldn't be opened; can be put away.
pub(crate) fn broken_notice(desk: Desk) -> impl IntoView {
    move || {
        desk.refusal.get().map(|Refusal { saved, broken }| {
            let words = match (saved, &broken) {
                (true, _) => {
                    "The plan saved in this browser could not be opened, so this is the starting plan. \
                     What was saved is kept under \u{201c}rowlight.v1.broken\u{201d} in the browser's storage."
                }
                (false, Broken::Said(_)) => "This page asks for something the planner doesn't have:",
                (false, Broken::Unreadable) => "What was to be opened is no plan: neither a link nor a file of this planner. The plan before it is kept.",
                (false, Broken::Fields(_)) => "A plan could not be opened. The plan before it is kept.",
            };
            let list = move || {
                sentences(&broken, desk.units.get()).into_iter().map(|words| view! { <li>{words}</li> }).collect_view()
            };
            view! {
                <div class="rl-notice" role="alert" data-notice=if saved { "saved" } else { "refused" }>
                    <div>
                        <p>{words}</p>
                        <ul>{list}</ul>
                    </div>
                    <button class="rl-button" type="button" data-action="notice-close" on:click=move |_| desk.refusal.set(None)>
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
