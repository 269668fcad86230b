//! Posts, wires, guys and braces against a worked bill of materials and plain geometry.

use crate::fixture::{FT, assert_near, figure, per_acre, planned, ten_rows_of_300_ft};
use planting::trellis::{WIRE_WASTE, guy_attachment, guy_length};
use planting::{EndAssembly, Scenario, Support, TrainingSystem, degrees, feet, inches};

/// The block of the project's own bill of materials: ten 300-ft rows, 12 ft apart, trees at 3 ft, four
/// wires, 30-ft bays, tie-backs. Counting rules are common practice; the totals are own arithmetic.
#[test]
fn the_worked_block_comes_out() {
    let plan = planned(&ten_rows_of_300_ft());
    let trellis = &plan.trellis;
    for (what, found, expected) in [
        ("rows", plan.block.rows, 10),
        ("trees", plan.block.tree_count(), 1000),
        ("bays", trellis.bays, 100),
        ("line posts", trellis.line_posts, 90),
        ("end posts", trellis.end_posts, 20),
        ("anchors", trellis.anchors, 20),
        ("tensioners", trellis.tensioners, 40),
        ("coils", trellis.coils, 4),
        ("brace posts", trellis.brace_posts, 0),
        ("stakes", trellis.stakes, 0),
    ] {
        assert_eq!(found, expected, "{what}");
    }
    assert_near(trellis.longest_bay.value / FT, 30.0, 1e-9, "bay");
    assert_near(figure(&plan, "wire_strung") / FT, 12_000.0, 1e-12, "4 wires × 10 rows × 300 ft");
    assert_near(figure(&plan, "wire_ordered") / FT, 12_936.0, 1e-12, "4 × 10 × (300 + 2 × 4 ft) + 5 %");
    // Plumb post, guy at 9 ft, anchor 9 ft out: 2 × 9√2 + 4 ft each, 589 ft for twenty.
    let guy_one = 2.0 * 9.0 * 2f64.sqrt() + 4.0;
    assert_near(trellis.guys.each.value / FT, guy_one, 1e-12, "one guy");
    assert_near(figure(&plan, "guy_wire") / FT, 20.0 * guy_one, 1e-12, "all guys");
    // The bill orders guy wire with the same 5 % over: 619 ft; still four coils together.
    let guy_ordered = figure(&plan, "guy_wire") / FT * (1.0 + WIRE_WASTE);
    assert!((guy_ordered - 619.0).abs() < 0.5, "{guy_ordered}");
    assert!(guy_ordered + 12_936.0 <= 4.0 * 4_000.0);
}

/// The same block per planted acre, as the bill states it.
#[test]
fn the_worked_block_per_planted_acre() {
    let plan = planned(&ten_rows_of_300_ft());
    let land = 10.0 * 300.0 * 12.0 / 43_560.0;
    assert_near(land, 0.826, 1e-3, "planted acres");
    assert_near(per_acre(&plan, "posts_per_acre"), 109.0, 1e-2, "line posts per acre");
    assert_near(per_acre(&plan, "posts_per_acre"), 90.0 / land, 1e-12, "line posts per acre");
    assert_near(per_acre(&plan, "trees_per_acre"), 1210.0, 1e-12, "trees per acre");
    assert_near(per_acre(&plan, "row_length_per_land") / FT, 3630.0, 1e-12, "row on an acre");
    assert_near(figure(&plan, "wire_strung") / FT / land, 14_520.0, 1e-12, "wire strung per acre");
    assert_near(figure(&plan, "wire_ordered") / FT / land, 15_653.0, 1e-4, "wire ordered per acre");
}

/// A guy's length read back from the bill's statics, L = T h D ÷ M: three independent set-ups.
#[test]
fn guys_have_the_length_the_statics_imply() {
    // Moment of four wires at 250 lbf about the ground: 250 × (2.5 + 4.75 + 7 + 9) ft·lbf.
    let moment = 250.0 * (2.5 + 4.75 + 7.0 + 9.0);
    for (lean, distance, guy_force, what) in [
        (0.0, 9.0, 913.3, "plumb, anchor 9 ft out"),
        (0.0, 5.196, 1291.7, "plumb, guy at 60°"),
        (16.5, 9.0, 789.7, "leaned 16.5°, anchor 9 ft out"),
    ] {
        let scenario = ten_rows_of_300_ft().with(|s| {
            s.trellis.end_post_lean = degrees(lean);
            s.trellis.anchor_distance = feet(distance);
        });
        let implied = guy_force * 9.0 * distance / moment;
        assert_near(guy_length(&scenario.trellis).value / FT, implied, 1e-4, what);
    }
}

