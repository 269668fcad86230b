//! The outline of an earlier plan over the drawing of another one, at the same scale and place.

use super::overlay::Plain;
use super::{elevation, section};
use crate::board::sheet::{Ink, Mark, Sheet};
use crate::board::{Frame, ScaleChoice};
use crate::measure::Units;
use crate::svg::markup;
use crate::view::View;
use planting::Ground;

/// What of the earlier plan is traced.
const TRACED: [Ink; 4] = [Ink::CrownEdge, Ink::Post, Ink::Wire, Ink::Anchor];

/// The outline of crowns, posts and wires as they were, as SVG markup; only what differs from the drawing. Plans from above and the
/// drawings of rooms are not traced.
///
/// ```
/// use drafting::{Frame, Plain, Units, draw_section, trace};
/// use planting::{Ground, Scenario, feet, ground::Memory};
/// let lay = |scenario: &Scenario| Ground::lay(scenario, &mut Memory::default()).unwrap();
/// let now = lay(&Scenario::default());
/// let sheet = draw_section(&now, Frame::screen(400.0, 300.0, Units::Us), &Plain);
/// assert_eq!(trace(&sheet, &now, Units::Us), "");
/// let before = lay(&Scenario::default().with(|s| s.block.row_width = feet(11.0)));
/// assert!(trace(&sheet, &before, Units::Us).contains("ink-trace"));
/// ```
pub fn trace(now: &Sheet, before: &Ground, units: Units) -> String {
    let frame = Frame::screen(now.width, now.height, units).with_scale(ScaleChoice::Hold(now.held()));
    let earlier = match now.view {
        View::Section => section::draw(before, frame, &Plain),
        View::Elevation => elevation::draw(before, frame, &Plain),
        _ => return String::new(),
    };
    let is_new = |mark: &Mark| !now.layers.iter().flatten().any(|other| other == mark);
    let outline = |mark: Mark| match mark {
        Mark::Path { ink, path } if TRACED.contains(&ink) => Some(Mark::Path { ink: Ink::Trace, path }),
        _ => None,
    };
    let marks: Vec<Mark> = earlier.layers.into_iter().flatten().filter(is_new).filter_map(outline).collect();
    markup(&marks, now.weights)
}
