//! The order, hours and card of the worked block.

use crate::fixture::{FT, assert_near};
use crate::loads::{IN, asked_of, worked, worked_inputs, worked_scenario};
use planting::kit::money::Cents;
use planting::kit::units::{POUND, POUND_FORCE};
use planting::loads::{Anchor, Bill, BraceSpans, Inputs, Item, Loads, Setting};
use planting::trade::Outcome;
use planting::{EndAssembly, SQUARE_METRES_PER_ACRE, Support, degrees, feet, share};

fn amount(bill: &Bill, item: Item) -> f64 {
    bill.lines.iter().find(|line| line.item == item).map_or(0.0, |line| line.amount)
}

/// The bill of the worked block, by its own arithmetic; staples of UGA, unit times of Fraser and Oakes 1999, all else common practice.
#[test]
fn the_worked_bill_comes_out() {
    let bill = Bill::of(&worked());
    for (item, expected) in [
        (Item::LinePosts, 90.0),
        (Item::EndPosts, 20.0),
        (Item::Anchors, 20.0),
        (Item::Tensioners, 40.0),
        (Item::Coils, 4.0),
        (Item::Sleeves, 160.0),
        (Item::Ties, 4_000.0),
        (Item::Staples, 9.0),
        (Item::BracePosts, 0.0),
        (Item::Clips, 0.0),
        (Item::Stakes, 0.0),
    ] {
        assert_eq!(amount(&bill, item), expected, "{item:?}");
    }
    assert_eq!(bill.staples, 520);
    assert_near(520.0 / 60.0, 8.7, 5e-3, "pounds of staples");
    assert_near(bill.wire.value / FT, 12_936.0, 1e-9, "wire");
    assert_near(bill.guy.value / FT, 619.0, 1e-3, "guys");
    assert_near(bill.wire_mass.value / POUND, 355.0, 1e-3, "weight");
    for (what, hours, expected) in [
        ("line posts", bill.labour.line_posts, 6.0),
        ("end posts", bill.labour.end_posts, 2.0),
        ("anchors", bill.labour.anchors, 1.0),
        ("wire", bill.labour.wire, 25.3),
        ("ties", bill.labour.ties, 22.2),
    ] {
        assert_near(hours, expected, 2e-3, what);
    }
    // Per planted acre: 109 line posts, 24 ends, 14,520 ft net, 15,653 ordered, 410 lb less the guys'.
    let acres = worked().land().value / SQUARE_METRES_PER_ACRE;
    assert_near(acres, 0.826, 1e-3, "acres");
    let line_posts = bill.lines[0].per_land.expect("land") * SQUARE_METRES_PER_ACRE;
    assert_near(line_posts, 90.0 / acres, 1e-12, "line posts an acre");
    assert_near(line_posts, 109.0, 1e-2, "line posts an acre, as printed");
    assert_near(20.0 / acres, 24.0, 1e-2, "ends an acre");
    assert_near(bill.wire.value / FT / acres, 15_653.0, 1e-4, "wire an acre");
    assert_near(bill.wire.value / FT / acres * 0.0262, 410.0, 2e-3, "weight an acre");
}

/// A coil of 4,000 ft gives twelve wires of 308 ft: forty wires take four coils, spliced or not.
#[test]
fn coils_without_splices() {
    assert_eq!(Bill::of(&worked()).coils_unspliced, Some(4));
    let long = worked_scenario().with(|s| s.block.block_length = feet(2_060.0));
    // 2,008 ft: one wire a coil.
    assert_eq!(Bill::of(&asked_of(&long, &worked_inputs())).coils_unspliced, Some(40));
    let longer = worked_scenario().with(|s| s.block.block_length = feet(5_000.0));
    assert_eq!(Bill::of(&asked_of(&longer, &worked_inputs())).coils_unspliced, None);
}

