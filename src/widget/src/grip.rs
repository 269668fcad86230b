//! A handle in a drawing: a number that is set by dragging what it measures.
//!
//! `value = start + (pointer − grabbed) · grows × per_unit`, snapped to the number's step. The same
//! number has a slider and a field among the controls; this is the third way, not the only one.
//!
//! A mouse presses and drags at once. A finger that comes down on a knob may only want to scroll the page, so it takes the knob by a
//! tap first; a drag that begins on the knob taken then moves it, and a tap elsewhere lets it go.

use crate::browser::{broad_pointer, milliseconds, pointer_at};
use crate::desk::Desk;
use crate::dial::{Dial, ItemKey, exact};
use crate::piece::{Piece, svg};
use crate::shared::Shared;
use crate::signal::{Derived, Owned, State};
use drafting::sheet::{Handle, ems};
use drafting::{Direction, Held, Point, Sheet, View};
use planting::digits::fixed;
use planting::order::within;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Element, Event, KeyboardEvent, PointerEvent, SvgElement};

/// Lettering of the bubble beside a knob `[px]`.
const LETTERING: f64 = 12.0;
/// Distance from the knob's centre to the bubble `[px]`.
const APART: f64 = 22.0;
/// Radius of the knob at rest, where no style sheet says another `[px]`.
const KNOB: f64 = 4.0;
/// The least a knob can be grabbed within: half of the 24 pixels WCAG 2.2 asks for in success criterion 2.5.8 `[px]`.
const LEAST_RADIUS: f64 = 12.0;
/// How far from its centre a knob can be grabbed where it stands alone: by a mouse, by a finger `[px]`.
const GRAB_RADIUS: [f64; 2] = [14.0, 22.0];

/// A finger that has moved less than this when it is lifted has tapped `[px]`.
const TAP_DISTANCE: f64 = 10.0;
/// A finger that is lifted sooner than this has tapped `[ms]`.
const TAP_TIME: f64 = 500.0;

/// The scale and place a drawing is held at while a hand drags in it, so that the ground doesn't move under the hand.
pub(crate) type Hold = Option<Held>;

/// What was true when the knob was grabbed.
#[derive(Clone, Copy)]
struct Grab {
    pointer: i32,
    at: Point,
    grows: Direction,
    per_unit: f64,
    value: f64,
}

impl Grab {
    fn value_at(&self, pointer: Point) -> f64 {
        let along = self.grows.along(pointer.x - self.at.x, pointer.y - self.at.y);
        self.value + along * self.per_unit
    }
}

/// A finger that came down on a knob which isn't taken.
#[derive(Clone, Copy)]
struct Touch {
    pointer: i32,
    at: Point,
    since: f64,
}

impl Touch {
    fn new(event: &PointerEvent) -> Touch {
        Touch { pointer: event.pointer_id(), at: pointer_at(event), since: milliseconds() }
    }

    /// Whether the finger, lifted now, has tapped.
    fn is_tap(&self, event: &PointerEvent) -> bool {
        self.pointer == event.pointer_id()
            && self.at.distance(pointer_at(event)) < TAP_DISTANCE
            && milliseconds() - self.since < TAP_TIME
    }
}

/// Lets go of the knob taken when somebody taps or clicks where there is none.
pub(crate) fn let_go_elsewhere(desk: Desk, event: &Event) {
    let is_knob = |node: JsValue| {
        node.dyn_ref::<Element>().is_some_and(|element| element.class_list().contains("rl-grip"))
    };
    if desk.hand.taken.with_untracked(Option::is_some) && !event.composed_path().iter().any(is_knob) {
        desk.hand.taken.set(None);
    }
}

