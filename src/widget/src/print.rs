//! When the printed sheet set is filled and cleared. What it is made of comes in a file of its own, behind the door in
//! `rooms/print`; this file knows the desk, that one doesn't.
//!
//! In somebody else's page only the planner's own button fills the set.

use crate::desk::{Desk, Refusal};
use crate::reactive::*;
use crate::rooms;
use crate::rooms::print::Wanted;
use crate::saved::Broken;
use js_sys::{Array, Reflect};
use wasm_bindgen_futures::spawn_local;

/// Prints the plan on the desk, as soon as what it takes has come. Where it doesn't come, the page says so below its head.
pub(crate) fn open_print(desk: Desk) {
    if rooms::is_here("print") {
        return print(desk);
    }
    spawn_local(async move {
        if rooms::come("print").await && !desk.is_gone() {
            print(desk);
        }
    });
}

fn print(desk: Desk) {
    desk.settle();
    // Sheets of an earlier print may still stand there, where the browser never said that it was over.
    put_away();
    fill(desk);
    if let Some(window) = web_sys::window() {
        // A browser that forbids printing says so itself.
        let _ = window.print();
    }
}

/// Fills the sheet set whenever the page is printed, by whatever way, and clears it afterwards.
pub(crate) fn follow_print(desk: Desk) {
    let before = desk.alone.then(|| window_event_listener_untyped("beforeprint", move |_| fill(desk)));
    let after = window_event_listener_untyped("afterprint", |_| put_away());
    on_cleanup(move || {
        if let Some(before) = before {
            before.remove();
        }
        after.remove();
        put_away();
    });
}

fn lack(desk: Desk, words: &str) {
    desk.refusal.set(Some(Refusal { saved: false, broken: Broken::Lacking(words.to_owned()) }));
}

fn fill(desk: Desk) {
    match rooms::print::now() {
        Some(print) => {
            // The browser may print by itself, between an edit and its frame.
            desk.flush();
            (print.set_out)(Wanted {
                scenario: desk.ground.with_untracked(|ground| ground.scenario.clone()),
                units: desk.units.get_untracked(),
                paper: desk.paper.get_untracked(),
                styles: (!desk.alone).then(|| own_sheets(desk)),
            });
        }
        // The browser is printing already and doesn't wait for a file to be fetched.
        None => {
            lack(desk, "The sheets had not come yet when the page was printed. Print again.");
            rooms::ask("print");
        }
    }
}

fn put_away() {
    if let Some(print) = rooms::print::now() {
        (print.clear)();
    }
}

/// The style sheets of the shadow root a planner stands in, in somebody else's page; the page itself doesn't have them.
fn own_sheets(desk: Desk) -> Array {
    Reflect::get(&desk.host().get_root_node(), &"adoptedStyleSheets".into())
        .map_or_else(|_| Array::new(), |sheets| Array::from(&sheets))
}
