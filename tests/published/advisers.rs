//! Thirty sensible plans of the trade and thirty bad ones, each with what an adviser would say.
//!
//! A sensible plan gets no Fix and no Caution: whatever is said of it is a price its way of planting pays, or a note. Of a bad plan
//! the fault is named, at least as gravely as an adviser would, and something is offered that cures it.
//!
//! Spacings, heights and stocks are of the sources of [`TrainingSystem::usual`]; where a row names none of its own, it is common
//! practice, no source.

use crate::fixture::planned;
use planting::TrainingSystem::*;
use planting::light::LargeCrowns;
use planting::{
    EndAssembly, Rootstock, Rounding, Scenario, ScionVigour, Severity, SoilVigour, Support, TrainingSystem,
    degrees, feet, inches, remedies, share,
};

/// A plan: what an adviser would call it, the system it starts from, and what is changed.
type Sensible = (&'static str, TrainingSystem, fn(&mut Scenario));

fn stock(scenario: &mut Scenario, rootstock: Rootstock) {
    scenario.canopy.rootstock = rootstock;
}

fn spacing(scenario: &mut Scenario, in_row_ft: f64, row_ft: f64) {
    (scenario.block.in_row_spacing, scenario.block.row_width) = (feet(in_row_ft), feet(row_ft));
}

#[rustfmt::skip]
const SENSIBLE: [Sensible; 30] = [
    ("tall spindle as the starting plan has it", TallSpindle, |_| {}),
    ("Robinson 2007: 3 × 11 ft, trees of 10 ft", TallSpindle, |s| spacing(s, 3.0, 11.0)),
    ("Barney: 4 × 13 ft on a slope", TallSpindle, |s| spacing(s, 4.0, 13.0)),
    ("tall spindle on M.9 T337", TallSpindle, |s| stock(s, Rootstock::M9T337)),
    ("tall spindle on G.41", TallSpindle, |s| stock(s, Rootstock::G41)),
    ("tall spindle on B.9 in good ground", TallSpindle, |s| { stock(s, Rootstock::B9); s.canopy.soil_vigour = SoilVigour::Deep; }),
    ("a weak scion on a stronger stock: Honeycrisp on G.935", TallSpindle, |s| { stock(s, Rootstock::G935); s.canopy.scion_vigour = ScionVigour::Weak; }),
    ("a weak scion on Nic29", TallSpindle, |s| { stock(s, Rootstock::M9Nic29); s.canopy.scion_vigour = ScionVigour::Weak; }),
    ("a strong scion on B.9: Jonagold", TallSpindle, |s| { stock(s, Rootstock::B9); s.canopy.scion_vigour = ScionVigour::Strong; }),
    ("OMAFRA: rows of 500 ft, tied back", TallSpindle, |s| s.block.block_length = feet(560.0)),
    ("longer rows between H-braces", TallSpindle, |s| { s.block.block_length = feet(640.0); s.trellis.end_assembly = EndAssembly::HBrace; }),
    ("three wires, Robinson", TallSpindle, |s| s.trellis.wire_heights = [3.0, 6.0, 9.0].map(feet).to_vec()),
    ("top wire at 10 ft on posts of 13.5 ft", TallSpindle, |s| { s.trellis.wire_heights = [2.5, 5.0, 7.5, 10.0].map(feet).to_vec(); s.trellis.post_length = feet(13.5); s.trellis.post_embedment = feet(3.5); }),
    ("one wire with a stake at each tree, Fraser & Oakes", TallSpindle, |s| { s.trellis.support = Support::WiresAndStakes; s.trellis.wire_heights = vec![feet(8.5)]; }),
    ("east-west rows, 10 ft in 13 ft", TallSpindle, |s| { s.block.row_width = feet(13.0); s.block.row_azimuth = degrees(90.0); }),
    ("super spindle as it starts", SuperSpindle, |_| {}),
    ("super spindle on M.9, Robinson: 2 × 10 ft", SuperSpindle, |s| stock(s, Rootstock::M9T337)),
    ("V trellis as it starts", VTrellis, |_| {}),
    ("vertical trellis as it starts", VerticalTrellis, |_| {}),
    ("vertical trellis on M.9", VerticalTrellis, |s| stock(s, Rootstock::M9T337)),
    ("two leaders on M.9", BiAxis, |s| stock(s, Rootstock::M9T337)),
    ("three leaders on G.935, Reig et al.", TriAxis, |_| {}),
    ("Solaxe as it starts", Solaxe, |_| {}),
    ("vertical axis on M.26", VerticalAxis, |_| {}),
    ("vertical axis on G.935", VerticalAxis, |s| stock(s, Rootstock::G935)),
    ("slender spindle on M.9, 5 × 14 ft (Ontario)", SlenderSpindle, |s| { stock(s, Rootstock::M9T337); spacing(s, 5.0, 14.0); }),
    ("low trellis on M.9", LowTrellis, |s| stock(s, Rootstock::M9T337)),
    ("central leader on MM.106, free-standing", CentralLeader, |_| {}),
    ("central leader on MM.111, 15 × 22 ft", CentralLeader, |s| stock(s, Rootstock::MM111)),
    ("standard trees on seedling, 20 × 28 ft", Standard, |_| {}),
];

#[test]
fn sensible_plans_are_left_in_peace() {
    let mut wrong = Vec::new();
    for (name, system, change) in SENSIBLE {
        let plan = planned(&Scenario::for_system(system).with(change));
        for advice in plan.advice.iter().filter(|advice| advice.severity < Severity::Price) {
            wrong.push(format!("{name}: {:?} {}: {:?}", advice.severity, advice.rule, advice.finding.values));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A plan, the rule that an adviser would speak by, and how gravely at least.
type Bad = (&'static str, TrainingSystem, fn(&mut Scenario), &'static str, Severity);

const FIX: Severity = Severity::Fix;
const CAUTION: Severity = Severity::Caution;
const NOTE: Severity = Severity::Note;

#[rustfmt::skip]
const BAD: [Bad; 30] = [
    ("a vertical axis on seedling", VerticalAxis, |s| stock(s, Rootstock::Seedling), "stock_for_system", FIX),
    ("a tall spindle on MM.106", TallSpindle, |s| stock(s, Rootstock::MM106), "stock_for_system", FIX),
    ("a tall spindle on M.7", TallSpindle, |s| stock(s, Rootstock::M7), "stock_for_system", FIX),
    ("a super spindle on M.26", SuperSpindle, |s| stock(s, Rootstock::M26), "stock_for_system", CAUTION),
    ("a V trellis on MM.111", VTrellis, |s| stock(s, Rootstock::MM111), "stock_for_system", FIX),
    ("a low trellis on M.7", LowTrellis, |s| stock(s, Rootstock::M7), "stock_for_system", FIX),
    ("a central leader on M.9", CentralLeader, |s| { stock(s, Rootstock::M9T337); s.trellis.support = Support::PostPerTree; }, "stock_for_system", CAUTION),
    ("standard trees on B.9", Standard, |s| { stock(s, Rootstock::B9); s.trellis.support = Support::PostPerTree; }, "stock_for_system", FIX),
    ("a tall spindle on M.27", TallSpindle, |s| stock(s, Rootstock::M27), "stock_for_system", CAUTION),
    ("dwarf trees with nothing to stand by", TallSpindle, |s| s.trellis.support = Support::None, "support_missing", FIX),
    ("M.9 at three times its published vigour, in a wall of 5 ft", TallSpindle, |s| { stock(s, Rootstock::M9Nic29); s.canopy.scion_vigour = ScionVigour::Strong; s.canopy.soil_vigour = SoilVigour::Deep; s.canopy.vigour = share(1.7); }, "overfill", FIX),
    ("a weak scion on B.9 in light ground, 12 ft apart", TallSpindle, |s| { stock(s, Rootstock::B9); s.canopy.soil_vigour = SoilVigour::Light; s.canopy.scion_vigour = ScionVigour::Weak; s.block.in_row_spacing = feet(12.0); }, "never_fills", FIX),
    ("trees kept at 7 ft under a wire at 9 ft", TallSpindle, |s| s.canopy.tree_height = feet(7.0), "never_reaches_wire", CAUTION),
    ("a weak wall that never reaches its top wire of 16 ft", TallSpindle, |s| { stock(s, Rootstock::M27); s.canopy.tree_height = feet(16.0); s.trellis.wire_heights = [4.0, 8.0, 12.0, 16.0].map(feet).to_vec(); s.trellis.post_length = feet(20.0); s.trellis.post_embedment = feet(4.0); }, "never_reaches_wire", CAUTION),
    ("one wire for a tall spindle", TallSpindle, |s| s.trellis.wire_heights = vec![feet(9.0)], "few_wires", CAUTION),
    ("leaders five feet above the wire", TallSpindle, |s| s.trellis.wire_heights = [2.0, 3.5, 5.0].map(feet).to_vec(), "leader_above_wire", CAUTION),
    ("a slender spindle of 12 ft on a short post", SlenderSpindle, |s| s.canopy.tree_height = feet(12.0), "leader_above_post", CAUTION),
    ("a wire above its posts", TallSpindle, |s| s.trellis.wire_heights = [3.0, 6.0, 10.0].map(feet).to_vec(), "wire_above_post", FIX),
    ("posts two feet deep", TallSpindle, |s| s.trellis.post_embedment = feet(2.0), "embedment", CAUTION),
    ("posts fifty-one feet apart", TallSpindle, |s| { s.trellis.post_interval = feet(51.0); s.block.block_length = feet(570.0); }, "post_interval", FIX),
    ("rows of 900 ft on screw anchors", TallSpindle, |s| s.block.block_length = feet(960.0), "row_length", CAUTION),
    ("anchors outside the field", TallSpindle, |s| s.block.headland = feet(6.0), "anchor", FIX),
    ("anchors four feet from their posts", TallSpindle, |s| s.trellis.anchor_distance = feet(4.0), "anchor", CAUTION),
    ("a tractor that doesn't get through", TallSpindle, |s| (s.block.row_width, s.canopy.canopy_width) = (feet(10.0), feet(6.0)), "clear_alley", FIX),
    ("trees of 14 ft on rows of 11 ft", TallSpindle, |s| (s.canopy.tree_height, s.block.row_width) = (feet(14.0), feet(11.0)), "height_to_row", FIX),
    ("east-west rows at 50°, trees as high as rows are wide", TallSpindle, |s| { s.canopy.tree_height = feet(12.0); s.block.row_azimuth = degrees(90.0); s.light.latitude = degrees(50.0); }, "height_to_row", CAUTION),
    ("a wall ten feet deep", VerticalTrellis, |s| (s.canopy.canopy_width, s.block.row_width) = (feet(10.0), feet(18.0)), "canopy_depth", CAUTION),
    ("the union in the soil", TallSpindle, |s| s.canopy.graft_union_height = inches(1.0), "graft_union", FIX),
    ("a tall spindle at 8 × 16 ft", TallSpindle, |s| spacing(s, 8.0, 16.0), "outside_system", CAUTION),
    ("a season summed without leaves", TallSpindle, |s| s.light.latitude = degrees(-35.0), "winter_season", NOTE),
];

#[test]
fn bad_plans_are_told_and_cured() {
    let mut wrong = Vec::new();
    for (name, system, change, rule, severity) in BAD {
        let scenario = Scenario::for_system(system).with(change);
        let plan = planned(&scenario);
        let Some(advice) = plan.advice.iter().find(|advice| advice.rule == rule) else {
            let said: Vec<&str> = plan.advice.iter().map(|advice| advice.rule).collect();
            wrong.push(format!("{name}: nothing of {rule}, but {said:?}"));
            continue;
        };
        if advice.severity > severity {
            wrong.push(format!(
                "{name}: {rule} is a {:?}, an adviser would say {severity:?}",
                advice.severity
            ));
        }
        if remedies::solve(&scenario, advice, Rounding::Us).is_empty() {
            wrong.push(format!("{name}: nothing cures {rule}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Published classes of stock for each system: those of the sources are quiet, those two classes off and more are told.
#[test]
fn stocks_are_judged_by_the_published_classes() {
    use Rootstock::*;
    for (system, usual, wrong, source) in [
        (
            SuperSpindle,
            &[M9T337, B9, M27][..],
            &[M26, G210, M7, MM106, MM111, Seedling][..],
            "Robinson; Barney: M.9, B.9 and weaker",
        ),
        (
            TallSpindle,
            &[M9T337, B9, G41, G11, G16],
            &[M27, G210, M7, G890, MM106, MM111, Seedling],
            "M.9, B.9, G.41, G.11, G.16",
        ),
        (
            SlenderSpindle,
            &[M9T337, M9Nic29, M9Pajam2],
            &[M27, M7, G890, MM106, MM111, Seedling],
            "Ontario; Fraser & Oakes: M.9",
        ),
        (
            VerticalAxis,
            &[M9T337, M26, G935],
            &[G65, G890, MM106, MM111, B118, Seedling],
            "Barney: M.9 to M.26, G.935",
        ),
        (Solaxe, &[M9T337, M9Nic29], &[M27, M7, MM106, MM111, Seedling], "Robinson: M.9"),
        (BiAxis, &[M9T337, G11], &[M27, M7, MM106, MM111, Seedling], "Robinson: M.9"),
        (
            TriAxis,
            &[G935, G969],
            &[M27, B9, M7, MM106, Seedling],
            "Reig et al. 2020; Dallabetta et al. 2021: semi-dwarf",
        ),
        (VerticalTrellis, &[M9T337, M26, G41], &[M27, M7, MM106, Seedling], "Barney; Robinson: M.9 to M.26"),
        (LowTrellis, &[M9T337, M9Nic29], &[M7, MM106, MM111, Seedling], "Penn State staff note: M.9"),
        (
            VTrellis,
            &[M9T337, B9],
            &[G210, M7, MM106, MM111, Seedling],
            "Robinson; Good Fruit Grower, The organized orchard: M.9",
        ),
        (
            CentralLeader,
            &[M7, MM106, MM111, M26],
            &[M27, B9, M9T337, Seedling],
            "Ontario; multi-site comparison with M.26 and Mark",
        ),
        (Standard, &[Seedling, B118, MM111], &[M27, M9T337, M26, M7], "US land-grant eXtension: seedling"),
    ] {
        let found = |rootstock: Rootstock| {
            let plan = planned(&Scenario::for_system(system).with(|s| s.canopy.rootstock = rootstock));
            plan.advice.iter().any(|advice| advice.rule == "stock_for_system")
        };
        for rootstock in usual {
            assert!(!found(*rootstock), "{system:?} on {rootstock:?} is usual: {source}");
        }
        for rootstock in wrong {
            assert!(found(*rootstock), "{system:?} on {rootstock:?} is not: {source}");
        }
    }
}

/// What costs whoever chooses a way of planting is called a price, and no fault.
#[test]
fn prices_are_called_prices() {
    for (name, system, change, rule) in [
        (
            "a wide free-standing tree as dense as a small one is dark inside",
            Standard,
            (|s| s.light.large_crowns = LargeCrowns::AsDense) as fn(&mut Scenario),
            "dark_middle",
        ),
        ("low walls let light fall on the alley", LowTrellis, |_| {}, "floor_light"),
        (
            "free-standing trees leave ground open",
            CentralLeader,
            |s| s.block.in_row_spacing = feet(30.0),
            "never_fills",
        ),
        (
            "wide trees on the system's own stock are cut back every year",
            CentralLeader,
            |s| s.canopy.rootstock = Rootstock::MM111,
            "overfill",
        ),
    ] {
        let plan = planned(&Scenario::for_system(system).with(change));
        let said = plan.advice.iter().find(|advice| advice.rule == rule).map(|advice| advice.severity);
        assert_eq!(said, Some(Severity::Price), "{name}");
    }
}
