//! Laws that hold whatever is planted: more room is never more trees, more vigour never a smaller crown.

use crate::fixture::planned;
use crate::strategy::{in_order, reconciled};
use planting::uom::si::f64::Length;
use planting::{Plan, Scenario, StationKind, degrees, share};
use proptest::prelude::*;

/// Room for rounding in a comparison of like quantities.
const HAIR: f64 = 1e-9;

/// The values a year's canopy figures may take.
fn shares(plan: &Plan) -> Result<(), TestCaseError> {
    for year in plan.canopy.years.iter().chain([&plan.canopy.shown]) {
        for (what, value) in [
            ("row fill", year.row_fill),
            ("canopy fill", year.canopy_fill),
            ("ground cover", year.ground_cover),
            ("excess share", year.excess_share),
        ] {
            prop_assert!((0.0..=1.0 + HAIR).contains(&value), "{what} {value} in year {}", year.year);
        }
        let (volume, space) = (year.volume, year.crown.space_volume());
        prop_assert!(volume.value >= 0.0 && volume.value <= space * (1.0 + HAIR), "{volume:?} of {space} m³");
        prop_assert!(year.excess.value >= 0.0, "excess {}", year.excess.value);
        prop_assert!(year.crown.top <= plan.scenario.canopy.tree_height.value * (1.0 + HAIR));
    }
    Ok(())
}

fn widened(length: Length, by: f64, most: Length) -> Length {
    (length * (1.0 + by)).min(most)
}

fn no_more_trees(near: &Scenario, far: &Scenario) -> Result<(), TestCaseError> {
    let (near, far) = (planned(near), planned(far));
    prop_assert!(
        far.block.spacing().trees_per_square_metre()
            <= near.block.spacing().trees_per_square_metre() * (1.0 + HAIR)
    );
    let (few, many) = (far.block.tree_count(), near.block.tree_count());
    prop_assert!(few <= many, "{few} trees where there were {many}");
    Ok(())
}

/// The other end of the field seen in a mirror across its middle.
/// Places as across and along.
type Places = Vec<(f64, f64)>;

fn mirrored(plan: &Plan, kinds: &[StationKind]) -> (Places, Places) {
    let length = plan.scenario.block.block_length.value;
    let mut there: Vec<(f64, f64)> = plan
        .block
        .trees()
        .chain(plan.trellis.posts())
        .chain(plan.trellis.anchors())
        .filter(|station| kinds.contains(&station.kind))
        .map(|station| (station.at.across, station.at.along))
        .collect();
    let mut mirror: Vec<(f64, f64)> = there.iter().map(|(across, along)| (*across, length - along)).collect();
    let order = |a: &(f64, f64), b: &(f64, f64)| {
        a.0.total_cmp(&b.0).then(((a.1 * 1e6).round()).total_cmp(&(b.1 * 1e6).round()))
    };
    there.sort_by(order);
    mirror.sort_by(order);
    (there, mirror)
}

/// A crown's volume is summed over slices; a kink that moves between them shifts the sum by this share.
const SLICES: f64 = 2e-3;

