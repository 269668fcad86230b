//! Every figure of the plan under its head, each with its working.

use crate::desk::Desk;
use crate::dial::ItemKey;
use crate::dial::exact;
use crate::piece::{Piece, button, classed, folded, html};
use crate::signal::{Derived, State};
use crate::working::{certainty_class, reading, working};
use planting::kit::figure::subjects;
use planting::{Certainty, Subject};
use web_sys::Event;

/// The list of figures.
pub(crate) fn figures(desk: Desk) -> Piece {
    let heads = move || subjects(&desk.figures());
    let spots = Derived::new(move |_| heads().iter().map(|head| ItemKey::of(head.key)).collect::<Vec<_>>());
    let made = move |spot: ItemKey| {
        let head = heads().into_iter().find(|head| head.key == spot.key);
        head.map(|head| group(desk, head)).into_iter().collect()
    };
    classed("section", "rl-figures")
        .set("aria-label", "All figures")
        .with(classed("h2", "rl-h2").text("All figures"))
        // A group that stands open stays so when another comes or goes.
        .with(html("div").each(move || spots.get(), made))
}

fn group(desk: Desk, subject: Subject) -> Piece {
    // Rows that nobody sees are not made: the list is long, and each of its numbers would follow every slider.
    let open = State::new(false);
    let keys = Derived::new(move |_| {
        let figures = if open.get() { desk.figures() } else { Vec::new() };
        let under = figures.iter().filter(|figure| figure.subject == subject);
        under.map(|figure| ItemKey::of(figure.key)).collect::<Vec<_>>()
    });
    folded("rl-subject", open).with(classed("summary", "rl-group-head").text(subject.label)).with(
        classed("ul", "rl-figure-list")
            .each(move || keys.get(), move |item_key| vec![row(desk, item_key.key)]),
    )
}

fn row(desk: Desk, key: &'static str) -> Piece {
    let now = reading(desk, key);
    let open = State::new(false);
    let certainty = move || {
        now.with(|reading| reading.as_ref().map_or(Certainty::Assumption, |reading| reading.certainty))
    };
    let label = move || now.with(|reading| reading.as_ref().map_or("", |reading| reading.label).to_owned());
    let value = classed("span", "rl-number")
        .set("data-figure", key)
        .may_say("data-value", move || now.with(|reading| reading.as_ref()?.value).map(exact))
        .reads(move || now.get().map(|reading| reading.text).unwrap_or_default());
    let chip = html("span")
        .says("class", move || certainty_class(certainty()))
        .reads(move || certainty().label().to_owned());
    let head = button("rl-figure-row")
        .says("aria-expanded", move || open.get().to_string())
        .on("click", move |_: Event| open.update(|open| *open = !*open))
        .with(classed("span", "rl-figure-label").reads(label))
        .with(value)
        .with(chip);
    classed("li", "rl-figure")
        .with(head)
        .shows(move || if open.get() { vec![working(desk, key)] } else { Vec::new() })
}