/// Stakes at every tree: two minutes each, a clip at each wire; two spans of brace: twice the posts, rails and diagonals.
#[test]
fn stakes_and_braces_are_counted() {
    let staked = worked_scenario().with(|s| s.trellis.support = Support::WiresAndStakes);
    let bill = Bill::of(&asked_of(&staked, &worked_inputs()));
    assert_near(bill.labour.stakes, 33.3, 2e-3, "conduit");
    assert_eq!((amount(&bill, Item::Stakes), bill.clips), (1_000.0, 4_000));
    let braced = worked_scenario().with(|s| s.trellis.end_assembly = EndAssembly::HBrace);
    for (spans, posts) in [(BraceSpans::One, 20), (BraceSpans::Two, 40)] {
        let inputs = Inputs { brace_spans: spans, wastage: share(0.0), ..worked_inputs() };
        let bill = Bill::of(&asked_of(&braced, &inputs));
        assert_eq!((bill.brace_posts, bill.rails, amount(&bill, Item::Anchors)), (posts, posts, 0.0));
        // Four strands of √(7² + 8²) ft and 4 ft each.
        let diagonal = 4.0 * 113f64.sqrt() + 4.0;
        assert_near(
            bill.guy.value / FT,
            f64::from(u32::try_from(posts).unwrap()) * diagonal,
            1e-9,
            "diagonals",
        );
        assert_near(
            bill.labour.braces,
            f64::from(u32::try_from(posts).unwrap()) * 0.25,
            1e-12,
            "a quarter of an hour",
        );
    }
    let bare = worked_scenario().with(|s| s.trellis.support = Support::PostPerTree);
    let bill = Bill::of(&asked_of(&bare, &worked_inputs()));
    assert_eq!(bill.lines.iter().map(|line| line.item).collect::<Vec<_>>(), [Item::Stakes, Item::Work]);
}

/// Costs add up to the cent, and follow the prices that are set.
#[test]
fn costs_add_up() {
    let bill = Bill::of(&worked());
    let sum: Cents = bill.lines.iter().map(|line| line.cost).sum();
    assert_eq!(bill.total, sum);
    assert_eq!(bill.lines[0].cost, Cents(90 * 1_800));
    let dearer = Inputs { price_line_post: 20.5, ..worked_inputs() };
    let bill_of_dearer = Bill::of(&asked_of(&worked_scenario(), &dearer));
    assert_eq!((bill_of_dearer.total - bill.total).0, 90 * 250);
    let loads = Loads::of(&worked());
    let cost = loads.figure("trellis_cost").and_then(|figure| figure.value).expect("a cost");
    assert_near(cost, bill.total.dollars(), 1e-12, "figure");
    let by_land = loads.figure("trellis_cost_per_land").and_then(|figure| figure.value).expect("a cost");
    assert_near(by_land * SQUARE_METRES_PER_ACRE * 0.826_446, cost, 1e-5, "per land");
    // Every line's price is an input that can be set.
    for line in &bill.lines {
        assert!(planting::loads::inputs::note(line.item.price_key()).is_some(), "{:?}", line.item);
    }
}

/// 400 ft in bays of 20 ft: 19 line posts (a builder's log of 2005).
#[test]
fn posts_of_an_interval() {
    let row = worked_scenario().with(|s| {
        s.block.block_length = feet(460.0);
        s.block.block_width = feet(24.0);
    });
    let asked = asked_of(&row, &worked_inputs());
    assert_eq!(asked.rows.len(), 1);
    for (interval, posts) in [(20.0, 19), (30.0, 13), (399.0, 1), (400.0, 0), (500.0, 0)] {
        let found = asked.with_interval(feet(interval)).frame.expect("wires").line_posts;
        assert_eq!(found, posts, "{interval} ft");
    }
}

