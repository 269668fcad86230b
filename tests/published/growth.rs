//! Free growth against measured trees: year-5 fits, mature sizes, the young tree.

use crate::fixture::{FT, assert_near, figure, planned};
use planting::canopy::growth::{FreeTree, HEIGHT_FIT, REFERENCE_TRUNK_AREA_CM2, SPREAD_FIT};
use planting::{Choice, Rootstock, Scenario, ScionVigour, SoilVigour, share};

/// Trunk area `[cm²]`, height and spread `[cm]`, stock: Autio et al. 2017, J. Amer. Pomol. Soc. 71(3),
/// Table 5 (2010 NC-140 'Honeycrisp', tall spindle 4 × 12 ft, end of year 5), the rows legible in the scan.
const YEAR_5: &[(f64, f64, f64, &str)] = &[
    (2.0, 149.0, 58.0, "B.71-7-22"),
    (6.5, 216.0, 110.0, "B.9"),
    (9.2, 267.0, 155.0, "G.11"),
    (9.4, 279.0, 157.0, "G.41 from tissue culture"),
    (10.0, 256.0, 143.0, "B.10"),
    (10.1, 265.0, 152.0, "G.41 from stool beds"),
    (11.5, 299.0, 171.0, "CG.4214 (G.214)"),
    (13.5, 280.0, 182.0, "CG.4814 (G.814)"),
    (17.6, 300.0, 166.0, "B.70-6-8"),
    (33.9, 366.0, 222.0, "B.70-20-20"),
];

/// The free tree that has this trunk area at year 5.
fn tree(trunk_area_cm2: f64) -> FreeTree {
    FreeTree::with_vigour(trunk_area_cm2 / REFERENCE_TRUNK_AREA_CM2)
}

/// Largest residual of a fit in the logarithm, its root mean square, and its r² over the rows.
fn residuals(rows: &[(f64, f64)]) -> (f64, f64, f64) {
    let count = rows.len() as f64;
    let mean = rows.iter().map(|(measured, _)| measured.ln()).sum::<f64>() / count;
    let scatter: f64 = rows.iter().map(|(measured, _)| (measured.ln() - mean).powi(2)).sum();
    let missed: Vec<f64> = rows.iter().map(|(measured, fitted)| (measured / fitted).ln()).collect();
    let squares: f64 = missed.iter().map(|miss| miss * miss).sum();
    let largest = missed.iter().fold(0.0, |most: f64, miss| most.max(miss.abs()));
    (largest, (squares / count).sqrt(), 1.0 - squares / scatter)
}

/// The fits were made over 17 rows of which ten are at hand, so r² is met from above only. Residuals
/// are held to 2.5 times the scatter that r² leaves; the largest found are 10 % in height (G.214) and
/// 19 % in spread (B.71-7-22, the smallest tree).
#[test]
fn year_5_sizes_follow_the_fit() {
    type Size = fn(&FreeTree) -> f64;
    let fits: [(&str, f64, Size, usize, f64, f64); 2] = [
        ("height", 0.93, |tree| tree.height(5.0).value, 0, 0.063, 0.15),
        ("spread", 0.88, |tree| tree.spread(5.0).value, 1, 0.120, 0.30),
    ];
    for (what, r_squared, size, column, scatter, most) in fits {
        let rows: Vec<(f64, f64)> = YEAR_5
            .iter()
            .map(|(area, height, spread, _)| ([*height, *spread][column] / 100.0, size(&tree(*area))))
            .collect();
        let (largest, root_mean_square, r_squared_here) = residuals(&rows);
        assert!(largest <= most, "{what}: largest residual {largest}");
        assert!(root_mean_square <= scatter, "{what}: {root_mean_square}");
        assert!(r_squared_here >= r_squared, "{what}: r² {r_squared_here}, published fit {r_squared}");
    }
}

