//! What this room asks to be ordered, beside what the ground counts.

use super::figures::FIGURES;
use super::memory::Loads;
use super::workings::working_of;
use crate::kit::choice::Choice;
use crate::kit::figure::find;
use crate::kit::message::Message;
use crate::kit::ordering::OrderLine;

/// The figures that are ordered, in the order of the list. Line and end posts, anchors, tensioners and stakes are figures of the
/// ground; wire, coils, guys and brace posts stand here too, with the wastage and the spans that are set.
pub const ORDERED: [&str; 9] = [
    "order_brace_posts",
    "order_wire",
    "order_guy",
    "order_coils",
    "order_staples",
    "order_staple_pounds",
    "order_sleeves",
    "order_clips",
    "order_ties",
];

/// Every order line of this room that the plan has.
pub fn orders(loads: &Loads) -> Vec<OrderLine> {
    let there = ORDERED.iter().filter_map(|key| find(FIGURES, key, loads));
    there.map(|figure| OrderLine { figure: figure.key, which: which(figure.key, loads) }).collect()
}

fn which(key: &str, loads: &Loads) -> Message {
    let inputs = &loads.asked.inputs;
    match key {
        "order_wire" | "order_guy" | "order_coils" => {
            Message::new("{0}, {1}", [inputs.wire_gauge.label().into(), inputs.wire_grade.label().into()])
        }
        _ => Message::plain(working_of(key, loads).map_or("", |working| working.formula)),
    }
}
