//! The crop as a load on the wires.
//!
//! What an acre bears hangs on the row length it has; stakes that reach the ground take a share of it, the wires share the rest alike.

use super::measures::LinearLoad;
use crate::kit::units::gravity;
use uom::si::f64::{ArealMassDensity, Length, LinearMassDensity, Ratio};

/// The crop of a metre of row, `w = yield × row width` `[kg/m]`.
///
/// ```
/// use planting::{feet, kit::units::pounds_per_acre, loads::crop_on_row};
/// let crop = crop_on_row(pounds_per_acre(63_000.0), feet(12.0));
/// assert!((crop.value - 25.83).abs() < 0.005);
/// ```
pub fn crop_on_row(crop: ArealMassDensity, row_width: Length) -> LinearMassDensity {
    crop * row_width
}

/// The crop's weight on a metre of each wire; none where there are no wires `[N/m]`.
///
/// ```
/// use planting::{feet, kit::units::{POUND_FORCE, pounds_per_acre}, loads::{crop_on_row, crop_on_wire}, share};
/// let row = crop_on_row(pounds_per_acre(63_000.0), feet(12.0));
/// let pounds_a_foot = crop_on_wire(row, share(1.0), 4.0).unwrap().value / POUND_FORCE * 0.3048;
/// assert!((pounds_a_foot - 4.3388).abs() < 1e-4);
/// assert_eq!(crop_on_wire(row, share(1.0), 0.0), None);
/// ```
pub fn crop_on_wire(on_row: LinearMassDensity, share_on_wires: Ratio, wires: f64) -> Option<LinearLoad> {
    (wires > 0.0).then(|| on_row * gravity() * share_on_wires / wires)
}

/// The crop of the land whose weight on a metre of each wire is this: [`crop_on_wire`] the other way round. None where wires bear none.
///
/// ```
/// use planting::{feet, kit::units::pounds_per_acre, loads::{crop_for, crop_on_row, crop_on_wire}, share};
/// let crop = pounds_per_acre(63_000.0);
/// let on_wire = crop_on_wire(crop_on_row(crop, feet(12.0)), share(0.5), 4.0).unwrap();
/// let back = crop_for(on_wire, share(0.5), 4.0, feet(12.0)).unwrap();
/// assert!(((back / crop).value - 1.0).abs() < 1e-12);
/// ```
pub fn crop_for(
    on_wire: LinearLoad,
    share_on_wires: Ratio,
    wires: f64,
    row_width: Length,
) -> Option<ArealMassDensity> {
    let crop: ArealMassDensity = on_wire * wires / (gravity() * row_width * share_on_wires);
    crop.value.is_finite().then_some(crop)
}
