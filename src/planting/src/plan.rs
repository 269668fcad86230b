//! Scenario in, plan out: everything computed from what a person set, with its working.

use crate::advice::{Advice, advise};
use crate::block::{Block, as_number};
use crate::canopy::growth::{CURVE_SOURCE, FIT_SOURCE, REFERENCE_TRUNK_AREA_CM2};
use crate::canopy::{Canopy, OVERFILL_SHARE};
use crate::light::{Light, Memory};
use crate::quantity::{Quantity, feet, ground_per_tree};
use crate::scenario::Scenario;
use crate::scenario::problem::Problem;
use crate::stock::SITE_FACTORS;
use crate::trellis::{Trellis, WIRE_TAIL_FT, WIRE_WASTE};
use crate::working::{Figure, Source, Subject, Term, Working, figure, term, working};
use uom::si::f64::Length;

/// A whole planting, computed.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// What it was computed from.
    pub scenario: Scenario,
    /// The field with its rows and stations.
    pub block: Block,
    /// The canopy over the years.
    pub canopy: Canopy,
    /// Light in the crowns and on the ground.
    pub light: Light,
    /// The trellis, counted.
    pub trellis: Trellis,
    /// Trees on a square metre of planted ground `[1/m²]`.
    pub trees_per_area: f64,
    /// Row width less canopy width `[m]`; negative where canopies meet across the alley.
    pub clear_alley: Length,
    /// Tree height kept against row width `[–]`.
    pub height_to_row: f64,
    /// Height of the graft union after settling `[m]`.
    pub union_settled: Length,
    /// In-row spacing this vigour asks for, as a starting point `[m]`.
    pub suggested_spacing: Length,
    /// Every figure with its working, in reading order.
    pub figures: Vec<Figure>,
    /// Findings, the gravest first.
    pub advice: Vec<Advice>,
}

impl Plan {
    /// The figure with this key.
    pub fn figure(&self, key: &str) -> Option<&Figure> {
        self.figures.iter().find(|figure| figure.key == key)
    }
}

/// Computes a plan. Pure and total: every scenario gives a plan or the list of fields that are wrong.
///
/// ```
/// use planting::{Scenario, plan};
/// let plan = plan(&Scenario::default()).unwrap();
/// assert_eq!(plan.figure("trees_per_acre").unwrap().value.map(|v| (v * 4046.8564224).round()), Some(1210.0));
/// ```
///
/// # Errors
/// The fields that are out of range, not finite, or at odds with each other.
pub fn plan(scenario: &Scenario) -> Result<Plan, Vec<Problem>> {
    plan_with(scenario, &mut Memory::default())
}

/// Computes a plan as [`plan`] does, and doesn't sum again what a memory holds.
///
/// # Errors
/// The fields that are out of range, not finite, or at odds with each other.
pub fn plan_with(scenario: &Scenario, memory: &mut Memory) -> Result<Plan, Vec<Problem>> {
    let problems = scenario.problems();
    if !problems.is_empty() {
        return Err(problems);
    }
    let block = Block::lay_out(scenario);
    let canopy = Canopy::grow(scenario);
    let trellis = Trellis::count(scenario, &block);
    let mut plan = Plan {
        trees_per_area: 1.0 / ground_per_tree(scenario.in_row_spacing, scenario.row_width).value,
        clear_alley: scenario.row_width - canopy_span(scenario),
        height_to_row: (scenario.tree_height / scenario.row_width).value,
        union_settled: scenario.graft_union_height - scenario.settling,
        suggested_spacing: suggested_spacing(canopy.free.vigour),
        light: memory.light(scenario, &canopy),
        scenario: scenario.clone(),
        block,
        canopy,
        trellis,
        figures: Vec::new(),
        advice: Vec::new(),
    };
    plan.figures = figures(&plan);
    plan.advice = advise(scenario, &plan);
    Ok(plan)
}

