//! Every control made from the register is moved, and after every move each figure is what the engine gives.

use std::collections::BTreeSet;

use anyhow::{Context, Result, ensure};
use drafting::{Units, measure};
use planting::manifest::CHAPTERS;
use planting::uom::si::f64::Length;
use planting::uom::si::length::meter;
use planting::{
    Choice, EndAssembly, Kind, Number, Parameter, REGISTRY, Scenario, TrainingSystem, feet, parameter,
};
use xtask::browser::Point;

use crate::harness::{Case, Visit, cases};
use crate::planner::{Planner, control, element, near};

pub(crate) const CASES: &[Case] = cases![
    every_number_is_typed,
    every_slider_follows_the_keys,
    every_slider_is_dragged,
    every_choice_is_made,
    wires_are_added_moved_and_removed,
    a_pause_within_a_number_moves_nothing_else,
];

/// Plans in which, between them, every input has a part.
fn starts() -> [Scenario; 2] {
    let start = Scenario::default();
    [start.clone(), start.with(|s| s.trellis.end_assembly = EndAssembly::HBrace)]
}

/// The inputs of the register that are of one kind.
fn keys(is_meant: fn(&Kind) -> bool) -> BTreeSet<&'static str> {
    REGISTRY.iter().filter(|parameter| is_meant(&parameter.kind)).map(|parameter| parameter.key).collect()
}

/// The chapter turned to while a number is set: in US units the chapter of the ground; in metric units the number's own, or for
/// a number of the ground one chapter after the other. Between them, the two hold every figure to the engine.
fn chapter_for(parameter: &Parameter, place: usize, units: Units) -> &'static str {
    let [ground, rooms @ ..] = CHAPTERS else { unreachable!("there is the chapter of the ground") };
    if units == Units::Us || rooms.is_empty() {
        return ground.key;
    }
    rooms.iter().find(|room| room.owns(parameter.code)).unwrap_or(&rooms[place % rooms.len()]).key
}

