//! The display list as SVG text.
//!
//! Every mark carries its class and plain presentation attributes. The attributes draw it in black on
//! white with hatch-free greys that survive a photocopier; a page's style sheet may overrule them.

use crate::board::path::{Path, Step};
use crate::board::sheet::{Anchor, Ink, LayerName, Lettering, Mark, Sheet, Text};
use planting::digits::fixed;
use planting::order::within;
use std::fmt::Write;

/// The faces drawings are lettered in; widths are planned for the widest of them.
pub const FONT: &str = "Helvetica, Arial, 'Liberation Sans', sans-serif";

struct Pen {
    class: &'static str,
    fill: &'static str,
    stroke: &'static str,
    /// Which of the three weights; none where there is no line.
    weight: Option<usize>,
    /// Dash pattern in multiples of the thin line's width.
    dash: &'static [f64],
}

/// Six even steps of cividis (Nuñez, Anderton & Renslow 2018), dark to light, with their classes.
const CIVIDIS: [(&str, &str); 6] = [
    ("ink-light-0", "#00204d"),
    ("ink-light-1", "#31446b"),
    ("ink-light-2", "#666970"),
    ("ink-light-3", "#958f78"),
    ("ink-light-4", "#cbba69"),
    ("ink-light-5", "#ffea46"),
];

/// Fills of charts, dark to light, so far apart in lightness that a photocopier keeps them apart; the
/// middle ones are of Okabe & Ito's palette (2008).
const FILLS: [(&str, &str); 5] = [
    ("ink-fill-0", "#1d2b3a"),
    ("ink-fill-1", "#0072b2"),
    ("ink-fill-2", "#d98200"),
    ("ink-fill-3", "#f2c879"),
    ("ink-fill-4", "#fbf6e6"),
];

fn pen(ink: Ink) -> Pen {
    const NONE: &[f64] = &[];
    let line = |class, weight, stroke, dash| Pen { class, fill: "none", stroke, weight: Some(weight), dash };
    let body = |class, fill| Pen { class, fill, stroke: "none", weight: None, dash: NONE };
    match ink {
        Ink::Edge => line("ink-edge", 2, "#111", NONE),
        Ink::Margin => line("ink-margin", 0, "#555", &[8.0, 5.0]),
        Ink::Centre => line("ink-centre", 0, "#777", &[18.0, 4.0, 2.0, 4.0]),
        Ink::Crown => body("ink-crown", "#d5dccf"),
        Ink::CrownEdge => line("ink-crown-edge", 1, "#3f5c33", NONE),
        Ink::Space => line("ink-space", 0, "#3f5c33", &[5.0, 4.0]),
        Ink::Trunk => line("ink-trunk", 1, "#5b4630", NONE),
        Ink::Post => Pen { class: "ink-post", fill: "#b9a88f", stroke: "#222", weight: Some(1), dash: NONE },
        Ink::Stake => line("ink-stake", 1, "#7a5f3c", NONE),
        Ink::Wire => line("ink-wire", 1, "#1b4f72", NONE),
        Ink::Anchor => line("ink-anchor", 1, "#222", NONE),
        Ink::Ground => line("ink-ground", 2, "#111", NONE),
        Ink::Soil => body("ink-soil", "#efe9df"),
        Ink::Hidden => line("ink-hidden", 0, "#333", &[6.0, 4.0]),
        Ink::Machine => line("ink-machine", 1, "#444", NONE),
        Ink::MachineBody => body("ink-machine-body", "#e4e4e4"),
        Ink::Union => Pen { class: "ink-union", fill: "#fff", stroke: "#111", weight: Some(0), dash: NONE },
        Ink::Dimension => line("ink-dimension", 0, "#222", NONE),
        Ink::Arrow => body("ink-arrow", "#222"),
        Ink::LitDimension => line("ink-lit", 2, "#b04600", NONE),
        Ink::Trace => line("ink-trace", 1, "#75807a", &[6.0, 4.5]),
        Ink::LitArrow => body("ink-lit-arrow", "#b04600"),
        Ink::Solid => body("ink-solid", "#111"),
        Ink::Fine => line("ink-fine", 0, "#222", NONE),
        Ink::Frame => line("ink-frame", 2, "#111", NONE),
        Ink::Light(band) => {
            let (class, fill) = CIVIDIS.get(usize::from(band)).copied().unwrap_or(CIVIDIS[5]);
            body(class, fill)
        }
        Ink::Isoline => line("ink-isoline", 0, "#fff", NONE),
        Ink::Shade => body("ink-shade", "#11111144"),
        Ink::Ray => line("ink-ray", 0, "#8a4b00", &[6.0, 4.0]),
        Ink::Fill(step) => {
            let (class, fill) = FILLS.get(usize::from(step)).copied().unwrap_or(FILLS[4]);
            Pen { class, fill, stroke: "#111", weight: Some(0), dash: NONE }
        }
        Ink::Range => body("ink-range", "#c9d9e6"),
        Ink::Curve(0) => line("ink-curve-0", 2, "#0072b2", NONE),
        Ink::Curve(1) => line("ink-curve-1", 2, "#d55e00", &[9.0, 5.0]),
        Ink::Curve(_) => line("ink-curve-2", 2, "#444", &[2.0, 4.0]),
    }
}

