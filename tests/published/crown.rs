//! The crown's geometry against handbook bodies and a brute-force count.

use crate::fixture::{assert_near, figure, planned};
use planting::kit::crown::{disc_in_box, frustum_volume};
use planting::{Crown, Scenario, TrainingSystem, feet};
use std::f64::consts::PI;

fn free(base: f64, top: f64, diameter: f64, taper: f64) -> Crown {
    Crown {
        base,
        top,
        free_diameter: diameter,
        free_top: top,
        along: 99.0,
        across: 99.0,
        space_top: top,
        taper,
    }
}

/// V = ⅓ π r² h: Wright, Nichols & Embree, Acta Hort. 707:30, "simple cone".
#[test]
fn a_crown_with_room_and_a_pointed_top_is_the_simple_cone() {
    for (diameter, height) in [(2.0, 3.0), (0.4, 2.7), (1.3, 0.2)] {
        let cone = PI / 3.0 * (diameter / 2.0f64).powi(2) * height;
        assert_near(free(0.5, 0.5 + height, diameter, 0.0).volume(), cone, 1e-12, (diameter, height));
        assert_near(frustum_volume(diameter, 0.0, height), cone, 1e-14, (diameter, height));
    }
}

/// A cone cut off at a height the tree is kept at is a frustum: handbook V = πh/3 (R² + Rr + r²).
#[test]
fn a_crown_with_room_is_a_frustum() {
    for (base, top, free_top, diameter, taper) in [
        (0.6, 3.0, 3.0, 1.2, 0.4),
        (0.6, 3.0, 4.2, 1.2, 0.4),
        (0.0, 2.0, 5.0, 3.0, 0.0),
        (0.5, 2.5, 2.5, 1.0, 1.0),
    ] {
        // The space is far higher than the tree, so that its own taper doesn't touch the crown.
        let crown = Crown { top, free_top, space_top: 1e6, ..free(base, free_top, diameter, taper) };
        let at_top = diameter * (1.0 - (1.0 - taper) * (top - base) / (free_top - base));
        let (r, s) = (diameter / 2.0, at_top / 2.0);
        let closed = PI * (top - base) / 3.0 * (r * r + r * s + s * s);
        assert_near(crown.volume(), closed, 1e-12, (base, top, free_top));
        assert_near(frustum_volume(diameter, at_top, top - base), closed, 1e-14, "frustum");
    }
}

#[test]
fn a_crown_without_room_is_a_prism() {
    for (along, across, taper) in [(1.0, 1.5, 0.3), (0.9, 1.5, 0.0), (0.5, 0.9, 1.0)] {
        let crown = Crown { along, across, free_diameter: 900.0, ..free(0.6, 3.0, 900.0, taper) };
        let trapezium = along * across * (1.0 + taper) / 2.0 * 2.4;
        // With a pointed top the disc too shrinks to nothing, and its last sliver bounds the crown.
        assert_near(
            crown.volume(),
            trapezium,
            if taper > 0.0 { 1e-12 } else { 1e-3 },
            (along, across, taper),
        );
        assert_near(crown.space_volume(), trapezium, 1e-14, (along, across, taper));
    }
}

/// Circle segment, handbook: strip of half width t in a circle of radius r holds
/// 2 (t √(r² − t²) + r² asin(t ÷ r)).
#[test]
fn a_strip_cut_from_a_disc_is_the_handbook_segment() {
    for (diameter, strip) in [(2.0, 1.0), (2.0, 1.9), (3.0, 0.1), (1.0, 1.0), (5.0, 2.5)] {
        let (r, t): (f64, f64) = (diameter / 2.0, strip / 2.0);
        let handbook = 2.0 * (t * (r * r - t * t).sqrt() + r * r * (t / r).asin());
        assert_near(disc_in_box(diameter, strip, 99.0), handbook, 1e-13, (diameter, strip));
        assert_near(disc_in_box(diameter, 99.0, strip), handbook, 1e-13, (diameter, strip));
    }
}

#[test]
fn limits_of_a_disc_in_a_box() {
    for (diameter, along, across, expected, what) in [
        (2.0, 2.0, 2.0, PI, "inscribed"),
        (2.0f64.sqrt() * 2.0, 2.0, 2.0, 4.0, "circumscribed"),
        (9.0, 2.0, 3.0, 6.0, "covered"),
        (2.0, 2.0f64.sqrt(), 2.0f64.sqrt(), 2.0, "square in the circle"),
        (2.0, 0.0, 3.0, 0.0, "no room along"),
        (2.0, 3.0, 0.0, 0.0, "no room across"),
        (0.0, 3.0, 3.0, 0.0, "no tree"),
        (-1.0, 3.0, 3.0, 0.0, "nonsense"),
    ] {
        assert_near(disc_in_box(diameter, along, across), expected, 1e-13, what);
    }
}

/// Counting the cells of a fine grid whose middles lie in both: no trigonometry, no integration.
fn counted(diameter: f64, along: f64, across: f64) -> f64 {
    const CELLS: i32 = 1200;
    let cell = diameter.min(along.max(across)) / f64::from(CELLS);
    let reach = 0.5 * diameter / cell;
    let cells = reach.ceil() as i32;
    let mut inside = 0u32;
    for i in 0..cells {
        for j in 0..cells {
            let (x, y) = ((f64::from(i) + 0.5) * cell, (f64::from(j) + 0.5) * cell);
            if x * x + y * y <= diameter * diameter / 4.0 && x <= along / 2.0 && y <= across / 2.0 {
                inside += 1;
            }
        }
    }
    4.0 * f64::from(inside) * cell * cell
}

