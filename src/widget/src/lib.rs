//! The page: a quiet drawing board in the browser. The only crate that knows the browser.
//!
//! One way through: an edit changes the scenario, the scenario makes the plan, drawings and figures
//! read the plan. Nothing on the trade is worked out here, and no drawing is laid out here.
//!
//! | a question about | is answered in |
//! |---|---|
//! | state, edits, frames, the last good plan | `desk`, `history`, `dial` |
//! | where things stand on the page | `page`, and the style sheet `www/rowlight.css` |
//! | elements that keep themselves up to date, what they follow | `piece`, `signal` |
//! | sliders, fields, menus, the wire list | `controls` |
//! | drawings, handles | `drawing`, `grip` |
//! | headline figures, workings, all figures | `strip`, `working`, `figures` |
//! | findings, notices, spoken line, glossary | `findings`, `notice`, `speech`, `terms`, `glossary` |
//! | the year and its play button | `year` |
//! | chapters: what is drawn and what leads | `chapter` |
//! | what survives a reload | `saved` |
//! | the printed sheet set | `print` |

mod browser;
mod chapter;
mod controls;
mod desk;
mod dial;
mod drawing;
mod figures;
mod findings;
mod glossary;
mod grip;
mod history;
mod notice;
mod page;
mod piece;
mod print;
mod saved;
mod signal;
mod speech;
mod strip;
mod terms;
mod toolbar;
mod working;
mod year;

use desk::Desk;
use planting::{Scenario, plan};
use std::any::Any;
use std::sync::Once;
use wasm_bindgen::JsError;
use wasm_bindgen::prelude::wasm_bindgen;
use web_sys::{CustomEvent, HtmlElement};

/// The event a broken page tells of itself with, on the window.
const BROKEN: &str = "rowlight-broken";

/// A mounted page. Freeing it takes the page away and lets go of all it held.
#[wasm_bindgen]
pub struct Handle {
    _mounted: Box<dyn Any>,
}

/// Mounts the page into an element and takes the still picture (`[data-picture]`) in it away.
///
/// # Errors
/// Where the starting plan itself can't be computed; the still picture then stays.
#[wasm_bindgen]
pub fn mount(host: HtmlElement) -> Result<Handle, JsError> {
    tell_of_panics();
    let found = saved::open();
    let start = plan(&found.scenario.unwrap_or_default())
        .or_else(|_| plan(&Scenario::default()))
        .map_err(|_| JsError::new("the starting plan has fields at odds"))?;
    let reader = found.reader;
    let element = host.clone();
    let mounted = piece::stand(&host, move || page::page(Desk::new(element, start, reader), found.fault));
    if let Ok(Some(picture)) = host.query_selector("[data-picture]") {
        picture.remove();
    }
    Ok(Handle { _mounted: Box::new(mounted) })
}

/// After a panic the page stands still; whoever loaded it is told, so that it can say so and offer to
/// load again.
fn tell_of_panics() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        std::panic::set_hook(Box::new(|panic| {
            web_sys::console::error_1(&panic.to_string().into());
            if let (Some(window), Ok(event)) = (web_sys::window(), CustomEvent::new(BROKEN)) {
                // Nobody is left to tell should this fail too.
                let _ = window.dispatch_event(&event);
            }
        }));
    });
}
