//! What every chapter stands on: the field, the crowns over it, and the trellis that holds them.
//!
//! The ground is what the first slider moves, so it is computed whole at every step; all else waits until it is shown.

use crate::block::{self, Block};
use crate::canopy::{self, Canopy, CanopyYear};
use crate::kit::choice::Choice;
use crate::kit::figure::{self, Figure, Named, Working};
use crate::kit::finding::Advice;
use crate::kit::kept::Kept;
use crate::kit::message::Message;
use crate::kit::order::sort_by;
use crate::kit::ordering::OrderLine;
use crate::register::problem::Problem;
use crate::register::table::Note;
use crate::scenario::{Scenario, system_note};
use crate::trellis::{self, Trellis};
use std::sync::Arc;

/// Field, crowns and trellis of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Ground {
    /// What it was computed from.
    pub scenario: Scenario,
    /// The field with its rows and trees.
    pub block: Arc<Block>,
    /// The canopy over the years.
    pub canopy: Arc<Canopy>,
    /// The trellis, set out and counted.
    pub trellis: Arc<Trellis>,
}

/// What of the ground has been computed already. With an empty memory the results are the same; they only take longer.
#[derive(Clone, Debug, Default)]
pub struct Memory {
    block: Kept<block::Asked, Block>,
    growth: canopy::Memory,
    canopy: Kept<canopy::Asked, Canopy>,
    trellis: Kept<trellis::Asked, Trellis>,
}

impl Ground {
    /// The ground of a scenario.
    ///
    /// ```
    /// use planting::{Ground, Scenario, feet, ground::Memory};
    /// let mut memory = Memory::default();
    /// let ground = Ground::lay(&Scenario::default(), &mut memory).unwrap();
    /// assert_eq!(ground.block.tree_count(), 5200);
    /// let short = Scenario::default().with(|scenario| scenario.block.block_length = feet(50.0));
    /// assert_eq!(Ground::lay(&short, &mut memory).unwrap_err()[0].field, "block_length");
    /// ```
    ///
    /// # Errors
    /// The fields that are out of range, not finite, or at odds with each other.
    pub fn lay(scenario: &Scenario, memory: &mut Memory) -> Result<Ground, Vec<Problem>> {
        let problems = scenario.problems();
        if !problems.is_empty() {
            return Err(problems);
        }
        let block = memory.block.get(block_asked(scenario), Block::lay_out);
        let canopy = memory.canopy.get_with(canopy_asked(scenario), &mut memory.growth, Canopy::grow_with);
        let trellis = memory.trellis.get(trellis_asked(scenario, &block), Trellis::count);
        Ok(Ground { scenario: scenario.clone(), block, canopy, trellis })
    }

    /// The figure with this key.
    ///
    /// ```
    /// use planting::{Ground, Scenario, ground::Memory};
    /// let ground = Ground::lay(&Scenario::default(), &mut Memory::default()).unwrap();
    /// // Per square metre, whatever the reader's units.
    /// let trees = ground.figure("trees_per_acre").unwrap().value.unwrap();
    /// assert!((trees * 4046.8564224 - 1210.0).abs() < 1e-6);
    /// assert!(ground.figure("no_such_figure").is_none());
    /// ```
    pub fn figure(&self, key: &str) -> Option<Figure> {
        figure::find(block::figures::FIGURES, key, &self.block)
            .or_else(|| figure::find(canopy::figures::FIGURES, key, &self.canopy))
            .or_else(|| figure::find(trellis::figures::FIGURES, key, &self.trellis))
    }

    /// Every figure, in reading order.
    pub fn figures(&self) -> Vec<Figure> {
        self.figures_with(Vec::new())
    }

    /// Every figure of the ground, and with them those of rooms, which are read between the crowns and the trellis.
    pub fn figures_with(&self, of_rooms: Vec<Figure>) -> Vec<Figure> {
        let mut figures = figure::all(block::figures::FIGURES, &self.block);
        figures.extend(figure::all(canopy::figures::FIGURES, &self.canopy));
        figures.extend(of_rooms);
        figures.extend(figure::all(trellis::figures::FIGURES, &self.trellis));
        figures
    }

    /// How the figure with this key comes about.
    ///
    /// ```
    /// use planting::{Ground, Scenario, ground::Memory};
    /// let ground = Ground::lay(&Scenario::default(), &mut Memory::default()).unwrap();
    /// assert_eq!(ground.working("trees_per_acre").unwrap().formula, "N = 43,560 sq ft ÷ (a × b)");
    /// ```
    pub fn working(&self, key: &str) -> Option<Working> {
        block::workings::working_of(key, &self.block)
            .or_else(|| canopy::workings::working_of(key, &self.canopy))
            .or_else(|| trellis::workings::working_of(key, &self.trellis))
    }

