//! The tools of the other cases, held against pages whose measures are known.

use anyhow::{Result, ensure};
use xtask::browser::{Media, Point, Scheme};

use crate::harness::{Case, Visit, cases};
use crate::pdf;

pub(crate) const CASES: &[Case] = cases![
    a_printed_line_measures_what_it_is,
    blank_pages_and_cut_marks_are_seen,
    the_viewport_is_what_was_asked_for,
    media_are_emulated,
    the_hand_moves_and_writes,
    the_console_is_heard,
];

/// A drawing of 120 mm by 60 mm with a line of 100 mm, a square of 20 mm and a word.
const DRAWING: &str = r#"<svg width="120mm" height="60mm" viewBox="0 0 120 60">
  <path d="M10 10H110" stroke="black" stroke-width="0.5" fill="none"/>
  <g transform="translate(10 20) rotate(90)"><rect width="20" height="20" y="-20" fill="none" stroke="red"/></g>
  <text x="50" y="40" font-size="5">row</text></svg>"#;

fn a_printed_line_measures_what_it_is(visit: &Visit) -> Result<()> {
    visit.browser.show(&format!("<style>@page {{ size: 8.5in 11in }}</style>{DRAWING}"))?;
    let pages = pdf::measure(&visit.browser.pdf()?)?;
    let [page] = pages.as_slice() else { anyhow::bail!("{} pages", pages.len()) };
    let paper = (page.media_box.width_mm(), page.media_box.height_mm());
    ensure!((paper.0 - 215.9).abs() < 0.1 && (paper.1 - 279.4).abs() < 0.1, "the paper is {paper:?} mm");
    for (width, height, pen) in [(100.0, 0.0, 0.5), (20.0, 20.0, 1.0)] {
        let found = page.strokes_of_mm(width, height, 0.005);
        ensure!(found.len() == 1, "{} lines of {width} × {height} mm in {:#?}", found.len(), page.marks);
        let drawn = found.iter().all(|mark| (mark.pen * 25.4 / 72.0 - pen).abs() < 0.01);
        ensure!(drawn, "the pen is not {pen} mm wide: {found:?}");
    }
    ensure!(page.text_shows > 0 && page.text_off_paper() == 0, "the word: {:?}", page.text_starts);
    ensure!(page.cut_off(0.5).is_empty(), "cut off: {:?}", page.cut_off(0.5));
    ensure!(!page.is_blank());
    Ok(())
}

fn blank_pages_and_cut_marks_are_seen(visit: &Visit) -> Result<()> {
    visit.browser.show(&format!(
        "<style>@page {{ size: 100mm 100mm; margin: 0 }} * {{ margin: 0 }} section {{ height: 90mm }}
           section + section {{ break-before: page }} svg {{ display: block; margin-left: -20mm }}</style>
         <section>{DRAWING}</section><section></section><section>third</section>"
    ))?;
    let pages = pdf::measure(&visit.browser.pdf()?)?;
    let seen: Vec<(bool, usize)> =
        pages.iter().map(|page| (page.is_blank(), page.cut_off(0.5).len())).collect();
    // The line begins 10 mm left of the paper, and so does the square.
    ensure!(seen == [(false, 2), (true, 0), (false, 0)], "{seen:?}: {:#?}", pages);
    Ok(())
}

fn the_viewport_is_what_was_asked_for(visit: &Visit) -> Result<()> {
    for (width, height) in [(320, 640), (1280, 800), (2560, 1440)] {
        visit.browser.viewport(width, height)?;
        let seen: (u32, u32, f64) = visit.browser.js("return [innerWidth, innerHeight, devicePixelRatio]")?;
        ensure!(seen == (width, height, 1.0), "asked for {width} × {height}, the page has {seen:?}");
    }
    Ok(())
}

fn media_are_emulated(visit: &Visit) -> Result<()> {
    let ask = "return ['(prefers-color-scheme: dark)', '(prefers-reduced-motion: reduce)', '(forced-colors: active)', 'print']
        .map((query) => matchMedia(query).matches)";
    let plain = Media::default();
    let cases = [
        (plain, [false; 4]),
        (Media { scheme: Scheme::Dark, ..plain }, [true, false, false, false]),
        (Media { reduced_motion: true, ..plain }, [false, true, false, false]),
        (Media { forced_colors: true, ..plain }, [false, false, true, false]),
        (Media { print: true, ..plain }, [false, false, false, true]),
    ];
    for (media, expected) in cases {
        visit.browser.media(media)?;
        let seen: [bool; 4] = visit.browser.js(ask)?;
        ensure!(seen == expected, "{media:?} gives {seen:?}");
    }
    Ok(())
}

fn the_hand_moves_and_writes(visit: &Visit) -> Result<()> {
    visit.browser.show(
        "<input id=slider type=range min=0 max=100 value=50><input id=field>
         <div id=pad style='width:200px;height:100px;touch-action:none'></div>",
    )?;
    visit.browser.js::<()>(
        "window.path = [];
         for (const kind of ['pointerdown', 'pointermove', 'pointerup'])
           pad.addEventListener(kind, (event) => event.buttons + (kind == 'pointerup') && path.push([kind, event.pointerType]));",
    )?;
    visit.browser.js::<()>("slider.focus()")?;
    for key in ["ArrowRight", "ArrowRight", "PageUp", "End", "ArrowLeft"] {
        visit.browser.key(key)?;
    }
    ensure!(visit.browser.js::<String>("return slider.value")? == "99");
    visit.browser.key("Tab")?;
    visit.browser.key("a")?;
    visit.browser.write("pple")?;
    visit.browser.key("Space")?;
    visit.browser.key("Shift+Tab")?;
    ensure!(visit.browser.js::<String>("return field.value")? == "apple ");
    ensure!(visit.browser.js::<String>("return document.activeElement.id")? == "slider");
    let from = visit.browser.middle("document.getElementById('pad')")?;
    for (touch, kind) in [(false, "mouse"), (true, "touch")] {
        let to: Point = from.moved(50.0, 20.0);
        if touch {
            visit.browser.touch_drag(from, to)?
        } else {
            visit.browser.drag(from, to)?
        }
        let path: Vec<(String, String)> = visit.browser.js("return path.splice(0)")?;
        let ends = (path.first().map(|step| step.0.as_str()), path.last().map(|step| step.0.as_str()));
        ensure!(ends == (Some("pointerdown"), Some("pointerup")) && path.len() > 4, "{kind}: {path:?}");
        ensure!(path.iter().all(|step| step.1 == kind), "{kind}: {path:?}");
    }
    Ok(())
}

/// Otherwise no case could fail by what the page says there.
pub(crate) fn the_console_is_heard(visit: &Visit) -> Result<()> {
    visit.open("")?;
    visit.browser.expect_quiet_console()?;
    let faults = [
        "console.error('a fault')",
        "setTimeout(() => { throw new Error('a fault') })",
        "Promise.reject(new Error('a fault'))",
        "document.body.setAttribute('style', 'color: red')",
        "document.body.append(document.createElement('style'))",
        "fetch('https://example.com/').catch(() => {})",
    ];
    for fault in faults {
        visit.browser.js::<()>(&format!("{fault};"))?;
        visit.browser.js::<()>("await new Promise((done) => setTimeout(done, 50))")?;
        ensure!(visit.browser.expect_quiet_console().is_err(), "not heard: {fault}");
    }
    Ok(())
}
