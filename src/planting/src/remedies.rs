//! Remedies: what cures a finding, tried on the whole plan.
//!
//! A rule proposes [ways](crate::kit::way) from what its room knows. Each is tried here, above the rooms: its changes are made on
//! the scenario, the plan is computed again, and the rules are asked again. A way is a remedy where its finding is gone and no new
//! one asks for a fix; one that brings new cautions is offered only where nothing cures without, and says so. Values lie on the
//! steps a reader sets, on the safe side, so that what is read is what was tried. The number sought is the one nearest to the
//! present that cures, as far as more of it cures better; the least change comes first.
//!
//! Left out: changes of more than one number that each would be sought by itself.

use crate::ground::Ground;
use crate::kit::count::{as_number, whole_steps};
use crate::kit::finding::{Advice, Change, Remedy, Rounding, Setting, Severity, Sought};
use crate::kit::message::{Message, Slot};
use crate::kit::order::{sort_by, within};
use crate::kit::quantity::Quantity;
use crate::kit::way::{Aim, Move, Toward, Way};
use crate::plan::{self, Memory};
use crate::register::parameter::LIST_QUANTITY;
use crate::scenario::{Kind, Scenario, parameter};
use uom::si::f64::Length;
use uom::si::length::meter;

/// Remedies offered for one finding at most.
const MOST_OFFERED: usize = 4;
/// Steps tried beyond a value that a rule worked out, for what follows it may have been rounded against it.
const STEPS_BEYOND_AIM: usize = 4;
/// How near to a step a value must lie to stand on it, in steps.
const ON_STEP: f64 = 1e-6;
/// What the choice of another entry weighs beside changes of numbers, as a share of a number.
const WEIGHT_OF_A_WORD: f64 = 0.25;
/// What each entry passed over adds to that.
const WEIGHT_OF_A_PLACE: f64 = 0.05;

/// What cures a finding of a scenario, the least change first; nothing where no way within range does.
///
/// ```
/// use planting::kit::finding::{Rounding, Setting};
/// use planting::{Scenario, feet, plan, remedies};
/// let wide = Scenario::default().with(|plan| plan.canopy.canopy_width = feet(6.5));
/// let found = plan(&wide).unwrap().advice;
/// let alley = found.iter().find(|advice| advice.rule == "clear_alley").unwrap();
/// let cures = remedies::solve(&wide, alley, Rounding::Us);
/// let rows = cures.iter().find(|cure| cure.changes[0].key == "row_width").unwrap();
/// // A tractor of 5 ft with a foot on either side, beside a canopy of 6.5 ft.
/// assert!(matches!(rows.changes[0].to, Setting::Number(metres) if (metres - 13.5 * 0.3048).abs() < 1e-9));
/// ```
pub fn solve(scenario: &Scenario, advice: &Advice, rounding: Rounding) -> Vec<Remedy> {
    Bench::of(scenario, rounding).remedies(advice)
}

/// Works out the remedies of all findings of a plan.
///
/// ```
/// use planting::kit::finding::Rounding;
/// use planting::{Scenario, inches, plan, remedies};
/// let low = Scenario::default().with(|plan| plan.canopy.graft_union_height = inches(2.0));
/// let mut found = plan(&low).unwrap().advice;
/// remedies::solve_all(&low, &mut found, Rounding::Metric);
/// assert!(found.iter().all(|advice| advice.remedies.as_ref().is_some_and(|cures| !cures.is_empty())));
/// ```
pub fn solve_all(scenario: &Scenario, found: &mut [Advice], rounding: Rounding) {
    let mut bench = Bench::of(scenario, rounding);
    for advice in found {
        advice.remedies = Some(bench.remedies(advice));
    }
}

/// A plan on which ways are tried.
struct Bench<'a> {
    scenario: &'a Scenario,
    /// What the rules of the ground find on it as it stands.
    of_ground: Vec<Advice>,
    /// What those of the rooms find.
    of_rooms: Vec<Advice>,
    rounding: Rounding,
    memory: Memory,
}

/// A way with its numbers: what it changes, and what that weighs beside other ways.
struct Trial {
    scenario: Scenario,
    changes: Vec<Change>,
    weight: f64,
}

/// A trial that cures, with the titles of the cautions it brings.
struct Cure<'w> {
    trial: Trial,
    way: &'w Way,
    brings: Vec<&'static str>,
}

