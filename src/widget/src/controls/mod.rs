//! The controls, made from the register of inputs group by group.

mod about;
mod choice;
mod entry;
mod number;
mod slide;
mod stock;
mod wires;

pub(crate) use entry::{Draft, entry, fault_line};
pub(crate) use slide::slide;

use crate::desk::Desk;
use crate::piece::{Piece, classed};
use crate::signal::Memo;
use planting::scenario::registry::Kind;
use planting::{EndAssembly, Group, Parameter, REGISTRY, Scenario, Support};

/// Every group but the year, which stands under the drawings.
pub(crate) fn controls(desk: Desk) -> Vec<Piece> {
    let groups = Group::ALL.into_iter().filter(|group| *group != Group::Year);
    let folded = |group| {
        let open = Memo::new(move |_| desk.chapter.get().opens(group));
        let rows = REGISTRY.iter().filter(|parameter| parameter.group == group);
        let reached =
            Memo::new(move |_| REGISTRY.iter().any(|one| one.group == group && is_reached(desk, one.key)));
        classed("details", "rl-group")
            .set("data-group", group_key(group))
            .marked("hidden", move || !reached.get())
            .turns("open", move || open.get())
            .with(classed("summary", "rl-group-head").text(group.label()))
            .with(
                classed("div", "rl-group-body")
                    .with_all(rows.map(|parameter| row(desk, parameter)).collect()),
            )
    };
    groups.map(folded).collect()
}

pub(crate) fn group_key(group: Group) -> &'static str {
    match group {
        Group::Trees => "trees",
        Group::Spacing => "spacing",
        Group::Block => "block",
        Group::Trellis => "trellis",
        Group::Light => "light",
        Group::Year => "year",
    }
}

fn row(desk: Desk, parameter: &'static Parameter) -> Piece {
    let key = parameter.key;
    let wanted = Memo::new(move |_| {
        is_reached(desk, key)
            && (desk.scenario.with(|scenario| plays_a_part(key, scenario)) || is_at_fault(desk, key))
    });
    let pieces = match parameter.kind {
        Kind::Number(_) => number::number(desk, parameter),
        Kind::Choice(list) => choice::choice(desk, parameter, list),
        Kind::Lengths(lengths) => wires::wires(desk, parameter, lengths),
    };
    classed("div", "rl-row").set("data-control", key).marked("hidden", move || !wanted.get()).with_all(pieces)
}

/// Whether a reader may change an input, or must to get on.
fn is_reached(desk: Desk, key: &str) -> bool {
    desk.face.with(|face| face.hands.may_move(key)) || is_at_fault(desk, key)
}

fn is_at_fault(desk: Desk, key: &str) -> bool {
    desk.problems.with(|problems| problems.iter().any(|problem| problem.parameter() == key))
}

/// Whether an input has a part in the plan as it stands; what has none isn't shown.
fn plays_a_part(key: &str, scenario: &Scenario) -> bool {
    let wired = scenario.support.has_wires();
    let posts = wired || scenario.support == Support::PostPerTree;
    match key {
        "wire_heights" | "post_interval" | "end_assembly" | "end_post_diameter" => wired,
        "post_length" | "post_embedment" | "line_post_diameter" => posts,
        "end_post_lean" | "anchor_distance" => wired && scenario.end_assembly == EndAssembly::TieBack,
        "brace_span" => wired && scenario.end_assembly == EndAssembly::HBrace,
        _ => true,
    }
}
