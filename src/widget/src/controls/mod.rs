//! The controls, made from the register of inputs group by group.

mod about;
mod choice;
mod entry;
mod number;
mod rail;
mod slide;
mod stock;
mod wires;

pub(crate) use entry::{Draft, entry, fault_line};
pub(crate) use slide::slide;

use crate::desk::Desk;
use crate::dial::ItemKey;
use crate::piece::{Piece, classed, folded};
use crate::reactive::untrack;
use crate::signal::{Derived, State, when_changed};
use planting::{EndAssembly, Group, Kind, Parameter, REGISTRY, Scenario, Support, control_groups, parameter};
use web_sys::Event;

/// Every group of controls. Rows of a folded group are made when it is opened: each of their numbers would follow every slider.
pub(crate) fn controls(desk: Desk) -> Vec<Piece> {
    let folded = control_groups().into_iter().map(|group| folded_group(desk, group));
    std::iter::once(firsts(desk)).chain(folded).collect()
}

/// The few inputs that come first in the chapter and are enough for a first visit.
fn firsts(desk: Desk) -> Piece {
    let item_keys = move || desk.chapter.get().firsts().iter().map(|key| ItemKey::of(key)).collect();
    classed("div", "rl-firsts").each(item_keys, move |item_key| row_of(desk, item_key))
}

fn row_of(desk: Desk, item_key: ItemKey) -> Vec<Piece> {
    parameter(item_key.key).map(|one| row(desk, one)).into_iter().collect()
}

fn folded_group(desk: Desk, group: Group) -> Piece {
    let inputs = move || REGISTRY.iter().filter(move |parameter| parameter.group == group);
    let open = State::new(untrack(|| desk.chapter.get().opens(group)));
    when_changed(move || desk.chapter.track(), move || open.set(desk.chapter.get_untracked().opens(group)));
    // What comes first in the chapter stands above the groups.
    let rest = move || {
        let firsts = desk.chapter.get().firsts();
        inputs().filter(move |parameter| !firsts.contains(&parameter.key))
    };
    let any_for_reader = Derived::new(move |_| rest().any(|one| is_for_reader(desk, one.key)));
    let item_keys = Derived::new(move |_| {
        let inputs = rest().filter(|_| open.get());
        inputs.map(|parameter| ItemKey::of(parameter.key)).collect::<Vec<_>>()
    });
    folded("rl-group", open)
        .set("data-group", group.key)
        .marked("hidden", move || !any_for_reader.get())
        .with(classed("summary", "rl-group-head").text(group.label))
        .with(
            classed("div", "rl-group-body")
                .each(move || item_keys.get(), move |item_key| row_of(desk, item_key)),
        )
}

fn row(desk: Desk, parameter: &'static Parameter) -> Piece {
    let key = parameter.key;
    let shown = Derived::new(move |_| is_shown(desk, key));
    let pieces = match parameter.kind {
        Kind::Number(_) => number::number(desk, parameter),
        Kind::Choice(list) => choice::choice(desk, parameter, list),
        Kind::Lengths(lengths) => wires::wires(desk, parameter, lengths),
    };
    classed("div", "rl-row")
        .set("data-control", key)
        .marked("hidden", move || !shown.get())
        .on("focusin", move |_: Event| desk.hand.look_at(key))
        .with_all(pieces)
}

/// Whether an input is shown where its group stands open.
pub(crate) fn is_shown(desk: Desk, key: &str) -> bool {
    is_for_reader(desk, key)
        && (desk.scenario.with(|scenario| plays_a_part(key, scenario)) || is_at_fault(desk, key))
}

/// Whether a reader may change an input, or must to get on.
fn is_for_reader(desk: Desk, key: &str) -> bool {
    desk.face.with(|face| face.hands.may_move(key)) || is_at_fault(desk, key)
}

fn is_at_fault(desk: Desk, key: &str) -> bool {
    desk.problems.with(|problems| problems.iter().any(|problem| problem.parameter() == key))
}

/// Whether an input has a part in the plan as it stands. An input that has none isn't shown.
fn plays_a_part(key: &str, scenario: &Scenario) -> bool {
    let wired = scenario.trellis.support.has_wires();
    let posts = wired || scenario.trellis.support == Support::PostPerTree;
    match key {
        "wire_heights" | "post_interval" | "end_assembly" | "end_post_diameter" => wired,
        "post_length" | "post_embedment" | "line_post_diameter" => posts,
        "end_post_lean" | "anchor_distance" => wired && scenario.trellis.end_assembly == EndAssembly::TieBack,
        "brace_span" => wired && scenario.trellis.end_assembly == EndAssembly::HBrace,
        _ => true,
    }
}
