//! The sheet set as HTML: drawings at true scale, one a page, and the pages of text after them.
//!
//! Text only, no browser: a plan, units and paper in, HTML out.

use drafting::measure::write;
use drafting::packet::{self, Paper};
use drafting::svg::{PaperUnit, document};
use drafting::wording::{sentence, terms, value};
use drafting::{Units, View};
use planting::scenario::registry::Kind;
use planting::{Certainty, Choice, Figure, Group, Parameter, Plan, Quantity, REGISTRY, Source, Subject};
use std::fmt::Write;

/// The figures a nursery and a supplier are asked for.
const ORDERS: [&str; 11] = [
    "trees_in_block",
    "line_posts",
    "end_posts",
    "end_post_length",
    "brace_posts",
    "brace_rails",
    "anchors",
    "guy_wire",
    "wire_ordered",
    "wire_coils",
    "tensioners",
];

/// What every plan is handed over with.
const CAUTIONS: [(&str, &str); 6] = [
    (
        "What this is",
        "Planning estimate, not a design. Follow local codes, makers\u{2019} ratings and soil tests; have a licensed engineer check posts, anchors and any net.",
    ),
    (
        "Before you dig",
        "Call the utility-marking service (811 in the United States) before driving posts or setting anchors. Mind drain tile and irrigation lines, and keep well clear of overhead lines with posts, augers and drivers.",
    ),
    (
        "Treated wood",
        "Use posts treated for ground contact. Wear gloves, and a dust mask when cutting; never burn offcuts. Keep freshly treated posts that still bleed away from roots.",
    ),
    (
        "Wire under tension",
        "High-tensile wire recoils when it is cut, breaks or slips. Use a dispenser, protect eyes and hands, secure loose ends, never stand astride or in line with a wire being tensioned, and set anchors before loading them.",
    ),
    (
        "Machines",
        "Post drivers and augers: one trained operator, shields on, everybody else well away. Lift posts and coils with a machine or in a team.",
    ),
    (
        "Labels and permits",
        "Sprays follow their labels; water, wells and building follow the permits of the place. This plan checks none of them.",
    ),
];

/// The whole set.
pub(super) fn sheets(plan: &Plan, units: Units, paper: Paper) -> String {
    let mut out = String::new();
    for view in View::ALL {
        let (sheet, _) = packet::drawing(view, plan, units, paper);
        let shape = if sheet.width > sheet.height { "rl-sheet-wide" } else { "rl-sheet-tall" };
        let _ = write!(
            out,
            "<section class=\"rl-print-page {shape} rl-paper-{}\">{}</section>",
            paper.key(),
            document(&sheet, PaperUnit::Millimetres)
        );
    }
    let heading = escape(&title(plan, units));
    let _ = write!(out, "<section class=\"rl-print-text\"><h1>{heading}</h1>");
    let _ = write!(out, "<p class=\"rl-print-lead\">{}</p>", escape(CAUTIONS[0].1));
    key_figures(&mut out, plan, units);
    orders(&mut out, plan, units);
    findings(&mut out, plan, units);
    cautions(&mut out, plan);
    out.push_str("</section><section class=\"rl-print-text\">");
    assumptions(&mut out, plan, units);
    workings(&mut out, plan, units);
    out.push_str("</section>");
    out
}

fn title(plan: &Plan, units: Units) -> String {
    let scenario = &plan.scenario;
    let length = |length: f64| write(length, Quantity::Length, units);
    format!(
        "{} on {}, {} × {}, year {}",
        scenario.system.label(),
        scenario.rootstock.label(),
        length(scenario.in_row_spacing.value),
        length(scenario.row_width.value),
        write(scenario.year, Quantity::Years, units),
    )
}

fn how_sure(source: Source) -> &'static str {
    match source.certainty {
        Certainty::Assumption => "assumption (modelled)",
        other => other.label(),
    }
}

fn key_figures(out: &mut String, plan: &Plan, units: Units) {
    out.push_str("<h2>Figures</h2><table class=\"rl-print-table\">");
    for subject in Subject::ALL {
        let figures: Vec<&Figure> = plan.figures.iter().filter(|figure| figure.subject == subject).collect();
        if figures.is_empty() {
            continue;
        }
        let _ = write!(
            out,
            "<tbody><tr><th colspan=\"3\" scope=\"rowgroup\">{}</th></tr>",
            escape(subject.label())
        );
        for figure in figures {
            row(out, [figure.label, &value(figure, units), how_sure(figure.working.source)]);
        }
        out.push_str("</tbody>");
    }
    out.push_str("</table>");
}

fn orders(out: &mut String, plan: &Plan, units: Units) {
    let scenario = &plan.scenario;
    let thick = |diameter: f64| write(diameter, Quantity::SmallLength, units);
    out.push_str("<h2>Trees and posts to order</h2><table class=\"rl-print-table\"><tbody>");
    for figure in ORDERS.iter().filter_map(|key| plan.figure(key)) {
        let note = match figure.key {
            "trees_in_block" => format!("{}, no spares counted", scenario.rootstock.label()),
            "line_posts" => format!(
                "{} long, {} thick at the ground",
                write(scenario.post_length.value, Quantity::Length, units),
                thick(scenario.line_post_diameter.value)
            ),
            "end_posts" => format!("{} thick at the ground", thick(scenario.end_post_diameter.value)),
            _ => how_sure(figure.working.source).to_owned(),
        };
        row(out, [figure.label, &value(figure, units), &note]);
    }
    if let Some(stakes) = plan.figure("stakes") {
        row(out, [stakes.label, &value(stakes, units), how_sure(stakes.working.source)]);
    }
    out.push_str("</tbody></table>");
}

