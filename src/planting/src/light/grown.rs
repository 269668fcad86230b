//! The planting once it is grown: what its light leaves to be wished for, and what would cure it.
//!
//! Cures are found by trying: one length is changed, the trees are grown again, their light is summed
//! again, and the smallest change that is enough is closed in on. A cure that would take a
//! length out of its range is no cure. Leaf area density is held throughout.

use super::season::{Band, Sampling, in_crowns, interception};
use super::sky::Directions;
use super::{Inputs, Site};
use crate::canopy::crown_in_year;
use crate::order::within;
use crate::quantity::feet;
use crate::scenario::registry::{Kind, parameter};
use crate::scenario::{LAST_YEAR, Scenario};

/// Share of the crown's volume too dark for flower buds beyond which its middle is called dark. Nobody's
/// threshold but this project's: half the crown, about twice what model and literature give trellised trees.
pub const DARK_SHARE: f64 = 0.50;

/// Share intercepted below which light is called wasted, in this model of leaves alone: the 60 % up to
/// which yield rises (Wünsche & Lakso 2000), less the 15 points by which such models read low at most.
pub const LOW_INTERCEPTION: f64 = 0.45;

/// Share of the light of the lowest third of the crown that neighbouring rows may take: about what they
/// take where tall spindles stand as high as their rows are wide, the published limit, at 42° in this model.
pub const SHADING_SHARE: f64 = 0.20;

/// A row with no neighbours, for all that reaches it `[row widths]`.
const ALONE: f64 = 1e3;
/// Trials of a search at most.
const MOST_TRIALS: u32 = 10;
/// How far inside what is good a search aims `[–]`.
const HAIR_INSIDE: f64 = 0.001;

/// The light of the grown planting, with cures for what is wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct Grown {
    /// Share intercepted `[–]`.
    pub intercepted: f64,
    /// The whole crown.
    pub crown: Band,
    /// The lowest third of its height.
    pub lowest: Band,
    /// Share of the lowest third's light that neighbouring rows take `[–]`.
    pub shaded_by_rows: f64,
    /// Where more than [`DARK_SHARE`] is dark: a lower tree, a narrower canopy that cures it `[m]`.
    pub brighter: Option<Brighter>,
    /// Where too little is intercepted: closer rows, a taller tree, a wider canopy that cure it `[m]`.
    pub fuller: Option<Fuller>,
    /// Where rows shade each other: rows farther apart, or a lower tree, that cure it `[m]`.
    pub apart: Option<Apart>,
}

/// What lets light into the middle; each by itself, where it can.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Brighter {
    /// Tree height `[m]`.
    pub tree_height: Option<f64>,
    /// Canopy width `[m]`.
    pub canopy_width: Option<f64>,
    /// Row width `[m]`.
    pub row_width: Option<f64>,
}

/// What catches more light; each by itself, where it can.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fuller {
    /// Row width `[m]`.
    pub row_width: Option<f64>,
    /// Tree height `[m]`.
    pub tree_height: Option<f64>,
    /// Canopy width `[m]`.
    pub canopy_width: Option<f64>,
}

/// What keeps rows out of each other's shade; each by itself, where it can.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Apart {
    /// Row width `[m]`.
    pub row_width: Option<f64>,
    /// Tree height `[m]`.
    pub tree_height: Option<f64>,
}

