//! Rules that look at the whole plan and speak plainly: what is wrong, why, by how much, what to change.
//!
//! Quiet when all is well. Each rule names its source; thresholds that are nobody's but ours say so.

use crate::canopy::{OVERFILL_GRAVE, OVERFILL_SHARE};
use crate::choice::Choice;
use crate::light::rules::{dark_middle, floor_light, rows_shading, winter_season};
use crate::message::{Message, Slot};
use crate::order::sort_by;
use crate::plan::Plan;
use crate::quantity::{Quantity, SQUARE_METRES_PER_ACRE, degrees, feet, inches};
use crate::scenario::registry::is_nearer_east_west;
use crate::scenario::{EndAssembly, Scenario};
use crate::stock::SupportNeed;
use crate::system::{Range, Support};
use crate::working::Source;
use uom::si::f64::Length;

/// How much a finding matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The plan doesn't work as it stands.
    Fix,
    /// It works, with a weakness that costs.
    Caution,
    /// Worth knowing.
    Note,
}

impl Severity {
    /// The word shown for it.
    pub fn label(self) -> &'static str {
        match self {
            Severity::Fix => "Fix",
            Severity::Caution => "Caution",
            Severity::Note => "Note",
        }
    }
}

/// One finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Advice {
    /// Stable key of the rule.
    pub rule: &'static str,
    /// How much it matters.
    pub severity: Severity,
    /// What is wrong, in a few words.
    pub title: &'static str,
    /// What was found and why it matters, with the numbers.
    pub finding: Message,
    /// What to change, with the numbers.
    pub remedy: Message,
    /// Keys of the parameters that cure it.
    pub fields: &'static [&'static str],
    /// Who says so.
    pub source: Source,
}

type Rule = fn(&Scenario, &Plan) -> Option<Advice>;

/// Every rule.
const RULES: &[Rule] = &[
    wire_above_post,
    support_missing,
    clear_alley,
    height_to_row,
    overfill,
    never_fills,
    late_to_fill,
    outside_system,
    graft_union,
    leader_above_wire,
    embedment,
    post_interval,
    row_length,
    anchor,
    headland,
    canopy_depth,
    dark_middle,
    floor_light,
    rows_shading,
    winter_season,
];

/// All findings on a plan, the gravest first.
pub fn advise(scenario: &Scenario, plan: &Plan) -> Vec<Advice> {
    let mut findings: Vec<Advice> = RULES.iter().filter_map(|rule| rule(scenario, plan)).collect();
    sort_by(&mut findings, |one, other| one.severity.cmp(&other.severity));
    findings
}

fn length(value: f64) -> Slot {
    Slot::Number(value, Quantity::Length)
}

fn wire_above_post(scenario: &Scenario, _: &Plan) -> Option<Advice> {
    let top = scenario.top_wire()?;
    let post = scenario.post_height();
    (top > post + inches(0.1)).then(|| Advice {
        rule: "wire_above_post",
        severity: Severity::Fix,
        title: "Top wire above the posts",
        finding: Message::new(
            "The top wire is drawn at {0}, but the posts end {1} above the ground.",
            [length(top.value), length(post.value)],
        ),
        remedy: Message::new(
            "Lower the wire to {0}, or use posts of {1}.",
            [length(post.value), length((top + scenario.post_embedment).value)],
        ),
        fields: &["wire_heights", "post_length", "post_embedment"],
        source: Source::standard("Geometry"),
    })
}

fn support_missing(scenario: &Scenario, _: &Plan) -> Option<Advice> {
    let stock = scenario.rootstock.stock();
    let bare = scenario.support == Support::None
        || (scenario.support.has_wires() && scenario.wire_heights.is_empty());
    (bare && stock.support != SupportNeed::None).then(|| Advice {
        rule: "support_missing",
        severity: if stock.support == SupportNeed::Permanent { Severity::Fix } else { Severity::Caution },
        title: "Rootstock needs support",
        finding: Message::new(
            "Trees on {0} need {1}; this plan gives them none.",
            [Slot::from(scenario.rootstock.label()), Slot::from(stock.support.label())],
        ),
        remedy: Message::plain("Choose wires, stakes or posts, or a rootstock that stands alone."),
        fields: &["support", "rootstock", "wire_heights"],
        source: Source::published("US land-grant eXtension rootstock sheets; Fraser & Oakes 1999"),
    })
}

