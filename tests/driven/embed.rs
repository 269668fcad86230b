//! The planner in somebody else's page: the element, its life, and what it says when it can't start.

use std::collections::BTreeMap;

use anyhow::{Context, Result, ensure};
use drafting::{Frame, Units, View, draw, svg};
use planting::kit::group::FIELD;
use planting::{REGISTRY, Scenario, TrainingSystem, feet, link};
use serde_json::{Value, json};
use xtask::serve::{Answer, POLICY, Server, Settings};

use crate::harness::{Case, Visit, cases, imported};
use crate::planner::{near, scenario_of, unfold_within};

pub(crate) const CASES: &[Case] = cases![
    two_planners_with_their_own_plans,
    a_hostile_page_reaches_nothing,
    attributes_and_properties_say_the_same,
    a_hand_tells_the_page_and_the_page_itself_does_not,
    what_is_asked_in_vain_is_said,
    a_locked_plan_is_only_looked_at,
    only_some_controls_are_shown,
    an_element_that_moves_keeps_its_plan,
    coming_and_going_leaves_nothing_behind,
    the_module_twice_is_harmless,
    the_page_is_told_why_there_is_no_planner,
    it_waits_until_it_is_near,
    numbers_without_a_planner,
    it_prints_from_somebody_elses_page,
    the_types_are_those_of_the_element,
    what_is_written_names_every_attribute,
    a_frame_tells_its_height,
    the_builder_writes_lines_that_work,
    it_fits_any_column,
];

/// A page of somebody else's, in a folder of its own beside the planner's.
pub(crate) fn host_page(head: &str, body: &str) -> Answer {
    let page = format!(
        "<!doctype html><html lang=en><title>A page</title><link rel=icon href=data:,>{head}<body>{body}"
    );
    Answer { status: 200, content_type: "text/html; charset=utf-8".into(), body: page.into_bytes() }
}

/// Serves the site under `/grower/planner/` and the page at `/grower/page.html`.
pub(crate) fn serve(visit: &Visit, page: Answer, more: &[(&str, Answer)]) -> Result<Server> {
    let mut answers = BTreeMap::from([("/grower/page.html".to_owned(), page)]);
    answers.extend(more.iter().map(|(address, answer)| ((*address).to_owned(), answer.clone())));
    visit.serve(Settings { under: "/grower/planner/".into(), answers, ..Settings::default() })
}

pub(crate) fn open(visit: &Visit, server: &Server) -> Result<()> {
    visit.browser.open(&server.url().replace("/planner/", "/page.html"))
}

pub(crate) const MODULE: &str = "<script type=module src=planner/rowlight-plan.js></script>";

/// Opens a page with these elements in it.
pub(crate) fn open_with(visit: &Visit, body: &str) -> Result<Server> {
    let server = serve(visit, host_page(MODULE, body), &[])?;
    open(visit, &server)?;
    Ok(server)
}

/// The expression of something within the planner with this id.
pub(crate) fn within(id: &str, selector: &str) -> String {
    format!("document.getElementById('{id}').shadowRoot.querySelector({})", json!(selector))
}

pub(crate) fn until_started(visit: &Visit, id: &str) -> Result<()> {
    visit.browser.until(&format!("{} && !{}", within(id, "[data-figure]"), within(id, ".rl-still")))
}

/// Widens the rows of the planner with this id by one step, as a hand does.
pub(crate) fn widen_rows(visit: &Visit, id: &str) -> Result<()> {
    let slider = within(id, "[data-key=row_width][data-role=slider]");
    visit.browser.js::<()>(&format!("{slider}.focus()"))?;
    visit.browser.key("ArrowRight")
}

/// The figures a planner tells are those of the engine.
pub(crate) fn expect_plan(plan: &Value, scenario: &Scenario) -> Result<()> {
    let engine = planting::plan(scenario).map_err(|problems| anyhow::anyhow!("{problems:?}"))?;
    let figures = plan["figures"].as_array().context("there are no figures")?;
    ensure!(figures.len() == engine.figures.len());
    for (told, figure) in figures.iter().zip(&engine.figures) {
        ensure!(told["key"] == figure.key);
        let same = match (told["value"].as_f64(), figure.value) {
            (Some(told), Some(value)) => near(told, value, 1e-11),
            (None, None) => true,
            _ => false,
        };
        ensure!(same, "{}: {} is told, {:?} is right", figure.key, told["value"], figure.value);
    }
    ensure!(scenario_of(&plan["scenario"])? == *scenario, "another scenario");
    let rules: Vec<&str> = engine.advice.iter().map(|advice| advice.rule).collect();
    let told: Vec<&str> = plan["findings"]
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(|finding| finding["rule"].as_str())
        .collect();
    ensure!(told == rules, "{told:?} is told, {rules:?} is right");
    Ok(())
}