/// Width of the canopy across the row at its widest, both leans together.
fn canopy_span(scenario: &Scenario) -> Length {
    let lean = scenario.lean.value.max(0.0).tan();
    let reach = |height: Length, width: Length| height * lean * 2.0 + width;
    reach(scenario.crown_base, scenario.canopy_width)
        .max(reach(scenario.tree_height, scenario.canopy_width * scenario.crown_taper.value))
}

/// `spacing = 3.25 ft × v^½`, between 2 and 8 ft; this project's own starting point.
fn suggested_spacing(vigour: f64) -> Length {
    let spacing = feet(3.25) * vigour.sqrt();
    if spacing < feet(2.0) {
        feet(2.0)
    } else if spacing > feet(8.0) {
        // Beyond trellis spacings free-standing trees go by their spread.
        feet(8.0).max(feet(3.25) * vigour)
    } else {
        spacing
    }
}

const GEOMETRY: Source = Source::standard("Definition; 43,560 sq ft to the acre, 10,000 m² to the hectare");
const COUNTED: Source = Source::standard("Counted from the stations drawn in the plan");
const LEVEL: &str = "Level ground, straight rows, a rectangular field.";
const GROWTH_LIMITS: &str = "Crop load, competition between neighbours, replant ground and disease; real blocks vary by 40 % and more.";

fn figures(plan: &Plan) -> Vec<Figure> {
    let mut list = layout(plan);
    list.extend(canopy(plan));
    list.extend(vigour(plan));
    list.extend(crate::light::figures::figures(plan));
    list.extend(trellis(plan));
    list
}

fn spacing_terms(plan: &Plan) -> Vec<Term> {
    vec![
        term("a", "in-row spacing", plan.scenario.in_row_spacing.value, Quantity::Length),
        term("b", "row width", plan.scenario.row_width.value, Quantity::Length),
    ]
}

