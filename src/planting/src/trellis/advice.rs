//! What is wrong with the trellis, and with trees that stand by it.

use super::{EndAssembly, Support, Trellis};
use crate::kit::figure::Source;
use crate::kit::finding::{Advice, LENGTH_TOLERANCE, RATIO_TOLERANCE, Rule, Severity};
use crate::kit::message::{Message, Slot};
use crate::kit::quantity::{Quantity, degrees, feet};
use crate::kit::row::Run;
use crate::kit::standing::SupportNeed;
use uom::si::f64::Length;
use uom::si::length::meter;

/// Every rule about the trellis, in the order their findings are read.
pub static RULES: &[Rule<Trellis>] = &[
    wire_above_post,
    support_missing,
    late_to_fill,
    leader_above_wire,
    embedment,
    post_interval,
    row_length,
    anchor,
    headland,
    canopy_depth,
];

fn tolerance() -> Length {
    Length::new::<meter>(LENGTH_TOLERANCE)
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
        remedy: Message::new(
            "Lower the wire to {0}, or use posts of {1}.",
            [post.into(), (top + inputs.post_embedment).into()],
        ),
        fields: &["wire_heights", "post_length", "post_embedment"],
        source: Source::standard("Geometry"),
    })
}

fn support_missing(trellis: &Trellis) -> Option<Advice> {
    let (inputs, trees) = (&trellis.asked.inputs, &trellis.asked.trees);
    let bare =
        inputs.support == Support::None || (inputs.support.has_wires() && inputs.wire_heights.is_empty());
    (bare && trees.need != SupportNeed::None).then(|| Advice {
        rule: "support_missing",
        severity: if trees.need == SupportNeed::Permanent { Severity::Fix } else { Severity::Caution },
        title: "Rootstock needs support",
        finding: Message::new(
            "Trees on {0} need {1}; this plan gives them none.",
            [Slot::from(trees.rootstock), Slot::from(trees.need.label())],
        ),
        remedy: Message::plain("Choose wires, stakes or posts, or a rootstock that stands alone."),
        fields: &["support", "rootstock", "wire_heights"],
        source: Source::published("US land-grant eXtension rootstock sheets; Fraser & Oakes 1999"),
    })
}

const LATE_YEAR: f64 = 8.0;

fn late_to_fill(trellis: &Trellis) -> Option<Advice> {
    let trees = &trellis.asked.trees;
    let year = trees.year_filled?;
    // Free-standing trees are planted to fill late; trellised ones pay for the wait.
    (year > LATE_YEAR && trellis.asked.inputs.support != Support::None).then(|| Advice {
        rule: "late_to_fill",
        severity: Severity::Caution,
        title: "Slow to fill the row",
        finding: Message::new(
            "Crowns meet along the row only in year {0}. Until then part of the land and the trellis carries nothing.",
            [(year.ceil(), Quantity::Years).into()],
        ),
        remedy: Message::new(
            "Plant closer, about {0} in the row as a starting point, or take a stronger rootstock.",
            [trees.suggested_spacing.into()],
        ),
        fields: &["in_row_spacing", "rootstock", "vigour"],
        source: Source::practice("Common practice, no source: a trellised planting fills its rows by about year 5"),
    })
}

fn leader_above_wire(trellis: &Trellis) -> Option<Advice> {
    let top = trellis.asked.inputs.top_wire()?;
    let height = trellis.asked.trees.height;
    let (above, most) = (height - top, feet(3.0));
    (above > most + tolerance()).then(|| Advice {
        rule: "leader_above_wire",
        severity: Severity::Caution,
        title: "Leader far above the top wire",
        finding: Message::new(
            "The leader stands {0} above the top wire. Loaded with fruit or in wind it can bend over or break there.",
            [above.into()],
        ),
        remedy: Message::new(
            "Keep the trees at {0} or lower, or raise the top wire to {1}.",
            [(top + most).into(), (height - most).into()],
        ),
        fields: &["tree_height", "wire_heights"],
        source: Source::practice("Common practice, from memory: leader at most 2-3 ft above the top wire"),
    })
}

const LEAST_EMBEDMENT: f64 = 0.25;

fn embedment(trellis: &Trellis) -> Option<Advice> {
    let inputs = &trellis.asked.inputs;
    let share = trellis.embedment_share.value;
    (inputs.support.has_wires() && share + RATIO_TOLERANCE < LEAST_EMBEDMENT).then(|| Advice {
        rule: "embedment",
        severity: Severity::Caution,
        title: "Posts too shallow",
        finding: Message::new(
            "{0} of the post, {1}, is in the ground. Shallow posts lean and overturn.",
            [(share, Quantity::Share).into(), inputs.post_embedment.into()],
        ),
        remedy: Message::new(
            "Set at least a quarter: {0} of a post {1} long.",
            [(inputs.post_length * LEAST_EMBEDMENT).into(), inputs.post_length.into()],
        ),
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
            "The longest bay is {0}. Wires sag and posts are overloaded in long bays; {1} has been trouble in the field.",
            [longest.into(), trouble.into()],
        ),
        remedy: Message::new("Keep posts within {0}; {1} is better.", [most.into(), good.into()]),
        fields: &["post_interval"],
        source: Source::published("Kuhn in Good Fruit Grower: 32-35 ft best, 40 average, 50 trouble"),
    })
}

