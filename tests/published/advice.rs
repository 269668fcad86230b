//! Every rule speaks on a plan made for it and is quiet just on the good side of its threshold.

use crate::fixture::planned;
use drafting::{Units, wording};
use planting::canopy::{OVERFILL_GRAVE, OVERFILL_LAYER};
use planting::ground::canopy_asked;
use planting::uom::si::f64::Length;
use planting::{
    Advice, Canopy, Choice, EndAssembly, Plan, Rootstock, Scenario, ScionVigour, Severity, Slot, SoilVigour,
    Support, TrainingSystem, degrees, feet, inches, parameter, remedies, share,
};

fn finding(plan: &Plan, rule: &str) -> Option<Severity> {
    let found: Vec<&Advice> = plan.advice.iter().filter(|advice| advice.rule == rule).collect();
    assert!(found.len() <= 1, "{rule} spoke twice");
    found.first().map(|advice| advice.severity)
}

#[track_caller]
fn check(rule: &str, expected: Option<Severity>, change: impl Fn(&mut Scenario)) {
    let mut scenario = Scenario::default();
    change(&mut scenario);
    let plan = planned(&scenario);
    assert_eq!(finding(&plan, rule), expected, "{rule}: {:?}", plan.advice);
    well_formed(&plan);
}

/// What every finding owes a reader: numbers in their places, fields that exist, a source.
pub(crate) fn well_formed(plan: &Plan) {
    for advice in &plan.advice {
        let cures = advice.remedies.iter().flatten().map(|cure| &cure.sentence);
        for message in std::iter::once(&advice.finding).chain(cures) {
            for (place, slot) in message.values.iter().enumerate() {
                assert!(
                    message.template.contains(&format!("{{{place}}}")),
                    "{}: {place} unused",
                    advice.rule
                );
                if let Slot::Number(value, _) = slot {
                    assert!(value.is_finite(), "{}: {value}", advice.rule);
                }
            }
            let places = message.template.matches('{').count();
            assert_eq!(places, message.values.len(), "{}: {}", advice.rule, message.template);
        }
        assert!(!advice.fields.is_empty(), "{}", advice.rule);
        for field in advice.fields {
            assert!(parameter(field).is_some(), "{}: {field} is no input", advice.rule);
        }
        assert!(!advice.title.is_empty() && !advice.source.citation.is_empty(), "{}", advice.rule);
    }
    assert!(plan.advice.is_sorted_by_key(|advice| advice.severity), "the gravest first");
}

const FIX: Option<Severity> = Some(Severity::Fix);
const CAUTION: Option<Severity> = Some(Severity::Caution);
const PRICE: Option<Severity> = Some(Severity::Price);
const NOTE: Option<Severity> = Some(Severity::Note);

#[test]
fn wires_end_with_the_posts() {
    // Posts stand 9 ft out; a tenth of an inch is forgiven.
    for (inches_high, expected) in [(108.0, None), (108.09, None), (108.11, FIX), (120.0, FIX)] {
        check("wire_above_post", expected, |s| s.trellis.wire_heights = vec![feet(2.5), inches(inches_high)]);
    }
    check("wire_above_post", None, |s| {
        s.trellis.wire_heights = vec![feet(12.0)];
        s.trellis.support = Support::PostPerTree;
    });
}

#[test]
fn weak_roots_need_support() {
    for (rootstock, support, expected) in [
        (Rootstock::G11, Support::None, FIX),
        (Rootstock::G11, Support::PostPerTree, None),
        (Rootstock::G11, Support::Wires, None),
        (Rootstock::M7, Support::None, CAUTION),
        (Rootstock::G890, Support::None, None),
        (Rootstock::MM106, Support::None, None),
    ] {
        check("support_missing", expected, |s| {
            (s.canopy.rootstock, s.trellis.support) = (rootstock, support)
        });
    }
    check("support_missing", FIX, |s| s.trellis.wire_heights.clear());
}

