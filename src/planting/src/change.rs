//! What a change did to the ground, in one plain sentence: the effect first, then what it costs or gains.
//!
//! Parts of a sentence are told apart, so that whoever shows them can set the first off. Differences are said in words ("302 fewer",
//! "a year later"), never by signs. Told of are the figures a grower looks at first; a change that moves none of them is said to move
//! none.

use crate::ground::Ground;
use crate::kit::message::{Message, Slot};
use crate::kit::quantity::{Quantity, SQUARE_METRES_PER_ACRE, SQUARE_METRES_PER_HECTARE};

/// The unit of land a reader counts trees on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Land {
    /// Readers of US units.
    Acre,
    /// Readers of metric units.
    Hectare,
}

/// The most parts of a sentence.
const PARTS: usize = 2;

/// Half of a tree, a point or a post: less isn't told of.
const HALF: f64 = 0.5;
/// Shortest length told of `[m]`: half of what a reader of US units can set.
const LEAST_LENGTH: f64 = 0.03;
/// Shortest time told of `[years]`: less would be written as nothing.
const LEAST_TIME: f64 = 0.05;

/// What became of a number, in words for more and for less of it.
struct Told {
    more: &'static str,
    less: &'static str,
    quantity: Quantity,
    least: f64,
}

impl Told {
    fn of(&self, before: f64, after: f64) -> Option<Message> {
        let change = after - before;
        (change.abs() >= self.least).then(|| {
            let template = if change > 0.0 { self.more } else { self.less };
            Message::new(template, [Slot::Number(change.abs(), self.quantity)])
        })
    }
}

const fn line(more: &'static str, less: &'static str, quantity: Quantity, least: f64) -> Told {
    Told { more, less, quantity, least }
}

const PER_ACRE: Told = line("{0} more trees per acre", "{0} fewer trees per acre", Quantity::Count, HALF);
const PER_HECTARE: Told =
    line("{0} more trees per hectare", "{0} fewer trees per hectare", Quantity::Count, HALF);
const CLOSES: Told =
    line("the row closes {0} years later", "the row closes {0} years sooner", Quantity::Years, LEAST_TIME);
const TOP_WIRE: Told =
    line("the top wire hangs {0} higher", "the top wire hangs {0} lower", Quantity::Length, LEAST_LENGTH);
const HEIGHT: Told =
    line("the trees stand {0} higher", "the trees stand {0} lower", Quantity::Length, LEAST_LENGTH);
const ALLEY: Told =
    line("the alley is {0} wider", "the alley is {0} narrower", Quantity::Length, LEAST_LENGTH);
const CUT: Told = line(
    "{0} points more of the crown must be cut away each year",
    "{0} points less of the crown must be cut away each year",
    Quantity::Count,
    HALF,
);
const FILL: Told = line(
    "the crowns fill {0} points more of their space",
    "the crowns fill {0} points less of their space",
    Quantity::Count,
    HALF,
);
const TREES: Told =
    line("{0} more trees in the block", "{0} fewer trees in the block", Quantity::Count, HALF);
const POSTS: Told = line("{0} more line posts", "{0} fewer line posts", Quantity::Count, HALF);
const WIRE: Told = line("{0} more wire to string", "{0} less wire to string", Quantity::Length, LEAST_LENGTH);

/// What a change did, at most two parts of a sentence without its full stop.
///
/// ```
/// use planting::{Ground, Scenario, change::{Land, told}, feet, ground::Memory};
/// let lay = |scenario: &Scenario| Ground::lay(scenario, &mut Memory::default()).unwrap();
/// let (near, far) = (Scenario::default(), Scenario::default().with(|s| s.block.in_row_spacing = feet(4.0)));
/// let parts = told(&lay(&near), &lay(&far), Land::Acre);
/// assert_eq!(parts[0].template, "{0} fewer trees per acre");
/// assert_eq!(parts[1].template, "the row closes {0} years later");
/// ```
pub fn told(before: &Ground, after: &Ground, land: Land) -> Vec<Message> {
    let figure = |ground: &Ground, key: &str| ground.figure(key).and_then(|figure| figure.value);
    let both = |key: &str| figure(before, key).zip(figure(after, key));
    let scaled = |key: &str, by: f64| both(key).map(|(before, after)| (before * by, after * by));
    let (density, key, one) = match land {
        Land::Acre => (&PER_ACRE, "trees_per_acre", SQUARE_METRES_PER_ACRE),
        Land::Hectare => (&PER_HECTARE, "trees_per_hectare", SQUARE_METRES_PER_HECTARE),
    };
    let top_wire = |ground: &Ground| ground.scenario.trellis.top_wire().map(|wire| wire.value);
    let told =
        |line: &Told, numbers: Option<(f64, f64)>| numbers.and_then(|(before, after)| line.of(before, after));
    let parts = [
        told(density, scaled(key, one)),
        closing(figure(before, "years_to_fill"), figure(after, "years_to_fill")),
        told(&TOP_WIRE, top_wire(before).zip(top_wire(after))),
        told(&HEIGHT, both("tree_height_now")),
        told(&ALLEY, both("clear_alley")),
        told(&CUT, scaled("yearly_excess_share", 100.0)),
        told(&FILL, scaled("canopy_fill", 100.0)),
        told(&TREES, both("trees_in_block")),
        told(&POSTS, both("line_posts")),
        told(&WIRE, both("wire_strung")),
    ];
    let parts: Vec<Message> = parts.into_iter().flatten().take(PARTS).collect();
    if parts.is_empty() { vec![Message::plain("counts and sizes stay as they were")] } else { parts }
}