pub(crate) fn two_planners_with_their_own_plans(visit: &Visit) -> Result<()> {
    let one = Scenario::default().with(|s| s.block.row_width = feet(14.0));
    let other = Scenario::for_system(TrainingSystem::VTrellis);
    let file = serde_json::to_vec(&other.to_entries())?;
    let page = format!(
        "{MODULE}<rowlight-plan id=one scenario='{}'></rowlight-plan><rowlight-plan id=two units=metric scenario=plans/v.json></rowlight-plan>",
        link::write(&one)
    );
    let plans = Answer { status: 200, content_type: "application/json".into(), body: file };
    let server = serve(visit, host_page("", &page), &[("/grower/plans/v.json", plans)])?;
    open(visit, &server)?;
    visit.browser.viewport(1280, 4000)?;
    for (id, scenario) in [("one", &one), ("two", &other)] {
        until_started(visit, id)?;
        expect_plan(&visit.browser.js(&format!("return await {id}.getPlan()"))?, scenario)?;
        let entries: Value = visit.browser.js(&format!("return await {id}.getScenario()"))?;
        ensure!(scenario_of(&entries)? == *scenario, "another scenario");
    }
    visit.browser.screenshot("embed-two")?;
    // An edit in one is no edit in the other, nor is an undo; nothing is kept in storage.
    let field = |id| within(id, "[data-key=row_width][data-role=field]");
    visit.browser.js::<()>(&format!("const field = {}; field.focus(); field.select();", field("one")))?;
    visit.browser.write("15")?;
    visit.browser.key("Enter")?;
    visit.browser.js::<()>("document.activeElement.blur(); two.focus()")?;
    let width = |id: &str| -> Result<f64> {
        visit.browser.js(&format!("return (await {id}.getScenario()).row_width"))
    };
    ensure!(
        near(width("one")?, feet(15.0).value, 1e-12)
            && near(width("two")?, other.block.row_width.value, 1e-12)
    );
    visit.browser.js::<()>(&format!("{}.focus()", within("two", "[data-action=units-us]")))?;
    visit.browser.key("Ctrl+z")?;
    ensure!(near(width("one")?, feet(15.0).value, 1e-12), "an undo in one planner undid in the other");
    visit.browser.js::<()>(&format!("{}.focus()", within("one", "[data-action=units-us]")))?;
    visit.browser.key("Ctrl+z")?;
    ensure!(near(width("one")?, feet(14.0).value, 1e-12), "there is no undo");
    ensure!(visit.browser.js::<u32>("return localStorage.length")? == 0, "a guest has stored something");
    // A drawing is the one the engine draws.
    let drawing: String = visit.browser.js("return await one.getDrawing('section')")?;
    let plan = planting::plan(&one).map_err(|problems| anyhow::anyhow!("{problems:?}"))?;
    let sheet = draw(View::Section, &plan, Frame::screen(1200.0, 780.0, Units::Us));
    ensure!(drawing == svg::document(&sheet, svg::PaperUnit::Fluid), "another drawing");
    Ok(())
}

/// Rules that would spoil a page made of plain elements.
const HOSTILE: &str = "
    html { font-size: 31px; }
    * { color: red !important; font-family: fantasy !important; margin: 9px !important; line-height: 3 !important; letter-spacing: 4px !important;
      text-transform: uppercase !important; box-sizing: content-box !important; }
    div, section, button, input, p, svg, select { display: none !important; border: 5px solid lime !important; }
    rowlight-plan { margin: 0 !important; text-align: right; white-space: pre; word-spacing: 9px; font-style: italic; cursor: wait; }
    .rl-page, .rl-room { zoom: 3; background: lime !important; }
    .wide { width: 900px; margin: 0 !important; }";

/// How the parts of a planner stand and look.
const LOOKS: &str = "
    const room = planner.shadowRoot.querySelector('.rl-page');
    const own = room.getBoundingClientRect();
    return [room, ...room.querySelectorAll('.rl-headline, .rl-row, .rl-tool, .rl-drawing, .rl-field, .rl-group-head')].filter((part) => part.checkVisibility()).map((part) => {
      const [style, box] = [getComputedStyle(part), part.getBoundingClientRect()];
      return [part.className.baseVal ?? part.className, style.color, style.fontFamily, style.fontSize, style.letterSpacing, style.textAlign, style.display,
        style.direction, Math.round(box.x - own.x), Math.round(box.y - own.y), Math.round(box.width), Math.round(box.height)].join(' ');
    });";

fn a_hostile_page_reaches_nothing(visit: &Visit) -> Result<()> {
    let sheet = |rules: &str| Answer {
        status: 200,
        content_type: "text/css".into(),
        body: rules.as_bytes().to_vec(),
    };
    let page = "<section class=wide dir=rtl><rowlight-plan id=planner></rowlight-plan></section>";
    let head = format!("{MODULE}<link rel=stylesheet href=host.css>");
    // High enough for all of it, so that nothing sticks to the window's edge.
    visit.browser.viewport(1280, 5000)?;
    let mut looks = Vec::new();
    for rules in [".wide { width: 900px; }", HOSTILE] {
        // The section of the page itself must be seen.
        let rules = format!(
            "{rules} section.wide {{ display: block !important; border: 0 !important; padding: 0; }}"
        );
        let server = serve(visit, host_page(&head, page), &[("/grower/host.css", sheet(&rules))])?;
        open(visit, &server)?;
        until_started(visit, "planner")?;
        visit.browser.until(&format!("{} !== null", within("planner", ".rl-menu")))?;
        looks.push(visit.browser.js::<Vec<String>>(LOOKS)?);
        visit.browser.screenshot("embed-hostile")?;
        visit.leave()?;
    }
    let [calm, hostile] = looks.as_slice() else { anyhow::bail!("two looks") };
    ensure!(calm.len() > 30, "only {} parts", calm.len());
    for (calm, hostile) in calm.iter().zip(hostile) {
        ensure!(calm == hostile, "alone {calm}\nthere {hostile}");
    }
    ensure!(calm.len() == hostile.len());
    Ok(())
}