    /// What the rules find, the gravest first.
    pub fn advice(&self) -> Vec<Advice> {
        let mut found: Vec<Advice> = Vec::new();
        found.extend(canopy::advice::RULES.iter().filter_map(|rule| rule(&self.canopy)));
        found.extend(trellis::advice::RULES.iter().filter_map(|rule| rule(&self.trellis)));
        found.extend(block::advice::RULES.iter().filter_map(|rule| rule(&self.block)));
        gravest_first(&mut found);
        found
    }

    /// What is to be ordered: trees, then what they stand by.
    ///
    /// ```
    /// use planting::{Ground, Scenario, ground::Memory};
    /// let ground = Ground::lay(&Scenario::default(), &mut Memory::default()).unwrap();
    /// let orders = ground.orders();
    /// assert_eq!((orders.len(), orders[0].figure), (8, "trees_in_block"));
    /// ```
    pub fn orders(&self) -> Vec<OrderLine> {
        let rootstock = self.scenario.canopy.rootstock.label();
        let trees =
            OrderLine { figure: TREES, which: Message::new("{0}, no spares counted", [rootstock.into()]) };
        std::iter::once(trees).chain(trellis::orders::orders(&self.trellis)).collect()
    }

    /// The canopy at the end of the last year.
    ///
    /// ```
    /// use planting::{Ground, Scenario, ground::Memory};
    /// let ground = Ground::lay(&Scenario::default(), &mut Memory::default()).unwrap();
    /// assert_eq!(ground.last_year().year, 25.0);
    /// ```
    pub fn last_year(&self) -> CanopyYear {
        self.canopy.years.last().copied().unwrap_or(self.canopy.shown)
    }
}

/// Whether the figure with this key says how much of something is to be ordered.
///
/// ```
/// use planting::ground::is_ordered;
/// assert!(is_ordered("line_posts") && !is_ordered("trees_per_acre"));
/// ```
pub fn is_ordered(key: &str) -> bool {
    key == TREES || trellis::orders::ORDERED.contains(&key)
}

/// The key of the figure that says how many trees are to be ordered.
const TREES: &str = "trees_in_block";

/// Puts findings in the order they are read.
pub fn gravest_first(found: &mut Vec<Advice>) {
    sort_by(found, |one, other| one.severity.cmp(&other.severity));
}

/// The names of all figures of the ground, those of other plans included.
pub fn names() -> Vec<Named> {
    let mut names = figure::names(block::figures::FIGURES);
    names.extend(figure::names(canopy::figures::FIGURES));
    names.extend(figure::names(trellis::figures::FIGURES));
    names
}

/// What is told of an input of the ground when somebody asks.
///
/// ```
/// let note = planting::ground::note("row_width").unwrap();
/// assert!(!note.help.is_empty());
/// assert!(planting::ground::note("no_such_input").is_none());
/// ```
pub fn note(key: &str) -> Option<Note> {
    system_note(key)
        .or_else(|| block::inputs::note(key))
        .or_else(|| canopy::inputs::note(key))
        .or_else(|| trellis::inputs::note(key))
}

/// What the block asks of a scenario.
pub fn block_asked(scenario: &Scenario) -> block::Asked {
    block::Asked { inputs: scenario.block, system: scenario.system }
}

/// What the canopy asks of a scenario.
pub fn canopy_asked(scenario: &Scenario) -> canopy::Asked {
    canopy::Asked {
        inputs: scenario.canopy,
        system: scenario.system,
        spacing: scenario.block.spacing(),
        row_azimuth: scenario.block.row_azimuth,
        tractor_width: scenario.block.tractor_width,
        standing: scenario.trellis.support.standing(),
        top_wire: scenario.trellis.top_wire(),
    }
}

/// What the trellis asks of a scenario and the block.
pub fn trellis_asked(scenario: &Scenario, block: &Block) -> trellis::Asked {
    let trees = &scenario.canopy;
    trellis::Asked {
        inputs: scenario.trellis.clone(),
        system: scenario.system,
        runs: Arc::clone(&block.runs),
        spacing: scenario.block.spacing(),
        headland: scenario.block.headland,
        tractor_width: scenario.block.tractor_width,
        trees: trellis::Trees {
            lean: trees.lean,
            height: trees.tree_height,
            canopy_width: trees.canopy_width,
            rootstock: trees.rootstock.label(),
            need: trees.rootstock.support_need(),
        },
    }
}
