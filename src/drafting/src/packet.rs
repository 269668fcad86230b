//! The printed sheet set: one page a drawing, at a true scale chosen to fit, with frame, check bar and
//! title block.

use crate::board::{Frame, ScaleChoice};
use crate::light_field::Daylight;
use crate::measure::Units;
use crate::scale::{TrueScale, fitting};
use crate::sheet::{Projection, Sheet, View};
use crate::title_block::{self, Fields, Imprint};
use planting::Plan;

/// Paper a sheet set is printed on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// US Letter, 8.5 × 11 in.
    #[default]
    Letter,
    /// ISO 216 A4, 210 × 297 mm.
    A4,
}

impl Paper {
    /// Stable key.
    pub fn key(self) -> &'static str {
        match self {
            Paper::Letter => "letter",
            Paper::A4 => "a4",
        }
    }

    /// The name shown.
    pub fn label(self) -> &'static str {
        match self {
            Paper::Letter => "Letter (8.5 × 11 in)",
            Paper::A4 => "A4 (210 × 297 mm)",
        }
    }

    /// Width and height of the sheet, upright `[mm]`.
    pub fn size(self) -> (f64, f64) {
        match self {
            Paper::Letter => (215.9, 279.4),
            Paper::A4 => (210.0, 297.0),
        }
    }
}

/// How a sheet lies when it is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lie {
    /// The long side up.
    Upright,
    /// The long side across.
    Flat,
}

/// Margins outside the frame: top, right, bottom, left `[mm]`, the left one for filing (ISO 5457).
pub const MARGINS: [f64; 4] = [10.0, 10.0, 10.0, 20.0];

/// What a sheet stays below its page, so that rounding never makes a blank page after it `[mm]`.
const HAIR: f64 = 0.5;

/// Share of the plan's width that the whole block may take: the 0.58 of its own area, and the free edge
/// of the detail beside it.
const OVERVIEW: f64 = 0.605;

/// Width and height inside the margins `[mm]`.
fn frame_size(paper: Paper, lie: Lie) -> (f64, f64) {
    let [top, right, bottom, left] = MARGINS;
    let (short, long) = paper.size();
    let (width, height) = match lie {
        Lie::Upright => (short, long),
        Lie::Flat => (long, short),
    };
    (width - left - right, height - top - bottom - HAIR)
}

/// Width and height left to the drawing `[mm]`.
fn room(paper: Paper, lie: Lie) -> (f64, f64) {
    let (width, height) = frame_size(paper, lie);
    (width, height - title_block::height(lie))
}

/// A sheet of the set: a view and the light it shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Subject {
    /// The view.
    pub view: View,
    /// The light it shows.
    pub light: Daylight,
}

/// The sheets, in order.
pub const SET: [Subject; 4] = [
    Subject { view: View::Plan, light: Daylight::Plain },
    Subject { view: View::Section, light: Daylight::Plain },
    Subject { view: View::Elevation, light: Daylight::Plain },
    Subject { view: View::Section, light: Daylight::Season },
];

impl Subject {
    /// What the title block calls it.
    pub fn title(self) -> &'static str {
        match self.light {
            Daylight::Plain => self.view.title(),
            Daylight::Season => "Light of the season",
            Daylight::Hour => "Shade at one hour",
        }
    }
}

fn demand(subject: Subject, plan: &Plan) -> ((f64, f64), (f64, f64)) {
    match subject.view {
        View::Plan => crate::plan_view::demand(plan),
        View::Section => crate::section_view::demand(plan, subject.light),
        View::Elevation => crate::elevation_view::demand(plan),
        View::Pair | View::Years => crate::pair_view::demand(plan),
    }
}

fn scale_lying(lie: Lie, subject: Subject, plan: &Plan, units: Units, paper: Paper) -> TrueScale {
    let (width, height) = room(paper, lie);
    let em = Frame::paper(width, height, units, 1.0).lettering;
    let ((wide, high), (beside, above)) = demand(subject, plan);
    let share = if subject.view == View::Plan { OVERVIEW } else { 1.0 };
    let across = fitting(wide, width * share - beside * em, units);
    let upright = fitting(high, height - above * em, units);
    if across.ratio > upright.ratio { across } else { upright }
}

