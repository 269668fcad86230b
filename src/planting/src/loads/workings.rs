//! How each figure of loads and strength comes about.

use super::carried::Carried;
use super::ends::rail_buckles;
use super::ends::{Held, RowEnd};
use super::memory::Loads;
use super::posts::{allowed_stress, section_modulus};
use super::weakest::{BRACE_STRANDS, Basis, Limit, Part};
use super::wind::DIRECTIONALITY;
use crate::kit::count::as_number;
use crate::kit::figure::{Source, Term, Working, term, working};
use crate::kit::quantity::Quantity;
use uom::si::f64::{Force, Length};

const DEFINITION: Source =
    Source::standard("Strength of the steel times its section; ASTM A854, NRCS Georgia 2006");
const CROP: Source = Source::assumption(
    "Crop as set or expected, from Hoying and Miranda Sazo, Cornell; its share on the wires is this project's own",
);
const STATE: Source = Source::assumption(
    "Worked out from Civil Engineering Formulas, eq. 10.81 to 10.87: flat parabola, elastic wire, ends as set",
);
const WIND: Source = Source::assumption(
    "ASCE 7-10, eq. 28.3-1, for the pressure; drag of crowns is this project's own between 0.16 (Hoying, Cornell) and 0.68 (ASCE 7-16)",
);
const BENDING: Source = Source::assumption(
    "Strength of materials; mean strengths of ANSI O5.1 second-hand, allowed stress read back from AWC 2001, table 5.10",
);
const SOIL: Source = Source::assumption(
    "IBC 2012, 1807.3.2.1 and table 1806.2; Broms 1964 for collapse, its balance from memory; soil as chosen, not tested",
);
const STATICS: Source =
    Source::assumption("Equilibrium of the end post, turning freely at the ground line; loads as above");
const ANCHOR: Source = Source::assumption(
    "Helical-anchor papers: Qu = Σ A (c Nc + q′ Nq), Nc 9; Nq from memory; soil as chosen, not tested",
);
const FIRST: Source = Source::assumption("The load at which the index is 1, all else as set");
const PRACTICE: Source =
    Source::practice("Common practice, no source: 4 ft tails, coils of 4,000 ft, sleeves, clips and ties");
const STAPLES: Source =
    Source::practice("Double at end posts; 60 staples of 1¾ in to the pound (UGA, Sumner)");
const HOURS: Source = Source::published("Fraser and Oakes 1999, Compact Fruit Tree: minutes of each piece");
const PRICES: Source =
    Source::assumption("Example prices of 2026 until you put in your own; whole posts and coils");

const NO_VERDICT: &str =
    "An index to compare plans by, no verdict: local codes, soil tests and a licensed engineer come first.";
const BAYS: &str =
    "Bays of other lengths than the longest, wind on the wires, ice and snow on the crowns, nets and cloth.";
const STANDING: &str = "Why standing rows exceed the code: roots and stems share the load, inner rows are sheltered, crowns bend with the wind, and soil gives way at several times what a code allows.";

fn force(symbol: &'static str, meaning: &'static str, value: Force) -> Term {
    term(symbol, meaning, value.value, Quantity::Force)
}

fn length(symbol: &'static str, meaning: &'static str, value: Length) -> Term {
    term(symbol, meaning, value.value, Quantity::Length)
}

fn thick(symbol: &'static str, meaning: &'static str, value: Length) -> Term {
    term(symbol, meaning, value.value, Quantity::SmallLength)
}

fn ratio(symbol: &'static str, meaning: &'static str, value: f64) -> Term {
    term(symbol, meaning, value, Quantity::Ratio)
}

fn count(symbol: &'static str, meaning: &'static str, value: usize) -> Term {
    term(symbol, meaning, as_number(value), Quantity::Count)
}

/// The working of a figure of this room.
pub fn working_of(key: &str, loads: &Loads) -> Option<Working> {
    let of_the_order = order(key, loads);
    if of_the_order.is_some() {
        return of_the_order;
    }
    let carried = loads.carried.as_ref()?;
    wires(key, loads, carried)
        .or_else(|| wind(key, loads, carried))
        .or_else(|| soil(key, loads, carried))
        .or_else(|| ends(key, loads, carried))
        .or_else(|| reached(key, loads, carried))
}

