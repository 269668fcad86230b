//! A guest's manners: what a page may set at any time, what it hears, and what must not break when planners come and go.

use std::collections::BTreeMap;
use std::path::Path;

use anyhow::{Context, Result, ensure};
use drafting::{Frame, Units, View, draw};
use planting::{Entries, Fault, Scenario, feet, link};
use serde_json::{Value, json};
use xtask::serve::{Answer, POLICY, Settings};

use crate::embed::{
    MODULE, expect_plan, host_page, open, open_with, serve, until_started, widen_rows, within,
};
use crate::harness::{Case, Visit, cases};
use crate::planner::{scenario_of, unfold_within};

pub(crate) const CASES: &[Case] = cases![
    settings_count_whenever_they_are_set,
    a_file_opened_by_hand_is_told,
    the_page_hears_whether_it_stands,
    files_are_read_as_the_engine_reads_them,
    every_drawing_says_what_the_engine_says,
    what_is_remembered_comes_back,
    another_window_is_not_overwritten,
    a_plan_set_while_years_play_keeps_its_year,
    a_page_may_choose_the_colours,
    what_may_not_be_changed_is_not,
    taken_away_on_its_way_it_breaks_nothing,
    a_word_left_behind_breaks_nothing,
    an_old_browser_and_an_opened_file_are_told,
    a_frame_of_another_host_is_heard_and_no_one_else,
];

fn wait(visit: &Visit, milliseconds: u32) -> Result<()> {
    visit.browser.js(&format!("await new Promise((done) => setTimeout(done, {milliseconds}))"))
}

fn row_width(visit: &Visit) -> Result<f64> {
    visit.browser.js("return (await planner.getScenario()).row_width")
}

/// Before the planner has come, while it is in no document, and quicker than a file arrives.
fn settings_count_whenever_they_are_set(visit: &Visit) -> Result<()> {
    let plan = |width: f64| format!("{{\"version\":1,\"row_width\":{width}}}");
    let slow = Answer { status: 200, content_type: "application/json".into(), body: plan(5.0).into_bytes() };
    let page = host_page(MODULE, "<section id=place></section>");
    let server = serve(visit, page, &[("/grower/slow.json", slow)])?;
    open(visit, &server)?;
    // The plan, units and theme are changed while the module is on its way.
    visit.browser.js::<()>(&format!(
        "await customElements.whenDefined('rowlight-plan');
         window.planner = document.createElement('rowlight-plan');
         planner.id = 'planner'; planner.scenario = '{}'; place.append(planner);
         await new Promise(requestAnimationFrame); await new Promise(requestAnimationFrame);
         planner.scenario = '{}'; planner.theme = 'dark'; planner.units = 'metric';",
        plan(4.0),
        plan(4.5)
    ))?;
    until_started(visit, "planner")?;
    ensure!(row_width(visit)? == 4.5, "the plan set on the way is lost");
    let told: Value = visit.browser.js("return [(await planner.getPlan()).units, planner.shadowRoot.querySelector('.rl-room').dataset.theme]")?;
    ensure!(told == json!(["metric", "dark"]), "{told}");
    // A file that takes its time, and a plan set after it.
    visit.browser.js::<()>(&format!(
        "const fetched = window.fetch;
         window.fetch = async (...what) => {{ const answer = await fetched(...what); if (String(what[0]).includes('slow')) await new Promise((done) => setTimeout(done, 400)); return answer; }};
         planner.scenario = 'slow.json'; planner.scenario = '{}';",
        plan(5.5)
    ))?;
    wait(visit, 700)?;
    ensure!(row_width(visit)? == 5.5, "a file that came late took the plan's place");
    visit
        .browser
        .js::<()>("planner.scenario = './slow.json'; planner.setScenario({ version: 1, row_width: 6 });")?;
    wait(visit, 700)?;
    ensure!(row_width(visit)? == 6.0, "a file that came late took the plan's place");
    visit.browser.js::<()>("planner.scenario = 'slow.json?'")?;
    visit.browser.until("(await planner.getScenario()).row_width === 5")?;
    // In no document: units and year are set on the plan that is kept, a plan takes its place.
    visit
        .browser
        .js::<()>("planner.remove(); planner.units = 'us'; planner.year = 9; place.append(planner);")?;
    until_started(visit, "planner")?;
    let now: Value = visit.browser.js("const { units, scenario } = await planner.getPlan(); return [units, scenario.year, scenario.row_width]")?;
    ensure!(now == json!(["us", 9, 5]), "{now}");
    visit
        .browser
        .js::<()>(&format!("planner.remove(); planner.scenario = '{}'; place.append(planner);", plan(4.0)))?;
    until_started(visit, "planner")?;
    ensure!(row_width(visit)? == 4.0, "the plan set while it was away is lost");
    // Without the attribute, the starting plan, in the year the other attribute asks for.
    visit.browser.js::<()>("planner.removeAttribute('year'); planner.removeAttribute('scenario')")?;
    visit.browser.until("(await planner.getScenario()).row_width !== 4")?;
    expect_plan(&visit.browser.js("return await planner.getPlan()")?, &Scenario::default())?;
    // What a link says of units counts only where the page says nothing.
    visit.browser.js::<()>("planner.units = 'metric'; planner.scenario = '1.KsAwYQ.us.layout'")?;
    visit.browser.until(
        "planner.scenario.startsWith('1.') && (await planner.getPlan()).link.startsWith('1.KsAwYQ')",
    )?;
    ensure!(visit.browser.js::<String>("return (await planner.getPlan()).units")? == "metric");
    visit
        .browser
        .js::<()>("planner.remove(); planner.scenario = '1.KsAwYQ.us.light'; place.append(planner)")?;
    until_started(visit, "planner")?;
    ensure!(visit.browser.js::<String>("return (await planner.getPlan()).units")? == "metric");
    visit.leave()?;
    visit.browser.expect_quiet_console()
}

