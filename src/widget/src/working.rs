//! The working behind a figure: formula, the numbers put in, who says so, how sure, what is left out.

use crate::desk::Desk;
use crate::terms::with_terms;
use drafting::measure::write;
use drafting::wording;
use leptos::prelude::*;
use planting::{Certainty, Figure};

/// A word for how sure something is; its shape differs as well as its colour.
pub(crate) fn certainty_chip(certainty: Certainty) -> impl IntoView {
    view! { <span class=format!("rl-chip rl-chip-{}", certainty_key(certainty))>{certainty.label()}</span> }
}

fn certainty_key(certainty: Certainty) -> &'static str {
    match certainty {
        Certainty::Standard => "standard",
        Certainty::Published => "published",
        Certainty::CommonPractice => "practice",
        Certainty::Assumption => "assumption",
    }
}

/// A figure's value: what is shown and, unrounded, the SI value behind it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Reading {
    pub(crate) text: String,
    pub(crate) label: &'static str,
    pub(crate) value: Option<f64>,
    pub(crate) certainty: Certainty,
}

/// The present reading of a figure.
pub(crate) fn reading(desk: Desk, key: &'static str) -> Memo<Option<Reading>> {
    Memo::new(move |_| {
        let units = desk.units.get();
        desk.plan.with(|plan| {
            plan.figure(key).map(|figure| Reading {
                text: wording::value(figure, units),
                label: figure.label,
                value: figure.value,
                certainty: figure.working.source.certainty,
            })
        })
    })
}

/// The working of a figure, as it stands.
pub(crate) fn working(desk: Desk, key: &'static str) -> impl IntoView {
    move || desk.plan.with(|plan| plan.figure(key).cloned()).map(|figure| body(desk, &figure))
}

fn body(desk: Desk, figure: &Figure) -> impl IntoView + use<> {
    let units = desk.units.get();
    let working = &figure.working;
    let terms = working
        .terms
        .iter()
        .map(|term| {
            view! {
                <tr>
                    <th scope="row">{term.symbol}</th>
                    <td class="rl-number">{write(term.value, term.quantity, units)}</td>
                    <td>{with_terms(desk, term.meaning)}</td>
                </tr>
            }
        })
        .collect_view();
    let modelled = (working.source.certainty == Certainty::Assumption)
        .then(|| view! { <span class="rl-modelled">"A modelled number. "</span> });
    let leaves_out = (!working.leaves_out.is_empty()).then(|| {
        view! { <p><span class="rl-quiet">"Leaves out: "</span>{with_terms(desk, working.leaves_out)}</p> }
    });
    view! {
        <div class="rl-working" data-working=figure.key>
            <p class="rl-formula">{working.formula}</p>
            <table class="rl-terms">
                <caption class="rl-hidden">"Numbers put in"</caption>
                <tbody>{terms}</tbody>
                <tfoot>
                    <tr>
                        <th scope="row">"="</th>
                        <td class="rl-number"><b>{wording::value(figure, units)}</b></td>
                        <td>{figure.label}</td>
                    </tr>
                </tfoot>
            </table>
            <p>
                {modelled}<span class="rl-quiet">"Source: "</span>{working.source.citation}" "
                {certainty_chip(working.source.certainty)}
            </p>
            {leaves_out}
        </div>
    }
}
