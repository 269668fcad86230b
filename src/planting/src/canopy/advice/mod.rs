//! What is wrong with the trees in the space they are given.

mod vigour;

use super::Canopy;
use crate::kit::choice::Choice;
use crate::kit::figure::Source;
use crate::kit::finding::{Advice, RATIO_TOLERANCE, Rule, Severity, tolerance};
use crate::kit::message::{Message, Slot};
use crate::kit::quantity::{Quantity, feet, inches};
use crate::kit::row::is_nearer_east_west;
use crate::kit::way::{Aim, Way};
use uom::si::f64::Length;

/// Every rule about the trees in their space, in the order their findings are read.
pub static RULES: &[Rule<Canopy>] = &[
    vigour::stock_for_system,
    clear_alley,
    height_to_row,
    vigour::overfill,
    vigour::never_fills,
    vigour::late_to_fill,
    vigour::never_reaches_wire,
    unusual_height,
    graft_union,
];

/// Room wanted beside a machine, both sides together (common practice, no source: 7 ft clear for a tractor of 5 ft).
fn clearance() -> Length {
    feet(2.0)
}

/// The least of it with which a careful driver gets through (common practice, no source: 6 ft clear at the least).
fn least_clearance() -> Length {
    feet(1.0)
}

fn clear_alley(canopy: &Canopy) -> Option<Advice> {
    let (alley, tractor) = (canopy.clear_alley(), canopy.asked.tractor_width);
    let wanted = tractor + clearance();
    if alley + tolerance() >= wanted {
        return None;
    }
    let lacking = wanted - alley;
    let width = alley.max(feet(0.0));
    let (severity, finding) = if alley + tolerance() < tractor {
        let sentence = "The alley between canopies is {0}; the tractor is {1} wide and doesn't get through.";
        (Severity::Fix, Message::new(sentence, [width.into(), tractor.into()]))
    } else {
        let sentence = "The alley between canopies is {0}, which leaves a tractor {1} wide less than the {2} it wants beside it.";
        let tight = alley + tolerance() < tractor + least_clearance();
        let severity = if tight { Severity::Caution } else { Severity::Note };
        (severity, Message::new(sentence, [width.into(), tractor.into(), clearance().into()]))
    };
    let mut ways = vec![
        Way::more("Widen the rows to {0}.", "row_width", Aim::By(lacking.value)),
        Way::less("Drive a machine {0} wide at most.", "tractor_width", Aim::By(-lacking.value)),
    ];
    if canopy.asked.inputs.lean.value > 0.0 {
        // How wide the canopy is at its top depends on lean, height and taper together.
        ways.push(Way::less("Keep the canopy {0} wide.", "canopy_width", Aim::Nearest));
        ways.push(Way::less("Lean the trees {0} from the vertical.", "lean", Aim::Nearest));
        ways.push(Way::less("Keep the trees at {0}.", "tree_height", Aim::Nearest));
    } else {
        ways.push(Way::less("Keep the canopy {0} wide.", "canopy_width", Aim::By(-lacking.value)));
    }
    Some(Advice {
        rule: "clear_alley",
        severity,
        title: "Alley too narrow for the tractor",
        finding,
        ways,
        remedies: None,
        otherwise: "Wider rows, a narrower canopy and a narrower machine have to go together.",
        fields: &["row_width", "canopy_width", "tractor_width"],
        source: Source::practice(
            "Common practice, no source: 7-8 ft clear for a narrow tractor and sprayer, 6 ft at the least",
        ),
    })
}

/// Height against row width up to which north-south rows leave each other's lower branches enough light `[–]`: at 42° the model of
/// light gives the lowest third of the crowns a quarter of the light in the open there, and neighbours take a fifth of it. Sources ask
/// for 0.9 (Robinson) and 0.77 (Perry & Hull).
pub const HIGHEST_RATIO: f64 = 1.0;
/// How much wider apart rows that run east-west stand for the same height `[–]`: 1.5 against 1.3 times the height (Perry & Hull). By the
/// model of light, the lowest third then gets as much as in north-south rows at their limit.
pub const EAST_WEST_WIDER: f64 = 1.5 / 1.3;
/// How far beyond that the plan doesn't work `[–]`.
const GRAVE_RATIO: f64 = 1.25;

/// Height against row width up to which rows of this direction leave each other enough light `[–]`; between north-south and
/// east-west it goes with the square of the sine.
///
/// ```
/// use planting::canopy::advice::highest_ratio;
/// use planting::degrees;
/// assert_eq!(highest_ratio(degrees(0.0)), 1.0);
/// assert!((highest_ratio(degrees(90.0)) - 1.3 / 1.5).abs() < 1e-12);
/// ```
pub fn highest_ratio(row_azimuth: uom::si::f64::Angle) -> f64 {
    let across = row_azimuth.value.sin();
    HIGHEST_RATIO / (1.0 + (EAST_WEST_WIDER - 1.0) * across * across)
}