#[test]
fn guys_and_leaning_posts_are_plain_triangles() {
    let plumb = ten_rows_of_300_ft();
    assert_near(guy_length(&plumb.trellis).value / FT, 9.0 * 2f64.sqrt(), 1e-12, "45°");
    // 3-4-5: wire at 8 ft, anchor 6 ft out.
    let rope = plumb.clone().with(|s| {
        s.trellis.wire_heights = vec![feet(8.0)];
        s.trellis.anchor_distance = feet(6.0);
    });
    assert_near(guy_length(&rope.trellis).value / FT, 10.0, 1e-12, "3-4-5");
    // Wires above the post: fastened at the post top instead.
    let high = plumb.clone().with(|s| s.trellis.wire_heights = vec![feet(12.0)]);
    assert_near(guy_attachment(&high.trellis).height.value / FT, 9.0, 1e-12, "post top");
    let leaning = plumb.clone().with(|s| s.trellis.end_post_lean = degrees(30.0));
    assert_near(guy_attachment(&leaning.trellis).toward.value / FT, 9.0 / 3f64.sqrt(), 1e-12, "tan 30°");
    let plan = planned(&leaning);
    assert_near(plan.trellis.end_post_length.value / FT, 9.0 * 2.0 / 3f64.sqrt() + 3.0, 1e-12, "1 ÷ cos 30°");
    let braced = planned(&leaning.with(|s| s.trellis.end_assembly = EndAssembly::HBrace));
    assert_near(braced.trellis.end_post_length.value / FT, 12.0, 1e-12, "an H-brace stands plumb");
}

#[test]
fn h_braces_are_counted_at_both_ends() {
    let plan = planned(&ten_rows_of_300_ft().with(|s| s.trellis.end_assembly = EndAssembly::HBrace));
    let trellis = &plan.trellis;
    assert_eq!((trellis.end_posts, trellis.brace_posts, trellis.brace_rails), (20, 20, 20));
    assert_eq!((trellis.anchors, trellis.line_posts, trellis.coils), (0, 90, 4));
    assert_eq!((trellis.guys.each.value, trellis.guys.all.value), (0.0, 0.0));
    assert_near(figure(&plan, "brace_posts"), 20.0, 0.0, "brace posts");
    assert_near(figure(&plan, "brace_rails"), 20.0, 0.0, "brace rails");
    assert!(plan.figure("anchors").is_none() && plan.figure("guy_wire").is_none());
}

/// A V has posts, wires, ends and anchors on either side; trees and rows stay.
#[test]
fn a_v_trellis_doubles_posts_wires_and_ends() {
    let upright = ten_rows_of_300_ft();
    for end_assembly in [EndAssembly::TieBack, EndAssembly::HBrace] {
        let upright = upright.clone().with(|s| s.trellis.end_assembly = end_assembly);
        let (one, two) = (planned(&upright), planned(&upright.with(|s| s.canopy.lean = degrees(15.0))));
        assert_eq!((one.trellis.sides, two.trellis.sides), (1, 2));
        for (what, upright, v) in [
            ("line posts", one.trellis.line_posts, two.trellis.line_posts),
            ("end posts", one.trellis.end_posts, two.trellis.end_posts),
            ("anchors", one.trellis.anchors, two.trellis.anchors),
            ("brace posts", one.trellis.brace_posts, two.trellis.brace_posts),
            ("brace rails", one.trellis.brace_rails, two.trellis.brace_rails),
            ("tensioners", one.trellis.tensioners, two.trellis.tensioners),
        ] {
            assert_eq!(2 * upright, v, "{what}");
        }
        for key in ["wire_strung", "wire_ordered", "posts_per_acre"] {
            assert_near(figure(&two, key), 2.0 * figure(&one, key), 1e-12, key);
        }
        assert_near(two.trellis.guys.all.value, 2.0 * one.trellis.guys.all.value, 1e-12, "guys");
        for key in ["trees_in_block", "rows", "trees_per_acre", "row_length", "bay"] {
            assert_near(figure(&two, key), figure(&one, key), 1e-12, key);
        }
    }
}

