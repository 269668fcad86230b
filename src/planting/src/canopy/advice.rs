//! What is wrong with the trees in the space they are given.

use super::{Canopy, OVERFILL_GRAVE, OVERFILL_LAYER};
use crate::kit::figure::Source;
use crate::kit::finding::{Advice, LENGTH_TOLERANCE, RATIO_TOLERANCE, Rule, Severity};
use crate::kit::message::{Message, Slot};
use crate::kit::quantity::{Quantity, feet, inches};
use crate::kit::row::is_nearer_east_west;
use uom::si::f64::Length;
use uom::si::length::meter;

/// Every rule about the trees in their space, in the order their findings are read.
pub static RULES: &[Rule<Canopy>] = &[clear_alley, height_to_row, overfill, never_fills, graft_union];

fn tolerance() -> Length {
    Length::new::<meter>(LENGTH_TOLERANCE)
}

/// Room wanted on each side of a machine (common practice).
fn clearance() -> Length {
    feet(1.0)
}

fn clear_alley(canopy: &Canopy) -> Option<Advice> {
    let (alley, tractor) = (canopy.clear_alley(), canopy.asked.tractor_width);
    let wanted = tractor + clearance() * 2.0;
    if alley + tolerance() >= wanted {
        return None;
    }
    let lacking = wanted - alley;
    let width = alley.max(feet(0.0));
    let (severity, finding) = if alley < tractor {
        let sentence = "The alley between canopies is {0}; the tractor is {1} wide and doesn't get through.";
        (Severity::Fix, Message::new(sentence, [width.into(), tractor.into()]))
    } else {
        let sentence = "The alley between canopies is {0}, which leaves less than {2} on each side of a tractor {1} wide.";
        (Severity::Caution, Message::new(sentence, [width.into(), tractor.into(), clearance().into()]))
    };
    Some(Advice {
        rule: "clear_alley",
        severity,
        title: "Alley too narrow for the tractor",
        finding,
        remedy: Message::new(
            "Widen the rows to {0}, keep the canopy {1} narrower, or drive a narrower machine.",
            [(canopy.asked.spacing.row_width + lacking).into(), lacking.into()],
        ),
        fields: &["row_width", "canopy_width", "tractor_width"],
        source: Source::practice("Common practice, no source: 7-8 ft clear for a narrow tractor and sprayer"),
    })
}

const HIGHEST_RATIO: f64 = 1.0;
const GRAVE_RATIO: f64 = 1.25;
const GOOD_RATIO: f64 = 0.9;

fn height_to_row(canopy: &Canopy) -> Option<Advice> {
    let ratio = canopy.height_to_row();
    if ratio <= HIGHEST_RATIO + RATIO_TOLERANCE {
        return None;
    }
    let direction = if is_nearer_east_west(canopy.asked.row_azimuth) { "east-west" } else { "north-south" };
    let (height, row_width) = (canopy.asked.inputs.tree_height, canopy.asked.spacing.row_width);
    Some(Advice {
        rule: "height_to_row",
        severity: if ratio > GRAVE_RATIO { Severity::Fix } else { Severity::Caution },
        title: "Trees too tall for the rows",
        finding: Message::new(
            "Trees of {0} on rows of {1} stand at a ratio of {2}. Above 1 the rows shade each other's lower branches; these rows run nearer {3}.",
            [height.into(), row_width.into(), (ratio, Quantity::Ratio).into(), direction.into()],
        ),
        remedy: Message::new(
            "About 0.9 works: keep the trees at {0}, or widen the rows to {1}.",
            [(row_width * GOOD_RATIO).into(), (height / GOOD_RATIO).into()],
        ),
        fields: &["tree_height", "row_width"],
        source: Source::published(
            "Robinson (Cornell) in Good Fruit Grower 1 May 2013 and Fruit Growers News 2007: height about 0.9 of the alley; Perry & Hull (Michigan State) ask for rows 1.3 to 1.5 times the height",
        ),
    })
}

fn overfill(canopy: &Canopy) -> Option<Advice> {
    let year = canopy.year_overfilled?;
    let layer = canopy.years.iter().map(|year| year.overgrowth().value).fold(0.0, f64::max);
    let share = canopy.years.iter().map(|year| year.excess_share).fold(0.0, f64::max);
    // The spacing that goes with this vigour, but never closer than the trees stand now.
    let suggested = canopy.suggested_spacing().max(canopy.asked.spacing.in_row);
    Some(Advice {
        rule: "overfill",
        severity: if layer > OVERFILL_GRAVE { Severity::Fix } else { Severity::Caution },
        title: "Trees outgrow their space",
        finding: Message::new(
            "From year {0} on, a season adds a layer of more than {1} beyond the space given, up to {2} or {3} of the crown. Cutting that much back every winter makes the trees grow harder still.",
            [
                (year, Quantity::Years).into(),
                (OVERFILL_LAYER, Quantity::Length).into(),
                (layer, Quantity::Length).into(),
                (share, Quantity::Share).into(),
            ],
        ),
        remedy: Message::new(
            "Take a weaker rootstock, or give the trees more room: about {0} in the row as a starting point, and a wider or taller canopy.",
            [suggested.into()],
        ),
        fields: &["rootstock", "vigour", "in_row_spacing", "canopy_width", "tree_height"],
        source: Source::assumption(
            "Project's own growth model and threshold; see the working of the yearly excess",
        ),
    })
}

fn never_fills(canopy: &Canopy) -> Option<Advice> {
    if canopy.year_filled.is_some() {
        return None;
    }
    let last = canopy.years.last()?;
    Some(Advice {
        rule: "never_fills",
        severity: Severity::Fix,
        title: "Trees never fill the row",
        finding: Message::new(
            "In 25 years these trees spread to {0} and are given {1}: ground, posts and wire stand idle for good.",
            [last.free_spread.into(), canopy.asked.spacing.in_row.into()],
        ),
        remedy: Message::new(
            "Plant closer, about {0} in the row as a starting point, or take a stronger rootstock.",
            [canopy.suggested_spacing().into()],
        ),
        fields: &["in_row_spacing", "rootstock", "vigour"],
        source: Source::assumption("Project's own growth model"),
    })
}

fn graft_union(canopy: &Canopy) -> Option<Advice> {
    let settled = canopy.union_settled();
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
    let tolerance = tolerance() / 2.0;
    if settled + tolerance < inches(2.0) {
        Some(advice(
            Severity::Fix,
            "Graft union too low",
            "After settling, the union stands {0} above the ground. Near the soil the scion roots and the dwarfing is lost.",
            "Plant higher, so that {0} to {1} remain after settling.",
        ))
    } else if settled + tolerance < inches(3.0) {
        Some(advice(
            Severity::Caution,
            "Graft union low",
            "After settling, the union stands {0} above the ground, which leaves little to spare before the scion roots.",
            "Plant a little higher, so that {0} to {1} remain after settling.",
        ))
    } else if settled > inches(8.0) + tolerance {
        Some(advice(
            Severity::Caution,
            "Graft union high",
            "After settling, the union stands {0} above the ground. A long bare shank dwarfs more, grows burr knots and invites borers.",
            "Plant deeper, so that {0} to {1} remain after settling.",
        ))
    } else if settled > inches(6.0) + tolerance {
        Some(advice(
            Severity::Note,
            "Graft union on the high side",
            "After settling, the union stands {0} above the ground; the higher it stands, the more the tree is dwarfed.",
            "Most growers leave {0} to {1} after settling.",
        ))
    } else {
        None
    }
}
