//! The chapter of canopy and light: what moves when a hand drags there, and what the engine says of it.

use anyhow::{Context, Result, ensure};
use planting::light::Memory;
use planting::{Scenario, feet};
use serde_json::Value;
use xtask::browser::Browser;

use crate::harness::{Case, Visit, cases};

pub(crate) const CASES: &[Case] = cases![
    dragging_the_spacing_moves_map_figures_and_advice,
    the_chapter_shows_what_the_engine_says,
    shadows_follow_date_and_hour,
    the_years_are_summed_when_the_hand_rests,
    the_chapter_survives_a_reload,
    a_browser_without_simd_gets_the_plain_module,
];

const READY: &str = "document.querySelector('[data-figure]') !== null";

fn open_chapter(visit: &Visit) -> Result<()> {
    visit.open("index.html")?;
    visit.browser.until(READY)?;
    turn_to(&visit.browser, "chapter-light")
}

fn turn_to(browser: &Browser, action: &str) -> Result<()> {
    browser.js::<Value>(&format!("document.querySelector('[data-action={action}]').click()"))?;
    browser.until("document.querySelector('[data-view=pair] .layer-light path') !== null || document.querySelector('.rl-page').dataset.chapter !== 'light'")
}

/// The value of a figure on the page, at full precision.
fn figure(browser: &Browser, key: &str) -> Result<f64> {
    let text: Option<String> =
        browser.js(&format!("return document.querySelector('[data-figure={key}]')?.dataset.value"))?;
    text.with_context(|| format!("{key} isn't shown"))?.parse().context("no number")
}

fn layer(browser: &Browser, view: &str, layer: &str) -> Result<String> {
    browser.js(&format!("return document.querySelector('[data-view={view}] .layer-{layer}').innerHTML"))
}

fn dark_middle(browser: &Browser) -> Result<bool> {
    browser.js("return document.querySelector('[data-rule=dark_middle]') !== null")
}

/// Moves a slider as a hand does: many steps, then lets go.
fn slide(browser: &Browser, key: &str, to: f64) -> Result<()> {
    browser.js::<Value>(&format!(
        "const slider = document.querySelector('input[data-role=slider][data-key={key}]');
         const from = Number(slider.value);
         for (let step = 1; step <= 8; step++) {{
           slider.value = from + ({to} - from) * step / 8;
           slider.dispatchEvent(new Event('input', {{ bubbles: true }}));
           await new Promise(requestAnimationFrame);
         }}
         slider.dispatchEvent(new Event('change', {{ bubbles: true }}));
         await new Promise(requestAnimationFrame);
         await new Promise(requestAnimationFrame);
         return slider.value"
    ))?;
    Ok(())
}

pub(crate) fn dragging_the_spacing_moves_map_figures_and_advice(visit: &Visit) -> Result<()> {
    let browser = &visit.browser;
    open_chapter(visit)?;
    let before = (layer(browser, "section", "light")?, figure(browser, "light_intercepted")?);
    ensure!(!dark_middle(browser)?, "the starting plan is called dark");
    slide(browser, "in_row_spacing", 2.0)?;
    let after = (layer(browser, "section", "light")?, figure(browser, "light_intercepted")?);
    ensure!(before.0 != after.0, "the map has not moved");
    ensure!((before.1 - after.1).abs() > 1e-4, "light caught has not moved: {} and {}", before.1, after.1);
    // Wide, tall crowns close together: the middle goes dark, and the page says so with what cures it.
    slide(browser, "canopy_width", 7.0)?;
    slide(browser, "tree_height", 16.0)?;
    ensure!(dark_middle(browser)?, "nobody says that the middle is dark");
    // What cures it is solved when the plan stands still, and is a length.
    browser
        .until("document.querySelector('[data-rule=dark_middle]')?.textContent.includes('ft')")
        .context("no length that cures it")
}

