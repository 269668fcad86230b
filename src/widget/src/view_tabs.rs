//! The tabs over the drawings, where there is room for one of them only.

use crate::desk::Desk;
use crate::piece::{Piece, button, classed};
use drafting::View;
use web_sys::Event;

/// The drawing that stands in front: the one asked for, where the chapter has it, else its first.
pub(crate) fn front(desk: Desk) -> View {
    let asked = desk.hand.front.get();
    let mut views = desk.chapter.get().views();
    let first = views.next().unwrap_or(asked);
    if first == asked || views.any(|view| view == asked) { asked } else { first }
}

/// The tabs.
pub(crate) fn view_tabs(desk: Desk) -> Piece {
    let tabs = move || desk.chapter.get().views().map(|view| tab(desk, view)).collect();
    classed("nav", "rl-views").set("aria-label", "Drawings").shows(tabs)
}

fn tab(desk: Desk, view: View) -> Piece {
    button("rl-view")
        .set("data-action", &format!("view-{}", view.key()))
        .may_say("aria-current", move || (front(desk) == view).then(|| "true".to_owned()))
        .on("click", move |_: Event| desk.hand.front.set(view))
        .text(name(view))
}

/// A plain name; the trade's stands in the drawing.
fn name(view: View) -> &'static str {
    match view {
        View::Section => "Across",
        View::Elevation => "Along",
        View::Plan => "Field",
        other => other.title(),
    }
}