fn layout(plan: &Plan) -> Vec<Figure> {
    let (scenario, block) = (&plan.scenario, &plan.block);
    let make =
        |key, label, value, quantity, working| figure(Subject::Layout, key, label, value, quantity, working);
    let trees = as_number(block.tree_count());
    let area = block.area().value;
    let planted = trees / plan.trees_per_area;
    let run_length = block.run_length().value;
    let length = |symbol, meaning, value: Length| term(symbol, meaning, value.value, Quantity::Length);
    let per_land = vec![
        term("n", "trees in the block", trees, Quantity::Count),
        term("A", "area of the field", area, Quantity::Land),
    ];
    vec![
        make(
            "trees_per_acre",
            "Trees per acre",
            plan.trees_per_area,
            Quantity::PerAcre,
            working("N = 43,560 sq ft ÷ (a × b)", spacing_terms(plan), GEOMETRY)
                .leaving_out("Headlands, side margins and roads: this is the density of planted ground."),
        ),
        make(
            "trees_per_hectare",
            "Trees per hectare",
            plan.trees_per_area,
            Quantity::PerHectare,
            working("N = 10,000 m² ÷ (a × b)", spacing_terms(plan), GEOMETRY)
                .leaving_out("Headlands, side margins and roads: this is the density of planted ground."),
        ),
        make(
            "trees_in_block",
            "Trees in the block",
            trees,
            Quantity::Count,
            working(
                "n = rows × ⌊(L − 2 h) ÷ a⌋",
                vec![
                    term("rows", "rows in the block", as_number(block.rows), Quantity::Count),
                    length("L", "block length", scenario.block_length),
                    length("h", "headland at each end", scenario.headland),
                    length("a", "in-row spacing", scenario.in_row_spacing),
                ],
                COUNTED,
            )
            .leaving_out(LEVEL),
        ),
        make(
            "trees_per_gross_acre",
            "Trees per acre of field",
            trees / area,
            Quantity::PerAcre,
            working("n ÷ A", per_land, GEOMETRY),
        ),
        make(
            "rows",
            "Rows",
            as_number(block.rows),
            Quantity::Count,
            working(
                "rows = ⌊(W − 2 m) ÷ b⌋ + 1",
                vec![
                    length("W", "block width", scenario.block_width),
                    length("m", "side margin", scenario.side_margin),
                    length("b", "row width", scenario.row_width),
                ],
                COUNTED,
            )
            .leaving_out(LEVEL),
        ),
        make(
            "row_length",
            "Row length, end post to end post",
            scenario.block_length.value - 2.0 * scenario.headland.value,
            Quantity::Length,
            working(
                "L − 2 h",
                vec![
                    length("L", "block length", scenario.block_length),
                    length("h", "headland at each end", scenario.headland),
                ],
                GEOMETRY,
            ),
        ),
        make(
            "block_area",
            "Area of the field",
            area,
            Quantity::Land,
            working(
                "A = L × W",
                vec![
                    length("L", "block length", scenario.block_length),
                    length("W", "block width", scenario.block_width),
                ],
                GEOMETRY,
            ),
        ),
        make(
            "planted_share",
            "Share of the field under trees and alleys",
            planted / area,
            Quantity::Share,
            working(
                "n × a × b ÷ A",
                [
                    vec![term("n", "trees in the block", trees, Quantity::Count)],
                    spacing_terms(plan),
                    vec![term("A", "area of the field", area, Quantity::Land)],
                ]
                .concat(),
                GEOMETRY,
            ),
        ),
        make(
            "row_length_per_land",
            "Row on an acre or hectare of planted ground",
            1.0 / scenario.row_width.value,
            Quantity::LengthPerLand,
            working("1 ÷ b", vec![length("b", "row width", scenario.row_width)], GEOMETRY),
        ),
        make(
            "run_length_total",
            "Row length in the block",
            run_length,
            Quantity::Length,
            working(
                "sum over all rows, end post to end post",
                vec![term("rows", "rows in the block", as_number(block.rows), Quantity::Count)],
                COUNTED,
            ),
        ),
        make(
            "clear_alley",
            "Clear alley",
            plan.clear_alley.value,
            Quantity::Length,
            working(
                "b − w",
                vec![
                    length("b", "row width", scenario.row_width),
                    length("w", "canopy width kept, leaning trees included", canopy_span(scenario)),
                ],
                GEOMETRY,
            ),
        ),
        make(
            "height_to_row",
            "Tree height to row width",
            plan.height_to_row,
            Quantity::Ratio,
            working(
                "H ÷ b, about 0.9",
                vec![
                    length("H", "tree height kept", scenario.tree_height),
                    length("b", "row width", scenario.row_width),
                ],
                Source::published(
                    "Robinson (Cornell): 10 ft trees on 11 ft rows; Good Fruit Grower 1 May 2013: ratio 0.9",
                ),
            ),
        ),
    ]
}

