//! `cargo xtask test`: all that the continuous integration checks, stage by stage.
//!
//! A failing stage doesn't keep the next from running, so that one run shows all there is to mend. Only the browser tests need
//! what came before them: a built site.

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::str::FromStr;
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use anyhow::{Context, Result, anyhow, bail};

use crate::site::{self, Finish, weight};
use crate::{chromium, firefox, nginx, workspace};

/// A part of the whole, for a developer in a hurry.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Only {
    /// Formatting, lints, layering and all tests that need no browser.
    Native,
    /// The build of the site, and the tests of it in a browser.
    Browser,
}

impl FromStr for Only {
    type Err = anyhow::Error;

    fn from_str(word: &str) -> Result<Self> {
        match word {
            "native" => Ok(Self::Native),
            "browser" => Ok(Self::Browser),
            other => bail!("there is no part `{other}`: native or browser"),
        }
    }
}

/// How many tests of a stage passed and failed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Count {
    passed: u64,
    failed: u64,
}

impl std::ops::Add for Count {
    type Output = Count;

    fn add(self, other: Count) -> Count {
        Count { passed: self.passed + other.passed, failed: self.failed + other.failed }
    }
}

struct Stage {
    name: &'static str,
    part: Only,
    work: fn() -> Result<Count>,
}

const STAGES: &[Stage] = &[
    Stage { name: "formatting", part: Only::Native, work: formatting },
    Stage { name: "lints", part: Only::Native, work: lints },
    Stage { name: "lints of the widget for the browser", part: Only::Native, work: widget_lints },
    Stage { name: "house rules", part: Only::Native, work: house_rules },
    Stage { name: "native tests", part: Only::Native, work: native_tests },
    Stage { name: "site and its browser tests", part: Only::Browser, work: browser_tests },
];

/// Runs the stages of a part, or all.
///
/// # Errors
/// When a stage failed.
pub fn run(only: Option<Only>) -> Result<()> {
    let begin = Instant::now();
    let (mut total, mut failed, mut times) = (Count::default(), Vec::new(), Vec::new());
    for stage in STAGES.iter().filter(|stage| only.is_none_or(|part| part == stage.part)) {
        println!("\n== {} ==", stage.name);
        let begin = Instant::now();
        match (stage.work)() {
            Ok(count) => {
                total.passed += count.passed;
                total.failed += count.failed;
                if count.failed > 0 {
                    failed.push(stage.name);
                }
            }
            Err(reason) => {
                println!("{reason:#}");
                failed.push(stage.name);
            }
        }
        println!("-- {}: {}", stage.name, seconds(begin.elapsed()));
        times.push((stage.name, begin.elapsed()));
    }
    println!("\n== where the time went ==");
    for (name, time) in times {
        println!("{name:<44}{:>10}", seconds(time));
    }
    for (name, time) in lock(&PARTS).iter() {
        println!("  {name:<42}{:>10}", seconds(*time));
    }
    let Count { passed, failed: failures } = total;
    println!("\n{passed} passed, {failures} failed in {}", seconds(begin.elapsed()));
    if !failed.is_empty() {
        bail!("to mend: {}", failed.join(", "));
    }
    Ok(())
}

fn seconds(time: Duration) -> String {
    format!("{:.1} s", time.as_secs_f64())
}

/// The parts of the stage in the browser, and what each took.
static PARTS: Mutex<Vec<(&str, Duration)>> = Mutex::new(Vec::new());

fn lock<T>(held: &Mutex<T>) -> MutexGuard<'_, T> {
    held.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Does a part of a stage and notes what it took.
fn part<T>(name: &'static str, work: impl FnOnce() -> T) -> T {
    let begin = Instant::now();
    let done = work();
    lock(&PARTS).push((name, begin.elapsed()));
    done
}

/// Every file of Rust, one by one: what a macro opens as a module, cargo's own command doesn't see.
fn formatting() -> Result<Count> {
    let mut files = Vec::new();
    for folder in ["src", "tests"] {
        sources(&workspace::root().join(folder), &mut files)?;
    }
    let rustfmt = std::env::var_os("RUSTFMT").unwrap_or_else(|| "rustfmt".into());
    let mut command = Command::new(rustfmt);
    command.current_dir(workspace::root()).args(["--check", "--edition", "2024"]).args(files);
    workspace::run(&mut command).context("`cargo fmt --all`, or rustfmt for a room's own file, mends it")?;
    Ok(Count::default())
}

