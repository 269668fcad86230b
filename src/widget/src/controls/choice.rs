//! One of a list: a menu, and for training system and rootstock what is known of the entry chosen.

use super::about::{About, about, about_button};
use super::entry::fault_text;
use super::stock;
use crate::desk::Desk;
use crate::dial::ItemKey;
use crate::piece::{Piece, button, classed, html};
use crate::reactive::*;
use crate::signal::{Derived, State};
use drafting::measure::number as written;
use drafting::wording;
use planting::ChoiceList;
use planting::{Choice, Parameter, Quantity, REGISTRY, Rootstock, Scenario, TrainingSystem, feet};
use std::rc::Rc;
use web_sys::Event;

pub(super) fn choice(desk: Desk, parameter: &'static Parameter, list: ChoiceList) -> Vec<Piece> {
    let chosen = Derived::new(move |_| desk.scenario.with(|scenario| (list.get)(scenario)));
    let open = State::new(false);
    let choose = move |key: String| {
        if parameter.key == "system" {
            // The system brings its usual planting along; the site stays.
            if let Some(system) = TrainingSystem::from_key(&key) {
                desk.replace(desk.latest().with_system(system));
            }
        } else {
            desk.edit_now(ItemKey::of(parameter.key), |scenario| {
                (list.set)(scenario, &key);
            });
        }
    };
    let starts_at = move || {
        let start = desk.scenario.with(|scenario| Scenario::for_system(scenario.system));
        let key = (list.get)(&start);
        (list.options)()
            .into_iter()
            .find(|(option, _)| *option == key)
            .map_or("", |(_, label)| label)
            .to_owned()
    };
    let field = desk.id(parameter.key);
    let fault = move || {
        let found = desk
            .problems
            .with(|problems| problems.iter().find(|problem| problem.parameter() == parameter.key).cloned());
        found.map(|problem| wording::problem(&problem, desk.units.get()))
    };
    let menu = html("select")
        .set("id", &field)
        .set("class", "rl-select")
        .set("data-key", parameter.key)
        .set("data-role", "field")
        .on("change", move |event: Event| choose(event_target_value(&event)))
        .with_all(options(parameter.key, list, chosen));
    let mut pieces = vec![
        classed("div", "rl-row-head")
            .with(classed("label", "rl-label").set("for", &field).text(parameter.label))
            .with(about_button(desk, parameter, open)),
        menu,
        fault_text(parameter.key, fault),
        about(
            desk,
            parameter,
            open,
            About {
                range: Rc::new(move || format!("One of {}", (list.options)().len())),
                starts_at: Rc::new(starts_at),
            },
        ),
    ];
    match parameter.key {
        "system" => pieces.extend(system_card(desk)),
        "rootstock" => pieces.push(stock::card(desk)),
        _ => {}
    }
    pieces
}

fn options(key: &'static str, list: ChoiceList, chosen: Derived<&'static str>) -> Vec<Piece> {
    let option = move |(key, label): (&'static str, &'static str)| {
        html("option").set("value", key).turns("selected", move || chosen.get() == key).text(label)
    };
    if key != "rootstock" {
        return (list.options)().into_iter().map(option).collect();
    }
    // Whether a stock stands alone decides more than its rank in vigour, so the menu is parted by it.
    let need = |key: &str| Rootstock::from_key(key).map(|rootstock| rootstock.support_need().label());
    let mut heads: Vec<(&'static str, Vec<Piece>)> = Vec::new();
    for (key, label) in (list.options)() {
        let Some(head) = need(key) else { continue };
        if !heads.iter().any(|(other, _)| *other == head) {
            heads.push((head, Vec::new()));
        }
        if let Some((_, under)) = heads.iter_mut().find(|(other, _)| *other == head) {
            under.push(option((key, label)));
        }
    }
    heads.into_iter().map(|(head, under)| html("optgroup").set("label", head).with_all(under)).collect()
}

/// What is usual for the system chosen, and the way back to it.
fn system_card(desk: Desk) -> Vec<Piece> {
    let system = Derived::new(move |_| desk.scenario.with(|scenario| scenario.system));
    let differs = Derived::new(move |_| {
        desk.scenario.with(|scenario| {
            let start = Scenario::for_system(scenario.system);
            REGISTRY.iter().any(|parameter| parameter.follows_system && !parameter.same(scenario, &start))
        })
    });
    let usual = move || {
        let (usual, units) = (system.get().usual(), desk.units.get());
        let range = |(from, to): (f64, f64)| {
            let [from, to] = [from, to].map(|value| feet(value).value);
            format!(
                "{} to {}",
                written(from, Quantity::Length, units),
                drafting::measure::write(to, Quantity::Length, units)
            )
        };
        let fact = |name: &str, words: String| [html("dt").text(name), html("dd").text(&words)];
        let facts = [
            fact("Usual in the row", range(usual.in_row_ft)),
            fact("Rows", range(usual.row_ft)),
            fact("Tree height", range(usual.height_ft)),
        ];
        vec![
            classed("dl", "rl-facts").with_all(facts.into_iter().flatten().collect()),
            classed("p", "rl-quiet").text(usual.source.citation),
        ]
    };
    vec![
        classed("details", "rl-card").with(html("summary").text("Usual for this system")).shows(usual),
        button("rl-button rl-wide")
            .set("data-action", "system-start")
            .marked("hidden", move || !differs.get())
            .on("click", move |_: Event| {
                let scenario = desk.latest();
                desk.replace(scenario.with_system(scenario.system));
            })
            .text("Back to this system's usual planting"),
    ]
}
