//! Rootstocks against the printed tables: trunk areas, size classes and tolerance classes.

use crate::fixture::assert_near;
use planting::SupportNeed;
use planting::canopy::stock::Tolerance;
use planting::{Certainty, Choice, Rootstock};

const HONEYCRISP: &str =
    "Autio et al. 2017, J. Amer. Pomol. Soc. 71(3), Table 12 (NC-140 'Honeycrisp', year 5)";
const MODI: &str =
    "NC-140 organic 'Modi', J. Amer. Pomol. Soc. Jan 2023, Tables 6 and 7 (year 5, mean of ten sites)";

/// Trunk area of M.9 T337 in the 'Honeycrisp' trial `[cm²]`.
const T337_CM2: f64 = 9.6;

/// Trunk area at year 5: in the 'Honeycrisp' trial `[cm²]`, in the 'Modi' trial `[% of M.9 T337]`.
const TRUNKS: &[(Rootstock, Option<f64>, Option<f64>)] = &[
    (Rootstock::B9, Some(6.5), None),
    (Rootstock::M9T337, Some(9.6), Some(100.0)),
    (Rootstock::M9Pajam2, Some(10.6), None),
    (Rootstock::G16, None, Some(62.0)),
    (Rootstock::G11, Some(9.2), Some(106.0)),
    (Rootstock::G41, Some(10.1), Some(140.0)),
    (Rootstock::G214, Some(11.5), Some(94.0)),
    (Rootstock::G935, Some(12.2), Some(124.0)),
    (Rootstock::G202, Some(10.8), Some(151.0)),
    (Rootstock::G814, Some(13.5), None),
    (Rootstock::M26, Some(11.6), None),
    (Rootstock::G969, None, Some(101.0)),
    (Rootstock::G890, None, Some(215.0)),
];

/// The project says its ratios vary by 40 % between sites; the trials themselves must lie in that.
/// Where both trials measured a stock the ratio is held to 15 % of their mean, where only one did to
/// 10 % of it. G.16 is the exception: one trial only, on organic ground where it did poorly, against
/// sheets that call it as large as M.9; it is held to 25 %.
fn check(rootstock: Rootstock, honeycrisp_cm2: Option<f64>, modi_percent: Option<f64>) {
    let ratio = rootstock.stock().relative_trunk_area;
    let measured: Vec<(f64, &str)> = honeycrisp_cm2
        .map(|area| (area / T337_CM2, HONEYCRISP))
        .into_iter()
        .chain(modi_percent.map(|percent| (percent / 100.0, MODI)))
        .collect();
    for (trial, source) in &measured {
        assert_near(ratio, *trial, 0.40, (rootstock.label(), source));
    }
    let blend = measured.iter().map(|(trial, _)| trial).sum::<f64>() / measured.len() as f64;
    let room = match (rootstock, measured.len()) {
        (Rootstock::G16, _) => 0.25,
        (_, 1) => 0.10,
        _ => 0.15,
    };
    assert_near(ratio, blend, room, (rootstock.label(), "mean of the trials"));
}

#[test]
fn trunk_areas_follow_the_trials() {
    for (rootstock, honeycrisp, modi) in TRUNKS {
        check(*rootstock, *honeycrisp, *modi);
    }
    assert_near(
        Rootstock::M9T337.stock().relative_trunk_area,
        1.0,
        0.0,
        "the stock all others are held against",
    );
}

/// A stock no trial row was read for must not claim a published ratio.
#[test]
fn only_measured_stocks_say_published() {
    for rootstock in Rootstock::ALL {
        let measured = TRUNKS.iter().any(|(row, ..)| row == rootstock);
        let published = rootstock.stock().vigour_source.certainty == Certainty::Published;
        assert_eq!(measured, published, "{}", rootstock.label());
    }
}

#[test]
fn size_classes_are_as_printed() {
    const NC_STATE: &str = "NC State Extension, Apple rootstocks and tree spacing, Table 1";
    const SHEETS: &str = "US land-grant eXtension rootstock sheets";
    const MEMORY: &str = "from memory";
    use Rootstock::*;
    for (rootstock, percent, source) in [
        (M27, (15, 25), MEMORY),
        (B9, (25, 35), MEMORY),
        (M9T337, (30, 35), MEMORY),
        (M9Nic29, (35, 40), MEMORY),
        (M9Pajam2, (35, 40), MEMORY),
        (G41, (30, 35), "from memory: about the size of M.9 T337"),
        (G214, (30, 35), SHEETS),
        (G202, (40, 50), MEMORY),
        (M26, (50, 50), NC_STATE),
        (G210, (60, 65), SHEETS),
        (M7, (70, 70), NC_STATE),
        (G890, (70, 75), SHEETS),
        (MM106, (80, 80), NC_STATE),
        (MM111, (85, 85), NC_STATE),
        (B118, (85, 85), MEMORY),
        (Seedling, (100, 100), SHEETS),
    ] {
        assert_eq!(rootstock.stock().seedling_percent, percent, "{} ({source})", rootstock.label());
    }
}

