//! Chance by name: what is drawn depends on the seed and on what it is drawn for, never on what was drawn before.
//!
//! A cut on one limb so changes no other limb's luck: undoing it, and two courses of one tree side by side, stay comparable.
//! The generator mixes whole numbers (the finaliser of SplitMix64, Steele, Lea & Flood 2014, doi 10.1145/2714064.2660195)
//! and is the same on every platform.

use crate::kit::order::within;

/// What a number is drawn for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum What {
    Trait,
    Leader,
    Nursery,
    Feather,
    Site,
    Shoot,
    Lateral,
    Waking,
    Renewal,
    Upright,
    Extension,
    Spur,
    Goal,
    Thickness,
    Death,
    Sway,
    Name,
}

/// The identity of an axis: a mix of its parent's, the year it grew and its place, so that it doesn't depend on what else
/// grew or was cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct AxisId(pub u32);

/// The chances of one tree.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Chance {
    pub(super) seed: u32,
}

/// For which axis, in which year, the how-manieth.
pub(super) type Key = (AxisId, u32, u32);

/// The largest deviation of [`Chance::bell`], in standard deviations: 2 √3.
const BELL_ENDS: f64 = 2.0 * SQRT_3;
const SQRT_3: f64 = 1.732_050_807_568_877_2;

impl Chance {
    fn bits(self, what: What, (axis, year, index): Key, turn: u32) -> u64 {
        let one = u64::from(self.seed) << 32 | u64::from(axis.0);
        let other = u64::from(what as u32) << 48
            | u64::from(year & 0xff) << 40
            | u64::from(turn) << 32
            | u64::from(index);
        mixed(mixed(one).wrapping_add(other))
    }

    /// Evenly from 0 to below 1.
    pub(super) fn even(self, what: What, key: Key) -> f64 {
        self.turn(what, key, 0)
    }

    fn turn(self, what: What, key: Key, turn: u32) -> f64 {
        let upper = (self.bits(what, key, turn) >> 32) as u32;
        f64::from(upper) / 4_294_967_296.0
    }

    /// About normal, as the sum of four even draws: `m + s √3 (u₁ + u₂ + u₃ + u₄ − 2)`, at most 2 √3 s from the mean.
    pub(super) fn bell(self, what: What, key: Key, mean: f64, deviation: f64) -> f64 {
        let sum: f64 = [1, 2, 3, 4].into_iter().map(|turn| self.turn(what, key, turn)).sum();
        mean + deviation * within(SQRT_3 * (sum - 2.0), -BELL_ENDS, BELL_ENDS)
    }

    /// The name of a new axis.
    pub(super) fn name(self, parent: AxisId, year: u32, place: u32) -> AxisId {
        let name = (self.bits(What::Name, (parent, year, place), 0) >> 32) as u32;
        // 0 is the leader's.
        AxisId(name.max(1))
    }
}

fn mixed(number: u64) -> u64 {
    let number = number.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let number = (number ^ number >> 30).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let number = (number ^ number >> 27).wrapping_mul(0x94d0_49bb_1331_11eb);
    number ^ number >> 31
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The first outputs of SplitMix64 for seed 1234567 (reference implementation of Vigna, from memory).
    #[test]
    fn the_mixer_is_the_published_one() {
        let gamma = 0x9e37_79b9_7f4a_7c15_u64;
        assert_eq!(mixed(1_234_567), 6_457_827_717_110_365_317);
        assert_eq!(mixed(1_234_567_u64.wrapping_add(gamma)), 3_203_168_211_198_807_973);
    }

    #[test]
    fn a_bell_has_its_mean_and_deviation() {
        let chance = Chance { seed: 7 };
        let drawn: Vec<f64> =
            (0..20_000).map(|index| chance.bell(What::Shoot, (AxisId(3), 2, index), 10.0, 2.0)).collect();
        let mean = drawn.iter().sum::<f64>() / 20_000.0;
        let spread = (drawn.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / 20_000.0).sqrt();
        assert!((mean - 10.0).abs() < 0.05 && (spread - 2.0).abs() < 0.05, "{mean} ± {spread}");
    }
}