impl<'a> Bench<'a> {
    fn of(scenario: &'a Scenario, rounding: Rounding) -> Bench<'a> {
        let mut memory = Memory::default();
        let (of_ground, of_rooms) = match Ground::lay(scenario, &mut memory.ground) {
            Ok(ground) => (ground.advice(), plan::findings_of_rooms(&ground, &mut memory, Sought::All)),
            Err(_) => (Vec::new(), Vec::new()),
        };
        Bench { scenario, of_ground, of_rooms, rounding, memory }
    }

    fn remedies(&mut self, advice: &Advice) -> Vec<Remedy> {
        let mut cures: Vec<Cure> = advice.ways.iter().filter_map(|way| self.cure(advice.rule, way)).collect();
        if cures.iter().any(|cure| cure.brings.is_empty()) {
            cures.retain(|cure| cure.brings.is_empty());
        }
        sort_by(&mut cures, |one, other| one.trial.weight.total_cmp(&other.trial.weight));
        let mut told: Vec<Remedy> = Vec::new();
        for cure in cures {
            // Two ways may arrive at the same.
            if told.len() < MOST_OFFERED && told.iter().all(|other| other.changes != cure.trial.changes) {
                told.push(remedy(cure));
            }
        }
        told
    }

    fn cure<'w>(&mut self, rule: &str, way: &'w Way) -> Option<Cure<'w>> {
        let count = self.choices_of(way);
        let place = way.moves.iter().position(|one| one.is_sought());
        let aimed = place.and_then(|place| self.aimed(way.moves.get(place)?));
        let chooses = matches!(place.and_then(|place| way.moves.get(place)), Some(Move::Choose { .. }));
        if place.is_none() {
            return self.verified(rule, way, 1);
        }
        if chooses {
            let mut with_cautions = None;
            for step in 1..=count {
                match self.verified(rule, way, step) {
                    Some(cure) if cure.brings.is_empty() => return Some(cure),
                    Some(cure) => with_cautions = with_cautions.or(Some(cure)),
                    None => {}
                }
            }
            return with_cautions;
        }
        if let Some(aim) = aimed {
            let last = (aim + STEPS_BEYOND_AIM).min(count);
            if let Some(step) = (aim..=last).find(|step| self.is_gone(rule, way, *step)) {
                return self.verified(rule, way, step);
            }
            if aim > count {
                return None;
            }
        }
        let step = self.nearest(rule, way, count)?;
        self.verified(rule, way, step)
    }

    /// The fewest steps after which the finding is gone; none where even the last doesn't cure.
    fn nearest(&mut self, rule: &str, way: &Way, count: usize) -> Option<usize> {
        if count == 0 || !self.is_gone(rule, way, count) {
            return None;
        }
        let (mut bad, mut good) = (0, count);
        while good - bad > 1 {
            // Most cures lie near: the geometric mean finds those in fewer trials than the middle does.
            let middle = (bad.max(1) * good).isqrt().clamp(bad + 1, good - 1);
            if self.is_gone(rule, way, middle) { good = middle } else { bad = middle }
        }
        Some(good)
    }

    /// Whether the finding is gone after so many steps of a way, and the fields agree.
    fn is_gone(&mut self, rule: &str, way: &Way, step: usize) -> bool {
        let Some(trial) = self.trial(way, step) else { return false };
        let Ok(ground) = Ground::lay(&trial.scenario, &mut self.memory.ground) else { return false };
        let is_of_ground = self.of_ground.iter().any(|found| found.rule == rule);
        let found = if is_of_ground {
            ground.advice()
        } else {
            plan::findings_of_rooms(&ground, &mut self.memory, Sought::Of(rule))
        };
        found.iter().all(|found| found.rule != rule)
    }

    /// The cure after so many steps of a way; none where the finding isn't gone or a new one asks for a fix.
    fn verified<'w>(&mut self, rule: &str, way: &'w Way, step: usize) -> Option<Cure<'w>> {
        let trial = self.trial(way, step)?;
        let ground = Ground::lay(&trial.scenario, &mut self.memory.ground).ok()?;
        let mut after = ground.advice();
        if self.is_spoilt(rule, &after) {
            return None;
        }
        after.extend(plan::findings_of_rooms(&ground, &mut self.memory, Sought::All));
        if self.is_spoilt(rule, &after) {
            return None;
        }
        let cautions = after.iter().filter(|found| self.is_new(found, Severity::Caution));
        let brings = cautions.map(|found| found.title).collect();
        Some(Cure { trial, way, brings })
    }

    /// Whether the finding is still there, or a new one asks for a fix.
    fn is_spoilt(&self, rule: &str, after: &[Advice]) -> bool {
        after.iter().any(|found| found.rule == rule || self.is_new(found, Severity::Fix))
    }

    /// Whether a finding is at least so grave, and none of its rule was before.
    fn is_new(&self, found: &Advice, grave: Severity) -> bool {
        let same = self.of_ground.iter().chain(&self.of_rooms).find(|before| before.rule == found.rule);
        found.severity <= grave && same.is_none_or(|before| before.severity > grave)
    }

    /// How many values the sought move of a way can take on its way to the end of its range.
    fn choices_of(&self, way: &Way) -> usize {
        let count = |one: &Move| match one {
            Move::Choose { words, .. } => Some(words.len()),
            _ => self.ladder(one).map(|ladder| ladder.count()),
        };
        way.moves.iter().find_map(count).unwrap_or_default()
    }

    fn aimed(&self, sought: &Move) -> Option<usize> {
        let (Move::Seek { aim, .. } | Move::SeekTop { aim, .. }) = sought else { return None };
        let ladder = self.ladder(sought)?;
        match aim {
            Aim::Nearest => None,
            Aim::To(value) => Some(ladder.rung_beyond(*value)),
            Aim::By(by) => Some(ladder.rung_beyond(ladder.now + by)),
        }
    }

    /// The steps of the number that a move seeks.
    fn ladder(&self, sought: &Move) -> Option<Ladder> {
        match sought {
            Move::Seek { key, toward, .. } => {
                let Some(Kind::Number(number)) = parameter(key).map(|one| one.kind) else { return None };
                let now = (number.get)(self.scenario);
                Some(Ladder {
                    now,
                    step: number.step(self.rounding),
                    least: number.min,
                    most: number.max,
                    toward: *toward,
                })
            }
            Move::SeekTop { key, toward, .. } => {
                let Some(Kind::Lengths(lengths)) = parameter(key).map(|one| one.kind) else { return None };
                let now = top((lengths.get)(self.scenario))?;
                Some(Ladder {
                    now,
                    step: lengths.step(self.rounding),
                    least: lengths.min,
                    most: lengths.max,
                    toward: *toward,
                })
            }
            _ => None,
        }
    }

    /// The scenario after so many steps of a way; none where an input doesn't have the kind that the way takes it for.
    fn trial(&self, way: &Way, step: usize) -> Option<Trial> {
        let sought = way.moves.iter().find_map(|one| Some(self.ladder(one)?.value(step)));
        let mut weight = 0.0;
        let mut changes = Vec::with_capacity(way.moves.len());
        for one in &way.moves {
            let (to, weighs) = self.setting(one, step, sought)?;
            weight += weighs;
            changes.push(Change { key: one.key(), to });
        }
        Some(Trial { scenario: self.scenario.with_changes(&changes), changes, weight })
    }

    /// What a move sets, and what that weighs.
    fn setting(&self, one: &Move, step: usize, sought: Option<f64>) -> Option<(Setting, f64)> {
        match one {
            Move::Seek { key, .. } => self.number(key, sought?),
            Move::Follow { key, times, toward } => self.rounded(key, sought? * times, *toward),
            Move::Set { key, to, toward } => self.rounded(key, *to, *toward),
            Move::Word { word, .. } => Some((Setting::Word(word), WEIGHT_OF_A_WORD)),
            Move::Choose { words, .. } => {
                let word = words.get(step.checked_sub(1)?)?;
                let passed = as_number(step);
                Some((Setting::Word(word), WEIGHT_OF_A_WORD + WEIGHT_OF_A_PLACE * passed))
            }
            Move::SeekTop { key, .. } => {
                let Some(Kind::Lengths(lengths)) = parameter(key).map(|one| one.kind) else { return None };
                let (now, present) = ((lengths.get)(self.scenario), top((lengths.get)(self.scenario))?);
                let (sought, step) = (sought?, lengths.step(self.rounding));
                let moved = |height: &Length| {
                    let share = height.value / present;
                    if share < 1.0 { down(share * sought, step) } else { sought }
                };
                let heights = now.iter().map(|height| metres(moved(height))).collect();
                Some((Setting::Lengths(heights), change_of(present, sought)))
            }
            Move::Lengths { key, to } => {
                let Some(Kind::Lengths(lengths)) = parameter(key).map(|one| one.kind) else { return None };
                let step = lengths.step(self.rounding);
                let lengths = to.iter().map(|length| metres(down(length.value, step))).collect();
                Some((Setting::Lengths(lengths), WEIGHT_OF_A_WORD))
            }
        }
    }

    fn number(&self, key: &str, to: f64) -> Option<(Setting, f64)> {
        let Some(Kind::Number(number)) = parameter(key).map(|one| one.kind) else { return None };
        Some((Setting::Number(to), change_of((number.get)(self.scenario), to)))
    }

    fn rounded(&self, key: &str, to: f64, toward: Toward) -> Option<(Setting, f64)> {
        let Some(Kind::Number(number)) = parameter(key).map(|one| one.kind) else { return None };
        let step = number.step(self.rounding);
        let to = match toward {
            Toward::Less => down(to, step),
            Toward::More => tidy((to / step - ON_STEP).ceil() * step),
        };
        self.number(key, to)
    }
}

