//! What is wrong with the plan and what cures it, the gravest first.

use crate::browser::show_field;
use crate::desk::Desk;
use crate::terms::with_terms;
use crate::working::certainty_chip;
use drafting::wording::sentence;
use leptos::prelude::*;
use planting::{Advice, Severity};

/// The list of findings.
pub(crate) fn findings(desk: Desk) -> impl IntoView {
    let rules = Memo::new(move |_| {
        desk.plan.with(|plan| plan.advice.iter().map(|advice| advice.rule).collect::<Vec<_>>())
    });
    view! {
        <section class="rl-advice" aria-label="Findings">
            <h2 class="rl-h2">"What to look at"</h2>
            <p class="rl-all-well" hidden=move || !rules.with(Vec::is_empty)>"Nothing to fix in this plan."</p>
            <ul class="rl-findings">
                <For each=move || rules.get() key=|rule| *rule children=move |rule| finding(desk, rule)/>
            </ul>
        </section>
    }
}

fn finding(desk: Desk, rule: &'static str) -> AnyView {
    let now = Memo::new(move |_| {
        desk.plan.with(|plan| plan.advice.iter().find(|advice| advice.rule == rule).cloned())
    });
    view! { <li class="rl-finding" data-rule=rule>{move || now.get().map(|advice| body(desk, &advice))}</li> }
        .into_any()
}

fn body(desk: Desk, advice: &Advice) -> impl IntoView + use<> {
    let units = desk.units.get();
    let fields = advice.fields;
    let show = move |_| {
        // The first field may have no part in this plan; then the next one cures it.
        let host = desk.host();
        let shown = |key: &str| {
            host.query_selector(&format!("[data-control=\"{key}\"]:not([hidden])"))
                .is_ok_and(|row| row.is_some())
        };
        let list_first = |key: &&&str| shown(key) && show_field(&host, key);
        let _ = fields.iter().find(list_first);
    };
    view! {
        <div class="rl-finding-head">
            {mark(advice.severity)}
            <b class="rl-severity" data-severity=advice.severity.label()>{advice.severity.label()}</b>
            <b>{advice.title}</b>
        </div>
        <p>{with_terms(desk, &sentence(&advice.finding, units))}</p>
        <p>{with_terms(desk, &sentence(&advice.remedy, units))}</p>
        <div class="rl-finding-foot">
            <span class="rl-quiet">{advice.source.citation}" "{certainty_chip(advice.source.certainty)}</span>
            <button class="rl-button" type="button" data-action="show-me" on:click=show>
                "Show me"
            </button>
        </div>
    }
}

/// The mark of a severity; the shapes tell it without the colours.
fn mark(severity: Severity) -> impl IntoView {
    let (key, d) = match severity {
        Severity::Fix => ("fix", "M6 1h8l5 5v8l-5 5H6l-5-5V6z"),
        Severity::Caution => ("caution", "M10 1.5 19 18H1z"),
        Severity::Note => ("note", "M10 1a9 9 0 1 0 0 18a9 9 0 1 0 0-18z"),
    };
    let sign = match severity {
        Severity::Note => "M10 9v6M10 5.2v.4",
        Severity::Fix => "M10 5v6M10 14.4v.4",
        Severity::Caution => "M10 7.5v4.5M10 15v.4",
    };
    view! {
        <svg class=format!("rl-mark rl-mark-{key}") viewBox="0 0 20 20" width="20" height="20" aria-hidden="true">
            <path class="rl-mark-body" d=d/>
            <path class="rl-mark-sign" d=sign/>
        </svg>
    }
}