/// Coils of 4,000 ft: as many as hold the wire, none to spare. One row, one wire, so that the order is
/// (row + 8 ft) × 1.05.
#[test]
fn coils_hold_the_wire_and_no_more() {
    let one_wire = |row_ft: f64| {
        planned(&ten_rows_of_300_ft().with(|s| {
            s.trellis.wire_heights = vec![feet(9.0)];
            s.block.block_length = feet(row_ft + 60.0);
            s.block.block_width = feet(24.0);
        }))
    };
    let whole = 4_000.0 / 1.05 - 8.0;
    for (row, coils) in [(300.0, 1), (whole - 1.0, 1), (whole, 1), (whole + 1.0, 2), (6_000.0, 2)] {
        let plan = one_wire(row);
        assert_eq!(plan.trellis.coils, coils, "{row} ft");
        assert_near(figure(&plan, "wire_ordered") / FT, (row + 8.0) * 1.05, 1e-12, row);
    }
}

#[test]
fn stakes_stand_at_every_tree_that_has_one() {
    for (support, stakes, line_posts) in [
        (Support::Wires, 0, 90),
        (Support::WiresAndStakes, 1000, 90),
        (Support::PostPerTree, 1000, 0),
        (Support::None, 0, 0),
    ] {
        let plan = planned(&ten_rows_of_300_ft().with(|s| s.trellis.support = support));
        assert_eq!((plan.trellis.stakes, plan.trellis.line_posts), (stakes, line_posts), "{support:?}");
        assert_eq!(plan.figure("stakes").is_some(), stakes > 0, "{support:?}");
        assert_eq!(plan.figure("line_posts").is_some(), line_posts > 0, "{support:?}");
    }
}

#[test]
fn wires_removed_leave_posts_and_no_wire() {
    let plan = planned(&ten_rows_of_300_ft().with(|s| s.trellis.wire_heights = Vec::new()));
    assert_eq!((plan.trellis.wires, plan.trellis.tensioners, plan.trellis.coils), (0, 0, 0));
    assert_eq!(plan.trellis.wire_ordered.value, 0.0);
    assert_eq!(plan.trellis.line_posts, 90);
}

/// Fraser in Good Fruit Grower: at least a quarter in the ground; 12 ft posts 3 ft deep meet it exactly.
#[test]
fn posts_in_and_out_of_the_ground() {
    for (length, depth, out, share) in
        [(12.0, 3.0, 9.0, 0.25), (14.0, 3.0, 11.0, 3.0 / 14.0), (9.0, 2.5, 6.5, 2.5 / 9.0)]
    {
        let plan = planned(&Scenario::default().with(|s| {
            s.trellis.post_length = feet(length);
            s.trellis.post_embedment = feet(depth);
        }));
        assert_near(figure(&plan, "post_height") / FT, out, 1e-12, length);
        assert_near(figure(&plan, "embedment_share"), share, 1e-12, length);
    }
}

/// Clear alley: row less canopy, and less the reach of both leans.
#[test]
fn alleys_are_what_canopies_leave() {
    for (row, canopy, alley) in [(12.0, 5.0, 7.0), (11.0, 4.0, 7.0), (8.0, 8.0, 0.0)] {
        let plan = planned(&Scenario::default().with(|s| {
            s.block.row_width = feet(row);
            s.canopy.canopy_width = feet(canopy);
        }));
        assert_near(plan.canopy.clear_alley().value + FT, (alley + 1.0) * FT, 1e-12, (row, canopy));
    }
    let v = Scenario::for_system(TrainingSystem::VTrellis).with(|s| s.canopy.lean = degrees(30.0));
    // Stems lean from the ground: the tops, 10 ft up and 0.6 of 2.5 ft wide, reach farthest.
    let reach = 2.0 * 10.0 / 3f64.sqrt() + 0.6 * 2.5;
    assert_near(figure(&planned(&v), "clear_alley") / FT, 14.0 - reach, 1e-12, "leaning to both sides");
}

#[test]
fn the_union_stands_lower_after_settling() {
    for (planted, settling, left) in [(5.0, 1.0, 4.0), (8.0, 0.0, 8.0), (2.0, 3.0, -1.0)] {
        let plan = planned(&Scenario::default().with(|s| {
            s.canopy.graft_union_height = inches(planted);
            s.canopy.settling = inches(settling);
        }));
        assert_near(
            figure(&plan, "union_settled") + 1.0,
            inches(left).value + 1.0,
            1e-12,
            (planted, settling),
        );
    }
}
