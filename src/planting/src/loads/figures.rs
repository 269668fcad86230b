//! The figures of loads and strength, of the order and of its cost.

use super::carried::Carried;
use super::ends::{HBrace, Held, TieBack};
use super::memory::Loads;
use super::order::Bill;
use super::weakest::{Basis, Part, Reached};
use crate::kit::count::as_number;
use crate::kit::figure::{Certainty, Line, Reading, Subject};
use crate::kit::quantity::Quantity;

/// Crop, tension and sag.
pub const WIRES: Subject = Subject { key: "trellis_wires", label: "Wires under load" };
/// Wind on posts and soil.
pub const WIND: Subject = Subject { key: "trellis_wind", label: "Wind, posts, soil" };
/// Guy, anchor and brace.
pub const ENDS: Subject = Subject { key: "trellis_ends", label: "Row ends" };
/// What is ordered.
pub const ORDER: Subject = Subject { key: "trellis_order", label: "Order and cost of the trellis" };

/// What is said of a load that nothing reaches.
const NEVER: &str = "nothing reaches it";
/// What is said of a part without any strength, such as soil at a post that stands on it.
const NOTHING: &str = "it holds nothing";

type Read = fn(&Loads) -> Reading;

const fn line(
    subject: Subject,
    certainty: Certainty,
    key: &'static str,
    label: &'static str,
    quantity: Quantity,
    read: Read,
) -> Line<Loads> {
    Line { key, label, quantity, subject, certainty, read }
}

const fn wires(key: &'static str, label: &'static str, quantity: Quantity, read: Read) -> Line<Loads> {
    line(WIRES, Certainty::Assumption, key, label, quantity, read)
}

const fn wind(key: &'static str, label: &'static str, quantity: Quantity, read: Read) -> Line<Loads> {
    line(WIND, Certainty::Assumption, key, label, quantity, read)
}

const fn ends(key: &'static str, label: &'static str, quantity: Quantity, read: Read) -> Line<Loads> {
    line(ENDS, Certainty::Assumption, key, label, quantity, read)
}

const fn order(key: &'static str, label: &'static str, quantity: Quantity, read: Read) -> Line<Loads> {
    line(ORDER, Certainty::CommonPractice, key, label, quantity, read)
}

/// A figure that only a trellis with wires has.
fn of(loads: &Loads, value: fn(&Carried) -> f64) -> Reading {
    loads.carried.as_ref().map_or(Reading::Absent, |carried| Reading::Value(value(carried)))
}

/// A part's index.
fn index(loads: &Loads, part: Part, basis: Basis) -> Reading {
    match loads.limits.get(part, basis).map(|limit| limit.index.value) {
        Some(index) if index.is_finite() => Reading::Value(index),
        Some(_) => Reading::Without(NOTHING),
        None => Reading::Absent,
    }
}

/// The gust or the crop at which a part is reached at collapse.
fn reached(loads: &Loads, part: Part) -> Reading {
    match loads.limits.get(part, Basis::Collapse).map(|limit| limit.reached) {
        Some(Reached::Gust(gust)) => Reading::Value(gust.value),
        Some(Reached::Crop(crop)) => Reading::Value(crop.value),
        Some(Reached::Never) => Reading::Without(NEVER),
        None => Reading::Absent,
    }
}

/// A figure of guyed ends: as strung or under the crop.
fn guyed(held: Option<Held>, value: fn(&TieBack) -> f64) -> Reading {
    match held {
        Some(Held::TieBack(end)) => Reading::Value(value(&end)),
        _ => Reading::Absent,
    }
}

/// A figure of braced ends under the crop.
fn braced(loads: &Loads, value: fn(&HBrace) -> f64) -> Reading {
    match loads.carried.as_ref().and_then(|carried| carried.held_loaded) {
        Some(Held::HBrace(end)) => Reading::Value(value(&end)),
        _ => Reading::Absent,
    }
}

fn loaded(loads: &Loads) -> Option<Held> {
    loads.carried.as_ref()?.held_loaded
}

fn strung(loads: &Loads) -> Option<Held> {
    loads.carried.as_ref()?.held_strung
}

/// A number of things that not every order has.
fn some(loads: &Loads, count: fn(&Bill) -> usize) -> Reading {
    match count(&loads.bill) {
        0 => Reading::Absent,
        count => Reading::Value(as_number(count)),
    }
}

/// A length or a mass that not every order has.
fn amount(loads: &Loads, amount: fn(&Bill) -> f64) -> Reading {
    let amount = amount(&loads.bill);
    if amount > 0.0 { Reading::Value(amount) } else { Reading::Absent }
}

