//! The working behind a figure: formula, the numbers put in, who says so, how sure, what is left out.

use crate::browser::focus;
use crate::desk::Desk;
use crate::piece::{Piece, classed, html, text};
use crate::reactive::*;
use crate::rooms;
use crate::signal::{Derived, State};
use crate::terms::with_terms;
use drafting::measure::write;
use drafting::wording;
use planting::{Certainty, Figure, Working};

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
pub(crate) fn reading(desk: Desk, key: &'static str) -> Derived<Option<Reading>> {
    Derived::new(move |_| {
        let units = desk.units.get();
        desk.figure(key).map(|figure| Reading {
            text: wording::value(&figure, units),
            label: figure.label,
            value: figure.value,
            certainty: figure.certainty,
        })
    })
}

/// The working of a figure, as it stands. The words come in a file of their own, fetched when they are first asked for.
pub(crate) fn working(desk: Desk, key: &'static str) -> Piece {
    rooms::ask("words");
    // Numbers change with every step of a slider. The words around them stay, and with them the focus.
    let found = move || Some((desk.figure(key)?, desk.working(key)?));
    let words = Derived::new(move |_| {
        found().map_or_else(|| missing(desk), |(figure, working)| words_of(&figure, &working))
    });
    let pieces = move || {
        let words = words.get();
        match untrack(found) {
            Some((figure, working)) => body(desk, &figure, &working),
            None => vec![classed("p", "rl-quiet").text(&words)],
        }
    };
    classed("div", "rl-working").set("data-working", key).shows(pieces)
}

/// What stands in place of words that haven't come.
fn missing(desk: Desk) -> String {
    desk.news.track();
    rooms::missed("words").unwrap_or_else(|| "\u{2026}".to_owned())
}

/// Closes the working in the strip and puts the focus back on the button of its figure.
pub(crate) fn close(desk: Desk, open: State<Option<&'static str>>) {
    // The button of the open working is the one marked as expanded.
    focus(&desk.host(), ".rl-headline[aria-expanded=true]");
    open.set(None);
}

/// All words of a working as one text. When it changes, the working is made anew; when only numbers change, it is not.
fn words_of(figure: &Figure, working: &Working) -> String {
    let mut words = [working.formula, working.source.citation, working.leaves_out, figure.label].join("\n");
    for term in &working.terms {
        words.push_str(term.symbol);
        words.push_str(term.meaning);
    }
    words
}

fn body(desk: Desk, figure: &Figure, working: &Working) -> Vec<Piece> {
    let key = figure.key;
    let line = |symbol: &str, value: Piece, meaning: Vec<Piece>| {
        html("tr")
            .with(html("th").set("scope", "row").text(symbol))
            .with(value)
            .with(html("td").with_all(meaning))
    };
    let cell = || classed("td", "rl-number");
    let number = move |place: usize| {
        let term = desk.working(key).and_then(|working| working.terms.get(place).copied());
        term.map(|term| write(term.value, term.quantity, desk.units.get())).unwrap_or_default()
    };
    let result =
        move || desk.figure(key).map(|figure| wording::value(&figure, desk.units.get())).unwrap_or_default();
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
