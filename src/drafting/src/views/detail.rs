//! The enlarged detail of the plan: a few trees of two rows, from above.

use super::overlay::{DrawnTree, Overlay, Shown};
use super::tree::{crown_shape, crowns_from_above, row_ink, standing_at, with_crown};
use crate::board::geometry::{Bounds, Direction, Point, Projection, Size, Span, Spot, between};
use crate::board::path::Path;
use crate::board::sheet::{Anchor, Handle, Ink, LayerName, Lettering, ems};
use crate::board::{Board, Pass, ScaleChoice};
use planting::{Ground, PostedRun};

/// What the detail shows of the first row, in metres along it from the tree in the middle.
struct Cutout {
    /// Where that tree stands along the row.
    middle: f64,
    /// What is seen of the row.
    along: Span,
    /// The trees whose crowns it shows whole.
    trees: Vec<DrawnTree>,
    /// Those whose crowns are cut by its edges.
    cut: Vec<DrawnTree>,
}

/// Trees that touch the edge of the picture by no more than this count as inside it `[m]`: rounding of
/// places along a row of some kilometres.
const TOUCHES: f64 = 1e-9;

/// Most trees shown, so that a plan dragged to absurd ratios stays quick.
const MOST_TREES: usize = 400;

/// `picture` is where the picture ends, in metres from the tree in its middle.
fn cut_out(plan: &Ground, run: &PostedRun, picture: Span) -> Cutout {
    // Around a line post well inside the row, so that neither end is in the way; a short row whole.
    let half = picture.to.max(-picture.from);
    let inside = run.line_posts.iter().copied().find(|post| post - run.start > half && run.end - post > half);
    let centre = inside.unwrap_or((run.start + run.end) / 2.0);
    let nearest = (0..run.trees).rev().map(|tree| run.tree(tree)).find(|along| *along <= centre);
    let middle = nearest.unwrap_or(run.first_tree);
    let crown = plan.canopy.shown.crown;
    let half_crown = (crown.width_along(crown.base) / 2.0).min(run.spacing / 2.0) - TOUCHES;
    let standing = |number| DrawnTree { number, along: run.tree(number) - middle };
    let trees: Vec<DrawnTree> = (0..run.trees)
        .map(standing)
        // The tree in the middle and the next one stay, even while a hand pulls that out of the picture.
        .skip_while(|tree| tree.along - half_crown < picture.from && tree.along < -run.spacing * 0.5)
        .take_while(|tree| tree.along + half_crown <= picture.to || tree.along < run.spacing * 1.5)
        .take(MOST_TREES)
        .collect();
    // A crown reaches no further than halfway to the next tree, so an edge cuts at most one.
    let mut cut = Vec::new();
    let mut add = |number: usize| {
        let tree = standing(number);
        if number < run.trees && Span::point(tree.along).widened(half_crown).meets(picture) {
            cut.push(tree);
        }
    };
    if let (Some(first), Some(last)) = (trees.first(), trees.last()) {
        if first.number > 0 {
            add(first.number - 1);
        }
        add(last.number + 1);
    }
    let along = Span::new((run.start - middle).max(picture.from), (run.end - middle).min(picture.to));
    Cutout { middle, along, trees, cut }
}

/// The part of a crown's outline, seen from above, that lies between two places along the row; the line
/// of the cut runs from its last spot to its first.
fn cut_crown(outline: &[Spot], along: Span) -> Vec<Spot> {
    let turned = |spots: &[Spot]| spots.iter().map(|spot| spot.turned()).collect::<Vec<Spot>>();
    let mut part = turned(&between(&turned(outline), along));
    let on_edge =
        |spot: &Spot| (spot.up - along.from).abs() < TOUCHES || (spot.up - along.to).abs() < TOUCHES;
    // The first spot after the cut comes to the front; a cut from the last spot to the first stays.
    if let Some(before) = part.windows(2).position(|pair| pair.iter().all(on_edge)) {
        part.rotate_left(before + 1);
    }
    part
}

