//! `cargo xtask bench`: how long a plan and its drawings take on this machine, natively and in a browser.
//!
//! Medians and 95th percentiles of many runs; nothing is asserted, because machines differ. Compare times only
//! within one run: the last column is the time against that of the default plan.

use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::time::Instant;

use anyhow::{Context, Result, bail};
use drafting::svg::{PaperUnit, document};
use drafting::{Frame, Units, View, draw};
use planting::light::{self, Directions, RowPoint, Sampling, at, season};
use planting::{Canopy, Choice, Ground, Memory, Scenario, TrainingSystem, degrees, feet, plan, plan_with};

const RUNS: usize = 300;

/// Times the default five-acre block and a block of 100 acres, first natively with the light apart, then
/// as a person drags the sliders of the built page. With a site that is built already, only the latter: two versions can so be timed
/// in one sitting; of plans, only those whose names hold the word given.
///
/// # Errors
/// When the site can't be built or there is no browser.
pub fn run(built: Option<PathBuf>, plans: Option<&str>) -> Result<()> {
    if let Some(folder) = built {
        return in_browser(&folder, plans);
    }
    let large = Scenario::default().with(|s| {
        s.block.block_length = feet(2087.0);
        s.block.block_width = feet(2087.0);
    });
    println!("{:<44}{:>12}{:>12}{:>12}", "native, one thread", "median ms", "p95 ms", "of a plan");
    let whole = median(|| {
        black_box(plan(black_box(&Scenario::default())).is_ok());
    });
    let time = |name: &str, work: &dyn Fn()| time(name, whole, work);
    for (name, scenario) in [("5 acres", Scenario::default()), ("100 acres", large)] {
        time(&format!("plan, {name}"), &|| {
            black_box(plan(black_box(&scenario)).is_ok());
        });
        let Ok(done) = plan(&scenario) else { continue };
        for view in View::ALL {
            time(&format!("{}, {name}", view.title().to_lowercase()), &|| {
                let sheet = draw(view, black_box(&done), Frame::screen(900.0, 560.0, Units::Us));
                black_box(document(&sheet, PaperUnit::Fluid).len());
            });
        }
    }
    light(&time);
    crate::site::run()?;
    in_browser(&crate::workspace::dist(), plans)
}

/// Drags the sliders of a built site.
fn in_browser(folder: &Path, plans: Option<&str>) -> Result<()> {
    // Compiled apart: the WebDriver client would double the first compile of every other command.
    let features = "browser,publish";
    let words = ["run", "--quiet", "--package", "xtask", "--features", features, "--bin", "pace", "--"];
    let folder = folder.canonicalize().with_context(|| format!("{} is missing", folder.display()))?;
    if !crate::workspace::cargo().args(words).arg(folder).args(plans).status()?.success() {
        bail!("the bench in the browser failed");
    }
    Ok(())
}

/// The light of a season, part by part, for a row that can be mirrored and for rows that can't.
fn light(time: &dyn Fn(&str, &dyn Fn())) {
    let systems = [TrainingSystem::TallSpindle, TrainingSystem::VTrellis, TrainingSystem::CentralLeader];
    for (system, row_azimuth) in systems.into_iter().flat_map(|system| [(system, 0.0), (system, 30.0)]) {
        let scenario = Scenario::for_system(system).with(|s| s.block.row_azimuth = degrees(row_azimuth));
        let canopy = Canopy::grow(&planting::ground::canopy_asked(&scenario));
        let inputs = light::asks::scene(&scenario, &canopy.shown.crown);
        let directions = Directions::of(&inputs.site, Sampling::SHOWN.fineness);
        time(&format!("light of a season, {}, rows at {row_azimuth}°", system.label()), &|| {
            black_box(season(black_box(&inputs), &directions, &Sampling::SHOWN));
        });
    }
    let scenario = Scenario::default();
    let canopy = Canopy::grow(&planting::ground::canopy_asked(&scenario));
    let inputs = light::asks::scene(&scenario, &canopy.shown.crown);
    time("directions of a season", &|| {
        black_box(Directions::of(black_box(&inputs.site), Sampling::SHOWN.fineness));
    });
    let Ok(ground) = Ground::lay(&scenario, &mut planting::ground::Memory::default()) else { return };
    let asked = light::asks::asked(&ground);
    time("light of 26 years, coarse", &|| {
        black_box(light::Memory::default().by_year(black_box(&asked)).len());
    });
    let mut memory = Memory::default();
    let _kept = plan_with(&scenario, &mut memory);
    time("plan whose light is remembered", &|| {
        black_box(plan_with(black_box(&scenario), &mut memory.clone()).is_ok());
    });
    let directions = Directions::of(&inputs.site, Sampling::SHOWN.fineness);
    let places: Vec<RowPoint> =
        (0..2000).map(|at| [0.0, 0.0, f64::from(at) / 2000.0 * inputs.array.crown.top]).collect();
    time("2,000 places, any", &|| {
        black_box(at(black_box(&places), &inputs.array, inputs.extinction(), &directions));
    });
}

fn times(work: impl Fn()) -> Vec<f64> {
    let mut times: Vec<f64> = (0..RUNS)
        .map(|_| {
            let begin = Instant::now();
            work();
            begin.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times
}

fn median(work: impl Fn()) -> f64 {
    times(work).get(RUNS / 2).copied().unwrap_or_default()
}

fn time(name: &str, whole: f64, work: impl Fn()) {
    let times = times(work);
    let at = |share: usize| times.get(RUNS * share / 100).copied().unwrap_or_default();
    println!("{name:<44}{:>12.3}{:>12.3}{:>12.2}", at(50), at(95), at(50) / whole);
}