fn a_file_opened_by_hand_is_told(visit: &Visit) -> Result<()> {
    let _server = open_with(visit, "<rowlight-plan id=planner></rowlight-plan>")?;
    until_started(visit, "planner")?;
    visit.browser.until(&within("planner", ".rl-menu"))?;
    let scenario = Scenario::default().with(|s| s.block.headland = feet(40.0));
    visit.browser.js::<()>(&format!(
        "window.heard = []; planner.addEventListener('rowlight-change', (event) => heard.push(event.detail));
         const chooser = {};
         const transfer = new DataTransfer();
         transfer.items.add(new File([{}], 'plan.json'));
         chooser.files = transfer.files;
         chooser.dispatchEvent(new Event('change'));",
        within("planner", ".rl-menu input[type=file]"),
        json!(serde_json::to_string(&scenario.to_entries())?)
    ))?;
    visit.browser.until("heard.length === 1")?;
    expect_plan(&visit.browser.js("return heard[0]")?, &scenario)
}

fn the_page_hears_whether_it_stands(visit: &Visit) -> Result<()> {
    let page = host_page(MODULE, "<section id=place></section>");
    for missing in [false, true] {
        let gone = Answer { status: 404, content_type: "text/html".into(), body: b"not here".to_vec() };
        let more = [("/grower/planner/rowlight_bg.wasm", gone)];
        let server = serve(visit, page.clone(), if missing { &more } else { &[] })?;
        open(visit, &server)?;
        visit.browser.js::<()>(
            "window.heard = [];
             for (const name of ['rowlight-ready', 'rowlight-error'])
               document.addEventListener(name, (event) => heard.push([name, event.target.id, event.detail.message ?? '']));
             const made = document.createElement('rowlight-plan'); made.id = 'planner'; place.append(made);",
        )?;
        visit.browser.until("heard.length > 0")?;
        wait(visit, 200)?;
        let heard: Vec<(String, String, String)> = visit.browser.js("return heard")?;
        let name = if missing { "rowlight-error" } else { "rowlight-ready" };
        ensure!(heard.len() == 1 && heard[0].0 == name && heard[0].1 == "planner", "{heard:?}");
        ensure!(heard[0].2.contains("missing on this server") == missing, "{heard:?}");
    }
    visit.browser.console()?;
    Ok(())
}

