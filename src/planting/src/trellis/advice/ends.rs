//! What is wrong with the length of the rows and with their ends.

use crate::kit::choice::Choice;
use crate::kit::figure::Source;
use crate::kit::finding::{Advice, Severity, tolerance};
use crate::kit::message::Message;
use crate::kit::quantity::feet;
use crate::kit::row::Run;
use crate::kit::way::{Aim, Move, Toward, Way};
use crate::trellis::{EndAssembly, Trellis};
use uom::si::f64::Length;
use uom::si::length::meter;

/// Length of the longest row, where there are wires and it is longer than wires are kept tight.
fn too_long(trellis: &Trellis) -> Option<Length> {
    let longest = Length::new::<meter>(trellis.asked.runs.iter().map(Run::length).fold(0.0, f64::max));
    (trellis.asked.inputs.support.has_wires() && longest > feet(LONGEST_FT) + tolerance()).then_some(longest)
}

/// Longest row that a screw anchor is trusted with `[ft]`.
const LONGEST_FT: f64 = 600.0;
/// Longest row that is advised `[ft]`.
const ADVISED_FT: f64 = 500.0;

/// The field planned in shorter blocks.
fn shorter(longest: Length) -> Way {
    let by = feet(ADVISED_FT) - longest;
    Way::less("Plan the field as shorter blocks, {0} along the rows.", "block_length", Aim::By(by.value))
}

fn braces() -> Way {
    Way::new(
        "End the rows in this: {0}.",
        [Move::Word { key: "end_assembly", word: EndAssembly::HBrace.key() }],
    )
}

pub(super) fn row_length(trellis: &Trellis) -> Option<Advice> {
    let longest = too_long(trellis)?;
    (trellis.asked.inputs.end_assembly == EndAssembly::TieBack).then(|| Advice {
        rule: "row_length",
        severity: Severity::Caution,
        title: "Rows long for a tie-back",
        finding: Message::new(
            "Rows are {0} long. Beyond {1} a screw anchor may not hold the pull of the wires; {2} or less is advised.",
            [longest.into(), feet(LONGEST_FT).into(), feet(ADVISED_FT).into()],
        ),
        ways: vec![braces(), shorter(longest)],
        remedies: None,
        otherwise: "Break the rows with a cross alley.",
        fields: &["block_length", "end_assembly"],
        source: Source::published(
            "Domoto (Iowa State) 2002: 6-in helix to 600 ft, beyond that a brace; OMAFRA: rows to about 500 ft",
        ),
    })
}

pub(super) fn long_rows(trellis: &Trellis) -> Option<Advice> {
    let longest = too_long(trellis)?;
    (trellis.asked.inputs.end_assembly == EndAssembly::HBrace).then(|| Advice {
        rule: "long_rows",
        severity: Severity::Note,
        title: "Long rows",
        finding: Message::new(
            "Rows are {0} long; wires this long are hard to keep tight. About {1} is advised; a cross alley also shortens every trip.",
            [longest.into(), feet(ADVISED_FT).into()],
        ),
        ways: vec![shorter(longest)],
        remedies: None,
        otherwise: "Break the rows with a cross alley.",
        fields: &["block_length"],
        source: Source::published("OMAFRA tall-spindle support sheet: rows to about 500 ft"),
    })
}

/// The least an anchor stands from its end post, of the height that rises there `[–]`.
const LEAST_ANCHOR_SHARE: f64 = 0.6;
/// As near as this to its post an anchor is too near, whatever the height `[ft]`.
const TOO_NEAR_FT: f64 = 5.0;

pub(super) fn anchor(trellis: &Trellis) -> Option<Advice> {
    let inputs = &trellis.asked.inputs;
    if !inputs.is_tied_back() {
        return None;
    }
    let (distance, headland, post) = (inputs.anchor_distance, trellis.asked.headland, inputs.post_height());
    let least = (post * LEAST_ANCHOR_SHARE).max(feet(TOO_NEAR_FT) + tolerance() * 2.0);
    let (severity, finding, ways) = if distance > headland + tolerance() {
        let sentence = "Anchors stand {0} beyond the end posts, but the headland is only {1}: they lie outside the field.";
        (
            Severity::Fix,
            Message::new(sentence, [distance.into(), headland.into()]),
            vec![
                Way::less(NEARER, "anchor_distance", Aim::from(headland)),
                Way::more("Widen the headland to {0}.", "headland", Aim::from(distance)),
                braces(),
            ],
        )
    } else if distance + tolerance() < post * LEAST_ANCHOR_SHARE
        || distance <= feet(TOO_NEAR_FT) + tolerance()
    {
        let sentence = "Anchors stand {0} from the end posts, which rise {1}; as far out as the post is high is wanted. So near, the post turns on the anchor as on a fulcrum.";
        // As far as the post is high where the headland has room for it.
        let out = if post <= headland { post.max(least) } else { least };
        (
            Severity::Caution,
            Message::new(sentence, [distance.into(), post.into()]),
            vec![
                Way::more(NEARER, "anchor_distance", Aim::from(out)),
                Way::new(
                    "Set the anchors {0} out, in a headland of {1}.",
                    [
                        Move::Seek { key: "anchor_distance", toward: Toward::More, aim: Aim::from(least) },
                        Move::Set { key: "headland", to: (least + feet(1.0)).value, toward: Toward::More },
                    ],
                ),
                braces(),
            ],
        )
    } else {
        return None;
    };
    Some(Advice {
        rule: "anchor",
        severity,
        title: "Anchor out of place",
        finding,
        ways,
        remedies: None,
        otherwise: "",
        fields: &["anchor_distance", "headland", "end_post_lean"],
        source: Source::published(
            "Good Fruit Grower, Constructing a trellis: anchor as far out as the post stands above the ground, not as near as 5 ft; lean 15-18°",
        ),
    })
}

const NEARER: &str = "Set the anchors {0} out.";

pub(super) fn headland(trellis: &Trellis) -> Option<Advice> {
    let asked = &trellis.asked;
    let anchors = if asked.inputs.is_tied_back() { asked.inputs.anchor_distance } else { feet(0.0) };
    let free = asked.headland - anchors;
    let least = asked.tractor_width * 2.0;
    let lacking = (least - free).value;
    (free + tolerance() < least && free >= feet(0.0)).then(|| Advice {
        rule: "headland",
        severity: Severity::Note,
        title: "Little room to turn",
        finding: Message::new(
            "The headland leaves {0} free at the row ends; machines turn in {1} to {2}. A farm road beside the field serves too.",
            [free.into(), feet(20.0).into(), feet(30.0).into()],
        ),
        ways: vec![
            Way::more("Widen the headland to {0}.", "headland", Aim::By(lacking)),
            Way::less(NEARER, "anchor_distance", Aim::By(-lacking)),
            braces(),
        ],
        remedies: None,
        otherwise: "",
        fields: &["headland", "anchor_distance"],
        source: Source::published("Barney, Storey's Guide: strips and roads of 20-30 ft between blocks"),
    })
}
