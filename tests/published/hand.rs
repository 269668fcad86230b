//! The trees worked by hand: from the numbers a working shows and nothing else comes the figure it explains.

use crate::fixture::{assert_near, figure, planned};
use planting::{Choice, GrowthPace, Plan, Rootstock, Scenario, TrainingSystem};

/// A number of a working, by its symbol.
#[track_caller]
fn of(plan: &Plan, key: &str, symbol: &str) -> f64 {
    let working = plan.working(key).unwrap_or_else(|| panic!("{key} has no working"));
    let term = working.terms.iter().find(|term| term.symbol == symbol);
    term.unwrap_or_else(|| panic!("{key} shows no {symbol}")).value
}

/// `z∞ − (z∞ − z₀) × rᵗ`.
fn grown(old: f64, start: f64, lacking: f64, year: f64) -> f64 {
    old - (old - start) * lacking.powf(year)
}

fn check(plan: &Plan) {
    let near = |key: &str, found: f64, room: f64| assert_near(found, figure(plan, key), room, key);
    let height = |symbol| of(plan, "free_height_now", symbol);
    near("free_height_now", grown(height("H∞"), height("H₀"), height("r"), height("t")), 1e-12);
    let spread = |symbol| of(plan, "free_spread_now", symbol);
    near("free_spread_now", grown(spread("S∞"), spread("S₀"), spread("r"), spread("t")), 1e-12);
    let mature = |symbol| of(plan, "mature_spread", symbol);
    near("mature_spread", grown(mature("S∞"), mature("S₀"), mature("r"), 25.0), 1e-12);

    let trunk = |symbol| of(plan, "trunk_area_now", symbol);
    let root = grown(trunk("A∞").sqrt(), trunk("A₀").sqrt(), trunk("r"), trunk("t"));
    let alone = root * root;
    let crowding = alone / (alone + trunk("A_c"));
    near("trunk_area_now", alone * (1.0 + crowding) / (1.0 + crowding * trunk("n")), 1e-12);
    assert_near(trunk("q").powf(trunk("p") / 5.0), trunk("r"), 1e-12, "r from q and p");

    for key in ["years_to_height", "years_to_height_quick", "years_to_height_slow"] {
        let Some(years) = plan.figure(key).and_then(|figure| figure.value) else { continue };
        let term = |symbol| of(plan, key, symbol);
        let lacks = (term("H∞") - term("H")) / (term("H∞") - term("H₀"));
        assert_near(lacks.ln() / (term("p") * term("r").ln()), years, 1e-9, key);
    }
    let fill = |symbol| of(plan, "years_to_fill", symbol);
    let lacks = (fill("S∞") - fill("a")) / (fill("S∞") - fill("S₀"));
    near("years_to_fill", lacks.ln() / fill("r").ln(), 1e-9);
    let spacing = |symbol| of(plan, "suggested_spacing", symbol);
    near(
        "suggested_spacing",
        spacing("s₀") * spacing("scion") * spacing("soil") * spacing("site").sqrt(),
        1e-12,
    );

    let excess = |symbol| of(plan, "yearly_excess_share", symbol);
    let sides = excess("V") * excess("x") / excess("w");
    let volume = sides + excess("z") * excess("u") * excess("v");
    assert_near(volume, excess("E"), 1e-9, "excess of a tree");
    near("yearly_excess_share", volume / (excess("V") + volume), 1e-9);
    // What lies beyond follows from the season too, but for trees of a row that differ by a twentieth.
    let wider = (excess("w′") + (excess("S∞") - excess("s")) * excess("g")).min(excess("D"));
    let beyond = (wider - excess("w")).max(0.0);
    assert!((beyond - excess("x")).abs() <= 0.03 * excess("w"), "{beyond} and {}", excess("x"));
    let taller = (excess("h′") + (excess("H∞") - excess("h′")) * excess("k")).min(excess("h"));
    let above = (taller - excess("H")).max(0.0);
    assert!((above - excess("z")).abs() <= 0.03 * excess("H"), "{above} and {}", excess("z"));

    let limbs = |symbol| of(plan, "yearly_excess_limbs", symbol);
    near("yearly_excess_limbs", limbs("n₁") * (limbs("z₁") - limbs("z₀")) * limbs("e"), 1e-12);
    let land = of(plan, "yearly_excess_per_land", "a") * of(plan, "yearly_excess_per_land", "b");
    near("yearly_excess_per_land", of(plan, "yearly_excess_per_land", "E") / land, 1e-12);
}

#[test]
fn workings_of_the_trees_can_be_done_by_hand() {
    for system in [TrainingSystem::TallSpindle, TrainingSystem::VerticalAxis, TrainingSystem::CentralLeader] {
        for (rootstock, pace) in [
            (Rootstock::G11, GrowthPace::Usual),
            (Rootstock::M26, GrowthPace::Slow),
            (Rootstock::MM111, GrowthPace::Quick),
        ] {
            for year in [0.0, 1.0, 5.0, 6.0, 12.0, 25.0] {
                let plan = planned(&Scenario::for_system(system).with(|s| {
                    (s.canopy.rootstock, s.canopy.growth_pace, s.canopy.year) = (rootstock, pace, year);
                }));
                if plan.canopy.year_filled.is_some() {
                    check(&plan);
                }
            }
        }
    }
}

/// The pace tells how soon a tree fills its space, not how hard it pushes once it is grown.
#[test]
fn grown_trees_of_every_pace_are_pruned_alike() {
    let at = |pace| {
        let grown = Scenario::default().with(|s| (s.canopy.growth_pace, s.canopy.year) = (pace, 20.0));
        figure(&planned(&grown), "yearly_excess_share")
    };
    assert_near(at(GrowthPace::Quick), at(GrowthPace::Usual), 1e-6, "quick");
    assert_near(at(GrowthPace::Slow), at(GrowthPace::Usual), 0.02, "slow");
}

/// What pruning takes of grown trees that go with their system, beside what is published: two to three limbs a tree
/// and year (Robinson demonstration, UMass 2009; Good Fruit Grower Sept 2016), 10 to 15 % of the wood (from memory). Narrow
/// walls, which crews or machines shear every year, lose a larger share of a smaller crown.
#[test]
fn grown_trees_lose_about_what_pruners_take() {
    for (system, shares, limbs) in [
        (TrainingSystem::TallSpindle, 0.10..=0.15, 2.0..=3.0),
        (TrainingSystem::Solaxe, 0.10..=0.15, 2.0..=3.0),
        (TrainingSystem::VerticalAxis, 0.10..=0.15, 2.0..=3.0),
        (TrainingSystem::SlenderSpindle, 0.10..=0.165, 2.0..=3.0),
        (TrainingSystem::BiAxis, 0.10..=0.165, 2.0..=3.1),
        (TrainingSystem::SuperSpindle, 0.15..=0.20, 2.0..=3.0),
        (TrainingSystem::VerticalTrellis, 0.20..=0.25, 3.0..=4.1),
    ] {
        let plan = planned(&Scenario::for_system(system).with(|s| s.canopy.year = 15.0));
        let (share, count) = (figure(&plan, "yearly_excess_share"), figure(&plan, "yearly_excess_limbs"));
        assert!(
            shares.contains(&share) && limbs.contains(&count),
            "{}: {share}, {count} limbs",
            system.label()
        );
    }
}