/// The card: 250 lbf reads 12.5 lb, stretches 4.03 in on 300 ft, and stands at 337 and 192 lbf on the coldest and the hottest day.
#[test]
fn the_card_of_the_example() {
    let card = Loads::of(&worked()).card.expect("a card");
    assert_near(card.reading.value / POUND_FORCE, 12.5, 1e-12, "reading");
    assert_eq!(card.heights.len(), 4);
    assert_eq!((card.rows.len(), card.rows[0].rows), (1, 10));
    assert_near(card.rows[0].stretch.value / IN, 4.03, 1.5e-3, "stretch");
    assert_near(card.rows[0].shortens.value / IN, 1.17 * 60.0 / 50.0, 1e-9, "60 °F colder");
    assert_near(card.cold_and_hot.0.value / POUND_FORCE, 337.0, 2e-4, "cold");
    assert_near(card.cold_and_hot.1.value / POUND_FORCE, 192.0, 2e-4, "hot");
    let tensions: Vec<f64> = card.by_temperature.iter().map(|(_, tension)| tension.value).collect();
    assert_eq!(tensions.len(), 7);
    assert!(tensions.windows(2).all(|pair| pair[0] > pair[1]), "{tensions:?}");
    assert_near(tensions[3] / POUND_FORCE, 250.0, 1e-9, "as strung");
}

/// The largest interval, the fewest wires, the smallest anchor of the example, each just within its target.
#[test]
fn solved_for_the_example() {
    let asked = worked();
    let solved = Loads::of(&asked).solved;
    let interval = solved.interval.expect("an interval");
    assert_eq!(interval.settings, [("post_interval", Setting::Length(feet(23.0)))]);
    // 70 mph reach 30-ft bays at 1.29: 30 ÷ 1.29 is 23.2 ft. ⌈300 ÷ 23⌉ − 1 = 13 posts for 9 in each of ten rows.
    assert_eq!(interval.cost, Some(Cents(40 * 1_800) + hours_of_posts(40) + staples_of_posts(&asked, 23.0)));
    let wires = solved.wires.expect("wires");
    let [(_, Setting::Lengths(heights))] = &wires.settings[..] else { panic!("{wires:?}") };
    assert_eq!((heights, wires.cost), (&asked.frame.as_ref().expect("wires").heights, Some(Cents(0))));
    assert!(wires.after.value > 0.98, "the crop of 65,000 lb an acre reaches it: {wires:?}");
    // 2,349 lbf twice over: two plates of 8 in come at 6,283, one at 3,142, two of 6 in at 3,534.
    assert_eq!(
        solved.anchor.expect("an anchor").settings,
        [("anchor_kind", Setting::Choice("two_plates_8"))]
    );
    // A post of 5 in stands 79.6 mph and one of 4¾ in 73.8; one of 4½ in no more than 68.
    let post = solved.post.expect("a post");
    assert_eq!(
        (post.settings, post.cost),
        (vec![("line_post_diameter", Setting::Length(planting::inches(4.75)))], None)
    );
    // 3½ ft hold 954 lbf of the 869, in a post as much longer.
    let deeper =
        [("post_embedment", Setting::Length(feet(3.5))), ("post_length", Setting::Length(feet(12.5)))];
    assert_eq!(solved.depth.expect("a depth").settings, deeper);
    assert!(solved.row.is_some_and(|row| row.held.is_none() && (row.used.value / FT - 600.0).abs() < 1e-9));
}

fn hours_of_posts(posts: i32) -> Cents {
    let hours = |posts: f64| posts * 4.0 / 60.0;
    let before = Bill::of(&worked()).labour.total();
    Cents::of_dollars((before + hours(f64::from(posts))) * 23.75) - Cents::of_dollars(before * 23.75)
}

fn staples_of_posts(asked: &planting::loads::Asked, interval: f64) -> Cents {
    let pounds = |bill: &Bill| Cents::of_dollars(f64::from(u32::try_from(bill.staple_pounds).unwrap()) * 3.0);
    pounds(&Bill::of(&asked.with_interval(feet(interval)))) - pounds(&Bill::of(asked))
}

