//! What is unusual about a field's spacing.

use super::Block;
use crate::kit::choice::Choice;
use crate::kit::finding::{Advice, Rule, Severity};
use crate::kit::message::{Message, Slot};
use crate::kit::order::within;
use crate::kit::quantity::{Quantity, SQUARE_METRES_PER_ACRE, feet};
use crate::kit::row::Spacing;
use crate::kit::way::{Aim, Move, Toward, Way};
use crate::system::{Range, TrainingSystem, Usual};
use uom::si::f64::Length;
use uom::si::length::meter;

/// Every rule about the field.
pub static RULES: &[Rule<Block>] = &[outside_system];

/// How far beyond a usual range still counts as usual, for ranges are printed in round numbers `[–]`.
const ROUNDING: f64 = 0.005;

fn is_outside(value: f64, (low, high): Range) -> bool {
    value < low * (1.0 - ROUNDING) || value > high * (1.0 + ROUNDING)
}

fn trees_per_acre(spacing: Spacing) -> f64 {
    spacing.trees_per_square_metre() * SQUARE_METRES_PER_ACRE
}

/// A range of feet in metres.
fn in_metres((low, high): Range) -> Range {
    (feet(low).value, feet(high).value)
}

fn is_usual(spacing: Spacing, usual: &Usual) -> bool {
    !is_outside(trees_per_acre(spacing), usual.trees_per_acre)
        && !is_outside(spacing.in_row.value, in_metres(usual.in_row_ft))
        && !is_outside(spacing.row_width.value, in_metres(usual.row_ft))
}

/// The distances that give a usual density beside another distance, as far as they are usual themselves `[m]`.
fn fitting(usual_ft: Range, usual: &Usual, other: Length) -> Range {
    let (low, high) = in_metres(usual_ft);
    let ground = |trees: f64| SQUARE_METRES_PER_ACRE / trees / other.value.max(f64::MIN_POSITIVE);
    (low.max(ground(usual.trees_per_acre.1)), high.min(ground(usual.trees_per_acre.0)))
}

/// A move of one distance into a range.
fn into((low, high): Range, key: &'static str, now: Length) -> Option<Move> {
    if low > high {
        return None;
    }
    if now.value < low {
        Some(Move::Seek { key, toward: Toward::More, aim: Aim::To(low) })
    } else if now.value > high {
        Some(Move::Seek { key, toward: Toward::Less, aim: Aim::To(high) })
    } else {
        None
    }
}

fn ways(system: TrainingSystem, spacing: Spacing, usual: &Usual) -> Vec<Way> {
    let Spacing { in_row, row_width } = spacing;
    let metres = |value: f64| Length::new::<meter>(value);
    let trees = |row_width| into(fitting(usual.in_row_ft, usual, row_width), "in_row_spacing", in_row);
    let rows = |in_row| into(fitting(usual.row_ft, usual, in_row), "row_width", row_width);
    let (low, high) = in_metres(usual.row_ft);
    let usual_row = within(row_width.value, low, high);
    let toward = if usual_row > row_width.value { Toward::More } else { Toward::Less };
    let both = trees(metres(usual_row)).map(|trees| {
        Way::new(
            "Plant {0} apart in rows {1} apart.",
            [trees, Move::Set { key: "row_width", to: usual_row, toward }],
        )
    });
    let mut fits: Vec<&'static str> = Vec::new();
    for other in TrainingSystem::ALL.iter().copied() {
        if other != system && is_usual(spacing, &other.usual()) {
            fits.push(other.key());
        }
    }
    [
        trees(row_width).map(|trees| Way::new("Plant {0} apart in the row.", [trees])),
        rows(in_row).map(|rows| Way::new("Set the rows {0} apart.", [rows])),
        both,
        (!fits.is_empty()).then(|| Way::choose("Plan it as what it is: {0}.", "system", fits)),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn outside_system(block: &Block) -> Option<Advice> {
    let (system, spacing) = (block.asked.system, block.spacing());
    let usual = system.usual();
    if is_usual(spacing, &usual) {
        return None;
    }
    let on_land = |value: f64| Slot::Number(value / SQUARE_METRES_PER_ACRE, Quantity::PerLand);
    let dense = is_outside(trees_per_acre(spacing), usual.trees_per_acre);
    let (severity, finding) = if dense {
        let sentence = "{0} is usually planted at {1} to {2}; this plan has {3}.";
        let slots = [
            system.label().into(),
            on_land(usual.trees_per_acre.0),
            on_land(usual.trees_per_acre.1),
            on_land(trees_per_acre(spacing)),
        ];
        (Severity::Caution, Message::new(sentence, slots))
    } else {
        let sentence = "{0} is usually planted {1} to {2} apart in rows {3} to {4} apart. The density is usual; {5} by {6} is not.";
        let ends = [usual.in_row_ft.0, usual.in_row_ft.1, usual.row_ft.0, usual.row_ft.1];
        let mut slots = vec![Slot::from(system.label())];
        slots.extend(ends.map(|end| Slot::from(feet(end))));
        slots.extend([Slot::from(spacing.in_row), Slot::from(spacing.row_width)]);
        (Severity::Note, Message::new(sentence, slots))
    };
    Some(Advice {
        rule: "outside_system",
        severity,
        title: "Unusual for the training system",
        finding,
        ways: ways(system, spacing, &usual),
        remedies: None,
        otherwise: "Choose the training system whose spacing this is.",
        fields: &["in_row_spacing", "row_width", "system"],
        source: usual.source,
    })
}
