//! What is wrong with the loads of a trellis, and the one change that would meet the target.

use super::carried::Carried;
use super::ends::BraceSpans;
use super::inputs::Cover;
use super::memory::Loads;
use super::solve::{Change, Setting};
use super::weakest::{Basis, Part};
use crate::kit::choice::Choice;
use crate::kit::figure::Source;
use crate::kit::finding::{Advice, RATIO_TOLERANCE, Rule, Severity};
use crate::kit::message::{Message, Slot};
use crate::kit::quantity::Quantity;
use crate::kit::units::pounds_force;
use crate::kit::way::{Aim, Move, Toward, Way};
use uom::si::f64::{Force, Length, Ratio, Velocity};

/// Every rule about loads, in the order their findings are read.
pub static RULES: &[Rule<Loads>] = &[
    wire_overloaded,
    anchor_overloaded,
    brace_overloaded,
    soil_overloaded,
    post_overloaded,
    single_wire,
    overtightened,
    cold_wires,
    cover_left_out,
];

fn force(value: Force) -> Slot {
    Slot::Number(value.value, Quantity::Force)
}

fn ratio(value: Ratio) -> Slot {
    Slot::Number(value.value, Quantity::Ratio)
}

fn speed(value: Velocity) -> Slot {
    Slot::Number(value.value, Quantity::Speed)
}

fn share(value: Ratio) -> Slot {
    Slot::Number(value.value, Quantity::Share)
}

fn index(loads: &Loads, part: Part, basis: Basis) -> Option<Ratio> {
    loads.limits.get(part, basis).map(|limit| limit.index)
}

/// Whether an index lies above 1 by more than rounding.
fn is_reached(index: Ratio) -> bool {
    index.value > 1.0 + RATIO_TOLERANCE
}

/// Grave where the part is reached at collapse, a weakness where only the target is missed.
fn severity(loads: &Loads, part: Part) -> Severity {
    let collapses = index(loads, part, Basis::Collapse).is_some_and(is_reached);
    if collapses { Severity::Fix } else { Severity::Caution }
}

/// Where the search for a length begins: at what was solved, if anything was.
fn aim(change: &Option<Change>) -> Aim {
    let first = change.as_ref().and_then(|change| change.settings.first());
    match first {
        Some((_, Setting::Length(length))) => Aim::from(*length),
        _ => Aim::Nearest,
    }
}

/// Posts nearer to each other.
fn fewer_feet(loads: &Loads) -> Way {
    Way::less("Set posts {0} apart.", "post_interval", aim(&loads.solved.interval))
}

/// Posts set deeper and longer by as much.
fn deeper(loads: &Loads) -> Option<Way> {
    let [(_, Setting::Length(depth)), (_, Setting::Length(length))] =
        loads.solved.depth.as_ref()?.settings.as_slice()
    else {
        return None;
    };
    Some(Way::new(
        "Set posts {0} deep, {1} long in all.",
        [
            Move::Seek { key: "post_embedment", toward: Toward::More, aim: Aim::from(*depth) },
            Move::Set { key: "post_length", to: length.value, toward: Toward::More },
        ],
    ))
}

/// The wires a change would string.
fn wires(change: &Option<Change>) -> Option<Vec<Length>> {
    change.as_ref()?.settings.iter().find_map(|(_, setting)| match setting {
        Setting::Lengths(heights) => Some(heights.clone()),
        _ => None,
    })
}

/// A wire is drawn beyond the share of its breaking load that is set.
fn wire_overloaded(loads: &Loads) -> Option<Advice> {
    let carried = loads.carried.as_ref()?;
    let over = index(loads, Part::Wire, Basis::Rule)?;
    is_reached(over).then(|| Advice {
        rule: "wire_overloaded",
        severity: severity(loads, Part::Wire),
        title: "Wires beyond their target",
        finding: Message::new(
            "Under {0} of fruit on a length of row, each wire pulls {1} of the {2} it breaks at; {3} of that is the target. As strung it pulls {4}.",
            [
                Slot::Number(carried.crop_on_row.value, Quantity::MassPerLength),
                force(carried.loaded.tension),
                force(carried.wire.breaking_load()),
                share(loads.asked.inputs.wire_target),
                force(loads.asked.inputs.pretension),
            ],
        ),
        ways: [
            Some(fewer_feet(loads)),
            wires(&loads.solved.wires).map(|to| {
                Way::new("String {0} wires, from {1} to {2}.", [Move::Lengths { key: "wire_heights", to }])
            }),
        ]
        .into_iter()
        .flatten()
        .collect(),
        remedies: None,
        otherwise: "Stronger or more wires, shorter bays and ends that yield a little go together; stakes at the trees take their share.",
        fields: &["post_interval", "wire_heights", "wire_grade", "share_on_wires"],
        source: Source::assumption("Half the breaking load is this project's target; tension by the elastic state equation"),
    })
}

