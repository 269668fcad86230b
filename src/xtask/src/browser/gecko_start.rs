//! How Firefox is started, what it needs of a script, and what it prints.

use std::path::Path;
use std::process::Command;

use anyhow::{Context, Result};
use serde_json::Value;
use thirtyfour::common::capabilities::firefox::FirefoxPreferences;
use thirtyfour::{Capabilities, DesiredCapabilities};

use crate::firefox::Firefox;

/// What geckodriver prints before its port.
pub(super) const PORT_FOLLOWS: &str = "Listening on 127.0.0.1:";

pub(super) fn driver(firefox: &Firefox, profile: &Path) -> Command {
    let mut command = Command::new(&firefox.driver);
    // The console is read with the rights of the browser itself, which have to be allowed.
    command.args(["--port=0", "--websocket-port=0", "--allow-system-access", "--profile-root"]).arg(profile);
    command
}

pub(super) fn wishes(firefox: &Firefox) -> Result<Capabilities> {
    let mut wishes = DesiredCapabilities::firefox();
    wishes.set_firefox_binary(&firefox.browser.to_string_lossy())?;
    wishes.set_headless()?;
    let mut preferences = FirefoxPreferences::new();
    // What a page says with `console.error` goes no further than its own process, unless it is printed.
    preferences.set("devtools.console.stdout.content", true)?;
    // What fills in addresses and cards stumbles over fields that come and go, and says so on the same console.
    preferences.set("extensions.formautofill.addresses.enabled", false)?;
    preferences.set("extensions.formautofill.creditCards.enabled", false)?;
    wishes.set_preferences(preferences)?;
    Ok(wishes.into())
}

/// A script as Firefox needs it: it takes one for a function that awaits nothing, and geckodriver hands numbers on an ulp off, so
/// that the result travels as a text.
pub(super) fn wrapped(body: &str) -> String {
    format!(
        "const result = (async () => {{ {body}\n }})(); return result.then((value) => JSON.stringify(value ?? null))"
    )
}

/// The result of such a script.
pub(super) fn unwrapped(result: &Value) -> Result<Value> {
    let text = result.as_str().context("the script returns what is no JSON")?;
    Ok(serde_json::from_str(text)?)
}

/// Whether a printed line is what a page has said with `console.error`. Parts of the browser itself say their troubles there too:
/// with the address of the part, or its name alone on the first line.
pub(super) fn is_said_by_a_page(line: &str) -> bool {
    line.strip_prefix("console.error: ").is_some_and(|said| {
        !["resource://", "chrome://"].iter().any(|part| said.contains(part))
            && !said.trim_end().ends_with(':')
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pages_are_told_from_parts_of_the_browser() {
        let cases = [
            ("console.error: \"a fault\"", true),
            ("console.error: ({})", true),
            ("console.error: RSLoader: ", false),
            (
                "console.error: [Exception... \"JS frame :: resource:///modules/FaviconLoader.sys.mjs\"]",
                false,
            ),
            ("console.warn: \"a fault\"", false),
        ];
        for (line, expected) in cases {
            assert_eq!(is_said_by_a_page(line), expected, "{line}");
        }
    }
}
