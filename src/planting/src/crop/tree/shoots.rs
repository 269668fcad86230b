//! New shoots: limbs from the leader's last year's wood, from its spurs, from stubs; laterals of limbs; uprights.

use super::chance::{Chance, Key, What};
use super::exact::power;
use super::grow::{Lit, Season};
use super::site::Nursery;
use super::{Axis, Kind, Life, Piece, Spur, Tree, degrees};
use crate::kit::order::within;

/// From one bud to the next along fresh leader wood that breaks `[m]`: 26 on a metre (young trees: 21.9 on 0.85 m, 31 on
/// 1.21 m).
const LEADER_SITE_M: f64 = 1.0 / 26.0;
/// Share of those buds that become long limbs after a season of 1 m, and how that falls in weaker seasons: 44 % of buds in
/// the season the leader grew 119 cm, 4 % in that of 31 cm (young trees; the power between is a fit through the two). What one
/// tree grows more or less than is usual for the season counts half (assumption).
const LONG_SHARE: (f64, f64) = (0.32, 1.5);
/// Share of the other buds that become shoots of 5 to 20 cm (young trees: 14 to 15 % of all).
const MIDDLE_SHARE: f64 = 0.17;
/// Length of long limbs in their first year after a season of 1 m `[m]`, and how that falls: 67 ± 23 cm in the strong
/// season, 28 ± 6 cm in the weak one (young trees).
const LONG_LENGTH: (f64, f64) = (0.60, 0.60);
/// Laterals on a metre of limb wood in their first year (young trees: 30.6 ± 9).
const LATERALS_ON_METRE: f64 = 30.6;
/// The golden angle, by which successive buds are turned `[°]` (from memory; 144° is usual too).
const DIVERGENCE: f64 = 137.5;

/// A shoot to be.
pub(super) struct Shoot {
    /// Place of the axis it grows from.
    pub(super) parent: usize,
    /// Where on it `[m]`.
    pub(super) at: f64,
    /// Its number among its like.
    pub(super) place: u32,
    /// `[m]`
    pub(super) length: f64,
    /// From the vertical `[rad]`.
    pub(super) angle: f64,
    /// From along the row `[rad]`.
    pub(super) compass: f64,
}

/// Where the bud of a number points.
pub(super) fn turned(chance: Chance, key: Key, number: f64) -> f64 {
    let start = chance.even(What::Site, (key.0, 0, 7)) * std::f64::consts::TAU;
    start + degrees(number * DIVERGENCE + chance.bell(What::Site, key, 0.0, 10.0))
}

/// Adds an axis that has grown this year.
pub(super) fn add(tree: &mut Tree, shoot: &Shoot) {
    let Some(parent) = tree.axes.get(shoot.parent) else { return };
    let id = tree.chance.name(parent.id, tree.year, shoot.place);
    let kind = if parent.kind == Kind::Leader { Kind::Limb } else { Kind::Side };
    let curl = degrees(tree.chance.bell(What::Sway, (id, 0, 1), -14.0, 8.0));
    let piece =
        Piece { year: tree.year, length: shoot.length, angle: shoot.angle, compass: shoot.compass, curl };
    tree.axes.push(Axis {
        id,
        parent: Some(shoot.parent),
        kind,
        at: shoot.at,
        born: tree.year,
        pieces: vec![piece],
        diameter: 0.0,
        spurs: Vec::new(),
        life: Life::Growing,
        shortened: None,
        first_length: shoot.length,
    });
}

/// The part of the axis that grew last year: where it starts and how long it is `[m]`; none where nothing grew.
fn last_year(axis: &Axis, year: u32) -> Option<(f64, f64)> {
    let mut start = 0.0;
    for piece in &axis.pieces {
        if piece.year + 1 == year {
            return Some((start, piece.length));
        }
        start += piece.length;
    }
    None
}

