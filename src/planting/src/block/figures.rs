//! The figures of the field.

use super::Block;
use crate::kit::count::as_number;
use crate::kit::figure::{Certainty, LAYOUT, Line, Reading};
use crate::kit::quantity::Quantity;

const fn line(
    key: &'static str,
    label: &'static str,
    quantity: Quantity,
    read: fn(&Block) -> Reading,
) -> Line<Block> {
    Line { key, label, quantity, subject: LAYOUT, certainty: Certainty::Standard, read }
}

fn density(block: &Block) -> f64 {
    block.spacing().trees_per_square_metre()
}

fn trees(block: &Block) -> f64 {
    as_number(block.tree_count())
}

/// Every figure of the field, in reading order.
pub static FIGURES: &[Line<Block>] = &[
    line("trees_per_acre", "Trees per acre", Quantity::PerAcre, |block| Reading::Value(density(block))),
    line("trees_per_hectare", "Trees per hectare", Quantity::PerHectare, |block| {
        Reading::Value(density(block))
    }),
    line("trees_in_block", "Trees in the block", Quantity::Count, |block| Reading::Value(trees(block))),
    line("trees_per_gross_acre", "Trees per acre of field", Quantity::PerAcre, |block| {
        Reading::Value(trees(block) / block.area().value)
    }),
    line("rows", "Rows", Quantity::Count, |block| Reading::Value(as_number(block.rows))),
    line("row_length", "Row length, end post to end post", Quantity::Length, |block| {
        Reading::Value((block.asked.inputs.block_length - block.asked.inputs.headland * 2.0).value)
    }),
    line("block_area", "Area of the field", Quantity::Land, |block| Reading::Value(block.area().value)),
    line("planted_share", "Share of the field under trees and alleys", Quantity::Share, |block| {
        Reading::Value(trees(block) / density(block) / block.area().value)
    }),
    line(
        "row_length_per_land",
        "Row on an acre or hectare of planted ground",
        Quantity::LengthPerLand,
        |block| Reading::Value(1.0 / block.row_width.value),
    ),
    line("run_length_total", "Row length in the block", Quantity::Length, |block| {
        Reading::Value(block.run_length().value)
    }),
];