#[test]
fn the_tractor_gets_through() {
    // 12 ft rows: a 5 ft tractor with 2 ft beside it leaves 5 ft to the canopy, with 1 ft beside it 6 ft.
    for (canopy_ft, expected) in
        [(5.0, None), (5.008, None), (5.01, NOTE), (6.0, NOTE), (6.01, CAUTION), (6.99, CAUTION), (7.01, FIX)]
    {
        check("clear_alley", expected, |s| s.canopy.canopy_width = feet(canopy_ft));
    }
    check("clear_alley", FIX, |s| s.canopy.lean = degrees(20.0));
}

#[test]
fn trees_are_no_taller_than_rows_are_wide() {
    // Perry & Hull (Michigan State) ask for rows 1.3 times the height north-south and 1.5 times east-west: those running
    // east-west stand 1.5 ÷ 1.3 times as wide here too. Rows of 12 ft carry 12 ft north-south and 10.4 ft east-west.
    for (azimuth, height_ft, expected) in [
        (0.0, 12.0, None),
        (0.0, 12.01, CAUTION),
        (0.0, 15.0, CAUTION),
        (0.0, 15.01, FIX),
        (180.0, 12.0, None),
        (90.0, 10.4, None),
        (90.0, 10.41, CAUTION),
        (90.0, 13.0, CAUTION),
        (90.0, 13.01, FIX),
        (45.0, 11.14, None),
        (45.0, 11.15, CAUTION),
    ] {
        check("height_to_row", expected, |s| {
            (s.canopy.tree_height, s.block.row_azimuth) = (feet(height_ft), degrees(azimuth));
        });
    }
}

/// The threshold is looked up along the vigour slider: the rule must speak exactly where the layer that a season
/// adds beyond the space passes the stated one.
#[test]
fn trees_that_outgrow_their_space_are_named() {
    let (mut quiet, mut spoke, mut grave) = (0, 0, 0);
    for step in 0..=210 {
        let scenario = Scenario::default().with(|s| {
            s.canopy.vigour = share(0.4 + 0.01 * f64::from(step));
            (s.canopy.scion_vigour, s.canopy.soil_vigour) = (ScionVigour::Strong, SoilVigour::Deep);
        });
        let plan = planned(&scenario);
        let worst = plan.canopy.years.iter().map(|year| year.overgrowth().value).fold(0.0, f64::max);
        let expected = match worst {
            worst if worst > OVERFILL_GRAVE => FIX,
            worst if worst > OVERFILL_LAYER => CAUTION,
            _ => None,
        };
        assert_eq!(finding(&plan, "overfill"), expected, "worst layer {worst} m");
        match expected {
            None => quiet += 1,
            CAUTION => spoke += 1,
            _ => grave += 1,
        }
    }
    assert!(quiet > 0 && spoke > 0 && grave > 0, "{quiet} {spoke} {grave}: every answer must have been met");
    // Semi-dwarf stock at a tall spindle's spacing is the example the threshold was set by.
    check("overfill", CAUTION, |s| s.canopy.rootstock = Rootstock::M7);
    check("overfill", FIX, |s| s.canopy.rootstock = Rootstock::Seedling);
    check("overfill", None, |s| s.canopy.rootstock = Rootstock::M9Nic29);
    // Every system on its usual stock, and the narrowest wall on M.9, lose what two to four limbs a year hold.
    for system in TrainingSystem::ALL {
        assert_eq!(finding(&planned(&Scenario::for_system(*system)), "overfill"), None, "{}", system.label());
    }
    check("overfill", None, |s| {
        *s = Scenario::for_system(TrainingSystem::SuperSpindle);
        s.canopy.rootstock = Rootstock::M9T337;
    });
}

/// An in-row spacing this much beyond what the default tree fills by a year. How far it spreads depends a little on
/// the spacing itself.
fn spacing_filled_in(year: f64, times: f64) -> Length {
    let spread = |spacing: Length| {
        let scenario = Scenario::default().with(|s| s.block.in_row_spacing = spacing);
        Canopy::grow(&canopy_asked(&scenario)).free.spread(year)
    };
    (0..60).fold(feet(3.0), |spacing, _| spread(spacing)) * times
}