pub(crate) fn the_chapter_shows_what_the_engine_says(visit: &Visit) -> Result<()> {
    let browser = &visit.browser;
    open_chapter(visit)?;
    slide(browser, "row_width", 14.0)?;
    let scenario = Scenario::default().with(|s| s.block.row_width = feet(14.0));
    let plan = planting::plan(&scenario).map_err(|problems| anyhow::anyhow!("{problems:?}"))?;
    for key in ["light_intercepted", "crown_under_flowering_light", "light_lowest_third", "light_floor"] {
        let shown = figure(browser, key)?;
        let expected = plan.figure(key).and_then(|figure| figure.value).context(key)?;
        // Two machines round the last bit of single-precision sums in their own way.
        ensure!((shown - expected).abs() < 1e-5, "{key}: {shown} on the page, {expected} by the engine");
    }
    let beside = Memory::default().beside(&plan.light.asked);
    let said = format!("catches {} % of the light", (beside.intercepted * 100.0).round());
    let pair: String = browser.js("return document.querySelector('[data-view=pair]').textContent")?;
    ensure!(pair.contains(&said), "{said:?} is not among {pair:?}");
    Ok(())
}

fn shadows_follow_date_and_hour(visit: &Visit) -> Result<()> {
    let browser = &visit.browser;
    open_chapter(visit)?;
    turn_to(browser, "daylight-hour")?;
    browser.until("document.querySelector('[data-view=plan] .ink-shade') !== null")?;
    let morning = layer(browser, "plan", "light")?;
    slide(browser, "sun_hour", 15.0)?;
    ensure!(morning != layer(browser, "plan", "light")?, "shade stands still while the sun goes on");
    let note: String = browser.js("return document.querySelector('[data-view=section]').textContent")?;
    // At 15 h on 21 June, 42° N: 48° high, 102° from north mirrored to the west, 258° (by symmetry of the day at 9 h).
    ensure!(note.contains("sun 48° high, from 258°"), "{note}");
    slide(browser, "sun_hour", 2.0)?;
    let note: String = browser.js("return document.querySelector('[data-view=section]').textContent")?;
    ensure!(note.contains("the sun is not up"), "{note}");
    Ok(())
}

fn the_years_are_summed_when_the_hand_rests(visit: &Visit) -> Result<()> {
    let browser = &visit.browser;
    open_chapter(visit)?;
    browser.until("document.querySelectorAll('[data-view=years] .layer-trees path').length === 3")?;
    let before = layer(browser, "years", "trees")?;
    slide(browser, "canopy_width", 7.0)?;
    let quoted = serde_json::to_string(&before)?;
    browser.until(&format!("document.querySelector('[data-view=years] .layer-trees').innerHTML !== {quoted}"))
}

fn the_chapter_survives_a_reload(visit: &Visit) -> Result<()> {
    let browser = &visit.browser;
    open_chapter(visit)?;
    visit.open("index.html")?;
    browser.until(READY)?;
    browser.until("document.querySelector('.rl-page').dataset.chapter === 'light'")?;
    turn_to(browser, "chapter-layout")?;
    browser.until("document.querySelector('[data-view=elevation] .layer-trees path') !== null")
}

fn a_browser_without_simd_gets_the_plain_module(visit: &Visit) -> Result<()> {
    let browser = &visit.browser;
    let blind = "const validate = WebAssembly.validate; WebAssembly.validate = (bytes) => bytes.length !== 31 && validate(bytes);";
    let script =
        browser.command("Page.addScriptToEvaluateOnNewDocument", serde_json::json!({ "source": blind }))?;
    let read = || -> Result<(Vec<String>, f64)> {
        open_chapter(visit)?;
        let names = "return performance.getEntriesByType('resource').map((one) => one.name.split('/').pop())";
        Ok((browser.js(names)?, figure(browser, "light_intercepted")?))
    };
    let outcome = read();
    // Whatever came of it, or every case after this one runs without SIMD.
    browser.command(
        "Page.removeScriptToEvaluateOnNewDocument",
        serde_json::json!({ "identifier": script["identifier"] }),
    )?;
    let (loaded, plain) = outcome?;
    for part in ["", "-light"] {
        let ours = |make: &str| loaded.iter().any(|name| *name == format!("rowlight{make}{part}_bg.wasm"));
        ensure!(ours("-plain") && !ours(""), "{loaded:?}");
    }
    let plan = planting::plan(&Scenario::default()).map_err(|problems| anyhow::anyhow!("{problems:?}"))?;
    let expected = plan.figure("light_intercepted").and_then(|figure| figure.value).context("no figure")?;
    ensure!((plain - expected).abs() < 1e-5, "{plain} without SIMD, {expected} natively");
    Ok(())
}
