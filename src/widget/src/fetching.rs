//! When the parts of the page are fetched that come in files of their own, and what stands in the place of one that hasn't come.

use crate::desk::Desk;
use crate::piece::{Piece, button, classed, html};
use crate::reactive::{Effect, TimeoutHandle, on_cleanup, set_timeout_with_handle};
use crate::rooms::{self, are_all_here, ask, fetch_ahead, missed};
use crate::signal::{Derived, Owned, when_changed};
use js_sys::Reflect;
use std::time::Duration;
use wasm_bindgen::JsValue;
use web_sys::Event;

/// How long the page must stand still before what nobody has asked for is fetched.
const STILL: Duration = Duration::from_millis(2000);

/// Fetches the room of a chapter when it is turned to, and everything when the page has stood still for a while.
pub(crate) fn follow(desk: Desk) {
    Effect::new(move |_| {
        if let Some(file) = desk.chapter.get().file() {
            ask(file);
        }
    });
    // Findings stand on the page from the start; the words for them are the first to be fetched.
    ask("words");
    let waiting = Owned::new(None::<TimeoutHandle>);
    let stop = move || {
        if let Some(waiting) = waiting.try_update_value(Option::take).flatten() {
            waiting.clear();
        }
    };
    let wait = move || {
        stop();
        if !are_all_here() && !is_metered() {
            waiting.set_value(set_timeout_with_handle(fetch_ahead, STILL).ok());
        }
    };
    when_changed(
        move || {
            desk.ground.track();
            desk.chapter.track();
        },
        wait,
    );
    wait();
    on_cleanup(stop);
}

/// Whether the reader's browser asks to save on what is fetched.
fn is_metered() -> bool {
    let field = |object: &JsValue, key: &str| Reflect::get(object, &key.into()).unwrap_or(JsValue::UNDEFINED);
    let connection =
        web_sys::window().map(|window| field(&field(&window, "navigator"), "connection")).unwrap_or_default();
    connection.is_object() && field(&connection, "saveData").is_truthy()
}

/// Says in its place that a part which was asked for hasn't come, and offers to try again.
pub(crate) fn lack(desk: Desk, key: Option<&'static str>, what: &'static str) -> Vec<Piece> {
    desk.news.track();
    let notice = |(key, words): (&'static str, String)| {
        let again = button("rl-button")
            .set("data-action", "room-again")
            .on("click", move |_: Event| {
                ask(key);
            })
            .text("Try again");
        classed("div", "rl-notice")
            .set("role", "alert")
            .set("data-room", key)
            .with(html("p").text(what).text(" ").text(&words))
            .with(again)
    };
    key.and_then(|key| missed(key).map(|words| (key, words))).map(notice).into_iter().collect()
}

/// Whether a part is here. Texts are made anew when this changes, and not whenever another part has come: the focus may be in them.
pub(crate) fn is_here(desk: Desk, key: &'static str) -> Derived<bool> {
    Derived::new(move |_| {
        desk.news.track();
        rooms::is_here(key)
    })
}

/// What stands in place of texts that haven't come: why that is, once it is known.
pub(crate) fn awaited(desk: Desk, key: &str) -> Vec<Piece> {
    desk.news.track();
    let words = missed(key).unwrap_or_else(|| "\u{2026}".to_owned());
    vec![classed("p", "rl-quiet").text(&words)]
}