fn wires(key: &str, loads: &Loads, carried: &Carried) -> Option<Working> {
    let (asked, inputs, wire) = (&loads.asked, &loads.asked.inputs, carried.wire);
    let on_wire = term("w", "load on each wire", carried.on_wire.value, Quantity::ForcePerLength);
    let span = length("L", "longest bay", carried.bay.span);
    let strung = force("H₁", "tension as strung", carried.bay.pretension);
    let stiff = force("EA", "stiffness, ends included", carried.bay.stiffness);
    let state = |terms: Vec<Term>| {
        working("H² (H − H₁ + EA w₁² L² ÷ 24 H₁² + EA α ΔT) = EA w² L² ÷ 24", terms, STATE).leaving_out(BAYS)
    };
    let own = term("w", "wire and ice", wire.weight(inputs.ice).value, Quantity::ForcePerLength);
    let bare = term("w", "bare wire", wire.weight(Length::default()).value, Quantity::ForcePerLength);
    let warmer = |value| term("ΔT", "warmer than when strung", value, Quantity::TemperatureChange);
    Some(match key {
        "crop_on_row" => working(
            "yield × row width",
            vec![
                term("yield", "crop to carry", carried.crop.value, Quantity::MassPerLand),
                length("b", "row width", asked.spacing.row_width),
            ],
            CROP,
        ),
        "load_on_wire" => working(
            "crop on the row × g × share ÷ wires + own weight",
            vec![
                term("crop", "crop on a length of row", carried.crop_on_row.value, Quantity::MassPerLength),
                term("share", "crop on the wires", inputs.share_on_wires.value, Quantity::Share),
                count("wires", "wires of a row", carried.wires),
                bare,
            ],
            CROP,
        ),
        "wire_breaking_load" => working(
            "σ π d² ÷ 4",
            vec![
                term("σ", "strength of the steel", wire.grade.strength().value, Quantity::Stress),
                thick("d", "thickness of the wire", wire.gauge.diameter()),
            ],
            DEFINITION,
        ),
        "wire_tension_loaded" => {
            let pull = force("H", "pull along the wire, from the state equation", carried.loaded.horizontal);
            working("T = √(H² + (w L ÷ 2)²)", vec![pull, on_wire, span, strung, stiff], STATE)
                .leaving_out(BAYS)
        }
        "wire_tension_cold" => state(vec![own, span, strung, stiff, warmer(-inputs.cold_drop.value)]),
        "wire_tension_hot" => state(vec![bare, span, strung, stiff, warmer(inputs.hot_rise.value)]),
        "wire_sag_empty" => working(
            "w L² ÷ 8 H",
            vec![bare, span, force("H", "tension as strung", carried.empty.horizontal)],
            STATE,
        ),
        "wire_sag_loaded" => working(
            "w L² ÷ 8 H",
            vec![on_wire, span, force("H", "pull along the wire, loaded", carried.loaded.horizontal)],
            STATE,
        )
        .leaving_out(
            "Ends that yield more than is set: the sag would lie between this and the sag if they gave way.",
        ),
        "wire_sag_held" => working("w L² ÷ 8 H₁", vec![on_wire, span, strung], STATE)
            .leaving_out("The upper bound of sag, the lower of tension."),
        "wire_index" => working(
            "T ÷ breaking load",
            vec![
                force("T", "tension under the crop", carried.loaded.tension),
                force("break", "breaking load", wire.breaking_load()),
            ],
            STATE,
        )
        .leaving_out(NO_VERDICT),
        _ => return None,
    })
}