#[test]
fn the_fits_are_the_ones_stated() {
    for (area, ..) in YEAR_5 {
        assert_near(tree(*area).height(5.0).value, 1.31 * area.powf(0.298), 1e-12, area);
        assert_near(tree(*area).spread(5.0).value, 0.52 * area.powf(0.435), 1e-12, area);
    }
    assert_eq!((HEIGHT_FIT, SPREAD_FIT), ((1.31, 0.298), (0.52, 0.435)));
}

/// The trial's cultivar on M.9 T337 must come out with the trial's trunk, through the whole plan.
#[test]
fn weak_growing_honeycrisp_on_m9_has_the_trunk_of_the_trial() {
    for (rootstock, printed, room) in [
        (Rootstock::M9T337, 9.6, 1e-9),
        (Rootstock::B9, 6.5, 0.05),
        (Rootstock::G11, 9.2, 0.05),
        (Rootstock::M26, 11.6, 0.05),
        (Rootstock::G935, 12.2, 0.06),
        (Rootstock::G814, 13.5, 0.01),
    ] {
        let plan = planned(&Scenario::default().with(|s| {
            s.canopy.rootstock = rootstock;
            s.canopy.scion_vigour = ScionVigour::Weak;
        }));
        let area = figure(&plan, "trunk_area_year_5") * 1e4;
        assert_near(area, printed, room, (rootstock.label(), "Autio et al. 2017, Tables 5 and 12"));
        assert_near(figure(&plan, "free_height_year_5"), 1.31 * area.powf(0.298), 1e-12, rootstock.label());
        assert_near(figure(&plan, "free_spread_year_5"), 0.52 * area.powf(0.435), 1e-12, rootstock.label());
    }
}

/// Utah State University open data (Brym & Ernest, 'Golden Delicious', 8 years, CC BY 3.0): trunk
/// diameter `[cm]`, trunk area as tabulated `[cm²]`, height and spread `[m]`.
#[test]
fn trees_of_another_trial_lie_below_the_fit() {
    // Trunk areas of groups are means of squares, diameters are rounded to a millimetre: 2 % apart.
    for (diameter, area, height, spread, what) in [
        (5.5, 23.5, 2.2, 1.9, "B.9"),
        (8.7, 59.9, 3.5, 2.9, "G.41"),
        (10.8, 90.8, 4.1, 3.1, "CG.6210"),
        (13.6, 145.7, 5.2, 3.8, "M.26"),
    ] {
        let from_diameter = std::f64::consts::PI / 4.0 * diameter * diameter;
        assert_near(from_diameter, area, 0.02, what);
        // Taller at equal trunk on a trellis, as the two data sets say: by a tenth to a half.
        let fitted = tree(area).height(5.0).value / height;
        assert!((1.1..1.55).contains(&fitted), "{what}: height {fitted} of the Utah trees");
        let fitted = tree(area).spread(5.0).value / spread;
        assert!((1.0..1.25).contains(&fitted), "{what}: spread {fitted} of the Utah trees");
    }
    // Tree 8 of that data set, unrounded: 8.56 cm across, 57.55 cm².
    assert_near(std::f64::consts::PI / 4.0 * 8.56 * 8.56, 57.55, 1e-4, "tree 8");
}