impl Grown {
    /// Of a scenario whose fields have been checked.
    pub fn of(scenario: &Scenario) -> Grown {
        let directions = Directions::of(&Site::of(scenario), Sampling::COARSE.fineness);
        let look = Look { directions: &directions };
        let inputs = look.grown(scenario);
        let crowns = in_crowns(&inputs, &directions, &Sampling::COARSE);
        let intercepted = look.intercepted(scenario);
        let dark = crowns.whole.under[0] > DARK_SHARE;
        let thin = intercepted < LOW_INTERCEPTION;
        let shaded_by_rows = look.taken_by_neighbours(&inputs, crowns.thirds[0].mean);
        let free_alley = scenario.tractor_width + feet(2.0);
        Grown {
            intercepted,
            crown: crowns.whole,
            lowest: crowns.thirds[0],
            shaded_by_rows,
            brighter: dark.then(|| {
                let excess = |tried: &Scenario| look.dark_share(tried) - DARK_SHARE;
                Brighter {
                    tree_height: reach("tree_height", scenario, lowest_tree(scenario), excess),
                    canopy_width: reach("canopy_width", scenario, 0.0, excess),
                    row_width: reach("row_width", scenario, f64::MAX, excess),
                }
            }),
            fuller: thin.then(|| {
                let excess = |tried: &Scenario| LOW_INTERCEPTION - look.intercepted(tried);
                // Never closer than machines can pass, never taller than rows are wide.
                let span = 2.0 * inputs.array.half_span();
                Fuller {
                    row_width: reach("row_width", scenario, span + free_alley.value, excess),
                    tree_height: reach("tree_height", scenario, scenario.row_width.value, excess),
                    canopy_width: reach(
                        "canopy_width",
                        scenario,
                        (scenario.row_width - free_alley).value.min(feet(8.0).value),
                        excess,
                    ),
                }
            }),
            apart: (shaded_by_rows > SHADING_SHARE).then(|| {
                let excess = |tried: &Scenario| look.shaded_by_rows(tried) - SHADING_SHARE;
                Apart {
                    row_width: reach("row_width", scenario, f64::MAX, excess),
                    tree_height: reach("tree_height", scenario, lowest_tree(scenario), excess),
                }
            }),
        }
    }
}

fn lowest_tree(scenario: &Scenario) -> f64 {
    (scenario.crown_base + feet(1.0)).value
}

/// The grown planting of any scenario at one site, seen coarsely.
struct Look<'a> {
    directions: &'a Directions,
}

impl Look<'_> {
    fn grown(&self, scenario: &Scenario) -> Inputs {
        Inputs::of(scenario, &crown_in_year(scenario, LAST_YEAR))
    }

    fn dark_share(&self, scenario: &Scenario) -> f64 {
        in_crowns(&self.grown(scenario), self.directions, &Sampling::COARSE).whole.under[0]
    }

    fn intercepted(&self, scenario: &Scenario) -> f64 {
        interception(&self.grown(scenario), self.directions, &Sampling::COARSE)
    }

    fn shaded_by_rows(&self, scenario: &Scenario) -> f64 {
        let inputs = self.grown(scenario);
        let among = in_crowns(&inputs, self.directions, &Sampling::COARSE).thirds[0].mean;
        self.taken_by_neighbours(&inputs, among)
    }

    /// Of the light the lowest third would get in a row by itself, from what it gets among others.
    fn taken_by_neighbours(&self, inputs: &Inputs, among: f64) -> f64 {
        let mut alone = *inputs;
        alone.array.row_width *= ALONE;
        let alone = in_crowns(&alone, self.directions, &Sampling::COARSE).thirds[0].mean;
        (1.0 - among / alone.max(f64::MIN_POSITIVE)).max(0.0)
    }
}

/// The value of a length nearest to the present one that is good, on the way to a limit and in range;
/// none where even the limit isn't good, or lies the other way. Good is where nothing is in excess.
///
/// False position, with the Illinois rule against creeping up from one side (Dowell & Jarratt 1971), and
/// aimed a hair inside what is good, so that few trials are enough.
fn reach(key: &str, scenario: &Scenario, limit: f64, excess: impl Fn(&Scenario) -> f64) -> Option<f64> {
    let Kind::Number(number) = parameter(key)?.kind else { return None };
    let now = (number.get)(scenario);
    let limit = within(limit, number.min, number.max);
    let tried = |value: f64| {
        let mut changed = scenario.clone();
        (number.set)(&mut changed, value);
        excess(&changed)
    };
    let mut enough = (limit, tried(limit));
    if enough.1 > 0.0 {
        return None;
    }
    let (mut bad, mut nearest) = ((now, tried(now)), limit);
    let mut last_was_good = None;
    for _ in 0..MOST_TRIALS {
        let (high, low) = (bad.1 + HAIR_INSIDE, enough.1 + HAIR_INSIDE);
        let share = if high > low { within(high / (high - low), 0.02, 0.98) } else { 0.5 };
        let value = bad.0 + (enough.0 - bad.0) * share;
        let found = tried(value);
        let good = found <= 0.0;
        if good {
            (enough, nearest) = ((value, found), value);
        } else {
            bad = (value, found);
        }
        if good && found > -2.0 * HAIR_INSIDE {
            break;
        }
        // An end that stays put twice counts half.
        match (last_was_good, good) {
            (Some(true), true) => bad.1 /= 2.0,
            (Some(false), false) => enough.1 /= 2.0,
            _ => {}
        }
        last_was_good = Some(good);
    }
    Some(nearest)
}
