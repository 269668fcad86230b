//! One planted piece of a row: end post to end post, with its trees, posts and anchors.
//!
//! ```text
//!   anchor    end post      line post                      end post    anchor
//!     x . . . . |--o---o---o--|--o---o---o--|--o---o---o-----| . . . . . x
//!               start          posts midway between trees   end
//! ```

use super::{Point, Station, StationKind, as_number, whole_steps};
use crate::scenario::{EndAssembly, Scenario};

/// One planted piece of a row. Lengths in metres in the row frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Row number, from 1 on the left.
    pub row: usize,
    /// Where the row line lies.
    pub across: f64,
    /// The foot of the first end post.
    pub start: f64,
    /// The foot of the second end post.
    pub end: f64,
    /// The first tree.
    pub first_tree: f64,
    /// Distance from tree to tree.
    pub spacing: f64,
    /// Number of trees.
    pub trees: usize,
    /// Feet of the line posts, between the end posts; empty where there is no trellis.
    pub line_posts: Vec<f64>,
    /// Whether there are end posts and wires.
    pub wired: bool,
    /// Distance from the end posts out to the anchors, where the ends are tied back.
    pub anchor_distance: Option<f64>,
    /// Distance from the end posts in to the brace posts, where the ends are H-braces.
    pub brace_span: Option<f64>,
}

impl Run {
    /// Plants a piece of a row line: set back by the headland at both ends, as many whole tree
    /// spaces as fit, centred. None where no tree fits.
    pub fn plant(row: usize, across: f64, (low, high): (f64, f64), scenario: &Scenario) -> Option<Run> {
        let start = low + scenario.headland.value;
        let end = high - scenario.headland.value;
        let spacing = scenario.in_row_spacing.value;
        let trees = whole_steps(end - start, spacing);
        if trees == 0 {
            return None;
        }
        let first_tree = start + (end - start - spacing * as_number(trees)) / 2.0 + spacing / 2.0;
        let wired = scenario.support.has_wires();
        let tied = wired && scenario.end_assembly == EndAssembly::TieBack;
        let braced = wired && scenario.end_assembly == EndAssembly::HBrace;
        let mut run = Run {
            row,
            across,
            start,
            end,
            first_tree,
            spacing,
            trees,
            line_posts: Vec::new(),
            wired,
            anchor_distance: tied.then_some(scenario.anchor_distance.value),
            // Two braces share a short run: neither may reach past its middle.
            brace_span: braced.then_some(scenario.brace_span.value.min((end - start) / 3.0)),
        };
        if wired {
            run.line_posts = run.place_line_posts(scenario.post_interval.value);
        }
        Some(run)
    }

    /// End post to end post.
    pub fn length(&self) -> f64 {
        self.end - self.start
    }

    /// Bays between posts, end posts included.
    pub fn bays(&self) -> usize {
        if self.wired { self.line_posts.len() + 1 } else { 0 }
    }

    /// Where tree number `index`, from 0, stands along the row.
    pub fn tree(&self, index: usize) -> f64 {
        self.first_tree + self.spacing * as_number(index)
    }

    /// Longest distance between two posts of the run; its length where there is only one bay.
    pub fn longest_bay(&self) -> f64 {
        let mut longest: f64 = 0.0;
        let mut last = self.start;
        for post in self.line_posts.iter().copied().chain(std::iter::once(self.end)) {
            longest = longest.max(post - last);
            last = post;
        }
        longest
    }

    /// Line posts midway between trees, the trees shared out evenly over the fewest bays that keep
    /// every bay within the interval. Where not even one tree space fits the interval, bays are equal.
    fn place_line_posts(&self, interval: f64) -> Vec<f64> {
        let length = self.length();
        let hair = 1e-7 * interval;
        let full = whole_steps(length, interval);
        let fewest = if length > as_number(full) * interval + hair { full + 1 } else { full.max(1) };
        let equal = |bays: usize| -> Vec<f64> {
            (1..bays).map(|post| self.start + length * as_number(post) / as_number(bays)).collect()
        };
        if interval < self.spacing {
            return equal(fewest);
        }
        // Ends may carry up to half a tree space more than the trees alone, so that a bay more than the
        // fewest may be needed; walking from the end tells how many.
        let Some(walked) = self.walk_posts(interval + hair) else { return equal(fewest) };
        for bays in fewest..=walked.len() + 1 {
            let posts: Vec<f64> = (1..bays)
                .map(|post| self.first_tree + self.spacing * (as_number(post * self.trees / bays) - 0.5))
                .collect();
            let placed = Run { line_posts: posts, ..self.clone() };
            if placed.longest_bay() <= interval + hair {
                return placed.line_posts;
            }
        }
        walked
    }

    /// Posts midway between trees, each as far from the last as the interval allows.
    fn walk_posts(&self, interval: f64) -> Option<Vec<f64>> {
        let gap = |tree: usize| self.first_tree + self.spacing * (as_number(tree) - 0.5);
        let (mut posts, mut last, mut next) = (Vec::new(), self.start, 0);
        while self.end - last > interval {
            let reach = (next..=self.trees).take_while(|tree| gap(*tree) - last <= interval).last()?;
            if gap(reach) - last < 1e-6 {
                return None;
            }
            last = gap(reach);
            next = reach + 1;
            posts.push(last);
        }
        Some(posts)
    }

    fn station(&self, kind: StationKind, along: f64) -> Station {
        Station { kind, row: self.row, at: Point { across: self.across, along } }
    }

    /// Every tree.
    pub fn trees(&self) -> impl Iterator<Item = Station> + '_ {
        (0..self.trees).map(|index| self.station(StationKind::Tree, self.tree(index)))
    }

    /// End posts, brace posts and line posts.
    pub fn posts(&self) -> impl Iterator<Item = Station> + '_ {
        let ends = if self.wired { vec![self.start, self.end] } else { Vec::new() };
        let braces: Vec<f64> =
            self.brace_span.map(|span| vec![self.start + span, self.end - span]).unwrap_or_default();
        ends.into_iter()
            .map(|along| self.station(StationKind::EndPost, along))
            .chain(braces.into_iter().map(|along| self.station(StationKind::BracePost, along)))
            .chain(self.line_posts.iter().map(|along| self.station(StationKind::LinePost, *along)))
    }

    /// Both anchors, where the ends are tied back.
    pub fn anchors(&self) -> impl Iterator<Item = Station> + '_ {
        self.anchor_distance
            .map(|distance| [self.start - distance, self.end + distance])
            .into_iter()
            .flatten()
            .map(|along| self.station(StationKind::Anchor, along))
    }
}
