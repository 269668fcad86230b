//! What light asks of the ground, and what it offers.

use super::advice::{Judged, RULES};
use super::grown::Parts;
use super::inputs::Inputs;
use super::memory::{Light, Memory};
use super::scene::{Array, Asked, Leafing, Ripe, Scene, Stand, YearCrown};
use crate::canopy::CanopyYear;
use crate::ground::Ground;
use crate::kit::crown::Crown;
use crate::kit::finding::{Advice, Sought};
use crate::kit::offers::Offers;
use crate::scenario::Scenario;
use crate::trade::outcome;
use std::sync::Arc;
use uom::si::f64::Ratio;
use uom::si::ratio::ratio;

outcome!(Light, crate::light, judged);

/// Computes the light over a ground.
///
/// ```
/// use planting::kit::offers::Offers;
/// use planting::{Ground, Scenario, ground, light};
/// let ground = Ground::lay(&Scenario::default(), &mut ground::Memory::default()).unwrap();
/// let mut offers = Offers::default();
/// let light = light::asks::put(&ground, &mut offers, &mut light::Memory::default());
/// assert!((light.season.intercepted - 0.529).abs() < 0.001);
/// assert_eq!(offers.light_taken.map(|taken| taken.value), Some(light.season.intercepted));
/// ```
pub fn put(ground: &Ground, offers: &mut Offers, memory: &mut Memory) -> Light {
    let light = memory.light(asked(ground));
    offers.light_taken = Some(Ratio::new::<ratio>(light.season.intercepted));
    light
}

/// What the rules find over a ground. They look at the grown planting alone, so that no season is summed for the year shown; and
/// no rule of another room asks for what light offers.
pub fn findings(ground: &Ground, _: &mut Offers, memory: &mut Memory, sought: Sought) -> Vec<Advice> {
    let asked = asked(ground);
    let grown = memory.grown(&asked, Parts::for_rules(sought));
    let judged = Judged { asked: &asked, grown: &grown };
    RULES.iter().filter_map(|rule| rule(&judged)).collect()
}

/// What light asks of a ground.
pub fn asked(ground: &Ground) -> Asked {
    let scenario = &ground.scenario;
    let inputs: &Inputs = &scenario.light;
    let last = ground.last_year();
    let years = ground.canopy.years.iter();
    Asked {
        inputs: *inputs,
        stand: Stand {
            spacing: scenario.block.spacing(),
            row_azimuth: scenario.block.row_azimuth,
            lean: scenario.canopy.lean,
            standing: scenario.trellis.support.standing(),
            shown: leafing(&ground.canopy.shown),
            years: Arc::new(
                years.map(|year| YearCrown { year: year.year, leafing: leafing(year) }).collect(),
            ),
            ripe: Ripe {
                free_height: last.free_height,
                free_spread: last.free_spread,
                shoots: last.shoots,
                space: ground.canopy.asked.space(),
            },
        },
    }
}

fn leafing(year: &CanopyYear) -> Leafing {
    Leafing { kept: year.crown, shoots: year.shoots }
}

/// The season of a scenario with this crown on every tree, as it stands.
pub fn scene(scenario: &Scenario, crown: &Crown) -> Scene {
    let array = Array::of(scenario.block.spacing(), scenario.canopy.lean, crown);
    Scene::of(&scenario.light, scenario.block.row_azimuth, array)
}
