//! Rows, trees, posts and anchors on the field: what is counted is what stands there.

use crate::fixture::{FT, assert_near, figure, planned, ten_rows_of_300_ft};
use planting::{
    Block, EndAssembly, FieldPoint, Outline, Plan, Scenario, Station, StationKind, TrainingSystem, degrees,
    feet,
};

/// Fields of several proportions, roomy and tight.
fn fields() -> Vec<Scenario> {
    let mut list = vec![Scenario::default(), ten_rows_of_300_ft()];
    for (in_row, row, length, width, headland, margin, interval) in [
        (3.0, 11.0, 517.0, 243.0, 25.0, 6.0, 30.0),
        (1.5, 12.0, 211.3, 97.7, 0.0, 6.0, 20.0),
        (6.0, 14.0, 1320.0, 660.0, 30.0, 14.0, 40.0),
        (20.0, 26.0, 300.0, 300.0, 10.0, 13.0, 40.0),
        (4.0, 13.0, 64.0, 26.0, 30.0, 13.0, 30.0),
    ] {
        list.push(Scenario::default().with(|s| {
            s.block.in_row_spacing = feet(in_row);
            s.block.row_width = feet(row);
            s.block.block_length = feet(length);
            s.block.block_width = feet(width);
            s.block.headland = feet(headland);
            s.block.side_margin = feet(margin);
            s.trellis.post_interval = feet(interval);
        }));
    }
    list
}

fn counted(plan: &Plan, kind: StationKind) -> usize {
    plan.block
        .trees()
        .chain(plan.trellis.posts())
        .chain(plan.trellis.anchors())
        .filter(|station| station.kind == kind)
        .count()
}

#[test]
fn stations_that_stand_are_the_stations_counted() {
    // Where trees lean to both sides, posts and anchors stand on both.
    let leaning = Scenario::for_system(TrainingSystem::VTrellis);
    for scenario in fields().into_iter().chain([leaning]) {
        for end_assembly in [EndAssembly::TieBack, EndAssembly::HBrace] {
            let plan = planned(&scenario.clone().with(|s| s.trellis.end_assembly = end_assembly));
            let trellis = &plan.trellis;
            for (kind, computed) in [
                (StationKind::Tree, plan.block.tree_count()),
                (StationKind::LinePost, trellis.line_posts),
                (StationKind::EndPost, trellis.end_posts),
                (StationKind::BracePost, trellis.brace_posts),
                (StationKind::Anchor, trellis.anchors),
            ] {
                assert_eq!(counted(&plan, kind), computed, "{kind:?}");
            }
            assert_eq!(figure(&plan, "trees_in_block"), plan.block.tree_count() as f64);
            assert_eq!(figure(&plan, "rows"), plan.block.rows as f64);
        }
    }
}

/// Rows and trees worked out by hand.
#[test]
fn rows_and_trees_that_fit() {
    for (length, width, headland, margin, in_row, row, rows, trees, what) in [
        (360.0, 132.0, 30.0, 12.0, 3.0, 12.0, 10, 1000, "ten rows of 300 ft, 12 ft apart, 100 trees each"),
        (360.0, 131.9, 30.0, 12.0, 3.0, 12.0, 9, 900, "a tenth of a foot short of the tenth row"),
        (359.9, 132.0, 30.0, 12.0, 3.0, 12.0, 10, 990, "a tenth of a foot short of the hundredth tree"),
        (660.0, 330.0, 30.0, 12.0, 3.0, 12.0, 26, 5200, "five acres: 200 trees in each of 26 rows"),
        (63.0, 24.0, 30.0, 12.0, 3.0, 12.0, 1, 1, "room for one tree"),
        (660.0, 330.0, 0.0, 0.0, 10.0, 11.0, 31, 2046, "no headland, no margin"),
    ] {
        let plan = planned(&Scenario::default().with(|s| {
            s.block.block_length = feet(length);
            s.block.block_width = feet(width);
            s.block.headland = feet(headland);
            s.block.side_margin = feet(margin);
            s.block.in_row_spacing = feet(in_row);
            s.block.row_width = feet(row);
            s.trellis.anchor_distance = feet(9.0);
        }));
        assert_eq!((plan.block.rows, plan.block.tree_count()), (rows, trees), "{what}");
        assert_near(figure(&plan, "block_area"), length * width * FT * FT, 1e-12, what);
        assert_near(figure(&plan, "row_length"), (length - 2.0 * headland) * FT, 1e-12, what);
        let total = (length - 2.0 * headland) * rows as f64 * FT;
        assert_near(figure(&plan, "run_length_total"), total, 1e-12, what);
        let gross = trees as f64 / (length * width * FT * FT);
        assert_near(figure(&plan, "trees_per_gross_acre"), gross, 1e-12, what);
        assert_near(
            figure(&plan, "planted_share"),
            trees as f64 * in_row * row / (length * width),
            1e-12,
            what,
        );
    }
}

