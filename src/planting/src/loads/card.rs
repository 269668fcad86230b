//! The stringing card: what the crew sets wires to, and what it should see.

use super::carried::Carried;
use super::trellis::Asked;
use super::wire::{EXPANSION, gauge_reading};
use crate::kit::order::sort_by;
use crate::kit::quantity::inches;
use crate::kit::units::fahrenheit;
use uom::si::f64::{Force, Length, TemperatureInterval};

/// Nail to nail on the board that tells tension, and how far the scale draws the wire off line between them (Iowa vineyard newsletter 2014).
const BOARD_IN: f64 = 40.0;
const OFF_LINE_IN: f64 = 0.5;
/// Steps of the table of tension by temperature `[°F]`.
const STEPS_F: [f64; 7] = [-60.0, -40.0, -20.0, 0.0, 20.0, 40.0, 60.0];
/// Rows whose lengths differ by less are strung alike `[m]`.
const ALIKE: f64 = 0.05;

/// What to expect of the wires of rows of one length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RowStretch {
    /// The length of the rows `[m]`.
    pub row: Length,
    /// How many there are.
    pub rows: usize,
    /// How far a wire is drawn in from hand-tight to its tension `[m]`.
    pub stretch: Length,
    /// How far a free wire would shorten to the coldest day `[m]`.
    pub shortens: Length,
    /// How far a free wire would lengthen to the hottest day `[m]`.
    pub lengthens: Length,
}

/// The card for a block.
#[derive(Clone, Debug, PartialEq)]
pub struct Card {
    /// Heights of the wires, from below `[m]`.
    pub heights: Vec<Length>,
    /// Tension to string to `[N]`.
    pub tension: Force,
    /// What the scale of the board shows at that tension `[N]`.
    pub reading: Force,
    /// Nail to nail on the board `[m]`.
    pub board: Length,
    /// How far the scale draws the wire off line `[m]`.
    pub off_line: Length,
    /// Tension of the bare wire on the coldest and on the hottest day `[N]`.
    pub cold_and_hot: (Force, Force),
    /// Tension of the bare wire as it gets colder or warmer than on the day it was strung `[K, N]`.
    pub by_temperature: Vec<(TemperatureInterval, Force)>,
    /// Rows by length, the longest first.
    pub rows: Vec<RowStretch>,
}

impl Card {
    /// For a trellis and what it carries.
    ///
    /// ```
    /// use planting::{Ground, Scenario, ground::Memory, kit::units::POUND_FORCE};
    /// use planting::loads::{Inputs, Loads, asks};
    /// let scenario = Scenario::default();
    /// let ground = Ground::lay(&scenario, &mut Memory::default()).unwrap();
    /// let card = Loads::of(&asks::asked(&ground, &Inputs::usual(scenario.system), None)).card.unwrap();
    /// // 200 lbf show 10 lb on the board.
    /// assert!((card.reading.value / POUND_FORCE - 10.0).abs() < 1e-9);
    /// ```
    pub fn of(asked: &Asked, carried: &Carried) -> Card {
        let inputs = &asked.inputs;
        let own = carried.wire.weight(Length::default());
        let bare = |warming| carried.bay.under(own, warming).map(|hung| hung.horizontal);
        let (board, off_line) = (inches(BOARD_IN), inches(OFF_LINE_IN));
        let steps = STEPS_F.into_iter().map(fahrenheit);
        Card {
            heights: asked.frame.as_ref().map(|frame| frame.heights.clone()).unwrap_or_default(),
            tension: inputs.pretension,
            reading: gauge_reading(inputs.pretension, board, off_line),
            board,
            off_line,
            cold_and_hot: (
                bare(-inputs.cold_drop).unwrap_or_default(),
                bare(inputs.hot_rise).unwrap_or_default(),
            ),
            by_temperature: steps.filter_map(|warming| Some((warming, bare(warming)?))).collect(),
            rows: by_length(asked).into_iter().map(|(row, rows)| stretch(asked, row, rows)).collect(),
        }
    }
}

fn stretch(asked: &Asked, row: Length, rows: usize) -> RowStretch {
    let inputs = &asked.inputs;
    let grown = |warming: TemperatureInterval| row * (EXPANSION * warming.value);
    RowStretch {
        row,
        rows,
        stretch: asked.wire().stretch(inputs.pretension, row),
        shortens: grown(inputs.cold_drop),
        lengthens: grown(inputs.hot_rise),
    }
}

/// The lengths of rows there are, the longest first, and how many rows have each.
fn by_length(asked: &Asked) -> Vec<(Length, usize)> {
    let mut lengths: Vec<Length> = asked.rows.iter().map(|row| row.length).collect();
    sort_by(&mut lengths, |one, other| other.value.total_cmp(&one.value));
    let mut groups: Vec<(Length, usize)> = Vec::new();
    for length in lengths {
        match groups.last_mut() {
            Some((first, rows)) if (*first - length).value < ALIKE => *rows += 1,
            _ => groups.push((length, 1)),
        }
    }
    groups
}

/// The order of the work (common practice, no source, but for the staples: UGA, Sumner).
pub const STEPS: [&str; 7] = [
    "Call before you dig: have buried lines marked, and know your own drains and pipes.",
    "Set end posts, then anchors or braces, and let nothing pull on them before they are finished.",
    "Drive the line posts, small end down, in undisturbed ground.",
    "Run the wires out of a dispenser, the top wire first, and fasten one end.",
    "Staple the wires to the line posts so that they slide: never drive a staple home.",
    "Tension each wire from mid-row, read the board, and go on to the next; then read them all again.",
    "Tie the trees when all wires stand at their tension.",
];
