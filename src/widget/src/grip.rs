//! A handle in a drawing: a number that is set by dragging what it measures.
//!
//! `value = start + (pointer − grabbed) · grows × per_unit`, snapped to the number's step. The same
//! number has a slider and a field among the controls; this is the third way, not the only one.

use crate::browser::broad_pointer;
use crate::desk::{Desk, Shared};
use crate::dial::{Dial, Spot, exact};
use crate::drawing::Hold;
use crate::piece::{Piece, svg};
use crate::signal::{Memo, RwSignal, StoredValue};
use drafting::sheet::{Handle, ems};
use drafting::{Sheet, View};
use js_sys::Reflect;
use planting::digits::fixed;
use planting::order::within;
use wasm_bindgen::JsCast;
use web_sys::{Event, KeyboardEvent, PointerEvent, SvgElement};

/// Lettering of the bubble beside a knob `[px]`.
const LETTERING: f64 = 12.0;
/// From the knob's centre to the bubble `[px]`.
const APART: f64 = 16.0;
/// The knob `[px]`.
const KNOB: f64 = 6.0;
/// How far from its centre a knob can be grabbed where it stands alone: by a mouse, by a finger `[px]`.
const REACH: [f64; 2] = [14.0, 22.0];

/// What was true when the knob was grabbed.
#[derive(Clone, Copy)]
struct Grab {
    pointer: i32,
    at: (f64, f64),
    grows: (f64, f64),
    per_unit: f64,
    value: f64,
}

impl Grab {
    fn value_at(&self, (x, y): (f64, f64)) -> f64 {
        let along = (x - self.at.0) * self.grows.0 + (y - self.at.1) * self.grows.1;
        self.value + along * self.per_unit
    }
}

/// Where a pointer is, in fractions of a pixel, which web-sys cuts off: a pixel lost is a step lost where steps are small.
fn place_of(event: &PointerEvent) -> (f64, f64) {
    let along = |name: &str| Reflect::get(event, &name.into()).ok().and_then(|place| place.as_f64());
    (along("clientX").unwrap_or_default(), along("clientY").unwrap_or_default())
}

/// One handle.
pub(crate) fn grip(
    desk: Desk,
    view: View,
    sheet: Memo<Option<Shared<Sheet>>>,
    hold: RwSignal<Hold>,
    spot: Spot,
) -> Vec<Piece> {
    let Some(dial) = Dial::of(spot) else { return Vec::new() };
    let handle =
        Memo::new(move |_| sheet.with(|sheet| sheet.as_ref().and_then(|sheet| find(sheet, spot).cloned())));
    let room = move || sheet.with(|sheet| sheet.as_ref().map(|sheet| reach(sheet, spot))).unwrap_or_default();
    let grab = StoredValue::new(None::<Grab>);
    let busy = RwSignal::new(false);

    let press = move |event: PointerEvent| {
        let grabbed = handle.get_untracked().zip(sheet.get_untracked());
        let Some((handle, sheet)) = grabbed.filter(|_| event.button() == 0) else { return };
        event.prevent_default();
        if let Some(knob) = event.current_target().and_then(|target| target.dyn_into::<SvgElement>().ok()) {
            // Without capture the drag still works as long as the pointer stays over the knob.
            let _ = knob.set_pointer_capture(event.pointer_id());
            let _ = knob.focus();
        }
        desk.part();
        grab.set_value(Some(Grab {
            pointer: event.pointer_id(),
            at: place_of(&event),
            grows: handle.grows,
            per_unit: handle.per_unit,
            value: handle.value,
        }));
        hold.set(Some((sheet.projection, sheet.detail)));
        busy.set(true);
    };
    let drag = move |event: PointerEvent| {
        let Some(grab) = grab.try_get_value().flatten().filter(|grab| grab.pointer == event.pointer_id())
        else {
            return;
        };
        desk.turn(dial, dial.snap(grab.value_at(place_of(&event)), desk.units.get_untracked()));
    };
    let release = move || {
        if grab.try_update_value(Option::take).flatten().is_some() {
            desk.let_go(dial);
            desk.part();
            hold.set(None);
            busy.set(false);
        }
    };
    // The last move may not have been told: where the pointer is let go counts too, unless it has never left its place.
    let let_go = move |event: PointerEvent| {
        if grab.try_get_value().flatten().is_some_and(|grab| grab.at != place_of(&event)) {
            drag(event);
        }
        release();
    };
    let turn = move |event: KeyboardEvent| {
        let units = desk.units.get_untracked();
        let Some(now) = desk.scenario.with_untracked(|scenario| dial.value(scenario)) else { return };
        let turned = match event.key().as_str() {
            "ArrowRight" | "ArrowUp" => dial.turned(now, 1.0, units),
            "ArrowLeft" | "ArrowDown" => dial.turned(now, -1.0, units),
            "PageUp" => dial.turned(now, 10.0, units),
            "PageDown" => dial.turned(now, -10.0, units),
            "Home" => dial.min,
            "End" => dial.max,
            "Escape" => {
                if let Some(grab) = grab.try_get_value().flatten() {
                    desk.turn(dial, grab.value);
                    release();
                }
                return;
            }
            _ => return,
        };
        event.prevent_default();
        desk.turn(dial, turned);
        desk.flush();
    };
    let place = move || handle.with(|handle| handle.as_ref().map(|handle| handle.at)).unwrap_or_default();
    let turned = move || {
        let (x, y) = handle.with(|handle| handle.as_ref().map(|handle| handle.grows)).unwrap_or((1.0, 0.0));
        format!("rotate({})", fixed(y.atan2(x).to_degrees(), 1))
    };
    let in_unit = move |value: f64| exact(dial.to_slider(value, desk.units.get()));
    let value = move || handle.with(|handle| handle.as_ref().map(|handle| handle.value));
    let marks = svg("path")
        .set("class", "rl-grip-arrows")
        .set("pointer-events", "none")
        .set("d", "M-9 -3.5 -12.5 0 -9 3.5 M9 -3.5 12.5 0 9 3.5");
    let knob = svg("g")
        .set("class", "rl-grip")
        .is("is-busy", move || busy.get())
        .set("role", "slider")
        .set("tabindex", "0")
        .set("data-handle", spot.key)
        .may("data-item", spot.item.map(|item| item.to_string()))
        .set("data-handle-view", view.key())
        .may_say("aria-label", move || {
            handle.with(|handle| handle.as_ref().map(|handle| handle.label.clone()))
        })
        .says("aria-valuemin", move || in_unit(dial.min))
        .says("aria-valuemax", move || in_unit(dial.max))
        .may_say("aria-valuenow", move || value().map(in_unit))
        .may_say("aria-valuetext", move || value().map(|value| dial.shown(value, desk.units.get())))
        .says("transform", move || {
            let (x, y) = place();
            format!("translate({} {})", fixed(x, 2), fixed(y, 2))
        })
        // Not every browser heeds `touch-action` within a drawing; the finger then scrolls the page and the drag is lost.
        .on("touchstart", move |event: Event| {
            if event.cancelable() {
                event.prevent_default();
            }
        })
        .on("pointerdown", press)
        .on("pointermove", drag)
        .on("pointerup", let_go)
        .on("pointercancel", move |_: Event| release())
        .on("lostpointercapture", move |_: Event| release())
        .on("keydown", turn)
        .on("keyup", move |_: Event| desk.let_go(dial))
        .with(
            svg("circle")
                .set("class", "rl-grip-reach")
                .styled("r", move || Some(format!("{}px", fixed(room(), 1)))),
        )
        .with(svg("g").says("transform", turned).with(marks))
        .with(svg("circle").set("class", "rl-grip-knob").set("r", &fixed(KNOB, 0)))
        .with(bubble(desk, dial, sheet, handle));
    vec![knob]
}