/// How the detail lies on its part of the sheet.
struct Layout {
    /// Where metres lie: the first row stands at 0 across, the tree in the middle at 0 along.
    to: Projection,
    /// From the lower end of the picture to its upper, along the rows `[m]`.
    picture: Span,
    /// Where rows stand `[m]`: two of them, or one.
    rows: Vec<f64>,
    /// Width of the strip under the crowns of a row `[m]`.
    canopy: f64,
}

/// None where there is no room for a picture.
fn lay_out(board: &Board, plan: &Ground, run: &PostedRun, area: Bounds) -> Option<Layout> {
    let em = board.em();
    let scenario = &plan.scenario;
    let (spacing, row) = (scenario.block.in_row_spacing.value, scenario.block.row_width.value);
    let rows = if plan.block.rows > 1 { vec![0.0, row] } else { vec![0.0] };
    let between_rows = rows.last().copied().unwrap_or(0.0);
    let canopy = (row - plan.canopy.clear_alley().value).max(0.4);
    let room = Size::new(area.across.length() - em * 6.6, area.down.length() - em * 7.4);
    if room.width < em * 6.0 || room.height < em * 5.0 {
        return None;
    }
    let held = match board.frame.scale {
        ScaleChoice::Hold(held) => held.detail,
        _ => None,
    };
    // Two trees at least, and the middle of the picture between them.
    let crown = plan.canopy.shown.crown;
    let least =
        Size::new(between_rows + canopy.min(row) + 0.4, spacing + crown.width_along(crown.base).min(spacing));
    let scale = held.map_or(room.enlarges(least), |held| held.scale);
    let centre = Point::new(
        area.across.from + em * 4.6 + room.width / 2.0,
        area.down.from + em * 2.6 + room.height / 2.0,
    );
    let half_way = if run.trees > 1 { spacing / 2.0 * scale } else { 0.0 };
    let to =
        held.unwrap_or(Projection { scale, origin: centre.moved(-between_rows / 2.0 * scale, half_way) });
    let (top, foot) = (centre.y - room.height / 2.0, centre.y + room.height / 2.0);
    let picture = Span::new((to.origin.y - foot) / scale, (to.origin.y - top) / scale);
    Some(Layout { to, picture, rows, canopy })
}

/// The enlarged detail: a few trees of two rows. Returns how metres lie in it.
pub(crate) fn draw_detail(
    board: &mut Board,
    plan: &Ground,
    area: Bounds,
    over: &dyn Overlay,
) -> Option<Projection> {
    let em = board.em();
    let run = plan.trellis.runs.first()?;
    let layout = lay_out(board, plan, run, area)?;
    let Layout { to, picture, ref rows, canopy } = layout;
    let shown = cut_out(plan, run, picture);
    let (first, last) = (*rows.first()?, *rows.last()?);
    let across = Span::new(-canopy / 2.0 - 0.2, last + canopy / 2.0 + 0.2);
    over.detail(board, plan, &Shown { across, up: shown.along, to }, &shown.trees);
    let post_radius =
        (plan.scenario.trellis.line_post_diameter.value / 2.0 * to.scale).max(2.0 * board.frame.weights[0]);
    trees_and_posts(board, plan, run, &layout, &shown, post_radius);
    let crown = plan.canopy.shown.crown;
    let half_crown = (run.spacing / 2.0).min(crown.width_along(crown.base));
    // What is drawn ends with the row, the last whole crown or the picture that cuts one, whichever is
    // further out on its side; `side` is 1 above and −1 below.
    let end = |picture_end: f64, row_end: f64, tree: Option<&DrawnTree>, side: f64| {
        let is_cut = |tree: &DrawnTree| (picture_end - tree.along).abs() <= half_crown;
        let crown_end = tree.map_or(0.0, |tree| (tree.along + side * half_crown) * side);
        let cut_end = if shown.cut.iter().any(is_cut) { picture_end * side } else { crown_end };
        to.paper(0.0, (row_end * side).max(crown_end).max(cut_end) * side).y
    };
    let levels = Span::new(
        end(picture.to, shown.along.to, shown.trees.last(), 1.0),
        end(picture.from, shown.along.from, shown.trees.first(), -1.0),
    );
    let middle = Span::new(to.paper(first, 0.0).x, to.paper(last, 0.0).x).middle();
    let at = Point::new(middle, levels.from - em * 1.1 - post_radius);
    let heading = board.text(at, Anchor::Middle, Lettering::Note, "Detail, enlarged");
    board.write(LayerName::Furniture, heading);
    for pass in Pass::BOTH {
        board.pass = pass;
        spacing_along(board, plan, &layout, &shown);
        if rows.len() > 1 {
            spacing_across(board, plan, &layout, &shown, levels.to);
        }
    }
    board.keep_clear(Bounds { across: Span::point(area.across.from), down: levels });
    Some(to)
}

