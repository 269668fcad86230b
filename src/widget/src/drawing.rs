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
use drafting::{Frame, Handle, LayerName, Plain, ScaleChoice, Sheet, View};
use drafting::{draw_elevation, draw_plan, draw_section};
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

/// The size of a pane in whole pixels, once it is known and while it has any.
fn size_of(element: &Element) -> Option<(f64, f64)> {
    let room = element.get_bounding_client_rect();
    let (width, height) = (room.width().floor(), room.height().floor());
    (width >= 40.0 && height >= 40.0).then_some((width, height))
}

/// One drawing.
pub(crate) fn drawing(desk: Desk, view: View) -> Piece {
    let pane = classed("div", "rl-pane");
    let measured = pane.element();
    let size = State::new(None::<(f64, f64)>);
    let watch = Owned::new(None::<Watch>);
    let hold = State::new(None as Hold);

    Effect::new(move || {
        let measure = {
            let pane = measured.clone();
            move || {
                let now = size_of(&pane);
                if now.is_some() && size.try_get_untracked().is_some_and(|before| before != now) {
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
        let (width, height) = size.get()?;
        let frame = Frame::screen(width, height, desk.units.get());
        let frame = match hold.get() {
            Some(held) => frame.with_scale(ScaleChoice::Hold(held)),
            None => frame,
        };
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
        let (width, height) = size.get().unwrap_or((1.0, 1.0));
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
    let layers = LayerName::ALL.iter().enumerate().map(|(place, name)| layer(sheet, place, *name));
    let board = svg("svg")
        .set("class", "rl-board")
        .set("role", "img")
        .says("aria-label", description)
        .says("viewBox", view_box)
        .with_all(layers.collect());
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
        .with(pane.with(board).with(grips))
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
