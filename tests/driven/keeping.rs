//! What is kept: steps to undo, the plan over a reload, the value over a change of units, all of it when the program breaks.

use anyhow::{Context, Result, ensure};
use drafting::Units;
use planting::{Choice, Scenario, TrainingSystem, feet, inches};
use serde_json::json;

use crate::harness::{Case, Visit, cases};
use crate::loading::STARTED;
use crate::planner::{PLACE, Planner, control, element};

pub(crate) const CASES: &[Case] = cases![
    steps_are_undone_and_done_again,
    a_new_system_and_a_new_start_are_one_step,
    the_plan_survives_a_reload,
    units_change_the_words_and_nothing_else,
    a_panic_leaves_picture_and_plan,
];

fn steps_are_undone_and_done_again(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    let mut steps = vec![planner.expect(&Scenario::default())?];
    let able = || -> Result<(bool, bool)> {
        Ok((planner.sees("[data-action=undo]:enabled")?, planner.sees("[data-action=redo]:enabled")?))
    };
    ensure!(able()? == (false, false), "there is something to undo at the start");
    for (field, text) in [("row_width", "14"), ("headland", "25"), ("vigour", "1.2"), ("settling", "2")] {
        planner.enter(field, text)?;
        steps.push(planner.read()?);
        ensure!(able()? == (true, false));
    }
    // By the buttons back, by the keys forward, and the other way round.
    planner.browser.js::<()>("document.activeElement.blur()")?;
    let ways: [(&str, &str); 2] = [("button", "Ctrl+y"), ("Ctrl+z", "button")];
    let go = |way: &str, action: &str| {
        if way == "button" {
            planner.click(&format!("[data-action={action}]"))
        } else {
            planner.browser.key(way)
        }
    };
    for (back, forward) in ways {
        let (_, earlier) = steps.split_last().context("no step")?;
        for step in earlier.iter().rev() {
            go(back, "undo")?;
            ensure!(planner.read()? == *step, "{back}: not what it was before the step");
        }
        ensure!(able()? == (false, true), "{back}: further back than the start");
        let (_, later) = steps.split_first().context("no step")?;
        for step in later {
            go(forward, "redo")?;
            ensure!(planner.read()? == *step, "{forward}: not what it was after the step");
        }
        ensure!(able()? == (true, false), "{forward}: further than the last step");
    }
    // A new step takes away what was undone.
    planner.browser.key("Ctrl+z")?;
    planner.browser.key("Ctrl+z")?;
    planner.enter("row_width", "15")?;
    ensure!(able()? == (true, false));
    // In a field these keys belong to the text.
    let last = planner.read()?;
    planner.focus(&control("headland", "field"))?;
    planner.browser.key("Ctrl+z")?;
    ensure!(planner.read()?.saved == last.saved, "Ctrl+Z within a field undoes a step of the plan");
    Ok(())
}

fn a_new_system_and_a_new_start_are_one_step(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    let start = Scenario::default();
    planner.enter("block_length", "500")?;
    let site = start.clone().with(|s| s.block.block_length = feet(500.0));
    planner.expect(&site)?;
    let other = TrainingSystem::ALL.iter().copied().find(|system| *system != start.system);
    let other = other.context("there is but one system")?;
    planner.browser.js::<()>(&format!(
        "const menu = {}; menu.value = '{}'; menu.dispatchEvent(new Event('change', {{ bubbles: true }}));",
        element(&control("system", "field")),
        other.key()
    ))?;
    let moved = site.with_system(other);
    planner.expect(&moved)?;
    planner.enter("row_width", "abc")?;
    planner.click("[data-action=reset]")?;
    let reset = planner.expect(&start).context("start again")?;
    ensure!(reset.faults.is_empty());
    planner.click("[data-action=undo]")?;
    planner.expect(&moved).context("undoing “start again”")?;
    planner.click("[data-action=undo]")?;
    planner.expect(&site).context("undoing the system")?;
    planner.click("[data-action=undo]")?;
    planner.expect(&start)?;
    ensure!(!planner.sees("[data-action=reset]:enabled")?, "the start offers to start again");
    Ok(())
}

/// Saved by itself once it stands still, and at once when the page goes away.
fn the_plan_survives_a_reload(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    let asked = Scenario::default().with(|s| {
        s.block.in_row_spacing = feet(4.0);
        s.trellis.line_post_diameter = inches(4.25);
        s.trellis.wire_heights = [2.5, 4.75, 7.25, 9.0].map(feet).to_vec();
    });
    planner.enter("in_row_spacing", "4")?;
    planner.enter("line_post_diameter", "4.25")?;
    planner.enter("wire_heights[2]", "7.25")?;
    planner.browser.until(&format!("localStorage.getItem('{PLACE}')?.includes('1.2192')"))?;
    planner.click("[data-action=units-metric]")?;
    planner.browser.js::<()>(
        "const paper = document.querySelector('[data-key=paper]'); paper.value = 'a4';
         paper.dispatchEvent(new Event('change', { bubbles: true }));",
    )?;
    let before = planner.expect(&asked)?;
    planner.reload()?;
    let after = planner.expect(&asked)?;
    ensure!(after == before, "the page is not what it was before the reload");
    ensure!(after.units()? == Units::Metric && after.saved.contains("\"paper\":\"a4\""));
    ensure!(planner.sees("[data-action=units-metric][aria-pressed=true]")?);
    let paper: String = planner.browser.js("return document.querySelector('[data-key=paper]').value")?;
    ensure!(paper == "a4", "the paper is {paper}");
    // Not yet settled, and away.
    planner.browser.js::<()>(&format!(
        "const field = {}; field.value = '3.9'; field.dispatchEvent(new Event('input', {{ bubbles: true }}));
         field.dispatchEvent(new Event('change', {{ bubbles: true }}));
         window.isOld = true; location.reload();",
        element(&control("row_width", "field"))
    ))?;
    planner.browser.until(&format!("!window.isOld && {STARTED}"))?;
    let asked = asked.with(|s| s.block.row_width = feet(3.9 / 0.3048));
    planner.reload()?;
    planner.expect(&asked).context("changed and left at once")?;
    Ok(())
}

