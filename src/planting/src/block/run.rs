//! Planting one piece of a row line.

use super::Inputs;
use crate::kit::count::{as_number, whole_steps};
use crate::kit::row::Run;

/// Plants a piece of a row line `[m]`: set back by the headland at both ends, as many whole tree spaces as fit,
/// centred. None where no tree fits.
pub(super) fn plant(row: usize, across: f64, (low, high): (f64, f64), inputs: &Inputs) -> Option<Run> {
    let start = low + inputs.headland.value;
    let end = high - inputs.headland.value;
    let spacing = inputs.in_row_spacing.value;
    let trees = whole_steps(end - start, spacing);
    if trees == 0 {
        return None;
    }
    let first_tree = start + (end - start - spacing * as_number(trees)) / 2.0 + spacing / 2.0;
    Some(Run { row, across, start, end, first_tree, spacing, trees })
}
