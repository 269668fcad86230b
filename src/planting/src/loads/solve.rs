//! What would meet the targets: one change at a time, each on the steps of its slider, with what it does to index and cost.
//!
//! | question | the change | what must hold |
//! |---|---|---|
//! | largest post interval | `post_interval` | wire at its target; post and soil reached by no lesser gust than the one set |
//! | fewest wires | `wire_heights`, evenly up to the upper wire | wire at its target |
//! | smallest anchor | `anchor_kind` | the anchor comes at no less than the target's times the pull |
//! | thinnest post | `line_post_diameter` | post, as above |
//! | least depth | `post_embedment`, the post longer by as much | soil, as above |
//! | longest row | – | what anchors have been used to; where ends yield, wire and anchor at their targets too |

use super::anchors::Anchor;
use super::carried::Carried;
use super::ends::{Held, RowEnd};
use super::order::Bill;
use super::trellis::{Asked, Row};
use super::weakest::{Basis, Limits, Part};
use crate::kit::choice::Choice;
use crate::kit::count::as_number;
use crate::kit::money::Cents;
use crate::kit::quantity::{feet, inches};
use std::sync::Arc;
use uom::si::f64::{Length, Ratio};

/// A value an input would take.
#[derive(Clone, Debug, PartialEq)]
pub enum Setting {
    /// A length `[m]`.
    Length(Length),
    /// A list of lengths `[m]`.
    Lengths(Vec<Length>),
    /// One of a list, by its key.
    Choice(&'static str),
}

/// Inputs that would meet a target, and what that does.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// The inputs by their keys, and what they would be set to.
    pub settings: Vec<(&'static str, Setting)>,
    /// The part it is about.
    pub part: Part,
    /// The part's index as it is, infinite where it holds nothing `[–]`.
    pub before: Ratio,
    /// The part's index afterwards `[–]`.
    pub after: Ratio,
    /// What it adds to the cost, or saves; none for parts of another size, whose price is another too.
    pub cost: Option<Cents>,
}

/// The longest row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LongestRow {
    /// To this length the row ends have been used `[m]`.
    pub used: Length,
    /// To this length wire and anchor meet their targets; none where the length of the row makes no difference to them, or none does.
    pub held: Option<Length>,
}

/// What would meet the targets; none where nothing in range does.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Solved {
    /// The largest interval of posts.
    pub interval: Option<Change>,
    /// The fewest wires.
    pub wires: Option<Change>,
    /// The smallest anchor; none for braced ends either.
    pub anchor: Option<Change>,
    /// The thinnest line post.
    pub post: Option<Change>,
    /// The least depth of a line post in the ground.
    pub depth: Option<Change>,
    /// The longest row.
    pub row: Option<LongestRow>,
}

/// Ranges and steps of the inputs that are solved for, those of their sliders.
const INTERVAL_FT: (usize, usize) = (10, 60);
const MOST_WIRES: usize = 8;
/// Quarters of an inch.
const DIAMETER_STEPS: (usize, usize) = (8, 40);
/// Quarters of a foot.
const DEPTH_STEPS: (usize, usize) = (4, 24);
/// Half feet.
const LONGEST_POST_STEPS: usize = 40;
/// Steps of 10 ft.
const ROW_STEPS: (usize, usize) = (1, 300);
/// Rows between brace assemblies (NRCS Maine job sheet 382A: one tensioner mid-run, runs to 1,320 ft) `[ft]`.
const LONGEST_RUN_FT: f64 = 1_320.0;

impl Solved {
    /// For a trellis.
    ///
    /// ```
    /// use planting::{Ground, Scenario, feet, ground::Memory};
    /// use planting::loads::{Inputs, Loads, Setting, asks};
    /// let scenario = Scenario::default();
    /// let ground = Ground::lay(&scenario, &mut Memory::default()).unwrap();
    /// let solved = Loads::of(&asks::asked(&ground, &Inputs::usual(scenario.system), None)).solved;
    /// assert_eq!(solved.interval.unwrap().settings, [("post_interval", Setting::Length(feet(23.0)))]);
    /// ```
    pub fn of(asked: &Asked) -> Solved {
        Solved {
            interval: interval(asked),
            wires: wires(asked),
            anchor: anchor(asked),
            post: post(asked),
            depth: depth(asked),
            row: row(asked),
        }
    }
}

