//! Training systems by their trade names, and what is usual for each: the one input all rooms look at, and
//! from which each takes its own starting values.
//!
//! Ranges are the envelope of what the cited growers' and extension sources print. Sources: Robinson (Cornell) in Good Fruit Grower and New York Fruit Quarterly;
//! Barney, Storey's Guide to Growing Organic Orchard Fruits; Fraser & Oakes 1999, Compact Fruit Tree
//! 32; Penn State Extension 2012; Reig et al. 2020, HortScience 55(10); Dallabetta et al. 2021,
//! HortScience 56(2); Ontario trial precision pruning.

use crate::kit::choice::choice;
use crate::kit::figure::Source;

choice! {
    /// The training systems of the list, densest first.
    TrainingSystem {
        /// Super spindle
        SuperSpindle = "super_spindle", "Super spindle";
        /// V trellis
        VTrellis = "v_trellis", "V trellis";
        /// Tall spindle
        TallSpindle = "tall_spindle", "Tall spindle";
        /// Vertical trellis, fruiting wall
        VerticalTrellis = "vertical_trellis", "Vertical trellis (hedgerow)";
        /// Two leaders
        BiAxis = "bi_axis", "Bi-axis (two leaders)";
        /// Three leaders
        TriAxis = "tri_axis", "Tri-axis (three leaders)";
        /// Solaxe
        Solaxe = "solaxe", "Solaxe";
        /// Vertical axis
        VerticalAxis = "vertical_axis", "Vertical axis";
        /// Slender spindle
        SlenderSpindle = "slender_spindle", "Slender spindle";
        /// Low trellis hedgerow
        LowTrellis = "low_trellis", "Low trellis hedgerow";
        /// Central leader, free-standing
        CentralLeader = "central_leader", "Central leader, free-standing";
        /// Standard trees on seedling
        Standard = "standard", "Standard tree, pruned";
    }
}

/// A usual range, lower and upper, in the unit named where it stands.
pub type Range = (f64, f64);

/// Rootstocks of a system's sources, from the weakest to the strongest, as trunk area against M.9 T337 `[–]`. "M.9" is read as
/// B.9 to Nic29; a name between two others of a size class goes with them.
const M9: Range = (0.70, 1.15);
/// M.9, B.9 and weaker.
const WEAK: Range = (0.45, 1.0);
/// M.9 to M.26 and G.935.
const M9_TO_M26: Range = (0.70, 1.20);
/// G.935 and G.969, the semi-dwarfing stocks of trees with three leaders.
const SEMI_DWARF: Range = (1.05, 1.40);
/// M.7, MM.106 and MM.111; M.26 in the ten-site comparison.
const FREE: Range = (1.20, 2.80);
/// Seedling, and MM.111 and B.118 at 85 % of its size.
const STANDARD: Range = (2.80, 3.50);

/// What is usual for a training system. Lengths in feet, as the sources print them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Usual {
    /// In-row spacing `[ft]`.
    pub in_row_ft: Range,
    /// Row width `[ft]`.
    pub row_ft: Range,
    /// Trees per acre.
    pub trees_per_acre: Range,
    /// Tree height `[ft]`.
    pub height_ft: Range,
    /// Trunk area of its rootstocks against M.9 T337 `[–]`.
    pub stock: Range,
    /// Fewest wires, one above another, where trees have no stake of their own.
    pub least_wires: usize,
    /// Who says so.
    pub source: Source,
}

