//! What is wrong with the trellis, and with trees that stand by it.

mod ends;

use super::{Inputs, Support, Trellis};
use crate::kit::choice::Choice;
use crate::kit::count::as_number;
use crate::kit::figure::Source;
use crate::kit::finding::{Advice, RATIO_TOLERANCE, Rule, Severity, tolerance};
use crate::kit::message::{Message, Slot};
use crate::kit::quantity::{Quantity, degrees, feet};
use crate::kit::standing::SupportNeed;
use crate::kit::way::{Aim, Move, Toward, Way};
use uom::si::f64::Length;

/// Every rule about the trellis, in the order their findings are read.
pub static RULES: &[Rule<Trellis>] = &[
    wire_above_post,
    support_missing,
    few_wires,
    leader_above_wire,
    leader_above_post,
    embedment,
    post_interval,
    ends::row_length,
    ends::long_rows,
    ends::anchor,
    ends::headland,
    canopy_depth,
];

/// The least part of a post that is in the ground `[–]`.
const LEAST_EMBEDMENT: f64 = 0.25;

/// Longer posts that end at least so high above the ground, as deep in it as they must and no less deep than they are.
fn longer_posts(inputs: &Inputs, above: Length) -> Way {
    // A quarter in the ground leaves three quarters above it.
    let deep = above * (LEAST_EMBEDMENT / (1.0 - LEAST_EMBEDMENT));
    let embedment = inputs.post_embedment.max(deep);
    Way::new(
        "Use posts of {0}, set {1} deep.",
        [
            Move::Seek { key: "post_length", toward: Toward::More, aim: Aim::from(above + embedment) },
            Move::Set { key: "post_embedment", to: embedment.value, toward: Toward::More },
        ],
    )
}

fn top_wire(toward: Toward, to: Length) -> Move {
    Move::SeekTop { key: "wire_heights", toward, aim: Aim::from(to) }
}

fn wire_above_post(trellis: &Trellis) -> Option<Advice> {
    let inputs = &trellis.asked.inputs;
    let (top, post) = (inputs.top_wire()?, inputs.post_height());
    (top > post + tolerance()).then(|| Advice {
        rule: "wire_above_post",
        severity: Severity::Fix,
        title: "Top wire above the posts",
        finding: Message::new(
            "The top wire is drawn at {0}, but the posts end {1} above the ground.",
            [top.into(), post.into()],
        ),
        ways: vec![
            Way::new(
                "Set the top wire at {0}, the others below it in proportion.",
                [top_wire(Toward::Less, post)],
            ),
            longer_posts(inputs, top),
        ],
        remedies: None,
        otherwise: "Lower wires and longer posts have to go together.",
        fields: &["wire_heights", "post_length", "post_embedment"],
        source: Source::standard("Geometry"),
    })
}

/// So many wires at even distances up to a height, the lowest at its usual place.
fn even_wires(count: usize, top: Length) -> Move {
    let lowest = feet(2.0).min(top / as_number(count));
    let step = (top - lowest) / as_number(count.max(2) - 1);
    let heights = (0..count).map(|wire| lowest + step * as_number(wire)).collect();
    Move::Lengths { key: "wire_heights", to: heights }
}

const SUPPORT: &str = "Give them this to stand by: {0}.";

fn support_missing(trellis: &Trellis) -> Option<Advice> {
    let (inputs, trees) = (&trellis.asked.inputs, &trellis.asked.trees);
    let without_wire = inputs.support.has_wires() && inputs.wire_heights.is_empty();
    let bare = inputs.support == Support::None || without_wire;
    if !bare || trees.need == SupportNeed::None {
        return None;
    }
    let wires = even_wires(trellis.asked.system.usual().least_wires, inputs.post_height());
    let strung = |support: Support| {
        Way::new(
            "Give them this to stand by: {0}; {1} of them, from {2} to {3}.",
            [Move::Word { key: "support", word: support.key() }, wires.clone()],
        )
    };
    let mut ways = vec![Way::choose(SUPPORT, "support", [Support::PostPerTree.key()])];
    if without_wire || inputs.wire_heights.is_empty() {
        ways.extend([strung(Support::Wires), strung(Support::WiresAndStakes)]);
    } else {
        ways.extend(
            [Support::Wires, Support::WiresAndStakes]
                .map(|support| Way::choose(SUPPORT, "support", [support.key()])),
        );
    }
    Some(Advice {
        rule: "support_missing",
        severity: if trees.need == SupportNeed::Permanent { Severity::Fix } else { Severity::Caution },
        title: "Rootstock needs support",
        finding: Message::new(
            "Trees on {0} need {1}; this plan gives them none.",
            [Slot::from(trees.rootstock), Slot::from(trees.need.label())],
        ),
        ways,
        remedies: None,
        otherwise: "Choose a rootstock that stands alone, with the room it needs.",
        fields: &["support", "rootstock", "wire_heights"],
        source: Source::published("US land-grant eXtension rootstock sheets; Fraser & Oakes 1999"),
    })
}

