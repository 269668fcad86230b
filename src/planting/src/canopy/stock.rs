//! Rootstocks, and the vigour of scion and soil.
//!
//! Vigour is a relative trunk area (trunk cross-section against M.9 T337 on the same site), because
//! that is what side-by-side trials measure. The share of a seedling tree is a label only. Tolerance
//! classes are quoted as printed; where sources disagree the disagreement is said, not settled.
//!
//! Sources: Autio et al. 2017, J. Amer. Pomol. Soc. 71(3), Tables 5 and 12 (2010 NC-140 'Honeycrisp');
//! 2015 NC-140 organic 'Modi', J. Amer. Pomol. Soc. Jan 2023, Tables 6 and 7; Ontario crop protection
//! hub, rootstock susceptibility ratings; US land-grant eXtension rootstock sheets; NC State Extension.

use crate::kit::choice::choice;
use crate::kit::figure::Source;
use crate::kit::standing::SupportNeed;

choice! {
    /// The rootstocks of the list, weakest first.
    Rootstock {
        /// M.27
        M27 = "m27", "M.27";
        /// G.65
        G65 = "g65", "G.65";
        /// Budagovsky 9
        B9 = "b9", "B.9";
        /// Geneva 16
        G16 = "g16", "G.16";
        /// M.9 T337
        M9T337 = "m9_t337", "M.9 T337";
        /// Geneva 11
        G11 = "g11", "G.11";
        /// Geneva 969
        G969 = "g969", "G.969";
        /// Geneva 41
        G41 = "g41", "G.41";
        /// Geneva 214
        G214 = "g214", "G.214";
        /// M.9 Pajam 2
        M9Pajam2 = "m9_pajam2", "M.9 Pajam 2";
        /// M.9 Nic29
        M9Nic29 = "m9_nic29", "M.9 Nic29";
        /// Geneva 935
        G935 = "g935", "G.935";
        /// Geneva 202
        G202 = "g202", "G.202";
        /// M.26
        M26 = "m26", "M.26";
        /// Geneva 814
        G814 = "g814", "G.814";
        /// Geneva 210
        G210 = "g210", "G.210";
        /// M.7
        M7 = "m7", "M.7";
        /// Geneva 890
        G890 = "g890", "G.890";
        /// MM.106
        MM106 = "mm106", "MM.106";
        /// MM.111
        MM111 = "mm111", "MM.111";
        /// Budagovsky 118
        B118 = "b118", "B.118";
        /// Seedling or Antonovka
        Seedling = "seedling", "Seedling (Antonovka)";
    }
}

choice! {
    /// How strongly the scion cultivar grows.
    ScionVigour {
        /// Weak growers.
        Weak = "weak", "Weak (such as Honeycrisp)";
        /// The middle of the range.
        Moderate = "moderate", "Moderate (such as Gala, Empire)";
        /// Strong growers and tip bearers.
        Strong = "strong", "Strong (such as Jonagold, Fuji)";
    }
}

choice! {
    /// How strongly the ground makes trees grow.
    SoilVigour {
        /// Light, shallow or dry ground.
        Light = "light", "Light, shallow or dry";
        /// Medium ground.
        Medium = "medium", "Medium";
        /// Deep ground or full irrigation.
        Deep = "deep", "Deep or fully irrigated";
    }
}

/// Tolerance classes as printed in the Ontario table: VR very resistant, R resistant, T tolerant,
/// S susceptible; empty where the table has no entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tolerance {
    /// Fire blight.
    pub fire_blight: &'static str,
    /// Collar and crown rot (Phytophthora).
    pub phytophthora: &'static str,
    /// Replant complex.
    pub replant: &'static str,
    /// Woolly apple aphid on the roots.
    pub woolly_aphid: &'static str,
    /// Burr knots on the shank.
    pub burr_knots: &'static str,
}

