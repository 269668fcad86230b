//! The page starts, or says why it doesn't.

use std::collections::BTreeMap;

use anyhow::{Context, Result, ensure};
use xtask::serve::{Answer, POLICY, Settings};
use xtask::site::weight;

use crate::harness::{Case, Visit, cases, imported};

pub(crate) const CASES: &[Case] = cases![
    loads_under_the_strict_policy,
    loads_in_a_folder,
    what_is_weighed_is_what_is_loaded,
    says_what_the_host_does_wrong,
    says_in_its_place_what_has_not_come,
    a_room_comes_when_it_is_asked_for_again,
    everything_comes_when_the_page_rests,
    stands_without_its_menu,
    says_when_it_broke,
];

/// The planner stands, whole, and the picture that stood for it is gone.
pub(crate) const STARTED: &str =
    "document.querySelector('#rowlight [data-whole]') && !document.getElementById('still')";

/// What prints is here. The page fetches it when it is asked for; a test that prints at once asks for it first.
pub(crate) fn printable() -> String {
    format!("await (await {}).room('print')", imported("./rowlight.js"))
}

pub(crate) fn loads_under_the_strict_policy(visit: &Visit) -> Result<()> {
    visit.open("")?;
    visit.browser.until(STARTED)?;
    visit.browser.screenshot("page")?;
    visit.browser.expect_quiet_console()
}

fn loads_in_a_folder(visit: &Visit) -> Result<()> {
    let server = visit.serve(Settings { under: "/grower/planner/".into(), ..Settings::default() })?;
    visit.browser.open(&server.url())?;
    visit.browser.until(STARTED)
}

/// What a host answers for one path: path, status, type, content.
type Instead<'a> = (&'a str, u16, &'a str, &'a [u8]);

fn says_what_the_host_does_wrong(visit: &Visit) -> Result<()> {
    let wasm = std::fs::read(visit.site.join("rowlight_bg.wasm"))?;
    let no_wasm = POLICY.replace(" 'wasm-unsafe-eval'", "");
    let no_fetch = POLICY.replace("connect-src 'self'", "connect-src 'none'");
    // What is said, the policy, and in place of which file what is sent.
    let hosts: [(&str, &str, Option<Instead>); 6] = [
        ("missing on this server", POLICY, Some(("/rowlight_bg.wasm", 404, "text/html", b"not here"))),
        ("missing on this server", POLICY, Some(("/rowlight.js", 404, "text/html", b"not here"))),
        (
            "“application/octet-stream”",
            POLICY,
            Some(("/rowlight_bg.wasm", 200, "application/octet-stream", &wasm)),
        ),
        ("'wasm-unsafe-eval'", &no_wasm, None),
        ("connect-src must name", &no_fetch, None),
        ("isn't whole", POLICY, Some(("/rowlight.js", 200, "text/javascript", b"export const"))),
    ];
    for (said, policy, fault) in hosts {
        let answers = fault.into_iter().map(|(address, status, content_type, body)| {
            (
                address.to_owned(),
                Answer { status, content_type: content_type.to_owned(), body: body.to_vec() },
            )
        });
        let server = visit.serve(Settings {
            policy: Some(policy.to_owned()),
            answers: BTreeMap::from_iter(answers),
            ..Settings::default()
        })?;
        visit.browser.open(&server.url())?;
        visit.browser.until("document.querySelector('#rowlight .boot-message')")?;
        let message: String =
            visit.browser.js("return document.querySelector('.boot-message').textContent")?;
        ensure!(message.contains(said), "expected “{said}”, the page says: {message}");
        ensure!(
            visit.browser.js::<bool>("return document.getElementById('still') !== null")?,
            "{said}: the picture is gone"
        );
    }
    visit.browser.console()?;
    Ok(())
}

