//! How each figure of the field comes about.

use super::Block;
use crate::kit::count::as_number;
use crate::kit::figure::{Source, Term, Working, term, working};
use crate::kit::quantity::Quantity;
use uom::si::f64::Length;

const GEOMETRY: Source = Source::standard("Definition; 43,560 sq ft to the acre, 10,000 m² to the hectare");
const COUNTED: Source = Source::standard("Counted from the stations drawn in the plan");
const LEVEL: &str = "Level ground, straight rows, a rectangular field.";
const PLANTED_ONLY: &str = "Headlands, side margins and roads: this is the density of planted ground.";

/// The working of a figure of the field.
pub fn working_of(key: &str, block: &Block) -> Option<Working> {
    let inputs = &block.asked.inputs;
    let length = |symbol, meaning, value: Length| term(symbol, meaning, value.value, Quantity::Length);
    let trees = || term("n", "trees in the block", as_number(block.tree_count()), Quantity::Count);
    let area = || term("A", "area of the field", block.area().value, Quantity::Land);
    let rows = || term("rows", "rows in the block", as_number(block.rows), Quantity::Count);
    let [in_row, row_width] = spacing_terms(block);
    Some(match key {
        "trees_per_acre" => {
            working("N = 43,560 sq ft ÷ (a × b)", vec![in_row, row_width], GEOMETRY).leaving_out(PLANTED_ONLY)
        }
        "trees_per_hectare" => {
            working("N = 10,000 m² ÷ (a × b)", vec![in_row, row_width], GEOMETRY).leaving_out(PLANTED_ONLY)
        }
        "trees_in_block" => working(
            "n = rows × ⌊(L − 2 h) ÷ a⌋",
            vec![
                rows(),
                length("L", "block length", inputs.block_length),
                length("h", "headland at each end", inputs.headland),
                in_row,
            ],
            COUNTED,
        )
        .leaving_out(LEVEL),
        "trees_per_gross_acre" => working("n ÷ A", vec![trees(), area()], GEOMETRY),
        "rows" => working(
            "rows = ⌊(W − 2 m) ÷ b⌋ + 1",
            vec![
                length("W", "block width", inputs.block_width),
                length("m", "side margin", inputs.side_margin),
                row_width,
            ],
            COUNTED,
        )
        .leaving_out(LEVEL),
        "row_length" => working(
            "L − 2 h",
            vec![
                length("L", "block length", inputs.block_length),
                length("h", "headland at each end", inputs.headland),
            ],
            GEOMETRY,
        ),
        "block_area" => working(
            "A = L × W",
            vec![
                length("L", "block length", inputs.block_length),
                length("W", "block width", inputs.block_width),
            ],
            GEOMETRY,
        ),
        "planted_share" => working("n × a × b ÷ A", vec![trees(), in_row, row_width, area()], GEOMETRY),
        "row_length_per_land" => working("1 ÷ b", vec![row_width], GEOMETRY),
        "run_length_total" => working("sum over all rows, end post to end post", vec![rows()], COUNTED),
        _ => return None,
    })
}

fn spacing_terms(block: &Block) -> [Term; 2] {
    let spacing = block.spacing();
    [
        term("a", "in-row spacing", spacing.in_row.value, Quantity::Length),
        term("b", "row width", spacing.row_width.value, Quantity::Length),
    ]
}
