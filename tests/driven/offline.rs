//! The planner without its host: what the service worker keeps, and that it never keeps a mixture.

use std::collections::BTreeMap;

use anyhow::{Context, Result, ensure};
use xtask::serve::{Answer, Server, Settings};
use xtask::site::{Files, offline};

use crate::harness::{Case, Visit, cases};
use crate::loading::STARTED;

pub(crate) const CASES: &[Case] = cases![
    it_works_without_a_network,
    it_can_be_installed,
    it_works_on_a_host_that_leaves_out_html,
    a_mixture_is_never_kept,
    a_new_version_comes_whole,
    nothing_is_kept_on_another_page,
];

/// The worker of the page has kept all its files.
const KEPT: &str = "(await navigator.serviceWorker?.getRegistration())?.active?.state === 'activated'";
const FOLDER: &str = "/grower/";
/// Files of which one is loaded with the page and one later.
const MARKED: [&str; 2] = ["rowlight.css", "share.js"];

fn forget(visit: &Visit) -> Result<()> {
    visit.browser.js::<()>(
        "for (const worker of await navigator.serviceWorker.getRegistrations()) await worker.unregister()",
    )
}

fn serve(visit: &Visit, port: u16, answers: BTreeMap<String, Answer>) -> Result<Server> {
    visit.serve(Settings { port, under: FOLDER.into(), answers, ..Settings::default() })
}

pub(crate) fn it_works_without_a_network(visit: &Visit) -> Result<()> {
    let server = serve(visit, 0, BTreeMap::new())?;
    let address = server.url();
    visit.browser.open(&address)?;
    visit.browser.until(STARTED)?;
    visit.browser.until(KEPT)?;
    drop(server);
    for page in ["", "index.html", "builder.html", "embedding.html"] {
        let shown = if page == "embedding.html" {
            "document.styleSheets.length > 0 && document.querySelector('table')"
        } else {
            PLANNER
        };
        until_shown(visit, &format!("{address}{page}"), shown)?;
    }
    forget(visit)?;
    visit.browser.expect_quiet_console()
}

/// A planner on the page itself, or in an element of it.
const PLANNER: &str =
    "[...document.querySelectorAll('rowlight-plan')].map((one) => one.shadowRoot).concat(document)
    .some((one) => one?.querySelector('[data-action=share-menu]'))";

/// Opens a page anew whose host is gone.
fn until_shown(visit: &Visit, address: &str, shown: &str) -> Result<()> {
    visit.browser.open("about:blank")?;
    visit.browser.open(address)?;
    visit.browser.until(shown).with_context(|| format!("{address} without a host"))
}

/// The manifest is in order as the browser reads it, and what it names is there.
fn it_can_be_installed(visit: &Visit) -> Result<()> {
    let server = serve(visit, 0, BTreeMap::new())?;
    visit.browser.open(&server.url())?;
    visit.browser.until(STARTED)?;
    let manifest = visit.browser.command("Page.getAppManifest", serde_json::json!({}))?;
    ensure!(manifest["errors"].as_array().is_some_and(Vec::is_empty), "{manifest}");
    let found: Vec<u16> = visit.browser.js(
        "const { icons, start_url } = await (await fetch('manifest.webmanifest')).json();
         return Promise.all([start_url, ...icons.map((icon) => icon.src)].map(async (address) => (await fetch(address)).status))",
    )?;
    ensure!(found.len() > 1 && found.iter().all(|status| *status == 200), "{found:?}");
    forget(visit)
}

/// Hosts that leave out “.html” send a visitor on; a browser takes no such answer for a page.
fn it_works_on_a_host_that_leaves_out_html(visit: &Visit) -> Result<()> {
    let on = |to: &str| Answer {
        status: 301,
        content_type: "text/plain".into(),
        body: format!("{FOLDER}{to}").into_bytes(),
    };
    let page = Answer {
        status: 200,
        content_type: "text/html; charset=utf-8".into(),
        body: std::fs::read(visit.site.join("builder.html"))?,
    };
    let answers = BTreeMap::from([
        (format!("{FOLDER}index.html"), on("")),
        (format!("{FOLDER}builder.html"), on("builder")),
        (format!("{FOLDER}builder"), page),
    ]);
    let server = serve(visit, 0, answers)?;
    let address = server.url();
    visit.browser.open(&address)?;
    visit.browser.until(STARTED)?;
    visit.browser.until(KEPT)?;
    drop(server);
    for page in ["", "index.html", "builder.html", "builder"] {
        until_shown(visit, &format!("{address}{page}"), PLANNER)?;
    }
    forget(visit)?;
    visit.browser.expect_quiet_console()
}