/// The budget counts the files a browser loads before a slider can be moved: all of them and no others.
fn what_is_weighed_is_what_is_loaded(visit: &Visit) -> Result<()> {
    /// What comes when the page stands, or is no part of it.
    const AFTER: [&str; 4] = ["share.js", "manifest.webmanifest", "icon.svg", "page.html"];
    let is_a_room = |name: &str| name.starts_with("rowlight-") && name.ends_with("_bg.wasm");
    let look = |names: &[&str]| -> Result<()> {
        let mut loaded: Vec<String> = visit.browser.js(
            "return [...new Set([location.href, ...performance.getEntriesByType('resource').map((one) => one.name)])]
               .filter((name) => !name.startsWith('data:')).map((name) => new URL(name).pathname.split('/').pop())",
        )?;
        loaded.retain(|name| !AFTER.contains(&name.as_str()) && !is_a_room(name));
        loaded.sort_unstable();
        let mut weighed = names.to_vec();
        weighed.sort_unstable();
        ensure!(loaded == weighed, "loaded are {loaded:?}, weighed {weighed:?}");
        Ok(())
    };
    visit.open("index.html")?;
    visit.browser.until(STARTED)?;
    visit.browser.until("document.querySelector('[data-action=share-menu]')")?;
    look(weight::FIRST_INTERACTION)?;
    let _server = crate::embed::open_with(visit, "<rowlight-plan id=planner></rowlight-plan>")?;
    crate::embed::until_started(visit, "planner")?;
    visit.browser.until(&crate::embed::within("planner", "[data-whole] .rl-menu"))?;
    look(weight::IN_ANOTHER_PAGE)
}

