//! What is wrong with the loads of a trellis, and the one change that would meet the target.

use super::carried::Carried;
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

/// The first length a change would set.
fn length(change: &Option<Change>) -> Option<Length> {
    change.as_ref()?.settings.iter().find_map(|(_, setting)| match setting {
        Setting::Length(length) => Some(*length),
        _ => None,
    })
}

/// How many wires a change would string.
fn wires(change: &Option<Change>) -> Option<usize> {
    change.as_ref()?.settings.iter().find_map(|(_, setting)| match setting {
        Setting::Lengths(heights) => Some(heights.len()),
        _ => None,
    })
}

/// Up to two cures in a sentence: both, the first, the second, none.
fn cures(one: Option<Slot>, other: Option<Slot>, sentences: [&'static str; 4]) -> Message {
    let [both, first, second, none] = sentences;
    match (one, other) {
        (Some(one), Some(other)) => Message::new(both, [one, other]),
        (Some(one), None) => Message::new(first, [one]),
        (None, Some(other)) => Message::new(second, [other]),
        (None, None) => Message::plain(none),
    }
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
        remedy: cures(
            length(&loads.solved.interval).map(Slot::from),
            wires(&loads.solved.wires).map(|count| {
                Slot::Number(crate::kit::count::as_number(count), Quantity::Count)
            }),
            [
                "Posts {0} apart would do, which bring wind on posts and soil in order too; so would {1} wires.",
                "Posts {0} apart would do, which bring wind on posts and soil in order too.",
                "{0} wires would do.",
                "Stronger or more wires, shorter bays and ends that yield a little go together; stakes at the trees take their share.",
            ],
        ),
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
        remedy: cures(
            anchor(loads).map(Slot::from),
            None,
            [
                "",
                "The smallest that would do here: {0}. A post leaned toward its anchor and a longer guy lower the pull as well.",
                "",
                "No anchor of the list does alone: lean the post or set the anchor farther out, set it deeper, or end the rows in H-braces.",
            ],
        ),
        fields: &["anchor_kind", "anchor_depth", "end_post_lean", "anchor_distance", "end_assembly"],
        source: Source::assumption(
            "Helical-anchor papers; OMAFRA and Fraser & Oakes 1999: poor anchorage is the main cause",
        ),
    })
}

/// The label of the smallest anchor that meets the target.
fn anchor(loads: &Loads) -> Option<&'static str> {
    let found = loads.solved.anchor.as_ref()?.settings.iter().find_map(|(_, setting)| match setting {
        Setting::Choice(key) => super::anchors::Anchor::from_key(key),
        _ => None,
    })?;
    Some(found.label())
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
        remedy: Message::plain(
            "Longer spans, a second span, more strands or a lighter pull: fewer or longer-held bays.",
        ),
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
        remedy: cures(
            length(&loads.solved.interval).map(Slot::from),
            length(&loads.solved.depth).map(Slot::from),
            [
                "Posts {0} apart would hold that gust, or posts set {1} deep and longer by as much.",
                "Posts {0} apart would hold that gust.",
                "Posts set {0} deep and longer by as much would hold that gust.",
                "Deeper and thicker posts and shorter bays go together; driven posts hold about half as much again as augered ones.",
            ],
        ),
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
        remedy: cures(
            length(&loads.solved.post).map(|diameter| Slot::Number(diameter.value, Quantity::SmallLength)),
            length(&loads.solved.interval).map(Slot::from),
            [
                "Posts {0} thick would hold that gust, or posts {1} apart.",
                "Posts {0} thick would hold that gust.",
                "Posts {0} apart would hold that gust.",
                "Thicker posts and shorter bays go together.",
            ],
        ),
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
        remedy: Message::plain("Give every tree a stake that reaches the ground, or string more wires."),
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
        remedy: Message::new("String to {0} or less.", [force(most)]),
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
        remedy: Message::plain("String on a cooler day, or lower the tension as strung."),
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
        remedy: Message::plain("Have the structure designed by a licensed engineer, with the maker of the net or cloth."),
        fields: &["cover"],
        source: Source::published("Growing Produce, on solid foundations; De Kleine, WTFRC"),
    })
}