pub(crate) fn attributes_and_properties_say_the_same(visit: &Visit) -> Result<()> {
    // Set before the module has come.
    let _server =
        open_with(visit, "<rowlight-plan id=planner chapters=light year=9 theme=dark></rowlight-plan>")?;
    until_started(visit, "planner")?;
    let year = |year: f64| -> Result<()> {
        visit.browser.until(&format!("(await planner.getScenario()).year === {year}"))
    };
    year(9.0)?;
    let chapter = within("planner", ".rl-page").to_string();
    ensure!(visit.browser.js::<String>(&format!("return {chapter}.dataset.chapter"))? == "light");
    ensure!(
        visit
            .browser
            .js::<bool>(&format!("return {}.hidden", within("planner", "[data-action=chapter-layout]")))?,
        "a chapter that isn't asked for can be turned to"
    );
    let ground = || -> Result<String> {
        visit.browser.js(&format!("return getComputedStyle({chapter}).backgroundColor"))
    };
    ensure!(ground()? == "rgb(15, 21, 24)", "{}", ground()?);
    visit.browser.js::<()>("planner.theme = 'light'")?;
    visit.browser.until(&format!("getComputedStyle({chapter}).backgroundColor === 'rgb(241, 239, 233)'"))?;
    visit
        .browser
        .js::<()>("planner.year = 4; planner.units = 'metric'; planner.chapters = 'layout light'")?;
    year(4.0)?;
    ensure!(
        visit.browser.js::<[Option<String>; 3]>(
            "return [planner.getAttribute('year'), planner.units, planner.remember]"
        )? == [Some("4".into()), Some("metric".into()), None]
    );
    let plan: Value = visit.browser.js("return await planner.getPlan()")?;
    ensure!(plan["units"] == "metric");
    visit.browser.js::<()>(
        "const late = document.createElement('rowlight-plan'); late.id = 'late'; late.scenario = { version: 1, row_width: 4 }; planner.replaceWith(late);",
    )?;
    until_started(visit, "late")?;
    ensure!(visit.browser.js::<f64>("return (await late.getScenario()).row_width")? == 4.0);
    Ok(())
}

const LISTEN: &str = "window.heard = []; document.addEventListener('rowlight-change', (event) => heard.push([event.target.id, event.detail]));";

pub(crate) fn a_hand_tells_the_page_and_the_page_itself_does_not(visit: &Visit) -> Result<()> {
    let _server = open_with(visit, "<section><rowlight-plan id=planner></rowlight-plan></section>")?;
    until_started(visit, "planner")?;
    visit.browser.js::<()>(LISTEN)?;
    visit.browser.js::<()>("planner.year = 7; await planner.setScenario({ version: 1, row_width: 4.5 }); planner.units = 'metric';")?;
    visit.browser.js::<()>("await new Promise((done) => setTimeout(done, 300))")?;
    ensure!(visit.browser.js::<usize>("return heard.length")? == 0, "the page is told what it has set");
    widen_rows(visit, "planner")?;
    visit.browser.until("heard.length === 1")?;
    let (id, detail): (String, Value) = visit.browser.js("return heard[0]")?;
    ensure!(id == "planner", "told by {id}");
    let scenario = scenario_of(&detail["scenario"])?;
    ensure!(scenario.block.row_width > feet(14.7), "{:?}", scenario.block.row_width);
    expect_plan(&detail, &scenario)?;
    let link = detail["link"].as_str().context("no link is told")?;
    ensure!(link::read(link) == Ok(scenario), "{link} is another plan");
    // What can't be a plan is refused in words, and nothing changes.
    for (wrong, said) in [
        ("{ version: 1, row_width: 900 }", "Row width"),
        ("'1.KsAwYQQ'", "cut short"),
        ("7", "no scenario"),
        ("null", "no scenario"),
    ] {
        let message: String = visit.browser.js(&format!(
            "try {{ await planner.setScenario({wrong}); return 'taken' }} catch (reason) {{ return `${{reason.name}}: ${{reason.message}}` }}"
        ))?;
        ensure!(message.starts_with("RangeError") && message.contains(said), "{wrong}: {message}");
    }
    ensure!(visit.browser.js::<Value>("return (await planner.getPlan()).scenario")? == detail["scenario"]);
    let wrong: String =
        visit.browser.js("return planner.getDrawing('roof').catch((reason) => reason.message)")?;
    ensure!(wrong.contains("roof"), "{wrong}");
    Ok(())
}

fn what_is_asked_in_vain_is_said(visit: &Visit) -> Result<()> {
    let cases = [
        ("units=furlongs", "furlongs"),
        ("chapters='layout roof'", "roof"),
        ("controls=open", "open"),
        ("year=soon", "soon"),
        ("year=4000", "Year"),
        ("scenario='{\"version\":1,\"row_width\":900}'", "Row width"),
        ("scenario='{'", "no plan"),
        ("scenario=1.KsAwYQQ", "cut short"),
        ("scenario=none.json", "404"),
        ("scenario=large.json", "too large"),
        ("scenario=https://example.org/plan.json", "another host"),
    ];
    for (attribute, said) in cases {
        let body = "1".repeat(1_000_001).into_bytes();
        let large = Answer { status: 200, content_type: "application/json".into(), body };
        let page = host_page(MODULE, &format!("<rowlight-plan id=planner {attribute}></rowlight-plan>"));
        let server = serve(visit, page, &[("/grower/large.json", large)])?;
        open(visit, &server)?;
        until_started(visit, "planner")?;
        let notice = within("planner", "[data-notice=refused]");
        visit.browser.until(&notice)?;
        let words: String = visit.browser.js(&format!("return {notice}.textContent"))?;
        ensure!(words.contains(said), "{attribute}: {words}");
        expect_plan(&visit.browser.js("return await planner.getPlan()")?, &Scenario::default())?;
    }
    visit.browser.console()?;
    Ok(())
}