/// Runs `turn` on every number that has a part in one of the starting plans; it is given the plan so far, changes the page and
/// says what it asked for.
fn with_every_number(
    visit: &Visit,
    units: Units,
    turn: impl Fn(&Planner, &'static str, Number, &Scenario) -> Result<Scenario>,
) -> Result<()> {
    let mut left = keys(|kind| matches!(kind, Kind::Number(_)));
    for start in starts() {
        let planner = Planner::open_with(visit, &start, units)?;
        let (mut now, mut shown) = (start, CHAPTERS[0].key);
        for (place, parameter) in REGISTRY.iter().enumerate() {
            let Kind::Number(number) = parameter.kind else { continue };
            if !left.contains(parameter.key) {
                continue;
            }
            let chapter = chapter_for(parameter, place, units);
            if chapter != shown {
                planner.turn_to(chapter)?;
                shown = chapter;
            }
            if !planner.sees(&control(parameter.key, "field"))? {
                continue;
            }
            let before = planner.read()?;
            let place = || format!("{}, {units:?}", parameter.key);
            now = turn(&planner, parameter.key, number, &now).with_context(place)?;
            let after = planner.expect(&now).with_context(place)?;
            ensure!(before.saved != after.saved, "{}: nothing has changed", parameter.key);
            left.remove(parameter.key);
        }
    }
    ensure!(left.is_empty(), "never shown: {left:?}");
    Ok(())
}

fn step(number: Number, units: Units) -> f64 {
    match units {
        Units::Us => number.step_us,
        Units::Metric => number.step_metric,
    }
}

/// The scenario with a number so many whole steps further, the first of the given counts that makes a plan; and the count.
fn stepped(now: &Scenario, number: Number, step: f64, counts: &[f64]) -> Result<(Scenario, f64)> {
    for count in counts {
        let value = (((number.get)(now) / step).round() + count) * step;
        let mut next = now.clone();
        (number.set)(&mut next, value);
        if value >= number.min && value <= number.max && next.problems().is_empty() {
            return Ok((next, *count));
        }
    }
    anyhow::bail!("there is no plan a few steps on")
}

pub(crate) fn every_number_is_typed(visit: &Visit) -> Result<()> {
    for units in [Units::Us, Units::Metric] {
        with_every_number(visit, units, |planner, key, number, now| {
            let (next, _) = stepped(now, number, step(number, units), &[3.0, -3.0, 2.0, -2.0, 1.0, -1.0])?;
            let text = measure::editable((number.get)(&next), number.quantity, units);
            planner.enter(key, &text)?;
            let mut asked = now.clone();
            let value = measure::read(&text, number.quantity, units).context("unreadable")?;
            (number.set)(&mut asked, value);
            Ok(asked)
        })?;
    }
    Ok(())
}

pub(crate) fn every_slider_follows_the_keys(visit: &Visit) -> Result<()> {
    for units in [Units::Us, Units::Metric] {
        with_every_number(visit, units, |planner, key, number, now| {
            let (next, count) = stepped(now, number, step(number, units), &[2.0, -2.0, 1.0, -1.0])?;
            planner.focus(&control(key, "slider"))?;
            for _ in 0..count.abs() as u32 {
                planner.browser.key(if count > 0.0 { "ArrowRight" } else { "ArrowLeft" })?;
            }
            Ok(next)
        })?;
    }
    Ok(())
}

/// To the step nearest to where the mouse lets go, give or take a pixel; and it is one step to undo.
fn every_slider_is_dragged(visit: &Visit) -> Result<()> {
    with_every_number(visit, Units::Us, |planner, key, number, now| {
        let rail = format!("{}.closest('.rl-rail')", element(&control(key, "slider")));
        let (before, range) = ((number.get)(now), number.max - number.min);
        let scale = parameter(key).context("no such input")?.scale;
        let share = |value: f64| match scale {
            Some(scale) => scale.place(value, number.min, number.max),
            None => (value - number.min) / range,
        };
        let thumb = planner.browser.middle(&format!("{rail}.querySelector('.rl-thumb')"))?;
        // The thumb's middle goes from half its width to half its width before the end.
        let [left, way]: [f64; 2] = planner.browser.js(&format!(
            "const [rail, thumb] = [{rail}, {rail}.querySelector('.rl-thumb')].map((part) => part.getBoundingClientRect());
             return [rail.left + thumb.width / 2, rail.width - thumb.width]"
        ))?;
        let at = |value: f64| Point { x: left + way * share(value), ..thumb };
        let grid = |value: f64| (value / number.step_us).round() * number.step_us;
        let goals = [0.15, -0.15, 0.05, -0.05].map(|share| grid(before + share * range));
        let is_plan = |goal: &f64| {
            let mut next = now.clone();
            (number.set)(&mut next, *goal);
            next.problems().is_empty()
        };
        let goal = goals.into_iter().find(is_plan).context("no goal makes a plan")?;
        planner.browser.drag(at(before), at(goal))?;
        let reading = planner.read()?;
        let value = (number.get)(&reading.scenario()?);
        // A pixel and a half, where the slider is coarser: at either of the two places.
        let coarse = |value: f64| {
            let far = 1.5 / way;
            let value_at = |share: f64| match scale {
                Some(scale) => scale.value(share, number.min, number.max),
                None => number.min + share * range,
            };
            (value_at(share(value) + far) - value).max(value - value_at(share(value) - far))
        };
        let hair = number.step_us * 0.51 + coarse(goal).max(coarse(value));
        ensure!((value - goal).abs() <= hair, "dragged to {goal}, stands at {value}");
        ensure!(
            (value - before) * (goal - before) > 0.0,
            "dragged to {goal} from {before}, stands at {value}"
        );
        ensure!(near(value, grid(value), 1e-9), "{value} is on no step");
        planner.browser.key("Ctrl+z")?;
        planner.expect(now).context("after one undo")?;
        planner.browser.key("Ctrl+Shift+z")?;
        let mut asked = now.clone();
        (number.set)(&mut asked, value);
        Ok(asked)
    })
}

/// Each menu once by keys, each of its entries once.
fn every_choice_is_made(visit: &Visit) -> Result<()> {
    let mut left = keys(|kind| matches!(kind, Kind::Choice(_)));
    let mut now = Scenario::default();
    let planner = Planner::open(visit)?;
    for parameter in REGISTRY {
        let Kind::Choice(list) = parameter.kind else { continue };
        let menu = element(&control(parameter.key, "field"));
        let options: Vec<String> =
            planner.browser.js(&format!("return [...{menu}.options].map((option) => option.value)"))?;
        let meant: BTreeSet<&str> = (list.options)().into_iter().map(|(key, _)| key).collect();
        ensure!(
            options.iter().map(String::as_str).collect::<BTreeSet<_>>() == meant,
            "{}: {options:?}",
            parameter.key
        );
        let place = options.iter().position(|option| *option == (list.get)(&now)).context("not offered")?;
        let (arrow, neighbour) =
            if place + 1 < options.len() { ("ArrowDown", place + 1) } else { ("ArrowUp", place - 1) };
        let mut turns: Vec<Option<&String>> = vec![None];
        turns.extend(options.iter().map(Some));
        // Back to where it began, so that the other inputs keep their part.
        turns.extend(options.get(place).map(Some));
        for turn in turns {
            let key = turn.or(options.get(neighbour)).context("not offered")?;
            match turn {
                None => {
                    planner.focus(&control(parameter.key, "field"))?;
                    planner.browser.key(arrow)?;
                }
                Some(key) => planner.browser.js::<()>(&format!(
                    "const menu = {menu}; menu.value = '{key}'; menu.dispatchEvent(new Event('change', {{ bubbles: true }}));"
                ))?,
            }
            match TrainingSystem::from_key(key).filter(|_| parameter.key == "system") {
                Some(system) => now = now.with_system(system),
                None => ensure!((list.set)(&mut now, key), "no {key}"),
            }
            planner.expect(&now).with_context(|| format!("{}: {key}", parameter.key))?;
        }
        left.remove(parameter.key);
    }
    ensure!(left.is_empty(), "not chosen from: {left:?}");
    Ok(())
}

/// Whoever pauses after the first digit hasn't asked for a wire at one foot among the others.
fn a_pause_within_a_number_moves_nothing_else(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    let mut meant = Scenario::default();
    let top = meant.trellis.wire_heights.len().checked_sub(1).context("no wires")?;
    let key = format!("wire_heights[{top}]");
    let field = element(&control(&key, "field"));
    planner.browser.js::<()>(&format!("{field}.focus(); {field}.select()"))?;
    planner.browser.write("1")?;
    std::thread::sleep(std::time::Duration::from_millis(900));
    planner.browser.write("0")?;
    planner.browser.key("Enter")?;
    *meant.trellis.wire_heights.get_mut(top).context("no wires")? = planting::feet(10.0);
    planner.expect(&meant)?;
    Ok(())
}

fn wires_are_added_moved_and_removed(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    let mut now = Scenario::default();
    for parameter in REGISTRY {
        let Kind::Lengths(lengths) = parameter.kind else { continue };
        let key = parameter.key;
        let sorted = |mut items: Vec<f64>| {
            items.sort_by(f64::total_cmp);
            items.into_iter().map(Length::new::<meter>).collect::<Vec<_>>()
        };
        let items = |scenario: &Scenario| -> Vec<f64> {
            (lengths.get)(scenario).iter().map(|item| item.value).collect()
        };
        // Typed past its neighbour, an item changes places with it.
        for (item, text) in [(0, "2.25"), (1, "8.5"), (2, "3 ft 3 in"), (0, "0.5"), (3, "10.75")] {
            let mut next = items(&now);
            let value = measure::read(text, planting::Quantity::Length, Units::Us).context("unreadable")?;
            *next.get_mut(item).context("no such wire")? = value;
            (lengths.set)(&mut now, sorted(next));
            planner.enter(&format!("{key}[{item}]"), text)?;
            planner.expect(&now).with_context(|| format!("{key}[{item}] {text}"))?;
        }
        for item in 0..items(&now).len() {
            let mut next = items(&now);
            let wire = next.get_mut(item).context("no such wire")?;
            *wire = ((*wire / lengths.step_us).round() + 1.0) * lengths.step_us;
            (lengths.set)(&mut now, sorted(next));
            planner.focus(&control(&format!("{key}[{item}]"), "slider"))?;
            planner.browser.key("ArrowRight")?;
            planner.expect(&now).with_context(|| format!("{key}[{item}] one step up"))?;
        }
        while items(&now).len() < lengths.most {
            planner.click("[data-action=wire-add]")?;
            let saved = planner.read()?.scenario()?;
            let before = items(&now);
            let new: Vec<f64> = items(&saved).into_iter().filter(|item| !before.contains(item)).collect();
            ensure!(new.len() == 1, "one more than {before:?} is {:?}", items(&saved));
            (lengths.set)(&mut now, sorted([before, new].concat()));
            planner.expect(&now).context("one wire more")?;
        }
        ensure!(
            planner.browser.js::<bool>(&format!("return {}.disabled", element("[data-action=wire-add]")))?,
            "more than {} wires",
            lengths.most
        );
        // From the middle, then the top, then the bottom up to the last.
        while let count @ 1.. = items(&now).len() {
            let item = match count {
                8 => 4,
                7 => 6,
                _ => 0,
            };
            let mut next = items(&now);
            next.remove(item);
            (lengths.set)(&mut now, sorted(next));
            planner.click(&format!("[data-action=wire-remove][data-item='{item}']"))?;
            planner.expect(&now).with_context(|| format!("without wire {item}"))?;
        }
        planner.click("[data-action=wire-add]")?;
        (lengths.set)(&mut now, vec![feet(2.5)]);
        planner.expect(&now).context("the first wire")?;
        ensure!(parameter.same(&now, &planner.read()?.scenario()?));
    }
    Ok(())
}
