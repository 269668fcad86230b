//! A person's hand: pointer, touch and keys.

use anyhow::{Context, Result, bail};
use serde_json::json;

use super::session::{Browser, Programs};

/// A place in the viewport, in CSS pixels from its upper left corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

impl Point {
    /// The point this far to the right and down.
    ///
    /// ```
    /// use xtask::browser::Point;
    /// assert_eq!(Point { x: 1.0, y: 2.0 }.moved(10.0, -1.0), Point { x: 11.0, y: 1.0 });
    /// ```
    pub fn moved(self, right: f64, down: f64) -> Self {
        Self { x: self.x + right, y: self.y + down }
    }

    /// Points on the straight way to another, which is the last.
    fn way_to(self, end: Self, steps: u32) -> impl Iterator<Item = Self> {
        (1..=steps).map(move |step| {
            let part = f64::from(step) / f64::from(steps);
            self.moved((end.x - self.x) * part, (end.y - self.y) * part)
        })
    }
}

/// Steps of a drag: enough for a page to see a movement and not a jump.
const STEPS: u32 = 8;

/// Name, code and number of the keys that write nothing, and what those write that do.
const KEYS: &[(&str, &str, u32, &str)] = &[
    ("ArrowLeft", "ArrowLeft", 37, ""),
    ("ArrowUp", "ArrowUp", 38, ""),
    ("ArrowRight", "ArrowRight", 39, ""),
    ("ArrowDown", "ArrowDown", 40, ""),
    ("PageUp", "PageUp", 33, ""),
    ("PageDown", "PageDown", 34, ""),
    ("End", "End", 35, ""),
    ("Home", "Home", 36, ""),
    ("Tab", "Tab", 9, ""),
    ("Escape", "Escape", 27, ""),
    ("Backspace", "Backspace", 8, ""),
    ("Delete", "Delete", 46, ""),
    ("Enter", "Enter", 13, "\r"),
    ("Space", "Space", 32, " "),
];

/// Name and bit of the keys that are held while another is struck.
const HELD: &[(&str, u32)] = &[("Alt", 1), ("Ctrl", 2), ("Meta", 4), ("Shift", 8)];

impl Browser {
    /// Scrolls an element into view and gives its middle; `element` is a JavaScript expression.
    ///
    /// ```no_run
    /// # fn show(browser: &xtask::browser::Browser) -> anyhow::Result<()> {
    /// browser.click(browser.middle("document.querySelector('button')")?)?;
    /// # Ok(()) }
    /// ```
    ///
    /// # Errors
    /// When there is no such element.
    pub fn middle(&self, element: &str) -> Result<Point> {
        let [x, y]: [f64; 2] = self.js(&format!(
            "const element = {element};
             element.scrollIntoView({{ block: 'center', inline: 'center', behavior: 'instant' }});
             const box = element.getBoundingClientRect();
             return [box.x + box.width / 2, box.y + box.height / 2];"
        ))?;
        Ok(Point { x, y })
    }

    /// Moves the mouse to a place, nothing pressed.
    ///
    /// # Errors
    /// When the browser has ended.
    pub fn hover(&self, at: Point) -> Result<()> {
        if let Programs::Firefox(_) = self.programs {
            return self.gecko_mouse(&[at], false);
        }
        self.mouse("mouseMoved", at, 0)
    }

    /// Presses and releases the main mouse button.
    ///
    /// # Errors
    /// When the browser has ended.
    pub fn click(&self, at: Point) -> Result<()> {
        self.drag(at, at)
    }

    /// Presses the main mouse button, moves straight to the other place, releases.
    ///
    /// # Errors
    /// When the browser has ended.
    pub fn drag(&self, from: Point, to: Point) -> Result<()> {
        if let Programs::Firefox(_) = self.programs {
            let steps = if from == to { 0 } else { STEPS };
            let way: Vec<Point> = std::iter::once(from).chain(from.way_to(to, steps)).collect();
            return self.gecko_mouse(&way, true);
        }
        self.hover(from)?;
        self.mouse("mousePressed", from, 1)?;
        if from != to {
            for at in from.way_to(to, STEPS) {
                self.mouse("mouseMoved", at, 1)?;
            }
        }
        self.mouse("mouseReleased", to, 0)
    }

