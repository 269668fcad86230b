//! Where posts and anchors stand along a run.
//!
//! ```text
//!   anchor    end post      line post                      end post    anchor
//!     x . . . . |--o---o---o--|--o---o---o--|--o---o---o-----| . . . . . x
//!               start          posts midway between trees   end
//! ```

use super::Inputs;
use crate::kit::count::{as_number, whole_steps};
use crate::kit::row::{FieldPoint, Leaning, Run, Station, StationKind};
use std::ops::Deref;
use std::sync::Arc;
use uom::si::f64::Length;
use uom::si::length::meter;

/// How much longer a bay may be than the interval set, against rounding `[–]`.
const INTERVAL_TOLERANCE: f64 = 1e-7;
/// Posts that stand nearer together than this stand at one place `[m]`.
const SAME_PLACE: f64 = 1e-6;

/// A run of row with what is set along it. Metres in the row frame, as [`Run`].
#[derive(Clone, Debug, PartialEq)]
pub struct PostedRun {
    /// The run with its trees.
    pub run: Run,
    /// Feet of the line posts, between the end posts; empty where there is no trellis.
    pub line_posts: Arc<[f64]>,
    /// Whether there are end posts and wires.
    pub wired: bool,
    /// Distance from the end posts out to the anchors, where the ends are tied back.
    pub anchor_distance: Option<Length>,
    /// Distance from the end posts in to the brace posts, where the ends are H-braces.
    pub brace_span: Option<Length>,
}

impl Deref for PostedRun {
    type Target = Run;

    /// The run itself, so that its trees and ends are read as of any run.
    fn deref(&self) -> &Run {
        &self.run
    }
}

/// Sets posts along runs. Runs of the same length, as those of a rectangle, share one list of posts.
pub(super) fn set_out(runs: &[Run], inputs: &Inputs) -> Vec<PostedRun> {
    let mut posted: Vec<PostedRun> = Vec::with_capacity(runs.len());
    for run in runs {
        let like = posted.last().filter(|last| stands_like(&last.run, run));
        let line_posts = match like {
            Some(last) => Arc::clone(&last.line_posts),
            None if inputs.support.has_wires() => place(run, inputs.post_interval.value).into(),
            None => Arc::from([]),
        };
        posted.push(PostedRun {
            run: *run,
            line_posts,
            wired: inputs.support.has_wires(),
            anchor_distance: inputs.is_tied_back().then_some(inputs.anchor_distance),
            // Two braces share a short run: neither may pass its middle.
            brace_span: inputs
                .is_braced()
                .then_some(inputs.brace_span.min(Length::new::<meter>(run.length() / 3.0))),
        });
    }
    posted
}

/// Whether two runs are the same but for their row.
fn stands_like(one: &Run, other: &Run) -> bool {
    *one == Run { row: one.row, across: one.across, ..*other }
}

/// Line posts midway between trees, the trees shared out evenly over the fewest bays that keep
/// every bay within the interval. Where not even one tree space fits the interval, bays are equal.
fn place(run: &Run, interval: f64) -> Vec<f64> {
    let length = run.length();
    let tolerance = INTERVAL_TOLERANCE * interval;
    let full = whole_steps(length, interval);
    let fewest = if length > as_number(full) * interval + tolerance { full + 1 } else { full.max(1) };
    let equal = |bays: usize| -> Vec<f64> {
        (1..bays).map(|post| run.start + length * as_number(post) / as_number(bays)).collect()
    };
    if interval < run.spacing {
        return equal(fewest);
    }
    // Ends may carry up to half a tree space more than the trees alone, so that a bay more than the
    // fewest may be needed; walking from the end tells how many.
    let Some(walked) = walk(run, interval + tolerance) else { return equal(fewest) };
    for bays in fewest..=walked.len() + 1 {
        let posts: Vec<f64> = (1..bays).map(|post| run.gap(post * run.trees / bays)).collect();
        if longest_bay(run, &posts) <= interval + tolerance {
            return posts;
        }
    }
    walked
}

/// Posts midway between trees, each as far from the last as the interval allows.
fn walk(run: &Run, interval: f64) -> Option<Vec<f64>> {
    let (mut posts, mut last, mut next) = (Vec::new(), run.start, 0);
    while run.end - last > interval {
        let farthest = (next..=run.trees).take_while(|tree| run.gap(*tree) - last <= interval).last()?;
        if run.gap(farthest) - last < SAME_PLACE {
            return None;
        }
        last = run.gap(farthest);
        next = farthest + 1;
        posts.push(last);
    }
    Some(posts)
}

fn longest_bay(run: &Run, posts: &[f64]) -> f64 {
    let mut longest: f64 = 0.0;
    let mut last = run.start;
    for post in posts.iter().copied().chain(std::iter::once(run.end)) {
        longest = longest.max(post - last);
        last = post;
    }
    longest
}

impl PostedRun {
    /// Bays between posts, end posts included.
    pub fn bays(&self) -> usize {
        if self.wired { self.line_posts.len() + 1 } else { 0 }
    }

    /// Longest distance between two posts of the run; its length where there is only one bay `[m]`.
    ///
    /// ```
    /// use planting::{Ground, Scenario, ground::Memory};
    /// let trellis = Ground::lay(&Scenario::default(), &mut Memory::default()).unwrap().trellis;
    /// // Posts at most 30 ft apart.
    /// assert!((trellis.runs[0].longest_bay() - 30.0 * 0.3048).abs() < 1e-9);
    /// ```
    pub fn longest_bay(&self) -> f64 {
        longest_bay(&self.run, &self.line_posts)
    }

    fn station(&self, kind: StationKind, along: f64, leaning: Leaning) -> Station {
        Station { kind, row: self.row, at: FieldPoint { across: self.across, along }, leaning }
    }

    /// End posts, brace posts and line posts, of one side after the other.
    pub fn posts(&self, sides: &'static [Leaning]) -> impl Iterator<Item = Station> + '_ {
        let ends = if self.wired { vec![self.start, self.end] } else { Vec::new() };
        let braces: Vec<f64> = self
            .brace_span
            .map(|span| vec![self.start + span.value, self.end - span.value])
            .unwrap_or_default();
        let places: Vec<(StationKind, f64)> = ends
            .into_iter()
            .map(|along| (StationKind::EndPost, along))
            .chain(braces.into_iter().map(|along| (StationKind::BracePost, along)))
            .chain(self.line_posts.iter().map(|along| (StationKind::LinePost, *along)))
            .collect();
        sides.iter().flat_map(move |side| {
            places.clone().into_iter().map(|(kind, along)| self.station(kind, along, *side))
        })
    }

    /// Anchors at both ends, where they are tied back, of one side after the other.
    pub fn anchors(&self, sides: &'static [Leaning]) -> impl Iterator<Item = Station> + '_ {
        let places =
            self.anchor_distance.map(|distance| [self.start - distance.value, self.end + distance.value]);
        sides.iter().flat_map(move |side| {
            places.into_iter().flatten().map(|along| self.station(StationKind::Anchor, along, *side))
        })
    }
}
