//! One headless browser, driven from the host: for the browser tests and the bench.
//!
//! Calls return when the browser has done what they say; no caller needs to know that the protocol below is asynchronous. In
//! Chromium what WebDriver doesn't offer goes through the browser's own debugging protocol, whose pointer and key events are as
//! trusted as a person's. Firefox does less: no touch, no emulated media, no PDF; what it is asked for in vain is an error.
//!
//! | part | does |
//! |---|---|
//! | `session` | starts, opens addresses, runs JavaScript, ends |
//! | this file | the console, windows, an empty start |
//! | `eye` | size of the viewport, emulated media, screenshots, PDF |
//! | `hand` | pointer, touch and keys |
//! | `chrome`, `gecko` | what each of the two is told in a way of its own: what its console holds, and Firefox's hand |
//! | `chrome_start`, `gecko_start` | how each of the two is started, and what it needs of a script |

use std::time::{Duration, Instant};

use anyhow::{Result, bail};

mod chrome;
mod chrome_start;
mod eye;
mod gecko;
mod gecko_start;
mod hand;
mod session;

pub use eye::{Media, Scheme};
pub use hand::Point;
pub use session::{Browser, ConsoleLine, Programs};

use session::PATIENCE;

impl Browser {
    /// The console's lines since the last call.
    ///
    /// # Errors
    /// When the browser has ended.
    pub fn console(&self) -> Result<Vec<ConsoleLine>> {
        match self.programs {
            Programs::Chromium(_) => self.chrome_console(),
            Programs::Firefox(_) => self.gecko_console(),
        }
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
    /// Firefox keeps what is stored; there a test takes an origin nobody has used.
    ///
    /// # Errors
    /// When the browser doesn't answer; a new one should then be launched.
    pub fn refresh(&self, origin: &str) -> Result<()> {
        self.close_other_windows()?;
        self.open("about:blank")?;
        if let Programs::Chromium(_) = self.programs {
            self.chrome_refresh(origin)?;
        }
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
