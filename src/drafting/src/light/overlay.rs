//! The light of the season and of an hour over the views of a planting.

use super::Daylight;
use super::field::{KEY_EMS, Strip, cuts, draw_field, draw_floor, draw_key, floor_strips};
use crate::board::Board;
use crate::board::geometry::{Point, Span, Spot, between, convex_hull};
use crate::board::path::Path;
use crate::board::sheet::{Anchor, Ink, LayerName, Lettering};
use crate::measure::{rounded, write};
use crate::view::View;
use crate::views::tree::{Stem, across_outline, level_outline, slopes};
use crate::views::{Asks, DrawnTree, Overlay, Plain, Shown};
use planting::light::{Light, Moment};
use planting::order::within;
use planting::{Ground, Quantity};

/// What light adds to the views of a planting; nothing to plain ones.
///
/// ```
/// use drafting::{Daylight, Frame, LayerName, Units, View, draw_with, light};
/// let plan = planting::plan(&planting::Scenario::default()).unwrap();
/// let frame = Frame::screen(720.0, 420.0, Units::Us);
/// let marks = |daylight| {
///     draw_with(View::Section, &plan, frame, &*light::over(daylight, &plan.light)).layers[1].len()
/// };
/// assert_eq!(LayerName::ALL[1], LayerName::Light);
/// assert_eq!(marks(Daylight::Plain), 0);
/// assert!(marks(Daylight::Season) > 6 && marks(Daylight::Hour) > 0);
/// ```
pub fn over(daylight: Daylight, light: &Light) -> Box<dyn Overlay + '_> {
    match daylight {
        Daylight::Plain => Box::new(Plain),
        Daylight::Season => Box::new(OfSeason(light)),
        Daylight::Hour => Box::new(OfHour(light)),
    }
}

/// The light of a season: bands through crowns and alley, and along the ground.
struct OfSeason<'a>(&'a Light);

/// Shade at the date and hour set.
struct OfHour<'a>(&'a Light);

impl Overlay for OfSeason<'_> {
    fn asks(&self, view: View) -> Asks {
        match view {
            View::Section => Asks { below: KEY_EMS, above_ground: true, fills: true, ..Asks::default() },
            // Crowns look alike beside the section, though the elevation has no light of its own.
            View::Elevation => Asks { fills: true, ..Asks::default() },
            _ => Asks::default(),
        }
    }

    fn section(&self, board: &mut Board, plan: &Ground, ground: &Shown) {
        let light = &self.0.season;
        draw_field(board, &light.map, cuts(plan), ground.across, &ground.to);
        let row = plan.scenario.block.row_width.value;
        draw_floor(board, &light.floor, row, cuts(plan), ground.across, &ground.to);
    }

    fn key(&self, board: &mut Board, plan: &Ground, view: View) {
        if view == View::Section {
            draw_key(board, cuts(plan));
        }
    }

    fn detail(&self, board: &mut Board, plan: &Ground, ground: &Shown, _trees: &[DrawnTree]) {
        let row = plan.scenario.block.row_width.value;
        for Strip { band, across } in floor_strips(&self.0.season.floor, row, cuts(plan), ground.across) {
            let (from, to) =
                (ground.to.paper(across.from, ground.up.from), ground.to.paper(across.to, ground.up.to));
            board.path(LayerName::Light, Ink::Light(band), Path::new().rectangle(from, to));
        }
    }
}

impl Overlay for OfHour<'_> {
    fn asks(&self, view: View) -> Asks {
        match view {
            // The sun's note stands above the picture.
            View::Section => Asks { above: 1.6, above_ground: true, ..Asks::default() },
            _ => Asks::default(),
        }
    }

    fn section(&self, board: &mut Board, plan: &Ground, ground: &Shown) {
        shade_in_section(board, plan, &self.0.moment, ground);
    }

    fn detail(&self, board: &mut Board, plan: &Ground, ground: &Shown, trees: &[DrawnTree]) {
        shade_in_detail(board, plan, &self.0.moment, ground, trees);
    }
}

/// Most rows beyond the picture whose shade is drawn: at a sun so low that more would reach into it, all
/// lies in shade.
const MOST_ROWS_BEYOND: f64 = 60.0;