fn a_locked_plan_is_only_looked_at(visit: &Visit) -> Result<()> {
    let _server = open_with(visit, "<rowlight-plan id=planner controls=locked></rowlight-plan>")?;
    until_started(visit, "planner")?;
    let seen = "return [...planner.shadowRoot.querySelectorAll('[data-role=field], [data-handle], [data-action=undo], [data-action=reset], [data-action=show-me]')]
        .filter((part) => part.checkVisibility()).map((part) => part.dataset.key ?? part.dataset.handle ?? part.dataset.action)";
    ensure!(visit.browser.js::<Vec<String>>(seen)? == ["year"]);
    visit.browser.screenshot("embed-locked")?;
    visit.browser.js::<()>("planner.controls = 'shown'")?;
    visit
        .browser
        .until(&format!("{}.checkVisibility()", within("planner", "[data-key=row_width][data-role=field]")))
}

/// Some controls: their rows and handles and no other, by group or by field.
fn only_some_controls_are_shown(visit: &Visit) -> Result<()> {
    let _server =
        open_with(visit, "<rowlight-plan id=planner controls='block tree_height'></rowlight-plan>")?;
    until_started(visit, "planner")?;
    let shown = || -> Result<Vec<String>> {
        visit.browser.js(&format!(
            "{} return [...planner.shadowRoot.querySelectorAll('.rl-controls [data-control]:not([hidden])')].map((row) => row.dataset.control)",
            unfold_within("planner")
        ))
    };
    let block: Vec<&str> = REGISTRY.iter().filter(|one| one.group == FIELD).map(|one| one.key).collect();
    let keys = shown()?;
    ensure!(keys.iter().all(|key| key == "tree_height" || block.contains(&key.as_str())), "{keys:?}");
    ensure!(keys.contains(&"tree_height".to_owned()) && keys.contains(&"block_width".to_owned()), "{keys:?}");
    let handles: Vec<String> = visit.browser.js(
        "return [...new Set([...planner.shadowRoot.querySelectorAll('[data-handle]')].map((one) => one.dataset.handle))]",
    )?;
    ensure!(handles.contains(&"tree_height".to_owned()), "{handles:?}");
    ensure!(!handles.contains(&"row_width".to_owned()) || block.contains(&"row_width"), "{handles:?}");
    ensure!(handles.iter().all(|key| key == "tree_height" || block.contains(&key.as_str())), "{handles:?}");
    let groups: Vec<String> = visit.browser.js(
        "return [...planner.shadowRoot.querySelectorAll('[data-group]:not([hidden])')].map((group) => group.dataset.group)",
    )?;
    // The tree's height is among the inputs that come first, above the groups.
    ensure!(groups == ["block"], "{groups:?}");
    visit.browser.js::<()>("planner.controls = 'trees'")?;
    visit
        .browser
        .until(&format!("{} === null", within("planner", "[data-control=row_width]:not([hidden])")))?;
    ensure!(shown()?.iter().any(|key| key == "rootstock"));
    Ok(())
}

pub(crate) fn an_element_that_moves_keeps_its_plan(visit: &Visit) -> Result<()> {
    let _server =
        open_with(visit, "<p id=before></p><rowlight-plan id=planner></rowlight-plan><p id=after></p>")?;
    until_started(visit, "planner")?;
    visit
        .browser
        .js::<()>("await planner.setScenario({ version: 1, row_width: 4.5 }); after.append(planner);")?;
    until_started(visit, "planner")?;
    ensure!(visit.browser.js::<f64>("return (await planner.getScenario()).row_width")? == 4.5);
    visit.browser.js::<()>("window.gone = planner; gone.remove()")?;
    let refused: bool = visit.browser.js("return gone.getPlan().then(() => false, () => true)")?;
    ensure!(refused, "an element in no document gives a plan");
    Ok(())
}

/// Bytes in use after a collection: the module's memory, JavaScript's heap, DOM nodes.
fn in_use(visit: &Visit) -> Result<[f64; 3]> {
    visit.browser.command("HeapProfiler.collectGarbage", json!({}))?;
    let heap = visit.browser.command("Runtime.getHeapUsage", json!({}))?["usedSize"].as_f64();
    let counters = visit.browser.command("Memory.getDOMCounters", json!({}))?;
    let wasm: f64 = visit.browser.js("return (await window.module.default()).memory.buffer.byteLength")?;
    Ok([wasm, heap.context("no heap")?, counters["nodes"].as_f64().context("no nodes")?])
}

/// Makes a planner, waits until it stands, and takes it away again, so many times.
pub(crate) fn come_and_go(visit: &Visit, times: u32) -> Result<()> {
    let mut left = times;
    while left > 0 {
        let some = left.min(50);
        visit.browser.js::<()>(&format!(
            "for (let time = 0; time < {some}; time++) {{
               const planner = document.createElement('rowlight-plan');
               place.append(planner);
               await planner.getScenario();
               planner.remove();
             }}"
        ))?;
        left -= some;
    }
    Ok(())
}

