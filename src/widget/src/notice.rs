//! What the reader has to be told: a plan that couldn't be opened, a scenario that isn't a plan.

use crate::browser::show_field;
use crate::desk::{Desk, Refusal};
use crate::piece::{Piece, button, classed, html};
use crate::saved::Broken;
use crate::signal::Derived;
use drafting::{Units, wording};
use planting::Problem;
use web_sys::Event;

/// What is wrong with a plan, a sentence for each fault; none for what is no plan at all.
pub(crate) fn sentences(broken: &Broken, units: Units) -> Vec<String> {
    match broken {
        Broken::Unreadable => Vec::new(),
        Broken::Fields(problems) => problems.iter().map(|problem| wording::problem(problem, units)).collect(),
        Broken::Said(words) | Broken::Lacking(words) => vec![words.clone()],
    }
}

/// A plan that couldn't be opened; can be put away.
pub(crate) fn broken_notice(desk: Desk) -> Vec<Piece> {
    let notice = |Refusal { saved, broken }| {
        let words = match (saved, &broken) {
            (true, _) => {
                "The plan saved in this browser could not be opened, so this is the starting plan. \
                 What was saved is kept in the browser's storage, under its name with \u{201c}.broken\u{201d} behind it."
            }
            (false, Broken::Said(_)) => "This page asks for something the planner doesn't have:",
            (false, Broken::Lacking(_)) => {
                "The plan can be worked on, but a part of the page hasn\u{2019}t come:"
            }
            (false, Broken::Unreadable) => {
                "What was to be opened is no plan: neither a link nor a file of this planner. \
                 The plan before it is kept."
            }
            (false, Broken::Fields(_)) => "A plan could not be opened. The plan before it is kept.",
        };
        let list = move || {
            sentences(&broken, desk.units.get())
                .iter()
                .map(|words| html("li").text(words))
                .collect::<Vec<_>>()
        };
        let said = html("div").with(html("p").text(words)).with(html("ul").shows(list));
        let close = button("rl-button")
            .set("data-action", "notice-close")
            .on("click", move |_: Event| desk.refusal.set(None))
            .text("Put away");
        classed("div", "rl-notice")
            .set("role", "alert")
            .set("data-notice", if saved { "saved" } else { "refused" })
            .with(said)
            .with(close)
    };
    desk.refusal.get().map(notice).into_iter().collect()
}

/// A link's plan stands in the place of the reader's own: offers it back, until it is taken or sent away.
pub(crate) fn own_notice(desk: Desk) -> impl Fn() -> Vec<Piece> {
    // Where the reader has undone the link's plan, the own plan is on the desk already and isn't offered.
    let offered = Derived::new(move |_| {
        desk.own.with(|own| {
            let own = own.as_ref().filter(|own| desk.scenario.with(|scenario| *scenario != own.scenario));
            own.map(|own| own.beside)
        })
    });
    let act = move |action: &str, words: &str, act: fn(Desk)| {
        button("rl-button").set("data-action", action).on("click", move |_: Event| act(desk)).text(words)
    };
    let notice = move |beside: bool| {
        let words = if beside {
            "This plan came with a link. Your own plan is kept."
        } else {
            "This plan came with a link. Your own plan is kept, and as this browser has no room for both, this one isn\u{2019}t \
             saved until you choose."
        };
        classed("div", "rl-notice")
            .set("role", "status")
            .set("data-notice", "own")
            .with(html("p").text(words))
            .with(act("own-back", "Go back to my plan", Desk::take_own))
            .with(act("own-away", "Discard my plan", Desk::let_go_of_own))
    };
    move || offered.get().map(notice).into_iter().collect()
}

/// Fields at odds: the drawings stay on the last plan that worked.
pub(crate) fn conflict_notice(desk: Desk) -> Vec<Piece> {
    let notice = |problem: Problem| {
        let key = problem.parameter().to_owned();
        let show = button("rl-button")
            .set("data-action", "show-problem")
            .on("click", move |_: Event| show_field(desk.host(), &key))
            .text("Show me");
        let words = html("p")
            .text("The drawings keep the last plan that works. ")
            .reads(move || wording::problem(&problem, desk.units.get()));
        classed("div", "rl-notice").set("data-notice", "conflict").with(words).with(show)
    };
    desk.problems.with(|problems| problems.first().cloned()).map(notice).into_iter().collect()
}
