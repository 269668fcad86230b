//! For readers who see little, see other colours, or don't see the page at all: WCAG 2.2, beyond what `reach` holds of keys and widths.

use anyhow::{Result, ensure};
use drafting::Units;
use planting::manifest::CHAPTERS;
use planting::{Scenario, feet};
use std::time::Duration;
use xtask::browser::{Media, Scheme};

use crate::harness::{Case, Visit, cases};
use crate::loading::STARTED;
use crate::planner::{Planner, element};
use crate::sharing::{barriers, bring_axe};

pub(crate) const CASES: &[Case] = cases![
    drawings_say_what_they_show,
    the_spoken_line_waits_for_the_hand,
    forced_colours_leave_everything_visible,
    twice_as_large_nothing_is_lost,
    no_barriers_in_the_dark,
    no_barriers_where_something_is_wrong,
    no_barriers_in_a_column,
    no_barriers_under_the_hand,
    targets_are_large_and_apart,
];

/// Success criterion 1.1.1: each drawing has a name that states the plan.
fn drawings_say_what_they_show(visit: &Visit) -> Result<()> {
    let scenario = Scenario::default().with(|s| s.block.row_width = feet(13.0));
    let planner = Planner::open_with(visit, &scenario, Units::Us)?;
    for chapter in CHAPTERS {
        planner.turn_to(chapter.key)?;
        planner.read()?;
        // Drawings of what takes a moment to compute say so until it is there.
        planner.browser.until(
            "![...document.querySelectorAll('.rl-board')].some((board) => board.getAttribute('aria-label')?.includes('being summed'))",
        )?;
        let names: Vec<(String, String, String)> = planner.browser.js(
            "return [...document.querySelectorAll('[data-view]')].map((drawing) => {
               const board = drawing.querySelector('.rl-board');
               return [drawing.dataset.view, board.getAttribute('role'), board.getAttribute('aria-label') ?? ''];
             })",
        )?;
        let views: Vec<&str> = names.iter().map(|(view, ..)| view.as_str()).collect();
        ensure!(views == chapter.views, "{}: the drawings are {views:?}", chapter.key);
        ensure!(
            names.iter().all(|(_, role, name)| role == "img" && name.len() > 40),
            "{}: {names:?}",
            chapter.key
        );
        if chapter.key == CHAPTERS[0].key {
            for number in ["rows 13 ft apart", "330 ft wide"] {
                ensure!(names.iter().any(|(.., name)| name.contains(number)), "no {number} in {names:?}");
            }
        }
    }
    let nameless: Vec<String> = planner.browser.js(
        "return [...document.querySelectorAll('[data-handle]')].filter((handle) =>
           handle.getAttribute('role') !== 'slider' || !handle.getAttribute('aria-label') || !handle.getAttribute('aria-valuetext'))
           .map((handle) => handle.dataset.handle)",
    )?;
    ensure!(nameless.is_empty(), "handles without name or value: {nameless:?}");
    Ok(())
}

/// Success criterion 4.1.3: the headline figures are spoken once the hand rests, not at every step.
fn the_spoken_line_waits_for_the_hand(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    planner.browser.js::<()>(
        "window.spoken = [];
         const line = document.querySelector('.rl-page > [role=status]');
         new MutationObserver(() => spoken.push(line.textContent)).observe(line, { childList: true, characterData: true, subtree: true });",
    )?;
    planner.focus("[data-key=row_width][data-role=slider]")?;
    for _ in 0..10 {
        planner.browser.key("ArrowRight")?;
    }
    planner.browser.until("spoken.length > 0")?;
    // Longer than the pause it waits for: a second line would have come.
    std::thread::sleep(Duration::from_millis(1300));
    let spoken: Vec<String> = planner.browser.js("return spoken")?;
    let trees: String =
        planner.browser.js(&format!("return {}.textContent", element("[data-figure=trees_per_acre]")))?;
    ensure!(spoken.len() == 1, "spoken {} times: {spoken:?}", spoken.len());
    ensure!(spoken[0].contains(trees.trim()), "{spoken:?} doesn't say {trees}");
    Ok(())
}

