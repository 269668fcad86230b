//! What is known about an input: what it means, its range, what it starts at and who says so.

use crate::desk::Desk;
use crate::fetching::{awaited, is_here};
use crate::piece::{LiveText, Piece, button, classed, html};
use crate::rooms;
use crate::signal::State;
use crate::terms::with_terms;
use crate::working::certainty_chip;
use planting::manifest::{self, CHAPTERS};
use planting::{Note, Parameter};
use web_sys::Event;

/// The texts about an input that change with the reader's units or with the training system.
#[derive(Clone)]
pub(super) struct About {
    pub(super) range: LiveText,
    pub(super) starts_at: LiveText,
}

pub(super) fn about_button(desk: Desk, parameter: &'static Parameter, open: State<bool>) -> Piece {
    button("rl-about-button")
        .set("aria-label", &format!("About {}", parameter.label))
        .says("aria-expanded", move || open.get().to_string())
        .set("aria-controls", &desk.id(&format!("about-{}", parameter.key)))
        .on("click", move |_: Event| {
            open.update(|open| *open = !*open);
            rooms::ask(note_file(parameter));
        })
        .with(html("span").set("aria-hidden", "true").text("?"))
}

pub(super) fn about(desk: Desk, parameter: &'static Parameter, open: State<bool>, about: About) -> Piece {
    let follows = if parameter.follows_system { ", from the training system." } else { "." };
    let here = is_here(desk, note_file(parameter));
    let known = move || {
        let (range, starts_at) = (about.range.clone(), about.starts_at.clone());
        let Some(note) = note(parameter).filter(|_| here.get()) else {
            return awaited(desk, note_file(parameter));
        };
        let source = note.source;
        vec![
            html("p").with_all(with_terms(desk, note.help)),
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

/// The chapter that tells of an input, where that comes in a file of its own.
fn note_owner(parameter: &Parameter) -> Option<&'static manifest::Chapter> {
    CHAPTERS.iter().find(|chapter| chapter.file.is_some() && chapter.owns(parameter.code))
}

/// The name of the file with what is told of an input.
fn note_file(parameter: &Parameter) -> &'static str {
    note_owner(parameter).and_then(|chapter| chapter.file).unwrap_or("words")
}

/// What is told of an input; nothing before the file with it has come.
fn note(parameter: &Parameter) -> Option<Note> {
    match note_owner(parameter) {
        Some(chapter) => (rooms::chapter_room(chapter.key)?.note)(parameter.key),
        None => (rooms::words::now()?.note)(parameter.key),
    }
}
