//! A running browser: starts it, opens addresses, runs JavaScript, ends it. What a reader sees and does is in the files beside this one.

use std::fs;
use std::io::{BufRead, BufReader};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail};
use serde::de::DeserializeOwned;
use thirtyfour::{Capabilities, WebDriver};
use tokio::runtime::Runtime;

use super::{chrome_start, gecko_start};
use crate::chromium::Chromium;
use crate::firefox::Firefox;
use crate::workspace;

/// How long [`Browser::until`] waits.
pub(super) const PATIENCE: Duration = Duration::from_secs(10);

/// A line of the browser's console.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ConsoleLine {
    /// `SEVERE`, `WARNING`, `INFO` or `DEBUG`.
    pub level: String,
    /// Address, line, column and text.
    pub text: String,
}

/// Which browser, and where its programs lie.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Programs {
    /// A Chromium or Chrome.
    Chromium(Chromium),
    /// A Firefox.
    Firefox(Firefox),
}

/// A running browser with one window. It and its driver end when the value is dropped.
pub struct Browser {
    pub(super) programs: Programs,
    pub(super) runtime: Runtime,
    session: Option<WebDriver>,
    driver: Child,
    process: Option<u64>,
    profile: PathBuf,
    /// What pages have said with `console.error` in Firefox.
    pub(super) said: Arc<Mutex<Vec<String>>>,
}

impl Browser {
    /// Starts a browser with a profile of its own, empty.
    ///
    /// # Errors
    /// When one of the two programs doesn't start, or they don't fit together.
    pub fn launch(programs: &Programs) -> Result<Self> {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let name = format!("{}-{}", std::process::id(), COUNT.fetch_add(1, Ordering::Relaxed));
        let profile = workspace::target()?.join("browser").join(name);
        fs::create_dir_all(&profile)?;
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()?;
        let mut command = match programs {
            Programs::Chromium(chromium) => chrome_start::driver(chromium),
            Programs::Firefox(firefox) => gecko_start::driver(firefox, &profile),
        };
        let driver = command
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .with_context(|| format!("{} did not start", command.get_program().display()))?;
        let programs = programs.clone();
        let mut browser =
            Self { programs, runtime, session: None, driver, process: None, profile, said: Arc::default() };
        let wishes = match &browser.programs {
            Programs::Chromium(chromium) => chrome_start::wishes(chromium, &browser.profile)?,
            Programs::Firefox(firefox) => gecko_start::wishes(firefox)?,
        };
        browser.connect(wishes)?;
        Ok(browser)
    }

    fn connect(&mut self, wishes: Capabilities) -> Result<()> {
        let port = self.driver_port()?;
        let session = self
            .runtime
            .block_on(WebDriver::new(format!("http://127.0.0.1:{port}"), wishes))
            .context("the browser did not start")?;
        let capabilities = serde_json::to_value(session.handle().capabilities())?;
        self.process =
            ["goog:processID", "moz:processID"].into_iter().find_map(|key| capabilities[key].as_u64());
        self.session = Some(session);
        Ok(())
    }

    /// The driver takes a free port and prints it: asking for one and passing it on would leave a moment for others to take it.
    fn driver_port(&mut self) -> Result<u16> {
        let output = self.driver.stdout.take().context("the driver prints nothing")?;
        let mut lines = BufReader::new(output).lines();
        let said = match self.programs {
            Programs::Chromium(_) => chrome_start::PORT_FOLLOWS,
            Programs::Firefox(_) => gecko_start::PORT_FOLLOWS,
        };
        let port = lines
            .by_ref()
            .map_while(Result::ok)
            .find_map(|line| line.split_once(said)?.1.trim_end_matches('.').parse().ok())
            .context("the driver did not say its port")?;
        // Whoever stops reading makes the driver fail at its next line.
        let said = Arc::clone(&self.said);
        std::thread::spawn(move || {
            for line in lines.map_while(Result::ok).filter(|line| gecko_start::is_said_by_a_page(line)) {
                if let Ok(mut said) = said.lock() {
                    said.push(line);
                }
            }
        });
        Ok(port)
    }

    pub(super) fn session(&self) -> Result<&WebDriver> {
        self.session.as_ref().context("the browser has ended")
    }

    /// Opens an address and waits for the page's `load`.
    ///
    /// # Errors
    /// When the page can't be loaded.
    pub fn open(&self, address: &str) -> Result<()> {
        self.runtime
            .block_on(self.session()?.goto(address))
            .with_context(|| format!("{address} does not open"))
    }

    /// Shows a page that lies on no server.
    ///
    /// # Errors
    /// As [`Browser::open`].
    pub fn show(&self, html: &str) -> Result<()> {
        use base64::Engine as _;
        let encoded = base64::engine::general_purpose::STANDARD.encode(html);
        self.open(&format!("data:text/html;charset=utf-8;base64,{encoded}"))
    }

    /// Runs the body of a JavaScript function in the page and takes what it returns; a promise is awaited.
    ///
    /// ```no_run
    /// # fn show(browser: &xtask::browser::Browser) -> anyhow::Result<()> {
    /// let width: f64 = browser.js("return innerWidth")?;
    /// # Ok(()) }
    /// ```
    ///
    /// # Errors
    /// When the script throws, or returns something else than the caller expects.
    pub fn js<T: DeserializeOwned>(&self, body: &str) -> Result<T> {
        let script = match self.programs {
            Programs::Chromium(_) => body.to_owned(),
            Programs::Firefox(_) => gecko_start::wrapped(body),
        };
        let result = self
            .runtime
            .block_on(self.session()?.execute(script, Vec::new()))
            .with_context(|| format!("in the script: {body}"))?;
        let value = match self.programs {
            Programs::Chromium(_) => result.json().clone(),
            Programs::Firefox(_) => gecko_start::unwrapped(result.json())?,
        };
        serde_json::from_value(value.clone())
            .with_context(|| format!("{value} is not what was expected of: {body}"))
    }

    /// Waits until a JavaScript expression is true in the page.
    ///
    /// # Errors
    /// When it isn't within ten seconds, or throws.
    pub fn until(&self, expression: &str) -> Result<()> {
        let begin = Instant::now();
        while !self.js::<bool>(&format!("return Boolean({expression})"))? {
            if begin.elapsed() > PATIENCE {
                bail!("never became true: {expression}");
            }
            std::thread::sleep(Duration::from_millis(15));
        }
        Ok(())
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        let quit = self.session.take().map(|session| self.runtime.block_on(session.quit()));
        if let (Some(Err(_)), Some(process)) = (quit, self.process) {
            // The driver is gone and left the browser behind.
            let _ = Command::new("kill").arg(process.to_string()).stderr(Stdio::null()).status();
        }
        let _ = self.driver.kill();
        let _ = self.driver.wait();
        let _ = fs::remove_dir_all(&self.profile);
    }
}