/// Holds where the side margin is at least half an alley; nearer the edge the outer rows' ground
/// reaches beyond the field.
#[test]
fn ground_under_all_trees_fits_the_field() {
    for scenario in fields() {
        let plan = planned(&scenario);
        let ground = plan.block.tree_count() as f64
            * scenario.block.in_row_spacing.value
            * scenario.block.row_width.value;
        assert!(ground <= plan.block.area().value * (1.0 + 1e-12), "{ground}");
        assert_near(figure(&plan, "planted_share"), ground / plan.block.area().value, 1e-12, "share");
    }
}

#[test]
fn trees_stand_inside_and_keep_the_headland_and_margin() {
    for scenario in fields() {
        let plan = planned(&scenario);
        let (length, width) = (scenario.block.block_length.value, scenario.block.block_width.value);
        let half_space = scenario.block.in_row_spacing.value / 2.0;
        let (headland, margin) =
            (scenario.block.headland.value - 1e-9, scenario.block.side_margin.value - 1e-9);
        for Station { at, .. } in plan.block.trees() {
            assert!(at.across >= margin && at.across <= width - margin, "{at:?}");
            assert!(at.along >= headland + half_space - 1e-6, "{at:?}");
            assert!(at.along <= length - headland - half_space + 1e-6, "{at:?}");
        }
        for Station { kind, at, .. } in plan.trellis.posts() {
            assert!(at.along >= headland && at.along <= length - headland, "{kind:?} {at:?}");
        }
    }
}

/// Rows and their trees lie centred, a spacing apart.
#[test]
fn rows_and_trees_are_centred_and_evenly_apart() {
    for scenario in fields() {
        let plan = planned(&scenario);
        let (length, width) = (scenario.block.block_length.value, scenario.block.block_width.value);
        let runs = &plan.trellis.runs;
        assert_near(runs[0].across + runs[runs.len() - 1].across, width, 1e-12, "rows centred");
        for (place, run) in runs.iter().enumerate() {
            assert_eq!(run.row, place + 1, "rows count from 1 on the left");
            let expected = runs[0].across + place as f64 * scenario.block.row_width.value;
            assert_near(run.across, expected, 1e-12, "row");
            let trees: Vec<f64> = run.tree_stations().map(|tree| tree.at.along).collect();
            assert_near(trees[0] + trees[trees.len() - 1], length, 1e-12, "trees centred");
            for pair in trees.windows(2) {
                assert_near(pair[1] - pair[0], scenario.block.in_row_spacing.value, 1e-9, "in-row spacing");
            }
        }
    }
}

#[test]
fn anchors_stand_their_distance_outside_the_end_posts() {
    let scenario = ten_rows_of_300_ft();
    let plan = planned(&scenario);
    let mut anchors: Vec<f64> = plan.trellis.anchors().map(|anchor| anchor.at.along / FT).collect();
    anchors.sort_by(f64::total_cmp);
    for (place, along) in anchors.iter().enumerate() {
        assert_near(*along, if place < 10 { 21.0 } else { 339.0 }, 1e-12, "30 − 9 and 330 + 9 ft");
    }
}

#[test]
fn brace_posts_stand_their_span_inside_and_never_past_the_middle() {
    for (length, span, expected) in
        [(360.0, 8.0, 8.0), (360.0, 14.0, 14.0), (81.0, 8.0, 7.0), (66.0, 14.0, 2.0)]
    {
        let plan = planned(&ten_rows_of_300_ft().with(|s| {
            s.trellis.end_assembly = EndAssembly::HBrace;
            s.block.block_length = feet(length);
            s.trellis.brace_span = feet(span);
        }));
        for run in &plan.trellis.runs {
            let braces: Vec<f64> = plan
                .trellis
                .stations_of(run)
                .filter(|post| post.kind == StationKind::BracePost)
                .map(|post| post.at.along)
                .collect();
            assert_eq!(braces.len(), 2);
            assert_near((braces[0] - run.start) / FT, expected, 1e-9, (length, span));
            assert_near((run.end - braces[1]) / FT, expected, 1e-9, (length, span));
        }
    }
}

