//! The figures of light, with their working.

use super::LEAF_PROJECTION;
use super::quick::JACKSON_K;
use crate::plan::Plan;
use crate::quantity::Quantity;
use crate::working::{Figure, Source, Subject, Term, figure, term, working};

const MODELLED: Source = Source::assumption(
    "Modelled: Beer-Lambert along rays through the crowns of endless rows, leaves at random (as Palmer 1977, J. Appl. Ecol. 14; Green et al. 2003, Agron. J. 95:1380); leaf area density is assumed, not measured",
);
const LIMITS: &str = "Light scattered by leaves and ground, uneven leaves, slopes, posts and, unless set, wood and fruit. Leaves alone read 5 to 15 points below meters in the field. Where leaning crowns share space, their leaves add.";
const CUTS: &str = "Light scattered by leaves and ground, uneven leaves, cultivars: sources disagree on the cut points, which can be set.";
const SOLAR: Source = Source::standard(
    "Almanac's low-precision sun, within 0.02° of the NREL algorithm; local solar time, no refraction",
);

/// Every figure of light, in reading order.
pub(crate) fn figures(plan: &Plan) -> Vec<Figure> {
    let (scenario, season) = (&plan.scenario, &*plan.light.season);
    let make =
        |key, label, value, quantity, working| figure(Subject::Light, key, label, value, quantity, working);
    let share = |symbol, meaning, value| term(symbol, meaning, value, Quantity::Share);
    let ratio = |symbol, meaning, value| term(symbol, meaning, value, Quantity::Ratio);
    let density = term("a", "leaf area density", scenario.leaf_area_density.value, Quantity::LeafAreaDensity);
    let rays = || rays(plan);
    let leaf_area = ratio("L", "leaf area index", season.leaf_area_index);
    let largest = share("Fmax", "largest share a solid canopy could take", season.largest);
    let cut = |value: f64| share("cut", "cut point, of the light in the open", value);
    let in_crown = |key, label, under: f64, point: f64| {
        make(
            key,
            label,
            under,
            Quantity::Share,
            working(
                "volume where Σ wᵢ e^(−κ ℓᵢ) < cut ÷ crown volume",
                [vec![cut(point)], rays()].concat(),
                MODELLED,
            )
            .leaving_out(CUTS),
        )
    };
    let mut list = vec![
        make(
            "leaf_area_index",
            "Leaf area on the ground's area",
            season.leaf_area_index,
            Quantity::Ratio,
            working(
                "L = a × V ÷ (a₀ × b)",
                vec![
                    density,
                    term("V", "crown volume of a tree", plan.canopy.shown.volume, Quantity::Volume),
                    term("a₀", "in-row spacing", scenario.in_row_spacing.value, Quantity::Length),
                    term("b", "row width", scenario.row_width.value, Quantity::Length),
                ],
                MODELLED,
            )
            .leaving_out("Leaf area density differs with cultivar, age and crop; 1.2 to 2 is called best (Agronomy 2020, 10(5):689)."),
        ),
        make(
            "light_intercepted",
            "Light intercepted over the season",
            season.intercepted,
            Quantity::Share,
            working("F = 1 − mean over the ground of Σ wᵢ e^(−κ ℓᵢ)", rays(), MODELLED).leaving_out(LIMITS),
        ),
        make(
            "light_largest",
            "Largest share crowns of this shape could take",
            season.largest,
            Quantity::Share,
            working("Fmax = share of rays to the ground that meet a crown", rays(), MODELLED)
                .leaving_out("Posts, slopes; every ray through a crown counts as caught."),
        ),
        self_shading(plan),
        make(
            "light_quick_model",
            "Light intercepted, Jackson's quick model",
            season.quick,
            Quantity::Share,
            working(
                "F = Fmax (1 − e^(−K L ÷ Fmax))",
                vec![largest, ratio("K", "extinction for apple", JACKSON_K), leaf_area],
                Source::published("Jackson 1980, Acta Hort. 114, K = 0.6 for apple; with Fmax of this program's rays"),
            )
            .leaving_out("How leaves lie in space: it stands beside the ray model as a second line."),
        ),
        in_crown(
            "crown_under_flowering_light",
            "Crown too dark for flower buds",
            season.crown.under[0],
            scenario.light_for_flowers.value,
        ),
        in_crown(
            "crown_under_size_light",
            "Crown too dark for fruit size",
            season.crown.under[1],
            scenario.light_for_size.value,
        ),
        in_crown(
            "crown_under_colour_light",
            "Crown too dark for full colour",
            season.crown.under[2],
            scenario.light_for_colour.value,
        ),
        make(
            "light_lowest_third",
            "Light in the lowest third of the crown",
            season.thirds[0].mean,
            Quantity::Share,
            working("mean of Σ wᵢ e^(−κ ℓᵢ) over the lowest third of its height", rays(), MODELLED)
                .leaving_out(LIMITS),
        ),
        make(
            "light_taken_by_rows",
            "Light the neighbouring rows take from it, once grown",
            plan.light.grown.shaded_by_rows,
            Quantity::Share,
            working(
                "1 − light in the lowest third ÷ the same in a row by itself, crowns of year 25",
                vec![share("E", "light in the lowest third, year 25", plan.light.grown.lowest.mean)],
                MODELLED,
            )
            .leaving_out(LIMITS),
        ),
        make(
            "light_floor",
            "Light on the alley floor",
            season.alley,
            Quantity::Share,
            working("mean of Σ wᵢ e^(−κ ℓᵢ) over the ground between the crowns", rays(), MODELLED)
                .leaving_out(LIMITS),
        ),
    ];
    list.extend(moment(plan));
    list
}

