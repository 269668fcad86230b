//! What the rules would take from a tree, in the order of the work, each cut with its reason.
//!
//! The rules look at the tree as it stands after the cuts before, so that the leader is lowered before limbs are counted.
//! The side limb that has become the top is spared by the rules on angle and thickness.

use super::chance::AxisId;
use super::cut::Cut;
use super::exact::cosine;
use super::shape::{Path, Shape, TreePoint};
use super::{Axis, Kind, Tree, degrees};
use crate::crop::rules::{LIMBS, Rule, THICKEST_SHARE};
use crate::kit::count::as_number;
use crate::kit::message::{Message, Slot};
use crate::kit::order::sort_by;
use crate::kit::quantity::Quantity;
use uom::si::f64::Length;
use uom::si::length::meter;

/// One cut the rules would make.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// Which rule.
    pub rule: Rule,
    /// What to do.
    pub cut: Cut,
    /// The axis.
    pub axis: AxisId,
    /// Where the cut is made.
    pub at: TreePoint,
    /// Why, with this tree's numbers.
    pub reason: Message,
}

/// Limbs thinner than this are left alone by the rule of one half `[m]` (assumption).
const THIN_M: f64 = 0.011;
/// A limb counts as one of the largest from here on `[m]` (Basedow, Cornell: three quarters of an inch and more), or from this
/// age on `[years]` (assumption).
const LARGE: (f64, u32) = (0.017, 8);
/// Straight up: within this of the vertical, over this length `[°]` and `[m]`.
const UPRIGHT: (f64, f64) = (33.0, 0.25);
/// Hanging: beyond this from the vertical `[°]`; shortened to this share of its length.
const HANGING: (f64, f64) = (140.0, 0.6);
/// Shortened limbs end this far inside their space `[m]`.
const INSIDE_M: f64 = 0.06;
/// How far along the row a limb may reach, in spaces between trees.
const INTO_NEXT: f64 = 0.7;
/// Limbs are crowded within this height and turn `[m]` and `[°]`, if the weaker is thinner than `[m]` (assumption).
const CROWDED: (f64, f64, f64) = (0.05, 30.0, 0.009);
/// Side axes longer than this are forks `[m]` (assumption).
const FORK_M: f64 = 0.24;
/// What is left of a top that is shortened, at least `[m]`.
const LEAST_LEFT_M: f64 = 0.12;
/// Young trees may stand so much higher before they are lowered `[m]` (assumption).
const YOUNG_LEADER_M: f64 = 0.30;

/// What the rules would take.
///
/// ```
/// use planting::crop::tree::{grow::{a_year_on, plant}, opinion::opinion, site::Site};
/// let mut tree = plant(&Site::usual(1.5), 7);
/// for _ in 0..7 {
///     tree = a_year_on(&tree);
/// }
/// let verdicts = opinion(&tree);
/// assert!(verdicts.len() > 3, "nobody has pruned it");
/// for verdict in &verdicts {
///     tree.cut(verdict.cut).unwrap();
/// }
/// assert!(opinion(&tree).len() < verdicts.len());
/// ```
pub fn opinion(tree: &Tree) -> Vec<Verdict> {
    let mut work = Work { shape: Shape::of(tree), tree: tree.clone(), verdicts: Vec::new() };
    work.leader();
    work.over_half();
    work.largest();
    work.one_of_stub();
    work.by_angle();
    work.past_space();
    work.crowded();
    work.forks();
    work.verdicts
}

/// The tree as it is pruned, and what has been decided.
struct Work {
    tree: Tree,
    shape: Shape,
    verdicts: Vec<Verdict>,
}

impl Work {
    /// Makes a cut on the copy, and notes it if it could be made.
    fn make(&mut self, rule: Rule, cut: Cut, at: TreePoint, reason: Message) {
        if self.tree.cut(cut).is_ok() {
            self.verdicts.push(Verdict { rule, cut, axis: cut.axis(), at, reason });
            self.shape = Shape::of(&self.tree);
        }
    }

