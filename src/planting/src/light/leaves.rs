//! How dense the leaves of a crown are, by its size.
//!
//! Measured is the leaf area on the ground's area: 1.2 to 2.0 in trellised rows (Agronomy 2020, 10(5):689), 1.0 to 1.4
//! in old low-density orchards, more than 3 at the trees' middle (Jackson 1970, J. Appl. Ecol. 7, by its content;
//! read as an abstract without its author). At one density for all, wide old trees would carry three to four times what was
//! measured. So a large crown is thinner: of a crown of volume V, density a₀ in a small one,
//!
//! ```text
//!     a = a₀ ÷ (1 + V ÷ V₀),    V₀ = 30 m³
//! ```
//!
//! by which leaf area, a × V, never falls when a crown grows, and a tall spindle of 2.4 m³ loses 7 % of its density. The form is this
//! project's; V₀ is a round number with which all measured ranges are met at once, to the decimal they are given to.
//! Left out: leaves denser outside than inside, differences between cultivars and with age and crop.

use crate::kit::choice::choice;

choice! {
    /// How dense the leaves of larger crowns are.
    LargeCrowns {
        /// Thinner than those of small ones, as measured.
        Thinner = "thinner", "Thinner, as measured";
        /// As dense as those of small ones.
        AsDense = "as_dense", "As dense as set";
    }
}

/// Crown volume at which leaves are half as dense as in a small crown, V₀ `[m³]`.
pub const HALF_AS_DENSE: f64 = 30.0;

impl LargeCrowns {
    /// Leaf area density of a crown of this volume `[m³]`, from that of a small one; in the unit of the latter.
    ///
    /// ```
    /// use planting::light::LargeCrowns;
    /// // A tall spindle of 2.4 m³ and an old standard tree of 110 m³.
    /// assert!((LargeCrowns::Thinner.density(2.5, 2.4) - 2.32).abs() < 0.01);
    /// assert!((LargeCrowns::Thinner.density(2.5, 110.0) - 0.54).abs() < 0.01);
    /// assert_eq!(LargeCrowns::AsDense.density(2.5, 110.0), 2.5);
    /// ```
    pub fn density(self, in_small_crowns: f64, volume: f64) -> f64 {
        match self {
            LargeCrowns::Thinner => in_small_crowns / (1.0 + volume.max(0.0) / HALF_AS_DENSE),
            LargeCrowns::AsDense => in_small_crowns,
        }
    }
}