/// Fewer wires than the training system's shape is tied to.
fn few_wires(trellis: &Trellis) -> Option<Advice> {
    let (inputs, system) = (&trellis.asked.inputs, trellis.asked.system);
    let (count, least) = (inputs.wire_heights.len(), system.usual().least_wires);
    // A stake at each tree carries the leader: one wire then holds the stakes.
    if inputs.support != Support::Wires || count == 0 || count >= least {
        return None;
    }
    let top = inputs.top_wire()?.min(inputs.post_height());
    Some(Advice {
        rule: "few_wires",
        severity: Severity::Caution,
        title: "Too few wires for the system",
        finding: Message::new(
            "{0} is tied to {1} wires or more, one above another; this trellis has {2} and no stakes. Leaders bend and break between them.",
            [
                system.label().into(),
                (as_number(least), Quantity::Count).into(),
                (as_number(count), Quantity::Count).into(),
            ],
        ),
        ways: vec![
            Way::new("String {0} wires, from {1} to {2}.", [even_wires(least, top)]),
            Way::choose(SUPPORT, "support", [Support::WiresAndStakes.key()]),
        ],
        remedies: None,
        otherwise: "",
        fields: &["wire_heights", "support"],
        source: Source::published(
            "Fraser & Oakes 1999, Compact Fruit Tree 32 (4 wires for super spindle, 3 a side for V; a stake at every tree on one wire); Robinson (3 for tall spindle, 5-6 for hedgerows); Penn State staff note 2011 (4 for low trellis)",
        ),
    })
}

/// How far a leader may stand above what holds it.
fn most_above() -> Length {
    feet(3.0)
}

const LEADERS: Source =
    Source::practice("Common practice, from memory: leader at most 2-3 ft above the top wire");

fn leader_above_wire(trellis: &Trellis) -> Option<Advice> {
    let inputs = &trellis.asked.inputs;
    let top = inputs.top_wire()?;
    let (height, most) = (trellis.asked.trees.height, most_above());
    let (above, wanted) = (height - top, height - most);
    if above <= most + tolerance() {
        return None;
    }
    let mut higher = vec![top_wire(Toward::More, wanted)];
    let sentence = if wanted > inputs.post_height() + tolerance() {
        // The post's own moves: no more than one is sought, and that is the wire.
        let times = 1.0 / (1.0 - LEAST_EMBEDMENT);
        higher.push(Move::Follow { key: "post_length", times, toward: Toward::More });
        higher.push(Move::Follow {
            key: "post_embedment",
            times: times * LEAST_EMBEDMENT,
            toward: Toward::More,
        });
        "Raise the top wire to {0}, the others in proportion, on posts of {1}, set {2} deep."
    } else {
        "Raise the top wire to {0}, the others in proportion."
    };
    Some(Advice {
        rule: "leader_above_wire",
        severity: Severity::Caution,
        title: "Leader far above the top wire",
        finding: Message::new(
            "The leader stands {0} above the top wire. Loaded with fruit or in wind it can bend over or break there.",
            [above.into()],
        ),
        ways: vec![
            Way::less("Keep the trees at {0}.", "tree_height", Aim::from(top + most)),
            Way::new(sentence, higher),
        ],
        remedies: None,
        otherwise: "Lower trees and a higher wire have to go together.",
        fields: &["tree_height", "wire_heights"],
        source: LEADERS,
    })
}

