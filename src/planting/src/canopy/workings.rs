//! How each figure of the canopy comes about.

use super::figures::last_year;
use super::growth::{
    CURVE_SOURCE, Course, FIT_SOURCE, HALF_CROWDED_CM2, REFERENCE_TRUNK_AREA_CM2, TRUNK_SOURCE,
};
use super::pace::{GrowthPace, PACE_SOURCE};
use super::stock::{SITE_FACTORS, SPACING_SOURCE};
use super::{Canopy, LIMBS_PER_METRE, OVERFILL_LAYER};
use crate::kit::figure::{Source, Term, Working, term, working};
use crate::kit::quantity::{Quantity, feet};

const GEOMETRY: Source = Source::standard("Definition; 43,560 sq ft to the acre, 10,000 m² to the hectare");
const GROWTH_LIMITS: &str = "Crop load, competition between neighbours, replant ground and disease; real blocks vary by 40 % and more.";
const SHAPE: Source = Source::assumption(
    "Project's own crown: a truncated cone cut to the space given (cone volume as Wright, Nichols & Embree, Acta Hort. 707:30)",
);
const HELD_SMALL: Source = Source::assumption(
    "Project's own: a tree held small grows in a season as a free tree of its size at the usual pace",
);
const UNEVEN_LIMITS: &str = "Crop load, replant ground and disease; real blocks vary by 40 % and more. Trees of a row are taken to differ by a twentieth, so that near a limit some are cut and some not.";
const PRUNERS_TERMS: Source = Source::assumption(
    "Project's own: limbs at 8 to the metre (Wilton, AgFirst: 6 to 8), taken whole, so that their share is that of the wood. Published beside it: two to three limbs a tree and year (Robinson demonstration, UMass 2009; Good Fruit Grower Sept 2016), 10 to 15 % of the wood",
);

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
    alley(key, canopy)
        .or_else(|| crown(key, canopy))
        .or_else(|| course(key, canopy))
        .or_else(|| vigour(key, canopy))
        .or_else(|| excess(key, canopy))
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
    let grown = |formula, terms| working(formula, terms, CURVE_SOURCE).leaving_out(UNEVEN_LIMITS);
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

