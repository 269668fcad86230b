//! Groups of inputs: where an input stands on the page, and what a host names to show some inputs only.

/// A group of inputs under one heading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Group {
    /// Stable key.
    pub key: &'static str,
    /// The heading.
    pub label: &'static str,
    /// Groups are shown in rising order of this number.
    pub rank: u8,
    /// Key of the drawing that most of its inputs change most.
    pub view: &'static str,
}

/// Spacing and the size trees are kept at.
pub const SPACING: Group =
    Group { key: "spacing", label: "Spacing and tree size", rank: 10, view: "section" };
/// System, rootstock and vigour.
pub const TREES: Group =
    Group { key: "trees", label: "System, rootstock, vigour", rank: 20, view: "elevation" };
/// Wires, posts and ends.
pub const TRELLIS: Group =
    Group { key: "trellis", label: "Wires, posts, row ends", rank: 30, view: "elevation" };
/// Field, rows and machines.
pub const FIELD: Group = Group { key: "block", label: "Field and machines", rank: 40, view: "plan" };
/// The year shown; stands under the drawings.
pub const YEAR: Group = Group { key: "year", label: "Year", rank: 250, view: "section" };