/// What lacks is said where it is asked for, and the plan can be worked on.
fn says_in_its_place_what_has_not_come(visit: &Visit) -> Result<()> {
    let light = std::fs::read(visit.site.join("rowlight-light_bg.wasm"))?;
    let half = light.get(..light.len() / 2).context("an empty file")?;
    // Of a version that differs from this one in nothing else.
    let other = std::fs::read(visit.site.join("rowlight-plain-light_bg.wasm"))?;
    let hosts: [(&str, u16, &str, &[u8]); 4] = [
        ("missing on this server", 404, "text/html", b"not here"),
        ("“application/octet-stream”", 200, "application/octet-stream", &light),
        ("broke off", 200, "application/wasm", half),
        ("of another version", 200, "application/wasm", &other),
    ];
    for (said, status, content_type, body) in hosts {
        let answer = Answer { status, content_type: content_type.to_owned(), body: body.to_vec() };
        let answers = BTreeMap::from([("/rowlight-light_bg.wasm".to_owned(), answer)]);
        let server = visit.serve(Settings { answers, ..Settings::default() })?;
        visit.browser.open(&server.url())?;
        visit.browser.until(STARTED)?;
        visit.browser.js::<()>("document.querySelector('[data-action=chapter-light]').click()")?;
        let notice = "document.querySelector('.rl-stage [data-room=light]')";
        visit.browser.until(notice)?;
        let words: String = visit.browser.js(&format!("return {notice}.textContent"))?;
        ensure!(words.contains(said), "expected “{said}”, the page says: {words}");
        ensure!(
            visit.browser.js::<bool>("return !document.querySelector('[data-notice]')")?,
            "{said}: a notice over everything"
        );
        let [before, after]: [f64; 2] = visit.browser.js(
            "document.querySelector('[data-action=chapter-layout]').click();
             for (let frames = 0; frames < 3; frames++) await new Promise(requestAnimationFrame);
             const figure = () => Number(document.querySelector('[data-figure=trees_per_acre]').dataset.value);
             const slider = document.querySelector('input[data-role=slider][data-key=row_width]');
             const before = figure();
             slider.value = 14;
             slider.dispatchEvent(new Event('input', { bubbles: true }));
             slider.dispatchEvent(new Event('change', { bubbles: true }));
             for (let frames = 0; frames < 3; frames++) await new Promise(requestAnimationFrame);
             return [before, figure()]",
        )?;
        ensure!(after < before, "{said}: the plan stands still at {before}");
        ensure!(visit.browser.js::<bool>(&format!("return !{notice}"))?, "{said}: Layout lacks nothing");
    }
    let gone = |file: &str| {
        let answer = Answer { status: 404, content_type: "text/html".into(), body: b"not here".to_vec() };
        visit.serve(Settings { answers: BTreeMap::from([(file.to_owned(), answer)]), ..Settings::default() })
    };
    let server = gone("/rowlight-print_bg.wasm")?;
    visit.browser.open(&server.url())?;
    visit.browser.until(STARTED)?;
    visit.browser.js::<()>(
        "window.print = () => { window.printed = true };
         document.querySelector('[data-action=print]').click()",
    )?;
    visit.browser.until(
        "document.querySelector('[data-room=print]')?.textContent.includes('missing on this server')",
    )?;
    ensure!(visit.browser.js::<bool>("return window.printed === undefined")?, "an empty page was printed");
    drop(server);
    let server = gone("/rowlight-files_bg.wasm")?;
    visit.browser.open(&server.url())?;
    visit.browser.until("document.querySelector('[data-action=share-menu]')")?;
    visit.browser.js::<()>("document.querySelector('[data-action=share-menu]').click()")?;
    visit.browser.js::<()>("document.querySelector('[data-action=svg-section]').click()")?;
    visit
        .browser
        .until("document.querySelector('.rl-menu-status').textContent.includes('missing on this server')")?;
    drop(server);
    let server = gone("/rowlight-words_bg.wasm")?;
    visit.browser.open(&server.url())?;
    visit.browser.until(STARTED)?;
    for (asked, told) in [
        (".rl-about-button", ".rl-about:not([hidden])"),
        ("[data-card=rootstock] summary", "[data-card=rootstock]"),
        (".rl-headline", ".rl-working"),
    ] {
        visit.browser.js::<()>(&format!("document.querySelector('{asked}').click()"))?;
        visit.browser.until(&format!(
            "document.querySelector('{told}')?.textContent.includes('missing on this server')"
        ))?;
    }
    // Findings speak in these words: that there are none can't be said either.
    let (told, is_well): (String, bool) = visit.browser.js(
        "return [document.querySelector('.rl-advice [data-room=words]')?.textContent ?? '', !document.querySelector('.rl-all-well').hidden]",
    )?;
    ensure!(told.contains("can\u{2019}t be said yet") && told.contains("missing on this server"), "{told}");
    ensure!(!is_well, "nothing is said to be wrong before anybody has looked");
    // Each of them asks once, and nobody asks again by himself.
    let asked: [usize; 2] = visit.browser.js(
        "const asked = () => performance.getEntriesByType('resource').filter((one) => one.name.includes('words_bg')).length;
         const before = asked();
         await new Promise((done) => setTimeout(done, 500));
         return [before, asked()]",
    )?;
    ensure!(asked[0] == asked[1], "what is missing is asked for again and again: {asked:?}");
    visit.browser.console()?;
    Ok(())
}

/// A line that breaks and mends: the next one who asks has the room.
fn a_room_comes_when_it_is_asked_for_again(visit: &Visit) -> Result<()> {
    visit.open("")?;
    visit.browser.until(STARTED)?;
    visit.browser.js::<()>(
        "const fetched = window.fetch;
         window.broken = true;
         window.fetch = (...what) =>
           window.broken && String(what[0]).includes('-light_bg') ? Promise.reject(new TypeError('broken')) : fetched(...what);
         document.querySelector('[data-action=chapter-light]').click()",
    )?;
    visit
        .browser
        .until("document.querySelector('[data-room=light]')?.textContent.includes('the connection to')")?;
    visit
        .browser
        .js::<()>("window.broken = false; document.querySelector('[data-action=room-again]').click()")?;
    visit
        .browser
        .until("document.querySelector('[data-whole]') && !document.querySelector('[data-room=light]')")?;
    visit.browser.until("document.querySelector('[data-view=pair] .layer-crowns path')")?;
    visit.browser.console()?;
    Ok(())
}

