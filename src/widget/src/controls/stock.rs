//! What is known of the rootstock chosen.

use crate::desk::Desk;
use crate::piece::{Piece, classed, html, text};
use crate::signal::Memo;
use crate::terms::with_terms;
use drafting::measure::write;
use planting::scenario::registry::Kind;
use planting::{Quantity, parameter};

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
    let rootstock = Memo::new(move |_| desk.scenario.with(|scenario| scenario.rootstock));
    let known = move || {
        let stock = rootstock.get().stock();
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
    classed("details", "rl-card").set("data-card", "rootstock").with(html("summary").reads(name)).shows(known)
}

fn rootstock_label(desk: Desk) -> &'static str {
    let Some(Kind::Choice(list)) = parameter("rootstock").map(|parameter| parameter.kind) else { return "" };
    let key = desk.scenario.with(|scenario| (list.get)(scenario));
    (list.options)().into_iter().find(|(option, _)| *option == key).map_or("", |(_, label)| label)
}