/// Lines, figures and the handles in colours the reader's system forces: each against the ground it stands on.
const FAINT: &str = "
    const canvas = document.createElement('canvas').getContext('2d', { willReadFrequently: true });
    const luminance = (colour) => {
      canvas.fillStyle = '#000'; canvas.fillStyle = colour; canvas.fillRect(0, 0, 1, 1);
      const [r, g, b] = [...canvas.getImageData(0, 0, 1, 1).data].slice(0, 3).map((part) => {
        part /= 255;
        return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
      });
      return 0.2126 * r + 0.7152 * g + 0.0722 * b;
    };
    const against = (one, other) => {
      const [low, high] = [luminance(one), luminance(other)].sort((a, b) => a - b);
      return (high + 0.05) / (low + 0.05);
    };
    const ground = getComputedStyle(document.querySelector('.rl-drawing')).backgroundColor;
    const faint = [];
    const check = (selector, property, least) => {
      for (const part of document.querySelectorAll(selector)) {
        const colour = getComputedStyle(part)[property];
        if (colour !== 'none' && against(colour, ground) < least) faint.push(`${selector} ${property} ${colour} on ${ground}`);
      }
    };
    check('.rl-board .ink-text', 'fill', 4.5);
    for (const ink of ['edge', 'ground', 'crown-edge', 'wire', 'post', 'dimension', 'space'])
      check(`.rl-board .ink-${ink}:not(.dots)`, 'stroke', 3);
    check('.rl-grip-knob', 'stroke', 3);
    return [...new Set(faint)];";

/// Success criteria 1.4.3 and 1.4.11 in forced colours, light and dark.
fn forced_colours_leave_everything_visible(visit: &Visit) -> Result<()> {
    for scheme in [Scheme::Light, Scheme::Dark] {
        visit.browser.media(Media { scheme, forced_colors: true, ..Media::default() })?;
        let planner = Planner::open(visit)?;
        ensure!(planner.browser.js::<bool>("return matchMedia('(forced-colors: active)').matches")?);
        let faint: Vec<String> = planner.browser.js(FAINT)?;
        ensure!(faint.is_empty(), "{}", faint.join("\n"));
        planner.focus("[data-key=row_width][data-role=slider]")?;
        planner.browser.key("ArrowRight")?;
        let outline: String =
            planner.browser.js("return getComputedStyle(document.activeElement).outlineStyle")?;
        ensure!(outline != "none", "the focus can't be seen in forced colours");
        visit.browser.screenshot(&format!(
            "forced-colours-{}",
            if scheme == Scheme::Dark { "dark" } else { "light" }
        ))?;
    }
    Ok(())
}

/// Success criterion 1.4.4: at a zoom of 200 % in a window of 1280 px, and of 400 % (1.4.10), everything can be read and set.
fn twice_as_large_nothing_is_lost(visit: &Visit) -> Result<()> {
    for (width, height, zoom) in [(640, 400, 2.0), (320, 200, 4.0)] {
        visit.browser.magnified(width, height, zoom)?;
        let planner = Planner::open(visit)?;
        let (page, window): (u32, u32) =
            planner.browser.js("return [document.scrollingElement.scrollWidth, innerWidth]")?;
        ensure!(page <= window, "at {zoom} × the page is {page} wide in a window of {window}");
        for selector in [
            "[data-key=row_width][data-role=field]",
            "[data-handle=tree_height]",
            "[data-figure=trees_per_acre]",
        ] {
            planner
                .browser
                .js::<()>(&format!("{}.scrollIntoView({{ block: 'center' }})", element(selector)))?;
            // What sticks to the window's edges must leave room for what is being set.
            let is_free: bool = planner.browser.js(&format!(
                "const part = {};
                 const box = part.getBoundingClientRect();
                 const top = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
                 return Boolean(top) && (part.contains(top) || top.contains(part) || part.parentNode.contains(top))",
                element(selector)
            ))?;
            ensure!(is_free, "at {zoom} × something lies over {selector}");
        }
        planner.enter("row_width", "14")?;
        planner.expect(&Scenario::default().with(|s| s.block.row_width = feet(14.0)))?;
    }
    Ok(())
}

