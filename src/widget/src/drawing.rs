//! One view of the plan on screen: its layers, and above them what can be grabbed.
//!
//! The frame is the measured size of the pane in whole pixels, so that a unit of the drawing is a
//! pixel under the hand. Each layer is one text; a layer that reads the same isn't touched.

use crate::desk::{Desk, Shared};
use crate::dial::Spot;
use crate::grip::grip;
use crate::piece::{Piece, classed, svg};
use crate::signal::{Memo, RwSignal, StoredValue};
use drafting::{Frame, Handle, LayerName, Projection, ScaleChoice, Sheet, View};
use drafting::{draw_elevation, draw_plan, draw_section};
use leptos::prelude::*;
use planting::digits::fixed;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{Element, ResizeObserver};

/// The scale and place a drawing is held at while a hand drags in it.
pub(crate) type Hold = Option<(Projection, Option<Projection>)>;

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
    let size = RwSignal::new(None::<(f64, f64)>);
    let watch = StoredValue::new(None::<Watch>);
    let hold = RwSignal::new(None as Hold);

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

    let sheet = Memo::new(move |_| {
        let (width, height) = size.get()?;
        let later = desk.later();
        let painters = later.map(|later| later.painters);
        let frame = Frame::screen(width, height, desk.units.get()).lit(desk.light_shown(), painters);
        let frame = match hold.get() {
            Some((projection, detail)) => frame.with_scale(ScaleChoice::Hold(projection, detail)),
            None => frame,
        };
        let plan = desk.plan.get();
        Some(Shared::new(match view {
            View::Plan => draw_plan(&plan, frame),
            View::Section => draw_section(&plan, frame),
            View::Elevation => draw_elevation(&plan, frame),
            View::Pair => (later?.pair)(&plan, &*desk.beside(&plan)?, frame),
            View::Years => desk.years.with(|years| Some((later?.years)(&plan, years, frame)))?,
        }))
    });
    let view_box = move || {
        let (width, height) = size.get().unwrap_or((1.0, 1.0));
        format!("0 0 {} {}", fixed(width, 2), fixed(height, 2))
    };
    let description =
        move || sheet.with(|sheet| sheet.as_ref().map(|sheet| sheet.description.clone())).unwrap_or_default();
    let spots = Memo::new(move |_| {
        sheet.with(|sheet| {
            let handles = sheet.as_ref().map(|sheet| sheet.handles.as_slice()).unwrap_or_default();
            let reached = |handle: &&Handle| desk.face.with(|face| face.hands.may_move(handle.parameter));
            handles
                .iter()
                .filter(reached)
                .map(|handle| Spot { key: handle.parameter, item: handle.item })
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
        .each(move || spots.get(), move |spot| grip(desk, view, sheet, hold, spot));
    classed("figure", &format!("rl-drawing rl-drawing-{}", view.key()))
        .set("data-view", view.key())
        .with(pane.with(board).with(grips))
}

fn layer(sheet: Memo<Option<Shared<Sheet>>>, place: usize, name: LayerName) -> Piece {
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