#[test]
fn rows_that_never_close_are_named() {
    check("never_fills", FIX, |s| s.block.in_row_spacing = spacing_filled_in(25.0, 1.001));
    check("never_fills", None, |s| s.block.in_row_spacing = spacing_filled_in(25.0, 0.999));
    // Free-standing trees needn't meet: open ground is what they cost, and no posts or wires are spoken of.
    check("never_fills", PRICE, |s| {
        (s.block.in_row_spacing, s.trellis.support) = (spacing_filled_in(25.0, 1.001), Support::None);
    });
    // Of trees that lean to alternate sides, every second one is given room by the one between: twice the in-row spacing is named.
    let leaning = planned(&Scenario::for_system(TrainingSystem::VTrellis).with(|s| {
        (s.block.in_row_spacing, s.canopy.rootstock) = (feet(6.0), Rootstock::M27);
    }));
    let said = leaning.advice.iter().find(|advice| advice.rule == "never_fills").expect("far apart");
    assert!(said.finding.values.contains(&Slot::from(feet(12.0))), "{:?}", said.finding);
}

#[test]
fn rows_that_close_late_are_named() {
    check("late_to_fill", CAUTION, |s| s.block.in_row_spacing = spacing_filled_in(8.0, 1.001));
    check("late_to_fill", None, |s| s.block.in_row_spacing = spacing_filled_in(8.0, 0.999));
    // Rows that never close have a rule of their own.
    check("late_to_fill", None, |s| s.block.in_row_spacing = spacing_filled_in(25.0, 1.001));
    check("late_to_fill", None, |s| {
        (s.block.in_row_spacing, s.trellis.support) = (spacing_filled_in(8.0, 1.001), Support::None);
    });
}

#[test]
fn spacings_unusual_for_the_system_are_named() {
    // Tall spindle: 837 to 1,500 trees per acre, 3-4 × 10-13 ft, half a per cent forgiven.
    for (in_row, row, expected, what) in [
        (3.0, 12.0, None, "1,210 trees per acre"),
        (4.0, 13.06, None, "834, forgiven"),
        (4.0, 13.09, CAUTION, "832, too thin"),
        (2.88, 10.0, CAUTION, "1,513, too dense"),
        (2.9, 10.0, NOTE, "1,502, forgiven; 2.9 ft is not"),
        (2.986, 12.0, None, "2.99 ft, forgiven"),
        (2.98, 12.0, NOTE, "usual density, unusual in-row spacing"),
        (3.0, 14.0, NOTE, "usual density, unusual rows"),
    ] {
        check("outside_system", expected, |s| {
            (s.block.in_row_spacing, s.block.row_width) = (feet(in_row), feet(row));
            assert!(!what.is_empty());
        });
    }
}

#[test]
fn the_union_stands_three_to_six_inches_out() {
    // Crassweller (Penn State), eXtension: 3-6 in after settling; one inch settles.
    for (planted, expected) in [
        (0.0, FIX),
        (2.9, FIX),
        (3.0, CAUTION),
        (3.9, CAUTION),
        (4.0, None),
        (7.0, None),
        (7.1, NOTE),
        (9.0, NOTE),
        (9.1, CAUTION),
        (18.0, CAUTION),
    ] {
        check("graft_union", expected, |s| s.canopy.graft_union_height = inches(planted));
    }
}

#[test]
fn leaders_stay_near_the_top_wire() {
    for (height, expected) in [(12.0, None), (12.008, None), (12.01, CAUTION)] {
        check("leader_above_wire", expected, |s| s.canopy.tree_height = feet(height));
    }
    check("leader_above_wire", None, |s| {
        (s.canopy.tree_height, s.trellis.support) = (feet(14.0), Support::PostPerTree)
    });
}

#[test]
fn leaders_stay_near_their_post() {
    // A post of 9 ft set 2.5 ft deep; 2-3 ft above it, common practice from memory.
    for (height, expected) in [(9.5, None), (9.508, None), (9.51, CAUTION)] {
        check("leader_above_post", expected, |s| {
            *s = Scenario::for_system(TrainingSystem::SlenderSpindle);
            s.canopy.tree_height = feet(height);
        });
    }
    check("leader_above_post", None, |s| s.canopy.tree_height = feet(14.0));
}

