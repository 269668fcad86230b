//! `cargo xtask bench`: how long a plan and its drawings take on this machine, natively and in a browser.
//!
//! Medians and 95th percentiles of many runs; nothing is asserted, because machines differ.

use std::hint::black_box;
use std::time::Instant;

use anyhow::{Result, bail};
use drafting::svg::{PaperUnit, document};
use drafting::{Frame, Units, View, draw};
use planting::{Scenario, feet, plan};

const RUNS: usize = 300;

/// Times the default five-acre block and a block of 100 acres, first natively, then as a person drags
/// the sliders of the built page.
///
/// # Errors
/// When the site can't be built or there is no browser.
pub fn run() -> Result<()> {
    let large = Scenario { block_length: feet(2087.0), block_width: feet(2087.0), ..Scenario::default() };
    println!("{:<44}{:>12}{:>12}", "native, one thread", "median ms", "p95 ms");
    for (name, scenario) in [("5 acres", Scenario::default()), ("100 acres", large)] {
        time(&format!("plan, {name}"), || {
            black_box(plan(black_box(&scenario)).is_ok());
        });
        let Ok(done) = plan(&scenario) else { continue };
        for view in View::ALL {
            time(&format!("{}, {name}", view.title().to_lowercase()), || {
                let sheet = draw(view, black_box(&done), Frame::screen(900.0, 560.0, Units::Us));
                black_box(document(&sheet, PaperUnit::Fluid).len());
            });
        }
    }
    crate::site::run()?;
    // Compiled apart: the WebDriver client would double the first compile of every other command.
    let words = ["run", "--quiet", "--package", "xtask", "--features", "browser", "--bin", "pace"];
    if !crate::workspace::cargo().args(words).status()?.success() {
        bail!("the bench in the browser failed");
    }
    Ok(())
}

fn time(name: &str, work: impl Fn()) {
    let mut times: Vec<f64> = (0..RUNS)
        .map(|_| {
            let begin = Instant::now();
            work();
            begin.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    let at = |share: usize| times.get(RUNS * share / 100).copied().unwrap_or_default();
    println!("{name:<44}{:>12.3}{:>12.3}", at(50), at(95));
}