fn canopy(plan: &Plan) -> Vec<Figure> {
    let shown = &plan.canopy.shown;
    let crown = &shown.crown;
    let make =
        |key, label, value, quantity, working| figure(Subject::Canopy, key, label, value, quantity, working);
    let year = term("t", "years since planting", shown.year, Quantity::Years);
    let length = |symbol, meaning, value| term(symbol, meaning, value, Quantity::Length);
    let shape = Source::assumption(
        "Project's own crown: a truncated cone cut to the space given (cone volume as Wright, Nichols & Embree, Acta Hort. 707:30)",
    );
    let crown_terms = || {
        vec![
            length("D", "free spread at the lowest branches", crown.free_diameter),
            length("a", "space along the row", crown.along),
            length("w", "canopy width kept", crown.across),
            length("z₀", "lowest branches", crown.base),
            length("z₁", "top of the crown", crown.top),
        ]
    };
    vec![
        make(
            "row_fill",
            "Row filled",
            shown.row_fill,
            Quantity::Share,
            working(
                "D ÷ a, at most 1",
                vec![
                    length("D", "free spread", shown.free_spread),
                    length("a", "space along the row", crown.along),
                    year,
                ],
                CURVE_SOURCE,
            )
            .leaving_out(GROWTH_LIMITS),
        ),
        make(
            "canopy_fill",
            "Canopy fill",
            shown.canopy_fill,
            Quantity::Share,
            working(
                "V ÷ (a × w × (1 + taper) ÷ 2 × (H − z₀))",
                vec![
                    term("V", "crown volume of a tree", shown.volume, Quantity::Volume),
                    length("a", "space along the row", crown.along),
                    length("w", "canopy width kept", crown.across),
                    term("taper", "canopy top against base", crown.taper, Quantity::Share),
                    length("H", "tree height kept", crown.space_top),
                    length("z₀", "lowest branches", crown.base),
                ],
                shape,
            )
            .leaving_out(GROWTH_LIMITS),
        ),
        make(
            "tree_height_now",
            "Tree height",
            crown.top,
            Quantity::Length,
            working(
                "free height in year t, at most the height kept",
                vec![
                    length("h", "free height", shown.free_height),
                    length("H", "height kept", crown.space_top),
                    year,
                ],
                CURVE_SOURCE,
            )
            .leaving_out(GROWTH_LIMITS),
        ),
        make(
            "crown_width_along",
            "Crown width along the row",
            crown.width_along(crown.base),
            Quantity::Length,
            working(
                "min(D, a)",
                vec![
                    length("D", "free spread", crown.free_diameter),
                    length("a", "space along the row", crown.along),
                ],
                CURVE_SOURCE,
            )
            .leaving_out(GROWTH_LIMITS),
        ),
        make(
            "crown_width_across",
            "Crown width across the row",
            crown.width_across(crown.base),
            Quantity::Length,
            working(
                "min(D, w)",
                vec![
                    length("D", "free spread", crown.free_diameter),
                    length("w", "canopy width kept", crown.across),
                ],
                CURVE_SOURCE,
            )
            .leaving_out(GROWTH_LIMITS),
        ),
        make(
            "ground_cover",
            "Ground under crowns",
            shown.ground_cover,
            Quantity::Share,
            working(
                "level section at the lowest branches ÷ (a × b)",
                [
                    vec![
                        length("D", "free spread", crown.free_diameter),
                        length("w", "canopy width kept", crown.across),
                    ],
                    spacing_terms(plan),
                ]
                .concat(),
                shape,
            ),
        ),
        make(
            "crown_volume_tree",
            "Crown volume of a tree",
            shown.volume,
            Quantity::Volume,
            working("V = ∫ (disc ∩ box) dz, z₀ to z₁", crown_terms(), shape),
        ),
        make(
            "crown_volume_per_land",
            "Crown volume on an acre or hectare",
            shown.volume * plan.trees_per_area,
            Quantity::VolumePerLand,
            working(
                "V ÷ (a × b)",
                [
                    vec![term("V", "crown volume of a tree", shown.volume, Quantity::Volume)],
                    spacing_terms(plan),
                ]
                .concat(),
                shape,
            ),
        ),
    ]
}