impl Move {
    fn key(&self) -> &'static str {
        match self {
            Move::Seek { key, .. }
            | Move::Choose { key, .. }
            | Move::SeekTop { key, .. }
            | Move::Follow { key, .. }
            | Move::Set { key, .. }
            | Move::Word { key, .. }
            | Move::Lengths { key, .. } => key,
        }
    }

    fn is_sought(&self) -> bool {
        matches!(self, Move::Seek { .. } | Move::SeekTop { .. } | Move::Choose { .. })
    }
}

/// The whole steps of a number from its present value to the end of its range.
struct Ladder {
    now: f64,
    step: f64,
    least: f64,
    most: f64,
    toward: Toward,
}

impl Ladder {
    /// The whole step on which the ladder stands: the last one before its first rung.
    fn foot(&self) -> f64 {
        match self.toward {
            Toward::More => (self.now / self.step + ON_STEP).floor(),
            Toward::Less => (self.now / self.step - ON_STEP).ceil(),
        }
    }

    fn count(&self) -> usize {
        let rungs = match self.toward {
            Toward::More => (self.most / self.step + ON_STEP).floor() - self.foot(),
            Toward::Less => self.foot() - (self.least / self.step - ON_STEP).ceil(),
        };
        whole(rungs)
    }

    /// The value on a rung, the first being 1.
    fn value(&self, rung: usize) -> f64 {
        let steps = as_number(rung);
        tidy(match self.toward {
            Toward::More => (self.foot() + steps) * self.step,
            Toward::Less => (self.foot() - steps) * self.step,
        })
    }

