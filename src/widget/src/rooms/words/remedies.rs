//! What cures a finding: worked out when the plan stands still, looked at in the drawings, taken with one press.
//!
//! The plan with the remedy is drawn while the pointer is over its button or the focus on it; a finger's first tap draws it, its
//! second takes it. What is taken is one step to undo.

use crate::desk::Desk;
use crate::piece::{Piece, button, classed, html};
use crate::reactive::*;
use crate::rooms;
use crate::shared::Shared;
use crate::signal::{Owned, State};
use drafting::{Units, wording};
use planting::ground::Memory;
use planting::{Advice, Ground, Remedy};
use std::time::Duration;
use wasm_bindgen::JsCast;
use web_sys::{Event, HtmlElement, KeyboardEvent, PointerEvent};

/// How long the plan must stand still before remedies are worked out: a little longer than rooms wait.
const STILL: Duration = Duration::from_millis(200);

/// What cures a finding on a ground, in a reader's units.
#[derive(Clone)]
struct Solved {
    ground: Shared<Ground>,
    units: Units,
    advice: Advice,
    cures: Vec<Remedy>,
}

/// The remedies of a rule's finding.
pub(super) fn remedies(desk: Desk, rule: &'static str) -> Piece {
    let solved = State::new(None::<Solved>);
    follow(desk, rule, solved);
    classed("div", "rl-remedies").shows(move || {
        let (ground, units) = (desk.ground.get(), desk.units.get());
        match solved.get().filter(|one| one.ground == ground && one.units == units) {
            None => vec![quiet("What cures it is worked out as soon as the plan stands still.")],
            Some(one) if one.cures.is_empty() => {
                vec![html("p").text(&wording::without_remedy(&one.advice))]
            }
            Some(one) => one.cures.iter().map(|cure| offer(desk, &one, cure)).collect(),
        }
    })
}

fn quiet(words: &str) -> Piece {
    classed("p", "rl-quiet").text(words)
}

/// Works the remedies out when the plan has stood still, each finding in a turn of its own, so that the page answers between them.
fn follow(desk: Desk, rule: &'static str, solved: State<Option<Solved>>) {
    let waiting = Owned::new(None::<TimeoutHandle>);
    let stop = move || {
        if let Some(waiting) = waiting.try_update_value(Option::take).flatten() {
            waiting.clear();
        }
    };
    let solve = move || {
        if desk.is_gone() {
            return;
        }
        let Some(files) = rooms::files::now() else {
            // Remedies are tried on the whole plan, with all its rooms; their coming is news, which starts this again.
            rooms::ask("files");
            return;
        };
        let (ground, units) = (desk.ground.get_untracked(), desk.units.get_untracked());
        let found = desk.findings.with_untracked(|found| found.iter().find(|one| one.rule == rule).cloned());
        if let Some(advice) = found {
            let cures = (files.solved)(&ground.scenario, &advice, units);
            solved.set(Some(Solved { ground, units, advice, cures }));
        }
    };
    Effect::new(move |_| {
        desk.ground.track();
        desk.units.track();
        desk.news.track();
        stop();
        waiting.set_value(set_timeout_with_handle(solve, STILL).ok());
    });
    on_cleanup(stop);
}

/// A remedy as a button; as a sentence where the host's page lets nobody change what it changes.
fn offer(desk: Desk, solved: &Solved, cure: &Remedy) -> Piece {
    let words = wording::remedy(cure, solved.units);
    let changes = cure.changes.clone();
    let keys: Vec<&'static str> = changes.iter().map(|change| change.key).collect();
    if !desk.face.with(|face| keys.iter().all(|key| face.hands.may_move(key))) {
        return html("p").text(&words);
    }
    let scenario = solved.ground.scenario.with_changes(&changes);
    let tried = Owned::new(None::<Shared<Ground>>);
    let look = {
        let scenario = scenario.clone();
        move || {
            if tried.try_get_value().flatten().is_none() {
                tried.set_value(Ground::lay(&scenario, &mut Memory::default()).ok().map(Shared::new));
            }
            desk.preview.set(tried.get_value());
        }
    };
    let is_looked_at =
        move || desk.preview.with(|shown| shown.is_some() && *shown == tried.try_get_value().flatten());
    let away = move || {
        if untrack(is_looked_at) {
            desk.look_away();
        }
    };
    // Whether the press that ends in a click began on a remedy that was looked at; a key presses without one.
    let ready = Owned::new(None::<bool>);
    let press = {
        let look = look.clone();
        move |_: Event| {
            let began = ready.try_update_value(Option::take).flatten();
            if began.unwrap_or_else(|| untrack(is_looked_at)) {
                desk.replace(scenario.clone());
                focus_list(desk);
            } else {
                look();
            }
        }
    };
    on_cleanup(away);
    let (point, focus) = (look.clone(), look);
    button("rl-button rl-remedy")
        .set("data-action", "remedy")
        .set("data-keys", &keys.join(" "))
        .is("is-looked-at", is_looked_at)
        // A button that comes to lie under a pointer at rest isn't pointed at: only a move is.
        .on("pointermove", move |event: PointerEvent| {
            if event.pointer_type() == "mouse" && !untrack(is_looked_at) {
                point();
            }
        })
        .on("pointerleave", move |event: PointerEvent| {
            if event.pointer_type() == "mouse" {
                away();
            }
        })
        .on("pointerdown", move |_: PointerEvent| ready.set_value(Some(untrack(is_looked_at))))
        .on("focus", move |_: Event| focus())
        .on("blur", move |_: Event| away())
        .on("keydown", move |event: KeyboardEvent| {
            ready.set_value(None);
            if event.key() == "Escape" {
                away();
            }
        })
        .on("click", press)
        .text(&words)
        .with(
            classed("span", "rl-remedy-hint")
                .reads(move || if is_looked_at() { "Take it".to_owned() } else { "Look at it".to_owned() }),
        )
}

/// Puts the focus on the list of findings: the button it was on goes with its finding.
fn focus_list(desk: Desk) {
    let list = desk.host().query_selector(".rl-advice").ok().flatten();
    if let Some(list) = list.and_then(|list| list.dyn_into::<HtmlElement>().ok()) {
        let _ = list.focus();
    }
}
