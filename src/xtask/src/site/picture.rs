//! The drawings that stand in `index.html` before any program has run: the default plan, drawn at build time.

use drafting::svg::{PaperUnit, document};
use drafting::{Frame, Units, View, draw};
use planting::{Scenario, plan};

/// Static SVG for the mark in `index.html`; no scripts, no style attributes, because the page's policy forbids them.
pub fn picture() -> String {
    let Ok(plan) = plan(&Scenario::default()) else { return String::new() };
    View::ALL
        .into_iter()
        .map(|view| document(&draw(view, &plan, Frame::screen(720.0, 460.0, Units::Us)), PaperUnit::Fluid))
        .collect()
}