fn wind(key: &str, loads: &Loads, carried: &Carried) -> Option<Working> {
    let (inputs, wind, crowns) = (&loads.asked.inputs, &carried.wind, loads.asked.crowns);
    let diameter = carried.embedment.diameter;
    let on_post = force("P", "wind on the post", wind.on_post);
    let stress = term("σ", "stress at the ground line", carried.post_stress.value, Quantity::Stress);
    let strength = |value: f64| term("f", "stress it is compared with", value, Quantity::Stress);
    Some(match key {
        "gust_pressure" => working(
            "q = 0.00256 Kz Kd V², psf and mph",
            vec![
                ratio("Kz", "height and exposure, 15 ft at least", inputs.exposure.at(crowns.top)),
                ratio("Kd", "direction", DIRECTIONALITY),
                term("V", "gust of three seconds", inputs.gust.value, Quantity::Speed),
            ],
            WIND,
        )
        .leaving_out("Hills and edges that speed the wind up."),
        "wind_load_on_row" => working(
            "q Cd (top − bottom)",
            vec![
                term("q", "pressure of the gust", wind.pressure.value, Quantity::Pressure),
                ratio("Cd", "drag of the crowns, 0.15 to 0.70 in the sources", inputs.canopy_drag.value),
                length("top", "highest leaves", crowns.top),
                length("bottom", "lowest leaves", crowns.bottom),
            ],
            WIND,
        )
        .leaving_out("Crowns that are thinner than the row is long, and how they bend."),
        "wind_load_on_post" => working(
            "f × bay ÷ sides",
            vec![
                term("f", "wind on a length of row", wind.on_row.value, Quantity::ForcePerLength),
                length("bay", "longest bay", carried.bay.span),
            ],
            WIND,
        )
        .leaving_out("Shelter by other rows; stems and roots that share it."),
        "wind_load_inside" => working(
            "P × inner rows",
            vec![on_post, term("inner", "wind on inner rows", inputs.inner_rows.value, Quantity::Share)],
            WIND,
        ),
        "post_moment" => working(
            "P (top + bottom) ÷ 2",
            vec![on_post, length("h", "height of the wind's push", wind.arm)],
            WIND,
        ),
        "post_stress" => working(
            "σ = M ÷ (π d³ ÷ 32)",
            vec![
                term("M", "moment at the ground line", wind.moment.value, Quantity::Moment),
                thick("d", "thickness of the post", diameter),
                term("S", "section modulus", section_modulus(diameter).value, Quantity::Volume),
            ],
            BENDING,
        ),
        "post_index" => working(
            "σ ÷ mean strength",
            vec![stress, strength(inputs.post_wood.mean_strength().value)],
            BENDING,
        )
        .leaving_out(NO_VERDICT),
        "post_index_code" => {
            working("σ ÷ allowed stress", vec![stress, strength(allowed_stress().value)], BENDING)
                .leaving_out(STANDING)
        }
        _ => return None,
    })
}

fn soil(key: &str, loads: &Loads, carried: &Carried) -> Option<Working> {
    let post = &carried.embedment;
    let on_post = force("P", "wind on the post", carried.wind.on_post);
    let place = |mut terms: Vec<Term>| {
        terms.extend([
            length("d", "depth in the ground", post.depth),
            thick("b", "thickness of the post", post.diameter),
            length("h", "height of the push", post.height),
        ]);
        terms
    };
    let bearing = loads.asked.inputs.soil.lateral_bearing().value * post.depth.value;
    let bearing = || term("S d", "table bearing at the foot, doubled for posts", bearing, Quantity::Pressure);
    Some(match key {
        "soil_load" => working(
            "clay: 9 Su b f, f from moments; sand: ½ γ b d³ Kp ÷ (h + d)",
            place(vec![]),
            SOIL,
        )
        .leaving_out("Layers, slopes, frost, holes dug and filled again: driven posts hold about half as much again as augered ones."),
        "soil_load_code" => working("d² ÷ (d + 1.09 h) × (2 S d ÷ 3) b ÷ 2.34", place(vec![bearing()]), SOIL).leaving_out(STANDING),
        "soil_depth_code" => {
            working("d = ½ A (1 + √(1 + 4.36 h ÷ A)), A = 2.34 P ÷ (S₁ b)", place(vec![on_post, bearing()]), SOIL).leaving_out(STANDING)
        }
        "soil_index" => {
            working("P ÷ push at collapse", place(vec![on_post, force("Pu", "push at collapse", post.collapse_load())]), SOIL)
                .leaving_out(NO_VERDICT)
        }
        "soil_index_code" => {
            working("P ÷ push by code", place(vec![on_post, force("Pc", "push by code", post.code_load())]), SOIL)
                .leaving_out(STANDING)
        }
        _ => return None,
    })
}

/// What the pull of the wires on a row end is made from.
fn pull(carried: &Carried, tension: Force) -> Vec<Term> {
    let heights: Length = carried.pull.heights.iter().copied().sum();
    vec![
        force("T", "tension of each wire", tension),
        count("n", "wires on a side", carried.pull.heights.len()),
        length("Σh", "heights of the wires, added up", heights),
    ]
}

