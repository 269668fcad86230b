//! The bar of chapters in the head, the switch over lit drawings, and what is said of the chapter turned to.

use crate::chapter::Chapter;
use crate::desk::Desk;
use crate::piece::{Piece, button, classed};
use crate::rooms;
use crate::signal::Derived;
use drafting::Daylight;
use web_sys::Event;

/// The bar that turns from chapter to chapter.
pub(crate) fn chapter_bar(desk: Desk) -> Piece {
    let chapters = Chapter::all().map(|chapter| {
        button("rl-chapter")
            .set("data-action", &format!("chapter-{}", chapter.key()))
            .marked("hidden", move || {
                desk.face.with(|face| face.chapters.len() == 1 || !face.chapters.contains(&chapter))
            })
            .may_say("aria-current", move || (desk.chapter.get() == chapter).then(|| "page".to_owned()))
            .on("click", move |_: Event| {
                desk.hand.forget();
                desk.chapter.set(chapter);
            })
            .text(chapter.label())
    });
    classed("nav", "rl-chapters").set("aria-label", "Chapters").with_all(chapters.collect())
}

/// The switch between the light of the season and of an hour, in chapters whose drawings are lit.
pub(crate) fn daylight_switch(desk: Desk) -> Piece {
    classed("div", "rl-switch rl-daylight")
        .set("role", "group")
        .set("aria-label", "Light shown")
        .marked("hidden", move || !desk.chapter.get().is_lit())
        .with(side(desk, Daylight::Season, "season", "Season"))
        .with(side(desk, Daylight::Hour, "hour", "Date and hour"))
}

fn side(desk: Desk, light: Daylight, key: &str, name: &str) -> Piece {
    button("rl-switch-side")
        .set("data-action", &format!("daylight-{key}"))
        .says("aria-pressed", move || (desk.daylight.get() == light).to_string())
        .on("click", move |_: Event| desk.daylight.set(light))
        .text(name)
}

/// What the figures and drawings of the chapter leave out, once its room has come.
pub(crate) fn caveat(desk: Desk) -> Piece {
    let words = Derived::new(move |_| {
        desk.news.track();
        rooms::chapter_room(desk.chapter.get().key()).and_then(|room| room.caveat)
    });
    classed("p", "rl-limits")
        .marked("hidden", move || words.get().is_none())
        .reads(move || words.get().unwrap_or_default().to_owned())
}