/// Every figure of this room, in reading order.
pub static FIGURES: &[Line<Loads>] = &[
    wires("crop_on_row", "Crop on a length of row", Quantity::MassPerLength, |loads| {
        of(loads, |carried| carried.crop_on_row.value)
    }),
    wires("load_on_wire", "Crop and wire on each wire", Quantity::ForcePerLength, |loads| {
        of(loads, |carried| carried.on_wire.value)
    }),
    line(
        WIRES,
        Certainty::Standard,
        "wire_breaking_load",
        "Breaking load of a wire",
        Quantity::Force,
        |loads| of(loads, |carried| carried.wire.breaking_load().value),
    ),
    wires("wire_tension_loaded", "Tension of a wire under the crop", Quantity::Force, |loads| {
        of(loads, |carried| carried.loaded.tension.value)
    }),
    wires("wire_tension_cold", "Tension on the coldest day, no crop", Quantity::Force, |loads| {
        of(loads, |carried| carried.cold.horizontal.value)
    }),
    wires("wire_tension_hot", "Tension on the hottest day, no crop", Quantity::Force, |loads| {
        of(loads, |carried| carried.hot.horizontal.value)
    }),
    wires("wire_sag_empty", "Sag as strung", Quantity::SmallLength, |loads| {
        of(loads, |carried| carried.empty.sag.value)
    }),
    wires("wire_sag_loaded", "Sag under the crop", Quantity::SmallLength, |loads| {
        of(loads, |carried| carried.loaded.sag.value)
    }),
    wires("wire_sag_held", "Sag if the ends gave way", Quantity::SmallLength, |loads| {
        of(loads, |carried| carried.held.sag.value)
    }),
    wires("wire_index", "Wire, of its breaking load", Quantity::Ratio, |loads| {
        index(loads, Part::Wire, Basis::Collapse)
    }),
    wires("wire_reached", "Crop at which a wire breaks", Quantity::MassPerLand, |loads| {
        reached(loads, Part::Wire)
    }),
    wind("gust_pressure", "Pressure of the gust", Quantity::Pressure, |loads| {
        of(loads, |carried| carried.wind.pressure.value)
    }),
    wind("wind_load_on_row", "Wind on a length of row", Quantity::ForcePerLength, |loads| {
        of(loads, |carried| carried.wind.on_row.value)
    }),
    wind("wind_load_on_post", "Wind on a line post, outer row", Quantity::Force, |loads| {
        of(loads, |carried| carried.wind.on_post.value)
    }),
    wind("wind_load_inside", "Wind on a line post, inner rows", Quantity::Force, |loads| {
        let inner = loads.asked.inputs.inner_rows.value;
        let on_post = loads.carried.as_ref().map(|carried| carried.wind.on_post.value);
        on_post.map_or(Reading::Absent, |on_post| Reading::Value(inner * on_post))
    }),
    wind("post_moment", "Moment of a line post at the ground", Quantity::Moment, |loads| {
        of(loads, |carried| carried.wind.moment.value)
    }),
    wind("post_stress", "Stress of a line post at the ground", Quantity::Stress, |loads| {
        of(loads, |carried| carried.post_stress.value)
    }),
    wind("post_index", "Line post, of its mean strength", Quantity::Ratio, |loads| {
        index(loads, Part::Post, Basis::Collapse)
    }),
    wind("post_index_code", "Line post, of what a code allows", Quantity::Ratio, |loads| {
        index(loads, Part::Post, Basis::Rule)
    }),
    wind("post_reached", "Gust at which a line post breaks", Quantity::Speed, |loads| {
        reached(loads, Part::Post)
    }),
    wind("soil_load", "Push at which the soil gives way", Quantity::Force, |loads| {
        of(loads, |carried| carried.embedment.collapse_load().value)
    }),
    wind("soil_load_code", "Push the building code allows", Quantity::Force, |loads| {
        of(loads, |carried| carried.embedment.code_load().value)
    }),
    wind("soil_depth_code", "Depth the building code asks for", Quantity::Length, |loads| {
        let depth = loads.carried.as_ref().map(|carried| carried.embedment.code_depth(carried.wind.on_post));
        depth.map_or(Reading::Absent, |depth| {
            depth.map_or(Reading::Without("no depth"), |depth| Reading::Value(depth.value))
        })
    }),
    wind("soil_index", "Soil, of what it holds", Quantity::Ratio, |loads| {
        index(loads, Part::Soil, Basis::Collapse)
    }),
    wind("soil_index_code", "Soil, of what the code allows", Quantity::Ratio, |loads| {
        index(loads, Part::Soil, Basis::Rule)
    }),
    wind("soil_reached", "Gust at which a post turns over", Quantity::Speed, |loads| {
        reached(loads, Part::Soil)
    }),
    ends("end_moment", "Moment of the wires, loaded", Quantity::Moment, |loads| {
        of(loads, |carried| carried.pull.moment().value)
    }),
    ends("guy_tension", "Pull in the guy, as strung", Quantity::Force, |loads| {
        guyed(strung(loads), |end| end.guy.value)
    }),
    ends("guy_tension_loaded", "Pull in the guy, loaded", Quantity::Force, |loads| {
        guyed(loaded(loads), |end| end.guy.value)
    }),
    ends("post_thrust", "End post into the ground, loaded", Quantity::Force, |loads| {
        guyed(loaded(loads), |end| end.thrust.value)
    }),
    ends("ground_reaction", "Soil against the end post, loaded", Quantity::Force, |loads| {
        guyed(loaded(loads), |end| end.soil.value)
    }),
    ends("guy_index", "Guy, of its breaking load", Quantity::Ratio, |loads| {
        index(loads, Part::Guy, Basis::Collapse)
    }),
    ends("anchor_holds", "Pull at which the anchor comes", Quantity::Force, |loads| {
        let inputs = &loads.asked.inputs;
        let holds = inputs.anchor_kind.pull_out(inputs.soil, inputs.anchor_depth).value;
        loads.limits.get(Part::Anchor, Basis::Collapse).map_or(Reading::Absent, |_| Reading::Value(holds))
    }),
    ends("anchor_index", "Anchor, of what it holds", Quantity::Ratio, |loads| {
        index(loads, Part::Anchor, Basis::Collapse)
    }),
    ends("anchor_reached", "Crop at which the anchor comes", Quantity::MassPerLand, |loads| {
        reached(loads, Part::Anchor)
    }),
    ends("rail_push", "Push in the rail, loaded", Quantity::Force, |loads| {
        braced(loads, |end| end.rail.value)
    }),
    ends("brace_wire_tension", "Pull in the brace wire, loaded", Quantity::Force, |loads| {
        braced(loads, |end| end.wire.value)
    }),
    ends("brace_uplift", "Lift of the end post, loaded", Quantity::Force, |loads| {
        braced(loads, |end| end.uplift.value)
    }),
    ends("brace_soil", "Soil against the brace, loaded", Quantity::Force, |loads| {
        braced(loads, |end| end.soil.value)
    }),
    ends("brace_index", "Brace wire, of its breaking load", Quantity::Ratio, |loads| {
        index(loads, Part::BraceWire, Basis::Collapse)
    }),
    ends("rail_index", "Rail, of what it buckles at", Quantity::Ratio, |loads| {
        index(loads, Part::Rail, Basis::Collapse)
    }),
    order("order_brace_posts", "Brace posts, all spans", Quantity::Count, |loads| {
        some(loads, |bill| bill.brace_posts)
    }),
    order("order_wire", "Wire with tails and wastage", Quantity::Length, |loads| {
        amount(loads, |bill| bill.wire.value)
    }),
    order("order_guy", "Wire for guys and braces", Quantity::Length, |loads| {
        amount(loads, |bill| bill.guy.value)
    }),
    order("order_wire_mass", "Weight of all wire", Quantity::Mass, |loads| {
        amount(loads, |bill| bill.wire_mass.value)
    }),
    order("order_coils", "Coils of all wire", Quantity::Count, |loads| some(loads, |bill| bill.coils)),
    order("order_coils_unspliced", "Coils if no wire is spliced", Quantity::Count, |loads| {
        some(loads, |bill| bill.coils_unspliced.unwrap_or_default())
    }),
    order("order_staples", "Staples", Quantity::Count, |loads| some(loads, |bill| bill.staples)),
    order("order_staple_pounds", "Pounds of staples", Quantity::Count, |loads| {
        some(loads, |bill| bill.staple_pounds)
    }),
    order("order_sleeves", "Crimp sleeves", Quantity::Count, |loads| some(loads, |bill| bill.sleeves)),
    order("order_clips", "Stake clips", Quantity::Count, |loads| some(loads, |bill| bill.clips)),
    order("order_ties", "Tree ties", Quantity::Count, |loads| some(loads, |bill| bill.ties)),
    line(
        ORDER,
        Certainty::Published,
        "trellis_hours",
        "Hours to set up the trellis",
        Quantity::Work,
        |loads| amount(loads, |bill| bill.labour.total()),
    ),
    line(ORDER, Certainty::Assumption, "trellis_cost", "Cost of the trellis", Quantity::Money, |loads| {
        amount(loads, |bill| bill.total.dollars())
    }),
    line(
        ORDER,
        Certainty::Assumption,
        "trellis_cost_per_land",
        "Cost of the trellis on planted land",
        Quantity::MoneyPerLand,
        |loads| {
            let cost = loads.bill.total.dollars() / loads.asked.land().value;
            if cost > 0.0 && cost.is_finite() { Reading::Value(cost) } else { Reading::Absent }
        },
    ),
];
