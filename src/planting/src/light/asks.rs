//! What light asks of the ground, and what it offers.

use super::inputs::Inputs;
use super::memory::{Light, Memory};
use super::scene::{Array, Asked, Leafing, Ripe, Scene, Stand, YearCrown};
use crate::canopy::CanopyYear;
use crate::ground::Ground;
use crate::kit::crown::Crown;
use crate::kit::finding::Remedies;
use crate::kit::offers::Offers;
use crate::scenario::{Kind, Scenario, parameter};
use crate::trade::outcome;
use std::sync::Arc;
use uom::si::f64::{Length, Ratio};
use uom::si::length::meter;
use uom::si::ratio::ratio;

outcome!(Light, crate::light);

/// Computes the light over a ground.
///
/// ```
/// use planting::kit::{finding::Remedies, offers::Offers};
/// use planting::{Ground, Scenario, ground, light};
/// let ground = Ground::lay(&Scenario::default(), &mut ground::Memory::default()).unwrap();
/// let mut offers = Offers::default();
/// let light = light::asks::put(&ground, &mut offers, &mut light::Memory::default(), Remedies::Later);
/// assert!((light.season.intercepted - 0.507).abs() < 0.001);
/// assert_eq!(offers.light_taken.map(|taken| taken.value), Some(light.season.intercepted));
/// ```
pub fn put(ground: &Ground, offers: &mut Offers, memory: &mut Memory, remedies: Remedies) -> Light {
    let light = memory.light(asked(ground), remedies);
    offers.light_taken = Some(Ratio::new::<ratio>(light.season.intercepted));
    light
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
                canopy_width: scenario.canopy.canopy_width,
                tractor_width: scenario.block.tractor_width,
                tree_heights: range("tree_height"),
                canopy_widths: range("canopy_width"),
                row_widths: range("row_width"),
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

/// The allowed range of a length; any length where the key names none.
fn range(key: &str) -> (Length, Length) {
    let metres = |value| Length::new::<meter>(value);
    match parameter(key).map(|parameter| parameter.kind) {
        Some(Kind::Number(number)) => (metres(number.min), metres(number.max)),
        _ => (metres(0.0), metres(f64::MAX)),
    }
}