/// The thinnest line a band is drawn with, in paper units: one that still shows when everything is small.
const THINNEST_BAND: f64 = 0.05;

/// A number as SVG takes it: at most two decimals, no trailing noughts, no minus nought.
///
/// ```
/// assert_eq!(drafting::svg::coordinate(12.3456), "12.35");
/// assert_eq!(drafting::svg::coordinate(-0.001), "0");
/// ```
pub fn coordinate(value: f64) -> String {
    let mut text = String::new();
    push_coordinate(&mut text, value);
    text
}

/// Appends a number to a path.
#[expect(clippy::cast_possible_truncation, reason = "clamped to a range that fits")]
fn push_coordinate(out: &mut String, value: f64) {
    // Hundredths as an integer: shorter and several times quicker than formatting a float.
    let hundredths = if value.is_finite() { within((value * 100.0).round(), -1e12, 1e12) as i64 } else { 0 };
    if hundredths < 0 {
        out.push('-');
    }
    let magnitude = hundredths.unsigned_abs();
    let (whole, rest) = (magnitude / 100, magnitude % 100);
    let _ = write!(out, "{whole}");
    if rest > 0 {
        if rest.is_multiple_of(10) {
            let _ = write!(out, ".{}", rest / 10);
        } else {
            let _ = write!(out, ".{rest:02}");
        }
    }
}

