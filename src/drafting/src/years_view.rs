//! Light in the crowns year by year: what they catch, how much of them is too dark for flower buds, and
//! how much light reaches their lowest third.

use crate::board::{Board, Frame};
use crate::path::Path;
use crate::sheet::{Anchor, Handle, Ink, LayerName, Lettering, Projection, Sheet, View, ems};
use planting::light::YearLight;
use planting::order::within;
use planting::{LAST_YEAR, Plan};

/// Room around the chart, in ems; the names of the curves stand on the right.
const LEFT: f64 = 4.2;
const ABOVE: f64 = 1.4;
const BELOW: f64 = 5.0;

/// What a curve shows of a year.
type Share = fn(&YearLight) -> f64;

/// Draws the chart; `years` is the light of every year, as [`planting::light::Memory::by_year`] gives it.
pub fn draw(plan: &Plan, years: &[YearLight], frame: Frame) -> Sheet {
    let mut board = Board::new(frame);
    let em = board.em();
    let cut = crate::measure::rounded(plan.scenario.light_for_flowers.value * 100.0, 0);
    let curves: [(String, Share); 3] = [
        ("light caught".to_owned(), |year| year.intercepted),
        (format!("crown below {cut} %"), |year| year.crown.under[0]),
        ("light, lowest third".to_owned(), |year| year.thirds[0].mean),
    ];
    let names = curves.iter().map(|(name, _)| ems(name)).fold(0.0, f64::max) * 0.9 + 1.0;
    let narrow = frame.width < (LEFT + names + 16.0) * em;
    let right = if narrow { 1.4 } else { names + 0.6 };
    let (wide, high) =
        ((frame.width - (LEFT + right) * em).max(em), (frame.height - (ABOVE + BELOW) * em).max(em));
    let (x0, y0) = (LEFT * em, ABOVE * em + high);
    let at = |year: f64, share: f64| (x0 + wide * year / LAST_YEAR, y0 - high * within(share, 0.0, 1.0));

    let mut grid = Path::new();
    for step in [0.0, 0.25, 0.5, 0.75, 1.0] {
        grid = grid.line(at(0.0, step), at(LAST_YEAR, step));
        let (_, y) = at(0.0, step);
        let figure = format!("{} %", crate::measure::rounded(step * 100.0, 0));
        let text = board.text((x0 - em * 0.5, y), Anchor::End, Lettering::Note, figure);
        board.write(LayerName::Furniture, text);
    }
    for year in [0.0, 5.0, 10.0, 15.0, 20.0, 25.0] {
        let (x, y) = at(year, 0.0);
        grid = grid.line((x, y), (x, y + em * 0.3));
        let text = board.text((x, y + em), Anchor::Middle, Lettering::Note, crate::measure::rounded(year, 0));
        board.write(LayerName::Furniture, text);
    }
    board.path(LayerName::Ground, Ink::Margin, grid);
    let axis =
        board.text((x0 + wide / 2.0, y0 + em * 2.1), Anchor::Middle, Lettering::Note, "years since planting");
    board.write(LayerName::Furniture, axis);
    let now = plan.scenario.year;
    board.path(LayerName::Ground, Ink::Hidden, Path::new().line(at(now, 0.0), at(now, 1.0)));

    for ((name, value), pen) in curves.iter().zip(0u8..) {
        let points: Vec<(f64, f64)> = years.iter().map(|year| at(year.year, value(year))).collect();
        let end = points.last().copied().unwrap_or((x0, y0));
        board.path(LayerName::Trees, Ink::Curve(pen), Path::new().open(&points));
        // The name at the curve's end, or over the curve where there is no room beside it.
        let label = |x: f64, y: f64, anchor| board.text((x, y), anchor, Lettering::Note, name.clone());
        let places: Vec<_> = if narrow {
            points.iter().rev().step_by(3).map(|(x, y)| label(*x, y - em * 0.8, Anchor::End)).collect()
        } else {
            [0.0, -1.1, 1.1, -2.2, 2.2]
                .iter()
                .map(|off| label(end.0 + em * 0.5, end.1 + off * em, Anchor::Start))
                .collect()
        };
        board.write_first(LayerName::Furniture, places);
    }
    let title =
        board.text((em * 0.6, frame.height - em * 1.4), Anchor::Start, Lettering::Title, "Light by year");
    board.write(LayerName::Furniture, title);
    board.handle(Handle {
        parameter: "year",
        item: None,
        label: "Year".to_owned(),
        at: at(now, 0.0),
        grows: (1.0, 0.0),
        per_unit: LAST_YEAR / wide,
        value: now,
    });
    let description = describe(plan, years, &cut);
    let to = Projection { scale: wide / LAST_YEAR, origin: (x0, y0) };
    board.finish(View::Years, description, to, None)
}

fn describe(plan: &Plan, years: &[YearLight], cut: &str) -> String {
    let percent = |share: f64| format!("{} %", crate::measure::rounded(share * 100.0, 0));
    let said = years.iter().filter(|year| [2.0, 5.0, 10.0, LAST_YEAR].contains(&year.year)).map(|year| {
        format!(
            "year {}: {} caught, {} of the crown below {cut} %",
            crate::measure::rounded(year.year, 0),
            percent(year.intercepted),
            percent(year.crown.under[0]),
        )
    });
    let mut said = said.collect::<Vec<_>>().join("; ");
    if said.is_empty() {
        said.push_str("The years are still being summed");
    }
    format!("Light by year; year {} is shown. {said}.", crate::measure::rounded(plan.scenario.year, 1))
}