impl TrainingSystem {
    /// What is usual for it.
    ///
    /// ```
    /// let usual = planting::TrainingSystem::TallSpindle.usual();
    /// assert_eq!((usual.in_row_ft, usual.row_ft), ((3.0, 4.0), (10.0, 13.0)));
    /// ```
    pub fn usual(self) -> Usual {
        use TrainingSystem::*;
        let row = |in_row_ft, row_ft, trees_per_acre, height_ft, stock, least_wires, source| Usual {
            in_row_ft,
            row_ft,
            trees_per_acre,
            height_ft,
            stock,
            least_wires,
            source: Source::published(source),
        };
        match self {
            SuperSpindle => row(
                (1.5, 2.0),
                (10.0, 11.0),
                (1980.0, 2904.0),
                (8.0, 10.0),
                WEAK,
                3,
                "Robinson (Cornell), Good Fruit Grower and NY Fruit Quarterly; Barney; Fraser & Oakes 1999 (height from memory)",
            ),
            VTrellis => row(
                (1.5, 3.0),
                (12.0, 14.0),
                (1037.0, 2420.0),
                (8.0, 12.0),
                WEAK,
                3,
                "Good Fruit Grower, The organized orchard (1.5 × 12 ft, 2,420 trees/acre); Robinson; Fraser & Oakes 1999 (height from memory)",
            ),
            TallSpindle => row(
                (3.0, 4.0),
                (10.0, 13.0),
                (837.0, 1500.0),
                (10.0, 12.0),
                M9,
                3,
                "Robinson (Cornell), Fruit Growers News 2007 and NY Fruit Quarterly; Good Fruit Grower July 2015 (1,000-1,500 trees/acre); Barney (837-1,452)",
            ),
            VerticalTrellis => row(
                (3.0, 6.0),
                (8.0, 12.0),
                (660.0, 1452.0),
                (8.0, 11.0),
                M9_TO_M26,
                4,
                "Barney (3-6 × 10-12 ft, 660-1,452 trees/acre); Robinson (4-5 × 8-10 ft)",
            ),
            BiAxis => row(
                (3.5, 5.0),
                (10.0, 12.0),
                (726.0, 1285.0),
                (10.0, 12.0),
                M9,
                3,
                "Robinson (4 × 11-12 ft); Dallabetta et al. 2021, HortScience 56(2):234 (3,175/ha)",
            ),
            TriAxis => row(
                (3.5, 6.0),
                (10.0, 12.0),
                (700.0, 1100.0),
                (10.0, 12.0),
                SEMI_DWARF,
                3,
                "Reig et al. 2020, HortScience 55(10) (2,243/ha = 908 trees/acre); Dallabetta et al. 2021 (2,116/ha)",
            ),
            Solaxe => row(
                (3.5, 4.0),
                (12.0, 14.0),
                (778.0, 1037.0),
                (10.0, 12.0),
                M9,
                2,
                "Robinson, Good Fruit Grower (height from memory)",
            ),
            VerticalAxis => row(
                (3.0, 7.0),
                (10.0, 16.0),
                (389.0, 1452.0),
                (10.0, 14.0),
                M9_TO_M26,
                2,
                "Barney (3-7 × 10-16 ft, 389-1,452 trees/acre); Warmund, Univ. Missouri Extension G6024 (10 ft)",
            ),
            SlenderSpindle => row(
                (4.0, 6.0),
                (11.0, 14.0),
                (518.0, 996.0),
                (6.0, 10.0),
                M9,
                2,
                "Ontario trial precision pruning (5 × 14 ft); multi-site comparison (2,460/ha = 996); Baugher & Singha (2.0-2.5 m)",
            ),
            LowTrellis => row(
                (5.0, 7.0),
                (10.0, 14.0),
                (444.0, 871.0),
                (5.0, 7.0),
                M9,
                3,
                "Penn State staff note 2011 (6 ft trees, wires at 1.5, 3, 4.5 and 6 ft); row width common practice",
            ),
            CentralLeader => row(
                (8.0, 16.0),
                (16.0, 24.0),
                (110.0, 450.0),
                (12.0, 16.0),
                FREE,
                2,
                "Ontario (15 × 20 ft, 145 trees/acre); Robinson (200); multi-site comparison (1,111/ha = 450)",
            ),
            Standard => row(
                (18.0, 30.0),
                (24.0, 36.0),
                (40.0, 110.0),
                (18.0, 30.0),
                STANDARD,
                2,
                "US land-grant eXtension, Standard apple rootstocks (20 × 26 ft, 84 trees/acre, 24 ft pruned)",
            ),
        }
    }
}
