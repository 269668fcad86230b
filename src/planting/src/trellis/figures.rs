//! The figures of the trellis.

use super::Trellis;
use crate::kit::count::as_number;
use crate::kit::figure::{Certainty, Line, Reading, Subject};
use crate::kit::quantity::Quantity;

/// Posts, wires and ends.
pub const TRELLIS: Subject = Subject { key: "trellis", label: "Trellis geometry and counts" };

const fn line(
    certainty: Certainty,
    key: &'static str,
    label: &'static str,
    quantity: Quantity,
    read: fn(&Trellis) -> Reading,
) -> Line<Trellis> {
    Line { key, label, quantity, subject: TRELLIS, certainty, read }
}

/// A figure that only a planting with wires has.
fn wired(trellis: &Trellis, value: f64) -> Reading {
    if trellis.asked.inputs.support.has_wires() { Reading::Value(value) } else { Reading::Absent }
}

/// A number of things that not every trellis has.
fn some(count: usize) -> Reading {
    if count > 0 { Reading::Value(as_number(count)) } else { Reading::Absent }
}

/// The number of trees in the block, one at least.
pub(super) fn trees(trellis: &Trellis) -> usize {
    trellis.asked.runs.iter().map(|run| run.trees).sum()
}

/// Every figure of the trellis, in reading order.
pub static FIGURES: &[Line<Trellis>] = &[
    line(Certainty::Standard, "bay", "Longest bay between posts", Quantity::Length, |trellis| {
        wired(trellis, trellis.longest_bay.value)
    }),
    line(Certainty::Standard, "line_posts", "Line posts", Quantity::Count, |trellis| {
        wired(trellis, as_number(trellis.line_posts))
    }),
    line(Certainty::Standard, "end_posts", "End posts", Quantity::Count, |trellis| {
        wired(trellis, as_number(trellis.end_posts))
    }),
    line(Certainty::Standard, "end_post_length", "End post length needed", Quantity::Length, |trellis| {
        wired(trellis, trellis.end_post_length.value)
    }),
    line(Certainty::Standard, "anchors", "Anchors", Quantity::Count, |trellis| some(trellis.anchors)),
    line(Certainty::CommonPractice, "guy_wire", "Guy wire", Quantity::Length, |trellis| {
        if trellis.anchors > 0 { Reading::Value(trellis.guys.all.value) } else { Reading::Absent }
    }),
    line(Certainty::Standard, "brace_posts", "Brace posts", Quantity::Count, |trellis| {
        some(trellis.brace_posts)
    }),
    line(Certainty::Standard, "brace_rails", "Brace rails", Quantity::Count, |trellis| {
        some(trellis.brace_rails)
    }),
    line(Certainty::Standard, "wire_strung", "Trellis wire strung", Quantity::Length, |trellis| {
        wired(trellis, trellis.wire_strung.value)
    }),
    line(Certainty::CommonPractice, "wire_ordered", "Trellis wire to order", Quantity::Length, |trellis| {
        wired(trellis, trellis.wire_ordered.value)
    }),
    line(Certainty::CommonPractice, "wire_coils", "Coils of wire", Quantity::Count, |trellis| {
        wired(trellis, as_number(trellis.coils))
    }),
    line(Certainty::Published, "tensioners", "Wire tensioners", Quantity::Count, |trellis| {
        wired(trellis, as_number(trellis.tensioners))
    }),
    line(Certainty::Standard, "stakes", "Stakes or posts at single trees", Quantity::Count, |trellis| {
        some(trellis.stakes)
    }),
    line(Certainty::Standard, "post_height", "Line post above the ground", Quantity::Length, |trellis| {
        wired(trellis, trellis.post_height.value)
    }),
    line(Certainty::Published, "embedment_share", "Post in the ground", Quantity::Share, |trellis| {
        wired(trellis, trellis.embedment_share.value)
    }),
    line(
        Certainty::Standard,
        "posts_per_acre",
        "Line posts per acre planted",
        Quantity::PerAcre,
        |trellis| {
            let density = trellis.asked.spacing.trees_per_square_metre();
            wired(trellis, as_number(trellis.line_posts) / as_number(trees(trellis).max(1)) * density)
        },
    ),
];
