//! Fixtures the checks share.

pub mod hostile;