/// Rotation by −azimuth, written as the matrix of a textbook: columns are where the axes go.
#[test]
fn map_frame_is_the_row_frame_turned() {
    for bearing in [0.0f64, 30.0, 45.0, 90.0, 135.0, 180.0] {
        let turn = -bearing.to_radians();
        for (across, along) in [(1.0, 0.0), (0.0, 1.0), (3.0, -4.0), (-12.5, 7.0)] {
            let east = across * turn.cos() - along * turn.sin();
            let north = across * turn.sin() + along * turn.cos();
            let found = FieldPoint { across, along }.to_map(degrees(bearing));
            assert!(
                (found.0 - east).abs() < 1e-12 && (found.1 - north).abs() < 1e-12,
                "{bearing}: {found:?}"
            );
            assert_near(found.0.hypot(found.1), across.hypot(along), 1e-12, bearing);
        }
    }
}

/// Bearings a surveyor knows: rows to the east have north on their left.
#[test]
fn bearings_are_clockwise_from_north() {
    for (bearing, (east, north)) in
        [(0.0, (0.0, 10.0)), (90.0, (10.0, 0.0)), (180.0, (0.0, -10.0)), (45.0, (50f64.sqrt(), 50f64.sqrt()))]
    {
        let found = FieldPoint { across: 0.0, along: 10.0 }.to_map(degrees(bearing));
        assert!((found.0 - east).abs() < 1e-12 && (found.1 - north).abs() < 1e-12, "{bearing}: {found:?}");
    }
    let right = FieldPoint { across: 10.0, along: 0.0 }.to_map(degrees(90.0));
    assert!(right.0.abs() < 1e-12 && (right.1 + 10.0).abs() < 1e-12, "{right:?}");
}

/// Penn State Tree Fruit Production Guide, layout: 30, 40 and 50 ft ropes make a right angle. Corners
/// of the field must be square to that test, in any direction of the rows.
#[test]
fn corners_of_the_field_pass_the_3_4_5_rope() {
    for bearing in [0.0, 17.0, 90.0, 123.0] {
        let corner = FieldPoint { across: 0.0, along: 0.0 }.to_map(degrees(bearing));
        let thirty = FieldPoint { across: 30.0, along: 0.0 }.to_map(degrees(bearing));
        let forty = FieldPoint { across: 0.0, along: 40.0 }.to_map(degrees(bearing));
        let distance = |(x, y): (f64, f64), (u, v): (f64, f64)| (x - u).hypot(y - v);
        assert_near(distance(corner, thirty), 30.0, 1e-12, bearing);
        assert_near(distance(corner, forty), 40.0, 1e-12, bearing);
        assert_near(distance(thirty, forty), 50.0, 1e-12, bearing);
    }
}

/// Any outline takes rows; a hole splits a row into two runs, each with its headlands.
#[test]
fn a_hole_splits_a_row_in_two() {
    let mut outline = Outline::rectangle(60.0, 200.0);
    let corner = |across, along| FieldPoint { across, along };
    outline.holes.push(vec![
        corner(20.0, 90.0),
        corner(40.0, 90.0),
        corner(40.0, 110.0),
        corner(20.0, 110.0),
    ]);
    let scenario = Scenario::default().with(|s| {
        s.block.row_width = feet(10.0 / FT);
        s.block.side_margin = feet(5.0 / FT);
        s.block.headland = feet(10.0 / FT);
        s.block.in_row_spacing = feet(1.0 / FT);
    });
    let block = Block::in_outline(outline, &planting::ground::block_asked(&scenario));
    // Rows at 5, 15 … 55 m: those at 25 and 35 m meet the hole.
    assert_eq!(block.rows, 6);
    assert_eq!(block.runs.len(), 8);
    for run in block.runs.iter() {
        let split = run.row == 3 || run.row == 4;
        assert_near(run.length(), if split { 70.0 } else { 180.0 }, 1e-9, run.row);
        assert_eq!(run.trees, if split { 70 } else { 180 });
    }
    assert_eq!(block.tree_count(), 4 * 180 + 4 * 70);
}
