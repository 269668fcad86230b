//! One of a list: a menu, and for training system and rootstock what is known of the entry chosen.

use super::about::{About, about, about_button};
use super::stock;
use crate::desk::Desk;
use crate::dial::Spot;
use drafting::measure::number as written;
use drafting::wording;
use leptos::prelude::*;
use planting::scenario::registry::ChoiceList;
use planting::{Choice, Parameter, Quantity, REGISTRY, Rootstock, Scenario, TrainingSystem, feet};

pub(super) fn choice(desk: Desk, parameter: &'static Parameter, list: ChoiceList) -> AnyView {
    let chosen = Memo::new(move |_| desk.scenario.with(|scenario| (list.get)(scenario)));
    let open = RwSignal::new(false);
    let choose = move |key: String| {
        if parameter.key == "system" {
            // The system brings its usual planting along; the site stays.
            if let Some(system) = TrainingSystem::from_key(&key) {
                desk.replace(desk.scenario.get_untracked().with_system(system));
            }
        } else {
            desk.edit_now(Spot::of(parameter.key), |scenario| {
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
    let fault = Memo::new(move |_| {
        let found = desk
            .problems
            .with(|problems| problems.iter().find(|problem| problem.parameter() == parameter.key).cloned());
        found.map(|problem| wording::problem(&problem, desk.units.get()))
    });
    view! {
        <div class="rl-row-head">
            <label class="rl-label" for=field.clone()>{parameter.label}</label>
            {about_button(desk, parameter, open)}
        </div>
        <select
            id=field
            class="rl-select"
            data-key=parameter.key
            data-role="field"
            on:change=move |event| choose(event_target_value(&event))
        >
            {options(parameter.key, list, chosen)}
        </select>
        <p class="rl-fault" role="alert" data-error-for=parameter.key hidden=move || fault.with(Option::is_none)>
            {move || fault.get()}
        </p>
        {about(desk, parameter, open, About {
            range: Signal::derive(move || format!("One of {}", (list.options)().len())),
            starts_at: Signal::derive(starts_at),
        })}
        {match parameter.key {
            "system" => system_card(desk).into_any(),
            "rootstock" => stock::card(desk).into_any(),
            _ => ().into_any(),
        }}
    }
    .into_any()
}

fn options(key: &'static str, list: ChoiceList, chosen: Memo<&'static str>) -> AnyView {
    let option = move |(key, label): (&'static str, &'static str)| {
        view! { <option value=key prop:selected=move || chosen.get() == key>{label}</option> }
    };
    if key != "rootstock" {
        return (list.options)().into_iter().map(option).collect_view().into_any();
    }
    // Whether a stock stands alone decides more than its rank in vigour, so the menu is parted by it.
    let need = |key: &str| Rootstock::from_key(key).map(|rootstock| rootstock.stock().support.label());
    let mut heads: Vec<&'static str> = Vec::new();
    for head in (list.options)().iter().filter_map(|(key, _)| need(key)) {
        if !heads.contains(&head) {
            heads.push(head);
        }
    }
    heads
        .into_iter()
        .map(|head| {
            let under: Vec<_> =
                (list.options)().into_iter().filter(|(key, _)| need(key) == Some(head)).map(option).collect();
            view! { <optgroup label=head>{under}</optgroup> }
        })
        .collect_view()
        .into_any()
}

/// What is usual for the system chosen, and the way back to it.
fn system_card(desk: Desk) -> impl IntoView {
    let system = Memo::new(move |_| desk.scenario.with(|scenario| scenario.system));
    let differs = Memo::new(move |_| {
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
        view! {
            <dl class="rl-facts">
                <dt>"Usual in the row"</dt><dd>{range(usual.in_row_ft)}</dd>
                <dt>"Rows"</dt><dd>{range(usual.row_ft)}</dd>
                <dt>"Tree height"</dt><dd>{range(usual.height_ft)}</dd>
            </dl>
            <p class="rl-quiet">{usual.source.citation}</p>
        }
    };
    view! {
        <details class="rl-card">
            <summary>"Usual for this system"</summary>
            {usual}
        </details>
        <button
            class="rl-button rl-wide"
            type="button"
            data-action="system-start"
            hidden=move || !differs.get()
            on:click=move |_| {
                let scenario = desk.scenario.get_untracked();
                desk.replace(scenario.with_system(scenario.system));
            }
        >
            "Back to this system's usual planting"
        </button>
    }
}
