//! The drawings that stand in a page before any program has run: the default plan, drawn at build time.
//!
//! Paths are written from point to point, not from the corner of the sheet: trees that look alike then read alike, and the page
//! is 3 KB smaller with brotli. Nothing else about them is different.

use std::fmt::Write as _;

use drafting::svg::{PaperUnit, document};
use drafting::{Frame, Units, View, draw};
use planting::{Scenario, plan};

/// Static SVG for the mark in `index.html`; no scripts, no style attributes, because the page's policy forbids them.
pub fn picture() -> String {
    let Ok(plan) = plan(&Scenario::default()) else { return String::new() };
    View::ALL
        .into_iter()
        .map(|view| document(&draw(view, &plan, Frame::screen(720.0, 460.0, Units::Us)), PaperUnit::Fluid))
        .map(|drawing| with_steps(&drawing))
        .collect()
}

/// The plan view as a file of its own: what stands in an embedding page until the planner has come.
pub fn alone() -> String {
    let Ok(plan) = plan(&Scenario::default()) else { return String::new() };
    let (width, height) = (960.0, 600.0);
    let drawing =
        document(&draw(View::Plan, &plan, Frame::screen(width, height, Units::Us)), PaperUnit::Fluid);
    // With a size of its own, a page keeps room for it before it has come.
    let sized = format!("<svg width=\"{width}\" height=\"{height}\" ");
    let ground = "</title><rect width=\"100%\" height=\"100%\" fill=\"#fefdfb\"/>";
    with_steps(&drawing.replacen("<svg ", &sized, 1).replacen("</title>", ground, 1))
}

/// Where a path begins in SVG text.
const PATH: &str = " d=\"";

/// A drawing with its paths written from point to point.
fn with_steps(drawing: &str) -> String {
    let mut parts = drawing.split(PATH);
    let mut out = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let (path, rest) = part.split_once('"').unwrap_or((part, ""));
        // A path in any other form stays as it is.
        let _ = write!(out, "{PATH}{}\"{rest}", stepped(path).unwrap_or_else(|| path.to_owned()));
    }
    out
}

/// A length of the sheet in thousandths, so that steps add up to where they came from.
type Thousandths = i64;

/// A path of `M`, `L`, `A` and `Z` from point to point; none where there is anything else in it.
fn stepped(path: &str) -> Option<String> {
    let mut out = String::new();
    let (mut at, mut start) = ([0, 0], [0, 0]);
    let mut rest = path;
    while let Some(command) = rest.chars().next() {
        let after = rest.get(1..)?;
        let end = after.find(|letter: char| letter.is_ascii_alphabetic()).unwrap_or(after.len());
        let numbers: Vec<Thousandths> =
            after[..end].split_whitespace().map(thousandths).collect::<Option<_>>()?;
        rest = &after[end..];
        match (command, numbers.as_slice()) {
            ('M', &[x, y]) => {
                put(&mut out, 'M', &[x, y]);
                (at, start) = ([x, y], [x, y]);
            }
            ('L', &[x, y]) => {
                match [x - at[0], y - at[1]] {
                    [along, 0] => put(&mut out, 'h', &[along]),
                    [0, down] => put(&mut out, 'v', &[down]),
                    step => put(&mut out, 'l', &step),
                }
                at = [x, y];
            }
            ('A', &[wide, high, turn, large, sweep, x, y]) => {
                put(&mut out, 'a', &[wide, high, turn, large, sweep, x - at[0], y - at[1]]);
                at = [x, y];
            }
            ('Z', []) => {
                out.push('z');
                at = start;
            }
            _ => return None,
        }
    }
    Some(out)
}

fn thousandths(number: &str) -> Option<Thousandths> {
    let value = number.parse::<f64>().ok()? * 1000.0;
    let whole = value.round();
    ((value - whole).abs() < 1e-6 && whole.abs() < 1e9).then_some(whole as Thousandths)
}

/// Writes a command with its numbers, each set apart from the one before by a minus sign or a space.
fn put(out: &mut String, command: char, numbers: &[Thousandths]) {
    out.push(command);
    for (place, number) in numbers.iter().enumerate() {
        if place > 0 && *number >= 0 {
            out.push(' ');
        }
        let sign = if *number < 0 { "-" } else { "" };
        let (whole, part) = (number.abs() / 1000, format!("{:03}", number.abs() % 1000));
        let part = part.trim_end_matches('0');
        let _ = match (whole, part) {
            (_, "") => write!(out, "{sign}{whole}"),
            (0, _) => write!(out, "{sign}.{part}"),
            _ => write!(out, "{sign}{whole}.{part}"),
        };
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_go_from_point_to_point() {
        for (given, made) in [
            ("M64.8 388L226.4 388L226.4 64.8L64.8 64.8Z", "M64.8 388h161.6v-323.2h-161.6z"),
            ("M1 1L2 3ZM5 5L4.5 5.25", "M1 1l1 2zM5 5l-.5 .25"),
            ("M1 2A3.9 3.9 0 0 1 8.8 2Z", "M1 2a3.9 3.9 0 0 1 7.8 0z"),
            // Each step starts where the last one ended, not where rounding would have it.
            ("M0.1 0L0.3 0L0.6 0", "M.1 0h.2h.3"),
        ] {
            assert_eq!(stepped(given).as_deref(), Some(made));
        }
        assert_eq!(stepped("M1 1C2 2 3 3 4 4"), None);
        assert_eq!(
            with_steps("<path d=\"M1 1L1 2\"/><path d=\"M1 1Q2 2 3 3\"/>"),
            "<path d=\"M1 1v1\"/><path d=\"M1 1Q2 2 3 3\"/>"
        );
    }

    #[test]
    fn every_path_of_the_picture_is_shortened() {
        for drawing in [picture(), alone()] {
            let (_, paths) = drawing.split_once(PATH).expect("a drawing has paths");
            let paths: Vec<&str> = paths.split(PATH).filter_map(|part| part.split('"').next()).collect();
            assert!(paths.len() > 20 && paths.iter().all(|path| !path.contains(['L', 'A'])), "{drawing}");
        }
    }
}
