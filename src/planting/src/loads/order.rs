//! What is to be ordered for a block, with hours and cost.
//!
//! | item | counted as |
//! |---|---|
//! | line posts | whole, row by row |
//! | end posts, anchors | two of each row and side |
//! | brace posts, rails | one of each span of each row end |
//! | wire | wires × (row + 2 tails of 4 ft) × (1 + wastage) |
//! | guys, brace wires | strands × length + 4 ft, × (1 + wastage) |
//! | coils | ⌈all wire ÷ 4,000 ft⌉, and as many as there must be if no wire is spliced |
//! | tensioners | one on each wire of each row |
//! | staples | one on each wire at each line post, two at each end post; 60 to the pound (UGA) |
//! | sleeves | two at each of the two fastenings of each wire |
//! | clips | one on each stake at each wire |
//! | ties | one on each tree at each wire |
//!
//! Tails, wastage, coils, sleeves, clips and ties are common practice without a source. Prices are examples until somebody puts in their own.

use super::ends::{BraceSpans, RowEnd};
use super::inputs::Inputs;
use super::labour::{Labour, Pieces};
use super::trellis::{Asked, Frame};
use super::weakest::BRACE_STRANDS;
use crate::kit::count::{as_number, whole_steps};
use crate::kit::money::Cents;
use crate::kit::quantity::{Quantity, feet};
use uom::si::f64::{Length, Mass};
use uom::si::length::meter;

/// Wire left over at each end of a wire for fastening `[ft]`.
const TAIL_FT: f64 = 4.0;
/// Length of a coil `[ft]`.
const COIL_FT: f64 = 4_000.0;
/// Wire beyond whole coils that asks for no coil more, a rounding of feet in metres `[m]`.
const COIL_TOLERANCE: f64 = 1e-6;
/// Staples of 1¾ in in a pound (UGA, Sumner).
const STAPLES_A_POUND: f64 = 60.0;
const STAPLES_AT_END: usize = 2;
const SLEEVES_A_WIRE: usize = 4;

/// What is ordered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Item {
    /// Line posts.
    LinePosts,
    /// End posts.
    EndPosts,
    /// Brace posts.
    BracePosts,
    /// Rails with their pins.
    Rails,
    /// Screw anchors.
    Anchors,
    /// Coils of wire, that of guys and braces included.
    Coils,
    /// Tensioners.
    Tensioners,
    /// Pounds of staples.
    Staples,
    /// Crimp sleeves.
    Sleeves,
    /// Clips from stakes to wires.
    Clips,
    /// Tree ties.
    Ties,
    /// Stakes or posts at single trees.
    Stakes,
    /// Hours of work.
    Work,
}

impl Item {
    /// What it is called.
    pub fn label(self) -> &'static str {
        match self {
            Item::LinePosts => "Line posts",
            Item::EndPosts => "End posts",
            Item::BracePosts => "Brace posts",
            Item::Rails => "Rails with pins",
            Item::Anchors => "Screw anchors",
            Item::Coils => "Coils of wire, 4,000 ft",
            Item::Tensioners => "Wire tensioners",
            Item::Staples => "Staples, pounds",
            Item::Sleeves => "Crimp sleeves",
            Item::Clips => "Stake clips",
            Item::Ties => "Tree ties",
            Item::Stakes => "Stakes or posts at trees",
            Item::Work => "Hours of work",
        }
    }

    /// The input that says what one costs.
    pub fn price_key(self) -> &'static str {
        match self {
            Item::LinePosts => "price_line_post",
            Item::EndPosts | Item::BracePosts => "price_end_post",
            Item::Rails => "price_rail",
            Item::Anchors => "price_anchor",
            Item::Coils => "price_coil",
            Item::Tensioners => "price_tensioner",
            Item::Staples => "price_staples",
            Item::Sleeves | Item::Clips => "price_sleeve",
            Item::Ties => "price_tie",
            Item::Stakes => "price_stake",
            Item::Work => "price_hour",
        }
    }

    /// What one costs `[US dollars]`.
    pub fn price(self, inputs: &Inputs) -> f64 {
        match self {
            Item::LinePosts => inputs.price_line_post,
            Item::EndPosts | Item::BracePosts => inputs.price_end_post,
            Item::Rails => inputs.price_rail,
            Item::Anchors => inputs.price_anchor,
            Item::Coils => inputs.price_coil,
            Item::Tensioners => inputs.price_tensioner,
            Item::Staples => inputs.price_staples,
            Item::Sleeves | Item::Clips => inputs.price_sleeve,
            Item::Ties => inputs.price_tie,
            Item::Stakes => inputs.price_stake,
            Item::Work => inputs.price_hour,
        }
    }
}