/// Mature free trees on medium ground. The model is held to the printed class and a stated room: its
/// mature size is this project's own, set by these classes.
#[test]
fn mature_trees_have_the_height_of_their_class() {
    use Rootstock::*;
    const DWARFING: &str = "US land-grant eXtension, Dwarfing apple rootstocks: 25-60 % of seedling, 6-12 ft";
    const CLASSES: &str =
        "Crassweller (Penn State), eXtension, What is a dwarfing rootstock?: 6 to 12-14 ft, 16-35 ft";
    const DWARFS: &[Rootstock] =
        &[M27, G65, B9, G16, M9T337, G11, G969, G41, G214, M9Pajam2, M9Nic29, G935, G202, M26];
    const STANDARD: &str =
        "US land-grant eXtension, Standard apple rootstocks: unpruned about 30 ft high and wide";
    let mature = |rootstock: Rootstock| {
        let tree = FreeTree::of(&Scenario::default().with(|s| s.canopy.rootstock = rootstock).canopy);
        (tree.height(25.0).value / FT, tree.spread(25.0).value / FT)
    };
    for (stocks, low, high, room, source) in [
        // M.26, G.202 and G.935 reach 13.9 ft free.
        (DWARFS, 6.0, 12.0, 0.17, DWARFING),
        (DWARFS, 6.0, 14.0, 0.0, CLASSES),
        // G.814, called a small semi-dwarf, reaches 15.1 ft free.
        (&[G814], 16.0, 35.0, 0.06, CLASSES),
        (&[G210, M7, G890, MM106, MM111, B118], 16.0, 35.0, 0.0, CLASSES),
        (&[Seedling][..], 30.0, 30.0, 0.20, STANDARD),
    ] {
        for rootstock in stocks {
            let (height, spread) = mature(*rootstock);
            let expected = low * (1.0 - room)..=high * (1.0 + room);
            assert!(expected.contains(&height), "{}: {height} ft ({source})", rootstock.label());
            // Free trees of a class are at most as wide as high.
            assert!(spread <= height, "{}: {spread} ft wide, {height} ft high", rootstock.label());
        }
    }
    let (_, spread) = mature(Seedling);
    assert_near(spread, 30.0, 0.20, STANDARD);
}

#[test]
fn the_young_tree_reaches_the_wire_when_growers_say() {
    // Miranda Sazo (Cornell) in Growing Magazine, May 2013: the 10 ft top wire at the end of the second
    // or third year. The model's free tree on G.11, moderate scion, must be near it: 80 % by year 3.
    let tree = FreeTree::of(&Scenario::default().with(|s| s.canopy.rootstock = Rootstock::G11).canopy);
    assert!(tree.height(3.0).value > 0.8 * 10.0 * FT, "{}", tree.height(3.0).value / FT);
    // NC-140: about 1.5 m of spread at the end of year 5 for the M.9 class ('Honeycrisp', weak).
    let weak = Scenario::default().with(|s| {
        s.canopy.scion_vigour = ScionVigour::Weak;
        s.canopy.rootstock = Rootstock::G11;
    });
    assert_near(FreeTree::of(&weak.canopy).spread(5.0).value, 1.55, 0.15, "Autio et al. 2017, Table 5, G.11");
}

#[test]
fn vigour_is_the_product_of_its_factors() {
    for (scion, soil, factor) in [
        (ScionVigour::Moderate, SoilVigour::Medium, 1.0),
        (ScionVigour::Weak, SoilVigour::Medium, 0.81),
        (ScionVigour::Strong, SoilVigour::Medium, 1.2544),
        (ScionVigour::Moderate, SoilVigour::Light, 0.8464),
        (ScionVigour::Moderate, SoilVigour::Deep, 1.21),
        (ScionVigour::Weak, SoilVigour::Deep, 0.81 * 1.21),
    ] {
        let scenario = Scenario::default().with(|s| {
            s.canopy.rootstock = Rootstock::B9;
            s.canopy.scion_vigour = scion;
            s.canopy.soil_vigour = soil;
            s.canopy.vigour = share(1.5);
        });
        assert_near(FreeTree::of(&scenario.canopy).vigour, 0.70 * 1.5 * factor, 1e-12, (scion, soil));
    }
}

/// Spacing asked for: this project's own rule, 3.25 ft × v^½, never below 2 ft.
#[test]
fn suggested_spacing_is_the_stated_rule() {
    for (rootstock, site, expected_ft) in [
        (Rootstock::M9T337, 1.0, 3.25),
        (Rootstock::M9T337, 2.25, 4.875),
        (Rootstock::B9, 1.0, 3.25 * 0.7f64.sqrt()),
        (Rootstock::M27, 0.5, 2.0),
    ] {
        let plan = planned(&Scenario::default().with(|s| {
            s.canopy.rootstock = rootstock;
            s.canopy.vigour = share(site);
        }));
        assert_near(figure(&plan, "suggested_spacing") / FT, expected_ft, 1e-12, (rootstock.label(), site));
    }
}
