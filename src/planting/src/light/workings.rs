//! How each figure of light comes about.

use super::metered::{LEAF_DENSITIES, WOOD_AND_FRUIT};
use super::quick::JACKSON_K;
use super::{HALF_AS_DENSE, LEAF_PROJECTION, LargeCrowns, Light, Site};
use crate::kit::figure::{Source, Term, Working, term, working};
use crate::kit::quantity::Quantity;

const MODELLED: Source = Source::assumption(
    "Modelled: Beer-Lambert along rays through the crowns of endless rows, leaves at random (as Palmer 1977, J. Appl. Ecol. 14; Green et al. 2003, Agron. J. 95:1380); leaf area density is assumed, not measured",
);
const LIMITS: &str = "Light scattered by leaves and ground, uneven leaves, slopes, posts and, unless set, wood and fruit. Leaves alone read 5 to 15 points below meters in the field. Where leaning crowns share space, their leaves add.";
const METERED: Source = Source::assumption(
    "Project's own steps from leaves to whole trees in late summer; models of leaves alone read 5 to 15 points below meters. Read in the field: about 75 % where trees stand 0.9 times as high as rows are wide (Robinson 2017, Acta Hort. 1177:79), 65 to 75 % at leaf areas of 1.2 to 2 (Agronomy 2020, 10(5):689)",
);
const METER_LIMITS: &str = "The sky at the time of reading, light scattered by leaves, posts, and how far the crowns in the field are from those drawn. Summed coarsely.";
const BY_SIZE: Source = Source::assumption(
    "Project's own form, set so that leaf area on the ground's area comes to what was measured: 1.2 to 2.0 in trellised rows (Agronomy 2020, 10(5):689), 1.0 to 1.4 in old low-density orchards (Jackson 1970 by its content, abstract)",
);
const CUTS: &str = "Light scattered by leaves and ground, uneven leaves, cultivars: sources disagree on the cut points, which can be set.";
const SOLAR: Source = Source::standard(
    "Almanac's low-precision sun, within 0.02° of the NREL algorithm; local solar time, no refraction",
);

fn share_term(symbol: &'static str, meaning: &'static str, value: f64) -> Term {
    term(symbol, meaning, value, Quantity::Share)
}

fn ratio(symbol: &'static str, meaning: &'static str, value: f64) -> Term {
    term(symbol, meaning, value, Quantity::Ratio)
}

fn modelled(formula: &'static str, terms: Vec<Term>) -> Working {
    working(formula, terms, MODELLED).leaving_out(LIMITS)
}

/// The working of a figure of light.
pub fn working_of(key: &str, light: &Light) -> Option<Working> {
    caught(key, light).or_else(|| in_crown(key, light)).or_else(|| moment(key, light))
}

fn caught(key: &str, light: &Light) -> Option<Working> {
    let (stand, season, scene) = (&light.asked.stand, &*light.season, light.scene());
    let largest = share_term("Fmax", "largest share a solid canopy could take", season.largest);
    Some(match key {
        "leaf_area_density_now" => density(light),
        "leaf_area_index" => working(
            "L = a × V ÷ (a₀ × b)",
            vec![
                term("a", "leaf area density of these crowns", scene.leaf_area_density, Quantity::LeafAreaDensity),
                term("V", "crown volume of a tree in season", scene.array.crown.volume(), Quantity::Volume),
                term("a₀", "in-row spacing", stand.spacing.in_row.value, Quantity::Length),
                term("b", "row width", stand.spacing.row_width.value, Quantity::Length),
            ],
            MODELLED,
        )
        .leaving_out(
            "Leaf area differs with cultivar, age and crop; measured were 1.2 to 2 in trellised rows (Agronomy 2020, 10(5):689) and 1 to 1.4 in old low-density orchards.",
        ),
        "light_intercepted" => modelled("F = 1 − mean over the ground of Σ wᵢ e^(−κ ℓᵢ)", rays(light)),
        "light_metered_low" => {
            let metered = light.metered();
            let terms = vec![
                share_term("F", "light intercepted, as modelled", metered.modelled),
                ratio("f", "wood and fruit, at least", WOOD_AND_FRUIT[0]),
            ];
            working("F with κ × f", terms, METERED).leaving_out(METER_LIMITS)
        }
        "light_metered_high" => {
            let metered = light.metered();
            let terms = vec![
                share_term("F", "light intercepted, as modelled", metered.modelled),
                share_term("F₁", "the same with wood and fruit, κ × 1.25", metered.wood),
                share_term("F₂", "and with all shoots of the season", metered.shoots),
                share_term("F₃", "and with leaves as dense as a₁", metered.dense),
                share_term("F₄", "and with leaves nearer level, K in place of G", metered.high),
                term("a₁", "dense leaves", LEAF_DENSITIES[1], Quantity::LeafAreaDensity),
            ];
            working("F, then F₁ to F₄ step by step", terms, METERED).leaving_out(METER_LIMITS)
        }
        "light_largest" => {
            working("Fmax = share of rays to the ground that meet a crown", rays(light), MODELLED)
                .leaving_out("Posts, slopes; every ray through a crown counts as caught.")
        }
        "light_self_shading" => working(
            "F ÷ Fmax",
            vec![share_term("F", "light intercepted", season.intercepted), largest],
            Source::published(
                "Plants in Action (node 270): above 0.7, leaves probably shade each other too much",
            ),
        )
        .leaving_out(
            "Well-filled trellised rows come out at 0.75 to 0.85 in this model; take it as information.",
        ),
        "light_quick_model" => working(
            "F = Fmax (1 − e^(−K L ÷ Fmax))",
            vec![
                largest,
                ratio("K", "extinction for apple", JACKSON_K),
                ratio("L", "leaf area index", season.leaf_area_index),
            ],
            Source::published("Jackson 1980, Acta Hort. 114, K = 0.6 for apple; with Fmax of this program's rays"),
        )
        .leaving_out("How leaves lie in space: it stands beside the ray model as a second line."),
        "light_floor" => {
            modelled("mean of Σ wᵢ e^(−κ ℓᵢ) over the ground between the crowns", rays(light))
        }
        _ => return None,
    })
}