/// What is known of a rootstock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stock {
    /// Tree size against a seedling tree, lower and upper `[%]`.
    pub seedling_percent: (u8, u8),
    /// Who says so.
    pub size_source: Source,
    /// Trunk area against M.9 T337 at year 5 `[–]`.
    pub relative_trunk_area: f64,
    /// Who says so.
    pub vigour_source: Source,
    /// What it needs to stand.
    pub support: SupportNeed,
    /// Tolerance classes, where printed.
    pub tolerance: Option<Tolerance>,
    /// Cautions and disagreements between sources; empty where there is none.
    pub caution: &'static str,
}

const MEMORY: Source = Source::practice("Size class from memory; nursery lists agree");
const SHEETS: Source = Source::published("US land-grant eXtension rootstock sheets");
const NC_STATE: Source = Source::published("NC State Extension, Apple rootstocks and tree spacing, Table 1");
const TRIALS: Source = Source::published(
    "Rounded blend of trunk areas at year 5: NC-140 'Honeycrisp' (Autio et al. 2017, Table 12) and NC-140 organic 'Modi' (2023, Tables 6-7); varies by 40 % and more between sites",
);
const MODI: Source = Source::published(
    "NC-140 organic 'Modi', year 5 (J. Amer. Pomol. Soc. Jan 2023): trunk area 215 % of M.9 T337; 4.6 to 21.6 cm² over ten sites",
);
const HONEYCRISP: Source = Source::published(
    "NC-140 'Honeycrisp', year 5 (Autio et al. 2017, Table 12, as CG.4814): 141 % of M.9 T337",
);
const GUESSED: Source =
    Source::assumption("No trunk-area ratio could be read; placed by size class between the measured stocks");

const fn tolerance(
    fire_blight: &'static str,
    phytophthora: &'static str,
    replant: &'static str,
    woolly_aphid: &'static str,
    burr_knots: &'static str,
) -> Option<Tolerance> {
    Some(Tolerance { fire_blight, phytophthora, replant, woolly_aphid, burr_knots })
}

const GENEVA: &str = "Support before the first growth and tie the tree at several heights: breaks at the union have been reported on Geneva stocks.";

impl Rootstock {
    /// Trunk area against M.9 T337 at year 5 `[–]`; [`Stock::vigour_source`] says where from.
    ///
    /// ```
    /// use planting::Rootstock;
    /// assert_eq!(Rootstock::M9T337.relative_trunk_area(), 1.0);
    /// ```
    pub fn relative_trunk_area(self) -> f64 {
        use Rootstock::*;
        match self {
            M27 => 0.45,
            G65 => 0.5,
            B9 => 0.70,
            G16 => 0.75,
            M9T337 => 1.00,
            G11 => 1.00,
            G969 => 1.05,
            G41 => 1.10,
            G214 => 1.10,
            M9Pajam2 => 1.10,
            M9Nic29 => 1.15,
            G935 => 1.20,
            G202 => 1.20,
            M26 => 1.20,
            G814 => 1.40,
            G210 => 1.90,
            M7 => 2.10,
            G890 => 2.10,
            MM106 => 2.40,
            MM111 => 2.80,
            B118 => 2.80,
            Seedling => 3.50,
        }
    }

    /// Growth of the trunk's diameter in five years against the five before `[–]`, below 1: how strongly it goes on
    /// growing. `growth::TRUNK_SOURCE` says where from.
    ///
    /// ```
    /// use planting::Rootstock;
    /// // Trees on B.9 all but stop; trees on M.26 hardly slow down.
    /// assert!(Rootstock::B9.late_growth() < 0.2 && Rootstock::M26.late_growth() > 0.9);
    /// ```
    pub fn late_growth(self) -> f64 {
        use Rootstock::*;
        match self {
            M27 | B9 => 0.15,
            G65 => 0.20,
            G41 => 0.45,
            G935 => 0.55,
            G11 | G969 | G214 | G202 | G814 => 0.70,
            G16 | M9T337 | M9Pajam2 | M9Nic29 => 0.80,
            G210 => 0.85,
            M7 | G890 => 0.90,
            M26 | MM106 | MM111 | B118 => 0.95,
            Seedling => 0.97,
        }
    }

