//! The year under the drawings: a slider through the life of the planting, and a button that plays it.

use crate::browser::{less_motion, milliseconds};
use crate::controls::{Draft, entry, fault_line, slide};
use crate::desk::Desk;
use crate::dial::{Dial, ItemKey};
use crate::piece::{LiveText, Piece, button, classed, html, svg};
use crate::reactive::*;
use crate::signal::{Derived, Owned, State, when_changed};
use planting::digits::fixed;
use std::rc::Rc;
use web_sys::Event;

/// From one year to the next while playing `[ms]`.
const YEAR_MS: f64 = 700.0;
/// How long of that the picture moves; for the rest it stands still to be looked at `[ms]`.
const MOVING_MS: f64 = 450.0;

/// The year bar.
pub(crate) fn year_bar(desk: Desk) -> Piece {
    let Some(dial) = Dial::of(ItemKey::of("year")) else { return html("section") };
    let draft = Draft::new(desk, dial);
    let player = Player::new(desk, dial);
    let label: LiveText = Rc::new(|| "Year shown".to_owned());
    let track = classed("div", "rl-year-track")
        .on("pointerdown", move |_: Event| player.stop())
        .on("keydown", move |_: Event| player.stop())
        .with(slide(desk, dial, label.clone(), Rc::new(|| None), draft))
        .with(
            classed("div", "rl-year-marks")
                .set("aria-hidden", "true")
                .with(mark(desk, dial, "full height", |ground| ground.canopy.year_at_height))
                .with(mark(desk, dial, "row closes", |ground| ground.canopy.year_filled)),
        );
    classed("section", "rl-year")
        .set("aria-label", "Year shown")
        .set("data-control", "year")
        .with(play_button(player))
        .with(classed("label", "rl-year-name").set("for", &desk.id("year")).text("Year"))
        .with(entry(desk, draft, label))
        .with(track)
        .with(fault_line(desk, draft))
}

fn play_button(player: Player) -> Piece {
    let either = move |playing: &str, still: &str| {
        if player.playing.get() { playing.to_owned() } else { still.to_owned() }
    };
    let sign = svg("path")
        .set("fill", "currentColor")
        .says("d", move || either("M5 3h3.5v14H5zM11.5 3H15v14h-3.5z", "M5 2.5 17 10 5 17.5z"));
    let sign = svg("svg")
        .set("viewBox", "0 0 20 20")
        .set("width", "20")
        .set("height", "20")
        .set("aria-hidden", "true")
        .with(sign);
    button("rl-play")
        .set("data-action", "play")
        .says("aria-pressed", move || player.playing.get().to_string())
        .says("aria-label", move || either("Pause the years", "Play the years"))
        .on("click", move |_: Event| player.toggle())
        .with(sign)
}

/// A mark on the track at a year the plan names.
fn mark(desk: Desk, dial: Dial, words: &'static str, year: fn(&planting::Ground) -> Option<f64>) -> Piece {
    let at = Derived::new(move |_| desk.ground.with(|ground| year(ground)).map(|year| dial.along(year)));
    // Right of the middle the words stand to the left of their mark; to its right they would run off the track.
    classed("span", "rl-year-mark")
        .is("is-late", move || at.get().is_some_and(|at| at > 0.6))
        .marked("hidden", move || at.get().is_none())
        .styled("--at", move || at.get().map(|at| fixed(at, 2)))
        .text(words)
}

#[derive(Clone, Copy)]
struct Player {
    desk: Desk,
    dial: Dial,
    playing: State<bool>,
    start: Owned<(f64, f64)>,
    /// The year shown last.
    shown: Owned<f64>,
    frame: Owned<Option<AnimationFrameRequestHandle>>,
}

impl Player {
    fn new(desk: Desk, dial: Dial) -> Player {
        let player = Player {
            desk,
            dial,
            playing: State::new(false),
            start: Owned::new((0.0, 0.0)),
            shown: Owned::new(0.0),
            frame: Owned::new(None),
        };
        // Playing ends when a plan is opened or undone meanwhile, so that it keeps its own year.
        when_changed(
            move || desk.turned.track(),
            move || {
                player.cancel_frame();
                player.playing.set(false);
            },
        );
        on_cleanup(move || player.cancel_frame());
        player
    }

    fn cancel_frame(&self) {
        if let Some(frame) = self.frame.try_update_value(Option::take).flatten() {
            frame.cancel();
        }
    }

    fn toggle(&self) {
        if self.playing.get_untracked() {
            self.stop();
            return;
        }
        let now = self.desk.latest().canopy.year.floor();
        let from = if now >= self.dial.max { self.dial.min } else { now };
        self.playing.set(true);
        self.start.set_value((milliseconds(), from));
        self.show(from);
        self.next();
    }

    /// Stops on a whole year.
    fn stop(&self) {
        if self.playing.try_get_untracked() != Some(true) {
            return;
        }
        self.cancel_frame();
        self.playing.set(false);
        let now = self.desk.latest().canopy.year.round();
        self.desk.turn(self.dial, now);
        self.desk.let_go(self.dial);
    }

    /// Shows a year, and remembers which.
    fn show(&self, year: f64) {
        self.shown.set_value(year);
        self.desk.show_year(year);
    }

    fn next(&self) {
        let player = *self;
        self.frame.set_value(request_animation_frame_with_handle(move || player.step()).ok());
    }

    fn step(&self) {
        if self.playing.try_get_untracked() != Some(true) {
            return;
        }
        let (since, from) = self.start.try_get_value().unwrap_or_default();
        let year = from + played((milliseconds() - since).max(0.0), less_motion());
        // Somebody else, the reader or the page, has set a year meanwhile: playing ends and that year stays.
        let shown = self.shown.try_get_value().unwrap_or_default();
        if self.desk.latest().canopy.year.to_bits() != shown.to_bits() {
            self.playing.set(false);
            return;
        }
        let year = year.min(self.dial.max);
        self.show(year);
        self.desk.flush();
        if year >= self.dial.max { self.stop() } else { self.next() }
    }
}

/// Years gone by after so many milliseconds of play. Each year the picture moves, then stands;
/// for a reader who wants less motion it steps.
fn played(elapsed_ms: f64, steps_only: bool) -> f64 {
    let whole = (elapsed_ms / YEAR_MS).floor();
    if steps_only {
        return whole;
    }
    let share = ((elapsed_ms - whole * YEAR_MS) / MOVING_MS).min(1.0);
    whole + share * share * (3.0 - 2.0 * share)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_year_takes_its_time() {
        for (elapsed, steps_only, years) in [
            (0.0, false, 0.0),
            (MOVING_MS, false, 1.0),
            (YEAR_MS, false, 1.0),
            (YEAR_MS + MOVING_MS / 2.0, false, 1.5),
            (YEAR_MS * 0.9, true, 0.0),
            (YEAR_MS * 3.1, true, 3.0),
        ] {
            assert!((played(elapsed, steps_only) - years).abs() < 1e-12, "{elapsed}");
        }
    }
}
