//! How each figure of the trellis comes about.

use super::figures::trees;
use super::{COIL_FT, Trellis, WIRE_TAIL_FT, WIRE_WASTE, guy_length};
use crate::kit::count::as_number;
use crate::kit::figure::{Source, Term, Working, term, working};
use crate::kit::quantity::{Quantity, feet};
use crate::kit::row::Run;
use uom::si::f64::Length;

const GEOMETRY: Source = Source::standard("Definition; 43,560 sq ft to the acre, 10,000 m² to the hectare");
const COUNTED: Source = Source::standard("Counted from the stations drawn in the plan");
const PRACTICE: Source = Source::practice("Common practice, no source: 4 ft tails, 5 % over, 4,000-ft coils");

fn count(symbol: &'static str, meaning: &'static str, value: usize) -> Term {
    term(symbol, meaning, as_number(value), Quantity::Count)
}

fn length(symbol: &'static str, meaning: &'static str, value: Length) -> Term {
    term(symbol, meaning, value.value, Quantity::Length)
}

/// The working of a figure of the trellis.
pub fn working_of(key: &str, trellis: &Trellis) -> Option<Working> {
    posts(key, trellis).or_else(|| wire(key, trellis))
}

fn posts(key: &str, trellis: &Trellis) -> Option<Working> {
    let inputs = &trellis.asked.inputs;
    let rows = count("rows", "rows with wires", trellis.wired_runs);
    let sides = count("sides", "sides with posts", trellis.sides);
    let each_end =
        || working("one at each end post", vec![count("n", "end posts", trellis.end_posts)], COUNTED);
    let embedment = length("d", "depth in the ground", inputs.post_embedment);
    let whole = length("l", "post length", inputs.post_length);
    Some(match key {
        "bay" => working(
            "whole tree spaces, at most the interval set",
            vec![
                length("s", "longest interval", inputs.post_interval),
                length("a", "in-row spacing", trellis.asked.spacing.in_row),
            ],
            COUNTED,
        ),
        "line_posts" => working(
            "(bays − rows) × sides",
            vec![count("bays", "bays, all rows", trellis.bays), rows, sides],
            COUNTED,
        ),
        "end_posts" => working("2 × rows × sides", vec![rows, sides], COUNTED),
        "end_post_length" => working(
            "h ÷ cos(lean) + d",
            vec![
                length("h", "line post above the ground", trellis.post_height),
                term("lean", "lean of the end post", inputs.end_post_lean.value, Quantity::Angle),
                embedment,
            ],
            Source::standard("Geometry: as high as the line posts when it leans"),
        )
        .leaving_out("Strength: posts, anchors and soil are not checked here."),
        "anchors" | "brace_posts" | "brace_rails" => each_end(),
        "stakes" => {
            working("one at each tree", vec![count("n", "trees in the block", trellis.stakes)], COUNTED)
        }
        "post_height" => working("l − d", vec![whole, embedment], GEOMETRY),
        "embedment_share" => working(
            "d ÷ l, at least ¼",
            vec![embedment, whole],
            Source::published("Fraser in Good Fruit Grower: at least a quarter of the post length"),
        ),
        "posts_per_acre" => working(
            "line posts ÷ trees × trees per acre",
            vec![
                count("posts", "line posts", trellis.line_posts),
                count("n", "trees in the block", trees(trellis)),
                term("N", "density", trellis.asked.spacing.trees_per_square_metre(), Quantity::PerAcre),
            ],
            COUNTED,
        ),
        _ => return None,
    })
}

fn wire(key: &str, trellis: &Trellis) -> Option<Working> {
    let wires = count("wires", "wires", trellis.wires);
    let rows = count("rows", "rows with wires", trellis.wired_runs);
    let sides = count("sides", "sides", trellis.sides);
    let tail = length("tail", "tail for fastening", feet(WIRE_TAIL_FT));
    let run_length: f64 = trellis.asked.runs.iter().map(Run::length).sum();
    Some(match key {
        "guy_wire" => working(
            "anchors × (2 L + tail)",
            vec![
                count("anchors", "anchors", trellis.anchors),
                length("L", "guy, wire to anchor", guy_length(&trellis.asked.inputs)),
                tail,
            ],
            PRACTICE,
        ),
        "wire_strung" => working(
            "wires × sides × row length in the block",
            vec![wires, sides, term("Σ", "row length in the block", run_length, Quantity::Length)],
            COUNTED,
        )
        .leaving_out("Sag; wire is counted straight."),
        "wire_ordered" => working(
            "(strung + wires × sides × rows × 2 tails) × (1 + over)",
            vec![
                length("strung", "wire strung", trellis.wire_strung),
                wires,
                sides,
                rows,
                tail,
                term("over", "ordered beyond need", WIRE_WASTE, Quantity::Share),
            ],
            PRACTICE,
        ),
        "wire_coils" => working(
            "⌈ordered ÷ coil⌉",
            vec![
                length("ordered", "wire to order", trellis.wire_ordered),
                length("coil", "length of a coil", feet(COIL_FT)),
            ],
            PRACTICE,
        ),
        "tensioners" => working(
            "one on each wire of each row and side",
            vec![wires, sides, rows],
            Source::published("NRCS Maine job sheet 382A: one mid-run, runs to 1,320 ft"),
        ),
        _ => return None,
    })
}
