//! The part of `cargo xtask bench` that needs a browser: what a slider costs in the built page.
//!
//! Each slider is moved across its range step by step. Script time is taken between two callbacks of
//! one animation frame, around the page's own: from the slider's `input` event to all figures and
//! drawings changed, without the browser's layout and painting. A program of its own, so that the
//! host tool needn't compile a WebDriver client for its other commands.

#![allow(clippy::disallowed_methods, reason = "what runs on the host needn't be small")]

use std::path::PathBuf;

use anyhow::Result;
use serde_json::{Value, json};
use xtask::browser::{Browser, Programs};
use xtask::chromium;
use xtask::serve::{Server, Settings};
use xtask::workspace;

/// A plan whose sliders are dragged.
struct Round {
    name: &'static str,
    /// Fields of its scenario beside the version, as JSON.
    fields: &'static str,
    /// The chapter turned to.
    chapter: &'static str,
    /// How many times slower the processor is made.
    slowed: f64,
}

/// The usual plan, large fields, and plans that have findings: with rows far too near for their height, and with crowns too dark inside.
const PLANS: [Round; 10] = [
    Round { name: "5 acres", fields: "", chapter: "layout", slowed: 1.0 },
    Round {
        name: "100 acres",
        fields: r#", "block_length": 636.1, "block_width": 636.1"#,
        chapter: "layout",
        slowed: 1.0,
    },
    Round {
        name: "1,000 acres",
        fields: r#", "block_length": 2011.7, "block_width": 2011.7"#,
        chapter: "layout",
        slowed: 1.0,
    },
    Round {
        name: "rows too near",
        fields: r#", "row_width": 2.4, "tree_height": 3.9"#,
        chapter: "layout",
        slowed: 1.0,
    },
    Round {
        name: "dark crowns",
        fields: r#", "system": "central_leader", "leaf_area_density": 4.0"#,
        chapter: "layout",
        slowed: 1.0,
    },
    Round {
        name: "1,000 acres, rows too near",
        fields: r#", "block_length": 2011.7, "block_width": 2011.7, "row_width": 2.4, "tree_height": 3.9"#,
        chapter: "layout",
        slowed: 1.0,
    },
    Round { name: "5 acres, light", fields: "", chapter: "light", slowed: 1.0 },
    Round {
        name: "rows too near, light",
        fields: r#", "row_width": 2.4, "tree_height": 3.9"#,
        chapter: "light",
        slowed: 1.0,
    },
    Round { name: "5 acres, four times slower", fields: "", chapter: "layout", slowed: 4.0 },
    Round { name: "5 acres, light, four times slower", fields: "", chapter: "light", slowed: 4.0 },
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
    let mut words = std::env::args_os().skip(1);
    let folder = words.next().map_or_else(workspace::dist, PathBuf::from);
    let wanted = words.next().map(|word| word.to_string_lossy().into_owned()).unwrap_or_default();
    let server = Server::start(&folder, Settings::default())?;
    let browser = Browser::launch(&Programs::Chromium(chromium::find_or_install()?))?;
    println!(
        "{:<52}{:>12}{:>12}{:>12}",
        "in the browser, script time of one step", "median ms", "p95 ms", "p99 ms"
    );
    let mut sums = Vec::new();
    for Round { name, fields, chapter, slowed } in
        PLANS.into_iter().filter(|plan| plan.name.contains(&wanted))
    {
        browser.viewport(1600, 1000)?;
        browser.open(&format!("{}rowlight.css", server.url()))?;
        let saved = format!(
            r#"localStorage.setItem("rowlight.v1", JSON.stringify({{ units: "us", paper: "letter", chapter: "{chapter}",
            scenario: {{ version: 1{fields} }} }}))"#
        );
        browser.js::<Value>(&saved)?;
        browser.open(&server.url())?;
        browser.until("document.querySelector('[data-whole]') !== null")?;
        // What is fetched ahead of need doesn't fall into the first slider.
        browser.js::<()>("await new Promise((done) => setTimeout(done, 3000))")?;
        browser.command("Emulation.setCPUThrottlingRate", json!({ "rate": slowed }))?;
        let mut all = Vec::new();
        for number in 0.. {
            let round: Vec<Value> = browser.js(&DRAG.replace("NUMBER", &number.to_string()))?;
            let Some((key, times)) = round.split_first() else { break };
            let times: Vec<f64> = times.iter().filter_map(Value::as_f64).collect();
            report(&format!("{name}, {}", key.as_str().unwrap_or_default()), times.clone());
            all.extend(times);
        }
        browser.command("Emulation.setCPUThrottlingRate", json!({ "rate": 1.0 }))?;
        sums.push((name, all));
    }
    println!("\nall sliders of a plan");
    for (name, all) in sums {
        report(name, all);
    }
    Ok(())
}

fn report(name: &str, mut times: Vec<f64>) {
    times.sort_by(f64::total_cmp);
    let at = |percent: usize| times.get(times.len() * percent / 100).copied().unwrap_or_default();
    println!("{name:<52}{:>12.2}{:>12.2}{:>12.2}", at(50), at(95), at(99));
}
