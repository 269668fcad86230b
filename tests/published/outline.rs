//! Row lines cut by a field's edge, against a point-in-polygon test of its own.

use crate::fixture::assert_near;
use planting::{FieldPoint, Outline};

fn ring(corners: &[(f64, f64)]) -> Vec<FieldPoint> {
    corners.iter().map(|&(across, along)| FieldPoint { across, along }).collect()
}

/// A field with a bay in its upper edge and a pond.
fn crooked() -> Outline {
    Outline {
        exterior: ring(&[
            (0.0, 3.0),
            (41.0, -7.0),
            (83.0, 12.0),
            (76.0, 96.0),
            (52.0, 58.0),
            (23.0, 104.0),
            (-6.0, 61.0),
        ]),
        holes: vec![ring(&[(20.0, 30.0), (33.0, 22.0), (47.0, 41.0), (29.0, 55.0)])],
    }
}

/// Winding number by the sum of angles the edges are seen under: not 0 inside, independent of any
/// crossing rule.
fn winds_around(ring: &[FieldPoint], at: FieldPoint) -> bool {
    let seen: f64 = (0..ring.len())
        .map(|place| {
            let (from, to) = (ring[place], ring[(place + 1) % ring.len()]);
            let (ax, ay) = (from.across - at.across, from.along - at.along);
            let (bx, by) = (to.across - at.across, to.along - at.along);
            (ax * by - ay * bx).atan2(ax * bx + ay * by)
        })
        .sum();
    seen.abs() > std::f64::consts::PI
}

fn inside(field: &Outline, at: FieldPoint) -> bool {
    winds_around(&field.exterior, at) && !field.holes.iter().any(|hole| winds_around(hole, at))
}

#[test]
fn pieces_hold_the_points_inside_and_no_others() {
    let field = crooked();
    let mut tried = 0;
    for line in 0..178 {
        let across = -6.0 + 0.25 + 0.5 * f64::from(line);
        let pieces = field.clip(across);
        for step in 0..230 {
            let along = -9.87 + 0.5 * f64::from(step);
            let clipped = pieces.iter().any(|(low, high)| (*low..=*high).contains(&along));
            assert_eq!(clipped, inside(&field, FieldPoint { across, along }), "at {across}, {along}");
            tried += usize::from(clipped);
        }
    }
    assert!(tried > 10_000, "the scan must have met the field: {tried}");
}

/// Strips of clipped lines add up to the area: Cavalieri.
#[test]
fn pieces_add_up_to_the_area() {
    let field = crooked();
    let (left, right) = field.across_range();
    let strips = 20_000;
    let strip = (right - left) / f64::from(strips);
    let swept: f64 = (0..strips)
        .map(|place| {
            let across = left + (f64::from(place) + 0.5) * strip;
            field.clip(across).iter().map(|(low, high)| (high - low) * strip).sum::<f64>()
        })
        .sum();
    assert_near(field.area().value, swept, 1e-6, "swept area");
}

#[test]
fn areas_of_known_figures() {
    let square_with_hole = Outline {
        exterior: ring(&[(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]),
        holes: vec![ring(&[(2.0, 2.0), (2.0, 4.0), (5.0, 4.0), (5.0, 2.0)])],
    };
    for (field, area, what) in [
        (Outline::rectangle(30.0, 40.0), 1200.0, "rectangle"),
        (
            Outline { exterior: ring(&[(0.0, 0.0), (30.0, 0.0), (0.0, 40.0)]), holes: vec![] },
            600.0,
            "right triangle",
        ),
        (square_with_hole, 94.0, "hole of 3 × 2"),
        (Outline { exterior: vec![], holes: vec![] }, 0.0, "no ground"),
    ] {
        assert!((field.area().value - area).abs() < 1e-9, "{what}: {}", field.area().value);
    }
}

#[test]
fn area_and_pieces_do_not_depend_on_place_or_winding() {
    let field = crooked();
    let far = |point: &FieldPoint| FieldPoint { across: point.across + 4e5, along: point.along + 5e6 };
    let moved = Outline {
        exterior: field.exterior.iter().map(far).collect(),
        holes: field.holes.iter().map(|hole| hole.iter().map(far).collect()).collect(),
    };
    // A field in map coordinates keeps its area to a square centimetre.
    assert!((moved.area().value - field.area().value).abs() < 1e-4);
    let backward = Outline {
        exterior: field.exterior.iter().rev().copied().collect(),
        holes: field.holes.iter().map(|hole| hole.iter().rev().copied().collect()).collect(),
    };
    assert_near(backward.area().value, field.area().value, 1e-12, "winding");
    for across in [3.0, 25.0, 41.0, 52.0, 70.0] {
        let (one, other) = (field.clip(across), backward.clip(across));
        assert_eq!(one.len(), other.len(), "{across}");
        for (a, b) in one.iter().zip(&other) {
            assert!((a.0 - b.0).abs() < 1e-9 && (a.1 - b.1).abs() < 1e-9, "{across}");
        }
    }
}

/// A line through corners, a line along an edge and a line that misses the field.
#[test]
fn lines_through_corners_are_cut_in_pairs() {
    let diamond =
        Outline { exterior: ring(&[(0.0, 5.0), (5.0, 0.0), (10.0, 5.0), (5.0, 10.0)]), holes: vec![] };
    assert_eq!(diamond.clip(5.0), vec![(0.0, 10.0)]);
    let step = Outline {
        exterior: ring(&[(0.0, 0.0), (10.0, 0.0), (10.0, 4.0), (6.0, 4.0), (6.0, 8.0), (0.0, 8.0)]),
        holes: vec![],
    };
    for (across, top) in [(0.0, 8.0), (3.0, 8.0), (8.0, 4.0), (10.0, 4.0)] {
        assert_eq!(step.clip(across), vec![(0.0, top)], "{across}");
    }
    let on_edge = step.clip(6.0);
    assert_eq!(on_edge.len(), 1);
    assert!(on_edge[0] == (0.0, 8.0) || on_edge[0] == (0.0, 4.0), "{on_edge:?}");
}