/// One handle.
pub(crate) fn grip(
    desk: Desk,
    view: View,
    sheet: Derived<Option<Shared<Sheet>>>,
    hold: State<Hold>,
    item_key: ItemKey,
) -> Vec<Piece> {
    let Some(dial) = Dial::of(item_key) else { return Vec::new() };
    let handle = Derived::new(move |_| {
        sheet.with(|sheet| sheet.as_ref().and_then(|sheet| find(sheet, item_key).cloned()))
    });
    let radius = move || {
        sheet.with(|sheet| sheet.as_ref().map(|sheet| grab_radius(sheet, item_key))).unwrap_or_default()
    };
    let grab = Owned::new(None::<Grab>);
    let busy = State::new(false);
    let touch = Owned::new(None::<Touch>);
    let is_taken = move || desk.hand.taken.with(|taken| *taken == Some((view, item_key)));
    let is_taken_now = move || desk.hand.taken.with_untracked(|taken| *taken == Some((view, item_key)));

    let press = move |event: PointerEvent| {
        if event.pointer_type() != "mouse" && !is_taken_now() {
            touch.set_value(event.is_primary().then(|| Touch::new(&event)));
            return;
        }
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
            at: pointer_at(&event),
            grows: handle.grows,
            per_unit: handle.per_unit,
            value: handle.value,
        }));
        hold.set(Some(sheet.held()));
        busy.set(true);
    };
    let drag = move |event: PointerEvent| {
        let Some(grab) = grab.try_get_value().flatten().filter(|grab| grab.pointer == event.pointer_id())
        else {
            return;
        };
        desk.turn(dial, dial.snap(grab.value_at(pointer_at(&event)), desk.units.get_untracked()));
    };
    let release = move || {
        if grab.try_update_value(Option::take).flatten().is_some() {
            desk.let_go(dial);
            desk.part();
            hold.set(None);
            busy.set(false);
        }
    };
    // The browser may not have reported the last move, so the place where the pointer is let go counts too. Where it is still
    // where it was pressed, there was no drag, and nothing changes.
    let let_go = move |event: PointerEvent| {
        if touch.try_update_value(Option::take).flatten().is_some_and(|touch| touch.is_tap(&event)) {
            desk.hand.taken.set(Some((view, item_key)));
        }
        if grab.try_get_value().flatten().is_some_and(|grab| grab.at != pointer_at(&event)) {
            drag(event);
        }
        release();
    };
    let turn = move |event: KeyboardEvent| {
        let units = desk.units.get_untracked();
        let Some(now) = dial.value(&desk.latest()) else { return };
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
                desk.hand.taken.set(None);
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
        let grows =
            handle.with(|handle| handle.as_ref().map(|handle| handle.grows)).unwrap_or(Direction::RIGHT);
        format!("rotate({})", fixed(grows.down.atan2(grows.right).to_degrees(), 1))
    };
    let in_unit = move |value: f64| exact(dial.to_slider(value, desk.units.get()));
    let value = move || handle.with(|handle| handle.as_ref().map(|handle| handle.value));
    let marks = svg("path")
        .set("class", "rl-grip-arrows")
        .set("pointer-events", "none")
        .set("d", "M-12 -4 -16 0 -12 4 M12 -4 16 0 12 4");
    let knob = svg("g")
        .set("class", "rl-grip")
        .is("is-busy", move || busy.get())
        .is("is-taken", is_taken)
        .set("role", "slider")
        .set("tabindex", "0")
        .set("data-handle", item_key.key)
        .may("data-item", item_key.item.map(|item| item.to_string()))
        .set("data-handle-view", view.key())
        .may_say("aria-label", move || {
            handle.with(|handle| handle.as_ref().map(|handle| handle.label.clone()))
        })
        .says("aria-valuemin", move || in_unit(dial.min))
        .says("aria-valuemax", move || in_unit(dial.max))
        .may_say("aria-valuenow", move || value().map(in_unit))
        .may_say("aria-valuetext", move || value().map(|value| dial.shown(value, desk.units.get())))
        .says("transform", move || {
            let Point { x, y } = place();
            format!("translate({} {})", fixed(x, 2), fixed(y, 2))
        })
        // Not every browser heeds `touch-action` within a drawing; the finger would scroll the page and the drag be lost.
        .on("touchstart", move |event: Event| {
            if is_taken_now() && event.cancelable() {
                event.prevent_default();
            }
        })
        .on("pointerdown", press)
        .on("pointermove", drag)
        .on("pointerup", let_go)
        .on("pointercancel", move |_: Event| {
            touch.set_value(None);
            release();
        })
        .on("lostpointercapture", move |_: Event| release())
        .on("keydown", turn)
        .on("keyup", move |_: Event| desk.let_go(dial))
        .with(
            svg("circle")
                .set("class", "rl-grip-reach")
                .styled("r", move || Some(format!("{}px", fixed(radius(), 1)))),
        )
        .with(svg("g").says("transform", turned).with(marks))
        .with(svg("circle").set("class", "rl-grip-knob").set("r", &fixed(KNOB, 0)))
        .with(bubble(desk, dial, sheet, handle));
    vec![knob]
}

