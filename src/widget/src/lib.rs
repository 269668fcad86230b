//! The page: a quiet drawing board in the browser. The only crate that knows the browser.
//!
//! One way through: an edit changes the scenario, the scenario makes the plan, drawings and figures
//! read the plan. Nothing on the trade is worked out here, and no drawing is laid out here.
//!
//! | a question about | is answered in |
//! |---|---|
//! | state, edits, frames, the last good plan | `desk`, `history`, `dial` |
//! | where things stand on the page | `page`, and the style sheet `www/rowlight.css` |
//! | elements that keep themselves up to date, what they follow | `piece`, `signal`, `shared` |
//! | sliders, fields, menus, the wire list | `controls` |
//! | drawings, which of them stands in front, handles | `drawing`, `view_tabs`, `grip` |
//! | what a hand changes now, what the plan was before | `hand` |
//! | headline figures, workings, all figures | `strip`, `working`, `figures` |
//! | what a change did, findings, notices, spoken line, glossary | `told`, `findings`, `notice`, `speech`, `terms`, `glossary` |
//! | the year and its play button | `year` |
//! | chapters: what is drawn and what leads, the bar of them | `chapter`, `chapter_bar` |
//! | what survives a reload, what can be opened, what a planner begins with | `saved`, `start` |
//! | what an embedding page may call | `public` |
//! | the printed sheet set | `print` |
//! | what comes in files of its own, chapter by chapter; when it is fetched | `rooms`, `fetching` |

#![cfg_attr(test, allow(clippy::disallowed_methods, reason = "tests run on the host"))]
#![cfg_attr(
    not(test),
    deny(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic,
        clippy::indexing_slicing,
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::float_cmp
    )
)]

mod browser;
mod chapter;
mod chapter_bar;
mod controls;
mod desk;
mod dial;
mod drawing;
mod fetching;
mod figures;
mod findings;
mod glossary;
mod grip;
mod hand;
mod history;
mod notice;
mod outcomes;
mod page;
mod piece;
mod print;
pub mod public;
mod reactive;
mod rooms;
mod saved;
mod shared;
mod signal;
mod speech;
mod start;
mod strip;
mod terms;
mod told;
mod toolbar;
mod view_tabs;
mod working;
mod year;

use std::sync::Once;
use std::sync::atomic::{AtomicBool, Ordering};
use web_sys::CustomEvent;

/// The event a broken page tells of itself with, on the window.
const BROKEN: &str = "rowlight-broken";

/// Whether there has been a panic, which leaves half-done work behind.
static IS_BROKEN: AtomicBool = AtomicBool::new(false);

/// Once this is true, no listener does anything any more, so that the plan stays saved as it was before the panic.
fn is_broken() -> bool {
    IS_BROKEN.load(Ordering::Relaxed)
}

/// After a panic the page stands still; whoever loaded it is told, so that it can say so and offer to
/// load again.
fn tell_of_panics() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        std::panic::set_hook(Box::new(|panic| {
            IS_BROKEN.store(true, Ordering::Relaxed);
            web_sys::console::error_1(&panic.to_string().into());
            if let (Some(window), Ok(event)) = (web_sys::window(), CustomEvent::new(BROKEN)) {
                // Nobody is left to tell should this fail too.
                let _ = window.dispatch_event(&event);
            }
        }));
    });
}
