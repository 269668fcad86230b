//! Laws of loads, tried over the whole range of every input: more wires never pull each harder, a longer bay never sags less, a heavier crop never
//! lightens anything.

use crate::loads::{carried, worked};
use planting::kit::units::{mph, pounds_force};
use planting::loads::{
    Anchor, Asked, Basis, BraceSpans, Carried, Embedment, Frame, Gauge, Grade, Held, Limits, Loads, Part,
    Reached, RowEnd, Setting, Soil, asks,
};
use planting::uom::si::f64::Length;
use planting::{Choice, Ground, Kind, Parameter, Scenario, feet, ground, share};
use proptest::prelude::*;
use std::sync::Arc;

/// Room for rounding in a comparison of like quantities.
const HAIR: f64 = 1e-9;

fn no_more(one: f64, other: f64) -> bool {
    one <= other * (1.0 + HAIR) + HAIR
}

fn frame_of(asked: &mut Asked) -> &mut Frame {
    asked.frame.as_mut().expect("wires")
}

fn soils() -> impl Strategy<Value = Soil> {
    prop::sample::select(Soil::ALL)
}

/// Trellises over the ranges of the inputs that loads depend on most.
fn trellises() -> impl Strategy<Value = Asked> {
    let wire =
        (prop::sample::select(Gauge::ALL), prop::sample::select(Grade::ALL), 50.0..500.0f64, 0.0..12.0f64);
    let load = (0.0..150_000.0f64, 0.0..=1.0f64, 20.0..150.0f64, 0.15..0.70f64, 0.0..120.0f64);
    let built =
        (prop::collection::vec(0.5..16.0f64, 1..9), 10.0..60.0f64, 2.0..10.0f64, 1.0..6.0f64, soils());
    let end =
        (0.0..30.0f64, 3.0..20.0f64, prop::bool::ANY, prop::bool::ANY, prop::sample::select(Anchor::ALL));
    (wire, load, built, end).prop_map(|(wire, load, built, end)| {
        let mut asked = worked();
        let inputs = &mut asked.inputs;
        (inputs.wire_gauge, inputs.wire_grade) = (wire.0, wire.1);
        inputs.pretension = pounds_force(wire.2);
        inputs.end_give = planting::inches(wire.3);
        inputs.heaviest_crop = planting::kit::units::pounds_per_acre(load.0);
        inputs.share_on_wires = share(load.1);
        inputs.gust = mph(load.2);
        inputs.canopy_drag = share(load.3);
        inputs.cold_drop = planting::kit::units::fahrenheit(load.4);
        inputs.soil = built.4;
        inputs.anchor_kind = end.4;
        let frame = frame_of(&mut asked);
        let mut heights = built.0;
        heights.sort_by(f64::total_cmp);
        frame.heights = heights.into_iter().map(feet).collect();
        frame.bay = feet(built.1);
        frame.line_post = planting::inches(built.2);
        frame.depth = feet(built.3);
        let top = frame.top_wire().unwrap();
        frame.end = if end.2 {
            RowEnd::TieBack { lean: planting::degrees(end.0), distance: feet(end.1), height: top }
        } else {
            let spans = if end.3 { BraceSpans::Two } else { BraceSpans::One };
            RowEnd::HBrace { span: feet(4.0 + end.1 / 2.0), rail: feet(7.0), spans }
        };
        asked
    })
}

/// Every load that a crop makes.
fn crop_loads(carried: &Carried) -> Vec<f64> {
    let mut loads = vec![
        carried.crop_on_row.value,
        carried.on_wire.value,
        carried.loaded.horizontal.value,
        carried.loaded.tension.value,
        carried.loaded.sag.value,
        carried.held.sag.value,
        carried.held.tension.value,
        carried.pull.total().value,
        carried.pull.moment().value,
    ];
    match carried.held_loaded {
        Some(Held::TieBack(end)) => loads.extend([end.guy.value, end.thrust.value]),
        Some(Held::HBrace(end)) => {
            loads.extend([end.rail.value, end.wire.value, end.uplift.value, end.soil.value])
        }
        None => {}
    }
    loads
}

