//! Ways in which a finding might be cured, as a rule proposes them: which numbers are turned, and to which side.
//!
//! A rule knows its own room and proposes; [`remedies`](crate::remedies), which stands above the rooms, tries each way on the whole
//! plan, rounds it for a reader and keeps what cures.

use uom::si::f64::Length;

/// A way to cure a finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// The sentence that offers it, with numbered places for what the moves arrive at, in their order.
    pub sentence: &'static str,
    /// What is changed. At most one of the moves is sought; the others follow.
    pub moves: Vec<Move>,
}

/// To which side a number is turned, and so to which side it is rounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Toward {
    /// It becomes smaller.
    Less,
    /// It becomes larger.
    More,
}

/// Where the search for a number begins.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Aim {
    /// Nothing is known: the nearest value that cures is sought in the whole range.
    Nearest,
    /// The rule knows the value, in the SI unit of the input; it is rounded to the safe side and tried first.
    To(f64),
    /// The rule knows by how much, in the SI unit of the input.
    By(f64),
}

/// One change of a way.
#[derive(Clone, Debug, PartialEq)]
pub enum Move {
    /// A number is turned as far as is needed.
    Seek {
        /// Key of the input.
        key: &'static str,
        /// To which side.
        toward: Toward,
        /// Where the search begins.
        aim: Aim,
    },
    /// The first entry of a list that cures.
    Choose {
        /// Key of the input.
        key: &'static str,
        /// Keys of the entries, the nearest first.
        words: Vec<&'static str>,
    },
    /// The topmost of a list of lengths is moved, the others in proportion.
    SeekTop {
        /// Key of the input.
        key: &'static str,
        /// To which side.
        toward: Toward,
        /// Where the search begins.
        aim: Aim,
    },
    /// A number that goes along with the one sought: so many times it, rounded to a side.
    Follow {
        /// Key of the input.
        key: &'static str,
        /// How many times the number sought `[–]`.
        times: f64,
        /// To which side it is rounded.
        toward: Toward,
    },
    /// A number is set, rounded to a side.
    Set {
        /// Key of the input.
        key: &'static str,
        /// Its value in the SI unit of the input.
        to: f64,
        /// To which side it is rounded.
        toward: Toward,
    },
    /// An entry of a list is chosen.
    Word {
        /// Key of the input.
        key: &'static str,
        /// Key of the entry.
        word: &'static str,
    },
    /// A list of lengths is set, each rounded down.
    Lengths {
        /// Key of the input.
        key: &'static str,
        /// The lengths `[m]`.
        to: Vec<Length>,
    },
}

impl Way {
    /// A way of several moves.
    pub fn new(sentence: &'static str, moves: impl Into<Vec<Move>>) -> Way {
        Way { sentence, moves: moves.into() }
    }

    /// One number becomes smaller.
    ///
    /// ```
    /// use planting::kit::way::{Aim, Move, Way};
    /// let lower = Way::less("Keep the trees at {0}.", "tree_height", Aim::Nearest);
    /// assert!(matches!(lower.moves[..], [Move::Seek { key: "tree_height", .. }]));
    /// ```
    pub fn less(sentence: &'static str, key: &'static str, aim: Aim) -> Way {
        Way::new(sentence, [Move::Seek { key, toward: Toward::Less, aim }])
    }

    /// One number becomes larger.
    ///
    /// ```
    /// use planting::kit::way::{Aim, Move, Toward, Way};
    /// let wider = Way::more("Widen the rows to {0}.", "row_width", Aim::Nearest);
    /// assert!(matches!(wider.moves[..], [Move::Seek { toward: Toward::More, .. }]));
    /// ```
    pub fn more(sentence: &'static str, key: &'static str, aim: Aim) -> Way {
        Way::new(sentence, [Move::Seek { key, toward: Toward::More, aim }])
    }

    /// The first entry of a list that cures.
    pub fn choose(sentence: &'static str, key: &'static str, words: impl Into<Vec<&'static str>>) -> Way {
        Way::new(sentence, [Move::Choose { key, words: words.into() }])
    }
}

impl From<Length> for Aim {
    fn from(to: Length) -> Aim {
        Aim::To(to.value)
    }
}
