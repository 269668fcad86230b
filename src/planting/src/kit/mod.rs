//! What every trade uses and none owns: quantities, sentences, figures with their working, findings,
//! the crown as a body, numbers and lists.
//!
//! Rooms pass each other plain values of this kit and never name one another.

pub mod choice;
pub mod count;
pub mod crown;
pub mod digits;
pub mod figure;
pub mod finding;
pub mod group;
pub mod kept;
pub mod message;
pub mod money;
pub mod offers;
pub mod order;
pub mod ordering;
pub mod quantity;
pub mod row;
pub mod standing;
pub mod units;
pub mod way;