/// The indices that targets are set for, of a trellis: load over what the target allows, 1 at most where it is met.
struct Indices {
    wire: Ratio,
    post: Ratio,
    soil: Ratio,
    anchor: Option<Ratio>,
}

impl Indices {
    fn of(asked: &Asked) -> Option<Indices> {
        let limits = Limits::of(asked, &Carried::of(asked)?);
        let index = |part, basis| limits.get(part, basis).map(|limit| limit.index);
        Some(Indices {
            wire: index(Part::Wire, Basis::Rule)?,
            post: index(Part::Post, Basis::Collapse)?,
            soil: index(Part::Soil, Basis::Collapse)?,
            anchor: index(Part::Anchor, Basis::Rule),
        })
    }

    /// The gravest of those that the interval of posts moves.
    fn of_a_bay(&self) -> (Part, Ratio) {
        let all = [(Part::Wire, self.wire), (Part::Post, self.post), (Part::Soil, self.soil)];
        let gravest = |one: (Part, Ratio), other: (Part, Ratio)| if other.1 > one.1 { other } else { one };
        all.into_iter().fold((Part::Wire, self.wire), gravest)
    }
}

fn is_met(index: Ratio) -> bool {
    index.value <= 1.0
}

/// The last step from `first` to `last` at which something holds that, once it fails, fails for good.
fn last_that(first: usize, last: usize, holds: impl Fn(usize) -> bool) -> Option<usize> {
    if first > last || !holds(first) {
        return None;
    }
    let (mut good, mut beyond) = (first, last + 1);
    while beyond - good > 1 {
        let middle = good + (beyond - good) / 2;
        if holds(middle) { good = middle } else { beyond = middle }
    }
    Some(good)
}

/// The first step at which something holds that, once it holds, holds for good.
fn first_that(first: usize, last: usize, holds: impl Fn(usize) -> bool) -> Option<usize> {
    let failing = last_that(first, last, |step| !holds(step));
    let found = failing.map_or(first, |step| step + 1);
    (found <= last).then_some(found)
}

