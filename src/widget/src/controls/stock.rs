//! What is known of the rootstock chosen.

use crate::desk::Desk;
use crate::terms::with_terms;
use drafting::measure::write;
use leptos::prelude::*;
use planting::scenario::registry::Kind;
use planting::{Quantity, parameter};

/// The words for a tolerance class as printed.
fn class_in_words(class: &str) -> &'static str {
    match class {
        "VR" => "very resistant",
        "R" => "resistant",
        "T" => "tolerant",
        "T partial" => "partly tolerant",
        "S" => "susceptible",
        "low" => "few",
        "medium" => "some",
        "high" => "many",
        _ => "no entry",
    }
}

pub(super) fn card(desk: Desk) -> impl IntoView {
    let rootstock = Memo::new(move |_| desk.scenario.with(|scenario| scenario.rootstock));
    let known = move || {
        let stock = rootstock.get().stock();
        let (low, high) = stock.seedling_percent;
        let size = if low == high { format!("{low} %") } else { format!("{low} to {high} %") };
        let vigour = write(stock.relative_trunk_area, Quantity::Ratio, desk.units.get());
        let tolerance = stock.tolerance.map(|tolerance| {
            [
                ("Fire blight", tolerance.fire_blight),
                ("Collar and crown rot", tolerance.phytophthora),
                ("Replant complex", tolerance.replant),
                ("Woolly apple aphid", tolerance.woolly_aphid),
                ("Burr knots", tolerance.burr_knots),
            ]
            .into_iter()
            .map(|(name, class)| {
                view! {
                    <li class="rl-tolerance" data-class=class>
                        <span>{name}</span>
                        <b>{class_in_words(class)}</b>
                    </li>
                }
            })
            .collect_view()
        });
        let none = tolerance
            .is_none()
            .then(|| view! { <p class="rl-quiet">"No tolerance classes were printed."</p> });
        view! {
            <dl class="rl-facts">
                <dt>"Size, seedling tree 100 %"</dt><dd>{size}</dd>
                <dt>{with_terms(desk, "Trunk area, M.9 T337 is 1")}</dt><dd>{vigour}</dd>
                <dt>"Support"</dt><dd>{stock.support.label()}</dd>
            </dl>
            <ul class="rl-tolerances">{tolerance}</ul>
            {none}
            {(!stock.caution.is_empty()).then(|| view! { <p class="rl-caution">{with_terms(desk, stock.caution)}</p> })}
            <p class="rl-quiet">
                "Size: "{stock.size_source.citation}". Vigour: "{stock.vigour_source.citation}
                ". Classes: Ontario crop protection hub."
            </p>
        }
    };
    let name = move || {
        let label = rootstock_label(desk);
        format!("About {label}")
    };
    view! {
        <details class="rl-card" data-card="rootstock">
            <summary>{name}</summary>
            {known}
        </details>
    }
}

fn rootstock_label(desk: Desk) -> &'static str {
    let Some(Kind::Choice(list)) = parameter("rootstock").map(|parameter| parameter.kind) else { return "" };
    let key = desk.scenario.with(|scenario| (list.get)(scenario));
    (list.options)().into_iter().find(|(option, _)| *option == key).map_or("", |(_, label)| label)
}