/// The anchor would come at less than the times of the pull that are set.
fn anchor_overloaded(loads: &Loads) -> Option<Advice> {
    let over = index(loads, Part::Anchor, Basis::Rule)?;
    let inputs = &loads.asked.inputs;
    let holds = inputs.anchor_kind.pull_out(inputs.soil, inputs.anchor_depth);
    let pull = holds * index(loads, Part::Anchor, Basis::Collapse)?;
    is_reached(over).then(|| Advice {
        rule: "anchor_overloaded",
        severity: severity(loads, Part::Anchor),
        title: "Anchor weak for the pull",
        finding: Message::new(
            "Under a full crop the guy pulls {0}; in this soil the anchor comes at about {1}, where {2} times the pull is the target. Weak anchorage is the cause of collapse named most.",
            [force(pull), force(holds), ratio(inputs.anchor_target)],
        ),
        ways: anchor(loads)
            .map(|word| Way::choose("Take this anchor: {0}.", "anchor_kind", [word]))
            .into_iter()
            .chain([Way::more("Set the anchors {0} deep.", "anchor_depth", Aim::Nearest)])
            .collect(),
        remedies: None,
        otherwise: "Lean the post or set the anchor farther out, set it deeper, or end the rows in H-braces.",
        fields: &["anchor_kind", "anchor_depth", "end_post_lean", "anchor_distance", "end_assembly"],
        source: Source::assumption(
            "Helical-anchor papers; OMAFRA and Fraser & Oakes 1999: poor anchorage is the main cause",
        ),
    })
}

/// The key of the smallest anchor that meets the target.
fn anchor(loads: &Loads) -> Option<&'static str> {
    loads.solved.anchor.as_ref()?.settings.iter().find_map(|(_, setting)| match setting {
        Setting::Choice(key) => Some(*key),
        _ => None,
    })
}

/// Brace wire, rail or guy is reached.
fn brace_overloaded(loads: &Loads) -> Option<Advice> {
    let reached = [Part::BraceWire, Part::Rail, Part::Guy].into_iter().find_map(|part| {
        let index = index(loads, part, Basis::Collapse)?;
        is_reached(index).then_some((part, index))
    })?;
    Some(Advice {
        rule: "brace_overloaded",
        severity: Severity::Fix,
        title: "Row end reached",
        finding: Message::new(
            "Under a full crop the {0} carries {1} times what it breaks at.",
            [reached.0.label().into(), ratio(reached.1)],
        ),
        ways: vec![
            Way::more("Make the brace span {0}.", "brace_span", Aim::Nearest),
            Way::choose("Build braces of this kind: {0}.", "brace_spans", [BraceSpans::Two.key()]),
            Way::more("Use {0} strands in each guy.", "guy_strands", Aim::Nearest),
        ],
        remedies: None,
        otherwise: "Longer spans, a second span, more strands and a lighter pull go together.",
        fields: &["brace_span", "brace_spans", "guy_strands", "anchor_distance"],
        source: Source::assumption("Equilibrium of the row end; breaking load of the wire's strands"),
    })
}

/// Why rows stand though an index says otherwise.
const WHY_THEY_STAND: &str = "Rows of this build stand, because roots and stems share the load, inner rows are sheltered and crowns bend with the wind; how much that helps, nobody has measured.";

/// The soil is reached by a lesser gust than the one set.
fn soil_overloaded(loads: &Loads) -> Option<Advice> {
    let carried = loads.carried.as_ref()?;
    let over = index(loads, Part::Soil, Basis::Collapse)?;
    is_reached(over).then(|| Advice {
        rule: "soil_overloaded",
        severity: Severity::Caution,
        title: "Posts turn over in a lesser gust",
        finding: Message::new(
            "A gust of {0} pushes {1} on a line post of an outer row; this soil holds about {2} at {3} deep, which {4} reach. {5}",
            [
                speed(loads.asked.inputs.gust),
                force(carried.wind.on_post),
                force(carried.embedment.collapse_load()),
                carried.embedment.depth.into(),
                speed(loads.asked.inputs.gust / over.value.sqrt()),
                WHY_THEY_STAND.into(),
            ],
        ),
        ways: [Some(fewer_feet(loads)), deeper(loads)].into_iter().flatten().collect(),
        remedies: None,
        otherwise: "Deeper and thicker posts and shorter bays go together; driven posts hold about half as much again as augered ones.",
        fields: &["post_interval", "post_embedment", "post_length", "line_post_diameter", "soil"],
        source: Source::assumption("Broms 1964; published practice is 3-4 in posts, 3 ft deep, 20-40 ft apart"),
    })
}

