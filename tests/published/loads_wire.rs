//! Trellis wire against published tables: gauges, strengths, stretch, sag and tension.

use crate::fixture::{FT, assert_near};
use crate::loads::{IN, LBF_FT};
use planting::kit::units::{POUND, POUND_FORCE, fahrenheit, pounds_force};
use planting::loads::{Bay, Gauge, Grade, Wire, crop_on_row, crop_on_wire, gauge_reading, tension_of_gauge};
use planting::uom::si::f64::Length;
use planting::{Choice, feet, inches, share};

pub(crate) const USUAL: Wire = Wire { gauge: Gauge::No12Half, grade: Grade::Ksi170 };

pub(crate) fn bay(span_ft: f64, pretension_lbf: f64) -> Bay {
    Bay {
        span: feet(span_ft),
        wire: USUAL,
        stiffness: USUAL.stiffness(),
        pretension: pounds_force(pretension_lbf),
    }
}

fn pounds_a_foot(wire: Wire) -> f64 {
    wire.mass().value / POUND * FT
}

/// Diameter, section, weight and breaking loads at 75, 140, 170, 180 and 200 ksi: diameters of ASTM A854 and Bailey 1893 (8, 9, 11 and from 13 on
/// to the fourth digit from memory), the rest own arithmetic; EAα in lbf for each degree Fahrenheit.
#[test]
fn gauges_have_their_size_weight_and_strength() {
    for (gauge, inch, section, weight, breaking, warmth) in [
        (Gauge::No8, 0.1620, 0.02061, 0.0701, [1546.0, 2886.0, 3504.0, 3710.0, 4122.0], 3.89),
        (Gauge::No9, 0.1483, 0.01727, 0.0588, [1295.0, 2418.0, 2936.0, 3109.0, 3455.0], 3.26),
        (Gauge::No10, 0.1350, 0.01431, 0.0487, [1074.0, 2004.0, 2433.0, 2576.0, 2863.0], 2.70),
        (Gauge::No11, 0.1205, 0.01140, 0.0388, [855.0, 1597.0, 1939.0, 2053.0, 2281.0], 2.15),
        (Gauge::No12, 0.1055, 0.00874, 0.0297, [656.0, 1224.0, 1486.0, 1574.0, 1748.0], 1.65),
        (Gauge::No12Half, 0.0990, 0.00770, 0.0262, [577.0, 1078.0, 1309.0, 1386.0, 1540.0], 1.45),
        (Gauge::No13, 0.0915, 0.00658, 0.0224, [493.0, 921.0, 1118.0, 1184.0, 1315.0], 1.24),
        (Gauge::No14, 0.0800, 0.00503, 0.0171, [377.0, 704.0, 855.0, 905.0, 1005.0], 0.95),
        (Gauge::No15Half, 0.0670, 0.00353, 0.0120, [264.0, 494.0, 599.0, 635.0, 705.0], 0.67),
        (Gauge::No16, 0.0625, 0.00307, 0.0104, [230.0, 430.0, 522.0, 552.0, 614.0], 0.58),
    ] {
        let wire = Wire { gauge, grade: Grade::Ksi170 };
        assert_near(gauge.diameter().value / IN, inch, 1e-12, gauge);
        assert_near(wire.section().value / (IN * IN), section, 2e-3, gauge);
        assert_near(pounds_a_foot(wire), weight, 5e-3, gauge);
        for (grade, expected) in Grade::ALL.iter().zip(breaking) {
            let found = Wire { gauge, grade: *grade }.breaking_load().value / POUND_FORCE;
            assert!((found - expected).abs() <= 0.51, "{gauge:?} {grade:?}: {found}, {expected}");
        }
        // EAα: the change of a straight wire's tension for a degree.
        let found = wire.stiffness().value / POUND_FORCE * 6.5e-6;
        assert!((found - warmth).abs() <= 0.0055, "{gauge:?}: {found}");
    }
}

/// Pounds in 100 ft of wire, 9 to 16 gauge: Bailey 1893, *American Grape Training*, within 2.1 %.
#[test]
fn bailey_weighed_wire() {
    for (gauge, pounds) in [
        (Gauge::No9, 5.80),
        (Gauge::No10, 4.83),
        (Gauge::No11, 3.82),
        (Gauge::No12, 2.92),
        (Gauge::No13, 2.24),
        (Gauge::No14, 1.69),
        (Gauge::No16, 1.05),
    ] {
        assert_near(100.0 * pounds_a_foot(Wire { gauge, grade: Grade::LowCarbon }), pounds, 0.021, gauge);
    }
    // The same book: one run of No. 12 on rows 8 ft apart takes about 160 lb an acre, three about 500.
    let an_acre = pounds_a_foot(Wire { gauge: Gauge::No12, grade: Grade::LowCarbon }) * 43_560.0 / 8.0;
    assert_near(an_acre, 160.0, 0.02, "one run");
    assert_near(3.0 * an_acre, 500.0, 0.05, "three runs");
}