/// Buds on the leader's last year's wood: long limbs where the season is strong, more of them toward the top; shoots of a
/// hand's length; spurs.
pub(super) fn from_leader(tree: &mut Tree, season: Season) {
    let Some(leader) = tree.axes.first().filter(|leader| leader.grows()) else { return };
    let Some((start, length)) = last_year(leader, tree.year) else { return };
    // Nursery wood has branched already, but for its end.
    let nursery = tree.year == 1;
    let feathered = tree.site.nursery == Nursery::Feathered;
    if nursery && !feathered {
        return;
    }
    let (from, whole) =
        if nursery { (1.15_f64.min(start + length), start + length - 1.15) } else { (start, length) };
    let (id, year, chance) = (leader.id, tree.year, tree.chance);
    let share = within(
        LONG_SHARE.0 * power(season.mean * season.grown, LONG_SHARE.1 / 2.0) * tree.traits.limbs,
        0.0,
        0.8,
    );
    let mean = LONG_LENGTH.0 * power(season.grown, LONG_LENGTH.1);
    let mut spurs = Vec::new();
    let mut number = 0;
    let mut last_limb = f64::MIN;
    while as_f64(number) * LEADER_SITE_M < whole {
        let key = (id, year, number);
        let at = from + ((as_f64(number) + 0.5) * LEADER_SITE_M).min(0.95 * whole);
        let height = (at - from) / whole.max(LEADER_SITE_M);
        let chosen = chance.even(What::Site, (id, year, number + 1000));
        // Nearer to the top more buds grow long (assumption: 0.4 to 1.6 of the mean).
        let long = chosen < share * (0.4 + 1.2 * height) && at - last_limb > LEAST_APART_M;
        if long {
            last_limb = at;
            let drawn = chance.bell(What::Shoot, key, 1.0, 0.24) * mean * (0.85 + 0.3 * height);
            let angle = chance.bell(What::Shoot, (id, year, number + 1000), 77.0 - 10.0 * height, 20.0);
            add(
                tree,
                &Shoot {
                    parent: 0,
                    at,
                    place: number,
                    length: within(drawn, 0.20, 1.40),
                    angle: degrees(within(angle, 20.0, 118.0)),
                    compass: turned(chance, key, as_f64(number)),
                },
            );
        } else {
            spurs.push((at, number, chance.even(What::Spur, key) < MIDDLE_SHARE));
        }
        number += 1;
    }
    let push = |tree: &mut Tree, (at, number, middle): (f64, u32, bool)| {
        let length = spur_length(chance, (id, year, number), middle);
        let roll = turned(chance, (id, year, number), as_f64(number));
        if let Some(leader) = tree.axes.first_mut() {
            leader.spurs.push(Spur {
                at,
                roll,
                born: year,
                length,
                flowers: false,
                number: year * 1000 + number,
            });
        }
    };
    for spur in spurs {
        push(tree, spur);
    }
}

/// Two limbs from one piece of leader stand at least three nodes apart `[m]`.
const LEAST_APART_M: f64 = 0.035;

fn as_f64(number: u32) -> f64 {
    f64::from(number)
}

/// A spur's first length `[m]`: 16 ± 8 mm, a shoot of a hand's length 11 ± 4 cm (assumption within the young trees' classes).
fn spur_length(chance: Chance, key: Key, middle: bool) -> f64 {
    if middle {
        within(chance.bell(What::Spur, (key.0, key.1, key.2 + 2000), 0.11, 0.04), 0.05, 0.20)
    } else {
        within(chance.bell(What::Spur, (key.0, key.1, key.2 + 2000), 0.016, 0.008), 0.004, 0.05)
    }
}

