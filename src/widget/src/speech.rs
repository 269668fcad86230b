//! The headline figures spoken once the plan stands still, for readers who can't see them change.

use crate::chapter::Chapter;
use crate::desk::Desk;
use crate::piece::{Piece, classed};
use crate::signal::{RwSignal, StoredValue, watch};
use drafting::{Units, wording};
use leptos::leptos_dom::helpers::{TimeoutHandle, set_timeout_with_handle};
use leptos::prelude::*;
use std::time::Duration;

const STILL: Duration = Duration::from_millis(1000);
/// What is spoken in each chapter, after the trees on the reader's unit of land.
const SPOKEN: [[&str; 3]; 2] = [
    ["trees_in_block", "canopy_fill", "years_to_fill"],
    ["light_intercepted", "crown_under_flowering_light", "light_lowest_third"],
];

/// The spoken line.
pub(crate) fn speech(desk: Desk) -> Piece {
    let line = RwSignal::new(String::new());
    let waiting = StoredValue::new(None::<TimeoutHandle>);
    let stop = move || {
        if let Some(waiting) = waiting.try_update_value(Option::take).flatten() {
            waiting.clear();
        }
    };
    watch(
        move || {
            desk.plan.track();
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
    let chapter = desk.chapter.get_untracked() == Chapter::Light;
    desk.plan.with_untracked(|plan| {
        let [first, second, third] = SPOKEN[usize::from(chapter)];
        let keys = [trees, first, second, third];
        let figures = keys.iter().filter_map(|key| plan.figure(key));
        let mut parts: Vec<String> =
            figures.map(|figure| format!("{} {}", figure.label, wording::value(figure, units))).collect();
        parts.push(match plan.advice.len() {
            0 => "nothing to fix".to_owned(),
            1 => "1 finding".to_owned(),
            count => format!("{count} findings"),
        });
        parts.join("; ")
    })
}
