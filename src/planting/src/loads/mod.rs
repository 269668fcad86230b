//! What the trellis carries, what it needs, and what is to be ordered.
//!
//! | a question about | is answered in |
//! |---|---|
//! | gauge, grade, breaking load, stretch, the tension gauge | [`Wire`], [`tension_of_gauge`] |
//! | tension and sag with load and warmth | [`Bay`] |
//! | the crop on a metre of wire | [`crop_on_wire`] |
//! | a gust on a row and on a post | [`Wind`] |
//! | stress of a post at the ground line | [`bending_stress`] |
//! | what the soil holds, by code and at collapse | [`Embedment`] |
//! | guy, thrust, rail, uplift; every force as an arrow | [`RowEnd`], [`FreeBody`] |
//! | the pull at which a screw anchor comes | [`Anchor`] |
//! | all of it for one trellis | [`Carried`] |
//! | gust and crop at which each part is reached | [`Limits`] |
//! | longest interval, longest row, smallest anchor, fewest wires | [`Solved`] |
//! | what to order, hours and cost | [`Bill`] |
//! | what the crew strings to | [`Card`] |
//! | where the work can hurt, why trellises fall, what is usual | [`cautions()`] |
//!
//! An index is load over strength: 1 is where a part is reached. It compares plans with each other and is no verdict on a structure, which is for
//! local codes, makers' ratings, soil tests and a licensed engineer.
//!
//! Every bay is taken to be as long as the longest and as loaded; the wires of a row pull alike. Left out: roots and stems that share the
//! load, wind along the rows, gusts on bare wires, nets and cloth, ice and snow on the crowns, the bending of end posts between ground and guy, posts of
//! steel or concrete, wires of plastic or aluminium, frames whose posts lean to both sides (each side stands for itself).
//!
//! Asks the block for its rows, the trellis for wires, posts and ends, the canopy for the height of the crowns.

pub mod advice;
mod anchors;
pub mod asks;
mod bay;
mod card;
mod carried;
mod cautions;
mod crop;
mod ends;
pub mod figures;
mod forces;
pub mod inputs;
mod labour;
mod measures;
mod memory;
mod order;
pub mod orders;
mod posts;
mod roots;
mod soil;
mod solve;
mod trellis;
mod weakest;
mod wind;
mod wire;
pub mod workings;

pub use anchors::Anchor;
pub use bay::{Bay, Hung};
pub use card::{Card, RowStretch, STEPS};
pub use carried::Carried;
pub use cautions::{Caution, cautions, collapses, practice};
pub use crop::{crop_for, crop_on_row, crop_on_wire};
pub use ends::{BraceSpans, HBrace, Held, Pull, RowEnd, TieBack, rail_buckles};
pub use forces::{Body, EndPoint, FreeBody, NamedForce, Origin};
pub use inputs::{Cover, Inputs};
pub use labour::{Labour, Pieces};
pub use measures::{Compliance, LinearLoad, Moment, StressVolume, UnitWeight};
pub use memory::{Loads, Memory};
pub use order::{Bill, Item, Line};
pub use posts::{Species, allowed_stress, bending_stress, moment_at, section_modulus};
pub use soil::{Embedment, Soil, Strength};
pub use solve::{Change, LongestRow, Setting, Solved};
pub use trellis::{Asked, Frame, Row};
pub use weakest::{Basis, Limit, Limits, Part, Reached};
pub use wind::{DIRECTIONALITY, Exposure, Silhouette, Wind, gust_pressure};
pub use wire::{Gauge, Grade, Wire, gauge_reading, tension_of_gauge};

use crate::kit::offers::Offer;

/// What this room has computed.
pub type State = Loads;

/// What it offers to rooms that are put after it.
pub const OFFERS: &[Offer] = &[];
/// What it asks of rooms that are put before it.
pub const ASKS: &[Offer] = &[];
