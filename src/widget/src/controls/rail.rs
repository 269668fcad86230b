//! What pointers do on the rail of a slider.
//!
//! A mouse that presses on the thumb takes it; pressing beside it brings the thumb there. A finger that comes down may only want to
//! scroll the page: the thumb moves once the finger has gone sideways, by as much as the finger moves from there.

use super::entry::Draft;
use crate::browser::pointer_at;
use crate::desk::Desk;
use crate::dial::Dial;
use crate::piece::{Piece, classed};
use crate::signal::{Owned, State};
use drafting::Point;
use planting::order::within;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlElement, PointerEvent};

/// How far a finger goes before it is told whether it slides or scrolls `[px]`.
const SLOP: f64 = 8.0;
/// A finger slides where it has gone at least so many times as far sideways as up or down.
const SIDEWAYS: f64 = 2.0;

/// How far below the thumb the numbers of the ticks begin `[px]`.
const TICKS_BELOW: f64 = 4.0;
/// How far beside a number it can be hit `[px]`.
const TICK_REACH: f64 = 22.0;

/// What a finger does.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Stroke {
    /// It hasn't gone far enough to tell.
    Unknown,
    Slides,
    Scrolls,
}

fn stroke(from: Point, to: Point) -> Stroke {
    if from.distance(to) < SLOP {
        Stroke::Unknown
    } else if (to.x - from.x).abs() >= SIDEWAYS * (to.y - from.y).abs() {
        Stroke::Slides
    } else {
        Stroke::Scrolls
    }
}

/// A pointer that is down on the rail.
#[derive(Clone, Copy)]
struct Press {
    pointer: i32,
    /// Where it came down.
    from: Point,
    /// The value then, SI.
    value: f64,
    /// From the pointer to the middle of the thumb `[px]`; none while a finger may still scroll.
    offset: Option<f64>,
}

/// Where the middle of the thumb can be, in the window `[px]`.
#[derive(Clone, Copy)]
struct Track {
    from: f64,
    length: f64,
    thumb: f64,
}

impl Track {
    fn of(rail: &Element, thumb: &Element) -> Track {
        let (rail, thumb) = (rail.get_bounding_client_rect(), thumb.get_bounding_client_rect().width());
        Track { from: rail.left() + thumb / 2.0, length: (rail.width() - thumb).max(1.0), thumb }
    }

    fn place_of(&self, share: f64) -> f64 {
        self.from + share * self.length
    }

    fn share_at(&self, place: f64) -> f64 {
        within((place - self.from) / self.length, 0.0, 1.0)
    }
}

/// A rail and what pointers do on it.
#[derive(Clone)]
struct Rail {
    desk: Desk,
    dial: Dial,
    draft: Draft,
    whole: Element,
    thumb: Element,
    field: Element,
    press: Owned<Option<Press>>,
    busy: State<bool>,
}

impl Rail {
    fn track(&self) -> Track {
        Track::of(&self.whole, &self.thumb)
    }

    /// The value of the tick whose number is at this place, if one is.
    fn tick_at(&self, at: Point) -> Option<f64> {
        let track = self.track();
        let is_below = at.y > self.whole.get_bounding_client_rect().top() + track.thumb + TICKS_BELOW;
        let apart = |tick: &f64| (track.place_of(self.dial.along(*tick)) - at.x).abs();
        let ticks = self.dial.ticks(self.desk.units.get_untracked()).iter().copied();
        let nearest = ticks.reduce(|one, other| if apart(&other) < apart(&one) { other } else { one });
        nearest.filter(|tick| is_below && apart(tick) < TICK_REACH)
    }

    fn set_to(&self, tick: f64) {
        self.desk.hand.look_at(self.dial.item_key.key);
        self.desk.turn(self.dial, tick);
        self.end();
    }

    fn down(&self, event: &PointerEvent) {
        let value = self.dial.value(&self.desk.latest());
        let Some(value) = value.filter(|_| event.button() == 0 && event.is_primary()) else { return };
        self.desk.part();
        let from = pointer_at(event);
        let press = Press { pointer: event.pointer_id(), from, value, offset: None };
        if event.pointer_type() != "mouse" {
            self.press.set_value(Some(press));
            return;
        }
        // Otherwise the press would go on to mark text, and the focus would go to the page.
        event.prevent_default();
        if let Some(field) = self.field.dyn_ref::<HtmlElement>() {
            // Focus can only fail on an element that can't take it.
            let _ = field.focus();
        }
        if let Some(tick) = self.tick_at(from) {
            self.set_to(tick);
            return;
        }
        let (track, place) = (self.track(), self.track().place_of(self.dial.along(value)));
        let is_beside = (from.x - place).abs() > track.thumb / 2.0;
        self.take(press, if is_beside { 0.0 } else { place - from.x });
        if is_beside {
            self.follow(event, 0.0);
        }
    }