/// Files of the module that a page has fetched beside the first.
const FETCHED: &str = "performance.getEntriesByType('resource').map((one) => one.name.split('/').pop())
    .filter((name) => name.endsWith('_bg.wasm') && name !== 'rowlight_bg.wasm').sort()";

/// A room comes when it is turned to; what nobody asked for comes when the page has stood still, unless each byte costs.
fn everything_comes_when_the_page_rests(visit: &Visit) -> Result<()> {
    let every: usize = {
        let ours = |name: &str| {
            name.starts_with("rowlight-") && name.ends_with("_bg.wasm") && !name.starts_with("rowlight-plain")
        };
        let names = std::fs::read_dir(&visit.site)?.flatten();
        names.filter(|entry| ours(&entry.file_name().to_string_lossy())).count()
    };
    visit.open("")?;
    visit.browser.until(STARTED)?;
    visit.browser.until(&format!("{FETCHED}.length === {every}"))?;
    let saving = "Object.defineProperty(navigator, 'connection', { value: { saveData: true } })";
    let script = visit
        .browser
        .command("Page.addScriptToEvaluateOnNewDocument", serde_json::json!({ "source": saving }))?;
    visit.open("?saving")?;
    visit.browser.until(STARTED)?;
    let fetched: Vec<String> = visit
        .browser
        .js(&format!("await new Promise((done) => setTimeout(done, 3000)); return {FETCHED}"))?;
    visit.browser.js::<()>("document.querySelector('[data-action=chapter-light]').click()")?;
    visit.browser.until("document.querySelector('[data-whole]')")?;
    let turned_to: Vec<String> = visit.browser.js(&format!("return {FETCHED}"))?;
    visit.browser.command(
        "Page.removeScriptToEvaluateOnNewDocument",
        serde_json::json!({ "identifier": script["identifier"] }),
    )?;
    // The words of the findings that stand on the page from the start, and no more.
    let is_asked_for = |name: &String| name.contains("words_bg") || name.contains("shared");
    ensure!(fetched.iter().all(is_asked_for), "on a metered line: {fetched:?}");
    ensure!(
        turned_to.contains(&"rowlight-light_bg.wasm".to_owned())
            && turned_to.iter().all(|name| name.contains("light_bg") || is_asked_for(name)),
        "for the light: {turned_to:?}"
    );
    Ok(())
}

fn stands_without_its_menu(visit: &Visit) -> Result<()> {
    let gone = Answer { status: 404, content_type: "text/html".into(), body: b"not here".to_vec() };
    let answers = BTreeMap::from([("/share.js".to_owned(), gone)]);
    let server = visit.serve(Settings { answers, ..Settings::default() })?;
    visit.browser.open(&server.url())?;
    visit.browser.until(
        "document.querySelector('[data-notice=refused]')?.textContent.includes('share.js is missing')",
    )?;
    visit.browser.until(STARTED)?;
    visit.browser.console()?;
    Ok(())
}

/// A trap within the planner can't be had on order; to the page, one from any other module looks the same.
fn says_when_it_broke(visit: &Visit) -> Result<()> {
    visit.open("")?;
    visit.browser.until(STARTED)?;
    // (module (func (export "f") unreachable))
    visit.browser.js::<()>(
        "const module = new WebAssembly.Module(new Uint8Array(
           [0,97,115,109,1,0,0,0,1,4,1,96,0,0,3,2,1,0,7,5,1,1,102,0,0,10,5,1,3,0,0,11]));
         setTimeout(new WebAssembly.Instance(module).exports.f);",
    )?;
    visit.browser.until("document.querySelector('.boot-banner .boot-reload')")?;
    visit.browser.console()?;
    let left: bool = visit.browser.js("return document.getElementById('rowlight').childElementCount > 0")?;
    ensure!(left, "the last drawing is gone");
    visit.browser.click(visit.browser.middle("document.querySelector('.boot-reload')")?)?;
    visit.browser.until(&format!("!document.querySelector('.boot-banner') && {STARTED}"))
}
