//! What has been summed already, so that a change of price or post doesn't sum the light again.
//!
//! Each result is kept with what it was made from and given out again while that is the same.

use std::sync::Arc;

use super::grown::Grown;
use super::moment::Moment;
use super::season::{Band, Sampling, Season, season};
use super::sky::Directions;
use super::{Array, Inputs, Site};
use crate::canopy::growth::FreeTree;
use crate::canopy::{Canopy, CanopyYear};
use crate::scenario::{LAST_YEAR, Scenario};
use uom::si::f64::Length;

/// The light of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Light {
    /// The season in the year shown.
    pub season: Arc<Season>,
    /// The grown planting, coarsely, with cures.
    pub grown: Arc<Grown>,
    /// Sun and shadows of the date and hour set.
    pub moment: Moment,
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

/// One result and what it was made from.
#[derive(Clone, Debug)]
struct Kept<K, V>(Option<(K, Arc<V>)>);

impl<K, V> Default for Kept<K, V> {
    fn default() -> Self {
        Kept(None)
    }
}

impl<K: PartialEq, V> Kept<K, V> {
    fn get(&mut self, key: K, make: impl FnOnce(&K) -> V) -> Arc<V> {
        if let Some((kept, value)) = &self.0
            && *kept == key
        {
            return Arc::clone(value);
        }
        let value = Arc::new(make(&key));
        self.0 = Some((key, Arc::clone(&value)));
        value
    }
}

/// What the grown planting and its cures depend on.
#[derive(Clone, Debug, PartialEq)]
struct Growing {
    inputs: Inputs,
    free: FreeTree,
    canopy_width: Length,
    crown_base: Length,
    tractor_width: Length,
}

/// Light that has been summed already. An empty one is as good as any, only slower.
///
/// ```
/// use planting::{Scenario, feet, light::Memory, plan_with};
/// let mut memory = Memory::default();
/// let one = plan_with(&Scenario::default(), &mut memory).unwrap();
/// let longer = Scenario { block_length: feet(700.0), ..Scenario::default() };
/// let other = plan_with(&longer, &mut memory).unwrap();
/// assert!(std::sync::Arc::ptr_eq(&one.light.season, &other.light.season));
/// ```
#[derive(Clone, Debug, Default)]
pub struct Memory {
    shown_directions: Kept<Site, Directions>,
    coarse_directions: Kept<Site, Directions>,
    season: Kept<Inputs, Season>,
    beside: Kept<Inputs, Season>,
    grown: Kept<Growing, Grown>,
    years: Kept<Vec<Inputs>, Vec<YearLight>>,
}

impl Memory {
    /// The light of a scenario whose fields have been checked, and of its canopy.
    pub(crate) fn light(&mut self, scenario: &Scenario, canopy: &Canopy) -> Light {
        let inputs = Inputs::of(scenario, &canopy.shown.crown);
        let directions = self.directions(inputs.site);
        let season = self.season.get(inputs, |inputs| season(inputs, &directions, &Sampling::SHOWN));
        let last = canopy.years.last().map_or(canopy.shown.crown, |year| year.crown);
        let growing = Growing {
            inputs: Inputs::of(scenario, &last),
            free: canopy.free,
            canopy_width: scenario.canopy_width,
            crown_base: scenario.crown_base,
            tractor_width: scenario.tractor_width,
        };
        let grown = self.grown.get(growing, |_| Grown::of(scenario));
        Light { season, grown, moment: moment(scenario, &inputs.array) }
    }

    /// The same site under the wide free-standing trees that the planting replaces, grown, with leaves as
    /// dense; see [`Array::free_standing`].
    pub fn beside(&mut self, scenario: &Scenario) -> Arc<Season> {
        let inputs =
            Inputs { array: Array::free_standing(), ..Inputs::of(scenario, &Array::free_standing().crown) };
        let directions = self.directions(inputs.site);
        self.beside.get(inputs, |inputs| season(inputs, &directions, &Sampling::SHOWN))
    }

    /// The light of every year from planting to the last, summed coarsely.
    pub fn by_year(&mut self, scenario: &Scenario, canopy: &Canopy) -> Arc<Vec<YearLight>> {
        debug_assert!(canopy.years.last().is_none_or(|last| last.year <= LAST_YEAR));
        let inputs = canopy.years.iter().map(|year| Inputs::of(scenario, &year.crown)).collect();
        let directions = self
            .coarse_directions
            .get(Site::of(scenario), |site| Directions::of(site, Sampling::COARSE.fineness));
        self.years.get(inputs, |inputs| {
            canopy
                .years
                .iter()
                .zip(inputs)
                .map(|(year, inputs)| year_light(year, inputs, &directions))
                .collect()
        })
    }

    fn directions(&mut self, site: Site) -> Arc<Directions> {
        self.shown_directions.get(site, |site| Directions::of(site, Sampling::SHOWN.fineness))
    }
}

fn year_light(year: &CanopyYear, inputs: &Inputs, directions: &Directions) -> YearLight {
    let season = season(inputs, directions, &Sampling::COARSE);
    YearLight {
        year: year.year,
        intercepted: season.intercepted,
        largest: season.largest,
        crown: season.crown,
        thirds: season.thirds,
    }
}

fn moment(scenario: &Scenario, array: &Array) -> Moment {
    let day = scenario.sun_month.day_of_year(scenario.sun_day);
    Moment::at(scenario.latitude.value, scenario.row_azimuth.value, day, scenario.sun_hour, array)
}