/// One line of the bill.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// What.
    pub item: Item,
    /// How many, pounds of staples and hours of work included.
    pub amount: f64,
    /// What kind of number that is.
    pub quantity: Quantity,
    /// The same on planted land; none where no trees stand `[1/m²]`.
    pub per_land: Option<f64>,
    /// What all of it costs, in whole cents.
    pub cost: Cents,
}

/// What is ordered for a block.
#[derive(Clone, Debug, PartialEq)]
pub struct Bill {
    /// Brace posts.
    pub brace_posts: usize,
    /// Rails, with two pins each.
    pub rails: usize,
    /// Trellis wire, tails and wastage included `[m]`.
    pub wire: Length,
    /// Wire for guys and braces, wastage included `[m]`.
    pub guy: Length,
    /// All wire `[kg]`.
    pub wire_mass: Mass,
    /// Coils for all wire.
    pub coils: usize,
    /// Coils for the trellis wire if no wire of a row is spliced; none where a row is longer than a coil.
    pub coils_unspliced: Option<usize>,
    /// Staples.
    pub staples: usize,
    /// Pounds of staples, whole.
    pub staple_pounds: usize,
    /// Crimp sleeves.
    pub sleeves: usize,
    /// Clips from stakes to wires.
    pub clips: usize,
    /// Tree ties.
    pub ties: usize,
    /// Hours of work.
    pub labour: Labour,
    /// Every line that costs, those of nothing left out.
    pub lines: Vec<Line>,
    /// All lines together.
    pub total: Cents,
}

impl Bill {
    /// For a trellis; where there are no wires, for its stakes.
    ///
    /// ```
    /// use planting::{Ground, Scenario, ground::Memory};
    /// use planting::loads::{Bill, Inputs, Item, asks};
    /// let scenario = Scenario::default();
    /// let ground = Ground::lay(&scenario, &mut Memory::default()).unwrap();
    /// let bill = Bill::of(&asks::asked(&ground, &Inputs::usual(scenario.system), None));
    /// // 26 rows of 19 line posts.
    /// assert_eq!((bill.lines[0].item, bill.lines[0].amount), (Item::LinePosts, 494.0));
    /// ```
    pub fn of(asked: &Asked) -> Bill {
        let counts = Counts::of(asked);
        let over = asked.inputs.wastage.value + 1.0;
        let (wire, guy) = (counts.wire_with_tails * over, counts.guy * over);
        let staple_pounds = whole_up(as_number(counts.staples) / STAPLES_A_POUND);
        let beyond_rounding = wire + guy - Length::new::<meter>(COIL_TOLERANCE);
        let coils = whole_up((beyond_rounding / feet(COIL_FT)).value);
        let labour = Labour::of(&counts.pieces);
        let mut bill = Bill {
            brace_posts: counts.brace_posts,
            rails: counts.brace_posts,
            wire,
            guy,
            wire_mass: asked.wire().mass() * (wire + guy),
            coils,
            coils_unspliced: unspliced(asked, counts.wires),
            staples: counts.staples,
            staple_pounds,
            sleeves: counts.sleeves,
            clips: counts.clips,
            ties: counts.ties,
            labour,
            lines: Vec::new(),
            total: Cents(0),
        };
        bill.lines = lines(asked, &counts, &bill);
        bill.total = bill.lines.iter().map(|line| line.cost).sum();
        bill
    }
}

/// Counts of the pieces of a trellis, and lengths of its wire without wastage.
#[derive(Default)]
struct Counts {
    /// Wires of a row, both sides together.
    wires: usize,
    line_posts: usize,
    end_posts: usize,
    brace_posts: usize,
    anchors: usize,
    tensioners: usize,
    staples: usize,
    sleeves: usize,
    clips: usize,
    ties: usize,
    wire_with_tails: Length,
    guy: Length,
    pieces: Pieces,
}

