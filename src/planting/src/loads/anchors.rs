//! Screw anchors: how hard one can be pulled before it comes.
//!
//! Each plate bears on its whole disc: `Qu = Σ A (c Nc + q′ Nq)`, Nc = 9 in clay, q′ the weight of soil above the plate (helical-anchor
//! papers; for plates deeper than five times their width; Nq 10 to 30 in sand, from memory). A second plate sits three widths above the first.
//! Soils differ more than this formula knows: makers turn a trial anchor in and pull it.

use super::soil::{Soil, Strength};
use crate::kit::choice::{Choice, choice};
use crate::kit::quantity::{feet, inches};
use uom::si::f64::{Area, Force, Length, Pressure};

choice! {
    /// The screw anchor.
    Anchor {
        /// One plate of 4 in.
        Plate4 = "plate_4", "4 in plate";
        /// One plate of 6 in.
        Plate6 = "plate_6", "6 in plate";
        /// One plate of 8 in.
        Plate8 = "plate_8", "8 in plate";
        /// Two plates of 6 in.
        TwoPlates6 = "two_plates_6", "Two 6 in plates";
        /// Two plates of 8 in.
        TwoPlates8 = "two_plates_8", "Two 8 in plates";
        /// Two plates of 10 in.
        TwoPlates10 = "two_plates_10", "Two 10 in plates";
    }
}

/// Factor of a deep plate in clay, Nc `[–]`.
const PULL_IN_CLAY: f64 = 9.0;
/// Distance between two plates of an anchor, in widths of a plate (common practice, no source) `[–]`.
const PLATES_APART: f64 = 3.0;
/// The lengths of row a plate has been used to, by its width (Domoto, Iowa State, 2002): 4 in to 250 ft, 6 in to 600 ft.
const ROW_OF_SMALL_FT: f64 = 250.0;
const ROW_OF_LARGE_FT: f64 = 600.0;

impl Anchor {
    /// Width of a plate `[m]`.
    pub fn plate(self) -> Length {
        inches(match self {
            Anchor::Plate4 => 4.0,
            Anchor::Plate6 | Anchor::TwoPlates6 => 6.0,
            Anchor::Plate8 | Anchor::TwoPlates8 => 8.0,
            Anchor::TwoPlates10 => 10.0,
        })
    }

    /// Whether there is a second plate above the first.
    pub fn has_two_plates(self) -> bool {
        matches!(self, Anchor::TwoPlates6 | Anchor::TwoPlates8 | Anchor::TwoPlates10)
    }

    /// The area one plate bears on `[m²]`.
    ///
    /// ```
    /// use planting::loads::Anchor;
    /// assert!((Anchor::Plate6.plate_area().value / 0.0254_f64.powi(2) - 28.27).abs() < 0.01);
    /// ```
    pub fn plate_area(self) -> Area {
        self.plate() * self.plate() * (std::f64::consts::PI / 4.0)
    }

    /// The pull at which it comes out, its lowest plate so deep under the ground `[N]`.
    ///
    /// ```
    /// use planting::{feet, kit::units::POUND_FORCE, loads::{Anchor, Soil}};
    /// let pull = Anchor::Plate6.pull_out(Soil::MediumClay, feet(4.0)).value / POUND_FORCE;
    /// assert_eq!(pull.round(), 1767.0);
    /// ```
    pub fn pull_out(self, soil: Soil, depth: Length) -> Force {
        let upper = depth - self.plate() * PLATES_APART;
        let mut pull = self.plate_area() * bearing(soil, depth);
        if self.has_two_plates() && upper > feet(0.0) {
            pull += self.plate_area() * bearing(soil, upper);
        }
        pull
    }

    /// The longest row such an anchor has been used for, in soil that isn't sand `[m]`.
    pub fn longest_row(self) -> Length {
        feet(if self == Anchor::Plate4 { ROW_OF_SMALL_FT } else { ROW_OF_LARGE_FT })
    }

    /// The smallest of the list that comes out at no less than a pull; none where even the largest comes.
    ///
    /// ```
    /// use planting::{feet, kit::units::pounds_force, loads::{Anchor, Soil}};
    /// let smallest = |pull| Anchor::smallest(pounds_force(pull), Soil::MediumClay, feet(4.0));
    /// assert_eq!(smallest(3_000.0), Some(Anchor::Plate8));
    /// assert_eq!(smallest(30_000.0), None);
    /// ```
    pub fn smallest(pull: Force, soil: Soil, depth: Length) -> Option<Anchor> {
        let mut smallest: Option<(Anchor, Force)> = None;
        for anchor in Anchor::ALL {
            let holds = anchor.pull_out(soil, depth);
            if holds >= pull && smallest.is_none_or(|(_, least)| holds < least) {
                smallest = Some((*anchor, holds));
            }
        }
        smallest.map(|(anchor, _)| anchor)
    }
}

/// What each area of a plate holds at a depth `[Pa]`.
fn bearing(soil: Soil, depth: Length) -> Pressure {
    match soil.strength() {
        Strength::Clay { shear } => shear * PULL_IN_CLAY,
        Strength::Sand { weight, uplift, .. } => weight * depth.max(Length::default()) * uplift,
    }
}
