//! What can be set about light: site and season, sky and leaves, the cut points, and the hour whose shadows are shown.

use super::leaves::LargeCrowns;
use super::sky::Sky;
use super::sun::Month;
use crate::kit::figure::Source;
use crate::kit::group::Group;
use crate::kit::quantity::{degrees, share};
use crate::register::parameter::DEG;
use crate::register::problem::{Conflicts, Problem};
use crate::register::table::inputs;
use crate::system::TrainingSystem;
use uom::si::f64::{Angle, Ratio, ReciprocalLength};
use uom::si::reciprocal_length::reciprocal_meter;

/// Site, season, leaves, and the hour whose shadows are shown.
pub const LIGHT: Group = Group { key: "light", label: "Light", rank: 50, view: "section" };

/// What can be set about light.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inputs {
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
    /// Leaf area in a cubic metre of a small crown `[1/m]`.
    pub leaf_area_density: ReciprocalLength,
    /// How dense the leaves of larger crowns are.
    pub large_crowns: LargeCrowns,
    /// Part of a season's shoots that stands on the crowns on average over the season `[–]`.
    pub season_shoots: Ratio,
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

impl Inputs {
    /// What light starts from; the same for every training system.
    pub fn usual(_: TrainingSystem) -> Inputs {
        Inputs {
            latitude: degrees(42.0),
            season_first: Month::May,
            season_last: Month::September,
            sky: Sky::Even,
            diffuse_share: share(0.45),
            leaf_area_density: ReciprocalLength::new::<reciprocal_meter>(2.5),
            large_crowns: LargeCrowns::Thinner,
            season_shoots: share(0.5),
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

    /// What is at odds: cut points that don't rise.
    pub fn conflicts(&self) -> Vec<Problem> {
        let mut conflicts = Conflicts::default();
        conflicts.no_less(
            "light_for_size",
            self.light_for_size,
            self.light_for_flowers,
            "must be at least {0}: fruit that grows to size asks for no less light than flower buds do",
        );
        conflicts.no_less(
            "light_for_colour",
            self.light_for_colour,
            self.light_for_size,
            "must be at least {0}: full colour asks for no less light than fruit size does",
        );
        conflicts.found()
    }
}

const OWN: Source = Source::assumption("Project's own default");

inputs! { Inputs;
    number 33 latitude (Angle as Angle, -90.0 * DEG => 90.0 * DEG, steps DEG, DEG) LIGHT own "Latitude"
        "North of the equator above 0, south of it below."
        Source::assumption("Project's own default: 42° N, no particular place");
    choice 34 season_first (Month) LIGHT own "Season from"
        "First month that light is summed over. In the south, choose months from November on."
        Source::assumption("Project's own default: May to September, the months with full leaf in the north");
    choice 35 season_last (Month) LIGHT own "Season to"
        "Last month that light is summed over; a month before the first is next year's."
        Source::assumption("Project's own default: May to September, the months with full leaf in the north");
    number 36 leaf_area_density (PerLength as LeafAreaDensity, 0.0 => 10.0, steps 0.1, 0.1) LIGHT own "Leaf area density"
        "Leaf area in each unit of volume of a small crown, such as a tall spindle's. How it changes in larger ones is set apart."
        Source::assumption("Derived, not measured: leaf area 1.5-2.0 times the ground in crowns 1.5-1.8 m wide gives 1.9-3.5 m²/m³");
    number 37 leaf_clumping (Ratio as Ratio, 0.3 => 1.0, steps 0.05, 0.05) LIGHT own "Clumping of leaves"
        "1 is leaves spread at random; bunched leaves shade less."
        Source::assumption("Leaves at random in an even crown, as Green et al. 2003, Agron. J. 95:1380; no value for apple found");
    number 38 wood_and_fruit (Ratio as Ratio, 1.0 => 1.5, steps 0.05, 0.05) LIGHT own "Wood and fruit"
        "Shade of leaves, wood and fruit together against that of the leaves alone."
        Source::assumption("Leaves alone; 1.15-1.25 would be a guess without a source");
    number 39 diffuse_share (Ratio as Share, 0.0 => 1.0, steps 0.05, 0.05) LIGHT own "Diffuse light"
        "Share of the season's light that comes from the sky and not straight from the sun. About 20 % is a clear season, 100 % is always overcast."
        Source::assumption("Humid temperate seasons 0.4-0.5, from memory");
    choice 40 sky (Sky) LIGHT own "Sky"
        "How the diffuse light is spread over the sky."
        Source::standard("CIE standard overcast sky; the even sky is the usual simplification");
    number 41 light_for_flowers (Ratio as Share, 0.05 => 0.90, steps 0.05, 0.05) LIGHT own "Light for flower buds"
        "Below this share of open light, no flower buds form."
        Source::published("Ferree and Heinicke in Good Fruit Grower, Let there be light: at least 30 % of full sun");
    number 42 light_for_size (Ratio as Share, 0.10 => 0.95, steps 0.05, 0.05) LIGHT own "Light for fruit size"
        "Below this share of open light, fruit stays small."
        Source::published("Barritt et al. 1997, Acta Hort. 451:569: size, colour and solids rise up to about 50 % of full sun");
    number 43 light_for_colour (Ratio as Share, 0.15 => 1.0, steps 0.05, 0.05) LIGHT own "Light for full colour"
        "Below this share of open light, red cultivars colour poorly; cultivars differ much."
        Source::published("Growers' press, 50-70 % for full colour by cultivar; sources disagree, from 9 % for high-colouring strains");
    choice 47 large_crowns (LargeCrowns) LIGHT own "Leaves of larger crowns"
        "Large old trees carry their leaves more thinly than small ones. Set so, leaf area on the ground agrees with what was measured; otherwise every crown is as dense as set."
        Source::published("Leaf area on the ground's area: 1.2-2.0 in trellised rows (Agronomy 2020, 10(5):689), 1.0-1.4 in old low-density orchards (Jackson 1970, J. Appl. Ecol. 7, read as an abstract without its author)");
    number 48 season_shoots (Ratio as Ratio, 0.0 => 1.0, steps 0.05, 0.05) LIGHT own "Shoots of the season"
        "Part of the season's shoots that stands on the crowns, on average over the season: 0 is winter, after pruning, and 1 the end of summer."
        Source::assumption("Project's own: shoots grow evenly through the season, so that half of them stand on average");
    choice 44 sun_month (Month) LIGHT own "Shadows: month"
        "Month of the day whose shadows are shown." OWN;
    number 45 sun_day (Years as Count, 1.0 => 31.0, steps 1.0, 1.0) LIGHT own "Shadows: day"
        "Day of that month whose shadows are shown." OWN;
    number 46 sun_hour (Hours as Hours, 0.0 => 24.0, steps 0.25, 0.25) LIGHT own "Shadows: hour"
        "Local solar time, 12 with the sun at its highest. Clock time differs by place and by summer time." OWN;
}
