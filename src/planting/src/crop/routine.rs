//! Twenty years of pruning a block: wood to take each year, the hours, and the year in which it gets away.
//!
//! How much a season adds beyond the space comes in as a share of the crown, year by year; how many limbs that asks for is
//! this project's reading: all limbs of a tree are taken to carry like parts of the crown, so that a share of the crown is
//! the same share of the limbs. A crew that is held to its most removals leaves the rest standing, and what is left standing
//! adds up.

use super::hours::{Footing, Hours, pruning};
use super::rules::{Keeping, LIMBS};
use crate::kit::count::as_number;
use uom::si::f64::Ratio;

/// Limbs taken that count as one shortening each, beyond those taken whole: what a season adds at the tips (assumption).
const SHORTENED_OF_REST: f64 = 0.5;
/// Wood left standing, against the crown, from which a block has got away (assumption).
pub const AWAY_FROM: f64 = 0.5;

/// One winter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Winter {
    /// Years since planting.
    pub year: u32,
    /// What a season has added beyond the space, against the crown `[–]`.
    pub excess: f64,
    /// Limbs that would have to go.
    pub asked: f64,
    /// Limbs that go.
    pub taken: f64,
    /// Wood left standing beyond the space, against the crown `[–]`.
    pub standing: f64,
    /// Time for a tree.
    pub time: Hours,
}

/// The winters of a block, from the excess of each year; a year's excess below none counts as none.
///
/// ```
/// use planting::crop::{hours::Footing, routine::{away, winters}, rules::Keeping};
/// use planting::share;
/// let calm = winters(&Keeping::usual(), &[share(0.10); 20], Footing::Ladders);
/// assert_eq!(away(&calm), None);
/// let wild = winters(&Keeping::usual(), &[share(0.50); 20], Footing::Ladders);
/// assert!(away(&wild).is_some());
/// ```
pub fn winters(keeping: &Keeping, excess: &[Ratio], footing: Footing) -> Vec<Winter> {
    let limbs = (LIMBS.low + LIMBS.high) / 2.0;
    let mut standing: f64 = 0.0;
    let mut year = 0;
    excess
        .iter()
        .map(|excess| {
            year += 1;
            let excess = excess.value.max(0.0);
            let asked = (standing + excess) * limbs;
            let whole = asked.min(as_number(keeping.most_removals(year)));
            // What isn't taken whole is shortened, each shortening taking half of a limb's share.
            let shortened = ((asked - whole) / SHORTENED_OF_REST).min(limbs);
            let taken = whole + shortened * SHORTENED_OF_REST;
            // Shortened wood pushes again from behind the cut: half of it is back.
            standing = (standing + excess - (whole + shortened * SHORTENED_OF_REST / 2.0) / limbs).max(0.0);
            Winter { year, excess, asked, taken, standing, time: pruning(whole, shortened, footing) }
        })
        .collect()
}

/// The first year whose wood left standing is past [`AWAY_FROM`].
pub fn away(winters: &[Winter]) -> Option<u32> {
    winters.iter().find(|winter| winter.standing > AWAY_FROM).map(|winter| winter.year)
}
