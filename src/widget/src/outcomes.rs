//! What the rooms beyond the ground have computed for the plan on the desk.
//!
//! A room is computed when somebody reads its results, and not before: a slider of Layout computes no light. What takes
//! long waits until the plan stands still: what a room sums over all years, and what other chapters' rules find.

use crate::reactive::untrack;
use crate::rooms::{self, Room};
use crate::shared::Shared;
use crate::signal::{Derived, Owned, State};
use planting::kit::offers::Offers;
use planting::manifest::CHAPTERS;
use planting::trade::Outcome;
use planting::{Advice, Ground};
use std::any::Any;
use std::sync::Arc;

/// A room's outcome, and what it and the rooms computed before it offer to later ones.
pub(crate) struct Computed {
    pub(crate) outcome: Arc<dyn Outcome>,
    offers: Offers,
}

/// One room on a desk.
#[derive(Clone, Copy)]
pub(crate) struct Results {
    /// The key of its chapter.
    pub(crate) key: &'static str,
    /// What it has computed for the ground as it is; nothing before it has come.
    pub(crate) live: Derived<Option<Shared<Computed>>>,
    /// What its rules found when the plan last stood still.
    rested: State<Option<Rested>>,
    memory: Owned<Option<Box<dyn Any>>>,
}

/// Findings, and the ground they are of.
#[derive(Clone)]
struct Rested {
    ground: Shared<Ground>,
    advice: Vec<Advice>,
}

/// Every room of the manifest, for the grounds of a desk; `news` tells when a room has come.
pub(crate) fn all(ground: Derived<Shared<Ground>>, news: State<u32>) -> Vec<Results> {
    let mut all: Vec<Results> = Vec::new();
    for chapter in CHAPTERS.iter().filter(|chapter| chapter.file.is_some()) {
        let (key, before) = (chapter.key, all.clone());
        let memory = Owned::new(None);
        let live = Derived::new(move |_| {
            news.track();
            let room = rooms::chapter_room(key)?;
            let offers = offered(&room, &before);
            Some(Shared::new(compute(&room, &ground.get(), offers, memory)))
        });
        all.push(Results { key, live, rested: State::new(None), memory });
    }
    all
}

/// What the rooms computed before this one offer, of all that this one asks for.
fn offered(room: &Room, before: &[Results]) -> Offers {
    let mut offers = Offers::default();
    for earlier in before {
        let offers_it = |other: Room| room.asks.iter().any(|asked| other.offers.contains(asked));
        if rooms::chapter_room(earlier.key).is_some_and(offers_it)
            && let Some(put) = earlier.live.get()
        {
            offers.add(&put.offers);
        }
    }
    offers
}

fn compute(
    room: &Room,
    ground: &Ground,
    mut offers: Offers,
    memory: Owned<Option<Box<dyn Any>>>,
) -> Computed {
    let outcome = memory.try_update_value(|memory| {
        let memory = memory.get_or_insert_with(room.memory);
        (room.put)(ground, &mut offers, &mut **memory)
    });
    // Where the desk is gone, nobody reads the outcome; it is computed without a memory all the same.
    let outcome = outcome.unwrap_or_else(|| (room.put)(ground, &mut offers, &mut *(room.memory)()));
    Computed { outcome, offers }
}

impl Results {
    /// Asks the rules about a ground that stands still, with what the rooms before this one offer.
    pub(crate) fn rest(self, ground: &Shared<Ground>, before: &[Results]) {
        let Some(room) = rooms::chapter_room(self.key) else { return };
        let is_at_rest =
            self.rested.try_with_untracked(|rested| rested.as_ref().is_some_and(|it| it.ground == *ground));
        if is_at_rest == Some(false) {
            let offers = untrack(|| offered(&room, before));
            let put = compute(&room, ground, offers, self.memory);
            self.rested.set(Some(Rested { ground: ground.clone(), advice: put.outcome.advice() }));
        }
    }

    /// Whether the rules have been asked about this ground while it stood still.
    pub(crate) fn is_at_rest(self, ground: &Shared<Ground>) -> bool {
        self.rested.with(|rested| rested.as_ref().is_some_and(|it| it.ground == *ground))
    }

    /// What the room's rules find. While a hand moves: in its own chapter what holds now, elsewhere what was found last.
    pub(crate) fn advice(self, ground: &Shared<Ground>, is_shown: bool) -> Vec<Advice> {
        if is_shown && !self.is_at_rest(ground) {
            return self.live.with(|put| put.as_ref().map(|put| put.outcome.advice())).unwrap_or_default();
        }
        self.rested.with(|rested| rested.as_ref().map(|it| it.advice.clone())).unwrap_or_default()
    }

    /// Does something with the room's memory.
    pub(crate) fn with_memory<T>(self, room: &Room, act: impl FnOnce(&mut dyn Any) -> T) -> Option<T> {
        self.memory.try_update_value(|memory| act(&mut **memory.get_or_insert_with(room.memory)))
    }
}