    /// In-row spacing it asks for with a moderate scion in medium ground, as a starting point `[ft]`: on a trellis
    /// 3.25 ft × √(relative trunk area), free-standing what is published.
    ///
    /// ```
    /// use planting::Rootstock;
    /// assert_eq!([Rootstock::M9T337, Rootstock::MM106, Rootstock::Seedling].map(Rootstock::spacing_ft), [3.25, 15.0, 20.0]);
    /// ```
    pub fn spacing_ft(self) -> f64 {
        match self {
            Rootstock::Seedling => FREE_SEEDLING_FT,
            _ if self.support_need() == SupportNeed::Permanent => {
                TRELLISED_AT_RATIO_1_FT * self.relative_trunk_area().sqrt()
            }
            _ => FREE_SEMI_DWARF_FT,
        }
    }

    /// What trees on it need to stand up.
    pub fn support_need(self) -> SupportNeed {
        use Rootstock::*;
        match self {
            M27 | G65 | B9 | G16 | M9T337 | G11 | G969 | G41 | G214 | M9Pajam2 | M9Nic29 | G935 | G202
            | M26 | G814 => SupportNeed::Permanent,
            G210 | M7 => SupportNeed::Early,
            G890 | MM106 | MM111 | B118 | Seedling => SupportNeed::None,
        }
    }

    /// What is known of it.
    pub fn stock(self) -> Stock {
        use Rootstock::*;
        let row = |seedling_percent, size_source, vigour_source, tolerance, caution| Stock {
            seedling_percent,
            size_source,
            relative_trunk_area: self.relative_trunk_area(),
            vigour_source,
            support: self.support_need(),
            tolerance,
            caution,
        };
        let m9 = tolerance("S", "T", "", "S", "high");
        match self {
            M27 => row((15, 25), MEMORY, GUESSED, tolerance("T", "T", "", "S", "low"), ""),
            G65 => row(
                (15, 25),
                SHEETS,
                GUESSED,
                None,
                "Not advised for commercial planting; once thought as large as M.9.",
            ),
            B9 => row(
                (25, 35),
                MEMORY,
                TRIALS,
                tolerance("S", "T", "", "S", "medium"),
                "Sources differ on fire blight: inoculated roots are susceptible, field trees have survived.",
            ),
            G16 => row(
                (30, 35),
                SHEETS,
                TRIALS,
                tolerance("R", "T", "T partial", "S", "low"),
                "Hypersensitive to some viruses: use virus-free scion wood. Tie the tree at several heights.",
            ),
            M9T337 => row((30, 35), MEMORY, TRIALS, m9, ""),
            G11 => row(
                (35, 45),
                SHEETS,
                TRIALS,
                tolerance("R", "T", "T partial", "S", "low"),
                "Sources differ on crown rot: tolerant in one table, moderately susceptible in another. Support before the first growth.",
            ),
            G969 => row(
                (45, 80),
                SHEETS,
                TRIALS,
                tolerance("VR", "T", "T", "R", "low"),
                "Sources differ on size: 101 % of M.9 T337 in a trial, between M.7 and MM.106 in a sheet. Treated here as between M.9 and M.26.",
            ),
            G41 => row((30, 35), MEMORY, TRIALS, tolerance("VR", "T", "T", "R", "low"), GENEVA),
            G214 => row((30, 35), SHEETS, TRIALS, tolerance("VR", "T", "T", "R", "low"), GENEVA),
            M9Pajam2 => row((35, 40), MEMORY, TRIALS, m9, ""),
            M9Nic29 => row((35, 40), MEMORY, GUESSED, m9, ""),
            G935 => row(
                (45, 55),
                SHEETS,
                TRIALS,
                tolerance("VR", "T", "T", "S", "low"),
                "Collapse of some cultivars has been reported. Support before the first growth.",
            ),
            G202 => row((40, 50), MEMORY, TRIALS, tolerance("VR", "T", "T", "R", "low"), GENEVA),
            M26 => row(
                (50, 50),
                NC_STATE,
                TRIALS,
                tolerance("S", "S", "", "S", "high"),
                "Poor on wet soils; poor anchorage.",
            ),
            G814 => row((45, 55), MEMORY, HONEYCRISP, tolerance("VR", "T", "T", "S", "medium"), GENEVA),
            G210 => row((60, 65), SHEETS, GUESSED, tolerance("VR", "T", "T", "R", "low"), GENEVA),
            M7 => row(
                (70, 70),
                NC_STATE,
                GUESSED,
                tolerance("T", "T", "", "S", "medium"),
                "Sources differ on fire blight: tolerant in one table, highly resistant in another. Heavy suckers.",
            ),
            G890 => row((70, 75), SHEETS, MODI, tolerance("VR", "T", "T", "R", "low"), ""),
            MM106 => row((80, 80), NC_STATE, GUESSED, tolerance("S", "S", "", "T", "low"), ""),
            MM111 => row(
                (85, 85),
                NC_STATE,
                GUESSED,
                tolerance("R", "T", "", "R", "high"),
                "Sources differ on fire blight: resistant in one table, low resistance in another.",
            ),
            B118 => row(
                (85, 85),
                MEMORY,
                GUESSED,
                tolerance("T", "", "", "S", ""),
                "Tolerance classes are uncertain: the printed row is incomplete.",
            ),
            Seedling => row((100, 100), SHEETS, GUESSED, None, ""),
        }
    }
}

