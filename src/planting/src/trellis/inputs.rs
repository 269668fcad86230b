//! What can be set about the trellis: support, wires, posts and row ends.

use crate::kit::choice::choice;
use crate::kit::figure::Source;
use crate::kit::group::TRELLIS;
use crate::kit::quantity::{degrees, feet, inches};
use crate::kit::standing::Standing;
use crate::register::parameter::{DEG, FT, IN};
use crate::register::problem::{Conflicts, Problem};
use crate::register::table::inputs;
use crate::system::TrainingSystem;
use uom::si::f64::{Angle, Length};

choice! {
    /// What holds the trees up.
    Support {
        /// Several wires on posts; the tree is tied to the wires.
        Wires = "wires", "Wires on posts";
        /// Wires on posts and a stake at every tree.
        WiresAndStakes = "wires_and_stakes", "Wires and a stake at each tree";
        /// A post at every tree, no wire.
        PostPerTree = "post_per_tree", "A post at each tree, no wire";
        /// Nothing.
        None = "none", "None, free-standing";
    }
}

impl Support {
    /// Whether there are wires on line posts.
    pub fn has_wires(self) -> bool {
        matches!(self, Support::Wires | Support::WiresAndStakes)
    }

    /// What it gives the trees to stand by.
    pub fn standing(self) -> Standing {
        match self {
            Support::Wires | Support::WiresAndStakes => Standing::Wires,
            Support::PostPerTree => Standing::Posts,
            Support::None => Standing::Free,
        }
    }
}

choice! {
    /// What holds the wires at the row ends.
    EndAssembly {
        /// A leaning end post guyed to an anchor.
        TieBack = "tie_back", "Tie-back to an anchor";
        /// Two posts with a rail between them.
        HBrace = "h_brace", "H-brace";
    }
}

/// What can be set about the trellis.
#[derive(Clone, Debug, PartialEq)]
pub struct Inputs {
    /// What holds the trees up.
    pub support: Support,
    /// Heights of the wires above the ground `[m]`.
    pub wire_heights: Vec<Length>,
    /// Length of a line post `[m]`.
    pub post_length: Length,
    /// Part of a post that is in the ground `[m]`.
    pub post_embedment: Length,
    /// Longest distance between posts `[m]`.
    pub post_interval: Length,
    /// Diameter of a line post at the ground line `[m]`.
    pub line_post_diameter: Length,
    /// Diameter of an end post at the ground line `[m]`.
    pub end_post_diameter: Length,
    /// What holds the wires at the row ends.
    pub end_assembly: EndAssembly,
    /// Lean of a tied-back end post from the vertical, toward its anchor `[rad]`.
    pub end_post_lean: Angle,
    /// Distance from the foot of the end post to its anchor `[m]`.
    pub anchor_distance: Length,
    /// Distance between the two posts of an H-brace `[m]`.
    pub brace_span: Length,
}

impl Inputs {
    /// The usual trellis of a training system.
    pub fn usual(system: TrainingSystem) -> Inputs {
        let (support, wires_ft, post_ft) = usual_support(system);
        let (post_length_ft, post_embedment_ft) = post_ft;
        Inputs {
            support,
            wire_heights: wires_ft.iter().map(|height| feet(*height)).collect(),
            post_length: feet(post_length_ft),
            post_embedment: feet(post_embedment_ft),
            post_interval: feet(30.0),
            line_post_diameter: inches(5.0),
            end_post_diameter: inches(6.0),
            end_assembly: EndAssembly::TieBack,
            end_post_lean: degrees(15.0),
            anchor_distance: feet(9.0),
            brace_span: feet(8.0),
        }
    }

    /// Height of a line post above the ground `[m]`.
    ///
    /// ```
    /// use planting::{Scenario, uom::si::length::foot};
    /// assert!((Scenario::default().trellis.post_height().get::<foot>() - 9.0).abs() < 1e-9);
    /// ```
    pub fn post_height(&self) -> Length {
        self.post_length - self.post_embedment
    }

    /// Height of the uppermost wire `[m]`, where there are wires.
    ///
    /// ```
    /// use planting::{Scenario, uom::si::length::foot};
    /// assert!((Scenario::default().trellis.top_wire().unwrap().get::<foot>() - 9.0).abs() < 1e-9);
    /// ```
    pub fn top_wire(&self) -> Option<Length> {
        if !self.support.has_wires() {
            return None;
        }
        self.wire_heights.iter().copied().reduce(|a, b| if b > a { b } else { a })
    }

    /// Whether row ends are tied back to anchors.
    pub fn is_tied_back(&self) -> bool {
        self.support.has_wires() && self.end_assembly == EndAssembly::TieBack
    }

    /// Whether row ends are H-braces.
    pub fn is_braced(&self) -> bool {
        self.support.has_wires() && self.end_assembly == EndAssembly::HBrace
    }