fn findings(out: &mut String, plan: &Plan, units: Units) {
    out.push_str("<h2>Findings</h2>");
    if plan.advice.is_empty() {
        out.push_str("<p>Nothing to fix in this plan.</p>");
    }
    for advice in &plan.advice {
        let _ = write!(
            out,
            "<p class=\"rl-print-item\"><b>{}: {}.</b> {} {} <small>{} ({}).</small></p>",
            escape(advice.severity.label()),
            escape(advice.title),
            escape(&sentence(&advice.finding, units)),
            escape(&sentence(&advice.remedy, units)),
            escape(advice.source.citation),
            how_sure(advice.source),
        );
    }
}

fn cautions(out: &mut String, plan: &Plan) {
    out.push_str("<h2>Cautions</h2>");
    for (head, words) in CAUTIONS {
        let _ = write!(out, "<p class=\"rl-print-item\"><b>{}.</b> {}</p>", escape(head), escape(words));
    }
    let stock = plan.scenario.rootstock.stock();
    if !stock.caution.is_empty() {
        let name = plan.scenario.rootstock.label();
        let _ = write!(
            out,
            "<p class=\"rl-print-item\"><b>Rootstock {}.</b> {}</p>",
            escape(name),
            escape(stock.caution)
        );
    }
}

fn assumptions(out: &mut String, plan: &Plan, units: Units) {
    out.push_str(
        "<h2>What was put in</h2><table class=\"rl-print-table rl-print-inputs\"><thead><tr><th>Input</th><th>Value</th><th>Where the default comes from</th></tr></thead>",
    );
    for group in Group::ALL {
        let _ = write!(
            out,
            "<tbody><tr><th colspan=\"3\" scope=\"rowgroup\">{}</th></tr>",
            escape(group.label())
        );
        for parameter in REGISTRY.iter().filter(|parameter| parameter.group == group) {
            let source = format!("{} ({})", parameter.source.citation, how_sure(parameter.source));
            row(out, [parameter.label, &set_value(parameter, plan, units), &source]);
        }
        out.push_str("</tbody>");
    }
    out.push_str("</table>");
}

/// What a parameter is set to, in words.
fn set_value(parameter: &Parameter, plan: &Plan, units: Units) -> String {
    let scenario = &plan.scenario;
    match parameter.kind {
        Kind::Number(number) => write((number.get)(scenario), number.quantity, units),
        Kind::Choice(list) => {
            let key = (list.get)(scenario);
            (list.options)()
                .into_iter()
                .find(|(option, _)| *option == key)
                .map_or(key, |(_, label)| label)
                .to_owned()
        }
        Kind::Lengths(lengths) => {
            let heights = (lengths.get)(scenario);
            let words: Vec<String> =
                heights.iter().map(|height| write(height.value, Quantity::Length, units)).collect();
            if words.is_empty() { "none".to_owned() } else { words.join(", ") }
        }
    }
}

fn workings(out: &mut String, plan: &Plan, units: Units) {
    out.push_str("<h2>How the figures came about</h2>");
    for figure in &plan.figures {
        let working = &figure.working;
        let _ = write!(
            out,
            "<div class=\"rl-print-working\"><p><b>{}: {}</b></p><p class=\"rl-print-formula\">{}</p><p>{}</p><p><small>{} ({}).{}</small></p></div>",
            escape(figure.label),
            escape(&value(figure, units)),
            escape(working.formula),
            escape(&terms(figure, units).join("; ")),
            escape(working.source.citation),
            how_sure(working.source),
            if working.leaves_out.is_empty() {
                String::new()
            } else {
                format!(" Leaves out: {}", escape(working.leaves_out))
            },
        );
    }
}

fn row(out: &mut String, cells: [&str; 3]) {
    let [head, middle, last] = cells.map(escape);
    let _ = write!(out, "<tr><td>{head}</td><td class=\"rl-print-value\">{middle}</td><td>{last}</td></tr>");
}

fn escape(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::*;
    use planting::{Scenario, plan};

    #[test]
    fn every_input_and_figure_is_printed() {
        for units in [Units::Us, Units::Metric] {
            let plan = plan(&Scenario::default()).unwrap();
            let set = sheets(&plan, units, Paper::Letter);
            for figure in &plan.figures {
                assert!(set.contains(&escape(&value(figure, units))), "{}", figure.key);
            }
            for parameter in REGISTRY {
                assert!(set.contains(&escape(&set_value(parameter, &plan, units))), "{}", parameter.key);
            }
            assert_eq!(set.matches("<svg").count(), 3);
            assert!(!set.contains("style="), "inline styles are dropped by the policy");
        }
    }
}
