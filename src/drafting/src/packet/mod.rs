//! The printed sheet set: one page a drawing, at a true scale chosen to fit, with frame, check bar and
//! title block.

pub mod order_list;
mod paper;
mod text;
pub mod title_block;

use crate::board::geometry::{Point, Projection, Size};
use crate::board::scale::{TrueScale, fitting};
use crate::board::sheet::{Held, Sheet};
use crate::board::{Frame, ScaleChoice};
use crate::dispatch::draw_with;
use crate::measure::Units;
use crate::view::View;
use crate::views::{Subject, demand};
use planting::Plan;
use title_block::{Fields, Imprint};

pub use paper::{Lie, MARGINS, Margins, Paper};
pub use text::{CAUTIONS, Item, PLANNING_ESTIMATE, Part, Rows, STATUS, Table, Worked, setting, text, title};

/// Part of the plan's width that the whole block may take: the 0.58 of its own area, and the free edge
/// of the detail beside it.
const OVERVIEW: f64 = 0.605;

/// Width and height left to the drawing `[mm]`.
fn room(paper: Paper, lie: Lie) -> Size {
    let size = paper::frame_size(paper, lie);
    Size::new(size.width, size.height - title_block::height(lie))
}

fn scale_lying(lie: Lie, subject: Subject, plan: &Plan, units: Units, paper: Paper) -> Option<TrueScale> {
    let room = room(paper, lie);
    let em = Frame::paper(room.width, room.height, units, 1.0).lettering;
    let over = (subject.over)(plan);
    let demand = demand(subject.view, plan, &*over)?;
    let part = if subject.view == View::Plan { OVERVIEW } else { 1.0 };
    let across = fitting(demand.ground.width, room.width * part - demand.beside.width * em, units);
    let upright = fitting(demand.ground.height, room.height - demand.beside.height * em, units);
    Some(if across.ratio > upright.ratio { across } else { upright })
}

/// How a view's sheet lies and at what scale it is printed: the largest standard scale at which all of
/// it fits. Where both ways give the same, the plan stands upright and a row lies flat. A view that
/// isn't to scale lies flat and has none.
pub fn true_scale(subject: Subject, plan: &Plan, units: Units, paper: Paper) -> (Lie, Option<TrueScale>) {
    let [upright, flat] = [Lie::Upright, Lie::Flat].map(|lie| scale_lying(lie, subject, plan, units, paper));
    let ratio = |scale: &Option<TrueScale>| scale.as_ref().map_or(1.0, |scale| scale.ratio);
    let stands = match subject.view {
        View::Plan => ratio(&upright) <= ratio(&flat),
        _ => ratio(&upright) < ratio(&flat),
    };
    if stands { (Lie::Upright, upright) } else { (Lie::Flat, flat) }
}

/// A sheet of the set, ready to print.
#[derive(Clone, Debug, PartialEq)]
pub struct Printed {
    /// The drawing with frame, check bar and title block: all that stands inside the margins, in millimetres.
    pub sheet: Sheet,
    /// How the paper lies.
    pub lie: Lie,
    /// The drawing's scale; none for a view that isn't to scale.
    pub scale: Option<TrueScale>,
}

/// One drawing on a sheet of its own, the one with this number of the set.
pub fn drawing(
    subject: Subject,
    number: usize,
    plan: &Plan,
    units: Units,
    paper: Paper,
    imprint: Imprint,
) -> Printed {
    let (lie, scale) = true_scale(subject, plan, units, paper);
    let size = room(paper, lie);
    let frame = Frame::paper(size.width, size.height, units, scale.as_ref().map_or(1.0, |scale| scale.ratio));
    let frame = if scale.is_some() { frame } else { frame.with_scale(ScaleChoice::Fit) };
    let over = (subject.over)(plan);
    let mut sheet = draw_with(subject.view, plan, frame, &*over);
    let mut label = scale.as_ref().map_or_else(|| "not to scale".to_owned(), |scale| scale.label.clone());
    if let Some((detail, scale)) = true_detail(&sheet, plan, units) {
        let held = Held { main: sheet.projection, detail: Some(detail) };
        sheet = draw_with(subject.view, plan, frame.with_scale(ScaleChoice::Hold(held)), &*over);
        label = format!("{label}; detail {}", scale.label);
    }
    let fields = Fields {
        imprint,
        title: subject.title,
        scale: &label,
        number: format!("{number} of {}", imprint.sheets),
    };
    let whole = paper::frame_size(paper, lie);
    sheet.height = whole.height;
    if let Some(furniture) = sheet.layers.last_mut() {
        furniture.extend(title_block::marks(paper, lie, whole, &fields));
    }
    Printed { sheet, lie, scale }
}