/// A page reads objects of the browser, the engine and its fuzzer read text: kept files and the fuzzer's finds say the same to both.
fn files_are_read_as_the_engine_reads_them(visit: &Visit) -> Result<()> {
    let mut texts = Vec::new();
    for folder in ["files", "fuzz/corpus/file"] {
        for entry in std::fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join(folder))? {
            let entry = entry?.path();
            let is_answer = entry.extension().is_some_and(|kind| kind == "answer");
            if let (false, Ok(text)) = (is_answer, std::fs::read_to_string(entry)) {
                texts.push(text);
            }
        }
    }
    // Other texts are links, or an older form of file that only pages open.
    texts.retain(|text| text.trim().starts_with('{') && !text.contains("\"scenario\""));
    ensure!(texts.len() > 80, "{} files", texts.len());
    let server = serve(visit, host_page("", ""), &[])?;
    open(visit, &server)?;
    let read: Vec<Value> = visit.browser.js(&format!(
        "const {{ plan }} = await import('./planner/rowlight-plan.js');
         const answers = [];
         for (const text of {}) answers.push(await plan(text).then((plan) => plan.scenario, () => null));
         return answers",
        serde_json::to_string(&texts)?
    ))?;
    let (mut taken, mut refused) = (0, 0);
    for (text, read) in texts.iter().zip(&read) {
        let meant = match serde_json::from_str::<Entries>(text)
            .map(|entries| Scenario::from_entries(&entries))
        {
            Ok(Ok(scenario)) => planting::plan(&scenario).ok().map(|plan| plan.ground.scenario),
            // Of a key given twice a browser keeps the last.
            Ok(Err(problems)) if problems.iter().any(|problem| problem.fault == Fault::Repeated) => continue,
            _ => None,
        };
        let read = if read.is_null() { None } else { Some(scenario_of(read)?) };
        ensure!(read == meant, "{text}: the page reads {read:?}, the engine {meant:?}");
        if meant.is_some() { taken += 1 } else { refused += 1 }
    }
    ensure!(taken > 10 && refused > 10, "{taken} are taken, {refused} refused");
    Ok(())
}

/// The lettering of every drawing handed out, those of the rooms too.
fn every_drawing_says_what_the_engine_says(visit: &Visit) -> Result<()> {
    let scenario = Scenario::default().with(|s| s.block.row_width = feet(13.0));
    let _server = open_with(
        visit,
        &format!("<rowlight-plan id=planner scenario={}></rowlight-plan>", link::write(&scenario)),
    )?;
    until_started(visit, "planner")?;
    let plan = planting::plan(&scenario).map_err(|problems| anyhow::anyhow!("{problems:?}"))?;
    for view in View::EVERY {
        let said: Vec<String> = visit.browser.js(&format!(
            "const drawing = new DOMParser().parseFromString(await planner.getDrawing('{}'), 'image/svg+xml');
             return [...drawing.querySelectorAll('text')].map((text) => text.textContent)",
            view.key()
        ))?;
        let sheet = draw(*view, &plan, Frame::screen(1200.0, 780.0, Units::Us));
        let meant: Vec<&String> = sheet.texts().map(|text| &text.content).collect();
        ensure!(
            meant.len() > 5 && said.iter().eq(meant.iter().copied()),
            "{view:?}: {said:?}, {meant:?} is right"
        );
    }
    Ok(())
}

fn what_is_remembered_comes_back(visit: &Visit) -> Result<()> {
    let server = open_with(
        visit,
        "<rowlight-plan id=planner remember=north></rowlight-plan><rowlight-plan id=other></rowlight-plan>",
    )?;
    until_started(visit, "planner")?;
    widen_rows(visit, "planner")?;
    visit.browser.until("Object.keys(localStorage).length === 1")?;
    let keys: Vec<String> = visit.browser.js("return Object.keys(localStorage)")?;
    ensure!(keys == ["rowlight.north"], "{keys:?}");
    let width = row_width(visit)?;
    open(visit, &server)?;
    until_started(visit, "planner")?;
    ensure!(row_width(visit)? == width && width > Scenario::default().block.row_width.value);
    until_started(visit, "other")?;
    expect_plan(&visit.browser.js("return await other.getPlan()")?, &Scenario::default())?;
    // Taken away a moment after the change.
    widen_rows(visit, "planner")?;
    visit.browser.js::<()>("await new Promise(requestAnimationFrame); planner.remove()")?;
    let kept: f64 = visit.browser.js("return JSON.parse(localStorage['rowlight.north']).row_width")?;
    ensure!(kept > width, "the last change is lost");
    visit.browser.js::<()>("localStorage.clear()")
}