fn ends(key: &str, loads: &Loads, carried: &Carried) -> Option<Working> {
    let inputs = &loads.asked.inputs;
    let with = |mut terms: Vec<Term>| {
        match loads.asked.frame.as_ref().map(|frame| frame.end) {
            Some(RowEnd::TieBack { lean, distance, height }) => terms.extend([
                length("h", "height of the guy's fastening", height),
                length("D", "post to anchor", distance),
                term("β", "lean of the post", lean.value, Quantity::Angle),
            ]),
            Some(RowEnd::HBrace { span, rail, .. }) => {
                terms.extend([
                    length("h", "height of the rail", rail),
                    length("L", "span of the brace", span),
                ]);
            }
            None => {}
        }
        terms
    };
    let loaded = || with(pull(carried, carried.pull.tension));
    let held = |formula| Some(working(formula, loaded(), STATICS).leaving_out(BAYS));
    let index = |formula, part, strength: Force| {
        let load = loads.limits.get(part, Basis::Collapse).map(|limit| limit.index * strength);
        let terms = vec![
            force("load", "pull or push, loaded", load.unwrap_or_default()),
            force("holds", "what it holds", strength),
        ];
        Some(working(formula, terms, STATICS).leaving_out(NO_VERDICT))
    };
    let breaking = carried.wire.breaking_load();
    match (key, carried.held_loaded?) {
        ("end_moment", _) => held("Σ T h"),
        ("guy_tension", Held::TieBack(_)) => Some(working(
            "M √((D − h tan β)² + h²) ÷ (h D), M = T Σh",
            with(pull(carried, carried.pull_strung.tension)),
            STATICS,
        )),
        ("guy_tension_loaded", Held::TieBack(_)) => held("M √((D − h tan β)² + h²) ÷ (h D), M = T Σh"),
        ("post_thrust", Held::TieBack(_)) => held("guy × sin θ"),
        ("ground_reaction", Held::TieBack(_)) => held("n T − guy × cos θ"),
        ("guy_index", Held::TieBack(_)) => {
            index("guy ÷ (strands × breaking load)", Part::Guy, breaking * inputs.guy_strands)
        }
        ("anchor_holds", Held::TieBack(_)) => Some(
            working(
                "Σ A (9 Su), or Σ A q′ Nq in sand",
                vec![
                    thick("plate", "width of a plate", inputs.anchor_kind.plate()),
                    length("depth", "lowest plate under the ground", inputs.anchor_depth),
                ],
                ANCHOR,
            )
            .leaving_out(
                "Creep, wet seasons, ground that was dug; makers turn a trial anchor in and pull it.",
            ),
        ),
        ("anchor_index", Held::TieBack(_)) => {
            let holds = inputs.anchor_kind.pull_out(inputs.soil, inputs.anchor_depth);
            let terms = vec![
                force(
                    "guy",
                    "pull in the guy, loaded",
                    loads.limits.get(Part::Anchor, Basis::Collapse)?.index * holds,
                ),
                force("Qu", "pull at which it comes", holds),
            ];
            Some(working("guy ÷ Qu", terms, ANCHOR).leaving_out(NO_VERDICT))
        }
        ("rail_push", Held::HBrace(_)) => held("C = M ÷ h"),
        ("brace_wire_tension", Held::HBrace(_)) => {
            held("B = C √(h² + L²) ÷ L, half of it in each of two spans")
        }
        ("brace_uplift", Held::HBrace(_)) => held("V = M ÷ L, half of it with two spans"),
        ("brace_soil", Held::HBrace(_)) => held("n T"),
        ("brace_index", Held::HBrace(_)) => {
            index("B ÷ (4 strands × breaking load)", Part::BraceWire, breaking * BRACE_STRANDS)
        }
        ("rail_index", Held::HBrace(_)) => {
            let Some(RowEnd::HBrace { span, .. }) = loads.asked.frame.as_ref().map(|frame| frame.end) else {
                return None;
            };
            index("C ÷ (π² E I ÷ L²)", Part::Rail, rail_buckles(inputs.rail_diameter, span)?)
        }
        _ => None,
    }
}

/// The gust or crop at which a part is reached.
fn reached(key: &str, loads: &Loads, carried: &Carried) -> Option<Working> {
    let inputs = &loads.asked.inputs;
    let limit = |part| loads.limits.get(part, Basis::Collapse);
    let index = |limit: &Limit| ratio("index", "index as set", limit.index.value);
    let by_gust = |part| {
        let mut terms = vec![term("V", "gust as set", inputs.gust.value, Quantity::Speed)];
        terms.extend(Some(index(limit(part)?)).filter(|index| index.value.is_finite()));
        Some(working("V ÷ √index", terms, FIRST).leaving_out(NO_VERDICT))
    };
    let by_crop = |part| {
        let terms = vec![
            term("crop", "crop as set", carried.crop.value, Quantity::MassPerLand),
            index(limit(part)?),
            force("T", "tension under that crop", carried.loaded.tension),
        ];
        Some(
            working("the crop at which T is T ÷ index, from the state equation", terms, FIRST)
                .leaving_out(NO_VERDICT),
        )
    };
    match key {
        "wire_reached" => by_crop(Part::Wire),
        "anchor_reached" => by_crop(Part::Anchor),
        "post_reached" => by_gust(Part::Post),
        "soil_reached" => by_gust(Part::Soil),
        _ => None,
    }
}

