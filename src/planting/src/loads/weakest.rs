//! What gives first: the gust or the crop at which each part of the trellis is reached.
//!
//! Wind blows across the rows and falls on line posts and soil; the crop pulls along them and falls on wires and row ends. Neither acts on
//! the other's parts here, so a part has either a gust or a crop.

use super::carried::Carried;
use super::crop::crop_for;
use super::ends::{Held, RowEnd, rail_buckles};
use super::posts::allowed_stress;
use super::trellis::Asked;
use crate::kit::count::as_number;
use crate::kit::quantity::share;
use uom::si::f64::{ArealMassDensity, Force, Length, Ratio, Velocity};

/// A part of the trellis.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// A trellis wire.
    Wire,
    /// A line post, at the ground line.
    Post,
    /// The soil at a line post.
    Soil,
    /// The anchor of a tie-back.
    Anchor,
    /// Its guy.
    Guy,
    /// The diagonal wire of an H-brace.
    BraceWire,
    /// The rail of an H-brace.
    Rail,
}

impl Part {
    /// What it is called.
    pub fn label(self) -> &'static str {
        match self {
            Part::Wire => "trellis wire",
            Part::Post => "line post",
            Part::Soil => "soil at the line post",
            Part::Anchor => "anchor",
            Part::Guy => "guy",
            Part::BraceWire => "brace wire",
            Part::Rail => "rail",
        }
    }
}

/// What a part is compared with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// The load at which it breaks, pulls out or turns over, on average.
    Collapse,
    /// What a code allows, or what this plan aims at.
    Rule,
}

/// The load at which a part is reached.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reached {
    /// A gust across the rows `[m/s]`.
    Gust(Velocity),
    /// A crop `[kg/m²]`; nothing where the tension the wires were strung to is enough.
    Crop(ArealMassDensity),
    /// No such load reaches it.
    Never,
}

/// Where a part is reached.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// The part.
    pub part: Part,
    /// What it is compared with.
    pub basis: Basis,
    /// Load over strength in this plan, 1 where it is reached; infinite for a part that holds nothing `[–]`.
    pub index: Ratio,
    /// The load at which it is reached.
    pub reached: Reached,
}

/// Strands of a brace's diagonal: the wire goes round twice `[–]`.
pub(super) const BRACE_STRANDS: f64 = 4.0;

/// Where every part of a trellis is reached, each part by collapse first.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Limits(pub Vec<Limit>);

fn limits(asked: &Asked, carried: &Carried) -> Vec<Limit> {
    let inputs = &asked.inputs;
    let limit = Limiting { asked, carried };
    let breaking = carried.wire.breaking_load();
    let tension = carried.loaded.tension;
    let mut limits = vec![
        limit.by_crop(Part::Wire, Basis::Collapse, tension, breaking),
        limit.by_crop(Part::Wire, Basis::Rule, tension, breaking * inputs.wire_target),
    ];
    let strength = inputs.post_wood.mean_strength();
    let (stress, allowed) = (carried.post_stress.value, allowed_stress().value);
    limits.push(limit.by_gust(Part::Post, Basis::Collapse, stress, strength.value));
    limits.push(limit.by_gust(Part::Post, Basis::Rule, stress, allowed));
    let (soil, push) = (&carried.embedment, carried.wind.on_post.value);
    limits.push(limit.by_gust(Part::Soil, Basis::Collapse, push, soil.collapse_load().value));
    limits.push(limit.by_gust(Part::Soil, Basis::Rule, push, soil.code_load().value));
    match carried.held_loaded {
        Some(Held::TieBack(end)) => {
            let comes = inputs.anchor_kind.pull_out(inputs.soil, inputs.anchor_depth);
            limits.push(limit.by_crop(Part::Anchor, Basis::Collapse, end.guy, comes));
            limits.push(limit.by_crop(Part::Anchor, Basis::Rule, end.guy, comes / inputs.anchor_target));
            limits.push(limit.by_crop(Part::Guy, Basis::Collapse, end.guy, breaking * inputs.guy_strands));
        }
        Some(Held::HBrace(end)) => {
            limits.push(limit.by_crop(Part::BraceWire, Basis::Collapse, end.wire, breaking * BRACE_STRANDS));
            if let Some(buckles) = rail_span(asked).and_then(|span| rail_buckles(inputs.rail_diameter, span))
            {
                limits.push(limit.by_crop(Part::Rail, Basis::Collapse, end.rail, buckles));
            }
        }
        None => {}
    }
    limits
}

