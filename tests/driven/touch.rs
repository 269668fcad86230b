//! A finger on a phone: scrolling never edits; a knob is taken by a tap; a slider follows a finger that goes sideways.

use anyhow::{Context, Result, ensure};
use planting::light::inputs::LIGHT;
use planting::{Kind, REGISTRY, Scenario};
use serde_json::json;
use xtask::browser::Point;

use crate::harness::{Case, Visit, cases};
use crate::planner::{Planner, control, element};

pub(crate) const CASES: &[Case] = cases![
    scrolling_never_edits,
    a_slider_follows_a_finger_that_goes_sideways,
    a_tap_takes_a_knob_and_a_tap_elsewhere_lets_it_go,
    the_drawing_stands_over_the_input_that_changes_it,
    a_first_visit_is_short,
    one_tap_on_a_tick_and_a_sentence_says_what_it_did,
    knobs_rest_as_dots,
];

/// The planner on a phone that is touched.
fn on_a_phone(visit: &Visit) -> Result<Planner<'_>> {
    visit.browser.viewport(390, 844)?;
    visit.browser.command("Emulation.setTouchEmulationEnabled", json!({ "enabled": true }))?;
    Planner::open(visit)
}

/// Brings a drawing to the front, where there is room for one only.
fn show(planner: &Planner, view: &str) -> Result<()> {
    planner.browser.js::<()>(&format!("{}.click()", element(&format!("[data-action=view-{view}]"))))?;
    planner
        .browser
        .until(&format!("{}?.children.length > 0", element(&format!("[data-view={view}] .layer-dimensions"))))
}

/// Scripts that find every knob and every slider.
const KNOBS: &str = "[...document.querySelectorAll('[data-handle]')].filter((knob) => knob.checkVisibility()).map((knob) => knob.querySelector('.rl-grip-knob'))";
const SLIDERS: &str =
    "[...document.querySelectorAll('[data-role=slider]')].filter((slider) => slider.checkVisibility())";

/// How often each is swiped.
const SWIPES: u32 = 8;

/// Where a finger goes from a knob in the swipe of this number: by turns up, down, left and right, further and more slanting each
/// time.
fn from_a_knob(swipe: u32) -> (f64, f64) {
    let far = 30.0 + 10.0 * f64::from(swipe);
    let slant = f64::from(swipe % 7) - 3.0;
    match swipe % 4 {
        0 => (4.0 * slant, -far),
        1 => (4.0 * slant, far),
        2 => (-far, 4.0 * slant),
        _ => (far, 4.0 * slant),
    }
}

/// Where a finger goes from a slider: up and down, to the left or to the right of straight, as a thumb scrolls. Sideways it would
/// slide.
fn from_a_slider(swipe: u32) -> (f64, f64) {
    let far = 30.0 + 10.0 * f64::from(swipe);
    let aside = far * (0.2 + 0.1 * f64::from(swipe));
    match swipe % 4 {
        0 => (aside, -far),
        1 => (aside, far),
        2 => (-aside, -far),
        _ => (-aside, far),
    }
}

fn scrolling_never_edits(visit: &Visit) -> Result<()> {
    let planner = on_a_phone(visit)?;
    let mut swiped = 0;
    let knobs = from_a_knob as fn(u32) -> (f64, f64);
    for (view, all, way) in [
        ("section", KNOBS, knobs),
        ("elevation", KNOBS, knobs),
        ("plan", KNOBS, knobs),
        ("section", SLIDERS, from_a_slider),
    ] {
        show(&planner, view)?;
        let before = planner.read()?;
        let count: usize = planner.browser.js(&format!("window.spots = {all}; return spots.length"))?;
        for spot in 0..count {
            let name: String = planner
                .browser
                .js(&format!("return (spots[{spot}].closest('[data-handle]') ?? spots[{spot}]).ariaLabel"))?;
            for swipe in 0..SWIPES {
                let from = planner.browser.middle(&format!("spots[{spot}]"))?;
                let (right, down) = way(swipe);
                planner.browser.swipe(from, from.moved(right, down))?;
            }
            let after = planner.read()?;
            ensure!(after.saved == before.saved, "{name} has changed: {:?}", after.scenario()?);
            ensure!(after == before, "something shown has changed with {name}");
            ensure!(
                planner.sees(&format!("[data-view={view}] .rl-board"))?,
                "{name} has turned to another drawing"
            );
            swiped += 1;
        }
    }
    ensure!(swiped > 40, "only {swiped} knobs and sliders");
    ensure!(!planner.sees("[data-action=undo]:enabled")?, "there is something to undo");
    Ok(())
}

