//! The three views of a planting, plan, cross-section and row elevation, and the door by which a room
//! adds what it knows to them (`overlay.rs`).

pub(crate) mod detail;
pub(crate) mod elevation;
mod overlay;
pub(crate) mod plan;
pub(crate) mod section;
mod trace;
pub(crate) mod tree;

pub use overlay::{Asks, DrawnTree, Overlay, Plain, Shown};
pub use trace::trace;

use crate::view::View;
use overlay::Demand;
use planting::{Ground, Plan};

/// What one of the three views needs of a sheet; none for a view that isn't to scale.
pub(crate) fn demand(view: View, plan: &Ground, over: &dyn Overlay) -> Option<Demand> {
    match view {
        View::Plan => Some(plan::demand(plan)),
        View::Section => Some(section::demand(plan, over)),
        View::Elevation => Some(elevation::demand(plan, over)),
        _ => None,
    }
}

/// A drawing of the printed set: a view, and what a room adds to it.
#[derive(Clone, Copy, Debug)]
pub struct Subject {
    /// The view.
    pub view: View,
    /// What is added to it.
    pub over: for<'a> fn(&'a Plan) -> Box<dyn Overlay + 'a>,
    /// What the title block calls it.
    pub title: &'static str,
}

impl Subject {
    /// A view without any room's overlay.
    pub fn plain(view: View) -> Subject {
        Subject { view, over: |_| Box::new(Plain), title: view.title() }
    }
}
