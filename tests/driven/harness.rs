//! Runs the cases one after the other, those of Chromium in one browser and then those of Firefox in another, and prints them as
//! `cargo test` prints its tests.
//!
//! # How to add a case
//! Write `pub(crate) fn what_must_hold(visit: &Visit) -> Result<()>` in the file of its subject and name it in that file's
//! `CASES`. A new file is named in `main.rs`. The case finds an empty page, a viewport of 1280 × 800 and nothing stored; it opens
//! what it needs with [`Visit::open`] and fails by an error or a panic. After it, the console must hold no error and no breach of
//! the policy; a case that provokes one takes it away with `visit.browser.console()`. `firefox.rs` says which run there.
//!
//! # Why not one `#[tokio::test]` a case
//! Starting a browser takes longer than most cases. One session, emptied before each case, is faster and fails alike every time; when a
//! case has killed it, the next one gets a new one. `cargo xtask test` runs this program twice at once, for each browser's cases.

use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::{Mutex, PoisonError};

use anyhow::{Context, Result, bail};
use libtest_mimic::{Arguments, Failed, Trial};
use xtask::browser::{Browser, Programs};
use xtask::serve::{Answer, Server, Settings};
use xtask::workspace;
use xtask::{chromium, firefox};

/// What a case is given.
pub(crate) struct Visit {
    /// The browser, as good as new.
    pub(crate) browser: Browser,
    /// The server of the built site.
    pub(crate) server: Server,
    /// The folder it serves, for cases that serve it in another way.
    pub(crate) site: PathBuf,
    programs: Programs,
    kind: Kind,
}

/// Where a case runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Chromium,
    Firefox,
}

impl Visit {
    fn begin(kind: Kind) -> Result<Self> {
        let site = std::env::var_os(xtask::BUILT_SITE).map_or_else(workspace::dist, PathBuf::from);
        if !site.join("index.html").is_file() {
            bail!(
                "there is no built site; `cargo xtask build` makes it, `cargo xtask test --only browser` too"
            );
        }
        let programs = match kind {
            Kind::Chromium => Programs::Chromium(chromium::find_or_install()?),
            Kind::Firefox => Programs::Firefox(firefox::find_or_install()?),
        };
        let server = Server::start(&site, with_imports(Settings::default()))?;
        Ok(Self { browser: Browser::launch(&programs)?, server, site, programs, kind })
    }

    /// Opens a page of the site, such as `index.html`, and waits for its `load`.
    pub(crate) fn open(&self, page: &str) -> Result<()> {
        self.browser.open(&format!("{}{page}", self.server.url()))
    }

    /// Leaves the page before its server ends: a page asks for the files it lacks when it has stood still for two seconds.
    pub(crate) fn leave(&self) -> Result<()> {
        self.browser.open("about:blank")
    }

    /// Serves the site once more, in another way: under a folder, under another policy, with host pages.
    pub(crate) fn serve(&self, settings: Settings) -> Result<Server> {
        Server::start(&self.site, with_imports(settings))
    }

    fn refresh(&mut self) -> Result<()> {
        if self.kind == Kind::Firefox {
            // It can't be told to forget what an origin has stored; another port is another origin.
            self.server = self.serve(Settings::default())?;
        }
        let origin = self.server.url();
        if self.browser.refresh(&origin).is_err() {
            self.browser = Browser::launch(&self.programs)?;
            self.browser.refresh(&origin)?;
        }
        Ok(())
    }
}

/// Where a server of a case has the script of [`imported`].
const IMPORTS: &str = "/imported.js";

/// A script of a case runs beside the page in Firefox, where an import makes a module of its own from the same file. So the page
/// itself imports.
fn with_imports(mut settings: Settings) -> Settings {
    let body = b"window.imported = (address) => import(new URL(address, document.baseURI))".to_vec();
    let script = Answer { status: 200, content_type: "text/javascript".into(), body };
    settings.answers.entry(IMPORTS.into()).or_insert(script);
    settings
}

/// The expression of a module as the page has it, to be awaited; the address is the page's.
pub(crate) fn imported(address: &str) -> String {
    format!(
        "(async () => {{
           if (!window.imported) await new Promise((done, fail) => {{
             const script = Object.assign(document.createElement('script'), {{ src: '{IMPORTS}', onload: done, onerror: fail }});
             document.head.append(script);
           }});
           return await window.imported('{address}');
         }})()"
    )
}

/// One thing that must hold, and its name.
pub(crate) struct Case {
    pub(crate) name: &'static str,
    pub(crate) run: fn(&Visit) -> Result<()>,
}

/// Names cases after their functions and the file they stand in.
macro_rules! cases {
    ($($run:ident),* $(,)?) => {
        &[$($crate::harness::Case { name: concat!(module_path!(), "::", stringify!($run)), run: $run }),*]
    };
}
pub(crate) use cases;

/// The browser and the server, started for the first case that runs and not for `--list`.
static VISIT: Mutex<Option<Visit>> = Mutex::new(None);

/// Runs what the command line asks for; it takes the words `cargo test` knows: a part of a name, `--exact`, `--list`.
pub(crate) fn run(in_chromium: &[&'static [Case]], in_firefox: &'static [Case]) -> ExitCode {
    let mut arguments = Arguments::from_args();
    arguments.test_threads = Some(1);
    let in_chromium = in_chromium.iter().copied().flatten().map(|case| (Kind::Chromium, case));
    let in_firefox = in_firefox.iter().map(|case| (Kind::Firefox, case));
    let trials = in_chromium.chain(in_firefox).map(|(kind, case)| {
        let name = case.name.trim_start_matches("driven::");
        Trial::test(name, move || {
            perform(kind, name, case.run).map_err(|reason| Failed::from(format!("{reason:#}")))
        })
    });
    let conclusion = libtest_mimic::run(&arguments, trials.collect());
    // A value in a static isn't dropped at the end; the browser would stay.
    drop(VISIT.lock().unwrap_or_else(PoisonError::into_inner).take());
    conclusion.exit_code()
}

fn perform(kind: Kind, name: &str, run: fn(&Visit) -> Result<()>) -> Result<()> {
    let mut visit = VISIT.lock().unwrap_or_else(PoisonError::into_inner);
    if visit.as_ref().is_none_or(|visit| visit.kind != kind) {
        // One browser at a time.
        *visit = None;
        *visit = Some(Visit::begin(kind)?);
    }
    let visit = visit.as_mut().context("the visit has not begun")?;
    visit.refresh()?;
    let outcome = run(visit).and_then(|()| visit.browser.expect_quiet_console());
    match outcome {
        Ok(()) => Ok(()),
        Err(reason) => {
            let picture = visit.browser.screenshot(&format!("failed-{}", name.replace("::", "-")));
            let console: Vec<String> =
                visit.browser.console().unwrap_or_default().into_iter().map(|line| line.text).collect();
            let seen = picture.map_or_else(|_| "no picture".to_owned(), |file| file.display().to_string());
            Err(reason.context(format!("seen: {seen}; console: {console:?}")))
        }
    }
}