    fn axes(&self) -> impl Iterator<Item = (usize, &Axis, &Path)> {
        let pairs = self.tree.axes.iter().zip(&self.shape.paths).enumerate();
        pairs.map(|(place, (axis, path))| (place, axis, path)).filter(|(_, axis, _)| axis.grows())
    }

    /// Limbs that the rules may take: on the leader, and not the top.
    fn limbs(&self) -> impl Iterator<Item = (&Axis, &Path)> {
        let top = self.tree.top;
        self.axes()
            .filter(move |(place, axis, _)| axis.kind == Kind::Limb && *place != top)
            .map(|(_, axis, path)| (axis, path))
    }

    fn number_of_limbs(&self) -> f64 {
        as_number(self.tree.axes.iter().filter(|axis| axis.is_limb()).count())
    }

    fn removals(&self) -> usize {
        self.verdicts.iter().filter(|verdict| matches!(verdict.rule, Rule::OverHalf | Rule::Largest)).count()
    }

    fn most_removals(&self) -> usize {
        self.tree.site.keeping.most_removals(self.tree.year)
    }

    /// The top stands too high.
    fn leader(&mut self) {
        let keeping = self.tree.site.keeping;
        let young = if self.tree.year <= 3 { YOUNG_LEADER_M } else { 0.0 };
        let limit = keeping.leader_height().value + young;
        let wire = keeping.top_wire.value;
        let top = self.shape.top();
        if top <= limit {
            return;
        }
        let reason = Message::new("The top stands {0} above the top wire.", [length_slot(top - wire)]);
        if self.tree.top != 0 && self.shorten_above(self.tree.top, wire + 0.25, &reason) {
            return;
        }
        // The side limb nearest to just above the wire that is clearly weaker than the leader there.
        let aim = wire + 0.10;
        let mut best: Option<(f64, AxisId, TreePoint)> = None;
        for (axis, path) in self.limbs() {
            let height = path.base().up;
            let weak = axis.diameter < 0.75 * self.tree.leader_diameter(axis.at);
            let off = (height - aim).abs();
            let fits = height > wire - 0.45 && height < limit - 0.05 && weak && axis.length() >= 0.12;
            if fits && best.is_none_or(|(least, ..)| off < least) {
                best = Some((off, axis.id, path.base()));
            }
        }
        if let Some((_, limb, at)) = best {
            self.make(Rule::Leader, Cut::Lower(limb), at, reason);
        } else if top > limit + 0.45 {
            self.shorten_above(0, wire + 0.30, &reason);
        }
    }

    /// Cuts an axis where it first passes a height; false where it starts above that or never passes it.
    fn shorten_above(&mut self, place: usize, height: f64, reason: &Message) -> bool {
        let Some((axis, path)) = self.tree.axes.get(place).zip(self.shape.path(place)) else { return false };
        let passed = path.points.iter().zip(&path.distances).find(|(point, _)| point.up > height);
        let Some((point, distance)) = passed.filter(|(_, distance)| **distance >= LEAST_LEFT_M) else {
            return false;
        };
        let (cut, at) = (Cut::Shorten(axis.id, *distance), *point);
        self.make(Rule::Leader, cut, at, reason.clone());
        true
    }

    /// Thicker than half of what it grows from, the worst first.
    fn over_half(&mut self) {
        let mut found: Vec<(f64, AxisId, TreePoint)> = Vec::new();
        for (axis, path) in self.limbs() {
            let share = axis.diameter / self.tree.leader_diameter(axis.at).max(1e-6);
            let may = self.tree.year == 0 || axis.diameter > THIN_M && axis.born < self.tree.year;
            if share > THICKEST_SHARE && may {
                found.push((share, axis.id, path.base()));
            }
        }
        sort_by(&mut found, |one, other| other.0.total_cmp(&one.0));
        for (share, axis, at) in found.into_iter().take(self.most_removals()) {
            let reason =
                Message::new("{0} of the leader there: over half.", [Slot::Number(share, Quantity::Share)]);
            self.make(Rule::OverHalf, Cut::Off(axis), at, reason);
        }
    }

