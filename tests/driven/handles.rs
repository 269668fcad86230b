//! Every handle of every drawing is dragged by mouse and finger and turned by keys; its number goes where the hand went.

use std::collections::BTreeSet;

use anyhow::{Context, Result, bail, ensure};
use drafting::{Frame, Handle, Units, View, draw};
use planting::uom::si::f64::Length;
use planting::uom::si::length::meter;
use planting::{Kind, Scenario, parameter};
use xtask::browser::Point;

use crate::harness::{Case, Visit, cases};
use crate::planner::{Planner, element, near};

pub(crate) const CASES: &[Case] = cases![
    every_handle_follows_the_mouse,
    every_handle_follows_a_finger,
    every_handle_follows_the_keys,
    fractions_of_a_pixel_count,
    a_drag_given_up_leaves_the_plan,
    quick_drags_are_steps_of_their_own,
    a_touched_knob_keeps_its_value,
    handles_turn_in_metric_steps,
];

/// The drawings, in the order of the page.
const PAGE: [View; 3] = [View::Section, View::Elevation, View::Plan];

/// The number a handle sets, in the way the register knows it.
struct Knob {
    view: View,
    frame: Frame,
    handle: Handle,
    min: f64,
    max: f64,
    step: f64,
}

impl Knob {
    fn new(view: View, frame: Frame, handle: Handle) -> Result<Self> {
        let kind = parameter(handle.parameter).context("a handle of no input")?.kind;
        let (min, max, us, metric) = match kind {
            Kind::Number(number) => (number.min, number.max, number.step_us, number.step_metric),
            Kind::Lengths(lengths) => (lengths.min, lengths.max, lengths.step_us, lengths.step_metric),
            Kind::Choice(_) => bail!("a handle of a choice"),
        };
        let step = if frame.units == Units::Us { us } else { metric };
        Ok(Self { view, frame, handle, min, max, step })
    }

    fn selector(&self) -> String {
        let item = self.handle.item.map(|item| format!("[data-item='{item}']")).unwrap_or_default();
        format!("[data-handle={}][data-handle-view={}]{item}", self.handle.parameter, self.view.key())
    }

    fn set(&self, now: &Scenario, value: f64) -> Scenario {
        let mut next = now.clone();
        match parameter(self.handle.parameter).map(|parameter| parameter.kind) {
            Some(Kind::Number(number)) => (number.set)(&mut next, value),
            Some(Kind::Lengths(lengths)) => {
                let mut items: Vec<f64> = (lengths.get)(now).iter().map(|item| item.value).collect();
                if let Some(item) = self.handle.item.and_then(|item| items.get_mut(item)) {
                    *item = value;
                }
                items.sort_by(f64::total_cmp);
                (lengths.set)(&mut next, items.into_iter().map(Length::new::<meter>).collect());
            }
            _ => {}
        }
        next
    }

    /// What a drag of so many pixels along the handle asks for.
    fn dragged(&self, pixels: f64) -> f64 {
        let value = self.handle.value + pixels * self.handle.per_unit;
        ((value / self.step).round() * self.step).clamp(self.min, self.max)
    }

    /// So many steps on, from where it stands to whole steps.
    fn turned(&self, from: f64, steps: f64) -> f64 {
        let place = from / self.step;
        let next = if steps > 0.0 { (place + 1e-6).floor() } else { (place - 1e-6).ceil() } + steps;
        (next * self.step).clamp(self.min, self.max)
    }
}

/// The handles the engine draws into each pane for this plan, in the order of the page.
fn knobs(planner: &Planner, scenario: &Scenario, units: Units) -> Result<Vec<Knob>> {
    let plan = planting::plan(scenario).map_err(|problems| anyhow::anyhow!("{problems:?}"))?;
    let mut knobs = Vec::new();
    for view in PAGE {
        let (width, height) = planner.browser.js(&format!(
            "const box = {}.getBoundingClientRect(); return [Math.floor(box.width), Math.floor(box.height)]",
            element(&format!("[data-view={}] .rl-pane", view.key()))
        ))?;
        let frame = Frame::screen(width, height, units);
        for handle in draw(view, &plan, frame).handles {
            knobs.push(Knob::new(view, frame, handle)?);
        }
    }
    let drawn: usize = planner.browser.js("return document.querySelectorAll('[data-handle]').length")?;
    ensure!(drawn == knobs.len(), "{drawn} handles on the page, {} in the drawings", knobs.len());
    Ok(knobs)
}

/// Every input that has a handle in one of the drawings; nothing on the page may be without this test.
fn expect_all(knobs: &[Knob]) -> Result<()> {
    let parameters: BTreeSet<&str> = knobs.iter().map(|knob| knob.handle.parameter).collect();
    ensure!(parameters.len() >= 12, "few handles: {parameters:?}");
    Ok(())
}