    /// From here on the thumb follows the pointer.
    fn take(&self, press: Press, offset: f64) {
        self.press.set_value(Some(Press { offset: Some(offset), ..press }));
        self.busy.set(true);
        self.desk.hand.look_at(self.dial.item_key.key);
        // Without capture the thumb still follows as long as the pointer stays over the rail.
        let _ = self.whole.set_pointer_capture(press.pointer);
    }

    fn follow(&self, event: &PointerEvent, offset: f64) {
        let share = self.track().share_at(pointer_at(event).x + offset);
        let value = self.dial.snap(self.dial.at(share), self.desk.units.get_untracked());
        self.desk.turn(self.dial, value);
    }

    fn pressed_by(&self, event: &PointerEvent) -> Option<Press> {
        self.press.try_get_value().flatten().filter(|press| press.pointer == event.pointer_id())
    }

    fn moved(&self, event: &PointerEvent) {
        let Some(press) = self.pressed_by(event) else { return };
        let at = pointer_at(event);
        match (press.offset, stroke(press.from, at)) {
            (Some(offset), _) => self.follow(event, offset),
            (None, Stroke::Slides) => {
                self.take(press, self.track().place_of(self.dial.along(press.value)) - at.x);
            }
            (None, Stroke::Scrolls) => self.press.set_value(None),
            (None, Stroke::Unknown) => {}
        }
    }

    fn up(&self, event: &PointerEvent) {
        let Some(press) = self.pressed_by(event) else { return };
        self.press.set_value(None);
        match press.offset {
            Some(offset) => {
                // The browser may not have reported the last move. Where the pointer is still where it was pressed, nothing was moved.
                if press.from != pointer_at(event) {
                    self.follow(event, offset);
                }
                self.end();
            }
            None => self.tick_at(press.from).into_iter().for_each(|tick| self.set_to(tick)),
        }
    }

    /// The page scrolls after all: what the finger has set is taken back.
    fn given_up(&self, event: &PointerEvent) {
        let Some(press) = self.pressed_by(event) else { return };
        self.press.set_value(None);
        if press.offset.is_some() {
            self.desk.turn(self.dial, press.value);
            self.end();
        }
    }

    fn end(&self) {
        self.desk.let_go(self.dial);
        self.desk.part();
        self.draft.clear();
        self.busy.set(false);
    }
}

/// A rail with its thumb, and over them the input that holds the value.
pub(super) fn rail(desk: Desk, dial: Dial, draft: Draft, input: Piece) -> Piece {
    let busy = State::new(false);
    let thumb = classed("span", "rl-thumb").set("aria-hidden", "true").is("is-busy", move || busy.get());
    let piece = classed("div", "rl-rail");
    let rail = Rail {
        desk,
        dial,
        draft,
        whole: piece.element(),
        thumb: thumb.element(),
        field: input.element(),
        press: Owned::new(None),
        busy,
    };
    let hears = |act: fn(&Rail, &PointerEvent)| {
        let rail = rail.clone();
        move |event: PointerEvent| act(&rail, &event)
    };
    piece
        .on("pointerdown", hears(Rail::down))
        .on("pointermove", hears(Rail::moved))
        .on("pointerup", hears(Rail::up))
        .on("pointercancel", hears(Rail::given_up))
        .with(thumb)
        .with(input)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_finger_slides_once_it_has_gone_sideways() {
        let from = Point::new(100.0, 100.0);
        for (right, down, is) in [
            (7.0, 0.0, Stroke::Unknown),
            (0.0, 7.0, Stroke::Unknown),
            (8.0, 0.0, Stroke::Slides),
            (-12.0, 6.0, Stroke::Slides),
            (12.0, -6.5, Stroke::Scrolls),
            (0.0, 8.0, Stroke::Scrolls),
            (-9.0, 9.0, Stroke::Scrolls),
        ] {
            assert_eq!(stroke(from, from.moved(right, down)), is, "{right} {down}");
        }
    }

    #[test]
    fn a_place_on_the_track_and_back() {
        let track = Track { from: 20.0, length: 200.0, thumb: 16.0 };
        for (share, place) in [(0.0, 20.0), (0.25, 70.0), (1.0, 220.0)] {
            assert!(
                (track.place_of(share) - place).abs() < 1e-12
                    && (track.share_at(place) - share).abs() < 1e-12
            );
        }
        assert!((track.share_at(-5.0), track.share_at(500.0)) == (0.0, 1.0));
    }
}
