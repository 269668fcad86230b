//! The door by which a room adds what it knows to the views of a planting.
//!
//! A view draws trees, trellis and ground, and calls its [`Overlay`] on the way. It never learns which
//! room that is: so a room's code can come later, in a file of its own.

use crate::board::Board;
use crate::board::geometry::{Projection, Size, Span};
use crate::view::View;
use planting::Ground;

/// What a room adds to the views of a planting.
///
/// Each method is called once while its view is drawn, after the ground and before trees and trellis;
/// [`Overlay::key`] last, below the dimensions. What a room doesn't write draws nothing.
///
/// ```
/// use drafting::{Frame, Overlay, Plain, Units, View, draw_with};
/// struct Silent;
/// impl Overlay for Silent {}
/// let plan = planting::plan(&planting::Scenario::default()).unwrap();
/// let frame = Frame::screen(720.0, 420.0, Units::Us);
/// let [one, other] = [&Silent as &dyn Overlay, &Plain].map(|over| draw_with(View::Section, &plan, frame, over));
/// assert_eq!(one, other);
/// ```
pub trait Overlay {
    /// What it asks of a view.
    fn asks(&self, _view: View) -> Asks {
        Asks::default()
    }

    /// Adds to the whole block from above.
    fn plan(&self, _board: &mut Board, _plan: &Ground, _ground: &Shown) {}

    /// Adds to the enlarged detail of the plan.
    fn detail(&self, _board: &mut Board, _plan: &Ground, _ground: &Shown, _trees: &[DrawnTree]) {}

    /// Adds to the cross-section.
    fn section(&self, _board: &mut Board, _plan: &Ground, _ground: &Shown) {}

    /// Adds to the row elevation.
    fn elevation(&self, _board: &mut Board, _plan: &Ground, _ground: &Shown) {}

    /// Adds the key of what it has drawn, in the room it asked for below the dimensions.
    fn key(&self, _board: &mut Board, _plan: &Ground, _view: View) {}
}

/// No room's overlay: the planting as it is built.
#[derive(Clone, Copy, Debug)]
pub struct Plain;

impl Overlay for Plain {}

/// What an overlay asks of a view.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Asks {
    /// Paper above the picture, in ems.
    pub above: f64,
    /// Paper below its dimensions, for a key, in ems.
    pub below: f64,
    /// Whether the picture ends at the ground and is larger for it; what is buried is then left out.
    pub above_ground: bool,
    /// Whether the overlay fills the picture itself: crowns are then outlines without bodies and branches.
    pub fills: bool,
}

/// The ground a picture shows, in metres, and how it lies on the sheet.
#[derive(Clone, Copy, Debug)]
pub struct Shown {
    /// From the left edge of the picture to its right.
    pub across: Span,
    /// From its lower edge to its upper: heights, or on the plan places along the rows.
    pub up: Span,
    /// How metres lie on the sheet.
    pub to: Projection,
}

/// A tree of the first row: its number in the row, and where it stands along the row `[m]`.
#[derive(Clone, Copy, Debug)]
pub struct DrawnTree {
    /// Its number, from 0 at the foot of the row.
    pub number: usize,
    /// Where it stands.
    pub along: f64,
}

/// What a view needs of a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Demand {
    /// Ground that must be seen `[m]`.
    pub(crate) ground: Size,
    /// Paper beside the picture, in ems.
    pub(crate) beside: Size,
}
