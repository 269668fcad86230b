//! Results kept by exactly what they were computed from.
//!
//! The function that computes gets the key and nothing else of the plan, so a field that was forgotten in the
//! key cannot reach the result: the compiler asks for a plain function, which has nothing else to read.

use std::sync::Arc;

/// How many results a memory holds: a plan's and that of another plan beside it.
const HELD: usize = 2;

/// The last results of a computation with their keys, the latest used first.
///
/// ```
/// use planting::kit::kept::Kept;
/// let mut squares = Kept::default();
/// let nine = squares.get(3, |side| side * side);
/// assert_eq!(*nine, 9);
/// squares.get(4, |side| side * side);
/// assert!(std::sync::Arc::ptr_eq(&nine, &squares.get(3, |_| 0)), "two are kept");
/// ```
#[derive(Clone, Debug)]
pub struct Kept<K, V>(Vec<(K, Arc<V>)>);

impl<K, V> Default for Kept<K, V> {
    fn default() -> Self {
        Kept(Vec::new())
    }
}

impl<K: PartialEq, V> Kept<K, V> {
    /// The result for a key: the one that is kept, or a new one.
    pub fn get(&mut self, key: K, compute: fn(&K) -> V) -> Arc<V> {
        self.get_with(key, compute, |compute, key| compute(key))
    }

    /// The result that was used last, whatever its key.
    ///
    /// ```
    /// use planting::kit::kept::Kept;
    /// let mut squares: Kept<u32, u32> = Kept::default();
    /// squares.get(4, |side| side * side);
    /// squares.get(3, |side| side * side);
    /// assert_eq!(squares.latest().as_deref(), Some(&9));
    /// ```
    pub fn latest(&self) -> Option<Arc<V>> {
        self.0.first().map(|(_, value)| Arc::clone(value))
    }

    /// The same for a computation that itself keeps parts of its work. `memory` may only save time: what is in
    /// it must follow from keys of its own, as [`Kept`] makes sure of.
    pub fn get_with<M>(&mut self, key: K, memory: M, compute: fn(M, &K) -> V) -> Arc<V> {
        if let Some(place) = self.0.iter().position(|(kept, _)| *kept == key) {
            let found = self.0.remove(place);
            let value = Arc::clone(&found.1);
            self.0.insert(0, found);
            return value;
        }
        let value = Arc::new(compute(memory, &key));
        self.0.truncate(HELD - 1);
        self.0.insert(0, (key, Arc::clone(&value)));
        value
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_plans_side_by_side_stay_warm_and_a_third_takes_the_place_of_the_older() {
        let mut kept = Kept::default();
        let [a, b] = ["a", "b"].map(|key| kept.get(key, |key| key.len()));
        for _ in 0..3 {
            assert!(Arc::ptr_eq(&a, &kept.get("a", |_| 0)));
            assert!(Arc::ptr_eq(&b, &kept.get("b", |_| 0)));
        }
        kept.get("c", |key| key.len());
        assert!(Arc::ptr_eq(&b, &kept.get("b", |_| 0)));
        assert_eq!(*kept.get("a", |_| 7), 7, "the one that was used longest ago is gone");
    }
}
