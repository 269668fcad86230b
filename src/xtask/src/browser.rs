//! One headless browser, driven from the host: for the browser tests and the bench.
//!
//! Calls return when the browser has done what they say; no caller needs to know that the protocol below is asynchronous. What
//! WebDriver doesn't offer goes through the browser's own debugging protocol, whose pointer and key events are as trusted as a
//! person's.
//!
//! | part | does |
//! |---|---|
//! | this file | starts, opens addresses, runs JavaScript, reads the console, ends |
//! | `eye` | size of the viewport, emulated media, screenshots, PDF |
//! | `hand` | pointer, touch and keys |

use std::fs;
use std::io::{BufRead, BufReader};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail};
use serde::de::DeserializeOwned;
use serde_json::{Value, json};
use thirtyfour::common::capabilities::chromium::ChromiumLikeCapabilities;
use thirtyfour::{DesiredCapabilities, LoggingPrefsLogLevel, WebDriver};
use tokio::runtime::Runtime;

use crate::chromium::Chromium;
use crate::workspace;

mod eye;
mod hand;

pub use eye::{Media, Scheme};
pub use hand::Point;

/// Quiet, alone and the same everywhere: no services of its maker, one pixel to a CSS pixel, text without the host's hinting.
const FLAGS: &[&str] = &[
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--force-device-scale-factor=1",
    "--font-render-hinting=none",
];

/// How long [`Browser::until`] waits.
const PATIENCE: Duration = Duration::from_secs(10);

/// A line of the browser's console.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ConsoleLine {
    /// `SEVERE`, `WARNING`, `INFO` or `DEBUG`.
    pub level: String,
    /// Address, line, column and text.
    pub text: String,
}

/// A running browser with one window. It and its driver end when the value is dropped.
pub struct Browser {
    runtime: Runtime,
    session: Option<WebDriver>,
    driver: Child,
    process: Option<u64>,
    profile: PathBuf,
}

impl Browser {
    /// Starts a browser with a profile of its own, empty.
    ///
    /// # Errors
    /// When one of the two programs doesn't start, or they don't fit together.
    pub fn launch(chromium: &Chromium) -> Result<Self> {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let name = format!("{}-{}", std::process::id(), COUNT.fetch_add(1, Ordering::Relaxed));
        let profile = workspace::target()?.join("browser").join(name);
        fs::create_dir_all(&profile)?;
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()?;
        let driver = Command::new(&chromium.driver)
            .arg("--port=0")
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .with_context(|| format!("{} did not start", chromium.driver.display()))?;
        let mut browser = Self { runtime, session: None, driver, process: None, profile };
        browser.connect(chromium)?;
        Ok(browser)
    }

    fn connect(&mut self, chromium: &Chromium) -> Result<()> {
        let port = self.driver_port()?;
        let mut wishes = DesiredCapabilities::chrome();
        wishes.set_binary(&chromium.browser.to_string_lossy())?;
        for flag in FLAGS {
            wishes.add_arg(flag)?;
        }
        wishes.add_arg(&format!("--user-data-dir={}", self.profile.display()))?;
        wishes.set_browser_log_level(LoggingPrefsLogLevel::All)?;
        let session = self
            .runtime
            .block_on(WebDriver::new(format!("http://127.0.0.1:{port}"), wishes))
            .context("the browser did not start")?;
        let capabilities = serde_json::to_value(session.handle().capabilities())?;
        self.process = capabilities["goog:processID"].as_u64();
        self.session = Some(session);
        Ok(())
    }

    /// The driver takes a free port and prints it: asking for one and passing it on would leave a moment for others to take it.
    fn driver_port(&mut self) -> Result<u16> {
        let output = self.driver.stdout.take().context("chromedriver prints nothing")?;
        let mut lines = BufReader::new(output).lines();
        let port = lines
            .by_ref()
            .map_while(Result::ok)
            .find_map(|line| line.split_once("successfully on port ")?.1.trim_end_matches('.').parse().ok())
            .context("chromedriver did not say its port")?;
        // Whoever stops reading makes the driver fail at its next line.
        std::thread::spawn(move || lines.for_each(drop));
        Ok(port)
    }

    fn session(&self) -> Result<&WebDriver> {
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
        let result = self
            .runtime
            .block_on(self.session()?.execute(body, Vec::new()))
            .with_context(|| format!("in the script: {body}"))?;
        serde_json::from_value(result.json().clone())
            .with_context(|| format!("{} is not what was expected of: {body}", result.json()))
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

    /// Sends a command of the browser's debugging protocol.
    ///
    /// # Errors
    /// When the browser refuses it.
    pub fn command(&self, name: &str, parameters: Value) -> Result<Value> {
        self.runtime
            .block_on(self.session()?.cdp().send_raw(name, parameters))
            .with_context(|| format!("the browser's command {name}"))
    }

    /// The console's lines since the last call.
    ///
    /// # Errors
    /// When the browser has ended.
    pub fn console(&self) -> Result<Vec<ConsoleLine>> {
        let lines = self.runtime.block_on(self.session()?.browser_log())?;
        Ok(lines.into_iter().map(|line| ConsoleLine { level: line.level, text: line.message }).collect())
    }

    /// Fails when the console has, since it was last read, an error or a breach of the page's policy.
    ///
    /// # Errors
    /// Then, with the lines.
    pub fn expect_quiet_console(&self) -> Result<()> {
        let mut lines = self.console()?;
        lines.retain(|line| line.level == "SEVERE" || line.text.contains("Content Security Policy"));
        if !lines.is_empty() {
            let lines: Vec<String> =
                lines.into_iter().map(|line| format!("{}: {}", line.level, line.text)).collect();
            bail!("the console has\n{}", lines.join("\n"));
        }
        Ok(())
    }

    /// As if just started: an empty page, a viewport of 1280 × 800, no emulation, nothing stored by `origin`, an empty console.
    ///
    /// # Errors
    /// When the browser doesn't answer; a new one should then be launched.
    pub fn refresh(&self, origin: &str) -> Result<()> {
        self.close_other_windows()?;
        self.open("about:blank")?;
        self.command("Storage.clearDataForOrigin", json!({ "origin": origin, "storageTypes": "all" }))?;
        self.command("Emulation.setTouchEmulationEnabled", json!({ "enabled": false }))?;
        self.command("Emulation.setScriptExecutionDisabled", json!({ "value": false }))?;
        self.media(Media::default())?;
        self.viewport(1280, 800)?;
        self.console()?;
        Ok(())
    }

    /// What the page opened is closed with its page, and the first window is the one that is driven.
    fn close_other_windows(&self) -> Result<()> {
        let session = self.session()?;
        self.runtime.block_on(async {
            let windows = session.windows().await?;
            if let Some((first, others)) = windows.split_first() {
                for other in others {
                    session.switch_to_window(other.clone()).await?;
                    session.close_window().await?;
                }
                if !others.is_empty() {
                    session.switch_to_window(first.clone()).await?;
                }
            }
            Ok(())
        })
    }

    /// Goes over to the window the page opened last.
    ///
    /// # Errors
    /// When there is but one within ten seconds.
    pub fn to_opened_window(&self) -> Result<()> {
        let session = self.session()?;
        let begin = Instant::now();
        loop {
            let windows = self.runtime.block_on(session.windows())?;
            if let [_, .., last] = windows.as_slice() {
                return Ok(self.runtime.block_on(session.switch_to_window(last.clone()))?);
            }
            if begin.elapsed() > PATIENCE {
                bail!("the page has opened no window");
            }
            std::thread::sleep(Duration::from_millis(15));
        }
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
