//! Sorting, once for all kinds of lists, and limits.

use std::cmp::Ordering;

/// Sorts a list; what is equal keeps its order.
///
/// The standard library's sort is written out anew for each kind of item and comparison, at 4 KB a time in the page's
/// module. This one puts one item after another where it belongs, which is as quick for lists of a few hundred.
///
/// ```
/// let mut words = vec!["pear", "fig", "plum", "apple"];
/// planting::kit::order::sort_by(&mut words, |a, b| a.len().cmp(&b.len()));
/// assert_eq!(words, ["fig", "pear", "plum", "apple"]);
/// ```
pub fn sort_by<T>(items: &mut Vec<T>, mut order: impl FnMut(&T, &T) -> Ordering) {
    let mut sorted = Vec::with_capacity(items.len());
    for item in items.drain(..) {
        let place = sorted.partition_point(|other| order(other, &item) != Ordering::Greater);
        sorted.insert(place, item);
    }
    *items = sorted;
}

/// A number, or the limit that it lies beyond. If `least` is greater than `most`, returns `most`.
///
/// The standard library's `clamp` panics there, and its message brings the code that writes floats into the
/// page's module.
///
/// ```
/// assert_eq!(planting::kit::order::within(12.0, 0.0, 5.0), 5.0);
/// ```
#[inline]
pub fn within(value: f64, least: f64, most: f64) -> f64 {
    let value = if value < least { least } else { value };
    if value > most { most } else { value }
}

/// How far things of one row differ from their mean: trees by a twentieth `[–]` (assumption).
const UNEVEN: f64 = 0.05;

/// The lower of a size and a limit, as the mean of things that differ by a twentieth either way: some reach the limit
/// before others, so that the mean nears it without a corner. Beyond a twentieth it is the plain lower one.
///
/// ```
/// use planting::kit::order::least_of_uneven;
/// assert_eq!((least_of_uneven(2.8, 3.0), least_of_uneven(3.2, 3.0)), (2.8, 3.0));
/// let reached = least_of_uneven(3.0, 3.0);
/// assert!((reached - 3.0 * (1.0 - 0.05 / 4.0)).abs() < 1e-12, "a little below where the mean reaches the limit");
/// ```
pub fn least_of_uneven(size: f64, limit: f64) -> f64 {
    let band = limit * UNEVEN;
    let into = size - (limit - band);
    if into <= 0.0 {
        size
    } else if into >= 2.0 * band {
        limit
    } else {
        size - into * into / (4.0 * band)
    }
}