/// Longer rows pull harder where ends yield: the longest row that meets the target is found.
#[test]
fn rows_are_limited_where_ends_yield() {
    let inputs = Inputs {
        end_give: planting::inches(4.0),
        anchor_kind: Anchor::TwoPlates10,
        anchor_target: share(1.0),
        heaviest_crop: planting::kit::units::pounds_per_acre(75_000.0),
        ..worked_inputs()
    };
    let at = |length: f64| {
        let rows = worked_scenario().with(|s| s.block.block_length = feet(length + 60.0));
        Loads::of(&asked_of(&rows, &inputs))
    };
    let held = at(300.0).solved.row.and_then(|row| row.held).expect("a longest row").value / FT;
    let index =
        |length: f64| at(length).figure("wire_index").and_then(|figure| figure.value).expect("an index");
    assert!(
        index(held) <= 0.5 && index(held + 10.0) > 0.5,
        "{held} ft: {} and {}",
        index(held),
        index(held + 10.0)
    );
}

/// Rules speak of what they should, and are quiet on a trellis that meets every target.
#[test]
fn rules_find_what_is_there() {
    let rules = |inputs: &Inputs, change: fn(&mut planting::Scenario)| -> Vec<&'static str> {
        let loads = Loads::of(&asked_of(&worked_scenario().with(change), inputs));
        loads.advice().iter().map(|advice| advice.rule).collect()
    };
    let held =
        Inputs { anchor_kind: Anchor::TwoPlates10, gust: planting::kit::units::mph(60.0), ..worked_inputs() };
    assert_eq!(rules(&held, |_| {}), [""; 0]);
    assert_eq!(rules(&worked_inputs(), |_| {}), ["anchor_overloaded", "soil_overloaded"]);
    let heavy = Inputs { heaviest_crop: planting::kit::units::pounds_per_acre(100_000.0), ..held.clone() };
    assert_eq!(rules(&heavy, |_| {}), ["wire_overloaded", "brace_overloaded"]);
    assert_eq!(
        rules(&held, |s| s.trellis.line_post_diameter = planting::inches(3.0)),
        ["soil_overloaded", "post_overloaded"]
    );
    assert!(rules(&held, |s| s.trellis.wire_heights = vec![feet(9.0)]).contains(&"single_wire"));
    assert_eq!(
        rules(&Inputs { pretension: planting::kit::units::pounds_force(260.0), ..held.clone() }, |_| {}),
        ["overtightened"]
    );
    let idle = Inputs { heaviest_crop: planting::kit::units::pounds_per_acre(0.0), ..held.clone() };
    assert_eq!(rules(&idle, |_| {}), ["cold_wires"]);
    let netted = Inputs { cover: planting::loads::Cover::Net, ..held.clone() };
    assert_eq!(rules(&netted, |_| {}), ["cover_left_out"]);
    // The remedies: what is solved, set, quiets the rule it is offered by.
    assert!(!rules(&worked_inputs(), |s| s.trellis.post_interval = feet(23.0)).contains(&"soil_overloaded"));
    let anchored = Inputs { anchor_kind: Anchor::TwoPlates8, ..worked_inputs() };
    assert!(!rules(&anchored, |s| s.trellis.end_post_lean = degrees(0.0)).contains(&"anchor_overloaded"));
}

/// No sentence of this room says that a structure is safe or unsafe.
#[test]
fn nothing_is_called_safe() {
    let inputs = Inputs {
        pretension: planting::kit::units::pounds_force(300.0),
        cover: planting::loads::Cover::Net,
        ..worked_inputs()
    };
    let loads = Loads::of(&asked_of(&worked_scenario(), &inputs));
    let advice = loads.advice();
    let said = advice.iter().flat_map(|advice| [advice.title, advice.finding.template, advice.otherwise]);
    let workings = loads.figures().into_iter().filter_map(|figure| loads.working(figure.key));
    let workings: Vec<&str> = workings.flat_map(|working| [working.formula, working.leaves_out]).collect();
    let told =
        [planting::loads::cautions(), planting::loads::collapses(), planting::loads::practice()].concat();
    let said = said.chain(workings).chain(told.iter().flat_map(|told| [told.title, told.text.template]));
    for sentence in said.chain(planting::loads::STEPS) {
        let words = sentence.to_lowercase();
        assert!(!words.contains("safe"), "{sentence}");
    }
}
