//! Fixtures the checks share.

#![allow(clippy::disallowed_methods, reason = "what runs on the host needn't be small")]

pub mod hostile;
pub mod orders;