fn in_crown(key: &str, light: &Light) -> Option<Working> {
    let inputs = &light.asked.inputs;
    let under = |cut: f64| {
        let cut = share_term("cut", "cut point, of the light in the open", cut);
        working(
            "volume where Σ wᵢ e^(−κ ℓᵢ) < cut ÷ crown volume",
            [vec![cut], rays(light)].concat(),
            MODELLED,
        )
        .leaving_out(CUTS)
    };
    let range = |density: f64| {
        let cut = share_term("cut", "cut point, of the light in the open", inputs.light_for_flowers.value);
        let leaves = term("a₁", "leaf area density of a small crown", density, Quantity::LeafAreaDensity);
        let terms = vec![cut, leaves, share_term("D", "as modelled", light.season.crown.under[0])];
        working("volume where Σ wᵢ e^(−κ ℓᵢ) < cut ÷ crown volume, κ with a₁", terms, MODELLED)
            .leaving_out("Summed coarsely. Leaf area density isn't measured: between thin and dense leaves lies most of what is known of the share too dark.")
    };
    let [thin, dense] = LEAF_DENSITIES;
    Some(match key {
        "crown_under_flowering_light_low" => range(thin.min(inputs.leaf_area_density.value)),
        "crown_under_flowering_light_high" => range(dense.max(inputs.leaf_area_density.value)),
        "crown_under_flowering_light" => under(inputs.light_for_flowers.value),
        "crown_under_size_light" => under(inputs.light_for_size.value),
        "crown_under_colour_light" => under(inputs.light_for_colour.value),
        "light_lowest_third" => {
            modelled("mean of Σ wᵢ e^(−κ ℓᵢ) over the lowest third of its height", rays(light))
        }
        "light_taken_by_rows" => modelled(
            "1 − light in the lowest third ÷ the same in a row by itself, crowns of year 25",
            vec![share_term("E", "light in the lowest third, year 25", light.grown.lowest.mean)],
        ),
        _ => return None,
    })
}

/// How dense the leaves of the crowns shown are.
fn density(light: &Light) -> Working {
    let (inputs, scene) = (&light.asked.inputs, light.scene());
    let small = term(
        "a₀",
        "leaf area density of a small crown",
        inputs.leaf_area_density.value,
        Quantity::LeafAreaDensity,
    );
    match inputs.large_crowns {
        LargeCrowns::AsDense => working("a₀, as set", vec![small], MODELLED),
        LargeCrowns::Thinner => {
            let volume =
                term("V", "crown volume of a tree in season", scene.array.crown.volume(), Quantity::Volume);
            let half =
                term("V₀", "volume at which leaves are half as dense", HALF_AS_DENSE, Quantity::Volume);
            working("a = a₀ ÷ (1 + V ÷ V₀)", vec![small, volume, half], BY_SIZE)
        }
    }
    .leaving_out("Leaves denser outside than inside; differences between cultivars and with age and crop.")
}

/// What every figure of the ray model is made from.
fn rays(light: &Light) -> Vec<Term> {
    let (inputs, scene) = (&light.asked.inputs, light.scene());
    let row_azimuth = Site::of(inputs, light.asked.stand.row_azimuth).row_azimuth;
    vec![
        term("κ", "extinction, G × Ω × a × f", scene.extinction(), Quantity::LeafAreaDensity),
        ratio("G", "leaves facing all ways alike", LEAF_PROJECTION),
        ratio("Ω", "clumping", inputs.leaf_clumping.value),
        term("a", "leaf area density of these crowns", scene.leaf_area_density, Quantity::LeafAreaDensity),
        ratio("u", "part of the season's shoots on the crowns", inputs.season_shoots.value),
        ratio("f", "wood and fruit", inputs.wood_and_fruit.value),
        share_term("d", "diffuse light in the weights wᵢ", light.season.diffuse_share),
        term("φ", "latitude", inputs.latitude.value, Quantity::Angle),
        term("ρ", "row direction from north", row_azimuth, Quantity::Angle),
    ]
}

/// Sun and shadows of the date and hour set.
fn moment(key: &str, light: &Light) -> Option<Working> {
    let inputs = &light.asked.inputs;
    let top = light.asked.stand.shown.kept.top;
    let when = || {
        let day = inputs.sun_month.day_of_year(inputs.sun_day);
        vec![
            term("φ", "latitude", inputs.latitude.value, Quantity::Angle),
            term("n", "day of the year", day, Quantity::Count),
            term("t", "local solar time", inputs.sun_hour, Quantity::Hours),
        ]
    };
    let sun = term("β", "height of the sun", light.moment.elevation.value, Quantity::Angle);
    Some(match key {
        "sun_elevation" => working("sin β = sin φ sin δ + cos φ cos δ cos ω", when(), SOLAR),
        "shadow_across" => working(
            "h × |sin(azimuth of sun − of row)| ÷ tan β",
            vec![term("h", "tree height", top, Quantity::Length), sun],
            SOLAR,
        )
        .leaving_out("Slopes."),
        "shaded_ground" => working(
            "share of rays from the sun to the ground that meet a crown",
            [when(), vec![sun]].concat(),
            MODELLED,
        )
        .leaving_out("Light that leaks through the crowns."),
        _ => return None,
    })
}
