//! Draws practice trees as stick pictures into `target/practice-trees.svg`, and prints what many seeds measure:
//! `cargo run --release -p planting --example practice_trees`. A tool to look at, not part of what is shipped.

#![allow(clippy::disallowed_methods, clippy::print_stdout, reason = "what runs on the host needn't be small")]

use planting::crop::group::BearingGroup;
use planting::crop::rules::Keeping;
use planting::crop::tree::answers::Answers;
use planting::crop::tree::grow::{a_year_on, plant};
use planting::crop::tree::opinion::pruned;
use planting::crop::tree::shape::Shape;
use planting::crop::tree::site::{Nursery, Site, Sizes};
use planting::crop::tree::{Kind, Tree};
use std::fmt::Write as _;

fn grown(site: &Site, seed: u32, years: u32, prune: bool) -> Tree {
    let mut tree = plant(site, seed);
    for year in 0..=years {
        if year > 0 {
            tree = a_year_on(&tree);
        }
        if prune {
            tree = pruned(&tree).0;
        }
    }
    tree
}

fn whip(vigour: f64) -> Site {
    Site {
        nursery: Nursery::Whip,
        sizes: Sizes::of_vigour(vigour, Nursery::Whip),
        keeping: Keeping {
            vigour,
            in_row: planting::feet(13.0),
            row_width: planting::feet(16.0),
            ..Keeping::usual()
        },
        ..Site::usual(vigour)
    }
}

fn draw(svg: &mut String, tree: &Tree, left: f64, bottom: f64, scale: f64, label: &str) {
    let shape = Shape::of(tree);
    let turn = 25f64.to_radians();
    let project = |p: planting::crop::tree::shape::TreePoint| {
        (left + scale * (p.across * turn.cos() + p.along * turn.sin()), bottom - scale * p.up)
    };
    for (axis, path) in tree.axes.iter().zip(&shape.paths) {
        if path.points.len() < 2 {
            continue;
        }
        for (index, pair) in path.points.windows(2).enumerate() {
            let (a, b) = (project(pair[0]), project(pair[1]));
            let at = path.distances[index];
            let wide =
                if axis.kind == Kind::Leader { tree.leader_diameter(at) } else { axis.diameter_at(at) };
            let _ = write!(
                svg,
                "<line x1='{:.1}' y1='{:.1}' x2='{:.1}' y2='{:.1}' stroke='#5a4632' stroke-linecap='round' stroke-width='{:.2}'/>",
                a.0,
                a.1,
                b.0,
                b.1,
                (wide * scale).max(0.5)
            );
        }
        for spur in &axis.spurs {
            let a = project(path.at(spur.at));
            let b = (
                a.0 + scale * spur.length * spur.roll.cos(),
                a.1 - scale * spur.length * spur.roll.sin().abs(),
            );
            let colour = if spur.flowers { "#c02020" } else { "#5a7a42" };
            let _ = write!(
                svg,
                "<line x1='{:.1}' y1='{:.1}' x2='{:.1}' y2='{:.1}' stroke='{colour}' stroke-width='1'/>",
                a.0, a.1, b.0, b.1
            );
        }
    }
    let answers = Answers::of(tree, &BearingGroup::Annual.bearing());
    for (line, text) in [
        label.to_owned(),
        format!("{} limbs, trunk {:.0} mm", answers.limbs, tree.trunk_diameter * 1000.0),
        format!("ratio {:.2}, {:.1} m high", answers.limb_to_trunk, answers.height.value),
        format!(
            "{} flower buds, low light {:.0} %",
            answers.flower_buds,
            answers.light_low.unwrap_or(0.0) * 100.0
        ),
    ]
    .iter()
    .enumerate()
    {
        let _ = write!(
            svg,
            "<text x='{left:.0}' y='{:.0}' font-size='11' text-anchor='middle' font-family='sans-serif'>{text}</text>",
            bottom + 16.0 + 13.0 * line as f64
        );
    }
}

fn mean(values: &[f64]) -> (f64, f64) {
    let count = values.len().max(1) as f64;
    let mean = values.iter().sum::<f64>() / count;
    (mean, (values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / count).sqrt())
}

fn shown(label: &str, values: &[f64]) {
    let (m, s) = mean(values);
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let q =
        |share: f64| sorted.get(((sorted.len().max(1) - 1) as f64 * share) as usize).copied().unwrap_or(0.0);
    println!(
        "{label:38} {m:8.2} ± {s:6.2}   {:.2} {:.2} {:.2} {:.2} {:.2}",
        q(0.0),
        q(0.1),
        q(0.5),
        q(0.9),
        q(1.0)
    );
}