fn height_to_row(canopy: &Canopy) -> Option<Advice> {
    let (ratio, highest) = (canopy.height_to_row(), highest_ratio(canopy.asked.row_azimuth));
    if ratio <= highest + RATIO_TOLERANCE {
        return None;
    }
    let direction = if is_nearer_east_west(canopy.asked.row_azimuth) { "east-west" } else { "north-south" };
    let (height, row_width) = (canopy.asked.inputs.tree_height, canopy.asked.spacing.row_width);
    Some(Advice {
        rule: "height_to_row",
        severity: if ratio > highest * GRAVE_RATIO + RATIO_TOLERANCE {
            Severity::Fix
        } else {
            Severity::Caution
        },
        title: "Trees too tall for the rows",
        finding: Message::new(
            "Trees of {0} on rows of {1} stand at a ratio of {2}. These rows run nearer {3}; above {4} they take too much light from each other's lower branches.",
            [
                height.into(),
                row_width.into(),
                (ratio, Quantity::Ratio).into(),
                direction.into(),
                (highest, Quantity::Ratio).into(),
            ],
        ),
        ways: vec![
            Way::less("Keep the trees at {0}.", "tree_height", Aim::from(row_width * highest)),
            Way::more("Widen the rows to {0}.", "row_width", Aim::from(height / highest)),
        ],
        remedies: None,
        otherwise: "",
        fields: &["tree_height", "row_width"],
        source: Source::published(
            "Robinson (Cornell) in Good Fruit Grower 1 May 2013: trees of about 12 ft with an alley about 90 % of that; Fruit Growers News 2007: 10 ft on rows of 11 ft. Perry & Hull (Michigan State): rows 1.3 times the height north-south, 1.5 east-west. The limit is this project's: up to it, the light modelled here at 42° leaves the lowest third of the crowns a quarter of that in the open, whichever way the rows run",
        ),
    })
}

/// How far beyond a usual range still counts as usual, for ranges are printed in round numbers `[–]`.
const ROUNDING: f64 = 0.005;

fn unusual_height(canopy: &Canopy) -> Option<Advice> {
    let (system, height) = (canopy.asked.system, canopy.asked.inputs.tree_height);
    let usual = system.usual();
    let (low, high) = (feet(usual.height_ft.0), feet(usual.height_ft.1));
    let way = if height < low * (1.0 - ROUNDING) {
        Way::more("Let the trees grow to {0}.", "tree_height", Aim::from(low))
    } else if height > high * (1.0 + ROUNDING) {
        Way::less("Keep the trees at {0}.", "tree_height", Aim::from(high))
    } else {
        return None;
    };
    Some(Advice {
        rule: "unusual_height",
        severity: Severity::Note,
        title: "Unusual height for the training system",
        finding: Message::new(
            "{0} is usually kept {1} to {2} high; these trees are kept at {3}.",
            [system.label().into(), low.into(), high.into(), height.into()],
        ),
        ways: vec![way],
        remedies: None,
        otherwise: "",
        fields: &["tree_height", "system"],
        source: usual.source,
    })
}

/// Heights of the union after settling between which nothing is said.
fn good_union() -> (Length, Length) {
    (inches(3.0), inches(6.0))
}

fn graft_union(canopy: &Canopy) -> Option<Advice> {
    let (settled, settling) = (canopy.union_settled(), canopy.asked.inputs.settling);
    let (low, high) = good_union();
    let tolerance = tolerance() / 2.0;
    let (severity, title, finding) = if settled + tolerance < inches(2.0) {
        (
            Severity::Fix,
            "Graft union too low",
            "After settling, the union stands {0} above the ground. Near the soil the scion roots and the dwarfing is lost; {1} to {2} are wanted.",
        )
    } else if settled + tolerance < low {
        (
            Severity::Caution,
            "Graft union low",
            "After settling, the union stands {0} above the ground, which leaves little to spare before the scion roots; {1} to {2} are wanted.",
        )
    } else if settled > inches(8.0) + tolerance {
        (
            Severity::Caution,
            "Graft union high",
            "After settling, the union stands {0} above the ground, where {1} to {2} are wanted. A long bare shank dwarfs more, grows burr knots and invites borers.",
        )
    } else if settled > high + tolerance {
        (
            Severity::Note,
            "Graft union on the high side",
            "After settling, the union stands {0} above the ground; most growers leave {1} to {2}. The higher it stands, the more the tree is dwarfed.",
        )
    } else {
        return None;
    };
    let way = if settled < low {
        Way::more(
            "Plant with the union {0} above the ground.",
            "graft_union_height",
            Aim::from(low + settling),
        )
    } else {
        Way::less(
            "Plant with the union {0} above the ground.",
            "graft_union_height",
            Aim::from(high + settling),
        )
    };
    let small = |value: Length| Slot::Number(value.value, Quantity::SmallLength);
    Some(Advice {
        rule: "graft_union",
        severity,
        title,
        finding: Message::new(finding, [small(settled), small(low), small(high)]),
        ways: vec![way],
        remedies: None,
        otherwise: "The union lies below the lowest branches: these have to start higher.",
        fields: &["graft_union_height", "settling"],
        source: Source::published(
            "Crassweller (Penn State), eXtension: 3-6 in above the soil; Cornell slides 4-6 in; Barritt in Good Fruit Grower on 8-10 in exposed",
        ),
    })
}
