//! One tree to practise on: grown year by year from a seed, pruned by hand or by the rules, and judged.
//!
//! ```text
//!    leader ──o──── limb ──o── side axis        each axis: one piece a year, with its length, its angle from
//!             |            spur                 the vertical and its compass; a diameter at its base; spurs
//! ```
//!
//! | a question about | is answered in |
//! |---|---|
//! | what it is grown from | [`site`] |
//! | axes, pieces, spurs | [`Tree`], [`Axis`], [`Piece`], [`Spur`] |
//! | planting, and a year on | [`grow`] |
//! | where every point of it stands | [`shape`] |
//! | light in it | [`shade`] |
//! | what a cut does | [`cut`] |
//! | what the rules would take, and why | [`opinion`] |
//! | limbs, ratio, buds, fruit, light, time | [`answers`] |
//! | a person's cuts, undone, compared, repeated over years | [`practice`] |
//! | being the same on every platform | [`exact`] |
//!
//! Measured means and spreads: fourth-leaf trees in the open field (Reyes, Pitchers, Pradal & Lauri 2025, AoB Plants, doi
//! 10.1093/aobpla/plaf029) and eight-year 'Golden Delicious' on several stocks (Brym & Ernest, NC-140 2003, Kaysville, Utah).
//! Below they are called *young trees* and *grown trees*. What is called assumption is this project's own.
//!
//! Left out: wood diseases, breakage, frost, limbs tied down by hand, other systems than a single leader, and a limb's
//! twisting under its load.
//!
//! The frame: across the rows, along them, up; metres from the foot of the tree. A compass counts from along the row.

pub mod answers;
mod chance;
pub mod cut;
pub mod exact;
pub mod grow;
pub mod opinion;
pub mod practice;
pub mod shade;
pub mod shape;
mod shoots;
pub mod site;
mod wood;

pub use chance::AxisId;

use chance::{Chance, What};
use site::Site;

/// Length from which an axis on the leader counts as a limb `[m]`, as the young trees were counted.
pub const LIMB_FROM_M: f64 = 0.20;

/// What an axis is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// The leader.
    Leader,
    /// A limb, on the leader.
    Limb,
    /// A side axis, on a limb or another side axis.
    Side,
}

/// Whether an axis grows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Life {
    /// It grows.
    Growing,
    /// It was cut to a stub after this year.
    Stub(u32),
    /// Its stub has healed over; it was cut after this year.
    Scar(u32),
}

/// What an axis grew in one year. Metres and radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// The year it grew in.
    pub year: u32,
    /// Its length.
    pub length: f64,
    /// Its angle from the vertical.
    pub angle: f64,
    /// Where it points, from along the row.
    pub compass: f64,
    /// How much its angle changes from start to end.
    pub curl: f64,
}

/// A spur: a short shoot with one bud.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spur {
    /// Distance from the base of its axis `[m]`.
    pub at: f64,
    /// Where it stands round its axis `[rad]`.
    pub roll: f64,
    /// The year it grew in.
    pub born: u32,
    /// Its length `[m]`.
    pub length: f64,
    /// Whether its bud will flower next spring.
    pub flowers: bool,
    /// Its number on its axis, which stays.
    pub number: u32,
}

/// The leader, a limb or a side axis. Metres.
#[derive(Clone, Debug, PartialEq)]
pub struct Axis {
    /// Its name, which stays whatever else is cut.
    pub id: AxisId,
    /// The axis it grows from, as its place in the tree's list; none for the leader.
    pub parent: Option<usize>,
    /// What it is.
    pub kind: Kind,
    /// Distance of its base along its parent.
    pub at: f64,
    /// The year it grew first.
    pub born: u32,
    /// What it grew, year by year; a year without growth has no piece.
    pub pieces: Vec<Piece>,
    /// Diameter at its base, without bark ridges.
    pub diameter: f64,
    /// Its spurs, in no order.
    pub spurs: Vec<Spur>,
    /// Whether it grows.
    pub life: Life,
    /// The last year after which it was shortened.
    pub shortened: Option<u32>,
    /// Its length in its first year.
    pub first_length: f64,
}

