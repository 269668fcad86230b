//! A large value that many read: a ground, a sheet, what a room has computed.

use std::ops::Deref;
use std::sync::Arc;

/// A large value held by many readers. Two are equal only where they are the very same value: comparing a plan tree by tree would
/// cost more than drawing it again.
pub(crate) struct Shared<T>(Arc<T>);

impl<T> Shared<T> {
    pub(crate) fn new(inner: T) -> Self {
        Shared(Arc::new(inner))
    }
}

impl<T> Clone for Shared<T> {
    fn clone(&self) -> Self {
        Shared(Arc::clone(&self.0))
    }
}

impl<T> PartialEq for Shared<T> {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }
}

impl<T> Deref for Shared<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.0
    }
}
