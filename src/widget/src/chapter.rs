//! The chapters of the page: what is drawn, which figures lead, which controls stand open.
//!
//! Layout shows the planting to scale; Canopy and light shows what the sun does in it, over the season or
//! at one hour. The plan is one and the same.

use crate::desk::Desk;
use crate::piece::{Piece, button, classed};
use drafting::{Daylight, View};
use planting::Group;
use web_sys::Event;

/// A chapter.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Chapter {
    /// The planting, to scale.
    #[default]
    Layout,
    /// Canopy and light.
    Light,
}

impl Chapter {
    /// All, in the order of the work.
    pub(crate) const ALL: [Chapter; 2] = [Chapter::Layout, Chapter::Light];

    /// Stable key.
    pub(crate) fn key(self) -> &'static str {
        match self {
            Chapter::Layout => "layout",
            Chapter::Light => "light",
        }
    }

    /// The name shown.
    pub(crate) fn label(self) -> &'static str {
        match self {
            Chapter::Layout => "Layout",
            Chapter::Light => "Canopy and light",
        }
    }

    /// The chapter with this key.
    pub(crate) fn of(key: &str) -> Option<Chapter> {
        Chapter::ALL.into_iter().find(|chapter| chapter.key() == key)
    }

    /// The drawings it shows, in reading order.
    pub(crate) fn views(self) -> &'static [View] {
        match self {
            Chapter::Layout => &[View::Section, View::Elevation, View::Plan],
            Chapter::Light => &[View::Section, View::Plan, View::Pair, View::Years],
        }
    }

    /// The controls that stand open from the start; the rest waits folded.
    pub(crate) fn opens(self, group: Group) -> bool {
        match self {
            Chapter::Layout => matches!(group, Group::Spacing | Group::Trees),
            Chapter::Light => matches!(group, Group::Spacing | Group::Light),
        }
    }
}

/// The bar that turns from chapter to chapter, and in the light from season to hour.
pub(crate) fn chapter_bar(desk: Desk) -> Piece {
    let chapters = Chapter::ALL.into_iter().map(|chapter| {
        button("rl-chapter")
            .set("data-action", &format!("chapter-{}", chapter.key()))
            .marked("hidden", move || {
                desk.face.with(|face| face.chapters.len() == 1 || !face.chapters.contains(&chapter))
            })
            .may_say("aria-current", move || (desk.chapter.get() == chapter).then(|| "page".to_owned()))
            .on("click", move |_: Event| desk.chapter.set(chapter))
            .text(chapter.label())
    });
    let daylight = classed("div", "rl-switch rl-daylight")
        .set("role", "group")
        .set("aria-label", "Light shown")
        .marked("hidden", move || desk.chapter.get() != Chapter::Light)
        .with(side(desk, Daylight::Season, "season", "Season"))
        .with(side(desk, Daylight::Hour, "hour", "Date and hour"));
    classed("nav", "rl-chapters").set("aria-label", "Chapters").with_all(chapters.collect()).with(daylight)
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
        .marked("hidden", move || desk.chapter.get() != Chapter::Light)
        .text(
            "Modelled for leaves alone: light scattered by leaves and ground, uneven leaves within the crown, sloping ground and posts are left out, \
             so shares read 5 to 15 points below light meters in the field. Compare plans with each other, not with a meter.",
        )
}
