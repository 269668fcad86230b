//! The headline figures in one strip; each opens its working.

use crate::browser::bring;
use crate::desk::Desk;
use crate::dial::exact;
use crate::piece::{Piece, button, classed, html};
use crate::signal::{Derived, State, when_changed};
use crate::working::{close, reading, working};
use drafting::Units;
use planting::manifest::Headline;
use planting::{Certainty, Severity};
use web_sys::{Event, KeyboardEvent, ScrollLogicalPosition};

/// The strip.
pub(crate) fn strip(desk: Desk) -> Piece {
    let open = State::new(None::<&'static str>);
    // With the units the figure per acre becomes another one, per hectare; a working that is open would stand for a figure that
    // isn't there any more.
    when_changed(
        move || {
            desk.units.track();
            desk.chapter.track();
        },
        move || open.set(None),
    );
    let heading = move |key: &'static str| desk.figure(key).map(|figure| figure.label).unwrap_or_default();
    let cells =
        move || desk.chapter.get().headlines().iter().map(|headline| cell(desk, headline, open)).collect();
    let sheet = move |key: &'static str| {
        let head =
            classed("div", "rl-sheet-head").with(html("b").reads(move || heading(key).to_owned())).with(
                button("rl-button")
                    .set("data-action", "working-close")
                    .on("click", move |_: Event| close(desk, open))
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
            if event.key() == "Escape" && open.get_untracked().is_some() {
                close(desk, open);
            }
        })
        .with(classed("div", "rl-figures-row").shows(cells).with(tally(desk)))
        .shows(move || open.get().map(sheet).into_iter().collect())
}

fn cell(desk: Desk, headline: &'static Headline, open: State<Option<&'static str>>) -> Piece {
    let key = Derived::new(move |_| match desk.units.get() {
        Units::Us => headline.us,
        Units::Metric => headline.metric,
    });
    let words = move || match desk.units.get() {
        Units::Us => headline.words[0],
        Units::Metric => headline.words[1],
    };
    let (us, metric) = (reading(desk, headline.us), reading(desk, headline.metric));
    let now = Derived::new(move |_| if key.get() == headline.us { us.get() } else { metric.get() });
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
        .is("is-extra", move || !headline.narrow)
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

/// The value without its unit of land ("/acre", "/ha"), which the words over it say already.
fn headline_text(text: &str) -> String {
    ["/acre", "/ha"].iter().find_map(|land| text.strip_suffix(land)).unwrap_or(text).to_owned()
}

/// A button that says how many findings there are, and scrolls to their list.
fn tally(desk: Desk) -> Piece {
    let counts = Derived::new(move |_| {
        desk.findings.with(|found| {
            [Severity::Fix, Severity::Caution, Severity::Price, Severity::Note]
                .map(|severity| found.iter().filter(|advice| advice.severity == severity).count())
        })
    });
    let words = move || {
        let [fix, caution, price, note] = counts.get();
        match (fix, caution, price + note) {
            (0, 0, 0) if !desk.has_looked() => "\u{2026}".to_owned(),
            (0, 0, 0) if !desk.has_looked_everywhere() => "none so far".to_owned(),
            (0, 0, 0) => "nothing to fix".to_owned(),
            (0, 0, rest) => format!("{rest} to note"),
            (0, caution, _) => format!("{caution} to weigh"),
            (fix, ..) => format!("{fix} to fix"),
        }
    };
    let mood = move || match counts.get() {
        [0, 0, ..] => "calm",
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
