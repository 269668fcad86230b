//! The page for the crew as data: what comes out, in the block's own numbers. Whoever draws it adds nothing but the picture.

use super::hours::{Footing, Hours, pruning};
use super::rules::{Keeping, LIMB_TO_TRUNK, LIMBS, Rule, THICKEST_SHARE};
use super::target::{Span, Target};
use crate::kit::figure::Source;
use crate::kit::message::{Message, Slot};
use crate::kit::quantity::{Quantity, inches};
use uom::si::f64::Length;

/// One numbered line of the card.
#[derive(Clone, Debug, PartialEq)]
pub struct CardLine {
    /// The rule it stands for.
    pub rule: Rule,
    /// What to do, in bold.
    pub lead: Message,
    /// How, in a line below it; may be empty.
    pub how: Message,
}

/// What the card says of thickness: out when thicker.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thickness {
    /// The leader where the limb grows from it.
    pub leader: Length,
    /// The thickest limb that stays.
    pub limb: Length,
}

/// A caution and who says so.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CardCaution {
    /// The sentence.
    pub words: &'static str,
    /// Who says so.
    pub source: Source,
}

/// The page for the crew.
#[derive(Clone, Debug, PartialEq)]
pub struct Card {
    /// Whether these are strong trees.
    pub strong: bool,
    /// What to do, in the order in which it is worked.
    pub lines: Vec<CardLine>,
    /// Out when thicker.
    pub thickness: [Thickness; 4],
    /// Large cuts on a tree at most.
    pub cuts: usize,
    /// Height of the leader at most.
    pub leader_height: Length,
    /// Width of the canopy.
    pub width: Length,
    /// What is left free between canopies.
    pub alley: Length,
    /// Stub to leave.
    pub stub: Length,
    /// Limbs to keep.
    pub limbs: Span,
    /// Limb area against trunk area.
    pub limb_to_trunk: Span,
    /// Fruit and flower buds to leave.
    pub target: Target,
    /// Time for a tree from ladders.
    pub by_ladder: Hours,
    /// Time for a tree from platforms.
    pub by_platform: Hours,
    /// What to mind.
    pub cautions: [CardCaution; 5],
}

/// Shortenings of a tree in a winter that hours are reckoned with (the practice tree kept by the rules, years 7 to 15).
pub const USUAL_SHORTENINGS: f64 = 6.0;

impl Card {
    /// The card of a block for the winter after a year.
    ///
    /// ```
    /// use planting::crop::{card::Card, rules::Keeping, target::{Target, Wanted}};
    /// use planting::{feet, share};
    /// let target = Target::of(&Wanted { fruit: 83.0, limbs: 24.0, insurance: 1.8, floral_share: share(0.7) });
    /// let card = Card::of(&Keeping::usual(), 7, target);
    /// assert!((card.alley - feet(7.0)).value.abs() < 1e-12);
    /// assert_eq!(card.cuts, 2);
    /// ```
    pub fn of(keeping: &Keeping, year: u32, target: Target) -> Card {
        let cuts = keeping.most_removals(year);
        let time = |footing| pruning(whole(cuts), USUAL_SHORTENINGS, footing);
        Card {
            strong: keeping.is_strong(),
            lines: lines(keeping, cuts),
            thickness: [2.5, 2.0, 1.5, 1.0]
                .map(|leader| Thickness { leader: inches(leader), limb: inches(leader * THICKEST_SHARE) }),
            cuts,
            leader_height: keeping.leader_height(),
            width: keeping.canopy_width,
            alley: keeping.row_width - keeping.canopy_width,
            stub: keeping.stub(),
            limbs: LIMBS,
            limb_to_trunk: LIMB_TO_TRUNK,
            target,
            by_ladder: time(Footing::Ladders),
            by_platform: time(Footing::Platform),
            cautions: CAUTIONS,
        }
    }
}

fn whole(number: usize) -> f64 {
    crate::kit::count::as_number(number)
}

fn lines(keeping: &Keeping, cuts: usize) -> Vec<CardLine> {
    let line = |rule, lead, how| CardLine { rule, lead, how };
    let small = |length: Length| Slot::Number(length.value, Quantity::SmallLength);
    vec![
        line(
            Rule::Leader,
            Message::new("Leader down to {0}.", [keeping.leader_height().into()]),
            Message::plain("Cut above a weaker side limb; never head one-year leader wood."),
        ),
        line(
            Rule::OverHalf,
            Message::plain("Over half the leader: out."),
            Message::new("Largest first, {0} at most.", [Slot::Number(whole(cuts), Quantity::Count)]),
        ),
        line(
            Rule::Largest,
            Message::new("Short, slanting stub: {0}.", [small(keeping.stub())]),
            Message::plain(if keeping.is_strong() {
                "Strong trees: short stubs. The new shoot comes from below."
            } else {
                "Weak trees: longer stubs. The new shoot comes from below."
            }),
        ),
        line(
            Rule::OneOfStub,
            Message::plain("One shoot to a stub."),
            Message::plain("Keep the flatter one."),
        ),
        line(
            Rule::PastSpace,
            Message::new("Past the line, {0} from the row: shorten.", [(keeping.canopy_width / 2.0).into()]),
            Message::plain("Cut to a spur or a side limb."),
        ),
        line(
            Rule::Upright,
            Message::plain("Straight up or crowded: out."),
            Message::plain("Hanging wood: back to pencil thickness."),
        ),
        line(Rule::Fork, Message::plain("Each limb one axis."), Message::plain("Spurs stay, forks go.")),
    ]
}

const CAUTIONS: [CardCaution; 5] = [
    CardCaution {
        words: "Dry days.",
        source: Source::published("Illinois Extension and Cornell, fire blight: cut in dry weather only"),
    },
    CardCaution {
        words: "Clean blades between sick trees; ask the local adviser when to cut strikes.",
        source: Source::published(
            "Cornell cuts promptly in young orchards, Purdue rather waits for dormancy: local guidance decides",
        ),
    },
    CardCaution {
        words: "No pruning while hard frost is forecast within three days.",
        source: Source::published(
            "Growers' press, low authority: stop 3 to 4 days before forecasts below 0 °F",
        ),
    },
    CardCaution {
        words: "Ladder on firm ground; platform rails shut.",
        source: Source::practice("Common practice, no source"),
    },
    CardCaution {
        words: "When in doubt leave it and ask.",
        source: Source::practice("Common practice, no source"),
    },
];
