//! What is known of the rootstock chosen.

use crate::desk::Desk;
use crate::fetching::{awaited, is_here};
use crate::piece::{Piece, classed, folded, html, text};
use crate::rooms;
use crate::signal::{Derived, State};
use crate::terms::with_terms;
use drafting::measure::write;
use planting::{Kind, Quantity, parameter};
use web_sys::Event;

/// The words for a tolerance class as printed.
fn class_in_words(class: &str) -> &'static str {
    match class {
        "VR" => "very resistant",
        "R" => "resistant",
        "T" => "tolerant",
        "T partial" => "partly tolerant",
        "S" => "susceptible",
        "low" => "few",
        "medium" => "some",
        "high" => "many",
        _ => "no entry",
    }
}

pub(super) fn card(desk: Desk) -> Piece {
    let rootstock = Derived::new(move |_| desk.scenario.with(|scenario| scenario.canopy.rootstock));
    let here = is_here(desk, "words");
    let known = move || {
        let Some(words) = rooms::words::now().filter(|_| here.get()) else { return awaited(desk, "words") };
        let stock = (words.stock)(rootstock.get());
        let (low, high) = stock.seedling_percent;
        let size = if low == high { format!("{low} %") } else { format!("{low} to {high} %") };
        let vigour = write(stock.relative_trunk_area, Quantity::Ratio, desk.units.get());
        let fact = |name: Vec<Piece>, words: &str| [html("dt").with_all(name), html("dd").text(words)];
        let facts = [
            fact(vec![text("Size, seedling tree 100 %")], &size),
            fact(with_terms(desk, "Trunk area, M.9 T337 is 1"), &vigour),
            fact(vec![text("Support")], stock.support.label()),
        ];
        let tolerances = stock.tolerance.map(|tolerance| {
            [
                ("Fire blight", tolerance.fire_blight),
                ("Collar and crown rot", tolerance.phytophthora),
                ("Replant complex", tolerance.replant),
                ("Woolly apple aphid", tolerance.woolly_aphid),
                ("Burr knots", tolerance.burr_knots),
            ]
        });
        let tolerance = |(name, class): (&str, &str)| {
            classed("li", "rl-tolerance")
                .set("data-class", class)
                .with(html("span").text(name))
                .with(html("b").text(class_in_words(class)))
        };
        let mut pieces = vec![
            classed("dl", "rl-facts").with_all(facts.into_iter().flatten().collect()),
            classed("ul", "rl-tolerances")
                .with_all(tolerances.into_iter().flatten().map(tolerance).collect()),
        ];
        if tolerances.is_none() {
            pieces.push(classed("p", "rl-quiet").text("No tolerance classes were printed."));
        }
        if !stock.caution.is_empty() {
            pieces.push(classed("p", "rl-caution").with_all(with_terms(desk, stock.caution)));
        }
        pieces.push(classed("p", "rl-quiet").text(&format!(
            "Size: {}. Vigour: {}. Classes: Ontario crop protection hub.",
            stock.size_source.citation, stock.vigour_source.citation
        )));
        pieces
    };
    let name = move || {
        let label = rootstock_label(desk);
        format!("About {label}")
    };
    let open = State::new(false);
    folded("rl-card", open)
        .set("data-card", "rootstock")
        .on("toggle", |_: Event| rooms::ask("words"))
        .with(html("summary").reads(name))
        .shows(move || if open.get() { known() } else { Vec::new() })
}

fn rootstock_label(desk: Desk) -> &'static str {
    let Some(Kind::Choice(list)) = parameter("rootstock").map(|parameter| parameter.kind) else { return "" };
    let key = desk.scenario.with(|scenario| (list.get)(scenario));
    (list.options)().into_iter().find(|(option, _)| *option == key).map_or("", |(_, label)| label)
}