    fn mouse(&self, kind: &str, at: Point, buttons: u32) -> Result<()> {
        let button = if kind == "mouseMoved" && buttons == 0 { "none" } else { "left" };
        let event = json!({
            "type": kind, "x": at.x, "y": at.y, "button": button, "buttons": buttons,
            "clickCount": u32::from(kind != "mouseMoved"),
        });
        self.command("Input.dispatchMouseEvent", event)?;
        Ok(())
    }

    /// The same with a finger. The page is told from here on that it can be touched; load it again if it asks at its start.
    ///
    /// # Errors
    /// When the browser has ended.
    pub fn touch_drag(&self, from: Point, to: Point) -> Result<()> {
        self.touch_along(std::iter::once(from).chain(from.way_to(to, STEPS)))
    }

    /// Swipes with a finger, as one who scrolls: quickly, and told to the page at three places.
    ///
    /// # Errors
    /// When the browser has ended.
    pub fn swipe(&self, from: Point, to: Point) -> Result<()> {
        self.touch_along(std::iter::once(from).chain(from.way_to(to, 2)))
    }

    /// Comes down with a finger and lifts it again.
    ///
    /// # Errors
    /// When the browser has ended.
    pub fn tap(&self, at: Point) -> Result<()> {
        self.touch_along(std::iter::once(at))
    }

    fn touch_along(&self, way: impl Iterator<Item = Point>) -> Result<()> {
        self.command("Emulation.setTouchEmulationEnabled", json!({ "enabled": true }))?;
        let touch = |kind: &str, points: &[serde_json::Value]| {
            self.command("Input.dispatchTouchEvent", json!({ "type": kind, "touchPoints": points }))
        };
        for (place, at) in way.enumerate() {
            let kind = if place == 0 { "touchStart" } else { "touchMove" };
            touch(kind, &[json!({ "x": at.x, "y": at.y })])?;
        }
        touch("touchEnd", &[])?;
        Ok(())
    }

    /// Strikes a key: `ArrowRight`, `Shift+Tab`, `Ctrl+z`, `a`.
    ///
    /// # Errors
    /// When there is no such key.
    pub fn key(&self, name: &str) -> Result<()> {
        let (held, key) = match name.rsplit_once('+') {
            Some((held, key)) if !key.is_empty() => (held, key),
            _ => ("", name),
        };
        if let Programs::Firefox(_) = self.programs {
            return self.gecko_key(held, key);
        }
        let mut modifiers = 0;
        for word in held.split('+').filter(|word| !word.is_empty()) {
            let (_, bit) =
                HELD.iter().find(|(known, _)| *known == word).with_context(|| format!("no key {word}"))?;
            modifiers |= bit;
        }
        let (key, code, number, text) = match KEYS.iter().find(|(known, ..)| *known == key) {
            Some((key, code, number, text)) => (*key, (*code).to_owned(), *number, *text),
            None => letter(key)?,
        };
        // A letter struck with Ctrl, Alt or Meta is a command and writes nothing.
        let text = if modifiers & 7 == 0 { text } else { "" };
        let key = if key == "Space" { " " } else { key };
        let event = |kind: &str, text: &str| {
            let event = json!({
                "type": kind, "key": key, "code": code, "windowsVirtualKeyCode": number, "modifiers": modifiers, "text": text,
            });
            self.command("Input.dispatchKeyEvent", event)
        };
        event(if text.is_empty() { "rawKeyDown" } else { "keyDown" }, text)?;
        event("keyUp", "")?;
        Ok(())
    }

    /// Writes a text where the cursor stands: all at once, in Firefox key by key.
    ///
    /// # Errors
    /// When the browser has ended.
    pub fn write(&self, text: &str) -> Result<()> {
        if let Programs::Firefox(_) = self.programs {
            return self.gecko_write(text);
        }
        self.command("Input.insertText", json!({ "text": text }))?;
        Ok(())
    }
}

fn letter(key: &str) -> Result<(&str, String, u32, &str)> {
    let mut letters = key.chars();
    let (Some(letter), None) = (letters.next(), letters.next()) else { bail!("no key {key}") };
    let upper = letter.to_ascii_uppercase();
    let code = match upper {
        'A'..='Z' => format!("Key{upper}"),
        '0'..='9' => format!("Digit{upper}"),
        _ => String::new(),
    };
    Ok((key, code, u32::from(upper), key))
}