/// Shade at the date and hour set, as seen along the rows, with a ray over each crown's top.
fn shade_in_section(board: &mut Board, plan: &Ground, moment: &Moment, ground: &Shown) {
    let em = board.em();
    let units = board.units();
    let to = &ground.to;
    let degrees = |angle: f64| write(angle, Quantity::Angle, units);
    let time = rounded(plan.scenario.light.sun_hour, 2);
    let note = match moment.shadow {
        Some(shadow) => {
            let row = plan.scenario.block.row_width.value;
            let twin = plan.block.rows > 1;
            // Rows beyond the picture throw shade into it.
            let beyond = (ground.up.to * shadow.across.abs() / row).ceil().min(MOST_ROWS_BEYOND);
            let last = if twin { 1.0 + beyond } else { 0.0 };
            let (mut veils, mut rays) = (Path::new(), Path::new());
            let mut number = if twin { -beyond } else { 0.0 };
            while number <= last {
                for slope in slopes(plan) {
                    let stem = Stem { foot: number * row, slope };
                    let outline = across_outline(&plan.canopy.shown.crown, stem);
                    let cast =
                        outline.iter().map(|spot| Spot::new(spot.right + shadow.across * spot.up, 0.0));
                    let hull = convex_hull(outline.iter().copied().chain(cast).collect());
                    let veil = between(&hull, ground.across);
                    veils = veils.closed(&to.outline(&veil));
                    let top = plan.canopy.shown.crown.top;
                    let x = stem.at(top);
                    let foot = x + shadow.across * top;
                    if [x, foot].iter().all(|end| ground.across.holds(*end)) {
                        rays = rays.line(to.paper(x, top), to.paper(foot, 0.0));
                    }
                }
                number += 1.0;
            }
            board.path(LayerName::Light, Ink::Shade, veils);
            board.path(LayerName::Light, Ink::Ray, rays);
            format!(
                "{time} h solar time: sun {} high, from {}; shade seen along the rows",
                degrees(moment.elevation.value),
                degrees(moment.azimuth.value)
            )
        }
        None => format!("{time} h solar time: the sun is not up"),
    };
    let note = board.text(Point::new(em * 0.6, em * 0.8), Anchor::Start, Lettering::Note, note);
    board.write(LayerName::Furniture, note);
}

/// Most rows, and most trees of a row, beyond the detail whose shade on its ground is drawn.
const MOST_BEYOND_DETAIL: f64 = 12.0;

/// Shade on the ground at the date and hour set; crowns throw it whole.
fn shade_in_detail(board: &mut Board, plan: &Ground, moment: &Moment, ground: &Shown, trees: &[DrawnTree]) {
    let to = &ground.to;
    let Some(shadow) = moment.shadow else {
        let corner = to.paper(ground.across.from, ground.up.from);
        let all = Path::new().rectangle(corner, to.paper(ground.across.to, ground.up.to));
        return board.path(LayerName::Light, Ink::Shade, all);
    };
    let (row, spacing) = (plan.scenario.block.row_width.value, plan.scenario.block.in_row_spacing.value);
    let crown = &plan.canopy.shown.crown;
    let slope = plan.scenario.canopy.lean.value.tan();
    // From the lowest branches to the top, each level's outline lies where the sun throws it.
    let cast = [-slope, slope].map(|slope| {
        let levels = [0.0, 0.5, 1.0].map(|part| crown.base + (crown.top - crown.base) * part);
        let spots = levels.iter().flat_map(|level| {
            let (right, up) = ((slope + shadow.across) * level, shadow.along * level);
            level_outline(crown, *level).into_iter().map(move |spot| spot.moved(right, up))
        });
        convex_hull(spots.collect())
    });
    let beyond = |per_metre: f64, pitch: f64| {
        within((per_metre.abs() * crown.top / pitch).ceil(), 1.0, MOST_BEYOND_DETAIL)
    };
    let (rows_off, trees_off) = (beyond(shadow.across, row), beyond(shadow.along, spacing));
    let rows = if plan.block.rows > 1 { Span::new(-rows_off, rows_off + 1.0) } else { Span::point(0.0) };
    let mut veils = Path::new();
    let mut number = rows.from;
    while number <= rows.to {
        for tree in in_and_beside(trees, spacing, trees_off) {
            let [odd, even] = &cast;
            let shape = if tree.number.is_multiple_of(2) { even } else { odd };
            let thrown: Vec<Spot> = shape.iter().map(|spot| spot.moved(number * row, tree.along)).collect();
            let turned: Vec<Spot> = between(&thrown, ground.across).into_iter().map(Spot::turned).collect();
            let veil = between(&turned, ground.up);
            veils = veils.closed(&veil.into_iter().map(|spot| to.spot(spot.turned())).collect::<Vec<_>>());
        }
        number += 1.0;
    }
    board.path(LayerName::Light, Ink::Shade, veils);
}

/// The trees shown, and so many beyond either end that throw shade on them.
fn in_and_beside(trees: &[DrawnTree], spacing: f64, beyond: f64) -> Vec<DrawnTree> {
    let (Some(first), Some(last)) = (trees.first(), trees.last()) else { return Vec::new() };
    let mut list = trees.to_vec();
    let mut step = 1.0;
    let mut steps = 1;
    while step <= beyond {
        // Of the numbers only even or odd counts: it says to which side a tree leans.
        list.push(DrawnTree { number: first.number + steps, along: first.along - step * spacing });
        list.push(DrawnTree { number: last.number + steps, along: last.along + step * spacing });
        step += 1.0;
        steps += 1;
    }
    list
}