/// What became of the year in which the row closes.
fn closing(before: Option<f64>, after: Option<f64>) -> Option<Message> {
    match (before, after) {
        (Some(before), Some(after)) if ((after - before).abs() - 1.0).abs() < LEAST_TIME => {
            let later = after > before;
            Some(Message::plain(if later {
                "the row closes a year later"
            } else {
                "the row closes a year sooner"
            }))
        }
        (Some(before), Some(after)) => CLOSES.of(before, after),
        (Some(_), None) => Some(Message::plain("the row no longer closes within 25 years")),
        (None, Some(after)) => {
            Some(Message::new("the row now closes, in year {0}", [Slot::Number(after, Quantity::Years)]))
        }
        (None, None) => None,
    }
}

/// What is seen where nothing has been changed yet, and one thing to try.
///
/// ```
/// use planting::{Ground, Scenario, change::seen, ground::Memory};
/// let ground = Ground::lay(&Scenario::default(), &mut Memory::default()).unwrap();
/// assert_eq!(seen(&ground).len(), 2);
/// ```
pub fn seen(ground: &Ground) -> Vec<Message> {
    let shown = &ground.canopy.shown;
    let year = Slot::Number(shown.year, Quantity::Years);
    let is_closed = ground.canopy.year_filled.is_some_and(|filled| filled <= shown.year);
    let row = if is_closed { "year {0}: the row has closed" } else { "year {0}: the row is still open" };
    vec![Message::new(row, [year]), Message::plain("move a spacing and see what it does")]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Memory;
    use crate::{Rootstock, Scenario, feet};

    fn templates(change: impl FnOnce(&mut Scenario)) -> Vec<&'static str> {
        let lay = |scenario: &Scenario| Ground::lay(scenario, &mut Memory::default()).expect("a plan");
        let start = Scenario::default();
        let parts = told(&lay(&start), &lay(&start.clone().with(change)), Land::Acre);
        parts.iter().map(|part| part.template).collect()
    }

    /// A narrower alley leaves more rows on the same land; a change of direction moves nothing that is told of.
    #[test]
    fn the_effect_comes_first() {
        type Edit = fn(&mut Scenario);
        let checks: [(&[&str], Edit); 6] = [
            (&["{0} fewer trees per acre", "the row closes {0} years later"], |s| {
                s.block.in_row_spacing = feet(4.0)
            }),
            (&["{0} more trees per acre", "the alley is {0} narrower"], |s| s.block.row_width = feet(11.0)),
            (&["the top wire hangs {0} higher"], |s| {
                if let Some(top) = s.trellis.wire_heights.last_mut() {
                    *top = feet(10.0);
                }
            }),
            (&["the alley is {0} narrower"], |s| s.canopy.canopy_width = feet(6.0)),
            (&["{0} more trees in the block"], |s| s.block.block_length = feet(800.0)),
            (&["counts and sizes stay as they were"], |_| {}),
        ];
        for (parts, change) in checks {
            let found = templates(change);
            assert!(found.starts_with(parts), "{found:?} doesn't begin with {parts:?}");
            assert!(found.len() <= PARTS);
        }
        let stronger = templates(|s| s.canopy.rootstock = Rootstock::M7);
        assert!(stronger.iter().any(|part| part.contains("sooner")), "{stronger:?}");
    }

    #[test]
    fn a_row_that_closes_a_year_later_and_one_that_never_does() {
        for (before, after, template) in [
            (Some(2.5), Some(3.5), "the row closes a year later"),
            (Some(3.5), Some(2.5), "the row closes a year sooner"),
            (Some(2.5), None, "the row no longer closes within 25 years"),
            (None, Some(4.0), "the row now closes, in year {0}"),
        ] {
            assert_eq!(closing(before, after).map(|part| part.template), Some(template));
        }
        assert_eq!(closing(Some(2.5), Some(2.52)), None);
    }
}
