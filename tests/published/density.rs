//! Trees on an acre and on a hectare against printed tables.

use crate::fixture::{assert_near, figure, per_acre, planned};
use planting::Spacing;
use planting::{SQUARE_METRES_PER_ACRE, SQUARE_METRES_PER_HECTARE, Scenario, feet};

/// In-row spacing `[ft]`, row width `[ft]`, trees per acre as printed, who printed it.
type Row = (f64, f64, f64, &'static str);

const PRINTED: &[Row] = &[
    (
        6.0,
        14.0,
        518.0,
        "Penn State Extension 18 Apr 2012, An orchard blueprint for high density apple plantings",
    ),
    (
        3.0,
        11.0,
        1320.0,
        "Penn State Extension 18 Apr 2012, An orchard blueprint for high density apple plantings",
    ),
    (
        3.0,
        10.0,
        1452.0,
        "Barney, Storey's Guide to Growing Organic Orchard Fruits, tall spindle and vertical axis",
    ),
    (4.0, 13.0, 837.0, "Barney, Storey's Guide to Growing Organic Orchard Fruits, tall spindle"),
    (7.0, 16.0, 389.0, "Barney, Storey's Guide to Growing Organic Orchard Fruits, vertical axis"),
    (2.0, 10.0, 2178.0, "Robinson in Good Fruit Grower, Horticulturist favors tall spindle (super spindle)"),
    (5.0, 14.0, 622.0, "Ontario Ministry of Agriculture, Research results: trial precision pruning"),
    (15.0, 20.0, 145.0, "Ontario Ministry of Agriculture, Research results: trial precision pruning"),
    (4.0, 14.0, 778.0, "US land-grant eXtension, Dwarfing apple rootstocks"),
    (2.0, 14.0, 1556.0, "US land-grant eXtension, Dwarfing apple rootstocks"),
    (20.0, 26.0, 84.0, "US land-grant eXtension, Standard apple rootstocks"),
    (1.5, 12.0, 2420.0, "Good Fruit Grower, The organized orchard (Auvil Fruit Co., V trellis)"),
];

/// In-row spacing `[ft]`, row width `[ft]`, trees per hectare and per acre as printed.
const PRINTED_METRIC: &[(f64, f64, f64, f64, &str)] = &[
    (2.0, 10.0, 5382.0, 2178.0, "Reig et al. 2020, HortScience 55(10):1538-1550"),
    (3.0, 11.0, 3262.0, 1320.0, "Reig et al. 2020, HortScience 55(10):1538-1550"),
    (4.0, 12.0, 2243.0, 908.0, "Reig et al. 2020, HortScience 55(10):1538-1550"),
    (5.0, 13.0, 1656.0, 670.0, "Reig et al. 2020, HortScience 55(10):1538-1550"),
];

fn at(in_row_ft: f64, row_ft: f64) -> Scenario {
    Scenario::default().with(|s| {
        s.block.in_row_spacing = feet(in_row_ft);
        s.block.row_width = feet(row_ft);
    })
}

/// Sources round up and down alike, so the print is met within a tree; the definition exactly.
fn check((in_row, row, printed, source): Row) {
    let plan = planned(&at(in_row, row));
    let found = per_acre(&plan, "trees_per_acre");
    assert!((found - printed).abs() <= 1.0, "{in_row} x {row} ft: {found}, printed {printed} ({source})");
    assert_near(found, 43_560.0 / (in_row * row), 1e-12, source);
    let per_hectare = figure(&plan, "trees_per_hectare") * SQUARE_METRES_PER_HECTARE;
    assert_near(per_hectare, 1e4 / (in_row * 0.3048 * row * 0.3048), 1e-12, source);
}

#[test]
fn printed_densities_come_out_within_a_tree() {
    for row in PRINTED {
        check(*row);
    }
}

#[test]
fn printed_hectares_and_acres_are_the_same_planting() {
    for (in_row, row, hectare, acre, source) in PRINTED_METRIC {
        let plan = planned(&at(*in_row, *row));
        let per_hectare = figure(&plan, "trees_per_hectare") * SQUARE_METRES_PER_HECTARE;
        assert!((per_hectare - hectare).abs() <= 1.0, "{per_hectare}, printed {hectare} ({source})");
        let per_acre = per_acre(&plan, "trees_per_acre");
        assert!((per_acre - acre).abs() <= 1.0, "{per_acre}, printed {acre} ({source})");
    }
}

#[test]
fn trial_densities_convert_between_hectare_and_acre() {
    for (hectare, acre, source) in [
        (5382.0, 2178.0, "Reig et al. 2020, HortScience 55(10):1538-1550"),
        (3262.0, 1320.0, "Reig et al. 2020, HortScience 55(10):1538-1550"),
        (2243.0, 908.0, "Reig et al. 2020, HortScience 55(10):1538-1550"),
        (1656.0, 670.0, "Reig et al. 2020, HortScience 55(10):1538-1550"),
        (
            2460.0,
            996.0,
            "Ten orchard systems, multi-site 10-year comparison, abstract; acres worked out here",
        ),
        (
            1561.0,
            632.0,
            "Ten orchard systems, multi-site 10-year comparison, abstract; acres worked out here",
        ),
        (
            1111.0,
            450.0,
            "Ten orchard systems, multi-site 10-year comparison, abstract; acres worked out here",
        ),
    ] {
        let found = hectare / SQUARE_METRES_PER_HECTARE * SQUARE_METRES_PER_ACRE;
        assert!((found - acre).abs() <= 1.0, "{hectare}/ha is {found}/acre, printed {acre} ({source})");
    }
}

#[test]
fn acre_and_hectare_are_the_defined_ones() {
    // International foot of 0.3048 m: 43,560 sq ft are 4046.8564224 m² exactly.
    assert_near(SQUARE_METRES_PER_ACRE, 4_046.856_422_4, 1e-15, "acre");
    assert_near(SQUARE_METRES_PER_HECTARE, 1e4, 0.0, "hectare");
    assert_near(
        SQUARE_METRES_PER_HECTARE / SQUARE_METRES_PER_ACRE,
        2.471_053_814_7,
        1e-10,
        "acres to the hectare",
    );
    assert_near(feet(5280.0).value, 1609.344, 1e-15, "mile");
}

#[test]
fn ground_under_a_tree_times_density_is_the_land() {
    for (in_row, row, ..) in PRINTED {
        let plan = planned(&at(*in_row, *row));
        let ground = Spacing { in_row: feet(*in_row), row_width: feet(*row) }.ground_per_tree().value;
        assert_near(ground * plan.block.spacing().trees_per_square_metre(), 1.0, 1e-14, (in_row, row));
    }
}

/// Row on an acre, on which canopy and wire per acre depend.
#[test]
fn row_on_an_acre() {
    let row_feet = |row_ft: f64| per_acre(&planned(&at(3.0, row_ft)), "row_length_per_land") / 0.3048;
    assert_near(row_feet(12.0), 3630.0, 1e-12, "43,560 sq ft by 12 ft");
    let source = "Hoying (Cornell), Experiences with Support Systems for the Tall Spindle: 27,000 sq ft";
    assert_near(row_feet(12.0) * 7.5, 27_000.0, 0.01, source);
    // The table rounds to "about": one wire is 159 lb where it says 160, three are 477 where it says 500.
    let source = "Bailey, American Grape Training (1893): No. 12 wire, 2.92 lb per 100 ft, rows 8 ft apart";
    let one_wire = row_feet(8.0) * 2.92 / 100.0;
    assert_near(one_wire, 160.0, 0.01, source);
    assert_near(3.0 * one_wire, 500.0, 0.05, source);
}