/// In-row spacing on a trellis at M.9's trunk area `[ft]` (this project's starting point, no source).
pub const TRELLISED_AT_RATIO_1_FT: f64 = 3.25;
/// In-row spacing of free-standing trees on stocks of M.7 to MM.111 class `[ft]`.
pub const FREE_SEMI_DWARF_FT: f64 = 15.0;
/// In-row spacing of free-standing trees on seedling, pruned `[ft]`.
pub const FREE_SEEDLING_FT: f64 = 20.0;
/// Where the suggested spacings come from.
pub const SPACING_SOURCE: Source = Source::assumption(
    "On a trellis this project's own starting point; free-standing 15 ft on M.7 to MM.111 (Ontario example, 15 × 20 ft) and 20 ft on seedling (US land-grant eXtension, Standard apple rootstocks)",
);

/// Where the scion and soil factors come from.
pub const SITE_FACTORS: Source = Source::assumption(
    "Project's own spacing factors (scion 0.90, 1, 1.12; soil 0.92, 1, 1.10), squared because spacing is taken to go with the square root of trunk area",
);

impl ScionVigour {
    /// What the cultivar does to the spacing a tree asks for `[–]`.
    pub fn spacing_factor(self) -> f64 {
        match self {
            ScionVigour::Weak => 0.90,
            ScionVigour::Moderate => 1.0,
            ScionVigour::Strong => 1.12,
        }
    }
}

impl SoilVigour {
    /// What the ground does to the spacing a tree asks for `[–]`.
    pub fn spacing_factor(self) -> f64 {
        match self {
            SoilVigour::Light => 0.92,
            SoilVigour::Medium => 1.0,
            SoilVigour::Deep => 1.10,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::choice::Choice;

    #[test]
    fn the_list_runs_from_weak_to_strong() {
        let trunk_areas: Vec<f64> = Rootstock::ALL.iter().map(|r| r.stock().relative_trunk_area).collect();
        assert!(trunk_areas.is_sorted(), "{trunk_areas:?}");
    }

    #[test]
    fn size_classes_are_ordered_pairs() {
        for rootstock in Rootstock::ALL {
            let (low, high) = rootstock.stock().seedling_percent;
            assert!(0 < low && low <= high && high <= 100, "{}", rootstock.label());
        }
    }
}
