//! One plain sentence under the drawings: what a remedy that is looked at would do, what the last change did, or what is seen and one
//! thing to try.

use crate::desk::Desk;
use crate::piece::{Piece, classed, html};
use crate::rooms;
use crate::signal::Derived;
use drafting::Units;
use drafting::wording::sentence;
use planting::change::Land;

/// The sentence; empty until the words for it have come.
pub(crate) fn told(desk: Desk) -> Piece {
    let parts = Derived::new(move |_| {
        desk.news.track();
        let Some(words) = rooms::words::now() else { return Vec::new() };
        let (ground, units) = (desk.ground.get(), desk.units.get());
        let land = if units == Units::Us { Land::Acre } else { Land::Hectare };
        let parts = match (desk.preview.get(), desk.hand.before.get()) {
            (Some(looked_at), _) => (words.told)(&ground, &looked_at, land),
            (None, Some(before)) => (words.told)(&before, &ground, land),
            (None, None) => (words.seen)(&ground),
        };
        parts.iter().map(|part| sentence(part, units)).collect::<Vec<_>>()
    });
    let first = move || {
        let part = parts.with(|parts| parts.first().cloned().unwrap_or_default());
        match part.as_str() {
            "" => part,
            _ if desk.preview.with(Option::is_some) => format!("If taken: {part}"),
            _ => capital(&part),
        }
    };
    let more = move || {
        parts.with(|parts| match parts.as_slice() {
            [] => String::new(),
            [_] => ".".to_owned(),
            [_, second, ..] => format!("; {second}."),
        })
    };
    classed("p", "rl-told")
        .is("is-change", move || desk.hand.is_traced.get())
        .with(html("b").reads(first))
        .reads(more)
}

/// A sentence with its first letter as a capital.
fn capital(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map(|first| first.to_ascii_uppercase().to_string()).unwrap_or_default() + letters.as_str()
}
