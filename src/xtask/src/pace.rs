//! The part of `cargo xtask bench` that needs a browser: what a slider costs in the built page.
//!
//! Each slider is moved across its range step by step. Script time is taken between two callbacks of
//! one animation frame, around the page's own: from the slider's `input` event to all figures and
//! drawings changed, without the browser's layout and painting. A program of its own, so that the
//! host tool needn't compile a WebDriver client for its other commands.

use anyhow::Result;
use serde_json::Value;
use xtask::browser::{Browser, Programs};
use xtask::chromium;
use xtask::serve::{Server, Settings};
use xtask::workspace;

/// What is dragged: its name, length and width of the block `[m]`, the chapter turned to.
const ROUNDS: [(&str, f64, f64, &str); 3] = [
    ("5 acres", 201.168, 100.584, "layout"),
    ("100 acres", 636.1, 636.1, "layout"),
    ("5 acres, light", 201.168, 100.584, "light"),
];

/// Moves a slider of the page, the one with this number; gives `[key, milliseconds…]`, or nothing after the last.
const DRAG: &str = r#"
const frame = () => new Promise(requestAnimationFrame);
const sliders = [...document.querySelectorAll('input[data-role=slider]')].filter((s) => s.offsetParent);
const slider = sliders[NUMBER];
if (!slider) return [];
{
  const before = slider.value;
  // To and fro in steps that always change the value.
  const [min, max] = [Number(slider.min), Number(slider.max)];
  const stride = Math.max(Number(slider.step), (max - min) / 88);
  const strides = Math.max(1, Math.floor((max - min) * 0.5 / stride));
  const place = (step) => Math.abs((step % (2 * strides)) - strides);
  const times = [];
  // The first steps warm the engine up and aren't counted.
  for (let step = -8; step < 32; step++) {
    await frame();
    let begun, ended;
    requestAnimationFrame(() => { begun = performance.now(); });
    slider.value = min + (max - min) * 0.2 + stride * place(step + 8);
    const sent = performance.now();
    slider.dispatchEvent(new Event('input', { bubbles: true }));
    const taken = performance.now() - sent;
    await new Promise((done) => requestAnimationFrame(() => { ended = performance.now(); done(); }));
    if (step >= 0) times.push(taken + ended - begun);
  }
  slider.value = before;
  slider.dispatchEvent(new Event('input', { bubbles: true }));
  slider.dispatchEvent(new Event('change', { bubbles: true }));
  await frame();
  return [slider.dataset.key + (slider.dataset.item ?? ''), ...times];
}
"#;

fn main() -> Result<()> {
    let server = Server::start(&workspace::dist(), Settings::default())?;
    let browser = Browser::launch(&Programs::Chromium(chromium::find_or_install()?))?;
    println!(
        "{:<44}{:>12}{:>12}{:>12}",
        "in the browser, script time of one step", "median ms", "p95 ms", "p99 ms"
    );
    for (block, length, width, chapter) in ROUNDS {
        browser.viewport(1600, 1000)?;
        browser.open(&format!("{}rowlight.css", server.url()))?;
        let saved = format!(
            r#"localStorage.setItem("rowlight.v1", JSON.stringify({{ units: "us", paper: "letter", chapter: "{chapter}",
            scenario: {{ version: 1, block_length: {length}, block_width: {width} }} }}))"#
        );
        browser.js::<Value>(&saved)?;
        browser.open(&server.url())?;
        browser.until("document.querySelector('[data-figure]') !== null")?;
        let mut all = Vec::new();
        for number in 0.. {
            let round: Vec<Value> = browser.js(&DRAG.replace("NUMBER", &number.to_string()))?;
            let Some((key, times)) = round.split_first() else { break };
            let times: Vec<f64> = times.iter().filter_map(Value::as_f64).collect();
            report(&format!("{block}, {}", key.as_str().unwrap_or_default()), times.clone());
            all.extend(times);
        }
        report(&format!("{block}, all sliders"), all);
    }
    Ok(())
}

fn report(name: &str, mut times: Vec<f64>) {
    times.sort_by(f64::total_cmp);
    let at = |percent: usize| times.get(times.len() * percent / 100).copied().unwrap_or_default();
    println!("{name:<44}{:>12.2}{:>12.2}{:>12.2}", at(50), at(95), at(99));
}