/// The detail of a plan at the next standard scale, its middle where it was.
fn true_detail(sheet: &Sheet, plan: &Plan, units: Units) -> Option<(Projection, TrueScale)> {
    let free = sheet.detail?;
    let scale = fitting(1.0, free.scale, units);
    let held = 1000.0 / scale.ratio;
    // The origin lies on the first of two rows, half a row left of the middle.
    let middle = if plan.block.rows > 1 { plan.scenario.block.row_width.value / 2.0 } else { 0.0 };
    let origin = Point::new(free.origin.x + middle * (free.scale - held), free.origin.y);
    Some((Projection { scale: held, origin }, scale))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::geometry::Bounds;
    use crate::board::sheet::{Ink, Mark};
    use crate::dispatch::sheet_set;
    use planting::{Scenario, TrainingSystem, feet};

    const IMPRINT: Imprint = Imprint {
        planting: "Vertical trellis (hedgerow) on Supporter 4, 12.34 m × 12.34 m, year 25",
        date: "2026-01-31",
        sheets: 4,
    };

    fn plans() -> Vec<Plan> {
        let scenario = |change: fn(&mut Scenario)| {
            let mut scenario = Scenario::default();
            change(&mut scenario);
            planting::plan(&scenario).unwrap()
        };
        vec![
            scenario(|_| ()),
            scenario(|it| (it.block.in_row_spacing, it.block.row_width) = (feet(2.0), feet(8.0))),
            scenario(|it| (it.block.in_row_spacing, it.block.row_width) = (feet(15.0), feet(20.0))),
            scenario(|it| it.block.block_width = feet(25.0)),
            scenario(|it| (it.block.block_width, it.block.block_length) = (feet(2640.0), feet(1650.0))),
            planting::plan(&Scenario::for_system(TrainingSystem::VTrellis)).unwrap(),
        ]
    }

    fn everywhere(mut check: impl FnMut(&Printed, Subject, &Plan, Units, Paper)) {
        for plan in plans() {
            for (view, paper) in
                sheet_set().into_iter().flat_map(|view| [(view, Paper::Letter), (view, Paper::A4)])
            {
                for units in [Units::Us, Units::Metric] {
                    check(&drawing(view, 1, &plan, units, paper, IMPRINT), view, &plan, units, paper);
                }
            }
        }
    }

    #[test]
    fn a_known_length_is_as_long_as_the_scale_says() {
        everywhere(|printed, view, _, _, _| {
            let drawn = printed.sheet.projection.scale * feet(660.0).value;
            let ratio = printed.scale.as_ref().unwrap().ratio;
            let expected = feet(660.0).value * 1000.0 / ratio;
            assert!((drawn / expected - 1.0).abs() < 1e-12, "{view:?}");
        });
    }

    #[test]
    fn the_detail_has_a_true_scale_that_is_stated() {
        everywhere(|printed, _, _, _, _| {
            let Some(detail) = printed.sheet.detail else { return };
            let ratio = crate::measure::rounded(1000.0 / detail.scale, 0).replace(',', " ");
            let texts: Vec<&str> = printed.sheet.texts().map(|text| text.content.as_str()).collect();
            assert!(texts.join(" ").contains(&format!("1:{ratio}")), "1:{ratio} in {texts:?}");
        });
    }

    #[test]
    fn lettering_lies_inside_the_frame_apart_and_is_seven_point() {
        everywhere(|printed, view, _, units, paper| {
            let sheet = &printed.sheet;
            let frame = Bounds::between(Point::default(), Point::new(sheet.width, sheet.height));
            let texts: Vec<_> = sheet.texts().filter(|text| !text.content.is_empty()).collect();
            let mut left = texts.as_slice();
            while let [text, others @ ..] = left {
                assert!(text.bounds().inside(&frame), "{view:?} {units:?} {paper:?}: {}", text.content);
                assert!(text.size * 72.0 / 25.4 >= 7.0, "{}", text.content);
                for other in others {
                    let meets = text.bounds().meets(&other.bounds());
                    assert!(!meets, "{view:?} {units:?} {paper:?}: {} on {}", text.content, other.content);
                }
                left = others;
            }
        });
    }

    #[test]
    fn every_sheet_has_its_check_bar() {
        for (paper, length, words) in [(Paper::A4, 100.0, "100 mm"), (Paper::Letter, 101.6, "4 in")] {
            let plan = planting::plan(&Scenario::default()).unwrap();
            for view in sheet_set() {
                let sheet = drawing(view, 1, &plan, Units::Us, paper, IMPRINT).sheet;
                assert!(sheet.texts().any(|text| text.content.contains(words)));
                let furniture = sheet.layers.last().unwrap();
                let is_bar = |mark: &Mark| match mark {
                    Mark::Path { ink: Ink::Fine, path } => path
                        .lines()
                        .first()
                        .is_some_and(|line| (line.to.x - line.from.x - length).abs() < 1e-9),
                    _ => false,
                };
                assert!(furniture.iter().any(is_bar), "{view:?}");
            }
        }
    }
}
