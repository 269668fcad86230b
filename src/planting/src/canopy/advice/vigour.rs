//! What is wrong with how strongly the trees grow: for the training system, for their space, for their trellis.

use crate::canopy::stock::Rootstock;
use crate::canopy::{Canopy, LAST_YEAR, OVERFILL_GRAVE, OVERFILL_LAYER};
use crate::kit::choice::Choice;
use crate::kit::figure::Source;
use crate::kit::finding::{Advice, LENGTH_TOLERANCE, RATIO_TOLERANCE, Severity};
use crate::kit::message::{Message, Slot};
use crate::kit::order::sort_by;
use crate::kit::quantity::Quantity;
use crate::kit::standing::Standing;
use crate::kit::way::{Aim, Move, Toward, Way};
use crate::system::Range;
use uom::si::f64::Length;
use uom::si::length::meter;

/// How far beyond the printed stocks of a system another still passes for one of them `[–]`: trunk areas of one stock differ by
/// more between sites.
const LIKE: f64 = 1.15;
/// How far beyond them a stock doesn't work in the system `[–]` (this project's threshold: two of the trade's size classes).
const FAR: f64 = 1.8;

/// How many times beyond a range a value lies; 1 within it.
fn beyond((low, high): Range, value: f64) -> f64 {
    (value / high).max(low / value).max(1.0)
}

/// Rootstocks whose trunk area lies within a range, those nearest to a stock first.
fn stocks_within((low, high): Range, near: Rootstock) -> Vec<&'static str> {
    let ratio = |stock: Rootstock| (stock.relative_trunk_area() / near.relative_trunk_area()).ln().abs();
    let mut stocks: Vec<Rootstock> = Rootstock::ALL
        .iter()
        .copied()
        .filter(|stock| *stock != near && (low..=high).contains(&stock.relative_trunk_area()))
        .collect();
    sort_by(&mut stocks, |one, other| ratio(*one).total_cmp(&ratio(*other)));
    stocks.into_iter().map(Choice::key).collect()
}

const OTHER_STOCK: &str = "Plant on {0}.";

/// The rootstock is of another size class than the training system's.
pub(super) fn stock_for_system(canopy: &Canopy) -> Option<Advice> {
    let (system, stock) = (canopy.asked.system, canopy.asked.inputs.rootstock);
    let usual = system.usual();
    let off = beyond(usual.stock, stock.relative_trunk_area());
    if off <= LIKE + RATIO_TOLERANCE {
        return None;
    }
    let is_strong = stock.relative_trunk_area() > usual.stock.1;
    let (title, finding) = if is_strong {
        (
            "Rootstock too strong for the system",
            "Trees on {0} grow a trunk {1} times that of trees on M.9 T337. {2} is planted on stocks of {3} to {4}: these will not be held in its shape.",
        )
    } else {
        (
            "Rootstock too weak for the system",
            "Trees on {0} grow a trunk {1} times that of trees on M.9 T337. {2} is planted on stocks of {3} to {4}: these will hardly grow into its shape.",
        )
    };
    let ratio = |value: f64| Slot::Number(value, Quantity::Ratio);
    Some(Advice {
        rule: "stock_for_system",
        severity: if off > FAR { Severity::Fix } else { Severity::Caution },
        title,
        finding: Message::new(
            finding,
            [
                stock.label().into(),
                ratio(stock.relative_trunk_area()),
                system.label().into(),
                ratio(usual.stock.0),
                ratio(usual.stock.1),
            ],
        ),
        ways: vec![Way::choose(OTHER_STOCK, "rootstock", stocks_within(usual.stock, stock))],
        remedies: None,
        otherwise: "Choose a training system that goes with the rootstock; it brings its own spacing and trellis.",
        fields: &["rootstock", "system"],
        source: usual.source,
    })
}

/// The most a scion, a soil and a site may add to the stocks of a system for the excess to pass for what the system costs `[–]`.
const PRICE_OF_VIGOUR: f64 = 1.3;

pub(super) fn overfill(canopy: &Canopy) -> Option<Advice> {
    let year = canopy.year_overfilled?;
    let layer = canopy.years.iter().map(|year| year.overgrowth().value).fold(0.0, f64::max);
    let share = canopy.years.iter().map(|year| year.excess_share).fold(0.0, f64::max);
    let (inputs, usual) = (&canopy.asked.inputs, canopy.asked.system.usual());
    let is_usual = beyond(usual.stock, inputs.rootstock.relative_trunk_area()) <= LIKE + RATIO_TOLERANCE
        && canopy.free.conditions.vigour <= usual.stock.1 * PRICE_OF_VIGOUR;
    let weaker = stocks_within((0.0, inputs.rootstock.relative_trunk_area()), inputs.rootstock);
    Some(Advice {
        rule: "overfill",
        severity: match (is_usual, layer > OVERFILL_GRAVE) {
            (true, _) => Severity::Price,
            (false, true) => Severity::Fix,
            (false, false) => Severity::Caution,
        },
        title: "Trees outgrow their space",
        finding: Message::new(
            "From year {0} on, a season adds a layer of more than {1} beyond the space given, up to {2} or {3} of the crown. Cutting that much back every winter makes the trees grow harder still.",
            [
                (year, Quantity::Years).into(),
                (OVERFILL_LAYER, Quantity::Length).into(),
                (layer, Quantity::Length).into(),
                (share, Quantity::Share).into(),
            ],
        ),
        ways: vec![
            Way::choose(OTHER_STOCK, "rootstock", weaker),
            Way::more("Plant {0} apart in the row.", "in_row_spacing", Aim::Nearest),
            Way::more("Let the canopy grow {0} wide.", "canopy_width", Aim::Nearest),
            Way::more("Let the trees grow to {0}.", "tree_height", Aim::Nearest),
        ],
        remedies: None,
        otherwise: "A weaker rootstock and more room in every direction have to go together.",
        fields: &["rootstock", "in_row_spacing", "canopy_width", "tree_height"],
        source: Source::assumption(
            "Project's own growth model and threshold; see the working of the yearly excess",
        ),
    })
}