    /// The largest of a grown tree, up to the same number, while limbs enough are left.
    fn largest(&mut self) {
        if self.tree.year < 5 {
            return;
        }
        let year = self.tree.year;
        let mut found: Vec<(f64, AxisId, TreePoint)> = self
            .limbs()
            .filter(|(axis, _)| axis.diameter >= LARGE.0 || year - axis.born >= LARGE.1)
            .map(|(axis, path)| (axis.diameter, axis.id, path.base()))
            .collect();
        sort_by(&mut found, |one, other| other.0.total_cmp(&one.0));
        for (diameter, axis, at) in found {
            if self.removals() >= self.most_removals() || self.number_of_limbs() <= LIMBS.low {
                break;
            }
            let reason = Message::new(
                "One of the largest, {0} thick.",
                [Slot::Number(diameter, Quantity::SmallLength)],
            );
            self.make(Rule::Largest, Cut::Off(axis), at, reason);
        }
    }

    /// Shoots of one year from one stub: the one nearest to 70° stays.
    fn one_of_stub(&mut self) {
        let wanted = cosine(degrees(70.0));
        let mut young: Vec<(f64, f64, AxisId, TreePoint, f64)> = Vec::new();
        for (axis, path) in self.limbs().filter(|(axis, _)| axis.born == self.tree.year && axis.born > 0) {
            let compass = axis.pieces.first().map_or(0.0, |piece| piece.compass);
            young.push((axis.at, compass, axis.id, path.base(), (path.uprightness() - wanted).abs()));
        }
        let near = |one: &(f64, f64, AxisId, TreePoint, f64), other: &(f64, f64, AxisId, TreePoint, f64)| {
            (one.0 - other.0).abs() <= 0.02 && cosine(one.1 - other.1) > 0.4
        };
        for shoot in &young {
            let better = young.iter().any(|other| {
                other.2 != shoot.2 && near(shoot, other) && (other.4, other.2) < (shoot.4, shoot.2)
            });
            if better {
                let reason = Message::plain("More than one shoot on a stub; the flatter one stays.");
                self.make(Rule::OneOfStub, Cut::Flush(shoot.2), shoot.3, reason);
            }
        }
    }

    /// Straight up, or hanging.
    fn by_angle(&mut self) {
        let (steep, low) = (cosine(degrees(UPRIGHT.0)), cosine(degrees(HANGING.0)));
        let mut found = Vec::new();
        for (axis, path) in self.limbs() {
            let (length, upright) = (axis.length(), path.uprightness());
            if upright > steep && length > UPRIGHT.1 {
                found.push((Rule::Upright, Cut::Off(axis.id), path.base()));
            } else if upright < low && length > UPRIGHT.1 {
                let to = length * HANGING.1;
                found.push((Rule::Hanging, Cut::Shorten(axis.id, to), path.at(to)));
            }
        }
        for (rule, cut, at) in found {
            let reason = Message::plain(if rule == Rule::Upright {
                "Grows straight up."
            } else {
                "Hangs: weak wood in the shade."
            });
            self.make(rule, cut, at, reason);
        }
    }

    /// Past the alley line, or into the next tree.
    fn past_space(&mut self) {
        let keeping = self.tree.site.keeping;
        let along = keeping.in_row.value * INTO_NEXT;
        let mut found = Vec::new();
        for (place, axis, path) in self.axes() {
            if place == 0 || place == self.tree.top || axis.kind != Kind::Limb {
                continue;
            }
            let half = |point: &TreePoint| keeping.half_width(Length::new::<meter>(point.up)).value;
            let line = half(&path.tip());
            let is_out = |point: &TreePoint, inside: f64| {
                point.across.abs() > half(point) - inside || point.along.abs() > along - inside
            };
            if !path.points.iter().any(|point| is_out(point, 0.0)) {
                continue;
            }
            let back = path.points.iter().zip(&path.distances).find(|(point, _)| is_out(point, INSIDE_M));
            if let Some((point, distance)) = back {
                let by = (path.tip().across.abs() - line).max(path.tip().along.abs() - along);
                found.push((axis.id, (*distance).max(0.12), *point, by.max(0.0)));
            }
        }
        for (axis, to, at, by) in found {
            let reason = Message::new("Reaches {0} past its space.", [length_slot(by)]);
            self.make(Rule::PastSpace, Cut::Shorten(axis, to), at, reason);
        }
    }

