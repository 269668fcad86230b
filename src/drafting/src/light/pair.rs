//! Two crowns side by side in the light of the season: one of this planting, and one of the wide
//! free-standing trees it replaces, on the same ground and at the same scale.

use super::field::{KEY_EMS, cuts, draw_field, draw_floor, draw_key};
use crate::board::geometry::{Point, Projection, Size, Span, convex_hull};
use crate::board::path::Path;
use crate::board::sheet::{Anchor, Ink, LayerName, Lettering, Sheet};
use crate::board::{Board, FOOT_EMS, Frame, ScaleChoice};
use crate::measure::{Units, rounded, write};
use crate::view::View;
use crate::views::tree::{Stem, across_outline, slopes};
use planting::light::Light;
use planting::light::{Array, Season};
use planting::{Crown, Ground, Quantity};

/// Room beside, above and below the pictures, in ems; below stand three lines of figures.
const SIDE: f64 = 1.0;
const ABOVE: f64 = 2.6;
const BELOW: f64 = 5.6;
/// Between the two pictures, in metres.
const GAP: f64 = 0.6;

/// One of the two.
struct Half<'a> {
    heading: String,
    crown: Crown,
    slopes: Vec<f64>,
    row_width: f64,
    in_row_spacing: f64,
    season: &'a Season,
}

fn high(plan: &Ground) -> f64 {
    plan.scenario.canopy.tree_height.value.max(Array::free_standing().crown.top)
}

/// Draws this planting's crown beside the wide tree's; `beside` is the season of the latter, as
/// [`planting::light::Memory::beside`] gives it.
pub fn draw(plan: &Ground, light: &Light, beside: &Season, frame: Frame) -> Sheet {
    let em = frame.lettering;
    let old = Array::free_standing();
    let row = plan.scenario.block.row_width.value;
    let ground = Size::new(row + GAP + old.row_width, high(plan));
    let room = frame.beside(Size::new(2.0 * SIDE, ABOVE + BELOW + KEY_EMS + FOOT_EMS));
    let scale = match frame.scale {
        ScaleChoice::Ratio(ratio) => 1000.0 / ratio,
        ScaleChoice::Hold(held) => held.main.scale,
        ScaleChoice::Fit => room.enlarges(ground).max(0.5),
    };
    let spare = Size::new(
        ((room.width - ground.width * scale) / 2.0).max(0.0),
        ((room.height - ground.height * scale) / 2.0).max(0.0),
    );
    let year = rounded(plan.scenario.canopy.year, 1);
    let halves = [
        Half {
            heading: format!("This planting, year {year}"),
            crown: plan.canopy.shown.crown,
            slopes: slopes(plan),
            row_width: row,
            in_row_spacing: plan.scenario.block.in_row_spacing.value,
            season: &light.season,
        },
        Half {
            heading: "Free-standing, grown".to_owned(),
            crown: old.crown,
            slopes: vec![0.0],
            row_width: old.row_width,
            in_row_spacing: old.in_row_spacing,
            season: beside,
        },
    ];
    let mut board = Board::new(frame);
    let level = (ABOVE * em) + spare.height + ground.height * scale;
    let mut left = SIDE * em + spare.width;
    // Words stand in two even columns, or those of a narrow picture would run into the other's.
    let mut column = frame.width / 4.0;
    let mut first = None;
    for half in &halves {
        let to = Projection { scale, origin: Point::new(left + half.row_width / 2.0 * scale, level) };
        first = first.or(Some(to));
        picture(&mut board, plan, half, &to);
        words(&mut board, plan, half, Point::new(column, level));
        column += frame.width / 2.0;
        left += (half.row_width + GAP) * scale;
    }
    let (width, height) = (board.frame.width, board.frame.height);
    draw_key(&mut board, cuts(plan));
    let strip = Span::new(em * 0.6, width - em * 0.6);
    board.title_and_bar("Two crowns, one scale", scale, strip, height - em * 0.2);
    let description = describe(plan, &halves);
    let to = first.unwrap_or(Projection { scale, origin: Point::new(0.0, level) });
    board.finish(View::Pair, description, to, None)
}

fn describe(plan: &Ground, halves: &[Half; 2]) -> String {
    let said = halves.iter().map(|half| {
        format!(
            "{}: {} of the light caught, {} of the crown below {}",
            half.heading,
            percent(half.season.intercepted),
            percent(half.season.crown.under[0]),
            percent(plan.scenario.light.light_for_flowers.value),
        )
    });
    format!("Two crowns in the light of the season. {}.", said.collect::<Vec<_>>().join("; "))
}

fn percent(share: f64) -> String {
    format!("{} %", rounded(share * 100.0, 0))
}

fn picture(board: &mut Board, plan: &Ground, half: &Half, to: &Projection) {
    let side = half.row_width / 2.0;
    let across = Span::new(-side, side);
    draw_field(board, &half.season.map, cuts(plan), across, to);
    draw_floor(board, &half.season.floor, half.row_width, cuts(plan), across, to);
    let (mut crowns, mut trunks) = (Path::new(), Path::new());
    for slope in &half.slopes {
        let outline = convex_hull(across_outline(&half.crown, Stem { foot: 0.0, slope: *slope }));
        crowns = crowns.closed(&to.outline(&outline));
        trunks = trunks.line(to.paper(0.0, 0.0), to.paper(slope * half.crown.top, half.crown.top));
    }
    board.path(LayerName::Crowns, Ink::CrownEdge, crowns);
    board.path(LayerName::Trees, Ink::Trunk, trunks);
    let ground = Path::new().line(to.paper(-side, 0.0), to.paper(side, 0.0));
    board.path(LayerName::Ground, Ink::Ground, ground);
}

/// What is said of a half: its heading above, and its figures below a point on the ground line.
fn words(board: &mut Board, plan: &Ground, half: &Half, ground: Point) {
    let em = board.em();
    let units = board.units();
    let heading =
        board.text(Point::new(ground.x, em * 1.1), Anchor::Middle, Lettering::Label, half.heading.clone());
    board.write(LayerName::Furniture, heading);
    let length = |value: f64| match units {
        Units::Us => format!("{} ft", rounded(value / 0.3048, 1)),
        Units::Metric => format!("{} m", rounded(value, 1)),
    };
    let per_acre = 1.0 / (half.in_row_spacing * half.row_width);
    let lines = [
        format!(
            "{} × {}, {}",
            length(half.in_row_spacing),
            length(half.row_width),
            write(per_acre, Quantity::PerAcre, units)
        ),
        format!("catches {} of the light", percent(half.season.intercepted)),
        format!(
            "{} of crown below {}",
            percent(half.season.crown.under[0]),
            percent(plan.scenario.light.light_for_flowers.value)
        ),
    ];
    for (line, content) in lines.into_iter().enumerate() {
        let down = [1.6, 2.9, 4.2].get(line).copied().unwrap_or(1.6);
        let text = board.text(ground.moved(0.0, em * down), Anchor::Middle, Lettering::Note, content);
        board.write(LayerName::Furniture, text);
    }
}