fn coming_and_going_leaves_nothing_behind(visit: &Visit) -> Result<()> {
    let _server = open_with(visit, "<rowlight-plan id=planner></rowlight-plan><section id=place></section>")?;
    until_started(visit, "planner")?;
    visit.browser.js::<()>(&format!(
        "window.module = await {}; planner.remove();",
        imported("./planner/rowlight.js")
    ))?;
    come_and_go(visit, 50)?;
    let [wasm, heap, nodes] = in_use(visit)?;
    come_and_go(visit, 1000)?;
    let [wasm_after, heap_after, nodes_after] = in_use(visit)?;
    ensure!(wasm_after - wasm <= 262_144.0, "the module's memory grew from {wasm} to {wasm_after} bytes");
    ensure!(heap_after - heap <= 3e6, "the heap grew from {heap} to {heap_after} bytes");
    ensure!(nodes_after - nodes <= 2000.0, "there were {nodes} nodes, now {nodes_after}");
    Ok(())
}

fn the_module_twice_is_harmless(visit: &Visit) -> Result<()> {
    let twice = format!("{MODULE}<script type=module src='planner/rowlight-plan.js?again'></script>{MODULE}");
    let server = serve(visit, host_page(&twice, "<rowlight-plan id=planner></rowlight-plan>"), &[])?;
    open(visit, &server)?;
    until_started(visit, "planner")?;
    visit.browser.expect_quiet_console()
}

fn the_page_is_told_why_there_is_no_planner(visit: &Visit) -> Result<()> {
    let read = |name: &str| std::fs::read(visit.site.join(name));
    let wasm = read("rowlight_bg.wasm")?;
    let cut = wasm.get(..wasm.len() / 2).context("an empty module")?.to_vec();
    let answer = |status: u16, content_type: &str, body: Vec<u8>| Answer {
        status,
        content_type: content_type.into(),
        body,
    };
    let no_wasm = POLICY.replace(" 'wasm-unsafe-eval'", "");
    let no_fetch = POLICY.replace("connect-src 'self'", "connect-src 'none'");
    let hosts = [
        (
            "is missing on this server",
            POLICY,
            Some(("rowlight_bg.wasm", answer(404, "text/html", b"not here".to_vec()))),
        ),
        (
            "is missing on this server",
            POLICY,
            Some(("rowlight.js", answer(404, "text/html", b"not here".to_vec()))),
        ),
        (
            "is missing on this server",
            POLICY,
            Some(("rowlight.css", answer(404, "text/html", b"not here".to_vec()))),
        ),
        (
            "must be “application/wasm”",
            POLICY,
            Some(("rowlight_bg.wasm", answer(200, "application/octet-stream", wasm))),
        ),
        // The type nginx sends scripts with is a script's, so it isn't what is wrong.
        (
            "could not be run",
            POLICY,
            Some(("rowlight.js", answer(200, "application/javascript", b"export {".to_vec()))),
        ),
        ("broke off", POLICY, Some(("rowlight_bg.wasm", answer(200, "application/wasm", cut)))),
        ("'wasm-unsafe-eval'", &no_wasm, None),
        ("connect-src", &no_fetch, None),
    ];
    for (said, policy, fault) in hosts {
        let mut answers = BTreeMap::from([(
            "/grower/page.html".to_owned(),
            host_page(MODULE, "<rowlight-plan id=planner></rowlight-plan>"),
        )]);
        answers.extend(fault.map(|(name, answer)| (format!("/grower/planner/{name}"), answer)));
        let settings = Settings {
            under: "/grower/planner/".into(),
            policy: Some(policy.to_owned()),
            answers,
            ..Settings::default()
        };
        let server = visit.serve(settings)?;
        open(visit, &server)?;
        visit.browser.until(&within("planner", ".boot-message"))?;
        let words: String =
            visit.browser.js(&format!("return {}.textContent", within("planner", ".boot-message")))?;
        ensure!(words.contains(said), "expected “{said}”: {words}");
        let drawn: bool = visit.browser.js(&format!("const picture = {}; await picture.decode(); return picture.checkVisibility() && picture.width > 300", within("planner", ".rl-still img")))?;
        ensure!(drawn, "{said}: the picture is gone");
    }
    visit.browser.console()?;
    // A browser without modules, or a page opened as a file: a classic script says it.
    let head = "<script src=planner/preflight.js defer></script>";
    let server = serve(visit, host_page(head, "<rowlight-plan id=planner></rowlight-plan>"), &[])?;
    let script = visit.browser.command(
        "Page.addScriptToEvaluateOnNewDocument",
        json!({ "source": "delete globalThis.WebAssembly" }),
    )?;
    open(visit, &server)?;
    visit
        .browser
        .command("Page.removeScriptToEvaluateOnNewDocument", json!({ "identifier": script["identifier"] }))?;
    visit.browser.until("document.querySelector('.boot-message')?.textContent.includes('too old')")
}

