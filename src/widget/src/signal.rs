//! Signals, memos and stored values that are one type to the compiler, whatever they hold.
//!
//! Leptos's own are generic: it writes out their code for each type they hold and each closure they call. Here each is a thin
//! handle over a single one of Leptos's, which holds a counted box. Names and meaning are Leptos's; what is there is what the page uses.

use leptos::prelude as reactive;
use leptos::prelude::{Effect, Get, GetUntracked, GetValue, LocalStorage, Set, Track};
use std::any::Any;
use std::cell::RefCell;
use std::marker::PhantomData;
use std::rc::Rc;
use std::sync::Arc;

/// Any value, and how it is compared with one of its kind.
#[derive(Clone)]
struct Held {
    value: Arc<dyn Any + Send + Sync>,
    same: fn(&dyn Any, &dyn Any) -> bool,
}

impl PartialEq for Held {
    fn eq(&self, other: &Held) -> bool {
        (self.same)(&*self.value, &*other.value)
    }
}

impl Held {
    /// A value that is taken as another each time.
    fn anew<T: Send + Sync + 'static>(value: T) -> Held {
        Held { value: Arc::new(value), same: |_, _| false }
    }

    /// A value that is compared.
    fn compared<T: PartialEq + Send + Sync + 'static>(value: T) -> Held {
        let same = |a: &dyn Any, b: &dyn Any| a.downcast_ref::<T>() == b.downcast_ref::<T>();
        Held { value: Arc::new(value), same }
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

/// A value that can be set, and is followed by whoever reads it.
pub(crate) struct RwSignal<T>(reactive::RwSignal<Held>, PhantomData<fn() -> T>);

impl<T> Copy for RwSignal<T> {}

impl<T> Clone for RwSignal<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T: Send + Sync + 'static> RwSignal<T> {
    pub(crate) fn new(value: T) -> Self {
        RwSignal(reactive::RwSignal::new(Held::anew(value)), PhantomData)
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
        self.0.set(Held::anew(value));
    }
}

impl<T: Clone + Send + Sync + 'static> RwSignal<T> {
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

/// A value worked out from others, when one of them has changed; followed where it comes out different.
pub(crate) struct Memo<T>(reactive::Memo<Held>, PhantomData<fn() -> T>);

impl<T> Copy for Memo<T> {}

impl<T> Clone for Memo<T> {
    fn clone(&self) -> Self {
        *self
    }
}

type Work = Box<dyn Fn(Option<&Held>) -> Held + Send + Sync>;

fn memo(work: Work) -> reactive::Memo<Held> {
    reactive::Memo::new(work)
}

impl<T: PartialEq + Send + Sync + 'static> Memo<T> {
    pub(crate) fn new(work: impl Fn(Option<&T>) -> T + Send + Sync + 'static) -> Self {
        let work = move |before: Option<&Held>| Held::compared(work(before.map(Held::read)));
        Memo(memo(Box::new(work)), PhantomData)
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

impl<T: Clone + PartialEq + Send + Sync + 'static> Memo<T> {
    pub(crate) fn get(self) -> T {
        self.with(T::clone)
    }

    pub(crate) fn get_untracked(self) -> T {
        self.with_untracked(T::clone)
    }
}

type Place = Rc<RefCell<dyn Any>>;

/// A value that lives as long as its owner and that nobody follows.
pub(crate) struct StoredValue<T>(reactive::StoredValue<Place, LocalStorage>, PhantomData<fn() -> T>);

impl<T> Copy for StoredValue<T> {}

impl<T> Clone for StoredValue<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T: 'static> StoredValue<T> {
    pub(crate) fn new(value: T) -> Self {
        let place: Place = Rc::new(RefCell::new(value));
        StoredValue(reactive::StoredValue::new_local(place), PhantomData)
    }

    /// Nothing where the owner is gone.
    pub(crate) fn try_update_value<U>(self, change: impl FnOnce(&mut T) -> U) -> Option<U> {
        let place = self.0.try_get_value()?;
        let mut value = place.borrow_mut();
        value.downcast_mut().map(change)
    }

    pub(crate) fn set_value(self, value: T) {
        // What was there is let go of when nothing is borrowed any more: letting go may lead back here.
        drop(self.try_update_value(|place| std::mem::replace(place, value)));
    }
}

impl<T: Clone + 'static> StoredValue<T> {
    /// Nothing where the owner is gone.
    pub(crate) fn try_get_value(self) -> Option<T> {
        self.try_update_value(|value| value.clone())
    }

    /// # Panics
    /// Where the owner is gone.
    pub(crate) fn get_value(self) -> T {
        match self.try_get_value() {
            Some(value) => value,
            None => panic!("read after its owner was gone"),
        }
    }
}

/// Does something once what is read in `followed` has changed, not at once.
pub(crate) fn watch(followed: impl Fn() + 'static, act: impl FnMut() + 'static) {
    watch_boxed(Box::new(followed), Box::new(act));
}

fn watch_boxed(followed: Box<dyn Fn()>, mut act: Box<dyn FnMut()>) {
    Effect::watch(followed, move |(), _, _| act(), false);
}