impl Axis {
    /// Its length `[m]`.
    pub fn length(&self) -> f64 {
        self.pieces.iter().fold(0.0, |sum, piece| sum + piece.length)
    }

    /// Whether it grows.
    pub fn grows(&self) -> bool {
        self.life == Life::Growing
    }

    /// Its diameter at a distance from its base `[m]`: down to three tenths of the base at the tip, 2.4 to 4.2 mm there.
    pub fn diameter_at(&self, distance: f64) -> f64 {
        let tip = crate::kit::order::within(0.3 * self.diameter, 0.0024, 0.0042).min(self.diameter);
        let length = self.length();
        let left =
            if length > 0.0 { crate::kit::order::within(1.0 - distance / length, 0.0, 1.0) } else { 1.0 };
        tip + (self.diameter - tip) * exact::power(left, 0.72)
    }

    /// Whether it is a limb in the sense of counts: on the leader, growing, and long enough.
    pub fn is_limb(&self) -> bool {
        self.kind == Kind::Limb && self.grows() && self.length() >= LIMB_FROM_M
    }
}

/// What makes one tree differ from the next, drawn once `[–]`.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Traits {
    limbs: f64,
    lengths: f64,
    trunk: f64,
    /// The most that limbs have of the trunk's area.
    limb_to_trunk: f64,
}

/// A tree in the winter after a year, before or after pruning.
#[derive(Clone, Debug, PartialEq)]
pub struct Tree {
    /// What it is grown from.
    pub site: Site,
    /// Its seed: the same seed on the same site, cut alike, is the same tree.
    pub seed: u32,
    /// Years since planting.
    pub year: u32,
    /// The leader first, every axis after the one it grows from.
    pub axes: Vec<Axis>,
    /// The axis that is the top: the leader, or the side limb it was lowered to.
    pub top: usize,
    /// Diameter of the trunk 30 cm above the union `[m]`.
    pub trunk_diameter: f64,
    /// The last year after which wood was cut.
    pub pruned: Option<u32>,
    traits: Traits,
    chance: Chance,
}

impl Traits {
    /// How far trees differ (assumption, set so that seeds differ as the young trees did).
    fn of(chance: Chance) -> Traits {
        let drawn = |index, mean, deviation, least, most| {
            let value = chance.bell(What::Trait, (AxisId(0), 0, index), mean, deviation);
            crate::kit::order::within(value, least, most)
        };
        Traits {
            limbs: drawn(0, 1.0, 0.15, 0.6, 1.5),
            lengths: drawn(1, 1.0, 0.12, 0.7, 1.3),
            trunk: drawn(2, 1.0, 0.10, 0.75, 1.25),
            limb_to_trunk: drawn(3, 2.05, 0.32, 1.3, 2.6),
        }
    }
}

impl Tree {
    /// The leader; a tree always has one.
    fn leader(&self) -> Option<&Axis> {
        self.axes.first()
    }

    /// The axis with this name, and its place in the list.
    pub fn find(&self, id: AxisId) -> Option<(usize, &Axis)> {
        self.axes.iter().enumerate().find(|(_, axis)| axis.id == id)
    }

    /// Trunk cross-section 30 cm above the union `[m²]`.
    pub fn trunk_area(&self) -> f64 {
        std::f64::consts::FRAC_PI_4 * self.trunk_diameter * self.trunk_diameter
    }

    /// Section of all limbs at their base `[m²]`.
    pub fn limb_area(&self) -> f64 {
        let limbs = self.axes.iter().filter(|axis| axis.kind == Kind::Limb && axis.grows());
        let squares = limbs.fold(0.0, |sum, axis| sum + axis.diameter * axis.diameter);
        std::f64::consts::FRAC_PI_4 * squares
    }

