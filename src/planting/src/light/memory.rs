//! The light of a plan, and what of it has been summed already.

use super::advice::Judged;
use super::directions::Directions;
use super::grown::{Growing, Grown, Parts};
use super::metered::{Beside, Compared, DarkRange, Metered};
use super::moment::Moment;
use super::scene::{Array, Asked, Scene, Site, YearCrown};
use super::season::{Band, Sampling, Season, season};
use crate::kit::kept::Kept;
use std::sync::Arc;

/// The light of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Light {
    /// What it was computed from.
    pub asked: Asked,
    /// The season in the year shown.
    pub season: Arc<Season>,
    /// The grown planting, coarsely.
    pub grown: Arc<Grown>,
    /// Sun and shadows of the date and hour set.
    pub moment: Moment,
    beside: Arc<Beside>,
}

impl Light {
    /// What the season in the year shown was summed from.
    pub fn scene(&self) -> Scene {
        self.asked.scene(&self.asked.stand.shown)
    }

    /// What a meter would likely read of the share intercepted, step by step.
    ///
    /// ```
    /// use planting::{Scenario, plan};
    /// let light = plan(&Scenario::default()).unwrap().light;
    /// let metered = light.metered();
    /// assert_eq!(metered.modelled, light.season.intercepted);
    /// assert!(metered.modelled < metered.low && metered.low < metered.high);
    /// ```
    pub fn metered(&self) -> Metered {
        self.beside.metered(self.season.intercepted)
    }

    /// How much of the crown is too dark for flower buds with thin leaves and with dense ones.
    ///
    /// ```
    /// use planting::{Scenario, plan};
    /// let light = plan(&Scenario::default()).unwrap().light;
    /// let (dark, range) = (light.season.crown.under[0], light.dark_range());
    /// assert!(range.low < dark && dark < range.high);
    /// ```
    pub fn dark_range(&self) -> DarkRange {
        self.beside.dark(self.season.crown.under[0])
    }
}

impl Light {
    /// What the rules look at.
    pub(super) fn judged(&self) -> Judged<'_> {
        Judged { asked: &self.asked, grown: &self.grown }
    }
}

/// The light of one year of a planting.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct YearLight {
    /// Years since planting.
    pub year: f64,
    /// Share intercepted `[–]`.
    pub intercepted: f64,
    /// Share that solid crowns of the shape would take `[–]`.
    pub largest: f64,
    /// The whole crown.
    pub crown: Band,
    /// Thirds of the crown's height, from below.
    pub thirds: [Band; 3],
}

/// Directions of sun and sky by site.
#[derive(Clone, Debug, Default)]
struct Skies {
    shown: Kept<Site, Directions>,
    coarse: Kept<Site, Directions>,
}

impl Skies {
    fn shown(&mut self, site: Site) -> Arc<Directions> {
        self.shown.get(site, |site| Directions::of(site, Sampling::SHOWN.fineness))
    }

    fn coarse(&mut self, site: Site) -> Arc<Directions> {
        self.coarse.get(site, |site| Directions::of(site, Sampling::COARSE.fineness))
    }
}

/// Light that has been summed already. With an empty memory the results are the same; they only take longer.
///
/// ```
/// use planting::{Memory, Scenario, feet, plan_with};
/// let mut memory = Memory::default();
/// let one = plan_with(&Scenario::default(), &mut memory).unwrap();
/// let mut longer = Scenario::default();
/// longer.block.block_length = feet(700.0);
/// let other = plan_with(&longer, &mut memory).unwrap();
/// assert!(std::sync::Arc::ptr_eq(&one.light.season, &other.light.season));
/// ```
#[derive(Clone, Debug, Default)]
pub struct Memory {
    skies: Skies,
    season: Kept<Scene, Season>,
    beside: Kept<Scene, Season>,
    grown: Kept<(Growing, Parts), Grown>,
    compared: Kept<Compared, Beside>,
    years: Kept<Vec<(f64, Scene)>, Vec<YearLight>>,
}

fn season_shown(skies: &mut Skies, scene: &Scene) -> Season {
    season(scene, &skies.shown(scene.site), &Sampling::SHOWN)
}

impl Memory {
    /// The light of rows of crowns.
    pub fn light(&mut self, asked: Asked) -> Light {
        let scene = asked.scene(&asked.stand.shown);
        let season = self.season.get_with(scene, &mut self.skies, season_shown);
        let grown = self.grown(&asked, Parts::ALL);
        let moment = moment(&asked);
        let beside =
            self.compared.get_with(Compared::of(&asked), &mut self.skies, |skies: &mut Skies, compared| {
                Beside::of(*compared, skies.coarse(compared.site()))
            });
        Light { season, grown, moment, beside, asked }
    }

    /// Parts of the light of the grown planting.
    pub(super) fn grown(&mut self, asked: &Asked, parts: Parts) -> Arc<Grown> {
        let key = (Growing::of(asked), parts);
        self.grown.get_with(key, &mut self.skies, |skies: &mut Skies, (growing, parts)| {
            Grown::of(growing, *parts, &skies.coarse(growing.site()), || skies.shown(growing.site()))
        })
    }

    /// The same site under the wide free-standing trees that the planting replaces, grown and in leaf, with leaves by the
    /// same rule; see [`Array::free_standing`].
    pub fn beside(&mut self, asked: &Asked) -> Arc<Season> {
        let scene = Scene::of(&asked.inputs, asked.stand.row_azimuth, Array::free_standing());
        self.beside.get_with(scene, &mut self.skies, season_shown)
    }

    /// The light of every year as it was summed last, of whatever plan.
    pub fn latest_years(&self) -> Option<Arc<Vec<YearLight>>> {
        self.years.latest()
    }

    /// The light of every year from planting to the last, summed coarsely.
    pub fn by_year(&mut self, asked: &Asked) -> Arc<Vec<YearLight>> {
        let scene = |year: &YearCrown| (year.year, asked.scene(&year.leafing));
        let years = asked.stand.years.iter().map(scene).collect();
        self.years.get_with(years, &mut self.skies, |skies: &mut Skies, years| {
            years.iter().map(|(year, scene)| year_light(*year, scene, &skies.coarse(scene.site))).collect()
        })
    }
}

fn year_light(year: f64, scene: &Scene, directions: &Directions) -> YearLight {
    let season = season(scene, directions, &Sampling::COARSE);
    YearLight {
        year,
        intercepted: season.intercepted,
        largest: season.largest,
        crown: season.crown,
        thirds: season.thirds,
    }
}

fn moment(asked: &Asked) -> Moment {
    let (inputs, stand) = (&asked.inputs, &asked.stand);
    let array = Array::of(stand.spacing, stand.lean, &stand.shown.kept);
    let day = inputs.sun_month.day_of_year(inputs.sun_day);
    Moment::at(inputs.latitude.value, stand.row_azimuth.value, day, inputs.sun_hour, &array)
}
