//! The drawings that stand in a page before any program has run: the default plan, drawn at build time.

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

/// The plan view as a file of its own: what stands in an embedding page until the planner has come.
pub fn alone() -> String {
    let Ok(plan) = plan(&Scenario::default()) else { return String::new() };
    let (width, height) = (960.0, 600.0);
    let drawing =
        document(&draw(View::Plan, &plan, Frame::screen(width, height, Units::Us)), PaperUnit::Fluid);
    // With a size of its own, a page keeps room for it before it has come.
    let sized = format!("<svg width=\"{width}\" height=\"{height}\" ");
    let ground = "</title><rect width=\"100%\" height=\"100%\" fill=\"#fefdfb\"/>";
    drawing.replacen("<svg ", &sized, 1).replacen("</title>", ground, 1)
}
