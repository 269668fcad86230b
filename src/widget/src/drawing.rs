//! One view of the plan on screen: its layers, and above them what can be grabbed.
//!
//! The frame is the measured size of the pane in whole pixels, so that a unit of the drawing is a
//! pixel under the hand. Each layer is one text; a layer that reads the same isn't touched.

use crate::desk::Desk;
use crate::dial::ItemKey;
use crate::grip::{Hold, grip};
use crate::piece::{Piece, classed, svg};
use crate::reactive::*;
use crate::rooms::{self, Basis};
use crate::shared::Shared;
use crate::signal::{Derived, Owned, State};
use crate::view_tabs::front;
use drafting::{Frame, Handle, LayerName, Lit, Plain, ScaleChoice, Sheet, View};
use drafting::{draw_elevation, draw_plan, draw_section, trace};
use planting::digits::fixed;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{Element, ResizeObserver};

/// Watches the size of an element until it is dropped.
struct Watch {
    observer: ResizeObserver,
    _seen: Closure<dyn FnMut()>,
}

impl Drop for Watch {
    fn drop(&mut self) {
        self.observer.disconnect();
    }
}

/// Whether tabs over the drawing name it, because there is room for one drawing only.
fn is_named_beside(pane: &Element) -> bool {
    let tabs = pane
        .closest(".rl-pinned")
        .ok()
        .flatten()
        .and_then(|pinned| pinned.query_selector(".rl-views").ok().flatten());
    tabs.is_some_and(|tabs| tabs.get_bounding_client_rect().height() > 0.0)
}

/// The size of a pane in whole pixels, once it is known and while it has any.
fn size_of(element: &Element) -> Option<(f64, f64, bool)> {
    let room = element.get_bounding_client_rect();
    let (width, height) = (room.width().floor(), room.height().floor());
    (width >= 40.0 && height >= 40.0).then(|| (width, height, is_named_beside(element)))
}

/// One drawing.
pub(crate) fn drawing(desk: Desk, view: View) -> Piece {
    let pane = classed("div", "rl-pane");
    let measured = pane.element();
    // The size of the pane, and whether the drawing is named beside it.
    let size = State::new(None::<(f64, f64, bool)>);
    let watch = Owned::new(None::<Watch>);
    let hold = State::new(None as Hold);

    Effect::new(move || {
        let measure = {
            let pane = measured.clone();
            move || {
                let now = size_of(&pane);
                // A drawing that isn't shown has no size, and isn't drawn.
                if size.try_get_untracked().is_some_and(|before| before != now) {
                    size.set(now);
                }
            }
        };
        measure();
        let seen = Closure::<dyn FnMut()>::new(measure);
        if let Ok(observer) = ResizeObserver::new(seen.as_ref().unchecked_ref()) {
            observer.observe(&measured);
            watch.set_value(Some(Watch { observer, _seen: seen }));
        }
    });

    let sheet = Derived::new(move |_| {
        let (width, height, is_named) = size.get()?;
        let frame = Frame::screen(width, height, desk.units.get());
        let frame = if is_named { frame.untitled() } else { frame };
        let frame = match hold.get() {
            Some(held) => frame.with_scale(ScaleChoice::Hold(held)),
            None => frame,
        };
        let frame =
            frame.with_lit(desk.hand.on.get().map(|ItemKey { key, item }| Lit { parameter: key, item }));
        let ground = desk.drawn.get();
        // Before a chapter's room has come, its drawings are plain; its outcome, asked for first, tells when it has.
        let room = desk.room().and_then(|results| {
            let put = results.live.get()?;
            Some((rooms::chapter_room(results.key)?, results, put))
        });
        let over = match &room {
            Some((room, _, put)) => (room.over)(&*put.outcome, desk.light_shown()),
            None => Box::new(Plain),
        };
        Some(Shared::new(match view {
            View::Plan => draw_plan(&ground, frame, &*over),
            View::Section => draw_section(&ground, frame, &*over),
            View::Elevation => draw_elevation(&ground, frame, &*over),
            _ => {
                let (room, results, put) = room.as_ref()?;
                let is_still = results.is_at_rest(&ground);
                let basis = Basis { ground: &ground, outcome: &*put.outcome, is_still };
                results.with_memory(room, |memory| (room.view)(view, basis, memory, frame)).flatten()?
            }
        }))
    });
    let view_box = move || {
        let (width, height, _) = size.get().unwrap_or((1.0, 1.0, false));
        format!("0 0 {} {}", fixed(width, 2), fixed(height, 2))
    };
    let description =
        move || sheet.with(|sheet| sheet.as_ref().map(|sheet| sheet.description.clone())).unwrap_or_default();
    let item_keys = Derived::new(move |_| {
        sheet.with(|sheet| {
            let handles = sheet.as_ref().map(|sheet| sheet.handles.as_slice()).unwrap_or_default();
            let may_move = |handle: &&Handle| desk.face.with(|face| face.hands.may_move(handle.parameter));
            handles
                .iter()
                .filter(may_move)
                .map(|handle| ItemKey { key: handle.parameter, item: handle.item })
                .collect::<Vec<_>>()
        })
    });
    let trace = Derived::new(move |_| {
        let before = desk.hand.before.get().filter(|_| desk.hand.is_traced.get());
        let markup = sheet.with(|sheet| Some(trace(sheet.as_ref()?, before.as_ref()?, desk.units.get())));
        markup.unwrap_or_default()
    });
    let layers = LayerName::ALL.iter().enumerate().map(|(place, name)| layer(sheet, place, *name));
    let board = svg("svg")
        .set("class", "rl-board")
        .set("role", "img")
        .says("aria-label", description)
        .says("viewBox", view_box)
        .with_all(layers.collect());
    let traced = svg("svg")
        .set("class", "rl-trace")
        .set("aria-hidden", "true")
        .says("viewBox", view_box)
        .marked_up(move || trace.get());
    let grips = svg("svg")
        .set("class", "rl-grips")
        .is("is-held", move || hold.with(Option::is_some))
        .set("role", "group")
        .set("aria-label", &format!("{}: handles", view.title()))
        .says("viewBox", view_box)
        .each(move || item_keys.get(), move |item_key| grip(desk, view, sheet, hold, item_key));
    classed("figure", &format!("rl-drawing rl-drawing-{}", view.key()))
        .set("data-view", view.key())
        .is("is-preview", move || desk.preview.with(Option::is_some))
        .is("is-front", move || front(desk) == view)
        .with(pane.with(board).with(traced).with(grips))
}

fn layer(sheet: Derived<Option<Shared<Sheet>>>, place: usize, name: LayerName) -> Piece {
    let markup = move || {
        sheet
            .with(|sheet| {
                let sheet = sheet.as_ref()?;
                sheet.layers.get(place).map(|marks| drafting::svg::markup(marks, sheet.weights))
            })
            .unwrap_or_default()
    };
    svg("g").set("class", &format!("layer-{}", name.key())).marked_up(markup)
}