/// Spurs on the leader and sleeping buds of its old wood wake and grow out: now and then on a tree nobody cuts (young trees:
/// 0.4 a year over 20 cm), often in the year after pruning where no limb stands near, which fills the tree and replaces what
/// is cut (assumption).
pub(super) fn from_old_leader(tree: &mut Tree, lit: &Lit) {
    let Some(leader) = tree.axes.first().filter(|_| tree.year >= 2) else { return };
    let (chance, year, push) = (tree.chance, tree.year, tree.site.push());
    let light = lit.middle(0);
    let was_cut = tree.pruned.is_some_and(|cut| cut + 1 == year);
    let (rare, often) = (0.02 * (0.5 + 0.5 * push * push), 0.42 * (0.5 + 0.5 * push * push));
    let limbs: Vec<f64> =
        tree.axes.iter().filter(|axis| axis.kind == Kind::Limb && axis.grows()).map(|axis| axis.at).collect();
    let is_bare = |at: f64, within_m: f64| limbs.iter().all(|limb| (limb - at).abs() >= within_m);
    // Where it stands, its number, and where it points.
    let mut woken: Vec<(f64, u32, f64)> = Vec::new();
    for spur in leader.spurs.iter().filter(|spur| spur.born < year) {
        let likely = if was_cut && is_bare(spur.at, 0.05) { often } else { rare };
        if chance.even(What::Waking, (leader.id, year, spur.number)) < likely {
            woken.push((spur.at, spur.number, spur.roll));
        }
    }
    let (mut at, mut number) = (LOWEST_SLEEPER_M, FIRST_SLEEPER);
    let old_wood = leader.length() - leader.pieces.last().map_or(0.0, |piece| piece.length);
    while was_cut && at < old_wood {
        let likely = 0.35 * often * within((light - 0.15) / 0.25, 0.0, 1.0);
        if is_bare(at, 0.08) && chance.even(What::Waking, (leader.id, year, number)) < likely {
            woken.push((at, number, turned(chance, (leader.id, 0, number), as_f64(number))));
        }
        at += SLEEPERS_APART_M;
        number += 1;
    }
    let (id, lengths) = (leader.id, tree.traits.lengths);
    for (at, number, compass) in woken {
        let length = chance.bell(What::Waking, (id, year + 200, number), 0.36, 0.11);
        let angle = within(chance.bell(What::Waking, (id, year + 100, number), 78.0, 11.0), 40.0, 110.0);
        let shoot = Shoot {
            parent: 0,
            at,
            place: 10_000 + number,
            length: within(length * push * (0.55 + 0.6 * light) * lengths, 0.08, 0.9),
            angle: degrees(angle),
            compass,
        };
        add(tree, &shoot);
        if let Some(leader) = tree.axes.first_mut() {
            leader.spurs.retain(|known| known.number != number);
        }
    }
}

/// Sleeping buds of old leader wood: the lowest `[m]`, how far apart `[m]`, and the number of the first.
const LOWEST_SLEEPER_M: f64 = 0.60;
const SLEEPERS_APART_M: f64 = 0.10;
const FIRST_SLEEPER: u32 = 500_000;

/// One to three shoots from a stub cut last winter (number from memory, sizes an assumption): the first flatter, longer where
/// the tree is strong.
pub(super) fn from_stubs(tree: &mut Tree, lit: &Lit) {
    let (chance, year, push) = (tree.chance, tree.year, tree.site.push());
    let mut grown = Vec::new();
    for (place, axis) in tree.axes.iter().enumerate() {
        let (Life::Stub(cut), Some(parent)) = (axis.life, axis.parent) else { continue };
        if cut + 1 != year {
            continue;
        }
        let compass = axis.pieces.first().map_or(0.0, |piece| piece.compass);
        let number = 1.0 + (chance.even(What::Renewal, (axis.id, year, 0)) * 2.4).floor();
        let light = lit.middle(place);
        for index in 0..3 {
            if as_f64(index) >= number {
                break;
            }
            let key = (axis.id, year, index + 1);
            let length = chance.bell(What::Renewal, key, 0.46, 0.16) * push * (0.55 + 0.5 * light);
            let steep = if index == 0 { 70.0 } else { 58.0 };
            let angle = chance.bell(What::Renewal, (axis.id, year + 100, index), steep, 13.0);
            let aside = chance.bell(What::Renewal, (axis.id, year + 200, index), 0.0, 24.0);
            grown.push(Shoot {
                parent,
                at: axis.at + 0.008 * (as_f64(index) - 1.0),
                place: 20_000 + index + (axis.id.0 & 0xfff) * 8,
                length: within(length, 0.10, 1.2),
                angle: degrees(within(angle, 15.0, 110.0)),
                compass: compass + degrees(aside),
            });
        }
    }
    for shoot in grown {
        add(tree, &shoot);
    }
}

