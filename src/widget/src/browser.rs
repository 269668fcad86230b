//! The few things asked of the browser outside a view.

use crate::reactive::request_animation_frame;
use drafting::Point;
use js_sys::Reflect;
use planting::parameter;
use std::cell::Cell;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{
    Element, Event, HtmlDetailsElement, HtmlElement, MediaQueryList, PointerEvent, ScrollBehavior,
    ScrollIntoViewOptions, ScrollLogicalPosition,
};

/// Whether the reader has asked for less motion.
pub(crate) fn less_motion() -> bool {
    asked("(prefers-reduced-motion: reduce)")
}

thread_local! {
    /// Whether the pointer is broad; none before somebody has asked.
    static BROAD: Cell<Option<bool>> = const { Cell::new(None) };
}

/// Whether the reader points with something as broad as a finger. This is wanted at every step of a slider, so the browser is asked
/// only once and tells of changes afterwards.
pub(crate) fn broad_pointer() -> bool {
    BROAD.get().unwrap_or_else(|| {
        let query = query("(pointer: coarse)");
        let now = query.as_ref().is_some_and(MediaQueryList::matches);
        BROAD.set(Some(now));
        if let Some(query) = query {
            let asked = query.clone();
            let turned = Closure::<dyn FnMut(Event)>::new(move |_| BROAD.set(Some(asked.matches())));
            // Without the listener the answer stays as it is.
            let _ = query.add_event_listener_with_callback("change", turned.as_ref().unchecked_ref());
            turned.forget();
        }
        now
    })
}

fn query(query: &str) -> Option<MediaQueryList> {
    web_sys::window()?.match_media(query).ok().flatten()
}

fn asked(words: &str) -> bool {
    query(words).is_some_and(|query| query.matches())
}

/// Milliseconds on a clock that never steps back.
pub(crate) fn milliseconds() -> f64 {
    web_sys::window().and_then(|window| window.performance()).map_or(0.0, |performance| performance.now())
}

/// Frames within which the rows of a group stand that has just been opened.
const FRAMES: u8 = 30;

/// Brings the field of an input into view and puts the focus on it, opening whatever is folded over it.
pub(crate) fn show_field(host: HtmlElement, key: &str) {
    // The rows of a folded group are made a moment after it is opened.
    if let Some(parameter) = parameter(key)
        && let Ok(Some(group)) = host.query_selector(&format!("[data-group=\"{}\"]", parameter.group.key))
        && let Some(group) = group.dyn_ref::<HtmlDetailsElement>()
    {
        group.set_open(true);
    }
    look_for(host, format!("[data-key=\"{key}\"][data-role=\"field\"]"), FRAMES);
}

/// Looks for a field at this frame and, where it doesn't stand yet, at the next ones.
fn look_for(host: HtmlElement, field: String, frames: u8) {
    if let Ok(Some(field)) = host.query_selector(&field) {
        unfold_to(&field);
    } else if let Some(left) = frames.checked_sub(1) {
        request_animation_frame(move || look_for(host, field, left));
    }
}

fn unfold_to(field: &Element) {
    let mut above = Some(field.clone());
    while let Some(element) = above {
        if let Some(details) = element.dyn_ref::<HtmlDetailsElement>() {
            details.set_open(true);
        }
        above = element.parent_element();
    }
    bring(field, ScrollLogicalPosition::Center);
    if let Some(field) = field.dyn_ref::<HtmlElement>() {
        // Focus can only fail on an element that can't take it; then the scrolling is what helps.
        let _ = field.focus();
    }
}

/// Puts the focus on the first element of these in a planner, where there is one.
pub(crate) fn focus(host: &HtmlElement, selector: &str) {
    if let Ok(Some(element)) = host.query_selector(selector)
        && let Some(element) = element.dyn_ref::<HtmlElement>()
    {
        // Focus can only fail on an element that can't take it.
        let _ = element.focus();
    }
}

/// Scrolls an element to the middle of what is seen, or to its top.
pub(crate) fn bring(element: &Element, place: ScrollLogicalPosition) {
    let options = ScrollIntoViewOptions::new();
    options.set_block(place);
    options.set_behavior(if less_motion() { ScrollBehavior::Instant } else { ScrollBehavior::Smooth });
    element.scroll_into_view_with_scroll_into_view_options(&options);
}

/// Where a pointer is, in fractions of a pixel. web-sys cuts the fractions off, so they are read by name: where a step is less than a
/// pixel, a fraction lost is a step lost.
pub(crate) fn pointer_at(event: &PointerEvent) -> Point {
    let along = |name: &str| Reflect::get(event, &name.into()).ok().and_then(|place| place.as_f64());
    Point::new(along("clientX").unwrap_or_default(), along("clientY").unwrap_or_default())
}
