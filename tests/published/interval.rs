//! Where line posts stand: within the interval, midway between trees, as few as will do.

use crate::fixture::{FT, planned};
use planting::PostedRun;
use planting::{Scenario, feet};

/// A run of exactly this length `[ft]`.
fn run(length: f64, in_row: f64, interval: f64) -> PostedRun {
    let plan = planned(&Scenario::default().with(|s| {
        s.block.block_length = feet(length + 60.0);
        s.block.headland = feet(30.0);
        s.block.block_width = feet(24.0);
        s.block.side_margin = feet(12.0);
        s.block.in_row_spacing = feet(in_row);
        s.trellis.post_interval = feet(interval);
    }));
    assert_eq!(plan.trellis.runs.len(), 1);
    plan.trellis.runs[0].clone()
}

/// Fewest bays that can keep a length within an interval; a length that is a whole number of
/// intervals takes exactly that many.
fn fewest(length: f64, interval: f64) -> usize {
    (length / interval - 1e-9).ceil().max(1.0) as usize
}

#[test]
fn line_posts_of_known_rows() {
    for (length, in_row, interval, posts, source) in [
        (400.0, 4.0, 20.0, 19, "vineyard builder's log 2005: 400-ft rows, posts at 20 ft, 19 line posts"),
        (400.0, 5.0, 20.0, 19, "the same row with other trees"),
        (400.0, 2.0, 20.0, 19, "the same row with other trees"),
        (300.0, 3.0, 30.0, 9, "ten bays of 30 ft, worked out here"),
        (300.0, 3.0, 60.0, 4, "five bays of 60 ft, worked out here"),
        (240.0, 2.0, 40.0, 5, "six bays of 40 ft, worked out here"),
        (120.0, 3.0, 30.0, 3, "four bays of 30 ft, worked out here"),
        (30.0, 3.0, 30.0, 0, "one bay, worked out here"),
        (24.0, 3.0, 30.0, 0, "one short bay, worked out here"),
        (33.0, 3.0, 30.0, 1, "a tree space over one bay, worked out here"),
    ] {
        assert_eq!(
            run(length, in_row, interval).line_posts.len(),
            posts,
            "{length} ft at {interval}: {source}"
        );
    }
}

/// Whole intervals must not gain a post by rounding, whatever the numbers.
#[test]
fn rows_of_whole_intervals_have_whole_bays() {
    for interval in 10..=60 {
        for bays in 1..=30 {
            let (interval, length) = (f64::from(interval), f64::from(interval * bays));
            // Trees that divide the interval, so that every bay can be exactly as long as allowed.
            for share in [1.0, 2.0, 5.0, 8.0] {
                let in_row = interval / share;
                if !(1.0..=30.0).contains(&in_row) {
                    continue;
                }
                let run = run(length, in_row, interval);
                assert_eq!(
                    run.line_posts.len() + 1,
                    bays as usize,
                    "{length} ft, {interval} ft, {in_row} ft"
                );
            }
        }
    }
}

/// Rows of every length by the foot, several spacings and intervals.
fn rows() -> impl Iterator<Item = (f64, f64, f64, PostedRun)> {
    [1.0, 2.0, 3.0, 4.5, 6.0, 10.0].into_iter().flat_map(|in_row| {
        [10.0, 12.0, 20.0, 30.0, 31.0, 45.0, 60.0].into_iter().flat_map(move |interval| {
            (10..160).step_by(3).chain([333, 475, 660, 1001]).map(move |length| {
                let length = f64::from(length);
                (length, in_row, interval, run(length, in_row, interval))
            })
        })
    })
}

#[test]
fn no_bay_is_longer_than_the_interval() {
    for (length, in_row, interval, run) in rows() {
        assert!(run.longest_bay() <= interval * FT * (1.0 + 1e-6), "{length} ft, {in_row} ft, {interval} ft");
        assert_eq!(run.bays(), run.line_posts.len() + 1);
        let ordered: Vec<f64> =
            std::iter::once(run.start).chain(run.line_posts.iter().copied()).chain([run.end]).collect();
        assert!(
            ordered.windows(2).all(|pair| pair[1] - pair[0] > 0.01),
            "{length} ft, {in_row} ft, {interval} ft"
        );
        assert!(run.bays() >= fewest(length, interval), "{length} ft, {in_row} ft, {interval} ft");
    }
}

/// A post and a tree can't share a hole. Posts stand midway between two trees.
#[test]
fn posts_stand_midway_between_trees() {
    for (length, in_row, interval, run) in rows() {
        for post in run.line_posts.iter() {
            let nearest =
                (0..run.trees).map(|tree| (run.tree(tree) - post).abs() / FT).fold(f64::INFINITY, f64::min);
            assert!(
                (nearest - in_row / 2.0).abs() < 1e-6,
                "{length} ft run, trees at {in_row} ft, interval {interval} ft: a post {nearest} ft from a tree"
            );
        }
    }
}

/// Bays of whole tree spaces: as many as the trees need at the most a bay holds, and one for what is
/// left over at either end (46 ft, trees at 10 ft, posts within 12 ft: 3, 10, 10, 10, 10 and 3 ft).
#[test]
fn no_more_posts_than_the_interval_asks() {
    for (length, in_row, interval, run) in rows() {
        if in_row <= interval {
            let in_a_bay = (interval / in_row + 1e-9).floor() as usize;
            let most = run.trees.div_ceil(in_a_bay).max(fewest(length, interval)) + 2;
            assert!(run.bays() <= most, "{length} ft, {in_row} ft, {interval} ft: {} bays", run.bays());
        }
    }
}

/// A row without wires has no posts of any kind.
#[test]
fn rows_without_wires_have_no_posts() {
    for support in [planting::Support::None, planting::Support::PostPerTree] {
        let plan = planned(&Scenario::default().with(|s| s.trellis.support = support));
        assert_eq!(plan.trellis.posts().count() + plan.trellis.anchors().count(), 0);
        assert!(plan.trellis.runs.iter().all(|run| run.bays() == 0));
        assert_eq!((plan.trellis.line_posts, plan.trellis.end_posts, plan.trellis.coils), (0, 0, 0));
    }
}