/// Crowns and stems of the rows, their lines and posts.
fn trees_and_posts(
    board: &mut Board,
    plan: &Ground,
    run: &PostedRun,
    layout: &Layout,
    shown: &Cutout,
    post_radius: f64,
) {
    let Layout { to, picture, rows, .. } = layout;
    let shapes = crowns_from_above(plan);
    let (mut bodies, mut trunks, mut lines, mut posts) = (Path::new(), Path::new(), Path::new(), Path::new());
    // Where the picture ends inside a crown, the crown goes on: no line is drawn along the cut.
    let (mut cut_bodies, mut cut_edges) = (Path::new(), Path::new());
    let trunk = (0.06 * to.scale).max(board.frame.weights[2]);
    let wired = plan.scenario.trellis.support.has_wires();
    for x in rows {
        for tree in &shown.trees {
            let foot = Spot::new(*x, tree.along);
            bodies = with_crown(bodies, &shapes, tree.number, foot, to);
            trunks = trunks.circle(to.spot(foot), trunk);
        }
        for tree in &shown.cut {
            let foot = Spot::new(*x, tree.along);
            let crown = standing_at(crown_shape(&shapes, tree.number), foot);
            let part = to.outline(&cut_crown(&crown, *picture));
            cut_bodies = cut_bodies.closed(&part);
            cut_edges = cut_edges.open(&part);
            if picture.holds(tree.along) {
                trunks = trunks.circle(to.spot(foot), trunk);
            }
        }
        lines = lines.line(to.paper(*x, shown.along.from), to.paper(*x, shown.along.to));
        if wired {
            let ends = [run.start, run.end];
            for post in run.line_posts.iter().chain(&ends).map(|post| post - shown.middle) {
                if shown.along.holds(post) {
                    posts = posts.circle(to.paper(*x, post), post_radius);
                }
            }
        }
    }
    board.path(LayerName::Crowns, Ink::Crown, bodies.clone().joined(cut_bodies));
    board.path(LayerName::Crowns, Ink::CrownEdge, bodies.joined(cut_edges));
    board.path(LayerName::Crowns, row_ink(plan), lines);
    board.path(LayerName::Trees, Ink::Trunk, trunks);
    board.path(LayerName::Trellis, Ink::Post, posts);
}

/// The in-row spacing, between the tree in the middle and the next.
fn spacing_along(board: &mut Board, plan: &Ground, layout: &Layout, shown: &Cutout) {
    let to = &layout.to;
    let mut pairs = shown.trees.windows(2);
    let Some([low, high]) = pairs.find(|pair| pair.iter().all(|tree| tree.along > -TOUCHES)) else { return };
    let spacing = plan.scenario.block.in_row_spacing.value;
    let levels = Span::new(to.paper(0.0, high.along).y, to.paper(0.0, low.along).y);
    let text = board.length(spacing);
    let centre = to.paper(0.0, 0.0).x;
    let line = to.paper(-layout.canopy / 2.0, 0.0).x.min(centre) - board.em() * 1.0;
    board.measuring("in_row_spacing", None, |board| {
        board.upright(levels, line, Span::point(centre), &text);
    });
    let handle = Handle {
        parameter: "in_row_spacing",
        item: None,
        label: "In-row spacing".to_owned(),
        at: Point::new(centre, levels.from),
        grows: Direction::UP,
        per_unit: 1.0 / to.scale,
        value: spacing,
    };
    board.measuring("", None, |board| board.handle(handle));
}

