//! What is wrong with the plan and what cures it, the gravest first.

use crate::browser::show_field;
use crate::controls::is_shown;
use crate::desk::Desk;
use crate::dial::ItemKey;
use crate::fetching::{is_here, lack};
use crate::piece::{Piece, button, classed, html, svg};
use crate::reactive::*;
use crate::rooms;
use crate::signal::Derived;
use crate::terms::with_terms;
use crate::working::certainty_chip;
use drafting::wording::sentence;
use planting::{Advice, Severity};
use web_sys::Event;

/// The list of findings.
pub(crate) fn findings(desk: Desk) -> Piece {
    let rules = Derived::new(move |_| {
        desk.findings.with(|found| found.iter().map(|advice| ItemKey::of(advice.rule)).collect::<Vec<_>>())
    });
    classed("section", "rl-advice")
        .set("aria-label", "Findings")
        .set("tabindex", "-1")
        .with(classed("h2", "rl-h2").text("What to look at"))
        .shows(move || lack(desk, Some("words"), "What to look at can\u{2019}t be said yet."))
        .with(
            classed("p", "rl-all-well")
                .marked("hidden", move || !rules.with(Vec::is_empty) || !desk.has_looked())
                .reads(move || {
                    let all = "Nothing to fix in this plan.";
                    let some = "Nothing to fix so far.";
                    if desk.has_looked_everywhere() { all } else { some }.to_owned()
                }),
        )
        .with(
            classed("ul", "rl-findings")
                .each(move || rules.get(), move |item_key| vec![finding(desk, item_key.key)]),
        )
}

fn finding(desk: Desk, rule: &'static str) -> Piece {
    // The finding of this rule as it stands. Its fields and its source stay the same for a rule, so its foot is made only once.
    let now = move || desk.findings.with(|found| found.iter().find(|advice| advice.rule == rule).cloned());
    let words = |of: fn(&Advice) -> &planting::Message| {
        let now = Derived::new(move |_| {
            now().map(|advice| sentence(of(&advice), desk.units.get())).unwrap_or_default()
        });
        html("p").shows(move || with_terms(desk, &now.get()))
    };
    let words_here = is_here(desk, "words");
    let head = Derived::new(move |_| now().map(|advice| (advice.severity, advice.title)));
    let foot = untrack(now).map(|advice| foot(desk, &advice));
    classed("li", "rl-finding")
        .set("data-rule", rule)
        .with(
            classed("div", "rl-finding-head").shows(move || {
                head.get().map(|(severity, title)| head_of(severity, title)).unwrap_or_default()
            }),
        )
        .with(words(|advice| &advice.finding))
        // The rules of the ground and what cures them come in the same file; a room's findings may be there before.
        .shows(move || {
            let words = words_here.get().then(rooms::words::now).flatten();
            words.map(|words| (words.remedies)(desk, rule)).into_iter().collect()
        })
        .with_all(foot.into_iter().collect())
}

fn head_of(severity: Severity, title: &str) -> Vec<Piece> {
    let word = classed("b", "rl-severity").set("data-severity", severity.label()).text(severity.label());
    vec![mark(severity), word, html("b").text(title)]
}

fn foot(desk: Desk, advice: &Advice) -> Piece {
    let fields = advice.fields;
    let show = move |_: Event| {
        // The first field may have no part in this plan; then the next one cures it.
        if let Some(key) = fields.iter().find(|key| is_shown(desk, key)) {
            show_field(desk.host(), key);
        }
    };
    let source = classed("span", "rl-quiet")
        .text(advice.source.citation)
        .text(" ")
        .with(certainty_chip(advice.source.certainty));
    let none_may_move = move || desk.face.with(|face| !fields.iter().any(|key| face.hands.may_move(key)));
    let button = button("rl-button")
        .set("data-action", "show-me")
        .marked("hidden", none_may_move)
        .on("click", show)
        .text("Show me");
    classed("div", "rl-finding-foot").with(source).with(button)
}

/// The mark of a severity; the shapes tell it without the colours.
fn mark(severity: Severity) -> Piece {
    let (key, d) = match severity {
        Severity::Fix => ("fix", "M6 1h8l5 5v8l-5 5H6l-5-5V6z"),
        Severity::Caution => ("caution", "M10 1.5 19 18H1z"),
        Severity::Price => ("price", "M1 1h9l9 9-9 9-9-9z"),
        Severity::Note => ("note", "M10 1a9 9 0 1 0 0 18a9 9 0 1 0 0-18z"),
    };
    let sign = match severity {
        Severity::Note => "M10 9v6M10 5.2v.4",
        Severity::Price => "M5.4 5.4h.4M9 9l3 3",
        Severity::Fix => "M10 5v6M10 14.4v.4",
        Severity::Caution => "M10 7.5v4.5M10 15v.4",
    };
    svg("svg")
        .set("class", &format!("rl-mark rl-mark-{key}"))
        .set("viewBox", "0 0 20 20")
        .set("width", "20")
        .set("height", "20")
        .set("aria-hidden", "true")
        .with(svg("path").set("class", "rl-mark-body").set("d", d))
        .with(svg("path").set("class", "rl-mark-sign").set("d", sign))
}
