//! The headline figures in one strip; each opens its working.

use crate::browser::bring;
use crate::chapter::Chapter;
use crate::desk::Desk;
use crate::dial::exact;
use crate::piece::{Piece, button, classed, html};
use crate::signal::{Memo, RwSignal, watch};
use crate::working::{reading, working};
use drafting::Units;
use planting::{Certainty, Severity};
use web_sys::{Event, KeyboardEvent, ScrollLogicalPosition};

/// One figure of the strip: its key in either unit system, the few words over it, and whether it is
/// among those a narrow screen has room for.
struct Headline {
    us: &'static str,
    metric: &'static str,
    words: [&'static str; 2],
    always: bool,
}

const LAYOUT: [Headline; 6] = [
    Headline {
        us: "trees_per_acre",
        metric: "trees_per_hectare",
        words: ["Trees per acre", "Trees per hectare"],
        always: true,
    },
    Headline {
        us: "trees_in_block",
        metric: "trees_in_block",
        words: ["Trees in the block"; 2],
        always: false,
    },
    Headline { us: "canopy_fill", metric: "canopy_fill", words: ["Canopy fill"; 2], always: true },
    Headline { us: "years_to_fill", metric: "years_to_fill", words: ["Row closes, year"; 2], always: true },
    Headline { us: "clear_alley", metric: "clear_alley", words: ["Clear alley"; 2], always: false },
    Headline {
        us: "yearly_excess_share",
        metric: "yearly_excess_share",
        words: ["Pruned each year"; 2],
        always: false,
    },
];

const LIGHT: [Headline; 6] = [
    Headline {
        us: "light_intercepted",
        metric: "light_intercepted",
        words: ["Light caught"; 2],
        always: true,
    },
    Headline {
        us: "crown_under_flowering_light",
        metric: "crown_under_flowering_light",
        words: ["Crown too dark to flower"; 2],
        always: true,
    },
    Headline {
        us: "light_lowest_third",
        metric: "light_lowest_third",
        words: ["Light, lowest third"; 2],
        always: true,
    },
    Headline { us: "light_floor", metric: "light_floor", words: ["Light on the alley"; 2], always: false },
    Headline {
        us: "light_self_shading",
        metric: "light_self_shading",
        words: ["Of the most it could"; 2],
        always: false,
    },
    Headline {
        us: "trees_per_acre",
        metric: "trees_per_hectare",
        words: ["Trees per acre", "Trees per hectare"],
        always: false,
    },
];

fn headlines(chapter: Chapter) -> &'static [Headline] {
    match chapter {
        Chapter::Layout => &LAYOUT,
        Chapter::Light => &LIGHT,
    }
}

/// The strip.
pub(crate) fn strip(desk: Desk) -> Piece {
    let open = RwSignal::new(None::<&'static str>);
    // The figure per acre becomes the figure per hectare with the units, its open working too.
    watch(
        move || {
            desk.units.track();
            desk.chapter.track();
        },
        move || open.set(None),
    );
    let heading = move |key: &'static str| {
        desk.plan.with(|plan| plan.figure(key).map(|figure| figure.label)).unwrap_or_default()
    };
    let cells =
        move || headlines(desk.chapter.get()).iter().map(|headline| cell(desk, headline, open)).collect();
    let sheet = move |key: &'static str| {
        let head =
            classed("div", "rl-sheet-head").with(html("b").reads(move || heading(key).to_owned())).with(
                button("rl-button")
                    .set("data-action", "working-close")
                    .on("click", move |_: Event| open.set(None))
                    .text("Close"),
            );
        classed("div", "rl-sheet")
            .set("id", &desk.id("working"))
            .set("role", "region")
            .says("aria-label", move || format!("Working of {}", heading(key)))
            .with(head)
            .with(working(desk, key))
    };
    classed("section", "rl-strip")
        .set("aria-label", "Headline figures")
        .on("keydown", move |event: KeyboardEvent| {
            if event.key() == "Escape" {
                open.set(None);
            }
        })
        .with(classed("div", "rl-figures-row").shows(cells).with(tally(desk)))
        .shows(move || open.get().map(sheet).into_iter().collect())
}

fn cell(desk: Desk, headline: &'static Headline, open: RwSignal<Option<&'static str>>) -> Piece {
    let key = Memo::new(move |_| match desk.units.get() {
        Units::Us => headline.us,
        Units::Metric => headline.metric,
    });
    let words = move || match desk.units.get() {
        Units::Us => headline.words[0],
        Units::Metric => headline.words[1],
    };
    let (us, metric) = (reading(desk, headline.us), reading(desk, headline.metric));
    let now = Memo::new(move |_| if key.get() == headline.us { us.get() } else { metric.get() });
    let text = move || now.get().map(|reading| headline_text(&reading.text)).unwrap_or_default();
    let modelled = move || {
        now.with(|reading| reading.as_ref().is_some_and(|reading| reading.certainty == Certainty::Assumption))
    };
    let value = classed("span", "rl-headline-value")
        .is("is-words", move || {
            now.with(|reading| reading.as_ref().is_some_and(|reading| reading.value.is_none()))
        })
        .says("data-figure", move || key.get().to_owned())
        .may_say("data-value", move || now.with(|reading| reading.as_ref()?.value).map(exact))
        .reads(text);
    button("rl-headline")
        .is("is-extra", move || !headline.always)
        .says("aria-expanded", move || (open.get() == Some(key.get())).to_string())
        .set("aria-controls", &desk.id("working"))
        .on("click", move |_: Event| {
            open.update(|open| {
                let key = key.get_untracked();
                *open = (*open != Some(key)).then_some(key);
            });
        })
        .with(classed("span", "rl-headline-words").reads(move || words().to_owned()))
        .with(value)
        .with(
            classed("span", "rl-headline-note")
                .reads(move || if modelled() { "modelled".to_owned() } else { String::new() }),
        )
}

/// The value without the land it is said for: the words over it say that already.
fn headline_text(text: &str) -> String {
    ["/acre", "/ha"].iter().find_map(|land| text.strip_suffix(land)).unwrap_or(text).to_owned()
}

/// How many findings there are; goes to the list.
fn tally(desk: Desk) -> Piece {
    let counts = Memo::new(move |_| {
        desk.plan.with(|plan| {
            [Severity::Fix, Severity::Caution, Severity::Note]
                .map(|severity| plan.advice.iter().filter(|advice| advice.severity == severity).count())
        })
    });
    let words = move || {
        let [fix, caution, note] = counts.get();
        match (fix, caution, note) {
            (0, 0, 0) => "nothing to fix".to_owned(),
            (0, 0, note) => format!("{note} to note"),
            (0, caution, _) => format!("{caution} to weigh"),
            (fix, ..) => format!("{fix} to fix"),
        }
    };
    let mood = move || match counts.get() {
        [0, 0, _] => "calm",
        [0, ..] => "caution",
        _ => "fix",
    };
    let sum = move || counts.get().iter().sum::<usize>();
    button("rl-headline rl-tally")
        .set("data-action", "advice")
        .says("data-mood", move || mood().to_owned())
        .on("click", move |_: Event| {
            if let Ok(Some(list)) = desk.host().query_selector(".rl-advice") {
                bring(&list, ScrollLogicalPosition::Start);
            }
        })
        .with(classed("span", "rl-headline-words").text("Findings"))
        .with(classed("span", "rl-headline-value").reads(move || sum().to_string()))
        .with(classed("span", "rl-headline-note").reads(words))
}
