//! Hours of work to set up a trellis, by the unit times of Fraser and Oakes 1999 (*Compact Fruit Tree*): a line post driven in 4 minutes, an
//! end post in 6, a screw anchor in 3, a brace in 15, a stake in 2, a tie or clip in 20 seconds, and a wire on a row of 475 ft in
//! 30 minutes by two people.

use crate::kit::count::as_number;
use crate::kit::quantity::feet;
use uom::si::f64::Length;

/// Minutes of each piece.
const LINE_POST: f64 = 4.0;
const END_POST: f64 = 6.0;
const ANCHOR: f64 = 3.0;
const BRACE: f64 = 15.0;
const STAKE: f64 = 2.0;
const TIE: f64 = 20.0 / 60.0;
/// Minutes of both people for a wire on a row of so many feet.
const WIRE: f64 = 2.0 * 30.0;
const WIRE_ROW_FT: f64 = 475.0;

/// What takes time.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pieces {
    /// Line posts.
    pub line_posts: usize,
    /// End and brace posts.
    pub end_posts: usize,
    /// Anchors.
    pub anchors: usize,
    /// Spans of braces.
    pub braces: usize,
    /// Stakes.
    pub stakes: usize,
    /// Ties and clips.
    pub ties: usize,
    /// Wire strung, end post to end post `[m]`.
    pub wire: Length,
}

/// Hours of work.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Labour {
    /// Driving line posts.
    pub line_posts: f64,
    /// Driving end and brace posts.
    pub end_posts: f64,
    /// Turning in anchors.
    pub anchors: f64,
    /// Building braces.
    pub braces: f64,
    /// Stringing wire.
    pub wire: f64,
    /// Setting stakes.
    pub stakes: f64,
    /// Tying trees and clipping stakes.
    pub ties: f64,
}

impl Labour {
    /// For so many pieces.
    ///
    /// ```
    /// use planting::loads::{Labour, Pieces};
    /// let labour = Labour::of(&Pieces { line_posts: 90, end_posts: 20, anchors: 20, ..Pieces::default() });
    /// assert_eq!((labour.line_posts, labour.end_posts, labour.anchors), (6.0, 2.0, 1.0));
    /// ```
    pub fn of(pieces: &Pieces) -> Labour {
        let hours = |count: usize, minutes: f64| as_number(count) * minutes / 60.0;
        Labour {
            line_posts: hours(pieces.line_posts, LINE_POST),
            end_posts: hours(pieces.end_posts, END_POST),
            anchors: hours(pieces.anchors, ANCHOR),
            braces: hours(pieces.braces, BRACE),
            wire: (pieces.wire / feet(WIRE_ROW_FT)).value * WIRE / 60.0,
            stakes: hours(pieces.stakes, STAKE),
            ties: hours(pieces.ties, TIE),
        }
    }

    /// All of it `[hours]`.
    pub fn total(&self) -> f64 {
        self.line_posts + self.end_posts + self.anchors + self.braces + self.wire + self.stakes + self.ties
    }
}