fn it_waits_until_it_is_near(visit: &Visit) -> Result<()> {
    let lines = "<p>Before it.</p>".repeat(400);
    let _server = open_with(visit, &format!("{lines}<rowlight-plan id=planner></rowlight-plan>"))?;
    visit.browser.until("customElements.get('rowlight-plan')")?;
    let fetched = "performance.getEntriesByType('resource').some((entry) => entry.name.endsWith('.wasm'))";
    visit.browser.js::<()>("await new Promise((done) => setTimeout(done, 300))")?;
    ensure!(!visit.browser.js::<bool>(&format!("return {fetched}"))?, "the module is fetched far from it");
    visit.browser.js::<()>("planner.scrollIntoView()")?;
    until_started(visit, "planner")?;
    ensure!(visit.browser.js::<bool>(&format!("return {fetched}"))?);
    Ok(())
}

pub(crate) fn numbers_without_a_planner(visit: &Visit) -> Result<()> {
    let _server = open_with(visit, "<p>Numbers only</p>")?;
    let scenario = Scenario::default().with(|s| s.block.row_width = feet(13.0));
    let ask = |what: &str| -> Result<Value> {
        visit
            .browser
            .js(&format!("return (await import('./planner/rowlight-plan.js')).plan({what}, 'metric')"))
    };
    expect_plan(&ask(&serde_json::to_string(&scenario.to_entries())?)?, &scenario)?;
    expect_plan(&ask(&json!(link::write(&scenario)).to_string())?, &scenario)?;
    let wrong: String = visit.browser.js(
        "return (await import('./planner/rowlight-plan.js')).plan({ version: 1, row_width: 900 }).catch((reason) => reason.message)",
    )?;
    ensure!(wrong.contains("Row width"), "{wrong}");
    Ok(())
}

/// Whatever the page around it looks like: as many sheets as from the planner's own page, black on white.
fn it_prints_from_somebody_elses_page(visit: &Visit) -> Result<()> {
    visit.open("index.html")?;
    visit.browser.until(crate::loading::STARTED)?;
    visit.browser.until(&crate::loading::printable())?;
    let own = crate::pdf::measure(&visit.browser.pdf()?)?.len();
    ensure!(own > 4, "{own} pages of its own");
    let styles = [
        "",
        "html, body { height: 100%; overflow: hidden; }",
        "body { display: grid; grid-template-columns: 240px 1fr; width: 600px; padding: 90px; }",
        "section, div { padding: 60px 24px; }",
        "body, h1, h2, td, th, p { color: #eee; font-size: 40px; letter-spacing: 9px; text-transform: uppercase; }",
        "* { color: red !important; font-size: 31px !important; }",
    ];
    for style in styles {
        let head = format!("{MODULE}<link rel=stylesheet href=page.css>");
        let page = host_page(&head, "<p>Around it</p><rowlight-plan id=planner></rowlight-plan>");
        let sheet = Answer { status: 200, content_type: "text/css".into(), body: style.as_bytes().to_vec() };
        let server = serve(visit, page, &[("/grower/page.css", sheet)])?;
        open(visit, &server)?;
        visit.browser.js::<()>("planner.scrollIntoView()")?;
        until_started(visit, "planner")?;
        visit.browser.until(&format!("await (await {}).room('print')", imported("./planner/rowlight.js")))?;
        // The page's own printing is left alone.
        visit.browser.js::<()>("dispatchEvent(new Event('beforeprint'))")?;
        ensure!(
            visit.browser.js::<bool>(
                "return !document.getElementById('rowlight-print')?.shadowRoot.hasChildNodes()"
            )?
        );
        // Twice: a browser may drop a print without a word.
        visit.browser.js::<()>(&format!(
            "window.print = () => {{}};
             {0}.click(); {0}.click()",
            within("planner", "[data-action=print]")
        ))?;
        let drawn: u32 = visit.browser.js(
            "return document.getElementById('rowlight-print').shadowRoot.querySelectorAll('svg').length",
        )?;
        ensure!(drawn >= 3, "{drawn} drawings");
        let pages = crate::pdf::measure(&visit.browser.pdf()?)?.len();
        ensure!(pages == own, "“{style}” makes {pages} pages of {own}");
        visit.browser.js::<()>("dispatchEvent(new Event('afterprint'))")?;
        let left: (u32, bool) = visit.browser.js(
            "return [document.adoptedStyleSheets.length, document.getElementById('rowlight-print').shadowRoot.hasChildNodes()]",
        )?;
        ensure!(left == (0, false), "left behind: {left:?}");
        visit.leave()?;
    }
    Ok(())
}

/// Every member is used as it may be; what must not be stands behind `@ts-expect-error`, which fails where no error is.
const RIGHT_USE: &str = "
import { plan, type Chapter, type Controls, type Drawing, type Figure, type FigureKey, type Finding, type Plan, type RowlightPlan,
  type RowlightPlanEvents, type Scenario, type Theme, type Units } from './rowlight-plan.js';