const CLEARANCE_EACH_SIDE_FT: f64 = 1.0;

fn clear_alley(scenario: &Scenario, plan: &Plan) -> Option<Advice> {
    let alley = plan.clear_alley;
    let tractor = scenario.tractor_width;
    let wanted = tractor + feet(2.0 * CLEARANCE_EACH_SIDE_FT);
    let hair = inches(0.1);
    if alley + hair >= wanted {
        return None;
    }
    let lacking = wanted - alley;
    let (severity, finding) = if alley < tractor {
        (Severity::Fix, "The alley between canopies is {0}; the tractor is {1} wide and doesn't get through.")
    } else {
        (
            Severity::Caution,
            "The alley between canopies is {0}, which leaves less than a foot on each side of a tractor {1} wide.",
        )
    };
    Some(Advice {
        rule: "clear_alley",
        severity,
        title: "Alley too narrow for the tractor",
        finding: Message::new(finding, [length(alley.value.max(0.0)), length(tractor.value)]),
        remedy: Message::new(
            "Widen the rows to {0}, keep the canopy {1} narrower, or drive a narrower machine.",
            [length((scenario.row_width + lacking).value), length(lacking.value)],
        ),
        fields: &["row_width", "canopy_width", "tractor_width"],
        source: Source::practice("Common practice, no source: 7-8 ft clear for a narrow tractor and sprayer"),
    })
}

const HIGHEST_RATIO: f64 = 1.0;
const GOOD_RATIO: f64 = 0.9;

fn height_to_row(scenario: &Scenario, plan: &Plan) -> Option<Advice> {
    let ratio = plan.height_to_row;
    let east_west = is_nearer_east_west(scenario.row_azimuth);
    if ratio <= HIGHEST_RATIO + 1e-9 {
        return None;
    }
    let direction = if east_west { "east-west" } else { "north-south" };
    Some(Advice {
        rule: "height_to_row",
        severity: if ratio > 1.25 { Severity::Fix } else { Severity::Caution },
        title: "Trees too tall for the rows",
        finding: Message::new(
            "Trees of {0} on rows of {1} stand at a ratio of {2}. Above 1 the rows shade each other's lower branches; these rows run nearer {3}.",
            [
                length(scenario.tree_height.value),
                length(scenario.row_width.value),
                (ratio, Quantity::Ratio).into(),
                direction.into(),
            ],
        ),
        remedy: Message::new(
            "About 0.9 works: keep the trees at {0}, or widen the rows to {1}.",
            [length(GOOD_RATIO * scenario.row_width.value), length(scenario.tree_height.value / GOOD_RATIO)],
        ),
        fields: &["tree_height", "row_width"],
        source: Source::published(
            "Robinson (Cornell) in Good Fruit Grower 1 May 2013 and Fruit Growers News 2007: height about 0.9 of the alley; Perry & Hull (Michigan State) ask for rows 1.3 to 1.5 times the height",
        ),
    })
}

fn overfill(scenario: &Scenario, plan: &Plan) -> Option<Advice> {
    let year = plan.canopy.year_overfilled?;
    let worst = plan.canopy.years.iter().map(|year| year.excess_share).fold(0.0, f64::max);
    // Spacing goes with the size the tree has when growth is as quick as it now is at the limit.
    let suggested = plan.suggested_spacing.max(scenario.in_row_spacing);
    Some(Advice {
        rule: "overfill",
        severity: if worst > OVERFILL_GRAVE { Severity::Fix } else { Severity::Caution },
        title: "Trees outgrow their space",
        finding: Message::new(
            "From year {0} on, a season adds more than {1} of the crown beyond the space given, up to {2}. Cutting that much back every winter makes the trees grow harder still.",
            [
                (year, Quantity::Years).into(),
                (OVERFILL_SHARE, Quantity::Share).into(),
                (worst, Quantity::Share).into(),
            ],
        ),
        remedy: Message::new(
            "Take a weaker rootstock, or give the trees more room: about {0} in the row as a starting point, and a wider or taller canopy.",
            [length(suggested.value)],
        ),
        fields: &["rootstock", "vigour", "in_row_spacing", "canopy_width", "tree_height"],
        source: Source::assumption(
            "Project's own growth model and threshold; see the working of the yearly excess",
        ),
    })
}

