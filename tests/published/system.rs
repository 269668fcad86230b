//! Training systems: printed examples lie in the ranges, and the starting plans are in order.

use crate::fixture::{FT, assert_near, figure, planned};
use planting::system::Range;
use planting::{Choice, Scenario, Severity, Support, TrainingSystem, feet, plan};

/// A printed example: system, in-row and row `[ft]`, trees per acre, height `[ft]`; what a source
/// doesn't print is left out.
struct Example {
    system: TrainingSystem,
    in_row: Option<f64>,
    row: Option<f64>,
    trees: Option<f64>,
    height: Option<f64>,
    source: &'static str,
}

fn example(
    system: TrainingSystem,
    [in_row, row, trees, height]: [Option<f64>; 4],
    source: &'static str,
) -> Example {
    Example { system, in_row, row, trees, height, source }
}

fn check(example: &Example) {
    let usual = example.system.usual();
    let inside = |value: Option<f64>, (low, high): Range, what: &str| {
        if let Some(value) = value {
            assert!(
                (low..=high).contains(&value),
                "{}: {what} {value} not in {low} to {high} ({})",
                example.system.label(),
                example.source
            );
        }
    };
    inside(example.in_row, usual.in_row_ft, "in-row spacing");
    inside(example.row, usual.row_ft, "row width");
    inside(example.trees, usual.trees_per_acre, "trees per acre");
    inside(example.height, usual.height_ft, "height");
}

#[test]
fn printed_examples_are_usual_for_their_system() {
    use TrainingSystem::*;
    let (robinson, barney) = ("Robinson (Cornell) in Good Fruit Grower", "Barney, Storey's Guide");
    let ontario = "Ontario Ministry of Agriculture, Research results: trial precision pruning";
    let organized = "Good Fruit Grower, The organized orchard (Auvil Fruit Co.)";
    let multi_site = "Ten orchard systems, multi-site 10-year comparison, abstract";
    for row in [
        example(SuperSpindle, [Some(2.0), Some(10.0), Some(2178.0), None], robinson),
        example(SuperSpindle, [Some(1.5), Some(11.0), None, None], robinson),
        example(SuperSpindle, [None, None, None, Some(8.0)], "from memory"),
        example(SuperSpindle, [None, None, None, Some(10.0)], "from memory"),
        example(TallSpindle, [Some(3.0), Some(12.0), None, None], "OMAFRA tall spindle support sheet"),
        example(
            TallSpindle,
            [Some(3.0), Some(11.0), None, Some(10.0)],
            "Robinson in Fruit Growers News 7 Apr 2007",
        ),
        example(TallSpindle, [Some(4.0), Some(13.0), Some(837.0), None], barney),
        example(TallSpindle, [Some(3.0), Some(10.0), Some(1452.0), None], barney),
        example(
            TallSpindle,
            [None, None, Some(1000.0), None],
            "Good Fruit Grower July 2015, box on tall spindle",
        ),
        example(
            TallSpindle,
            [None, None, Some(1500.0), None],
            "Good Fruit Grower July 2015, box on tall spindle",
        ),
        example(
            TallSpindle,
            [None, None, None, Some(12.0)],
            "Good Fruit Grower 1 May 2013, fruiting wall principles",
        ),
        example(SlenderSpindle, [Some(5.0), Some(14.0), Some(622.0), None], ontario),
        example(SlenderSpindle, [None, None, Some(600.0), None], "Robinson et al., New York Fruit Quarterly"),
        example(SlenderSpindle, [None, None, Some(996.0), None], multi_site),
        example(
            SlenderSpindle,
            [None, None, None, Some(2.0 / FT)],
            "Baugher & Singha, Concise Encyclopedia of Temperate Tree Fruit",
        ),
        example(
            SlenderSpindle,
            [None, None, None, Some(2.5 / FT)],
            "Baugher & Singha, Concise Encyclopedia of Temperate Tree Fruit",
        ),
        example(VerticalAxis, [Some(3.0), Some(10.0), Some(1452.0), Some(10.0)], barney),
        example(VerticalAxis, [Some(7.0), Some(16.0), Some(389.0), Some(14.0)], barney),
        example(VerticalAxis, [None, None, Some(500.0), None], "Robinson et al., New York Fruit Quarterly"),
        example(VerticalAxis, [None, None, Some(670.0), None], "Reig et al. 2020, HortScience 55(10)"),
        example(VerticalAxis, [None, None, Some(632.0), None], multi_site),
        example(VerticalAxis, [None, None, None, Some(10.0)], "Warmund, Univ. of Missouri Extension G6024"),
        example(Solaxe, [Some(3.5), Some(12.0), None, None], robinson),
        example(Solaxe, [Some(4.0), Some(14.0), None, None], robinson),
        example(Solaxe, [None, None, None, Some(12.0)], "from memory"),
        example(BiAxis, [Some(4.0), Some(11.0), None, None], robinson),
        example(BiAxis, [Some(4.0), Some(12.0), None, None], robinson),
        example(
            BiAxis,
            [None, None, Some(3175.0 / 2.471_05), None],
            "Dallabetta et al. 2021, HortScience 56(2):234",
        ),
        example(TriAxis, [None, None, Some(908.0), None], "Reig et al. 2020, HortScience 55(10)"),
        example(
            TriAxis,
            [None, None, Some(2116.0 / 2.471_05), None],
            "Dallabetta et al. 2021, HortScience 56(2):234",
        ),
        example(VerticalTrellis, [Some(3.0), Some(10.0), Some(1452.0), Some(10.0)], barney),
        example(VerticalTrellis, [Some(6.0), Some(12.0), None, None], barney),
        example(VerticalTrellis, [None, None, Some(660.0), None], barney),
        example(VerticalTrellis, [Some(4.0), Some(8.0), None, None], robinson),
        example(VerticalTrellis, [Some(5.0), Some(10.0), None, None], robinson),
        example(
            LowTrellis,
            [Some(6.0), None, None, Some(6.0)],
            "Penn State staff note, apple-crop list 2011",
        ),
        example(VTrellis, [Some(1.5), Some(12.0), Some(2420.0), None], organized),
        example(VTrellis, [Some(3.0), None, None, None], robinson),
        example(CentralLeader, [Some(15.0), Some(20.0), Some(145.0), None], ontario),
        example(CentralLeader, [None, None, Some(200.0), None], "Robinson et al., New York Fruit Quarterly"),
        example(CentralLeader, [None, None, Some(450.0), None], multi_site),
        example(CentralLeader, [None, None, None, Some(16.0)], "from memory"),
        example(
            Standard,
            [Some(20.0), Some(26.0), Some(84.0), Some(24.0)],
            "US land-grant eXtension, Standard apple rootstocks",
        ),
    ] {
        check(&row);
    }
}