const planner: RowlightPlan = document.createElement('rowlight-plan');
const scenario: Scenario = { version: 1, system: 'tall_spindle', row_width: 4, wire_heights: [1, 2] };
const [units, chapter, controls, theme, view]: [Units, Chapter, Controls, Theme, Drawing] = ['us', 'light', 'locked', 'dark', 'section'];
planner.scenario = scenario;
planner.scenario = '1.KsAwYQ';
planner.units = units;
planner.chapters = `${chapter} layout`;
planner.controls = controls;
planner.year = 6;
planner.theme = theme;
planner.remember = null;
const kept: (string | null)[] = [planner.scenario, planner.units, planner.chapters, planner.controls, planner.year, planner.theme, planner.remember];
planner.addEventListener('rowlight-change', (event) => { const link: string = event.detail.link; void link; });
planner.addEventListener('rowlight-ready', () => {});
planner.addEventListener('rowlight-error', (event) => { const message: string = event.detail.message; void message; });
planner.addEventListener('click', (event: MouseEvent) => { void event.clientX; });
const event: keyof RowlightPlanEvents = 'rowlight-change';
await planner.setScenario(scenario);
await planner.setScenario('1.KsAwYQ');
const told: Scenario = await planner.getScenario();
const whole: Plan = await planner.getPlan();
const svg: string = await planner.getDrawing(view);
const numbers: Plan = await plan(told, 'metric');
await plan('1.KsAwYQ');
const figure: Figure | undefined = whole.figures[0];
const key: FigureKey = 'trees_per_acre';
const value: number | null | undefined = figure?.value ?? figure?.number;
const finding: Finding | undefined = numbers.findings[0];
const words: (string | undefined)[] = [figure?.key, figure?.label, figure?.subject, figure?.unit, figure?.text, figure?.certainty, figure?.source,
  finding?.rule, finding?.severity, finding?.title, finding?.text, finding?.source, whole.link, whole.units];
void [kept, event, svg, key, value, words, whole.scenario.row_width];
";

/// Each line must be refused.
const WRONG_USES: &[&str] = &[
    "planner.units = 'furlongs';",
    "planner.controls = true;",
    "planner.scenario = { version: 1, row_with: 4 };",
    "planner.scenario = { version: 1, system: 'hedge' };",
    "planner.scenario = { row_width: 4 };",
    "planner.getScenario().row_width;",
    "await planner.getDrawing('roof');",
    "await plan({ version: 1, row_width: '4' });",
    "planner.addEventListener('rowlight-change', (event) => event.detail.trees);",
    "(await planner.getPlan()).figures[0]!.value = 4;",
    "const key: FigureKey = 'trees'; void key;",
];

fn the_types_are_those_of_the_element(visit: &Visit) -> Result<()> {
    let compiler = xtask::npm::tool(xtask::npm::TYPESCRIPT)?.join("bin").join("tsc");
    let folder = xtask::workspace::target()?.join("types");
    std::fs::create_dir_all(&folder)?;
    for name in ["rowlight-plan.d.ts", "rowlight-scenario.d.ts"] {
        std::fs::copy(visit.site.join(name), folder.join(name))?;
    }
    let begin = "import { plan, type FigureKey, type RowlightPlan } from './rowlight-plan.js'; declare const planner: RowlightPlan; void plan; export type K = FigureKey;\n";
    let wrong: String = WRONG_USES.iter().map(|line| format!("// @ts-expect-error\n{line}\n")).collect();
    std::fs::write(folder.join("package.json"), "{ \"type\": \"module\" }")?;
    std::fs::write(folder.join("right.ts"), RIGHT_USE)?;
    std::fs::write(folder.join("wrong.ts"), format!("{begin}{wrong}"))?;
    let output = std::process::Command::new("node")
        .arg(compiler)
        .args([
            "--noEmit",
            "--strict",
            "--target",
            "es2022",
            "--module",
            "nodenext",
            "--lib",
            "es2022,dom",
            "right.ts",
            "wrong.ts",
        ])
        .current_dir(&folder)
        .output()
        .context("node did not start")?;
    ensure!(output.status.success(), "{}", String::from_utf8_lossy(&output.stdout));
    Ok(())
}

fn what_is_written_names_every_attribute(visit: &Visit) -> Result<()> {
    visit.open("embedding.html")?;
    let attributes: Vec<String> = visit.browser.js(
        "return (await import('./rowlight-plan.js'), customElements.get('rowlight-plan')).observedAttributes",
    )?;
    let written: Vec<String> =
        visit.browser.js("return [...document.querySelectorAll('#attributes ~ .table th[scope=row] code')].map((code) => code.textContent)")?;
    ensure!(
        written.get(..attributes.len()) == Some(attributes.as_slice()),
        "{attributes:?} against {written:?}"
    );
    let types = std::fs::read_to_string(visit.site.join("rowlight-plan.d.ts"))?;
    for name in &attributes {
        ensure!(
            types.contains(&format!("  get {name}(): string | null;\n  set {name}(")),
            "{name} has no type"
        );
    }
    // Every field and figure of the register, too.
    for parameter in planting::REGISTRY {
        ensure!(written.iter().any(|name| name == parameter.key), "{} is not written of", parameter.key);
    }
    visit.browser.viewport(1000, 900)?;
    visit.browser.screenshot("embedding")?;
    Ok(())
}