fn drag_all(visit: &Visit, touch: bool) -> Result<()> {
    if touch {
        visit
            .browser
            .command("Emulation.setTouchEmulationEnabled", serde_json::json!({ "enabled": true }))?;
    }
    let planner = Planner::open(visit)?;
    let now = Scenario::default();
    let knobs = knobs(&planner, &now, Units::Us)?;
    expect_all(&knobs)?;
    for knob in &knobs {
        drag_one(&planner, knob, &now, touch).with_context(|| knob.selector())?;
    }
    Ok(())
}

fn drag_one(planner: &Planner, knob: &Knob, now: &Scenario, touch: bool) -> Result<()> {
    let before = planner.read()?;
    let middle = planner.browser.middle(&element(&format!("{} .rl-grip-knob", knob.selector())))?;
    let from = Point { x: middle.x.round(), y: middle.y.round() };
    let held: bool = planner.browser.js(&format!(
        "return document.elementFromPoint({}, {})?.closest('[data-handle]') === {}",
        from.x,
        from.y,
        element(&knob.selector())
    ))?;
    ensure!(held, "something lies over the knob");
    let drawn = |scenario: &Scenario| {
        planting::plan(scenario).ok().map(|plan| draw(knob.view, &plan, knob.frame).layers)
    };
    let drawn_now = drawn(now);
    let is_new = |pixels: &f64| {
        let value = knob.dragged(*pixels);
        let next = (value > knob.min && value < knob.max).then(|| drawn(&knob.set(now, value))).flatten();
        next.is_some() && next != drawn_now
    };
    // Firefox tells the pointer's place in fractions of a pixel, a tenth off where the page stands between two: best a drag that ends
    // well within a step.
    let is_sure = |pixels: &f64| knob.dragged(pixels - 0.5).to_bits() == knob.dragged(pixels + 0.5).to_bits();
    let ways = [24.0, -24.0, 12.0, -12.0, 20.0, -20.0, 60.0, -60.0, 100.0, -100.0];
    let ways: Vec<f64> = ways.into_iter().filter(is_new).collect();
    let pixels = ways.iter().copied().find(is_sure).or(ways.first().copied());
    let pixels = pixels.context("no drag gives another drawing")?;
    let drafting::Direction { right, down } = knob.handle.grows;
    let to = from.moved(pixels * right, pixels * down);
    if touch {
        // A finger takes a knob by a tap before it can drag it.
        planner.browser.tap(from)?;
        planner.browser.touch_drag(from, to)?;
    } else {
        planner.browser.drag(from, to)?;
    }
    let value = knob.dragged(pixels);
    ensure!((value > knob.handle.value) == (pixels > 0.0), "against the hand");
    let after = planner.expect(&knob.set(now, value)).with_context(|| format!("dragged by {pixels} px"))?;
    let place = PAGE.iter().position(|view| *view == knob.view);
    let place = place.context("a drawing that is not on the page")?;
    ensure!(after.drawings.get(place) != before.drawings.get(place), "the drawing has not changed");
    planner.browser.key("Ctrl+z")?;
    let undone = planner.expect(now).context("one drag is one step to undo")?;
    ensure!(undone == before, "after undoing, the page is not what it was");
    Ok(())
}

pub(crate) fn every_handle_follows_the_mouse(visit: &Visit) -> Result<()> {
    drag_all(visit, false)
}

fn every_handle_follows_a_finger(visit: &Visit) -> Result<()> {
    drag_all(visit, true)
}

/// Screens with more than one dot to the pixel tell the pointer's place in between.
fn fractions_of_a_pixel_count(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    let now = Scenario::default();
    let mut dragged = 0;
    for knob in knobs(&planner, &now, Units::Us)? {
        let value = |pixels: f64| knob.dragged(pixels);
        let at_edge = |pixels: &f64| value(*pixels) < value(pixels + 0.7) && value(pixels + 1.1) < knob.max;
        let is_sure = |pixels: &f64| value(pixels + 0.7).to_bits() == value(pixels + 1.1).to_bits();
        let pixels = (8..40).map(f64::from).find(|pixels| at_edge(pixels) && is_sure(pixels));
        let Some(pixels) = pixels.filter(|_| knob.handle.item.is_none()) else { continue };
        let middle = planner.browser.middle(&element(&format!("{} .rl-grip-knob", knob.selector())))?;
        let from = Point { x: middle.x.round(), y: middle.y.round() };
        let drafting::Direction { right, down } = knob.handle.grows;
        // Up and to the left, places between two pixels are cut off the other way.
        let off = pixels + 0.9;
        planner.browser.drag(from, from.moved(off * right, off * down))?;
        let after = knob.set(&now, value(off));
        planner.expect(&after).with_context(|| format!("{} by {off} px", knob.selector()))?;
        planner.browser.key("Ctrl+z")?;
        dragged += usize::from(right + down > 0.0);
    }
    ensure!(dragged > 1, "no drag told fractions apart");
    Ok(())
}

