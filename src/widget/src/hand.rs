//! What a hand does to the plan: which number it changes now, what the plan was before, and which drawing stands in front of it.

use crate::dial::ItemKey;
use crate::reactive::{TimeoutHandle, on_cleanup, set_timeout_with_handle};
use crate::shared::Shared;
use crate::signal::{Owned, State};
use drafting::View;
use planting::{Ground, parameter};
use std::time::Duration;

/// A knob: in which drawing, and which number it sets.
pub(crate) type Knob = (View, ItemKey);

/// How long after the last change the outline of the plan before it is still shown.
const TRACED_FOR: Duration = Duration::from_secs(4);

/// The hand of a reader. It consists of handles and is copied freely.
#[derive(Clone, Copy)]
pub(crate) struct Hand {
    /// The number being changed now.
    pub(crate) on: State<Option<ItemKey>>,
    /// The plan before the last change, which sentence and outline compare with.
    pub(crate) before: State<Option<Shared<Ground>>>,
    /// Whether its outline is shown.
    pub(crate) is_traced: State<bool>,
    /// The drawing that stands in front where there is room for one only; the first of the chapter where that isn't one of its own.
    pub(crate) front: State<View>,
    /// The knob in a drawing that a finger has taken.
    pub(crate) taken: State<Option<Knob>>,
    last: Owned<Option<ItemKey>>,
    resting: Owned<Option<TimeoutHandle>>,
}

impl Hand {
    pub(crate) fn new() -> Hand {
        let hand = Hand {
            on: State::new(None),
            before: State::new(None),
            is_traced: State::new(false),
            front: State::new(View::Section),
            taken: State::new(None),
            last: Owned::new(None),
            resting: Owned::new(None),
        };
        on_cleanup(move || hand.stop_resting());
        hand
    }

    /// A number is about to be changed in this plan. Changes of one number that follow each other closely are compared with what was
    /// before the first. Another year is no change of the plan.
    pub(crate) fn begin(self, item_key: ItemKey, now: impl FnOnce() -> Shared<Ground>) {
        if self.on.with_untracked(|on| *on == Some(item_key)) {
            return;
        }
        self.stop_resting();
        if item_key.key == "year" {
            self.forget();
            return;
        }
        let goes_on = self.is_traced.get_untracked() && self.last.try_get_value().flatten() == Some(item_key);
        if !goes_on {
            self.before.set(Some(now()));
            self.last.set_value(Some(item_key));
            self.is_traced.set(true);
        }
        self.on.set(Some(item_key));
    }

    /// The hand has let go.
    pub(crate) fn rest(self) {
        if self.on.try_with_untracked(Option::is_some) != Some(true) {
            return;
        }
        self.on.set(None);
        self.stop_resting();
        let fade = move || {
            if self.is_traced.try_get_untracked() == Some(true) {
                self.is_traced.set(false);
            }
        };
        self.resting.set_value(set_timeout_with_handle(fade, TRACED_FOR).ok());
    }

    /// The plan has been replaced by another, which is compared with it in words only.
    pub(crate) fn step(self, before: Shared<Ground>) {
        self.forget();
        self.before.set(Some(before));
    }

    /// Nothing is compared with any more.
    pub(crate) fn forget(self) {
        self.stop_resting();
        self.last.set_value(None);
        if self.on.with_untracked(Option::is_some) {
            self.on.set(None);
        }
        if self.is_traced.get_untracked() {
            self.is_traced.set(false);
        }
        if self.before.with_untracked(Option::is_some) {
            self.before.set(None);
        }
    }

    /// Brings the drawing that an input changes most to the front.
    pub(crate) fn look_at(self, key: &str) {
        let view = parameter(key).and_then(|parameter| View::from_key(parameter.view));
        if let Some(view) = view.filter(|view| *view != self.front.get_untracked()) {
            self.front.set(view);
        }
    }

    fn stop_resting(self) {
        if let Some(resting) = self.resting.try_update_value(Option::take).flatten() {
            resting.clear();
        }
    }
}
