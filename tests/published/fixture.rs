//! Scenarios, readings and tolerances the checks share.

use planting::{EndAssembly, Plan, SQUARE_METRES_PER_ACRE, Scenario, degrees, feet, plan};
use std::fmt::Debug;

/// One foot `[m]`.
pub(crate) const FT: f64 = 0.3048;

/// Asserts that two numbers agree to a share of the expected one.
#[track_caller]
pub(crate) fn assert_near(found: f64, expected: f64, relative: f64, what: impl Debug) {
    let room = relative * expected.abs().max(f64::MIN_POSITIVE);
    assert!((found - expected).abs() <= room, "{what:?}: {found}, expected {expected} within {room:e}");
}

/// The plan of a scenario that is known to be in order.
#[track_caller]
pub(crate) fn planned(scenario: &Scenario) -> Plan {
    plan(scenario).unwrap_or_else(|problems| panic!("{problems:?}"))
}

/// The value of a figure that is known to exist, in SI.
#[track_caller]
pub(crate) fn figure(plan: &Plan, key: &str) -> f64 {
    plan.figure(key)
        .unwrap_or_else(|| panic!("no figure {key}"))
        .value
        .unwrap_or_else(|| panic!("{key} has no value"))
}

/// A density of a plan in trees (or posts) per acre.
#[track_caller]
pub(crate) fn per_acre(plan: &Plan, key: &str) -> f64 {
    figure(plan, key) * SQUARE_METRES_PER_ACRE
}

/// Ten rows of exactly 300 ft, 12 ft apart, trees at 3 ft, bays of 30 ft, plumb end posts guyed at
/// 9 ft to anchors 9 ft out: the block of a worked bill of materials.
pub(crate) fn ten_rows_of_300_ft() -> Scenario {
    Scenario::default().with(|s| {
        s.block.block_length = feet(300.0 + 2.0 * 30.0);
        s.block.block_width = feet(9.0 * 12.0 + 2.0 * 12.0);
        s.block.headland = feet(30.0);
        s.block.side_margin = feet(12.0);
        s.block.in_row_spacing = feet(3.0);
        s.block.row_width = feet(12.0);
        s.trellis.post_interval = feet(30.0);
        s.trellis.wire_heights = [2.5, 4.75, 7.0, 9.0].map(feet).to_vec();
        s.trellis.end_assembly = EndAssembly::TieBack;
        s.trellis.end_post_lean = degrees(0.0);
        s.trellis.anchor_distance = feet(9.0);
    })
}
