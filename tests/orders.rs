//! The orders in which the checks fetch the files a module is cut into.

/// So many keys are put in all their orders; five have 120.
const MOST_IN_ALL_ORDERS: usize = 5;
/// How many orders of more keys are drawn; each is walked backwards too.
const DRAWN: usize = 20;
/// Where the drawing begins; change the number to draw others.
const SEED: u32 = 20_261_125;

/// All orders of up to five keys. Of more, a sample in which every pair of keys comes in both orders, and every key first and last.
///
/// ```
/// use rowlight_tests::orders::orders;
/// assert_eq!(orders(&["light", "words"]), [["light", "words"], ["words", "light"]]);
/// assert_eq!(orders(&["a", "b", "c", "d", "e"]).len(), 120);
/// assert_eq!(orders(&["a", "b", "c", "d", "e", "f"]).len(), 40);
/// ```
pub fn orders<'a>(keys: &[&'a str]) -> Vec<Vec<&'a str>> {
    if keys.len() <= MOST_IN_ALL_ORDERS { all(keys) } else { drawn(keys) }
}

fn all<'a>(keys: &[&'a str]) -> Vec<Vec<&'a str>> {
    if keys.is_empty() {
        return vec![Vec::new()];
    }
    let beginning = |first: &'a str| {
        let rest: Vec<&str> = keys.iter().copied().filter(|key| *key != first).collect();
        all(&rest).into_iter().map(move |rest| [&[first], &rest[..]].concat())
    };
    keys.iter().flat_map(|first| beginning(first)).collect()
}

fn drawn<'a>(keys: &[&'a str]) -> Vec<Vec<&'a str>> {
    let (mut state, mut orders) = (SEED, Vec::new());
    for first in keys.iter().cycle().take(DRAWN.max(keys.len())) {
        let mut order = shuffled(keys, &mut state);
        let place = order.iter().position(|key| key == first).unwrap_or(0);
        order.rotate_left(place);
        orders.push(order.clone());
        order.reverse();
        orders.push(order);
    }
    orders
}

/// Fisher and Yates's shuffle. The numbers come from the linear congruential generator of Press et al., Numerical Recipes, 2nd
/// edition (1992), section 7.1, whose higher bits are the better ones.
fn shuffled<'a>(keys: &[&'a str], state: &mut u32) -> Vec<&'a str> {
    let mut order = keys.to_vec();
    for last in (1..order.len()).rev() {
        *state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        order.swap(last, (*state >> 16) as usize % (last + 1));
    }
    order
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    const KEYS: [&str; 8] = ["light", "crop", "loads", "water", "money", "print", "files", "words"];

    #[test]
    fn few_keys_come_in_all_orders() {
        let orders = orders(&KEYS[..4]);
        assert_eq!(orders.iter().collect::<BTreeSet<_>>().len(), 24);
        assert!(orders.iter().all(|order| order.iter().collect::<BTreeSet<_>>().len() == 4));
    }

    #[test]
    fn many_keys_come_in_a_sample_that_has_every_pair_in_both_orders() {
        let drawn = orders(&KEYS);
        assert_eq!(drawn, orders(&KEYS), "another sample the next time");
        let place = |order: &[&str], key: &str| order.iter().position(|other| *other == key);
        for one in KEYS {
            for ends in [
                |order: &[&'static str]| order.first().copied(),
                |order: &[&'static str]| order.last().copied(),
            ] {
                assert!(drawn.iter().any(|order| ends(order) == Some(one)), "{one} is never at an end");
            }
            for other in KEYS.into_iter().filter(|other| *other != one) {
                assert!(
                    drawn.iter().any(|order| place(order, one) < place(order, other)),
                    "{one} before {other}"
                );
            }
        }
        // The sample is no handful of orders over and over.
        assert!(drawn.iter().collect::<BTreeSet<_>>().len() > 30);
        assert!(drawn.iter().all(|order| order.iter().collect::<BTreeSet<_>>().len() == KEYS.len()));
    }
}