fn find(sheet: &Sheet, spot: Spot) -> Option<&Handle> {
    sheet.handles.iter().find(|handle| handle.parameter == spot.key && handle.item == spot.item)
}

/// How far from its centre a knob can be grabbed: to the middle between it and the next, so that none lies over another `[px]`.
fn reach(sheet: &Sheet, spot: Spot) -> f64 {
    let own = find(sheet, spot).map(|own| own.at).unwrap_or_default();
    let others = sheet.handles.iter().filter(|other| other.parameter != spot.key || other.item != spot.item);
    let nearest =
        others.map(|other| (other.at.0 - own.0).hypot(other.at.1 - own.1)).fold(f64::INFINITY, f64::min);
    let [mouse, finger] = REACH;
    within(nearest / 2.0, KNOB, if broad_pointer() { finger } else { mouse })
}

/// The value beside the knob, on whichever side the sheet has room.
fn bubble(desk: Desk, dial: Dial, sheet: Memo<Option<Shared<Sheet>>>, handle: Memo<Option<Handle>>) -> Piece {
    let text = Memo::new(move |_| {
        handle
            .with(|handle| {
                handle
                    .as_ref()
                    .map(|handle| format!("{} {}", handle.label, dial.shown(handle.value, desk.units.get())))
            })
            .unwrap_or_default()
    });
    let room = Memo::new(move |_| {
        let width = text.with(|text| ems(text)) * LETTERING + 14.0;
        let height = LETTERING + 12.0;
        let (x, y) = handle.with(|handle| handle.as_ref().map(|handle| handle.at)).unwrap_or_default();
        let (sheet_width, sheet_height) =
            sheet.with(|sheet| sheet.as_ref().map(|sheet| (sheet.width, sheet.height))).unwrap_or_default();
        let left = if x + APART + width <= sheet_width { APART } else { (-APART - width).max(4.0 - x) };
        let top = within(-height / 2.0, 4.0 - y, (sheet_height - y - height - 4.0).max(4.0 - y));
        // Where neither side has room the bubble lies over the knob's column and must clear it.
        let top = if left < APART && left + width > -APART {
            if y > height + APART { -APART - height } else { APART }
        } else {
            top
        };
        (left, top, width, height)
    });
    let plate = svg("rect")
        .set("rx", "4")
        .says("width", move || fixed(room.get().2, 2))
        .says("height", move || fixed(room.get().3, 2));
    let words = svg("text")
        .says("x", move || fixed(room.get().2 / 2.0, 2))
        .says("y", move || fixed(room.get().3 / 2.0, 2))
        .set("dy", "0.35em")
        .set("text-anchor", "middle")
        .set("font-size", &fixed(LETTERING, 0))
        .reads(move || text.get());
    svg("g")
        .set("class", "rl-bubble")
        .set("aria-hidden", "true")
        .says("transform", move || {
            let (left, top, ..) = room.get();
            format!("translate({} {})", fixed(left, 1), fixed(top, 1))
        })
        .with(plate)
        .with(words)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_drag_counts_only_along_the_handle() {
        let grab = Grab { pointer: 1, at: (100.0, 100.0), grows: (0.0, -1.0), per_unit: 0.01, value: 2.0 };
        for (pointer, value) in
            [((100.0, 100.0), 2.0), ((180.0, 100.0), 2.0), ((100.0, 50.0), 2.5), ((90.0, 200.0), 1.0)]
        {
            assert!((grab.value_at(pointer) - value).abs() < 1e-12);
        }
    }
}