/// Sheets that place a stock by its neighbours instead of by a percentage.
#[test]
fn size_classes_lie_where_the_sheets_place_them() {
    use Rootstock::*;
    let size = |rootstock: Rootstock| rootstock.stock().seedling_percent;
    let middle = |rootstock: Rootstock| f64::from(size(rootstock).0 + size(rootstock).1) / 2.0;
    let sheets = "US land-grant eXtension rootstock sheets";
    assert_eq!(size(G65), size(M27), "G.65 near M.27 ({sheets})");
    assert_eq!(size(G16), size(M9T337), "G.16 as M.9 ({sheets})");
    assert!(middle(B9) < middle(M9T337), "B.9 slightly smaller than M.9 ({sheets})");
    assert!(size(G11).0 >= size(M9T337).1 && size(G11).1 <= size(M26).1, "G.11 from M.9 to M.26 ({sheets})");
    assert!(middle(M9T337) < middle(G935) && size(G935).1 <= size(M26).1 + 5, "G.935 about M.26 ({sheets})");
    assert!(
        size(G969).0 <= size(M26).0 && size(G969).1 >= size(M7).1 && size(G969).1 <= size(MM106).1,
        "G.969: the range holds both sources that disagree ({sheets}; {MODI})"
    );
}

const ONTARIO: &str =
    "Ontario crop protection hub, Insect and disease susceptibility ratings of common apple rootstocks";

#[test]
fn tolerance_classes_are_as_printed() {
    use Rootstock::*;
    let geneva = ["VR", "T", "T", "R", "low"];
    for (rootstock, printed) in [
        (M27, ["T", "T", "", "S", "low"]),
        (B9, ["S", "T", "", "S", "medium"]),
        (G16, ["R", "T", "T partial", "S", "low"]),
        (M9T337, ["S", "T", "", "S", "high"]),
        (G11, ["R", "T", "T partial", "S", "low"]),
        (G969, geneva),
        (G41, geneva),
        (G214, geneva),
        (M9Pajam2, ["S", "T", "", "S", "high"]),
        (M9Nic29, ["S", "T", "", "S", "high"]),
        (G935, ["VR", "T", "T", "S", "low"]),
        (G202, geneva),
        (M26, ["S", "S", "", "S", "high"]),
        (G814, ["VR", "T", "T", "S", "medium"]),
        (G210, geneva),
        (M7, ["T", "T", "", "S", "medium"]),
        (G890, geneva),
        (MM106, ["S", "S", "", "T", "low"]),
        (MM111, ["R", "T", "", "R", "high"]),
        (B118, ["T", "", "", "S", ""]),
    ] {
        let [fire_blight, phytophthora, replant, woolly_aphid, burr_knots] = printed;
        let expected = Tolerance { fire_blight, phytophthora, replant, woolly_aphid, burr_knots };
        assert_eq!(rootstock.stock().tolerance, Some(expected), "{} ({ONTARIO})", rootstock.label());
    }
    for rootstock in [G65, Seedling] {
        assert_eq!(
            rootstock.stock().tolerance,
            None,
            "{}: no row in the table ({ONTARIO})",
            rootstock.label()
        );
    }
}

/// Where two sources say different things the reader is told so.
#[test]
fn disagreements_are_said() {
    use Rootstock::*;
    for rootstock in [B9, G11, G969, M7, MM111] {
        assert!(rootstock.stock().caution.contains("Sources differ"), "{}", rootstock.label());
    }
    for rootstock in [G41, G202, G214, G814, G935, G11, G210] {
        let caution = rootstock.stock().caution;
        assert!(caution.contains("upport before the first growth"), "{}: {caution}", rootstock.label());
    }
}

#[test]
fn support_needs_are_as_printed() {
    use Rootstock::*;
    const SHEETS: &str = "US land-grant eXtension rootstock sheets; NC State Extension, Table 1";
    for (need, stocks) in [
        (
            SupportNeed::Permanent,
            &[M27, G65, B9, M9T337, M9Nic29, M9Pajam2, G16, G11, G41, G214, G935, G202, G814, M26, G969][..],
        ),
        (SupportNeed::Early, &[G210, M7]),
        (SupportNeed::None, &[G890, MM106, MM111, B118, Seedling]),
    ] {
        for rootstock in stocks {
            assert_eq!(rootstock.stock().support, need, "{} ({SHEETS})", rootstock.label());
        }
    }
}