/// What every figure of the ray model is made from.
fn rays(plan: &Plan) -> Vec<Term> {
    let scenario = &plan.scenario;
    let ratio = |symbol, meaning, value| term(symbol, meaning, value, Quantity::Ratio);
    let kappa = LEAF_PROJECTION
        * scenario.leaf_clumping.value
        * scenario.leaf_area_density.value
        * scenario.wood_and_fruit.value;
    vec![
        term("κ", "extinction, G × Ω × a × f", kappa, Quantity::LeafAreaDensity),
        ratio("G", "leaves facing all ways alike", LEAF_PROJECTION),
        ratio("Ω", "clumping", scenario.leaf_clumping.value),
        term("a", "leaf area density", scenario.leaf_area_density.value, Quantity::LeafAreaDensity),
        ratio("f", "wood and fruit", scenario.wood_and_fruit.value),
        term("d", "diffuse light in the weights wᵢ", plan.light.season.diffuse_share, Quantity::Share),
        term("φ", "latitude", scenario.latitude.value, Quantity::Angle),
        term("ρ", "row direction from north", super::Site::of(scenario).row_azimuth, Quantity::Angle),
    ]
}

fn self_shading(plan: &Plan) -> Figure {
    let season = &*plan.light.season;
    Figure {
        key: "light_self_shading",
        label: "Taken of what crowns of this shape could take",
        value: (season.largest > 0.0).then(|| season.intercepted / season.largest),
        without: "no crown yet",
        quantity: Quantity::Share,
        subject: Subject::Light,
        working: working(
            "F ÷ Fmax",
            vec![
                term("F", "light intercepted", season.intercepted, Quantity::Share),
                term("Fmax", "largest share", season.largest, Quantity::Share),
            ],
            Source::published(
                "Plants in Action (node 270): above 0.7, leaves probably shade each other too much",
            ),
        )
        .leaving_out(
            "Well-filled trellised rows come out at 0.75 to 0.85 in this model; take it as information.",
        ),
    }
}

/// Sun and shadows of the date and hour set.
fn moment(plan: &Plan) -> [Figure; 3] {
    let (scenario, moment) = (&plan.scenario, &plan.light.moment);
    let top = plan.canopy.shown.crown.top;
    let when = || {
        let day = scenario.sun_month.day_of_year(scenario.sun_day);
        vec![
            term("φ", "latitude", scenario.latitude.value, Quantity::Angle),
            term("n", "day of the year", day, Quantity::Count),
            term("t", "local solar time", scenario.sun_hour, Quantity::Hours),
        ]
    };
    let sun = term("β", "height of the sun", moment.elevation, Quantity::Angle);
    let shadow = |key, label, quantity, value, working| Figure {
        key,
        label,
        value,
        without: "the sun is down",
        quantity,
        subject: Subject::Light,
        working,
    };
    [
        figure(
            Subject::Light,
            "sun_elevation",
            "Height of the sun at the hour set",
            moment.elevation,
            Quantity::Angle,
            working("sin β = sin φ sin δ + cos φ cos δ cos ω", when(), SOLAR),
        ),
        shadow(
            "shadow_across",
            "Shadow of the tree across the row",
            Quantity::Length,
            moment.shadow.map(|shadow| top * shadow.across.abs()),
            working(
                "h × |sin(azimuth of sun − of row)| ÷ tan β",
                vec![term("h", "tree height", top, Quantity::Length), sun],
                SOLAR,
            )
            .leaving_out("Slopes."),
        ),
        shadow(
            "shaded_ground",
            "Ground in shade at the hour set",
            Quantity::Share,
            moment.shadow.map(|shadow| shadow.shaded_ground),
            working(
                "share of rays from the sun to the ground that meet a crown",
                [when(), vec![sun]].concat(),
                MODELLED,
            )
            .leaving_out("Light that leaks through the crowns."),
        ),
    ]
}
