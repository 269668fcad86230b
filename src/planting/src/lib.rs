//! The model of a trellised, high-density apple planting: scenario in, plan out.
//!
//! [`plan`] is pure and total. It knows no web, no clock, no language and no number formatting; it
//! returns typed values, each with its working, and sentences whose numbers are still numbers.
//!
//! | a question about | is answered in |
//! |---|---|
//! | what can be set, its range, where its default comes from | [`scenario::registry`] |
//! | a plan as a link, links that open in every later version | [`mod@share`] |
//! | rootstocks, scion and soil vigour | [`stock`] |
//! | training systems and their usual plans | [`system`] |
//! | rows, trees, posts and anchors on the field | [`block`] |
//! | growth, crowns, fill, yearly excess | [`canopy`] |
//! | sun, sky, shade, light in the crowns and on the ground | [`light`] |
//! | posts, wires, row ends, counts | [`trellis`] |
//! | what is wrong with a plan and what cures it | [`advice`] |

#![cfg_attr(
    not(test),
    deny(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic,
        clippy::indexing_slicing,
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::float_cmp
    )
)]

pub mod advice;
pub mod block;
pub mod canopy;
pub mod choice;
pub mod digits;
pub mod light;
pub mod message;
pub mod order;
mod plan;
pub mod quantity;
pub mod scenario;
pub mod share;
pub mod stock;
pub mod system;
pub mod trellis;
pub mod working;

pub use advice::{Advice, Severity};
pub use block::outline::Outline;
pub use block::run::Run;
pub use block::{Block, Point, Station, StationKind};
pub use canopy::crown::Crown;
pub use canopy::{Canopy, CanopyYear};
pub use choice::Choice;
pub use message::{Message, Slot};
pub use plan::{Plan, plan, plan_with};
pub use quantity::{
    Quantity, SQUARE_METRES_PER_ACRE, SQUARE_METRES_PER_HECTARE, degrees, feet, ground_per_tree, inches,
    share,
};
pub use scenario::entries::{Entries, Entry};
pub use scenario::problem::{Fault, Problem};
pub use scenario::registry::{Group, Kind, Parameter, REGISTRY, parameter};
pub use scenario::{EndAssembly, LAST_YEAR, READER, Scenario, VERSION};
pub use stock::{Rootstock, ScionVigour, SoilVigour};
pub use system::{Support, TrainingSystem};
pub use trellis::Trellis;
pub use uom;
pub use working::{Certainty, Figure, Source, Subject, Term, Working};
