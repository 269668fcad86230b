//! The trellis as geometry and counts: posts, wires, stakes and row ends.
//!
//! Asks the block for its runs of row and its headland, the canopy for lean, size and what the trees need. Offers
//! where posts stand and what the trees stand by. Loads, tension and soil strength are not in it, and nothing here says
//! that a structure is safe.
//!
//! Counting rules: bays = spaces between posts; wire ordered = wires × (row + 2 tails of 4 ft) + 5 %;
//! coils of 4,000 ft; guy = 2 strands × guy length + 4 ft (common practice, no source). Where trees lean to both
//! sides of the row there are two of everything but the row itself. Sources stand beside each figure and rule.

pub mod advice;
pub mod figures;
pub mod inputs;
pub mod orders;
mod posts;
pub mod workings;

pub use inputs::{EndAssembly, Inputs, Support};
pub use posts::PostedRun;

use crate::kit::count::{as_number, whole_steps};
use crate::kit::quantity::feet;
use crate::kit::row::{Leaning, Run, Spacing, Station};
use crate::kit::standing::SupportNeed;
use crate::system::TrainingSystem;
use std::sync::Arc;
use uom::si::f64::{Angle, Length, Ratio};
use uom::si::length::meter;
use uom::si::ratio::ratio;

/// Wire left over at each end of a row for fastening (common practice, no source).
pub const WIRE_TAIL_FT: f64 = 4.0;
/// Wire ordered beyond what is strung (common practice, no source).
pub const WIRE_WASTE: f64 = 0.05;
/// Length of a coil of 12½-gauge wire (common practice).
pub const COIL_FT: f64 = 4_000.0;
/// How much wire beyond whole coils asks for no coil more `[m]`.
const COIL_TOLERANCE: f64 = 1e-6;

/// All that the trellis is counted and judged from.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// What is set about the trellis.
    pub inputs: Inputs,
    /// Training system.
    pub system: TrainingSystem,
    /// The runs of row of the block.
    pub runs: Arc<Vec<Run>>,
    /// How far apart trees and rows stand.
    pub spacing: Spacing,
    /// Free strip at each row end `[m]`.
    pub headland: Length,
    /// Width of the widest machine that drives in the block `[m]`.
    pub tractor_width: Length,
    /// The trees it holds.
    pub trees: Trees,
}

/// What a trellis must know of the trees it holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trees {
    /// Lean of alternate trees, to either side `[rad]`.
    pub lean: Angle,
    /// Height they are kept at `[m]`.
    pub height: Length,
    /// Width the canopy is kept at `[m]`.
    pub canopy_width: Length,
    /// The rootstock by its name.
    pub rootstock: &'static str,
    /// What trees on it need to stand up.
    pub need: SupportNeed,
}

/// Guy wire.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guys {
    /// For one tie-back `[m]`.
    pub each: Length,
    /// For all of them `[m]`.
    pub all: Length,
}

/// The trellis of a block, counted.
#[derive(Clone, Debug, PartialEq)]
pub struct Trellis {
    /// What it was counted from.
    pub asked: Asked,
    /// Every run of row with its posts and anchors, those without wires included.
    pub runs: Vec<PostedRun>,
    /// Sides that carry wires: two where the canopy leans to both sides.
    pub sides: usize,
    /// Wires on each side.
    pub wires: usize,
    /// Runs of row that have wires.
    pub wired_runs: usize,
    /// Bays between posts, all runs.
    pub bays: usize,
    /// Longest bay.
    pub longest_bay: Length,
    /// Line posts.
    pub line_posts: usize,
    /// End posts.
    pub end_posts: usize,
    /// Inner posts of H-braces.
    pub brace_posts: usize,
    /// Rails of H-braces.
    pub brace_rails: usize,
    /// Anchors.
    pub anchors: usize,
    /// Stakes or posts that stand at single trees.
    pub stakes: usize,
    /// Tensioners, one on each wire of each run.
    pub tensioners: usize,
    /// Wire strung, end post to end post.
    pub wire_strung: Length,
    /// Wire to order.
    pub wire_ordered: Length,
    /// Coils to order.
    pub coils: usize,
    /// Guy wire.
    pub guys: Guys,
    /// Line post above the ground.
    pub post_height: Length,
    /// Share of the line post in the ground.
    pub embedment_share: Ratio,
    /// Whole length an end post needs to be as high as the line posts when it leans.
    pub end_post_length: Length,
}