/// A text with the four characters that mean something to markup written out.
///
/// ```
/// assert_eq!(drafting::svg::escape("3 < 4 & \"so\""), "3 &lt; 4 &amp; &quot;so&quot;");
/// ```
pub fn escape(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

fn stroke(out: &mut String, pen: &Pen, weights: [f64; 3]) {
    let _ = write!(out, " fill=\"{}\" stroke=\"{}\"", pen.fill, pen.stroke);
    if let Some(width) = pen.weight.and_then(|weight| weights.get(weight)) {
        let _ = write!(out, " stroke-width=\"{}\"", coordinate(*width));
    }
    if !pen.dash.is_empty() {
        let thin = weights.first().copied().unwrap_or(1.0);
        let dashes: Vec<String> = pen.dash.iter().map(|dash| coordinate(dash * thin)).collect();
        let _ = write!(out, " stroke-dasharray=\"{}\"", dashes.join(" "));
    }
}

/// One layer's marks as SVG elements.
pub fn markup(marks: &[Mark], weights: [f64; 3]) -> String {
    let mut out = String::new();
    for mark in marks {
        match mark {
            Mark::Path { ink, path } => {
                let pen = pen(*ink);
                let _ = write!(out, "<path class=\"{}\"", pen.class);
                stroke(&mut out, &pen, weights);
                let _ = write!(out, " stroke-linejoin=\"round\"");
                write_path(&mut out, path);
            }
            Mark::Dots { ink, lines, size, pitch } => {
                let pen = pen(*ink);
                let colour = if pen.fill == "none" { pen.stroke } else { pen.fill };
                let _ = write!(
                    out,
                    "<path class=\"{} dots\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"{}\" stroke-linecap=\"round\" stroke-dasharray=\"0 {}\"",
                    pen.class,
                    coordinate(*size),
                    fixed(*pitch, 4),
                );
                write_path(&mut out, lines);
            }
            Mark::Bands { ink, lines, size } => {
                let pen = pen(*ink);
                let colour = if pen.fill == "none" { pen.stroke } else { pen.fill };
                let _ = write!(
                    out,
                    "<path class=\"{} dots\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"{}\"",
                    pen.class,
                    coordinate(size.max(THINNEST_BAND)),
                );
                write_path(&mut out, lines);
            }
            Mark::Text(text) => write_text(&mut out, text),
        }
    }
    out
}

/// Writes the path of an element that has been begun, and ends it.
fn write_path(out: &mut String, path: &Path) {
    let put = |out: &mut String, command: &str, x: f64, y: f64| {
        out.push_str(command);
        push_coordinate(out, x);
        out.push(' ');
        push_coordinate(out, y);
    };
    out.push_str(" d=\"");
    for step in path.steps() {
        match *step {
            Step::Start(point) => put(out, "M", point.x, point.y),
            Step::To(point) => put(out, "L", point.x, point.y),
            Step::Close => out.push('Z'),
            Step::Circle(centre, radius) => {
                put(out, "M", centre.x - radius, centre.y);
                for end in [centre.x + radius, centre.x - radius] {
                    put(out, "A", radius, radius);
                    put(out, " 0 0 1 ", end, centre.y);
                }
                out.push('Z');
            }
        }
    }
    out.push_str("\"/>");
}

fn write_text(out: &mut String, text: &Text) {
    let at = text.at;
    let anchor = match text.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let (class, weight) = match text.lettering {
        Lettering::Label => ("label", "400"),
        Lettering::Note => ("note", "400"),
        Lettering::Title => ("title", "700"),
        Lettering::Lit => ("lit", "700"),
    };
    let _ = write!(
        out,
        "<text class=\"ink-text {class}\" x=\"{x}\" y=\"{y}\" dy=\"0.35em\" font-family=\"{FONT}\" font-size=\"{size}\" font-weight=\"{weight}\" text-anchor=\"{anchor}\" fill=\"#111\" stroke=\"#fff\" stroke-width=\"{halo}\" paint-order=\"stroke\" stroke-linejoin=\"round\"",
        halo = coordinate(text.size * 0.25),
        x = coordinate(at.x),
        y = coordinate(at.y),
        size = coordinate(text.size),
    );
    if text.upright {
        let _ = write!(out, " transform=\"rotate(-90 {} {})\"", coordinate(at.x), coordinate(at.y));
    }
    let _ = write!(out, ">{}</text>", escape(&text.content));
}

/// What a drawing's file measures itself in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PaperUnit {
    /// Fills the room it is given.
    Fluid,
    /// Millimetres, for print and true-scale files.
    Millimetres,
}

/// A whole drawing as one SVG element that needs nothing else.
pub fn document(sheet: &Sheet, unit: PaperUnit) -> String {
    let (width, height) = (coordinate(sheet.width), coordinate(sheet.height));
    let size = match unit {
        PaperUnit::Fluid => String::new(),
        PaperUnit::Millimetres => format!(" width=\"{width}mm\" height=\"{height}mm\""),
    };
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"sheet sheet-{}\" role=\"img\"{size} viewBox=\"0 0 {width} {height}\" aria-label=\"{}\">",
        sheet.view.key(),
        escape(&sheet.description),
    );
    let _ = write!(out, "<title>{}</title>", escape(sheet.view.title()));
    for (name, marks) in LayerName::ALL.iter().zip(&sheet.layers) {
        let _ = write!(out, "<g class=\"layer-{}\">{}</g>", name.key(), markup(marks, sheet.weights));
    }
    out.push_str("</svg>");
    out
}

#[cfg(test)]
mod tests {
    use super::{CIVIDIS, FILLS};

    /// Lightness L* of CIE 1976 of a colour given as `#rrggbb`, by the formulas of IEC 61966-2-1.
    fn lightness(colour: &str) -> f64 {
        let part = |at: usize| {
            let value = f64::from(u8::from_str_radix(&colour[at..at + 2], 16).unwrap()) / 255.0;
            if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
        };
        let luminance = 0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5);
        116.0 * luminance.cbrt() - 16.0
    }

    #[test]
    fn fills_differ_in_lightness() {
        for fills in [FILLS.as_slice(), CIVIDIS.as_slice()] {
            for pair in fills.windows(2) {
                let step = lightness(pair[1].1) - lightness(pair[0].1);
                assert!(step > 10.0, "{} and {} are {step} apart", pair[0].1, pair[1].1);
            }
        }
    }
}