fn rail_span(asked: &Asked) -> Option<Length> {
    match asked.frame.as_ref()?.end {
        RowEnd::HBrace { span, .. } => Some(span),
        RowEnd::TieBack { .. } => None,
    }
}

/// What limits are worked out from.
struct Limiting<'a> {
    asked: &'a Asked,
    carried: &'a Carried,
}

impl Limiting<'_> {
    /// A part that wind reaches: its load grows with the square of the gust. What holds nothing at all is reached by any.
    fn by_gust(&self, part: Part, basis: Basis, load: f64, strength: f64) -> Limit {
        if load <= 0.0 {
            return Limit { part, basis, index: Ratio::default(), reached: Reached::Never };
        }
        let index = share(load / strength);
        Limit { part, basis, index, reached: Reached::Gust(self.asked.inputs.gust / index.value.sqrt()) }
    }

    /// A part that the pull of the wires reaches: its load is in proportion to their tension.
    fn by_crop(&self, part: Part, basis: Basis, load: Force, strength: Force) -> Limit {
        let index = load / strength;
        let reached = self.crop_at(self.carried.loaded.tension / index).map_or(Reached::Never, Reached::Crop);
        Limit { part, basis, index, reached }
    }

    /// The crop under which the wires pull so hard.
    fn crop_at(&self, tension: Force) -> Option<ArealMassDensity> {
        let own = self.carried.wire.weight(Length::default());
        let beyond = self.carried.bay.load_for(tension)? - own;
        let beyond = if beyond.value > 0.0 { beyond } else { own * 0.0 };
        let wires = as_number(self.carried.wires);
        crop_for(beyond, self.asked.inputs.share_on_wires, wires, self.asked.spacing.row_width)
    }
}

impl Limits {
    /// Of a trellis and what it carries.
    ///
    /// ```
    /// use planting::{Ground, Scenario, ground::Memory, kit::units::MPH};
    /// use planting::loads::{Basis, Inputs, Loads, Part, asks};
    /// let scenario = Scenario::default();
    /// let ground = Ground::lay(&scenario, &mut Memory::default()).unwrap();
    /// let limits = Loads::of(&asks::asked(&ground, &Inputs::usual(scenario.system), None)).limits;
    /// // In medium clay the soil gives way before the post breaks and before the anchor comes.
    /// assert_eq!(limits.weakest().unwrap().part, Part::Soil);
    /// assert_eq!((limits.least_gust().unwrap().value / MPH).round(), 62.0);
    /// assert_eq!(limits.get(Part::Rail, Basis::Collapse), None);
    /// ```
    pub fn of(asked: &Asked, carried: &Carried) -> Limits {
        Limits(limits(asked, carried))
    }

    /// Where a part is reached on a basis, if the trellis has it.
    pub fn get(&self, part: Part, basis: Basis) -> Option<&Limit> {
        self.0.iter().find(|limit| limit.part == part && limit.basis == basis)
    }

    /// The part with the largest index at collapse.
    pub fn weakest(&self) -> Option<&Limit> {
        let at_collapse = self.0.iter().filter(|limit| limit.basis == Basis::Collapse);
        at_collapse.reduce(|one, other| if other.index > one.index { other } else { one })
    }

    /// The least gust at which any part is reached at collapse.
    pub fn least_gust(&self) -> Option<Velocity> {
        let gusts = self.0.iter().filter_map(|limit| match (limit.basis, limit.reached) {
            (Basis::Collapse, Reached::Gust(gust)) => Some(gust),
            _ => None,
        });
        gusts.reduce(|one, other| if other < one { other } else { one })
    }

    /// The least crop at which any part is reached at collapse.
    pub fn least_crop(&self) -> Option<ArealMassDensity> {
        let crops = self.0.iter().filter_map(|limit| match (limit.basis, limit.reached) {
            (Basis::Collapse, Reached::Crop(crop)) => Some(crop),
            _ => None,
        });
        crops.reduce(|one, other| if other < one { other } else { one })
    }
}