    /// Close to a better limb, or one more than the tree should have.
    fn crowded(&mut self) {
        let mut found: Vec<(f64, AxisId, TreePoint)> = Vec::new();
        let limbs: Vec<(f64, f64, f64, AxisId, TreePoint)> = self
            .limbs()
            .map(|(axis, path)| {
                let compass = axis.pieces.first().map_or(0.0, |piece| piece.compass);
                (axis.at, compass, axis.diameter, axis.id, path.base())
            })
            .collect();
        let near = cosine(degrees(CROWDED.1));
        for limb in &limbs {
            let better = limbs.iter().any(|other| {
                (other.0 - limb.0).abs() < CROWDED.0
                    && cosine(other.1 - limb.1) > near
                    && (other.2, other.3) > (limb.2, limb.3)
            });
            if better && limb.2 < CROWDED.2 {
                found.push((limb.2, limb.3, limb.4));
            }
        }
        for (_, axis, at) in found {
            let reason = Message::plain("Close to a better limb that points the same way.");
            self.make(Rule::Crowded, Cut::Flush(axis), at, reason);
        }
        let mut weakest: Vec<(f64, AxisId, TreePoint)> = self
            .limbs()
            .filter(|(axis, _)| axis.is_limb())
            .map(|(axis, path)| (axis.diameter, axis.id, path.base()))
            .collect();
        sort_by(&mut weakest, |one, other| one.0.total_cmp(&other.0));
        for (_, axis, at) in weakest {
            let limbs = self.number_of_limbs();
            if limbs <= LIMBS.high {
                break;
            }
            let reason = Message::new(
                "{0} limbs, where {1} are enough.",
                [Slot::Number(limbs, Quantity::Count), Slot::Number(LIMBS.high, Quantity::Count)],
            );
            self.make(Rule::Crowded, Cut::Flush(axis), at, reason);
        }
    }

    /// Side axes that are long, thick or upright.
    fn forks(&mut self) {
        let steep = cosine(degrees(UPRIGHT.0));
        let mut found = Vec::new();
        for (_, axis, path) in self.axes().filter(|(_, axis, _)| axis.kind == Kind::Side) {
            let length = axis.length();
            let thick = axis.diameter > THICKEST_SHARE * self.tree.diameter_below(axis) && length > 0.15;
            if length > FORK_M || thick || path.uprightness() > steep && length > 0.12 {
                found.push((axis.id, path.base()));
            }
        }
        for (axis, at) in found {
            self.make(Rule::Fork, Cut::Flush(axis), at, Message::plain("A side branch: keep one axis."));
        }
    }
}

fn length_slot(metres: f64) -> Slot {
    Slot::Number(metres, Quantity::Length)
}

/// The tree pruned by the rules, and what they took.
///
/// ```
/// use planting::crop::tree::{grow::plant, opinion::pruned, site::Site};
/// let tree = plant(&Site::usual(1.0), 7);
/// let (after, _) = pruned(&tree);
/// assert!(after.wood() <= tree.wood());
/// ```
pub fn pruned(tree: &Tree) -> (Tree, Vec<Verdict>) {
    let verdicts = opinion(tree);
    let mut after = tree.clone();
    for verdict in &verdicts {
        // Each was tried on the tree as the cuts before had left it.
        let _ = after.cut(verdict.cut);
    }
    (after, verdicts)
}