/// The post is reached by a lesser gust than the one set.
fn post_overloaded(loads: &Loads) -> Option<Advice> {
    let carried = loads.carried.as_ref()?;
    let over = index(loads, Part::Post, Basis::Collapse)?;
    is_reached(over).then(|| Advice {
        rule: "post_overloaded",
        severity: Severity::Caution,
        title: "Posts break in a lesser gust",
        finding: Message::new(
            "A gust of {0} stresses a line post of an outer row to {1} at the ground; posts of this wood break at {2} on average, which {3} reach. {4}",
            [
                speed(loads.asked.inputs.gust),
                Slot::Number(carried.post_stress.value, Quantity::Stress),
                Slot::Number(loads.asked.inputs.post_wood.mean_strength().value, Quantity::Stress),
                speed(loads.asked.inputs.gust / over.value.sqrt()),
                WHY_THEY_STAND.into(),
            ],
        ),
        ways: vec![
            Way::more("Use line posts {0} thick.", "line_post_diameter", aim(&loads.solved.post)),
            fewer_feet(loads),
        ],
        remedies: None,
        otherwise: "Thicker posts and shorter bays go together.",
        fields: &["line_post_diameter", "post_interval", "post_wood"],
        source: Source::assumption("Mean strengths of ANSI O5.1, second-hand; Kuhn: posts under 3 in among the causes of collapse"),
    })
}

/// One wire carries the whole crop.
fn single_wire(loads: &Loads) -> Option<Advice> {
    let carried = loads.carried.as_ref()?;
    let alone = carried.pull.heights.len() == 1 && loads.asked.stakes == 0;
    alone.then(|| Advice {
        rule: "single_wire",
        severity: Severity::Caution,
        title: "One wire and no stakes",
        finding: Message::new(
            "One wire carries the whole crop and pulls {0}; it breaks at {1}. Systems on one wire have a stake at every tree that carries with it.",
            [force(carried.loaded.tension), force(carried.wire.breaking_load())],
        ),
        ways: vec![Way::choose("Give them this to stand by: {0}.", "support", ["wires_and_stakes"])],
        remedies: None,
        otherwise: "Give every tree a stake that reaches the ground, or string more wires.",
        fields: &["support", "wire_heights", "share_on_wires"],
        source: Source::published("Fraser and Oakes 1999: a vertical axis has a stake at every tree on one wire"),
    })
}

/// More than this strains the posts for nothing (UF CIR851, UGA: 250 lbf).
const MOST_TENSION_LBF: f64 = 250.0;

/// Wires are strung tighter than is usual.
fn overtightened(loads: &Loads) -> Option<Advice> {
    let most = pounds_force(MOST_TENSION_LBF);
    let pretension = loads.asked.inputs.pretension;
    let tight = loads.carried.is_some() && pretension > most * (1.0 + RATIO_TOLERANCE);
    tight.then(|| Advice {
        rule: "overtightened",
        severity: Severity::Note,
        title: "Wires strung very tight",
        finding: Message::new(
            "{0} as strung; {1} is what is published. More only strains ends and posts before the crop does.",
            [force(pretension), force(most)],
        ),
        ways: vec![Way::less("String to {0}.", "pretension", Aim::To(most.value))],
        remedies: None,
        otherwise: "",
        fields: &["pretension"],
        source: Source::published(
            "UF CIR851 and UGA: 250 lbf; Good Fruit Grower, Tips from Trellising 101: do not over-tighten",
        ),
    })
}

/// Cold draws the bare wires harder than the crop does.
fn cold_wires(loads: &Loads) -> Option<Advice> {
    let Carried { cold, loaded, .. } = loads.carried.as_ref()?;
    (cold.tension > loaded.tension).then(|| Advice {
        rule: "cold_wires",
        severity: Severity::Note,
        title: "Cold draws harder than the crop",
        finding: Message::new(
            "On the coldest day a wire pulls {0}, under the crop {1}. Row ends are worked out for the crop.",
            [force(cold.tension), force(loaded.tension)],
        ),
        ways: vec![Way::less("String to {0}.", "pretension", Aim::Nearest)],
        remedies: None,
        otherwise: "String on a cooler day, or lower the tension as strung.",
        fields: &["pretension", "cold_drop", "ice"],
        source: Source::standard("Elastic state equation with warmth"),
    })
}

/// Nets and cloth are not in the loads.
fn cover_left_out(loads: &Loads) -> Option<Advice> {
    let cover = loads.asked.inputs.cover;
    (cover != Cover::None).then(|| Advice {
        rule: "cover_left_out",
        severity: Severity::Fix,
        title: "Net or cloth is not in these loads",
        finding: Message::new(
            "{0} catches wind and holds hail and snow; nothing here counts it. Cloth put on trellises that were not built for it has broken posts at the ground.",
            [cover.label().into()],
        ),
        ways: Vec::new(),
        remedies: None,
        otherwise: "Have the structure designed by a licensed engineer, with the maker of the net or cloth.",
        fields: &["cover"],
        source: Source::published("Growing Produce, on solid foundations; De Kleine, WTFRC"),
    })
}
