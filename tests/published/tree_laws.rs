//! Laws of the practice tree: sameness, undoing, wood that only falls by cutting, and what odd cuts and numbers give.

use planting::crop::group::BearingGroup;
use planting::crop::rules::{Keeping, Rule};
use planting::crop::tree::answers::{Answers, limbs};
use planting::crop::tree::cut::{Cut, Refusal};
use planting::crop::tree::exact::{cosine, decay, power, sine};
use planting::crop::tree::grow::{a_year_on, plant};
use planting::crop::tree::opinion::{opinion, pruned};
use planting::crop::tree::practice::{Compared, Course, Practice, before_pruning, seed_within};
use planting::crop::tree::shape::Shape;
use planting::crop::tree::site::{MOST_YEARS, Nursery, Site, Sizes};
use planting::crop::tree::{AxisId, Kind, Life, Tree};
use planting::feet;
use proptest::prelude::*;

/// A tree of any vigour, age and treatment.
fn tree() -> impl Strategy<Value = Tree> {
    (0_u32..1_000_000, 0.2_f64..3.0, 0_u32..14, any::<bool>(), any::<bool>()).prop_map(
        |(seed, vigour, year, kept, whip)| {
            let nursery = if whip { Nursery::Whip } else { Nursery::Feathered };
            let site = Site { nursery, sizes: Sizes::of_vigour(vigour, nursery), ..Site::usual(vigour) };
            let course = if kept { Course::Rules } else { Course::Unpruned };
            course.years_on(&plant(&site, seed), year)
        },
    )
}

/// Any cut on any axis, and now and then on none.
fn cut_of(tree: &Tree, which: usize, kind: u8, to: f64) -> Cut {
    let axis = tree.axes.get(which % (tree.axes.len() + 1)).map_or(AxisId(12_345), |axis| axis.id);
    match kind % 7 {
        0 => Cut::Off(axis),
        1 => Cut::Flush(axis),
        2 => Cut::Shorten(axis, to),
        3 => Cut::SingleOut(axis),
        4 => Cut::Lower(axis),
        5 => Cut::BudsOff(axis),
        _ => Cut::Tip(axis),
    }
}