fn row_length(trellis: &Trellis) -> Option<Advice> {
    let inputs = &trellis.asked.inputs;
    if !inputs.support.has_wires() {
        return None;
    }
    let longest = Length::new::<meter>(trellis.asked.runs.iter().map(Run::length).fold(0.0, f64::max));
    let (advised, most) = (feet(500.0), feet(600.0));
    if longest <= most + tolerance() {
        return None;
    }
    Some(if inputs.end_assembly == EndAssembly::TieBack {
        Advice {
            rule: "row_length",
            severity: Severity::Caution,
            title: "Rows long for a tie-back",
            finding: Message::new(
                "Rows are {0} long. Beyond {1} a screw anchor may not hold the pull of the wires.",
                [longest.into(), most.into()],
            ),
            remedy: Message::new(
                "Break the rows with a cross alley, or end them in H-braces; {0} or less is advised.",
                [advised.into()],
            ),
            fields: &["block_length", "end_assembly"],
            source: Source::published(
                "Domoto (Iowa State) 2002: 6-in helix to 600 ft, beyond that a brace; OMAFRA: rows to about 500 ft",
            ),
        }
    } else {
        Advice {
            rule: "row_length",
            severity: Severity::Note,
            title: "Long rows",
            finding: Message::new(
                "Rows are {0} long; wires this long are hard to keep tight.",
                [longest.into()],
            ),
            remedy: Message::new(
                "Rows of about {0} are advised; a cross alley also shortens every trip.",
                [advised.into()],
            ),
            fields: &["block_length"],
            source: Source::published("OMAFRA tall-spindle support sheet: rows to about 500 ft"),
        }
    })
}

/// The least an anchor stands from its end post, of the height that rises there `[–]`.
const LEAST_ANCHOR_SHARE: f64 = 0.6;

fn anchor(trellis: &Trellis) -> Option<Advice> {
    let inputs = &trellis.asked.inputs;
    if !inputs.is_tied_back() {
        return None;
    }
    let advice = |severity, finding: Message, remedy: Message| Advice {
        rule: "anchor",
        severity,
        title: "Anchor out of place",
        finding,
        remedy,
        fields: &["anchor_distance", "headland", "end_post_lean"],
        source: Source::published(
            "Good Fruit Grower, Constructing a trellis: anchor as far out as the post stands above the ground, not as near as 5 ft; lean 15-18°",
        ),
    };
    let (distance, headland) = (inputs.anchor_distance, trellis.asked.headland);
    if distance > headland + tolerance() {
        return Some(advice(
            Severity::Fix,
            Message::new(
                "Anchors stand {0} beyond the end posts, but the headland is only {1}: they lie outside the field.",
                [distance.into(), headland.into()],
            ),
            Message::plain("Widen the headland, bring the anchors in, or end the rows in H-braces."),
        ));
    }
    let post = inputs.post_height();
    (distance + tolerance() < post * LEAST_ANCHOR_SHARE || distance <= feet(5.0) + tolerance()).then(|| {
        advice(
            Severity::Caution,
            Message::new(
                "Anchors stand {0} from the end posts, which rise {1}. So near, the post turns on the anchor as on a fulcrum.",
                [distance.into(), post.into()],
            ),
            Message::new("Set them about {0} out.", [post.into()]),
        )
    })
}

fn headland(trellis: &Trellis) -> Option<Advice> {
    let asked = &trellis.asked;
    let anchors = if asked.inputs.is_tied_back() { asked.inputs.anchor_distance } else { feet(0.0) };
    let free = asked.headland - anchors;
    let least = asked.tractor_width * 2.0;
    (free + tolerance() < least && free >= feet(0.0)).then(|| Advice {
        rule: "headland",
        severity: Severity::Note,
        title: "Little room to turn",
        finding: Message::new(
            "The headland leaves {0} free at the row ends; machines turn in {1} to {2}.",
            [free.into(), feet(20.0).into(), feet(30.0).into()],
        ),
        remedy: Message::plain("Widen the headland, unless a farm road beside the field serves to turn on."),
        fields: &["headland", "anchor_distance"],
        source: Source::published("Barney, Storey's Guide: strips and roads of 20-30 ft between blocks"),
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
        remedy: Message::new("Keep the canopy at {0} or narrower.", [widest.into()]),
        fields: &["canopy_width"],
        source: Source::published("Good Fruit Grower 1 May 2013, fruiting wall principles"),
    })
}
