//! The headline figures spoken once the plan stands still, for readers who can't see them change.

use crate::desk::Desk;
use crate::piece::{Piece, classed};
use crate::reactive::*;
use crate::signal::{Owned, State, when_changed};
use drafting::{Units, wording};
use std::time::Duration;

const STILL: Duration = Duration::from_millis(1000);

/// The spoken line.
pub(crate) fn speech(desk: Desk) -> Piece {
    let line = State::new(String::new());
    let waiting = Owned::new(None::<TimeoutHandle>);
    let stop = move || {
        if let Some(waiting) = waiting.try_update_value(Option::take).flatten() {
            waiting.clear();
        }
    };
    when_changed(
        move || {
            desk.ground.track();
            desk.units.track();
            desk.chapter.track();
        },
        move || {
            stop();
            waiting.set_value(set_timeout_with_handle(move || line.set(spoken(desk)), STILL).ok());
        },
    );
    on_cleanup(stop);
    classed("p", "rl-hidden").set("role", "status").reads(move || line.get())
}

fn spoken(desk: Desk) -> String {
    let units = desk.units.get_untracked();
    let trees = if units == Units::Us { "trees_per_acre" } else { "trees_per_hectare" };
    let spoken = desk.chapter.get_untracked().spoken();
    let figures =
        [trees].into_iter().chain(spoken.iter().copied()).filter_map(|key| untrack(|| desk.figure(key)));
    let mut parts: Vec<String> =
        figures.map(|figure| format!("{} {}", figure.label, wording::value(&figure, units))).collect();
    parts.push(match desk.findings.with_untracked(Vec::len) {
        0 => "nothing to fix".to_owned(),
        1 => "1 finding".to_owned(),
        count => format!("{count} findings"),
    });
    parts.join("; ")
}