#[test]
fn walls_reach_their_top_wire() {
    // Kept a foot below the wire and more, its top idles; common practice, no source.
    for (height, expected) in [(8.0, None), (7.99, CAUTION)] {
        check("never_reaches_wire", expected, |s| s.canopy.tree_height = feet(height));
    }
    // Stocks that in 25 years don't grow up to a top wire of 16 ft.
    check("never_reaches_wire", CAUTION, |s| {
        s.canopy.rootstock = Rootstock::M27;
        s.canopy.tree_height = feet(16.0);
        s.trellis.wire_heights = [4.0, 8.0, 12.0, 16.0].map(feet).to_vec();
        s.trellis.post_length = feet(20.0);
    });
    check("never_reaches_wire", None, |s| {
        (s.canopy.tree_height, s.trellis.support) = (feet(5.0), Support::None)
    });
}

#[test]
fn systems_have_their_wires() {
    // Fraser & Oakes 1999: a stake at every tree on one wire, wires one above another without; Robinson: 3 for tall spindle.
    let wires = |count: usize| (1..=count).map(|wire| feet(9.0 * wire as f64 / count as f64)).collect();
    for (system, count, support, expected) in [
        (TrainingSystem::TallSpindle, 1, Support::Wires, CAUTION),
        (TrainingSystem::TallSpindle, 2, Support::Wires, CAUTION),
        (TrainingSystem::TallSpindle, 3, Support::Wires, None),
        (TrainingSystem::TallSpindle, 1, Support::WiresAndStakes, None),
        (TrainingSystem::VerticalTrellis, 3, Support::Wires, CAUTION),
        (TrainingSystem::VerticalTrellis, 4, Support::Wires, None),
        (TrainingSystem::VerticalAxis, 1, Support::WiresAndStakes, None),
        (TrainingSystem::VerticalAxis, 1, Support::Wires, CAUTION),
        (TrainingSystem::LowTrellis, 1, Support::Wires, CAUTION),
        (TrainingSystem::SlenderSpindle, 0, Support::PostPerTree, None),
    ] {
        check("few_wires", expected, |s| {
            *s = Scenario::for_system(system);
            (s.trellis.support, s.trellis.wire_heights) = (support, wires(count));
        });
    }
}

#[test]
fn heights_unusual_for_the_system_are_named() {
    // Tall spindle 10-12 ft; half a per cent is forgiven.
    for (height, expected) in [(9.96, None), (9.94, NOTE), (12.05, None), (12.07, NOTE)] {
        check("unusual_height", expected, |s| s.canopy.tree_height = feet(height));
    }
}

#[test]
fn a_quarter_of_the_post_is_in_the_ground() {
    for (depth, expected) in [(3.0, None), (2.999, CAUTION)] {
        check("embedment", expected, |s| s.trellis.post_embedment = feet(depth));
    }
    check("embedment", None, |s| {
        (s.trellis.post_embedment, s.trellis.support) = (feet(1.0), Support::PostPerTree)
    });
}

#[test]
fn bays_are_at_most_40_ft() {
    // Kuhn in Good Fruit Grower: 40 average, 50 trouble. 600-ft rows in whole bays of these lengths.
    for (bay, length, expected) in [
        (40.0, 600.0, None),
        (42.0, 504.0, CAUTION),
        (48.0, 480.0, CAUTION),
        (51.0, 510.0, FIX),
        (60.0, 600.0, FIX),
    ] {
        check("post_interval", expected, |s| {
            (s.trellis.post_interval, s.block.block_length) = (feet(bay), feet(length + 60.0));
        });
    }
    check("post_interval", None, |s| {
        (s.trellis.post_interval, s.trellis.support) = (feet(60.0), Support::None)
    });
}

