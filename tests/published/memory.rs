//! What is computed again when one thing changes: each room by exactly what it reads.

use planting::kit::offers::Offer;
use planting::{Memory, Plan, Scenario, degrees, feet, plan_with};
use std::sync::Arc;

type Change = fn(&mut Scenario);

fn planned(memory: &mut Memory, change: Change) -> Plan {
    plan_with(&Scenario::default().with(change), memory).expect("in order")
}

/// Which of block, canopy, growth over the years, trellis, season and grown light two plans share.
fn shared(one: &Plan, other: &Plan) -> [bool; 6] {
    [
        Arc::ptr_eq(&one.block, &other.block),
        Arc::ptr_eq(&one.canopy, &other.canopy),
        Arc::ptr_eq(&one.canopy.years, &other.canopy.years),
        Arc::ptr_eq(&one.trellis, &other.trellis),
        Arc::ptr_eq(&one.light.season, &other.light.season),
        Arc::ptr_eq(&one.light.grown, &other.light.grown),
    ]
}

#[test]
fn a_change_recomputes_only_what_reads_it() {
    const YES: bool = true;
    const NO: bool = false;
    let cases: [(&str, Change, [bool; 6]); 9] = [
        ("nothing", |_| {}, [YES, YES, YES, YES, YES, YES]),
        // Whether trees reach their top wire is judged with the crowns, which grow as before.
        ("a wire", |s| s.trellis.wire_heights[3] = feet(9.25), [YES, NO, YES, NO, YES, YES]),
        ("the posts", |s| s.trellis.post_length = feet(13.0), [YES, YES, YES, NO, YES, YES]),
        ("the year", |s| s.canopy.year = 9.0, [YES, NO, YES, YES, NO, YES]),
        ("the block's length", |s| s.block.block_length = feet(700.0), [NO, YES, YES, NO, YES, YES]),
        ("the latitude", |s| s.light.latitude = degrees(40.0), [YES, YES, YES, YES, NO, NO]),
        ("the hour", |s| s.light.sun_hour = 15.0, [YES, YES, YES, YES, YES, YES]),
        ("the union", |s| s.canopy.settling = feet(0.2), [YES, NO, NO, YES, YES, YES]),
        ("the spacing", |s| s.block.in_row_spacing = feet(3.5), [NO, NO, NO, NO, NO, NO]),
    ];
    for (what, change, expected) in cases {
        let mut memory = Memory::default();
        let start = planned(&mut memory, |_| {});
        let changed = planned(&mut memory, change);
        assert_eq!(shared(&start, &changed), expected, "{what}");
        // Two plans side by side stay warm: going back and forth computes nothing.
        assert_eq!(shared(&start, &planned(&mut memory, |_| {})), [YES; 6], "back from {what}");
        assert_eq!(shared(&changed, &planned(&mut memory, change)), [YES; 6], "{what} again");
    }
}

/// Rooms are put in an order in which whatever one asks for has been offered before.
#[test]
fn what_a_room_asks_for_is_offered_before_it_is_put() {
    let mut offered: Vec<Offer> = Vec::new();
    macro_rules! in_order {
        (ground $ground:ident $facts:tt $(room $room:ident $more:tt)*) => {
            $(
                for asked in planting::$room::ASKS {
                    assert!(offered.contains(asked), "{} asks for {asked:?}", stringify!($room));
                }
                offered.extend(planting::$room::OFFERS);
            )*
        };
    }
    planting::rooms!(in_order);
    assert!(offered.contains(&Offer::LightTaken));
}