proptest! {
    #[test]
    fn a_heavier_crop_never_lightens_a_load(asked in trellises(), more in 1.0..3.0f64) {
        let mut heavier = asked.clone();
        heavier.inputs.heaviest_crop *= more;
        let (one, other) = (carried(&asked), carried(&heavier));
        for (one, other) in crop_loads(&one).into_iter().zip(crop_loads(&other)) {
            prop_assert!(no_more(one, other), "{one} {other}");
        }
        let (one, other) = (Limits::of(&asked, &one), Limits::of(&heavier, &other));
        for (one, other) in one.0.iter().zip(&other.0) {
            prop_assert!(no_more(one.index.value, other.index.value), "{one:?} {other:?}");
        }
    }

    #[test]
    fn more_wires_never_pull_each_harder(asked in trellises(), at in 0.5..16.0f64) {
        let mut more = asked.clone();
        frame_of(&mut more).heights.push(feet(at));
        let (one, other) = (carried(&asked), carried(&more));
        prop_assert!(no_more(other.loaded.tension.value, one.loaded.tension.value));
        prop_assert!(no_more(other.loaded.sag.value, one.loaded.sag.value));
    }

    #[test]
    fn a_longer_bay_never_lowers_sag_wind_or_tension(asked in trellises(), more in 1.0..3.0f64) {
        let mut longer = asked.clone();
        frame_of(&mut longer).bay *= more;
        let (one, other) = (carried(&asked), carried(&longer));
        for (one, other) in [
            (one.empty.sag, other.empty.sag),
            (one.loaded.sag, other.loaded.sag),
            (one.held.sag, other.held.sag),
        ] {
            prop_assert!(no_more(one.value, other.value), "{one:?} {other:?}");
        }
        prop_assert!(no_more(one.loaded.tension.value, other.loaded.tension.value));
        prop_assert!(no_more(one.wind.moment.value, other.wind.moment.value));
    }

    #[test]
    fn cold_tightens_and_warmth_slackens(asked in trellises()) {
        let found = carried(&asked);
        let empty = found.empty.horizontal.value;
        prop_assert!((empty / asked.inputs.pretension.value - 1.0).abs() < 1e-9, "strung to {empty}");
        prop_assert!(no_more(empty, found.cold.horizontal.value) && no_more(found.hot.horizontal.value, empty));
        // Both bounds of the sag under the crop.
        prop_assert!(no_more(found.loaded.sag.value, found.held.sag.value));
    }

    /// The index is 1 at the load that is said to reach it.
    #[test]
    fn limits_are_where_they_are_said_to_be(asked in trellises()) {
        for (place, limit) in Limits::of(&asked, &carried(&asked)).0.into_iter().enumerate() {
            let mut there = asked.clone();
            match limit.reached {
                // What holds nothing is reached by any gust.
                Reached::Gust(gust) if limit.index.value.is_infinite() => {
                    prop_assert!(gust.value <= 0.0);
                    continue;
                }
                Reached::Gust(gust) => there.inputs.gust = gust,
                // Reached by the tension as strung: less crop than none there isn't.
                Reached::Crop(crop) if crop.value <= 0.0 => {
                    there.inputs.heaviest_crop = crop;
                    let least = Limits::of(&there, &carried(&there)).0[place];
                    prop_assert!(least.index.value >= 1.0 - 1e-6, "{limit:?} {least:?}");
                    continue;
                }
                Reached::Crop(crop) => there.inputs.heaviest_crop = crop,
                Reached::Never => continue,
            }
            let found = Limits::of(&there, &carried(&there)).0[place];
            prop_assert!((found.index.value - 1.0).abs() < 1e-6, "{limit:?} {found:?}");
        }
    }

    #[test]
    fn deeper_and_thicker_posts_hold_no_less(soil in soils(), depth in 0.5..12.0f64, thick in 2.0..10.0f64, height in 0.0..16.0f64, more in 1.0..2.0f64) {
        let post = Embedment { soil, diameter: planting::inches(thick), depth: feet(depth), height: feet(height) };
        let deeper = Embedment { depth: feet(depth * more), ..post };
        prop_assert!(no_more(post.code_load().value, deeper.code_load().value));
        prop_assert!(no_more(post.collapse_load().value, deeper.collapse_load().value));
        let higher = Embedment { height: feet(height * more), ..post };
        prop_assert!(no_more(higher.code_load().value, post.code_load().value));
        prop_assert!(no_more(higher.collapse_load().value, post.collapse_load().value));
        let thicker = Embedment { diameter: post.diameter * more, ..post };
        prop_assert!(no_more(post.code_load().value, thicker.code_load().value));
    }

    /// Whatever is solved meets its target when it is set, and one step beyond doesn't.
    #[test]
    fn what_is_solved_meets_its_target(asked in trellises()) {
        let loads = Loads::of(&asked);
        let solved = &loads.solved;
        for change in [&solved.interval, &solved.wires, &solved.anchor, &solved.post, &solved.depth].into_iter().flatten() {
            prop_assert!(change.after.value <= 1.0, "{change:?}");
        }
        let index = |asked: &Asked, part, basis| {
            Limits::of(asked, &carried(asked)).get(part, basis).map_or(0.0, |limit| limit.index.value)
        };
        if let Some([(_, Setting::Length(interval))]) = solved.interval.as_ref().map(|change| &change.settings[..])
            && *interval < feet(59.5)
        {
            let beyond = asked.with_interval(*interval + feet(1.0));
            let worst = [(Part::Wire, Basis::Rule), (Part::Post, Basis::Collapse), (Part::Soil, Basis::Collapse)]
                .map(|(part, basis)| index(&beyond, part, basis));
            prop_assert!(worst.into_iter().any(|index| index > 1.0), "{worst:?} at {interval:?} and a foot");
        }
        if let Some([(_, Setting::Lengths(heights))]) = solved.wires.as_ref().map(|change| &change.settings[..])
            && heights.len() > 1
        {
            let mut fewer = asked.clone();
            frame_of(&mut fewer).heights.truncate(heights.len() - 1);
            frame_of(&mut fewer).heights.resize(heights.len() - 1, feet(9.0));
            prop_assert!(index(&fewer, Part::Wire, Basis::Rule) > 1.0, "{} wires would do", heights.len() - 1);
        }
    }

    /// Whatever is set, every figure is a number or says why it is none, and every figure there is has its working.
    #[test]
    fn every_figure_is_a_number_with_its_working(asked in trellises()) {
        use planting::trade::Outcome;
        let loads = Loads::of(&asked);
        for figure in loads.figures() {
            prop_assert!(figure.value.is_none_or(f64::is_finite), "{figure:?}");
            prop_assert_eq!(figure.value.is_none(), !figure.without.is_empty());
            let working = loads.working(figure.key);
            prop_assert!(working.is_some(), "{} has no working", figure.key);
            let working = working.unwrap();
            prop_assert_eq!(working.source.certainty, figure.certainty, "{}", figure.key);
            prop_assert!(working.terms.iter().all(|term| term.value.is_finite()), "{working:?}");
        }
    }
}

