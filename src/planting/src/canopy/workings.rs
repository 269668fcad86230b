//! How each figure of the canopy comes about.

use super::figures::last_year;
use super::growth::{CURVE_SOURCE, FIT_SOURCE, REFERENCE_TRUNK_AREA_CM2};
use super::stock::SITE_FACTORS;
use super::{Canopy, OVERFILL_SHARE, SPACING_AT_VIGOUR_1_FT};
use crate::kit::figure::{Source, Term, Working, term, working};
use crate::kit::quantity::{Quantity, feet};

const GEOMETRY: Source = Source::standard("Definition; 43,560 sq ft to the acre, 10,000 m² to the hectare");
const GROWTH_LIMITS: &str = "Crop load, competition between neighbours, replant ground and disease; real blocks vary by 40 % and more.";
const SHAPE: Source = Source::assumption(
    "Project's own crown: a truncated cone cut to the space given (cone volume as Wright, Nichols & Embree, Acta Hort. 707:30)",
);
const HELD_SMALL: Source =
    Source::assumption("Project's own: a tree held small grows next season as a free tree of its size");

fn length(symbol: &'static str, meaning: &'static str, metres: f64) -> Term {
    term(symbol, meaning, metres, Quantity::Length)
}

fn number(symbol: &'static str, meaning: &'static str, value: f64) -> Term {
    term(symbol, meaning, value, Quantity::Ratio)
}

fn spacing_terms(canopy: &Canopy) -> [Term; 2] {
    let spacing = canopy.asked.spacing;
    [length("a", "in-row spacing", spacing.in_row.value), length("b", "row width", spacing.row_width.value)]
}

/// The working of a figure of the canopy.
pub fn working_of(key: &str, canopy: &Canopy) -> Option<Working> {
    alley(key, canopy).or_else(|| crown(key, canopy)).or_else(|| vigour(key, canopy))
}

fn alley(key: &str, canopy: &Canopy) -> Option<Working> {
    let row_width = length("b", "row width", canopy.asked.spacing.row_width.value);
    Some(match key {
        "clear_alley" => working(
            "b − w",
            vec![
                row_width,
                length("w", "canopy width kept, leaning trees included", canopy.asked.canopy_span().value),
            ],
            GEOMETRY,
        ),
        "height_to_row" => working(
            "H ÷ b, about 0.9",
            vec![length("H", "tree height kept", canopy.asked.inputs.tree_height.value), row_width],
            Source::published(
                "Robinson (Cornell): 10 ft trees on 11 ft rows; Good Fruit Grower 1 May 2013: ratio 0.9",
            ),
        ),
        _ => return None,
    })
}

fn crown(key: &str, canopy: &Canopy) -> Option<Working> {
    let shown = &canopy.shown;
    let crown = &shown.crown;
    let year = term("t", "years since planting", shown.year, Quantity::Years);
    let along = length("a", "space along the row", crown.along);
    let across = length("w", "canopy width kept", crown.across);
    let spread = length("D", "free spread", shown.free_spread.value);
    let base = length("z₀", "lowest branches", crown.base);
    let volume = term("V", "crown volume of a tree", shown.volume.value, Quantity::Volume);
    let [in_row, row_width] = spacing_terms(canopy);
    let grown = |formula, terms| working(formula, terms, CURVE_SOURCE).leaving_out(GROWTH_LIMITS);
    Some(match key {
        "row_fill" => grown("D ÷ a, at most 1", vec![spread, along, year]),
        "canopy_fill" => working(
            "V ÷ (a × w × (1 + taper) ÷ 2 × (H − z₀))",
            vec![
                volume,
                along,
                across,
                term("taper", "canopy top against base", crown.taper, Quantity::Share),
                length("H", "tree height kept", crown.space_top),
                base,
            ],
            SHAPE,
        )
        .leaving_out(GROWTH_LIMITS),
        "tree_height_now" => grown(
            "free height in year t, at most the height kept",
            vec![
                length("h", "free height", shown.free_height.value),
                length("H", "height kept", crown.space_top),
                year,
            ],
        ),
        "crown_width_along" => grown("min(D, a)", vec![spread, along]),
        "crown_width_across" => grown("min(D, w)", vec![spread, across]),
        "ground_cover" => working(
            "level section at the lowest branches ÷ (a × b)",
            vec![spread, across, in_row, row_width],
            SHAPE,
        ),
        "crown_volume_tree" => working(
            "V = ∫ (disc ∩ box) dz, z₀ to z₁",
            vec![
                length("D", "free spread at the lowest branches", crown.free_diameter),
                along,
                across,
                base,
                length("z₁", "top of the crown", crown.top),
            ],
            SHAPE,
        ),
        "crown_volume_per_land" => working("V ÷ (a × b)", vec![volume, in_row, row_width], SHAPE),
        _ => return None,
    })
}