/// What must hold of any tree.
fn assert_sound(tree: &Tree) {
    assert_eq!(tree.axes[0].kind, Kind::Leader);
    assert!(tree.axes.get(tree.top).is_some());
    assert!(tree.trunk_diameter.is_finite() && tree.trunk_diameter > 0.0);
    for (place, axis) in tree.axes.iter().enumerate() {
        assert_eq!(axis.parent.is_none(), place == 0);
        if let Some(parent) = axis.parent {
            let parent_axis = &tree.axes[parent];
            assert!(parent < place, "{place} grows from {parent}");
            assert!(
                axis.at >= -0.02 && axis.at <= parent_axis.length() + 0.02 || axis.life != Life::Growing,
                "{axis:?}"
            );
        }
        assert!(axis.diameter.is_finite() && axis.length().is_finite());
        for spur in &axis.spurs {
            assert!(spur.at >= 0.0 && spur.at <= axis.length() + 1e-9, "{spur:?} on {}", axis.length());
        }
    }
    for point in Shape::of(tree).paths.iter().flat_map(|path| &path.points) {
        assert!(point.across.is_finite() && point.along.is_finite() && point.up >= 0.0);
    }
    let answers = Answers::of(tree, &BearingGroup::Biennial.bearing());
    for number in [
        answers.limbs,
        answers.limb_to_trunk,
        answers.flower_buds,
        answers.fruit_left,
        answers.leaf_area_index,
    ] {
        assert!(number.is_finite() && number >= 0.0, "{answers:?}");
    }
    assert!(answers.light_low.is_none_or(|light| (0.0..=1.0).contains(&light)), "{answers:?}");
    assert!(answers.fruit_left <= answers.fruit && answers.fruit_left <= answers.fruit_wanted);
    // Buds × set = fruit.
    let insurance = BearingGroup::Biennial.bearing().insurance;
    assert!((answers.fruit * insurance - answers.flower_buds).abs() < 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn any_cuts_leave_a_sound_tree_with_no_more_wood(
        tree in tree(), cuts in prop::collection::vec((0_usize..200, 0_u8..7, -0.5_f64..3.0), 0..12),
    ) {
        let mut tree = tree;
        assert_sound(&tree);
        for (which, kind, to) in cuts {
            let before = tree.clone();
            let cut = cut_of(&tree, which, kind, to);
            match tree.cut(cut) {
                Ok(taken) => {
                    prop_assert!(tree.wood() <= before.wood() + 1e-12, "{cut:?}");
                    prop_assert!((before.wood() - tree.wood() - taken.wood).abs() < 1e-9);
                }
                Err(_) => prop_assert_eq!(&tree, &before, "what is refused changes nothing"),
            }
            assert_sound(&tree);
        }
        assert_sound(&a_year_on(&tree));
    }

    #[test]
    fn the_same_seed_is_the_same_tree(tree in tree()) {
        let again = plant(&tree.site, tree.seed);
        prop_assert_eq!(plant(&tree.site, tree.seed).fingerprint(), again.fingerprint());
        prop_assert_eq!(a_year_on(&tree).fingerprint(), a_year_on(&tree).fingerprint());
        prop_assert_ne!(a_year_on(&tree).fingerprint(), tree.fingerprint());
    }

    /// Whatever the rules take can be taken in their order, and the tree then has no more wood.
    #[test]
    fn the_rules_can_be_followed(tree in tree()) {
        let mut after = tree.clone();
        for verdict in opinion(&tree) {
            prop_assert!(after.cut(verdict.cut).is_ok(), "{verdict:?}");
        }
        prop_assert!(after.wood() <= tree.wood() + 1e-12);
        prop_assert_eq!(after.fingerprint(), pruned(&tree).0.fingerprint());
        let removals = opinion(&tree).iter().filter(|verdict| matches!(verdict.rule, Rule::OverHalf | Rule::Largest)).count();
        prop_assert!(removals <= tree.site.keeping.most_removals(tree.year));
    }

    /// A person's cuts undone one by one give every tree there was.
    #[test]
    fn undoing_goes_back_step_by_step(
        tree in tree(), steps in prop::collection::vec((0_usize..200, 0_u8..9, 0.0_f64..2.0), 1..10),
    ) {
        let mut practice = Practice::on(tree.clone());
        let mut seen = vec![practice.tree().fingerprint()];
        for (which, kind, to) in steps {
            if kind > 6 {
                practice.a_year_on();
                seen.push(practice.tree().fingerprint());
            } else if practice.cut(cut_of(practice.tree(), which, kind, to)).is_ok() {
                seen.push(practice.tree().fingerprint());
            }
        }
        while let Some(before) = seen.pop() {
            prop_assert_eq!(practice.tree().fingerprint(), before);
            prop_assert_eq!(practice.undo(), !seen.is_empty());
        }
        prop_assert_eq!(practice.tree(), &tree);
    }

    #[test]
    fn sines_and_powers_are_what_they_say(angle in -400.0_f64..400.0, base in 1e-9_f64..1e9, exponent in -4.0_f64..4.0) {
        prop_assert!((sine(angle) - angle.sin()).abs() < 1e-10 && (cosine(angle) - angle.cos()).abs() < 1e-10);
        prop_assert!((power(base, exponent) / base.powf(exponent) - 1.0).abs() < 1e-10);
        prop_assert!((decay(exponent) / (-exponent).exp() - 1.0).abs() < 1e-11);
    }
}

/// Buds rubbed off one limb change nothing of any other, this year or next: chance goes by name.
#[test]
fn a_limb_keeps_its_luck_whatever_is_done_elsewhere() {
    let tree = before_pruning(&Site::usual(1.0), 21, 6);
    let limb = tree
        .axes
        .iter()
        .find(|axis| axis.is_limb() && axis.spurs.iter().any(|spur| spur.flowers))
        .unwrap()
        .id;
    let mut rubbed = tree.clone();
    rubbed.cut(Cut::BudsOff(limb)).unwrap();
    assert_eq!(a_year_on(&rubbed).fingerprint(), a_year_on(&tree).fingerprint());
    // A limb taken off leaves the names of all others, and of what they grow.
    let mut cut = tree.clone();
    cut.cut(Cut::Flush(limb)).unwrap();
    let (with, without) = (a_year_on(&tree), a_year_on(&cut));
    let shared = with.axes.iter().filter(|axis| without.find(axis.id).is_some()).count();
    assert!(shared + 4 >= without.axes.len().min(with.axes.len()), "{shared} of {}", with.axes.len());
}

/// The fingerprint of one tree, so that another platform can be held to it: the page's own build must give the same number.
#[test]
fn one_tree_is_known_to_the_last_bit() {
    let print = before_pruning(&Site::usual(1.0), 4135, 7).fingerprint();
    assert_eq!(print, FINGERPRINT, "{print:#x}");
}
const FINGERPRINT: u64 = 0x4317_863a_f72d_923e;

#[test]
fn stubs_shoot_once_or_thrice_and_flush_cuts_do_not() {
    let mut shoots = Vec::new();
    for seed in 0..80 {
        let tree = before_pruning(&Site::usual(1.2), seed, 5);
        let limb = tree
            .axes
            .iter()
            .filter(|axis| axis.is_limb())
            .max_by(|a, b| a.diameter.total_cmp(&b.diameter))
            .unwrap();
        let (id, at) = (limb.id, limb.at);
        let born_near = |tree: &Tree| {
            let year = tree.year;
            let near = |axis: &&planting::crop::tree::Axis| {
                axis.kind == Kind::Limb && axis.born == year && (axis.at - at).abs() < 0.04
            };
            tree.axes.iter().filter(near).count()
        };
        let [mut stub, mut flush] = [tree.clone(), tree.clone()];
        stub.cut(Cut::Off(id)).unwrap();
        flush.cut(Cut::Flush(id)).unwrap();
        let (stub, flush) = (a_year_on(&stub), a_year_on(&flush));
        let own = born_near(&stub) - born_near(&flush).min(born_near(&stub));
        shoots.push(own);
        assert!(own <= 3, "{own}");
        assert_eq!(stub.find(id).map(|(_, axis)| axis.life), Some(Life::Stub(5)));
        assert!(flush.find(id).is_none());
    }
    // From memory: one to three renewal shoots from a stub.
    let count = |number| shoots.iter().filter(|own| **own == number).count();
    assert!(count(1) > 10 && count(2) > 10 && count(3) > 2, "{shoots:?}");
}

#[test]
fn odd_cuts_have_a_stated_answer() {
    let tree = before_pruning(&Site::usual(1.0), 7, 6);
    let bearing = BearingGroup::Annual.bearing();
    // A leader cut to the ground: a stump that grows again.
    let mut stump = tree.clone();
    stump.cut(Cut::Off(AxisId(0))).unwrap();
    let answers = Answers::of(&stump, &bearing);
    assert_eq!(
        (answers.limbs, answers.flower_buds, answers.fruit_left, answers.limb_to_trunk),
        (0.0, 0.0, 0.0, 0.0)
    );
    assert!(answers.height.value <= 0.151);
    assert!(a_year_on(&stump).wood() > stump.wood());
    assert!(opinion(&stump).is_empty());
    // Every limb taken off.
    let mut bare = tree.clone();
    for limb in limbs(&tree) {
        bare.cut(Cut::Off(limb.axis)).unwrap();
    }
    assert_eq!(Answers::of(&bare, &bearing).limbs, 0.0);
    assert!(Answers::of(&a_year_on(&bare), &bearing).limbs > 3.0, "stubs shoot again");
    // What can't be done.
    let mut same = tree.clone();
    let limb = limbs(&tree)[0].axis;
    assert_eq!(same.cut(Cut::Off(AxisId(999))), Err(Refusal::NotThere));
    assert_eq!(same.cut(Cut::Lower(AxisId(0))), Err(Refusal::NoLimb));
    for to in [f64::NAN, -1.0, 99.0, 0.0] {
        assert_eq!(same.cut(Cut::Shorten(limb, to)), Err(Refusal::NoPlace), "{to}");
    }
    assert_eq!(same.cut(Cut::SingleOut(AxisId(0))), Err(Refusal::Nothing));
    assert_eq!(same, tree);
    // No flowers, nothing to rub off.
    let barren = before_pruning(&Site { floral_share: 0.0, ..Site::usual(1.0) }, 7, 8);
    let found = Answers::of(&barren, &bearing);
    assert_eq!((found.flower_buds, found.fruit), (0.0, 0.0));
    assert_eq!(barren.clone().cut(Cut::BudsOff(limbs(&barren)[0].axis)), Err(Refusal::Nothing));
    // Seeds and years out of range.
    assert!(seed_within(u32::MAX) <= 999_999);
    assert_eq!(before_pruning(&Site::usual(1.0), 3, 999).year, MOST_YEARS);
    assert_eq!(a_year_on(&before_pruning(&Site::usual(1.0), 3, 999)).year, MOST_YEARS);
}

#[test]
fn odd_sites_still_grow_a_tree() {
    let empty =
        Sizes { trunk_area_cm2: vec![], height_m: vec![f64::NAN], spread_m: vec![-3.0, f64::INFINITY] };
    let usual = Keeping::usual();
    for site in [
        Site { sizes: empty, ..Site::usual(1.0) },
        Site { keeping: Keeping { vigour: 0.0, ..usual }, ..Site::usual(1.0) },
        Site {
            keeping: Keeping { in_row: feet(0.0), row_width: feet(0.0), top_wire: feet(0.0), ..usual },
            ..Site::usual(1.0)
        },
        Site {
            keeping: Keeping { in_row: feet(500.0), row_width: feet(500.0), ..usual },
            ..Site::usual(1.0)
        },
        Site::usual(1e6),
    ] {
        assert_sound(&Course::Rules.years_on(&plant(&site, 1), 12));
        assert_sound(&Course::Unpruned.years_on(&plant(&site, 1), 12));
    }
}

#[test]
fn a_practice_is_held_against_the_rules() {
    let mut practice = Practice::on(before_pruning(&Site::usual(1.5), 35, 7));
    let verdicts = opinion(practice.tree());
    assert!(verdicts.len() >= 4, "{verdicts:?}");
    for verdict in verdicts.iter().take(2) {
        practice.cut(verdict.cut).unwrap();
    }
    let spared = limbs(practice.tree())
        .into_iter()
        .find(|limb| verdicts.iter().all(|verdict| verdict.axis != limb.axis))
        .unwrap();
    practice.cut(Cut::Off(spared.axis)).unwrap();
    let compared = practice.compared();
    let count = |of: fn(&Compared) -> bool| compared.iter().filter(|one| of(one)).count();
    assert_eq!(count(|one| matches!(one, Compared::Agreed(_))), 2);
    assert_eq!(count(|one| matches!(one, Compared::Also(_))), 1);
    assert_eq!(count(|one| matches!(one, Compared::Left(_))), verdicts.len() - 2);
    // Somebody who does all the rules ask has the rules' tree in ten years, somebody who does nothing the wild one.
    let start = practice.grown().clone();
    let mut diligent = Practice::on(start.clone());
    for verdict in opinion(&start) {
        diligent.cut(verdict.cut).unwrap();
    }
    let by_habit = Course::Habit(diligent.habit()).years_on(diligent.tree(), 5);
    assert_eq!(by_habit.fingerprint(), Course::Rules.years_on(diligent.tree(), 5).fingerprint());
    let idle = Practice::on(start.clone());
    let let_go = Course::Habit(idle.habit()).years_on(&start, 5);
    assert!(let_go.wood() > 1.3 * by_habit.wood(), "{} {}", let_go.wood(), by_habit.wood());
}
