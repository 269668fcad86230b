//! Pieces of the page: elements that are made once and keep themselves up to date.
//!
//! A view written with `view!` has a type of its own for each element, attribute and closure in it, and the compiler writes out
//! the code of each. Here every attribute is one type, every text one and every list one, whatever they show: the module is
//! about a third smaller for it. Signals, memos and owners are Leptos's.
//!
//! What is read inside a closure (`says`, `reads`, `shows` …) is followed; the page changes where its answer does.

use crate::dial::ItemKey;
use crate::is_broken;
use crate::reactive::*;
use crate::signal::{Owned, State};
use js_sys::Reflect;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Element, Event, HtmlElement, Node};

const SVG: &str = "http://www.w3.org/2000/svg";

/// An element with all that hangs on it, or a text.
#[derive(Clone)]
pub(crate) struct Piece(Node);

/// A text that changes.
pub(crate) type LiveText = std::rc::Rc<dyn Fn() -> String>;

/// An HTML element.
pub(crate) fn html(tag: &str) -> Piece {
    made(document().create_element(tag))
}

/// An element of a drawing.
pub(crate) fn svg(tag: &str) -> Piece {
    made(document().create_element_ns(Some(SVG), tag))
}

/// An HTML element of a class.
pub(crate) fn classed(tag: &str, class: &str) -> Piece {
    html(tag).set("class", class)
}

/// A button that takes part in no form.
pub(crate) fn button(class: &str) -> Piece {
    classed("button", class).set("type", "button")
}

/// A part that can be folded; the signal tells whether it is open, whoever opened it.
pub(crate) fn folded(class: &str, open: State<bool>) -> Piece {
    let details = classed("details", class);
    let element = details.element();
    details.turns("open", move || open.get()).on("toggle", move |_: Event| {
        let is_open = element.has_attribute("open");
        if open.try_with_untracked(|open| *open != is_open) == Some(true) {
            open.set(is_open);
        }
    })
}

/// A text.
pub(crate) fn text(words: &str) -> Piece {
    Piece(document().create_text_node(words).into())
}

/// # Panics
/// Where the browser makes no element. The page is then broken, and whoever loaded it is told.
#[cfg_attr(
    not(test),
    expect(clippy::panic, reason = "without elements there is no page; whoever loaded it is told")
)]
fn made(element: Result<Element, JsValue>) -> Piece {
    match element {
        Ok(element) => Piece(element.into()),
        Err(_) => panic!("the browser makes no element"),
    }
}

/// Runs now, and again whenever something it reads has changed, until its owner is gone.
fn follow(mut run: Box<dyn FnMut()>) {
    Owned::new(RenderEffect::new(move |_: Option<()>| run()));
}

/// Takes a value to where it is shown.
type ShowText = Box<dyn FnMut(Option<&str>)>;

/// Follows a value and hands it on where it isn't the one before.
fn follow_words(value: Box<dyn Fn() -> Option<String>>, mut put: ShowText) {
    let mut before: Option<Option<String>> = None;
    follow(Box::new(move || {
        let now = value();
        if before.as_ref() != Some(&now) {
            put(now.as_deref());
            before = Some(now);
        }
    }));
}

fn follow_mark(value: Box<dyn Fn() -> bool>, mut put: Box<dyn FnMut(bool)>) {
    let mut before = None;
    follow(Box::new(move || {
        let now = Some(value());
        if before != now {
            put(now == Some(true));
            before = now;
        }
    }));
}

impl Piece {
    /// The element itself.
    pub(crate) fn element(&self) -> Element {
        self.0.clone().unchecked_into()
    }

    /// An attribute that stays.
    pub(crate) fn set(self, name: &str, value: &str) -> Piece {
        // Names of attributes are ours and well formed; nothing else can fail.
        let _ = self.element().set_attribute(name, value);
        self
    }

    /// An attribute that stays, where there is a value.
    pub(crate) fn may(self, name: &str, value: Option<String>) -> Piece {
        match value {
            Some(value) => self.set(name, &value),
            None => self,
        }
    }