fn every_handle_follows_the_keys(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    let start = Scenario::default();
    let knobs = knobs(&planner, &start, Units::Us)?;
    expect_all(&knobs)?;
    let keys = [
        ("ArrowRight", 1.0),
        ("ArrowUp", 1.0),
        ("PageUp", 10.0),
        ("ArrowLeft", -1.0),
        ("ArrowDown", -1.0),
        ("PageDown", -10.0),
    ];
    for knob in &knobs {
        let (mut value, mut now) = (knob.handle.value, start.clone());
        planner.focus(&knob.selector())?;
        for (key, steps) in keys {
            let turned = knob.turned(value, steps);
            let asked = knob.set(&now, turned);
            // Past its neighbour a wire changes places with it, and the key would turn another.
            let stays = knob.handle.item.is_none_or(|item| {
                asked.trellis.wire_heights.get(item).is_some_and(|wire| near(wire.value, turned, 1e-9))
            });
            if !stays || !asked.problems().is_empty() {
                continue;
            }
            (value, now) = (turned, asked);
            planner.browser.key(key)?;
            planner.expect(&now).with_context(|| format!("{} {key}", knob.selector()))?;
            let kept = format!("return document.activeElement === {}", element(&knob.selector()));
            ensure!(planner.browser.js::<bool>(&kept)?, "{} {key}: the focus is lost", knob.selector());
        }
        planner.browser.js::<()>(&format!("{}.click()", element("[data-action=reset]")))?;
    }
    planner.expect(&start)?;
    Ok(())
}

/// Escape while the mouse still holds the knob.
fn a_drag_given_up_leaves_the_plan(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    let before = planner.read()?;
    let knob = element("[data-handle=row_width][data-handle-view=section] .rl-grip-knob");
    let from = planner.browser.middle(&knob)?;
    let mouse = |kind: &str, right: f64, buttons: u32| {
        let event = serde_json::json!({
            "type": kind, "x": from.x + right, "y": from.y, "button": "left", "buttons": buttons, "clickCount": 1,
        });
        planner.browser.command("Input.dispatchMouseEvent", event)
    };
    mouse("mousePressed", 0.0, 1)?;
    mouse("mouseMoved", 30.0, 1)?;
    let held = planner.read()?;
    ensure!(held.figures != before.figures, "the figures do not follow while the knob is held");
    planner.browser.key("Escape")?;
    mouse("mouseMoved", 60.0, 1)?;
    mouse("mouseReleased", 60.0, 0)?;
    ensure!(planner.read()? == before, "the plan is not what it was");
    ensure!(!planner.sees("[data-action=undo]:enabled")?, "there is something to undo");
    Ok(())
}

fn quick_drags_are_steps_of_their_own(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    let knob = element("[data-handle=row_width][data-handle-view=section] .rl-grip-knob");
    let mut steps = vec![planner.read()?];
    for _ in 0..2 {
        let from = planner.browser.middle(&knob)?;
        planner.browser.drag(from, from.moved(24.0, 0.0))?;
        steps.push(planner.read()?);
    }
    ensure!(steps.is_sorted_by(|one, next| one.saved != next.saved), "a drag has changed nothing");
    let (_, earlier) = steps.split_last().context("no step")?;
    for step in earlier.iter().rev() {
        planner.browser.key("Ctrl+z")?;
        ensure!(planner.read()? == *step, "undoing one drag undoes more or less than it");
    }
    Ok(())
}

/// A value that stands on no step is not moved to one by a click on its knob.
fn a_touched_knob_keeps_its_value(visit: &Visit) -> Result<()> {
    let planner = Planner::open_with(visit, &Scenario::default(), Units::Metric)?;
    let before = planner.read()?;
    planner.click("[data-handle=row_width][data-handle-view=section] .rl-grip-knob")?;
    ensure!(planner.read()? == before, "a click has changed the plan");
    Ok(())
}

fn handles_turn_in_metric_steps(visit: &Visit) -> Result<()> {
    let now = Scenario::default();
    let planner = Planner::open_with(visit, &now, Units::Metric)?;
    for knob in knobs(&planner, &now, Units::Metric)? {
        let asked = knob.set(&now, knob.turned(knob.handle.value, 1.0));
        if !asked.problems().is_empty() {
            continue;
        }
        planner.focus(&knob.selector())?;
        planner.browser.key("ArrowUp")?;
        planner.expect(&asked).with_context(|| knob.selector())?;
        planner.browser.key("Ctrl+z")?;
    }
    Ok(())
}