/// The thumb goes as far as the finger once it has been told from a scroll, and not to where the finger came down.
fn a_slider_follows_a_finger_that_goes_sideways(visit: &Visit) -> Result<()> {
    let planner = on_a_phone(visit)?;
    let mut now = Scenario::default();
    let mut moved = 0;
    for parameter in REGISTRY {
        let Kind::Number(number) = parameter.kind else { continue };
        let slider = control(parameter.key, "slider");
        if !planner.sees(&slider)? {
            continue;
        }
        let before = (number.get)(&now);
        let middle = planner.browser.middle(&element(&slider))?;
        let way = if before - number.min < number.max - before { 60.0 } else { -60.0 };
        // From beside the thumb as well as from it: what counts is how far the finger goes.
        planner.browser.touch_drag(middle, middle.moved(way, 6.0))?;
        let after = planner.read()?;
        if after.faults.is_empty() && after.scenario()? != now {
            now = after.scenario()?;
            let value = (number.get)(&now);
            ensure!(
                (value - before) * way > 0.0,
                "{}: from {before} to {value}, against the hand",
                parameter.key
            );
            moved += 1;
        }
        planner.browser.key("Ctrl+z")?;
        now = Scenario::default();
        planner.expect(&now).with_context(|| format!("{}: one step to undo", parameter.key))?;
    }
    ensure!(moved > 15, "only {moved} sliders have moved");
    Ok(())
}

/// Waits until the page has stood still for a third of a second after a finger scrolled it.
const GLIDED: &str = "
    for (let [place, still] = [scrollY, 0]; still < 20; place = scrollY) {
      await new Promise(requestAnimationFrame);
      still = scrollY === place ? still + 1 : 0;
    }";

fn is_taken(planner: &Planner, knob: &str) -> Result<bool> {
    planner.browser.js(&format!("return {}.classList.contains('is-taken')", element(knob)))
}

fn a_tap_takes_a_knob_and_a_tap_elsewhere_lets_it_go(visit: &Visit) -> Result<()> {
    let planner = on_a_phone(visit)?;
    let start = Scenario::default();
    let [row, height] =
        ["row_width", "tree_height"].map(|key| format!("[data-handle={key}][data-handle-view=section]"));
    let place =
        |knob: &str| -> Result<Point> { planner.browser.middle(&element(&format!("{knob} .rl-grip-knob"))) };
    planner.browser.tap(place(&row)?)?;
    ensure!(is_taken(&planner, &row)?, "a tap doesn't take the knob");
    planner.expect(&start).context("a tap changes nothing")?;
    // Another knob instead.
    planner.browser.tap(place(&height)?)?;
    ensure!(
        is_taken(&planner, &height)? && !is_taken(&planner, &row)?,
        "two knobs, or the wrong one, are taken"
    );
    let from = place(&height)?;
    planner.browser.touch_drag(from, from.moved(0.0, 24.0))?;
    let lower = planner.read()?.scenario()?;
    ensure!(lower.canopy.tree_height < start.canopy.tree_height, "the knob taken doesn't follow the finger");
    ensure!(is_taken(&planner, &height)?, "a drag lets go of the knob");
    // A drag that begins elsewhere scrolls, and the knob stays taken; a tap elsewhere lets it go.
    let title = planner.browser.middle(&element(".rl-headline-value"))?;
    planner.browser.touch_drag(title, title.moved(0.0, -60.0))?;
    ensure!(is_taken(&planner, &height)?, "scrolling lets go of the knob");
    // A tap on a page that still glides only stops it.
    planner.browser.js::<()>(GLIDED)?;
    planner.browser.tap(planner.browser.middle(&element(".rl-told"))?)?;
    // The browser makes a click of a tap a moment after the finger is lifted.
    let let_go = format!("!{}.classList.contains('is-taken')", element(&height));
    planner.browser.until(&let_go).context("a tap elsewhere doesn't let go")?;
    let from = place(&height)?;
    planner.browser.touch_drag(from, from.moved(0.0, 24.0))?;
    ensure!(planner.read()?.scenario()? == lower, "a knob that was let go follows the finger");
    Ok(())
}

