//! The printed sheet set: one page a drawing, at a true scale chosen to fit, with frame, check bar and
//! title block.

use crate::board::{Frame, ScaleChoice};
use crate::measure::Units;
use crate::scale::{TrueScale, fitting};
use crate::sheet::{Sheet, View};
use planting::Plan;

/// Paper a sheet set is printed on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// US Letter, 8.5 × 11 in.
    #[default]
    Letter,
    /// ISO 216 A4, 210 × 297 mm.
    A4,
}

impl Paper {
    /// Stable key.
    pub fn key(self) -> &'static str {
        match self {
            Paper::Letter => "letter",
            Paper::A4 => "a4",
        }
    }

    /// The name shown.
    pub fn label(self) -> &'static str {
        match self {
            Paper::Letter => "Letter (8.5 × 11 in)",
            Paper::A4 => "A4 (210 × 297 mm)",
        }
    }

    /// Width and height of the sheet, upright `[mm]`.
    pub fn size(self) -> (f64, f64) {
        match self {
            Paper::Letter => (215.9, 279.4),
            Paper::A4 => (210.0, 297.0),
        }
    }
}

/// Border kept free at the edge of a sheet `[mm]`.
const BORDER: f64 = 12.0;
/// Height of the strip at the foot that holds check bar and title block `[mm]`.
const BLOCK: f64 = 30.0;
/// Length of the check bar `[mm]`.
pub const CHECK_BAR: f64 = 100.0;

fn demand(view: View, plan: &Plan) -> ((f64, f64), (f64, f64)) {
    match view {
        View::Plan => crate::plan_view::demand(plan),
        View::Section => crate::section_view::demand(plan),
        View::Elevation => crate::elevation_view::demand(plan),
    }
}

/// The scale a view is printed at: the largest standard one at which all of it fits the sheet.
pub fn true_scale(view: View, plan: &Plan, units: Units, paper: Paper) -> TrueScale {
    let (width, height) = room(paper);
    let em = Frame::paper(width, height, units, 1.0).lettering;
    let ((wide, high), (beside, above)) = demand(view, plan);
    // The plan shares its sheet with the detail, which stands beside it and takes up to two fifths.
    let share = if view == View::Plan { 0.58 } else { 1.0 };
    let across = fitting(wide, width * share - beside * em, units);
    let upright = fitting(high, height - above * em, units);
    if across.ratio > upright.ratio { across } else { upright }
}

fn room(paper: Paper) -> (f64, f64) {
    let (width, height) = paper.size();
    (width - 2.0 * BORDER, height - 2.0 * BORDER - BLOCK)
}

/// One drawing at its true scale, in millimetres, to be set on a sheet of that paper, and its scale.
pub fn drawing(view: View, plan: &Plan, units: Units, paper: Paper) -> (Sheet, TrueScale) {
    let scale = true_scale(view, plan, units, paper);
    let (width, height) = room(paper);
    let ((_, high), (_, above)) = demand(view, plan);
    let frame = Frame::paper(width, height, units, scale.ratio);
    // A flat drawing takes a flat frame, so that it hangs from the top of the sheet.
    let needed = high * 1000.0 / scale.ratio + above * frame.lettering;
    let height = if view == View::Plan { height } else { needed.clamp(60.0, height) };
    let sheet =
        crate::draw(view, plan, Frame { height, ..frame }.with_scale(ScaleChoice::Ratio(scale.ratio)));
    (sheet, scale)
}

#[cfg(test)]
mod tests {
    use super::*;
    use planting::{Scenario, feet};

    #[test]
    fn a_known_length_is_as_long_as_the_scale_says() {
        let plan = planting::plan(&Scenario::default()).unwrap();
        for paper in [Paper::Letter, Paper::A4] {
            for units in [Units::Us, Units::Metric] {
                let (sheet, scale) = drawing(View::Plan, &plan, units, paper);
                let millimetres = sheet.projection.scale * feet(660.0).value;
                let expected = feet(660.0).value * 1000.0 / scale.ratio;
                assert!((millimetres / expected - 1.0).abs() < 1e-12);
                assert!(millimetres < sheet.height, "{millimetres} mm on {}", sheet.height);
            }
        }
    }
}
