//! The page starts, or says why it doesn't.

use std::collections::BTreeMap;

use anyhow::{Context, Result, ensure};
use xtask::serve::{Answer, POLICY, Settings};
use xtask::site::weight;

use crate::harness::{Case, Visit, cases};

pub(crate) const CASES: &[Case] = cases![
    loads_under_the_strict_policy,
    loads_in_a_folder,
    what_is_weighed_is_what_is_loaded,
    says_what_the_host_does_wrong,
    stands_without_its_second_file,
    stands_without_its_menu,
    says_when_it_broke,
];

/// The planner stands, whole, and the picture that stood for it is gone.
pub(crate) const STARTED: &str =
    "document.querySelector('#rowlight [data-whole]') && !document.getElementById('still')";

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
    const AFTER: [&str; 5] =
        ["rowlight-later_bg.wasm", "share.js", "manifest.webmanifest", "icon.svg", "page.html"];
    let look = |names: &[&str]| -> Result<()> {
        let mut loaded: Vec<String> = visit.browser.js(
            "return [...new Set([location.href, ...performance.getEntriesByType('resource').map((one) => one.name)])]
               .filter((name) => !name.startsWith('data:')).map((name) => new URL(name).pathname.split('/').pop())",
        )?;
        loaded.retain(|name| !AFTER.contains(&name.as_str()));
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

/// Light, print and pictures come in a second file. Where a host doesn't send it, the page says so and the plan can be worked on.
fn stands_without_its_second_file(visit: &Visit) -> Result<()> {
    let later = std::fs::read(visit.site.join("rowlight-later_bg.wasm"))?;
    let half = later.get(..later.len() / 2).context("an empty file")?;
    // Of a version that differs from this one in nothing else.
    let other = std::fs::read(visit.site.join("rowlight-plain-later_bg.wasm"))?;
    let hosts: [(&str, u16, &str, &[u8]); 4] = [
        ("missing on this server", 404, "text/html", b"not here"),
        ("“application/octet-stream”", 200, "application/octet-stream", &later),
        ("broke off", 200, "application/wasm", half),
        ("of another version", 200, "application/wasm", &other),
    ];
    let notice = "document.querySelector('[data-notice=refused]')";
    for (said, status, content_type, body) in hosts {
        let answer = Answer { status, content_type: content_type.to_owned(), body: body.to_vec() };
        let answers = BTreeMap::from([("/rowlight-later_bg.wasm".to_owned(), answer)]);
        let server = visit.serve(Settings { answers, ..Settings::default() })?;
        visit.browser.open(&server.url())?;
        visit.browser.until(notice)?;
        let words: String = visit.browser.js(&format!("return {notice}.textContent"))?;
        ensure!(words.contains(said), "expected “{said}”, the page says: {words}");
        let [before, after]: [f64; 2] = visit.browser.js(
            "const figure = () => Number(document.querySelector('[data-figure=trees_per_acre]').dataset.value);
             const slider = document.querySelector('input[data-role=slider][data-key=row_width]');
             const before = figure();
             slider.value = 14;
             slider.dispatchEvent(new Event('input', { bubbles: true }));
             slider.dispatchEvent(new Event('change', { bubbles: true }));
             for (let frames = 0; frames < 3; frames++) await new Promise(requestAnimationFrame);
             return [before, figure()]",
        )?;
        ensure!(after < before, "{said}: the plan stands still at {before}");
        visit.browser.js::<()>(&format!(
            "window.print = () => {{ window.printed = true }};
             {notice}.querySelector('[data-action=notice-close]').click();
             document.querySelector('[data-action=print]').click()"
        ))?;
        visit.browser.until(&format!("{notice}?.textContent.includes('Print again')"))?;
        visit.browser.until("document.querySelector('[data-action=share-menu]')")?;
        visit.browser.js::<()>("document.querySelector('[data-action=share-menu]').click()")?;
        visit.browser.js::<()>("document.querySelector('[data-action=svg-section]').click()")?;
        visit.browser.until(&format!(
            "document.querySelector('.rl-menu-status').textContent.includes({})",
            serde_json::to_string(said)?
        ))?;
        ensure!(
            visit.browser.js::<bool>("return window.printed === undefined")?,
            "{said}: an empty page was printed"
        );
    }
    visit.browser.console()?;
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
