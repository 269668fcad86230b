//! The work of the year by stage of growth, from two years before planting on. Cautions only: labels and local guidance come
//! first, and where sources conflict both are named.

use crate::kit::figure::Source;

/// When something falls due.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Two years before planting.
    TwoYearsBefore,
    /// The year before planting.
    YearBefore,
    /// Planting.
    Planting,
    /// Winter rest.
    Dormant,
    /// From green tip to bloom.
    GreenTip,
    /// Bloom.
    Bloom,
    /// From petal fall through June drop.
    FruitSet,
    /// Summer.
    Summer,
    /// Harvest.
    Harvest,
    /// After leaf fall.
    LeafFall,
}

impl Stage {
    /// The word shown for it.
    pub fn label(self) -> &'static str {
        match self {
            Stage::TwoYearsBefore => "Two years before planting",
            Stage::YearBefore => "The year before planting",
            Stage::Planting => "Planting",
            Stage::Dormant => "Winter rest",
            Stage::GreenTip => "Green tip to bloom",
            Stage::Bloom => "Bloom",
            Stage::FruitSet => "Petal fall to June drop",
            Stage::Summer => "Summer",
            Stage::Harvest => "Harvest",
            Stage::LeafFall => "After leaf fall",
        }
    }
}

/// One entry of the calendar.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Due {
    /// When.
    pub stage: Stage,
    /// What, in a sentence or two.
    pub what: &'static str,
    /// Who says so.
    pub source: Source,
}

const fn due(stage: Stage, what: &'static str, source: Source) -> Due {
    Due { stage, what, source }
}

const PRACTICE: Source = Source::practice("Common practice, no source");

/// The calendar, in the order of the work.
pub static CALENDAR: &[Due] = &[
    due(Stage::TwoYearsBefore, "Order trees: a stock that was grafted to order takes two years.", PRACTICE),
    due(
        Stage::TwoYearsBefore,
        "Have the soil tested, drain wet spots, and plan how replant ground is rested.",
        PRACTICE,
    ),
    due(Stage::YearBefore, "Set out rows and order posts, wire and anchors.", PRACTICE),
    due(
        Stage::Planting,
        "Keep the union above the ground after settling: where it sinks, the scion roots and the stock no longer holds the tree small.",
        Source::published("Crassweller (Penn State), eXtension: union 3 to 6 in above the soil"),
    ),
    due(
        Stage::Planting,
        "Support brittle unions before the first growth.",
        Source::published(
            "US land-grant eXtension rootstock sheets; Higgins et al. (WSU), Good Fruit Grower",
        ),
    ),
    due(
        Stage::Planting,
        "Cut off feathers thicker than half the leader, tie the others below the horizontal, and leave the leader whole.",
        Source::published("Good Fruit Grower July 2015; Robinson, Fruit Growers News 2007"),
    ),
    due(
        Stage::Dormant,
        "Prune annual bearers first, biennial ones last. Just-pruned wood is tender for two days if it turns cold suddenly.",
        Source::published(
            "Cornell ENYCHP, delayed dormant pruning; ONfruit, Cutting limbs could cut your revenue",
        ),
    ),
    due(
        Stage::Dormant,
        "Cut fire blight 6 to 12 in below the canker.",
        Source::published(
            "Cornell and Illinois Extension, fire blight pages; the label and local guidance come first",
        ),
    ),
    due(
        Stage::Dormant,
        "Look at vole guards: hardware cloth 18 in high and above the snow, snug to the soil, with room for the trunk.",
        Source::published("eXtension 2011, vole guards"),
    ),
    due(Stage::Dormant, "Set ladders on firm ground; mind ice.", PRACTICE),
    due(
        Stage::GreenTip,
        "Three to four weeks to count flower clusters and prune biennial cultivars to their number.",
        Source::published("Cornell ENYCHP, delayed dormant pruning of biennial cultivars"),
    ),
    due(
        Stage::Bloom,
        "Warm, wet bloom is when fire blight enters. Young, strong, dense trees on susceptible stocks are most exposed.",
        Source::published("Rosenberger & Turechek (Cornell) 2004; Ontario, Summer management of fire blight"),
    ),
    due(
        Stage::FruitSet,
        "Thin early: what is left hanging takes next year's bloom as well as this year's size.",
        Source::published("Robinson (Cornell), Crop load management for consistent production of Honeycrisp"),
    ),
    due(
        Stage::Summer,
        "Strikes of fire blight: sources conflict. Cornell cuts promptly in young orchards, Purdue rather waits until growth stops. Ask locally.",
        Source::published("Cornell extension, fire blight; Purdue, After fire blight has struck"),
    ),
    due(
        Stage::Summer,
        "Hail, storms and fresh cuts let fire blight in after bloom.",
        Source::published("Rosenberger & Turechek (Cornell) 2004"),
    ),
    due(
        Stage::Summer,
        "Light summer pruning from late July to early August lets light to the fruit; later cuts as few as can be.",
        Source::published("Utah State University Extension, When to prune"),
    ),
    due(Stage::Harvest, "Ladders on firm ground, bins out of the wheel tracks.", PRACTICE),
    due(
        Stage::LeafFall,
        "Don't prune yet: trunk and union harden last.",
        Source::published("ONfruit, Cutting limbs could cut your revenue; Utah State University Extension"),
    ),
    due(
        Stage::LeafFall,
        "Mow and draw mulch off the trunks before voles move in.",
        Source::published("eXtension 2011, vole guards"),
    ),
];

/// What falls due in a stage.
///
/// ```
/// use planting::crop::calendar::{Stage, of_stage};
/// assert!(of_stage(Stage::Summer).any(|due| due.what.contains("sources conflict")));
/// ```
pub fn of_stage(stage: Stage) -> impl Iterator<Item = &'static Due> {
    CALENDAR.iter().filter(move |due| due.stage == stage)
}
