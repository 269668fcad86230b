//! What the reader has to be told: a saved plan that couldn't be opened, a scenario that isn't a plan.

use crate::browser::show_field;
use crate::desk::Desk;
use crate::piece::{Piece, button, classed, html};
use crate::saved::Broken;
use crate::signal::RwSignal;
use drafting::wording;
use planting::Problem;
use web_sys::Event;

/// A saved plan that couldn't be opened; can be put away.
pub(crate) fn broken_notice(desk: Desk, shown: RwSignal<Option<Broken>>) -> Vec<Piece> {
    let notice = |broken| {
        let reasons = match broken {
            Broken::Unreadable => Vec::new(),
            Broken::Fields(problems) => problems,
        };
        let sentences = reasons
            .into_iter()
            .map(|problem| html("li").reads(move || wording::problem(&problem, desk.units.get())));
        let words = html("div")
            .with(html("p").text(
                "The plan saved in this browser could not be opened, so this is the starting plan. \
                 What was saved is kept under \u{201c}rowlight.v1.broken\u{201d} in the browser's storage.",
            ))
            .with(html("ul").with_all(sentences.collect()));
        let close = button("rl-button")
            .set("data-action", "notice-close")
            .on("click", move |_: Event| shown.set(None))
            .text("Put away");
        classed("div", "rl-notice").set("role", "alert").set("data-notice", "saved").with(words).with(close)
    };
    shown.get().map(notice).into_iter().collect()
}

/// Fields at odds: the drawings stay on the last plan that worked.
pub(crate) fn conflict_notice(desk: Desk) -> Vec<Piece> {
    let notice = |problem: Problem| {
        let key = problem.parameter().to_owned();
        let show = button("rl-button")
            .set("data-action", "show-problem")
            .on("click", move |_: Event| {
                show_field(&desk.host(), &key);
            })
            .text("Show me");
        let words = html("p")
            .text("The drawings keep the last plan that works. ")
            .reads(move || wording::problem(&problem, desk.units.get()));
        classed("div", "rl-notice").set("data-notice", "conflict").with(words).with(show)
    };
    desk.problems.with(|problems| problems.first().cloned()).map(notice).into_iter().collect()
}
