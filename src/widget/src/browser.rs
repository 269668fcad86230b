//! The few things asked of the browser outside a view.

use wasm_bindgen::JsCast;
use web_sys::{
    Element, HtmlDetailsElement, HtmlElement, ScrollBehavior, ScrollIntoViewOptions, ScrollLogicalPosition,
};

/// Whether the reader has asked for less motion.
pub(crate) fn less_motion() -> bool {
    asked("(prefers-reduced-motion: reduce)")
}

/// Whether the reader points with something as broad as a finger.
pub(crate) fn broad_pointer() -> bool {
    asked("(pointer: coarse)")
}

fn asked(query: &str) -> bool {
    web_sys::window()
        .and_then(|window| window.match_media(query).ok().flatten())
        .is_some_and(|query| query.matches())
}

/// Milliseconds on a clock that never steps back.
pub(crate) fn milliseconds() -> f64 {
    web_sys::window().and_then(|window| window.performance()).map_or(0.0, |performance| performance.now())
}

/// Brings a field into view and puts the focus on it, opening whatever is folded over it. Tells
/// whether there is such a field.
pub(crate) fn show_field(host: &HtmlElement, key: &str) -> bool {
    let Ok(Some(field)) = host.query_selector(&format!("[data-key=\"{key}\"][data-role=\"field\"]")) else {
        return false;
    };
    let mut above = Some(field.clone());
    while let Some(element) = above {
        if let Some(details) = element.dyn_ref::<HtmlDetailsElement>() {
            details.set_open(true);
        }
        above = element.parent_element();
    }
    bring(&field, ScrollLogicalPosition::Center);
    if let Some(field) = field.dyn_ref::<HtmlElement>() {
        // Focus can only fail on an element that can't take it; then the scrolling is what helps.
        let _ = field.focus();
    }
    true
}

/// Scrolls an element to the middle of what is seen, or to its top.
pub(crate) fn bring(element: &Element, place: ScrollLogicalPosition) {
    let options = ScrollIntoViewOptions::new();
    options.set_block(place);
    options.set_behavior(if less_motion() { ScrollBehavior::Instant } else { ScrollBehavior::Smooth });
    element.scroll_into_view_with_scroll_into_view_options(&options);
}
