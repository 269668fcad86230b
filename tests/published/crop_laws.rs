//! Laws of crop, sizes and targets over random plantings, and what bad input gives.

use planting::crop::boxes::{bins, share_under, spread_over_counts};
use planting::crop::card::Card;
use planting::crop::group::BearingGroup;
use planting::crop::hours::{Footing, thinning};
use planting::crop::routine::{away, winters};
use planting::crop::rules::{Keeping, Rule};
use planting::crop::sampling::{Sample, floral_share};
use planting::crop::target::{Target, Wanted};
use planting::crop::yields::{Carrying, Limit, TreeYear, YearCrop};
use planting::crop::{grams, per_cm2};
use planting::kit::row::Spacing;
use planting::uom::si::area::square_centimeter;
use planting::uom::si::areal_mass_density::kilogram_per_square_meter;
use planting::uom::si::f64::{Area, ArealMassDensity};
use planting::{Choice, feet, share};
use proptest::prelude::*;

fn group() -> impl Strategy<Value = BearingGroup> {
    prop::sample::select(BearingGroup::ALL)
}

fn crop(group: BearingGroup, in_row_ft: f64, year: &TreeYear) -> YearCrop {
    let spacing = Spacing { in_row: feet(in_row_ft), row_width: feet(12.0) };
    YearCrop::of(&Carrying::usual(group.bearing(), spacing), year)
}

proptest! {
    #[test]
    fn the_crop_is_the_least_of_its_limits(
        group in group(), year in 0.0..25.0, area in 0.0..150.0, light in 0.0..1.0, wanted in 0.0..10.0, in_row in 2.0..8.0,
    ) {
        let year = TreeYear {
            year,
            trunk_area: Area::new::<square_centimeter>(area),
            light_taken: Some(share(light)),
            wanted: Some(ArealMassDensity::new::<kilogram_per_square_meter>(wanted)),
        };
        let crop = crop(group, in_row, &year);
        let room = 1.0 + 1e-9;
        prop_assert!(crop.on_tree.value <= crop.by_trunk.value * room);
        prop_assert!(crop.on_tree.value <= crop.by_light.unwrap().value * room);
        prop_assert!(crop.on_tree.value <= crop.by_schedule.unwrap().value * room);
        let weighed = crop.fruit * crop.fruit_weight.value;
        prop_assert!((weighed - crop.on_tree.value).abs() <= 1e-6 + 1e-6 * weighed, "{crop:?}");
        prop_assert_eq!(crop.limit == Limit::Age, year.year < 2.0);
    }

    /// In young years the trunk binds, and trees closer together never bear less on the acre.
    #[test]
    fn more_trees_never_bear_fewer_fruit_on_the_acre_while_young(
        group in group(), year in 2.0..5.0, area in 1.0..20.0, in_row in 2.0..8.0, closer in 0.3..1.0,
    ) {
        let year = TreeYear {
            year, trunk_area: Area::new::<square_centimeter>(area), light_taken: None, wanted: None,
        };
        let fruit = |in_row: f64| crop(group, in_row, &year).fruit / (in_row * 12.0);
        prop_assert!(fruit(in_row * closer) >= fruit(in_row) * (1.0 - 1e-12));
    }

    #[test]
    fn shares_of_boxes_add_to_one(mean in 60.0..320.0, spread in 0.0..60.0) {
        let shares = spread_over_counts(grams(mean), grams(spread));
        let fruit: f64 = shares.iter().map(|share| share.of_fruit).sum();
        let weight: f64 = shares.iter().map(|share| share.of_weight).sum();
        prop_assert!((fruit - 1.0).abs() < 1e-9 && (weight - 1.0).abs() < 1e-9, "{fruit} {weight}");
        prop_assert!(shares.iter().all(|share| share.of_fruit >= 0.0 && share.of_weight >= 0.0));
    }

    /// Midpoint sums over the bell stand for the closed form.
    #[test]
    fn share_under_is_the_bell_summed(mean in 100.0..300.0, spread in 5.0..40.0, at in 60.0..320.0) {
        let steps = 20_000_u32;
        let width: f64 = (at - (mean - 9.0 * spread)) / f64::from(steps);
        let summed: f64 = (0..steps)
            .map(|step| {
                let z: f64 = ((f64::from(step) + 0.5) * width - 9.0 * spread) / spread;
                (-z * z / 2.0).exp() / (2.0 * std::f64::consts::PI).sqrt() * width.max(0.0) / spread
            })
            .sum();
        let found = share_under(grams(at), grams(mean), grams(spread));
        prop_assert!((found - summed).abs() < 1e-5, "{found} {summed}");
    }

    #[test]
    fn heavier_crops_have_lighter_fruit(group in group(), load in 0.0..15.0, more in 0.0..5.0) {
        let weight = group.bearing().weight;
        prop_assert!(weight.at(per_cm2(load + more)) <= weight.at(per_cm2(load)));
    }

    #[test]
    fn buds_times_share_over_insurance_is_fruit(
        fruit in 0.0..900.0, limbs in 0.0..60.0, insurance in 0.1..4.0, floral in 0.01..1.0,
    ) {
        let wanted = Wanted { fruit, limbs, insurance, floral_share: share(floral) };
        let target = Target::of(&wanted);
        prop_assert!((target.buds.unwrap() * floral / insurance - fruit).abs() < 1e-9 * (1.0 + fruit));
    }

    #[test]
    fn samples_hold_their_mean(counts in prop::collection::vec(prop::option::of(0.0..900.0), 0..40)) {
        match Sample::of(&counts) {
            None => prop_assert!(counts.iter().flatten().count() == 0),
            Some(sample) => {
                prop_assert_eq!(sample.trees + sample.gaps, counts.len());
                if let Some(between) = sample.interval {
                    prop_assert!(between.low <= sample.mean && sample.mean <= between.high);
                }
                let removal = sample.removal(sample.mean + 10.0);
                prop_assert!(removal.take == 0.0 && (removal.lacking - 10.0).abs() < 1e-9);
            }
        }
    }

    /// Wood left standing never falls where a season adds more.
    #[test]
    fn stronger_growth_gets_away_no_later(excess in 0.0..0.8, more in 0.0..0.3) {
        let year = |excess: f64| away(&winters(&Keeping::usual(), &[share(excess); 20], Footing::Ladders));
        let (calm, wild) = (year(excess), year(excess + more));
        prop_assert!(calm.is_none() || wild.is_some() && wild <= calm, "{calm:?} {wild:?}");
    }
}

