//! The trellis as geometry and counts: posts, wires, stakes and row ends.
//!
//! What stands where comes from the block; here it is counted and measured. Loads, tension and soil
//! strength are not in it, and nothing here says that a structure is safe.
//!
//! Counting rules: bays = spaces between posts; wire ordered = wires × (row + 2 tails of 4 ft) + 5 %;
//! coils of 4,000 ft; guy = 2 strands × guy length + 4 ft (common practice, no source).

use crate::block::{Block, as_number};
use crate::quantity::feet;
use crate::scenario::{EndAssembly, Scenario};
use crate::system::Support;

/// Wire left over at each end of a row for fastening (common practice, no source).
pub const WIRE_TAIL_FT: f64 = 4.0;
/// Wire ordered beyond what is strung (common practice, no source).
pub const WIRE_WASTE: f64 = 0.05;
/// Length of a coil of 12½-gauge wire (common practice).
pub const COIL_FT: f64 = 4_000.0;

/// The trellis of a block, counted. Lengths in metres.
#[derive(Clone, Debug, PartialEq)]
pub struct Trellis {
    /// Sides that carry wires: two where the canopy leans to both sides.
    pub sides: usize,
    /// Wires on each side.
    pub wires: usize,
    /// Runs of row that have wires.
    pub runs: usize,
    /// Bays between posts, all runs.
    pub bays: usize,
    /// Longest bay.
    pub longest_bay: f64,
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
    pub wire_strung: f64,
    /// Wire to order.
    pub wire_ordered: f64,
    /// Coils to order.
    pub coils: usize,
    /// Guy wire of one tie-back, and of all.
    pub guy: (f64, f64),
    /// Line post above the ground.
    pub post_height: f64,
    /// Share of the line post in the ground `[–]`.
    pub embedment_share: f64,
    /// Whole length an end post needs to be as high as the line posts when it leans.
    pub end_post_length: f64,
}

impl Trellis {
    /// Counts the trellis of a laid-out block.
    pub fn count(scenario: &Scenario, block: &Block) -> Trellis {
        let wired = scenario.support.has_wires();
        let sides = if scenario.lean.value > 0.0 { 2 } else { 1 };
        let wires = if wired { scenario.wire_heights.len() } else { 0 };
        let runs = if wired { block.runs.len() } else { 0 };
        let strands = as_number(wires * sides);
        let strung = strands * if wired { block.run_length().value } else { 0.0 };
        let tails = strands * as_number(runs) * 2.0 * feet(WIRE_TAIL_FT).value;
        let wire_ordered = if strands > 0.0 { (strung + tails) * (1.0 + WIRE_WASTE) } else { 0.0 };
        let post_height = scenario.post_height().value;
        let lean = match scenario.end_assembly {
            EndAssembly::TieBack => scenario.end_post_lean.value,
            EndAssembly::HBrace => 0.0,
        };
        let tied = wired && scenario.end_assembly == EndAssembly::TieBack;
        let braced = wired && scenario.end_assembly == EndAssembly::HBrace;
        let ends = 2 * runs;
        let guy_one = if tied { 2.0 * guy_length(scenario) + feet(WIRE_TAIL_FT).value } else { 0.0 };
        Trellis {
            sides,
            wires,
            runs,
            bays: block.runs.iter().map(crate::block::run::Run::bays).sum(),
            longest_bay: block.runs.iter().map(crate::block::run::Run::longest_bay).fold(0.0, f64::max),
            line_posts: sides * block.runs.iter().map(|run| run.line_posts.len()).sum::<usize>(),
            end_posts: sides * ends,
            brace_posts: if braced { sides * ends } else { 0 },
            brace_rails: if braced { sides * ends } else { 0 },
            anchors: if tied { sides * ends } else { 0 },
            stakes: match scenario.support {
                Support::WiresAndStakes | Support::PostPerTree => block.tree_count(),
                Support::Wires | Support::None => 0,
            },
            tensioners: wires * sides * runs,
            wire_strung: strung,
            wire_ordered,
            coils: whole_coils(wire_ordered),
            guy: (guy_one, guy_one * as_number(if tied { sides * ends } else { 0 })),
            post_height,
            embedment_share: scenario.post_embedment.value
                / scenario.post_length.value.max(f64::MIN_POSITIVE),
            end_post_length: post_height / lean.cos() + scenario.post_embedment.value,
        }
    }
}

/// Where the guy of a leaning end post is fastened: the upper wire, or the post top where that is lower,
/// as distance toward the anchor and height `[m]`.
pub fn guy_attachment(scenario: &Scenario) -> (f64, f64) {
    let post_top = scenario.post_height();
    let height = scenario.top_wire().map_or(post_top, |wire| if wire < post_top { wire } else { post_top });
    ((height.value) * scenario.end_post_lean.value.tan(), height.value)
}

/// Length of the guy from its attachment to the anchor at the ground `[m]`.
///
/// `L = √((D − x)² + h²)`, D the anchor distance, x and h the attachment.
pub fn guy_length(scenario: &Scenario) -> f64 {
    let (toward, height) = guy_attachment(scenario);
    (scenario.anchor_distance.value - toward).hypot(height)
}

fn whole_coils(ordered: f64) -> usize {
    let coil = feet(COIL_FT).value;
    let full = crate::block::whole_steps(ordered, coil);
    if ordered > as_number(full) * coil + 1e-6 { full + 1 } else { full }
}