fn never_fills(scenario: &Scenario, plan: &Plan) -> Option<Advice> {
    if plan.canopy.year_filled.is_some() {
        return None;
    }
    let last = plan.canopy.years.last()?;
    Some(Advice {
        rule: "never_fills",
        severity: Severity::Fix,
        title: "Trees never fill the row",
        finding: Message::new(
            "In 25 years these trees spread to {0} and are given {1}: ground, posts and wire stand idle for good.",
            [length(last.free_spread), length(scenario.in_row_spacing.value)],
        ),
        remedy: Message::new(
            "Plant closer, about {0} in the row as a starting point, or take a stronger rootstock.",
            [length(plan.suggested_spacing.value)],
        ),
        fields: &["in_row_spacing", "rootstock", "vigour"],
        source: Source::assumption("Project's own growth model"),
    })
}

const LATE_YEAR: f64 = 8.0;

fn late_to_fill(scenario: &Scenario, plan: &Plan) -> Option<Advice> {
    let year = plan.canopy.year_filled?;
    // Free-standing trees are planted to fill late; trellised ones pay for the wait.
    (year > LATE_YEAR && scenario.support != Support::None).then(|| Advice {
        rule: "late_to_fill",
        severity: Severity::Caution,
        title: "Slow to fill the row",
        finding: Message::new(
            "Crowns meet along the row only in year {0}. Until then part of the land and the trellis carries nothing.",
            [(year.ceil(), Quantity::Years).into()],
        ),
        remedy: Message::new(
            "Plant closer, about {0} in the row as a starting point, or take a stronger rootstock.",
            [length(plan.suggested_spacing.value)],
        ),
        fields: &["in_row_spacing", "rootstock", "vigour"],
        source: Source::practice("Common practice, no source: a trellised planting fills its rows by about year 5"),
    })
}

fn outside_system(scenario: &Scenario, plan: &Plan) -> Option<Advice> {
    let usual = scenario.system.usual();
    let outside = |value: f64, (low, high): Range| value < low * 0.995 || value > high * 1.005;
    let trees_per_acre = plan.trees_per_area * SQUARE_METRES_PER_ACRE;
    let per_acre = |value: f64| Slot::Number(value / SQUARE_METRES_PER_ACRE, Quantity::PerAcre);
    let range = |(low, high): Range| (feet(low), feet(high));
    let note = |finding: Message, remedy: Message, severity: Severity| Advice {
        rule: "outside_system",
        severity,
        title: "Unusual for the training system",
        finding,
        remedy,
        fields: &["in_row_spacing", "row_width", "system"],
        source: usual.source,
    };
    let name = || Slot::from(scenario.system.label());
    let (in_row, row) = (range(usual.in_row_ft), range(usual.row_ft));
    let spacing_hint = Message::new(
        "Usual spacings are {0} to {1} in the row and {2} to {3} between rows; or choose the system that matches this spacing.",
        [length(in_row.0.value), length(in_row.1.value), length(row.0.value), length(row.1.value)],
    );
    if outside(trees_per_acre, usual.trees_per_acre) {
        return Some(note(
            Message::new(
                "{0} is usually planted at {1} to {2}; this plan has {3}.",
                [
                    name(),
                    per_acre(usual.trees_per_acre.0),
                    per_acre(usual.trees_per_acre.1),
                    per_acre(trees_per_acre),
                ],
            ),
            spacing_hint,
            Severity::Caution,
        ));
    }
    let off = |value: Length, (low, high): (Length, Length)| outside(value.value, (low.value, high.value));
    (off(scenario.in_row_spacing, in_row) || off(scenario.row_width, row)).then(|| {
        note(
            Message::new(
                "The density is usual for {0}, but {1} in the row by {2} between rows is not.",
                [name(), length(scenario.in_row_spacing.value), length(scenario.row_width.value)],
            ),
            spacing_hint,
            Severity::Note,
        )
    })
}

