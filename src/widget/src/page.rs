//! The page: drawings in the middle, controls beside them, the headline figures over them, the year under them.

use crate::chapter_bar::{caveat, chapter_bar, daylight_switch};
use crate::controls::controls;
use crate::desk::{Desk, Hands};
use crate::drawing::drawing;
use crate::fetching;
use crate::figures::figures;
use crate::findings::findings;
use crate::grip::let_go_elsewhere;
use crate::is_broken;
use crate::notice::{broken_notice, conflict_notice, own_notice};
use crate::piece::{Piece, classed};
use crate::print;
use crate::reactive::*;
use crate::saved;
use crate::signal::{Owned, when_changed};
use crate::speech::speech;
use crate::strip::strip;
use crate::terms::word_box;
use crate::told::told;
use crate::toolbar::toolbar;
use crate::view_tabs::{front, view_tabs};
use crate::year::year_bar;
use drafting::Daylight;
use std::time::Duration;
use wasm_bindgen::JsCast;
use web_sys::{Event, KeyboardEvent};

/// How long a plan must stand still before it is saved.
const SAVE_AFTER: Duration = Duration::from_millis(400);

/// The whole page.
pub(crate) fn page(desk: Desk, storage_key: Option<String>) -> Piece {
    if let Some(storage_key) = storage_key {
        keep_saved(desk, storage_key);
    }
    print::follow_print(desk);
    fetching::follow(desk);
    let shortcuts = window_event_listener_untyped("keydown", move |event: Event| {
        let Some(event) = event.dyn_ref::<KeyboardEvent>() else { return };
        if is_broken() {
            return;
        }
        // In somebody else's page keys count only while this planner holds the focus.
        if !desk.alone && !desk.host().matches(":focus-within").unwrap_or(false) {
            return;
        }
        // Where the plan can only be looked at, the reader has made no steps to undo.
        let writes = (event.ctrl_key() || event.meta_key())
            && desk.face.with_untracked(|face| face.hands != Hands::Off);
        let in_field =
            desk.host().query_selector("input:not([type=range]):focus").is_ok_and(|field| field.is_some());
        match event.key().to_ascii_lowercase().as_str() {
            "escape" => desk.word.set(None),
            // Inside a field these keys belong to the text being typed.
            "z" if writes && !in_field => {
                event.prevent_default();
                if event.shift_key() { desk.redo() } else { desk.undo() }
            }
            "y" if writes && !in_field => {
                event.prevent_default();
                desk.redo();
            }
            _ => {}
        }
    });
    // A tap anywhere counts, in the page around the planner too; a finger that scrolls makes no click.
    let taps = window_event_listener_untyped("click", move |event: Event| {
        if !is_broken() {
            let_go_elsewhere(desk, &event);
        }
    });
    on_cleanup(move || {
        shortcuts.remove();
        taps.remove();
    });
    let head = classed("header", "rl-head")
        .with(
            classed("p", "rl-name")
                .text("Rowlight")
                .with(classed("span", "rl-what").text("planting planner")),
        )
        .with(chapter_bar(desk))
        .with(toolbar(desk));
    let drawings = move || desk.chapter.get().views().map(|view| drawing(desk, view)).collect::<Vec<_>>();
    let main = classed("div", "rl-main").with(strip(desk)).shows(move || conflict_notice(desk)).with(
        classed("div", "rl-stage")
            .shows(move || {
                let file = desk.chapter.get().file();
                fetching::lack(
                    desk,
                    file,
                    "This chapter isn\u{2019}t whole: a part of it hasn\u{2019}t come.",
                )
            })
            .with(
                classed("div", "rl-pinned")
                    .with(classed("div", "rl-over").with(view_tabs(desk)).with(daylight_switch(desk)))
                    .with(
                        classed("div", "rl-drawings")
                            .says("data-front", move || front(desk).key().to_owned())
                            .shows(drawings),
                    )
                    .with(told(desk)),
            )
            .with(year_bar(desk)),
    );
    let below = classed("div", "rl-below")
        .with(caveat(desk))
        .with(findings(desk))
        .with(figures(desk))
        .with(classed("p", "rl-limits").text(drafting::packet::PLANNING_ESTIMATE));
    // The drawings stay in the window as long as something of the bench does.
    let bench = classed("div", "rl-bench")
        .with(classed("aside", "rl-controls").set("aria-label", "Controls").with_all(controls(desk)))
        .with(main);
    let work = classed("div", "rl-work").with(bench).with(below);
    classed("div", "rl-page")
        // Pressing anywhere closes the box that explains a word. Waiting for the word to lose the focus wouldn't do: not every
        // browser gives the focus to a word that is tapped.
        .on("pointerdown", move |_: Event| {
            if desk.word.with_untracked(Option::is_some) {
                desk.word.set(None);
            }
        })
        .says("data-controls", move || {
            desk.face
                .with(|face| match face.hands {
                    Hands::On => "shown",
                    Hands::At(_) => "some",
                    Hands::Off => "locked",
                })
                .to_owned()
        })
        .says("data-chapter", move || desk.chapter.get().key().to_owned())
        .says("data-daylight", move || {
            if desk.daylight.get() == Daylight::Hour { "hour" } else { "season" }.to_owned()
        })
        // Tests, and pages that ask for drawings, wait for this mark.
        .may_say("data-whole", move || desk.is_whole().then(|| "true".to_owned()))
        .with(head)
        .shows(move || {
            fetching::lack(
                desk,
                Some("print"),
                "The sheets to print haven\u{2019}t come. Once they have, print again.",
            )
        })
        .shows(move || broken_notice(desk))
        .shows(own_notice(desk))
        .with(work)
        .shows(move || word_box(desk))
        .with(speech(desk))
}

/// Saves the plan under `storage_key` when it has stood still for a moment, and when the page goes away.
fn keep_saved(desk: Desk, storage_key: String) {
    let storage_key = Owned::new(storage_key);
    let waiting = Owned::new(None::<TimeoutHandle>);
    let stop = move || {
        if let Some(waiting) = waiting.try_update_value(Option::take).flatten() {
            waiting.clear();
        }
    };
    let last = Owned::new(None::<String>);
    let save = move || {
        // Where there is room for one plan only, the reader's own stays in its place.
        if desk.own.try_with_untracked(|own| own.as_ref().is_some_and(|own| !own.beside)) == Some(true) {
            return;
        }
        // The last plan that works: a scenario at odds with itself would not open again.
        let now = desk.ground.with_untracked(|ground| saved::file(&ground.scenario, desk.reader()));
        // A plan that hasn't changed here isn't saved again: another window may have saved a newer one meanwhile.
        if last.try_get_value().is_some_and(|last| last != now) {
            saved::store(&storage_key.get_value(), now.as_deref());
            last.set_value(now);
        }
    };
    when_changed(
        move || {
            desk.ground.track();
            desk.units.track();
            desk.paper.track();
            desk.chapter.track();
        },
        move || {
            stop();
            waiting.set_value(set_timeout_with_handle(save, SAVE_AFTER).ok());
        },
    );
    let leaving = window_event_listener_untyped("pagehide", move |_| {
        desk.flush();
        save();
    });
    on_cleanup(move || {
        // The last change before a planner is taken away is saved too.
        desk.flush();
        save();
        stop();
        leaving.remove();
    });
}
