//! Nothing of the reader's is lost or dropped: fields at odds, an edit that waits, the plan a link comes in place of, the focus.

use anyhow::{Context, Result, ensure};
use drafting::Units;
use planting::{Scenario, TrainingSystem, feet, link};
use serde_json::{Value, json};

use crate::embed::{open_with, until_started, within};
use crate::harness::{Case, Visit, cases};
use crate::loading::{STARTED, printable};
use crate::planner::{PLACE, Planner, control, element, file, unfold_within};

pub(crate) const CASES: &[Case] = cases![
    a_year_set_by_a_page_keeps_fields_at_odds,
    an_edit_that_waits_is_read,
    a_link_keeps_the_readers_own_plan,
    a_full_storage_keeps_the_readers_own_plan,
    a_moved_element_takes_no_step,
    the_focus_stays_at_hand,
    an_ambiguous_number_is_refused,
    the_pointer_is_asked_for_once,
];

/// Types into a field of the planner with this id and leaves it.
fn type_within(visit: &Visit, field: &str, text: &str) -> Result<()> {
    visit.browser.js(&format!(
        "const field = {}; field.value = '{text}';
         field.dispatchEvent(new Event('input', {{ bubbles: true }})); field.dispatchEvent(new Event('change', {{ bubbles: true }}));
         await new Promise(requestAnimationFrame); await new Promise((done) => setTimeout(done));",
        within("planner", &control(field, "field"))
    ))
}

fn a_year_set_by_a_page_keeps_fields_at_odds(visit: &Visit) -> Result<()> {
    let _server = open_with(visit, "<rowlight-plan id=planner year=3></rowlight-plan>")?;
    until_started(visit, "planner")?;
    visit.browser.js::<()>(&unfold_within("planner"))?;
    let undo = within("planner", "[data-action=undo]");
    ensure!(visit.browser.js::<bool>(&format!("return {undo}.disabled"))?, "the first year is a step");
    type_within(visit, "block_length", "40")?;
    let conflict = within("planner", "[data-notice=conflict]");
    visit.browser.until(&conflict)?;
    // Another edit waits for its frame when the year is set.
    visit.browser.js::<()>(&format!(
        "const slider = {}; slider.value = '15'; slider.dispatchEvent(new Event('input', {{ bubbles: true }}));
         planner.year = 9;
         await new Promise(requestAnimationFrame); await new Promise((done) => setTimeout(done));",
        within("planner", &control("row_width", "slider"))
    ))?;
    let shown = || -> Result<[String; 3]> {
        let fields =
            ["block_length", "row_width", "year"].map(|key| within("planner", &control(key, "field")));
        visit.browser.js(&format!(
            "await new Promise(requestAnimationFrame); await new Promise((done) => setTimeout(done)); return [{}]",
            fields.map(|field| format!("{field}.value")).join(", ")
        ))
    };
    ensure!(shown()? == ["40", "15", "9"], "{:?}", shown()?);
    ensure!(visit.browser.js::<bool>(&format!("return Boolean({conflict})"))?, "the conflict is gone");
    visit.browser.js::<()>(&format!("{undo}.click()"))?;
    ensure!(shown()? == ["40", "15", "3"], "the year is no step of its own: {:?}", shown()?);
    visit.browser.js::<()>(&format!("{undo}.click()"))?;
    ensure!(shown()? == ["40", "12", "3"], "{:?}", shown()?);
    Ok(())
}

fn an_edit_that_waits_is_read(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    let slide = |key: &str, value: &str| {
        format!(
            "{{ const slider = {}; slider.value = '{value}'; slider.dispatchEvent(new Event('input', {{ bubbles: true }})); }}",
            element(&control(key, "slider"))
        )
    };
    // Within one frame: a slider, and a menu that brings a planting of its own along.
    planner.browser.js::<()>(&format!(
        "{}
         const menu = {}; menu.value = 'v_trellis'; menu.dispatchEvent(new Event('change', {{ bubbles: true }}));",
        slide("block_length", "500"),
        element(&control("system", "field"))
    ))?;
    let site = Scenario::default().with(|s| s.block.block_length = feet(500.0));
    planner.expect(&site.with_system(TrainingSystem::VTrellis)).context("a new system")?;
    // The browser prints by itself.
    planner.browser.until(&printable())?;
    let printed: String = planner.browser.js(&format!(
        "{} dispatchEvent(new Event('beforeprint'));
         const sheets = document.getElementById('rowlight-print').textContent; dispatchEvent(new Event('afterprint')); return sheets",
        slide("block_length", "720")
    ))?;
    ensure!(printed.contains("720 ft"), "the print is of the plan before");
    Ok(())
}

const OWN: &str = "[data-notice=own]";

fn width(scenario: Scenario, row_ft: f64) -> Scenario {
    scenario.with(|s| s.block.row_width = feet(row_ft))
}

