//! Texts a reader asks for: what the words of the trade mean, what an input is for and where its default comes from, how
//! a figure of the ground comes about, what its rules find and what cures it, what is known of a rootstock. A room's own come with the room.

mod remedies;

use crate::desk::Desk;
use crate::piece::Piece;
use planting::canopy::stock::Stock;
use planting::change::{self, Land};
use planting::{Advice, Ground, Message, Note, Rootstock, Working, ground};

/// What is behind the door.
#[derive(Clone, Copy)]
pub(crate) struct Words {
    /// What a word of the trade means, by the name that heads it.
    pub(crate) meaning: fn(&str) -> &'static str,
    /// What is told of an input of the ground.
    pub(crate) note: fn(&str) -> Option<Note>,
    /// How a figure of the ground comes about.
    pub(crate) working: fn(&Ground, &str) -> Option<Working>,
    /// What the rules of the ground find.
    pub(crate) advice: fn(&Ground) -> Vec<Advice>,
    /// What cures a finding, by its rule: worked out, looked at and taken.
    pub(crate) remedies: fn(Desk, &'static str) -> Piece,
    /// What is known of a rootstock.
    pub(crate) stock: fn(Rootstock) -> Stock,
    /// What a change did.
    pub(crate) told: fn(&Ground, &Ground, Land) -> Vec<Message>,
    /// What is seen before anything has been changed.
    pub(crate) seen: fn(&Ground) -> Vec<Message>,
}

door!(
    words,
    Words {
        meaning,
        note: ground::note,
        working: Ground::working,
        advice: Ground::advice,
        remedies: remedies::remedies,
        stock: Rootstock::stock,
        told: change::told,
        seen: change::seen,
    }
);

/// The words of `glossary.rs`, each with its meaning.
static MEANINGS: &[(&str, &str)] = &[
    ("Leader", "The upright main stem of the tree. A spindle has one; a bi-axis tree has two."),
    (
        "Graft union",
        "The joint between rootstock and the cultivar grafted on it. It must stay above the soil, or the cultivar grows its own roots and the rootstock no longer holds the tree small.",
    ),
    ("Headland", "The free strip at the ends of the rows, for turning machines and for anchors."),
    ("Tie-back", "A row end with a leaning post and a guy wire to an anchor in the ground behind it."),
    (
        "H-brace",
        "A row end of two upright posts with a rail between them and a diagonal wire; it needs no anchor in the headland.",
    ),
    (
        "Embedment",
        "How deep a post stands in the ground. The deeper it stands, the more push it takes at the top.",
    ),
    (
        "Trunk area (TCSA)",
        "Cross-section of the trunk about a foot above the union. Trials compare the vigour of rootstocks by it, and crop load is counted per square centimetre of it.",
    ),
    ("In-row spacing", "Distance from one trunk to the next along the row."),
    (
        "Canopy fill",
        "Volume of the crowns against the space they are given. Near 100 % the planting uses its space; a young one is far below.",
    ),
    ("Row azimuth", "The direction the rows run, clockwise from north. 0° is north-south, 90° is east-west."),
];

/// What a word means; nothing where it isn't one of ours.
pub(crate) fn meaning(name: &str) -> &'static str {
    MEANINGS.iter().find(|one| one.0 == name).map_or("", |one| one.1)
}