#[test]
fn a_disc_in_a_box_agrees_with_counting_cells() {
    for (diameter, along, across) in
        [(2.0, 1.5, 1.8), (2.0, 1.1, 1.9), (2.0, 1.9, 1.1), (2.0, 1.3, 1.3), (3.0, 0.9, 1.5), (1.2, 1.0, 4.0)]
    {
        assert_near(
            disc_in_box(diameter, along, across),
            counted(diameter, along, across),
            2e-3,
            (diameter, along, across),
        );
    }
}

#[test]
fn sections_grow_with_disc_and_box_and_never_leave_them() {
    let steps = || (0..24).map(|step| 0.1 * f64::from(step));
    for along in steps() {
        for across in steps() {
            let mut last = 0.0;
            for diameter in steps() {
                let area = disc_in_box(diameter, along, across);
                assert!(area >= last - 1e-12, "shrinks with the disc at {diameter} in {along} x {across}");
                assert!(area <= along * across + 1e-12 && area <= PI / 4.0 * diameter * diameter + 1e-12);
                assert!(disc_in_box(diameter, along + 0.1, across) >= area - 1e-12);
                assert!((disc_in_box(diameter, across, along) - area).abs() < 1e-12, "not symmetrical");
                last = area;
            }
        }
    }
}

/// Widths read off the level section: narrower of the disc and the space, both tapering upward.
#[test]
fn widths_follow_the_taper() {
    let crown = Crown {
        base: 1.0,
        top: 3.0,
        free_diameter: 2.0,
        free_top: 5.0,
        along: 1.2,
        across: 1.6,
        space_top: 3.0,
        taper: 0.5,
    };
    for (height, disc, across) in [(1.0, 2.0, 1.6), (2.0, 1.75, 1.2), (3.0, 1.5, 0.8)] {
        assert_near(crown.disc(height), disc, 1e-14, height);
        assert_near(crown.box_across(height), across, 1e-14, height);
        assert_near(crown.width_across(height), across.min(disc), 1e-14, height);
        assert_near(crown.width_along(height), 1.2, 1e-14, height);
        assert_near(crown.section(height), disc_in_box(disc, 1.2, across), 1e-14, height);
    }
    assert_eq!(
        Crown { top: 0.5, ..crown }.volume(),
        0.0,
        "a tree lower than its lowest branches has no crown"
    );
}

/// Pruning to a lower top takes a slice away; wherever the cut is, slices add up.
#[test]
fn slices_of_a_crown_add_up() {
    let crown = Crown {
        base: 0.6,
        top: 3.2,
        free_diameter: 1.9,
        free_top: 4.1,
        along: 1.0,
        across: 1.5,
        space_top: 3.2,
        taper: 0.4,
    };
    let thousandths: f64 =
        (0..2600).map(|slice| crown.section(0.6 + (f64::from(slice) + 0.5) * 0.001) * 0.001).sum();
    assert_near(crown.volume(), thousandths, 1e-4, "sum of a millimetre's slices");
}

/// The figures are the crown's, per tree, per land and against its space.
#[test]
fn canopy_figures_are_those_of_the_crown() {
    for system in [TrainingSystem::TallSpindle, TrainingSystem::VerticalAxis, TrainingSystem::Standard] {
        for year in [1.0, 4.0, 12.0] {
            let plan = planned(&Scenario::for_system(system).with(|s| s.canopy.year = year));
            let crown = plan.canopy.shown.crown;
            assert_near(figure(&plan, "crown_volume_tree"), crown.volume(), 1e-14, (system, year));
            let land = plan.scenario.block.in_row_spacing.value * plan.scenario.block.row_width.value;
            assert_near(figure(&plan, "crown_volume_per_land") * land, crown.volume(), 1e-12, (system, year));
            assert_near(
                figure(&plan, "canopy_fill") * crown.space_volume(),
                crown.volume(),
                1e-12,
                (system, year),
            );
            // Trees of a row differ by a twentieth, so that where their mean meets its space it is 1.25 % less.
            let spacing = plan.scenario.block.in_row_spacing.value;
            let along = figure(&plan, "crown_width_along");
            assert_near(along, crown.free_diameter.min(spacing), 0.0126, (system, year));
            let across = crown.free_diameter.min(plan.scenario.canopy.canopy_width.value);
            assert_near(figure(&plan, "crown_width_across"), across, 0.0126, (system, year));
            assert_near(figure(&plan, "row_fill"), along / spacing, 1e-14, (system, year));
            let cover = crown.section(crown.base) / land;
            assert_near(figure(&plan, "ground_cover"), cover, 1e-12, (system, year));
        }
    }
}

/// Trees leaning to alternate sides have two spaces each on their own side of the V.
#[test]
fn leaning_trees_have_twice_the_space_along_the_row() {
    let plan = planned(&Scenario::for_system(TrainingSystem::VTrellis).with(|s| s.canopy.year = 25.0));
    assert_near(
        plan.canopy.shown.crown.along,
        2.0 * plan.scenario.block.in_row_spacing.value,
        1e-14,
        "V trellis",
    );
    let upright = planned(&Scenario::default().with(|s| s.canopy.year = 25.0));
    assert_near(upright.canopy.shown.crown.along, feet(3.0).value, 1e-14, "tall spindle");
}
