//! Canopy and light: light in the drawings, light by year, a crown beside one of the wide trees it replaces.

use super::room::{Basis, Room};
use drafting::{Daylight, Frame, Overlay, Plain, Sheet, View, draw_pair, draw_years, light};
use planting::Ground;
use planting::kit::offers::Offers;
use planting::light::{ASKS, CAVEAT, Light, Memory, OFFERS, asks, inputs};
use planting::trade::Outcome;
use std::any::Any;
use std::sync::Arc;

door!(
    light,
    Room {
        memory: || Box::new(Memory::default()),
        asks: ASKS,
        offers: OFFERS,
        put,
        over,
        view,
        caveat: Some(CAVEAT),
        note: inputs::note,
    }
);

fn put(ground: &Ground, offers: &mut Offers, memory: &mut dyn Any) -> Arc<dyn Outcome> {
    match memory.downcast_mut() {
        Some(memory) => Arc::new(asks::put(ground, offers, memory)),
        None => Arc::new(asks::put(ground, offers, &mut Memory::default())),
    }
}

fn light_of(outcome: &dyn Outcome) -> Option<&Light> {
    let outcome: &dyn Any = outcome;
    outcome.downcast_ref()
}

fn over(outcome: &dyn Outcome, daylight: Daylight) -> Box<dyn Overlay + '_> {
    light_of(outcome)
        .map_or_else(|| Box::new(Plain) as Box<dyn Overlay>, |found| light::over(daylight, found))
}

fn view(view: View, basis: Basis, memory: &mut dyn Any, frame: Frame) -> Option<Sheet> {
    let light = light_of(basis.outcome)?;
    let memory: &mut Memory = memory.downcast_mut()?;
    match view {
        View::Pair => Some(draw_pair(basis.ground, light, &memory.beside(&light.asked), frame)),
        View::Years => {
            // Summing all years takes too long for every step of a slider. Until the plan stands still, those summed last are drawn.
            let years =
                if basis.is_still { Some(memory.by_year(&light.asked)) } else { memory.latest_years() };
            Some(draw_years(basis.ground, years.as_deref().map_or(&[], Vec::as_slice), frame))
        }
        _ => None,
    }
}
