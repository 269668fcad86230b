//! What the page takes of leptos: its signals and its few helpers for the browser.
//!
//! They are taken from the crates of leptos that hold them. The crate `leptos` itself brings a half for servers whose exported
//! classes no linker drops.

pub(crate) use leptos_dom::helpers::{
    AnimationFrameRequestHandle, TimeoutHandle, document, event_target_value, request_animation_frame,
    request_animation_frame_with_handle, set_timeout, set_timeout_with_handle, window_event_listener_untyped,
};
pub(crate) use reactive_graph::computed::Memo;
pub(crate) use reactive_graph::effect::{Effect, RenderEffect};
pub(crate) use reactive_graph::graph::untrack;
pub(crate) use reactive_graph::owner::{LocalStorage, Owner, StoredValue, on_cleanup};
pub(crate) use reactive_graph::signal::RwSignal;
pub(crate) use reactive_graph::traits::{Get, GetUntracked, GetValue, Set, Track};
