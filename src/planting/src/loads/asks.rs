//! What this room asks of the ground.

use super::ends::RowEnd;
use super::inputs::Inputs;
use super::memory::Loads;
use super::trellis::{Asked, Frame, Row};
use super::wind::Silhouette;
use crate::ground::Ground;
use crate::kit::order::sort_by;
use crate::trade::outcome;
use std::sync::Arc;
use uom::si::f64::{ArealMassDensity, Length};
use uom::si::length::meter;

outcome!(Loads, crate::loads, whole, orders);

impl Loads {
    /// What its rules look at.
    fn whole(&self) -> &Self {
        self
    }
}

/// What it asks of a ground, with what is set about loads and the heaviest crop another room expects.
///
/// ```
/// use planting::{Ground, Scenario, ground::Memory, loads};
/// let scenario = Scenario::default();
/// let ground = Ground::lay(&scenario, &mut Memory::default()).unwrap();
/// let asked = loads::asks::asked(&ground, &loads::Inputs::usual(scenario.system), None);
/// let loads = loads::Loads::of(&asked);
/// // 200 lbf as strung become 621 under a full crop.
/// let tension = loads.carried.unwrap().loaded.tension.value / 4.4482216152605;
/// assert_eq!(tension.round(), 621.0);
/// ```
pub fn asked(ground: &Ground, inputs: &Inputs, crop: Option<ArealMassDensity>) -> Asked {
    let scenario = &ground.scenario;
    let runs = ground.trellis.asked.runs.iter();
    let rows = runs.map(|run| Row { length: Length::new::<meter>(run.length()), trees: run.trees }).collect();
    Asked {
        inputs: inputs.clone(),
        frame: frame(ground, inputs),
        rows: Arc::new(rows),
        stakes: ground.trellis.stakes,
        spacing: scenario.block.spacing(),
        crowns: Silhouette { bottom: scenario.canopy.crown_base, top: scenario.canopy.tree_height },
        crop,
    }
}

/// Wires on posts, where the ground has them.
fn frame(ground: &Ground, inputs: &Inputs) -> Option<Frame> {
    let set = &ground.scenario.trellis;
    if !set.support.has_wires() {
        return None;
    }
    let mut heights = set.wire_heights.clone();
    sort_by(&mut heights, |one, other| one.value.total_cmp(&other.value));
    Some(Frame {
        heights,
        sides: ground.trellis.sides,
        bay: ground.trellis.longest_bay,
        line_posts: ground.trellis.line_posts,
        line_post: set.line_post_diameter,
        post_length: set.post_length,
        depth: set.post_embedment,
        end: end(ground, inputs),
    })
}

/// What holds the wires at the row ends. A guy is fastened at the upper wire, or at the post top where that is lower.
fn end(ground: &Ground, inputs: &Inputs) -> RowEnd {
    let set = &ground.scenario.trellis;
    if set.is_tied_back() {
        let post_top = set.post_height();
        let height = set.top_wire().map_or(post_top, |wire| if wire < post_top { wire } else { post_top });
        RowEnd::TieBack { lean: set.end_post_lean, distance: set.anchor_distance, height }
    } else {
        RowEnd::HBrace { span: set.brace_span, rail: inputs.rail_height, spans: inputs.brace_spans }
    }
}
