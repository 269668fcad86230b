//! What needs the whole plan, all rooms at once: what cures a finding; and what a reader or a page takes along, the plan in numbers and
//! words, drawings, tables, every tree and post on the map.

use crate::saved::{self, Reader, object, object_of};
use drafting::export::{self, GeoPoint};
use drafting::svg::{PaperUnit, document};
use drafting::{Daylight, Frame, Units, View, draw_with, measure, over, wording};
use js_sys::Array;
use planting::scenario::entries_of;
use planting::{Advice, Figure, Plan, Problem, Remedy, Scenario, plan, remedies};
use wasm_bindgen::JsValue;

/// The size of a drawing handed out `[px]`.
const DRAWING: (f64, f64) = (1200.0, 780.0);
/// Marks a table as UTF-8 for spreadsheets.
const UTF_8: char = '\u{feff}';

/// What is behind the door. A scenario that makes no plan gives nothing.
#[derive(Clone, Copy)]
pub(crate) struct Files {
    /// What cures a finding, tried on the whole plan, in round numbers of these units.
    pub(crate) solved: fn(&Scenario, &Advice, Units) -> Vec<Remedy>,
    /// Figures and findings of all rooms, as an object of scripts.
    pub(crate) told: fn(&Scenario, Reader) -> Result<JsValue, Vec<Problem>>,
    /// A drawing as SVG, by its key, as a chapter shows it.
    pub(crate) drawing: fn(&Scenario, Units, Look, &str) -> Option<String>,
    /// A table as CSV, by its name.
    pub(crate) table: fn(&Scenario, Units, &str) -> Option<String>,
    /// Every tree and post as GeoJSON, or what is wrong with the place.
    pub(crate) map: fn(&Scenario, Units, GeoPoint) -> Result<String, String>,
}

/// What a drawing shows beyond the planting itself: what the room of a chapter adds, in this light.
#[derive(Clone, Copy)]
pub(crate) struct Look {
    /// The key of the chapter.
    pub(crate) chapter: &'static str,
    /// The light its drawings show.
    pub(crate) daylight: Daylight,
}

door!(files, Files { solved, told, drawing, table, map });

fn solved(scenario: &Scenario, advice: &Advice, units: Units) -> Vec<Remedy> {
    remedies::solve(scenario, advice, units.rounding())
}

fn drawing(scenario: &Scenario, units: Units, look: Look, key: &str) -> Option<String> {
    let (view, plan) = (View::from_key(key)?, plan(scenario).ok()?);
    let (width, height) = DRAWING;
    let over = over(look.chapter, look.daylight, &plan);
    let sheet = draw_with(view, &plan, Frame::screen(width, height, units), &*over);
    Some(document(&sheet, PaperUnit::Fluid))
}

fn table(scenario: &Scenario, units: Units, name: &str) -> Option<String> {
    let plan = plan(scenario).ok()?;
    let table = match name {
        "figures" => export::figures(&plan, units),
        "orders" => export::orders(&plan, units),
        "stations" => export::stations(&plan),
        _ => return None,
    };
    Some(format!("{UTF_8}{table}"))
}

fn map(scenario: &Scenario, units: Units, corner: GeoPoint) -> Result<String, String> {
    let problems =
        |problems: Vec<Problem>| problems.first().map(|one| wording::problem(one, units)).unwrap_or_default();
    let plan = plan(scenario).map_err(problems)?;
    export::geojson(&plan, Some(corner)).map_err(|fault| wording::sentence(&fault, units))
}

fn told(scenario: &Scenario, reader: Reader) -> Result<JsValue, Vec<Problem>> {
    let mut plan = plan(scenario)?;
    let units = reader.units;
    remedies::solve_all(scenario, &mut plan.advice, units.rounding());
    let figures = plan.figures.iter().map(|figure| told_figure(&plan, figure, units)).collect::<Array>();
    let findings = plan.advice.iter().map(|advice| {
        object([
            ("rule", advice.rule.into()),
            ("severity", advice.severity.label().into()),
            ("title", advice.title.into()),
            ("text", wording::advice(advice, units).into()),
            ("source", advice.source.citation.into()),
            (
                "remedies",
                advice
                    .remedies
                    .iter()
                    .flatten()
                    .map(|remedy| told_remedy(remedy, units))
                    .collect::<Array>()
                    .into(),
            ),
        ])
    });
    Ok(object([
        ("scenario", object_of(scenario)),
        ("link", saved::link(scenario, reader).into()),
        ("units", units.key().into()),
        ("figures", figures.into()),
        ("findings", findings.collect::<Array>().into()),
    ]))
}

fn told_remedy(remedy: &Remedy, units: Units) -> JsValue {
    object([
        ("text", wording::remedy(remedy, units).into()),
        ("changes", saved::entries_as_object(&entries_of(&remedy.changes))),
    ])
}

fn told_figure(plan: &Plan, figure: &Figure, units: Units) -> JsValue {
    let unit = measure::unit(figure.quantity, units);
    let number = |value: Option<f64>| value.map_or(JsValue::NULL, JsValue::from);
    let source = plan.working(figure.key).map_or("", |working| working.source.citation);
    object([
        ("key", figure.key.into()),
        ("label", figure.label.into()),
        ("subject", figure.subject.label.into()),
        ("value", number(figure.value)),
        ("number", number(figure.value.map(|value| value / unit.one))),
        ("unit", unit.name.trim_start().into()),
        ("text", wording::value(figure, units).into()),
        ("certainty", figure.certainty.label().into()),
        ("source", source.into()),
    ])
}
