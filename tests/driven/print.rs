//! The printed set, measured with a ruler: each drawing as long as its scale says, each sheet whole, none blank.
//!
//! A plan is laid into the browser's storage, the page prints itself to PDF, and what the title blocks state is read from the page
//! while it prints. Known lengths come from the scenario alone, so that a drawing can't be measured by its own yardstick.

use anyhow::{Context, Result, ensure};
use planting::{Entries, Scenario};
use serde_json::json;

use crate::harness::{Case, Visit, cases};
use crate::loading::{STARTED, printable};
use crate::pdf::{self, Page};

pub(crate) const CASES: &[Case] = cases![
    every_plan_is_printed_to_scale_on_either_paper,
    a_drawing_one_per_cent_off_is_found_out,
    the_paper_is_the_readers_choice,
    nothing_is_left_on_the_screen_after_printing,
];

/// How far a length may be off: less than the half per cent promised, so that no neighbour is taken for it.
const SHARE: f64 = 0.002;

/// The thin line dimensions are drawn with, in points.
const THIN: f64 = 0.18 * 72.0 / 25.4;

/// A plan to print: its name and what is set in it, the rest being defaults.
const PLANS: [(&str, &str); 7] = [
    ("default", "{}"),
    ("2 ft × 8 ft", r#"{"in_row_spacing": 0.6096, "row_width": 2.4384}"#),
    ("15 × 20 ft", r#"{"in_row_spacing": 4.572, "row_width": 6.096}"#),
    ("one row", r#"{"block_width": 7.62}"#),
    ("one tree", r#"{"block_width": 7.62, "block_length": 23.0, "in_row_spacing": 4.572}"#),
    ("100 acres", r#"{"block_width": 804.672, "block_length": 502.92}"#),
    ("V trellis with H-braces", r#"{"system": "v_trellis", "end_assembly": "h_brace"}"#),
];

/// What is printed on.
#[derive(Clone, Copy)]
struct Paper {
    key: &'static str,
    /// Its short and its long side `[mm]`.
    size: (f64, f64),
    /// Its check bar's length `[mm]`, and how the sheet writes it.
    bar: f64,
    bar_name: &'static str,
}

const LETTER: Paper = Paper { key: "letter", size: (215.9, 279.4), bar: 101.6, bar_name: "4 in" };
const A4: Paper = Paper { key: "a4", size: (210.0, 297.0), bar: 100.0, bar_name: "100 mm" };

/// Margins of a drawing's sheet in points: left for filing, the others, less what rounding takes.
const MARGINS: (f64, f64) = (19.7 * 72.0 / 25.4, 9.7 * 72.0 / 25.4);

/// What a sheet says of itself while it is printed.
struct Stated {
    /// Every text of the drawing.
    texts: Vec<String>,
    /// Those that lie partly off the drawing.
    cut: Vec<String>,
    /// The smallest lettering in points.
    least: f64,
}

impl Stated {
    /// The scales stated, the drawing's own first.
    fn ratios(&self) -> Vec<f64> {
        let after = |text: &str| -> Vec<f64> {
            let digits =
                |rest: &str| rest.chars().take_while(|c| c.is_ascii_digit() || *c == ' ').collect::<String>();
            let stated = text.split_once("1:").into_iter().flat_map(|(_, rest)| rest.split("1:"));
            stated.filter_map(|rest| digits(rest).replace(' ', "").parse().ok()).collect()
        };
        self.texts.iter().flat_map(|text| after(text)).collect()
    }

    /// The length the scale bar stands for `[m]`.
    fn scale_bar(&self) -> Option<f64> {
        let length = |text: &str| {
            let (number, unit) = text.split_once(' ')?;
            let one = match unit {
                "ft" => 0.3048,
                "m" => 1.0,
                _ => return None,
            };
            Some(number.replace(',', "").parse::<f64>().ok()? * one)
        };
        // Dimensions are written before it, the scale bar last of all lengths.
        self.texts.iter().rev().find_map(|text| length(text))
    }
}

/// Lays a plan into storage and opens the page on it.
fn open(visit: &Visit, set: &str, units: &str, paper: &str) -> Result<Scenario> {
    let mut entries: serde_json::Value = serde_json::from_str(set)?;
    entries["version"] = json!(1);
    let read: Entries = serde_json::from_value(entries.clone())?;
    let scenario = Scenario::from_entries(&read).map_err(|problems| anyhow::anyhow!("{problems:?}"))?;
    let kept = json!({ "scenario": entries, "units": units, "paper": paper }).to_string();
    visit.open("")?;
    visit.browser.until(STARTED)?;
    // The page saves its own plan as it goes; this once it may not.
    visit.browser.js::<()>(&format!(
        "localStorage.setItem('rowlight.v1', {}); Storage.prototype.setItem = () => {{}};",
        json!(kept)
    ))?;
    visit.open("")?;
    visit.browser.until(STARTED)?;
    visit.browser.until(&printable())?;
    Ok(scenario)
}

fn stated(visit: &Visit) -> Result<Vec<Stated>> {
    let media = xtask::browser::Media { print: true, ..Default::default() };
    visit.browser.media(media)?;
    let stated: Vec<(Vec<String>, Vec<String>, f64)> = visit.browser.js(
        "dispatchEvent(new Event('beforeprint'));
         const sheets = [...document.querySelectorAll('#rowlight-print svg')].map((svg) => {
           const texts = [...svg.querySelectorAll('text')];
           const room = svg.getBoundingClientRect();
           const off = (text) => {
             const box = text.getBoundingClientRect();
             return box.left < room.left || box.right > room.right || box.top < room.top || box.bottom > room.bottom;
           };
           const least = Math.min(...texts.map((text) => text.getAttribute('font-size') * 72 / 25.4));
           const words = (texts) => texts.map((text) => text.textContent);
           return [words(texts), words(texts.filter(off)), least];
         });
         dispatchEvent(new Event('afterprint'));
         return sheets;",
    )?;
    visit.browser.media(xtask::browser::Media::default())?;
    Ok(stated.into_iter().map(|(texts, cut, least)| Stated { texts, cut, least }).collect())
}

/// Whether a page has a dimension of so many millimetres across. Its extension lines make it higher than a bar, which may well be
/// as long: 12 ft at 1 in = 3 ft are the 4 in of the check bar.
fn has_span(page: &Page, millimetres: f64) -> bool {
    let near = |width: f64| (width / millimetres - 1.0).abs() <= SHARE;
    let is_thin = |pen: f64| (pen - THIN).abs() < 0.02 * THIN;
    page.marks
        .iter()
        .any(|mark| is_thin(mark.pen) && mark.path.height_mm() > 4.0 && near(mark.path.width_mm()))
}

/// Measures the three drawings.
fn measured(pages: &[Page], stated: &[Stated], scenario: &Scenario, check_bar: f64) -> Result<()> {
    let metres = |length: f64, ratio: f64| length * 1000.0 / ratio;
    let plan = planting::plan(scenario).map_err(|problems| anyhow::anyhow!("{problems:?}"))?;
    let run = plan.trellis.runs.first().context("no row")?;
    // From the end post to its anchor, or without one to the first line post.
    let at_row_end = run
        .anchor_distance
        .map(|distance| distance.value)
        .or(run.line_posts.first().map(|post| post - run.start));
    for (number, (page, stated)) in pages.iter().zip(stated).enumerate() {
        let ratios = stated.ratios();
        let scale = *ratios.first().with_context(|| format!("no scale on {:?}", stated.texts))?;
        let bars = page.strokes_of_mm(check_bar, 3.0, SHARE).len();
        ensure!(bars == 1, "drawing {number}: {bars} check bars of {check_bar} mm");
        let bar = metres(stated.scale_bar().context("no scale bar")?, scale);
        let bars = page.strokes_of_mm(bar, 1.26, SHARE).len();
        // The plan's detail has a bar of its own, which may be as long.
        let most = if number == 0 { 2 } else { 1 };
        ensure!((1..=most).contains(&bars), "drawing {number} at 1:{scale}: {bars} scale bars of {bar} mm");
        let row = scenario.block.row_width.value;
        match number {
            0 => {
                let (width, length) = (
                    metres(scenario.block.block_width.value, scale),
                    metres(scenario.block.block_length.value, scale),
                );
                let edges = page.strokes_of_mm(width, length, SHARE).len();
                ensure!(edges == 1, "at 1:{scale} {edges} fields of {width} × {length} mm");
                if plan.block.rows > 1 {
                    let detail = *ratios.get(1).context("the detail has no scale")?;
                    ensure!(has_span(page, metres(row, detail)), "no row width in the detail at 1:{detail}");
                }
            }
            1 | 3 => ensure!(has_span(page, metres(row, scale)), "no row width in the section at 1:{scale}"),
            _ => {
                let known = at_row_end.context("no length at the row end")?;
                ensure!(has_span(page, metres(known, scale)), "no row end of {known} m at 1:{scale}");
            }
        }
    }
    Ok(())
}

/// Whole, not blank, of the right size and inside the margins.
fn sound(page: &Page, (short, long): (f64, f64)) -> Result<()> {
    let (width, height) = (page.media_box.width_mm(), page.media_box.height_mm());
    let is = |a: f64, b: f64| (width - a).abs() < 0.3 && (height - b).abs() < 0.3;
    ensure!(is(short, long) || is(long, short), "the paper is {width} × {height} mm");
    ensure!(!page.is_blank(), "blank");
    ensure!(page.cut_off(0.5).is_empty(), "off the paper: {:?}", page.cut_off(0.5));
    ensure!(page.text_off_paper() == 0, "text off the paper");
    let inside = pdf::Rect {
        left: page.media_box.left + MARGINS.0,
        bottom: page.media_box.bottom + MARGINS.1,
        right: page.media_box.right - MARGINS.1,
        top: page.media_box.top - MARGINS.1,
    };
    for mark in &page.marks {
        let backdrop = mark.paint == pdf::Paint::Fill && mark.path.holds(inside, 1.0);
        ensure!(backdrop || inside.holds(mark.bounds(), 0.0), "in the margin: {mark:?} in {inside:?}");
        ensure!(backdrop || !mark.is_clipped(0.5), "clipped: {mark:?}");
    }
    Ok(())
}

fn every_plan_is_printed_to_scale_on_either_paper(visit: &Visit) -> Result<()> {
    for (name, set) in PLANS {
        for (paper, units) in [(LETTER, "us"), (A4, "metric")] {
            printed_to_scale(visit, set, units, paper).with_context(|| format!("{name} on {}", paper.key))?;
        }
    }
    printed_to_scale(visit, "{}", "us", A4).context("feet on A4")?;
    printed_to_scale(visit, "{}", "metric", LETTER).context("metres on Letter")
}

fn printed_to_scale(visit: &Visit, set: &str, units: &str, paper: Paper) -> Result<()> {
    let scenario = open(visit, set, units, paper.key)?;
    let stated = stated(visit)?;
    ensure!(stated.len() == drafting::sheet_set().len(), "{} drawings", stated.len());
    for (number, sheet) in stated.iter().enumerate() {
        let says = |words: &str| sheet.texts.iter().any(|text| text.contains(words));
        ensure!(says(&format!("This bar is {} long", paper.bar_name)), "{:?}", sheet.texts);
        ensure!(says(&format!("{} of {}", number + 1, drafting::sheet_set().len())), "{:?}", sheet.texts);
        ensure!(sheet.cut.is_empty(), "cut: {:?}", sheet.cut);
        ensure!(sheet.least >= 7.0, "lettering of {} pt", sheet.least);
    }
    let file = visit.browser.pdf()?;
    let pages = pdf::measure(&file)?;
    measured(&pages, &stated, &scenario, paper.bar)?;
    for (number, (page, words)) in pages.iter().zip(pdf::words(&file)?).enumerate() {
        sound(page, paper.size).with_context(|| format!("page {}", number + 1))?;
        let count = format!("Sheet {} of {}", number + 1, pages.len());
        ensure!(words.contains(&count), "no “{count}” in {words}");
    }
    Ok(())
}

fn a_drawing_one_per_cent_off_is_found_out(visit: &Visit) -> Result<()> {
    let scenario = open(visit, "{}", "us", "letter")?;
    let stated = stated(visit)?;
    let printed = |part: &str, scale: f64| -> Result<Result<()>> {
        visit.browser.js::<()>(&format!(
            "const sheet = new CSSStyleSheet();
             sheet.replaceSync('#rowlight-print {part} {{ transform: scale({scale}) }}');
             document.adoptedStyleSheets = [sheet];"
        ))?;
        Ok(measured(&pdf::measure(&visit.browser.pdf()?)?, &stated, &scenario, LETTER.bar))
    };
    // The whole sheet, the bars alone, and in each drawing what its known length is drawn on.
    let parts = [
        "svg",
        ".layer-furniture",
        ":nth-child(1) .layer-ground",
        ":nth-child(1) .layer-dimensions",
        ":nth-child(2) .layer-dimensions",
        ":nth-child(3) .layer-dimensions",
        ":nth-child(4) .layer-dimensions",
    ];
    for part in parts {
        printed(part, 1.0)?.with_context(|| format!("{part} at full size"))?;
        for scale in [0.99, 1.01] {
            ensure!(printed(part, scale)?.is_err(), "{part} printed at {scale} passes");
        }
    }
    Ok(())
}

fn the_paper_is_the_readers_choice(visit: &Visit) -> Result<()> {
    open(visit, "{}", "us", "letter")?;
    for paper in [A4, LETTER] {
        visit.browser.js::<()>(&format!(
            "const choice = document.querySelector('[data-key=paper]');
             choice.value = '{}';
             choice.dispatchEvent(new Event('change', {{ bubbles: true }}));",
            paper.key
        ))?;
        let pages = pdf::measure(&visit.browser.pdf()?)?;
        ensure!(pages.len() > drafting::sheet_set().len(), "{}: {} pages", paper.key, pages.len());
        for page in &pages {
            sound(page, paper.size).context(paper.key)?;
        }
    }
    Ok(())
}

fn nothing_is_left_on_the_screen_after_printing(visit: &Visit) -> Result<()> {
    open(visit, "{}", "us", "letter")?;
    visit.browser.pdf()?;
    let left: (u32, bool, u32) = visit.browser.js(
        "return [document.getElementById('rowlight-print').childElementCount,
           document.documentElement.classList.contains('rowlight-printing'), document.adoptedStyleSheets.length]",
    )?;
    ensure!(left == (0, false, 0), "{left:?}");
    Ok(())
}