fn vigour(key: &str, canopy: &Canopy) -> Option<Working> {
    let (inputs, free) = (&canopy.asked.inputs, &canopy.free);
    let vigour = number("v", "vigour of the tree", free.vigour);
    let trunk = term("A", "trunk area at year 5", free.trunk_area_cm2 * 1e-4, Quantity::TrunkArea);
    let [in_row, row_width] = spacing_terms(canopy);
    let excess = term("E", "excess of a tree", canopy.shown.excess.value, Quantity::Volume);
    let grown = |formula, terms, source| working(formula, terms, source).leaving_out(GROWTH_LIMITS);
    Some(match key {
        "relative_vigour" => working(
            "v = stock × site × scion² × soil²",
            vec![
                number(
                    "stock",
                    "trunk area on this rootstock against M.9 T337",
                    inputs.rootstock.relative_trunk_area(),
                ),
                number("site", "vigour on this site", inputs.vigour.value),
                number("scion", "spacing factor of the scion", inputs.scion_vigour.spacing_factor()),
                number("soil", "spacing factor of the soil", inputs.soil_vigour.spacing_factor()),
            ],
            SITE_FACTORS,
        )
        .leaving_out(
            "Interaction of scion and stock; the stock's own figure varies by 40 % and more between sites.",
        ),
        "trunk_area_year_5" => grown(
            "A = 9.6 cm² ÷ 0.90² × v",
            vec![
                term(
                    "A₀",
                    "M.9 T337, moderate scion, medium ground",
                    REFERENCE_TRUNK_AREA_CM2 * 1e-4,
                    Quantity::TrunkArea,
                ),
                vigour,
            ],
            Source::published(
                "Autio et al. 2017, Table 12: 9.6 cm² for the weak-growing 'Honeycrisp' on M.9 T337 at year 5",
            ),
        ),
        "free_height_year_5" => grown("H₅ = 1.31 m × (A in cm²)^0.298", vec![trunk], FIT_SOURCE),
        "free_spread_year_5" => grown("S₅ = 0.52 m × (A in cm²)^0.435", vec![trunk], FIT_SOURCE),
        "mature_spread" => grown(
            "S₅ × (trunk area at 25 ÷ at 5)^0.435",
            vec![
                length("S₅", "free spread at year 5", free.spread(5.0).value),
                vigour,
                length("S₂₅", "free spread at year 25", last_year(canopy).free_spread.value),
            ],
            CURVE_SOURCE,
        ),
        "years_to_fill" => grown(
            "first year with free spread ≥ space along the row",
            vec![length("a", "space along the row", canopy.shown.crown.along), vigour],
            CURVE_SOURCE,
        ),
        "years_to_height" => grown(
            "first year with free height ≥ height kept",
            vec![length("H", "height kept", inputs.tree_height.value), vigour],
            CURVE_SOURCE,
        ),
        "yearly_excess_share" => grown(
            "(V after a season − V next year) ÷ V after a season",
            vec![
                term("V", "crown volume of a tree", canopy.shown.volume.value, Quantity::Volume),
                excess,
                term("limit", "share from which the plan warns", OVERFILL_SHARE, Quantity::Share),
            ],
            HELD_SMALL,
        ),
        "yearly_excess_per_land" => grown("E ÷ (a × b)", vec![excess, in_row, row_width], HELD_SMALL),
        "suggested_spacing" => working(
            "s₀ × √v between 2 and 8 ft (0.6 and 2.4 m); beyond, s₀ × v",
            vec![length("s₀", "spacing at vigour 1", feet(SPACING_AT_VIGOUR_1_FT).value), vigour],
            Source::assumption("Project's own starting point, no source"),
        ),
        "union_settled" => working(
            "u − s",
            vec![
                term("u", "graft union at planting", inputs.graft_union_height.value, Quantity::SmallLength),
                term("s", "settling", inputs.settling.value, Quantity::SmallLength),
            ],
            GEOMETRY,
        ),
        _ => return None,
    })
}