fn order(key: &str, loads: &Loads) -> Option<Working> {
    let (asked, bill) = (&loads.asked, &loads.bill);
    let frame = asked.frame.as_ref();
    let wires = count("wires", "wires on a side", frame.map_or(0, |frame| frame.heights.len()));
    let sides = count("sides", "sides of a row", frame.map_or(1, |frame| frame.sides));
    let rows = count("rows", "rows", asked.rows.len());
    let line_posts = count("posts", "line posts", frame.map_or(0, |frame| frame.line_posts));
    let over = term("over", "wastage", asked.inputs.wastage.value, Quantity::Share);
    let trees = count("trees", "trees in the block", asked.trees());
    let all_wire = length("wire", "trellis wire, guys and braces", bill.wire + bill.guy);
    Some(match key {
        "order_brace_posts" => working("2 × rows × sides × spans", vec![rows, sides], PRACTICE),
        "order_wire" => working(
            "wires × sides × (rows' length + rows × 2 × 4 ft) × (1 + over)",
            vec![wires, sides, length("Σ", "length of all rows", asked.row_length()), rows, over],
            PRACTICE,
        ),
        "order_guy" => working(
            "2 × rows × sides × (strands × length + 4 ft) × (1 + over)",
            vec![rows, sides, over],
            PRACTICE,
        ),
        "order_wire_mass" => working(
            "wire × weight of a length",
            vec![all_wire, term("w", "wire", asked.wire().mass().value, Quantity::MassPerLength)],
            PRACTICE,
        ),
        "order_coils" => working("⌈wire ÷ 4,000 ft⌉", vec![all_wire], PRACTICE),
        "order_coils_unspliced" => working(
            "⌈wires × sides × rows ÷ ⌊4,000 ft ÷ (longest row + 8 ft)⌋⌉",
            vec![wires, sides, rows, length("row", "longest row", asked.longest_row())],
            PRACTICE,
        ),
        "order_staples" => working("wires × (line posts + 2 × end posts)", vec![wires, line_posts], STAPLES),
        "order_staple_pounds" => {
            working("⌈staples ÷ 60⌉", vec![count("staples", "staples", bill.staples)], STAPLES)
        }
        "order_sleeves" => working("4 × wires × sides × rows", vec![wires, sides, rows], PRACTICE),
        "order_clips" => {
            working("stakes × wires", vec![count("stakes", "stakes", asked.stakes), wires], PRACTICE)
        }
        "order_ties" => working("trees × wires", vec![trees, wires], PRACTICE),
        "trellis_hours" => {
            let labour = &bill.labour;
            let hours = |symbol, meaning, value| term(symbol, meaning, value, Quantity::Work);
            working(
                "posts + anchors + braces + wire + stakes + ties",
                vec![
                    hours("posts", "line, end and brace posts", labour.line_posts + labour.end_posts),
                    hours("anchors", "anchors", labour.anchors),
                    hours("braces", "braces", labour.braces),
                    hours("wire", "wire", labour.wire),
                    hours("stakes", "stakes", labour.stakes),
                    hours("ties", "ties and clips", labour.ties),
                ],
                HOURS,
            )
            .leaving_out("Getting to the field, laying out, weather.")
        }
        "trellis_cost" => {
            let costs = bill
                .lines
                .iter()
                .map(|line| term("·", line.item.label(), line.cost.dollars(), Quantity::Money));
            working("Σ amount × price, in whole cents", costs.collect(), PRICES)
                .leaving_out("Freight, tax, machines.")
        }
        "trellis_cost_per_land" => working(
            "cost ÷ (trees × ground of a tree)",
            vec![
                term("cost", "cost of the trellis", bill.total.dollars(), Quantity::Money),
                term("A", "ground of all trees", asked.land().value, Quantity::Land),
            ],
            PRICES,
        ),
        _ => return None,
    })
}