fn a_link_keeps_the_readers_own_plan(visit: &Visit) -> Result<()> {
    let own = width(Scenario::default(), 11.0);
    let [first, second] = [14.0, 15.0].map(|row| width(Scenario::default(), row));
    let open = |link: &Scenario| -> Result<Planner<'_>> {
        visit.browser.open("about:blank")?;
        visit.open(&format!("index.html#{}", link::write(link)))?;
        visit.browser.until(STARTED)?;
        Ok(Planner { browser: &visit.browser })
    };
    let offered = |planner: &Planner, scenario: &Scenario, is_offered: bool| -> Result<()> {
        ensure!(planner.read()?.scenario()? == *scenario, "another plan is shown");
        ensure!(planner.sees(OWN)? == is_offered, "the reader's own plan is offered: {}", !is_offered);
        Ok(())
    };
    // A first visit: there is nothing to go back to.
    let planner = open(&first)?;
    offered(&planner, &first, false).context("a first visit")?;
    visit.open("embedding.html")?;
    visit.browser.js::<()>("localStorage.clear()")?;
    Planner::open_with(visit, &own, Units::Metric)?;
    let planner = open(&first)?;
    offered(&planner, &first, true)?;
    planner.reload()?;
    offered(&planner, &first, true).context("after a reload")?;
    // Worked on, and another link after it: the reader's own still waits.
    planner.enter("headland", "40 ft")?;
    planner.browser.until("location.hash === ''")?;
    planner.reload()?;
    ensure!(planner.sees(OWN)?);
    let planner = open(&second)?;
    offered(&planner, &second, true).context("a second link")?;
    planner.click("[data-action=own-back]")?;
    offered(&planner, &own, false).context("taken back")?;
    ensure!(planner.read()?.units()? == Units::Metric, "the reader's own units are lost");
    planner.click("[data-action=undo]")?;
    offered(&planner, &second, false).context("taking it back is no step")?;
    planner.click("[data-action=redo]")?;
    planner.browser.js::<()>("history.replaceState(null, '', location.pathname)")?;
    planner.reload()?;
    offered(&planner, &own, false).context("taken back and loaded again")?;
    // A link that comes while the planner stands, undone, opened again and sent away.
    let follow = |link: &Scenario| {
        planner.browser.js::<()>(&format!("location.hash = '{}'", link::write(link)))?;
        planner.browser.until(&element(OWN))
    };
    follow(&first)?;
    planner.click("[data-action=undo]")?;
    offered(&planner, &own, false).context("undone to")?;
    planner.click("[data-action=redo]")?;
    offered(&planner, &first, true).context("done again")?;
    planner.click("[data-action=own-away]")?;
    offered(&planner, &first, false).context("sent away")?;
    planner.reload()?;
    offered(&planner, &first, false).context("sent away and loaded again")?;
    let keys: Vec<String> = visit.browser.js("return Object.keys(localStorage)")?;
    ensure!(keys == [PLACE], "{keys:?} is left");
    Ok(())
}

/// There is room for one plan, and it is the reader's own.
fn a_full_storage_keeps_the_readers_own_plan(visit: &Visit) -> Result<()> {
    let own = width(Scenario::default(), 11.0);
    let link = width(Scenario::default(), 14.0);
    visit.open("embedding.html")?;
    visit.browser.js::<()>(&format!(
        "localStorage.setItem('{PLACE}', {});
         for (let size = 1 << 22; size >= 1; size >>= 1)
           try {{ localStorage.setItem('filling', (localStorage.getItem('filling') ?? '') + 'x'.repeat(size)); }} catch {{}}",
        json!(file(&own, Units::Us)?)
    ))?;
    let kept = || -> Result<Scenario> {
        let text: String = visit.browser.js(&format!("return localStorage.getItem('{PLACE}')"))?;
        let value: Value = serde_json::from_str(&text)?;
        crate::planner::scenario_of(if value["scenario"].is_object() { &value["scenario"] } else { &value })
    };
    visit.open(&format!("index.html#{}", link::write(&link)))?;
    visit.browser.until(STARTED)?;
    let planner = Planner { browser: &visit.browser };
    ensure!(planner.sees(OWN)?, "the reader's own plan isn't offered");
    visit.browser.js::<()>("dispatchEvent(new Event('pagehide'))")?;
    ensure!(kept()? == own, "the link's plan has taken the place of the reader's own");
    planner.click("[data-action=own-back]")?;
    let shown: String = visit.browser.js(&format!(
        "await new Promise(requestAnimationFrame); return {}.value",
        element(&control("row_width", "field"))
    ))?;
    ensure!(shown == "11" && kept()? == own, "{shown}");
    visit.browser.js::<()>("localStorage.clear()")
}

