//! Loads, order and card of one trellis, and what has been worked out already.

use super::card::Card;
use super::carried::Carried;
use super::order::Bill;
use super::solve::Solved;
use super::trellis::Asked;
use super::weakest::Limits;
use crate::kit::kept::Kept;
use std::sync::Arc;

/// What this room has computed.
#[derive(Clone, Debug, PartialEq)]
pub struct Loads {
    /// What it was computed from.
    pub asked: Asked,
    /// What the trellis carries; none where there are no wires.
    pub carried: Option<Carried>,
    /// Where each part of it is reached; empty where there are no wires.
    pub limits: Limits,
    /// What would meet the targets.
    pub solved: Solved,
    /// What is to be ordered.
    pub bill: Bill,
    /// What the crew strings to; none where there are no wires.
    pub card: Option<Card>,
}

impl Loads {
    /// Works out a trellis.
    pub fn of(asked: &Asked) -> Loads {
        let carried = Carried::of(asked);
        let limits = carried.as_ref().map_or_else(Limits::default, |carried| Limits::of(asked, carried));
        Loads {
            solved: if carried.is_some() { Solved::of(asked) } else { Solved::default() },
            bill: Bill::of(asked),
            card: carried.as_ref().map(|carried| Card::of(asked, carried)),
            limits,
            asked: asked.clone(),
            carried,
        }
    }
}

/// What has been worked out already. With an empty memory the results are the same; they only take longer.
#[derive(Clone, Debug, Default)]
pub struct Memory {
    loads: Kept<Asked, Loads>,
}

impl Memory {
    /// The loads of a trellis.
    pub fn loads(&mut self, asked: Asked) -> Arc<Loads> {
        self.loads.get(asked, Loads::of)
    }
}
