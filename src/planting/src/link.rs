//! A plan as a short text for an address, and back; the codec is the [register's](crate::register::link).

pub use crate::register::link::{LONGEST, appended};
pub use crate::scenario::{read_link as read, write_link as write};
