//! How trees stand: what a tree needs to stand up, and what the planting gives it.

/// What a tree on a rootstock needs to stand up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SupportNeed {
    /// Needs support all its life.
    Permanent,
    /// Needs support while young, or on poor anchorage.
    Early,
    /// Stands alone.
    None,
}

impl SupportNeed {
    /// The words shown for it.
    pub fn label(self) -> &'static str {
        match self {
            SupportNeed::Permanent => "permanent support",
            SupportNeed::Early => "support while young",
            SupportNeed::None => "stands alone",
        }
    }
}

/// What a planting gives its trees to stand by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Wires on posts.
    Wires,
    /// A post or stake at each tree, no wire.
    Posts,
    /// Nothing: the trees stand free.
    Free,
}