/// A change from one trellis to another; none where the second can't be worked out.
fn change(
    asked: &Asked,
    changed: &Asked,
    settings: Vec<(&'static str, Setting)>,
    index: impl Fn(&Indices) -> (Part, Ratio),
) -> Option<Change> {
    let (part, before) = index(&Indices::of(asked)?);
    let (_, after) = index(&Indices::of(changed)?);
    Some(Change { settings, part, before, after, cost: None })
}

/// The same change with what it does to the cost: for changes of how many, not of what size.
fn counted(change: Change, asked: &Asked, changed: &Asked) -> Change {
    Change { cost: Some(Bill::of(changed).total - Bill::of(asked).total), ..change }
}

fn interval(asked: &Asked) -> Option<Change> {
    let with = |step| asked.with_interval(feet(as_number(step)));
    let holds = |step| Indices::of(&with(step)).is_some_and(|indices| is_met(indices.of_a_bay().1));
    let found = last_that(INTERVAL_FT.0, INTERVAL_FT.1, holds)?;
    // Against the same rule of counting posts, so that only the interval makes a difference to the cost.
    let now = asked.with_interval(asked.frame.as_ref()?.bay);
    let settings = vec![("post_interval", Setting::Length(feet(as_number(found))))];
    Some(counted(change(&now, &with(found), settings, Indices::of_a_bay)?, &now, &with(found)))
}

fn wires(asked: &Asked) -> Option<Change> {
    let frame = asked.frame.as_ref()?;
    let top = frame.top_wire()?;
    // Evenly up to the upper wire; as many as there are stay where they are.
    let heights = |count: usize| -> Vec<Length> {
        if count == frame.heights.len() {
            return frame.heights.clone();
        }
        (1..=count).map(|wire| top * (as_number(wire) / as_number(count))).collect()
    };
    let with = |count| {
        let mut asked = asked.clone();
        if let Some(frame) = &mut asked.frame {
            frame.heights = heights(count);
        }
        asked
    };
    let holds = |count| Indices::of(&with(count)).is_some_and(|indices| is_met(indices.wire));
    let found = first_that(1, MOST_WIRES, holds)?;
    let settings = vec![("wire_heights", Setting::Lengths(heights(found)))];
    Some(counted(
        change(asked, &with(found), settings, |indices| (Part::Wire, indices.wire))?,
        asked,
        &with(found),
    ))
}

fn anchor(asked: &Asked) -> Option<Change> {
    let inputs = &asked.inputs;
    let Some(Held::TieBack(end)) = Carried::of(asked)?.held_loaded else { return None };
    let found = Anchor::smallest(end.guy * inputs.anchor_target, inputs.soil, inputs.anchor_depth)?;
    let mut changed = asked.clone();
    changed.inputs.anchor_kind = found;
    let settings = vec![("anchor_kind", Setting::Choice(found.key()))];
    change(asked, &changed, settings, |indices| (Part::Anchor, indices.anchor.unwrap_or_default()))
}

fn post(asked: &Asked) -> Option<Change> {
    let diameter = |step| inches(as_number(step) / 4.0);
    let with = |step| {
        let mut asked = asked.clone();
        if let Some(frame) = &mut asked.frame {
            frame.line_post = diameter(step);
        }
        asked
    };
    let holds = |step| Indices::of(&with(step)).is_some_and(|indices| is_met(indices.post));
    let found = first_that(DIAMETER_STEPS.0, DIAMETER_STEPS.1, holds)?;
    let settings = vec![("line_post_diameter", Setting::Length(diameter(found)))];
    change(asked, &with(found), settings, |indices| (Part::Post, indices.post))
}

fn depth(asked: &Asked) -> Option<Change> {
    let frame = asked.frame.as_ref()?;
    let height = frame.post_length - frame.depth;
    let quarter = |step| feet(as_number(step) / 4.0);
    let with = |step| {
        let mut asked = asked.clone();
        if let Some(frame) = &mut asked.frame {
            frame.depth = quarter(step);
        }
        asked
    };
    let holds = |step| Indices::of(&with(step)).is_some_and(|indices| is_met(indices.soil));
    let found = first_that(DEPTH_STEPS.0, DEPTH_STEPS.1, holds)?;
    // Posts come by the half foot, and stand no lower than they do.
    let length = first_that(1, LONGEST_POST_STEPS, |step| {
        feet(as_number(step) / 2.0) >= height + quarter(found) - feet(WHOLE_POST_FT)
    })?;
    let settings = vec![
        ("post_embedment", Setting::Length(quarter(found))),
        ("post_length", Setting::Length(feet(as_number(length) / 2.0))),
    ];
    change(asked, &with(found), settings, |indices| (Part::Soil, indices.soil))
}

/// A post that is shorter by no more than this is long enough `[ft]`.
const WHOLE_POST_FT: f64 = 0.01;

fn row(asked: &Asked) -> Option<LongestRow> {
    let frame = asked.frame.as_ref()?;
    let used = match frame.end {
        RowEnd::TieBack { .. } => asked.inputs.anchor_kind.longest_row(),
        RowEnd::HBrace { .. } => feet(LONGEST_RUN_FT),
    };
    let length = |step| feet(10.0 * as_number(step));
    let holds = |step| {
        let mut asked = asked.clone();
        asked.rows = Arc::new(vec![Row { length: length(step), trees: 1 }]);
        Indices::of(&asked).is_some_and(|indices| is_met(indices.wire) && indices.anchor.is_none_or(is_met))
    };
    let held = if asked.inputs.end_give > Length::default() {
        last_that(ROW_STEPS.0, ROW_STEPS.1, holds).map(length)
    } else {
        None
    };
    Some(LongestRow { used, held })
}