fn vigour(plan: &Plan) -> Vec<Figure> {
    let (scenario, canopy) = (&plan.scenario, &plan.canopy);
    let free = &canopy.free;
    let stock = scenario.rootstock.stock();
    let make =
        |key, label, value, quantity, working| figure(Subject::Vigour, key, label, value, quantity, working);
    let maybe = |key, label, value: Option<f64>, working: Working| Figure {
        key,
        label,
        value,
        without: "not within 25 years",
        quantity: Quantity::Years,
        subject: Subject::Vigour,
        working,
    };
    let number = |symbol, meaning, value| term(symbol, meaning, value, Quantity::Ratio);
    let length = |symbol, meaning, value| term(symbol, meaning, value, Quantity::Length);
    let trunk = term("A", "trunk area at year 5", free.trunk_area_cm2 * 1e-4, Quantity::TrunkArea);
    let last = canopy.years.last().copied().unwrap_or(canopy.shown);
    vec![
        make(
            "relative_vigour",
            "Vigour of the tree",
            free.vigour,
            Quantity::Ratio,
            working(
                "v = stock × site × scion² × soil²",
                vec![
                    number("stock", "trunk area on this rootstock against M.9 T337", stock.relative_trunk_area),
                    number("site", "vigour on this site", scenario.vigour.value),
                    number("scion", "spacing factor of the scion", scenario.scion_vigour.spacing_factor()),
                    number("soil", "spacing factor of the soil", scenario.soil_vigour.spacing_factor()),
                ],
                SITE_FACTORS,
            )
            .leaving_out("Interaction of scion and stock; the stock's own figure varies by 40 % and more between sites."),
        ),
        make(
            "trunk_area_year_5",
            "Trunk area at year 5",
            free.trunk_area_cm2 * 1e-4,
            Quantity::TrunkArea,
            working(
                "A = 9.6 cm² ÷ 0.90² × v",
                vec![
                    term("A₀", "M.9 T337, moderate scion, medium ground", REFERENCE_TRUNK_AREA_CM2 * 1e-4, Quantity::TrunkArea),
                    number("v", "vigour of the tree", free.vigour),
                ],
                Source::published("Autio et al. 2017, Table 12: 9.6 cm² for the weak-growing 'Honeycrisp' on M.9 T337 at year 5"),
            )
            .leaving_out(GROWTH_LIMITS),
        ),
        make(
            "free_height_year_5",
            "Free height at year 5",
            free.height(5.0),
            Quantity::Length,
            working("H₅ = 1.31 m × (A in cm²)^0.298", vec![trunk], FIT_SOURCE).leaving_out(GROWTH_LIMITS),
        ),
        make(
            "free_spread_year_5",
            "Free spread at year 5",
            free.spread(5.0),
            Quantity::Length,
            working("S₅ = 0.52 m × (A in cm²)^0.435", vec![trunk], FIT_SOURCE).leaving_out(GROWTH_LIMITS),
        ),
        make(
            "mature_spread",
            "Free spread at year 25",
            last.free_spread,
            Quantity::Length,
            working(
                "S₅ × (trunk area at 25 ÷ at 5)^0.435",
                vec![length("S₅", "free spread at year 5", free.spread(5.0)), number("v", "vigour of the tree", free.vigour)],
                CURVE_SOURCE,
            )
            .leaving_out(GROWTH_LIMITS),
        ),
        maybe(
            "years_to_fill",
            "Year the row closes",
            canopy.year_filled,
            working(
                "first year with free spread ≥ space along the row",
                vec![length("a", "space along the row", canopy.shown.crown.along), number("v", "vigour of the tree", free.vigour)],
                CURVE_SOURCE,
            )
            .leaving_out(GROWTH_LIMITS),
        ),
        maybe(
            "years_to_height",
            "Year the tree reaches its height",
            canopy.year_at_height,
            working(
                "first year with free height ≥ height kept",
                vec![length("H", "height kept", scenario.tree_height.value), number("v", "vigour of the tree", free.vigour)],
                CURVE_SOURCE,
            )
            .leaving_out(GROWTH_LIMITS),
        ),
        make(
            "yearly_excess_share",
            "Yearly excess that pruning takes",
            canopy.shown.excess_share,
            Quantity::Share,
            working(
                "(V after a season − V next year) ÷ V after a season",
                vec![
                    term("V", "crown volume of a tree", canopy.shown.volume, Quantity::Volume),
                    term("E", "excess of a tree", canopy.shown.excess, Quantity::Volume),
                    term("limit", "share from which the plan warns", OVERFILL_SHARE, Quantity::Share),
                ],
                Source::assumption("Project's own: a tree held small grows next season as a free tree of its size"),
            )
            .leaving_out(GROWTH_LIMITS),
        ),
        make(
            "yearly_excess_per_land",
            "Yearly excess on an acre or hectare",
            canopy.shown.excess * plan.trees_per_area,
            Quantity::VolumePerLand,
            working(
                "E ÷ (a × b)",
                [vec![term("E", "excess of a tree", canopy.shown.excess, Quantity::Volume)], spacing_terms(plan)].concat(),
                Source::assumption("Project's own: a tree held small grows next season as a free tree of its size"),
            )
            .leaving_out(GROWTH_LIMITS),
        ),
        make(
            "suggested_spacing",
            "In-row spacing this vigour asks for",
            plan.suggested_spacing.value,
            Quantity::Length,
            working(
                "3.25 ft × √v; beyond 8 ft, 3.25 ft × v",
                vec![number("v", "vigour of the tree", free.vigour)],
                Source::assumption("Project's own starting point, no source"),
            ),
        ),
        make(
            "union_settled",
            "Graft union after settling",
            plan.union_settled.value,
            Quantity::SmallLength,
            working(
                "u − s",
                vec![
                    term("u", "graft union at planting", scenario.graft_union_height.value, Quantity::SmallLength),
                    term("s", "settling", scenario.settling.value, Quantity::SmallLength),
                ],
                GEOMETRY,
            ),
        ),
    ]
}

