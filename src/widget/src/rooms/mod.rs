//! What a page can do without until it stands: each part comes in a file of its own, by its key.
//!
//! A room is the code of one chapter. Print, files and words belong to every chapter and come in the same way. The build cuts the
//! module at the functions behind [`door!`] (`xtask/src/site/wasm.rs`): what only one of them reaches goes into its file, and
//! what several reach into files that they share. So the names behind a door are written nowhere else in this crate, and no door names
//! what is behind another. Everybody goes through `now` of a room, which gives the functions behind its door or nothing.

mod room;

pub(crate) use room::{Basis, Room};

use crate::reactive::on_cleanup;
use crate::signal::State;
use js_sys::Function;
use std::cell::RefCell;
use std::future::Future;
use std::pin::Pin;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::spawn_local;

/// A part that comes in a file of its own.
struct Door {
    key: &'static str,
    is_here: fn() -> bool,
    fetch: fn() -> Pin<Box<dyn Future<Output = bool>>>,
}

/// A door: the key of its file, and what is behind it. Gives `now`, which is what has come or nothing, `is_here` and `fetch`.
///
/// Without the feature `rooms` everything is in the first file.
macro_rules! door {
    ($key:ident, $behind:ident $doors:tt) => {
        #[cfg(feature = "rooms")]
        #[wasm_split_helpers::wasm_split($key, fallible)]
        fn behind() -> Result<$behind, wasm_split_helpers::SplitLoaderError> {
            Ok($behind $doors)
        }

        #[cfg(not(feature = "rooms"))]
        async fn behind() -> Result<$behind, ()> {
            Ok($behind $doors)
        }

        thread_local! {
            static HERE: std::cell::Cell<Option<$behind>> = const { std::cell::Cell::new(None) };
        }

        /// What is behind the door, once it has come.
        pub(crate) fn now() -> Option<$behind> {
            HERE.get()
        }

        pub(super) fn is_here() -> bool {
            now().is_some()
        }

        pub(super) async fn fetch() -> bool {
            let Ok(come) = behind().await else { return false };
            HERE.set(Some(come));
            true
        }
    };
}

/// Opens the files of this folder: one for each room of the manifest, then those that belong to every chapter.
macro_rules! open {
    (ground $ground:ident $facts:tt $(room $room:ident $more:tt)*) => {
        open! { $($room)* print files words }

        /// The room of a chapter, once it has come.
        pub(crate) fn chapter_room(key: &str) -> Option<Room> {
            match key {
                $(stringify!($room) => $room::now(),)*
                _ => None,
            }
        }
    };
    ($($door:ident)*) => {
        $(pub(crate) mod $door;)*

        static DOORS: &[Door] =
            &[$(Door { key: stringify!($door), is_here: $door::is_here, fetch: || Box::pin($door::fetch()) }),*];
    };
}
planting::rooms!(open);

/// A part that could not be fetched.
struct Miss {
    key: &'static str,
    /// Why, in words for the reader, once that is known.
    words: String,
    /// Whether somebody waits for it; what was fetched ahead of need is missed in silence.
    is_asked_for: bool,
}

thread_local! {
    /// One count for each planner of the page, by the planner's number. It grows when a part has come or could not be fetched.
    static NEWS: RefCell<Vec<(usize, State<u32>)>> = const { RefCell::new(Vec::new()) };
    static MISSED: RefCell<Vec<Miss>> = const { RefCell::new(Vec::new()) };
    /// Called with the key of a part that could not be fetched; finds out why and tells it to [`told_why`].
    static WHY: RefCell<Option<Function>> = const { RefCell::new(None) };
}

/// A signal that changes when a part has come or could not be fetched, for the planner of this number.
pub(crate) fn news(number: usize) -> State<u32> {
    let news = State::new(0);
    NEWS.with_borrow_mut(|all| all.push((number, news)));
    on_cleanup(move || NEWS.with_borrow_mut(|all| all.retain(|one| one.0 != number)));
    news
}

fn tell() {
    // A copy of the list: those who are told may mount or take away a planner, which changes the list.
    for (_, news) in NEWS.with_borrow(Vec::clone) {
        news.update(|count| *count = count.wrapping_add(1));
    }
}

/// Sets the function that is asked why a part could not be fetched.
pub(crate) fn ask_why(why: Function) {
    WHY.set(Some(why));
}

fn door(key: &str) -> Option<&'static Door> {
    DOORS.iter().find(|door| door.key == key)
}

/// Whether the part of this key is here; a key that names none needs no fetching.
pub(crate) fn is_here(key: &str) -> bool {
    door(key).is_none_or(|door| (door.is_here)())
}

/// Fetches a part where it isn't there yet; false where it couldn't be fetched. The next one who asks tries again.
pub(crate) async fn come(key: &str) -> bool {
    fetched(key, true).await
}

async fn fetched(key: &str, is_asked_for: bool) -> bool {
    let Some(door) = door(key).filter(|door| !(door.is_here)()) else { return true };
    let has_come = (door.fetch)().await;
    MISSED.with_borrow_mut(|missed| {
        missed.retain(|miss| miss.key != door.key);
        if !has_come {
            missed.push(Miss { key: door.key, words: String::new(), is_asked_for });
        }
    });
    if has_come {
        tell();
    } else if let Some(why) = WHY.with_borrow(Clone::clone) {
        // An error that it throws appears on the console by itself.
        let _ = why.call1(&JsValue::UNDEFINED, &door.key.into());
    }
    has_come
}

/// Takes down why the part of this key could not be fetched.
pub(crate) fn told_why(key: &str, words: String) {
    MISSED.with_borrow_mut(|missed| {
        if let Some(miss) = missed.iter_mut().find(|miss| miss.key == key) {
            miss.words = words;
        }
    });
    tell();
}

/// Why the part of this key, which somebody waits for, isn't here; none where it is or is on its way.
pub(crate) fn missed(key: &str) -> Option<String> {
    MISSED.with_borrow(|missed| {
        let miss = missed.iter().find(|miss| miss.key == key && miss.is_asked_for)?;
        (!miss.words.is_empty()).then(|| miss.words.clone())
    })
}

/// Fetches a part that somebody waits for; whoever reads it follows the news of its coming.
pub(crate) fn ask(key: &'static str) {
    spawn(key, true);
}

fn spawn(key: &'static str, is_asked_for: bool) {
    spawn_local(async move {
        fetched(key, is_asked_for).await;
    });
}

/// Whether every part is here.
pub(crate) fn are_all_here() -> bool {
    DOORS.iter().all(|door| (door.is_here)())
}

/// Fetches what nobody has asked for yet. What could not be fetched before waits until it is asked for.
pub(crate) fn fetch_ahead() {
    for door in DOORS {
        if !MISSED.with_borrow(|missed| missed.iter().any(|miss| miss.key == door.key)) {
            spawn(door.key, false);
        }
    }
}

/// Keys of the parts that tell of all rooms at once.
pub(crate) const WHOLE: [&str; 1] = ["files"];
