//! What can be set about the trees: rootstock and vigour, the size they are kept at, the union, and the year shown.

use super::pace::GrowthPace;
use super::stock::{Rootstock, ScionVigour, SoilVigour};
use crate::kit::figure::Source;
use crate::kit::group::{SPACING, TREES, YEAR};
use crate::kit::quantity::{degrees, feet, inches, share};
use crate::register::parameter::{DEG, FT, IN};
use crate::register::problem::{Conflicts, Problem};
use crate::register::scale::Scale;
use crate::register::table::inputs;
use crate::system::TrainingSystem;
use uom::si::f64::{Angle, Length, Ratio};

/// The last year of the picture; growth is modelled from planting to here `[years]`.
pub const LAST_YEAR: f64 = 25.0;

/// What can be set about the trees.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inputs {
    /// Rootstock.
    pub rootstock: Rootstock,
    /// Vigour on this site against the published figure for the rootstock `[–]`.
    pub vigour: Ratio,
    /// Vigour of the scion cultivar.
    pub scion_vigour: ScionVigour,
    /// Vigour of the ground.
    pub soil_vigour: SoilVigour,
    /// How soon trees grow.
    pub growth_pace: GrowthPace,
    /// Height the tree is kept at `[m]`.
    pub tree_height: Length,
    /// Width the canopy is kept at, at its base, across the row `[m]`.
    pub canopy_width: Length,
    /// Width of the canopy at the top against its base `[–]`.
    pub crown_taper: Ratio,
    /// Height of the lowest branches `[m]`.
    pub crown_base: Length,
    /// Lean of alternate trees from the vertical, to either side `[rad]`.
    pub lean: Angle,
    /// Height of the graft union above the ground at planting `[m]`.
    pub graft_union_height: Length,
    /// How far the tree settles after planting `[m]`.
    pub settling: Length,
    /// Year since planting that the picture shows, 0 at planting `[years]`.
    pub year: f64,
}

/// The least a tree stands above its lowest branches.
pub(crate) fn least_crown_height() -> Length {
    feet(1.0)
}

impl Inputs {
    /// The usual trees of a training system.
    pub fn usual(system: TrainingSystem) -> Inputs {
        let tree = usual_tree(system);
        Inputs {
            rootstock: tree.rootstock,
            vigour: share(1.0),
            scion_vigour: ScionVigour::Moderate,
            soil_vigour: SoilVigour::Medium,
            growth_pace: GrowthPace::Usual,
            tree_height: feet(tree.height_ft),
            canopy_width: feet(tree.canopy_width_ft),
            crown_taper: share(tree.taper),
            crown_base: feet(tree.crown_base_ft),
            lean: degrees(tree.lean_deg),
            graft_union_height: inches(5.0),
            settling: inches(1.0),
            year: 6.0,
        }
    }

    /// What is at odds: a crown without height, a union among the branches.
    pub fn conflicts(&self) -> Vec<Problem> {
        let mut conflicts = Conflicts::default();
        conflicts.at_least(
            "tree_height",
            self.tree_height,
            self.crown_base + least_crown_height(),
            "must be at least {0}: {1} above the lowest branches",
            &[least_crown_height()],
        );
        conflicts.at_most(
            "graft_union_height",
            self.graft_union_height,
            self.crown_base,
            "must be at most {0}: the union lies below the lowest branches",
            &[],
        );
        conflicts.found()
    }
}

/// The tree a system starts from; lengths in feet, round in the trade's own unit.
struct UsualTree {
    rootstock: Rootstock,
    height_ft: f64,
    canopy_width_ft: f64,
    taper: f64,
    crown_base_ft: f64,
    lean_deg: f64,
}

fn usual_tree(system: TrainingSystem) -> UsualTree {
    use Rootstock::{B9, G11, G935, M26, MM106, Seedling};
    use TrainingSystem::*;
    let tree = |rootstock, height_ft, canopy_width_ft, taper, crown_base_ft, lean_deg| UsualTree {
        rootstock,
        height_ft,
        canopy_width_ft,
        taper,
        crown_base_ft,
        lean_deg,
    };
    match system {
        TallSpindle => tree(G11, 10.0, 5.0, 0.4, 2.0, 0.0),
        SuperSpindle => tree(B9, 9.0, 3.0, 0.6, 2.0, 0.0),
        VTrellis => tree(B9, 10.0, 2.5, 0.6, 2.0, 15.0),
        VerticalTrellis => tree(G11, 9.0, 3.0, 0.7, 2.0, 0.0),
        BiAxis => tree(G11, 10.0, 4.5, 0.5, 2.0, 0.0),
        TriAxis => tree(G935, 10.0, 4.0, 0.6, 2.0, 0.0),
        Solaxe => tree(G11, 10.0, 5.5, 0.5, 2.0, 0.0),
        VerticalAxis => tree(M26, 11.0, 6.5, 0.3, 2.0, 0.0),
        SlenderSpindle => tree(G11, 8.0, 5.0, 0.35, 2.0, 0.0),
        LowTrellis => tree(G11, 6.5, 3.5, 0.7, 1.25, 0.0),
        CentralLeader => tree(MM106, 14.0, 13.0, 0.25, 2.5, 0.0),
        Standard => tree(Seedling, 24.0, 18.0, 0.35, 4.0, 0.0),
    }
}

