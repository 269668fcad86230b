//! The sheet set as HTML: drawings at true scale, one a page, and the pages of text after them.
//!
//! Text only, no browser: a plan, units, paper and the day in, HTML and the rules of its pages out.

use drafting::measure::write;
use drafting::packet::{self, Lie, MARGINS, Paper};
use drafting::svg::{PaperUnit, document};
use drafting::title_block::Imprint;
use drafting::wording::{terms, value};
use drafting::{Units, order_list};
use planting::digits::plain;
use planting::scenario::registry::Kind;
use planting::{Certainty, Choice, Group, Parameter, Plan, Quantity, REGISTRY, Scenario, Source, Subject};
use std::fmt::Write;

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

/// The whole set, issued on `date`.
pub(super) fn sheets(plan: &Plan, units: Units, paper: Paper, date: &str) -> String {
    let title = title(plan, units);
    let mut out = String::new();
    for subject in packet::SET {
        let printed = packet::drawing(subject, plan, units, paper, Imprint { planting: &title, date });
        let lie = match printed.lie {
            Lie::Upright => "rl-upright",
            Lie::Flat => "rl-flat",
        };
        let drawing = document(&printed.sheet, PaperUnit::Millimetres);
        let _ = write!(out, "<section class=\"rl-print-page {lie}\">{drawing}</section>");
    }
    let _ = write!(
        out,
        "<section class=\"rl-print-text\"><h1>{}</h1><p class=\"rl-print-lead\">{} Issued {date}.</p>",
        escape(&title),
        escape(CAUTIONS[0].1)
    );
    key_figures(&mut out, plan, units);
    orders(&mut out, plan, units);
    findings(&mut out, plan, units);
    cautions(&mut out, plan);
    signatures(&mut out);
    assumptions(&mut out, plan, units);
    workings(&mut out, plan, units);
    out.push_str("</section>");
    out
}

/// The rules that give the pages their size, margins and numbers.
pub(super) fn page_rules(plan: &Plan, units: Units, paper: Paper) -> String {
    let (short, long) = paper.size();
    let (short, long) = (plain(short), plain(long));
    let [top, right, bottom, left] = MARGINS.map(plain);
    let title = title(plan, units);
    let font = "font:8pt Helvetica,Arial,'Liberation Sans',sans-serif;color:#000";
    format!(
        "@page{{size:{short}mm {long}mm;margin:{top}mm {right}mm {bottom}mm {left}mm;@bottom-left{{content:\"{title}\";{font}}}@bottom-right{{content:\"Sheet \" counter(page) \" of \" counter(pages);{font}}}}}@page rl-flat{{size:{long}mm {short}mm}}@page rl-text{{margin:{top}mm 15mm 14mm {left}mm}}",
    )
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
        Certainty::Assumption => "assumption, modelled",
        other => other.label(),
    }
}

/// A heading and the head of its table.
fn table(out: &mut String, heading: &str, class: &str, columns: &[&str]) {
    let _ = write!(out, "<h2>{heading}</h2><table class=\"rl-print-table {class}\"><thead><tr>");
    for column in columns {
        let _ = write!(out, "<th scope=\"col\">{column}</th>");
    }
    out.push_str("</tr></thead><tbody>");
}

/// A part of a table under a heading of its own.
fn subject(out: &mut String, label: &str, columns: usize) {
    let label = escape(label);
    let _ = write!(
        out,
        "</tbody><tbody><tr class=\"rl-print-subject\"><th colspan=\"{columns}\" scope=\"rowgroup\">{label}</th></tr>"
    );
}

fn row(out: &mut String, cells: &[&str]) {
    out.push_str("<tr>");
    for cell in cells {
        let _ = write!(out, "<td>{}</td>", escape(cell));
    }
    out.push_str("</tr>");
}

const END: &str = "</tbody></table>";

fn key_figures(out: &mut String, plan: &Plan, units: Units) {
    table(out, "Key figures", "rl-print-figures", &["Figure", "Value", "How sure"]);
    for head in Subject::ALL {
        let mut figures = plan.figures.iter().filter(|figure| figure.subject == head).peekable();
        if figures.peek().is_some() {
            subject(out, head.label(), 3);
        }
        for figure in figures {
            row(out, &[figure.label, &value(figure, units), how_sure(figure.working.source)]);
        }
    }
    out.push_str(END);
}

fn orders(out: &mut String, plan: &Plan, units: Units) {
    let columns = ["Item", "Quantity", "Size, or how counted", "Price each", "Amount"];
    table(out, "Trees and materials to order", "rl-print-orders", &columns);
    for line in order_list::lines(plan, units) {
        row(out, &[line.figure.label, &value(line.figure, units), &line.size, "", ""]);
    }
    out.push_str(END);
    out.push_str("<p><small>Counts are of this drawing; offcuts, spares and losses are the buyer\u{2019}s to add unless a line says otherwise.</small></p>");
}