/// Halves of the 6½ gauge lie midway (a supplier's page); a coil of 4,000 ft weighs 104.8 lb, 100 lb are 3,817 ft (own arithmetic).
#[test]
fn coils_weigh_what_their_wire_does() {
    assert_near(4000.0 * pounds_a_foot(USUAL), 104.8, 1e-3, "a coil");
    assert_near(100.0 / pounds_a_foot(USUAL), 3817.0, 1e-3, "100 lb");
    assert_near(1.0 / pounds_a_foot(USUAL), 38.2, 2e-3, "feet to the pound");
}

/// The board: 10 lb on 40 in and ½ in is 200 lbf (Iowa vineyard newsletter 2014), and back.
#[test]
fn a_board_tells_tension() {
    let tension = tension_of_gauge(pounds_force(10.0), inches(40.0), inches(0.5));
    assert_near(tension.value / POUND_FORCE, 200.0, 1e-12, "twenty times the scale");
    let scale = gauge_reading(tension, inches(40.0), inches(0.5));
    assert_near(scale.value / POUND_FORCE, 10.0, 1e-12, "and back");
}

/// Stretch to 250 lbf (own arithmetic, T L ÷ E A); a 300-ft row moves 1.17 in for 50 °F.
#[test]
fn wires_stretch() {
    for (row, stretch) in [(200.0, 2.69), (300.0, 4.03), (500.0, 6.72)] {
        let found = USUAL.stretch(pounds_force(250.0), feet(row)).value / IN;
        assert!((found - stretch).abs() <= 0.0051, "{row} ft: {found}");
    }
    assert_near(6.5e-6 * 50.0 * 300.0 * 12.0, 1.17, 1e-12, "free movement");
}

/// Cold and heat on a bare wire strung to 250 lbf in 30-ft bays (own arithmetic).
#[test]
fn bare_wires_tighten_in_the_cold() {
    let bay = bay(30.0, 250.0);
    let own = USUAL.weight(Length::default());
    for (degrees, expected) in [(-60.0, 337.0), (-40.0, 308.0), (0.0, 250.0), (40.0, 192.0)] {
        let found = bay.under(own, fahrenheit(degrees)).unwrap().horizontal.value / POUND_FORCE;
        assert!((found - expected).abs() <= 0.051, "{degrees} °F: {found}");
    }
}

/// Tension and sag under 63,000 lb an acre on 12-ft rows, shared by one to five wires, in bays of 20 to 40 ft (own table).
#[test]
fn loaded_wires_of_the_table() {
    let row = crop_on_row(planting::kit::units::pounds_per_acre(63_000.0), feet(12.0));
    for (span, cells) in [
        (20.0, [(1130.0, 9.2), (750.0, 7.0), (600.0, 5.8), (516.0, 5.1), (463.0, 4.5)]),
        (25.0, [(1296.0, 12.6), (854.0, 9.6), (678.0, 8.0), (580.0, 7.1), (516.0, 6.3)]),
        (30.0, [(1451.0, 16.2), (951.0, 12.4), (751.0, 10.4), (640.0, 9.2), (568.0, 8.3)]),
        (40.0, [(1738.0, 24.0), (1131.0, 18.5), (888.0, 15.7), (752.0, 13.9), (663.0, 12.7)]),
    ] {
        for (wires, (tension, sag)) in (1..).zip(cells) {
            let crop = crop_on_wire(row, share(1.0), f64::from(wires)).unwrap();
            let hung =
                bay(span, 250.0).under(crop + USUAL.weight(Length::default()), fahrenheit(0.0)).unwrap();
            let what = format!("{wires} wires, {span} ft");
            assert!((hung.horizontal.value / POUND_FORCE - tension).abs() <= 0.51, "{what}: {hung:?}");
            assert!((hung.sag.value / IN - sag).abs() <= 0.051, "{what}: {hung:?}");
        }
    }
}

/// Crop on a foot of row (own table; published loads of Hoying and Miranda Sazo and of Hoying).
#[test]
fn crops_on_rows() {
    for (crop, feet_of_row) in [
        (42_000.0, [9.64, 10.61, 11.57, 12.53, 13.50]),
        (63_000.0, [14.46, 15.91, 17.36, 18.80, 20.25]),
        (70_000.0, [16.07, 17.68, 19.28, 20.89, 22.50]),
    ] {
        for (width, expected) in [10.0, 11.0, 12.0, 13.0, 14.0].into_iter().zip(feet_of_row) {
            let row = crop_on_row(planting::kit::units::pounds_per_acre(crop), feet(width));
            assert!((row.value / POUND * FT - expected).abs() <= 0.0051, "{crop} on {width} ft");
        }
    }
}

/// Ice: 57 π ÷ 4 ÷ 144 = 0.3109 lb/ft for a square inch (published 0.311); 12½ gauge with half an inch 0.372 lb/ft of ice.
#[test]
fn ice_weighs_on_wires() {
    let ice = |inch| (USUAL.weight(inches(inch)) - USUAL.weight(inches(0.0))).value / LBF_FT;
    let between = |inch: f64| (0.099 + 2.0 * inch).powi(2) - 0.099f64.powi(2);
    assert_near(ice(0.5) / between(0.5), 0.311, 1e-3, "the constant");
    assert_near(ice(0.5), 0.372, 2e-3, "half an inch");
}

