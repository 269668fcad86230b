//! The rules of renewal pruning as numbers of one block: what trees are kept to, and each rule with its source.
//!
//! ```text
//!          |  <- leader: at most a foot and a half above the top wire
//!     -----o-----  top wire
//!      \   |   /
//!       ---|---    limbs over half the leader come out, the largest first
//!     |    |    |
//!     |<------->|  canopy width kept; past it limbs are shortened
//! ```
//!
//! Where schools differ both are kept ([`Rules::schools`]). Left out: other systems than a single leader.

use super::target::Span;
use crate::kit::figure::Source;
use crate::kit::quantity::{feet, inches};
use uom::si::f64::Length;

/// Trunk area against M.9 T337 above which a tree counts as strong (this project's assumption).
pub const STRONG_FROM: f64 = 1.1;

/// What the trees of a block are kept to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Keeping {
    /// From tree to tree along the row.
    pub in_row: Length,
    /// From row to row.
    pub row_width: Length,
    /// Height of the top wire.
    pub top_wire: Length,
    /// Width of the canopy across the row, at its base.
    pub canopy_width: Length,
    /// Width at the top against that at the base `[–]`.
    pub taper: f64,
    /// Height of the lowest limbs.
    pub lowest_limb: Length,
    /// Trunk area against M.9 T337 on the same site `[–]`.
    pub vigour: f64,
}

impl Keeping {
    /// A tall spindle 3 × 12 ft under a top wire at 9 ft, with vigour 1.
    ///
    /// ```
    /// let keeping = planting::crop::rules::Keeping::usual();
    /// assert!((keeping.leader_height().value / 0.3048 - 10.5).abs() < 1e-9);
    /// ```
    pub fn usual() -> Keeping {
        Keeping {
            in_row: feet(3.0),
            row_width: feet(12.0),
            top_wire: feet(9.0),
            canopy_width: feet(5.0),
            taper: 0.4,
            lowest_limb: feet(2.0),
            vigour: 1.0,
        }
    }

    /// Whether the trees count as strong.
    pub fn is_strong(&self) -> bool {
        self.vigour > STRONG_FROM
    }

    /// Stub to leave: short on strong trees, longer on weak ones. One school leaves 2 in everywhere (Penn State rules;
    /// Good Fruit Grower July 2015); 1 in on strong trees is this project's reading of "short".
    pub fn stub(&self) -> Length {
        inches(if self.is_strong() { 1.0 } else { 2.0 })
    }

    /// Height above which the leader is lowered: 1.5 ft over the top wire.
    pub fn leader_height(&self) -> Length {
        self.top_wire + feet(LEADER_ABOVE_WIRE_FT)
    }

    /// How many large limbs come out at most in the winter after a year: 1 in the first two years, 2 to the fourth, then 2
    /// on weak trees and 3 on strong ones.
    ///
    /// ```
    /// let keeping = planting::crop::rules::Keeping::usual();
    /// assert_eq!([1, 3, 7].map(|year| keeping.most_removals(year)), [1, 2, 2]);
    /// ```
    pub fn most_removals(&self, year: u32) -> usize {
        match year {
            0..=2 => 1,
            3 | 4 => 2,
            _ if self.is_strong() => 3,
            _ => 2,
        }
    }

    /// Half the width kept at a height: it tapers from the lowest limbs to the top wire.
    ///
    /// ```
    /// use planting::{crop::rules::Keeping, feet};
    /// let keeping = Keeping::usual();
    /// assert!((keeping.half_width(feet(2.0)).value - 2.5 * 0.3048).abs() < 1e-12);
    /// assert!((keeping.half_width(feet(9.0)).value - 0.4 * 2.5 * 0.3048).abs() < 1e-12);
    /// ```
    pub fn half_width(&self, height: Length) -> Length {
        let over = (self.top_wire - self.lowest_limb).value;
        let share = if over > 0.0 { (height - self.lowest_limb).value / over } else { 1.0 };
        let share = crate::kit::order::within(share, 0.0, 1.0);
        self.canopy_width / 2.0 * (1.0 - (1.0 - self.taper) * share)
    }
}

/// How far the leader may stand above the top wire `[ft]` (growers keep one to three feet, from memory).
pub const LEADER_ABOVE_WIRE_FT: f64 = 1.5;
/// A limb over this share of what it grows from comes out.
pub const THICKEST_SHARE: f64 = 0.5;
/// Limbs to keep on a grown tree.
pub const LIMBS: Span = Span { low: 24.0, high: 30.0 };
/// Limb area against trunk area to work in (from memory; tested from 0.5 to 1.75 by Schupp et al. 2017).
pub const LIMB_TO_TRUNK: Span = Span { low: 1.0, high: 1.25 };

/// The rules, in the order in which they are worked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rule {
    /// The top stands too high: lower it to a weaker side limb.
    Leader,
    /// Thicker than half of what it grows from.
    OverHalf,
    /// One of the largest of a grown tree.
    Largest,
    /// More than one shoot on a stub.
    OneOfStub,
    /// Straight up.
    Upright,
    /// Hanging.
    Hanging,
    /// Past the alley line, or into the next tree.
    PastSpace,
    /// Close above or below a better limb, or one more than the tree should have.
    Crowded,
    /// A fork: each limb is kept a single axis.
    Fork,
}