impl Trellis {
    /// Sets out and counts the trellis.
    ///
    /// ```
    /// use planting::{Block, Scenario, Trellis, ground};
    /// let scenario = Scenario::default();
    /// let block = Block::lay_out(&ground::block_asked(&scenario));
    /// let trellis = Trellis::count(&ground::trellis_asked(&scenario, &block));
    /// assert_eq!((trellis.runs.len(), trellis.runs[0].bays()), (26, 20));
    /// ```
    pub fn count(asked: &Asked) -> Trellis {
        let inputs = &asked.inputs;
        let runs = posts::set_out(&asked.runs, inputs);
        let wired = inputs.support.has_wires();
        let sides = if asked.trees.lean.value > 0.0 { 2 } else { 1 };
        let wires = if wired { inputs.wire_heights.len() } else { 0 };
        let wired_runs = if wired { runs.len() } else { 0 };
        let strands = as_number(wires * sides);
        let run_length = if wired { asked.runs.iter().map(Run::length).sum() } else { 0.0 };
        let wire_strung = Length::new::<meter>(strands * run_length);
        let tails = feet(WIRE_TAIL_FT) * (strands * as_number(wired_runs) * 2.0);
        let wire_ordered = (wire_strung + tails) * (1.0 + WIRE_WASTE);
        let post_height = inputs.post_height();
        let lean = match inputs.end_assembly {
            EndAssembly::TieBack => inputs.end_post_lean.value,
            EndAssembly::HBrace => 0.0,
        };
        let ends = |is_there: bool| if is_there { 2 * wired_runs * sides } else { 0 };
        let (tied, braced) = (ends(inputs.is_tied_back()), ends(inputs.is_braced()));
        let guy =
            if inputs.is_tied_back() { guy_length(inputs) * 2.0 + feet(WIRE_TAIL_FT) } else { feet(0.0) };
        let longest_bay = runs.iter().map(PostedRun::longest_bay).fold(0.0, f64::max);
        Trellis {
            sides,
            wires,
            wired_runs,
            bays: runs.iter().map(PostedRun::bays).sum(),
            longest_bay: Length::new::<meter>(longest_bay),
            line_posts: sides * runs.iter().map(|run| run.line_posts.len()).sum::<usize>(),
            end_posts: ends(wired),
            brace_posts: braced,
            brace_rails: braced,
            anchors: tied,
            stakes: match inputs.support {
                Support::WiresAndStakes | Support::PostPerTree => runs.iter().map(|run| run.trees).sum(),
                Support::Wires | Support::None => 0,
            },
            tensioners: wires * sides * wired_runs,
            wire_strung,
            wire_ordered,
            coils: whole_coils(wire_ordered),
            guys: Guys { each: guy, all: guy * as_number(tied) },
            post_height,
            embedment_share: inputs.post_embedment
                / inputs.post_length.max(Length::new::<meter>(f64::MIN_POSITIVE)),
            end_post_length: post_height / Ratio::new::<ratio>(lean.cos()) + inputs.post_embedment,
            runs,
            asked: asked.clone(),
        }
    }

    /// The sides of the row on which posts stand.
    fn leanings(&self) -> &'static [Leaning] {
        if self.sides == 2 { &[Leaning::Left, Leaning::Right] } else { &[Leaning::Neither] }
    }

    /// Every line, end and brace post, row by row; where trees lean to both sides, the posts of either side.
    ///
    /// ```
    /// use planting::{Ground, Scenario, ground::Memory};
    /// let trellis = Ground::lay(&Scenario::default(), &mut Memory::default()).unwrap().trellis;
    /// // 26 rows of 20 bays have 21 posts each.
    /// assert_eq!(trellis.posts().count(), 26 * 21);
    /// ```
    pub fn posts(&self) -> impl Iterator<Item = Station> + '_ {
        self.runs.iter().flat_map(|run| run.posts(self.leanings()))
    }

    /// Every anchor, row by row, of either side.
    ///
    /// ```
    /// use planting::{Ground, Scenario, ground::Memory};
    /// let trellis = Ground::lay(&Scenario::default(), &mut Memory::default()).unwrap().trellis;
    /// assert_eq!(trellis.anchors().count(), 2 * 26);
    /// ```
    pub fn anchors(&self) -> impl Iterator<Item = Station> + '_ {
        self.runs.iter().flat_map(|run| run.anchors(self.leanings()))
    }

    /// Posts and anchors of one run, of either side.
    pub fn stations_of<'a>(&self, run: &'a PostedRun) -> impl Iterator<Item = Station> + 'a {
        let sides = self.leanings();
        run.posts(sides).chain(run.anchors(sides))
    }
}

/// Where the guy of a leaning end post is fastened, seen from the foot of the post.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Attachment {
    /// Distance toward the anchor `[m]`.
    pub toward: Length,
    /// Height above the ground `[m]`.
    pub height: Length,
}

/// Where the guy of a leaning end post is fastened: the upper wire, or the post top where that is lower.
pub fn guy_attachment(inputs: &Inputs) -> Attachment {
    let post_top = inputs.post_height();
    let height = inputs.top_wire().map_or(post_top, |wire| if wire < post_top { wire } else { post_top });
    Attachment { toward: height * inputs.end_post_lean.value.tan(), height }
}

/// Length of the guy from its attachment to the anchor at the ground `[m]`.
///
/// `L = √((D − x)² + h²)`, D the anchor distance, x and h the attachment.
///
/// ```
/// use planting::{Scenario, trellis::guy_length, uom::si::length::foot};
/// assert!((guy_length(&Scenario::default().trellis).get::<foot>() - 11.15).abs() < 0.01);
/// ```
pub fn guy_length(inputs: &Inputs) -> Length {
    let Attachment { toward, height } = guy_attachment(inputs);
    (inputs.anchor_distance - toward).hypot(height)
}

fn whole_coils(ordered: Length) -> usize {
    let coil = feet(COIL_FT).value;
    let full = whole_steps(ordered.value, coil);
    if ordered.value > as_number(full) * coil + COIL_TOLERANCE { full + 1 } else { full }
}
