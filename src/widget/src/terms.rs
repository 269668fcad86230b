//! Texts in which words of the trade can be asked for, and the small box that answers.

use crate::desk::{Desk, Word};
use crate::glossary::{TextPart, TradeWord, marked};
use crate::piece::{Piece, button, classed, html, text};
use crate::reactive::set_timeout;
use crate::rooms;
use planting::digits::fixed;
use std::time::Duration;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, EventTarget, PointerEvent};

/// Width the box is planned with `[px]`; the style sheet holds it to the same.
const WIDTH: f64 = 280.0;
/// Height that should be free below the word; where it isn't, the box opens above `[px]`.
const ROOM: f64 = 150.0;
/// How long the box stays open while the pointer is on its way from the word to the box.
const GRACE: Duration = Duration::from_millis(250);

/// A text with its words of the trade as buttons.
pub(crate) fn with_terms(desk: Desk, words: &str) -> Vec<Piece> {
    marked(words)
        .into_iter()
        .map(|piece| match piece {
            TextPart::Plain(words) => text(words),
            TextPart::Term(word, term) => term_button(desk, word, term),
        })
        .collect()
}

fn term_button(desk: Desk, word: &str, term: &'static TradeWord) -> Piece {
    let open = move |target: Option<EventTarget>| {
        let Some(button) = target.and_then(|target| target.dyn_into::<Element>().ok()) else { return };
        let place = button.get_bounding_client_rect();
        desk.word.set(Some(Word { term, left: place.left(), top: place.top(), bottom: place.bottom() }));
        rooms::ask("words");
    };
    let is_open = move || desk.word.with(|word| word.is_some_and(|word| word.term == term));
    button("rl-term")
        .says("aria-expanded", move || is_open().to_string())
        .may_say("aria-describedby", move || is_open().then(|| desk.id("word")))
        .on("click", move |event: Event| open(event.current_target()))
        .on("focus", move |event: Event| open(event.current_target()))
        .on("pointerenter", move |event: PointerEvent| {
            if event.pointer_type() == "mouse" {
                open(event.current_target());
            }
        })
        .on("pointerleave", move |event: PointerEvent| {
            if event.pointer_type() == "mouse" {
                close_soon(desk, term);
            }
        })
        .on("blur", move |_: Event| desk.word.set(None))
        .text(word)
}

/// Closes the box unless the pointer has reached it meanwhile.
fn close_soon(desk: Desk, term: &'static TradeWord) {
    set_timeout(
        move || {
            if desk.is_gone() {
                return;
            }
            let resting = desk
                .host()
                .query_selector(".rl-word:hover, .rl-term:hover")
                .is_ok_and(|element| element.is_some());
            if !resting && desk.word.try_get_untracked().flatten().is_some_and(|word| word.term == term) {
                desk.word.set(None);
            }
        },
        GRACE,
    );
}

/// The box that explains the word asked for, or nothing while none is asked for. There is one for the whole page.
pub(crate) fn word_box(desk: Desk) -> Vec<Piece> {
    let height = || {
        let height = web_sys::window().and_then(|window| window.inner_height().ok());
        height.and_then(|height| height.as_f64()).unwrap_or(0.0)
    };
    let pieces = desk.word.get().map(|word| {
        // Placed from the planner's corner and not from the window's: what surrounds the planner may scroll, or be a container in
        // which places of the window don't count.
        let page = desk.host().get_bounding_client_rect();
        let left = (word.left - page.left()).min(page.width() - WIDTH - 8.0).max(8.0);
        let below = word.bottom + ROOM < height() || word.top < ROOM;
        let px = |place: Option<f64>| {
            Some(place.map_or_else(|| "auto".to_owned(), |place| format!("{}px", fixed(place, 2))))
        };
        let top = below.then(|| word.bottom - page.top() + 6.0);
        let bottom = (!below).then(|| page.bottom() - word.top + 6.0);
        classed("div", "rl-word")
            .set("id", &desk.id("word"))
            .set("role", "tooltip")
            .styled("left", move || px(Some(left)))
            .styled("top", move || px(top))
            .styled("bottom", move || px(bottom))
            .on("pointerleave", move |_: Event| close_soon(desk, word.term))
            .with(html("b").text(word.term.name))
            .with(html("p").reads(move || meaning(desk, word.term)))
    });
    pieces.into_iter().collect()
}

/// What a word means, or why that can't be said.
fn meaning(desk: Desk, term: &TradeWord) -> String {
    desk.news.track();
    match rooms::words::now() {
        Some(words) => (words.meaning)(term.name).to_owned(),
        None => rooms::missed("words").unwrap_or_else(|| "\u{2026}".to_owned()),
    }
}
