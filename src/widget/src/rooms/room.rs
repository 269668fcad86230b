//! What the page takes from the room of a chapter, and what it hands to it.

use drafting::{Daylight, Frame, Overlay, Sheet, View};
use planting::kit::offers::{Offer, Offers};
use planting::trade::Outcome;
use planting::{Ground, Note};
use std::any::Any;
use std::sync::Arc;

/// What the room of a chapter gives to the page, whatever its trade.
#[derive(Clone, Copy)]
pub(crate) struct Room {
    /// An empty memory of what it has computed.
    pub(crate) memory: fn() -> Box<dyn Any>,
    /// What it asks of rooms put before it, and what it offers to those after it.
    pub(crate) asks: &'static [Offer],
    pub(crate) offers: &'static [Offer],
    /// Computes it over a ground.
    pub(crate) put: fn(&Ground, &mut Offers, &mut dyn Any) -> Arc<dyn Outcome>,
    /// What it adds to the drawings of the ground.
    pub(crate) over: fn(&dyn Outcome, Daylight) -> Box<dyn Overlay + '_>,
    /// Draws a view of its own.
    pub(crate) view: fn(View, Basis, &mut dyn Any, Frame) -> Option<Sheet>,
    /// What its figures and drawings leave out, said below the drawings.
    pub(crate) caveat: Option<&'static str>,
    /// What is told of one of its inputs.
    pub(crate) note: fn(&str) -> Option<Note>,
}

/// What a room draws its own views from.
#[derive(Clone, Copy)]
pub(crate) struct Basis<'a> {
    pub(crate) ground: &'a Ground,
    pub(crate) outcome: &'a dyn Outcome,
    /// Whether the plan stands still.
    pub(crate) is_still: bool,
}
