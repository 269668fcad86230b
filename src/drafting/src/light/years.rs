//! Light in the crowns year by year: what they catch, how much of them is too dark for flower buds, and
//! how much light reaches their lowest third.

use crate::board::geometry::{Direction, Span};
use crate::board::sheet::{Handle, Sheet};
use crate::board::{Board, Frame};
use crate::charts::{Axis, Chart, DataTable, Plot, Sample, Series};
use crate::measure::{Units, rounded, write};
use crate::view::View;
use planting::light::YearLight;
use planting::{Ground, LAST_YEAR, Quantity};

/// What a curve shows of a year, as a part of the light above or of the crown.
type Reading = fn(&YearLight) -> f64;

/// The chart of light by year; `years` is the light of every year, as
/// [`planting::light::Memory::by_year`] gives it.
fn chart(plan: &Ground, years: &[YearLight], units: Units) -> Chart {
    let cut = write(plan.scenario.light.light_for_flowers.value, Quantity::Share, units);
    let curve = |name: &str, reading: Reading| Series {
        name: name.to_owned(),
        samples: years.iter().map(|year| Sample { across: year.year, up: reading(year) }).collect(),
    };
    Chart {
        title: View::Years.title().to_owned(),
        across: Axis {
            label: "years since planting".to_owned(),
            quantity: Quantity::Years,
            span: Some(Span::new(0.0, LAST_YEAR)),
        },
        up: Axis {
            label: "part of light or crown".to_owned(),
            quantity: Quantity::Share,
            span: Some(Span::new(0.0, 1.0)),
        },
        plot: Plot::Lines(vec![
            curve("light caught", |year| year.intercepted),
            curve(&format!("crown below {cut}"), |year| year.crown.under[0]),
            curve("light, lowest third", |year| year.thirds[0].mean),
        ]),
        mark: Some(plan.scenario.canopy.year),
    }
}

/// The data behind the chart, a row a year.
///
/// ```
/// use drafting::{Units, light};
/// let plan = planting::plan(&planting::Scenario::default()).unwrap();
/// let table = light::years_table(&plan, &[], Units::Us);
/// assert_eq!(table.columns[..2], ["years since planting", "light caught"]);
/// assert!(table.rows.is_empty());
/// ```
pub fn table(plan: &Ground, years: &[YearLight], units: Units) -> DataTable {
    chart(plan, years, units).table(units)
}

/// Draws the chart, with a handle on the year shown.
pub fn draw(plan: &Ground, years: &[YearLight], frame: Frame) -> Sheet {
    let mut board = Board::new(frame);
    let chart = chart(plan, years, frame.units);
    let plotted = chart.draw(&mut board);
    let now = plan.scenario.canopy.year;
    let to = plotted.projection();
    board.handle(Handle {
        parameter: "year",
        item: None,
        label: "Year".to_owned(),
        at: plotted.point(now, 0.0),
        grows: Direction::RIGHT,
        per_unit: 1.0 / to.scale,
        value: now,
    });
    let shown = format!("Year {} is shown.", rounded(now, 1));
    board.finish(View::Years, format!("{} {shown}", chart.describe(frame.units)), to, None)
}
