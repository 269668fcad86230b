//! What is known about an input: what it means, its range, what it starts at and who says so.

use crate::desk::Desk;
use crate::piece::{Piece, Words, button, classed, html};
use crate::signal::RwSignal;
use crate::terms::with_terms;
use crate::working::certainty_chip;
use planting::Parameter;
use web_sys::Event;

/// The changing parts of what is known.
#[derive(Clone)]
pub(super) struct About {
    pub(super) range: Words,
    pub(super) starts_at: Words,
}

pub(super) fn about_button(desk: Desk, parameter: &'static Parameter, open: RwSignal<bool>) -> Piece {
    button("rl-about-button")
        .set("aria-label", &format!("About {}", parameter.label))
        .says("aria-expanded", move || open.get().to_string())
        .set("aria-controls", &desk.id(&format!("about-{}", parameter.key)))
        .on("click", move |_: Event| open.update(|open| *open = !*open))
        .with(html("span").set("aria-hidden", "true").text("?"))
}

pub(super) fn about(desk: Desk, parameter: &'static Parameter, open: RwSignal<bool>, about: About) -> Piece {
    let follows = if parameter.follows_system { ", from the training system." } else { "." };
    let known = move || {
        let (range, starts_at) = (about.range.clone(), about.starts_at.clone());
        let source = parameter.source;
        vec![
            html("p").with_all(with_terms(desk, parameter.help)),
            classed("p", "rl-quiet")
                .reads(move || range())
                .text(". Starts at ")
                .reads(move || starts_at())
                .text(follows),
            classed("p", "rl-quiet")
                .with_all(with_terms(desk, source.citation))
                .text(" ")
                .with(certainty_chip(source.certainty)),
        ]
    };
    classed("div", "rl-about")
        .set("id", &desk.id(&format!("about-{}", parameter.key)))
        .marked("hidden", move || !open.get())
        .shows(move || if open.get() { known() } else { Vec::new() })
}
