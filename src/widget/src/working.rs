//! The working behind a figure: formula, the numbers put in, who says so, how sure, what is left out.

use crate::desk::Desk;
use crate::piece::{Piece, classed, html, text};
use crate::signal::Memo;
use crate::terms::with_terms;
use drafting::measure::write;
use drafting::wording;
use leptos::prelude::*;
use planting::{Certainty, Figure};

/// A word for how sure something is; its shape differs as well as its colour.
pub(crate) fn certainty_chip(certainty: Certainty) -> Piece {
    classed("span", &certainty_class(certainty)).text(certainty.label())
}

/// The class of a chip.
pub(crate) fn certainty_class(certainty: Certainty) -> String {
    format!("rl-chip rl-chip-{}", certainty_key(certainty))
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
pub(crate) fn working(desk: Desk, key: &'static str) -> Piece {
    // Numbers change with every step of a slider. The words around them stay, and with them the focus.
    let figure = move || desk.plan.with(|plan| plan.figure(key).cloned());
    let words = Memo::new(move |_| figure().map(|figure| words_of(&figure)).unwrap_or_default());
    let pieces = move || {
        words.track();
        untrack(figure).map(|figure| body(desk, &figure)).into_iter().flatten().collect()
    };
    classed("div", "rl-working").set("data-working", key).shows(pieces)
}

/// All words of a working: what is to be made anew when it changes.
fn words_of(figure: &Figure) -> String {
    let working = &figure.working;
    let mut words = [working.formula, working.source.citation, working.leaves_out, figure.label].join("\n");
    for term in &working.terms {
        words.push_str(term.symbol);
        words.push_str(term.meaning);
    }
    words
}

fn body(desk: Desk, figure: &Figure) -> Vec<Piece> {
    let (key, working) = (figure.key, &figure.working);
    let line = |symbol: &str, value: Piece, meaning: Vec<Piece>| {
        html("tr")
            .with(html("th").set("scope", "row").text(symbol))
            .with(value)
            .with(html("td").with_all(meaning))
    };
    let cell = || classed("td", "rl-number");
    let number = move |place: usize| {
        let term = desk.plan.with(|plan| plan.figure(key)?.working.terms.get(place).copied());
        term.map(|term| write(term.value, term.quantity, desk.units.get())).unwrap_or_default()
    };
    let result = move || {
        desk.plan
            .with(|plan| plan.figure(key).map(|figure| wording::value(figure, desk.units.get())))
            .unwrap_or_default()
    };
    let terms = working.terms.iter().enumerate().map(|(place, term)| {
        line(term.symbol, cell().reads(move || number(place)), with_terms(desk, term.meaning))
    });
    let table = classed("table", "rl-terms")
        .with(classed("caption", "rl-hidden").text("Numbers put in"))
        .with(html("tbody").with_all(terms.collect()))
        .with(html("tfoot").with(line("=", cell().with(html("b").reads(result)), vec![text(figure.label)])));
    let mut source = html("p");
    if working.source.certainty == Certainty::Assumption {
        source = source.with(classed("span", "rl-modelled").text("A modelled number. "));
    }
    let source = source
        .with(classed("span", "rl-quiet").text("Source: "))
        .text(working.source.citation)
        .text(" ")
        .with(certainty_chip(working.source.certainty));
    let mut pieces = vec![classed("p", "rl-formula").text(working.formula), table, source];
    if !working.leaves_out.is_empty() {
        pieces.push(
            html("p")
                .with(classed("span", "rl-quiet").text("Leaves out: "))
                .with_all(with_terms(desk, working.leaves_out)),
        );
    }
    pieces
}