#[test]
fn rows_end_within_600_ft() {
    for (row, ends, expected) in [
        (600.0, EndAssembly::TieBack, None),
        (600.1, EndAssembly::TieBack, CAUTION),
        (600.0, EndAssembly::HBrace, None),
        (600.1, EndAssembly::HBrace, None),
    ] {
        check("row_length", expected, |s| {
            (s.block.block_length, s.trellis.end_assembly) = (feet(row + 60.0), ends)
        });
    }
    for (row, expected) in [(600.0, None), (600.1, NOTE)] {
        check("long_rows", expected, |s| {
            (s.block.block_length, s.trellis.end_assembly) = (feet(row + 60.0), EndAssembly::HBrace)
        });
    }
    check("row_length", None, |s| (s.block.block_length, s.trellis.support) = (feet(2000.0), Support::None));
}

#[test]
fn anchors_stand_in_the_field_and_well_out() {
    for (distance, headland, expected, what) in [
        (9.0, 30.0, None, "as far out as the post is high"),
        (9.0, 9.0, None, "at the edge of the field"),
        (9.0, 8.99, FIX, "beyond the field"),
        (5.4, 30.0, None, "0.6 of the post"),
        (5.39, 30.0, CAUTION, "nearer than that"),
        (5.0, 30.0, CAUTION, "Good Fruit Grower: 5 ft is too near"),
    ] {
        check("anchor", expected, |s| {
            (s.trellis.anchor_distance, s.block.headland) = (feet(distance), feet(headland));
            assert!(!what.is_empty());
        });
    }
    // On low posts the 5 ft of the source rule.
    for (distance, expected) in [(5.0, CAUTION), (5.01, None)] {
        check("anchor", expected, |s| {
            (s.trellis.post_length, s.trellis.post_embedment) = (feet(9.0), feet(2.5));
            (s.trellis.anchor_distance, s.trellis.wire_heights) = (feet(distance), vec![feet(6.0)]);
        });
    }
    check("anchor", None, |s| (s.block.headland, s.trellis.end_assembly) = (feet(3.0), EndAssembly::HBrace));
}

#[test]
fn machines_can_turn() {
    // Twice the tractor's 5 ft must be free beyond the anchors, or beyond H-braces.
    for (headland, ends, expected) in [
        (19.0, EndAssembly::TieBack, None),
        (18.99, EndAssembly::TieBack, NOTE),
        (10.0, EndAssembly::HBrace, None),
        (9.99, EndAssembly::HBrace, NOTE),
        (0.0, EndAssembly::HBrace, NOTE),
        // Anchors outside the field are a graver matter with a rule of their own.
        (8.0, EndAssembly::TieBack, None),
    ] {
        check("headland", expected, |s| (s.block.headland, s.trellis.end_assembly) = (feet(headland), ends));
    }
}

#[test]
fn fruiting_walls_are_shallow() {
    for (width, expected) in [(8.0, None), (8.008, None), (8.01, CAUTION)] {
        check("canopy_depth", expected, |s| s.canopy.canopy_width = feet(width));
    }
    check("canopy_depth", None, |s| (s.canopy.canopy_width, s.trellis.support) = (feet(12.0), Support::None));
}

/// A sentence names no unit of its own: what it says in feet to one reader it says in metres to another.
#[test]
fn sentences_have_no_feet_for_metric_readers() {
    let is_imperial = |words: &str| {
        words
            .split(|letter: char| !letter.is_alphabetic())
            .any(|word| ["ft", "foot", "feet", "in.", "inch", "inches", "acre", "acres"].contains(&word))
    };
    assert!(is_imperial("leaves less than a foot on each side") && !is_imperial("0.3 m in the row"));
    let mut seen = std::collections::BTreeSet::new();
    for (name, change) in wrong_plans() {
        let scenario = Scenario::default().with(change);
        match planting::plan(&scenario) {
            Ok(mut plan) => {
                assert!(!plan.advice.is_empty(), "{name}");
                remedies::solve_all(&scenario, &mut plan.advice, planting::Rounding::Metric);
                well_formed(&plan);
                for found in &plan.advice {
                    let said = wording::advice(found, Units::Metric);
                    assert!(!is_imperial(&said), "{}: {said}", found.rule);
                    seen.insert(found.rule);
                }
            }
            Err(problems) => {
                for problem in &problems {
                    let said = wording::problem(problem, Units::Metric);
                    assert!(!is_imperial(&said), "{name}: {said}");
                    seen.insert("problem");
                }
            }
        }
    }
    assert!(seen.len() > 23, "{seen:?}");
}