/// How a view's sheet lies and at what scale it is printed: the largest standard scale at which all of
/// it fits. Where both ways give the same, the plan stands upright and a row lies flat.
pub fn true_scale(subject: Subject, plan: &Plan, units: Units, paper: Paper) -> (Lie, TrueScale) {
    let upright = scale_lying(Lie::Upright, subject, plan, units, paper);
    let flat = scale_lying(Lie::Flat, subject, plan, units, paper);
    let stands = match subject.view {
        View::Plan => upright.ratio <= flat.ratio,
        View::Section | View::Elevation | View::Pair | View::Years => upright.ratio < flat.ratio,
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
    /// The drawing's scale.
    pub scale: TrueScale,
}

/// One drawing on a sheet of its own.
pub fn drawing(subject: Subject, plan: &Plan, units: Units, paper: Paper, imprint: Imprint) -> Printed {
    let (lie, scale) = true_scale(subject, plan, units, paper);
    let (width, height) = room(paper, lie);
    let frame = Frame::paper(width, height, units, scale.ratio).with_light(subject.light);
    let mut sheet = crate::draw(subject.view, plan, frame);
    let mut label = scale.label.clone();
    if let Some((held, detail)) = true_detail(&sheet, plan, units) {
        sheet = crate::draw(
            subject.view,
            plan,
            frame.with_scale(ScaleChoice::Hold(sheet.projection, Some(held))),
        );
        label = format!("{label}; detail {}", detail.label);
    }
    let place = SET.iter().position(|known| *known == subject).unwrap_or(0) + 1;
    let fields = Fields {
        imprint,
        title: subject.title(),
        scale: &label,
        number: format!("{place} of {}", SET.len()),
    };
    let whole = frame_size(paper, lie);
    sheet.height = whole.1;
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
    let middle = if plan.block.rows > 1 { plan.scenario.row_width.value / 2.0 } else { 0.0 };
    let origin = (free.origin.0 + middle * (free.scale - held), free.origin.1);
    Some((Projection { scale: held, origin }, scale))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::{Bounds, Ink, Mark};
    use planting::{Scenario, TrainingSystem, feet};

    const IMPRINT: Imprint = Imprint {
        planting: "Vertical trellis (hedgerow) on Supporter 4, 12.34 m × 12.34 m, year 25",
        date: "2026-01-31",
    };

    fn plans() -> Vec<Plan> {
        let scenario = |change: fn(&mut Scenario)| {
            let mut scenario = Scenario::default();
            change(&mut scenario);
            planting::plan(&scenario).unwrap()
        };
        vec![
            scenario(|_| ()),
            scenario(|it| (it.in_row_spacing, it.row_width) = (feet(2.0), feet(8.0))),
            scenario(|it| (it.in_row_spacing, it.row_width) = (feet(15.0), feet(20.0))),
            scenario(|it| it.block_width = feet(25.0)),
            scenario(|it| (it.block_width, it.block_length) = (feet(2640.0), feet(1650.0))),
            planting::plan(&Scenario::for_system(TrainingSystem::VTrellis)).unwrap(),
        ]
    }

    fn everywhere(mut check: impl FnMut(&Printed, Subject, &Plan, Units, Paper)) {
        for plan in plans() {
            for (view, paper) in SET.into_iter().flat_map(|view| [(view, Paper::Letter), (view, Paper::A4)]) {
                for units in [Units::Us, Units::Metric] {
                    check(&drawing(view, &plan, units, paper, IMPRINT), view, &plan, units, paper);
                }
            }
        }
    }

    #[test]
    fn a_known_length_is_as_long_as_the_scale_says() {
        everywhere(|printed, view, _, _, _| {
            let drawn = printed.sheet.projection.scale * feet(660.0).value;
            let expected = feet(660.0).value * 1000.0 / printed.scale.ratio;
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
            let frame = Bounds { left: 0.0, top: 0.0, right: sheet.width, bottom: sheet.height };
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
            for view in SET {
                let sheet = drawing(view, &plan, Units::Us, paper, IMPRINT).sheet;
                assert!(sheet.texts().any(|text| text.content.contains(words)));
                let furniture = sheet.layers.last().unwrap();
                let ends = |d: &str| {
                    let numbers: Vec<f64> = d
                        .split(|c: char| !c.is_ascii_digit() && c != '.')
                        .filter_map(|n| n.parse().ok())
                        .collect();
                    (numbers.first().copied(), numbers.get(2).copied())
                };
                let is_bar = |mark: &Mark| match mark {
                    Mark::Path { ink: Ink::Fine, d } => {
                        let (from, to) = ends(d);
                        from.zip(to).is_some_and(|(from, to)| (to - from - length).abs() < 0.011)
                    }
                    _ => false,
                };
                assert!(furniture.iter().any(is_bar), "{view:?}");
            }
        }
    }
}
