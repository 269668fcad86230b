//! Light: what the season lays into crowns and alley, the shade of one hour, and what becomes of both
//! over the years. A room: its own views, and what it adds to the views of a planting.

mod field;
mod overlay;
mod pair;
mod years;

use crate::board::Frame;
use crate::board::sheet::Sheet;
use crate::view::View;
use crate::views::Subject;
use planting::Plan;
use planting::light::Memory;

pub use overlay::over;
pub use pair::draw as draw_pair;
pub use years::{draw as draw_years, table as years_table};

/// What light a drawing shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Daylight {
    /// None: crowns are shown as bodies.
    #[default]
    Plain,
    /// The light of the season.
    Season,
    /// Sun and shade of the date and hour set.
    Hour,
}

/// What this room adds to the printed set.
pub(crate) const SHEETS: &[Subject] = &[Subject {
    view: View::Section,
    over: |plan| over(Daylight::Season, &plan.light),
    title: "Light of the season",
}];

/// Draws one of this room's own views, summing the light it shows.
pub(crate) fn draw(view: View, plan: &Plan, frame: Frame) -> Sheet {
    match view {
        View::Years => draw_years(plan, &Memory::default().by_year(&plan.light.asked), frame),
        _ => draw_pair(plan, &plan.light, &Memory::default().beside(&plan.light.asked), frame),
    }
}