fn sources(folder: &Path, found: &mut Vec<PathBuf>) -> Result<()> {
    for entry in std::fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() {
            if !path.ends_with("target") {
                sources(&path, found)?;
            }
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
    Ok(())
}

fn lints() -> Result<Count> {
    clippy(&["--workspace", "--all-targets"])
}

fn widget_lints() -> Result<Count> {
    site::wasm::ensure_target()?;
    clippy(&["--package", "widget", "--lib", "--target", site::wasm::TARGET])
}

fn clippy(what: &[&str]) -> Result<Count> {
    workspace::run(workspace::cargo().arg("clippy").args(what).args(["--", "--deny", "warnings"]))?;
    Ok(Count::default())
}

fn house_rules() -> Result<Count> {
    tests(workspace::cargo().args(["test", "--package", "rowlight-tests", "--test", "house"]))
}

/// Unit tests, the checks against published values, and the examples in the documentation.
fn native_tests() -> Result<Count> {
    tests(workspace::cargo().args(["test", "--workspace", "--no-fail-fast", "--lib", "--test", "published"]))
        .and_then(|native| Ok(native + tests(workspace::cargo().args(["test", "--doc", "--workspace"]))?))
}

/// Chromium's cases and Firefox's run side by side: each browser waits for its pages most of the time.
fn browser_tests() -> Result<Count> {
    let programs = part("browsers and a web server", || -> Result<_> {
        Ok((chromium::find_or_install()?, firefox::find_or_install()?, nginx::find_or_install()?))
    });
    let (chromium, firefox, nginx) = programs?;
    let files = part("building the site", || site::build(Finish::Small))?;
    let table = part("weighing it", || weight::table(&files))?;
    print!("{table}");
    let command = |words: &[&str]| {
        let mut command = workspace::cargo();
        command.args(["test", "--package", "rowlight-tests", "--features", "driven"]);
        command.args(words);
        command.env("CHROME", &chromium.browser).env("CHROMEDRIVER", &chromium.driver);
        command.env("FIREFOX", &firefox.browser).env("GECKODRIVER", &firefox.driver).env("NGINX", &nginx);
        command.env(crate::BUILT_SITE, workspace::dist());
        command
    };
    part("compiling the tests", || {
        workspace::run(&mut command(&["--test", "browser", "--test", "driven", "--no-run"]))
    })?;
    let (in_chromium, in_firefox) = std::thread::scope(|scope| {
        let firefox = scope.spawn(|| {
            part("cases in Firefox, beside those in Chromium", || {
                tests(&mut command(&["--test", "driven", "--", "firefox::"]))
            })
        });
        let chromium = part("cases in Chromium", || {
            tests(&mut command(&[
                "--no-fail-fast",
                "--test",
                "browser",
                "--test",
                "driven",
                "--",
                "--skip",
                "firefox::",
            ]))
        });
        (chromium, firefox.join())
    });
    let in_firefox = in_firefox.map_err(|_| anyhow!("the cases in Firefox ended with a panic"))?;
    let mut count = in_chromium? + in_firefox?;
    let target = workspace::target()?;
    if !site::wasm::has_optimiser(&target) {
        println!(
            "The download isn't held to its budget: there is no wasm-opt to make the module that is published."
        );
        return Ok(count);
    }
    let module = std::fs::read(site::wasm::unbound(&target))?;
    if let Some(words) = weight::over_budget(&files, &module)? {
        print!("{words}");
        count.failed += 1;
    }
    Ok(count)
}

/// Runs a `cargo test`, shows what it prints, and adds up its lines of results. Tests that failed are counted, not an error.
fn tests(command: &mut Command) -> Result<Count> {
    let mut child = command.stdout(Stdio::piped()).spawn().context("cargo did not start")?;
    let mut count = Count::default();
    for line in BufReader::new(child.stdout.take().context("cargo prints nothing")?).lines() {
        let line = line?;
        println!("{line}");
        if let Some(result) = results(&line) {
            count.passed += result.passed;
            count.failed += result.failed;
        }
    }
    if !child.wait()?.success() && count.failed == 0 {
        bail!("`cargo test` ended before all tests had run");
    }
    Ok(count)
}

/// Reads `test result: ok. 12 passed; 0 failed; …`.
fn results(line: &str) -> Option<Count> {
    let (_, numbers) = line.strip_prefix("test result: ")?.split_once(". ")?;
    let number =
        |ending: &str| numbers.split("; ").find_map(|part| part.strip_suffix(ending)?.trim().parse().ok());
    Some(Count { passed: number(" passed")?, failed: number(" failed")? })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_of_results_are_read() {
        let cases = [
            (
                "test result: ok. 12 passed; 0 failed; 0 ignored; 0 measured; 3 filtered out; finished in 0.01s",
                Some((12, 0)),
            ),
            (
                "test result: FAILED. 1 passed; 2 failed; 0 ignored; 0 measured; 0 filtered out; finished in 0.01s",
                Some((1, 2)),
            ),
            ("test canopy::rows ... ok", None),
            ("test result: ok.", None),
        ];
        for (line, expected) in cases {
            let expected = expected.map(|(passed, failed)| Count { passed, failed });
            assert_eq!(results(line), expected, "{line}");
        }
    }
}