    /// Diameter of the leader at a distance along it `[m]`: three quarters of a line from the trunk to 7 mm at the tip, bent by
    /// 0.8, and one quarter of what the limbs above ask for by the pipe rule (rule from memory, shares an assumption).
    ///
    /// ```
    /// use planting::crop::tree::{grow::plant, site::Site};
    /// let tree = plant(&Site::usual(1.0), 1);
    /// assert!(tree.leader_diameter(1.5) < tree.leader_diameter(0.5));
    /// ```
    pub fn leader_diameter(&self, at: f64) -> f64 {
        let length = self.leader().map_or(0.0, Axis::length);
        let tip = LEADER_TIP_M.min(self.trunk_diameter);
        let left = if length > 0.0 { crate::kit::order::within(1.0 - at / length, 0.0, 1.0) } else { 1.0 };
        let line = tip + (self.trunk_diameter - tip) * exact::power(left, 0.80);
        let (mut above, mut all) = (tip * tip, tip * tip);
        for limb in self.axes.iter().filter(|axis| axis.kind == Kind::Limb && axis.grows()) {
            let square = limb.diameter * limb.diameter;
            all += square;
            if limb.at >= at {
                above += square;
            }
        }
        0.75 * line + 0.25 * self.trunk_diameter * (above / all).sqrt()
    }

    /// Diameter of what an axis grows from, where it grows from it `[m]`.
    pub fn diameter_below(&self, axis: &Axis) -> f64 {
        match axis.parent.and_then(|parent| self.axes.get(parent)) {
            Some(parent) if parent.kind == Kind::Leader => self.leader_diameter(axis.at),
            Some(parent) => parent.diameter_at(axis.at),
            None => self.trunk_diameter,
        }
    }

    /// A number that differs between trees that differ in any bit: the same seed, site and cuts give the same number on
    /// every platform. FNV-1a (Fowler, Noll & Vo), 64 bits.
    ///
    /// ```
    /// use planting::crop::tree::{grow::plant, site::Site};
    /// let site = Site::usual(1.0);
    /// assert_eq!(plant(&site, 7).fingerprint(), plant(&site, 7).fingerprint());
    /// assert_ne!(plant(&site, 7).fingerprint(), plant(&site, 8).fingerprint());
    /// ```
    pub fn fingerprint(&self) -> u64 {
        let mut print = Fingerprint(0xcbf2_9ce4_8422_2325);
        print.numbers(&[self.trunk_diameter]);
        for axis in &self.axes {
            print.word(u64::from(axis.id.0));
            print.word(u64::from(axis.born));
            print.word(u64::from(axis.grows()));
            print.numbers(&[axis.at, axis.diameter]);
            for piece in &axis.pieces {
                print.numbers(&[piece.length, piece.angle, piece.compass, piece.curl]);
            }
            for spur in &axis.spurs {
                print.word(u64::from(spur.flowers));
                print.numbers(&[spur.at, spur.roll, spur.length]);
            }
        }
        print.0
    }

    /// Takes axes out of the list for good, with all that grows from them.
    fn keep_only(&mut self, keep: impl Fn(&Axis) -> bool) {
        let mut places: Vec<Option<usize>> = Vec::with_capacity(self.axes.len());
        let mut kept = 0;
        for axis in &self.axes {
            let held = axis.parent.is_none_or(|parent| places.get(parent).copied().flatten().is_some());
            let stays = axis.parent.is_none() || held && keep(axis);
            places.push(stays.then_some(kept));
            kept += usize::from(stays);
        }
        self.top = places.get(self.top).copied().flatten().unwrap_or(0);
        let mut place = places.iter();
        self.axes.retain_mut(|axis| {
            let stays = place.next().copied().flatten().is_some();
            axis.parent = axis.parent.and_then(|parent| places.get(parent).copied().flatten());
            stays
        });
    }
}

/// A running FNV-1a sum.
struct Fingerprint(u64);

impl Fingerprint {
    fn numbers(&mut self, numbers: &[f64]) {
        for number in numbers {
            self.word(number.to_bits());
        }
    }

    fn word(&mut self, word: u64) {
        for byte in word.to_le_bytes() {
            self.0 = (self.0 ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
        }
    }
}

/// Diameter of the leader's tip `[m]`.
const LEADER_TIP_M: f64 = 0.007;

fn degrees(value: f64) -> f64 {
    value * std::f64::consts::PI / 180.0
}
