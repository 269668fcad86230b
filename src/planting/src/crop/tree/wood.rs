//! How wood grows on, ages, bends, thickens and dies.

use super::chance::{AxisId, What};
use super::exact::power;
use super::grow::Lit;
use super::{Axis, Kind, Life, Piece, Tree, degrees};
use crate::kit::order::within;

/// What a year's growth of an axis has of the year's before `[–]` (assumption).
const DWINDLING: f64 = 0.55;
/// Diameter of a limb two seasons after it grew: `L = 41.3 d^1.17`, both in cm (young trees, r² 0.50, n 147), so that
/// `d = (L ÷ 41.3)^0.855`.
const LENGTH_ON_DIAMETER: (f64, f64) = (41.3, 1.17);
/// Share of that diameter in a limb's first and second winter (assumption).
const EARLY_SHARES: [f64; 2] = [0.62, 0.82];
/// What a limb adds to its diameter in later years `[m]`: 2.1 mm, a little less each year, 0.9 mm at least (assumption).
const RING: (f64, f64, f64) = (0.0021, 0.000_12, 0.0009);
/// Diameter of a limb against the root of its side axes' squares, at least `[–]` (assumption below the pipe rule's 1).
const PIPE: f64 = 0.82;
/// Where a limb's wood comes to lie under its fruit, from the vertical `[°]`: grown limbs were measured at 0 ± 8° to the
/// horizontal (grown trees).
const LAID: (f64, f64) = (96.0, 10.0);
/// Share of the way there that wood of 15 mm goes in a year (assumption).
const LAID_A_YEAR: f64 = 0.28;

/// Limbs and side axes grow on from their tips.
pub(super) fn extend(tree: &mut Tree, lit: &Lit) {
    let (year, chance, push, top) = (tree.year, tree.chance, tree.site.push(), tree.top);
    let half_spread = tree.site.sizes.spread(year) / 2.0 * tree.traits.lengths;
    for (place, axis) in tree.axes.iter_mut().enumerate().skip(1) {
        if !axis.grows() || axis.born == year || place == top {
            continue;
        }
        let age = year - axis.born;
        let light = lit.tip(place);
        let cut = axis.shortened.is_some_and(|cut| cut + 1 == year);
        let fresh = axis.pieces.last().is_some_and(|piece| piece.year + 1 == year);
        let kind = if axis.kind == Kind::Side { 0.7 } else { 1.0 };
        // Beyond the spread that the tree's size gives it an axis hardly grows on.
        let reach = within(1.3 - axis.length() / half_spread.max(0.1), 0.2, 1.0);
        let drawn = chance.bell(What::Extension, (axis.id, year, 0), 1.0, 0.28);
        let grown = axis.first_length
            * power(DWINDLING, f64::from(age))
            * drawn
            * (0.45 + 0.65 * light)
            * kind
            * reach;
        let least =
            within(chance.bell(What::Extension, (axis.id, year, 1), 0.07, 0.03), 0.015, 0.15) * push * light;
        let after_cut =
            within(chance.bell(What::Extension, (axis.id, year, 2), 0.26, 0.09), 0.05, 0.6) * push * light;
        let grown = grown.max(least).max(if cut { after_cut } else { 0.0 });
        let Some(last) = axis.pieces.last().copied() else { continue };
        // The new piece turns up toward the light, more so when it is strong.
        let goal = degrees(58.0);
        let turned = (last.angle + last.curl / 2.0 - goal).max(0.0) * within(0.15 + 0.7 * grown, 0.15, 0.5);
        let angle = within(
            last.angle + last.curl / 2.0 - turned
                + degrees(chance.bell(What::Extension, (axis.id, year, 3), 0.0, 5.0)),
            0.05,
            degrees(150.0),
        );
        let compass = last.compass + degrees(chance.bell(What::Extension, (axis.id, year, 4), 0.0, 9.0));
        let curl = if fresh && grown > 0.1 { degrees(-8.0) } else { 0.0 };
        axis.pieces.push(Piece { year, length: grown, angle, compass, curl });
    }
}

/// Spurs flower or don't, grow a little, and are lost: 5 % in their first winter, 20 % a year in the next three, 3.5 % later, more in deep shade
/// (assumption, set so that 30 on a metre become the 13 of the grown trees).
pub(super) fn age_spurs(tree: &mut Tree, lit: &Lit) {
    let (year, chance, floral) = (tree.year, tree.chance, tree.site.floral_share);
    for (place, axis) in tree.axes.iter_mut().enumerate() {
        let (id, light) = (axis.id, lit.middle(place));
        // Below three tenths of the open light hardly a flower bud forms.
        let lit_share = within((light - 0.10) / 0.25, 0.0, 1.0);
        axis.spurs.retain_mut(|spur| {
            let age = year - spur.born;
            let lost = match age {
                0 => 0.0,
                1 => 0.05,
                2..=4 => 0.20,
                _ => 0.035,
            } + if light < 0.3 && age > 0 { 0.10 } else { 0.0 };
            if chance.even(What::Spur, (id, year, spur.number + 500_000)) < lost {
                return false;
            }
            if age > 0 && spur.length < 0.075 {
                spur.length += 0.007;
            }
            // 31 % of first-year laterals flowered on the young trees; half of the plan's share and more in years 3 and 4.
            let share = match year {
                0..=2 => 0.31,
                3 | 4 => 0.31 + (floral - 0.31) / 2.0,
                _ => floral,
            };
            let share = if age == 0 { share.min(0.31) } else { share };
            spur.flowers = chance.even(What::Spur, (id, year, spur.number + 600_000)) < share * lit_share;
            true
        });
    }
}