    /// An attribute that changes.
    pub(crate) fn says(self, name: &'static str, value: impl Fn() -> String + 'static) -> Piece {
        self.may_say(name, move || Some(value()))
    }

    /// An attribute that changes, absent where there is no value.
    pub(crate) fn may_say(self, name: &'static str, value: impl Fn() -> Option<String> + 'static) -> Piece {
        let element = self.element();
        let put = move |value: Option<&str>| {
            let _ = match value {
                Some(value) => element.set_attribute(name, value),
                None => element.remove_attribute(name),
            };
        };
        follow_words(Box::new(value), Box::new(put));
        self
    }

    /// An attribute that is there or not.
    pub(crate) fn marked(self, name: &'static str, value: impl Fn() -> bool + 'static) -> Piece {
        self.may_say(name, move || value().then(String::new))
    }

    /// A class that is there or not.
    pub(crate) fn is(self, class: &'static str, value: impl Fn() -> bool + 'static) -> Piece {
        let classes = self.element().class_list();
        follow_mark(
            Box::new(value),
            Box::new(move |on| {
                let _ = classes.toggle_with_force(class, on);
            }),
        );
        self
    }

    /// A property of style that changes.
    pub(crate) fn styled(self, name: &'static str, value: impl Fn() -> Option<String> + 'static) -> Piece {
        let style = self.element().unchecked_into::<HtmlElement>().style();
        let put = move |value: Option<&str>| {
            let _ = match value {
                Some(value) => style.set_property(name, value),
                None => style.remove_property(name).map(drop),
            };
        };
        follow_words(Box::new(value), Box::new(put));
        self
    }

    /// What a field holds.
    pub(crate) fn holds(self, value: impl Fn() -> Option<String> + 'static) -> Piece {
        let element = self.element();
        let put = move |value: Option<&str>| {
            let _ = Reflect::set(&element, &"value".into(), &value.into());
        };
        follow_words(Box::new(value), Box::new(put));
        self
    }

    /// A property that is true or false, as `open` and `selected` are.
    pub(crate) fn turns(self, name: &'static str, value: impl Fn() -> bool + 'static) -> Piece {
        let element = self.element();
        let put = move |on: bool| {
            let _ = Reflect::set(&element, &name.into(), &on.into());
        };
        follow_mark(Box::new(value), Box::new(put));
        self
    }

    /// Does something at an event.
    pub(crate) fn on<E: JsCast>(self, event: &'static str, mut act: impl FnMut(E) + 'static) -> Piece {
        self.listen(event, Box::new(move |event| act(event.unchecked_into())))
    }

    fn listen(self, event: &'static str, mut act: Box<dyn FnMut(Event)>) -> Piece {
        let act = Box::new(move |event| {
            if !is_broken() {
                act(event);
            }
        });
        let heard = Heard { node: self.0.clone(), event, act: Closure::wrap(act as Box<dyn FnMut(Event)>) };
        let _ = self.0.add_event_listener_with_callback(event, heard.act.as_ref().unchecked_ref());
        // Held by the owner and dropped with it. Left to the garbage collector, the listeners of pieces that come and go a thousand
        // times would fill the module's memory.
        Owned::new(heard);
        self
    }

    /// A text in it.
    pub(crate) fn text(self, words: &str) -> Piece {
        self.with(text(words))
    }

    /// A text in it that changes.
    pub(crate) fn reads(self, value: impl Fn() -> String + 'static) -> Piece {
        let words = text("");
        let node = words.0.clone();
        follow_words(Box::new(move || Some(value())), Box::new(move |words| node.set_text_content(words)));
        self.with(words)
    }

    /// Markup in it that changes.
    pub(crate) fn marked_up(self, value: impl Fn() -> String + 'static) -> Piece {
        let element = self.element();
        let put = move |markup: Option<&str>| element.set_inner_html(markup.unwrap_or_default());
        follow_words(Box::new(move || Some(value())), Box::new(put));
        self
    }

    /// A piece in it.
    pub(crate) fn with(self, piece: Piece) -> Piece {
        let _ = self.0.append_child(&piece.0);
        self
    }