const CLOSER: &str = "Plant {0} apart in the row.";

/// Rootstocks stronger than that of a planting, the nearest first.
fn stronger(canopy: &Canopy) -> Vec<&'static str> {
    let stock = canopy.asked.inputs.rootstock;
    stocks_within((stock.relative_trunk_area(), f64::MAX), stock)
}

fn metres(value: f64) -> Length {
    Length::new::<meter>(value)
}

pub(super) fn never_fills(canopy: &Canopy) -> Option<Advice> {
    if canopy.year_filled.is_some() {
        return None;
    }
    let last = canopy.years.last()?;
    // Free-standing trees needn't meet: the ground between them is what they cost.
    let (severity, finding) = match canopy.asked.standing {
        Standing::Wires => (
            Severity::Fix,
            "In {2} years these trees spread to {0} and are given {1}: ground, posts and wire stand idle for good.",
        ),
        Standing::Posts => (
            Severity::Caution,
            "In {2} years these trees spread to {0} and are given {1}: the ground between them stands idle for good.",
        ),
        Standing::Free => (
            Severity::Price,
            "In {2} years these trees spread to {0} and are given {1}: they stand as single trees, with open ground between them.",
        ),
    };
    Some(Advice {
        rule: "never_fills",
        severity,
        title: "Trees never fill the row",
        finding: Message::new(
            finding,
            [
                last.free_spread.into(),
                metres(canopy.asked.space().along).into(),
                (LAST_YEAR, Quantity::Years).into(),
            ],
        ),
        ways: vec![
            Way::less(CLOSER, "in_row_spacing", Aim::Nearest),
            Way::choose(OTHER_STOCK, "rootstock", stronger(canopy)),
        ],
        remedies: None,
        otherwise: "Closer planting and a stronger rootstock have to go together.",
        fields: &["in_row_spacing", "rootstock"],
        source: Source::assumption("Project's own growth model"),
    })
}

const LATE_YEAR: f64 = 8.0;

pub(super) fn late_to_fill(canopy: &Canopy) -> Option<Advice> {
    let year = canopy.year_filled?;
    // Free-standing trees are planted to fill late; trellised ones pay for the wait.
    if year <= LATE_YEAR || canopy.asked.standing == Standing::Free {
        return None;
    }
    Some(Advice {
        rule: "late_to_fill",
        severity: Severity::Caution,
        title: "Slow to fill the row",
        finding: Message::new(
            "Crowns meet along the row only in year {0}. Until then part of the land and of what the trees stand by carries nothing.",
            [(year.ceil(), Quantity::Years).into()],
        ),
        ways: vec![
            Way::less(CLOSER, "in_row_spacing", Aim::Nearest),
            Way::choose(OTHER_STOCK, "rootstock", stronger(canopy)),
        ],
        remedies: None,
        otherwise: "Closer planting and a stronger rootstock have to go together.",
        fields: &["in_row_spacing", "rootstock"],
        source: Source::practice(
            "Common practice, no source: a trellised planting fills its rows by about year 5",
        ),
    })
}

/// How far below the top wire trees may end for it to hold their leaders: a foot `[m]` (common practice).
const NEAR_WIRE: f64 = 0.3048;

/// Trees end below their top wire, for good.
pub(super) fn never_reaches_wire(canopy: &Canopy) -> Option<Advice> {
    let (wire, kept) = (canopy.asked.top_wire?, canopy.asked.inputs.tree_height);
    let grown = canopy.years.last()?.free_height;
    let reached = grown.min(kept);
    if reached.value + NEAR_WIRE + LENGTH_TOLERANCE >= wire.value {
        return None;
    }
    let lower = Way::new(
        "Set the top wire at {0}, the others below it in proportion.",
        [Move::SeekTop { key: "wire_heights", toward: Toward::Less, aim: Aim::Nearest }],
    );
    let (finding, way) = if grown < kept {
        let sentence = "In {2} years these trees grow {0} high; the top wire at {1} never holds one.";
        (sentence, Way::choose(OTHER_STOCK, "rootstock", stronger(canopy)))
    } else {
        let sentence =
            "The trees are kept at {0}; the top wire at {1} never holds one, in {2} years or more.";
        (sentence, Way::more("Let the trees grow to {0}.", "tree_height", Aim::Nearest))
    };
    Some(Advice {
        rule: "never_reaches_wire",
        severity: Severity::Caution,
        title: "Trees never reach the top wire",
        finding: Message::new(finding, [reached.into(), wire.into(), (LAST_YEAR, Quantity::Years).into()]),
        ways: vec![lower, way],
        remedies: None,
        otherwise: "",
        fields: &["wire_heights", "tree_height", "rootstock"],
        source: Source::assumption(
            "Project's own growth model; a leader within a foot of its wire is common practice, no source",
        ),
    })
}