const OWN: Source = Source::assumption("Project's own default");

/// Trees that are worked from the ground or a low platform are kept at 8 to 14 ft.
const HEIGHTS: Scale = Scale {
    trade: [8.0 * FT, 14.0 * FT],
    travel: [0.15, 0.85],
    ticks_us: &[4.0 * FT, 8.0 * FT, 9.0 * FT, 10.0 * FT, 11.0 * FT, 12.0 * FT, 14.0 * FT, 30.0 * FT],
    ticks_metric: &[1.5, 2.5, 3.0, 3.5, 4.0, 9.0],
};

inputs! { Inputs;
    choice 2 rootstock (Rootstock) TREES follows "Rootstock"
        "The root the tree grows on; it sets how large the tree wants to grow."
        Source::published("Robinson (Cornell): M.9-class stocks for tall spindle");
    number 3 vigour (Ratio as Ratio, 0.4 => 2.5, steps 0.05, 0.05) TREES own "Rootstock vigour on this site"
        "1 is the published figure for the rootstock. The same stock differs by 40 % and more between sites."
        Source::published("NC-140 2015 organic trial: trunk area on one stock spans a factor of 3 to 4 over ten sites");
    choice 4 scion_vigour (ScionVigour) TREES own "Scion vigour"
        "How strongly the cultivar grows."
        Source::published("Michigan State University Extension (Honeycrisp weak, Jonagold strong); the rest from memory");
    choice 5 soil_vigour (SoilVigour) TREES own "Soil vigour"
        "How strongly the ground, with its water, makes trees grow." OWN;
    number 8 tree_height (Length as Length, 4.0 * FT => 30.0 * FT, steps 0.25 * FT, 0.05) SPACING follows "Tree height kept"
        "Height the leader is cut back to."
        Source::published("Robinson (Cornell), Fruit Growers News 2007: tall spindle kept at about 10 ft"), scale HEIGHTS;
    number 9 canopy_width (Length as Length, FT => 24.0 * FT, steps 0.25 * FT, 0.05) SPACING follows "Canopy width kept"
        "Width of the canopy at its base, across the row, that pruning holds."
        Source::published("Good Fruit Grower 1 May 2013, fruiting wall principles: 4-6 ft across");
    number 10 crown_base (Length as Length, 0.5 * FT => 8.0 * FT, steps 0.25 * FT, 0.05) SPACING follows "Lowest branches"
        "Height of the lowest fruiting branches above the ground."
        Source::published("UMass Extension 2017: lowest fruiting branches about 24 in above the ground");
    number 11 crown_taper (Ratio as Share, 0.0 => 1.0, steps 0.05, 0.05) SPACING follows "Canopy top against base"
        "Width of the canopy at the top as a share of its base: small is a Christmas tree, 100 % is a wall." OWN;
    number 12 lean (Angle as Angle, 0.0 => 35.0 * DEG, steps DEG, DEG) SPACING follows "Lean of the canopy"
        "Angle from the vertical at which trees lean, one to the left, the next to the right; 0 stands upright."
        Source::practice("Common practice, no source");
    number 13 graft_union_height (Length as SmallLength, 0.0 => 18.0 * IN, steps 0.5 * IN, 0.01) TREES own "Graft union at planting"
        "Height of the graft union above the ground on planting day."
        Source::published("Crassweller (Penn State), eXtension: union 3-6 in above the soil; planted an inch high by common practice"), in section;
    number 14 settling (Length as SmallLength, 0.0 => 6.0 * IN, steps 0.5 * IN, 0.01) TREES own "Settling after planting"
        "How far the tree sinks as the soil settles."
        Source::practice("Common practice, no source: about an inch"), in section;
    number 15 year (Years as Years, 0.0 => LAST_YEAR, steps 1.0, 1.0) YEAR own "Year shown"
        "Years since planting; 0 is planting day." OWN;
    choice 203 growth_pace (GrowthPace) TREES own "Growth pace"
        "How soon trees grow. Sources differ, so the picture can show all three: trees at 10 ft in year 3 as growers say, or in year 7 as in the trials."
        Source::published("Reyes et al. 2025, AoB Plants plaf029, open data: in the fourth leaf the lowest tenth of unpruned trees stands at 2.25 m, the highest at 3.51 m");
}
