//! The core of it in Firefox: cases of the other files that ask nothing only Chromium can do, and what is told of Firefox alone.

use anyhow::{Context, Result, ensure};
use planting::Scenario;

use crate::controls::every_slider_follows_the_keys;
use crate::embed::{
    a_hand_tells_the_page_and_the_page_itself_does_not, an_element_that_moves_keeps_its_plan,
    attributes_and_properties_say_the_same, come_and_go, expect_plan, numbers_without_a_planner, open_with,
    two_planners_with_their_own_plans, until_started,
};
use crate::handles::every_handle_follows_the_mouse;
use crate::harness::{Case, Visit, cases, imported};
use crate::hosted::two_planners_on_an_ordinary_host;
use crate::light::{
    dragging_the_spacing_moves_map_figures_and_advice, the_chapter_shows_what_the_engine_says,
};
use crate::loading::loads_under_the_strict_policy;
use crate::measuring::the_console_is_heard;
use crate::offline::it_works_without_a_network;
use crate::planner::Planner;
use crate::reach::the_keyboard_alone_makes_a_plan;
use crate::rooms::{every_room_alone_and_twice, every_room_in_every_order};
use crate::sharing::{a_link_comes_back_as_the_plan, the_menu_works_by_keyboard};

pub(crate) const CASES: &[Case] = cases![
    the_console_is_heard,
    loads_under_the_strict_policy,
    the_starting_plan_is_the_engines,
    it_runs_the_module_with_simd,
    the_keyboard_alone_makes_a_plan,
    every_room_alone_and_twice,
    every_room_in_every_order,
    every_slider_follows_the_keys,
    every_handle_follows_the_mouse,
    the_chapter_shows_what_the_engine_says,
    dragging_the_spacing_moves_map_figures_and_advice,
    two_planners_with_their_own_plans,
    attributes_and_properties_say_the_same,
    a_hand_tells_the_page_and_the_page_itself_does_not,
    an_element_that_moves_keeps_its_plan,
    numbers_without_a_planner,
    coming_and_going_takes_no_memory,
    a_link_comes_back_as_the_plan,
    the_menu_works_by_keyboard,
    it_works_without_a_network,
    two_planners_on_an_ordinary_host,
];

fn the_starting_plan_is_the_engines(visit: &Visit) -> Result<()> {
    Planner::open(visit)?.expect(&Scenario::default())?;
    Ok(())
}

fn it_runs_the_module_with_simd(visit: &Visit) -> Result<()> {
    Planner::open(visit)?;
    visit.browser.until(&format!("await (await {}).room('light')", imported("./rowlight.js")))?;
    let mut loaded: Vec<String> = visit.browser.js(
        "return performance.getEntriesByType('resource').map((one) => one.name.split('/').pop()).filter((name) => name.endsWith('.wasm'))",
    )?;
    loaded.sort_unstable();
    let is_loaded = |name: &str| loaded.iter().any(|other| other == name);
    ensure!(is_loaded("rowlight-light_bg.wasm") && is_loaded("rowlight_bg.wasm"), "{loaded:?}");
    ensure!(!loaded.iter().any(|name| name.starts_with("rowlight-plain")), "{loaded:?}");
    Ok(())
}

fn coming_and_going_takes_no_memory(visit: &Visit) -> Result<()> {
    let _server = open_with(visit, "<rowlight-plan id=planner></rowlight-plan><section id=place></section>")?;
    until_started(visit, "planner")?;
    visit.browser.js::<()>(&format!("window.module = await {}", imported("./planner/rowlight.js")))?;
    let memory = || -> Result<f64> {
        visit.browser.js("return (await window.module.default()).memory.buffer.byteLength")
    };
    come_and_go(visit, 10)?;
    let before = memory()?;
    come_and_go(visit, 50)?;
    let after = memory()?;
    ensure!(after - before <= 65_536.0, "the module's memory grew from {before} to {after} bytes");
    let left: usize = visit.browser.js("return place.childElementCount")?;
    ensure!(left == 0, "{left} are left");
    expect_plan(
        &visit.browser.js("return await planner.getPlan()").context("the other one")?,
        &Scenario::default(),
    )
}