fn a_frame_tells_its_height(visit: &Visit) -> Result<()> {
    let page = host_page(
        "<script type=module src=planner/rowlight-frame.js></script>",
        "<iframe id=frame data-rowlight src='planner/embed.html?units=metric&chapters=layout' title=Planner width=700 height=300></iframe>
         <iframe id=other data-rowlight src=planner/picture.svg title=Other width=700 height=300></iframe>",
    );
    let policy = format!("{POLICY}; frame-src 'self'");
    let answers = BTreeMap::from([("/grower/page.html".to_owned(), page)]);
    let server = visit.serve(Settings {
        under: "/grower/planner/".into(),
        policy: Some(policy),
        answers,
        ..Settings::default()
    })?;
    open(visit, &server)?;
    let inside = "frame.contentDocument?.getElementById('plan')?.shadowRoot?.querySelector('[data-figure]')";
    visit.browser.until(inside)?;
    visit.browser.until(
        "frame.contentDocument.documentElement.scrollHeight === frame.clientHeight && frame.height > 1000",
    )?;
    // It stands still there, and asks for more when it needs more.
    visit.browser.js::<()>(
        "await new Promise((done) => setTimeout(done, 300)); window.stood = Number(frame.height)",
    )?;
    visit.browser.js::<()>("for (const fold of frame.contentDocument.getElementById('plan').shadowRoot.querySelectorAll('details.rl-subject')) fold.open = true")?;
    visit.browser.until("Number(frame.height) > window.stood + 200")?;
    let height: u32 = visit.browser.js("return Number(frame.height)")?;
    // Heights of nobody's, of no shape and out of bounds are passed over.
    visit.browser.js::<()>(
        "for (const data of [null, 'rowlight-height', { type: 'rowlight-height', height: 'tall' }, { type: 'rowlight-height', height: NaN }, { type: 'rowlight-height', height: 444 }])
           postMessage(data, location.origin);
         await new Promise((done) => setTimeout(done, 100));",
    )?;
    ensure!(
        visit.browser.js::<[u32; 2]>("return [Number(frame.height), Number(other.height)]")? == [height, 300]
    );
    let units: String =
        visit.browser.js("return (await frame.contentDocument.getElementById('plan').getPlan()).units")?;
    ensure!(units == "metric");
    Ok(())
}

fn the_builder_writes_lines_that_work(visit: &Visit) -> Result<()> {
    visit.open("builder.html")?;
    visit.browser.viewport(1000, 1600)?;
    until_started(visit, "preview")?;
    visit.browser.screenshot("builder")?;
    widen_rows(visit, "preview")?;
    visit.browser.until("snippet.value.includes('scenario=')")?;
    for choice in ["[value=light]", "[name=controls][value=locked]"] {
        visit.browser.click(visit.browser.middle(&format!("document.querySelector({})", json!(choice)))?)?;
    }
    visit.browser.js::<()>("const units = choices.elements.units; units.value = 'metric'; units.dispatchEvent(new Event('change', { bubbles: true }))")?;
    let lines: String = visit.browser.js("return snippet.value")?;
    for part in ["chapters=\"layout\"", "controls=\"locked\"", "units=\"metric\"", "rowlight-plan.js"] {
        ensure!(lines.contains(part), "no {part} in {lines}");
    }
    visit.browser.click(visit.browser.middle("document.getElementById('copy')")?)?;
    visit
        .browser
        .until("copied.textContent.startsWith('Cop') && snippet.selectionEnd === snippet.value.length")?;
    let scenario: Value = visit.browser.js("return await preview.getScenario()")?;
    // The lines as they stand, in a page of the same host.
    let page = host_page(
        "",
        &lines
            .replace(&visit.server.url(), "planner/")
            .replace("<rowlight-plan", "<rowlight-plan id=planner"),
    );
    let server = serve(visit, page, &[])?;
    open(visit, &server)?;
    until_started(visit, "planner")?;
    ensure!(
        visit.browser.js::<Value>("return await planner.getScenario()")? == scenario,
        "{lines} is another plan"
    );
    visit.open("builder.html")?;
    visit.browser.click(visit.browser.middle("document.querySelector('[value=frame]')")?)?;
    let lines: String = visit.browser.js("return snippet.value")?;
    ensure!(lines.contains("<iframe data-rowlight src=\"") && lines.contains("embed.html"), "{lines}");
    Ok(())
}

fn it_fits_any_column(visit: &Visit) -> Result<()> {
    visit.browser.viewport(1700, 1000)?;
    let _server =
        open_with(visit, "<section id=column><rowlight-plan id=planner></rowlight-plan></section>")?;
    until_started(visit, "planner")?;
    visit.browser.until(&within("planner", ".rl-menu"))?;
    for (width, columns) in [(320, 1), (500, 1), (800, 1), (1000, 2), (1600, 2)] {
        visit.browser.js::<()>(&format!("const sheet = new CSSStyleSheet(); sheet.replaceSync('#column {{ width: {width}px }}'); document.adoptedStyleSheets = [sheet];"))?;
        visit.browser.js::<()>(
            "await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))",
        )?;
        let wide: Vec<String> = visit.browser.js(
            "const own = planner.getBoundingClientRect();
             return [...planner.shadowRoot.querySelectorAll('.rl-page *')].filter((part) => part.checkVisibility() && !part.closest('svg, .rl-sheet, .rl-hidden'))
               .filter((part) => { const box = part.getBoundingClientRect(); return box.width > 0 && (box.right > own.right + 1 || box.left < own.left - 1); })
               .map((part) => `${part.tagName} ${part.className}`);",
        )?;
        ensure!(wide.is_empty(), "at {width}: {wide:?}");
        let found: u32 = visit.browser.js(
            "const [controls, main] = ['.rl-controls', '.rl-main'].map((part) => planner.shadowRoot.querySelector(part).getBoundingClientRect());
             return controls.right <= main.left ? 2 : 1"
        )?;
        ensure!(found == columns, "{found} columns at {width}");
        visit.browser.screenshot(&format!("embed-{width}"))?;
    }
    Ok(())
}