/// The drawing of an input, whether all of it is in the window and clear of the input, and the box of the input.
const OVER: &str = "
    await frame(); await frame();
    const drawing = [...document.querySelectorAll('.rl-drawing')].find((one) => one.checkVisibility() && one.dataset.view === VIEW);
    if (!drawing) return ['another drawing is in front', false];
    const [box, own] = [drawing.querySelector('.rl-pane'), INPUT].map((part) => part.getBoundingClientRect());
    const whole = box.top >= -1 && box.bottom <= innerHeight + 1 && box.left >= -1 && box.right <= innerWidth + 1;
    const clear = own.top >= box.bottom - 1 || own.left >= box.right - 1;
    const top = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
    const free = drawing.contains(top);
    const lit = Boolean(drawing.querySelector('.ink-lit-arrow, .ink-text.lit'));
    return [[whole || 'not whole', clear || 'over the input', free || 'covered'].filter((word) => word !== true).join(', '), lit];";

/// Inputs that no drawing has a dimension of, beside those of light: the crown's shape and growth, diameters, directions.
const WITHOUT_DIMENSION: [&str; 8] = [
    "vigour",
    "crown_taper",
    "lean",
    "graft_union_height",
    "settling",
    "line_post_diameter",
    "end_post_diameter",
    "row_azimuth",
];

fn the_drawing_stands_over_the_input_that_changes_it(visit: &Visit) -> Result<()> {
    let mut faults = Vec::new();
    for (width, height) in [(390, 844), (360, 740), (844, 390)] {
        let planner = on_a_phone(visit)?;
        visit.browser.viewport(width, height)?;
        planner.read()?;
        let mut tried = 0;
        for parameter in REGISTRY {
            let Kind::Number(_) = parameter.kind else { continue };
            let slider = control(parameter.key, "slider");
            if parameter.key == "year" || !planner.sees(&slider)? {
                continue;
            }
            let rail = format!("{}.closest('.rl-rail')", element(&slider));
            let from = planner.browser.middle(&rail)?;
            let touch = |kind: &str, right: f64| {
                let points = json!([{ "x": from.x + right, "y": from.y }]);
                let points = if kind == "touchEnd" { json!([]) } else { points };
                visit
                    .browser
                    .command("Input.dispatchTouchEvent", json!({ "type": kind, "touchPoints": points }))
            };
            touch("touchStart", 0.0)?;
            // There and back, so that the value has moved whatever its step, and within its range.
            for right in [10.0, 30.0, -30.0, 14.0] {
                touch("touchMove", right)?;
            }
            let over = OVER.replace("VIEW", &format!("'{}'", parameter.view)).replace("INPUT", &rail);
            let (fault, lit): (String, bool) = planner.browser.js(&format!(
                "const frame = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done))); {over}"
            ))?;
            touch("touchEnd", 0.0)?;
            let place = format!("{width} × {height}: {}", parameter.key);
            if !fault.is_empty() {
                faults.push(format!("{place}: {fault}"));
            }
            let has_dimension = parameter.group != LIGHT && !WITHOUT_DIMENSION.contains(&parameter.key);
            if !lit && has_dimension {
                faults.push(format!("{place}: no dimension is lit"));
            }
            let still: usize = planner.browser.js(
                "await new Promise(requestAnimationFrame); await new Promise((done) => setTimeout(done));
                 return document.querySelectorAll('.ink-lit').length",
            )?;
            if still > 0 {
                faults.push(format!("{place}: lit when the hand has let go"));
            }
            planner.browser.js::<()>(&format!("{}.click()", element("[data-action=reset]")))?;
            tried += 1;
        }
        ensure!(tried > 18, "only {tried} inputs were touched");
    }
    ensure!(faults.is_empty(), "{}", faults.join("\n"));
    Ok(())
}