/// One row per question: what is measured is in the comments of tests/published/tree.rs.
fn measure(label: &str, trees: &[Tree]) {
    println!("-- {label} ({} trees)", trees.len());
    let each = |f: &dyn Fn(&Tree) -> f64| trees.iter().map(f).collect::<Vec<_>>();
    shown("limbs", &each(&|t| t.axes.iter().filter(|a| a.is_limb()).count() as f64));
    shown("limb to trunk", &each(&|t| t.limb_area() / t.trunk_area()));
    shown("trunk mm", &each(&|t| t.trunk_diameter * 1000.0));
    shown("height m", &each(&|t| Shape::of(t).top()));
    let limbs =
        |f: &dyn Fn(&Tree, &planting::crop::tree::Axis, &planting::crop::tree::shape::Path) -> f64| {
            let mut out = Vec::new();
            for t in trees {
                let shape = Shape::of(t);
                for (a, p) in t.axes.iter().zip(&shape.paths) {
                    if a.is_limb() {
                        out.push(f(t, a, p));
                    }
                }
            }
            out
        };
    shown("limb mm", &limbs(&|_, a, _| a.diameter * 1000.0));
    shown("limb first length cm", &limbs(&|_, a, _| a.first_length * 100.0));
    shown("limb length cm", &limbs(&|_, a, _| a.length() * 100.0));
    shown("chord angle", &limbs(&|_, _, p| p.uprightness().acos().to_degrees()));
    shown("limb / trunk", &limbs(&|t, a, _| a.diameter / t.trunk_diameter));
    shown("limb / leader there", &limbs(&|t, a, _| a.diameter / t.leader_diameter(a.at)));
    shown("node height / tree height", &limbs(&|t, _, p| p.base().up / Shape::of(t).top()));
    shown(
        "units per m of limb",
        &limbs(&|t, a, _| {
            let place = t.find(a.id).map_or(0, |f| f.0);
            let sides = t.axes.iter().filter(|s| s.parent == Some(place)).count();
            (a.spurs.len() + sides) as f64 / a.length()
        }),
    );
    shown(
        "side shoots of leader",
        &each(&|t| {
            (t.axes[0].spurs.len() + t.axes.iter().filter(|a| a.kind == Kind::Limb && a.grows()).count())
                as f64
        }),
    );
    let answers: Vec<Answers> =
        trees.iter().map(|t| Answers::of(t, &BearingGroup::Annual.bearing())).collect();
    shown("flower buds", &answers.iter().map(|a| a.flower_buds).collect::<Vec<_>>());
    shown("light low", &answers.iter().map(|a| a.light_low.unwrap_or(0.0)).collect::<Vec<_>>());
    shown("leaf area index", &answers.iter().map(|a| a.leaf_area_index).collect::<Vec<_>>());
    shown(
        "largest limb mm",
        &each(&|t| t.axes.iter().filter(|a| a.is_limb()).map(|a| a.diameter * 1000.0).fold(0.0, f64::max)),
    );
    shown("axes", &each(&|t| t.axes.len() as f64));
}

fn main() {
    let seeds = 40;
    measure(
        "whip, fourth leaf, uncut",
        &(0..seeds * 3).map(|s| grown(&whip(1.0), s, 4, false)).collect::<Vec<_>>(),
    );
    for (vigour, year) in [(1.0, 3), (0.5, 7), (1.0, 7), (1.0, 15), (1.5, 15)] {
        measure(
            &format!("kept, vigour {vigour}, year {year}"),
            &(0..seeds).map(|s| grown(&Site::usual(vigour), s, year, true)).collect::<Vec<_>>(),
        );
    }
    let mut svg = String::from(
        "<svg xmlns='http://www.w3.org/2000/svg' width='1900' height='1500'><rect width='1900' height='1500' fill='white'/>",
    );
    let seed = std::env::args().nth(1).and_then(|s| s.parse().ok()).unwrap_or(7);
    let mut left = 110.0;
    for (name, vigour) in [("weak", 0.5), ("strong", 1.5)] {
        for year in [1, 3, 7, 15] {
            draw(
                &mut svg,
                &grown(&Site::usual(vigour), seed, year, true),
                left,
                420.0,
                110.0,
                &format!("{name}, year {year}, kept"),
            );
            draw(
                &mut svg,
                &grown(&Site::usual(vigour), seed, year, false),
                left,
                940.0,
                85.0,
                &format!("{name}, year {year}, never pruned"),
            );
            left += 235.0;
        }
    }
    left = 110.0;
    for seed in seed..seed + 8 {
        let (vigour, years) =
            [(1.0, 4), (1.0, 4), (0.5, 9), (0.5, 9), (1.2, 9), (1.2, 9), (1.8, 9), (1.8, 9)]
                [(seed as usize) % 8];
        draw(
            &mut svg,
            &grown(&whip(vigour), seed, years, false),
            left,
            1420.0,
            85.0,
            &format!("whip v {vigour}, year {years}, uncut"),
        );
        left += 235.0;
    }
    svg.push_str("</svg>");
    std::fs::create_dir_all("target").expect("a folder to write into");
    std::fs::write("target/practice-trees.svg", svg).expect("a picture");
    let tree = grown(&Site::usual(1.0), 7, 15, true);
    let shortest = |what: &str, work: &dyn Fn() -> f64| {
        let mut least = std::time::Duration::MAX;
        for _ in 0..300 {
            let start = std::time::Instant::now();
            std::hint::black_box(work());
            least = least.min(start.elapsed());
        }
        println!("{what}: {least:?} at best");
    };
    shortest("answers", &|| Answers::of(&tree, &BearingGroup::Annual.bearing()).limbs);
    shortest("a year on", &|| f64::from(a_year_on(&tree).year));
    shortest("pruned by the rules", &|| pruned(&tree).1.len() as f64);
    let wild = grown(&Site::usual(2.0), 35, 12, false);
    shortest("answers, strong and never pruned", &|| {
        Answers::of(&wild, &BearingGroup::Annual.bearing()).limbs
    });
    shortest("a year on, strong and never pruned", &|| f64::from(a_year_on(&wild).year));
    shortest("pruned by the rules, strong and never pruned", &|| pruned(&wild).1.len() as f64);
}
