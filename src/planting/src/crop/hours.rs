//! Hours of pruning and thinning by hand, with their band.
//!
//! No published time per tree was found, so the times are this project's assumption: 10 s to walk up and look, 8 s for a
//! cut, 4 s for a shortening, 1 s for a fruitlet. Against ladders, platforms saved 37 to 47 % of dormant pruning and 45 to
//! 50 % of hand thinning (SARE ONE12-165, New York 2012-13).

use super::target::Span;
use crate::kit::figure::Source;
use uom::si::f64::{Ratio, Time};
use uom::si::ratio::ratio;
use uom::si::time::second;

/// Who says so of the times.
pub const TIMES_SOURCE: Source = Source::assumption(
    "Project's own times for a tree, a cut, a shortening and a fruitlet; no published ones were found",
);
/// Who says so of platforms.
pub const PLATFORM_SOURCE: Source = Source::published(
    "SARE ONE12-165 final report, New York 2012-13: dormant pruning 37 to 47 % quicker, hand thinning 45 to 50 %",
);

/// From where the crew works.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Footing {
    /// On foot and on ladders.
    Ladders,
    /// On a platform.
    Platform,
}

/// A time, and between what it may lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hours {
    /// The least it may take.
    pub low: Time,
    /// What is reckoned with.
    pub usual: Time,
    /// The most it may take.
    pub high: Time,
}

impl Hours {
    fn seconds([low, usual, high]: [f64; 3]) -> Hours {
        let time = |value: f64| Time::new::<second>(value);
        Hours { low: time(low), usual: time(usual), high: time(high) }
    }

    /// The same for a number of trees, or for as many as stand on some land.
    ///
    /// ```
    /// use planting::crop::hours::{Footing, pruning};
    /// // 1,000 trees at 45 s: 12.5 hours.
    /// let acre = pruning(3.0, 2.75, Footing::Ladders).times(1000.0);
    /// assert!((acre.usual.value / 3600.0 - 12.5).abs() < 1e-9);
    /// ```
    pub fn times(self, trees: f64) -> Hours {
        Hours { low: self.low * trees, usual: self.usual * trees, high: self.high * trees }
    }

    fn saved(self, saved: Span) -> Hours {
        let kept = |share: f64| Ratio::new::<ratio>(1.0 - share);
        Hours {
            low: self.low * kept(saved.high),
            usual: self.usual * kept((saved.low + saved.high) / 2.0),
            high: self.high * kept(saved.low),
        }
    }
}

/// Seconds for a tree, a cut, a shortening and a fruitlet taken: least, usual, most (assumption).
const LOOK: [f64; 3] = [8.0, 10.0, 15.0];
const CUT: [f64; 3] = [6.0, 8.0, 12.0];
const SHORTENING: [f64; 3] = [3.0, 4.0, 6.0];
const FRUITLET: [f64; 3] = [0.7, 1.0, 1.6];

/// What a platform saves of pruning and of thinning.
const SAVED_PRUNING: Span = Span { low: 0.37, high: 0.47 };
const SAVED_THINNING: Span = Span { low: 0.45, high: 0.50 };

fn summed(parts: &[([f64; 3], f64)]) -> Hours {
    let [mut low, mut usual, mut high] = LOOK;
    for ([least, middle, most], number) in parts {
        low += least * number.max(0.0);
        usual += middle * number.max(0.0);
        high += most * number.max(0.0);
    }
    Hours::seconds([low, usual, high])
}

/// Pruning one tree.
///
/// ```
/// use planting::crop::hours::{Footing, pruning};
/// let time = pruning(3.0, 4.0, Footing::Ladders);
/// assert_eq!(time.usual.value, 10.0 + 3.0 * 8.0 + 4.0 * 4.0);
/// assert!(pruning(3.0, 4.0, Footing::Platform).usual < time.usual);
/// ```
pub fn pruning(cuts: f64, shortenings: f64, footing: Footing) -> Hours {
    let afoot = summed(&[(CUT, cuts), (SHORTENING, shortenings)]);
    match footing {
        Footing::Ladders => afoot,
        Footing::Platform => afoot.saved(SAVED_PRUNING),
    }
}

/// Thinning one tree by hand. A tree that has no more fruit than it should keep is looked at all the same.
///
/// ```
/// use planting::crop::hours::{Footing, thinning};
/// assert_eq!(thinning(260.0, 100.0, Footing::Ladders).usual.value, 10.0 + 160.0);
/// assert_eq!(thinning(80.0, 100.0, Footing::Ladders).usual.value, 10.0);
/// ```
pub fn thinning(fruit: f64, keep: f64, footing: Footing) -> Hours {
    let afoot = summed(&[(FRUITLET, fruit - keep)]);
    match footing {
        Footing::Ladders => afoot,
        Footing::Platform => afoot.saved(SAVED_THINNING),
    }
}
