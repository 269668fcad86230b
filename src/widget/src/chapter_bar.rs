//! The bar of chapters in the head, the switch over lit drawings, and what is said of the chapter of light.

use crate::chapter::Chapter;
use crate::desk::Desk;
use crate::piece::{Piece, button, classed};
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
            .on("click", move |_: Event| desk.chapter.set(chapter))
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

/// What the light shown leaves out.
pub(crate) fn light_limits(desk: Desk) -> Piece {
    classed("p", "rl-limits rl-light-limits")
        .marked("hidden", move || !desk.chapter.get().is_lit())
        .text(
            "Modelled for leaves alone: light scattered by leaves and ground, uneven leaves within the crown, sloping ground and posts are left out, \
             so shares read 5 to 15 points below light meters in the field. Compare plans with each other, not with a meter.",
        )
}