/// The numbers of a course: where it starts, where it ends, and what a year takes of the rest.
fn course_terms(
    course: &Course,
    [start, old, lacking]: [&'static str; 3],
    write: fn(f64) -> f64,
    quantity: Quantity,
) -> [Term; 3] {
    [
        term(start, "from the nursery", write(course.start), quantity),
        term(old, "in old age", write(course.old), quantity),
        number(lacking, "part of what lacks that still lacks a year later", course.lacking),
    ]
}

fn course(key: &str, canopy: &Canopy) -> Option<Working> {
    let (free, shown) = (&canopy.free, &canopy.shown);
    let metres: fn(f64) -> f64 = |metres| metres;
    let height = || course_terms(&free.height_course, ["H₀", "H∞", "r"], metres, Quantity::Length);
    let spread = || course_terms(&free.spread_course, ["S₀", "S∞", "r"], metres, Quantity::Length);
    let year = |year| term("t", "years since planting", year, Quantity::Years);
    let with = |terms: [Term; 3], more: Vec<Term>| terms.into_iter().chain(more).collect();
    let kept = length("H", "height kept", canopy.asked.inputs.tree_height.value);
    let factor = free.conditions.pace.factor();
    let pace = |pace: GrowthPace| number("p", "years of usual growth in a year, at this pace", pace.factor());
    // What is asked of one pace is worked from the course at the usual one.
    let usual = Course { lacking: free.height_course.lacking.powf(1.0 / factor), ..free.height_course };
    let reaches = |at| {
        let height = course_terms(&usual, ["H₀", "H∞", "r"], metres, Quantity::Length);
        let formula = "t = ln((H∞ − H) ÷ (H∞ − H₀)) ÷ (p × ln r)";
        working(formula, with(height, vec![kept, pace(at)]), PACE_SOURCE).leaving_out(GROWTH_LIMITS)
    };
    let grown = |formula, terms| working(formula, terms, CURVE_SOURCE).leaving_out(GROWTH_LIMITS);
    Some(match key {
        "trunk_area_now" => {
            let square: fn(f64) -> f64 = |root| root * root * 1e-4;
            let terms = course_terms(&free.trunk_course, ["A₀", "A∞", "r"], square, Quantity::TrunkArea);
            working(
                "A(t) = G × (1 + c) ÷ (1 + c × n), √G = √A∞ − (√A∞ − √A₀) × rᵗ, c = G ÷ (G + A_c)",
                with(
                    terms,
                    vec![
                        year(shown.year),
                        number("n", "trees on the land against 4 × 12 ft", free.conditions.density),
                        term("A_c", "half crowded at", HALF_CROWDED_CM2 * 1e-4, Quantity::TrunkArea),
                        number(
                            "q",
                            "growth of five years against the five before",
                            free.conditions.late_growth,
                        ),
                        pace(free.conditions.pace),
                    ],
                ),
                TRUNK_SOURCE,
            )
            .leaving_out(GROWTH_LIMITS)
        }
        "free_height_now" => grown("H(t) = H∞ − (H∞ − H₀) × rᵗ", with(height(), vec![year(shown.year)])),
        "free_spread_now" => grown("S(t) = S∞ − (S∞ − S₀) × rᵗ", with(spread(), vec![year(shown.year)])),
        "mature_spread" => {
            grown("S(25) = S∞ − (S∞ − S₀) × r²⁵", with(spread(), vec![year(last_year(canopy).year)]))
        }
        "years_to_fill" => grown(
            "t = ln((S∞ − a) ÷ (S∞ − S₀)) ÷ ln r",
            with(spread(), vec![length("a", "space along the row", shown.crown.along)]),
        ),
        "years_to_height" => reaches(free.conditions.pace),
        "years_to_height_quick" => reaches(GrowthPace::Quick),
        "years_to_height_slow" => reaches(GrowthPace::Slow),
        _ => return None,
    })
}

fn vigour(key: &str, canopy: &Canopy) -> Option<Working> {
    let (inputs, free) = (&canopy.asked.inputs, &canopy.free);
    let vigour = number("v", "vigour of the tree", free.conditions.vigour);
    let trunk = term("A", "trunk area at year 5", free.trunk_area_cm2 * 1e-4, Quantity::TrunkArea);
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
        "suggested_spacing" => working(
            "s = s₀ × scion × soil × √site",
            vec![
                length("s₀", "spacing this rootstock asks for", feet(inputs.rootstock.spacing_ft()).value),
                number("scion", "spacing factor of the scion", inputs.scion_vigour.spacing_factor()),
                number("soil", "spacing factor of the soil", inputs.soil_vigour.spacing_factor()),
                number("site", "vigour on this site", inputs.vigour.value),
            ],
            SPACING_SOURCE,
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

fn excess(key: &str, canopy: &Canopy) -> Option<Working> {
    let shown = &canopy.shown;
    let excess = term("E", "excess of a tree", shown.excess.value, Quantity::Volume);
    let [in_row, row_width] = spacing_terms(canopy);
    Some(match key {
        "yearly_excess_share" => working(
            "E ÷ (V + E), E = V × x ÷ w + z × u × v, x = w′ + (S∞ − s) × g at most D, less w, z = h′ + (H∞ − h′) × k at most h, less H, x and z not below 0",
            excess_terms(canopy),
            HELD_SMALL,
        )
        .leaving_out(UNEVEN_LIMITS),
        "yearly_excess_per_land" => working("E ÷ (a × b)", vec![excess, in_row, row_width], HELD_SMALL),
        "yearly_excess_limbs" => working(
            "n = 8 to the metre × (z₁ − z₀) × e",
            vec![
                number("n₁", "limbs to the metre of leader", LIMBS_PER_METRE),
                length("z₁", "top of the crown", shown.crown.top),
                length("z₀", "lowest branches", shown.crown.base),
                term("e", "growth of a season beyond the space kept", shown.excess_share, Quantity::Share),
            ],
            PRUNERS_TERMS,
        ),
        _ => return None,
    })
}

/// Every number that makes the yearly excess, in the order in which it is worked by hand.
fn excess_terms(canopy: &Canopy) -> Vec<Term> {
    let (shown, free) = (&canopy.shown, &canopy.free);
    let season = &shown.season;
    vec![
        length("w′", "width across after the pruning before", season.width_before),
        length("s", "mean of widths along and across then", season.spread_before),
        length("S∞", "free spread in old age", free.spread_course.old),
        term("g", "part of what lacks to it that a season adds", season.wider_share, Quantity::Share),
        length("D", "free spread", shown.free_spread.value),
        length("w", "width kept", shown.width_across.value),
        length("x", "grown beyond the width kept", season.beyond_width),
        length("h′", "height after the pruning before", season.top_before),
        length("H∞", "free height in old age", free.height_course.old),
        term("k", "part of what lacks to it that a season adds", season.taller_share, Quantity::Share),
        length("h", "free height", shown.free_height.value),
        length("H", "height kept", shown.crown.space_top),
        length("z", "grown beyond the height kept", season.beyond_top),
        length("u", "width along the row at the top", season.top_along),
        length("v", "width across the row at the top", season.top_across),
        term("V", "crown volume of a tree", shown.volume.value, Quantity::Volume),
        term("E", "excess of a tree", shown.excess.value, Quantity::Volume),
        length("limit", "E ÷ (V + E) × w from which the plan warns", OVERFILL_LAYER),
    ]
}