/// Wood older than this year comes down under its fruit: thin wood lies down, thick wood stays as it grew.
pub(super) fn bend(tree: &mut Tree) {
    let (year, chance, top) = (tree.year, tree.chance, tree.top);
    for (place, axis) in tree.axes.iter_mut().enumerate().skip(1) {
        if !axis.grows() || place == top {
            continue;
        }
        let goal = degrees(within(chance.bell(What::Goal, (axis.id, 0, 0), LAID.0, LAID.1), 75.0, 122.0));
        let length = axis.length();
        let limp = power(0.015 / axis.diameter.max(0.004), 1.5).min(1.0) * (length / 0.45).min(1.0);
        let mut out = 0.0;
        for piece in &mut axis.pieces {
            let middle = (out + piece.length / 2.0) / length.max(0.01);
            out += piece.length;
            if piece.year < year {
                let share = LAID_A_YEAR * limp * (0.45 + middle).min(1.0);
                let moved = (goal - piece.angle) * share;
                // Little of it ever comes up again.
                piece.angle += if moved < 0.0 { moved / 5.0 } else { moved };
            }
        }
    }
}

/// Limbs thicken with their age and with the wood they feed; the trunk follows its own size by year, and never has less than
/// its limbs ask for.
pub(super) fn thicken(tree: &mut Tree, lit: &Lit) {
    let (year, push) = (tree.year, tree.site.push());
    let mut squares = vec![0.0; tree.axes.len()];
    let mut carried = vec![0.0; tree.axes.len()];
    // From the tips in: every axis stands after the one it grows from.
    for place in (1..tree.axes.len()).rev() {
        let chance = tree.chance;
        let Some(axis) = tree.axes.get_mut(place) else { continue };
        if axis.grows() {
            let wood = axis.length() + carried.get(place).copied().unwrap_or(0.0);
            let natural =
                natural_diameter(axis, year, chance.bell(What::Thickness, (axis.id, 0, 0), 1.0, 0.13));
            let age = f64::from(year - axis.born);
            let ring = (RING.0 - RING.1 * age).max(RING.2)
                * push
                * (0.4 + 0.6 * lit.middle(place))
                * within(wood / 0.45, 0.5, 2.6);
            let thicker =
                if year - axis.born > 2 { axis.diameter + ring } else { axis.diameter.max(natural) };
            let fed = PIPE * squares.get(place).copied().unwrap_or(0.0_f64).sqrt();
            axis.diameter = thicker.max(fed);
            let (diameter, parent) = (axis.diameter, axis.parent);
            if let Some(above) = parent.and_then(|parent| squares.get_mut(parent)) {
                *above += diameter * diameter;
            }
            if let Some(above) = parent.and_then(|parent| carried.get_mut(parent)) {
                *above += wood;
            }
        }
    }
    let area = tree.site.sizes.trunk_area(year) * 1e-4 * tree.traits.trunk * tree.traits.trunk;
    let limbs = tree.limb_area() / tree.traits.limb_to_trunk;
    let diameter = (area.max(limbs) / std::f64::consts::FRAC_PI_4).sqrt();
    tree.trunk_diameter = diameter.max(tree.trunk_diameter);
    let trunk = tree.trunk_diameter;
    if let Some(leader) = tree.axes.first_mut() {
        leader.diameter = trunk;
    }
}

/// The diameter an axis has by its first length, in its first three winters `[m]`.
fn natural_diameter(axis: &Axis, year: u32, luck: f64) -> f64 {
    let grown = power(axis.first_length * 100.0 / LENGTH_ON_DIAMETER.0, 1.0 / LENGTH_ON_DIAMETER.1) / 100.0;
    let share = EARLY_SHARES.get((year - axis.born) as usize).copied().unwrap_or(1.0);
    (grown * within(luck, 0.5, 1.6) * share).max(0.003)
}

/// Thin limbs in deep shade die (assumption: from 35 % of the open light down, up to every second a year).
pub(super) fn die(tree: &mut Tree, lit: &Lit) {
    let (year, top) = (tree.year, tree.top);
    let mut dead: Vec<AxisId> = Vec::new();
    for (place, axis) in tree.axes.iter().enumerate().skip(1) {
        if !axis.grows() || axis.born + 2 > year || place == top {
            continue;
        }
        let thin = axis.diameter < 0.34 * tree.diameter_below(axis);
        let likely = 0.5 * within((0.35 - lit.middle(place)) / 0.25, 0.0, 1.0);
        if thin && tree.chance.even(What::Death, (axis.id, year, 0)) < likely {
            dead.push(axis.id);
        }
    }
    tree.keep_only(|axis| !dead.contains(&axis.id));
}

/// Stubs heal to scars after two years, and scars are gone after seven.
pub(super) fn heal(tree: &mut Tree) {
    let year = tree.year;
    for axis in &mut tree.axes {
        if let Life::Stub(cut) = axis.life
            && cut + 2 <= year
        {
            axis.life = Life::Scar(cut);
            axis.pieces.clear();
        }
    }
    tree.keep_only(|axis| !matches!(axis.life, Life::Scar(cut) if cut + 7 < year));
}
