//! Inputs in general: what one is, its values as files and links hold them, what can be wrong with them.
//!
//! The register knows no trade. A room lists its own inputs with [`inputs!`](crate::register::table::inputs), and
//! the scenario puts the rooms' lists together.
//!
//! | a question about | is answered in |
//! |---|---|
//! | ranges, steps, choices, lists | [`parameter`] |
//! | how a room lists its inputs | [`table`] |
//! | a file before it is checked | [`entries`] |
//! | what is wrong with a field | [`problem`] |
//! | a plan as a short text for an address | [`link`] |

pub mod entries;
pub mod link;
pub mod parameter;
pub mod problem;
pub mod scale;
pub mod table;