fn graft_union(_: &Scenario, plan: &Plan) -> Option<Advice> {
    let settled = plan.union_settled;
    let small = |value: Length| Slot::Number(value.value, Quantity::SmallLength);
    let advice = |severity, title, finding: &'static str, remedy: &'static str| Advice {
        rule: "graft_union",
        severity,
        title,
        finding: Message::new(finding, [small(settled)]),
        remedy: Message::new(remedy, [small(inches(3.0)), small(inches(6.0))]),
        fields: &["graft_union_height", "settling"],
        source: Source::published(
            "Crassweller (Penn State), eXtension: 3-6 in above the soil; Cornell slides 4-6 in; Barritt in Good Fruit Grower on 8-10 in exposed",
        ),
    };
    let hair = inches(0.05);
    if settled + hair < inches(2.0) {
        Some(advice(
            Severity::Fix,
            "Graft union too low",
            "After settling, the union stands {0} above the ground. Near the soil the scion roots and the dwarfing is lost.",
            "Plant higher, so that {0} to {1} remain after settling.",
        ))
    } else if settled + hair < inches(3.0) {
        Some(advice(
            Severity::Caution,
            "Graft union low",
            "After settling, the union stands {0} above the ground, which leaves little to spare before the scion roots.",
            "Plant a little higher, so that {0} to {1} remain after settling.",
        ))
    } else if settled > inches(8.0) + hair {
        Some(advice(
            Severity::Caution,
            "Graft union high",
            "After settling, the union stands {0} above the ground. A long bare shank dwarfs more, grows burr knots and invites borers.",
            "Plant deeper, so that {0} to {1} remain after settling.",
        ))
    } else if settled > inches(6.0) + hair {
        Some(advice(
            Severity::Note,
            "Graft union on the high side",
            "After settling, the union stands {0} above the ground; every inch more dwarfs the tree further.",
            "Most growers leave {0} to {1} after settling.",
        ))
    } else {
        None
    }
}

fn leader_above_wire(scenario: &Scenario, _: &Plan) -> Option<Advice> {
    let top = scenario.top_wire()?;
    let above = scenario.tree_height - top;
    (above > feet(3.0) + inches(0.1)).then(|| Advice {
        rule: "leader_above_wire",
        severity: Severity::Caution,
        title: "Leader far above the top wire",
        finding: Message::new(
            "The leader stands {0} above the top wire. Loaded with fruit or in wind it can bend over or break there.",
            [length(above.value)],
        ),
        remedy: Message::new(
            "Keep the trees at {0} or lower, or raise the top wire to {1}.",
            [length((top + feet(3.0)).value), length((scenario.tree_height - feet(3.0)).value)],
        ),
        fields: &["tree_height", "wire_heights"],
        source: Source::practice("Common practice, from memory: leader at most 2-3 ft above the top wire"),
    })
}

const LEAST_EMBEDMENT: f64 = 0.25;

fn embedment(scenario: &Scenario, plan: &Plan) -> Option<Advice> {
    let share = plan.trellis.embedment_share;
    (scenario.support.has_wires() && share + 1e-9 < LEAST_EMBEDMENT).then(|| Advice {
        rule: "embedment",
        severity: Severity::Caution,
        title: "Posts too shallow",
        finding: Message::new(
            "{0} of the post, {1}, is in the ground. Shallow posts lean and overturn.",
            [(share, Quantity::Share).into(), length(scenario.post_embedment.value)],
        ),
        remedy: Message::new(
            "Set at least a quarter: {0} of a post {1} long.",
            [length(LEAST_EMBEDMENT * scenario.post_length.value), length(scenario.post_length.value)],
        ),
        fields: &["post_embedment", "post_length"],
        source: Source::published(
            "Fraser in Good Fruit Grower: at least a quarter of the post length in the ground",
        ),
    })
}

fn post_interval(scenario: &Scenario, plan: &Plan) -> Option<Advice> {
    let longest = plan.trellis.longest_bay;
    (scenario.support.has_wires() && longest > feet(40.0).value + 0.01).then(|| Advice {
        rule: "post_interval",
        severity: if longest > feet(50.0).value - 0.01 { Severity::Fix } else { Severity::Caution },
        title: "Posts too far apart",
        finding: Message::new(
            "The longest bay is {0}. Wires sag and posts are overloaded in long bays; 50 ft has been trouble in the field.",
            [length(longest)],
        ),
        remedy: Message::new("Keep posts within {0}; {1} is better.", [length(feet(40.0).value), length(feet(35.0).value)]),
        fields: &["post_interval"],
        source: Source::published("Kuhn in Good Fruit Grower: 32-35 ft best, 40 average, 50 trouble"),
    })
}