/// The chapter as it opens: two and a half screens at most, and a head of one row.
fn a_first_visit_is_short(visit: &Visit) -> Result<()> {
    for (width, height, chapter) in [(360, 740, "layout"), (320, 700, "layout"), (390, 844, "light")] {
        visit.browser.viewport(width, height)?;
        visit.browser.command("Emulation.setTouchEmulationEnabled", json!({ "enabled": true }))?;
        visit.open("")?;
        visit.browser.until(crate::loading::STARTED)?;
        visit
            .browser
            .js::<()>(&format!("{}.click()", element(&format!("[data-action=chapter-{chapter}]"))))?;
        visit.browser.until("document.querySelector('.rl-findings, .rl-all-well')")?;
        let (long, head, scroll): (f64, f64, f64) = visit.browser.js(
            "return [document.scrollingElement.scrollHeight, document.querySelector('.rl-head').offsetHeight, document.querySelector('.rl-controls').getBoundingClientRect().bottom + scrollY]",
        )?;
        visit.browser.screenshot(&format!("first-visit-{width}-{chapter}"))?;
        ensure!(head <= 52.0, "{width}: the head is {head} px high");
        if chapter == "layout" && width == 360 {
            ensure!(long <= 2.5 * f64::from(height), "{width}: {long} px, inputs to {scroll} px");
        }
    }
    Ok(())
}

/// “4 ft instead of 3 ft: what changes?”
fn one_tap_on_a_tick_and_a_sentence_says_what_it_did(visit: &Visit) -> Result<()> {
    let planner = on_a_phone(visit)?;
    let told =
        || -> Result<String> { planner.browser.js("return document.querySelector('.rl-told').textContent") };
    let tick = |number: &str| {
        format!(
            "[...{}.closest('.rl-rail').querySelectorAll('.rl-tick')].find((tick) => tick.textContent === '{number}')",
            element(&control("in_row_spacing", "slider"))
        )
    };
    planner.browser.until("document.querySelector('.rl-told').textContent.startsWith('Year')")?;
    let rest = told()?;
    ensure!(rest == "Year 6: the row has closed; move a spacing and see what it does.", "{rest}");
    let [three, four] = [tick("3"), tick("4")];
    let apart = planner.browser.middle(&four)?.x - planner.browser.middle(&three)?.x;
    ensure!(apart >= 50.0, "from 3 to 4 ft the thumb goes {apart} px");
    planner.browser.tap(planner.browser.middle(&four)?)?;
    planner.expect(&Scenario::default().with(|s| s.block.in_row_spacing = planting::feet(4.0)))?;
    let said = told()?;
    ensure!(
        said.starts_with("302 fewer trees per acre; the row closes ") && said.ends_with(" years later."),
        "{said}"
    );
    ensure!(planner.sees("[data-view=elevation] .rl-board")?, "the row isn't in front");
    let traced =
        || -> Result<usize> { planner.browser.js("return document.querySelectorAll('.ink-trace').length") };
    ensure!(traced()? > 0, "the plan as it was isn't traced");
    std::thread::sleep(std::time::Duration::from_millis(4600));
    ensure!(traced()? == 0, "the trace stays");
    ensure!(told()? == said, "the sentence goes with the trace");
    planner.browser.key("Ctrl+z")?;
    planner.expect(&Scenario::default())?;
    ensure!(told()?.starts_with("302 more trees per acre"), "{}", told()?);
    ensure!(traced()? == 0, "what is undone is traced");
    Ok(())
}

/// A dot at rest; a ring under a pointer and with the focus.
fn knobs_rest_as_dots(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    let knob = "[data-handle=row_width][data-handle-view=section]";
    let radius = || -> Result<f64> {
        planner.browser.js(&format!(
            "return parseFloat(getComputedStyle({}).r)",
            element(&format!("{knob} .rl-grip-knob"))
        ))
    };
    let arrows = || -> Result<String> {
        planner.browser.js(&format!(
            "return getComputedStyle({}).visibility",
            element(&format!("{knob} .rl-grip-arrows"))
        ))
    };
    let at = planner.browser.middle(&element(&format!("{knob} .rl-grip-knob")))?;
    planner.browser.hover(at.moved(0.0, -120.0))?;
    ensure!(radius()? <= 4.5 && arrows()? == "hidden", "at rest {} px", radius()?);
    planner.browser.hover(at)?;
    ensure!(radius()? > 6.0 && arrows()? == "visible", "under the pointer {} px", radius()?);
    planner.browser.hover(at.moved(0.0, -120.0))?;
    planner.focus(knob)?;
    planner.browser.key("ArrowUp")?;
    planner.browser.key("ArrowDown")?;
    ensure!(radius()? > 6.0, "with the focus {} px", radius()?);
    Ok(())
}
