//! Everything a person can set, and nothing else.
//!
//! A scenario file is an object of parameter keys and SI values; what is absent takes its default.
//! Defaults of spacing, tree and trellis follow the training system, so that a file naming only the
//! system gets that system's usual planting. Wrong fields are reported by name, all at once.

pub mod entries;
pub mod problem;
pub mod registry;

use crate::choice::{Choice, choice};
use crate::light::{Month, Sky};
use crate::quantity::{Quantity, degrees, feet, inches, share};
use crate::stock::{Rootstock, ScionVigour, SoilVigour};
use crate::system::{Support, TrainingSystem};
use entries::{Entries, Entry};
use problem::{Fault, Problem};
use registry::{Kind, REGISTRY};
use uom::si::f64::{Angle, Length, Ratio, ReciprocalLength};
use uom::si::reciprocal_length::reciprocal_meter;

/// The version written into scenario files.
pub const VERSION: u32 = 1;

/// What a saved file may say beside the plan: how its reader looks at it. The model passes over it.
pub const READER: [&str; 3] = ["units", "paper", "chapter"];

/// The last year of the picture; growth is modelled from planting to here `[years]`.
pub const LAST_YEAR: f64 = 25.0;

choice! {
    /// What holds the wires at the row ends.
    EndAssembly {
        /// A leaning end post guyed to an anchor.
        TieBack = "tie_back", "Tie-back to an anchor";
        /// Two posts with a rail between them.
        HBrace = "h_brace", "H-brace";
    }
}

/// Everything a person can set.
#[derive(Clone, Debug, PartialEq)]
pub struct Scenario {
    /// Training system.
    pub system: TrainingSystem,
    /// Rootstock.
    pub rootstock: Rootstock,
    /// Vigour on this site against the published figure for the rootstock `[–]`.
    pub vigour: Ratio,
    /// Vigour of the scion cultivar.
    pub scion_vigour: ScionVigour,
    /// Vigour of the ground.
    pub soil_vigour: SoilVigour,
    /// Distance between trees along the row `[m]`.
    pub in_row_spacing: Length,
    /// Distance between row centre lines `[m]`.
    pub row_width: Length,
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
    /// Length of the block along the rows `[m]`.
    pub block_length: Length,
    /// Width of the block across the rows `[m]`.
    pub block_width: Length,
    /// Direction of the rows, clockwise from north `[rad]`.
    pub row_azimuth: Angle,
    /// Free strip at each row end, from the block's edge to the end post `[m]`.
    pub headland: Length,
    /// Least distance from the block's edge to the outer rows `[m]`.
    pub side_margin: Length,
    /// Overall width of the widest machine that drives the alleys `[m]`.
    pub tractor_width: Length,
    /// What holds the trees up.
    pub support: Support,
    /// Heights of the wires above the ground `[m]`.
    pub wire_heights: Vec<Length>,
    /// Length of a line post `[m]`.
    pub post_length: Length,
    /// Part of a post that is in the ground `[m]`.
    pub post_embedment: Length,
    /// Longest distance between posts `[m]`.
    pub post_interval: Length,
    /// Diameter of a line post at the ground line `[m]`.
    pub line_post_diameter: Length,
    /// Diameter of an end post at the ground line `[m]`.
    pub end_post_diameter: Length,
    /// What holds the wires at the row ends.
    pub end_assembly: EndAssembly,
    /// Lean of a tied-back end post from the vertical, toward its anchor `[rad]`.
    pub end_post_lean: Angle,
    /// Distance from the foot of the end post to its anchor `[m]`.
    pub anchor_distance: Length,
    /// Distance between the two posts of an H-brace `[m]`.
    pub brace_span: Length,
    /// Latitude of the field, north above 0 `[rad]`.
    pub latitude: Angle,
    /// First month of the season that light is summed over.
    pub season_first: Month,
    /// Last month of that season; before the first, it is next year's.
    pub season_last: Month,
    /// How diffuse light is spread over the sky.
    pub sky: Sky,
    /// Share of the season's light that is diffuse `[–]`.
    pub diffuse_share: Ratio,
    /// Leaf area in a cubic metre of crown `[1/m]`.
    pub leaf_area_density: ReciprocalLength,
    /// Clumping of the leaves, 1 where they are spread at random `[–]`.
    pub leaf_clumping: Ratio,
    /// Shade of leaves, wood and fruit against that of the leaves alone `[–]`.
    pub wood_and_fruit: Ratio,
    /// Light below which no flower buds form, of that in the open `[–]`.
    pub light_for_flowers: Ratio,
    /// Light below which fruit stays small, of that in the open `[–]`.
    pub light_for_size: Ratio,
    /// Light below which fruit colours poorly, of that in the open `[–]`.
    pub light_for_colour: Ratio,
    /// Month of the day whose shadows are shown.
    pub sun_month: Month,
    /// Day of that month, 1 to 31; beyond the month's end, its last.
    pub sun_day: f64,
    /// Hour of that day, local solar time `[hours]`.
    pub sun_hour: f64,
}

impl Default for Scenario {
    fn default() -> Self {
        Scenario::for_system(TrainingSystem::TallSpindle)
    }
}