fn row_length(scenario: &Scenario, plan: &Plan) -> Option<Advice> {
    if !scenario.support.has_wires() {
        return None;
    }
    let longest = plan.block.runs.iter().map(crate::block::run::Run::length).fold(0.0, f64::max);
    let tied = scenario.end_assembly == EndAssembly::TieBack;
    let hair = 0.01;
    if tied && longest > feet(600.0).value + hair {
        Some(Advice {
            rule: "row_length",
            severity: Severity::Caution,
            title: "Rows long for a tie-back",
            finding: Message::new(
                "Rows are {0} long. Beyond 600 ft a screw anchor may not hold the pull of the wires.",
                [length(longest)],
            ),
            remedy: Message::new(
                "Break the rows with a cross alley, or end them in H-braces; {0} or less is advised.",
                [length(feet(500.0).value)],
            ),
            fields: &["block_length", "end_assembly"],
            source: Source::published(
                "Domoto (Iowa State) 2002: 6-in helix to 600 ft, beyond that a brace; OMAFRA: rows to about 500 ft",
            ),
        })
    } else if longest > feet(600.0).value + hair {
        Some(Advice {
            rule: "row_length",
            severity: Severity::Note,
            title: "Long rows",
            finding: Message::new(
                "Rows are {0} long; wires this long are hard to keep tight.",
                [length(longest)],
            ),
            remedy: Message::new(
                "Rows of about {0} are advised; a cross alley also shortens every trip.",
                [length(feet(500.0).value)],
            ),
            fields: &["block_length"],
            source: Source::published("OMAFRA tall-spindle support sheet: rows to about 500 ft"),
        })
    } else {
        None
    }
}

fn anchor(scenario: &Scenario, _: &Plan) -> Option<Advice> {
    if !scenario.support.has_wires() || scenario.end_assembly != EndAssembly::TieBack {
        return None;
    }
    let hair = inches(0.1);
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
    if scenario.anchor_distance > scenario.headland + hair {
        return Some(advice(
            Severity::Fix,
            Message::new(
                "Anchors stand {0} beyond the end posts, but the headland is only {1}: they lie outside the field.",
                [length(scenario.anchor_distance.value), length(scenario.headland.value)],
            ),
            Message::plain("Widen the headland, bring the anchors in, or end the rows in H-braces."),
        ));
    }
    let least = scenario.post_height() * 0.6;
    (scenario.anchor_distance + hair < least || scenario.anchor_distance <= feet(5.0) + hair).then(|| {
        advice(
            Severity::Caution,
            Message::new(
                "Anchors stand {0} from the end posts, which rise {1}. So near, the post turns on the anchor as on a fulcrum.",
                [length(scenario.anchor_distance.value), length(scenario.post_height().value)],
            ),
            Message::new("Set them about {0} out.", [length(scenario.post_height().value)]),
        )
    })
}

fn headland(scenario: &Scenario, _: &Plan) -> Option<Advice> {
    let tied = scenario.support.has_wires() && scenario.end_assembly == EndAssembly::TieBack;
    let free = if tied { scenario.headland - scenario.anchor_distance } else { scenario.headland };
    let least = scenario.tractor_width * 2.0;
    (free + inches(0.1) < least && free >= feet(0.0)).then(|| Advice {
        rule: "headland",
        severity: Severity::Note,
        title: "Little room to turn",
        finding: Message::new(
            "The headland leaves {0} free at the row ends; machines turn in 20 to 30 ft.",
            [length(free.value)],
        ),
        remedy: Message::plain("Widen the headland, unless a farm road beside the field serves to turn on."),
        fields: &["headland", "anchor_distance"],
        source: Source::published("Barney, Storey's Guide: strips and roads of 20-30 ft between blocks"),
    })
}

fn canopy_depth(scenario: &Scenario, _: &Plan) -> Option<Advice> {
    let trellised = scenario.support.has_wires() && scenario.lean < degrees(1.0);
    (trellised && scenario.canopy_width > feet(8.0) + inches(0.1)).then(|| Advice {
        rule: "canopy_depth",
        severity: Severity::Caution,
        title: "Canopy too deep for light",
        finding: Message::new(
            "The canopy is {0} across. Fruiting walls are kept 4 to 6 ft across, so that no fruit hangs more than 3 ft inside.",
            [length(scenario.canopy_width.value)],
        ),
        remedy: Message::new("Keep the canopy at {0} or narrower.", [length(feet(6.0).value)]),
        fields: &["canopy_width"],
        source: Source::published("Good Fruit Grower 1 May 2013, fruiting wall principles"),
    })
}