fn a_moved_element_takes_no_step(visit: &Visit) -> Result<()> {
    let _server = open_with(
        visit,
        "<rowlight-plan id=planner scenario='{\"version\":1,\"row_width\":4}'></rowlight-plan><p id=after></p>",
    )?;
    until_started(visit, "planner")?;
    let is_off = |action: &str| -> Result<bool> {
        let button = within("planner", &format!("[data-action={action}]"));
        visit.browser.js(&format!("await new Promise(requestAnimationFrame); await new Promise((done) => setTimeout(done)); return {button}.disabled"))
    };
    let row = || -> Result<f64> { visit.browser.js("return (await planner.getScenario()).row_width") };
    let step = |action: &str| -> Result<()> {
        visit.browser.js(&format!("{}.click()", within("planner", &format!("[data-action={action}]"))))
    };
    let move_it = || -> Result<()> {
        visit.browser.js::<()>("after.append(planner)")?;
        until_started(visit, "planner")
    };
    type_within(visit, "row_width", "15")?;
    visit.browser.js::<()>(&format!("{}.click()", within("planner", "[data-action=units-metric]")))?;
    let width = row()?;
    move_it()?;
    ensure!(row()? == width, "the plan is lost");
    ensure!(visit.browser.js::<String>("return (await planner.getPlan()).units")? == "metric");
    ensure!(is_off("undo")?, "moving it is a step to undo");
    step("reset")?;
    ensure!(row()? == 4.0, "“Start again” leads to {}", row()?);
    // What the page gives later is what “Start again” leads to, here and after another move.
    visit.browser.js::<()>("await planner.setScenario({ version: 1, row_width: 5 })")?;
    ensure!(is_off("reset")?, "the page's plan isn't where “Start again” leads to");
    type_within(visit, "row_width", "6")?;
    move_it()?;
    ensure!(is_off("undo")? && row()? == 6.0, "{}", row()?);
    step("reset")?;
    ensure!(row()? == 5.0, "“Start again” leads to {}", row()?);
    Ok(())
}

fn the_focus_stays_at_hand(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    let held = || -> Result<String> {
        planner.browser.js(
            "await new Promise(requestAnimationFrame); await new Promise((done) => setTimeout(done));
             const { dataset, textContent } = document.activeElement;
             return document.activeElement.matches('.rl-headline') ? textContent : `${dataset.action ?? document.activeElement.tagName} ${dataset.item ?? ''}`.trim()",
        )
    };
    for close in ["key", "button"] {
        planner.focus(".rl-headline:nth-child(2)")?;
        let figure = held()?;
        planner.browser.key("Enter")?;
        planner.browser.until(&element("[data-action=working-close]"))?;
        planner.focus("[data-action=working-close]")?;
        planner.browser.key(if close == "key" { "Escape" } else { "Enter" })?;
        planner.browser.until(&format!("!{}", element("[data-action=working-close]")))?;
        ensure!(held()? == figure, "closed by its {close}: the focus is at {}", held()?);
    }
    let mut wires = Scenario::default().trellis.wire_heights.len();
    while wires > 0 {
        // The uppermost, then the lowest.
        let item = if wires % 2 == 0 { wires - 1 } else { 0 };
        planner.focus(&format!("[data-action=wire-remove][data-item='{item}']"))?;
        planner.browser.key("Enter")?;
        wires -= 1;
        let next = match wires {
            0 => "wire-add".to_owned(),
            left => format!("wire-remove {}", item.min(left - 1)),
        };
        ensure!(held()? == next, "{wires} wires left: the focus is at {}, not {next}", held()?);
    }
    Ok(())
}

fn an_ambiguous_number_is_refused(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    let before = planner.read()?;
    for (text, plain) in [("0,900", "0.9"), ("1.234,5", "1234.5"), ("1,23", "1.23")] {
        planner.enter("block_length", text)?;
        let after = planner.read()?;
        ensure!(after.saved == before.saved, "{text} is taken");
        let said = after.fault("block_length").context("nothing is said")?;
        ensure!(said.contains(text) && said.contains(&format!("write {plain}:")), "{said}");
    }
    planner.enter("block_length", "1,200.5")?;
    planner.expect(&Scenario::default().with(|s| s.block.block_length = feet(1200.5)))?;
    Ok(())
}

fn the_pointer_is_asked_for_once(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    let asked: usize = planner.browser.js(&format!(
        "let asked = 0;
         const match = window.matchMedia.bind(window);
         window.matchMedia = (query) => {{ asked += query.includes('pointer'); return match(query); }};
         const slider = {};
         for (const value of [13, 14, 15, 16]) {{
           slider.value = value; slider.dispatchEvent(new Event('input', {{ bubbles: true }}));
           await new Promise(requestAnimationFrame); await new Promise((done) => setTimeout(done));
         }}
         return asked",
        element(&control("row_width", "slider"))
    ))?;
    ensure!(asked == 0, "asked {asked} times again");
    Ok(())
}
