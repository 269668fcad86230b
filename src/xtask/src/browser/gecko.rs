//! What only Firefox understands: its console, pointer and keys in the words of WebDriver.

use std::sync::Arc;
use std::time::Duration;

use anyhow::{Context, Result, ensure};
use hyper::Method;
use serde_json::{Value, json};
use thirtyfour::Key;
use thirtyfour::action_chain::ActionChain;
use thirtyfour::common::command::{Command as WebDriverCommand, ExtensionCommand};

use super::hand::Point;
use super::session::{Browser, ConsoleLine};

/// Whether scripts run in the page or in the browser around it.
#[derive(Debug)]
struct Within(&'static str);

impl ExtensionCommand for Within {
    fn parameters_json(&self) -> Option<Value> {
        Some(json!({ "context": self.0 }))
    }

    fn method(&self) -> Method {
        Method::POST
    }

    fn endpoint(&self) -> Arc<str> {
        "/moz/context".into()
    }
}

/// Errors of pages, breaches of their policies among them; the browser's own pages and parts say much that is nobody's fault.
const HEARD: &str = "
    const lines = Services.console.getMessageArray().filter((line) => line instanceof Ci.nsIScriptError);
    Services.console.reset();
    return lines.map((line) => [line.flags & Ci.nsIScriptError.warningFlag, line.category, line.sourceName, `${line.sourceName}:${line.lineNumber} ${line.errorMessage}`]);";

impl Browser {
    pub(super) fn gecko_console(&self) -> Result<Vec<ConsoleLine>> {
        // What the page has said until now has then arrived.
        self.js::<()>("")?;
        let session = self.session()?;
        let within = |place| WebDriverCommand::ExtensionCommand(Box::new(Within(place)));
        self.runtime.block_on(session.handle().cmd(within("chrome")))?;
        let heard = self.js::<Vec<(u32, String, String, String)>>(HEARD);
        self.runtime.block_on(session.handle().cmd(within("content")))?;
        let of_a_page = |source: &str| source.starts_with("http") || source.is_empty();
        let lines = heard?.into_iter().filter(|(_, _, source, _)| of_a_page(source)).map(
            |(warning, category, _, text)| ConsoleLine {
                level: if warning == 0 { "SEVERE" } else { "WARNING" }.into(),
                text: format!("{category}: {text}"),
            },
        );
        let said = self.said.lock().map(|mut said| std::mem::take(&mut *said)).unwrap_or_default();
        Ok(lines.chain(said.into_iter().map(|text| ConsoleLine { level: "SEVERE".into(), text })).collect())
    }

    /// A window is measured by its outside; what the viewport lacks is added to it.
    pub(super) fn gecko_viewport(&self, width: u32, height: u32) -> Result<()> {
        let measure = "return [outerWidth - innerWidth, outerHeight - innerHeight, innerWidth, innerHeight]";
        for _ in 0..3 {
            let [right, below, now_wide, now_high]: [u32; 4] = self.js(measure)?;
            if (now_wide, now_high) == (width, height) {
                return Ok(());
            }
            self.runtime.block_on(self.session()?.set_window_rect(0, 0, width + right, height + below))?;
        }
        let [.., wide, high]: [u32; 4] = self.js(measure)?;
        ensure!((wide, high) == (width, height), "Firefox has a viewport of {wide} × {high}");
        Ok(())
    }

    pub(super) fn gecko_screenshot(&self) -> Result<Vec<u8>> {
        Ok(self.runtime.block_on(self.session()?.screenshot_as_png())?)
    }

    fn hand(&self) -> Result<ActionChain> {
        let handle = Arc::clone(self.session()?.handle());
        Ok(ActionChain::new_with_delay(handle, Some(Duration::ZERO), Some(Duration::ZERO)))
    }

    /// Moves the mouse through all places, pressed from the first to the last where `pressed` says so.
    pub(super) fn gecko_mouse(&self, way: &[Point], pressed: bool) -> Result<()> {
        let mut hand = self.hand()?;
        for (step, at) in way.iter().enumerate() {
            hand = hand.move_to(at.x.round() as i64, at.y.round() as i64);
            if step == 0 && pressed {
                hand = hand.click_and_hold();
            }
        }
        if pressed {
            hand = hand.release();
        }
        Ok(self.runtime.block_on(hand.perform())?)
    }

    pub(super) fn gecko_key(&self, held: &str, key: &str) -> Result<()> {
        let mut hand = self.hand()?;
        let held: Vec<Key> =
            held.split('+').filter(|word| !word.is_empty()).map(held_key).collect::<Result<_>>()?;
        for key in &held {
            hand = hand.key_down(key.value());
        }
        let key = match KEYS.iter().find(|(known, _)| *known == key) {
            Some((_, key)) => key.value(),
            None => key.chars().next().context("no key")?,
        };
        hand = hand.key_down(key).key_up(key);
        for key in held.iter().rev() {
            hand = hand.key_up(key.value());
        }
        Ok(self.runtime.block_on(hand.perform())?)
    }

    pub(super) fn gecko_write(&self, text: &str) -> Result<()> {
        Ok(self.runtime.block_on(self.hand()?.send_keys(text).perform())?)
    }
}

const KEYS: &[(&str, Key)] = &[
    ("ArrowLeft", Key::Left),
    ("ArrowUp", Key::Up),
    ("ArrowRight", Key::Right),
    ("ArrowDown", Key::Down),
    ("PageUp", Key::PageUp),
    ("PageDown", Key::PageDown),
    ("End", Key::End),
    ("Home", Key::Home),
    ("Tab", Key::Tab),
    ("Escape", Key::Escape),
    ("Backspace", Key::Backspace),
    ("Delete", Key::Delete),
    ("Enter", Key::Enter),
    ("Space", Key::Space),
];

fn held_key(word: &str) -> Result<Key> {
    let key = match word {
        "Alt" => Some(Key::Alt),
        "Ctrl" => Some(Key::Control),
        "Meta" => Some(Key::Meta),
        "Shift" => Some(Key::Shift),
        _ => None,
    };
    key.with_context(|| format!("no key {word}"))
}
