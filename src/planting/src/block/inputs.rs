//! What can be set about the field: spacing, size, direction, strips at its edges, and the machine that drives in it.

use crate::kit::figure::Source;
use crate::kit::group::{FIELD, SPACING};
use crate::kit::quantity::{degrees, feet};
use crate::kit::row::Spacing;
use crate::register::parameter::{DEG, FT};
use crate::register::problem::{Conflicts, Problem};
use crate::register::scale::Scale;
use crate::register::table::inputs;
use crate::system::TrainingSystem;
use uom::si::f64::{Angle, Length};

/// What can be set about the field.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inputs {
    /// Distance between trees along the row `[m]`.
    pub in_row_spacing: Length,
    /// Distance between row centre lines `[m]`.
    pub row_width: Length,
    /// Length of the block along the rows `[m]`.
    pub block_length: Length,
    /// Width of the block across the rows `[m]`.
    pub block_width: Length,
    /// Direction of the rows, clockwise from north `[rad]`.
    pub row_azimuth: Angle,
    /// Free strip at each row end, from the block's edge to the end post `[m]`.
    pub headland: Length,
    /// Least distance from the block's edge to the outer rows `[m]`.
    pub side_margin: Length,
    /// Overall width of the widest machine that drives the alleys `[m]`.
    pub tractor_width: Length,
}

impl Inputs {
    /// The usual planting of a training system, on a five-acre block.
    pub fn usual(system: TrainingSystem) -> Inputs {
        let (in_row_ft, row_ft) = usual_spacing_ft(system);
        Inputs {
            in_row_spacing: feet(in_row_ft),
            row_width: feet(row_ft),
            block_length: feet(660.0),
            block_width: feet(330.0),
            row_azimuth: degrees(0.0),
            headland: feet(30.0),
            side_margin: feet(12.0),
            tractor_width: feet(5.0),
        }
    }

    /// How far apart trees and rows stand.
    pub fn spacing(&self) -> Spacing {
        Spacing { in_row: self.in_row_spacing, row_width: self.row_width }
    }

    /// What is at odds: a field in which not one tree fits.
    ///
    /// ```
    /// use planting::{Scenario, feet};
    /// let mut block = Scenario::default().block;
    /// assert_eq!(block.conflicts(), []);
    /// block.block_length = feet(50.0);
    /// assert_eq!(block.conflicts()[0].field, "block_length");
    /// ```
    pub fn conflicts(&self) -> Vec<Problem> {
        let mut conflicts = Conflicts::default();
        conflicts.at_least(
            "block_length",
            self.block_length,
            self.headland * 2.0 + self.in_row_spacing,
            "must be at least {0}: two headlands and room for one tree",
            &[],
        );
        conflicts.at_least(
            "block_width",
            self.block_width,
            self.side_margin * 2.0,
            "must be at least {0}: a side margin on either side of one row",
            &[],
        );
        conflicts.found()
    }
}

/// In-row spacing and row width a system starts from `[ft]`, inside its usual ranges.
fn usual_spacing_ft(system: TrainingSystem) -> (f64, f64) {
    use TrainingSystem::*;
    match system {
        TallSpindle => (3.0, 12.0),
        SuperSpindle => (2.0, 10.0),
        VTrellis => (1.5, 14.0),
        VerticalTrellis => (4.0, 10.0),
        BiAxis | TriAxis => (4.0, 12.0),
        Solaxe => (4.0, 13.0),
        VerticalAxis => (5.0, 14.0),
        SlenderSpindle => (5.0, 13.0),
        LowTrellis => (6.0, 11.0),
        CentralLeader => (15.0, 22.0),
        Standard => (20.0, 28.0),
    }
}

const SYSTEM_SPACING: Source =
    Source::published("Usual range of the training system; see the system's own sources");
const ALLEY: Source =
    Source::practice("Common practice, no source: 7-8 ft clear for a narrow tractor and sprayer");
const OWN: Source = Source::assumption("Project's own default");

/// Trellised plantings stand at 2 to 6 ft; the ticks are spacings a planter is set to.
const IN_ROW: Scale = Scale {
    trade: [2.0 * FT, 6.0 * FT],
    travel: [0.07, 0.85],
    ticks_us: &[FT, 2.0 * FT, 3.0 * FT, 4.0 * FT, 5.0 * FT, 6.0 * FT, 30.0 * FT],
    ticks_metric: &[0.5, 0.8, 1.0, 1.2, 1.5, 2.0, 9.0],
};

/// Alleys for one machine ask for rows 8 to 16 ft apart.
const ROWS: Scale = Scale {
    trade: [8.0 * FT, 16.0 * FT],
    travel: [0.1, 0.85],
    ticks_us: &[8.0 * FT, 10.0 * FT, 12.0 * FT, 14.0 * FT, 16.0 * FT, 40.0 * FT],
    ticks_metric: &[2.5, 3.0, 3.5, 4.0, 4.5, 5.0, 12.0],
};

inputs! { Inputs;
    number 6 in_row_spacing (Length as Length, FT => 30.0 * FT, steps 0.25 * FT, 0.05) SPACING follows "In-row spacing"
        "Distance from tree to tree along the row." SYSTEM_SPACING, in elevation, scale IN_ROW;
    number 7 row_width (Length as Length, 6.0 * FT => 40.0 * FT, steps 0.5 * FT, 0.1) SPACING follows "Row width"
        "Distance from the centre line of one row to the next." SYSTEM_SPACING, scale ROWS;
    number 16 block_length (Length as Length, 10.0 * FT => 6600.0 * FT, steps 10.0 * FT, 5.0) FIELD own "Block length, along the rows"
        "Length of the field along the rows, headlands included." OWN;
    number 17 block_width (Length as Length, 10.0 * FT => 6600.0 * FT, steps 10.0 * FT, 5.0) FIELD own "Block width, across the rows"
        "Width of the field across the rows." OWN;
    number 18 row_azimuth (Angle as Angle, 0.0 => 180.0 * DEG, steps 5.0 * DEG, 5.0 * DEG) FIELD own "Row direction"
        "Clockwise from north: 0° runs north-south, 90° east-west."
        Source::published("Ferree (Ohio State), Good Fruit Grower: north-south rows for even light");
    number 19 headland (Length as Length, 0.0 => 100.0 * FT, steps FT, 0.5) FIELD own "Headland at row ends"
        "Free strip from the edge of the field to the end posts, for turning and for anchors."
        Source::published("Barney, Storey's Guide: buffer strips of about 30 ft serve as headlands");
    number 20 side_margin (Length as Length, 0.0 => 100.0 * FT, steps FT, 0.5) FIELD own "Side margin"
        "Least distance from the edge of the field to the outer rows."
        Source::practice("Common practice, no source: one alley");
    number 21 tractor_width (Length as Length, 3.0 * FT => 10.0 * FT, steps 0.25 * FT, 0.05) FIELD own "Tractor width"
        "Overall width of the widest machine that drives the alleys." ALLEY, in section;
}