/// What a rule says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rules {
    /// The rule in a few words.
    pub title: &'static str,
    /// Why, in a line.
    pub why: &'static str,
    /// Who says so.
    pub source: Source,
}

/// Two ways of doing one thing, each under the name of its rule.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct School {
    /// What they differ about.
    pub about: &'static str,
    /// One way, and who teaches it.
    pub one: (&'static str, Source),
    /// The other.
    pub other: (&'static str, Source),
}

impl Rule {
    /// All rules, in the order in which they are worked.
    pub const ALL: [Rule; 9] = [
        Rule::Leader,
        Rule::OverHalf,
        Rule::Largest,
        Rule::OneOfStub,
        Rule::Upright,
        Rule::Hanging,
        Rule::PastSpace,
        Rule::Crowded,
        Rule::Fork,
    ];

    /// What the rule says.
    ///
    /// ```
    /// assert_eq!(planting::crop::rules::Rule::OverHalf.says().title, "Over half the leader: out");
    /// ```
    pub fn says(self) -> Rules {
        let rule = |title, why, source| Rules { title, why, source };
        match self {
            Rule::Leader => rule(
                "Lower the leader to a weaker side limb",
                "A top above the wire shades what stands under it and breaks in wind.",
                Source::published(
                    "Robinson's demonstration, UMass fruit blog 18 Jan 2009: height at most 0.9 of the row width; 1.5 ft above the wire from memory",
                ),
            ),
            Rule::OverHalf => rule(
                "Over half the leader: out",
                "A limb thicker than half of what it grows from competes with the leader and stops bearing well.",
                Source::published(
                    "Schupp, Lancaster Farming 22 Dec 2012; Good Fruit Grower July 2015: the 2:1 rule",
                ),
            ),
            Rule::Largest => rule(
                "The largest limbs: out",
                "Two or three of the largest each winter renew the tree before any limb is permanent.",
                Source::published(
                    "Robinson's demonstration, UMass fruit blog 18 Jan 2009: take the 2-3 largest branches each year",
                ),
            ),
            Rule::OneOfStub => rule(
                "One shoot to a stub: keep the flatter",
                "Several shoots from one stub grow into each other; the flatter one flowers sooner.",
                Source::practice("Common practice, no source"),
            ),
            Rule::Upright => rule(
                "Straight up: out",
                "Upright wood grows and hardly flowers.",
                Source::published(
                    "Penn State, Fruit tree pruning: a rules-based approach (under 40° from the vertical); 33° here, as young renewal shoots start steep",
                ),
            ),
            Rule::Hanging => rule(
                "Hanging wood: shorten",
                "Hanging wood is weak and in the shade, and its fruit stays small.",
                Source::published(
                    "Penn State, Fruit tree pruning: a rules-based approach (over 140° from the vertical)",
                ),
            ),
            Rule::PastSpace => rule(
                "Past its space: shorten to a side limb or spur",
                "What hangs into the alley is torn off, and what grows into the next tree shades it.",
                Source::published(
                    "Good Fruit Grower, 1 May 2013, Fruiting wall principles: canopies at most 3 ft deep to either side",
                ),
            ),
            Rule::Crowded => rule(
                "Crowded: the weaker one out",
                "Of two limbs that lie in each other's light only one bears.",
                Source::published(
                    "Lancaster Farming 22 Dec 2012 (Schupp): 30 to 36 limbs after pruning; how near is too near is this project's assumption",
                ),
            ),
            Rule::Fork => rule(
                "Each limb one axis: fork out",
                "A limb kept to a single axis lets light to its own spurs.",
                Source::published(
                    "Robinson's demonstration, UMass fruit blog 18 Jan 2009: make every branch a single column",
                ),
            ),
        }
    }
}

impl Rules {
    /// Where schools differ.
    ///
    /// ```
    /// assert_eq!(planting::crop::rules::Rules::schools().len(), 2);
    /// ```
    pub fn schools() -> [School; 2] {
        [
            School {
                about: "How many limbs to keep",
                one: (
                    "24 to 36 on a tree",
                    Source::published(
                        "Ontario, trial precision pruning (24 on a tall spindle); Lancaster Farming 22 Dec 2012 (30-36 on a vertical axis)",
                    ),
                ),
                other: (
                    "6 to 8 on a metre of leader, fewer toward the top: 15 to 20 on a tree",
                    Source::published(
                        "Wilton (AgFirst NZ), Pruning: setting up the tree canopy for future crops",
                    ),
                ),
            },
            School {
                about: "How long a stub to leave",
                one: (
                    "2 in, cut slanting",
                    Source::published("Penn State rules; Good Fruit Grower July 2015"),
                ),
                other: (
                    "Short on strong trees, longer on weak ones",
                    Source::practice("Common practice, no source"),
                ),
            },
        ]
    }
}
