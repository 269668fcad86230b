//! The values a page is made of, and how it follows them.
//!
//! | ours | over Leptos's | what it is |
//! |---|---|---|
//! | [`State`] | `RwSignal` | a value that can be set; whoever reads it with `get` or `with` runs again when it is set |
//! | [`Derived`] | `Memo` | a value worked out from others; whoever reads it runs again when it comes out different |
//! | [`Owned`] | `StoredValue` | a value that nobody follows; it ends with the part of the page that owns it |
//! | [`when_changed`] | `Effect::watch` | does something once what it follows has changed |
//!
//! All are handles, copied freely. Leptos's own are generic: the compiler writes out their code for each type they hold and each
//! closure they call. Here each is a thin handle over a single one of Leptos's, which holds a counted box, so that there is one
//! code whatever they hold. Methods ending in `_untracked` read without following; those beginning with `try_` give nothing where
//! the owner is gone, instead of panicking.

use crate::reactive;
use crate::reactive::{Effect, Get, GetUntracked, GetValue, LocalStorage, Set, Track};
use std::any::Any;
use std::cell::RefCell;
use std::marker::PhantomData;
use std::rc::Rc;
use std::sync::Arc;

/// A value of any type, with the function that compares it with another of its type.
#[derive(Clone)]
struct AnyValue {
    value: Arc<dyn Any + Send + Sync>,
    same: fn(&dyn Any, &dyn Any) -> bool,
}

impl PartialEq for AnyValue {
    fn eq(&self, other: &AnyValue) -> bool {
        (self.same)(&*self.value, &*other.value)
    }
}

impl AnyValue {
    /// A value that counts as changed whenever it is set: it is never equal to another.
    fn anew<T: Send + Sync + 'static>(value: T) -> AnyValue {
        AnyValue { value: Arc::new(value), same: |_, _| false }
    }

    /// A value that counts as changed only when it differs from the one before it.
    fn compared<T: PartialEq + Send + Sync + 'static>(value: T) -> AnyValue {
        let same = |a: &dyn Any, b: &dyn Any| a.downcast_ref::<T>() == b.downcast_ref::<T>();
        AnyValue { value: Arc::new(value), same }
    }

    /// # Panics
    /// Never: the handle that reads a value is of the type it was made with.
    fn read<T: 'static>(&self) -> &T {
        match self.value.downcast_ref() {
            Some(value) => value,
            None => unreachable!(),
        }
    }
}

/// A value that can be set. Whoever reads it by `get` or `with` in a closure that is followed runs again when it is set.
pub(crate) struct State<T>(reactive::RwSignal<AnyValue>, PhantomData<fn() -> T>);

impl<T> Copy for State<T> {}

impl<T> Clone for State<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T: Send + Sync + 'static> State<T> {
    pub(crate) fn new(value: T) -> Self {
        State(reactive::RwSignal::new(AnyValue::anew(value)), PhantomData)
    }

    pub(crate) fn with<U>(self, read: impl FnOnce(&T) -> U) -> U {
        read(self.0.get().read())
    }

    pub(crate) fn with_untracked<U>(self, read: impl FnOnce(&T) -> U) -> U {
        read(self.0.get_untracked().read())
    }

    /// Nothing where the signal's owner is gone.
    pub(crate) fn try_with_untracked<U>(self, read: impl FnOnce(&T) -> U) -> Option<U> {
        self.0.try_get_untracked().map(|held| read(held.read()))
    }

    pub(crate) fn track(self) {
        self.0.track();
    }

    /// Does nothing where the signal's owner is gone.
    pub(crate) fn set(self, value: T) {
        self.0.set(AnyValue::anew(value));
    }
}

impl<T: Clone + Send + Sync + 'static> State<T> {
    pub(crate) fn get(self) -> T {
        self.with(T::clone)
    }

    pub(crate) fn get_untracked(self) -> T {
        self.with_untracked(T::clone)
    }

    /// Nothing where the signal's owner is gone.
    pub(crate) fn try_get_untracked(self) -> Option<T> {
        self.try_with_untracked(T::clone)
    }

    pub(crate) fn update(self, change: impl FnOnce(&mut T)) {
        let mut value = self.get_untracked();
        change(&mut value);
        self.set(value);
    }
}

