//! Jackson's quick model: light intercepted from the leaf area and what a solid canopy would take.
//!
//! J. E. Jackson, Acta Horticulturae 114 (1980): `F = Fmax (1 − exp(−K L ÷ Fmax))` with K = 0.6 for
//! apple. It stands beside the ray model as a second line that knows nothing of rays; only Fmax is shared.

use crate::kit::order::within;

/// Jackson's extinction coefficient for apple `[–]`.
pub const JACKSON_K: f64 = 0.6;

/// Share of light intercepted, from the largest share a solid canopy of that shape could take and the
/// leaf area index.
///
/// ```
/// use planting::light::quick;
/// assert!((quick(0.70, 2.0) - 0.5739).abs() < 5e-5);
/// assert_eq!(quick(0.0, 2.0), 0.0);
/// ```
pub fn quick(largest: f64, leaf_area_index: f64) -> f64 {
    if largest <= 0.0 {
        return 0.0;
    }
    largest * (1.0 - (-JACKSON_K * leaf_area_index / largest).exp())
}

/// Leaf area lit above a threshold share of open light, on a square metre of ground `[m²/m²]`:
/// `Fmax (−ln I) ÷ K`, or all of it where that is less.
///
/// ```
/// use planting::light::well_lit_leaf_area;
/// assert!((well_lit_leaf_area(0.65, 3.0, 0.30) - 1.3043).abs() < 5e-5);
/// ```
pub fn well_lit_leaf_area(largest: f64, leaf_area_index: f64, threshold: f64) -> f64 {
    let lit = largest * -within(threshold, f64::MIN_POSITIVE, 1.0).ln() / JACKSON_K;
    lit.min(leaf_area_index)
}
