//! Every figure of the plan under its head, each with its working.

use crate::desk::Desk;
use crate::dial::Spot;
use crate::dial::exact;
use crate::piece::{Piece, button, classed, html};
use crate::signal::{Memo, RwSignal};
use crate::working::{certainty_class, reading, working};
use planting::{Certainty, Subject};
use web_sys::Event;

/// The list of figures.
pub(crate) fn figures(desk: Desk) -> Piece {
    classed("section", "rl-figures")
        .set("aria-label", "All figures")
        .with(classed("h2", "rl-h2").text("All figures"))
        .with_all(Subject::ALL.into_iter().map(|subject| group(desk, subject)).collect())
}

fn group(desk: Desk, subject: Subject) -> Piece {
    let keys = Memo::new(move |_| {
        desk.plan.with(|plan| {
            let figures = plan.figures.iter().filter(|figure| figure.subject == subject);
            figures.map(|figure| Spot::of(figure.key)).collect::<Vec<_>>()
        })
    });
    classed("details", "rl-subject")
        .marked("hidden", move || keys.with(Vec::is_empty))
        .with(classed("summary", "rl-group-head").text(subject.label()))
        .with(classed("ul", "rl-figure-list").each(move || keys.get(), move |spot| vec![row(desk, spot.key)]))
}

fn row(desk: Desk, key: &'static str) -> Piece {
    let now = reading(desk, key);
    let open = RwSignal::new(false);
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