/// A whole that holds nothing but these inputs.
#[derive(Clone, Debug, PartialEq)]
struct Whole(planting::loads::Inputs);

impl planting::register::table::Holds<planting::loads::Inputs> for Whole {
    fn inputs(&self) -> &planting::loads::Inputs {
        &self.0
    }

    fn inputs_mut(&mut self) -> &mut planting::loads::Inputs {
        &mut self.0
    }
}

fn parameters() -> &'static [planting::register::parameter::Parameter<Whole>] {
    planting::loads::inputs::Parameters::<Whole>::LIST
}

fn usual(system: planting::TrainingSystem) -> Whole {
    Whole(planting::loads::Inputs::usual(system))
}

/// Usual values are in range, on file and back the same, told of, and named once; no name is another's.
#[test]
fn inputs_are_in_order() {
    use planting::register::parameter::Kind as Of;
    for system in planting::TrainingSystem::ALL {
        let whole = usual(*system);
        for parameter in parameters() {
            assert_eq!(parameter.faults(&whole), [], "{}", parameter.key);
            assert!(planting::loads::inputs::note(parameter.key).is_some_and(|note| !note.help.is_empty()));
            let mut copy = usual(planting::TrainingSystem::VerticalAxis);
            parameter.copy(&whole, &mut copy);
            assert!(parameter.same(&whole, &copy), "{}", parameter.key);
            if let Of::Number(number) = parameter.kind {
                assert!(
                    number.min < number.max && number.step_us > 0.0 && number.step_metric > 0.0,
                    "{}",
                    parameter.key
                );
            }
        }
        assert!(whole.0.conflicts().is_empty());
    }
    let mut keys: Vec<&str> = parameters().iter().map(|parameter| parameter.key).collect();
    let mut codes: Vec<u8> = parameters().iter().map(|parameter| parameter.code).collect();
    let count = keys.len();
    keys.sort_unstable();
    keys.dedup();
    codes.sort_unstable();
    codes.dedup();
    assert_eq!((keys.len(), codes.len()), (count, count));
    assert!(keys.iter().all(|key| planting::parameter(key).is_none()), "{keys:?}");
    assert!(
        keys.iter().all(|key| !planting::figure_names().iter().any(|named| named.key == *key)),
        "{keys:?}"
    );
}

/// Only the share on the wires follows the system: half where every tree has a stake.
#[test]
fn the_share_on_the_wires_follows_the_system() {
    for system in planting::TrainingSystem::ALL {
        let staked = Scenario::for_system(*system).trellis.support == planting::Support::WiresAndStakes;
        assert_eq!(usual(*system).0.share_on_wires, share(if staked { 0.5 } else { 1.0 }), "{system:?}");
    }
    let following: Vec<&str> = parameters()
        .iter()
        .filter(|parameter| parameter.follows_system)
        .map(|parameter| parameter.key)
        .collect();
    assert_eq!(following, ["share_on_wires"]);
}