    /// The first rung at or beyond a value.
    fn rung_beyond(&self, value: f64) -> usize {
        let rungs = match self.toward {
            Toward::More => (value / self.step - ON_STEP).ceil() - self.foot(),
            Toward::Less => self.foot() - (value / self.step + ON_STEP).floor(),
        };
        whole(rungs).max(1)
    }
}

/// More rungs than any range has.
const MOST_RUNGS: f64 = 1e5;

fn whole(rungs: f64) -> usize {
    whole_steps(within(rungs, 0.0, MOST_RUNGS), 1.0)
}

/// The last step at or below a value.
fn down(value: f64, step: f64) -> f64 {
    tidy((value / step + ON_STEP).floor() * step)
}

/// Decimals kept of a value in SI: far below what anybody sets, and enough for a step of feet or degrees.
const KEPT: f64 = 1e12;

/// A number of steps without the last digits that multiplying them has added: 3.65 and not 3.6500000000000004.
fn tidy(value: f64) -> f64 {
    (value * KEPT).round() / KEPT
}

fn metres(value: f64) -> Length {
    Length::new::<meter>(value)
}

fn top(heights: &[Length]) -> Option<f64> {
    heights.iter().map(|height| height.value).reduce(f64::max)
}

/// A change as a share of the larger of both values.
fn change_of(now: f64, to: f64) -> f64 {
    (to - now).abs() / now.abs().max(to.abs()).max(f64::MIN_POSITIVE)
}

fn remedy(cure: Cure) -> Remedy {
    let changes = cure.trial.changes;
    let mut slots = Vec::new();
    for (one, change) in cure.way.moves.iter().zip(&changes) {
        said(one, change, &mut slots);
    }
    Remedy { sentence: Message::new(cure.way.sentence, slots), changes, brings: cure.brings }
}

/// What a sentence says of a change: a number, or the name of an entry. Of lengths set anew it says how many there are, the
/// shortest and the longest; of those moved with their top, the top.
fn said(one: &Move, change: &Change, slots: &mut Vec<Slot>) {
    match (&change.to, parameter(change.key).map(|known| known.kind)) {
        (Setting::Number(value), Some(Kind::Number(number))) => {
            slots.push(Slot::Number(*value, number.quantity))
        }
        (Setting::Word(word), Some(Kind::Choice(choice))) => {
            let label = (choice.options)().into_iter().find(|(key, _)| key == word).map(|(_, label)| label);
            slots.push(Slot::from(label.unwrap_or(word)));
        }
        (Setting::Lengths(lengths), _) => {
            let highest = top(lengths).unwrap_or_default();
            if let Move::Lengths { .. } = one {
                let lowest = lengths.iter().map(|length| length.value).fold(highest, f64::min);
                slots.push(Slot::Number(as_number(lengths.len()), Quantity::Count));
                slots.push(Slot::Number(lowest, LIST_QUANTITY));
            }
            slots.push(Slot::Number(highest, LIST_QUANTITY));
        }
        _ => {}
    }
}