fn no_barriers_in_the_dark(visit: &Visit) -> Result<()> {
    visit.browser.media(Media { scheme: Scheme::Dark, ..Media::default() })?;
    let planner = Planner::open(visit)?;
    for chapter in CHAPTERS {
        planner.click(&format!("[data-action=chapter-{}]", chapter.key))?;
        barriers(visit, chapter.key, "document")?;
    }
    Ok(())
}

/// A field that is refused, fields at odds, a finding, every explanation and working opened.
fn no_barriers_where_something_is_wrong(visit: &Visit) -> Result<()> {
    let planner = Planner::open(visit)?;
    planner.enter("row_width", "wide")?;
    planner.enter("in_row_spacing", "1.5")?;
    planner.browser.js::<()>(
        "for (const button of document.querySelectorAll('.rl-about-button, .rl-figure-row')) button.click();
         document.querySelector('.rl-headline').click();",
    )?;
    barriers(visit, "faults, explanations and workings", "document")?;
    Ok(())
}

fn no_barriers_in_a_column(visit: &Visit) -> Result<()> {
    visit.browser.viewport(320, 800)?;
    let planner = Planner::open(visit)?;
    planner.read()?;
    barriers(visit, "320 px", "document")
}

/// Makes everything look as it does in a state, `:hover` or `:focus-visible`: the style sheet's rules for it count at once for all.
fn hold(planner: &Planner, state: &str) -> Result<()> {
    let turned: usize = planner.browser.js(&format!(
        "let turned = 0;
         const turn = (rules) => {{
           for (const rule of rules) {{
             if (rule.cssRules) turn(rule.cssRules);
             if (!rule.selectorText?.includes('{state}')) continue;
             rule.selectorText = rule.selectorText.replaceAll('{state}', ':not(.never)');
             turned++;
           }}
         }};
         for (const sheet of document.styleSheets) turn(sheet.cssRules);
         return turned"
    ))?;
    ensure!(turned > 1, "the style sheet has no rules for {state}");
    Ok(())
}

/// Under a pointer and with the focus, at rest and after taps, in the light and in the dark: a selected button once turned white on pale
/// blue.
fn no_barriers_under_the_hand(visit: &Visit) -> Result<()> {
    const TAPS: &str = "
        for (const tap of ['[data-action=units-metric]', '.rl-about-button', '.rl-headline', '[data-action=daylight-hour]'])
          document.querySelector(tap)?.click();";
    // What is pressed, without the lists of folded inputs: axe looks at every text of a part, and one of each look is enough.
    const PARTS: &str = "[['.rl-head'], ['.rl-over'], ['.rl-firsts'], ['.rl-strip'], ['.rl-year']]";
    for scheme in [Scheme::Light, Scheme::Dark] {
        visit.browser.media(Media { scheme, ..Media::default() })?;
        for state in [":hover", ":focus-visible"] {
            visit.open("")?;
            visit.browser.until(STARTED)?;
            let planner = Planner { browser: &visit.browser };
            ensure!(
                planner.browser.js::<bool>("return matchMedia('(hover: hover)').matches")?,
                "nothing hovers here"
            );
            bring_axe(visit)?;
            hold(&planner, state)?;
            planner.click("[data-action=chapter-light]")?;
            planner.browser.until(&element("[data-chapter=light][data-whole]"))?;
            for taps in ["", TAPS] {
                planner.browser.js::<()>(taps)?;
                planner.browser.js::<()>(
                    "await new Promise(requestAnimationFrame); await new Promise((done) => setTimeout(done))",
                )?;
                let found: Vec<serde_json::Value> = visit.browser.js(&format!(
                    "const {{ violations }} = await axe.run({{ include: {PARTS} }}, {{ runOnly: {{ type: 'rule', values: ['color-contrast'] }} }});
                     return violations.flatMap(({{ nodes }}) => nodes.slice(0, 6).map((node) => [node.target, node.failureSummary]))",
                ))?;
                ensure!(found.is_empty(), "{scheme:?}, {state}, {taps}: {found:#?}");
            }
        }
    }
    Ok(())
}

