//! The year and its play button.

use anyhow::{Context, Result, ensure};
use drafting::Units;
use planting::{LAST_YEAR, Scenario};
use xtask::browser::Media;

use crate::harness::{Case, Visit, cases};
use crate::planner::{Planner, control, element};

pub(crate) const CASES: &[Case] =
    cases![the_years_play_to_their_end, play_can_be_stopped, with_less_motion_the_years_step];

/// Notes the year in the title of the cross-section, and its picture, whenever it is drawn again.
const WATCH: &str = "
    window.years = [];
    window.pictures = new Set();
    const board = document.querySelector('[data-view=section] .rl-board');
    new MutationObserver(() => {
      years.push(Number(board.textContent.match(/year ([\\d.]+)/)[1]));
      pictures.add(board.innerHTML);
    }).observe(board, { childList: true, subtree: true, characterData: true });";

fn is_playing() -> String {
    format!("{}.ariaPressed === 'true'", element("[data-action=play]"))
}

fn at(year: f64) -> Scenario {
    Scenario::default().with(|s| s.canopy.year = year)
}

fn the_years_play_to_their_end(visit: &Visit) -> Result<()> {
    let planner = Planner::open_with(visit, &at(LAST_YEAR - 3.0), Units::Us)?;
    let before = planner.read()?;
    planner.browser.js::<()>(WATCH)?;
    planner.click("[data-action=play]")?;
    ensure!(planner.browser.js::<bool>(&format!("return {}", is_playing()))?, "it does not play");
    planner.browser.until(&format!("!({})", is_playing()))?;
    let after = planner.expect(&at(LAST_YEAR)).context("at the end")?;
    ensure!(after.drawings != before.drawings, "the drawings have not changed");
    let years: Vec<f64> = planner.browser.js("return years")?;
    ensure!(years.is_sorted(), "the years go back: {years:?}");
    for year in [23.0, 24.0, 25.0] {
        ensure!(years.contains(&year), "year {year} was not shown: {years:?}");
    }
    ensure!(years.iter().any(|year| year.fract() > 0.05), "nothing moves between the years: {years:?}");
    planner.browser.key("Ctrl+z")?;
    planner.expect(&at(LAST_YEAR - 3.0)).context("one play is one step to undo")?;
    // Played from the end, it begins again.
    planner.browser.key("Ctrl+y")?;
    planner.click("[data-action=play]")?;
    planner.browser.until("Number(document.querySelector('[data-key=year][data-role=field]').value) < 3")?;
    planner.click("[data-action=play]")?;
    Ok(())
}

fn play_can_be_stopped(visit: &Visit) -> Result<()> {
    // By the button, by its key, by a hand on the slider, by a key on the slider.
    for way in ["click", "Space", "drag", "ArrowLeft"] {
        let planner = Planner::open_with(visit, &at(4.0), Units::Us)?;
        planner.click("[data-action=play]")?;
        planner
            .browser
            .until("Number(document.querySelector('[data-key=year][data-role=field]').value) >= 5")?;
        match way {
            "click" => planner.click("[data-action=play]")?,
            "Space" => planner.browser.key("Space")?,
            "drag" => planner.click(&control("year", "slider"))?,
            key => {
                planner.focus(&control("year", "slider"))?;
                planner.browser.key(key)?;
            }
        }
        ensure!(!planner.browser.js::<bool>(&format!("return {}", is_playing()))?, "{way}: it plays on");
        let stopped = planner.read()?;
        let year = stopped.scenario()?.canopy.year;
        stopped.expect(&at(year)).context(way)?;
        // Were a frame still waiting, it would come now.
        ensure!(planner.read()? == stopped, "{way}: it goes on after the stop");
        ensure!(planner.read()? == stopped, "{way}: it goes on after the stop");
    }
    Ok(())
}

/// Whole years, nothing in between, and no scrolling that glides.
fn with_less_motion_the_years_step(visit: &Visit) -> Result<()> {
    visit.browser.media(Media { reduced_motion: true, ..Media::default() })?;
    let planner = Planner::open_with(visit, &at(3.0), Units::Us)?;
    planner.browser.js::<()>(WATCH)?;
    planner.click("[data-action=play]")?;
    planner.browser.until("years.at(-1) >= 5")?;
    planner.click("[data-action=play]")?;
    let (years, pictures): (Vec<f64>, usize) = planner.browser.js("return [years, pictures.size]")?;
    ensure!(years.iter().all(|year| year.fract().abs() < 1e-9), "between the years: {years:?}");
    ensure!(pictures <= 4, "{pictures} pictures of three years");
    let moving: Vec<String> = planner.browser.js(
        "return [...document.querySelectorAll('*')].filter((element) => {
           const style = getComputedStyle(element);
           const long = (times) => times.split(',').some((time) => parseFloat(time) > 0.01);
           return long(style.transitionDuration) || (style.animationName !== 'none' && long(style.animationDuration));
         }).map((element) => `${element.tagName}.${element.getAttribute('class')}`)",
    )?;
    ensure!(moving.is_empty(), "what moves: {moving:?}");
    Ok(())
}
