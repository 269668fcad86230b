//! What a nursery and a supplier are asked for: trees, posts, anchors and wire, with their sizes.
//!
//! Lengths are rounded up, never down below the need. Counts are of the plan; offcuts, spares and losses are the buyer's to add unless a line says otherwise.

use crate::measure::Units;
use crate::wording::sentence;
use planting::{Figure, OrderLine, Plan};

/// One line of the list.
#[derive(Clone, Debug, PartialEq)]
pub struct Ordered<'a> {
    /// What is ordered, and how many or how much of it.
    pub figure: &'a Figure,
    /// Its size, or how it was counted.
    pub size: String,
}

/// The lines a plan needs.
///
/// ```
/// use drafting::{Units, order_list};
/// let plan = planting::plan(&planting::Scenario::default()).unwrap();
/// let lines = order_list::lines(&plan, Units::Us);
/// assert_eq!(lines[0].figure.key, "trees_in_block");
/// assert_eq!(lines[1].size, "12 ft long, 5 in thick at the ground");
/// ```
pub fn lines(plan: &Plan, units: Units) -> Vec<Ordered<'_>> {
    let line = |order: OrderLine| {
        let figure = plan.figure(order.figure)?;
        Some(Ordered { figure, size: sentence(&order.which, units) })
    };
    plan.orders().into_iter().filter_map(line).collect()
}
