//! Two crowns side by side in the light of the season: one of this planting, and one of the wide
//! free-standing trees it replaces, on the same ground and at the same scale.

use crate::board::{Board, Frame, ScaleChoice};
use crate::furniture::FOOT_EMS;
use crate::light_field::{KEY_EMS, Window, draw_field, draw_floor, draw_key};
use crate::measure::{Units, write};
use crate::path::Path;
use crate::section_view::cuts;
use crate::sheet::{Anchor, Ink, LayerName, Lettering, Projection, Sheet, View};
use crate::tree::{across_outline, convex_hull};
use planting::light::{Array, Season};
use planting::{Crown, Plan, Quantity};

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

fn high(plan: &Plan) -> f64 {
    plan.scenario.tree_height.value.max(Array::free_standing().crown.top)
}

/// Width and height of ground the pair needs, and the paper beside it in ems.
pub(crate) fn demand(plan: &Plan) -> ((f64, f64), (f64, f64)) {
    let wide = plan.scenario.row_width.value + GAP + Array::free_standing().row_width;
    ((wide, high(plan)), (2.0 * SIDE, ABOVE + BELOW + KEY_EMS + FOOT_EMS))
}

/// Draws this planting's crown beside the wide tree's; `beside` is the season of the latter, as
/// [`planting::light::Memory::beside`] gives it.
pub fn draw(plan: &Plan, beside: &Season, frame: Frame) -> Sheet {
    let em = frame.lettering;
    let ((wide, high), (side, other)) = demand(plan);
    let room = (frame.width - side * em, frame.height - other * em);
    let scale = match frame.scale {
        ScaleChoice::Ratio(ratio) => 1000.0 / ratio,
        ScaleChoice::Hold(held, _) => held.scale,
        ScaleChoice::Fit => (room.0 / wide).min(room.1 / high).max(0.5),
    };
    let spare = (((room.0 - wide * scale) / 2.0).max(0.0), ((room.1 - high * scale) / 2.0).max(0.0));
    let old = Array::free_standing();
    let row = plan.scenario.row_width.value;
    let slope = plan.scenario.lean.value.tan();
    let year = crate::measure::rounded(plan.scenario.year, 1);
    let halves = [
        Half {
            heading: format!("This planting, year {year}"),
            crown: plan.canopy.shown.crown,
            slopes: if slope > 0.0 { vec![-slope, slope] } else { vec![0.0] },
            row_width: row,
            in_row_spacing: plan.scenario.in_row_spacing.value,
            season: &plan.light.season,
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
    let ground = (ABOVE * em) + spare.1 + high * scale;
    let mut left = SIDE * em + spare.0;
    // Words stand in two even columns, or those of a narrow picture would run into the other's.
    let mut column = frame.width / 4.0;
    let mut first = None;
    for half in &halves {
        let to = Projection { scale, origin: (left + half.row_width / 2.0 * scale, ground) };
        first = first.or(Some(to));
        picture(&mut board, plan, half, &to);
        words(&mut board, plan, half, column, ground);
        column += frame.width / 2.0;
        left += (half.row_width + GAP) * scale;
    }
    let (width, height) = (board.frame.width, board.frame.height);
    draw_key(&mut board, cuts(plan), (em * 0.6, width - em * 1.2), height - (FOOT_EMS + KEY_EMS - 0.2) * em);
    board.title_and_bar("Two crowns, one scale", scale, (em * 0.6, width - em * 0.6), height - em * 0.2);
    let description = describe(plan, &halves);
    let to = first.unwrap_or(Projection { scale, origin: (0.0, ground) });
    board.finish(View::Pair, description, to, None)
}

fn describe(plan: &Plan, halves: &[Half; 2]) -> String {
    let said = halves.iter().map(|half| {
        format!(
            "{}: {} of the light caught, {} of the crown below {}",
            half.heading,
            percent(half.season.intercepted),
            percent(half.season.crown.under[0]),
            percent(plan.scenario.light_for_flowers.value),
        )
    });
    format!("Two crowns in the light of the season. {}.", said.collect::<Vec<_>>().join("; "))
}

fn percent(share: f64) -> String {
    format!("{} %", crate::measure::rounded(share * 100.0, 0))
}

fn picture(board: &mut Board, plan: &Plan, half: &Half, to: &Projection) {
    let side = half.row_width / 2.0;
    let window = Window { left: -side, right: side };
    draw_field(board, &half.season.map, cuts(plan), window, to);
    draw_floor(board, &half.season.floor, half.row_width, cuts(plan), window, to);
    let (mut crowns, mut trunks) = (Path::new(), Path::new());
    for slope in &half.slopes {
        let outline = convex_hull(across_outline(&half.crown, 0.0, *slope));
        crowns = crowns.closed(&outline.into_iter().map(|(x, z)| to.place(x, z)).collect::<Vec<_>>());
        trunks = trunks.line(to.place(0.0, 0.0), to.place(slope * half.crown.top, half.crown.top));
    }
    board.path(LayerName::Crowns, Ink::CrownEdge, crowns);
    board.path(LayerName::Trees, Ink::Trunk, trunks);
    let ground = Path::new().line(to.place(-side, 0.0), to.place(side, 0.0));
    board.path(LayerName::Ground, Ink::Ground, ground);
}

/// What is said of a half, its heading above and its figures below the ground.
fn words(board: &mut Board, plan: &Plan, half: &Half, middle: f64, ground: f64) {
    let em = board.em();
    let units = board.units();
    let heading = board.text((middle, em * 1.1), Anchor::Middle, Lettering::Label, half.heading.clone());
    board.write(LayerName::Furniture, heading);
    let length = |value: f64| match units {
        Units::Us => format!("{} ft", crate::measure::rounded(value / 0.3048, 1)),
        Units::Metric => format!("{} m", crate::measure::rounded(value, 1)),
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
            percent(plan.scenario.light_for_flowers.value)
        ),
    ];
    for (line, content) in lines.into_iter().enumerate() {
        let down = [1.6, 2.9, 4.2].get(line).copied().unwrap_or(1.6);
        let text = board.text((middle, ground + em * down), Anchor::Middle, Lettering::Note, content);
        board.write(LayerName::Furniture, text);
    }
}