#[test]
fn bad_input_has_a_stated_answer() {
    let nothing = Target::of(&Wanted { fruit: 100.0, limbs: 0.0, insurance: 2.0, floral_share: share(0.0) });
    assert_eq!((nothing.buds, nothing.fruit_on_limb), (None, None), "no bud flowers, no limb");
    assert_eq!(
        Target::of(&Wanted { fruit: -5.0, limbs: 3.0, insurance: -1.0, floral_share: share(1.0) }).fruit,
        0.0
    );
    assert_eq!(Sample::of(&[None, Some(f64::NAN), Some(-4.0)]), None);
    let one = Sample::of(&[Some(120.0), None]).unwrap();
    assert_eq!((one.deviation, one.interval, one.gaps), (None, None, 1), "no spread from one tree");
    assert_eq!(floral_share(3, 0), None);
    assert_eq!(floral_share(120, 100).unwrap().0, 1.0, "more flowers than buds are all of them");
    assert_eq!(bins(grams(1000.0), grams(0.0)), None);
    let all_one = spread_over_counts(grams(190.0), grams(f64::NAN));
    assert_eq!(all_one.iter().filter(|share| share.of_fruit == 1.0).count(), 1);
    assert_eq!(thinning(10.0, f64::INFINITY, Footing::Platform).usual.value, 10.0 * (1.0 - 0.475));
    let weight = BearingGroup::Annual.bearing().weight;
    assert_eq!(weight.fruit_for(grams(f64::NAN), Area::new::<square_centimeter>(10.0)), 0.0);
}

/// Each rule has a title, a reason and a source, and the card says each but those it joins.
#[test]
fn the_card_tells_the_rules() {
    let wanted = Wanted { fruit: 83.0, limbs: 24.0, insurance: 1.8, floral_share: share(0.7) };
    let card = Card::of(&Keeping { vigour: 1.5, ..Keeping::usual() }, 7, Target::of(&wanted));
    assert!(card.strong && card.cuts == 3);
    for rule in Rule::ALL {
        let says = rule.says();
        assert!(!says.title.is_empty() && !says.why.is_empty() && !says.source.citation.is_empty());
        let joined = [Rule::Hanging, Rule::Crowded].contains(&rule);
        assert_eq!(card.lines.iter().any(|line| line.rule == rule), !joined, "{rule:?}");
    }
    for line in card.thickness {
        assert!((line.limb / line.leader).value <= 0.5);
    }
}