/// A value worked out from others. It is worked out again when one of them has changed, and those who follow it run again only when
/// it comes out different.
pub(crate) struct Derived<T>(reactive::Memo<AnyValue>, PhantomData<fn() -> T>);

impl<T> Copy for Derived<T> {}

impl<T> Clone for Derived<T> {
    fn clone(&self) -> Self {
        *self
    }
}

/// Works a value out, given the one before it.
type WorkOf<T> = Box<dyn Fn(Option<&T>) -> T + Send + Sync>;

/// The same for values of any type.
type Work = Box<dyn Fn(Option<&AnyValue>) -> AnyValue + Send + Sync>;

fn memo(work: Work) -> reactive::Memo<AnyValue> {
    reactive::Memo::new(work)
}

impl<T: PartialEq + Send + Sync + 'static> Derived<T> {
    /// Apart from `new`, so that the compiler writes it out once for each type that is held and not for each closure.
    fn of(work: WorkOf<T>) -> Self {
        let work = move |before: Option<&AnyValue>| AnyValue::compared(work(before.map(AnyValue::read)));
        Derived(memo(Box::new(work)), PhantomData)
    }

    pub(crate) fn new(work: impl Fn(Option<&T>) -> T + Send + Sync + 'static) -> Self {
        Derived::of(Box::new(work))
    }

    pub(crate) fn with<U>(self, read: impl FnOnce(&T) -> U) -> U {
        read(self.0.get().read())
    }

    pub(crate) fn with_untracked<U>(self, read: impl FnOnce(&T) -> U) -> U {
        read(self.0.get_untracked().read())
    }

    pub(crate) fn track(self) {
        self.0.track();
    }
}

impl<T: Clone + PartialEq + Send + Sync + 'static> Derived<T> {
    pub(crate) fn get(self) -> T {
        self.with(T::clone)
    }

    pub(crate) fn get_untracked(self) -> T {
        self.with_untracked(T::clone)
    }
}

type Contents = Rc<RefCell<dyn Any>>;

/// A value that nobody follows. It ends with its owner, which is the part of the page being made when `new` is called.
pub(crate) struct Owned<T>(reactive::StoredValue<Contents, LocalStorage>, PhantomData<fn() -> T>);

impl<T> Copy for Owned<T> {}

impl<T> Clone for Owned<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T: 'static> Owned<T> {
    pub(crate) fn new(value: T) -> Self {
        let contents: Contents = Rc::new(RefCell::new(value));
        Owned(reactive::StoredValue::new_local(contents), PhantomData)
    }

    /// Nothing where the owner is gone.
    pub(crate) fn try_update_value<U>(self, change: impl FnOnce(&mut T) -> U) -> Option<U> {
        let contents = self.0.try_get_value()?;
        let mut value = contents.borrow_mut();
        value.downcast_mut().map(change)
    }

    pub(crate) fn set_value(self, value: T) {
        // What was there is let go of when nothing is borrowed any more: letting go may lead back here.
        drop(self.try_update_value(|contents| std::mem::replace(contents, value)));
    }
}

impl<T: Clone + 'static> Owned<T> {
    /// Nothing where the owner is gone.
    pub(crate) fn try_get_value(self) -> Option<T> {
        self.try_update_value(|value| value.clone())
    }

    /// # Panics
    /// Where the owner is gone.
    #[cfg_attr(not(test), expect(clippy::panic, reason = "asked only by what ends with the owner"))]
    pub(crate) fn get_value(self) -> T {
        match self.try_get_value() {
            Some(value) => value,
            None => panic!("read after its owner was gone"),
        }
    }
}

/// Calls `act` each time something has changed that `followed` reads; not now, when nothing has changed yet.
pub(crate) fn when_changed(followed: impl Fn() + 'static, act: impl FnMut() + 'static) {
    when_changed_boxed(Box::new(followed), Box::new(act));
}

fn when_changed_boxed(followed: Box<dyn Fn()>, mut act: Box<dyn FnMut()>) {
    Effect::watch(followed, move |(), _, _| act(), false);
}
