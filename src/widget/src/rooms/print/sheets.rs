//! The sheet set as HTML: drawings at true scale, one a page, and the pages of text after them. What
//! they say is drafting's; here it only becomes elements.
//!
//! Text only, no browser: a plan, units, paper and the day in, HTML and the rules of its pages out.

use drafting::packet::{self, Item, Lie, MARGINS, PLANNING_ESTIMATE, Paper, Part, Table, Worked, title};
use drafting::svg::{PaperUnit, document, escape};
use drafting::title_block::Imprint;
use drafting::{Units, sheet_set};
use planting::Plan;
use planting::digits::plain;
use std::fmt::Write;

/// The whole set, issued on `date`.
pub(super) fn sheets(plan: &Plan, units: Units, paper: Paper, date: &str) -> String {
    let title = title(plan, units);
    let mut out = String::new();
    let set = sheet_set();
    let imprint = Imprint { planting: &title, date, sheets: set.len() };
    for (subject, number) in set.into_iter().zip(1..) {
        let printed = packet::drawing(subject, number, plan, units, paper, imprint);
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
        escape(PLANNING_ESTIMATE)
    );
    for one in packet::text(plan, units) {
        part(&mut out, &one);
    }
    out.push_str("</section>");
    out
}

/// The rules that give the pages their size, margins and numbers.
pub(super) fn page_rules(plan: &Plan, units: Units, paper: Paper) -> String {
    let size = paper.size();
    let (short, long) = (plain(size.width), plain(size.height));
    let [top, right, bottom, left] = [MARGINS.top, MARGINS.right, MARGINS.bottom, MARGINS.left].map(plain);
    let title = title(plan, units);
    let font = "font:8pt Helvetica,Arial,'Liberation Sans',sans-serif;color:#000";
    format!(
        "@page{{size:{short}mm {long}mm;margin:{top}mm {right}mm {bottom}mm {left}mm;@bottom-left{{content:\"{title}\";{font}}}@bottom-right{{content:\"Sheet \" counter(page) \" of \" counter(pages);{font}}}}}@page rl-flat{{size:{long}mm {short}mm}}@page rl-text{{margin:{top}mm 15mm 14mm {left}mm}}",
    )
}

fn heading(out: &mut String, words: &str) {
    let _ = write!(out, "<h2>{words}</h2>");
}

fn part(out: &mut String, part: &Part) {
    match part {
        Part::Table(it) => table(out, it),
        Part::Items { heading: words, items, without } => {
            heading(out, words);
            if items.is_empty() {
                let _ = write!(out, "<p>{}</p>", escape(without));
            }
            for Item { head, words, small } in items {
                let (head, words, small) = (escape(head), escape(words), escape(small));
                let _ = write!(
                    out,
                    "<p class=\"rl-print-item\"><b>{head}.</b> {words} <small>{small}</small></p>"
                );
            }
        }
        Part::Signatures(names) => {
            out.push_str("<div class=\"rl-print-signatures\">");
            for who in names {
                let _ = write!(out, "<p>{who}: name, signature, date</p>");
            }
            out.push_str("</div>");
        }
        Part::Workings { heading: words, workings } => {
            heading(out, words);
            out.push_str("<div class=\"rl-print-workings\">");
            for Worked { head, formula, terms, source } in workings {
                let _ = write!(
                    out,
                    "<div class=\"rl-print-working\"><p><b>{}</b></p><p class=\"rl-print-formula\">{}</p><p>{}</p><p><small>{}</small></p></div>",
                    escape(head),
                    escape(formula),
                    escape(terms),
                    escape(source),
                );
            }
            out.push_str("</div>");
        }
    }
}

fn table(out: &mut String, table: &Table) {
    heading(out, table.heading);
    let _ = write!(out, "<table class=\"rl-print-table rl-print-{}\"><thead><tr>", table.key);
    for column in table.columns {
        let _ = write!(out, "<th scope=\"col\">{column}</th>");
    }
    out.push_str("</tr></thead><tbody>");
    for group in &table.groups {
        if let Some(label) = group.label {
            let (label, columns) = (escape(label), table.columns.len());
            let _ = write!(
                out,
                "</tbody><tbody><tr class=\"rl-print-subject\"><th colspan=\"{columns}\" scope=\"rowgroup\">{label}</th></tr>"
            );
        }
        for row in &group.rows {
            out.push_str("<tr>");
            for cell in row {
                let _ = write!(out, "<td>{}</td>", escape(cell));
            }
            out.push_str("</tr>");
        }
    }
    out.push_str("</tbody></table>");
    if !table.note.is_empty() {
        let _ = write!(out, "<p><small>{}</small></p>", escape(table.note));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use planting::{Scenario, plan};

    #[test]
    fn the_set_is_drawings_and_text_without_styles() {
        let plan = plan(&Scenario::default()).unwrap();
        let set = sheets(&plan, Units::Us, Paper::Letter, "2026-01-31");
        assert_eq!(set.matches("<svg").count(), sheet_set().len());
        assert_eq!(set.matches("<h2>").count(), 6);
        assert!(set.contains("<td>Trees per acre</td><td>1,210/acre</td>"));
        assert!(!set.contains("style="), "inline styles are dropped by the policy");
    }
}