fn find(sheet: &Sheet, item_key: ItemKey) -> Option<&Handle> {
    sheet.handles.iter().find(|handle| handle.parameter == item_key.key && handle.item == item_key.item)
}

/// How far from its centre a knob can be grabbed: to the middle between it and the next, so that none lies over another `[px]`.
fn grab_radius(sheet: &Sheet, item_key: ItemKey) -> f64 {
    let own = find(sheet, item_key).map(|own| own.at).unwrap_or_default();
    let others =
        sheet.handles.iter().filter(|other| other.parameter != item_key.key || other.item != item_key.item);
    let nearest = others.map(|other| own.distance(other.at)).fold(f64::INFINITY, f64::min);
    let [mouse, finger] = GRAB_RADIUS;
    within(nearest / 2.0, LEAST_RADIUS, if broad_pointer() { finger } else { mouse })
}

/// The value beside the knob, on whichever side the sheet has room.
fn bubble(
    desk: Desk,
    dial: Dial,
    sheet: Derived<Option<Shared<Sheet>>>,
    handle: Derived<Option<Handle>>,
) -> Piece {
    let text = Derived::new(move |_| {
        handle
            .with(|handle| {
                handle
                    .as_ref()
                    .map(|handle| format!("{} {}", handle.label, dial.shown(handle.value, desk.units.get())))
            })
            .unwrap_or_default()
    });
    let plate_box = Derived::new(move |_| {
        let width = text.with(|text| ems(text)) * LETTERING + 14.0;
        let height = LETTERING + 12.0;
        let Point { x, y } =
            handle.with(|handle| handle.as_ref().map(|handle| handle.at)).unwrap_or_default();
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
        .says("width", move || fixed(plate_box.get().2, 2))
        .says("height", move || fixed(plate_box.get().3, 2));
    let words = svg("text")
        .says("x", move || fixed(plate_box.get().2 / 2.0, 2))
        .says("y", move || fixed(plate_box.get().3 / 2.0, 2))
        .set("dy", "0.35em")
        .set("text-anchor", "middle")
        .set("font-size", &fixed(LETTERING, 0))
        .reads(move || text.get());
    svg("g")
        .set("class", "rl-bubble")
        .set("aria-hidden", "true")
        .says("transform", move || {
            let (left, top, ..) = plate_box.get();
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
        let at = Point::new(100.0, 100.0);
        let grab = Grab { pointer: 1, at, grows: Direction::UP, per_unit: 0.01, value: 2.0 };
        for ((x, y), value) in
            [((100.0, 100.0), 2.0), ((180.0, 100.0), 2.0), ((100.0, 50.0), 2.5), ((90.0, 200.0), 1.0)]
        {
            assert!((grab.value_at(Point::new(x, y)) - value).abs() < 1e-12);
        }
    }
}