impl Scenario {
    /// The plan a training system starts from, on a five-acre block.
    ///
    /// ```
    /// use planting::{Scenario, TrainingSystem, feet};
    /// let plan = Scenario::for_system(TrainingSystem::TallSpindle);
    /// assert_eq!(plan.in_row_spacing, feet(3.0));
    /// assert_eq!(plan.row_width, feet(12.0));
    /// ```
    #[inline(never)] // A copy at each call would make the download a kilobyte larger.
    pub fn for_system(system: TrainingSystem) -> Self {
        let preset = system.preset();
        Scenario {
            system,
            rootstock: preset.rootstock,
            vigour: share(1.0),
            scion_vigour: ScionVigour::Moderate,
            soil_vigour: SoilVigour::Medium,
            in_row_spacing: feet(preset.in_row_ft),
            row_width: feet(preset.row_ft),
            tree_height: feet(preset.height_ft),
            canopy_width: feet(preset.canopy_width_ft),
            crown_taper: share(preset.taper),
            crown_base: feet(preset.crown_base_ft),
            lean: degrees(preset.lean_deg),
            graft_union_height: inches(5.0),
            settling: inches(1.0),
            year: 6.0,
            block_length: feet(660.0),
            block_width: feet(330.0),
            row_azimuth: degrees(0.0),
            headland: feet(30.0),
            side_margin: feet(12.0),
            tractor_width: feet(5.0),
            support: preset.support,
            wire_heights: preset.wires_ft.iter().map(|height| feet(*height)).collect(),
            post_length: feet(preset.post_ft.0),
            post_embedment: feet(preset.post_ft.1),
            post_interval: feet(30.0),
            line_post_diameter: inches(5.0),
            end_post_diameter: inches(6.0),
            end_assembly: EndAssembly::TieBack,
            end_post_lean: degrees(15.0),
            anchor_distance: feet(9.0),
            brace_span: feet(8.0),
            latitude: degrees(42.0),
            season_first: Month::May,
            season_last: Month::September,
            sky: Sky::Even,
            diffuse_share: share(0.45),
            leaf_area_density: ReciprocalLength::new::<reciprocal_meter>(2.5),
            leaf_clumping: share(1.0),
            wood_and_fruit: share(1.0),
            light_for_flowers: share(0.30),
            light_for_size: share(0.50),
            light_for_colour: share(0.70),
            sun_month: Month::June,
            sun_day: 21.0,
            sun_hour: 10.0,
        }
    }

    /// The same site under another training system: everything that follows the system is taken
    /// from its starting plan, block, site and machines stay.
    pub fn with_system(&self, system: TrainingSystem) -> Self {
        let start = Scenario::for_system(system);
        let mut changed = self.clone();
        for parameter in REGISTRY.iter().filter(|parameter| parameter.follows_system) {
            parameter.copy(&start, &mut changed);
        }
        changed.system = system;
        changed
    }

    /// Height of a post above the ground `[m]`.
    pub fn post_height(&self) -> Length {
        self.post_length - self.post_embedment
    }

    /// Height of the uppermost wire `[m]`, where there are wires.
    pub fn top_wire(&self) -> Option<Length> {
        if !self.support.has_wires() {
            return None;
        }
        self.wire_heights.iter().copied().reduce(|a, b| if b > a { b } else { a })
    }

    /// The fields that are wrong: outside their range, not finite, or at odds with each other.
    pub fn problems(&self) -> Vec<Problem> {
        let mut problems: Vec<Problem> =
            REGISTRY.iter().flat_map(|parameter| parameter.faults(self)).collect();
        if problems.is_empty() {
            problems.extend(problem::conflicts(self));
        }
        problems
    }

    /// Reads a scenario from the entries of a file. What it says of its [`READER`] is passed over.
    ///
    /// # Errors
    /// Every unknown, repeated, mistyped or out-of-range field, each by name.
    pub fn from_entries(entries: &Entries) -> Result<Scenario, Vec<Problem>> {
        let mut problems = Vec::new();
        let mut scenario = Scenario::default();
        match entries.get("version") {
            None => problems.push(Problem::new("version", Fault::VersionMissing)),
            Some(Entry::Number(number)) if (*number - f64::from(VERSION)).abs() < 1e-9 => {}
            Some(other) => {
                problems.push(Problem::new("version", Fault::VersionUnknown { got: other.shown() }))
            }
        }
        if let Some(Entry::Text(key)) = entries.get("system")
            && let Some(system) = TrainingSystem::from_key(key)
        {
            scenario = Scenario::for_system(system);
        }
        for (place, (key, entry)) in entries.0.iter().enumerate() {
            if entries.0.iter().take(place).any(|(earlier, _)| earlier == key) {
                problems.push(Problem::new(key, Fault::Repeated));
            } else if let Some(parameter) = registry::parameter(key) {
                if let Err(fault) = parameter.read(entry, &mut scenario) {
                    problems.push(Problem::new(key, fault));
                }
            } else if key != "version" && !READER.contains(&key.as_str()) {
                problems.push(Problem::new(key, Fault::Unknown));
            }
        }
        problems.extend(
            scenario
                .problems()
                .into_iter()
                .filter(|found| !problems.iter().any(|known| known.field == found.field))
                .collect::<Vec<_>>(),
        );
        if problems.is_empty() { Ok(scenario) } else { Err(problems) }
    }

    /// The entries of a file that reads back as this scenario: every parameter, so that a later
    /// change of defaults can't change a saved plan.
    pub fn to_entries(&self) -> Entries {
        let version = ("version".to_owned(), Entry::Number(f64::from(VERSION)));
        let fields = REGISTRY.iter().map(|parameter| {
            let entry = match parameter.kind {
                Kind::Number(number) => Entry::Number((number.get)(self)),
                Kind::Choice(choice) => Entry::Text((choice.get)(self).to_owned()),
                Kind::Lengths(lengths) => Entry::List(
                    (lengths.get)(self).iter().map(|length| Entry::Number(length.value)).collect(),
                ),
            };
            (parameter.key.to_owned(), entry)
        });
        Entries(std::iter::once(version).chain(fields).collect())
    }
}

/// The quantity lengths of a list are shown in.
pub(crate) const LIST_QUANTITY: Quantity = Quantity::Length;
