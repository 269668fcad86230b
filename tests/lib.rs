//! Fixtures the checks share.