/// A plan that is wrong in one way: its name, and what makes it so.
type Wrong = (&'static str, fn(&mut Scenario));

/// Plans with something wrong, every rule among them, and fields at odds.
fn wrong_plans() -> Vec<Wrong> {
    vec![
        ("wire_above_post", |s| s.trellis.wire_heights = vec![feet(12.0)]),
        ("support_missing", |s| s.trellis.support = planting::Support::None),
        ("clear_alley, tight", |s| s.canopy.canopy_width = feet(6.0)),
        ("clear_alley, closed", |s| s.canopy.canopy_width = feet(8.0)),
        ("height_to_row", |s| s.canopy.tree_height = feet(14.0)),
        ("overfill", |s| s.canopy.rootstock = planting::Rootstock::MM111),
        ("never_fills", |s| {
            (s.block.in_row_spacing, s.canopy.rootstock) = (feet(12.0), planting::Rootstock::M27)
        }),
        ("late_to_fill", |s| s.block.in_row_spacing = feet(8.0)),
        ("outside_system", |s| s.block.in_row_spacing = feet(6.0)),
        ("graft_union, low", |s| s.canopy.graft_union_height = planting::inches(1.0)),
        ("graft_union, high", |s| s.canopy.graft_union_height = planting::inches(9.0)),
        ("leader_above_wire", |s| s.trellis.wire_heights = vec![feet(3.0)]),
        ("embedment", |s| s.trellis.post_embedment = feet(1.0)),
        ("post_interval", |s| s.trellis.post_interval = feet(55.0)),
        ("row_length", |s| s.block.block_length = feet(900.0)),
        ("long_rows", |s| {
            (s.block.block_length, s.trellis.end_assembly) = (feet(900.0), planting::EndAssembly::HBrace)
        }),
        ("anchor, outside", |s| s.block.headland = feet(5.0)),
        ("anchor, near", |s| s.trellis.anchor_distance = feet(4.0)),
        ("headland", |s| s.block.headland = feet(15.0)),
        ("few_wires", |s| s.trellis.wire_heights = vec![feet(9.0)]),
        ("leader_above_post", |s| {
            (s.trellis.support, s.canopy.tree_height) = (planting::Support::PostPerTree, feet(13.0))
        }),
        ("never_reaches_wire", |s| s.canopy.tree_height = feet(6.0)),
        ("unusual_height", |s| s.canopy.tree_height = feet(9.0)),
        ("stock_for_system", |s| s.canopy.rootstock = planting::Rootstock::MM106),
        ("canopy_depth", |s| (s.block.row_width, s.canopy.canopy_width) = (feet(20.0), feet(10.0))),
        ("dark_middle", |s| s.light.leaf_area_density *= 2.0),
        ("floor_light", |s| s.block.row_width = feet(24.0)),
        ("rows_shading", |s| (s.canopy.tree_height, s.block.row_width) = (feet(16.0), feet(9.0))),
        ("winter_season", |s| s.light.latitude = planting::degrees(-42.0)),
        ("block_length", |s| s.block.block_length = feet(20.0)),
        ("block_width", |s| s.block.block_width = feet(10.0)),
        ("tree_height", |s| (s.canopy.crown_base, s.canopy.tree_height) = (feet(8.0), feet(8.0))),
        ("post_embedment", |s| (s.trellis.post_length, s.trellis.post_embedment) = (feet(6.0), feet(5.0))),
        ("graft_union_height", |s| {
            (s.canopy.crown_base, s.canopy.graft_union_height) = (feet(0.5), planting::inches(12.0))
        }),
        ("in_row_spacing", |s| s.block.in_row_spacing = feet(90.0)),
    ]
}
