//! What cures a finding, on the page: the plan with it is drawn before it is taken, and taking it cures and is one step to undo.

use anyhow::{Context, Result, ensure};
use drafting::Units;
use planting::{Remedy, Rounding, Scenario, feet, findings, remedies};
use serde_json::json;

use crate::harness::{Case, Visit, cases};
use crate::planner::{Planner, element};

pub(crate) const CASES: &[Case] = cases![
    a_remedy_is_drawn_before_it_is_taken,
    a_finger_looks_before_it_takes,
    a_pointer_that_leaves_draws_the_plan_again,
    remedies_follow_the_readers_units,
];

const RULE: &str = "clear_alley";
/// The remedy that widens the rows.
const WIDEN: &str = "[data-rule=clear_alley] [data-action=remedy][data-keys=row_width]";

/// A canopy that leaves too little beside the tractor.
fn tight() -> Scenario {
    Scenario::default().with(|s| s.canopy.canopy_width = feet(6.5))
}

/// What the engine offers for it: wider rows.
fn widened(rounding: Rounding) -> Result<(Remedy, Scenario)> {
    let found = findings(&tight(), &mut planting::Memory::default())
        .map_err(|problems| anyhow::anyhow!("{problems:?}"))?;
    let advice = found.iter().find(|advice| advice.rule == RULE).context("the alley is wide enough")?;
    let cures = remedies::solve(&tight(), advice, rounding);
    let cure =
        cures.into_iter().find(|cure| cure.changes[0].key == "row_width").context("not by the rows")?;
    let cured = tight().with_changes(&cure.changes);
    Ok((cure, cured))
}

/// Opens the planner on the plan and waits for its remedies.
fn open(visit: &Visit, units: Units) -> Result<Planner<'_>> {
    let planner = Planner::open_with(visit, &tight(), units)?;
    planner.browser.until(&format!("{} !== null", element(WIDEN))).context("nothing is offered")?;
    Ok(planner)
}

fn is_preview(planner: &Planner) -> Result<bool> {
    planner.browser.js("return document.querySelector('.rl-drawing.is-preview') !== null")
}

fn a_remedy_is_drawn_before_it_is_taken(visit: &Visit) -> Result<()> {
    let planner = open(visit, Units::Us)?;
    let (_, cured) = widened(Rounding::Us)?;
    let before = planner.expect(&tight())?;
    planner.focus(WIDEN)?;
    ensure!(is_preview(&planner)?, "what is focused isn't drawn");
    let looked_at = planner.read()?;
    ensure!(looked_at.drawings != before.drawings, "the drawings stand still");
    ensure!(looked_at.saved == before.saved, "what is looked at has been taken");
    planner.browser.screenshot("remedy-looked-at")?;
    planner.browser.key("Enter")?;
    planner.expect(&cured)?;
    ensure!(!is_preview(&planner)?, "what is taken is drawn as a preview");
    ensure!(!planner.sees(&format!("[data-rule={RULE}]"))?, "the finding is still there");
    let focus: bool = planner.browser.js("return document.activeElement.matches('.rl-advice')")?;
    ensure!(focus, "the focus went with the finding");
    planner.browser.key("Ctrl+z")?;
    planner.expect(&tight()).context("taken back in one step").map(|_| ())
}

fn a_finger_looks_before_it_takes(visit: &Visit) -> Result<()> {
    let planner = open(visit, Units::Us)?;
    let (_, cured) = widened(Rounding::Us)?;
    planner.browser.command("Emulation.setTouchEmulationEnabled", json!({ "enabled": true }))?;
    let tap = || -> Result<()> {
        let at = planner.browser.middle(&element(WIDEN))?;
        let touch = |kind: &str, points: serde_json::Value| {
            planner
                .browser
                .command("Input.dispatchTouchEvent", json!({ "type": kind, "touchPoints": points }))
        };
        touch("touchStart", json!([{ "x": at.x, "y": at.y }]))?;
        touch("touchEnd", json!([]))?;
        planner.browser.js::<()>("await new Promise((done) => setTimeout(done, 400))")
    };
    let outcome = (|| {
        tap()?;
        ensure!(is_preview(&planner)?, "the first tap draws nothing");
        ensure!(planner.read()?.scenario()? == tight(), "the first tap has taken it");
        tap()?;
        planner.expect(&cured).context("the second tap").map(|_| ())
    })();
    planner.browser.command("Emulation.setTouchEmulationEnabled", json!({ "enabled": false }))?;
    outcome
}

fn a_pointer_that_leaves_draws_the_plan_again(visit: &Visit) -> Result<()> {
    let planner = open(visit, Units::Us)?;
    let (_, cured) = widened(Rounding::Us)?;
    let before = planner.read()?;
    let at = planner.browser.middle(&element(WIDEN))?;
    planner.browser.hover(at)?;
    planner.browser.hover(at.moved(2.0, 0.0))?;
    ensure!(is_preview(&planner)?, "what is pointed at isn't drawn");
    planner.browser.hover(at.moved(0.0, -2000.0))?;
    ensure!(!is_preview(&planner)?, "it is still drawn");
    ensure!(planner.read()?.drawings == before.drawings, "another plan is drawn than before");
    planner.click(WIDEN)?;
    planner.expect(&cured).context("a click on what the pointer shows").map(|_| ())
}

fn remedies_follow_the_readers_units(visit: &Visit) -> Result<()> {
    let planner = open(visit, Units::Us)?;
    let (us, _) = widened(Rounding::Us)?;
    let (metric, _) = widened(Rounding::Metric)?;
    let reads = |cure: &Remedy, units: Units| {
        let said = serde_json::Value::from(drafting::wording::remedy(cure, units));
        planner.browser.until(&format!("{}?.textContent.includes({said})", element(WIDEN)))
    };
    reads(&us, Units::Us).context("in feet")?;
    planner.click("[data-action=units-metric]")?;
    reads(&metric, Units::Metric).context("in metres")
}
