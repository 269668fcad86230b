//! The model of a trellised, high-density apple planting: scenario in, plan out.
//!
//! [`plan`] is pure and total. It knows no web, no clock, no language and no number formatting; it
//! returns typed values, each with its working, and sentences whose numbers are still numbers.
//!
//! Each trade is a room: a folder with its inputs, its computation (one file a noun), its figures and their workings,
//! its rules. Rooms never name each other; what one needs of another is handed over in [`ground`] and [`mod@plan`] as plain
//! values of the [`kit`].
//!
//! | a question about | is answered in |
//! |---|---|
//! | what every trade uses: quantities, sentences, figures, findings, the crown as a body | [`kit`] |
//! | inputs in general, files, links, what is wrong with a field | [`register`] |
//! | everything that can be set | [`scenario`]; each room's `inputs.rs` |
//! | training systems and what is usual for them | [`system`] |
//! | rows and trees on the field | [`block`] |
//! | rootstocks, growth, crowns, fill, yearly excess | [`canopy`] |
//! | posts, wires, row ends, counts | [`trellis`] |
//! | what the trellis carries, needs and costs | [`loads`] |
//! | sun, sky, shade, light in the crowns and on the ground | [`light`] |
//! | crop load, thinning, pruning, a tree to prune | [`crop`] |
//! | field, crowns and trellis together, computed at every step | [`ground`] |
//! | all rooms in one call | [`fn@plan`] |
//! | what cures a finding, tried on the whole plan | [`remedies`] |
//! | the chapters of the page, the list of rooms | [`manifest`]; what a room is: [`trade`] |

#![cfg_attr(test, allow(clippy::disallowed_methods, reason = "tests run on the host"))]
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

pub mod block;
pub mod canopy;
pub mod change;
pub mod crop;
pub mod ground;
pub mod kit;
pub mod link;
pub mod loads;
pub mod manifest;
pub mod plan;
pub mod register;
pub mod remedies;
pub mod scenario;
pub mod system;
pub mod trade;
pub mod trellis;

macro_rules! modules {
    (ground $ground:ident $facts:tt $(room $room:ident $more:tt)*) => {
        $(pub mod $room;)*
    };
}
rooms!(modules);

pub use block::Block;
pub use block::outline::Outline;
pub use canopy::pace::GrowthPace;
pub use canopy::stock::{Rootstock, ScionVigour, SoilVigour};
pub use canopy::{Canopy, CanopyYear, LAST_YEAR};
pub use ground::Ground;
pub use kit::choice::Choice;
pub use kit::crown::Crown;
pub use kit::figure::{Certainty, Figure, Named, Source, Subject, Term, Working};
pub use kit::finding::{Advice, Change, Remedy, Rounding, Setting, Severity};
pub use kit::group::Group;
pub use kit::message::{Message, Slot};
pub use kit::ordering::OrderLine;
pub use kit::quantity::{
    Quantity, SQUARE_METRES_PER_ACRE, SQUARE_METRES_PER_HECTARE, degrees, feet, inches, share,
};
pub use kit::row::{FieldPoint, Leaning, Run, Spacing, Station, StationKind};
pub use kit::standing::SupportNeed;
pub use kit::{digits, order};
pub use plan::{Memory, Plan, figure_names, findings, plan, plan_with};
pub use register::entries::{Entries, Entry};
pub use register::problem::{Fault, Problem};
pub use register::table::Note;
pub use scenario::{
    ChoiceList, Kind, Lengths, Number, Parameter, READER, REGISTRY, Scenario, VERSION, control_groups,
    groups, note, parameter,
};
pub use system::TrainingSystem;
pub use trellis::{EndAssembly, PostedRun, Support, Trellis};
pub use uom;