/// In the space of a tall spindle, a stronger tree takes no less pruning once all have filled it. Over
/// the whole range of every parameter this is no law: there, trees fill odd spaces in different years.
#[test]
fn stronger_trees_in_a_tall_spindle_have_no_smaller_excess() {
    let excess = |step: u32| {
        let vigour = share(0.8 + 0.1 * f64::from(step));
        let plan = planned(&Scenario::default().with(|s| {
            s.canopy.vigour = vigour;
            s.canopy.year = 15.0;
        }));
        plan.canopy.shown.excess_share
    };
    let shares: Vec<f64> = (0..=17).map(excess).collect();
    assert!(shares.windows(2).all(|pair| pair[1] > pair[0]), "{shares:?}");
    assert!(shares[0] < 0.15 && shares[17] > 0.2, "{shares:?}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 160, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn shares_and_volumes_keep_their_bounds(scenario in in_order()) {
        shares(&planned(&scenario))?;
    }

    #[test]
    fn wider_in_row_spacing_is_never_more_trees(scenario in in_order(), by in 0.0..2.0f64) {
        let most = planting::feet(30.0);
        let far = scenario.clone().with(|s| s.block.in_row_spacing = widened(scenario.block.in_row_spacing, by, most));
        let far = reconciled(far);
        let near = scenario.with(|s| s.block.block_length = far.block.block_length);
        no_more_trees(&near, &far)?;
    }

    #[test]
    fn wider_rows_are_never_more_trees(scenario in in_order(), by in 0.0..2.0f64) {
        let most = planting::feet(40.0);
        let far = scenario.clone().with(|s| s.block.row_width = widened(scenario.block.row_width, by, most));
        no_more_trees(&scenario, &far)?;
    }

    #[test]
    fn stronger_trees_fill_no_later_and_are_no_smaller(scenario in in_order(), by in 0.0..1.5f64) {
        let strong = scenario.clone().with(|s| s.canopy.vigour = share((scenario.canopy.vigour.value + by).min(2.5)));
        let (weak, strong) = (planned(&scenario).ground.canopy, planned(&strong).ground.canopy);
        let never = f64::INFINITY;
        prop_assert!(strong.year_filled.unwrap_or(never) <= weak.year_filled.unwrap_or(never) + HAIR);
        prop_assert!(strong.year_at_height.unwrap_or(never) <= weak.year_at_height.unwrap_or(never) + HAIR);
        for (weak, strong) in weak.years.iter().zip(strong.years.iter()) {
            let year = weak.year;
            prop_assert!(strong.free_height.value >= weak.free_height.value - HAIR);
            prop_assert!(strong.free_spread.value >= weak.free_spread.value - HAIR);
            prop_assert!(strong.row_fill >= weak.row_fill - HAIR);
            let lifted = strong.crown.base > weak.crown.base + HAIR;
            prop_assert!(lifted || strong.volume.value >= weak.volume.value * (1.0 - SLICES) - HAIR, "year {year}: {} after {}", strong.volume.value, weak.volume.value);
        }
    }

    #[test]
    fn crowns_never_shrink_with_the_years(scenario in in_order()) {
        let plan = planned(&scenario);
        for pair in plan.canopy.years.windows(2) {
            // Where the lowest branches are still being lifted, the widest part of the crown may go.
            let lifted = pair[1].crown.base > pair[0].crown.base + HAIR;
            prop_assert!(lifted || pair[1].volume.value >= pair[0].volume.value * (1.0 - SLICES), "year {}", pair[1].year);
            prop_assert!(pair[1].row_fill >= pair[0].row_fill - HAIR);
            prop_assert!(pair[1].crown.top >= pair[0].crown.top - HAIR);
        }
    }

    /// Rows run both ways: a field turned by half a circle is the same plan.
    #[test]
    fn north_to_south_is_south_to_north(scenario in in_order()) {
        let north = planned(&scenario.clone().with(|s| s.block.row_azimuth = degrees(0.0)));
        let south = planned(&scenario.with(|s| s.block.row_azimuth = degrees(180.0)));
        prop_assert_eq!(&north.figures, &south.figures);
        prop_assert_eq!(&north.advice, &south.advice);
        for tree in north.block.trees().take(50) {
            let (east, up) = tree.at.to_map(degrees(0.0));
            let (west, down) = tree.at.to_map(degrees(180.0));
            prop_assert!((east + west).abs() < 1e-6 && (up + down).abs() < 1e-6);
        }
    }

    /// Trees, end posts, braces and anchors lie alike at both ends. Line posts needn't: where trees don't
    /// share out evenly over the bays, the longer bays lie toward one end.
    #[test]
    fn both_ends_of_a_field_are_alike(scenario in in_order()) {
        use StationKind::{Anchor, BracePost, EndPost, Tree};
        let small = reconciled(scenario.clone().with(|s| { s.block.block_length = scenario.block.block_length / 8.0; s.block.block_width = scenario.block.block_width / 8.0; }));
        prop_assume!(planting::plan(&small).is_ok());
        for kinds in [&[Tree][..], &[EndPost], &[BracePost], &[Anchor]] {
            let (there, mirror) = mirrored(&planned(&small), kinds);
            for (one, other) in there.iter().zip(&mirror) {
                prop_assert!((one.0 - other.0).abs() < 1e-6 && (one.1 - other.1).abs() < 2e-6, "{one:?} {other:?}");
            }
        }
    }
}