/// The row width and the alley, below what is drawn.
fn spacing_across(board: &mut Board, plan: &Ground, layout: &Layout, shown: &Cutout, foot: f64) {
    let Layout { to, canopy, .. } = layout;
    let row = plan.scenario.block.row_width.value;
    let x = |metres: f64| to.paper(metres, 0.0).x;
    let lane = board.lane();
    let alley = board.length(plan.canopy.clear_alley().value);
    // Where the alley is too narrow for its figure, the cross-section gives it.
    if plan.canopy.clear_alley().value * to.scale > (ems(&alley) + 0.5) * board.em() {
        let uprights = Span::new(x(canopy / 2.0), x(row - canopy / 2.0));
        board.measuring("", None, |board| {
            board.across(uprights, foot + lane, foot, &alley);
        });
    }
    let text = board.length(row);
    board.measuring("row_width", None, |board| {
        board.across(Span::new(x(0.0), x(row)), foot + 2.0 * lane, foot, &text);
    });
    let handle = Handle {
        parameter: "row_width",
        item: None,
        label: "Row width".to_owned(),
        at: to.paper(row, shown.trees.first().map_or(0.0, |tree| tree.along)),
        grows: Direction::RIGHT,
        per_unit: 1.0 / to.scale,
        value: row,
    };
    board.measuring("", None, |board| board.handle(handle));
}

#[cfg(test)]
mod tests {
    use crate::board::geometry::Point;
    use crate::board::path::Path;
    use crate::board::sheet::{Ink, LayerName, Mark, Sheet};
    use crate::{Frame, Units, View, draw};
    use planting::Scenario;

    /// The paths of one ink in the crowns' layer that lie in the detail, which is drawn after the overview.
    fn detail_path(sheet: &Sheet, inks: &[Ink]) -> Path {
        let index = LayerName::ALL.iter().position(|name| *name == LayerName::Crowns).unwrap();
        let of = |mark: &Mark| match mark {
            Mark::Path { ink, path } if inks.contains(ink) => Some(path.clone()),
            _ => None,
        };
        sheet.layers[index].iter().rev().find_map(of).unwrap()
    }

    /// Where the picture ends inside a crown, the part of the crown inside the picture is drawn.
    #[test]
    fn a_crown_cut_by_the_edge_keeps_its_half() {
        let mut tried = 0;
        for spacing_ft in [3.0, 4.0] {
            for (width, height) in [(720.0, 420.0), (1280.0, 800.0), (900.0, 700.0), (1100.0, 500.0)] {
                for year in [2.0, 6.0, 20.0] {
                    let in_row_spacing = planting::feet(spacing_ft);
                    let scenario = Scenario::default().with(|s| {
                        s.canopy.year = year;
                        s.block.in_row_spacing = in_row_spacing;
                    });
                    let plan = planting::plan(&scenario).unwrap();
                    let sheet = draw(View::Plan, &plan, Frame::screen(width, height, Units::Us));
                    let to = sheet.detail.unwrap();
                    let spacing = in_row_spacing.value;
                    let crown = plan.canopy.shown.crown;
                    let half = (crown.width_along(crown.base) / 2.0).min(spacing / 2.0);
                    let rows = detail_path(&sheet, &[Ink::Wire, Ink::Centre]).lines();
                    for (end, inward) in [(rows[0].to.y, 1.0), (rows[0].from.y, -1.0)] {
                        // The outermost tenth of the picture's last tree, on the line of the stems.
                        let edge = (to.origin.y - end) / to.scale;
                        let point = Point::new(to.origin.x, end + inward * 0.02 * half * to.scale);
                        let from_tree = edge - (edge / spacing).round() * spacing;
                        if from_tree.abs() < half * 0.8 {
                            let crowns = detail_path(&sheet, &[Ink::Crown]);
                            assert!(crowns.covers(point), "{spacing_ft} ft, {width} × {height}, year {year}");
                            tried += 1;
                        }
                    }
                }
            }
        }
        assert!(tried > 10, "{tried} cut crowns");
    }
}