    /// What is at odds: a post that hardly stands above the ground.
    pub fn conflicts(&self) -> Vec<Problem> {
        let mut conflicts = Conflicts::default();
        let least_above = feet(3.0);
        conflicts.at_most(
            "post_embedment",
            self.post_embedment,
            self.post_length - least_above,
            "must be at most {0}: {1} of the post must stand above the ground",
            &[least_above],
        );
        conflicts.found()
    }
}

/// Support, wire heights `[ft]`, and post length with the part of it in the ground `[ft]`, of a system's starting plan.
fn usual_support(system: TrainingSystem) -> (Support, &'static [f64], (f64, f64)) {
    use TrainingSystem::*;
    const FOUR_WIRES: &[f64] = &[2.5, 4.75, 7.0, 9.0];
    const TALL_POST: (f64, f64) = (12.0, 3.0);
    const SHORT_POST: (f64, f64) = (9.0, 2.5);
    match system {
        TallSpindle | SuperSpindle | VTrellis | BiAxis | TriAxis | Solaxe => {
            (Support::Wires, FOUR_WIRES, TALL_POST)
        }
        VerticalTrellis => (Support::Wires, &[2.0, 3.75, 5.5, 7.25, 9.0], TALL_POST),
        VerticalAxis => (Support::WiresAndStakes, &[4.5, 9.0], TALL_POST),
        SlenderSpindle => (Support::PostPerTree, &[], SHORT_POST),
        LowTrellis => (Support::Wires, &[1.5, 3.0, 4.5, 6.0], SHORT_POST),
        CentralLeader | Standard => (Support::None, &[], TALL_POST),
    }
}

const WIRES: Source = Source::published(
    "Ontario (OMAFRA) tall-spindle support sheet: wires at 2.5, 4.75, 7 and 9 ft for 3 × 12 ft trees",
);

inputs! { Inputs;
    choice 22 support (Support) TRELLIS follows "Support"
        "What holds the trees up."
        Source::published("Fraser & Oakes 1999, Compact Fruit Tree 32");
    lengths 23 wire_heights (0.5 * FT => 16.0 * FT, steps 0.25 * FT, 0.05, most 8) TRELLIS follows "Wire heights"
        "Height of each wire above the ground." WIRES, in section;
    number 24 post_length (Length as Length, 6.0 * FT => 20.0 * FT, steps 0.5 * FT, 0.1) TRELLIS follows "Line post length"
        "Whole length of a line post."
        Source::practice("Common practice; Kuhn in Good Fruit Grower: 12 ft, newer plantings 14 ft"), in section;
    number 25 post_embedment (Length as Length, FT => 6.0 * FT, steps 0.25 * FT, 0.05) TRELLIS follows "Post depth in the ground"
        "Part of the post that is in the ground."
        Source::published("Kuhn in Good Fruit Grower: 3 ft set; Fraser: at least a quarter of the post"), in section;
    number 26 post_interval (Length as Length, 10.0 * FT => 60.0 * FT, steps FT, 0.5) TRELLIS own "Longest post interval"
        "Posts stand midway between trees, never further apart than this."
        Source::published("Kuhn in Good Fruit Grower: 32-35 ft best, 40 average; Ferri: 20 ft for super spindle");
    number 27 line_post_diameter (Length as SmallLength, 2.0 * IN => 10.0 * IN, steps 0.25 * IN, 0.005) TRELLIS own "Line post diameter"
        "At the ground line."
        Source::assumption("Published practice is 3-4 in; 5 in is this project's default");
    number 28 end_post_diameter (Length as SmallLength, 3.0 * IN => 12.0 * IN, steps 0.25 * IN, 0.005) TRELLIS own "End post diameter"
        "At the ground line."
        Source::published("Kuhn in Good Fruit Grower: 5-6 in");
    choice 29 end_assembly (EndAssembly) TRELLIS own "Row ends"
        "What holds the wires at the row ends."
        Source::published("Ontario (OMAFRA) tall-spindle support sheet; UW Extension for H-braces");
    number 30 end_post_lean (Angle as Angle, 0.0 => 30.0 * DEG, steps DEG, DEG) TRELLIS own "End post lean"
        "Lean of a tied-back end post toward its anchor."
        Source::published("Good Fruit Grower, Constructing a trellis: 15-18°");
    number 31 anchor_distance (Length as Length, 3.0 * FT => 20.0 * FT, steps 0.5 * FT, 0.1) TRELLIS own "Anchor distance"
        "From the foot of the end post to the anchor."
        Source::published("Good Fruit Grower, Constructing a trellis: as far as the post stands above the ground");
    number 32 brace_span (Length as Length, 4.0 * FT => 14.0 * FT, steps 0.5 * FT, 0.1) TRELLIS own "H-brace span"
        "Distance between the two posts of an H-brace."
        Source::published("UW Extension; NRCS Mississippi: 8-10 ft");
}
