//! What is unusual about a field's spacing.

use super::Block;
use crate::kit::choice::Choice;
use crate::kit::finding::{Advice, Rule, Severity};
use crate::kit::message::{Message, Slot};
use crate::kit::quantity::{Quantity, SQUARE_METRES_PER_ACRE, feet};
use crate::system::Range;
use uom::si::f64::Length;

/// Every rule about the field.
pub static RULES: &[Rule<Block>] = &[outside_system];

/// How far beyond a usual range still counts as usual, for ranges are printed in round numbers `[–]`.
const ROUNDING: f64 = 0.005;

fn outside_system(block: &Block) -> Option<Advice> {
    let (system, spacing) = (block.asked.system, block.spacing());
    let usual = system.usual();
    let outside =
        |value: f64, (low, high): Range| value < low * (1.0 - ROUNDING) || value > high * (1.0 + ROUNDING);
    let trees_per_acre = spacing.trees_per_square_metre() * SQUARE_METRES_PER_ACRE;
    let on_land = |value: f64| Slot::Number(value / SQUARE_METRES_PER_ACRE, Quantity::PerLand);
    let range = |(low, high): Range| (feet(low), feet(high));
    let note = |finding: Message, remedy: Message, severity: Severity| Advice {
        rule: "outside_system",
        severity,
        title: "Unusual for the training system",
        finding,
        remedy,
        fields: &["in_row_spacing", "row_width", "system"],
        source: usual.source,
    };
    let name = || Slot::from(system.label());
    let (in_row, row) = (range(usual.in_row_ft), range(usual.row_ft));
    let spacing_hint = Message::new(
        "Usual spacings are {0} to {1} in the row and {2} to {3} between rows; or choose the system that matches this spacing.",
        [in_row.0.into(), in_row.1.into(), row.0.into(), row.1.into()],
    );
    if outside(trees_per_acre, usual.trees_per_acre) {
        return Some(note(
            Message::new(
                "{0} is usually planted at {1} to {2}; this plan has {3}.",
                [
                    name(),
                    on_land(usual.trees_per_acre.0),
                    on_land(usual.trees_per_acre.1),
                    on_land(trees_per_acre),
                ],
            ),
            spacing_hint,
            Severity::Caution,
        ));
    }
    let off = |value: Length, (low, high): (Length, Length)| outside(value.value, (low.value, high.value));
    (off(spacing.in_row, in_row) || off(spacing.row_width, row)).then(|| {
        note(
            Message::new(
                "The density is usual for {0}, but {1} in the row by {2} between rows is not.",
                [name(), spacing.in_row.into(), spacing.row_width.into()],
            ),
            spacing_hint,
            Severity::Note,
        )
    })
}