fn units_change_the_words_and_nothing_else(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    let entries = [
        ("in_row_spacing", "4", 4.0 * 0.3048),
        ("row_width", "13.37", 13.37 * 0.3048),
        ("graft_union_height", "5.5", 5.5 * 0.0254),
        ("tree_height", "3.333 m", 3.333),
        ("lean", "7", 7.0 * std::f64::consts::PI / 180.0),
    ];
    for (field, text, _) in entries {
        planner.enter(field, text)?;
    }
    let before = planner.read()?;
    let saved: serde_json::Value = serde_json::from_str(&before.saved)?;
    for (field, text, value) in entries {
        ensure!(saved[field] == json!(value), "{text} is saved as {}", saved[field]);
    }
    ensure!(before.field("in_row_spacing") == Some("4"));
    for _ in 0..2 {
        planner.click("[data-action=units-metric]")?;
        let metric = planner.expect(&before.scenario()?)?;
        ensure!(metric.field("in_row_spacing") == Some("1.22"), "{:?}", metric.field("in_row_spacing"));
        ensure!(metric.drawings != before.drawings, "the drawings keep the other units");
        ensure!(metric.scenario()? == before.scenario()?, "another unit is another plan");
        // Looked into and left, a field keeps the value behind what it shows.
        planner.focus(&control("in_row_spacing", "field"))?;
        planner.browser.key("Enter")?;
        planner.browser.key("Tab")?;
        planner.click("[data-action=units-us]")?;
        ensure!(planner.read()? == before, "there and back, the page is not what it was");
    }
    Ok(())
}

/// The program breaks within its own code: asked for a new element, the browser gives none.
fn a_panic_leaves_picture_and_plan(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    planner.enter("in_row_spacing", "4")?;
    planner.expect(&Scenario::default().with(|s| s.block.in_row_spacing = feet(4.0)))?;
    // The last change is made less than a moment before the end.
    planner.enter("row_width", "15")?;
    let asked = Scenario::default().with(|s| {
        s.block.in_row_spacing = feet(4.0);
        s.block.row_width = feet(15.0);
    });
    let picture = "[...document.querySelectorAll('.rl-board')].map((board) => board.innerHTML).join('')";
    planner.browser.js::<()>(&format!(
        "const frame = () => new Promise((done) => requestAnimationFrame(done));
         await frame();
         await frame();
         window.picture = {picture};
         window.told = 0;
         addEventListener('rowlight-broken', () => told++);
         Document.prototype.createElement = new Proxy(Document.prototype.createElement, {{
           apply(make, page, words) {{
             if (new Error().stack.includes('rowlight.js')) throw new Error('no element');
             return make.apply(page, words);
           }},
         }});
         document.querySelector('.rl-about-button').click();"
    ))?;
    planner.browser.until("window.told > 0 && document.querySelector('.boot-banner .boot-reload')")?;
    let console = planner.browser.console()?;
    ensure!(console.iter().any(|line| line.text.contains("panicked at")), "no word of a panic: {console:?}");
    let said: String = planner.browser.js("return document.querySelector('.boot-banner').textContent")?;
    ensure!(said.contains("Something broke") && said.contains("Your plan is saved"), "{said}");
    ensure!(
        planner
            .browser
            .js::<bool>(&format!("return window.picture === {picture} && picture.length > 1000"))?
    );
    ensure!(
        planner.sees(".rl-strip")? && planner.sees("[data-view=section] .rl-board")?,
        "the picture is gone"
    );
    // Whoever goes on working is not heard, and does no harm.
    planner.browser.js::<()>(&format!(
        "const field = {}; field.value = '20'; field.dispatchEvent(new Event('input', {{ bubbles: true }}));",
        element(&control("headland", "field"))
    ))?;
    planner.browser.js::<()>("window.isOld = true")?;
    planner.click(".boot-reload")?;
    planner.browser.until(&format!("!window.isOld && {STARTED}"))?;
    visit.browser.console()?;
    ensure!(!planner.sees(".boot-banner")? && !planner.sees("[data-notice=saved]")?);
    planner.reload()?;
    planner.expect(&asked).context("what the reload brings back")?;
    Ok(())
}