    /// Pieces in it.
    pub(crate) fn with_all(self, pieces: Vec<Piece>) -> Piece {
        pieces.into_iter().fold(self, Piece::with)
    }

    /// Pieces in it that are made anew whenever something read in their making has changed.
    pub(crate) fn shows(self, pieces: impl Fn() -> Vec<Piece> + 'static) -> Piece {
        self.follow_pieces(Box::new(pieces))
    }

    fn follow_pieces(self, pieces: Box<dyn Fn() -> Vec<Piece>>) -> Piece {
        let end: Node = document().create_comment("").into();
        let _ = self.0.append_child(&end);
        let parent = self.0.clone();
        let mut shown: Vec<Piece> = Vec::new();
        follow(Box::new(move || {
            let next = pieces();
            for piece in std::mem::replace(&mut shown, next) {
                let _ = parent.remove_child(&piece.0);
            }
            for piece in &shown {
                let _ = parent.insert_before(&piece.0, Some(&end));
            }
        }));
        self
    }

    /// Pieces in it for each key of a list. As long as a key stays in the list, its pieces stay, and with them the focus.
    pub(crate) fn each(
        self,
        list: impl Fn() -> Vec<ItemKey> + 'static,
        make: impl Fn(ItemKey) -> Vec<Piece> + 'static,
    ) -> Piece {
        self.follow_list(Box::new(list), Box::new(make))
    }

    fn follow_list(
        self,
        list: Box<dyn Fn() -> Vec<ItemKey>>,
        make: Box<dyn Fn(ItemKey) -> Vec<Piece>>,
    ) -> Piece {
        let parent = self.0.clone();
        let above = Owner::current().unwrap_or_default();
        let mut standing: Vec<(ItemKey, Vec<Piece>, Owner)> = Vec::new();
        follow(Box::new(move || {
            let item_keys = list();
            standing.retain(|(item_key, pieces, owner)| {
                let stays = item_keys.contains(item_key);
                if !stays {
                    pieces.iter().for_each(|piece| drop(parent.remove_child(&piece.0)));
                    owner.cleanup();
                }
                stays
            });
            let mut next = Vec::new();
            for item_key in item_keys {
                let kept = standing.iter().position(|(other, ..)| *other == item_key);
                next.push(kept.map(|place| standing.remove(place)).unwrap_or_else(|| {
                    let owner = above.child();
                    let pieces = owner.with(|| untrack(|| make(item_key)));
                    (item_key, pieces, owner)
                }));
            }
            standing = next;
            // From the last to the first. A piece that already stands where it should isn't touched, or it would lose the focus.
            let mut after: Option<Node> = None;
            for piece in standing.iter().rev().flat_map(|(_, pieces, _)| pieces.iter().rev()) {
                if piece.0.parent_node().is_none() || piece.0.next_sibling() != after {
                    let _ = parent.insert_before(&piece.0, after.as_ref());
                }
                after = Some(piece.0.clone());
            }
        }));
        self
    }
}

/// A listener, as long as its owner stands.
struct Heard {
    node: Node,
    event: &'static str,
    act: Closure<dyn FnMut(Event)>,
}

impl Drop for Heard {
    fn drop(&mut self) {
        // The element may stand a moment longer than its owner, and some listeners would still be called when it is taken away.
        let _ = self.node.remove_event_listener_with_callback(self.event, self.act.as_ref().unchecked_ref());
    }
}

/// A page standing in its host. Dropping it takes the page away and lets go of all it held.
pub(crate) struct Mounted {
    owner: Owner,
    page: Piece,
}

/// Puts a page into its host.
pub(crate) fn stand(host: &HtmlElement, page: impl FnOnce() -> Piece) -> Mounted {
    // An error says that an earlier page has done so.
    let _ = any_spawner::Executor::init_wasm_bindgen();
    let owner = Owner::new();
    let page = owner.with(page);
    let _ = host.append_child(&page.0);
    Mounted { owner, page }
}

impl Drop for Mounted {
    fn drop(&mut self) {
        self.page.element().remove();
        self.owner.cleanup();
    }
}