/// A cable between supports 50 ft apart that sags 10 ft and pulls 10,000 lb at most carries 12,494 lb (open statics text, §6.14, problem 1; own answer).
#[test]
fn a_cable_of_a_textbook() {
    // Tmax = (wL ÷ 2) √(1 + L² ÷ 16 f²), the same parabola as `Bay` hangs in.
    let (span, sag, most) = (50.0, 10.0, 10_000.0_f64);
    let load = 2.0 * most / (1.0f64 + span * span / (16.0 * sag * sag)).sqrt();
    assert_near(load, 12_494.0, 1e-4, "the whole load");
    // Held at the pull that gives this sag, the bay's wire pulls as much at the support.
    let pull = load * span / (8.0 * sag);
    let hung = bay(span, pull).held(pounds_force(load) / feet(span));
    assert_near(hung.sag.value / FT, sag, 1e-12, "sag");
    assert_near(hung.tension.value / POUND_FORCE, most, 1e-12, "pull at the support");
}

/// Where elastic wire settles on the exact curve: the flat parabola's tension is within half of one
/// per cent of it for bays and loads of the table.
#[test]
fn the_parabola_is_close_to_the_catenary() {
    for (span, wires) in [(20.0, 5.0), (30.0, 4.0), (30.0, 2.0), (40.0, 1.0)] {
        let bay = bay(span, 250.0);
        let load = crop_on_wire(
            crop_on_row(planting::kit::units::pounds_per_acre(63_000.0), feet(12.0)),
            share(1.0),
            wires,
        )
        .unwrap()
            + USUAL.weight(Length::default());
        let hung = bay.under(load, fahrenheit(0.0)).unwrap();
        let exact = settled_on_the_catenary(&bay, load.value);
        assert_near(hung.horizontal.value, exact, 5e-3, (span, wires));
        let c = hung.horizontal.value / load.value;
        let sag = c * ((bay.span.value / (2.0 * c)).cosh() - 1.0);
        assert_near(hung.sag.value, sag, 5e-3, (span, wires));
    }
    // The example: 9.220 in on the catenary, 9.212 on the parabola.
    let (c, half) = (639.69 / 4.3650, 15.0f64);
    assert_near(c * ((half / c).cosh() - 1.0) * 12.0, 9.220, 1e-4, "catenary");
}

/// Horizontal pull at which an elastic catenary of the wire as strung hangs in the bay: its unstretched length is what the bay's catenary under
/// the bare wire had, found by bisection.
fn settled_on_the_catenary(bay: &Bay, load: f64) -> f64 {
    let (span, stiffness) = (bay.span.value, bay.stiffness.value);
    let unstretched = |pull: f64, load: f64| {
        let c = pull / load;
        let length = 2.0 * c * (span / (2.0 * c)).sinh();
        // Mean of the tension's stretch along a catenary: H (L/2 + c/2 sinh(L/c)) ÷ EA.
        length - pull * (span / 2.0 + c / 2.0 * (span / c).sinh()) / stiffness
    };
    let as_strung = unstretched(bay.pretension.value, bay.wire.weight(Length::default()).value);
    let (mut low, mut high) = (1.0, 1e5);
    for _ in 0..200 {
        let middle = (low + high) / 2.0;
        if unstretched(middle, load) > as_strung { low = middle } else { high = middle }
    }
    low
}

/// Ends that yield: between the wire's own stiffness and no stiffness at all lie both bounds.
#[test]
fn ends_that_yield_lie_between_the_bounds() {
    let load = pounds_force(4.365) / feet(1.0);
    let fixed = bay(30.0, 250.0).under(load, fahrenheit(0.0)).unwrap();
    let held = bay(30.0, 250.0).held(load);
    let mut last = fixed.horizontal;
    for give in [0.5, 2.0, 8.0, 32.0, 1e6] {
        let stiffness = USUAL.stiffness_between(inches(give) / pounds_force(1000.0), feet(300.0));
        // 1 ÷ (1/EA + c/L), in inches and pounds.
        let own = USUAL.stiffness().value / POUND_FORCE;
        assert_near(stiffness.value / POUND_FORCE, 1.0 / (1.0 / own + give / 1000.0 / 3600.0), 1e-12, give);
        let hung = Bay { stiffness, ..bay(30.0, 250.0) }.under(load, fahrenheit(0.0)).unwrap();
        assert!(hung.horizontal < last && hung.horizontal > held.horizontal, "{give} in: {hung:?}");
        last = hung.horizontal;
    }
    assert_near(last.value, held.horizontal.value, 1e-3, "ends that give way");
    let unyielding = USUAL.stiffness_between(inches(0.0) / pounds_force(1000.0), feet(300.0));
    assert_eq!(unyielding, USUAL.stiffness());
}