impl Counts {
    fn of(asked: &Asked) -> Counts {
        let Some(frame) = &asked.frame else {
            return Counts {
                pieces: Pieces { stakes: asked.stakes, ..Pieces::default() },
                ..Counts::default()
            };
        };
        let rows = asked.rows.len();
        let (wires, ends) = (frame.heights.len() * frame.sides, frame.ends(rows));
        let spans = match frame.end {
            RowEnd::HBrace { spans: BraceSpans::One, .. } => 1,
            RowEnd::HBrace { spans: BraceSpans::Two, .. } => 2,
            RowEnd::TieBack { .. } => 0,
        };
        let anchors = if spans == 0 { ends } else { 0 };
        let row_length = asked.row_length();
        let tails = feet(2.0 * TAIL_FT) * as_number(rows);
        let ties = asked.trees() * frame.heights.len();
        let clips = asked.stakes * frame.heights.len();
        let brace_posts = ends * spans;
        Counts {
            wires,
            line_posts: frame.line_posts,
            end_posts: ends,
            brace_posts,
            anchors,
            tensioners: wires * rows,
            staples: frame.heights.len() * (frame.line_posts + STAPLES_AT_END * ends),
            sleeves: SLEEVES_A_WIRE * wires * rows,
            clips,
            ties,
            wire_with_tails: (row_length + tails) * as_number(wires),
            guy: end_wire(frame, asked.inputs.guy_strands) * as_number(ends),
            pieces: Pieces {
                line_posts: frame.line_posts,
                end_posts: ends + brace_posts,
                anchors,
                braces: brace_posts,
                stakes: asked.stakes,
                ties: ties + clips,
                wire: row_length * as_number(wires),
            },
        }
    }
}

/// Wire of the guy, or of the diagonals, of one row end `[m]`.
fn end_wire(frame: &Frame, strands: f64) -> Length {
    match frame.end {
        RowEnd::TieBack { lean, distance, height } => {
            (distance - height * lean.value.tan()).hypot(height) * strands + feet(TAIL_FT)
        }
        RowEnd::HBrace { span, rail, spans } => {
            let one = rail.hypot(span) * BRACE_STRANDS + feet(TAIL_FT);
            match spans {
                BraceSpans::One => one,
                BraceSpans::Two => one * 2.0,
            }
        }
    }
}

/// The least whole number that is no less than a number.
fn whole_up(number: f64) -> usize {
    let whole = whole_steps(number, 1.0);
    if as_number(whole) < number - WHOLE { whole + 1 } else { whole }
}

/// What may be missing for a number to count as whole `[–]`.
const WHOLE: f64 = 1e-9;

/// Coils of trellis wire where each wire of a row comes whole from one coil: as many wires from a coil as it holds of the longest row.
fn unspliced(asked: &Asked, wires: usize) -> Option<usize> {
    let longest = asked.longest_row() + feet(2.0 * TAIL_FT);
    let from_a_coil = whole_steps(COIL_FT, longest.value / feet(1.0).value);
    (from_a_coil > 0).then(|| whole_up(as_number(wires * asked.rows.len()) / as_number(from_a_coil)))
}

fn lines(asked: &Asked, counts: &Counts, bill: &Bill) -> Vec<Line> {
    let counted = [
        (Item::LinePosts, counts.line_posts),
        (Item::EndPosts, counts.end_posts),
        (Item::BracePosts, counts.brace_posts),
        (Item::Rails, bill.rails),
        (Item::Anchors, counts.anchors),
        (Item::Coils, bill.coils),
        (Item::Tensioners, counts.tensioners),
        (Item::Staples, bill.staple_pounds),
        (Item::Sleeves, bill.sleeves),
        (Item::Clips, bill.clips),
        (Item::Ties, bill.ties),
        (Item::Stakes, asked.stakes),
    ];
    let land = asked.land().value;
    let line = |item: Item, amount: f64, quantity| Line {
        item,
        amount,
        quantity,
        per_land: (land > 0.0).then(|| amount / land),
        cost: Cents::of_dollars(amount * item.price(&asked.inputs)),
    };
    let counted = counted.into_iter().filter(|(_, count)| *count > 0);
    let mut lines: Vec<Line> =
        counted.map(|(item, count)| line(item, as_number(count), Quantity::Count)).collect();
    let hours = bill.labour.total();
    if hours > 0.0 {
        lines.push(line(Item::Work, hours, Quantity::Work));
    }
    lines
}
