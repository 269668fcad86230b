//! Plan in, scaled drawings out.
//!
//! [`draw`] turns a plan into a [`Sheet`], a display list in paper units: pixels on screen, millimetres
//! on paper. [`svg`] writes it as SVG text, [`measure`] and [`wording`] turn the model's numbers and
//! sentences into a reader's units. Knows the model, never the browser.
//!
//! | a question about | is answered in |
//! |---|---|
//! | what is drawn in each view | [`draw`]: `plan_view`, `section_view`, `elevation_view` |
//! | where lettering goes, why none overlaps | `board`, `dimension` |
//! | scales on paper, scale bars | [`scale`] |
//! | sheets of the printed set | [`packet`] |
//! | frame, check bar, title block | [`title_block`] |
//! | feet, metres, what may be typed | [`measure`] |
//! | what to order | [`order_list`] |
//! | tables and stations for other programs | [`export`] |

#![cfg_attr(
    not(test),
    deny(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic,
        clippy::indexing_slicing,
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss
    )
)]

mod board;
mod dimension;
mod elevation_view;
pub mod export;
mod furniture;
mod light_field;
pub mod measure;
pub mod order_list;
pub mod packet;
mod pair_view;
mod path;
mod plan_detail;
mod plan_view;
pub mod scale;
mod section_view;
pub mod sheet;
pub mod svg;
pub mod title_block;
mod tree;
pub mod wording;
mod years_view;

pub use board::{Frame, ScaleChoice};
pub use light_field::{Daylight, Painters, painters};
pub use measure::Units;
pub use path::Path;
pub use sheet::{Handle, LayerName, Mark, Projection, Sheet, View};

pub use elevation_view::draw as draw_elevation;
pub use pair_view::draw as draw_pair;
pub use plan_view::draw as draw_plan;
pub use section_view::draw as draw_section;
pub use years_view::draw as draw_years;

use planting::Plan;
use planting::light::Memory;

/// Draws one view of a plan.
///
/// ```
/// use drafting::{Frame, Units, View, draw};
/// let plan = planting::plan(&planting::Scenario::default()).unwrap();
/// let sheet = draw(View::Section, &plan, Frame::screen(720.0, 420.0, Units::Us));
/// assert!(sheet.texts().any(|text| text.content == "row width 12 ft"));
/// ```
pub fn draw(view: View, plan: &Plan, frame: Frame) -> Sheet {
    match view {
        View::Plan => draw_plan(plan, frame),
        View::Section => draw_section(plan, frame),
        View::Elevation => draw_elevation(plan, frame),
        View::Pair => draw_pair(plan, &Memory::default().beside(&plan.scenario), frame),
        View::Years => draw_years(plan, &Memory::default().by_year(&plan.scenario, &plan.canopy), frame),
    }
}