fn another_window_is_not_overwritten(visit: &Visit) -> Result<()> {
    let _server = open_with(visit, "<rowlight-plan id=planner remember=north></rowlight-plan>")?;
    until_started(visit, "planner")?;
    widen_rows(visit, "planner")?;
    visit.browser.until("localStorage['rowlight.north']")?;
    let kept: String =
        visit.browser.js("localStorage['rowlight.north'] = '{\"version\":1,\"row_width\":5}';
         dispatchEvent(new Event('pagehide'));
         return localStorage['rowlight.north']")?;
    visit.browser.js::<()>("localStorage.clear()")?;
    ensure!(kept.ends_with(":5}"), "{kept} took the place of another window's plan");
    Ok(())
}

fn a_plan_set_while_years_play_keeps_its_year(visit: &Visit) -> Result<()> {
    let _server = open_with(visit, "<rowlight-plan id=planner></rowlight-plan>")?;
    until_started(visit, "planner")?;
    let play = format!(
        "{}.click(); await new Promise((done) => setTimeout(done, 500));",
        within("planner", "[data-action=play]")
    );
    for set in ["await planner.setScenario({ version: 1, year: 2 })", "planner.year = 2"] {
        visit.browser.js::<()>(&format!("{play} {set}"))?;
        wait(visit, 900)?;
        let year: f64 = visit.browser.js("return (await planner.getScenario()).year")?;
        ensure!(year == 2.0, "{set}: year {year} is shown");
    }
    Ok(())
}

/// Every property that `embedding.html` names reaches the planner.
fn a_page_may_choose_the_colours(visit: &Visit) -> Result<()> {
    let _server = open_with(visit, "<rowlight-plan id=planner theme=light></rowlight-plan>")?;
    until_started(visit, "planner")?;
    visit.browser.until(&within("planner", "[data-whole]"))?;
    let named: Vec<String> = visit.browser.js(
        "const text = new DOMParser().parseFromString(await (await fetch('planner/embedding.html')).text(), 'text/html').body.textContent;
         return [...new Set(text.match(/--rowlight-[a-z-]+/g))]",
    )?;
    ensure!(named.len() > 4, "{named:?}");
    for name in named {
        let value = match name.as_str() {
            "--rowlight-face" => "Georgia",
            "--rowlight-window" => "500px",
            _ => "rgb(1, 2, 3)",
        };
        let reached: usize = visit.browser.js(&format!(
            "const parts = [...planner.shadowRoot.querySelectorAll('.rl-page, .rl-page *')];
             const look = () => parts.map((part) => {{ const style = getComputedStyle(part); return [style.color, style.backgroundColor, style.fill, style.stroke, style.fontFamily, style.borderColor, style.accentColor, style.maxHeight, style.height].join(); }});
             const before = look();
             planner.style.setProperty('{name}', '{value}');
             const after = look();
             planner.style.removeProperty('{name}');
             return after.filter((style, place) => style !== before[place]).length"
        ))?;
        ensure!(reached > 0, "{name} changes nothing");
    }
    Ok(())
}

/// Neither by keys nor by a file.
fn what_may_not_be_changed_is_not(visit: &Visit) -> Result<()> {
    let _server = open_with(visit, "<rowlight-plan id=planner controls=locked></rowlight-plan>")?;
    until_started(visit, "planner")?;
    visit.browser.until(&within("planner", ".rl-menu"))?;
    visit.browser.js::<()>("await planner.setScenario({ version: 1, row_width: 4.5 })")?;
    visit.browser.js::<()>(&format!("{}.focus()", within("planner", "[data-action=units-us]")))?;
    visit.browser.key("Ctrl+z")?;
    wait(visit, 100)?;
    ensure!(row_width(visit)? == 4.5, "a key undid what the page had set");
    for controls in ["locked", "tree_height"] {
        visit.browser.js::<()>(&format!("planner.controls = '{controls}'"))?;
        let taken: bool = visit.browser.js(&format!(
            "const transfer = new DataTransfer();
             transfer.items.add(new File(['{{\"version\":1}}'], 'plan.json'));
             const event = new DragEvent('drop', {{ dataTransfer: transfer, bubbles: true, cancelable: true }});
             {}.dispatchEvent(event);
             return event.defaultPrevented || {}.checkVisibility()",
            within("planner", ".rl-drawings"),
            within("planner", "[data-action=open-file]")
        ))?;
        ensure!(!taken, "{controls}: a file is taken");
    }
    Ok(())
}

/// While the module, a room of it or a style sheet is on its way.
fn taken_away_on_its_way_it_breaks_nothing(visit: &Visit) -> Result<()> {
    let page = host_page(MODULE, "<section id=place></section>");
    for slow in ["rowlight_bg.wasm", "rowlight-light_bg.wasm", "rowlight.css", "share.js"] {
        let server = serve(visit, page.clone(), &[])?;
        open(visit, &server)?;
        visit.browser.js::<()>(&format!(
            "await customElements.whenDefined('rowlight-plan');
             const fetched = window.fetch;
             window.fetch = async (...what) => {{ const answer = await fetched(...what); if (String(what[0]).includes('{slow}')) await new Promise((done) => setTimeout(done, 300)); return answer; }};
             for (const wait of [0, 30, 100, 250, 320]) {{
               const made = document.createElement('rowlight-plan'); made.chapters = 'light'; place.append(made);
               await new Promise((done) => setTimeout(done, wait)); made.remove();
             }}
             const made = document.createElement('rowlight-plan'); made.id = 'planner'; place.append(made);"
        ))?;
        until_started(visit, "planner")?;
        visit.browser.until(&within("planner", "[data-whole]"))?;
        expect_plan(&visit.browser.js("return await planner.getPlan()")?, &Scenario::default())?;
        ensure!(
            visit
                .browser
                .js::<bool>("return !planner.shadowRoot.querySelector('.boot-banner, .rl-notice')")?,
            "{slow}"
        );
        visit.leave()?;
    }
    visit.leave()?;
    visit.browser.expect_quiet_console()
}

/// The box of a word of the trade waits a moment before it closes; the planner may be gone by then.
fn a_word_left_behind_breaks_nothing(visit: &Visit) -> Result<()> {
    let _server = open_with(
        visit,
        "<rowlight-plan id=planner></rowlight-plan><rowlight-plan id=other></rowlight-plan>",
    )?;
    until_started(visit, "planner")?;
    visit.browser.js::<()>("other.scrollIntoView()")?;
    until_started(visit, "other")?;
    // The words of the trade stand in texts that are folded.
    visit.browser.js::<()>(&unfold_within("planner"))?;
    visit.browser.js::<()>(&format!(
        "const word = {};
         for (const type of ['pointerenter', 'pointerleave']) word.dispatchEvent(new PointerEvent(type, {{ pointerType: 'mouse' }}));
         planner.remove();",
        within("planner", ".rl-term")
    ))?;
    wait(visit, 600)?;
    ensure!(
        visit.browser.js::<bool>("return !other.shadowRoot.querySelector('.boot-banner')")?,
        "all planners broke"
    );
    expect_plan(&visit.browser.js("return await other.getPlan()")?, &Scenario::default())?;
    visit.leave()?;
    visit.browser.expect_quiet_console()
}

fn an_old_browser_and_an_opened_file_are_told(visit: &Visit) -> Result<()> {
    let too_old = "document.querySelector('.boot-message')?.textContent.includes('too old')";
    let drawn = "return document.querySelector('#still svg').getBoundingClientRect().height > 100";
    let without = |what: &str, address: &str| -> Result<()> {
        let source = json!({ "source": format!("delete {what}") });
        let script = visit.browser.command("Page.addScriptToEvaluateOnNewDocument", source)?;
        visit.browser.open(address)?;
        let told = visit.browser.until(too_old);
        let script = json!({ "identifier": script["identifier"] });
        visit.browser.command("Page.removeScriptToEvaluateOnNewDocument", script)?;
        told.with_context(|| format!("without {what}"))
    };
    let server = visit.serve(Settings::default())?;
    without("globalThis.WebAssembly", &server.url())?;
    ensure!(visit.browser.js::<bool>(drawn)?, "the drawings are gone");
    // An element needs more than the planner's own page does.
    let head = format!("<script src=planner/preflight.js defer></script>{MODULE}");
    let server = serve(visit, host_page(&head, "<rowlight-plan></rowlight-plan>"), &[])?;
    for what in ["globalThis.WebAssembly", "globalThis.CSSStyleSheet", "Object.hasOwn"] {
        without(what, &server.url().replace("/planner/", "/page.html"))?;
    }
    visit.browser.open(&format!("file://{}", visit.site.join("index.html").display()))?;
    visit
        .browser
        .until("document.querySelector('.boot-message')?.textContent.includes('opened as a file')")?;
    ensure!(visit.browser.js::<bool>(drawn)?, "the drawings are gone");
    visit.browser.open("about:blank")?;
    visit.browser.console()?;
    Ok(())
}

/// A frame of another host tells its height to the page around it; what isn't its height, or comes from elsewhere, is passed over.
fn a_frame_of_another_host_is_heard_and_no_one_else(visit: &Visit) -> Result<()> {
    let speaker = "<!doctype html><html lang=en><title>Speaker</title><link rel=icon href=data:,><script src=speaker.js></script>";
    let script = "addEventListener('message', (event) => { if (event.data?.say !== undefined) parent.postMessage(event.data.say, '*'); });";
    let text = |content_type: &str, body: &str| Answer {
        status: 200,
        content_type: content_type.into(),
        body: body.as_bytes().to_vec(),
    };
    let speaking = |folder: &str| {
        BTreeMap::from([
            (format!("{folder}speaker.html"), text("text/html; charset=utf-8", speaker)),
            (format!("{folder}speaker.js"), text("text/javascript", script)),
        ])
    };
    let there = visit.serve(Settings {
        under: "/planner/".into(),
        policy: Some(format!("{POLICY}; frame-ancestors *")),
        answers: speaking("/planner/"),
        ..Settings::default()
    })?;
    let there = there.url().to_owned();
    let page = host_page(
        "<meta name=referrer content=no-referrer><script type=module src=planner/rowlight-frame.js></script>",
        &format!(
            "<iframe id=frame data-rowlight src='{there}embed.html?chapters=layout' title=Planner width=700 height=300></iframe>
             <iframe id=speaker data-rowlight src='{there}speaker.html' title=Speaker width=700 height=300></iframe>
             <iframe id=stranger src='{there}speaker.html' title=Stranger width=700 height=300></iframe>"
        ),
    );
    let mut answers = speaking("/grower/planner/");
    answers.insert("/grower/page.html".to_owned(), page);
    let here = visit.serve(Settings {
        under: "/grower/planner/".into(),
        policy: Some(format!("{POLICY}; frame-src 'self' {}", there.trim_end_matches("/planner/"))),
        answers,
        ..Settings::default()
    })?;
    open(visit, &here)?;
    visit.browser.until("Number(frame.height) > 1000")?;
    let say = |frame: &str, what: &str| -> Result<Vec<u32>> {
        visit.browser.js(&format!(
            "{frame}.contentWindow.postMessage({{ say: {what} }}, '*');
             await new Promise((done) => setTimeout(done, 150));
             return [Number(speaker.height), Number(stranger.height)]"
        ))
    };
    for wrong in [
        "'rowlight-height'",
        "{ type: 'rowlight-height', height: 'tall' }",
        "{ type: 'rowlight-height', height: NaN }",
        "{ type: 'rowlight-height' }",
        "{ type: 'height', height: 500 }",
        "null",
    ] {
        ensure!(say("speaker", wrong)? == [300, 300], "{wrong} is heeded");
    }
    for (height, given) in [(500, 500), (1, 200), (1_000_000, 8000)] {
        let told = say("speaker", &format!("{{ type: 'rowlight-height', height: {height} }}"))?;
        ensure!(told == [given, 300], "{height}: {told:?}");
    }
    ensure!(
        say("stranger", "{ type: 'rowlight-height', height: 600 }")? == [8000, 300],
        "a frame nobody marked is heeded"
    );
    // A marked frame that has gone elsewhere speaks for another host.
    visit.browser.js::<()>(&format!(
        "const loaded = new Promise((done) => speaker.addEventListener('load', done, {{ once: true }}));
         speaker.contentWindow.location = '{}speaker.html'; await loaded;",
        here.url()
    ))?;
    let told = say("speaker", "{ type: 'rowlight-height', height: 700 }")?;
    ensure!(told == [8000, 300], "another host is heeded in the frame's place");
    visit.leave()?;
    visit.browser.expect_quiet_console()
}