/// 0 mph, a gauge that isn't a number and a soil that isn't there are told by the field's name.
#[test]
fn bad_inputs_are_told_by_name() {
    use planting::register::entries::Entry;
    use planting::register::parameter::Kind as Of;
    let named = |key: &str| parameters().iter().find(|parameter| parameter.key == key).expect("an input");
    for (key, value) in [
        ("gust", 0.0),
        ("gust", f64::NAN),
        ("pretension", 0.0),
        ("pretension", -1.0),
        ("canopy_drag", 2.0),
        ("heaviest_crop", -1.0),
    ] {
        let mut whole = usual(planting::TrainingSystem::TallSpindle);
        if let Of::Number(number) = named(key).kind {
            (number.set)(&mut whole, value);
        }
        let faults = named(key).faults(&whole);
        assert_eq!((faults.len(), faults[0].field.as_str()), (1, key), "{key} {value}");
    }
    let mut whole = usual(planting::TrainingSystem::TallSpindle);
    assert!(named("soil").read(&Entry::Text("jelly".to_owned()), &mut whole).is_err());
    assert_eq!(whole, usual(planting::TrainingSystem::TallSpindle));
}

/// A trellis without wires has nothing to carry; what lies above the posts is still a number.
#[test]
fn odd_trellises_are_defined() {
    let mut none = worked();
    frame_of(&mut none).heights = Vec::new();
    assert_eq!(Carried::of(&none), None);
    let loads = Loads::of(&none);
    assert_eq!((loads.card.as_ref(), loads.limits.0.len()), (None, 0));
    assert_eq!(loads.solved, planting::loads::Solved::default());

    let mut high = worked();
    frame_of(&mut high).heights.push(feet(40.0));
    assert!(carried(&high).pull.moment() > carried(&worked()).pull.moment());

    let mut still = worked();
    still.inputs.gust = mph(0.0);
    let limits = Limits::of(&still, &carried(&still));
    let wind: Vec<_> = limits.0.iter().filter(|limit| limit.index.value <= 0.0).collect();
    assert_eq!(wind.len(), 4);
    assert!(
        wind.iter().all(|limit| limit.reached == Reached::Never || matches!(limit.reached, Reached::Gust(_)))
    );

    // No root: no load, no tension, no bay, no number.
    let bay = carried(&worked()).bay;
    let load = pounds_force(4.0) / feet(1.0);
    for bad in [
        planting::loads::Bay { pretension: pounds_force(0.0), ..bay },
        planting::loads::Bay { pretension: pounds_force(f64::NAN), ..bay },
        planting::loads::Bay { span: feet(0.0), ..bay },
    ] {
        assert_eq!(bad.under(load, Default::default()), None, "{bad:?}");
        assert_eq!(bad.load_for(pounds_force(500.0)), None, "{bad:?}");
    }
    for load in [load * 0.0, load * -1.0, load * f64::NAN, load * f64::INFINITY] {
        assert_eq!(bay.under(load, Default::default()), None, "{load:?}");
    }

    // Deeper than the post is long: stands no lower than the ground.
    let mut sunk = worked();
    frame_of(&mut sunk).depth = feet(20.0);
    assert!(Loads::of(&sunk).bill.total > planting::kit::money::Cents(0));
}

/// Over any plan whatever, this room gives figures that are numbers.
#[test]
fn any_ground_has_its_loads() {
    use crate::strategy::in_order;
    use planting::trade::Outcome;
    let mut runner = proptest::test_runner::TestRunner::new(proptest::test_runner::Config::with_cases(64));
    runner
        .run(&in_order(), |scenario| {
            let ground = Ground::lay(&scenario, &mut ground::Memory::default()).expect("in order");
            let asked = asks::asked(&ground, &planting::loads::Inputs::usual(scenario.system), None);
            let loads = Loads::of(&asked);
            prop_assert!(loads.figures().iter().all(|figure| figure.value.is_none_or(f64::is_finite)));
            let _ = loads.advice();
            prop_assert_eq!(loads.orders().len() <= 9, true);
            prop_assert_eq!(
                loads.carried.is_some(),
                asked.frame.as_ref().is_some_and(|frame| !frame.heights.is_empty())
            );
            Ok(())
        })
        .unwrap();
    assert!(planting::REGISTRY.iter().any(|parameter: &Parameter| matches!(parameter.kind, Kind::Number(_))));
}

/// A crop that another room expects counts where it is the larger.
#[test]
fn the_larger_crop_counts() {
    let mut asked = worked();
    let set = asked.crop();
    asked.crop = Some(set * 0.5);
    assert_eq!(asked.crop(), set);
    asked.crop = Some(set * 1.5);
    assert_eq!(asked.crop(), set * 1.5);
    assert_eq!(Arc::strong_count(&asked.rows), 1);
    let _: Length = asked.longest_row();
}