fn item(out: &mut String, head: &str, words: &str, small: &str) {
    let (head, words, small) = (escape(head), escape(words), escape(small));
    let _ = write!(out, "<p class=\"rl-print-item\"><b>{head}.</b> {words} <small>{small}</small></p>");
}

fn findings(out: &mut String, plan: &Plan, units: Units) {
    out.push_str("<h2>Advice</h2>");
    if plan.advice.is_empty() {
        out.push_str("<p>Nothing to fix in this plan.</p>");
    }
    for advice in &plan.advice {
        item(
            out,
            &format!("{}: {}", advice.severity.label(), advice.title),
            &drafting::wording::advice(advice, units),
            &format!("{}; {}.", advice.source.citation, how_sure(advice.source)),
        );
    }
}

fn cautions(out: &mut String, plan: &Plan) {
    out.push_str("<h2>Cautions</h2>");
    for (head, words) in CAUTIONS {
        item(out, head, words, "");
    }
    let stock = plan.scenario.rootstock.stock();
    if !stock.caution.is_empty() {
        item(out, &format!("Rootstock {}", plan.scenario.rootstock.label()), stock.caution, "");
    }
}

fn signatures(out: &mut String) {
    out.push_str("<div class=\"rl-print-signatures\">");
    for who in ["Prepared by", "Grower", "Lender or supplier"] {
        let _ = write!(out, "<p>{who}: name, signature, date</p>");
    }
    out.push_str("</div>");
}

/// Where a parameter's setting comes from: the default, or the reader's change of it.
fn origin(parameter: &Parameter, plan: &Plan, usual: &Scenario, units: Units) -> String {
    let (set, default) = (set_value(parameter, &plan.scenario, units), set_value(parameter, usual, units));
    if set == default { "default".to_owned() } else { format!("changed from {default}") }
}

fn assumptions(out: &mut String, plan: &Plan, units: Units) {
    let usual = Scenario::for_system(plan.scenario.system);
    let columns = ["Input", "Value", "Changed", "Where the default comes from"];
    table(out, "Assumptions: everything that was put in", "rl-print-inputs", &columns);
    for group in Group::ALL {
        subject(out, group.label(), 4);
        for parameter in REGISTRY.iter().filter(|parameter| parameter.group == group) {
            let source = format!("{}; {}", parameter.source.citation, how_sure(parameter.source));
            let set = set_value(parameter, &plan.scenario, units);
            row(out, &[parameter.label, &set, &origin(parameter, plan, &usual, units), &source]);
        }
    }
    out.push_str(END);
}

/// What a parameter is set to, in words.
fn set_value(parameter: &Parameter, scenario: &Scenario, units: Units) -> String {
    // A number and its unit stay on one line.
    let write = |value, quantity| write(value, quantity, units).replace(' ', "\u{a0}");
    match parameter.kind {
        Kind::Number(number) => write((number.get)(scenario), number.quantity),
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
                heights.iter().map(|height| write(height.value, Quantity::Length)).collect();
            if words.is_empty() { "none".to_owned() } else { words.join(", ") }
        }
    }
}

fn workings(out: &mut String, plan: &Plan, units: Units) {
    out.push_str("<h2>How the figures came about</h2><div class=\"rl-print-workings\">");
    for figure in &plan.figures {
        let working = &figure.working;
        let _ = write!(
            out,
            "<div class=\"rl-print-working\"><p><b>{}: {}</b></p><p class=\"rl-print-formula\">{}</p><p>{}</p><p><small>{}; {}.{}</small></p></div>",
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
    out.push_str("</div>");
}

fn escape(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::*;
    use planting::plan;

    #[test]
    fn every_input_and_figure_is_printed() {
        for units in [Units::Us, Units::Metric] {
            let plan = plan(&Scenario::default()).unwrap();
            let set = sheets(&plan, units, Paper::Letter, "2026-01-31");
            for figure in &plan.figures {
                assert!(set.contains(&escape(&value(figure, units))), "{}", figure.key);
            }
            for parameter in REGISTRY {
                assert!(
                    set.contains(&escape(&set_value(parameter, &plan.scenario, units))),
                    "{}",
                    parameter.key
                );
            }
            assert_eq!(set.matches("<svg").count(), packet::SET.len());
            assert!(!set.contains("style="), "inline styles are dropped by the policy");
        }
    }

    #[test]
    fn a_changed_input_says_what_it_was() {
        let scenario = Scenario { row_width: planting::feet(14.0), ..Scenario::default() };
        let set = sheets(&plan(&scenario).unwrap(), Units::Us, Paper::A4, "2026-01-31");
        assert!(set.contains("<td>14\u{a0}ft</td><td>changed from 12\u{a0}ft</td>"));
        assert_eq!(set.matches("changed from").count(), 1);
    }
}