fn trellis(plan: &Plan) -> Vec<Figure> {
    let (scenario, trellis) = (&plan.scenario, &plan.trellis);
    let make =
        |key, label, value, quantity, working| figure(Subject::Trellis, key, label, value, quantity, working);
    let count = |symbol, meaning, value| term(symbol, meaning, as_number(value), Quantity::Count);
    let length = |symbol, meaning, value| term(symbol, meaning, value, Quantity::Length);
    let practice = Source::practice("Common practice, no source: 4 ft tails, 5 % over, 4,000-ft coils");
    if !scenario.support.has_wires() {
        return match trellis.stakes {
            0 => Vec::new(),
            stakes => vec![make(
                "stakes",
                "Posts at single trees",
                as_number(stakes),
                Quantity::Count,
                working("one at each tree", vec![count("n", "trees in the block", stakes)], COUNTED),
            )],
        };
    }
    let mut list = vec![
        make(
            "bay",
            "Longest bay between posts",
            trellis.longest_bay,
            Quantity::Length,
            working(
                "whole tree spaces, at most the interval set",
                vec![
                    length("s", "longest interval", scenario.post_interval.value),
                    length("a", "in-row spacing", scenario.in_row_spacing.value),
                ],
                COUNTED,
            ),
        ),
        make(
            "line_posts",
            "Line posts",
            as_number(trellis.line_posts),
            Quantity::Count,
            working(
                "(bays − rows) × sides",
                vec![
                    count("bays", "bays, all rows", trellis.bays),
                    count("rows", "rows with wires", trellis.runs),
                    count("sides", "sides with posts", trellis.sides),
                ],
                COUNTED,
            ),
        ),
        make(
            "end_posts",
            "End posts",
            as_number(trellis.end_posts),
            Quantity::Count,
            working(
                "2 × rows × sides",
                vec![
                    count("rows", "rows with wires", trellis.runs),
                    count("sides", "sides with posts", trellis.sides),
                ],
                COUNTED,
            ),
        ),
        make(
            "end_post_length",
            "End post length needed",
            trellis.end_post_length,
            Quantity::Length,
            working(
                "h ÷ cos(lean) + d",
                vec![
                    length("h", "line post above the ground", trellis.post_height),
                    term("lean", "lean of the end post", scenario.end_post_lean.value, Quantity::Angle),
                    length("d", "depth in the ground", scenario.post_embedment.value),
                ],
                Source::standard("Geometry: as high as the line posts when it leans"),
            )
            .leaving_out("Strength: posts, anchors and soil are not checked here."),
        ),
    ];
    if trellis.anchors > 0 {
        list.push(make(
            "anchors",
            "Anchors",
            as_number(trellis.anchors),
            Quantity::Count,
            working("one at each end post", vec![count("n", "end posts", trellis.end_posts)], COUNTED),
        ));
        list.push(make(
            "guy_wire",
            "Guy wire",
            trellis.guy.1,
            Quantity::Length,
            working(
                "anchors × (2 L + 4 ft)",
                vec![
                    count("anchors", "anchors", trellis.anchors),
                    length("L", "guy, wire to anchor", crate::trellis::guy_length(scenario)),
                ],
                practice,
            ),
        ));
    }
    if trellis.brace_posts > 0 {
        list.push(make(
            "brace_posts",
            "Brace posts",
            as_number(trellis.brace_posts),
            Quantity::Count,
            working("one at each end post", vec![count("n", "end posts", trellis.end_posts)], COUNTED),
        ));
        list.push(make(
            "brace_rails",
            "Brace rails",
            as_number(trellis.brace_rails),
            Quantity::Count,
            working("one at each end post", vec![count("n", "end posts", trellis.end_posts)], COUNTED),
        ));
    }
    list.push(make(
        "wire_strung",
        "Trellis wire strung",
        trellis.wire_strung,
        Quantity::Length,
        working(
            "wires × sides × row length in the block",
            vec![
                count("wires", "wires", trellis.wires),
                count("sides", "sides", trellis.sides),
                length("Σ", "row length in the block", plan.block.run_length().value),
            ],
            COUNTED,
        )
        .leaving_out("Sag; wire is counted straight."),
    ));
    list.push(make(
        "wire_ordered",
        "Trellis wire to order",
        trellis.wire_ordered,
        Quantity::Length,
        working(
            "(strung + wires × rows × 2 tails) × 1.05",
            vec![
                length("strung", "wire strung", trellis.wire_strung),
                length("tail", "tail for fastening", feet(WIRE_TAIL_FT).value),
                term("over", "ordered beyond need", WIRE_WASTE, Quantity::Share),
            ],
            practice,
        ),
    ));
    list.push(make(
        "wire_coils",
        "Coils of 4,000 ft",
        as_number(trellis.coils),
        Quantity::Count,
        working(
            "⌈ordered ÷ 4,000 ft⌉",
            vec![length("ordered", "wire to order", trellis.wire_ordered)],
            practice,
        ),
    ));
    list.push(make(
        "tensioners",
        "Wire tensioners",
        as_number(trellis.tensioners),
        Quantity::Count,
        working(
            "one on each wire of each row",
            vec![count("wires", "wires", trellis.wires), count("rows", "rows with wires", trellis.runs)],
            Source::published("NRCS Maine job sheet 382A: one mid-run, runs to 1,320 ft"),
        ),
    ));
    if trellis.stakes > 0 {
        list.push(make(
            "stakes",
            "Stakes",
            as_number(trellis.stakes),
            Quantity::Count,
            working("one at each tree", vec![count("n", "trees in the block", trellis.stakes)], COUNTED),
        ));
    }
    list.push(make(
        "post_height",
        "Line post above the ground",
        trellis.post_height,
        Quantity::Length,
        working(
            "l − d",
            vec![
                length("l", "post length", scenario.post_length.value),
                length("d", "depth in the ground", scenario.post_embedment.value),
            ],
            GEOMETRY,
        ),
    ));
    list.push(make(
        "embedment_share",
        "Post in the ground",
        trellis.embedment_share,
        Quantity::Share,
        working(
            "d ÷ l, at least ¼",
            vec![
                length("d", "depth in the ground", scenario.post_embedment.value),
                length("l", "post length", scenario.post_length.value),
            ],
            Source::published("Fraser in Good Fruit Grower: at least a quarter of the post length"),
        ),
    ));
    list.push(make(
        "posts_per_acre",
        "Line posts per acre planted",
        as_number(trellis.line_posts) / as_number(plan.block.tree_count().max(1)) * plan.trees_per_area,
        Quantity::PerAcre,
        working(
            "line posts ÷ trees × trees per acre",
            vec![
                count("posts", "line posts", trellis.line_posts),
                count("n", "trees in the block", plan.block.tree_count()),
                term("N", "density", plan.trees_per_area, Quantity::PerAcre),
            ],
            COUNTED,
        ),
    ));
    list
}