/// Laterals on last year's wood of limbs and side axes: 78 % spurs, 18 % shoots of 5 to 20 cm, 4 % side axes (young trees).
pub(super) fn from_limbs(tree: &mut Tree, lit: &Lit) {
    let (chance, year, push) = (tree.chance, tree.year, tree.site.push());
    let mut sides = Vec::new();
    for place in 1..tree.axes.len() {
        let Some(axis) = tree.axes.get(place).filter(|axis| axis.grows()) else { continue };
        let Some((start, length)) = last_year(axis, year) else { continue };
        let light = lit.middle(place);
        let density =
            within(chance.bell(What::Lateral, (axis.id, year, 9000), LATERALS_ON_METRE, 6.0), 12.0, 50.0);
        let (id, step) = (axis.id, 1.0 / density);
        let parent_angle = axis
            .pieces
            .iter()
            .find(|piece| piece.year + 1 == year)
            .map_or((0.0, 0.0), |piece| (piece.angle, piece.compass));
        let mut spurs = Vec::new();
        let mut number = 0;
        // A last part of a step grows a lateral with that chance, or short pieces would never bear any.
        let wanted = length * density + chance.even(What::Lateral, (id, year, 9001)) - 0.5;
        while as_f64(number) + 0.5 < wanted {
            let key = (id, year, number);
            let at = start + ((as_f64(number) + 0.5) * step).min(length * 0.98);
            let out = (at - start) / length;
            let drawn = chance.even(What::Lateral, key);
            let side = (0.036 + 0.03 * (push - 1.0) + if out > 0.8 { 0.04 } else { 0.0 }) * light;
            let roll = turned(chance, key, as_f64(number));
            if drawn < side {
                sides.push(side_axis(chance, key, Side { place, at, out, roll, push, light, parent_angle }));
            } else {
                let middle = drawn < side + 0.18 * (0.4 + 0.6 * light);
                let length = spur_length(chance, key, middle);
                spurs.push(Spur {
                    at,
                    roll,
                    born: year,
                    length,
                    flowers: false,
                    number: year * 1000 + number,
                });
            }
            number += 1;
        }
        if let Some(axis) = tree.axes.get_mut(place) {
            axis.spurs.extend(spurs);
        }
    }
    for side in sides {
        add(tree, &side);
    }
}

/// Where and on what a side axis grows.
struct Side {
    place: usize,
    at: f64,
    out: f64,
    roll: f64,
    push: f64,
    light: f64,
    parent_angle: (f64, f64),
}

/// A side axis: 30 ± 9 cm, opening by 56 ± 11° to one side of its limb, a little upward (assumption).
fn side_axis(chance: Chance, key: Key, side: Side) -> Shoot {
    let (id, year, number) = key;
    let length = chance.bell(What::Shoot, key, 0.30, 0.09) * side.push * (0.5 + 0.6 * side.light);
    let opening = within(chance.bell(What::Shoot, (id, year, number + 3000), 56.0, 11.0), 25.0, 85.0);
    let aside = if super::exact::sine(side.roll) < 0.0 { -1.0 } else { 1.0 };
    let (angle, compass) = side.parent_angle;
    Shoot {
        parent: side.place,
        at: side.at,
        place: 30_000 + number,
        length: within(length * (1.1 - 0.3 * side.out), 0.12, 0.8),
        angle: within(
            angle - degrees(12.0) - degrees(10.0) * super::exact::cosine(side.roll),
            degrees(15.0),
            degrees(115.0),
        ),
        compass: compass + degrees(aside * opening),
    }
}

/// Uprights from the backs of limbs two years and older and longer than 0.4 m: now and then, three times as often the year
/// after a strong cut (assumption throughout).
pub(super) fn from_backs(tree: &mut Tree, lit: &Lit) {
    let (chance, year, push) = (tree.chance, tree.year, tree.site.push());
    let mut grown = Vec::new();
    for (place, axis) in tree.axes.iter().enumerate().skip(1) {
        let length = axis.length();
        if !axis.grows() || axis.born + 2 > year || length < 0.4 || place == tree.top {
            continue;
        }
        let cut = axis.shortened.is_some_and(|cut| cut + 1 == year);
        let likely = 0.10 * push * push * if cut { 3.0 } else { 1.0 } * (0.4 + 0.6 * lit.middle(place));
        let key = (axis.id, year, 0);
        if chance.even(What::Upright, key) < likely {
            let compass = axis.pieces.first().map_or(0.0, |piece| piece.compass);
            let long = chance.bell(What::Upright, key, 0.5, 0.16) * push * (0.5 + 0.5 * lit.middle(place));
            let angle = within(chance.bell(What::Upright, (axis.id, year, 1), 22.0, 9.0), 5.0, 45.0);
            grown.push(Shoot {
                parent: place,
                at: length * (0.15 + 0.5 * chance.even(What::Upright, (axis.id, year, 2))),
                place: 40_000,
                length: within(long, 0.15, 1.2),
                angle: degrees(angle),
                compass,
            });
        }
    }
    for shoot in grown {
        add(tree, &shoot);
    }
}