/// What can be hit and is too small, lies over something else, or is used often and less than 44 pixels high. Words of the trade stand in
/// sentences, where the line decides (WCAG 2.2, success criterion 2.5.8).
const TARGETS: &str = "
    const found = [];
    // Halves of a switch share a border.
    const SHARED = 1.1;
    const often = '.rl-rail, .rl-field, .rl-select, .rl-play, .rl-chapter, .rl-tool, .rl-headline';
    const all = [...document.querySelectorAll('.rl-page :is(a[href], button, .rl-rail, .rl-field, select, summary), .rl-grip-reach')]
      .filter((part) => part.checkVisibility({ visibilityProperty: true }) && !part.disabled && !part.matches('.rl-term'));
    const named = (part) => {
      const knob = part.closest('[data-handle]');
      if (knob) return `${knob.dataset.handleView} ${knob.dataset.handle} ${knob.dataset.item ?? ''}`;
      return `${part.tagName} ${part.className} ${(part.ariaLabel ?? part.textContent).trim().slice(0, 24)}`;
    };
    // A knob's circle is cut off at the edge of its drawing.
    const boxes = all.map((part) => {
      const own = part.getBoundingClientRect();
      const pane = part.closest('.rl-pane')?.getBoundingClientRect();
      if (!pane) return own;
      const [x, y] = [Math.max(own.left, pane.left), Math.max(own.top, pane.top)];
      return new DOMRect(x, y, Math.min(own.right, pane.right) - x, Math.min(own.bottom, pane.bottom) - y);
    });
    const wholes = all.map((part) => part.getBoundingClientRect());
    all.forEach((part, place) => {
      const { width, height } = boxes[place];
      if (width < 23.9 || height < 23.9) found.push(`${named(part)} is ${width} by ${height}`);
      if (part.matches(often) && height < 43.9) found.push(`${named(part)}, used often, is ${height} high`);
      for (let other = place + 1; other < all.length; other++) {
        if (part.contains(all[other]) || all[other].contains(part)) continue;
        const [one, two] = [boxes[place], boxes[other]];
        const isRound = part.matches('.rl-grip-reach') && all[other].matches('.rl-grip-reach');
        const [round, other_round] = [wholes[place], wholes[other]];
        const apart = Math.hypot(round.x + round.width / 2 - other_round.x - other_round.width / 2, round.y + round.height / 2 - other_round.y - other_round.height / 2);
        const shared = (from, to) => Math.min(one[to], two[to]) - Math.max(one[from], two[from]);
        const over = isRound ? (round.width + other_round.width) / 2 - apart : Math.min(shared('left', 'right'), shared('top', 'bottom'));
        if (over > SHARED) found.push(`${named(part)} and ${named(all[other])} overlap by ${over.toFixed(1)}`);
      }
    });
    return [all.length, found];";

/// On the narrowest phone, with every fold open.
fn targets_are_large_and_apart(visit: &Visit) -> Result<()> {
    visit.browser.viewport(320, 700)?;
    visit.browser.command("Emulation.setTouchEmulationEnabled", serde_json::json!({ "enabled": true }))?;
    for chapter in ["layout", "light"] {
        let planner = Planner::open(visit)?;
        planner.turn_to(chapter)?;
        let views: usize = planner
            .browser
            .js("window.tabs = [...document.querySelectorAll('.rl-view')]; return tabs.length")?;
        for view in 0..views {
            planner.browser.js::<()>(&format!("tabs[{view}].click(); scrollTo(0, 0)"))?;
            planner.read()?;
            let (count, found): (usize, Vec<String>) = planner.browser.js(TARGETS)?;
            ensure!(count > 60, "{chapter}: only {count} targets");
            ensure!(found.is_empty(), "{chapter}, drawing {view}: {}", found.join("\n"));
        }
    }
    Ok(())
}