/// A host that is just being written to sends files of two versions.
fn a_mixture_is_never_kept(visit: &Visit) -> Result<()> {
    let answers = BTreeMap::from([(format!("{FOLDER}rowlight.css"), marked(visit, "rowlight.css")?)]);
    let server = serve(visit, 0, answers)?;
    visit.browser.open(&server.url())?;
    visit.browser.until(STARTED)?;
    visit.browser.js::<()>(
        "const coming = (await navigator.serviceWorker.register('sw.js?module=rowlight')).installing;
         await new Promise((done) => {
           const look = () => coming.state === 'redundant' && done();
           coming.addEventListener('statechange', look);
           look();
         });",
    )?;
    let left: (usize, usize) = visit.browser.js(
        "return [(await navigator.serviceWorker.getRegistrations()).length, (await caches.keys()).length]",
    )?;
    ensure!(left == (0, 0), "registrations and caches left: {left:?}");
    // That the worker refused is said there.
    visit.browser.console()?;
    Ok(())
}

fn a_new_version_comes_whole(visit: &Visit) -> Result<()> {
    let server = serve(visit, 0, BTreeMap::new())?;
    let address = server.url();
    let port = address.rsplit(':').next().and_then(|rest| rest.split('/').next()?.parse().ok());
    visit.browser.open(&address)?;
    visit.browser.until(KEPT)?;
    drop(server);
    let mut files = Files::new();
    for entry in std::fs::read_dir(&visit.site)? {
        let entry = entry?;
        files.insert(entry.file_name().to_string_lossy().into_owned(), std::fs::read(entry.path())?);
    }
    let mut answers = BTreeMap::new();
    for name in MARKED {
        let answer = marked(visit, name)?;
        files.insert(name.to_owned(), answer.body.clone());
        answers.insert(format!("{FOLDER}{name}"), answer);
    }
    let template = std::fs::read(xtask::workspace::root().join("www").join(offline::FILE))?;
    files.insert(offline::FILE.to_owned(), template);
    let body = offline::worker(&files)?.into_bytes();
    answers.insert(
        format!("{FOLDER}{}", offline::FILE),
        Answer { status: 200, content_type: "text/javascript".into(), body },
    );
    let _server = serve(visit, port.context("no port")?, answers)?;
    let shown = || -> Result<[bool; 2]> {
        visit
            .browser
            .js("const text = async (name) => (await (await fetch(name)).text()).includes('another version');
             return [await text('rowlight.css'), await text('share.js')]")
    };
    visit.browser.open(&address)?;
    visit.browser.until(STARTED)?;
    ensure!(shown()? == [false, false], "the page that is open keeps its version");
    visit.browser.until("(await navigator.serviceWorker.getRegistration())?.waiting")?;
    ensure!(shown()? == [false, false], "the page that is open keeps its version when another waits");
    // The new version takes over once the page of the old one is gone; a visitor quicker than that has the old one once more.
    let mut visits = 0;
    loop {
        visit.browser.open("about:blank")?;
        visit.browser.open(&address)?;
        visit.browser.until(STARTED)?;
        visits += 1;
        match shown()? {
            [true, true] => break,
            [false, false] => ensure!(visits < 20, "the new version never comes"),
            mixture => anyhow::bail!("a mixture: {mixture:?}"),
        }
    }
    let caches: usize = visit.browser.js("return (await caches.keys()).length")?;
    ensure!(caches == 1, "{caches} versions are kept");
    forget(visit)?;
    visit.browser.expect_quiet_console()
}

/// The file with a word more.
fn marked(visit: &Visit, name: &str) -> Result<Answer> {
    let text = std::fs::read_to_string(visit.site.join(name))?;
    let content_type = if name.ends_with(".css") { "text/css" } else { "text/javascript" };
    let body = format!("{text}/* of another version */").into_bytes();
    Ok(Answer { status: 200, content_type: content_type.into(), body })
}

fn nothing_is_kept_on_another_page(visit: &Visit) -> Result<()> {
    let page = crate::embed::host_page(crate::embed::MODULE, "<rowlight-plan id=planner></rowlight-plan>");
    let server = crate::embed::serve(visit, page, &[])?;
    crate::embed::open(visit, &server)?;
    crate::embed::until_started(visit, "planner")?;
    let kept: (usize, usize, usize) = visit.browser.js(
        "return [(await navigator.serviceWorker.getRegistrations()).length, (await caches.keys()).length,
                 localStorage.length]",
    )?;
    ensure!(kept == (0, 0, 0), "registrations, caches, entries: {kept:?}");
    visit.browser.expect_quiet_console()
}