fn leader_above_post(trellis: &Trellis) -> Option<Advice> {
    let inputs = &trellis.asked.inputs;
    let (height, post, most) = (trellis.asked.trees.height, inputs.post_height(), most_above());
    let above = height - post;
    (inputs.support == Support::PostPerTree && above > most + tolerance()).then(|| Advice {
        rule: "leader_above_post",
        severity: Severity::Caution,
        title: "Leader far above its post",
        finding: Message::new(
            "The leader stands {0} above the top of its post. Loaded with fruit or in wind it can bend over or break there.",
            [above.into()],
        ),
        ways: vec![
            Way::less("Keep the trees at {0}.", "tree_height", Aim::from(post + most)),
            longer_posts(inputs, height - most),
        ],
        remedies: None,
        otherwise: "Lower trees and longer posts have to go together.",
        fields: &["tree_height", "post_length"],
        source: LEADERS,
    })
}

fn embedment(trellis: &Trellis) -> Option<Advice> {
    let inputs = &trellis.asked.inputs;
    let share = trellis.embedment_share.value;
    if !inputs.support.has_wires() || share + RATIO_TOLERANCE >= LEAST_EMBEDMENT {
        return None;
    }
    let carried = inputs.top_wire().unwrap_or(inputs.post_height());
    Some(Advice {
        rule: "embedment",
        severity: Severity::Caution,
        title: "Posts too shallow",
        finding: Message::new(
            "{0} of the post, {1}, is in the ground; at least a quarter is wanted. Shallow posts lean and overturn.",
            [(share, Quantity::Share).into(), inputs.post_embedment.into()],
        ),
        ways: vec![
            Way::more(
                "Set the posts {0} deep.",
                "post_embedment",
                Aim::from(inputs.post_length * LEAST_EMBEDMENT),
            ),
            longer_posts(inputs, carried),
            Way::less("Use posts of {0}.", "post_length", Aim::from(inputs.post_embedment / LEAST_EMBEDMENT)),
        ],
        remedies: None,
        otherwise: "Posts this high need more depth than can be set here: lower the wires first.",
        fields: &["post_embedment", "post_length"],
        source: Source::published(
            "Fraser in Good Fruit Grower: at least a quarter of the post length in the ground",
        ),
    })
}

fn post_interval(trellis: &Trellis) -> Option<Advice> {
    let longest = trellis.longest_bay;
    let (good, most, trouble) = (feet(35.0), feet(40.0), feet(50.0));
    (trellis.asked.inputs.support.has_wires() && longest > most + tolerance()).then(|| Advice {
        rule: "post_interval",
        severity: if longest > trouble - tolerance() { Severity::Fix } else { Severity::Caution },
        title: "Posts too far apart",
        finding: Message::new(
            "The longest bay is {0}. Wires sag and posts are overloaded in long bays: within {1} is wanted, {2} has been trouble in the field.",
            [longest.into(), good.into(), trouble.into()],
        ),
        ways: vec![
            Way::less("Keep posts within {0}.", "post_interval", Aim::from(good)),
            Way::less("Keep posts within {0}.", "post_interval", Aim::from(most)),
        ],
        remedies: None,
        otherwise: "",
        fields: &["post_interval"],
        source: Source::published("Kuhn in Good Fruit Grower: 32-35 ft best, 40 average, 50 trouble"),
    })
}

fn canopy_depth(trellis: &Trellis) -> Option<Advice> {
    let trees = &trellis.asked.trees;
    let trellised = trellis.asked.inputs.support.has_wires() && trees.lean < degrees(1.0);
    let (widest, inside) = (feet(6.0), feet(3.0));
    (trellised && trees.canopy_width > feet(8.0) + tolerance()).then(|| Advice {
        rule: "canopy_depth",
        severity: Severity::Caution,
        title: "Canopy too deep for light",
        finding: Message::new(
            "The canopy is {0} across. Fruiting walls are kept {1} to {2} across, so that no fruit hangs more than {3} inside.",
            [trees.canopy_width.into(), feet(4.0).into(), widest.into(), inside.into()],
        ),
        ways: vec![Way::less("Keep the canopy {0} wide.", "canopy_width", Aim::from(widest))],
        remedies: None,
        otherwise: "Trees this strong don't stay in a wall: choose a weaker rootstock or a wider system.",
        fields: &["canopy_width"],
        source: Source::published("Good Fruit Grower 1 May 2013, fruiting wall principles"),
    })
}
