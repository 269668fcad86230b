//! The page: drawings in the middle, controls beside them, the headline figures over them, the year under them.

use crate::chapter::{chapter_bar, light_limits};
use crate::controls::controls;
use crate::desk::{Desk, Hands};
use crate::drawing::drawing;
use crate::figures::figures;
use crate::findings::findings;
use crate::is_broken;
use crate::notice::{broken_notice, conflict_notice};
use crate::piece::{Piece, classed};
use crate::print;
use crate::saved;
use crate::signal::{StoredValue, watch};
use crate::speech::speech;
use crate::strip::strip;
use crate::terms::word_box;
use crate::toolbar::toolbar;
use crate::year::year_bar;
use drafting::Daylight;
use leptos::leptos_dom::helpers::{TimeoutHandle, set_timeout_with_handle};
use leptos::{ev, prelude::*};
use std::time::Duration;
use web_sys::Event;

/// How long a plan must stand still before it is saved.
const SAVE_AFTER: Duration = Duration::from_millis(400);

/// The whole page.
pub(crate) fn page(desk: Desk, place: Option<String>) -> Piece {
    if let Some(place) = place {
        keep_saved(desk, place);
    }
    print::follow_print(desk);
    let shortcuts = window_event_listener(ev::keydown, move |event| {
        if is_broken() {
            return;
        }
        // In a page of somebody else's, only with the hand on this planner.
        if !desk.alone && !desk.host().matches(":focus-within").unwrap_or(false) {
            return;
        }
        // What is only looked at has no steps of the reader's to undo.
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
    on_cleanup(move || shortcuts.remove());
    let head = classed("header", "rl-head")
        .with(
            classed("p", "rl-name")
                .text("Rowlight")
                .with(classed("span", "rl-what").text("planting planner")),
        )
        .with(toolbar(desk));
    let drawings =
        move || desk.chapter.get().views().iter().map(|view| drawing(desk, *view)).collect::<Vec<_>>();
    let main = classed("div", "rl-main")
        .with(chapter_bar(desk))
        .with(strip(desk))
        .shows(move || conflict_notice(desk))
        .with(
            classed("div", "rl-stage")
                .with(classed("div", "rl-drawings").shows(drawings))
                .with(year_bar(desk)),
        );
    let below =
        classed("div", "rl-below").with(light_limits(desk)).with(findings(desk)).with(figures(desk)).with(
            classed("p", "rl-limits").text(
                "Planning estimate, not a design. Follow local codes, makers\u{2019} ratings and soil tests; \
             have a licensed engineer check posts, anchors and any net.",
            ),
        );
    let work = classed("div", "rl-work")
        .with(classed("aside", "rl-controls").set("aria-label", "Controls").with_all(controls(desk)))
        .with(main)
        .with(below);
    classed("div", "rl-page")
        // Not every browser gives the focus to a button that is tapped, and takes it again.
        // Not every browser gives the focus to a word that is tapped, and takes it again: the box would stay.
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
        // For who waits: tests, and pages that ask for drawings.
        .may_say("data-whole", move || desk.later().map(|_| "true".to_owned()))
        .with(head)
        .shows(move || broken_notice(desk))
        .with(work)
        .shows(move || word_box(desk))
        .with(speech(desk))
}

/// Saves the plan under `place` when it has stood still for a moment, and when the page goes away.
fn keep_saved(desk: Desk, place: String) {
    let place = StoredValue::new(place);
    let waiting = StoredValue::new(None::<TimeoutHandle>);
    let stop = move || {
        if let Some(waiting) = waiting.try_update_value(Option::take).flatten() {
            waiting.clear();
        }
    };
    let last = StoredValue::new(None::<String>);
    let save = move || {
        // The last plan that works: a scenario at odds with itself would not open again.
        let now = desk.plan.with_untracked(|plan| saved::file(&plan.scenario, desk.reader()));
        // What hasn't changed here may have been changed in another window.
        if last.try_get_value().is_some_and(|last| last != now) {
            saved::store(&place.get_value(), now.as_deref());
            last.set_value(now);
        }
    };
    watch(
        move || {
            desk.plan.track();
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
        // A planner taken away has its last change kept too.
        desk.flush();
        save();
        stop();
        leaving.remove();
    });
}
