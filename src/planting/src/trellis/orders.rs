//! What the trellis asks to be ordered.

use super::workings::working_of;
use super::{Trellis, figures};
use crate::kit::figure::find;
use crate::kit::message::{Message, Slot};
use crate::kit::ordering::OrderLine;
use crate::kit::quantity::Quantity;

/// The figures that are ordered, in the order of the list.
pub const ORDERED: [&str; 10] = [
    "line_posts",
    "end_posts",
    "brace_posts",
    "brace_rails",
    "anchors",
    "guy_wire",
    "wire_ordered",
    "wire_coils",
    "tensioners",
    "stakes",
];

/// Every order line of the trellis that the plan has.
pub fn orders(trellis: &Trellis) -> Vec<OrderLine> {
    let there = ORDERED.iter().filter_map(|key| find(figures::FIGURES, key, trellis));
    there.map(|figure| OrderLine { figure: figure.key, which: which(figure.key, trellis) }).collect()
}

fn which(key: &str, trellis: &Trellis) -> Message {
    let inputs = &trellis.asked.inputs;
    let thick = |diameter: uom::si::f64::Length| Slot::Number(diameter.value, Quantity::SmallLength);
    match key {
        "line_posts" => Message::new(
            "{0} long, {1} thick at the ground",
            [inputs.post_length.into(), thick(inputs.line_post_diameter)],
        ),
        "end_posts" => Message::new(
            "{0} long or more, {1} thick at the ground",
            [Slot::Order(trellis.end_post_length.value, Quantity::Length), thick(inputs.end_post_diameter)],
        ),
        _ => Message::plain(working_of(key, trellis).map_or("", |working| working.formula)),
    }
}