#[test]
fn the_tall_spindle_starts_without_a_finding() {
    let plan = planned(&Scenario::default());
    assert_eq!(plan.scenario.system, TrainingSystem::TallSpindle);
    assert!(plan.advice.is_empty(), "{:?}", plan.advice);
}

#[test]
fn no_starting_plan_needs_a_cure() {
    for system in TrainingSystem::ALL {
        let plan = plan(&Scenario::for_system(*system))
            .unwrap_or_else(|problems| panic!("{}: {problems:?}", system.label()));
        let grave: Vec<_> = plan.advice.iter().filter(|found| found.severity < Severity::Price).collect();
        assert!(grave.is_empty(), "{}: {grave:?}", system.label());
    }
}

#[test]
fn starting_plans_build_the_trellis_their_sources_print() {
    for (system, support, wires, source) in [
        (
            TrainingSystem::TallSpindle,
            Support::Wires,
            &[2.5, 4.75, 7.0, 9.0][..],
            "OMAFRA tall spindle support sheet",
        ),
        (
            TrainingSystem::LowTrellis,
            Support::Wires,
            &[1.5, 3.0, 4.5, 6.0],
            "Penn State staff note, apple-crop list 2011",
        ),
        (
            TrainingSystem::SlenderSpindle,
            Support::PostPerTree,
            &[],
            "Fraser & Oakes 1999, Compact Fruit Tree 32",
        ),
        (TrainingSystem::CentralLeader, Support::None, &[], "common practice, no source"),
        (TrainingSystem::Standard, Support::None, &[], "common practice, no source"),
    ] {
        let start = Scenario::for_system(system);
        assert_eq!(start.trellis.support, support, "{source}");
        let heights: Vec<_> = wires.iter().copied().map(feet).collect();
        assert_eq!(start.trellis.wire_heights, heights, "{} ({source})", system.label());
    }
    let axis = Scenario::for_system(TrainingSystem::VerticalAxis);
    assert_eq!(
        axis.trellis.support,
        Support::WiresAndStakes,
        "Fraser & Oakes 1999: a stake at every tree on a wire"
    );
    assert!(Scenario::for_system(TrainingSystem::VTrellis).canopy.lean.value > 0.0);
}

#[test]
fn changing_the_system_leaves_field_and_site_alone() {
    let mine = Scenario::default().with(|s| {
        s.block.block_length = feet(420.0);
        s.block.tractor_width = feet(6.5);
        s.canopy.vigour = planting::share(1.3);
    });
    for system in TrainingSystem::ALL {
        let changed = mine.with_system(*system);
        let start = Scenario::for_system(*system);
        for parameter in planting::REGISTRY.iter().filter(|parameter| parameter.key != "system") {
            let model = if parameter.follows_system { &start } else { &mine };
            assert!(parameter.same(&changed, model), "{} under {}", parameter.key, system.label());
        }
        assert_eq!(changed.system, *system);
    }
}

#[test]
fn height_to_row_of_the_printed_layouts() {
    for (height, row, printed, source) in [
        (10.0, 11.0, 0.91, "Robinson in Fruit Growers News 7 Apr 2007: 10 ft trees on 11 ft rows"),
        (10.8, 12.0, 0.90, "Good Fruit Grower 1 May 2013: ratio 0.9"),
    ] {
        let plan = planned(&Scenario::default().with(|s| {
            s.canopy.tree_height = feet(height);
            s.block.row_width = feet(row);
        }));
        assert!((figure(&plan, "height_to_row") - printed).abs() < 0.005, "{source}");
        assert_near(plan.canopy.height_to_row(), height / row, 1e-14, source);
    }
}
